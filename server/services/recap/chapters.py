"""The chapters of an evening's video: when which round was shown, as lines of text and as WebVTT.

The video began some time before or after the room was opened: `opened_s` is where in the video that was.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from server.services.errors import Refusal

LEAST_S = 10  # common practice, no source: players leave out chapters that are shorter
LAST_S = 60  # how long the last one is, where nothing says when the evening ended
HOURS_MOST = 24
BEFORE = "Welcome"
TYPED = re.compile(
    r"(?P<sign>[-−–])?\s*(?:(?:(?P<hours>\d{1,2}):)?(?P<minutes>\d{1,3}):)?(?P<seconds>\d{1,5})"
)


@dataclass(frozen=True)
class Shown:
    """What was shown from a moment on; "" for the end."""

    at: datetime
    title: str


@dataclass(frozen=True)
class Chapter:
    """From start to end, in seconds of the video."""

    start_s: float
    end_s: float
    title: str


def offset_typed(typed: str) -> int:
    """Seconds from "4:30", "1:04:30", "-0:45" or "270"; "" is 0. Refusal for anything else."""
    text = typed.strip()
    if not text:
        return 0
    found = TYPED.fullmatch(text)
    if found is None:
        raise Refusal(
            "Write it as minutes and seconds, such as 4:30; with a - before it where it was earlier.", "at"
        )
    hours, minutes, seconds = (int(found[name] or 0) for name in ("hours", "minutes", "seconds"))
    total = hours * 3600 + minutes * 60 + seconds
    if total > HOURS_MOST * 3600 or (found["minutes"] and seconds > 59) or (found["hours"] and minutes > 59):
        raise Refusal(
            f"{text} is no time in a video. Minutes and seconds go to 59, hours to {HOURS_MOST}.", "at"
        )
    return -total if found["sign"] else total


def offset_words(seconds: int) -> str:
    """As it is typed: "4:30", "-0:45"."""
    return ("-" if seconds < 0 else "") + clock(abs(seconds)).removeprefix("0")


def chapters(
    opened: datetime, shown: Sequence[Shown], ended: datetime | None, opened_s: int
) -> tuple[Chapter, ...]:
    """One after another, the first at 0. What came before the video is left out, and what was shown for less
    than ten seconds; what follows the same title goes on with it. () where nothing of it is in the video.
    """
    starts = [(opened_s + (each.at - opened).total_seconds(), each.title) for each in shown]
    end = opened_s + (ended - opened).total_seconds() if ended else None
    if end is None or (starts and end <= starts[-1][0]):
        end = starts[-1][0] + LAST_S if starts else 0.0
    if not starts or end <= LEAST_S:
        return ()
    begun = [start for start in starts if start[0] <= 0]
    starts = [(0.0, begun[-1][1]) if begun else (0.0, BEFORE), *(each for each in starts if each[0] > 0)]
    kept = _long_enough(starts, end)
    ends = [start for start, _ in kept[1:]] + [end]
    return tuple(Chapter(start, stop, title) for (start, title), stop in zip(kept, ends, strict=True))


def _long_enough(starts: Sequence[tuple[float, str]], end: float) -> list[tuple[float, str]]:
    """Times in whole seconds, as text has them. What is too short leaves its time to what comes after it; the
    last one, to the one before."""
    kept: list[tuple[float, str]] = []
    for (start, title), stop in zip(starts, [*(at for at, _ in starts[1:]), end], strict=True):
        begin = float(int(start))
        if kept and (kept[-1][1] == title or int(stop) - begin < LEAST_S):
            continue
        if kept and begin - kept[-1][0] < LEAST_S:
            kept[-1] = (kept[-1][0], title)
        else:
            kept.append((begin, title))
    if len(kept) > 1 and int(kept[1][0]) < LEAST_S:
        kept = [(0.0, kept[1][1]), *kept[2:]]
    return kept


def clock(seconds: float) -> str:
    """ "04:30", from an hour on "1:04:30" """
    whole = int(seconds)
    hours, rest = divmod(whole, 3600)
    return f"{hours}:{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60:02}:{rest % 60:02}"


def as_lines(found: Sequence[Chapter]) -> str:
    """For a video's description: a line for each, "00:00 Welcome"."""
    return "\n".join(f"{clock(each.start_s)} {one_line(each.title)}" for each in found)


def as_webvtt(found: Sequence[Chapter]) -> str:
    """A track of chapters (WebVTT, W3C): header, then a cue for each with its number, times and title."""
    cues = [
        f"{number}\n{_stamp(each.start_s)} --> {_stamp(each.end_s)}\n{_escaped(one_line(each.title))}\n"
        for number, each in enumerate(found, 1)
    ]
    return "\n".join(["WEBVTT\n", *cues])


def one_line(title: str) -> str:
    """A title without line ends, which would end its cue, and without signs that nobody sees."""
    kept = "".join(c for c in title if c.isspace() or unicodedata.category(c)[0] != "C")
    return " ".join(kept.split()) or "Untitled"


def _stamp(seconds: float) -> str:
    milliseconds = round(seconds * 1000)
    hours, rest = divmod(milliseconds, 3_600_000)
    minutes, rest = divmod(rest, 60_000)
    return f"{hours:02}:{minutes:02}:{rest // 1000:02}.{rest % 1000:03}"


def _escaped(title: str) -> str:
    """ "-->" would be read as times."""
    return title.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
