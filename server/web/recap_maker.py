"""/notebook/evening/<id>/recap: an evening again in a maker's own numbers, and what she has still to do."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import Response

from server.craft.fabric.numbering import is_allowed
from server.craft.fabric.values import Numbers
from server.craft.making.spots import order
from server.services import notebooks, room
from server.services.errors import NotFound
from server.services.joining import Kept
from server.services.notebooks import Desk
from server.services.recap.evening import timeline
from server.services.recap.summaries import pattern_of
from server.services.room import At, Stop
from server.services.series import Set, evenings
from server.web.evening_words import ShownEvening, shown_evenings
from server.web.host_sources import RowId
from server.web.maker.device import Device, device_of
from server.web.moments import now
from server.web.pages import render
from server.web.recap_words import Round, Say, rounds
from server.web.room_words import place_words
from server.web.sessions import ReadSession

router = APIRouter(prefix="/notebook/evening/{evening_id}")
NOT_HERE = "This evening is not in your notebook."


@dataclass(frozen=True)
class ToDo:
    """What a maker has still to do to stand where the evening ended, in one part.

    where    the round at hand, "" where she has not begun it
    until    the last round that was shown
    rounds   how many there are up to it; 0 where she is there, or farther
    settled  whether she has her numbers
    """

    part_id: int
    part_title: str
    where: str
    until: str
    rounds: int
    settled: bool


@dataclass(frozen=True)
class MakerRecapPage:
    """Context of recap/maker.html. own: whether the rounds are in her numbers."""

    along_title: str
    evening: ShownEvening
    opened: bool
    own: bool
    to_do: tuple[ToDo, ...]
    rounds: tuple[Round, ...]
    next_evening: ShownEvening | None


@router.get("/recap")
def recap(request: Request, evening_id: RowId, session: ReadSession) -> Response:
    """The evening told again."""
    device = device_of(request, session)
    kept, every, evening = _hers(session, device, evening_id)
    found = timeline(session, evening_id)
    parts = {each.version_id: each.part_id for each in found.steps} if found else {}
    desks = {version: notebooks.open_desk(session, kept.notebook_id, part) for version, part in parts.items()}
    told = (
        rounds(session, evening_id, found.opened_at, _say(session, desks), kept.notebook_id) if found else ()
    )
    later = [each for each in every if not each.is_cancelled and each.wall.moment > evening.wall.moment]
    page = MakerRecapPage(
        along_title=kept.along_title,
        evening=shown_evenings((evening,), now())[0],
        opened=found is not None,
        own=any(desk.making.settled is not None for desk in desks.values()),
        to_do=tuple(_to_do(version, desk, told) for version, desk in desks.items()),
        rounds=told,
        next_evening=shown_evenings(later[:1], now())[0] if later else None,
    )
    return render(request, "recap/maker.html", page)


def _hers(session: Session, device: Device, evening_id: int) -> tuple[Kept, tuple[Set, ...], Set]:
    """The notebook on this device whose along has the evening, the one opened last first."""
    for kept in device.kept:
        every = evenings.of_along(session, kept.along_id)
        for evening in every:
            if evening.id == evening_id:
                return kept, every, evening
    raise device.missing() if not device.kept else NotFound(NOT_HERE)


def _say(session: Session, desks: dict[int, Desk]) -> Say:
    """Rounds in her numbers; for all sizes where she has none, or where the version shown has not hers."""

    def say(stop: Stop, at: At) -> tuple[str, str]:
        desk = desks.get(at.version_id)
        text = room.version_text(session, at.version_id)
        numbers = _numbers(desk, text)
        if desk is not None and numbers is not None:
            made = room.hers(room.in_numbers(text, numbers, desk.terms), at.spot)
            if made is not None:
                return made.line, made.count_text
        if desk is not None:
            way = room.course(text, desk.terms)
            index = way.index(at.spot)
            stop = way.stops[index] if index is not None else stop
        return stop.text, stop.count

    return say


def _numbers(desk: Desk | None, text: str) -> Numbers | None:
    """Hers, where that text can be made in them."""
    settled = desk.making.settled if desk is not None else None
    if settled is None:
        return None
    header = pattern_of(text).header
    if settled.foundation is not None and not is_allowed(header, settled.foundation):
        return None
    if settled.size is not None and settled.size not in header.sizes:
        return None
    return Numbers(settled.foundation, settled.size)


def _to_do(version_id: int, desk: Desk, told: tuple[Round, ...]) -> ToDo:
    """In the first piece, up to the farthest round that was shown."""
    shown = [each for each in told if each.address and each.version_id == version_id]
    last = max(shown, key=lambda each: order(each.address), default=None)
    if last is None or desk.making.settled is None:
        return ToDo(
            desk.part_id, desk.part_title, "", last.where if last else "", 0, desk.making.settled is not None
        )
    place = desk.place(1)
    at_hand = place.round if place.kind == "round" else None
    worked = set(desk.making.pieces[1].worked)
    left = [
        each
        for each in desk.plan(1).rounds
        if each.spot not in worked and order(each.spot) <= order(last.address)
    ]
    is_there = desk.making.pieces[1].finished or not left
    where = place_words(at_hand.section_title, at_hand.label) if at_hand is not None else ""
    return ToDo(desk.part_id, desk.part_title, where, last.where, 0 if is_there else len(left), True)
