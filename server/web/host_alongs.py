"""Pages for a host's alongs: her list, one along with its parts and ways to join, the roster."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Annotated, Literal

from fastapi import APIRouter, Form, Path, Query
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import alongs, rosters
from server.services.alongs import AlongLine, AlongView
from server.services.errors import NotFound, Refusal
from server.web import addresses
from server.web.moments import Moment, moment, now
from server.web.pages import render, wants_fragment
from server.web.sessions import ReadSession, WriteSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host", route_class=HostRoute)
Text = Annotated[str, Form()]
RowId = Annotated[int, Path(ge=1, le=2**63 - 1)]


@dataclass(frozen=True)
class AlongsPage:
    """Context of host/alongs.html."""

    host_name: str
    alongs: tuple[AlongLine, ...]
    title: str = ""
    welcome: str = ""
    errors: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class RosterPlace:
    """Where a maker is in one part, in words."""

    part_title: str
    size: str
    place: str
    verdict: str
    verdict_kind: Literal["good", "differs", "note"]
    version: str


@dataclass(frozen=True)
class RosterLine:
    """A maker in the roster."""

    nickname: str
    seen: Moment
    places: tuple[RosterPlace, ...]


@dataclass(frozen=True)
class RosterPage:
    """Context of host/roster.html and of its fragment host/_roster.html."""

    host_name: str
    along_id: int
    along_title: str
    makers: int
    lines: tuple[RosterLine, ...]
    page: int
    pages: int


@dataclass(frozen=True)
class AlongPage:
    """Context of host/along.html. title, welcome, part_title: the forms as typed, with what to put right by
    field; mark: what the along was called when the form was opened."""

    host_name: str
    along: AlongView
    join_link: str
    title: str
    welcome: str
    mark: str
    lines: tuple[RosterLine, ...]
    along_id: int
    makers: int
    page: int
    pages: int
    part_title: str = ""
    errors: dict[str, str] = field(default_factory=dict)
    part_error: str = ""


@dataclass(frozen=True)
class PartTitlePage:
    """Context of host/part_title.html: rename a part."""

    host_name: str
    along_id: int
    title: str
    error: str = ""


def by_field(refusal: Refusal) -> dict[str, str]:
    """What to put right, by the field it stands at; a refusal that belongs to no field is not the form's to
    show."""
    if refusal.field is None:
        raise refusal
    return {refusal.field: refusal.message}


@router.get("")
def own_alongs(request: Request, host: CurrentHost, session: ReadSession) -> Response:
    """Her alongs, and a form to make one."""
    return render(
        request, "host/alongs.html", AlongsPage(host.shown_name, alongs.of_host(session, host.host_id))
    )


@router.post("/alongs")
def make_along(
    request: Request, host: CurrentHost, session: WriteSession, title: Text = "", welcome: Text = ""
) -> Response:
    """Make an along and go to it."""
    try:
        along_id = alongs.make(session, host.host_id, title, welcome, now())
    except Refusal as refusal:
        mine = alongs.of_host(session, host.host_id)
        page = AlongsPage(host.shown_name, mine, title, welcome, by_field(refusal))
        return render(request, "host/alongs.html", page, 422)
    return RedirectResponse(f"/host/alongs/{along_id}", status_code=303)


def along_page(request: Request, session: Session, host: CurrentHost, along_id: int) -> AlongPage:
    """The page of one along, its forms as they stand before anything is typed."""
    view = alongs.one(session, host.host_id, along_id)
    roster = roster_page(host, rosters.roster(session, host.host_id, along_id))
    return AlongPage(
        host_name=host.shown_name,
        along=view,
        join_link=join_link(request, view.join_code),
        title=view.title,
        welcome=view.welcome,
        mark=alongs.mark_of(view.title, view.welcome),
        lines=roster.lines,
        along_id=along_id,
        makers=roster.makers,
        page=roster.page,
        pages=roster.pages,
    )


def join_link(request: Request, code: str) -> str:
    """The address that makers open."""
    return addresses.whole(request, f"/join/{code}")


@router.get("/alongs/{along_id}")
def one_along(request: Request, along_id: RowId, host: CurrentHost, session: ReadSession) -> Response:
    """One along: its parts, how to join it, who is in it."""
    return render(request, "host/along.html", along_page(request, session, host, along_id))


@router.post("/alongs/{along_id}")
def rename_along(
    request: Request,
    along_id: RowId,
    host: CurrentHost,
    session: WriteSession,
    title: Text = "",
    welcome: Text = "",
    mark: Text = "",
) -> Response:
    """Another title and welcome."""
    try:
        alongs.rename(session, host.host_id, along_id, title, welcome, mark or None)
    except NotFound:
        raise
    except Refusal as refusal:
        errors = by_field(refusal)
        page = along_page(request, session, host, along_id)
        page = replace(page, title=title, welcome=welcome, errors=errors)
        return render(request, "host/along.html", page, 422)
    return RedirectResponse(f"/host/alongs/{along_id}", status_code=303)


@router.post("/alongs/{along_id}/parts")
def add_part(
    request: Request, along_id: RowId, host: CurrentHost, session: WriteSession, part_title: Text = ""
) -> Response:
    """Add a part and go to its pattern."""
    try:
        part_id = alongs.add_part(session, host.host_id, along_id, part_title)
    except NotFound:
        raise
    except Refusal as refusal:
        page = along_page(request, session, host, along_id)
        page = replace(page, part_title=part_title, part_error=refusal.message)
        return render(request, "host/along.html", page, 422)
    return RedirectResponse(f"/host/parts/{part_id}", status_code=303)


@router.get("/alongs/{along_id}/qr.svg")
def qr_picture(request: Request, along_id: RowId, host: CurrentHost, session: ReadSession) -> Response:
    """The join link as a QR code."""
    view = alongs.one(session, host.host_id, along_id)
    picture = alongs.qr_picture(join_link(request, view.join_code))
    headers = {"Cache-Control": "private, no-cache", "Vary": "Cookie"}
    return Response(picture, media_type="image/svg+xml", headers=headers)


@router.get("/alongs/{along_id}/roster")
def roster(
    request: Request,
    along_id: RowId,
    host: CurrentHost,
    session: ReadSession,
    page: Annotated[int, Query(ge=1, le=100_000)] = 1,
) -> Response:
    """Who is in it and where each one is: a page, and for htmx the table alone."""
    view = roster_page(host, rosters.roster(session, host.host_id, along_id, page))
    template = "host/_roster.html" if wants_fragment(request) else "host/roster.html"
    return render(request, template, view)


def roster_page(host: CurrentHost, roster: rosters.Roster) -> RosterPage:
    """The roster in words."""
    here = now()
    lines = tuple(
        RosterLine(line.nickname, moment(line.last_seen_at, here), tuple(map(_place, line.places)))
        for line in roster.lines
    )
    return RosterPage(
        host.shown_name, roster.along_id, roster.along_title, roster.makers, lines, roster.page, roster.pages
    )


def _place(place: rosters.Whereabouts) -> RosterPlace:
    if place.size and place.foundation:
        size = f"{place.size} ({place.foundation} ch)"
    elif place.foundation:
        size = f"own count: {place.foundation} ch"
    else:
        size = place.size or "size not chosen yet"
    piece = "second" if place.piece == 2 else "first"
    at = ", ".join(word for word in (place.section, place.round) if word)
    kinds: dict[str, Literal["good", "differs"]] = {"twins": "good", "differs": "differs"}
    return RosterPlace(
        part_title=place.part_title,
        size=size,
        place=f"{piece} piece: {at}" if at else "not begun",
        verdict=place.verdict,
        verdict_kind=kinds.get(place.verdict, "note"),
        version="" if place.latest else f"on version {place.version}",
    )


@router.get("/parts/{part_id}/title")
def part_title(request: Request, part_id: RowId, host: CurrentHost, session: ReadSession) -> Response:
    """The form to rename a part."""
    part, _ = alongs.own_part(session, host.host_id, part_id)
    page = PartTitlePage(host.shown_name, part.along_id, part.title)
    return render(request, "host/part_title.html", page)


@router.post("/parts/{part_id}/title")
def rename_part(
    request: Request, part_id: RowId, host: CurrentHost, session: WriteSession, title: Text = ""
) -> Response:
    """Another title for a part."""
    try:
        along_id = alongs.rename_part(session, host.host_id, part_id, title)
    except NotFound:
        raise
    except Refusal as refusal:
        part, _ = alongs.own_part(session, host.host_id, part_id)
        page = PartTitlePage(host.shown_name, part.along_id, title, refusal.message)
        return render(request, "host/part_title.html", page, 422)
    return RedirectResponse(f"/host/alongs/{along_id}", status_code=303)


@router.post("/parts/{part_id}/move")
def move_part(part_id: RowId, host: CurrentHost, session: WriteSession, way: Text = "") -> Response:
    """One place earlier or later among the parts."""
    ways: dict[str, Literal["earlier", "later"]] = {"earlier": "earlier", "later": "later"}
    if way not in ways:
        raise Refusal("A part moves earlier or later.")
    along_id = alongs.move_part(session, host.host_id, part_id, ways[way])
    return RedirectResponse(f"/host/alongs/{along_id}#parts", status_code=303)
