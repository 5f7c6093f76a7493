"""/notebook/<part>/fit: how many chains for her hand, hook and yarn; try-ons and round one re-estimate it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Form
from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.services.notebooks import Desk, NewEntry, measuring
from server.services.notebooks.desk import Units
from server.services.notebooks.measuring import FitCard
from server.services.notebooks.measuring.typed import length_mm
from server.web.encodings import compressed
from server.web.maker.device import device_of, notebook_for, with_visit
from server.web.maker.facts import NOTHING_SAID, FormFacts, PartId, PartNav, Said, facts, part_nav, said
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()


@dataclass(frozen=True)
class FitPage:
    """Context of maker/fit.html.

    worked      words for the rounds of glove one that stand, to measure at; empty where none do
    spot        the last of them
    """

    nav: PartNav
    form: FormFacts
    said: Said
    card: FitCard
    units: Units
    foundation: int | None
    hook_mm: float | None
    worked: str
    spot: str


class SeenForm(BaseModel):
    """What was tried on, felt or measured, as sent. Lengths in her units, or in one that she writes."""

    id: str = ""
    notebook: int = 0
    state: int | None = None
    kind: str = ""
    piece: int = 0
    foundation: str = ""
    verdict: str = ""
    by: str = ""
    spot: str = ""
    width: str = ""
    hook_mm: str = ""
    entry: str = ""
    smaller_percent: str = ""

    def values(self, units: Units) -> dict[str, Any]:
        """The values of its kind."""
        if self.kind == "measured":
            mm = length_mm(self.width, units, "width", needed=True)
            return {"what": "width", "mm": mm, "spot": self.spot}
        if self.kind == "undo":
            return {"entry": self.entry}
        if self.kind == "ease":
            return {"smaller_percent": self.smaller_percent}
        by_mm = length_mm(self.by, units, "by_mm")
        values = {"foundation": self.foundation, "verdict": self.verdict, "by_mm": by_mm}
        return values | ({"hook_mm": self.hook_mm} if self.kind == "felt" else {})


KINDS = ("tried", "felt", "measured", "ease", "undo")


@router.get("/notebook/{part_id}/fit")
def fit(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """The card as it stands."""
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    page = compressed(request, _page(request, session, desk))  # no secret on it, and nothing that was sent
    return with_visit(page, request, session, kept.notebook_id)


@router.post("/notebook/{part_id}/fit")
def saw(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[SeenForm, Form()]
) -> Response:
    """Writes down what was tried on, felt or measured, or how close it shall fit; the card follows."""
    device = device_of(request, session)
    kept = device.notebook(form.notebook)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    try:
        if form.kind not in KINDS:
            raise Refusal("Say what you tried or measured.")
        write_down(session, desk, form.kind, form.piece, form.values(desk.units), form, device.name)
    except NotFound:
        raise
    except Refusal as refusal:
        session.rollback()
        desk = notebooks.open_desk(session, kept.notebook_id, part_id)
        return _page(request, session, desk, said(refusal, form.kind, form.model_dump(mode="json")))
    return RedirectResponse(f"/notebook/{part_id}/fit", 303)


def write_down(
    session: WriteSession,
    desk: Desk,
    kind: str,
    piece: int,
    values: Mapping[str, Any],
    form: Any,
    device: str,
) -> None:
    """Logs one entry of a form that has `id` and `state`."""
    notebooks.log(
        session,
        desk.notebook_id,
        desk.part_id,
        [NewEntry(form.id, piece, kind, values)],
        state=form.state,
        device=device,
        now=datetime.now(UTC),
    )


def _page(request: Request, session: ReadSession, desk: Desk, what: Said = NOTHING_SAID) -> Response:
    card = measuring.fit_card(session, desk)
    one = desk.making.pieces[1]
    numbers = one.numbers or desk.making.settled
    foundation = numbers.foundation if numbers else None
    if foundation is None and card.answer is not None:
        foundation = card.answer.recommended.foundation
    last = desk.plan(1).round_at(one.worked[-1]) if one.worked and numbers else None
    context = FitPage(
        nav=part_nav(desk, "fit"),
        form=facts(desk),
        said=what,
        card=card,
        units=desk.units,
        foundation=foundation,
        hook_mm=measuring.hook_in_hand(desk),
        worked=" ".join(each for each in (last.section_title, last.label) if each) if last else "",
        spot=last.spot if last else "",
    )
    status = 200 if not what.message else 409 if what.overtaken else 422
    return render(request, "maker/fit.html", context, status)
