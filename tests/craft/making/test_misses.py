"""A wrong count and the slip behind it: each mistake is worked, counted, and has to be named."""

from __future__ import annotations

import pytest

from server.craft.fabric import work
from server.craft.making import Miss, Numbers, every_miss, misses
from server.craft.text import read
from server.craft.text.tree import Terms
from tests.craft.making.slipway import TEXT

HEAD = """\
Title: Plain Wristers
Foundation: 24 (28), multiple of 4
Sizes: small (large)
Special stitch: V-st = (dc, ch 1, dc) in one place

# Cuff
Foundation rnd: Ch 24 (28); join with sl st in first ch to form a ring.
"""
FIRST = "Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc.\n"


def named(right: str, wrong: str, name: str, spot: str, terms: str = "US") -> tuple[str, ...]:
    """What is said to a maker who works `wrong` where `right` is written, and counts `name` at its end.

    Both are worked by the engine; she is told only her count.
    """
    made = work(read(HEAD + wrong).pattern, Numbers(24))
    counted = next(each for each in made.sections[0].rounds if each.spot == spot).counts.get(name, 0)
    found = misses(
        read(HEAD + right).pattern, Numbers(24), spot, name, counted, "UK" if terms == "UK" else "US"
    )
    return tuple(each.says for each in found)


def test_a_right_count_has_no_miss() -> None:
    assert misses(read(TEXT).pattern, Numbers(24), "0.1.1", "sc", 24) == ()
    assert misses(read(TEXT).pattern, Numbers(24), "0.2.1", "Perch", 6) == ()


def test_what_the_round_does_not_have_or_no_such_round() -> None:
    pattern = read(TEXT).pattern
    assert misses(pattern, Numbers(24), "0.1.1", "tr", 3) == ()
    assert misses(pattern, Numbers(24), "0.9.1", "sc", 3) == ()


def test_the_last_chain_before_the_join_passed_over() -> None:
    """24 chains, sc in 23 of them."""
    wrong = "Rnd 1: Ch 1, sc in same ch, sc in next 22 ch, sk next ch; join with sl st in first sc.\n"
    says = named(FIRST, wrong, "sc", "0.1.1")
    assert says[0] == "The last ch before the join may have been passed over: it hides beside the join."


def test_the_first_chain_passed_over() -> None:
    """The first sc in the chain after the one joined into: 23 sc."""
    wrong = "Rnd 1: Ch 1, sk same ch, sc in next 23 ch; join with sl st in first sc.\n"
    says = named(FIRST, wrong, "sc", "0.1.1")
    assert says[1].startswith("The first place is the one joined into, where the hook stands: one sc may")


def test_a_chain_worked_twice() -> None:
    wrong = (
        "Rnd 1: Ch 1, sc in same ch, sc in next 9 ch, 2 sc in next ch, sc in next 13 ch; "
        "join with sl st in first sc.\n"
    )
    says = named(FIRST, wrong, "sc", "0.1.1")
    assert "One ch may have been worked twice: one sc too many." in says
    assert says[0].startswith(
        "The beginning ch 1 does not count as a stitch here"
    )  # seen without unravelling
    assert any(each.startswith("The slip stitch that joined the round below looks like a") for each in says)


def test_two_chains_passed_over() -> None:
    wrong = (
        "Rnd 1: Ch 1, sc in same ch, sc in next 8 ch, sk 2 ch, sc in next 13 ch; "
        "join with sl st in first sc.\n"
    )
    found = misses(read(HEAD + FIRST).pattern, Numbers(24), "0.1.1", "sc", 22)
    assert found[0].times == 2
    assert named(FIRST, wrong, "sc", "0.1.1") == tuple(each.says for each in found)
    assert found[0].says == (
        "One ch may have been passed over: it has no sc in it. It would have happened twice."
    )
    assert any(
        each.says.startswith("Two slips together. The last ch before the join") and each.times == 2
        for each in found
    )


def test_what_nothing_explains() -> None:
    (found,) = misses(read(HEAD + FIRST).pattern, Numbers(24), "0.1.1", "sc", 11)
    assert found == Miss(
        "No single slip makes 13 sc missing.",
        "Count again from the join, with a marker at every 10th. If it stays so, take the round out.",
        0,
    )


DC = FIRST + "Rnd 2: Ch 3, dc in next st, dc in each st around; join with sl st in top of beg ch. [N dc]\n"


def test_the_beginning_chain_not_counted_and_a_stitch_beside_it() -> None:
    found = misses(read(HEAD + DC).pattern, Numbers(24), "0.2.1", "dc", 23)
    assert found[0].says == "The beginning ch 3 counts as one dc: it may not have been counted."
    wrong = FIRST + "Rnd 2: Ch 3, dc in same st, dc in each st around; join with sl st in top of beg ch.\n"
    says = named(DC, wrong, "dc", "0.2.1")
    assert any(
        each.startswith("The beginning chain stands in the first place already: one dc") for each in says
    )


