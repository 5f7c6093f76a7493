"""Labels of a chart stand apart from each other and from the stitches, on a phone and on a page, for either
hand, for every pattern of the cases."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from server.craft.fabric import Fabric, work
from server.craft.fabric.chart import chart
from server.craft.fabric.chart.canvas import text_width
from server.craft.fabric.values import Numbers
from server.craft.text import read
from server.craft.text.reader import special_stitches
from server.craft.text.tree import Pattern
from tests.craft.chart.charted import SVG, parsed, points

CASES = Path(__file__).parents[2] / "cases" / "proved"
NAMES = sorted(path.stem for path in CASES.glob("*.txt"))
MANNERS: dict[str, dict[str, Any]] = {
    "phone": {"width_px": 360},
    "phone, left": {"width_px": 360, "hand": "left"},
    "page": {"page": "A4"},
}
INK = 0.72  # of a letter's height above its baseline, for digits and capitals
TOUCH = 1.0  # drawing units that boxes may share: they are made on the safe side


@dataclass(frozen=True)
class Box:
    """Where something is drawn."""

    what: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        return (
            self.left + TOUCH < other.right
            and other.left + TOUCH < self.right
            and self.top + TOUCH < other.bottom
            and other.top + TOUCH < self.bottom
        )


@cache
def worked(name: str) -> tuple[Pattern, Fabric]:
    pattern = read((CASES / f"{name}.txt").read_text(encoding="utf-8")).pattern
    header = pattern.header
    foundation = header.foundations[0] if header.foundations else None
    return pattern, work(pattern, Numbers(foundation, header.sizes[0]))


def drawn(name: str, manner: dict[str, Any]) -> ET.Element:
    pattern, fabric = worked(name)
    options = {"terms": "US", "special": special_stitches(pattern), "title": pattern.header.title, **manner}
    return parsed(chart(fabric, **options))


def shift(group: ET.Element) -> tuple[float, float]:
    words = group.get("transform", "translate(0 0)").removeprefix("translate(").removesuffix(")").split()
    return float(words[0]), float(words[1])


def text_boxes(group: ET.Element, dx: float, dy: float) -> list[Box]:
    found = []
    for each in group.iter(f"{SVG}text"):
        words, size = "".join(each.itertext()), float(each.attrib["font-size"])
        wide, x, y = text_width(words, size), float(each.attrib["x"]) + dx, float(each.attrib["y"]) + dy
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[each.attrib["text-anchor"]]
        found.append(Box(words, left, y - INK * size, left + wide, y))
    return found


def symbol_boxes(group: ET.Element, dx: float, dy: float) -> list[Box]:
    """Symbols that are drawn upright: the box of a slanting one is mostly empty."""
    found = []
    for each in group.iter(f"{SVG}path"):
        if each.get("class", "").startswith(("st ", "place ")):
            at = points(each.attrib["d"])
            xs, ys = [x + dx for x, _ in at], [y + dy for _, y in at]
            found.append(Box(each.attrib["class"], min(xs), min(ys), max(xs), max(ys)))
    return found


@pytest.mark.parametrize("manner", MANNERS)
@pytest.mark.parametrize("name", NAMES)
def test_labels_meet_neither_each_other_nor_a_stitch(name: str, manner: str) -> None:
    root = drawn(name, MANNERS[manner])
    texts: list[Box] = []
    for panel in [g for g in root.iter(f"{SVG}g") if g.get("class", "").split()[:1] == ["panel"]]:
        dx, dy = shift(panel)
        labels, symbols = text_boxes(panel, dx, dy), symbol_boxes(panel, dx, dy)
        flat = "panel--round" not in panel.get("class", "")
        for label in labels:
            if flat:
                met = [one for one in symbols if label.meets(one)]
                assert not met, (label, met[:3])
        texts += labels
    key = [text_boxes(g, 0.0, 0.0) for g in root.iter(f"{SVG}g") if g.get("class") == "key"]
    texts += key[0]
    for at, one in enumerate(texts):
        for other in texts[at + 1 :]:
            assert not one.meets(other), (one, other)


def test_the_key_shows_a_loop_under_a_stitch_that_the_chart_has() -> None:
    """All single crochet in the back loop: the sample is one too, a cross and no taller stitch's bar."""
    root = drawn("corded-row-cuffs", {})
    entries = {g.get("data-symbol", ""): g for g in root.iter(f"{SVG}g") if g.get("class") == "key-entry"}
    heights = {}
    for symbol in ("loop-back", "sc"):
        sample = next(p for p in entries[symbol].iter(f"{SVG}path") if p.get("class") == "sample")
        ys = [y for _, y in points(sample.attrib["d"])]
        heights[symbol] = max(ys) - min(ys)
    assert heights["loop-back"] == pytest.approx(heights["sc"], abs=6.0)
