"""What a host does in the room: open it, go on, say something, set a timer, answer a hand, close it.

Each gives what is then to be told to everybody; whoever calls tells it after the COMMIT.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, col, select

from server.broadcast import Happening
from server.services.errors import NotFound, Refusal
from server.services.room import keys, limits, log
from server.services.room.course import Course, Spot, course
from server.services.room.log import At, Present
from server.storage import hosting
from server.storage.tables import Along, Evening, Part, PatternVersion, RoomEvent, RoomHidden

UNKNOWN = "There is nothing of yours at this address."
CLOSED = "The room is closed. Open it first."
NOTHING_TO_SHOW = "No part of this along has a published pattern yet. Publish one, then open the room."
MOVES = ("on", "back", "round on", "round back")


@dataclass(frozen=True)
class Open:
    """A part that can be shown: its newest version."""

    part_id: int
    part_title: str
    version_id: int
    text: str


@dataclass(frozen=True)
class Hosted:
    """A room as its host finds it."""

    evening_id: int
    evening_title: str
    along_id: int
    along_title: str
    join_code: str
    part_id: int | None
    is_cancelled: bool
    parts: tuple[Open, ...]
    now: Present


def hosted(session: Session, host_id: int, evening_id: int) -> Hosted:
    """The room of an evening of an along that she hosts; else NotFound."""
    evening, along = _own(session, host_id, evening_id)
    assert along.id is not None
    return Hosted(
        evening_id, evening.title, along.id, along.title, along.join_code, evening.part_id,
        evening.is_cancelled, parts_of(session, along.id), log.state(session, evening_id),
    )  # fmt: skip


def _own(session: Session, host_id: int, evening_id: int) -> tuple[Evening, Along]:
    evening = session.get(Evening, evening_id)
    along = hosting.along_hosted_by(session, host_id, evening.along_id) if evening is not None else None
    if evening is None or along is None:
        raise NotFound(UNKNOWN)
    return evening, along


def parts_of(session: Session, along_id: int) -> tuple[Open, ...]:
    """The published parts of an along, in their order, each with its newest version."""
    rows = session.exec(
        select(Part, PatternVersion)
        .where(Part.along_id == along_id, PatternVersion.part_id == Part.id)
        .order_by(col(Part.position), col(Part.id), col(PatternVersion.number))
    ).all()
    newest = {part.id: Open(part.id or 0, part.title, row.id or 0, row.text) for part, row in rows}
    return tuple(newest.values())


def open_room(session: Session, host_id: int, evening_id: int, now: datetime) -> Happening | None:
    """Open it: where it was, or at the beginning of the evening's part. None where it is open already."""
    room = hosted(session, host_id, evening_id)
    if room.now.is_open:
        return None
    if room.is_cancelled:
        raise Refusal("This evening is cancelled. Take it up again first.")
    if not room.parts:
        raise Refusal(NOTHING_TO_SHOW)
    by = hosting.shown_name(session, host_id)
    _write(session, RoomEvent(evening_id=evening_id, at=now, kind="opened", said_by=by))
    if room.now.at is None:
        part = next((each for each in room.parts if each.part_id == room.part_id), room.parts[0])
        _write(session, _step(evening_id, part, course(part.text).stops[0].spot, by, now))
    return log.told(session, evening_id, room.now.number, "opened")


def close(session: Session, host_id: int, evening_id: int, now: datetime) -> Happening | None:
    """Close it. What was said stays to be read. None where it is not open."""
    room = hosted(session, host_id, evening_id)
    if not room.now.is_open:
        return None
    by = hosting.shown_name(session, host_id)
    _write(session, RoomEvent(evening_id=evening_id, at=now, kind="closed", said_by=by))
    return log.told(session, evening_id, room.now.number, "closed")


def new_addresses(session: Session, host_id: int, evening_id: int) -> None:
    """A new key for the room: whoever had an address with the old one hears and sees nothing more of it."""
    _own(session, host_id, evening_id)
    keys.renew_key(session, evening_id)


