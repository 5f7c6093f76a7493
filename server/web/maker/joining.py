"""Joining: /join, /join/<code> and the secret link /n/<secret>."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Form, Query
from pydantic import BaseModel
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import joining
from server.services.errors import NotFound, Refusal
from server.services.joining import Kept, Welcome
from server.web import throttles
from server.web.maker.device import device_of, remember
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()


@dataclass(frozen=True)
class AskCode:
    """Context of maker/join_code.html."""

    typed: str
    error: str


@dataclass(frozen=True)
class AskNickname:
    """Context of maker/join.html. `here`: notebooks of this along that the device has already."""

    welcome: Welcome
    here: tuple[Kept, ...]
    secret: str
    nickname: str
    error: str


class JoinForm(BaseModel):
    """The join form as sent."""

    nickname: str = ""
    secret: str = ""


@router.get("/join")
def ask_code(request: Request, session: ReadSession, code: Annotated[str, Query()] = "") -> Response:
    """The page that takes a code; with a code that opens something, on to its along."""
    typed = code.strip()
    if not typed:
        return render(request, "maker/join_code.html", AskCode("", ""))
    wait_s = throttles.take(request, "join code")
    if wait_s:
        page = AskCode(typed[:40], throttles.wait_words(wait_s))
        return render(request, "maker/join_code.html", page, 429)
    try:
        found = joining.welcome(session, typed)
    except NotFound:
        error = "No along has this code. Look at it once more, letter by letter, or ask your host for it."
        return render(request, "maker/join_code.html", AskCode(typed[:40], error), 404)
    throttles.give_back(request, "join code")
    return RedirectResponse(f"/join/{quote(found.code)}", 303)


@router.get("/join/{code}")
def ask_nickname(request: Request, session: ReadSession, code: str) -> Response:
    """The along's welcome, and the one question: a nickname."""
    found = _welcome(request, session, code)
    device = device_of(request, session)
    here = tuple(kept for kept in device.kept if kept.along_id == found.along_id)
    return render(request, "maker/join.html", AskNickname(found, here, joining.new_secret(), "", ""))


def _welcome(request: Request, session: Session, code: str) -> Welcome:
    """The along of a code; codes that open nothing are only so often looked for."""
    throttles.take_or_answer(request, "join code")
    found = joining.welcome(session, code)
    throttles.give_back(request, "join code")
    return found


@router.post("/join/{code}")
def join(request: Request, session: WriteSession, code: str, form: Annotated[JoinForm, Form()]) -> Response:
    """Makes the notebook and puts it on this device."""
    device = device_of(request, session)
    _welcome(request, session, code)
    try:
        joined = joining.join(session, code, form.nickname, form.secret, datetime.now(UTC))
    except NotFound:
        raise
    except Refusal as refusal:
        found = joining.welcome(session, code)
        here = tuple(kept for kept in device.kept if kept.along_id == found.along_id)
        context = AskNickname(found, here, form.secret, form.nickname[:200], refusal.message)
        return render(request, "maker/join.html", context, 422)
    response = RedirectResponse("/notebook?joined=1", 303)
    remember(response, request, device, joined.secret)
    return response


@router.get("/n/{secret}")
def open_notebook(request: Request, session: ReadSession, secret: str) -> Response:
    """Opens a notebook by its secret link: from now on this device has it."""
    kept = joining.notebook_at(session, secret)
    response = RedirectResponse("/notebook", 303)
    remember(response, request, device_of(request, session), kept.secret)
    return response
