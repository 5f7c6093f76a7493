"""Pages for a host's account: make it from a one-time link, sign in, sign out."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from fastapi import APIRouter, Depends, Form
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import accounts
from server.services.accounts import NewAccount
from server.services.errors import Refusal
from server.web import cookies
from server.web.moments import now
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession
from server.web.signing import COOKIE, keep_signed_in, patiences, safe_next

router = APIRouter(prefix="/host")
Text = Annotated[str, Form()]


@dataclass(frozen=True)
class NewAccountPage:
    """Context of host/new.html: the form as typed and what to put right, by field."""

    sign_in_name: str = ""
    shown_name: str = ""
    errors: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class SignInPage:
    """Context of host/sign_in.html."""

    sign_in_name: str = ""
    error: str = ""
    next: str = "/host"
    signed_out: bool = False


def working_link(token: str, session: ReadSession) -> str:
    """The token of a link that still works. Asked before the writing session: hashing a password is slow on
    purpose, and nobody without such a link should make others wait for it."""
    accounts.open_invite(session, token, now())
    return token


WorkingLink = Annotated[str, Depends(working_link)]


@router.get("/new/{token}")
def new_account(request: Request, token: WorkingLink) -> Response:
    """The form that a one-time link opens."""
    return render(request, "host/new.html", NewAccountPage())


@router.post("/new/{token}")
def make_account(
    request: Request,
    token: WorkingLink,
    session: WriteSession,
    sign_in_name: Text = "",
    shown_name: Text = "",
    password: Text = "",
) -> Response:
    """Make the account, sign in on this device and go to the alongs."""
    form = NewAccount(sign_in_name, shown_name, password)
    errors = accounts.account_problems(form)
    if not errors:
        try:
            host_id = accounts.make_account(session, token, form, now())
        except Refusal as refusal:
            if refusal.field is None:
                raise
            errors = {refusal.field: refusal.message}
        else:
            answer = RedirectResponse("/host", status_code=303)
            keep_signed_in(answer, request, accounts.sign_in(session, host_id, now()))
            return answer
    return render(request, "host/new.html", NewAccountPage(sign_in_name, shown_name, errors), 422)


@router.get("/sign-in")
def sign_in_page(request: Request, next: str = "/host", out: str = "") -> Response:
    """The form for name and password."""
    return render(request, "host/sign_in.html", SignInPage(next=safe_next(next), signed_out=bool(out)))


@dataclass(frozen=True)
class Tried:
    """One try to sign in: the host's id, or why not and with which status."""

    sign_in_name: str
    next: str
    host_id: int | None
    error: str = ""
    status: int = 200


def tried(
    request: Request,
    session: ReadSession,
    sign_in_name: Text = "",
    password: Text = "",
    next: Text = "/host",
) -> Tried:
    """Check name and password. A dependency of its own, before the writing session: hashing is slow on
    purpose."""
    typed, patience = (sign_in_name, safe_next(next)), patiences(request)
    if not sign_in_name.strip() or not password:
        return Tried(*typed, None, "Write your sign-in name and your password.", 422)
    address = request.client.host if request.client else ""
    key = f"{address} {accounts.tidy_name(sign_in_name)[:64]}"
    wait_s = patience.by_address.take(address) or patience.by_name.take(key)
    if wait_s:
        unit = "second" if wait_s == 1 else "seconds"
        return Tried(*typed, None, f"Several tries did not fit. Wait {wait_s} {unit}, then try again.", 429)
    try:
        host_id = accounts.check_password(session, sign_in_name, password)
    except Refusal as refusal:
        return Tried(*typed, None, refusal.message, 422)
    patience.by_address.give_back(address)
    patience.by_name.give_back(key)
    return Tried(*typed, host_id)


@router.post("/sign-in")
def sign_in(request: Request, attempt: Annotated[Tried, Depends(tried)], session: WriteSession) -> Response:
    """Sign in on this device and go on to where one was going."""
    if attempt.host_id is None:
        page = SignInPage(attempt.sign_in_name, attempt.error, attempt.next)
        return render(request, "host/sign_in.html", page, attempt.status)
    answer = RedirectResponse(attempt.next, status_code=303)
    keep_signed_in(answer, request, accounts.sign_in(session, attempt.host_id, now()))
    return answer


@router.post("/sign-out")
def sign_out(request: Request, session: WriteSession) -> Response:
    """Sign out on this device."""
    accounts.sign_out(session, request.cookies.get(COOKIE, ""))
    answer = RedirectResponse("/host/sign-in?out=1", status_code=303)
    cookies.forget(answer, request, COOKIE)
    return answer
