"""/notebook/<part>/fit: how many chains for her hand, hook and yarn; try-ons and round one re-estimate it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Form
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services.errors import Refusal
from server.services.notebooks import Desk, measuring
from server.services.notebooks.desk import Units
from server.services.notebooks.measuring import FitCard
from server.services.notebooks.measuring.typed import length_mm
from server.web.encodings import compressed
from server.web.maker.device import with_visit
from server.web.maker.facts import NOTHING_SAID, FormFacts, PartId, PartNav, Said, facts, part_nav
from server.web.maker.telling import TellingForm, desk_for, tell
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()


@dataclass(frozen=True)
class FitPage:
    """Context of maker/fit.html.

    worked      words for the last round of glove one that goes all around, to measure at; empty for none
    spot        its place
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


class SeenForm(TellingForm):
    """What was tried on, felt or measured, as sent. Lengths in her units, or in one that she writes."""

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
        if self.kind not in KINDS:
            raise Refusal("Say what you tried or measured.")
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
    desk = desk_for(request, session, part_id)
    # No secret is on it, and nothing that was sent.
    page = compressed(request, _page(request, session, desk))
    return with_visit(page, request, session, desk.notebook_id)


@router.post("/notebook/{part_id}/fit")
def saw(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[SeenForm, Form()]
) -> Response:
    """Writes down what was tried on, felt or measured, or how close it shall fit; the card follows."""
    stays = tell(request, session, part_id, form, form.kind, form.piece, form.values)
    if stays is not None:
        return _page(request, session, stays.desk, stays.said)
    return RedirectResponse(f"/notebook/{part_id}/fit", 303)


def _page(request: Request, session: ReadSession, desk: Desk, what: Said = NOTHING_SAID) -> Response:
    card = measuring.fit_card(session, desk)
    one = desk.making.pieces[1]
    numbers = one.numbers or desk.making.settled
    foundation = numbers.foundation if numbers else None
    if foundation is None and card.answer is not None:
        foundation = card.answer.recommended.foundation
    last = measuring.round_to_measure(desk)
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
    return render(request, "maker/fit.html", context, what.status)
