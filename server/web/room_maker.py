"""/notebook/evening/<id>: an evening as a maker has it, with the host's step in her own numbers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Annotated, Any

from anyio import to_thread
from fastapi import APIRouter, Form
from pydantic import BaseModel
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.broadcast import Happening
from server.craft.making.spots import SPOT
from server.services import room
from server.services.errors import NotFound, Refusal
from server.services.joining import Kept
from server.services.room import Spot, Visited
from server.services.series import evenings
from server.storage.sessions import reading
from server.web.cookies import keep
from server.web.evening_words import ShownEvening, shown_evenings
from server.web.host_sources import RowId
from server.web.maker.device import Device, device_of, with_visit
from server.web.moments import moment, now
from server.web.pages import render
from server.web.room_numbers import Hers, hers, without_numbers
from server.web.room_stream import maker_room
from server.web.room_telling import hub_of, key, noted
from server.web.room_words import ShownPassed, ShownTimer, milliseconds, shown_passed, shown_timer
from server.web.sessions import database_of

router = APIRouter(prefix="/notebook/evening/{evening_id}")
FOLLOW = "evenhand_follow"  # cookie: "no" where she does not follow the host
LOOKED = "evenhand_looked"  # cookie, of the page's script too: "<evening>.<number>" of what she has seen
KEPT_DAYS = 30
TONIGHT_MOST = 60


@dataclass(frozen=True)
class EveningPage:
    """Context of room/evening.html.

    hers      the host's place in her numbers, and her own beside it; None while nothing is shown
    follows   whether the host's step is what the page is about
    since     what there was since she last looked; tonight: all of it
    plan      every round in her numbers, for the page's script
    stream    where the page listens; number: what it has seen; clock: this moment, ms since the epoch
    """

    evening: ShownEvening
    along_title: str
    visited: Visited
    hers: Hers | None
    follows: bool
    timer: ShownTimer | None
    hand_when: str
    since: tuple[ShownPassed, ...]
    tonight: tuple[ShownPassed, ...]
    plan: dict[str, Any]
    stream: str
    clock: int
    hand_most: int = room.HAND_MOST
    typed: str = ""
    errors: dict[str, str] = field(default_factory=dict)


@router.get("")
async def evening(request: Request, evening_id: RowId) -> Response:
    """The evening, open or not."""
    return await _evening(request, evening_id)


async def _evening(
    request: Request, evening_id: int, refusal: Refusal | None = None, typed: str = ""
) -> Response:
    engine = database_of(request).engine

    def hers_it_is() -> Kept:
        with reading(engine) as session:
            return _kept(session, device_of(request, session), evening_id)

    kept = await to_thread.run_sync(hers_it_is)
    room_key = await key(request, evening_id)
    await hub_of(request).bus.here.seen(maker_room(evening_id), [kept.notebook_id])

    def made() -> Response:
        with reading(engine) as session:
            page = _page(request, session, kept, evening_id, room_key, refusal, typed)
            response = render(request, "room/evening.html", page, 422 if refusal else 200)
            number = page.visited.now.number
            response.set_cookie(
                LOOKED, f"{evening_id}.{number}", max_age=KEPT_DAYS * 86_400, path="/notebook/evening",
                samesite="lax",
            )  # fmt: skip
            return with_visit(response, request, session, kept.notebook_id)

    return await to_thread.run_sync(made)


def _kept(session: Session, device: Device, evening_id: int) -> Kept:
    """The notebook on this device whose along has the evening, the one opened last first."""
    titles = room.titles(session, evening_id)
    for kept in device.kept:
        if titles is not None and kept.along_id == titles.along_id:
            return kept
    raise device.missing()


def _page(
    request: Request,
    session: Session,
    kept: Kept,
    evening_id: int,
    room_key: str,
    refusal: Refusal | None,
    typed: str,
) -> EveningPage:
    here = now()
    visited = room.visited(session, kept.notebook_id, evening_id)
    at = visited.now.at
    found = hers(session, kept.notebook_id, at) if at is not None else None
    counts = found.counts if found is not None else without_numbers(session, at)
    looked = _looked(request, evening_id)
    tonight = room.passed(session, evening_id, 0, kept.notebook_id, TONIGHT_MOST)
    since = [each for each in tonight if looked is not None and each.id > looked]
    me = f"{kept.notebook_id}.{room.mark(room_key, str(kept.notebook_id))}"
    return EveningPage(
        evening=_shown(session, visited.along_id, evening_id, here),
        along_title=kept.along_title,
        visited=visited,
        hers=found,
        follows=request.cookies.get(FOLLOW) != "no",
        timer=shown_timer(visited.now, here),
        hand_when=moment(visited.hand.at, here).words if visited.hand else "",
        since=shown_passed(session, since, here, counts),
        tonight=shown_passed(session, tonight, here, counts),
        plan=_script(visited, found),
        stream=f"/live/{evening_id}/{room_key}/{me}",
        clock=milliseconds(here),
        typed=typed,
        errors={refusal.field or "words": refusal.message} if refusal else {},
    )


def _script(visited: Visited, found: Hers | None) -> dict[str, Any]:
    """What the page's script goes on with: the room as it was when the page was made, and her rounds."""
    return {
        "number": visited.now.number,
        "room": room.values_of(visited.now),
        "hand": visited.hand.id if visited.hand else 0,
        "version": visited.now.at.version_id if visited.now.at else 0,
        "own": found.own_index if found is not None else None,
        "rounds": found.rounds if found is not None else [],
    }


