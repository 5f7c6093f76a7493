"""What a maker does in a room: look on, put a hand up and take it down, say that she is done."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, col, select

from server.broadcast import Happening
from server.services.errors import NotFound, Refusal
from server.services.room import limits, log
from server.services.room.course import Spot
from server.services.room.log import Present, spot_of
from server.storage.hidden import HIDDEN_NAME, hidden_among
from server.storage.tables import Along, Evening, Notebook, RoomEvent, RoomHidden

NOT_HERE = "This evening is not in your notebook."
CLOSED = "The room is closed. Your notebook goes on as ever."


@dataclass(frozen=True)
class Hand:
    """Her hand that is up."""

    id: int
    at: datetime
    words: str


@dataclass(frozen=True)
class Visited:
    """A room as a maker finds it. done: whether she has said so at the place where the host is; unnamed:
    whether a host has hidden her nickname."""

    evening_id: int
    along_id: int
    now: Present
    hand: Hand | None
    done: bool
    unnamed: bool


def visited(session: Session, notebook_id: int, evening_id: int) -> Visited:
    """The room of an evening of her along, cancelled or not; NotFound for any other."""
    evening = session.get(Evening, evening_id)
    along_id = session.exec(select(Notebook.along_id).where(Notebook.id == notebook_id)).first()
    if evening is None or evening.along_id != along_id:
        raise NotFound(NOT_HERE)
    now = log.state(session, evening_id)
    return Visited(
        evening_id, evening.along_id, now, hand_of(session, evening_id, notebook_id),
        _is_done(session, evening_id, notebook_id, now), bool(hidden_among(session, [notebook_id])),
    )  # fmt: skip


@dataclass(frozen=True)
class Titles:
    """What an evening is called, and the way into its along."""

    along_id: int
    along: str
    evening: str
    join_code: str


def titles(session: Session, evening_id: int) -> Titles | None:
    """What an evening is called; None where there is none."""
    row = session.exec(
        select(Evening, Along).where(Evening.id == evening_id, Along.id == Evening.along_id)
    ).first()
    if row is None:
        return None
    evening, along = row
    return Titles(evening.along_id, along.title, evening.title, along.join_code)


def hand_of(session: Session, evening_id: int, notebook_id: int) -> Hand | None:
    """Her hand, where it is up: the last she put up, if nobody has answered it and she has not lowered it."""
    row = session.exec(
        select(RoomEvent)
        .where(
            RoomEvent.evening_id == evening_id,
            RoomEvent.kind == "hand",
            RoomEvent.notebook_id == notebook_id,
        )
        .order_by(col(RoomEvent.id).desc())
        .limit(1)
    ).first()
    if row is None or row.id is None:
        return None
    ended = session.exec(select(RoomEvent.id).where(RoomEvent.about_id == row.id).limit(1)).first()
    return Hand(row.id, row.at, row.words) if ended is None else None


def _is_done(session: Session, evening_id: int, notebook_id: int, now: Present) -> bool:
    row = session.exec(
        select(RoomEvent)
        .where(
            RoomEvent.evening_id == evening_id,
            col(RoomEvent.kind).in_(("done", "undone")),
            RoomEvent.notebook_id == notebook_id,
        )
        .order_by(col(RoomEvent.id).desc())
        .limit(1)
    ).first()
    if row is None or row.kind != "done" or now.at is None:
        return False
    return row.version_id == now.at.version_id and spot_of(row) == now.at.spot


def raise_hand(
    session: Session, notebook_id: int, evening_id: int, typed: str, own: Spot | None, now: datetime
) -> Happening:
    """Put her hand up, with a word or without; it says at which round: her own (`own`), else the host's. A
    hand that is up already comes down for the new one."""
    room = _opened(session, notebook_id, evening_id)
    words = limits.line(typed, limits.HAND_MOST)
    limits.take(session, evening_id, "hand", now, notebook_id)
    if room.hand is not None:
        _write(session, _event(room, notebook_id, "lowered", now, about_id=room.hand.id))
    event = _event(room, notebook_id, "hand", now, words=words)
    if own is not None:
        event.section, event.round, event.turn, event.step = own.section, own.round, own.turn, own.step
    _write(session, event)
    return log.newest(session, evening_id)


def lower_hand(session: Session, notebook_id: int, evening_id: int, now: datetime) -> Happening | None:
    """Take it down; None where it is down."""
    room = visited(session, notebook_id, evening_id)
    if room.hand is None:
        return None
    _write(session, _event(room, notebook_id, "lowered", now, about_id=room.hand.id))
    return log.newest(session, evening_id)


def say_done(
    session: Session, notebook_id: int, evening_id: int, now: datetime, *, done: bool
) -> Happening | None:
    """Say that she is done where the host is, or (done=False) that she is not after all. None where that is
    said already."""
    room = _opened(session, notebook_id, evening_id)
    if room.now.at is None or room.done == done:
        return None
    limits.take(session, evening_id, "done", now, notebook_id)
    _write(session, _event(room, notebook_id, "done" if done else "undone", now))
    return log.newest(session, evening_id)


def _opened(session: Session, notebook_id: int, evening_id: int) -> Visited:
    room = visited(session, notebook_id, evening_id)
    if not room.now.is_open:
        raise Refusal(CLOSED, "words")
    return room


def _event(
    room: Visited, notebook_id: int, kind: str, now: datetime, words: str = "", about_id: int | None = None
) -> RoomEvent:
    event = RoomEvent(
        evening_id=room.evening_id, at=now, kind=kind, words=words, about_id=about_id, notebook_id=notebook_id
    )
    at = room.now.at
    if at is not None:
        event.part_id, event.version_id = at.part_id, at.version_id
        event.section, event.round, event.turn = at.spot.section, at.spot.round, at.spot.turn
        event.step = at.spot.step
    return event


def _write(session: Session, event: RoomEvent) -> None:
    session.add(event)
    session.flush()


@dataclass(frozen=True)
class RaisedHand:
    """A hand that is up, as hosts see it. hidden: its words are shown to hosts only."""

    id: int
    nickname: str
    words: str
    at: datetime
    version_id: int | None
    spot: Spot | None
    hidden: bool


def hands_up(
    session: Session, evening_id: int, most: int = limits.HANDS_SHOWN
) -> tuple[int, tuple[RaisedHand, ...]]:
    """(how many hands are up, those that have been up longest)."""
    ended = select(RoomEvent.about_id).where(
        RoomEvent.evening_id == evening_id, col(RoomEvent.about_id).is_not(None)
    )
    rows = session.exec(
        select(RoomEvent, Notebook.nickname)
        .where(
            RoomEvent.evening_id == evening_id,
            RoomEvent.kind == "hand",
            col(RoomEvent.id).not_in(ended),
            Notebook.id == RoomEvent.notebook_id,
        )
        .order_by(col(RoomEvent.id))
    ).all()
    shown = rows[:most]
    hidden = set(
        session.exec(
            select(RoomHidden.event_id).where(col(RoomHidden.event_id).in_([row.id for row, _ in shown]))
        ).all()
    )
    unnamed = hidden_among(session, [row.notebook_id for row, _ in shown if row.notebook_id is not None])
    return len(rows), tuple(
        RaisedHand(
            row.id or 0,
            HIDDEN_NAME if row.notebook_id in unnamed else nickname,
            row.words,
            row.at,
            row.version_id,
            spot_of(row),
            row.id in hidden,
        )
        for row, nickname in shown
    )
