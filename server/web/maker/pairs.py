"""/notebook/<part>/pair: both gloves side by side, section by section, and the verdict."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from markupsafe import Markup
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.craft.making.pairdrawing import pair_drawing
from server.services import notebooks
from server.services.notebooks import Desk, Pair
from server.services.notebooks.desk import planned
from server.web.maker.device import device_of, notebook_for, with_visit
from server.web.maker.facts import NOTHING_SAID, FormFacts, PartId, PartNav, Said, facts, part_nav
from server.web.maker.readypages import ready
from server.web.pages import render

router = APIRouter()


@dataclass(frozen=True)
class PairPage:
    """Context of maker/pair.html. `drawing`: both gloves to one scale; `scale_words`: by what."""

    nav: PartNav
    form: FormFacts
    said: Said
    pair: Pair
    drawing: Markup
    scale_words: str
    foundation: int | None
    size: str | None


@router.get("/notebook/{part_id}/pair")
async def pair(request: Request, part_id: PartId) -> Response:
    """Both gloves and the verdict; a part in one piece shows that one."""
    return await ready(request, part_id, lambda session: _pair(request, session, part_id))


def _pair(request: Request, session: Session, part_id: int) -> Response:
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    if desk.making.settled is None:
        return RedirectResponse(f"/notebook/{part_id}/numbers", 303)
    return with_visit(pair_page(request, desk), request, session, kept.notebook_id)


def pair_page(request: Request, desk: Desk, what: Said = NOTHING_SAID) -> Response:
    """The pair page, with what came of a form where that was not carried out."""
    view = notebooks.pair(desk)
    settled = desk.making.settled
    drawn = pair_drawing(
        desk.pattern, desk.making, desk.terms, planned, units=desk.units, judged=view.verdict,
        title=desk.part_title,
    )  # fmt: skip
    context = PairPage(
        nav=part_nav(desk, "pair"),
        form=facts(desk),
        said=what,
        pair=view,
        drawing=Markup(drawn.svg),  # noqa: S704  # made of elements by the engine
        scale_words=drawn.scale_words,
        foundation=settled.foundation if settled else None,
        size=settled.size if settled else None,
    )
    status = 200 if not what.message else 409 if what.overtaken else 422
    return render(request, "maker/pair.html", context, status)
