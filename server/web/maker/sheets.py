"""/notebook/<part>/sheet: the printed pattern for all sizes, of the version that she is on, in her terms."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import Response

from server.services import notebooks, patterns
from server.services.errors import NotFound
from server.services.notebooks import Desk
from server.services.series import announcing
from server.web.maker.device import device_of, notebook_for
from server.web.maker.facts import PartId, PartNav, part_nav
from server.web.pages import render
from server.web.pdfs import Paper, can_print
from server.web.printed import Of, Printed, pdf_answer, printed
from server.web.sessions import ReadSession

router = APIRouter()
PaperName = Annotated[Paper, Query()]


@dataclass(frozen=True)
class MakerSheetPage:
    """Context of maker/pattern_sheet.html. with_pdf: this machine can make a PDF."""

    nav: PartNav
    printed: Printed
    with_pdf: bool


@router.get("/notebook/{part_id}/sheet")
def sheet(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """The sheet on a page that prints well."""
    desk, made = _made(request, session, part_id)
    return render(
        request, "maker/pattern_sheet.html", MakerSheetPage(part_nav(desk, "sheet"), made, can_print())
    )


@router.get("/notebook/{part_id}/sheet.pdf")
def sheet_pdf(request: Request, session: ReadSession, part_id: PartId, paper: PaperName = "a4") -> Response:
    """The sheet as a PDF."""
    _, made = _made(request, session, part_id)
    return pdf_answer(request, made, paper)


def _made(request: Request, session: Session, part_id: int) -> tuple[Desk, Printed]:
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    checked = patterns.check(desk.version.text)
    along_id = notebooks.along_of(session, part_id)
    cautions = announcing.cautions_of(session, along_id) if along_id is not None else ()
    of = Of(checked.text, checked.proof, desk.part_title, desk.version.number, cautions)
    made = printed(of, desk.terms, desk.units)
    if made is None:  # what was published by an earlier server, and is not proved by this one
        raise NotFound("There is no sheet of this version: its pattern is not proved.")
    return desk, made
