"""A drawing's elements, and how much room they take."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import dataclass, field

from server.craft.fabric.chart.marks import Mark
from server.craft.fabric.chart.measures import Specials
from server.craft.fabric.chart.pen import Pen, Point, Projection, number
from server.craft.fabric.chart.symbols import FILLED, draw

LETTER = 0.62  # width of a letter in parts of the font's size: on the safe side for most fonts
CAPITAL, NARROW = 0.76, 0.38


@dataclass(slots=True)
class Box:
    """The room that drawn things take."""

    left: float = math.inf
    top: float = math.inf
    right: float = -math.inf
    bottom: float = -math.inf

    def take_in(self, left: float, top: float, right: float, bottom: float) -> None:
        """Widens it."""
        self.left, self.top = min(self.left, left), min(self.top, top)
        self.right, self.bottom = max(self.right, right), max(self.bottom, bottom)

    @property
    def width(self) -> float:
        """From left to right; 0 while nothing is drawn."""
        return max(0.0, self.right - self.left)

    @property
    def height(self) -> float:
        """From top to bottom; 0 while nothing is drawn."""
        return max(0.0, self.bottom - self.top)


@dataclass(slots=True)
class Canvas:
    """Draws marks and texts as elements; coordinates are a right-handed maker's, `mirrored` turns them.

    size   of the text, in drawing units
    """

    root: ET.Element
    mirrored: bool
    size: float
    specials: Specials
    box: Box = field(default_factory=Box)

    def group(self, parent: ET.Element, **attributes: str) -> ET.Element:
        """A group within another."""
        return ET.SubElement(
            parent, "g", {name.rstrip("_").replace("_", "-"): value for name, value in attributes.items()}
        )

    def mark(self, parent: ET.Element, mark: Mark, project: Projection, attributes: dict[str, str]) -> None:
        """One symbol, as one path."""
        pen = Pen(self.mirrored)
        draw(mark, project, pen, self.specials)
        filled = {"fill": "currentColor"} if mark.shape in FILLED else {}
        ET.SubElement(parent, "path", {**attributes, "d": pen.d, **filled})
        self.box.take_in(*pen.low, *pen.high)

    def marks(self, parent: ET.Element, marks: Sequence[Mark], project: Projection) -> None:
        """Symbols that nobody asks for one by one, as two paths: outlines, and what is filled."""
        for filled in (False, True):
            pen = self.pen()
            for mark in marks:
                if (mark.shape in FILLED) == filled:
                    draw(mark, project, pen, self.specials)
            if pen.parts:
                ET.SubElement(parent, "path", {"d": pen.d, **({"fill": "currentColor"} if filled else {})})
                self.box.take_in(*pen.low, *pen.high)

    def path(self, parent: ET.Element, pen: Pen, **attributes: str) -> None:
        """A path that is no stitch."""
        named = {name.rstrip("_").replace("_", "-"): value for name, value in attributes.items()}
        ET.SubElement(parent, "path", {**named, "d": pen.d})
        self.box.take_in(*pen.low, *pen.high)

    def pen(self) -> Pen:
        """A pen for this drawing."""
        return Pen(self.mirrored)

    def text(
        self,
        parent: ET.Element,
        at: Point,
        words: str,
        *,
        anchor: str = "middle",
        size: float | None = None,
        **attributes: str,
    ) -> None:
        """Words with their baseline at a point; never mirrored, but on the mirrored side."""
        size = size or self.size
        x, y = (-at[0] if self.mirrored else at[0]), at[1]
        if self.mirrored:
            anchor = {"start": "end", "end": "start"}.get(anchor, anchor)
        named = {name.rstrip("_").replace("_", "-"): value for name, value in attributes.items()}
        placed = {
            "x": number(x), "y": number(y), "text-anchor": anchor, "font-size": number(size),
            "fill": "currentColor", "stroke": "none",
        }  # fmt: skip
        element = ET.SubElement(parent, "text", {**placed, **named})
        element.text = clean(words)
        long = text_width(words, size)
        left = x - {"start": 0.0, "middle": long / 2, "end": long}[anchor]
        self.box.take_in(left, y - 0.8 * size, left + long, y + 0.25 * size)


def clean(words: str) -> str:
    """Words without characters that XML cannot hold."""
    return re.sub(r"[^\t\n\r\x20-\uD7FF\uE000-\uFFFD\U00010000-\U0010FFFF]", "", words)


def text_width(words: str, size: float) -> float:
    """About how wide words are."""
    return size * sum(
        CAPITAL if letter.isupper() else NARROW if letter in "iljt.,:' " else LETTER for letter in words
    )


def wrapped(words: str, widest: float, size: float) -> list[str]:
    """Words in lines no wider than that, where they can be broken."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size) <= widest:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines or [""]


def middle(points: Sequence[Point]) -> Point:
    """The mean of points."""
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)
