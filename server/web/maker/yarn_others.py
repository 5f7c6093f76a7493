"""/notebook/<part>/yarn/instead and …/yarn/split: another yarn, and a set of parts from one cake. Both only
answer: nothing is written down.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from server.craft.measure.putup import PutUp
from server.craft.measure.splitting import Split
from server.craft.measure.yarntable import YarnCategory, yarn_categories
from server.services.errors import NotFound, Refusal
from server.services.notebooks import measuring
from server.services.notebooks.desk import Units
from server.services.notebooks.measuring import CakePart, Instead
from server.services.notebooks.measuring.typed import grams, metres, yarn_unit
from server.web.maker.device import with_visit
from server.web.maker.facts import LARGEST_ID, NOTHING_SAID, PartId, PartNav, Said, part_nav, said
from server.web.maker.telling import desk_for
from server.web.pages import render
from server.web.sessions import ReadSession

router = APIRouter()


@dataclass(frozen=True)
class InsteadPage:
    """Context of maker/yarn_instead.html. `found` is None until a yarn was chosen."""

    nav: PartNav
    said: Said
    found: Instead | None
    categories: tuple[YarnCategory, ...]
    category: str
    ball_g: str
    ball_m: str
    unit: str


@dataclass(frozen=True)
class SplitPage:
    """Context of maker/yarn_split.html."""

    nav: PartNav
    said: Said
    parts: tuple[CakePart, ...]
    ticked: tuple[int, ...]
    cake: str
    found: Split | None


def _put_up(ball_g: str, ball_m: str, units: Units) -> PutUp | None:
    weight, length = grams(ball_g, "ball_g"), metres(ball_m, units, "ball_m")
    if weight is None and length is None:
        return None
    if not weight or not length:
        raise Refusal("A label has both: so many grams are so many metres.", "ball_m" if weight else "ball_g")
    return PutUp(weight, length)


@router.get("/notebook/{part_id}/yarn/instead")
def another_yarn(
    request: Request,
    session: ReadSession,
    part_id: PartId,
    category: Annotated[str, Query()] = "",
    ball_g: Annotated[str, Query()] = "",
    ball_m: Annotated[str, Query()] = "",
) -> Response:
    """What another yarn changes."""
    desk = desk_for(request, session, part_id)
    what, found = NOTHING_SAID, None
    numbers = {str(each.number): each.number for each in yarn_categories()}
    try:
        if category or ball_g or ball_m:
            if category not in numbers:
                raise Refusal("Choose the yarn's category: it is on most labels.", "category")
            put_up = _put_up(ball_g, ball_m, desk.units)
            found = measuring.instead(session, desk, numbers[category], put_up)
    except NotFound:
        raise
    except Refusal as refusal:
        what = said(refusal, "instead", {})
    context = InsteadPage(
        nav=part_nav(desk, "yarn"),
        said=what,
        found=found,
        categories=yarn_categories(),
        category=category,
        ball_g=ball_g[:16],
        ball_m=ball_m[:16],
        unit=yarn_unit(desk.units),
    )
    page = render(request, "maker/yarn_instead.html", context, what.status)
    return with_visit(page, request, session, desk.notebook_id)


@router.get("/notebook/{part_id}/yarn/split")
def one_cake(
    request: Request,
    session: ReadSession,
    part_id: PartId,
    cake: Annotated[str, Query()] = "",
    parts: Annotated[list[int] | None, Query(max_length=60)] = None,
) -> Response:
    """How to split a cake over parts of the along."""
    desk = desk_for(request, session, part_id)
    there = measuring.cake_parts(session, desk.notebook_id)
    ticked = tuple(each for each in parts or () if 0 < each <= LARGEST_ID)
    what, found = NOTHING_SAID, None
    try:
        if cake or parts:
            weight = grams(cake, "grams", needed=True) or 0.0
            found = measuring.split(session, desk.notebook_id, ticked, weight)
    except NotFound:
        raise
    except Refusal as refusal:
        what = said(refusal, "split", {})
    context = SplitPage(
        nav=part_nav(desk, "yarn"),
        said=what,
        parts=there,
        ticked=ticked if parts is not None or cake else tuple(each.part_id for each in there),
        cake=cake[:16],
        found=found,
    )
    page = render(request, "maker/yarn_split.html", context, what.status)
    return with_visit(page, request, session, desk.notebook_id)
