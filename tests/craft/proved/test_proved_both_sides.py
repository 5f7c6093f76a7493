"""An oval worked along both sides of the foundation chain, and rows that a piece of rounds begins with."""

import pytest

from server.craft.fabric import Numbers, work
from server.craft.text import read
from tests.craft.expect import Check, counts, formula, only_finding, proved, proved_clean

OVAL = """Title: Limpet Sole
Terms: US
Foundation: 9, multiple of 2 + 1
Custom: 7 to 15
Pieces: pair

# Sole
Foundation rnd: Ch 9.
"""


def test_an_oval_goes_back_along_the_other_side(check: Check) -> None:
    # 9 ch, 1 passed, 8 worked: 2 in the first, 6, 4 in the last; back over the 6, 2 in the one begun in
    text = (
        OVAL
        + "Rnd 1: 2 sc in 2nd ch from hook, sc in each ch to last ch, 4 sc in last ch, working along the "
        "other side of the foundation chain, sc in each ch to last ch, 2 sc in last ch; join with sl st in "
        "first sc. [2N + 2 sc]\nRnd 2: Ch 1, sc in same st, sc in each st around; join with sl st in "
        "first sc.\n"
    )
    report = check(text, (15,))
    proved_clean(report)
    assert counts(report, 9, "Sole", "Rnd 1")["sc"] == 2 + 6 + 4 + 6 + 2
    assert counts(report, 15, "Sole", "Rnd 2")["sc"] == 2 + 12 + 4 + 12 + 2
    assert formula(report, "Sole", "Rnd 2")["sc"] == "2N + 2"


@pytest.mark.parametrize(
    "turn",
    [
        "3 sc in last ch, working along other side of ch, sc in next 7 ch",
        "3 sc in last ch. Now working on the opposite side of the foundation chain: sc in next 7 ch",
        "3 sc in last ch; turn to work along the opposite side of the chain, sc in next 7 ch",
        "3 sc in last ch, rotate to work in the free loops of the foundation ch, sc in each ch to end",
        "3 sc in last ch, sc in next 7 ch along the other side of the foundation ch",
    ],
)
def test_the_other_side_has_many_words(check: Check, turn: str) -> None:
    # 1 + 6 + 3, and back over 7: the chain begun in, too
    report = check(
        OVAL.replace(", multiple of 2 + 1\nCustom: 7 to 15", "")
        + f"Rnd 1: Sc in 2nd ch from hook, sc in next 6 ch, {turn}; join. [17 sc]\n"
        "Rnd 2: Ch 1, sc in each st around; join. [17 sc]\n"
    )
    proved_clean(report)


def test_what_is_worked_on_the_other_side_is_the_same_chain(check: Check) -> None:
    text = OVAL + (
        "Rnd 1: Sc in 2nd ch from hook, sc in next 6 ch, 3 sc in last ch, working along the other "
        "side of the foundation chain, sc in next 7 ch; join with sl st in first sc. [17 sc]\n"
    )
    fabric = work(read(text).pattern, Numbers(9))
    path = fabric.sections[0].rounds[1].path
    bases = [node.base[0] for node in path if node.kind == "stitch"]
    # chains counted from the hook, from 0; the last one three times, then back
    assert bases == [1, 2, 3, 4, 5, 6, 7, 8, 8, 8, 7, 6, 5, 4, 3, 2, 1]


def test_a_side_that_is_not_worked_to_its_end(check: Check) -> None:
    report = check(
        OVAL.replace(", multiple of 2 + 1\nCustom: 7 to 15", "")
        + "Rnd 1: Sc in 2nd ch from hook, sc in next 5 ch, 3 sc in next ch, working along the other "
        "side of the foundation chain, sc in next 7 ch; join with sl st in first sc. [16 sc]\n"
    )
    found = only_finding(report)
    assert (found["code"], found["kind"], found["line"]) == ("left-on-side", "closing", 8)
    assert "1 foundation ch is left" in found["message"]


def test_an_oval_that_does_not_come_back_to_its_beginning(check: Check) -> None:
    report = check(
        OVAL.replace(", multiple of 2 + 1\nCustom: 7 to 15", "")
        + "Rnd 1: Sc in 2nd ch from hook, sc in next 6 ch, 3 sc in last ch, working along the other "
        "side of the foundation chain, sc in next 5 ch; join with sl st in first sc. [15 sc]\n"
    )
    found = only_finding(report)
    assert (found["code"], found["severity"], found["line"]) == ("left-over", "error", 8)


BAND = """Title: Cormorant Band
Terms: US
Sizes: child (grown)
Foundation: 10 (10)

# Band
Ch 10.
Row 1: Sc in 2nd ch from hook and in each ch across, turn. [9 sc]
Rows 2 to 28 (32): Ch 1, sc in BLO of each st across, turn. [9 sc]
Seam the short ends.

# Hand
Rnd 1: Ch 1, sc in each row end around; join with sl st in first sc. [28 (32) sc]
Rnd 2: Ch 1, hdc in each st around; join with sl st in first hdc. [28 (32) hdc]
"""


def test_a_band_in_rows_then_rounds_along_its_edge(check: Check) -> None:
    report = check(BAND)
    proved_clean(report)
    assert counts(report, 10, "Band", "Rnd 28")["sc"] == 9
    # one end for each row
    assert counts(report, 10, "Hand", "Rnd 2")["hdc"] == 28
    assert counts(report, "grown", "Hand", "Rnd 2")["hdc"] == 32


def test_sizes_that_begin_with_as_many_chains_are_each_proved(check: Check) -> None:
    report = check(BAND.replace("[28 (32) sc]", "[28 (33) sc]"))
    found = only_finding(report)
    assert (found["code"], found["foundations"], found["mend"]) == ("count-wrong", ["grown"], "28 (32) sc")
    assert report["counts_tried"] == [10, "grown"]


def test_a_chain_that_was_joined_is_a_ring_all_the_same(check: Check) -> None:
    # the 1st ch is passed, and worked as the last of the round
    report = check(
        "Title: Ring\nFoundation: 12\n\n# Cuff\nFoundation rnd: Ch 12; join with sl st in first ch to form a "
        "ring.\nRnd 1: Sc in 2nd ch from hook, sc in each ch around; join with sl st in first sc. [12 sc]\n"
    )
    proved(report)
