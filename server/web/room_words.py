"""What of a room is shown, in words: where the host is, how long a timer still runs, what there was."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from sqlmodel import Session

from server.services import room
from server.services.room import At, Course, Passed, Present, Stop
from server.web.moments import Moment, moment


@dataclass(frozen=True)
class ShownStep:
    """A round for all sizes, as a desk or a screen has it.

    step       the step at hand, from 0; None: the whole round
    now        its words; of the whole round: ""
    progress   this round, of all: (4, 21)
    in_section the same within its section
    """

    stop: Stop
    step: int | None
    now: str
    progress: tuple[int, int]
    in_section: tuple[int, int]


@dataclass(frozen=True)
class ShownTimer:
    """A timer. ends, in ms since the epoch; words: "5 minutes for this round"."""

    id: int
    ends: int
    words: str
    left: str


@dataclass(frozen=True)
class ShownPassed:
    """Something that was: where, what, when."""

    id: int
    kind: str
    where: str
    words: str
    by: str
    question: str
    mine: bool
    when: Moment


def course_at(session: Session, at: At | None) -> Course | None:
    """The way of the version that is shown."""
    text = room.version_text(session, at.version_id) if at is not None else ""
    return room.course(text) if text else None


def shown_step(way: Course, at: At) -> ShownStep | None:
    """The host's place in words; None where the way has no such round."""
    index = way.index(at.spot)
    if index is None:
        return None
    stop = way.stops[index]
    step = at.spot.step if at.spot.step is not None and at.spot.step < len(stop.steps) else None
    within = [each for each in way.stops if each.spot.section == stop.spot.section]
    return ShownStep(
        stop, step, stop.steps[step] if step is not None else "", (index + 1, len(way.stops)),
        (within.index(stop) + 1, len(within)),
    )  # fmt: skip


def shown_timer(present: Present, here: datetime) -> ShownTimer | None:
    """The timer while it runs, and for a minute after; None for none."""
    timer = present.timer
    if timer is None or (here - timer.ends).total_seconds() > 60:
        return None
    left = (timer.ends - here).total_seconds()
    return ShownTimer(
        timer.id, int(timer.ends.timestamp() * 1000), timer_words(timer.seconds, timer.words), clock(left)
    )


def timer_words(seconds: int, words: str) -> str:
    """ "5 minutes for this round" """
    minutes = seconds // 60
    return f"{minutes} minute{'' if minutes == 1 else 's'}" + (f" {words}" if words else "")


def clock(seconds: float) -> str:
    """Time left as a clock shows it: "4:07"; "0:00" once it is up."""
    whole = max(0, round(seconds))
    return f"{whole // 60}:{whole % 60:02}"


def place_words(section: str, label: str, step: int | None = None) -> str:
    """ "Cuff, Rnd 4, step 3" """
    where = ", ".join(each for each in (section, label) if each)
    return where + (f", step {step + 1}" if step is not None else "")


def shown_passed(
    session: Session, things: Sequence[Passed], here: datetime, counts: dict[str, str] | None = None
) -> tuple[ShownPassed, ...]:
    """What was, the first first. counts: by a round's address, what it has in somebody's own numbers."""
    return tuple(_passed(session, each, here, counts or {}) for each in things)


def _passed(session: Session, each: Passed, here: datetime, counts: dict[str, str]) -> ShownPassed:
    way = course_at(session, each.place)
    index = way.index(each.place.spot) if way is not None and each.place is not None else None
    stop = way.stops[index] if way is not None and index is not None else None
    where = place_words(*way.words(each.place.spot)) if way is not None and each.place is not None else ""
    words = each.words
    if each.kind == "step" and stop is not None:
        words = counts.get(stop.spot.address, stop.count)
    elif each.kind == "timer":
        words = timer_words(each.seconds, each.words)
    return ShownPassed(
        each.id, each.kind, where, words, each.by, each.question, each.mine, moment(each.at, here)
    )


def milliseconds(at: datetime) -> int:
    """A moment as scripts have it: ms since the epoch."""
    return int(at.astimezone(UTC).timestamp() * 1000)
