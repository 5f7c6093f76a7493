"""Both pieces of a pair drawn to one scale, side by side, the foundation's edge down: what is made, what is
to come, and where they differ.

Between them stand the sections with both numbers of rounds. A difference is a numbered lozenge and hatched
lines, never a colour alone. Colours are the page's own, as in a chart; the same input gives the same bytes.
"""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from server.craft.fabric.chart.canvas import clean, text_width, wrapped
from server.craft.fabric.chart.pen import Pen, Point, number
from server.craft.fabric.chart.spacing import stacked
from server.craft.making.differences import Difference
from server.craft.making.log import Making
from server.craft.making.pairpieces import Pieces, Placed, reach_mm
from server.craft.making.pairsaid import PairWords, pair_words
from server.craft.making.pairshape import Shape, sections_from_below, shapes
from server.craft.making.placing import Planner, piece_plan
from server.craft.making.shapes import Plan, PlanSection
from server.craft.making.spots import section_of
from server.craft.making.twins import Verdict, verdict
from server.craft.measure.lengths import Units
from server.craft.text.tree import Pattern, Terms

WIDE_PX = 360.0
HIGHEST_PX = 440.0
TEXT_PX = 13.0
LINE_PX = 15.0
NAMES_PX = 96.0  # the column with the sections' names and numbers
ROOM_PX = 8.0  # between a piece and that column
NUMBER_ROOM_PX = 9.0  # between a section's name and a number beside it
LEAN = math.atan(0.7)  # a limb leans so far from level
LOZENGE_PX = 10.0  # half of a mark
MARKS_IN_A_ROW = 4
FONT = "Atkinson Next, Atkinson Hyperlegible Next, system-ui, sans-serif"


@dataclass(frozen=True, slots=True)
class PairDrawing:
    """The drawing, and what it was drawn by, in a sentence."""

    svg: str
    scale_words: str


def pair_drawing(
    pattern: Pattern,
    making: Making,
    terms: Terms = "US",
    planner: Planner | None = None,
    *,
    units: Units = "cm",
    judged: Verdict | None = None,
    title: str = "",
    prefix: str = "",
) -> PairDrawing:
    """The pair as an SVG document, 360 units wide and as high as it needs: CSS pixels on a phone.

    Differences that are not accepted are numbered in the order of `verdict`, those that are have a mark
    without a number; pieces are drawn as `pairshape.shapes` says. A part in one piece, called `title`, is
    drawn alone. judged: the pair's verdict, where it is known. prefix: before every id. ValueError where no
    numbers are settled yet.
    """
    pieces = (1,) if pattern.header.pieces == "one" else (1, 2)
    plans = {piece: piece_plan(pattern, making, piece, terms, planner) for piece in pieces}
    found = (judged or verdict(pattern, making, terms, planner, units)).differences
    laid = shapes(pattern, making, plans)
    words = pair_words(pattern, plans, laid, found, title, units)
    differing = {each.spot for each in found if each.spot and not each.accepted}
    drawing = _Drawing(plans, laid, found, words, Pieces(differing))
    return PairDrawing(drawing.document(prefix), words.scale)


