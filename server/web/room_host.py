"""/host/evenings/<id>/room: the host's desk in the live hour."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Annotated

from anyio import to_thread
from fastapi import APIRouter, Form
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.broadcast import Happening
from server.services import room
from server.services.errors import NotFound, Refusal
from server.services.room import At, Course, Heads, Hosted, Spot
from server.storage.sessions import reading
from server.web import addresses
from server.web.host_sources import RowId
from server.web.moments import Moment, moment, now
from server.web.pages import render
from server.web.room_forms import Go, Hiding, Minutes, Move, Words
from server.web.room_screen import screen_address
from server.web.room_stream import maker_room
from server.web.room_telling import ended, hub_of, key, said
from server.web.room_words import (
    ShownStep,
    ShownTimer,
    course_at,
    milliseconds,
    place_words,
    shown_step,
    shown_timer,
)
from server.web.sessions import database_of
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/evenings/{evening_id}/room", route_class=HostRoute)
TIMERS = (1, 2, 3, 5, 10, 15)
ROUND = re.compile(r"([0-9]{1,18}):([0-9]{1,6})\.([0-9]{1,6})\.([0-9]{1,6})")


@dataclass(frozen=True)
class ShownHand:
    """A hand that is up."""

    id: int
    nickname: str
    words: str
    where: str
    when: Moment
    hidden: bool


@dataclass(frozen=True)
class Jump:
    """A part's rounds to go to: (key, words) of each, by section."""

    part: str
    sections: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]


@dataclass(frozen=True)
class DeskPage:
    """Context of room/desk.html.

    seen       the place that is shown, as the forms for moving say it back
    next_words what the next press comes to; "" at the end
    newer      whether the part has a newer version than the one that is shown
    more_hands hands that are up and not in the list
    stream     where the desk listens; clock: this moment, ms since the epoch
    panel, typed, errors   the form that was not carried out
    gone       the answer to a hand that is down by now, and why it was not given
    """

    host_name: str
    hosted: Hosted
    step: ShownStep | None
    sizes: str
    custom_rule: str
    part_title: str
    seen: str
    next_words: str
    newer: bool
    timer: ShownTimer | None
    timers: tuple[int, ...]
    heads: Heads
    hands: tuple[ShownHand, ...]
    more_hands: int
    jumps: tuple[Jump, ...]
    at_key: str
    screen: str
    stream: str
    clock: int
    panel: str = ""
    typed: dict[str, str] = field(default_factory=dict)
    errors: dict[str, str] = field(default_factory=dict)
    gone: str = ""


@router.get("")
async def desk(request: Request, evening_id: RowId, host: CurrentHost) -> Response:
    """The desk."""
    return await _desk(request, evening_id, host)


async def _desk(
    request: Request,
    evening_id: int,
    host: CurrentHost,
    refusal: Refusal | None = None,
    panel: str = "",
    typed: dict[str, str] | None = None,
) -> Response:
    engine = database_of(request).engine

    def known() -> None:
        with reading(engine) as session:
            room.hosted(session, host.host_id, evening_id)

    await to_thread.run_sync(known)
    room_key = await key(request, evening_id)
    here = await hub_of(request).bus.here.members(maker_room(evening_id))

    def made() -> Response:
        with reading(engine) as session:
            page = _page(request, session, host, evening_id, room_key, here, refusal, panel, typed or {})
        return render(request, "room/desk.html", page, 422 if refusal else 200)

    return await to_thread.run_sync(made)


