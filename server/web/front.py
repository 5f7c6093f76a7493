"""The first page: what Evenhand is, and the ways in."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from server.services import accounts
from server.storage.sessions import read_session
from server.web.moments import now
from server.web.pages import render
from server.web.sessions import database_of
from server.web.signing import COOKIE

router = APIRouter()


@dataclass(frozen=True)
class FrontPage:
    """Context of public/front.html. host_name: who is signed in on this device, or nothing."""

    host_name: str


@router.get("/")
async def front(request: Request) -> Response:
    """What Evenhand is, in few words; join with a code; host sign in."""
    if COOKIE not in request.cookies:  # nearly everybody: nothing to look up, no thread to wait for
        return render(request, "public/front.html", FrontPage(""))
    return await run_in_threadpool(_for_a_host, request)


def _for_a_host(request: Request) -> Response:
    with read_session(database_of(request).engine) as session:
        found = accounts.signed_in(session, request.cookies.get(COOKIE, ""), now())
    return render(request, "public/front.html", FrontPage(found[0].shown_name if found else ""))