def _shown(session: Session, along_id: int, evening_id: int, here: datetime) -> ShownEvening:
    every = shown_evenings(evenings.of_along(session, along_id), here)
    return next(each for each in every if each.id == evening_id)


def _looked(request: Request, evening_id: int) -> int | None:
    """How much of this evening she has seen; None for none of it."""
    of, _, number = request.cookies.get(LOOKED, "").partition(".")
    return int(number) if of == str(evening_id) and number.isdecimal() and len(number) < 19 else None


# --- what she does -----------------------------------------------------------------------------------------


class HandForm(BaseModel):
    """A hand put up, as sent. own: the round she is at herself, where she is somewhere else than the host."""

    words: str = ""
    own: str = ""


class FollowForm(BaseModel):
    """Whether she follows the host."""

    follow: str = ""


async def _done(
    request: Request,
    evening_id: int,
    job: Callable[[Session, int, datetime], Happening | None],
    typed: str = "",
) -> Response:
    engine = database_of(request).engine

    def hers_it_is() -> int:
        with reading(engine) as session:
            return _kept(session, device_of(request, session), evening_id).notebook_id

    notebook_id = await to_thread.run_sync(hers_it_is)
    at = now()
    try:
        await noted(request, evening_id, lambda session: job(session, notebook_id, at))
    except NotFound:
        raise
    except Refusal as refusal:
        return await _evening(request, evening_id, refusal, typed)
    return RedirectResponse(f"/notebook/evening/{evening_id}", 303)


@router.post("/hand")
async def put_up(request: Request, evening_id: RowId, sent: Annotated[HandForm, Form()]) -> Response:
    """Her hand goes up."""
    own = SPOT.fullmatch(sent.own)
    spot = Spot(*map(int, own.groups())) if own else None
    return await _done(
        request, evening_id,
        lambda session, notebook_id, at: room.raise_hand(
            session, notebook_id, evening_id, sent.words, spot, at
        ),
        sent.words,
    )  # fmt: skip


@router.post("/lower")
async def take_down(request: Request, evening_id: RowId) -> Response:
    """It comes down."""
    return await _done(
        request, evening_id,
        lambda session, notebook_id, at: room.lower_hand(session, notebook_id, evening_id, at),
    )  # fmt: skip


@router.post("/done")
async def done(request: Request, evening_id: RowId) -> Response:
    """She is done where the host is."""
    return await _done(
        request, evening_id,
        lambda session, notebook_id, at: room.say_done(session, notebook_id, evening_id, at, done=True),
    )  # fmt: skip


@router.post("/undone")
async def undone(request: Request, evening_id: RowId) -> Response:
    """She is not, after all."""
    return await _done(
        request, evening_id,
        lambda session, notebook_id, at: room.say_done(session, notebook_id, evening_id, at, done=False),
    )  # fmt: skip


@router.post("/follow")
async def follow(request: Request, evening_id: RowId, sent: Annotated[FollowForm, Form()]) -> Response:
    """Follow the host, or go at one's own pace."""
    response = RedirectResponse(f"/notebook/evening/{evening_id}", 303)
    keep(response, request, FOLLOW, "no" if sent.follow == "no" else "yes", KEPT_DAYS)
    return response
