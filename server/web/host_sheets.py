"""The printed sheet of a part, in US or UK terms, of the draft or of a version: to print, as plain text, as a
PDF."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from server.craft.making import sheet_text
from server.craft.text.tree import Terms
from server.services import sheets
from server.services.errors import NotFound
from server.services.series import announcing
from server.web import host_sources
from server.web.host_sources import RowId, SizeLink, Source, disposition
from server.web.pages import render
from server.web.pdfs import Paper, can_print
from server.web.printed import Of, Printed, pdf_answer, printed
from server.web.sessions import ReadSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/parts", route_class=HostRoute)
WantedTerms = Annotated[Terms | None, Query()]
WantedPaper = Annotated[Paper, Query()]


@dataclass(frozen=True)
class SheetPage:
    """Context of host/sheet.html.

    address   of the part, or of its version; the sheet, its text, its PDF and the charts stand below it
    printed   None where the text is not proved
    terms     those that the sheet is in, or would be
    charts    one for each size
    with_pdf  this machine can make a PDF
    """

    host_name: str
    part_title: str
    version: int | None
    address: str
    terms: Terms
    printed: Printed | None
    charts: tuple[SizeLink, ...]
    with_pdf: bool


@router.get("/{part_id}/sheet")
def draft_sheet(
    request: Request, part_id: RowId, host: CurrentHost, session: ReadSession, terms: WantedTerms = None
) -> Response:
    """The sheet of the draft that is kept, where it is proved."""
    source = host_sources.draft(session, host.host_id, part_id)
    return _page(request, session, host.shown_name, source, terms)


@router.get("/{part_id}/sheet.txt")
def draft_text(
    part_id: RowId, host: CurrentHost, session: ReadSession, terms: WantedTerms = None
) -> Response:
    """The same as plain text, to keep or to send."""
    return _text(host_sources.draft(session, host.host_id, part_id), terms)


@router.get("/{part_id}/versions/{number}/sheet")
def version_sheet(
    request: Request,
    part_id: RowId,
    number: RowId,
    host: CurrentHost,
    session: ReadSession,
    terms: WantedTerms = None,
) -> Response:
    """The sheet of a published version."""
    source = host_sources.version(session, host.host_id, part_id, number)
    return _page(request, session, host.shown_name, source, terms)


@router.get("/{part_id}/versions/{number}/sheet.txt")
def version_text(
    part_id: RowId, number: RowId, host: CurrentHost, session: ReadSession, terms: WantedTerms = None
) -> Response:
    """The same as plain text."""
    return _text(host_sources.version(session, host.host_id, part_id, number), terms)


@router.get("/{part_id}/sheet.pdf")
def draft_pdf(
    request: Request,
    part_id: RowId,
    host: CurrentHost,
    session: ReadSession,
    terms: WantedTerms = None,
    paper: WantedPaper = "a4",
) -> Response:
    """The same as a PDF."""
    source = host_sources.draft(session, host.host_id, part_id)
    return pdf_answer(request, _proved(_printed(session, source, terms)), paper)


@router.get("/{part_id}/versions/{number}/sheet.pdf")
def version_pdf(
    request: Request,
    part_id: RowId,
    number: RowId,
    host: CurrentHost,
    session: ReadSession,
    terms: WantedTerms = None,
    paper: WantedPaper = "a4",
) -> Response:
    """The same as a PDF."""
    source = host_sources.version(session, host.host_id, part_id, number)
    return pdf_answer(request, _proved(_printed(session, source, terms)), paper)


def _printed(session: Session, source: Source, terms: Terms | None) -> Printed | None:
    """None where the text is not proved."""
    of = Of(
        source.text,
        source.proof,
        source.part_title,
        source.version,
        announcing.cautions_of(session, source.along_id),
    )
    return printed(of, terms or source.proof.pattern.header.terms)


def _proved(made: Printed | None) -> Printed:
    if made is None:
        raise NotFound("There is no sheet yet: the pattern is not proved.")
    return made


def _page(
    request: Request, session: Session, host_name: str, source: Source, terms: Terms | None
) -> Response:
    page = SheetPage(
        host_name=host_name,
        part_title=source.part_title,
        version=source.version,
        address=source.address,
        terms=terms or source.proof.pattern.header.terms,
        printed=_printed(session, source, terms),
        charts=source.sizes,
        with_pdf=can_print(),
    )
    return render(request, "host/sheet.html", page)


def _text(source: Source, terms: Terms | None) -> Response:
    wanted = terms or source.proof.pattern.header.terms
    if not source.proof.proved:
        raise NotFound("There is no sheet yet: the pattern is not proved.")
    name = f"{source.title} {wanted}"
    return PlainTextResponse(
        sheet_text(sheets.sheet_of(source.text, wanted)),
        headers={"Content-Disposition": disposition("attachment", name, "txt")},
    )
