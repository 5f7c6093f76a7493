"""The gloves of the pair page as bands of rounds, wrist down, both to one scale. Pure: gloves in, shapes
out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from server.craft.text.tree import Gauge
from server.services.notebooks import Glove, MadeSection

MM_PER_CM = 10
# Without a gauge in the pattern: a stitch as wide as two chains are tall is no measurement, only a
# plausible picture.
WIDTH_MM, CHAIN_MM = 6.5, 3.4
NO_FOUNDATION = 40  # stitches across, where the pattern starts from a ring: only the drawing's width
GAP_OPENING = 0.32  # of the width: how far the thumb's opening reaches in, in the drawing
MARGIN_MM = 3.0

BandState = Literal["made", "to come", "differs"]


@dataclass(frozen=True)
class Band:
    """One round as a rectangle, in mm from the drawing's top left."""

    x: float
    y: float
    width: float
    height: float
    state: BandState


@dataclass(frozen=True)
class GloveDrawing:
    """A glove: its rounds from the wrist (below) up, and its thumb at the side. Lengths in mm.

    words   what the picture shows, for those who do not see it
    """

    width: float
    height: float
    bands: tuple[Band, ...]
    thumb: tuple[Band, ...]
    words: str


def draw(gloves: Sequence[Glove], gauge: Gauge | None) -> tuple[GloveDrawing, ...]:
    """Every glove to the same scale and size of picture, so that a round too many stands out at the top."""
    width_mm, chain_mm = _scale(gloves, gauge)
    height = max((_total(glove, chain_mm) for glove in gloves), default=0.0) + 2 * MARGIN_MM
    drawn = [_glove(glove, width_mm, chain_mm, height) for glove in gloves]
    width = max((each.width for each in drawn), default=0.0)
    return tuple(_placed(each, glove.piece == 2, width) for each, glove in zip(drawn, gloves, strict=True))


def _placed(drawing: GloveDrawing, mirrored: bool, width: float) -> GloveDrawing:
    """In a picture of that width; glove two mirrored, as a pair lies, thumb to thumb."""
    if not mirrored:
        return replace(drawing, width=width)
    flip = [
        [replace(band, x=round(width - band.x - band.width, 2)) for band in bands]
        for bands in (drawing.bands, drawing.thumb)
    ]
    return replace(drawing, width=width, bands=tuple(flip[0]), thumb=tuple(flip[1]))


def _scale(gloves: Sequence[Glove], gauge: Gauge | None) -> tuple[float, float]:
    """Width of a stitch and height of a chain, in mm; the gauge's rounds are taken as those of the tallest
    stitch.
    """
    if gauge is None:
        return WIDTH_MM, CHAIN_MM
    width = float(gauge.length_cm / gauge.stitches) * MM_PER_CM
    heights = [each.height_chains for glove in gloves for made in glove.sections for each in made.rounds]
    tallest = max(heights, default=1.0)
    if gauge.rounds is None:
        return width, width * CHAIN_MM / WIDTH_MM
    return width, float(gauge.length_cm / gauge.rounds) * MM_PER_CM / tallest


def _in_order(glove: Glove) -> list[MadeSection]:
    """Sections from the wrist up: an edging in the foundation stands below the first round."""
    below = [section for section in glove.sections if section.kind == "foundation edge"]
    return below + [section for section in glove.sections if section.kind in ("body", "gap")]


def _total(glove: Glove, chain_mm: float) -> float:
    return sum(each.height_chains * chain_mm for section in _in_order(glove) for each in section.rounds)


def _glove(glove: Glove, width_mm: float, chain_mm: float, height: float) -> GloveDrawing:
    across = float(Fraction(glove.foundation or NO_FOUNDATION, 2)) * width_mm  # a tube lies double
    thumb_width = across * GAP_OPENING
    bands: list[Band] = []
    thumb: list[Band] = []
    y = height - MARGIN_MM
    for section in _in_order(glove):
        for each in section.rounds:
            tall = each.height_chains * chain_mm
            y -= tall
            state: BandState = "differs" if each.differs else "made" if each.made else "to come"
            opening = section.kind == "gap"
            inset = thumb_width if opening else 0.0
            bands.append(_band(MARGIN_MM, y, across - inset, tall, state))
            if opening and not thumb:
                thumb = _thumb(glove, MARGIN_MM + across, y + tall, thumb_width, chain_mm)
    made = sum(band.state != "to come" for band in bands)
    words = f"{glove.name}, drawn from the wrist up: {made} of {len(bands)} rounds of its body made."
    full = max(band.x + band.width for band in [*bands, *thumb]) + MARGIN_MM if bands else 2 * MARGIN_MM
    return GloveDrawing(round(full, 1), round(height, 1), tuple(bands), tuple(thumb), words)


def _thumb(glove: Glove, x: float, bottom: float, wide: float, chain_mm: float) -> list[Band]:
    bands: list[Band] = []
    edge = x
    for section in glove.sections:
        if section.kind != "gap edge":
            continue
        for each in section.rounds:
            tall = each.height_chains * chain_mm
            state: BandState = "differs" if each.differs else "made" if each.made else "to come"
            bands.append(_band(edge, bottom - wide, tall, wide, state))
            edge += tall
    return bands


def _band(x: float, y: float, width: float, height: float, state: BandState) -> Band:
    return Band(round(x, 2), round(y, 2), round(width, 2), round(height, 2), state)
