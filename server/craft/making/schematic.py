"""The schematic of a printed pattern: the piece in outline, laid flat, with its measures at every size.

Drawn at the middle size; a measure's letter stands at its line, its numbers beside it where there is room,
and all of them in the table that goes with it. No colour says anything; the same input gives the same bytes.
"""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import dataclass, field

from server.craft.fabric.chart.canvas import Box, clean, text_width
from server.craft.fabric.chart.pen import Pen, Point, number
from server.craft.making.pairpieces import LEAN, reach_mm
from server.craft.making.pairshape import Band, Shape
from server.craft.making.sizemeasures import Measured, SizeMeasure, gap_mm, lower_mm, upper_mm
from server.craft.measure.lengths import MM_PER_INCH, Units

WIDEST_PX, HIGHEST_PX = 240.0, 280.0
TEXT_PX = 13.0
OFF_PX = 16.0  # a dimension line stands so far from what it measures
TICK_PX = 5.0
COLUMN_PX = 30.0  # between upright lines, with the words of one along it
WORDS_MOST_PX = 150.0  # more numbers than fit here stand in the table alone
FONT = "Atkinson Next, Atkinson Hyperlegible Next, system-ui, sans-serif"


def by_size(mm: Sequence[float], units: Units) -> str:
    """Lengths at each size as a printed pattern has them: "16 (17.5, 19)"; one where all are the same.

    To half a centimetre, or to a quarter of an inch: closer than that no tape is laid on crochet.
    """
    step = MM_PER_INCH / 4 if units == "in" else 5.0
    unit = MM_PER_INCH if units == "in" else 10.0
    said = [f"{math.floor(each / step + 0.5) * step / unit:g}" for each in mm]
    if len(set(said)) == 1:
        return said[0]
    return f"{said[0]} ({', '.join(said[1:])})"


def schematic(found: Measured, *, units: Units = "cm", title: str = "", prefix: str = "") -> str:
    """The SVG document; "" where the pattern has no measures. prefix: before every id."""
    if not found.measures:
        return ""
    middle = len(found.shapes) // 2
    return _Drawing(found.shapes[middle], found, units).document(title, prefix, found.sizes[middle])


