"""An evening in words: by the clock of its host, with her zone named. A visitor's own clock is added by the
page's script."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from server.services.series import Set
from server.services.series.wallclock import offset_words, place_of
from server.web.moments import MONTHS

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


@dataclass(frozen=True)
class ShownEvening:
    """An evening as pages show it.

    day, hours, zone  "Thursday 3 December 2026", "19:30 to 21:30", "Oslo time, UTC+1"
    starts, ends      the moments, ISO 8601 in UTC
    status            "next" (or on now), "later", "over" or "cancelled"
    """

    id: int
    title: str
    part: str
    place: str
    note: str
    day: str
    hours: str
    zone: str
    starts: str
    ends: str
    status: str
    changed_by: str


def date_words(at: datetime) -> str:
    """A date in words: "Thursday 3 December 2026"."""
    return f"{DAYS[at.weekday()]} {at.day} {MONTHS[at.month - 1]} {at.year}"


def shown_evenings(evenings: Sequence[Set], here: datetime) -> tuple[ShownEvening, ...]:
    """Evenings in words, as seen from the moment `here`; the first that is not over is the next."""
    shown = []
    next_is_due = True
    for evening in evenings:
        status = "cancelled" if evening.is_cancelled else "over" if evening.is_over(here) else "later"
        if status == "later" and next_is_due:
            status, next_is_due = "next", False
        shown.append(_shown(evening, status))
    return tuple(shown)


def _shown(evening: Set, status: str) -> ShownEvening:
    start, end = evening.wall.here, evening.ends
    return ShownEvening(
        evening.id, evening.title, evening.part_title, evening.place, evening.note,
        date_words(start), f"{start:%H:%M} to {_end_words(start, end)}", zone_words(start, evening.wall.zone),
        _exact(start), _exact(end), status, evening.changed_by,
    )  # fmt: skip


def _end_words(start: datetime, end: datetime) -> str:
    days = (end.date() - start.date()).days
    return f"{end:%H:%M}" + ("" if days == 0 else " the next day" if days == 1 else f" on {date_words(end)}")


def zone_words(at: datetime, zone: str) -> str:
    """A zone as it is at that time: "Oslo time, UTC+1"."""
    offset = offset_words(at.utcoffset() or timedelta(0))
    return "UTC" if zone == "UTC" else f"{place_of(zone)} time, {offset}"


def _exact(at: datetime) -> str:
    return at.astimezone(UTC).isoformat(timespec="minutes").replace("+00:00", "Z")
