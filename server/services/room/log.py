"""The log of a room, read: what is so now, what there was, and both as listeners get them.

What happens is written down first and told afterwards; the numbers that listeners go by are the log's own, so
that they mean the same after a restart and in every process.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import func
from sqlmodel import Session, col, select

from server.broadcast import Happening, frame
from server.services.room.course import Spot
from server.storage.tables import Evening, PatternVersion, RoomEvent, RoomHidden

FOR_ALL = ("opened", "closed", "step", "announce", "timer", "answer")
WHOLE = "room"  # the kind of the event that has all of it


@dataclass(frozen=True)
class At:
    """The host's place, in a version of a part."""

    part_id: int
    version_id: int
    spot: Spot


@dataclass(frozen=True)
class Said:
    """A host's words to all."""

    id: int
    at: datetime
    words: str
    by: str


@dataclass(frozen=True)
class Timer:
    """A timer that a host started; words: what it is for."""

    id: int
    ends: datetime
    seconds: int
    words: str


@dataclass(frozen=True)
class Present:
    """A room as it is. number: of the last thing that all were told; 0 where nothing has happened."""

    number: int
    is_open: bool
    opened_at: datetime | None
    at: At | None
    said: Said | None
    timer: Timer | None
    answer: int


def state(session: Session, evening_id: int) -> Present:
    """The room as it is."""
    last = _last_of_each(session, evening_id)
    opened, closed = last.get("opened"), last.get("closed")
    is_open = opened is not None and (closed is None or _id(closed) < _id(opened))
    since = _id(opened) if opened is not None else 0
    said = _said(last.get("announce"), since)
    if said is not None and session.get(RoomHidden, said.id) is not None:
        said = None
    return Present(
        number=max((_id(row) for row in last.values()), default=0),
        is_open=is_open,
        opened_at=opened.at if opened else None,
        at=_at(last.get("step")),
        said=said,
        timer=_timer(last.get("timer"), since),
        answer=_id(last["answer"]) if "answer" in last else 0,
    )


def _last_of_each(session: Session, evening_id: int) -> dict[str, RoomEvent]:
    ids = session.exec(
        select(func.max(RoomEvent.id))
        .where(RoomEvent.evening_id == evening_id, col(RoomEvent.kind).in_(FOR_ALL))
        .group_by(col(RoomEvent.kind))
    ).all()
    rows = session.exec(select(RoomEvent).where(col(RoomEvent.id).in_(ids))).all()
    return {row.kind: row for row in rows}


def open_in(session: Session, along_id: int) -> frozenset[int]:
    """The evenings of an along whose rooms are open."""
    rows = session.exec(
        select(RoomEvent.evening_id, RoomEvent.kind)
        .where(
            Evening.along_id == along_id,
            RoomEvent.evening_id == Evening.id,
            col(RoomEvent.kind).in_(("opened", "closed")),
        )
        .order_by(col(RoomEvent.id))
    ).all()
    last = dict(rows)
    return frozenset(evening_id for evening_id, kind in last.items() if kind == "opened")


def _id(row: RoomEvent) -> int:
    assert row.id is not None
    return row.id


def spot_of(row: RoomEvent) -> Spot | None:
    """The place of an event; None where it has none."""
    if row.section is None or row.round is None or row.turn is None:
        return None
    return Spot(row.section, row.round, row.turn, row.step)


def _at(row: RoomEvent | None) -> At | None:
    spot = spot_of(row) if row is not None else None
    if row is None or spot is None or row.part_id is None or row.version_id is None:
        return None
    return At(row.part_id, row.version_id, spot)


def _said(row: RoomEvent | None, since: int) -> Said | None:
    if row is None or _id(row) < since or not row.words:
        return None
    return Said(_id(row), row.at, row.words, row.said_by)


def _timer(row: RoomEvent | None, since: int) -> Timer | None:
    if row is None or _id(row) < since or not row.seconds:
        return None
    return Timer(_id(row), row.at + timedelta(seconds=row.seconds), row.seconds, row.words)


# --- as listeners get it -----------------------------------------------------------------------------------


def present(session: Session, evening_id: int) -> Happening:
    """The room as it is, for a listener who has seen nothing of it."""
    now = state(session, evening_id)
    whole = frame(now.number, WHOLE, values_of(now))
    return Happening(now.number, -1, whole, whole)


def newest(session: Session, evening_id: int) -> Happening:
    """For the hosts' desks: only how far the log is, makers' doings included. They look for themselves."""
    last = session.exec(select(func.max(RoomEvent.id)).where(RoomEvent.evening_id == evening_id)).one() or 0
    told = frame(last, "desk", {})
    return Happening(last, -1, told, told)