def _page(
    request: Request,
    session: Session,
    host: CurrentHost,
    evening_id: int,
    room_key: str,
    here: frozenset[int],
    refusal: Refusal | None,
    panel: str,
    typed: dict[str, str],
) -> DeskPage:
    hosted = room.hosted(session, host.host_id, evening_id)
    at, moment_now = hosted.now.at, now()
    way = course_at(session, at)
    step = shown_step(way, at) if way is not None and at is not None else None
    text = room.version_text(session, at.version_id) if at is not None else ""
    many, hands = _hands(session, evening_id, moment_now)
    part = next((each for each in hosted.parts if at is not None and each.part_id == at.part_id), None)
    return DeskPage(
        host_name=host.shown_name,
        hosted=hosted,
        step=step,
        sizes=way.sizes if way else "",
        custom_rule=way.custom.rule if way and way.custom else "",
        part_title=part.part_title if part else "",
        seen=_seen(at),
        next_words=_next_words(way, at),
        newer=part is not None and at is not None and part.version_id != at.version_id,
        timer=shown_timer(hosted.now, moment_now),
        timers=TIMERS,
        heads=room.heads(session, evening_id, at, text, way.terms if way else "US", here),
        hands=hands,
        more_hands=many - len(hands),
        jumps=tuple(
            _jump(each.part_id, each.part_title, _way_of(session, hosted, each.part_id, each.text))
            for each in hosted.parts
        ),
        at_key=f"{at.part_id}:{at.spot.address}" if at else "",
        screen=addresses.whole(request, screen_address(evening_id, room_key)),
        stream=f"/live/{evening_id}/{room_key}/desk.{room.mark(room_key, 'desk')}",
        clock=milliseconds(moment_now),
        panel=panel,
        typed=typed,
        errors={refusal.field or "": refusal.message} if refusal else {},
        gone=_gone(panel, hands, typed, refusal),
    )


def _gone(panel: str, hands: tuple[ShownHand, ...], typed: dict[str, str], refusal: Refusal | None) -> str:
    """ "That hand is down already. You wrote: “Both loops.”" """
    if refusal is None or not panel.startswith("answer-") or panel in {f"answer-{each.id}" for each in hands}:
        return ""
    words = typed.get("words", "").strip()
    return f"{refusal.message} You wrote: “{words}”" if words else refusal.message


def _way_of(session: Session, hosted: Hosted, part_id: int, newest: str) -> Course:
    """The way of a part in the version that is shown of it, else in its newest."""
    at = hosted.now.at
    shown = room.version_text(session, at.version_id) if at is not None and at.part_id == part_id else ""
    return room.course(shown or newest)


def _hands(session: Session, evening_id: int, here: datetime) -> tuple[int, tuple[ShownHand, ...]]:
    many, hands = room.hands_up(session, evening_id)
    shown = []
    for hand in hands:
        text = room.version_text(session, hand.version_id) if hand.version_id else ""
        where = ""
        if text and hand.spot is not None:
            where = place_words(*room.course(text).words(hand.spot), hand.spot.step)
        shown.append(ShownHand(hand.id, hand.nickname, hand.words, where, moment(hand.at, here), hand.hidden))
    return many, tuple(shown)


def _jump(part_id: int, title: str, way: Course) -> Jump:
    sections: dict[int, tuple[str, list[tuple[str, str]]]] = {}
    for stop in way.stops:
        _, rounds = sections.setdefault(stop.spot.section, (stop.section, []))
        rounds.append((f"{part_id}:{stop.spot.address}", stop.label))
    return Jump(title, tuple((name, tuple(rounds)) for name, rounds in sections.values()))


def _seen(at: At | None) -> str:
    if at is None:
        return ""
    return f"{at.part_id}:{at.version_id}:{at.spot.address}:{'' if at.spot.step is None else at.spot.step}"


def _next_words(way: Course | None, at: At | None) -> str:
    if way is None or at is None or way.index(at.spot) is None:
        return ""
    to = way.after(at.spot)
    index = way.index(to) if to is not None else None
    if to is None or index is None:
        return ""
    stop = way.stops[index]
    return stop.steps[to.step] if to.step is not None else place_words(stop.section, stop.label)


# --- what she does -----------------------------------------------------------------------------------------


async def _done(
    request: Request,
    evening_id: int,
    host: CurrentHost,
    job: Callable[[Session, datetime], Happening | None],
    panel: str = "",
    typed: dict[str, str] | None = None,
) -> Response:
    """Carries it out and leads back to the desk, or shows at its form why not."""
    at = now()
    try:
        await said(request, evening_id, lambda session: job(session, at))
    except NotFound:
        raise
    except Refusal as refusal:
        return await _desk(request, evening_id, host, refusal, panel, typed)
    return RedirectResponse(f"/host/evenings/{evening_id}/room", 303)


