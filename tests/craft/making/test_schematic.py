"""The schematic: what a piece measures at each size, by its gauge and its counts; and its drawing."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from server.craft.fabric.chart.canvas import text_width
from server.craft.making.schematic import TEXT_PX, by_size, schematic
from server.craft.making.sizemeasures import SizeMeasure, measured
from server.craft.text import read
from tests.craft.making.slipway import TEXT

CASES = Path(__file__).parents[2] / "cases" / "proved"
PROVED = sorted(path.stem for path in CASES.glob("*.txt"))
FERRY = (Path(__file__).parents[3] / "server" / "demo_data" / "ferry_mitts.txt").read_text(encoding="utf-8")
SVG = "{http://www.w3.org/2000/svg}"


def of(text: str, name: str) -> SizeMeasure:
    (found,) = (each for each in measured(read(text).pattern).measures if each.name == name)
    return found


def test_widths_are_the_counts_by_the_gauge() -> None:
    """27 (30, 33) chains at 18 stitches to 10 cm lie flat 27 / 18 * 5 = 7.5 (8.33, 9.17) cm; the thumb's 16
    are 4.44 cm."""
    assert of(FERRY, "Lower edge, laid flat").mm == pytest.approx((75.0, 83.33, 91.67), abs=0.01)
    assert of(FERRY, "Thumb, laid flat").mm == pytest.approx((44.44,) * 3, abs=0.01)


def test_lengths_are_the_rounds_by_the_gauge() -> None:
    """9 rounds of double crochet are 10 cm: 11.1 mm each; a single crochet is 18 parts of its 31, as it is
    drawn: 6.5 mm. Small has up to the gap: bottom edging and round 1 (2 sc), 6 dc rounds: 79.6 mm."""
    sc, dc = 100 / 9 * 18 / 31, 100 / 9
    assert of(FERRY, "Lower edge to the thumb gap").mm[0] == pytest.approx(2 * sc + 6 * dc, abs=0.01)
    # above it: the gap's round, 4 of the hand, the top edging
    assert of(FERRY, "Length, edge to edge").mm[0] == pytest.approx(3 * sc + 11 * dc, abs=0.01)


def test_a_gauge_is_of_one_stitch_at_every_size() -> None:
    """Fairweather large has as many low rounds as tall ones, the other sizes more tall ones: with one more
    round than medium it is longer than that all the same."""
    text = (CASES / "fairweather-uk-mitts.txt").read_text(encoding="utf-8")
    small, medium, large = of(text, "Length, edge to edge").mm
    assert small < medium < large


def test_in_rows_nothing_goes_around() -> None:
    rows = measured(read((CASES / "headland-chevron-scarf.txt").read_text(encoding="utf-8")).pattern)
    assert [each.around for each in rows.measures] == ["", ""]
    assert rows.measures[0].name == "Lower edge, across"


def test_without_a_gauge_there_are_no_measures_and_that_is_said() -> None:
    found = measured(read(re.sub(r"Gauge: .*\n", "", TEXT)).pattern)
    assert found.measures == ()
    assert found.why_not == "The pattern states no gauge, and measures follow from it."
    assert schematic(found) == ""


def test_without_rounds_in_the_gauge_there_are_no_lengths() -> None:
    found = measured(read(re.sub(r"Gauge: .*\n", "Gauge: 18 sts = 10 cm\n", FERRY)).pattern)
    assert [each.name for each in found.measures] == ["Lower edge, laid flat", "Thumb, laid flat"]
    assert "lengths do not follow" in found.why_not


@pytest.mark.parametrize(
    ("mm", "units", "said"),
    [
        ((75.0, 83.3, 91.7), "cm", "7.5 (8.5, 9)"),
        ((44.4, 44.4), "cm", "4.5"),
        ((75.0, 83.3), "in", "3 (3.25)"),
        ((150.0,), "cm", "15"),
    ],
)
def test_lengths_by_size_as_a_printed_pattern_has_them(mm: tuple[float, ...], units: str, said: str) -> None:
    assert by_size(mm, "in" if units == "in" else "cm") == said


@pytest.mark.parametrize("name", PROVED)
def test_every_letter_stands_once_and_no_words_overlap(name: str) -> None:
    """In the drawing of every pattern that has measures; the same bytes each time."""
    found = measured(read((CASES / f"{name}.txt").read_text(encoding="utf-8")).pattern)
    if not found.measures:
        assert found.why_not
        return
    svg = schematic(found, title=name)
    assert svg == schematic(found, title=name)
    assert "style=" not in svg
    root = ET.fromstring(svg)
    texts = [
        (
            float(t.get("x", 0)),
            float(t.get("y", 0)),
            t.get("text-anchor"),
            t.text or "",
            t.get("transform", ""),
        )
        for t in root.iter(f"{SVG}text")
    ]
    assert sorted(words[0] for *_, words, _ in texts) == [each.letter for each in found.measures]
    boxes = [_box(*each) for each in texts]
    left, top, wide, high = (float(each) for each in (root.get("viewBox") or "").split())
    for at, (x0, y0, x1, y1) in enumerate(boxes):
        assert left <= x0, texts[at]
        assert x1 <= left + wide, texts[at]
        assert top <= y0, texts[at]
        assert y1 <= top + high, texts[at]
        for other in boxes[at + 1 :]:
            assert x1 <= other[0] or other[2] <= x0 or y1 <= other[1] or other[3] <= y0, (texts[at], other)


def _box(
    x: float, y: float, anchor: str | None, words: str, turned: str
) -> tuple[float, float, float, float]:
    wide = text_width(words, TEXT_PX)
    before = {"start": 0.0, "middle": wide / 2, "end": wide}[anchor or "start"]
    if turned:
        assert turned.startswith("rotate(-90 ")
        return x - TEXT_PX * 0.75, y - wide + before, x, y + before
    return x - before, y - TEXT_PX * 0.75, x - before + wide, y