@dataclass(slots=True)
class _Drawing:
    plans: Mapping[int, Plan]
    laid: Mapping[int, Shape]
    found: Sequence[Difference]
    words: PairWords
    pieces: Pieces
    body: ET.Element = field(default_factory=lambda: ET.Element("g"))

    def document(self, prefix: str) -> str:
        """The SVG."""
        placed = self._place()
        base = max(sum(band.height_mm for band in one.shape.bands) * one.scale for one in placed)
        for one in placed:
            self.pieces.draw(self.body, one, base)
        marks = ET.SubElement(self.body, "g", {"class": "marks"})
        self._list(placed)
        self._names(placed, self.pieces.low + 8.0)
        self._marks(marks, placed, base)
        self.body.remove(marks)  # on top of all
        self.body.append(marks)
        ids = f"{prefix}pair-title", f"{prefix}pair-desc"
        top, bottom = math.floor(self.pieces.high - 6.0), math.ceil(self.pieces.low + 4.0)
        root = ET.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg", "class": "pair-drawing", "role": "img",
                "viewBox": f"-2 {top} {WIDE_PX + 4:.0f} {bottom - top}", "width": f"{WIDE_PX + 4:.0f}",
                "height": str(bottom - top), "aria-labelledby": " ".join(ids), "fill": "none",
                "stroke": "currentColor", "stroke-width": "1", "stroke-linejoin": "round",
                "stroke-linecap": "round", "font-family": FONT, "font-size": number(TEXT_PX),
            },
        )  # fmt: skip
        ET.SubElement(root, "title", {"id": ids[0]}).text = clean(self.words.title)
        ET.SubElement(root, "desc", {"id": ids[1]}).text = clean(self.words.description)
        root.append(self.body)
        return ET.tostring(root, encoding="unicode") + "\n"

    def _place(self) -> tuple[Placed, ...]:
        """All to one scale: the widest piece fits its side, the longest the height."""
        alone = len(self.laid) == 1
        room = (WIDE_PX - NAMES_PX) / (1 if alone else 2) - ROOM_PX
        widest = max(shape.width_mm for shape in self.laid.values())
        aside = max(reach_mm(shape) for shape in self.laid.values())
        longest = max(shape.length_mm for shape in self.laid.values())
        scale = min(room / (widest + aside), HIGHEST_PX / longest) if widest and longest else 1.0
        wide = (widest + aside) * scale
        middle = (room - wide) / 2 + (aside + widest / 2) * scale
        one = Placed(1, self.laid[1], middle, -1, room + ROOM_PX, scale)
        if alone:
            return (one,)
        return (one, Placed(2, self.laid[2], WIDE_PX - middle, 1, WIDE_PX - room - ROOM_PX, scale))

    # --- the list between --------------------------------------------------------------------------------

    def _list(self, placed: Sequence[Placed]) -> None:
        """The sections in a column, each near its bands, with a line to them."""
        holder = ET.SubElement(self.body, "g", {"class": "sections"})
        blocks = [self._block(section, placed) for section in self._sections()]
        wished = [self._wish(section) for section in self._sections()]
        heights = [block.height for block in blocks]
        for block, y in zip(blocks, stacked(wished, heights), strict=True):
            self.pieces.reach(y - block.height / 2, y + block.height / 2)
            block.draw(holder, self, placed, y)

    def _sections(self) -> list[PlanSection]:
        plan = max(self.plans.values(), key=lambda each: len(each.rounds))
        downward = next(iter(self.laid.values())).downward
        drawn = {section for _, section in self.pieces.edges}
        return [s for s in sections_from_below(plan.sections, downward=downward) if s.index in drawn]

    def _wish(self, section: PlanSection) -> float:
        ys = [
            y for (_, index), points in self.pieces.edges.items() if index == section.index for _, y in points
        ]
        return (min(ys) + max(ys)) / 2

    def _block(self, section: PlanSection, placed: Sequence[Placed]) -> _Block:
        told = [self.words.rounds[one.piece, section.index] for one in placed]
        marks = [
            at
            for at, each in enumerate(self._open, 1)
            if each.spot and section_of(each.spot) == section.index
        ]
        beside = sum(text_width(each, TEXT_PX) + NUMBER_ROOM_PX for each in told)
        longest = max(text_width(word, TEXT_PX) for word in section.title.split() or [""])
        inline = longest + beside <= NAMES_PX
        lines = in_lines(section.title, NAMES_PX - beside if inline else NAMES_PX)
        return _Block(section, tuple(told), tuple(marks), tuple(lines), inline)

    # --- marks and names ---------------------------------------------------------------------------------

    @property
    def _open(self) -> list[Difference]:
        return [each for each in self.found if not each.accepted]

    def _marks(self, parent: ET.Element, placed: Sequence[Placed], base: float) -> None:
        """A lozenge with its number at each difference; one that is meant is a small empty one."""
        numbers = {id(each): str(at) for at, each in enumerate(self._open, 1)}
        places: dict[Point, list[Difference]] = {}
        for each in self.found:
            places.setdefault(self._where(each, placed[-1], base), []).append(each)
        for (x, y), there in places.items():
            apart = min(2 * LOZENGE_PX + 2.0, NAMES_PX / len(there))
            for at, each in enumerate(there):
                point = (x + (at - (len(there) - 1) / 2) * apart, y)
                words = numbers.get(id(each), "")
                lozenge(parent, point, words, LOZENGE_PX if words else LOZENGE_PX * 0.55)

    def _where(self, each: Difference, two: Placed, base: float) -> Point:
        """Where it shows: at its round in piece two; where that has none, in piece one; else at the edge."""
        if each.spot is not None:
            for piece in (two.piece, 1):
                if (piece, each.spot) in self.pieces.middles:
                    return self.pieces.middles[piece, each.spot]
        return two.middle, base

    def _names(self, placed: Sequence[Placed], y: float) -> None:
        """Below each piece its name, in lines where it is a long title, and its size."""
        holder = ET.SubElement(self.body, "g", {"class": "names"})
        widest = (WIDE_PX - 2 * ROOM_PX) / len(placed) - 2 * ROOM_PX
        for one in placed:
            lines = [(words, "bold") for words in in_lines(self.words.names[one.piece], widest)]
            if size := self.words.sizes[one.piece]:
                lines.append((size, "normal"))
            half = max(text_width(words, TEXT_PX) for words, _ in lines) / 2
            x = min(max(one.middle, half), WIDE_PX - half)
            for at, (words, weight) in enumerate(lines, 1):
                self.text(holder, (x, y + at * LINE_PX), words, weight=weight)
                self.pieces.reach(y + at * LINE_PX + 4.0)

    def text(
        self, parent: ET.Element, at: Point, words: str, *, anchor: str = "middle", weight: str = "normal"
    ) -> None:
        """Words with their baseline at a point."""
        bold = {"font-weight": "bold"} if weight == "bold" else {}
        placed = {"x": number(at[0]), "y": number(at[1]), "text-anchor": anchor}
        element = ET.SubElement(parent, "text", {**placed, "fill": "currentColor", "stroke": "none", **bold})
        element.text = clean(words)


