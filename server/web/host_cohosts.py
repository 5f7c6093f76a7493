"""Several hosts of one along: who they are, the link that lets one in, leaving, and removing the along."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services.errors import NotAllowed, NotFound, Refusal
from server.services.series import Hosts, Invitation, cohosts
from server.web import addresses
from server.web.host_sources import RowId
from server.web.moments import Moment, moment, now
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host", route_class=HostRoute)


@dataclass(frozen=True)
class ShownHost:
    """Someone who helps to host. is_me: the host who looks."""

    host_id: int
    name: str
    since: Moment
    is_me: bool


@dataclass(frozen=True)
class HostsPage:
    """Context of host/hosts.html. link: a new one, shown this once; until: when the one that is out ends."""

    host_name: str
    along_id: int
    along_title: str
    owner: str
    is_owner: bool
    others: tuple[ShownHost, ...]
    link: str
    until: str
    kept_by: str
    error: str = ""


@dataclass(frozen=True)
class InvitationPage:
    """Context of host/invitation.html."""

    host_name: str
    invitation: Invitation


def _page(session: Session, host: CurrentHost, along_id: int, link: str = "", error: str = "") -> HostsPage:
    here = now()
    found: Hosts = cohosts.hosts(session, host.host_id, along_id, here)
    until = found.invite_until
    return HostsPage(
        host_name=host.shown_name,
        along_id=along_id,
        along_title=found.along_title,
        owner=found.owner,
        is_owner=found.is_owner,
        others=tuple(
            ShownHost(one.host_id, one.name, moment(one.since, here), one.host_id == host.host_id)
            for one in found.others
        ),
        link=link,
        until=f"{until.day} {until:%B %Y}" if until else "",
        kept_by=found.kept_by,
        error=error,
    )


@router.get("/alongs/{along_id}/hosts")
def hosts(request: Request, along_id: RowId, host: CurrentHost, session: ReadSession) -> Response:
    """Who hosts the along."""
    return render(request, "host/hosts.html", _page(session, host, along_id))


@router.post("/alongs/{along_id}/hosts/invite")
def invite(request: Request, along_id: RowId, host: CurrentHost, session: WriteSession) -> Response:
    """A link that lets one host in. It is in this answer only: what is kept of it is a hash."""
    try:
        token = cohosts.invite(session, host.host_id, along_id, now())
    except (NotFound, NotAllowed):
        raise
    except Refusal as refusal:
        page = _page(session, host, along_id, error=refusal.message)
        return render(request, "host/hosts.html", page, 422)
    link = addresses.whole(request, f"/host/cohost/{token}")
    answer = render(request, "host/hosts.html", _page(session, host, along_id, link))
    answer.headers["Cache-Control"] = "no-store"
    return answer


@router.post("/alongs/{along_id}/hosts/take-back")
def take_back(along_id: RowId, host: CurrentHost, session: WriteSession) -> Response:
    """The link that is out lets nobody in any more."""
    cohosts.take_back(session, host.host_id, along_id)
    return RedirectResponse(f"/host/alongs/{along_id}/hosts", status_code=303)


@router.post("/alongs/{along_id}/hosts/{other_id}/leave")
def let_go(along_id: RowId, other_id: RowId, host: CurrentHost, session: WriteSession) -> Response:
    """Someone hosts it no more: let go, or leaving."""
    cohosts.let_go(session, host.host_id, along_id, other_id)
    there = "/host" if other_id == host.host_id else f"/host/alongs/{along_id}/hosts"
    return RedirectResponse(there, status_code=303)


@router.post("/alongs/{along_id}/remove")
def remove(request: Request, along_id: RowId, host: CurrentHost, session: WriteSession) -> Response:
    """Remove an along that nobody has joined and that has nothing published."""
    try:
        cohosts.remove_along(session, host.host_id, along_id)
    except (NotFound, NotAllowed):
        raise
    except Refusal as refusal:
        page = _page(session, host, along_id, error=refusal.message)
        return render(request, "host/hosts.html", page, 422)
    return RedirectResponse("/host", status_code=303)


@router.get("/cohost/{token}")
def invitation(request: Request, token: str, host: CurrentHost, session: ReadSession) -> Response:
    """What the link lets in to."""
    page = InvitationPage(host.shown_name, cohosts.invitation(session, token, now()))
    return render(request, "host/invitation.html", page)


@router.post("/cohost/{token}")
def accept(token: str, host: CurrentHost, session: WriteSession) -> Response:
    """Host it too, from now on."""
    along_id = cohosts.accept(session, host.host_id, token, now())
    return RedirectResponse(f"/host/alongs/{along_id}", status_code=303)
