"""Sizes and yarn of a part: whom its sizes fit, which to offer, and whether the stated yarn is enough."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.craft.measure.lengths import Units, length_text
from server.craft.measure.sizetables import SizeTable
from server.craft.measure.stated_yarn import StatedCheck, own_units
from server.services import sizing
from server.services.errors import Refusal
from server.services.sizing import Sizing
from server.web import host_sources
from server.web.host_sources import RowId, Source
from server.web.pages import render
from server.web.sessions import ReadSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/parts", route_class=HostRoute)
WantedUnits = Annotated[Units | None, Query()]
People = Annotated[str, Query(max_length=40)]
DEFAULT = "adults"
WIDE, EDGE_MM = 320, 8.0  # of the drawing, and room for hands beyond the outermost sizes


@dataclass(frozen=True)
class Row:
    """A size in words: the hands that it is right for, their share, and how many of them no smaller size
    has.
    """

    foundation: int
    around: str
    hands: str
    share: str
    only: str
    glove: int


@dataclass(frozen=True)
class Band:
    """A size or a gap in the drawing: from x to x + width of WIDE."""

    kind: Literal["size", "gap"]
    x: float
    width: float
    words: str


@dataclass(frozen=True)
class Table:
    """A table of sizes with its drawing and its sums in words. smallest, largest: the hands at its ends."""

    title: str
    rows: tuple[Row, ...]
    bands: tuple[Band, ...]
    gaps: tuple[str, ...]
    sum: str
    people: str
    smallest: str
    largest: str


@dataclass(frozen=True)
class SizesPage:
    """Context of host/sizes.html. sizing is None where the text is not proved, or `people` is nobody."""

    host_name: str
    part_title: str
    version: int | None
    address: str
    proved: bool
    sizing: Sizing | None
    tables: tuple[Table, ...]
    checks: tuple[StatedCheck, ...]
    groups: tuple[tuple[str, str], ...]
    people: str
    units: Units
    error: str


@router.get("/{part_id}/sizes")
def draft_sizes(
    request: Request,
    part_id: RowId,
    host: CurrentHost,
    session: ReadSession,
    people: People = DEFAULT,
    units: WantedUnits = None,
) -> Response:
    """Of the draft that is kept."""
    source = host_sources.draft(session, host.host_id, part_id)
    return _page(request, host.shown_name, source, people, units)


@router.get("/{part_id}/versions/{number}/sizes")
def version_sizes(
    request: Request,
    part_id: RowId,
    number: RowId,
    host: CurrentHost,
    session: ReadSession,
    people: People = DEFAULT,
    units: WantedUnits = None,
) -> Response:
    """Of a published version."""
    source = host_sources.version(session, host.host_id, part_id, number)
    return _page(request, host.shown_name, source, people, units)


def _page(request: Request, host_name: str, source: Source, people: str, units: Units | None) -> Response:
    proved = source.proof.proved
    found: Sizing | None = None
    checks: tuple[StatedCheck, ...] = ()
    error = ""
    wanted: Units = units or (own_units(source.proof.pattern.header) if proved else "cm")
    if proved:
        checks = sizing.stated_of(source.text, wanted)
        try:
            found = sizing.sizing_of(source.text, people, wanted)
        except Refusal as refusal:
            error = refusal.message
    tables = (
        [("The pattern’s own sizes", found.own), ("Sizes to offer", found.proposed)]
        if found is not None
        else []
    )
    context = SizesPage(
        host_name=host_name,
        part_title=source.part_title,
        version=source.version,
        address=source.address,
        proved=proved,
        sizing=found,
        tables=tuple(_table(title, table, wanted) for title, table in tables if table is not None),
        checks=checks,
        groups=sizing.groups(),
        people=people,
        units=wanted,
        error=error,
    )
    return render(request, "host/sizes.html", context, 422 if error else 200)


def _table(title: str, table: SizeTable, units: Units) -> Table:
    rows = tuple(
        Row(
            row.foundation,
            length_text(row.around_mm, units),
            _from_to(row.from_mm, row.to_mm, units),
            _per_cent(row.share),
            _per_cent(row.only),
            row.glove,
        )
        for row in table.rows
    )
    gaps = tuple(words for words in table.says if words.startswith("Between"))
    ends = [length_text(mm, units) for mm in (table.rows[0].from_mm, table.rows[-1].to_mm)]
    return Table(title, rows, _bands(table), gaps, table.says[-1], table.says[0], *ends)


def _from_to(low_mm: float, high_mm: float, units: Units) -> str:
    """ "16.7 to 18.5 cm" """
    return f"{length_text(low_mm, units).rpartition(' ')[0]} to {length_text(high_mm, units)}"


def _bands(table: SizeTable) -> tuple[Band, ...]:
    low = min(row.from_mm for row in table.rows) - EDGE_MM
    high = max(row.to_mm for row in table.rows) + EDGE_MM

    def at(mm: float) -> float:
        return round((mm - low) / (high - low) * WIDE, 1)

    sizes = [
        Band("size", at(row.from_mm), at(row.to_mm) - at(row.from_mm), str(row.foundation))
        for row in table.rows
    ]
    gaps = [
        Band("gap", at(gap.from_mm), at(gap.to_mm) - at(gap.from_mm), _per_cent(gap.share))
        for gap in table.gaps
    ]
    return (*sizes, *gaps)


def _per_cent(share: float) -> str:
    return f"{share * 100:.1f} %" if share < 0.1 else f"{round(share * 100)} %"