@dataclass(slots=True)
class _Drawing:
    """Coordinates are px: x from the middle of the body, y from the foundation's edge (or the tip's base)."""

    shape: Shape
    found: Measured
    units: Units
    body: ET.Element = field(default_factory=lambda: ET.Element("g"))
    box: Box = field(default_factory=Box)

    @property
    def scale(self) -> float:
        """px for a millimetre."""
        wide = self.shape.width_mm + reach_mm(self.shape)
        return min(WIDEST_PX / wide, HIGHEST_PX / self.shape.length_mm) if self.shape.length_mm else 1.0

    @property
    def top(self) -> float:
        """y of the highest edge of the body."""
        return -sum(band.height_mm for band in self.shape.bands) * self.scale

    @property
    def bottom(self) -> float:
        """y of the lowest edge."""
        return sum(band.height_mm for band in self.shape.edging) * self.scale

    def document(self, title: str, prefix: str, size: str) -> str:
        """All of it."""
        self._outlines()
        for each in self.found.measures:
            self._measure(each)
        ids = f"{prefix}schematic-title", f"{prefix}schematic-desc"
        left, high = math.floor(self.box.left - 4), math.floor(self.box.top - 4)
        wide, tall = math.ceil(self.box.right + 4) - left, math.ceil(self.box.bottom + 4) - high
        root = ET.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg", "class": "schematic", "role": "img",
                "viewBox": f"{left} {high} {wide} {tall}", "width": str(wide), "height": str(tall),
                "aria-labelledby": " ".join(ids), "fill": "none", "stroke": "currentColor",
                "stroke-width": "1.4", "stroke-linejoin": "round", "stroke-linecap": "round",
                "font-family": FONT, "font-size": number(TEXT_PX),
            },
        )  # fmt: skip
        ET.SubElement(root, "title", {"id": ids[0]}).text = clean(f"{title or 'The piece'}, laid flat")
        ET.SubElement(root, "desc", {"id": ids[1]}).text = clean(self._described(size))
        root.append(self.body)
        return ET.tostring(root, encoding="unicode") + "\n"

    def _described(self, size: str) -> str:
        said = "; ".join(
            f"{each.letter}: {each.name.lower()} {by_size(each.mm, self.units)} {self.units}"
            for each in self.found.measures
        )
        return f"In outline, drawn at {size}. {said}."

    # --- the piece ---------------------------------------------------------------------------------------

    def _outlines(self) -> None:
        scale, foot = self.scale, self.top if self.shape.downward else 0.0
        step = 1 if self.shape.downward else -1
        feet: dict[str, tuple[float, float]] = {}
        for band in self.shape.bands:
            feet[band.spot] = foot, foot + step * band.height_mm * scale
            foot = feet[band.spot][1]
        self._tube(self.shape.bands, [feet[band.spot] for band in self.shape.bands])
        self._seams(feet)
        below, spans = 0.0, []
        for band in self.shape.edging:
            spans.append((below, below + band.height_mm * scale))
            below = spans[-1][1]
        self._tube(self.shape.edging, spans)
        for spot, long_mm in self.shape.openings.items():
            band = next(each for each in self.shape.bands if each.spot == spot)
            self._opening(band, long_mm, *feet[spot])
        for at, limb in enumerate(self.shape.limbs):
            if limb.bands and limb.gap in feet:
                self._limb(at, sum(feet[limb.gap]) / 2)

    def _tube(self, bands: Sequence[Band], spans: Sequence[tuple[float, float]]) -> None:
        if not bands:
            return
        sides = [
            point
            for band, (foot, top) in zip(bands, spans, strict=True)
            for point in ((band.below_mm * self.scale / 2, foot), (band.width_mm * self.scale / 2, top))
        ]
        self._path([*((-x, y) for x, y in sides), *reversed(sides)], "outline", closed=True)

    def _seams(self, feet: dict[str, tuple[float, float]]) -> None:
        """Where a section begins upon another, a thin line."""
        for below, band in zip(self.shape.bands, self.shape.bands[1:], strict=False):
            if band.section != below.section:
                half, y = band.below_mm * self.scale / 2, feet[band.spot][0]
                self._path([(-half, y), (half, y)], "seam", width="0.7")

    def _opening(self, band: Band, long_mm: float, foot: float, top: float) -> None:
        edge = band.width_mm * self.scale / 2
        inner = edge - min(long_mm * self.scale, 0.9 * edge) * 1.33
        pen = Pen()
        pen.move((edge, foot))
        pen.curve((inner, foot), (inner, top), (edge, top))
        ET.SubElement(self.body, "path", {"class": "opening", "stroke-width": "0.9", "d": pen.d})

    def _limb(self, at: int, y: float) -> None:
        lower, upper = self._limb_edges(at, y)
        self._path([*lower, *reversed(upper)], "outline limb", closed=True)

    def _limb_edges(self, at: int, y: float) -> tuple[list[Point], list[Point]]:
        """The two long edges of a limb that leans to the right, from the body outward."""
        limb = self.shape.limbs[at]
        gap = next(band for band in self.shape.bands if band.spot == limb.gap)
        x = (gap.below_mm + gap.width_mm) * self.scale / 4
        aside, up = math.cos(LEAN), -math.sin(LEAN)
        lower: list[Point] = []
        upper: list[Point] = []
        for band in limb.bands:
            for mm, along in ((band.below_mm, 0.0), (band.width_mm, band.height_mm * self.scale)):
                half = mm * self.scale / 2
                x, y = x + aside * along, y + up * along
                lower.append((x - up * half, y + aside * half))
                upper.append((x + up * half, y - aside * half))
        return lower, upper

    # --- measures ----------------------------------------------------------------------------------------

    def _measure(self, each: SizeMeasure) -> None:
        words = f"{each.letter}  {by_size(each.mm, self.units)} {self.units}"
        if text_width(words, TEXT_PX) > WORDS_MOST_PX:
            words = each.letter
        scale = self.scale
        if each.where == "lower":
            self._across(lower_mm(self.shape) * scale / 2, self.bottom + OFF_PX, words, below=True)
        elif each.where == "upper":
            self._across(upper_mm(self.shape) * scale / 2, self.top - OFF_PX, words, below=False)
        elif each.where == "widest":
            half = self.shape.width_mm * scale / 2
            self._across(half, self.bottom + OFF_PX + 2 * TEXT_PX + 8, words, below=True)
        elif each.where == "length":
            self._upright(2 if self._has_gap else 1, self.top, self.bottom, words)
        elif each.where == "to gap":
            self._upright(1, self.bottom - gap_mm(self.shape) * scale, self.bottom, words)
        else:
            self._of_limb(each, words)

    @property
    def _has_gap(self) -> bool:
        return any(each.where == "to gap" for each in self.found.measures)

    def _across(self, half: float, y: float, words: str, *, below: bool) -> None:
        self._dimension((-half, y), (half, y))
        self._text((0.0, y + (TEXT_PX + 4 if below else -8.0)), words, "middle")

    def _upright(self, column: int, top: float, bottom: float, words: str) -> None:
        """To the left of the body, its words along it, to be read from the right; a letter where the line is
        shorter than its words."""
        x = -self.shape.width_mm * self.scale / 2 - OFF_PX - (column - 1) * COLUMN_PX
        self._dimension((x, top), (x, bottom))
        middle = (top + bottom) / 2
        if text_width(words, TEXT_PX) <= bottom - top:
            self._text((x - 6.0, middle), words, "middle", along=True)
        else:
            self._text((x - 6.0, middle + TEXT_PX * 0.36), words.split()[0], "end")

    def _of_limb(self, each: SizeMeasure, words: str) -> None:
        limb = self.shape.limbs[each.limb]
        gap = next(band for band in self.shape.bands if band.spot == limb.gap)
        gap_y = -gap_middle_mm(self.shape, gap) * self.scale
        lower, upper = self._limb_edges(each.limb, gap_y)
        aside, up = math.cos(LEAN), -math.sin(LEAN)
        if each.where == "limb across":
            ends = [(x + aside * OFF_PX, y + up * OFF_PX) for x, y in (lower[-1], upper[-1])]
            self._dimension(ends[0], ends[1])
            x, y = ((ends[0][n] + ends[1][n]) / 2 for n in (0, 1))
            self._text((x + 7.0, y + TEXT_PX * 0.36 - 4), words, "start")
        else:
            ends = [(x - up * OFF_PX, y + aside * OFF_PX) for x, y in (lower[0], lower[-1])]
            self._dimension(ends[0], ends[1])
            x, y = ((ends[0][n] + ends[1][n]) / 2 for n in (0, 1))
            self._text((x + 6.0, y + TEXT_PX + 2), words, "start")

    def _dimension(self, a: Point, b: Point) -> None:
        """A thin line with a tick across at both ends."""
        pen = Pen()
        pen.line(a, b)
        long = math.hypot(b[0] - a[0], b[1] - a[1]) or 1.0
        dx, dy = (b[1] - a[1]) / long * TICK_PX, -(b[0] - a[0]) / long * TICK_PX
        for x, y in (a, b):
            pen.line((x - dx, y - dy), (x + dx, y + dy))
            self.box.take_in(x - TICK_PX, y - TICK_PX, x + TICK_PX, y + TICK_PX)
        ET.SubElement(self.body, "path", {"class": "dimension", "stroke-width": "0.8", "d": pen.d})

    def _path(self, points: Sequence[Point], name: str, *, closed: bool = False, width: str = "") -> None:
        pen = Pen()
        pen.line(points[0], *points[1:])
        if closed:
            pen.close()
        thin = {"stroke-width": width} if width else {}
        ET.SubElement(self.body, "path", {"class": name, "d": pen.d, **thin})
        for x, y in points:
            self.box.take_in(x, y, x, y)

    def _text(self, at: Point, words: str, anchor: str, *, along: bool = False) -> None:
        """Words with their baseline at a point; along: turned to the left."""
        placed = {"x": number(at[0]), "y": number(at[1]), "text-anchor": anchor}
        if along:
            placed["transform"] = f"rotate(-90 {number(at[0])} {number(at[1])})"
        element = ET.SubElement(self.body, "text", {**placed, "fill": "currentColor", "stroke": "none"})
        element.text = clean(words)
        wide = text_width(words, TEXT_PX)
        before = wide if anchor == "end" else wide / 2 if anchor == "middle" else 0.0
        if along:
            self.box.take_in(at[0] - TEXT_PX, at[1] - wide + before, at[0] + 4.0, at[1] + before)
        else:
            self.box.take_in(at[0] - before, at[1] - TEXT_PX, at[0] - before + wide, at[1] + 4.0)


def gap_middle_mm(shape: Shape, gap: Band) -> float:
    """How high above the foundation's edge the middle of a gap's round lies."""
    at = [band.spot for band in shape.bands].index(gap.spot)
    inside = shape.bands[at + 1 :] if shape.downward else shape.bands[:at]
    return sum(band.height_mm for band in inside) + gap.height_mm / 2
