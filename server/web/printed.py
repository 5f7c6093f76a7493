"""The sheet of a pattern as it is printed: text, schematic, chart with its key, cautions; a page or a PDF.

Hosts have it of a draft and of every version, makers of the version that they are on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from threading import Lock

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response

from server.craft.fabric import Proof
from server.craft.making import Fact, Sheet
from server.craft.making.schematic import by_size, schematic
from server.craft.making.sizemeasures import Measured
from server.craft.measure.lengths import Units
from server.craft.text.tree import Terms
from server.services import sheets
from server.web import throttles
from server.web.host_sources import disposition
from server.web.pages import text_of
from server.web.pdfs import NO_PDF, SIZES, NoPaper, Paper, Press
from server.web.problems import problem

LABELS = {"Fits": "To fit", "Foundation": "Foundation chain", "Pieces": "Makes"}
VALUES = {
    ("Foundation", "none"): "none, it begins in a ring",
    ("Pieces", "one"): "one piece",
    ("Pieces", "pair"): "a pair",
}
SAID_BY_THE_RULE = ("Custom",)
"""Facts that the rule for a count of one's own says better."""
MOST_STITCHES = 5_000
"""More than these make a chart that no eye reads on a page of paper, and that is a megabyte on a phone."""
NO_CHART = "The piece has too many stitches for a chart on a page of paper."
MARGIN_MM = 15.0
_PRINTING = Lock()
TWICE = "2 × {letter}"


@dataclass(frozen=True)
class MeasureRow:
    """A line of the schematic's table; lengths by size."""

    letter: str
    name: str
    cm: str
    inches: str


@dataclass(frozen=True)
class Printed:
    """All that stands on a sheet.

    title      the pattern's
    version    its number; None for a draft
    facts      sizes, fit, gauge and so on, as a reader of a printed pattern expects them
    own_words  whether there are words of the host's in it, as she wrote them, and in other terms
    schematic  the drawing; None where the pattern has no measures
    measures   its table, and below it what is to be said of it
    chart      the drawing with its key, at the size `chart_size`; None where `chart_note` says why
    cautions   of the along
    """

    title: str
    version: int | None
    terms: Terms
    sheet: Sheet
    facts: tuple[Fact, ...]
    own_words: bool
    schematic: Markup | None
    measures: tuple[MeasureRow, ...]
    measures_note: str
    chart: Markup | None
    chart_size: str
    chart_note: str
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class PrintedPage:
    """Context of sheet/paper.html."""

    printed: Printed


@dataclass(frozen=True)
class Of:
    """What a sheet is made of: a text with its proof, whose title stands where the text has none."""

    text: str
    proof: Proof
    title: str
    version: int | None
    cautions: tuple[str, ...]


def printed(of: Of, terms: Terms, units: Units = "cm") -> Printed | None:
    """The sheet of a text; None where it is not proved."""
    if not of.proof.proved:
        return None
    made = sheets.sheet_of(of.text, terms)
    found = sheets.measured_of(of.text)
    drawn = schematic(found, units=units, title=made.title or of.title, prefix="sheet-")
    chart, size = "", ""
    fits = bool(of.proof.stitches) and min(of.proof.stitches.values()) <= MOST_STITCHES
    if fits:
        chart, size = sheets.chart_of(of.text, terms)
    return Printed(
        title=made.title or of.title,
        version=of.version,
        terms=terms,
        sheet=made,
        facts=tuple(_shown(fact) for fact in made.facts if fact.label not in SAID_BY_THE_RULE),
        own_words=_has_own_words(made),
        schematic=Markup(drawn) if drawn else None,  # noqa: S704  # made of elements by the engine
        measures=tuple(_rows(found)),
        measures_note=_note(found),
        chart=Markup(chart) if chart else None,  # noqa: S704  # made of elements by the engine
        chart_size=size,
        chart_note="" if fits else NO_CHART,
        cautions=of.cautions,
    )


def pdf(made: Printed, paper: Paper) -> bytes:
    """The sheet on paper, tagged; NoPaper where no PDF can be made. One after the other: it takes a processor
    for a second or more, and a whole along asks for the same one.
    """
    with _PRINTING:
        return _kept_pdf(made, paper)


@lru_cache(maxsize=24)
def _kept_pdf(made: Printed, paper: Paper) -> bytes:
    size, _ = SIZES[paper]
    foot = 'font: 8pt "Atkinson Next", sans-serif; color: #333'
    css = (
        f"@page {{ size: {size} portrait; margin: {MARGIN_MM}mm;"
        f" @bottom-left {{ content: string(sheet-title); {foot}; width: 75% }}"
        f' @bottom-right {{ content: counter(page) " of " counter(pages); {foot} }} }}'
    )
    return Press(("sheet-paper",), css).laid_out(text_of("sheet/paper.html", PrintedPage(made))).content()


def pdf_answer(request: Request, made: Printed, paper: Paper) -> Response:
    """The PDF as an answer; a page that says what is missing where none can be made."""
    throttles.take_or_answer(request, "pdf")
    try:
        content = pdf(made, paper)
    except NoPaper:
        return problem(request, 501, *NO_PDF)
    name = f"{made.title} {made.terms}"
    headers = {
        "Content-Disposition": disposition("inline", name, "pdf"),
        "Cache-Control": "private, no-cache",
    }
    return Response(content, media_type="application/pdf", headers=headers)


def _shown(fact: Fact) -> Fact:
    return Fact(LABELS.get(fact.label, fact.label), VALUES.get((fact.label, fact.text), fact.text))


def _has_own_words(made: Sheet) -> bool:
    if made.terms == made.written_in:
        return False
    return bool(made.notes) or any(line.kind == "note" for part in made.sections for line in part.lines)


def _rows(found: Measured) -> Iterator[MeasureRow]:
    for each in found.measures:
        yield MeasureRow(each.letter, each.name, by_size(each.mm, "cm"), by_size(each.mm, "in"))
        if each.around:
            twice = tuple(2 * mm for mm in each.mm)
            letter = TWICE.format(letter=each.letter)
            yield MeasureRow(letter, each.around, by_size(twice, "cm"), by_size(twice, "in"))


def _note(found: Measured) -> str:
    if not found.measures:
        return found.why_not
    said = (
        "About so much: worked out from the gauge and the counts, before the piece is wetted or stretched.",
        found.to_fit,
    )
    return " ".join(each for each in (*said, found.why_not) if each)
