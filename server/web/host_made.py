"""What was really made of a part, counted in fives: a page, and a table to keep."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.services.recap import madetable
from server.services.recap.cells import FEWEST
from server.services.recap.made import Made, Picture, Spread, made
from server.services.recap.suggesting import Suggestion, foundation_line, suggestions
from server.services.recap.summaries import MAKERS_MOST, pattern_of
from server.web.host_sources import RowId, disposition
from server.web.pages import render
from server.web.sessions import ReadSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/parts", route_class=HostRoute)
WantedVersion = Annotated[int | None, Query(ge=1, le=2**63 - 1)]
STRIP = 100.0  # units of a drawing's width


@dataclass(frozen=True)
class DrawnBar:
    """A cell with its bar, in hundredths of the longest."""

    label: str
    people: int
    long: str


@dataclass(frozen=True)
class DrawnPicture:
    """A question as it is drawn; id: of its table."""

    id: str
    title: str
    of: int
    written: str
    bars: tuple[DrawnBar, ...]


@dataclass(frozen=True)
class DrawnSpread:
    """Quartiles along a line: positions in hundredths; stated: None where the pattern has none."""

    title: str
    low: str
    middle: str
    high: str
    unit: str
    of: int
    stated: str
    note: str
    box: tuple[str, str]
    at_middle: str
    at_stated: str


@dataclass(frozen=True)
class DrawnTrouble:
    """A round with its bar, in hundredths of all."""

    where: str
    took_out: str
    asked: str
    long: str


@dataclass(frozen=True)
class MadePage:
    """Context of host/made.html.

    fewest      how many people a cell has at least
    most        how many makers are counted at most
    line        the foundation line that is suggested, "" for none
    """

    host_name: str
    found: Made
    pictures: tuple[DrawnPicture, ...]
    spreads: tuple[DrawnSpread, ...]
    troubles: tuple[DrawnTrouble, ...]
    suggested: tuple[Suggestion, ...]
    line: str
    fewest: int
    most: int


@router.get("/{part_id}/made")
def made_page(
    request: Request, part_id: RowId, host: CurrentHost, session: ReadSession, version: WantedVersion = None
) -> Response:
    """What makers on that version did, or on the newest."""
    found = made(session, host.host_id, part_id, version)
    pictures = [each for each in (found.counts, *found.fits, found.hooks, found.stages) if each is not None]
    page = MadePage(
        host_name=host.shown_name,
        found=found,
        pictures=tuple(_drawn(f"picture-{at}", each) for at, each in enumerate(pictures, 1)),
        spreads=tuple(map(_spread, found.spreads)),
        troubles=tuple(
            DrawnTrouble(each.where, each.took_out, each.asked, f"{STRIP * each.back / found.people:.1f}")
            for each in found.troubles
        ),
        suggested=suggestions(found),
        line=foundation_line(pattern_of(found.text).header, found),
        fewest=FEWEST,
        most=MAKERS_MOST,
    )
    return render(request, "host/made.html", page)


@router.get("/{part_id}/made.csv")
def made_table(
    part_id: RowId, host: CurrentHost, session: ReadSession, version: WantedVersion = None
) -> Response:
    """The same cells as a table."""
    found = made(session, host.host_id, part_id, version)
    name = f"{found.part_title} {found.version} as made"
    return Response(
        madetable.table(found),
        media_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": disposition("attachment", name, "csv")},
    )


def _drawn(id: str, picture: Picture) -> DrawnPicture:
    longest = max(bar.people for bar in picture.bars)
    bars = (DrawnBar(b.label, b.people, f"{STRIP * b.people / longest:.1f}") for b in picture.bars)
    return DrawnPicture(id, picture.title, picture.of, picture.written, tuple(bars))


def _spread(each: Spread) -> DrawnSpread:
    """On a line that goes a quarter beyond all that is on it."""
    q = each.found
    marks = [q.low, q.high, *([each.stated] if each.stated is not None else [])]
    room = (max(marks) - min(marks) or 1.0) * 0.25
    start, long = min(marks) - room, max(marks) - min(marks) + 2 * room

    def at(value: float) -> float:
        return STRIP * (value - start) / long

    digits = 0 if each.unit.startswith("%") else 1
    low, middle, high = (f"{value:.{digits}f}" for value in (q.low, q.middle, q.high))
    return DrawnSpread(
        each.title, low, middle, high, each.unit, q.of,
        "" if each.stated is None else f"{each.stated:g}", each.note,
        (f"{at(q.low):.1f}", f"{at(q.high) - at(q.low):.1f}"), f"{at(q.middle):.1f}",
        "" if each.stated is None else f"{at(each.stated):.1f}",
    )  # fmt: skip