def values_of(now: Present) -> dict[str, Any]:
    """A room in as few words as will do. Keys: open, at [part, version, section, round, turn, step], say
    (id, words, by), timer (id, ends: ms since the epoch, seconds, words), answer (the last one's id)."""
    return {
        "open": now.is_open,
        "at": _place(now.at),
        "say": {"id": now.said.id, "words": now.said.words, "by": now.said.by} if now.said else None,
        "timer": _timer_values(now.timer),
        "answer": now.answer,
    }


def _place(at: At | None) -> list[int | None] | None:
    if at is None:
        return None
    spot = at.spot
    return [at.part_id, at.version_id, spot.section, spot.round, spot.turn, spot.step]


def _timer_values(timer: Timer | None) -> dict[str, Any] | None:
    if timer is None:
        return None
    ends = int(timer.ends.timestamp() * 1000)
    return {"id": timer.id, "ends": ends, "seconds": timer.seconds, "words": timer.words}


def told(session: Session, evening_id: int, before: int, kind: str) -> Happening:
    """What has just been written down, for everybody: the change alone for who has seen `before`.

    "step" has `at` and nothing else; an answer its id and the hand that it answers, so that its maker looks,
    and its words where they are for all.
    """
    now = state(session, evening_id)
    values = values_of(now)
    changed: dict[str, Any]
    if kind == "step":
        changed = {"at": values["at"]}
    elif kind == "announce":
        changed = {"say": values["say"]}
    elif kind == "timer":
        changed = {"timer": values["timer"]}
    elif kind == "answer":
        changed = _answer_values(session, now.answer)
    else:
        kind, changed = WHOLE, values
    return Happening(now.number, before, frame(now.number, kind, changed), frame(now.number, WHOLE, values))


def _answer_values(session: Session, answer: int) -> dict[str, Any]:
    row = session.get_one(RoomEvent, answer)
    values: dict[str, Any] = {"answer": answer, "hand": row.about_id}
    if row.notebook_id is None and row.about_id is not None:
        asked = _questions(session, [row.about_id]).get(row.about_id, "")
        values |= {"words": row.words, "by": row.said_by, "asked": asked}
    return values


# --- what there was ----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Passed:
    """Something that was: "step" (the first moment at a round), "announce", "answer", "timer".

    question  of an answer: what was asked, "" where that is hidden or gone
    mine      an answer to her alone
    """

    id: int
    at: datetime
    kind: str
    place: At | None
    words: str
    by: str
    question: str
    mine: bool
    seconds: int


def passed(
    session: Session, evening_id: int, after: int, notebook_id: int | None = None, most: int = 200
) -> tuple[Passed, ...]:
    """What there was in the room for this maker after that number, the first first, rounds once each; the
    last `most` of it. What a host has hidden is left out."""
    hidden = select(RoomHidden.event_id)
    rows = session.exec(
        select(RoomEvent)
        .where(
            RoomEvent.evening_id == evening_id,
            col(RoomEvent.id) > after,
            col(RoomEvent.kind).in_(("step", "announce", "answer", "timer")),
            col(RoomEvent.notebook_id).is_(None) | (col(RoomEvent.notebook_id) == notebook_id),
            col(RoomEvent.id).not_in(hidden),
        )
        .order_by(col(RoomEvent.id))
    ).all()
    asked = _questions(session, [row.about_id for row in rows if row.about_id is not None])
    found: list[Passed] = []
    here: tuple[int | None, str] | None = None
    for row in rows:
        at = _at(row)
        if row.kind == "step":
            there = (row.version_id, at.spot.address) if at else None
            if there == here:
                continue
            here = there
        if row.kind == "timer" and not row.seconds:
            continue
        found.append(_passed(row, at, asked))
    return tuple(found[-most:])


def _passed(row: RoomEvent, at: At | None, asked: dict[int, str]) -> Passed:
    return Passed(
        _id(row), row.at, row.kind, at, row.words, row.said_by, asked.get(row.about_id or 0, ""),
        row.notebook_id is not None, row.seconds or 0,
    )  # fmt: skip


def _questions(session: Session, ids: Sequence[int]) -> dict[int, str]:
    """The words of these hands, those that a host has hidden left out."""
    hidden = select(RoomHidden.event_id)
    rows = session.exec(
        select(RoomEvent.id, RoomEvent.words).where(
            col(RoomEvent.id).in_(ids), col(RoomEvent.id).not_in(hidden)
        )
    ).all()
    return {number: words for number, words in rows if number is not None}


def version_text(session: Session, version_id: int) -> str:
    """The text of a published version; "" for none."""
    return session.exec(select(PatternVersion.text).where(PatternVersion.id == version_id)).first() or ""
