"""The pair drawn: every round a band, to one scale, with each difference marked by a shape and a number."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from server.craft.fabric.chart.canvas import text_width
from server.craft.fabric.values import Numbers
from server.craft.making import Making, fold, plan
from server.craft.making.differences import Difference
from server.craft.making.pairdrawing import PairDrawing, pair_drawing
from server.craft.making.pairshape import shapes
from server.craft.making.placing import piece_plan
from server.craft.making.twins import verdict
from server.craft.text import read
from server.craft.text.tree import Pattern
from tests.craft.making.entries import log, worked
from tests.craft.making.slipway import TEXT

Told = tuple[str, int, dict[str, Any]]
SVG = "{http://www.w3.org/2000/svg}"
CASES = Path(__file__).parents[2] / "cases" / "proved"
PROVED = sorted(path.stem for path in CASES.glob("*.txt"))
CUFF, HAND = "0.3", "2.1"  # the rounds to fit of the Slipway Wristers
SLIPWAY = read(TEXT).pattern
NO_GAUGE = read(re.sub(r"Gauge: .*\n", "", TEXT)).pattern


def text_of(name: str) -> str:
    return (CASES / f"{name}.txt").read_text(encoding="utf-8")


def numbers_of(pattern: Pattern, fits: dict[str, int] | None = None) -> Numbers:
    header = pattern.header
    foundation = header.foundations[0] if header.foundations else None
    return Numbers(foundation, header.sizes[0], fits=tuple((fits or {}).items()))


def made(
    pattern: Pattern, piece: int, rounds: int | None = None, fits: dict[str, int] | None = None
) -> list[Told]:
    """A piece with its first rounds (None: all, finished), and so many in each line to fit."""
    fits = fits or {}
    spots = [each.spot for each in plan(pattern, numbers_of(pattern, fits)).rounds][:rounds]
    told: list[Told] = worked(*spots, piece=piece)
    told += [("fit_ended", piece, {"fit": f, "rounds": n}) for f, n in fits.items() if f"{f}.{n}" in spots]
    return [*told, ("finished", piece, {})] if rounds is None else told


def logged(pattern: Pattern, *told: Told) -> Making:
    numbers = numbers_of(pattern)
    settled = {"foundation": numbers.foundation, "size": numbers.size}
    return fold(log(("settled", 0, settled), *told))


def drawn(making: Making, pattern: Pattern = SLIPWAY, *, title: str = "", prefix: str = "") -> ET.Element:
    return ET.fromstring(pair_drawing(pattern, making, title=title, prefix=prefix).svg)


def by_class(root: ET.Element, name: str) -> list[ET.Element]:
    return [each for each in root.iter() if name in each.get("class", "").split()]


def numbers_in(element: ET.Element) -> list[float]:
    return [float(each) for each in re.findall(r"-?\d+(?:\.\d+)?", element.get("d", ""))]


def ends(element: ET.Element) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of a path of straight lines."""
    at = numbers_in(element)
    return min(at[::2]), min(at[1::2]), max(at[::2]), max(at[1::2])


def texts(root: ET.Element) -> list[str]:
    return ["".join(each.itertext()) for each in root.iter(f"{SVG}text")]


def test_every_round_of_both_gloves_is_a_band_and_what_is_to_come_is_dashed() -> None:
    """Glove one is finished, glove two has the foundation and 2 rounds: they are ruled, the others dashed."""
    making = logged(SLIPWAY, *made(SLIPWAY, 1), *made(SLIPWAY, 2, 3))
    root = drawn(making)
    for piece, standing in ((1, None), (2, ["0.1.1", "0.2.1"])):
        bands = by_class(by_class(root, f"piece--{piece}")[0], "band")
        spots = [band.get("data-spot", "") for band in bands]
        planned = [each.spot for each in piece_plan(SLIPWAY, making, piece).rounds[1:]]
        assert sorted(spots) == sorted(planned)
        ruled = [band.get("data-spot", "") for band in bands if "made" in band.get("class", "").split()]
        assert ruled == (standing or spots)
        for band in bands:
            assert (band.get("stroke-dasharray") is None) == (band.get("data-spot") in ruled)


