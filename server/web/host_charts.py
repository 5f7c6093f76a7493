"""The chart of a part's draft, at one of its sizes or a custom count: a page, and the drawing by itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fastapi import APIRouter, Path, Query
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response

from server.craft.fabric import Numbers, Proof, work
from server.craft.fabric.chart import chart
from server.craft.text.reader import special_stitches
from server.services import patterns
from server.services.errors import NotFound
from server.web.pages import render
from server.web.sessions import ReadSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/parts", route_class=HostRoute)
RowId = Annotated[int, Path(ge=1, le=2**63 - 1)]
CountKey = Annotated[str, Query(max_length=60)]
Hand = Literal["right", "left"]
MOST_STITCHES = 12_000
"""More than these make a drawing that no page shows and no eye reads."""


@dataclass(frozen=True)
class ChartChoice:
    """One count that a chart can be drawn at."""

    key: str
    words: str
    chosen: bool


@dataclass(frozen=True)
class ChartPage:
    """Context of host/chart.html; `drawing` is None where there is nothing to draw, `why_not` says why."""

    host_name: str
    part_id: int
    part_title: str
    chosen: str
    hand: Hand
    choices: tuple[ChartChoice, ...]
    drawing: Markup | None
    why_not: str


def _drawn(proof: Proof, key: str, hand: Hand) -> str:
    """The SVG at one count. Raises NotFound where the count is none of the pattern's."""
    header = proof.pattern.header
    sizes = {str(count) if count is not None else name: name for name, count in proof.sizes.items()}
    if key in sizes:
        numbers = Numbers(proof.sizes[sizes[key]], sizes[key])
    elif key.isdecimal() and len(key) < 6 and int(key) in proof.counts_tried:
        numbers = Numbers(int(key))
    else:
        raise NotFound("There is no such count.")
    return chart(
        work(proof.pattern, numbers),
        terms=header.terms,
        hand=hand,
        width_px=700,
        special=special_stitches(proof.pattern),
        title=f"{header.title}, {sizes.get(key, f'{key} chains')}",
    )


def _why_not(proof: Proof, key: str) -> str:
    if not proof.proved:
        return "The chart is drawn once the pattern is proved."
    if proof.stitches.get(key, 0) > MOST_STITCHES:
        return "The piece has too many stitches for one drawing."
    return ""


@router.get("/{part_id}/chart")
def chart_page(
    request: Request, part_id: RowId, host: CurrentHost, session: ReadSession, count: CountKey = "",
    hand: Hand = "right",
) -> Response:  # fmt: skip
    """The chart of the draft that is kept, beside the counts it can be drawn at."""
    draft = patterns.open_part(session, host.host_id, part_id)
    proof = patterns.check(draft.text).proof
    key = count or (proof.keys[0] if proof.keys else "")
    why_not = _why_not(proof, key)
    page = ChartPage(
        host_name=host.shown_name,
        part_id=part_id,
        part_title=draft.part_title,
        chosen=key,
        hand=hand,
        choices=tuple(
            ChartChoice(str(foundation or name), f"{name} ({foundation} ch)" if foundation else name,
                        str(foundation or name) == key)
            for name, foundation in proof.sizes.items()
        ),
        drawing=None if why_not else Markup(_drawn(proof, key, hand)),  # noqa: S704  # made of elements by the engine
        why_not=why_not,
    )  # fmt: skip
    return render(request, "host/chart.html", page)


@router.get("/{part_id}/chart.svg")
def chart_svg(
    part_id: RowId, host: CurrentHost, session: ReadSession, count: CountKey = "", hand: Hand = "right"
) -> Response:
    """The drawing by itself, to keep or to print."""
    draft = patterns.open_part(session, host.host_id, part_id)
    proof = patterns.check(draft.text).proof
    key = count or (proof.keys[0] if proof.keys else "")
    if _why_not(proof, key):
        raise NotFound("There is no chart.")
    return Response(_drawn(proof, key, hand), media_type="image/svg+xml")
