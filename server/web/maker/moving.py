"""Another device: a QR and six words at /notebook/move, taken at /move; the ways in, and shutting one out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Form
from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services.errors import NotFound, Refusal
from server.services.joining import Kept
from server.services.notebooks import moving, ways, words
from server.services.notebooks.moving import Offered
from server.services.notebooks.ways import NewLink
from server.web import throttles
from server.web.maker.device import device_of, exchange, remember
from server.web.maker.facts import address
from server.web.maker.shelf import NoNotebook, NotebookForm
from server.web.pages import render
from server.web.qr import Qr, qr
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()


@dataclass(frozen=True)
class OfferPage:
    """Context of maker/move_offer.html."""

    kept: Kept
    link: str
    code: Qr
    words: tuple[str, ...]
    where: str
    minutes: int


@dataclass(frozen=True)
class TakePage:
    """Context of maker/move_take.html: six words to write."""

    typed: str
    error: str


@dataclass(frozen=True)
class TakeLinkPage:
    """Context of maker/move_link.html: whose notebook the link holds out."""

    offered: Offered
    action: str


@dataclass(frozen=True)
class NewLinkPage:
    """Context of maker/new_link.html: the link in the place of the old one."""

    kept: Kept
    link: str


class WordsForm(BaseModel):
    """Six words as typed."""

    words: str = ""


@router.get("/notebook/move")
def before_offer(request: Request, session: ReadSession) -> Response:
    """Where a page that showed words is loaded again: new ones are made by the button only."""
    if device_of(request, session).current is None:
        return render(request, "maker/no_notebook.html", NoNotebook())
    return RedirectResponse("/notebook/keep#move", 303)


@router.post("/notebook/move")
def offer(request: Request, session: WriteSession, form: Annotated[NotebookForm, Form()]) -> Response:
    """Shows the QR and the words, this once."""
    throttles.take_or_answer(request, "offer")
    kept = device_of(request, session).notebook(form.notebook)
    made = moving.offer(session, kept.notebook_id, datetime.now(UTC))
    link = address(request, f"/move/{made.link_secret}")
    page = OfferPage(
        kept=kept,
        link=link,
        code=qr(link, "QR code of the one-time link"),
        words=made.words,
        where=address(request, "/move"),
        minutes=int(moving.HOLDS.total_seconds() // 60),
    )
    return _unkept(render(request, "maker/move_offer.html", page))


@router.get("/move")
def ask_words(request: Request) -> Response:
    """The form on the new device."""
    return render(request, "maker/move_take.html", TakePage("", ""))


@router.post("/move")
def take_by_words(request: Request, session: WriteSession, form: Annotated[WordsForm, Form()]) -> Response:
    """Takes the notebook that the words hold out."""
    wait_s = throttles.take(request, "move")
    if wait_s:
        page = TakePage(form.words[: words.TYPED_MOST], throttles.wait_words(wait_s))
        return render(request, "maker/move_take.html", page, 429)
    device = device_of(request, session)
    try:
        taken = moving.take_by_words(session, words.read(form.words), datetime.now(UTC))
    except NotFound:
        raise
    except Refusal as refusal:
        page = TakePage(form.words[: words.TYPED_MOST], refusal.message)
        return render(request, "maker/move_take.html", page, 422)
    throttles.give_back(request, "move")
    response = RedirectResponse("/notebook?moved=1", 303)
    exchange(response, request, device, taken.notebook_id, taken.secret)
    return response


@router.get("/move/{secret}")
def ask_link(request: Request, session: ReadSession, secret: str) -> Response:
    """What the QR opens. A camera or a messenger that only looks at the link uses nothing up."""
    offered = moving.offered(session, secret, datetime.now(UTC))
    return render(request, "maker/move_link.html", TakeLinkPage(offered, f"/move/{secret}"))


@router.post("/move/{secret}")
def take_by_link(request: Request, session: WriteSession, secret: str) -> Response:
    """Takes the notebook that the link holds out."""
    throttles.take_or_answer(request, "move")
    device = device_of(request, session)
    taken = moving.take_by_link(session, secret, datetime.now(UTC))
    throttles.give_back(request, "move")
    response = RedirectResponse("/notebook?moved=1", 303)
    exchange(response, request, device, taken.notebook_id, taken.secret)
    return response


@router.post("/notebook/keys/{key_id}/shut-out")
def shut_out(
    request: Request, session: WriteSession, key_id: int, form: Annotated[NotebookForm, Form()]
) -> Response:
    """Shuts a device or a card out."""
    kept = device_of(request, session).notebook(form.notebook)
    ways.shut_out(session, kept.notebook_id, key_id, kept.secret, datetime.now(UTC))
    return RedirectResponse("/notebook/keep#ways", 303)


@router.post("/notebook/new-link")
def new_link(request: Request, session: WriteSession, form: Annotated[NotebookForm, Form()]) -> Response:
    """Makes another link in the place of the notebook's, and shows it this once where the device has another
    key.
    """
    device = device_of(request, session)
    kept = device.notebook(form.notebook)
    made: NewLink = ways.renew_link(session, kept.notebook_id, kept.secret, datetime.now(UTC))
    page = NewLinkPage(kept, address(request, f"/n/{made.secret}"))
    response = _unkept(render(request, "maker/new_link.html", page))
    if made.exchange:
        exchange(response, request, device, kept.notebook_id, made.secret)
    else:
        remember(response, request, device, kept.secret)
    return response


def _unkept(response: Response) -> Response:
    response.headers["Cache-Control"] = "no-store"  # what opens a notebook stays in no cache
    return response