def test_the_gauge_gives_the_scale_and_the_size_is_said() -> None:
    """24 stitches of 10/14 cm lie 8.57 cm wide. 9 rounds = 10 cm are those of Perches, of which it has most:
    10 of dc (1 + 4 + 1 + 4) at 1.111 cm; and 3 of sc at 18/31 of that: 13.05 cm.
    """
    root = drawn(logged(SLIPWAY, *made(SLIPWAY, 1), *made(SLIPWAY, 2)))
    assert [words for words in texts(root) if words.endswith(" cm")] == ["8.6 × 13 cm"] * 2
    round_of = {each.get("data-spot"): ends(each) for each in by_class(by_class(root, "piece--1")[0], "band")}
    left, top, right, bottom = round_of["0.3.1"]
    px_per_cm = (right - left) / (24 / 14 * 10 / 2)
    assert bottom - top == pytest.approx(10 / 9 * px_per_cm, abs=0.15)
    assert "by the pattern’s gauge" in pair_drawing(SLIPWAY, logged(SLIPWAY)).scale_words


def test_sizes_are_said_in_her_units() -> None:
    """8.57 by 13.05 cm is 3.374 by 5.138 in: to a twentieth 3.35 by 5.15."""
    drawing = pair_drawing(SLIPWAY, logged(SLIPWAY, *made(SLIPWAY, 1)), units="in")
    assert "3.35 × 5.15 in" in texts(ET.fromstring(drawing.svg))


def test_both_gloves_have_one_scale_and_stand_on_one_line() -> None:
    root = drawn(logged(SLIPWAY, *made(SLIPWAY, 1), *made(SLIPWAY, 2, fits={CUFF: 6, HAND: 3})))
    boxes = [[ends(band) for band in by_class(piece, "band")] for piece in by_class(root, "piece")]
    first = [box[0] for box in boxes]
    assert first[0][3] == first[1][3]
    assert first[0][2] - first[0][0] == pytest.approx(first[1][2] - first[1][0], abs=0.15)
    tops = [min(top for _, top, _, _ in box) for box in boxes]
    tall = first[0][3] - min(top for _, top, _, _ in boxes[0])
    assert tops[0] - tops[1] == pytest.approx(
        2 * tall / (10 + 2 * 18 / 31), rel=0.05
    )  # two rounds of dc more


@pytest.mark.parametrize("thumb", [False, True])
def test_a_round_that_is_only_offered_is_not_drawn(thumb: bool) -> None:
    """The hand has its 3 rounds to fit and is not ended: she may go on, and the plan has a fourth for that.
    The thumb may be made meanwhile.
    """
    told = made(SLIPWAY, 1, 12, {CUFF: 4})
    assert told[-1][2] == {"fit": CUFF, "rounds": 4}
    edge = next(each for each in plan(SLIPWAY, numbers_of(SLIPWAY)).sections if each.kind == "gap edge")
    told += worked(edge.rounds[0].spot) if thumb else []
    making = logged(SLIPWAY, *told)
    assert "2.1.3" in making.pieces[1].worked
    planned = [each.spot for each in piece_plan(SLIPWAY, making, 1).sections[2].rounds]
    assert planned[-1] == "2.1.4"
    one = by_class(drawn(making), "piece--1")[0]
    bands = [band.get("data-spot", "") for band in by_class(one, "band")]
    assert [spot for spot in bands if spot.startswith("2.")] == planned[:-1]


def test_a_difference_has_a_numbered_mark_on_its_round_and_in_the_list() -> None:
    """One round of cuff too many, and one of the hand missing: two marks, each by its section's name."""
    making = logged(SLIPWAY, *made(SLIPWAY, 1), *made(SLIPWAY, 2, fits={CUFF: 5, HAND: 2}))
    found = verdict(SLIPWAY, making).differences
    assert [each.section_title for each in found] == ["Cuff", "Hand"]
    root = drawn(making)
    marks = [texts(each) for each in by_class(by_class(root, "marks")[0], "lozenge")]
    assert marks == [["1"], ["2"]]
    listed = {texts(each)[0]: texts(each) for each in by_class(root, "section")}
    assert listed["Cuff"] == ["Cuff", "6", "7", "1"]
    assert listed["Hand"] == ["Hand", "4", "3", "2"]
    assert listed["Top edging" if "Top edging" in listed else "Top"][-2:] == ["1", "1"]
    differing = [each.get("data-spot") for each in by_class(root, "differs") if each.get("data-spot")]
    assert differing == [
        each.spot
        for each in found
        if each.spot in {b.get("data-spot") for b in by_class(by_class(root, "piece--2")[0], "band")}
    ]
    assert len(by_class(root, "hatch")) == len(differing) > 0
    description = root.findtext(f"{SVG}desc") or ""
    assert "Difference 1, Cuff: 4 rounds in one, 5 rounds in two." in description
    assert "Cuff: 6 rounds in glove one, 7 rounds in glove two." in description