def test_the_terms_are_hers() -> None:
    says = named(
        DC, DC.replace("dc in next st, dc in each st", "sk next st, dc in each st"), "dc", "0.2.1", "UK"
    )
    assert says[0] == "The beginning ch 3 counts as one tr: it may not have been counted."
    assert all("dc" not in each for each in says)


V = FIRST + (
    "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, *sk 3 sts, V-st in next st; rep from * around; "
    "join with sl st in 3rd ch of beg ch-4. [N/4 V-sts]\n"
)


def test_one_v_stitch_short_at_the_join() -> None:
    """24 sc: 6 V-sts; the last one left out: 5."""
    wrong = V.replace("*sk 3 sts, V-st in next st; rep from * around; ",
                      "*sk 3 sts, V-st in next st; rep from * 3 times more, sk 7 sts; ")  # fmt: skip
    says = named(V, wrong, "V-st", "0.2.1")
    assert says[0] == (
        "The beginning ch 4 counts as one dc and belongs to the first V-st: it may not have been counted."
    )
    assert says[1] == "The last V-st before the join may have been left out: it hides beside the join."
    assert says[-1] == "One repeat may have been left out: sk 3 sts, V-st in next st."


def test_a_space_too_many_is_no_stitch_too_many() -> None:
    """6 V-sts with a space each; one more space makes 7 spaces and no stitch."""
    spaces = [each.says for each in misses(read(HEAD + V).pattern, Numbers(24), "0.2.1", "ch-1 sp", 7)]
    assert "There may be one ch 1 too many between two stitches." in spaces
    for name in ("sts", "dc"):
        found = misses(read(HEAD + V).pattern, Numbers(24), "0.2.1", name, 14)
        assert not any("ch 1 too many" in each.says for each in found)


def test_a_chain_of_a_v_stitch_left_out() -> None:
    repeat = "*sk 3 sts, V-st in next st; rep from * around; "
    wrong = V.replace(repeat, "sk 3 sts, 2 dc in next st, " + repeat)
    says = named(V, wrong, "ch-1 sp", "0.2.1")
    assert says[-1] == (
        "One ch 1 may have been left out, or lies so flat that it was not counted as a space."
    )


DECREASES = FIRST + (
    "Rnd 2: Ch 1, *sc2tog over next 2 sts, sc in next 2 sts; rep from * around; "
    "join with sl st in first st.\n"
)


def test_a_decrease_missed_and_one_too_many() -> None:
    """24 sc: 6 times (1 decrease, 2 sc) make 18; one decrease missed: 19, one too many: 17."""
    missed = FIRST + (
        "Rnd 2: Ch 1, *sc2tog over next 2 sts, sc in next 2 sts; rep from * 4 times more, sc in next 4 sts; "
        "join with sl st in first st.\n"
    )
    assert "One sc2tog may have been worked as 2 sc: a decrease missed." in named(
        DECREASES, missed, "sts", "0.2.1"
    )
    many = FIRST + (
        "Rnd 2: Ch 1, *sc2tog over next 2 sts, sc in next 2 sts; rep from * 4 times more, "
        "sc2tog over next 2 sts, sc2tog over next 2 sts; join with sl st in first st.\n"
    )
    assert "2 sc may have been worked as one sc2tog: a decrease too many." in named(
        DECREASES, many, "sts", "0.2.1"
    )


INCREASES = FIRST + (
    "Rnd 2: Ch 1, *2 sc in next st, sc in next 3 sts; rep from * around; join with sl st in first sc.\n"
)


def test_an_increase_missed_and_a_repeat_left_out() -> None:
    """24 sc: 6 times 5 make 30."""
    missed = FIRST + (
        "Rnd 2: Ch 1, *2 sc in next st, sc in next 3 sts; rep from * 4 times more, sc in next 4 sts; "
        "join with sl st in first sc.\n"
    )
    says = named(INCREASES, missed, "sc", "0.2.1")
    assert "In one st there may be one sc too few: 2 sc go there." in says
    found = misses(read(HEAD + INCREASES).pattern, Numbers(24), "0.2.1", "sc", 25)
    assert found[0] == Miss(
        "One repeat may have been left out: 2 sc in next st, sc in each of next 3 sts.",
        "Count the repeats of this round: there should be 6.",
    )


MESH = FIRST + (
    "Rnd 2: Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; rep from * around; "
    "join with sl st in 3rd ch of beg ch-4.\n"
)


def test_a_square_of_mesh_left_out() -> None:
    """24 sc: 12 dc and 12 spaces; a square left out takes one of each."""
    for name in ("dc", "ch-1 sp"):
        says = [each.says for each in misses(read(HEAD + MESH).pattern, Numbers(24), "0.2.1", name, 11)]
        assert "The last dc before the join may have been left out: it hides beside the join." in says
        assert "One repeat may have been left out: dc in next st, ch 1, sk next st." in says


