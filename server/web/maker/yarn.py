"""/notebook/<part>/yarn: what the pair takes and whether what is left lasts; weighing makes it surer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Form
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response

from server.craft.measure.yarnlength import stitch_lengths_mm
from server.craft.measure.yarntable import YarnCategory, yarn_categories
from server.craft.text.vocabulary import full_words, name_in
from server.services.errors import NotFound, Refusal
from server.services.notebooks import Desk, measuring
from server.services.notebooks.desk import Units
from server.services.notebooks.measuring import YarnCard
from server.services.notebooks.measuring.typed import grams, metres, yarn_unit
from server.web.encodings import compressed
from server.web.maker.device import with_visit
from server.web.maker.facts import NOTHING_SAID, FormFacts, PartId, PartNav, Said, facts, part_nav
from server.web.maker.telling import TellingForm, desk_for, tell
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()


@dataclass(frozen=True)
class YarnPage:
    """Context of maker/yarn.html. unit: of yarn, "m" or "yd"; stitches: those that have a length."""

    nav: PartNav
    form: FormFacts
    said: Said
    card: YarnCard
    unit: str
    categories: tuple[YarnCategory, ...]
    stitches: tuple[tuple[str, str], ...]


class YarnForm(TellingForm):
    """What was weighed, unravelled or read off a label, as sent."""

    kind: str = ""
    piece: int = 0
    spot: str = ""
    grams: str = ""
    metres: str = ""
    category: str = ""
    what: str = ""
    stitch: str = ""
    count: str = ""
    entry: str = ""

    def values(self, units: Units) -> dict[str, Any]:
        """The values of its kind; weights in g and yarn in m, whatever they were written in."""
        if self.kind not in KINDS:
            raise Refusal("Say what you weighed.")
        if self.kind == "undo":
            return {"entry": self.entry}
        weight = grams(self.grams, "grams", needed=self.kind in ("left", "weighed"))
        if self.kind == "left":
            return {"grams": weight}
        if self.kind == "weighed":
            return {"grams": weight, "spot": self.spot}
        length = metres(self.metres, units, "metres")
        if self.kind == "yarn":
            return {"category": self.category, "grams": weight, "metres": length}
        values = {"what": self.what, "stitch": self.stitch, "count": self.count}
        return values | {"grams": weight, "metres": length}


KINDS = ("left", "weighed", "yarn", "sampled", "undo")


@router.get("/notebook/{part_id}/yarn")
def yarn(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """The card as it stands."""
    desk = desk_for(request, session, part_id)
    page = compressed(request, _page(request, desk))  # no secret on it, and nothing that was sent
    return with_visit(page, request, session, desk.notebook_id)


@router.post("/notebook/{part_id}/yarn")
def weighed(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[YarnForm, Form()]
) -> Response:
    """Writes down what was weighed or read; the card follows."""
    panel = f"{form.kind} {form.piece}" if form.kind == "weighed" else form.kind
    stays = tell(request, session, part_id, form, form.kind, form.piece, form.values, panel)
    if stays is not None:
        return _page(request, stays.desk, stays.said)
    return RedirectResponse(f"/notebook/{part_id}/yarn", 303)


@router.get("/notebook/{part_id}/piece/{piece}/yarn-line")
def line(request: Request, session: ReadSession, part_id: PartId, piece: int) -> Response:
    """The line of yarn beside a round, for a page that went on without being loaded again."""
    desk = desk_for(request, session, part_id)
    if piece not in desk.pieces:
        raise NotFound("This part has no such piece.")
    found = measuring.yarn_line(desk, piece)
    return PlainTextResponse(found.words, headers={"Cache-Control": "private, no-store"})


def _page(request: Request, desk: Desk, what: Said = NOTHING_SAID) -> Response:
    context = YarnPage(
        nav=part_nav(desk, "yarn"),
        form=facts(desk),
        said=what,
        card=measuring.yarn_card(desk),
        unit=yarn_unit(desk.units),
        categories=yarn_categories(),
        stitches=tuple(
            (name, f"{full_words(name, desk.terms)} ({name_in(name, desk.terms)})")
            for name in stitch_lengths_mm()
        ),
    )
    return render(request, "maker/yarn.html", context, what.status)
