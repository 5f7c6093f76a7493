"""The first page: what Evenhand is, and the ways in."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.services import accounts
from server.web.moments import now
from server.web.pages import render
from server.web.sessions import ReadSession
from server.web.signing import COOKIE

router = APIRouter()


@dataclass(frozen=True)
class FrontPage:
    """Context of public/front.html. host_name: who is signed in on this device, or nothing."""

    host_name: str


@router.get("/")
def front(request: Request, session: ReadSession) -> Response:
    """What Evenhand is, in few words; join with a code; host sign in."""
    found = accounts.signed_in(session, request.cookies.get(COOKIE, ""), now())
    return render(request, "public/front.html", FrontPage(found[0].shown_name if found else ""))
