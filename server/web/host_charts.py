"""The chart of a draft or of a version, at one of its sizes or a custom count: a page, and the drawing by
itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Query
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response

from server.craft.fabric import Numbers, Proof, work
from server.craft.fabric.chart import chart
from server.craft.text.reader import special_stitches
from server.craft.text.tree import Terms
from server.services.errors import NotFound
from server.web import host_sources
from server.web.host_sources import RowId, Source, disposition
from server.web.pages import render
from server.web.sessions import ReadSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/parts", route_class=HostRoute)
CountKey = Annotated[str, Query(max_length=60)]
Hand = Literal["right", "left"]
Paper = Literal["A4"]
KEY_PX = 280  # fits between the margins of a narrow phone
MOST_STITCHES = 12_000
"""More than these make a drawing that no page shows and no eye reads."""


@dataclass(frozen=True)
class Wish:
    """How a chart is asked for. terms, count: None and "" for the pattern's own and its first size."""

    count: str = ""
    hand: Hand = "right"
    terms: Terms | None = None
    paper: Paper | None = None


def wish(
    count: CountKey = "", hand: Hand = "right", terms: Terms | None = None, paper: Paper | None = None
) -> Wish:
    """What stands in the address."""
    return Wish(count, hand, terms, paper)


Wished = Annotated[Wish, Depends(wish)]


@dataclass(frozen=True)
class ChartChoice:
    """One way that the chart can be drawn; `query` is what its address has after the question mark."""

    query: str
    words: str
    chosen: bool


@dataclass(frozen=True)
class ChartPage:
    """Context of host/chart.html; `drawing` is None where there is nothing to draw, `why_not` says why."""

    host_name: str
    part_title: str
    version: int | None
    address: str
    query: str
    hand: Hand
    choices: tuple[ChartChoice, ...]
    other_hand: ChartChoice
    drawing: Markup | None
    why_not: str


@router.get("/{part_id}/chart")
def draft_page(
    request: Request, part_id: RowId, host: CurrentHost, session: ReadSession, asked: Wished
) -> Response:
    """The chart of the draft that is kept, beside the counts it can be drawn at."""
    return _page(request, host.shown_name, host_sources.draft(session, host.host_id, part_id), asked)


@router.get("/{part_id}/versions/{number}/chart")
def version_page(
    request: Request, part_id: RowId, number: RowId, host: CurrentHost, session: ReadSession, asked: Wished
) -> Response:
    """The chart of a published version."""
    return _page(
        request, host.shown_name, host_sources.version(session, host.host_id, part_id, number), asked
    )


@router.get("/{part_id}/chart.svg")
def draft_drawing(part_id: RowId, host: CurrentHost, session: ReadSession, asked: Wished) -> Response:
    """The drawing by itself, to keep or to print."""
    return _drawing(host_sources.draft(session, host.host_id, part_id), asked)


@router.get("/{part_id}/versions/{number}/chart.svg")
def version_drawing(
    part_id: RowId, number: RowId, host: CurrentHost, session: ReadSession, asked: Wished
) -> Response:
    """The same of a published version."""
    return _drawing(host_sources.version(session, host.host_id, part_id, number), asked)


def _page(request: Request, host_name: str, source: Source, asked: Wish) -> Response:
    key = asked.count or _first_key(source.proof)
    why_not = _why_not(source.proof, key)
    page = ChartPage(
        host_name=host_name,
        part_title=source.part_title,
        version=source.version,
        address=source.address,
        query=_query(asked, key),
        hand=asked.hand,
        choices=tuple(
            ChartChoice(_query(asked, size.key), size.words, size.key == key) for size in source.sizes
        ),
        other_hand=_for_other_hand(asked, key),
        drawing=None if why_not else Markup(_drawn(source.proof, key, asked)),  # noqa: S704  # made of elements by the engine
        why_not=why_not,
    )  # fmt: skip
    return render(request, "host/chart.html", page)


def _drawing(source: Source, asked: Wish) -> Response:
    key = asked.count or _first_key(source.proof)
    if _why_not(source.proof, key):
        raise NotFound("There is no chart.")
    name = f"{source.title} {key} chart"
    return Response(
        _drawn(source.proof, key, asked),
        media_type="image/svg+xml",
        headers={"Content-Disposition": disposition("inline", name, "svg")},
    )


def _first_key(proof: Proof) -> str:
    return str(proof.keys[0]) if proof.keys else ""


def _query(asked: Wish, key: str) -> str:
    terms = {"terms": asked.terms} if asked.terms else {}
    return urlencode({"count": key, "hand": asked.hand, **terms})


def _for_other_hand(asked: Wish, key: str) -> ChartChoice:
    hand: Hand = "left" if asked.hand == "right" else "right"
    return ChartChoice(_query(Wish(key, hand, asked.terms), key), f"for {hand}-handed", chosen=False)


def _why_not(proof: Proof, key: str) -> str:
    if not proof.proved:
        return "The chart is drawn once the pattern is proved."
    if proof.stitches.get(key, 0) > MOST_STITCHES:
        return "The piece has too many stitches for one drawing."
    return ""


def _drawn(proof: Proof, key: str, asked: Wish) -> str:
    """The SVG at one count. Raises NotFound where the count is none of the pattern's."""
    header = proof.pattern.header
    # a size that has a smaller one's foundation is asked for by its name, as the proof's keys have it
    sizes = {name: name for name in proof.sizes}
    sizes |= {str(count): name for name, count in reversed(list(proof.sizes.items())) if count is not None}
    if key in sizes:
        numbers = Numbers(proof.sizes[sizes[key]], sizes[key])
    elif key.isdecimal() and len(key) < 6 and int(key) in proof.counts_tried:
        numbers = Numbers(int(key))
    else:
        raise NotFound("There is no such count.")
    return chart(
        work(proof.pattern, numbers),
        terms=asked.terms or header.terms,
        hand=asked.hand,
        width_px=None if asked.paper else 700,
        key_px=None if asked.paper else KEY_PX,
        page=asked.paper,
        special=special_stitches(proof.pattern),
        title=f"{header.title}, {sizes.get(key, f'{key} chains')}",
    )
