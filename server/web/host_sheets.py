"""The printed sheet of a part, in US or UK terms, of the draft or of a version: to print, or plain text."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from server.craft.making import Fact, Sheet, sheet_text
from server.craft.text.tree import Terms
from server.services import sheets
from server.services.errors import NotFound
from server.web import host_sources
from server.web.host_sources import RowId, SizeLink, Source, disposition
from server.web.pages import render
from server.web.sessions import ReadSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/parts", route_class=HostRoute)
WantedTerms = Annotated[Terms | None, Query()]

LABELS = {"Fits": "To fit", "Foundation": "Foundation chain", "Pieces": "Makes"}
VALUES = {
    ("Foundation", "none"): "none, it begins in a ring",
    ("Pieces", "one"): "one piece",
    ("Pieces", "pair"): "a pair",
}
SAID_BY_THE_RULE = ("Custom",)
"""Facts that the rule for a count of one's own says better."""


@dataclass(frozen=True)
class SheetPage:
    """Context of host/sheet.html.

    address   of the part, or of its version; the sheet, its text and the charts stand below it
    sheet     None where the text is not proved
    terms     those that the sheet is in, or would be
    facts     sizes, fit, gauge and so on, as a reader of a printed pattern expects them
    own_words whether there are words of the host's in it, as she wrote them, and in other terms
    charts    one for each size
    """

    host_name: str
    part_title: str
    version: int | None
    address: str
    terms: Terms
    sheet: Sheet | None
    facts: tuple[Fact, ...]
    own_words: bool
    charts: tuple[SizeLink, ...]


@router.get("/{part_id}/sheet")
def draft_sheet(
    request: Request, part_id: RowId, host: CurrentHost, session: ReadSession, terms: WantedTerms = None
) -> Response:
    """The sheet of the draft that is kept, where it is proved."""
    return _page(request, host.shown_name, host_sources.draft(session, host.host_id, part_id), terms)


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
    return _page(
        request, host.shown_name, host_sources.version(session, host.host_id, part_id, number), terms
    )


@router.get("/{part_id}/versions/{number}/sheet.txt")
def version_text(
    part_id: RowId, number: RowId, host: CurrentHost, session: ReadSession, terms: WantedTerms = None
) -> Response:
    """The same as plain text."""
    return _text(host_sources.version(session, host.host_id, part_id, number), terms)


def _page(request: Request, host_name: str, source: Source, terms: Terms | None) -> Response:
    wanted = terms or source.proof.pattern.header.terms
    made = _sheet(source, wanted)
    page = SheetPage(
        host_name=host_name,
        part_title=source.part_title,
        version=source.version,
        address=source.address,
        terms=wanted,
        sheet=made,
        facts=tuple(_shown(fact) for fact in made.facts if fact.label not in SAID_BY_THE_RULE)
        if made
        else (),
        own_words=made is not None and _has_own_words(made),
        charts=source.sizes,
    )
    return render(request, "host/sheet.html", page)


def _sheet(source: Source, terms: Terms) -> Sheet | None:
    """None where the text is not proved."""
    return sheets.sheet_of(source.text, terms) if source.proof.proved else None


def _shown(fact: Fact) -> Fact:
    return Fact(LABELS.get(fact.label, fact.label), VALUES.get((fact.label, fact.text), fact.text))


def _has_own_words(made: Sheet) -> bool:
    if made.terms == made.written_in:
        return False
    return bool(made.notes) or any(line.kind == "note" for part in made.sections for line in part.lines)


def _text(source: Source, terms: Terms | None) -> Response:
    wanted = terms or source.proof.pattern.header.terms
    made = _sheet(source, wanted)
    if made is None:
        raise NotFound("There is no sheet yet: the pattern is not proved.")
    name = f"{source.title} {wanted}"
    return PlainTextResponse(
        sheet_text(made), headers={"Content-Disposition": disposition("attachment", name, "txt")}
    )
