"""The chart on its sheet: a phone that can scroll, a page that cannot."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from server.craft.fabric import Fabric, Numbers, work
from server.craft.fabric.chart import Hand, chart
from server.craft.text import read
from tests.craft.chart.charted import PATTERNS, PERCHES, fabric, of_class, parsed, specials, stitches, texts

NAMES = sorted(PATTERNS)


def wide_fabric() -> Fabric:
    """Sixty chains: wider than a page."""
    return work(read(PERCHES.strip()).pattern, Numbers(60))


def size_mm(svg: str) -> tuple[float, float]:
    root = parsed(svg)
    return float(root.attrib["width"].removesuffix("mm")), float(root.attrib["height"].removesuffix("mm"))


@pytest.mark.parametrize("name", NAMES)
def test_a_page_is_as_wide_as_its_text(name: str) -> None:
    wide, _ = size_mm(chart(fabric(name), terms="US", special=specials(name), page="A4"))
    assert 20 < wide <= 180.1


def test_a_wide_strip_is_cut_for_a_page_and_loses_nothing() -> None:
    piece = wide_fabric()
    whole = {one.id for one in stitches(parsed(chart(piece, terms="US")))}
    svg = chart(piece, terms="US", page="A4", only=(0, 1, 2))
    root = parsed(svg)
    assert "Cuff · Thumb gap · Hand (1 of 2)" in texts(root)
    assert "Cuff · Thumb gap · Hand (2 of 2)" in texts(root)
    cut = [one.id for one in stitches(root)]
    assert len(cut) == len(set(cut))
    assert set(cut) == {one for one in whole if one.split("-")[1] in "012"}
    assert size_mm(svg)[0] <= 180.1


def test_a_cut_does_not_part_a_group() -> None:
    """All five stitches of a Perch, and the chain in it, are in one piece."""
    root = parsed(chart(wide_fabric(), terms="US", page="A4", only=(0,)))
    piece_of = {one.id: at for at, panel in enumerate(of_class(root, "panel")) for one in stitches(panel)}
    for first in range(6, 70, 5):  # after the five nodes of the first Perch: groups of dc dc ch dc dc
        ids = [f"s-0-2-1-{at}" for at in range(first - 1, first + 4)]
        assert len({piece_of[one] for one in ids}) == 1


def test_symbols_keep_a_readable_size_on_a_phone() -> None:
    """Wider than 360 px, it is scrolled: a unit is never drawn smaller than 0.85 of a pixel."""
    root = parsed(chart(wide_fabric(), terms="US", width_px=360))
    wide = float(root.attrib["viewBox"].split()[2])
    assert float(root.attrib["width"]) / wide >= 0.84
    assert float(root.attrib["width"]) > 360


def test_a_narrow_chart_fits_a_phone() -> None:
    root = parsed(chart(fabric("moss"), terms="US", width_px=360))
    assert float(root.attrib["width"]) <= 360


@pytest.mark.parametrize(
    ("name", "manner"),
    [(name, {"width_px": 360}) for name in NAMES] + [(name, {"page": "A4"}) for name in NAMES],
)
def test_text_is_large_enough(name: str, manner: dict[str, Any]) -> None:
    """At least 9 CSS pixels (6.75 points) on the page, 12 on a phone."""
    root = parsed(chart(fabric(name), terms="US", special=specials(name), **manner))
    wide = float(root.attrib["viewBox"].split()[2])
    shown = root.attrib["width"]
    pixels = float(shown.removesuffix("mm")) * 96 / 25.4 if shown.endswith("mm") else float(shown)
    sizes = [float(one.attrib["font-size"]) for one in root.iter() if "font-size" in one.attrib]
    assert min(sizes) * pixels / wide >= (11.2 if "width_px" in manner else 9.0)


@pytest.mark.parametrize("name", NAMES)
def test_everything_lies_within_the_picture(name: str) -> None:
    hands: tuple[Hand, ...] = ("right", "left")
    for hand in hands:
        root = parsed(chart(fabric(name), terms="US", special=specials(name), hand=hand))
        left, top, wide, high = (float(part) for part in root.attrib["viewBox"].split())
        for panel in of_class(root, "panel"):
            dx, dy = (float(part) for part in panel.attrib["transform"][10:-1].split())
            for one in stitches(panel):
                for x, y in one.points:
                    assert left <= x + dx <= left + wide
                    assert top <= y + dy <= top + high


def test_panels_do_not_overlap() -> None:
    root = parsed(chart(fabric("perches"), terms="US"))
    spans = []
    for panel in of_class(root, "panel"):
        dy = float(panel.attrib["transform"][10:-1].split()[1])
        ys = [y + dy for one in stitches(panel) for _, y in one.points]
        spans.append((min(ys), max(ys)))
    assert len(spans) == 3
    assert all(one[1] < two[0] for one, two in pairwise(spans))