@router.post("/open")
async def open_room(request: Request, evening_id: RowId, host: CurrentHost) -> Response:
    """The room is open from now on."""
    return await _done(
        request, evening_id, host, lambda s, at: room.open_room(s, host.host_id, evening_id, at), "open"
    )


@router.post("/close")
async def close(request: Request, evening_id: RowId, host: CurrentHost) -> Response:
    """The evening is over."""
    return await _done(request, evening_id, host, lambda s, at: room.close(s, host.host_id, evening_id, at))


@router.post("/addresses")
async def new_addresses(request: Request, evening_id: RowId, host: CurrentHost) -> Response:
    """A new screen, and new streams: the old addresses lead nowhere."""
    await database_of(request).write(lambda session: room.new_addresses(session, host.host_id, evening_id))
    await ended(request, evening_id)
    return RedirectResponse(f"/host/evenings/{evening_id}/room", 303)


@router.post("/move")
async def move(
    request: Request, evening_id: RowId, host: CurrentHost, sent: Annotated[Move, Form()]
) -> Response:
    """On or back. Sent from a page that shows another place than the room is at, it does nothing: the page
    that comes shows it as it is."""

    def job(session: Session, at: datetime) -> Happening | None:
        if sent.seen and sent.seen != _seen(room.state(session, evening_id).at):
            return None
        return room.move(session, host.host_id, evening_id, sent.how, at)

    return await _done(request, evening_id, host, job)


@router.post("/go")
async def go(request: Request, evening_id: RowId, host: CurrentHost, sent: Annotated[Go, Form()]) -> Response:
    """To any round of any part."""
    asked = ROUND.fullmatch(sent.round)

    def job(session: Session, at: datetime) -> Happening | None:
        if asked is None:
            raise Refusal("Choose a round from the list.", "round")
        part_id, section, line, turn = map(int, asked.groups())
        return room.go(session, host.host_id, evening_id, part_id, Spot(section, line, turn), at)

    return await _done(request, evening_id, host, job, "go")


@router.post("/newest")
async def newest(request: Request, evening_id: RowId, host: CurrentHost) -> Response:
    """On in the newest version of the part."""
    return await _done(
        request, evening_id, host, lambda s, at: room.show_newest(s, host.host_id, evening_id, at)
    )


@router.post("/announce")
async def announce(
    request: Request, evening_id: RowId, host: CurrentHost, sent: Annotated[Words, Form()]
) -> Response:
    """Something said to all."""
    return await _done(
        request, evening_id, host,
        lambda s, at: room.announce(s, host.host_id, evening_id, sent.words, at),
        "announce", {"words": sent.words},
    )  # fmt: skip


@router.post("/timer")
async def timer(
    request: Request, evening_id: RowId, host: CurrentHost, sent: Annotated[Minutes, Form()]
) -> Response:
    """A timer, started or put away."""
    return await _done(
        request, evening_id, host,
        lambda s, at: room.set_timer(s, host.host_id, evening_id, sent.minutes, sent.words, at),
        "timer", {"words": sent.words, "minutes": sent.minutes},
    )  # fmt: skip


@router.post("/answer")
async def answer(
    request: Request, evening_id: RowId, host: CurrentHost, sent: Annotated[Words, Form()]
) -> Response:
    """A hand is answered."""
    return await _done(
        request, evening_id, host,
        lambda s, at: room.answer(
            s, host.host_id, evening_id, sent.hand, sent.words, at, for_all=sent.to == "all"
        ),
        f"answer-{sent.hand}", {"words": sent.words},
    )  # fmt: skip


@router.post("/hide")
async def hide(
    request: Request, evening_id: RowId, host: CurrentHost, sent: Annotated[Hiding, Form()]
) -> Response:
    """A maker's words are hidden from the others, or shown again."""

    def job(session: Session, at: datetime) -> Happening | None:
        room.hide(session, host.host_id, evening_id, sent.hand, at, hidden=sent.hidden == "yes")
        return None

    return await _done(request, evening_id, host, job)