def test_what_is_meant_keeps_a_mark_without_a_number() -> None:
    told = (*made(SLIPWAY, 1), *made(SLIPWAY, 2, fits={CUFF: 5, HAND: 3}))
    (difference,) = verdict(SLIPWAY, logged(SLIPWAY, *told)).differences
    assert isinstance(difference, Difference)
    root = drawn(logged(SLIPWAY, *told, ("accepted", 0, {"difference": difference.key})))
    marks = by_class(root, "lozenge")
    assert [each.get("class") for each in marks] == ["lozenge meant"]
    assert by_class(root, "hatch") == []
    assert "1 difference meant" in (root.findtext(f"{SVG}desc") or "")


def test_a_measured_glove_is_drawn_as_measured() -> None:
    """Glove one lies 90 mm wide and glove two 81: nine tenths of it. Glove two is 150 mm long at its last
    round, and drawn so long.
    """
    last = piece_plan(SLIPWAY, logged(SLIPWAY, *made(SLIPWAY, 2)), 2).sections[3].rounds[-1].spot
    making = logged(
        SLIPWAY, *made(SLIPWAY, 1), *made(SLIPWAY, 2),
        ("measured", 1, {"what": "width", "mm": 90, "spot": "0.3.2"}),
        ("measured", 2, {"what": "width", "mm": 81, "spot": "0.3.2"}),
        ("measured", 2, {"what": "length", "mm": 150, "spot": last}),
    )  # fmt: skip
    laid = shapes(SLIPWAY, making, {piece: piece_plan(SLIPWAY, making, piece) for piece in (1, 2)})
    assert [laid[piece].width_mm for piece in (1, 2)] == pytest.approx([90, 81])
    assert sum(band.height_mm for band in laid[2].bands) == pytest.approx(150)
    widths = [
        right - left
        for piece in by_class(drawn(making), "piece")
        for left, _, right, _ in [ends(by_class(piece, "band")[0])]
    ]
    assert widths[1] / widths[0] == pytest.approx(0.9, abs=0.005)
    assert "by what you measured" in pair_drawing(SLIPWAY, making).scale_words


def test_without_a_gauge_it_says_that_it_is_not_to_scale() -> None:
    drawing = pair_drawing(NO_GAUGE, logged(NO_GAUGE, *made(NO_GAUGE, 1)))
    assert drawing.scale_words.startswith("Not to scale")
    root = ET.fromstring(drawing.svg)
    assert not any(" cm" in words for words in texts(root))
    assert (root.findtext(f"{SVG}desc") or "").startswith("Not to scale")


def test_gap_and_thumb_are_to_be_seen_at_the_outer_edges() -> None:
    root = drawn(logged(SLIPWAY, *made(SLIPWAY, 1), *made(SLIPWAY, 2)))
    one, two = by_class(root, "piece")
    for piece, outer in ((one, min), (two, max)):
        body = ends(by_class(piece, "band")[0])
        (opening,) = by_class(piece, "opening")
        (limb,) = by_class(piece, "limb")
        edge = outer(body[0], body[2])
        assert outer(numbers_in(opening)[::2]) == edge
        reach = outer(x for band in by_class(limb, "band") for x in numbers_in(band)[::2])
        assert reach < edge if outer is min else reach > edge


def test_a_piece_alone_is_drawn_alone_by_its_own_title() -> None:
    cowl = read(text_of("lantern-granny-cowl")).pattern
    making = logged(cowl, *made(cowl, 1, 4))
    root = drawn(making, cowl, title="Winter cowl")
    assert len(by_class(root, "piece")) == 1
    assert "Winter cowl" in texts(root)
    assert root.findtext(f"{SVG}title") == "Winter cowl, drawn"
    assert not any("glove" in words.lower() for words in root.itertext())


def test_a_piece_from_its_tip_lies_with_the_tip_up() -> None:
    """Mittens from the tip of the fingers down: the first round is the highest, the wrist below."""
    mittens = read(text_of("anchor-watch-spiral-mittens")).pattern
    root = drawn(logged(mittens, *made(mittens, 1)), mittens)
    bands = [ends(band) for band in by_class(by_class(root, "piece--1")[0], "band")]
    first = next(ends(b) for b in by_class(root, "band") if b.get("data-spot") == "0.0.1")
    assert first[1] == min(top for _, top, _, _ in bands)
    assert texts(by_class(root, "section")[-1])[0] == "Tip"


