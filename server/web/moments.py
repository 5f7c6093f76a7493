"""A moment in words. The server does not know anybody's time zone: near moments are told by how long ago they
were."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from server.web.serving import clock_read, holds_until

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip

# Up to the second, words change with each of the first: minutes within the hour, hours within the day.
STEPS = (
    (timedelta(minutes=1), timedelta(hours=1)),
    (timedelta(hours=1), timedelta(days=1)),
    (timedelta(days=1), timedelta(days=7)),
)


@dataclass(frozen=True)
class Moment:
    """words: for reading; exact: ISO-8601 UTC for a <time> element; full: the date and time of day, in
    UTC."""

    words: str
    exact: str
    full: str


def now() -> datetime:
    """This moment, in UTC."""
    clock_read()
    return datetime.now(UTC)


def moment(at: datetime, here: datetime) -> Moment:
    """`at` as seen from `here`, both aware."""
    at = at.astimezone(UTC)
    date = f"{at.day} {MONTHS[at.month - 1]} {at.year}"
    exact = at.isoformat(timespec="seconds").replace("+00:00", "Z")
    holds_until(_changes_at(at, here))
    return Moment(_words(at, here, date), exact, f"{date}, {at:%H:%M} UTC")


def _words(at: datetime, here: datetime, date: str) -> str:
    seconds = (here - at).total_seconds()
    if seconds < 60:
        return "just now"
    if seconds < 3600:
        return _ago(int(seconds // 60), "minute")
    if seconds < 86_400:
        return _ago(int(seconds // 3600), "hour")
    if seconds < 7 * 86_400:
        return _ago(int(seconds // 86_400), "day")
    return date


def _changes_at(at: datetime, here: datetime) -> datetime:
    """When `_words` of that moment will be others, as seen from `here` on."""
    age = here - at
    for unit, limit in STEPS:
        if age < limit:
            whole = max(age // unit, 0)
            return at + unit * (whole + 1)
    return datetime.max.replace(tzinfo=UTC)


def _ago(number: int, unit: str) -> str:
    return f"1 {unit} ago" if number == 1 else f"{number} {unit}s ago"