def move(
    session: Session, host_id: int, evening_id: int, how: str, now: datetime, seen: At | None = None
) -> Happening | None:
    """Go on or back, by a step or by a round. None at either end, and where another host has moved since the
    page that asks was drawn (`seen`): two who press at once move one step."""
    room = _opened(session, host_id, evening_id)
    at = room.now.at
    if at is None or how not in MOVES or (seen is not None and seen != at):
        return None
    way = course(log.version_text(session, at.version_id))
    index = way.index(at.spot)
    if index is None:
        return None
    if how == "on":
        to = way.after(at.spot)
    elif how == "back":
        to = way.before(at.spot)
    elif how == "round on":
        to = way.next_round(at.spot)
    else:
        to = way.stops[max(index - 1, 0)].spot if at.spot.step is None else way.stops[index].spot
    if to is None or to == at.spot:
        return None
    return _go(session, host_id, room, At(at.part_id, at.version_id, to), now)


def go(
    session: Session, host_id: int, evening_id: int, part_id: int, spot: Spot, now: datetime
) -> Happening | None:
    """Go to any round of a part, in its newest version; where she is in it already, in the version that she
    shows. Refusal where there is no such round."""
    room = _opened(session, host_id, evening_id)
    part = next((each for each in room.parts if each.part_id == part_id), None)
    if part is None:
        raise Refusal("Choose one of the along's published parts.", "part")
    version_id = part.version_id
    if room.now.at is not None and room.now.at.part_id == part_id:
        version_id = room.now.at.version_id
    way = course(log.version_text(session, version_id))
    index = way.index(spot)
    if index is None or not (spot.step is None or 0 <= spot.step < len(way.stops[index].steps)):
        raise Refusal("That round is not in this pattern. Choose one of its rounds.", "round")
    to = At(part_id, version_id, spot)
    return None if to == room.now.at else _go(session, host_id, room, to, now)


def show_newest(session: Session, host_id: int, evening_id: int, now: datetime) -> Happening | None:
    """Go on in the newest version of the part that is shown, at the same round where it has it."""
    room = _opened(session, host_id, evening_id)
    at = room.now.at
    part = next((each for each in room.parts if at is not None and each.part_id == at.part_id), None)
    if at is None or part is None or part.version_id == at.version_id:
        return None
    way: Course = course(part.text)
    spot = at.spot if way.index(at.spot) is not None else way.stops[0].spot
    whole = Spot(spot.section, spot.round, spot.turn)
    return _go(session, host_id, room, At(part.part_id, part.version_id, whole), now)


def _go(session: Session, host_id: int, room: Hosted, to: At, now: datetime) -> Happening:
    limits.take(session, room.evening_id, "step", now)
    by = hosting.shown_name(session, host_id)
    part = Open(to.part_id, "", to.version_id, "")
    _write(session, _step(room.evening_id, part, to.spot, by, now))
    return log.told(session, room.evening_id, room.now.number, "step")


def announce(session: Session, host_id: int, evening_id: int, typed: str, now: datetime) -> Happening:
    """Say something to all; nothing typed takes the last words off the screens."""
    room = _opened(session, host_id, evening_id)
    words = limits.line(typed, limits.SAY_MOST)
    if not words and room.now.said is None:
        raise Refusal("Write what everybody should read.", "words")
    limits.take(session, evening_id, "announce", now)
    _write(session, _event(session, host_id, room, "announce", now, words=words))
    return log.told(session, evening_id, room.now.number, "announce")


def take_off(
    session: Session, host_id: int, evening_id: int, event_id: int, now: datetime
) -> Happening | None:
    """Take an announcement off all screens, whoever made it. None where it is not the one that is shown."""
    room = hosted(session, host_id, evening_id)
    if not room.now.is_open or room.now.said is None or room.now.said.id != event_id:
        return None
    _write(session, _event(session, host_id, room, "announce", now, words=""))
    return log.told(session, evening_id, room.now.number, "announce")


