"""Who is signed in. A host page names `CurrentHost`; whoever is not signed in is asked to, and comes back to
the page."""

from __future__ import annotations

from collections.abc import Callable, Coroutine
from dataclasses import dataclass
from time import monotonic
from typing import Annotated, Any
from urllib.parse import quote, urlsplit

from fastapi import Depends
from fastapi.routing import APIRoute
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import accounts
from server.services.accounts import SignedIn
from server.services.patience import Allowance, Patience
from server.web import cookies
from server.web.moments import now
from server.web.pages import render, wants_fragment
from server.web.sessions import ReadSession, database_of

COOKIE = "evenhand_host"
NAME_ALLOWANCE = Allowance(tries=5, refill_s=30)
ADDRESS_ALLOWANCE = Allowance(tries=30, refill_s=10)


class SignInFirst(Exception):
    """The page needs a host, and nobody is signed in on this device."""


@dataclass(frozen=True)
class SignedOutPage:
    """Context of host/signed_out.html: what was sent could not be kept; `text` is shown so that it is not
    lost."""

    text: str


def current_host(request: Request, session: ReadSession) -> SignedIn:
    """The host signed in on this device; SignInFirst where nobody is."""
    token = request.cookies.get(COOKIE, "")
    found = accounts.signed_in(session, token, now())
    if found is None:
        raise SignInFirst
    host, seen_is_due = found
    if seen_is_due:
        database_of(request).write_from_thread(lambda writer: accounts.seen(writer, token, now()))
    return host


CurrentHost = Annotated[SignedIn, Depends(current_host)]


class HostRoute(APIRoute):
    """A route that answers SignInFirst: a page leads to signing in and back, a form keeps what was typed."""

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        """The handler that routing calls."""
        inner = super().get_route_handler()

        async def handler(request: Request) -> Response:
            try:
                return await inner(request)
            except SignInFirst:
                return await _sign_in_first(request)

        return handler


async def _sign_in_first(request: Request) -> Response:
    if wants_fragment(request):  # the page stays as it is; its script says that she is signed out
        return Response(status_code=401, headers={"HX-Reswap": "none", "Vary": "HX-Request, Cookie"})
    if request.method in ("GET", "HEAD"):
        return RedirectResponse(f"/host/sign-in?next={quote(request.url.path)}", status_code=303)
    form = await request.form()
    text = form.get("text")
    return render(request, "host/signed_out.html", SignedOutPage(text if isinstance(text, str) else ""), 401)


def keep_signed_in(response: Response, request: Request, token: str) -> None:
    """Have the browser keep the session's token."""
    cookies.keep(response, request, COOKIE, token, accounts.SESSION_DAYS)


def safe_next(path: str) -> str:
    """Where to go after signing in: an address of a host page here, never anywhere else."""
    parts = urlsplit(path)
    inside = path.startswith("/host") and not parts.scheme and not parts.netloc and "\\" not in path
    return path if inside and path.isprintable() and not path.startswith("/host/new/") else "/host"


@dataclass(frozen=True)
class Patiences:
    """How many wrong passwords are taken: by name and address together, and by address alone."""

    by_name: Patience
    by_address: Patience


def patiences(request: Request) -> Patiences:
    """The application's own, made at the first use."""
    state = request.app.state
    if not hasattr(state, "patiences"):
        state.patiences = Patiences(
            Patience(NAME_ALLOWANCE, monotonic), Patience(ADDRESS_ALLOWANCE, monotonic)
        )
    kept: Patiences = state.patiences
    return kept
