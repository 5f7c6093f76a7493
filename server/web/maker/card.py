"""/notebook/<part>/card: the glove's card, to print or as a PDF, with a QR to the notebook.

The QR holds no secret unless she asks for it: whoever has the card could open the notebook. By default it
leads to the part's own address, which opens on her devices and says elsewhere how to get in. Where she asks
for a card that opens the notebook, it gets a key of its own, so that a lost card can be shut out by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated, Literal

from fastapi import APIRouter, Form, Query
from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import notebooks
from server.services.errors import NotFound
from server.services.notebooks import Desk, ways
from server.services.notebooks.cards import Card
from server.services.notebooks.cards import card as card_of
from server.web import throttles
from server.web.maker import paper
from server.web.maker.device import device_of, notebook_for
from server.web.maker.facts import FormFacts, PartId, PartNav, address, facts, part_nav
from server.web.pages import render
from server.web.pdfs import NO_PDF
from server.web.problems import problem
from server.web.qr import Qr, qr
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()
CLOSED = "QR code of the notebook's address; it opens on your own devices"
OPEN = "QR code that opens the notebook"


@dataclass(frozen=True)
class CardPage:
    """Context of maker/card.html.

    opens     the QR opens the notebook: this page is shown once
    with_pdf  this machine can make a PDF
    """

    nav: PartNav
    form: FormFacts
    card: Card
    code: Qr
    where: str
    opens: bool
    with_steps: bool
    left_out: str
    with_pdf: bool


class OpenCardForm(BaseModel):
    """A card that opens the notebook, as asked for."""

    notebook: int = 0
    kind: Literal["page", "a4", "letter"] = "page"


PaperName = Annotated[Literal["a4", "letter"], Query()]


@router.get("/notebook/of/{part_id}")
def by_code(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """What the QR leads to: the part, where its notebook is on this device; else how to get in."""
    try:
        notebook_for(session, device_of(request, session), part_id)
    except NotFound:
        return RedirectResponse("/notebook", 303)
    return RedirectResponse(f"/notebook/{part_id}", 303)


@router.get("/notebook/{part_id}/card")
def card(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """The card on a page that prints well."""
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    if desk.making.settled is None:
        return RedirectResponse(f"/notebook/{part_id}/numbers", 303)
    return _page(request, desk, *_closed(request, part_id), opens=False)


@router.get("/notebook/{part_id}/card.pdf")
def card_pdf(request: Request, session: ReadSession, part_id: PartId, paper: PaperName = "a4") -> Response:
    """The card as a PDF."""
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    if desk.making.settled is None:
        return RedirectResponse(f"/notebook/{part_id}/numbers", 303)
    return _pdf(request, desk, *_closed(request, part_id), opens=False, size=paper)


@router.post("/notebook/{part_id}/card")
def open_card(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[OpenCardForm, Form()]
) -> Response:
    """A card whose QR opens the notebook, by a key made for this card."""
    kept = device_of(request, session).notebook(form.notebook)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    if desk.making.settled is None:
        return RedirectResponse(f"/notebook/{part_id}/numbers", 303)
    if form.kind != "page" and not paper.can_print():
        return problem(request, 501, *NO_PDF)
    secret = ways.add_key(session, kept.notebook_id, "card", datetime.now(UTC))
    code = qr(address(request, f"/n/{secret}"), OPEN)
    where = address(request, "/").rstrip("/")
    if form.kind == "page":
        response = _page(request, desk, code, where, opens=True)
    else:
        response = _pdf(request, desk, code, where, opens=True, size=form.kind)
    response.headers["Cache-Control"] = "no-store"
    return response


def _closed(request: Request, part_id: int) -> tuple[Qr, str]:
    return qr(address(request, f"/notebook/of/{part_id}"), CLOSED), address(request, "/").rstrip("/")


def _page(request: Request, desk: Desk, code: Qr, where: str, *, opens: bool) -> Response:
    page = CardPage(
        nav=part_nav(desk, "card"),
        form=facts(desk),
        card=card_of(desk),
        code=code,
        where=where,
        opens=opens,
        with_steps=False,
        left_out="",
        with_pdf=paper.can_print(),
    )
    return render(request, "maker/card.html", page)


def _pdf(request: Request, desk: Desk, code: Qr, where: str, *, opens: bool, size: paper.Paper) -> Response:
    throttles.take_or_answer(request, "pdf")
    try:
        content = paper.pdf(card_of(desk), code, where, opens, size)
    except paper.NoPaper:
        return problem(request, 501, *NO_PDF)
    name = "".join(c if c.isascii() and c.isalnum() else "-" for c in desk.part_title.lower()) or "card"
    headers = {
        "Content-Disposition": f'inline; filename="{name}-card.pdf"',
        "Cache-Control": "private, no-cache",
    }
    return Response(content, media_type="application/pdf", headers=headers)
