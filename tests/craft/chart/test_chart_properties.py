"""Whatever is worked can be drawn: made-up tubes, rows and crowns, and every pattern of the tests' cases."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Literal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.craft.fabric import Cache, Fabric, Numbers, prove, work
from server.craft.fabric.chart import chart
from server.craft.fabric.chart.strands import made_places, strands
from server.craft.fabric.keeping import Keeping
from server.craft.fabric.numbering import Count, all_lists
from server.craft.fabric.piece import PieceWorker
from server.craft.fabric.working import Setting
from server.craft.text import read
from server.craft.text.reader import special_stitches
from tests.craft.chart.charted import PATTERNS, of_class, parsed, stitches

Hand = Literal["right", "left"]
CASES = sorted((Path(__file__).parents[2] / "cases").rglob("*.txt"))
JOIN = "join with sl st in first st"

# each takes N places and leaves N
TUBE_ROUNDS = [
    f"Ch 1, sc in same st, sc in each st around; {JOIN}.",
    f"Ch 2 (counts as hdc), hdc in each st around; {JOIN}.",
    f"Ch 3 (counts as dc), dc in each st around; {JOIN}.",
    f"Ch 1, sc in BLO of same st, sc in BLO of each st around; {JOIN}.",
    f"Ch 1, sc in same st, FPdc around next st, *sc in next st, FPdc around next st; rep from * around;"
    f" {JOIN}.",
    f"Ch 1, sc in same st, sc in next st, *sk next st, dc in next st, dc in skipped st; rep from * around;"
    f" {JOIN}.",
    f"Ch 1, sc in same st, puff in next st, *sc in next st, picot, tr in next st; rep from * around; {JOIN}.",
    f"Ch 1, 2 sc in same st, sc2tog over next 2 sts, sc in next st, *2 sc in next st, sc2tog over next 2 sts,"
    f" sc in next st; rep from * around; {JOIN}.",
]
ROW_ROUNDS = [
    "Ch 1, sc in each st across; turn.",
    "Ch 3 (counts as dc), dc in each st across; turn.",
    "Ch 1, sc in first st, *FPdc around next st, sc in next st; rep from * across; turn.",
    "Ch 1, 2 sc in first st, sc in each st to last st, 2 sc in last st; turn.",
]


@st.composite
def tubes(draw: st.DrawFn) -> tuple[str, Numbers]:
    foundation = 4 * draw(st.integers(3, 12))
    rounds = draw(st.lists(st.sampled_from(TUBE_ROUNDS), min_size=1, max_size=8))
    lines = [f"Rnd {at}: {text}" for at, text in enumerate(rounds, 1)]
    head = ["Title: Any Tube", "Foundation: 12, multiple of 4", "Custom: 12 to 48", "", "# Body"]
    ring = "Foundation rnd: Ch N; join with sl st in first ch to form a ring."
    return "\n".join([*head, ring, *lines]), Numbers(foundation)


@st.composite
def panels(draw: st.DrawFn) -> tuple[str, Numbers]:
    foundation = 2 * draw(st.integers(4, 14))
    rounds = draw(st.lists(st.sampled_from(ROW_ROUNDS), min_size=1, max_size=7))
    head = ["Title: Any Panel", "Foundation: 8, multiple of 2", "Worked: rows", "Pieces: one", "", "# Panel"]
    first = ["Foundation row: Ch N.", "Row 1: Sc in 2nd ch from hook, sc in each ch across; turn."]
    lines = [f"Row {at}: {text}" for at, text in enumerate(rounds, 2)]
    return "\n".join([*head, *first, *lines]), Numbers(foundation)


@st.composite
def crowns(draw: st.DrawFn) -> tuple[str, Numbers]:
    per_round = draw(st.sampled_from([6, 8, 12]))
    stitch = draw(st.sampled_from(["sc", "hdc", "dc"]))
    many = draw(st.integers(1, 6))
    lines = [f"Rnd 1: Magic ring, {per_round} {stitch} in ring.", f"Rnd 2: 2 {stitch} in each st around."]
    for at in range(3, many + 3):
        lines.append(f"Rnd {at}: *{stitch} in next {at - 2} sts, 2 {stitch} in next st; rep from * around.")
    head = [
        "Title: Any Crown",
        "Sizes: one",
        "Foundation: none",
        "Worked: spiral",
        "Pieces: one",
        "",
        "# Crown",
    ]
    plain = draw(st.integers(0, 6))
    lines += [f"Rnd {at}: {stitch} in each st around." for at in range(many + 3, many + 3 + plain)]
    return "\n".join([*head, *lines]), Numbers(None, "one")


def ids_of(piece: Fabric) -> list[str]:
    return sorted(
        f"s-{one.spot.replace('.', '-')}-{at}"
        for section in piece.sections
        for one in section.rounds
        for at in range(len(one.path))
    )


@settings(max_examples=60, deadline=None)
@given(st.one_of(tubes(), panels(), crowns()), st.sampled_from(["right", "left"]), st.booleans())
def test_any_fabric_is_drawn_whole(made: tuple[str, Numbers], hand: Hand, page: bool) -> None:
    """One symbol for each node, each in the key, the same twice, all coordinates finite."""
    text, numbers = made
    pattern = read(text).pattern
    piece = work(pattern, numbers)
    assert sum(len(section.rounds) for section in piece.sections) > 1
    svg = chart(piece, terms="US", hand=hand, page="A4" if page else None)
    assert svg == chart(piece, terms="US", hand=hand, page="A4" if page else None)
    root = parsed(svg)
    found = stitches(root)
    assert sorted(one.id for one in found) == ids_of(piece)
    keyed = {one.attrib["data-symbol"] for one in of_class(root, "key-entry")}
    assert {one.symbol for one in found} <= keyed
    assert not re.search(r"nan|inf\b", svg)
    assert all(one.points for one in found)


@settings(max_examples=15, deadline=None)
@given(st.one_of(tubes(), panels(), crowns()))
def test_the_made_up_patterns_are_proved(made: tuple[str, Numbers]) -> None:
    assert prove(made[0]).proved, [finding.message for finding in prove(made[0]).findings]


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_cases_right_or_wrong_are_drawn_whole(path: Path) -> None:
    """Patterns with a mistake in them too: what could be worked is drawn."""
    pattern = read(path.read_text()).pattern
    header = pattern.header
    numbers = Numbers(
        header.foundations[0] if header.foundations else None, header.sizes[0] if header.sizes else None
    )
    piece = work(pattern, numbers)
    root = parsed(chart(piece, terms=header.terms, special=special_stitches(pattern)))
    assert sorted(one.id for one in stitches(root)) == ids_of(piece)


def worked_rings(text: str, numbers: Numbers) -> dict[tuple[object, ...], list[str]]:
    """By its path, the names of the places that the engine says each round leaves."""
    pattern = read(text).pattern
    header = pattern.header
    size = header.foundations.index(numbers.foundation) if numbers.foundation in header.foundations else None
    count = Count(numbers.foundation, 0 if numbers.foundation is None else size)
    cache, specials = Cache(), special_stitches(pattern)
    keeping = Keeping(cache, pattern, specials)
    PieceWorker(pattern, Setting(header, count, specials), all_lists(pattern), keeping).work()
    return {one.path: [atom.name for atom in one.ring.atoms] for one in cache.outcomes}


@pytest.mark.parametrize(
    ("text", "numbers"),
    [(text.strip(), numbers) for text, numbers in PATTERNS.values()],
    ids=list(PATTERNS),
)
def test_the_ring_of_places_is_the_engine_s(text: str, numbers: Numbers) -> None:
    """The ring made again from a path has the places that the engine worked into, in its order."""
    piece = work(read(text).pattern, numbers)
    rings = worked_rings(text, numbers)
    for section in piece.sections:
        for one in section.rounds:
            assert [one.path[at].name for at in made_places(one.path)] == rings[one.path], one.spot


@pytest.mark.parametrize("name", sorted(PATTERNS))
def test_every_base_is_a_place_of_the_ring_below(name: str) -> None:
    """Also of an edge: its places are as many as the round above goes into, or more."""
    text, numbers = PATTERNS[name]
    pattern = read(text.strip()).pattern
    rows = pattern.header.worked == "rows"
    for strand in strands(work(pattern, numbers).sections, rows=rows):
        for one in strand.rounds:
            bases = [index for node in one.worked.path for index in node.base]
            assert not bases or max(bases) < len(one.ring)
