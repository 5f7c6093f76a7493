"""A host's wall clock: a date and a time in an IANA time zone, and the moment that is.

What was said is kept ("19:30 in Oslo"), not the moment: rules of daylight saving change, and the evening
stays at half past seven. Twice a year a wall clock skips an hour or shows one twice; that is asked about,
never guessed.
"""

from __future__ import annotations

import difflib
import re
import zoneinfo
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from typing import Literal
from zoneinfo import ZoneInfo

from server.services.errors import Refusal

MINUTE = timedelta(minutes=1)
YEARS_AHEAD, FIRST_YEAR = 5, 2000
Which = Literal["", "first", "second"]


@dataclass(frozen=True)
class WallTime:
    """A time of a wall clock. fold: 1 for the second of two equal ones on the night the clocks go back."""

    local: datetime
    zone: str
    fold: int = 0

    @property
    def here(self) -> datetime:
        """The moment, aware, in the zone of the clock."""
        return self.local.replace(fold=self.fold, tzinfo=ZoneInfo(self.zone))

    @property
    def moment(self) -> datetime:
        """The moment, in UTC."""
        return self.here.astimezone(UTC)

    @property
    def which(self) -> Which:
        """Which of two equal times it is; "" where there is but one."""
        if self.here.utcoffset() == self.here.replace(fold=1 - self.fold).utcoffset():
            return ""
        return "second" if self.fold else "first"


class Twice(Refusal):
    """The clock shows that time twice: which of the two is asked. choices: ("first", its words), …"""

    def __init__(self, message: str, choices: tuple[tuple[str, str], ...]) -> None:
        super().__init__(message, "which")
        self.choices = choices


@lru_cache(maxsize=1)
def zones() -> tuple[str, ...]:
    """The IANA time zones that are places, and UTC, in order."""
    places = (
        z for z in zoneinfo.available_timezones() if "/" in z and not z.startswith(("Etc/", "SystemV/"))
    )
    return ("UTC", *sorted(places))


def zone_named(typed: str) -> str:
    """The zone as it is spelled in the database; a city alone will do. Refusal with the nearest where none
    fits."""
    wanted = re.sub(r"\s+", "_", typed.strip()).casefold()
    if not wanted:
        raise Refusal("Say in which time zone your clock is, such as Europe/Oslo.", "zone")
    whole = {zone.casefold(): zone for zone in zones()}
    if wanted in whole:
        return whole[wanted]
    cities: dict[str, list[str]] = {}
    for zone in zones():
        cities.setdefault(zone.rpartition("/")[2].casefold(), []).append(zone)
    found = cities.get(wanted, [])
    if len(found) == 1:
        return found[0]
    near = found or [
        (whole | {city: names[0] for city, names in cities.items()})[match]
        for match in difflib.get_close_matches(wanted, [*whole, *cities], 3)
    ]
    offered = " or ".join(dict.fromkeys(near)) or "Europe/Oslo or America/Toronto"
    raise Refusal(f"There is no time zone “{typed.strip()[:60]}”. Perhaps {offered}?", "zone")


def day_typed(typed: str, today: date) -> date:
    """A date as the browser sends it, 2026-12-03."""
    try:
        day = date.fromisoformat(typed.strip())
    except ValueError:
        raise Refusal("Write the date as year, month and day: 2026-12-03.", "day") from None
    if not FIRST_YEAR <= day.year <= today.year + YEARS_AHEAD:
        raise Refusal(
            f"{day.year} is far away. A year from {FIRST_YEAR} to {today.year + YEARS_AHEAD} can be kept.",
            "day",
        )
    return day


def time_typed(typed: str) -> tuple[int, int]:
    """Hour and minute of a time: 19:30, 19.30 or 7:30 pm."""
    match = re.fullmatch(r"(\d{1,2})(?:[:.](\d{2}))?(?::\d{2})?\s*([ap])?\.?m?\.?", typed.strip().casefold())
    if match and (match[2] or match[3]):
        hour, minute = int(match[1]), int(match[2] or 0)
        if match[3]:
            hour = hour % 12 + (12 if match[3] == "p" else 0) if 1 <= hour <= 12 else 99
        if hour < 24 and minute < 60:
            return hour, minute
    raise Refusal("Write the time as hour and minutes: 19:30.", "time")


def wall_time(local: datetime, zone: str, which: Which = "") -> WallTime:
    """That time of that clock. Refusal (field "time") where the clock skips it, Twice (field "which") where
    it shows it twice and it was not said which."""
    local = local.replace(fold=0)  # what says which of two it is, is `which`
    early = local.replace(tzinfo=ZoneInfo(zone))
    before, after = early.utcoffset(), early.replace(fold=1).utcoffset()
    assert before is not None
    assert after is not None
    if before < after:
        raise Refusal(_skipped(local, zone, before, after), "time")
    if before > after and which == "":
        day = f"{local.day} {local:%B %Y}"
        raise Twice(
            f"The clocks in {place_of(zone)} go back on {day}, and show {local:%H:%M} twice. Which one is "
            "meant?",
            choices_of(WallTime(local, zone)),
        )
    return WallTime(local, zone, 1 if before > after and which == "second" else 0)


def choices_of(twice: WallTime) -> tuple[tuple[str, str], ...]:
    """The two times that a clock shows twice: ("first", "the first, UTC+2"), ("second", …)."""
    offsets = (twice.here.replace(fold=fold).utcoffset() or timedelta(0) for fold in (0, 1))
    names = ("first", "second")
    return tuple((name, f"the {name}, {offset_words(at)}") for name, at in zip(names, offsets, strict=True))


def _skipped(local: datetime, zone: str, before: timedelta, after: timedelta) -> str:
    earliest, latest = local - after, local - before  # in UTC; the clocks change between the two
    while latest - earliest > MINUTE:
        middle = earliest + (latest - earliest) // 2
        if middle.replace(tzinfo=UTC).astimezone(ZoneInfo(zone)).utcoffset() == before:
            earliest = middle
        else:
            latest = middle
    latest = latest.replace(second=0, microsecond=0)
    stop, go = latest + before, latest + after
    return (
        f"There is no {local:%H:%M} that day: on {go.day} {go:%B %Y} the clocks in {place_of(zone)} go from "
        f"{stop:%H:%M} to {go:%H:%M}. Choose a time before {stop:%H:%M}, or from {go:%H:%M} on."
    )


def place_of(zone: str) -> str:
    """The city of a zone: "Oslo"."""
    return zone.rpartition("/")[2].replace("_", " ")


def offset_words(offset: timedelta) -> str:
    """UTC+1, UTC−3:30, UTC."""
    minutes = round(offset.total_seconds() / 60)
    if minutes == 0:
        return "UTC"
    hours, rest = divmod(abs(minutes), 60)
    return f"UTC{'+' if minutes > 0 else '−'}{hours}" + (f":{rest:02}" if rest else "")
