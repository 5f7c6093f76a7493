"""An evening told again: the rounds that were shown, each with what was said and asked at it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session

from server.services import room
from server.services.recap.chapters import Shown, clock, one_line
from server.services.recap.evening import Timeline
from server.services.room import At, Passed, Stop
from server.web.room_words import place_words, timer_words

PASSED_MOST = 3000


@dataclass(frozen=True)
class Remark:
    """Something said at a round. kind: "announce", "answer", "timer"; mine: an answer to her alone."""

    kind: str
    words: str
    by: str
    question: str
    mine: bool


@dataclass(frozen=True)
class Round:
    """A round that was shown, or a time without one. line, count: in whatever numbers were asked for.

    when     since the room was opened: "04:30"
    address  "section.line.turn" in that version; "" and 0 for none
    """

    when: str
    version_id: int
    address: str
    where: str
    line: str
    count: str
    remarks: tuple[Remark, ...]


Say = Callable[[Stop, At], tuple[str, str]]
"""(line, count) of a round in somebody's numbers."""


def for_all_sizes(stop: Stop, at: At) -> tuple[str, str]:
    """As the sheet has it."""
    del at
    return stop.text, stop.count


def rounds(
    session: Session,
    evening_id: int,
    opened_at: datetime,
    say: Say = for_all_sizes,
    notebook_id: int | None = None,
) -> tuple[Round, ...]:
    """The evening's rounds, each once, in the order in which they were first shown; what was said stands at
    the round that it was said at. What a host has hidden is left out, and so are answers to others."""
    things = room.passed(session, evening_id, 0, notebook_id, most=PASSED_MOST)
    heads: dict[str, tuple[Passed, At | None]] = {}
    remarks: dict[str, list[Remark]] = {}
    here = ""
    for each in things:
        if each.kind == "step":
            here = _key(each.place)
            heads.setdefault(here, (each, each.place))
            continue
        there = _key(each.place) if each.place is not None and _key(each.place) in heads else here
        if there not in heads:
            heads[there] = (each, None)
        remarks.setdefault(there, []).append(_remark(each))
    return tuple(
        _round(session, first, place, opened_at, say, remarks.get(key, ()))
        for key, (first, place) in heads.items()
    )


def _key(place: At | None) -> str:
    return f"{place.version_id}:{place.spot.address}" if place is not None else ""


def _remark(each: Passed) -> Remark:
    words = timer_words(each.seconds, each.words) if each.kind == "timer" else each.words
    return Remark(each.kind, words, each.by, each.question, each.mine)


def _round(
    session: Session,
    first: Passed,
    place: At | None,
    opened_at: datetime,
    say: Say,
    remarks: Sequence[Remark],
) -> Round:
    when = clock(max(0.0, (first.at - opened_at).total_seconds()))
    stop = _stop(session, place)
    if stop is None or place is None:
        return Round(when, 0, "", "Before the first round", "", "", tuple(remarks))
    line, count = say(stop, place)
    where = place_words(stop.section, stop.label)
    return Round(when, place.version_id, place.spot.address, where, line, count, tuple(remarks))


def _stop(session: Session, place: At | None) -> Stop | None:
    text = room.version_text(session, place.version_id) if place is not None else ""
    if place is None or not text:
        return None
    way = room.course(text)
    index = way.index(place.spot)
    return way.stops[index] if index is not None else None


def titles(session: Session, found: Timeline, *, by_step: bool) -> Iterator[Shown]:
    """What was shown when, as the title of a chapter: of each round, or of each step of it."""
    ways: dict[int, dict[str, Stop]] = {}
    for each in found.steps:
        if each.version_id not in ways:
            text = room.version_text(session, each.version_id)
            ways[each.version_id] = {s.spot.address: s for s in room.course(text).stops} if text else {}
        stop = ways[each.version_id].get(each.address)
        if stop is None:
            continue
        title = place_words(stop.section, stop.label)
        if by_step and each.step is not None and each.step < len(stop.steps):
            title += f": {stop.steps[each.step]}"
        yield Shown(each.at, one_line(title))
