"""/notebook/<part>/yarn: what the pair takes and whether what is left lasts; weighing makes it surer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Form
from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response

from server.craft.measure.yarnlength import stitch_lengths_mm
from server.craft.measure.yarntable import YarnCategory, yarn_categories
from server.craft.text.vocabulary import full_words, name_in
from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.services.notebooks import Desk, measuring
from server.services.notebooks.desk import Units
from server.services.notebooks.measuring import YarnCard
from server.services.notebooks.measuring.typed import grams, metres, yarn_unit
from server.web.encodings import compressed
from server.web.maker.device import device_of, notebook_for, with_visit
from server.web.maker.facts import NOTHING_SAID, FormFacts, PartId, PartNav, Said, facts, part_nav, said
from server.web.maker.fit import write_down
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


class YarnForm(BaseModel):
    """What was weighed, unravelled or read off a label, as sent."""

    id: str = ""
    notebook: int = 0
    state: int | None = None
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
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    page = compressed(request, _page(request, desk))  # no secret on it, and nothing that was sent
    return with_visit(page, request, session, kept.notebook_id)


@router.post("/notebook/{part_id}/yarn")
def weighed(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[YarnForm, Form()]
) -> Response:
    """Writes down what was weighed or read; the card follows."""
    device = device_of(request, session)
    kept = device.notebook(form.notebook)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    try:
        if form.kind not in KINDS:
            raise Refusal("Say what you weighed.")
        write_down(session, desk, form.kind, form.piece, form.values(desk.units), form, device.name)
    except NotFound:
        raise
    except Refusal as refusal:
        session.rollback()
        desk = notebooks.open_desk(session, kept.notebook_id, part_id)
        panel = f"{form.kind} {form.piece}" if form.kind == "weighed" else form.kind
        return _page(request, desk, said(refusal, panel, form.model_dump(mode="json")))
    return RedirectResponse(f"/notebook/{part_id}/yarn", 303)


@router.get("/notebook/{part_id}/piece/{piece}/yarn-line")
def line(request: Request, session: ReadSession, part_id: PartId, piece: int) -> Response:
    """The line of yarn beside a round, for a page that went on without being loaded again."""
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
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
    status = 200 if not what.message else 409 if what.overtaken else 422
    return render(request, "maker/yarn.html", context, status)