def test_what_the_round_does_only_once_is_said_by_its_place() -> None:
    """The hand's first round after the gap: one Perch stands in the middle of the gap's chains."""
    found = misses(read(TEXT).pattern, Numbers(24), "2.0.1", "Perch", 5)
    assert (
        Miss(
            "The Perch in 4th ch of next ch-7 may have been left out.",
            "What stands in 4th ch of next ch-7 of the round below?",
        )
        in found
    )
    anywhere = next(
        at for at, each in enumerate(found) if each.says.startswith("One Perch may have been passed")
    )
    assert next(at for at, each in enumerate(found) if "ch-7" in each.says) < anywhere


def test_the_foundation() -> None:
    pattern = read(TEXT).pattern
    (loop,) = misses(pattern, Numbers(24), "0.0.1", "ch", 25)
    assert loop.says == "The loop on the hook may have been counted. It is never a chain."
    (knot,) = misses(pattern, Numbers(24), "0.0.1", "ch", 23)
    assert knot.says.startswith("The chain next to the slip knot may not have been counted")
    (few,) = misses(pattern, Numbers(24), "0.0.1", "ch", 21)
    assert few.where.endswith("If it stays so, make 3 more and join anew.")


def test_a_ring_has_no_places_to_pass_over() -> None:
    text = """\
Title: Lamp Crown
Foundation: none
Pieces: one

# Crown
Rnd 1: Ch 2 (counts as hdc), 11 hdc in ring; join with sl st in top of beg ch. [12 hdc]
"""
    found = misses(read(text).pattern, Numbers(None), "0.0.1", "hdc", 11)
    assert [each.says for each in found] == [
        "The beginning ch 2 counts as one hdc: it may not have been counted.",
        "One hdc too few may have been worked into the ring.",
    ]


def test_rows_have_an_edge_and_spirals_a_marker() -> None:
    rows = """\
Title: Flat Cuff
Foundation: 20, multiple of 2
Worked: rows

# Cuff
Foundation row: Ch 20.
Row 1: Sc in 2nd ch from hook, sc in each ch across.
Row 2: Ch 1, turn, sc in each st across.
"""
    pattern = read(rows).pattern
    sc = next(r for r in work(pattern, Numbers(20)).sections[0].rounds if r.spot == "0.2.1").counts["sc"]
    says = [each.says for each in misses(pattern, Numbers(20), "0.2.1", "sc", sc - 1)]
    assert says[0].startswith("The last st of the row may have been passed over: it lies at the edge")
    spiral = """\
Title: Spiral Cuff
Foundation: 20, multiple of 2
Worked: spiral

# Cuff
Foundation rnd: Ch 20; join with sl st in first ch to form a ring.
Rnd 1: Sc in each ch around.
Rnd 2: Sc in each st around.
"""
    says = [each.says for each in misses(read(spiral).pattern, Numbers(20), "0.2.1", "sc", 19)]
    assert says[0] == "The last st before the marker may have been passed over: it hides under the marker."
    assert not any("join" in each for each in says)


@pytest.mark.parametrize("off", [-3, -2, -1, 1, 2, 3])
@pytest.mark.parametrize(
    "spot", ["0.1.1", "0.2.1", "0.3.1", "1.0.1", "2.0.1", "3.0.1", "4.0.1", "5.0.1", "5.1.1"]
)
def test_a_wrong_count_is_never_left_without_words(spot: str, off: int) -> None:
    pattern = read(TEXT).pattern
    worked = {r.spot: r for s in work(pattern, Numbers(28)).sections for r in s.rounds}[spot]
    for name, count in worked.counts.items():
        found = misses(pattern, Numbers(28), spot, name, count + off)
        assert 1 <= len(found) <= 6
        assert all(each.says.endswith(".") and each.where.endswith((".", "?")) for each in found)


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_every_miss_says_what_misses_says(terms: Terms) -> None:
    """Every name of every round, from 40 missing (as far as there are so many) to 40 too many."""
    pattern, numbers, seen = read(TEXT).pattern, Numbers(24), 0
    for spot, names in every_miss(pattern, numbers, terms):
        for name, said in names.items():
            for off in (each for each in range(-40, 41) if each and said.should + each >= 0):
                one, more = (0, 2) if off < 0 else (1, 3)
                again = said.again[one if abs(off) == 1 else more]
                filled = Miss(
                    again.says.format(number=abs(off)), again.where.format(number=abs(off)), again.times
                )
                expected = misses(pattern, numbers, spot, name, said.should + off, terms)
                assert said.by_off.get(off, (filled,)) == expected, (spot, name, off)
                seen += 1
    assert seen > 1000
