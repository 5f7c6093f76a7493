"""What was really made as a table (CSV): the cells of the page and nothing besides."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from server.services.recap.made import Made
from server.services.recap.suggesting import suggestions

COLUMNS = (
    "part",
    "version",
    "question",
    "answer",
    "people",
    "of_people",
    "low",
    "middle",
    "high",
    "unit",
    "pattern",
)
FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")
Line = tuple[object, ...]


def table(found: Made) -> str:
    """RFC 4180. A cell that a spreadsheet would take for a formula gets an apostrophe before it."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for line in _lines(found):
        writer.writerow([_cell(value) for value in (found.part_title, found.version, *line)])
    return out.getvalue()


def _lines(found: Made) -> Iterator[Line]:
    pictures = [found.counts, found.stages, found.hooks, *found.fits]
    for picture in (each for each in pictures if each is not None):
        for bar in picture.bars:
            yield picture.title, bar.label, bar.people, picture.of, "", "", "", "", picture.written
    for row in found.hands:
        yield "Chains by hand", row.label, row.people, "", "", row.chains, "", "chains", ""
    for each in found.spreads:
        quarters = (f"{each.found.low:.2f}", f"{each.found.middle:.2f}", f"{each.found.high:.2f}")
        yield (
            each.title,
            "",
            "",
            each.found.of,
            *quarters,
            each.unit,
            "" if each.stated is None else f"{each.stated:g}",
        )
    for trouble in found.troubles:
        yield "Went back to it", trouble.where, trouble.took_out, found.people, "", "", "", "", ""
        yield "Asked at it", trouble.where, trouble.asked, found.people, "", "", "", "", ""
    for suggestion in suggestions(found):
        yield "Suggestion", suggestion.change, "", "", "", "", "", "", suggestion.reason


def _cell(value: object) -> str:
    text = str(value)
    return f"'{text}" if text.startswith(FORMULA_SIGNS) else text
