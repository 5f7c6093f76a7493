"""/notebook/<part>/piece/<1|2>/strips: the stitches of a round, drawn, and of the rounds that come next."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated

from fastapi import APIRouter, Path, Query
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from server.craft.fabric import Fabric, Numbers, work
from server.craft.fabric.chart import Hand, strip_of_round
from server.craft.text.reader import special_stitches
from server.services import notebooks
from server.services.errors import NotFound
from server.services.notebooks import Desk
from server.services.notebooks.desk import Terms, read_pattern
from server.web.encodings import compressed
from server.web.maker.device import device_of, notebook_for
from server.web.maker.facts import PartId
from server.web.maker.worksettings import settings_of
from server.web.sessions import ReadSession

router = APIRouter()
AHEAD = 3  # rounds drawn at once: a first visit stays small, and more come with each round
WIDTH_PX = 360
FORMAT = 2  # of the drawings; a device that keeps another asks anew


@dataclass(frozen=True)
class StripChart:
    """A round drawn as a strip. `sign` stands for all that the drawing depends on besides its round."""

    drawing: Markup
    sign: str


@router.get("/notebook/{part_id}/piece/{piece}/strips")
def strips(
    request: Request,
    session: ReadSession,
    part_id: PartId,
    piece: Annotated[int, Path(ge=1, le=2)],
    after: Annotated[str, Query(max_length=20)] = "",
) -> Response:
    """The drawings of the rounds that come after a round (from the one at hand on where none is said), by
    their spots, with the sign of what they depend on.
    """
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    if piece not in desk.pieces or desk.making.settled is None:
        raise NotFound("This part has no such piece.")
    hand = hand_of(request)
    spots = [each.spot for each in desk.plan(piece).rounds]
    place = desk.place(piece)
    if after in spots:
        begin = spots.index(after) + 1
    else:
        begin = spots.index(place.round.spot) if place.round else len(spots)
    drawn = {spot: drawing(desk, piece, spot, hand) for spot in spots[begin : begin + AHEAD]}
    answer = {"sign": sign(desk, piece, hand), "strips": {spot: svg for spot, svg in drawn.items() if svg}}
    headers = {"Cache-Control": "private, no-store", "Vary": "Cookie"}
    return compressed(request, JSONResponse(answer, headers=headers))


def hand_of(request: Request) -> Hand:
    """The hand that this device is set to."""
    return "left" if settings_of(request).left else "right"


def strip_chart(desk: Desk, piece: int, hand: Hand) -> StripChart | None:
    """The round at hand; None where there is none, or nothing to draw."""
    place = desk.place(piece)
    at_hand = place.round if place.kind == "round" else None
    svg = drawing(desk, piece, at_hand.spot, hand) if at_hand is not None else ""
    return StripChart(Markup(svg), sign(desk, piece, hand)) if svg else None  # noqa: S704  # drawn here


def drawing(desk: Desk, piece: int, spot: str, hand: Hand) -> str:
    """One round as SVG text; empty where the fabric has none there."""
    other = tuple(desk.making.pieces[1].worked) if piece == 2 else None
    return _drawing(desk.version.text, desk.plan(piece).numbers, spot, desk.terms, hand, other)


def sign(desk: Desk, piece: int, hand: Hand) -> str:
    """The same sign, the same drawings: of the pattern's text, her numbers, terms, hand, and glove one."""
    numbers = desk.plan(piece).numbers
    other = desk.making.pieces[1].worked if piece == 2 else None
    of = (FORMAT, desk.version.text, numbers.foundation, numbers.size, desk.terms, hand, other)
    return hashlib.sha256(repr(of).encode()).hexdigest()[:16]


@lru_cache(maxsize=64)
def _fabric(text: str, numbers: Numbers) -> Fabric:
    return work(read_pattern(text), numbers)


@lru_cache(maxsize=512)
def _drawing(
    text: str, numbers: Numbers, spot: str, terms: Terms, hand: Hand, other: tuple[str, ...] | None
) -> str:
    return strip_of_round(
        _fabric(text, numbers),
        spot,
        terms=terms,
        hand=hand,
        width_px=WIDTH_PX,
        below=1,
        above=0 if other is None else 1,
        other=other,
        window=True,
        special=special_stitches(read_pattern(text)),
        prefix="strip-",
        key=False,
    )