def test_the_same_log_gives_the_same_bytes_and_ids_take_the_prefix() -> None:
    making = logged(SLIPWAY, *made(SLIPWAY, 1, 5))
    assert pair_drawing(SLIPWAY, making) == pair_drawing(SLIPWAY, making)
    root = drawn(making, prefix="x-")
    ids = [each.get("id", "") for each in root.iter() if each.get("id")]
    assert ids == ["x-pair-title", "x-pair-desc"] == (root.get("aria-labelledby") or "").split()


def boxes_of_texts(root: ET.Element) -> list[tuple[float, float, float, float, str]]:
    found = []
    for each in root.iter(f"{SVG}text"):
        size, words = float(each.get("font-size", "13")), "".join(each.itertext())
        wide, x, y = text_width(words, size), float(each.get("x", "")), float(each.get("y", ""))
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[each.get("text-anchor", "start")]
        found.append((left, y - 0.75 * size, left + wide, y + 0.2 * size, words))
    return found


@pytest.mark.parametrize("name", PROVED)
@pytest.mark.parametrize("rounds", [(0, 0), (None, 3), (None, None)])
def test_labels_stand_apart_and_within_the_picture_for_every_pattern(
    name: str, rounds: tuple[int | None, int | None]
) -> None:
    pattern = read(text_of(name)).pattern
    told = made(pattern, 1, rounds[0])
    if pattern.header.pieces == "pair":
        told += made(pattern, 2, rounds[1])
    drawing: PairDrawing = pair_drawing(pattern, logged(pattern, *told), title=pattern.header.title)
    assert len(drawing.svg) < 24_000
    root = ET.fromstring(drawing.svg)
    left, top, wide, high = (float(each) for each in root.get("viewBox", "").split())
    boxes = boxes_of_texts(root)
    for at, (x0, y0, x1, y1, words) in enumerate(boxes):
        assert left - 1 <= x0, words
        assert x1 <= left + wide + 1, words
        assert top - 1 <= y0, words
        assert y1 <= top + high + 1, words
        for a0, b0, a1, b1, others in boxes[at + 1 :]:
            apart = x1 <= a0 + 0.5 or a1 <= x0 + 0.5 or y1 <= b0 + 0.5 or b1 <= y0 + 0.5
            assert apart, (words, others)
    for band in by_class(root, "band"):
        x0, y0, x1, y1 = ends(band)
        assert left <= x0 <= x1 <= left + wide
        assert top <= y0 < y1 <= top + high


def test_long_names_stay_within_the_picture() -> None:
    """A section's name of one long word is parted; a title of many words stands in lines."""
    long = "Zusammengehörigkeitsbündchen"
    pattern = read(TEXT.replace("# Cuff", f"# {long}").replace("of Cuff", f"of {long}")).pattern
    words = (
        "A title that goes on for as long as anybody would ever care to write one down, and then some more"
    )
    cowl = read(text_of("lantern-granny-cowl")).pattern
    for root in (
        drawn(logged(pattern, *made(pattern, 1), *made(pattern, 2, 5)), pattern),
        drawn(logged(cowl, *made(cowl, 1, 4)), cowl, title=words),
    ):
        left, _, wide, _ = (float(each) for each in root.get("viewBox", "").split())
        for x0, _, x1, _, said in boxes_of_texts(root):
            assert left - 1 <= x0 <= x1 <= left + wide + 1, said
    assert words.replace(" ", "") in "".join(texts(root)).replace(" ", "")


def test_many_differences_at_one_place_have_a_mark_each() -> None:
    """Six things counted otherwise at the first round of the cuff: six marks, none upon another's middle."""
    names = ["sc", "dc", "hdc", "tr", "ch-1 sp", "V-st"]
    counts = [
        ("counted", piece, {"spot": "0.1.1", "name": name, "count": 20 + piece})
        for name in names
        for piece in (1, 2)
    ]
    making = logged(SLIPWAY, *made(SLIPWAY, 1), *made(SLIPWAY, 2), *counts)
    found = verdict(SLIPWAY, making).differences
    assert len(found) >= 5
    root = drawn(making)
    marks = by_class(by_class(root, "marks")[0], "lozenge")
    middles = {text.get("x") for each in marks for text in each.iter(f"{SVG}text")}
    assert len(marks) == len(middles) == len(found)
    left, _, wide, _ = (float(each) for each in root.get("viewBox", "").split())
    listed = [lozenge for section in by_class(root, "section") for lozenge in by_class(section, "lozenge")]
    assert len(listed) == len(found)
    for each in (*marks, *listed):
        path = each.find(f"{SVG}path")
        assert path is not None
        x0, _, x1, _ = ends(path)
        assert left <= x0 <= x1 <= left + wide