@dataclass(frozen=True, slots=True)
class _Block:
    """A section in the list: its name in lines, what is told of each piece, the numbers of its differences.

    inline  the numbers of rounds stand beside the name, else below it
    """

    section: PlanSection
    told: tuple[str, ...]
    marks: tuple[int, ...]
    lines: tuple[str, ...]
    inline: bool

    @property
    def height(self) -> float:
        """In px."""
        return (
            (len(self.lines) + (not self.inline)) * LINE_PX
            + math.ceil(len(self.marks) / MARKS_IN_A_ROW) * (2 * LOZENGE_PX + 2.0)
            + 5.0
        )

    def draw(self, parent: ET.Element, drawing: _Drawing, placed: Sequence[Placed], y: float) -> None:
        """With its middle at y."""
        names = "section differs" if self.marks else "section"
        holder = ET.SubElement(parent, "g", {"class": names})
        weight = "bold" if self.marks else "normal"
        alone = len(placed) == 1
        first = y - self.height / 2 + LINE_PX * 0.8 + 2.5
        middle = placed[0].edge + NAMES_PX / 2
        if alone:
            middle += (text_width(self.told[0], TEXT_PX) + NUMBER_ROOM_PX) / 2 if self.inline else 0.0
        for at, words in enumerate(self.lines):
            drawing.text(holder, (middle, first + at * LINE_PX), words, weight=weight)
        row = (
            first + (len(self.lines) - 1) * LINE_PX / 2 if self.inline else first + len(self.lines) * LINE_PX
        )
        for one, words in zip(placed, self.told, strict=True):
            drawing.text(
                holder, (one.edge, row), words, anchor="start" if one.side < 0 else "end", weight=weight
            )
            self._lead(holder, drawing, one, row - TEXT_PX * 0.36)
        below = first + (len(self.lines) + (not self.inline) - 1) * LINE_PX + LOZENGE_PX + 5.0
        for start in range(0, len(self.marks), MARKS_IN_A_ROW):
            row_of = self.marks[start : start + MARKS_IN_A_ROW]
            for at, mark in enumerate(row_of):
                x = placed[0].edge + NAMES_PX / 2 + (at - (len(row_of) - 1) / 2) * (2 * LOZENGE_PX + 3.0)
                lozenge(holder, (x, below + start / MARKS_IN_A_ROW * (2 * LOZENGE_PX + 2.0)), str(mark))

    def _lead(self, parent: ET.Element, drawing: _Drawing, one: Placed, y: float) -> None:
        """A line from the number to the middle of the section's bands; limbs lie on the other side."""
        points = drawing.pieces.edges.get((one.piece, self.section.index), [])
        if not points or self.section.kind == "gap edge" or one.shape.limb_of(self.section.index):
            return
        center = (min(y for _, y in points) + max(y for _, y in points)) / 2
        x, _ = min(points, key=lambda point: (abs(point[1] - center), point))
        pen = Pen()
        pen.line((x, center), (one.edge + one.side * 3.0, y))
        ET.SubElement(parent, "path", {"class": "lead", "stroke-width": "0.6", "d": pen.d})


def in_lines(words: str, widest: float) -> list[str]:
    """Words in lines no wider than that; a word that is wider by itself is parted."""
    parts: list[str] = []
    for word in words.split():
        rest = word
        while text_width(rest, TEXT_PX) > widest:
            long = next(
                at for at in range(len(rest), 0, -1) if at == 1 or text_width(rest[:at], TEXT_PX) <= widest
            )
            parts.append(rest[:long])
            rest = rest[long:]
        parts.append(rest)
    return wrapped(" ".join(parts), widest, TEXT_PX)


def lozenge(parent: ET.Element, at: Point, words: str, half: float = LOZENGE_PX) -> None:
    """A mark: a square on its corner, with a number in it."""
    x, y = at
    pen = Pen()
    pen.line((x, y - half), (x + half, y), (x, y + half), (x - half, y))
    pen.close()
    group = ET.SubElement(parent, "g", {"class": "lozenge" if words else "lozenge meant"})
    ET.SubElement(group, "path", {"d": pen.d, "stroke-width": "1.6" if words else "1"})
    if words:
        size = TEXT_PX * (1.0 if len(words) == 1 else 0.8)
        placed = {
            "x": number(x),
            "y": number(y + size * 0.36),
            "text-anchor": "middle",
            "font-size": number(size),
        }
        text = ET.SubElement(
            group, "text", {**placed, "fill": "currentColor", "stroke": "none", "font-weight": "bold"}
        )
        text.text = words
