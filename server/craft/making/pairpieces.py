"""The pieces of a pair's drawing: bands, limbs, gaps and seams as shapes on the page."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field

from server.craft.fabric.chart.pen import Pen, Point
from server.craft.making.pairshape import Band, Limb, Shape

LEAN = math.atan(0.7)  # a limb leans so far from level
HATCH_PX = 7.0


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a piece is drawn.

    middle  of its body, x
    side    -1: its limbs to the left and the list to the right of it; 1: the other way round
    edge    where the list begins, x
    scale   px for a millimetre
    """

    piece: int
    shape: Shape
    middle: float
    side: int
    edge: float
    scale: float

    def half(self, mm: float) -> float:
        """Half of a width, in px."""
        return mm * self.scale / 2


@dataclass(slots=True)
class Pieces:
    """Draws pieces, and remembers where things came to lie.

    differing  spots of piece two to be hatched
    edges      (piece, section): the middle of each of its bands at the edge toward the list
    middles    (piece, spot): the middle of a band
    low, high  the lowest and the highest y that was drawn
    """

    differing: Collection[str]
    low: float = 0.0
    high: float = 0.0
    edges: dict[tuple[int, int], list[Point]] = field(default_factory=dict)
    middles: dict[tuple[int, str], Point] = field(default_factory=dict)

    def draw(self, parent: ET.Element, one: Placed, base: float) -> None:
        """A piece with its foundation's edge at `base`; one begun at its tip with its last edge there."""
        group = ET.SubElement(parent, "g", {"class": f"piece piece--{one.piece}"})
        limbs = {limb.gap: limb for limb in one.shape.limbs}
        length = sum(band.height_mm for band in one.shape.bands) * one.scale
        seams: list[tuple[Band, float]] = []
        foot, step = (base - length, 1) if one.shape.downward else (base, -1)
        for band in one.shape.bands:
            top = foot + step * band.height_mm * one.scale
            seams.append((band, foot))
            if band.spot in limbs:
                self._limb(group, one, band, limbs[band.spot], (foot + top) / 2)
            self._band(group, one, band, foot, top)
            if band.spot in one.shape.openings:
                self._opening(group, one, band, foot, top)
            foot = top
        foot = base
        for band in one.shape.edging:
            top = foot + band.height_mm * one.scale
            self._band(group, one, band, foot, top)
            foot = top
        self._seams(group, one, seams, base if one.shape.edging else None)

    def _seams(
        self, parent: ET.Element, one: Placed, bands: Sequence[tuple[Band, float]], edge: float | None
    ) -> None:
        """A stronger line where a section begins upon another, and where an edging meets the foundation."""
        at = [
            (band, y)
            for (band, y), (below, _) in zip(bands[1:], bands, strict=False)
            if band.section != below.section
        ]
        if edge is not None and bands:
            at.append((bands[0][0], edge))
        for band, y in at:
            half = one.half(band.below_mm)
            pen = Pen()
            pen.line((one.middle - half, y), (one.middle + half, y))
            weight = {"class": "seam", "stroke-width": "1.8"} if band.made else {"class": "seam to-come"}
            ET.SubElement(parent, "path", {**weight, "d": pen.d})

    def _band(self, parent: ET.Element, one: Placed, band: Band, foot: float, top: float) -> None:
        below, wide, x = one.half(band.below_mm), one.half(band.width_mm), one.middle
        y = (foot + top) / 2
        self._outline(
            parent, one, band, [(x - below, foot), (x - wide, top), (x + wide, top), (x + below, foot)]
        )
        inner = (x - one.side * (below + wide) / 2, y)
        self.edges.setdefault((one.piece, band.section), []).append(inner)
        self.middles[one.piece, band.spot] = (x, y)

    def _outline(self, parent: ET.Element, one: Placed, band: Band, corners: Sequence[Point]) -> None:
        differs = one.piece == 2 and band.spot in self.differing
        pen = Pen()
        pen.line(corners[0], *corners[1:])
        pen.close()
        names = ["band", "made" if band.made else "to-come", *(["differs"] if differs else [])]
        dashed = {} if band.made else {"stroke-dasharray": "3 2.5"}
        ET.SubElement(
            parent, "path", {"class": " ".join(names), "data-spot": band.spot, "d": pen.d, **dashed}
        )
        self.reach(*(y for _, y in corners))
        if differs:
            hatch = hatched(corners)
            ET.SubElement(parent, "path", {"class": "hatch", "stroke-width": "0.9", "d": hatch.d})

    def _limb(self, parent: ET.Element, one: Placed, gap: Band, limb: Limb, y: float) -> None:
        """A tube that leans outward and up from the body's edge."""
        aside, up = one.side * math.cos(LEAN), -math.sin(LEAN)
        foot = (one.middle + one.side * one.half((gap.below_mm + gap.width_mm) / 2), y)
        group = ET.SubElement(parent, "g", {"class": "limb"})
        for band in limb.bands:
            long = band.height_mm * one.scale
            top = (foot[0] + aside * long, foot[1] + up * long)
            low, high = (one.half(mm) / math.cos(LEAN) for mm in (band.below_mm, band.width_mm))
            self._outline(
                group, one, band,
                [
                    (foot[0], foot[1] + low), (top[0], top[1] + high),
                    (top[0], top[1] - high), (foot[0], foot[1] - low),
                ],
            )  # fmt: skip
            at = ((foot[0] + top[0]) / 2, (foot[1] + top[1]) / 2)
            self.edges.setdefault((one.piece, band.section), []).append(at)
            self.middles[one.piece, band.spot] = at
            foot = top

    def _opening(self, parent: ET.Element, one: Placed, band: Band, foot: float, top: float) -> None:
        """The gap where it opens at the body's edge: half of it is seen, the other half lies behind."""
        edge = one.middle + one.side * one.half(band.width_mm)
        deep = min(one.shape.openings[band.spot] * one.scale, 0.9 * one.half(band.width_mm))
        inner = edge - one.side * deep * 1.33
        pen = Pen()
        pen.move((edge, foot))
        pen.curve((inner, foot), (inner, top), (edge, top))
        pen.close()
        ET.SubElement(parent, "path", {"class": "opening", "d": pen.d})

    def reach(self, *ys: float) -> None:
        """Takes these heights in."""
        self.low, self.high = max(self.low, *ys), min(self.high, *ys)


def hatched(corners: Sequence[Point]) -> Pen:
    """Slanted lines across a band."""
    pen = Pen()
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
    many = max(2, round(math.hypot(x3 - x0, y3 - y0) / HATCH_PX))
    for at in range(many):
        low, high = at / many, (at + 1) / many
        pen.line((x0 + (x3 - x0) * low, y0 + (y3 - y0) * low), (x1 + (x2 - x1) * high, y1 + (y2 - y1) * high))
    return pen


def reach_mm(shape: Shape) -> float:
    """How far its limbs reach beside the body."""
    return max(
        (sum(band.height_mm for band in limb.bands) * math.cos(LEAN) for limb in shape.limbs), default=0.0
    )
