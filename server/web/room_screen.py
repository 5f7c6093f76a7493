"""/screen/<evening>/<key>: the step for all sizes, large, for a projector or as a source in a stream."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from anyio import to_thread
from fastapi import APIRouter, Query
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import Response

from server.craft.text.tree import Terms
from server.services import room
from server.services.errors import NotFound
from server.services.room import Present
from server.storage.sessions import reading
from server.web import addresses
from server.web.host_sources import RowId
from server.web.moments import now
from server.web.pages import render
from server.web.qr import Qr, qr
from server.web.room_words import ShownStep, ShownTimer, milliseconds, shown_step, shown_timer
from server.web.sessions import database_of

router = APIRouter()
NO_ROOM = "There is no room at this address. Ask the host for its screen's address again."


@dataclass(frozen=True)
class ScreenPage:
    """Context of room/screen.html.

    clear     no ground of its own: what lies behind it in the stream is seen
    custom    the rule for a count of one's own
    join      the address that the QR code has, without its scheme
    stream    where the page listens; number: what it has seen; clock: this moment, ms since the epoch
    """

    along_title: str
    evening_title: str
    present: Present
    step: ShownStep | None
    part_title: str
    sizes: str
    custom: str
    timer: ShownTimer | None
    join_code: str
    join: str
    code: Qr
    clear: bool
    stream: str
    number: int
    clock: int


def screen_address(evening_id: int, key: str) -> str:
    """Where the screen of a room stands."""
    return f"/screen/{evening_id}/{key}"


@router.get("/screen/{evening_id}/{key}")
async def screen(
    request: Request,
    evening_id: RowId,
    key: str,
    background: Annotated[Literal["none", ""], Query()] = "",
    terms: Annotated[Terms | None, Query()] = None,
) -> Response:
    """The screen of a room, for whoever has its key."""
    engine = database_of(request).engine

    def made() -> Response:
        with reading(engine) as session:
            page = _page(request, session, evening_id, key, background == "none", terms)
        return render(request, "room/screen.html", page)

    return await to_thread.run_sync(made)


def _page(
    request: Request, session: Session, evening_id: int, key: str, clear: bool, terms: Terms | None
) -> ScreenPage:
    if not room.same(room.key_of(session, evening_id), key):
        raise NotFound(NO_ROOM)
    titles = room.titles(session, evening_id)
    assert titles is not None
    present, here = room.state(session, evening_id), now()
    text = room.version_text(session, present.at.version_id) if present.at else ""
    way = room.course(text, terms) if text else None
    join = addresses.whole(request, f"/join/{titles.join_code}")
    return ScreenPage(
        along_title=titles.along,
        evening_title=titles.evening,
        present=present,
        step=shown_step(way, present.at) if way is not None and present.at is not None else None,
        part_title=way.title if way else "",
        sizes=way.sizes if way else "",
        custom=way.custom.rule if way and way.custom else "",
        timer=shown_timer(present, here),
        join_code=titles.join_code,
        join=join.partition("://")[2].removesuffix(f"/{titles.join_code}"),
        code=qr(join, f"The way in: {join}"),
        clear=clear,
        stream=f"/live/{evening_id}/{key}",
        number=present.number,
        clock=milliseconds(here),
    )
