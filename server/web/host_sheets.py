"""The printed sheet of a part, in US or UK terms, of the draft or of a version: to print, or plain text."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Literal
from unicodedata import normalize
from urllib.parse import quote

from fastapi import APIRouter, Path, Query
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from server.craft.making import Fact, Sheet, sheet_text
from server.craft.text.tree import Terms
from server.services import sheets
from server.services.errors import NotFound
from server.services.sheets import Source
from server.web.pages import render
from server.web.sessions import ReadSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/parts", route_class=HostRoute)
RowId = Annotated[int, Path(ge=1, le=2**63 - 1)]
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
class SizeLink:
    """A chart that can be looked at beside the sheet."""

    key: str
    words: str


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


def address_of(source: Source) -> str:
    """Where the pages of a draft or of a version stand."""
    part = f"/host/parts/{source.part_id}"
    return part if source.version is None else f"{part}/versions/{source.version}"


def size_links(source: Source) -> tuple[SizeLink, ...]:
    """The sizes of a proved pattern, each with the key that its chart is found by."""
    return tuple(
        SizeLink(str(foundation or name), f"{name} ({foundation} ch)" if foundation else name)
        for name, foundation in source.proof.sizes.items()
    )


@router.get("/{part_id}/sheet")
def draft_sheet(
    request: Request, part_id: RowId, host: CurrentHost, session: ReadSession, terms: WantedTerms = None
) -> Response:
    """The sheet of the draft that is kept, where it is proved."""
    return _page(request, host.shown_name, sheets.draft(session, host.host_id, part_id), terms)


@router.get("/{part_id}/sheet.txt")
def draft_text(
    part_id: RowId, host: CurrentHost, session: ReadSession, terms: WantedTerms = None
) -> Response:
    """The same as plain text, to keep or to send."""
    return _text(sheets.draft(session, host.host_id, part_id), terms)


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
    return _page(request, host.shown_name, sheets.version(session, host.host_id, part_id, number), terms)


@router.get("/{part_id}/versions/{number}/sheet.txt")
def version_text(
    part_id: RowId, number: RowId, host: CurrentHost, session: ReadSession, terms: WantedTerms = None
) -> Response:
    """The same as plain text."""
    return _text(sheets.version(session, host.host_id, part_id, number), terms)


def _page(request: Request, host_name: str, source: Source, terms: Terms | None) -> Response:
    wanted = terms or source.proof.pattern.header.terms
    made = sheets.sheet_of(source, wanted)
    page = SheetPage(
        host_name=host_name,
        part_title=source.part_title,
        version=source.version,
        address=address_of(source),
        terms=wanted,
        sheet=made,
        facts=tuple(_shown(fact) for fact in made.facts if fact.label not in SAID_BY_THE_RULE)
        if made
        else (),
        own_words=made is not None and _has_own_words(made),
        charts=size_links(source),
    )
    return render(request, "host/sheet.html", page)


def _shown(fact: Fact) -> Fact:
    return Fact(LABELS.get(fact.label, fact.label), VALUES.get((fact.label, fact.text), fact.text))


def _has_own_words(made: Sheet) -> bool:
    if made.terms == made.written_in:
        return False
    return bool(made.notes) or any(line.kind == "note" for part in made.sections for line in part.lines)


def _text(source: Source, terms: Terms | None) -> Response:
    wanted = terms or source.proof.pattern.header.terms
    made = sheets.sheet_of(source, wanted)
    if made is None:
        raise NotFound("There is no sheet yet: the pattern is not proved.")
    name = f"{made.title or source.part_title} {wanted}"
    return PlainTextResponse(
        sheet_text(made), headers={"Content-Disposition": disposition("attachment", name, "txt")}
    )


def disposition(how: Literal["attachment", "inline"], name: str, ending: str) -> str:
    """The header that names a file after a title: in its own letters, and in plain ones for those who know no
    others (RFC 6266).
    """
    words = "-".join(re.findall(r"[^\W_]+", normalize("NFC", name)))[:80] or "pattern"
    plain = "-".join(re.findall(r"[A-Za-z0-9]+", normalize("NFKD", words).encode("ascii", "ignore").decode()))
    return f"{how}; filename=\"{plain or 'pattern'}.{ending}\"; filename*=UTF-8''{quote(f'{words}.{ending}')}"