def set_timer(
    session: Session, host_id: int, evening_id: int, minutes: str, typed: str, now: datetime
) -> Happening:
    """Start a timer of so many minutes; 0 puts it away."""
    room = _opened(session, host_id, evening_id)
    wanted = int(minutes) if minutes.strip().isdecimal() and len(minutes) < 6 else -1
    if not 0 <= wanted <= limits.TIMER_MINUTES_MOST:
        raise Refusal(f"A timer has whole minutes, from 1 to {limits.TIMER_MINUTES_MOST}.", "minutes")
    words = limits.line(typed, limits.TIMER_WORDS_MOST)
    limits.take(session, evening_id, "timer", now)
    _write(session, _event(session, host_id, room, "timer", now, words=words, seconds=wanted * 60))
    return log.told(session, evening_id, room.now.number, "timer")


def answer(
    session: Session, host_id: int, evening_id: int, hand_id: int, typed: str, now: datetime, *, for_all: bool
) -> Happening:
    """Answer a hand, in words or by nodding: for its maker, or for all. The hand is down then."""
    room = _opened(session, host_id, evening_id)
    hand = session.get(RoomEvent, hand_id)
    ended = session.exec(select(RoomEvent.id).where(RoomEvent.about_id == hand_id).limit(1)).first()
    if hand is None or hand.evening_id != evening_id or hand.kind != "hand" or ended is not None:
        raise Refusal("That hand is down already.", "words")
    ask = "Write the answer that all should read." if for_all else ""
    words = limits.line(typed, limits.SAY_MOST, ask)
    limits.take(session, evening_id, "answer", now)
    event = _event(session, host_id, room, "answer", now, words=words)
    event.part_id, event.version_id = hand.part_id, hand.version_id
    event.section, event.round, event.turn, event.step = hand.section, hand.round, hand.turn, hand.step
    event.about_id, event.notebook_id = hand_id, None if for_all else hand.notebook_id
    _write(session, event)
    return log.told(session, evening_id, room.now.number, "answer")


def hide(
    session: Session, host_id: int, evening_id: int, event_id: int, now: datetime, *, hidden: bool
) -> None:
    """Hide what a maker said, from all but hosts; or show it again."""
    _own(session, host_id, evening_id)
    event = session.get(RoomEvent, event_id)
    if event is None or event.evening_id != evening_id or event.kind != "hand":
        raise NotFound(UNKNOWN)
    row = session.get(RoomHidden, event_id)
    if hidden and row is None:
        session.add(RoomHidden(event_id=event_id, at=now, hidden_by=hosting.shown_name(session, host_id)))
    elif not hidden and row is not None:
        session.delete(row)


def _opened(session: Session, host_id: int, evening_id: int) -> Hosted:
    room = hosted(session, host_id, evening_id)
    if not room.now.is_open:
        raise Refusal(CLOSED)
    return room


def _step(evening_id: int, part: Open, spot: Spot, by: str, now: datetime) -> RoomEvent:
    return RoomEvent(
        evening_id=evening_id, at=now, kind="step", part_id=part.part_id, version_id=part.version_id,
        section=spot.section, round=spot.round, turn=spot.turn, step=spot.step, said_by=by,
    )  # fmt: skip


def _event(
    session: Session,
    host_id: int,
    room: Hosted,
    kind: str,
    now: datetime,
    *,
    words: str,
    seconds: int | None = None,
) -> RoomEvent:
    """An event at the place where the host is."""
    event = RoomEvent(evening_id=room.evening_id, at=now, kind=kind, words=words, seconds=seconds)
    event.said_by = hosting.shown_name(session, host_id)
    if room.now.at is not None:
        at = room.now.at
        event.part_id, event.version_id = at.part_id, at.version_id
        event.section, event.round, event.turn = at.spot.section, at.spot.round, at.spot.turn
        event.step = at.spot.step
    return event


def _write(session: Session, event: RoomEvent) -> None:
    session.add(event)
    session.flush()
