"""Every row of the tables of spellings: what is written on the left reads as what stands on the right.

Source: the notation's table "Spellings that real patterns use"; the pairs below are its rows, cell by cell,
each in the smallest pattern that it can stand in. Two texts read the same when their trees are equal.
"""

import pytest

from server.craft.text.reader import read
from server.craft.text.tree import Section

HEAD = "Title: Table\nSizes: small (medium, large)\nFoundation: 24 (28, 32), multiple of 4\n\n# Band\n"
JOIN = "join with sl st in first sc"
BASE = "Rnd 1: Ch 1, sc in each ch around; join with sl st in first sc.\n"

ROUNDS: list[tuple[str, str]] = [
    *(
        (label, "Rnd 3:")
        for label in ("Round 3:", "R3:", "Rd 3.", "Rnd. 3 -", "Row 3:", "RND 3.", "rnd 3 \u2014")
    ),
    *((label, "Rnds 2 to 10:") for label in ("Rounds 2-10:", "Rnds 2\u201310:", "Rnds 2-10:", "R2-10:")),
]
COUNTS = [
    ("(24)", "[24]"), ("(24 dc.)", "[24 dc]"), ("= 24 dc", "[24 dc]"), ("24 sts.", "[24 sts]"),
    ("\u2014 24 dc", "[24 dc]"), ("(20, 22, 24 dc)", "[20 (22, 24) dc]"),
]  # fmt: skip
LISTS = [("9, (10, 11)", "9 (10, 11)"), ("9 [10, 11]", "9 (10, 11)"), ("9 (10) (11)", "9 (10, 11)")]
BEGINNINGS = [
    ("ch 2 (this counts as your first dc of this round)", "ch 2 (counts as dc)"),
    ("ch 3 (= 1 dc)", "ch 3 (counts as dc)"), ("ch 3 (first dc made)", "ch 3 (counts as dc)"),
    ("ch 1 (not a st)", "ch 1 (does not count as a st)"),
]  # fmt: skip
TWO = "sc in next st, ch 1, sk next st"
REPEATS = [
    (f"{{{TWO}}} around", f"*{TWO}; rep from * around"), (f"[{TWO}] around", f"*{TWO}; rep from * around"),
    (f"({TWO}) around", f"*{TWO}; rep from * around"), (f"*{TWO}* around", f"*{TWO}; rep from * around"),
    (f"*{TWO}*, rep from * to * around", f"*{TWO}; rep from * around"),
    (f"**{TWO}* repeat from ** to * around", f"*{TWO}; rep from * around"),
    (f"*{TWO}, rep to end", f"*{TWO}; rep from * around"),
    (f"*{TWO}, repeat around", f"*{TWO}; rep from * around"),
    (f"*{TWO}; rep from * to end of rnd", f"*{TWO}; rep from * around"),
    (f"*{TWO}; repeat from * 8 more times", f"*{TWO}; rep from * 8 times more"),
    (f"[{TWO}] x 8", f"[{TWO}] 8 times"),
]  # fmt: skip
SEVERAL = [
    ("1 sc in each st", "sc in each st"), ("work 2 hdc in each hdc around", "2 hdc in each hdc around"),
    ("2sc in next sc", "2 sc in next sc"), ("sc 16", "sc in next 16 sts"),
    ("sc in 2 sts", "sc in next 2 sts"),
    ("sc across", "sc in each st around"), ("dc 5 times in next st", "5 dc in next st"),
]  # fmt: skip
JOINS = [
    ("join", "join"), ("join to first sc", JOIN),
    ("slip stitch in top of ch-3", "join with sl st in top of ch-3"),
    ("join with ss in first sc", JOIN), ("sl. st. in first sc", JOIN), ("slst in first sc", JOIN),
]  # fmt: skip
LOOPS = [
    ("sc tbl in next st", "sc in BLO of next st"), ("sc tfl in next st", "sc in FLO of next st"),
    ("sc blo in next st", "sc in BLO of next st"),
    ("sc in the back loop only of next st", "sc in BLO of next st"),
    ("hdc in the 3rd loop of next st", "hdc in 3rd loop of next st"),
]  # fmt: skip
TWO_IN_ONE = [
    ("inc", "2 sc in next st"), ("dec", "sc2tog"), ("sc dec", "sc2tog"), ("2sctog", "sc2tog"),
    ("invisible decrease", "sc2tog"), ("hdc inc", "2 hdc in next st"),
]  # fmt: skip
FULL_WORDS = [
    ("skip next stitch", "sk next st"), ("miss next st", "sk next st"),
    ("single crochet in next space", "sc in next sp"), ("dc in following st", "dc in next st"),
    ("double crochet in beginning chain", "dc in beg ch"), ("chain 2", "ch 2"),
]  # fmt: skip
RINGS = [
    (f"{words}, ch 1, 6 sc in ring; join", "Magic ring, ch 1, 6 sc in ring; join")
    for words in ("Magic circle", "Adjustable ring", "MR", "Magic loop")
]


def sections(body: str) -> tuple[Section, ...]:
    """The sections of a text below the header, which has to read without a finding about what it says."""
    reading = read(f"{HEAD}{body}\n")
    loose = {"repeat-more", "fit-unsaid"}
    assert [one.message for one in reading.findings if one.code not in loose] == []
    return reading.pattern.sections


@pytest.mark.parametrize(("written", "clear"), ROUNDS)
def test_labels(written: str, clear: str) -> None:
    assert sections(f"{BASE}{written} Ch 1, sc in each st around; {JOIN}.") == sections(
        f"{BASE}{clear} Ch 1, sc in each st around; {JOIN}."
    )


@pytest.mark.parametrize(("written", "clear"), COUNTS)
def test_counts(written: str, clear: str) -> None:
    round_2 = f"{BASE}Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch."
    assert sections(f"{round_2} {written}") == sections(f"{round_2} {clear}")


@pytest.mark.parametrize(("written", "clear"), LISTS)
def test_size_lists(written: str, clear: str) -> None:
    assert sections(f"{BASE}Rnd 2: Ch 1, sc in next {written} sts; {JOIN}.") == sections(
        f"{BASE}Rnd 2: Ch 1, sc in next {clear} sts; {JOIN}."
    )


@pytest.mark.parametrize(("written", "clear"), BEGINNINGS)
def test_beginning_chains(written: str, clear: str) -> None:
    assert sections(f"{BASE}Rnd 2: {written}, dc in each st around; join.") == sections(
        f"{BASE}Rnd 2: {clear}, dc in each st around; join."
    )


@pytest.mark.parametrize(("written", "clear"), [*REPEATS, *SEVERAL, *LOOPS, *TWO_IN_ONE, *FULL_WORDS])
def test_instructions(written: str, clear: str) -> None:
    assert sections(f"{BASE}Rnd 2: Ch 1, sc in same st, {written}; {JOIN}.") == sections(
        f"{BASE}Rnd 2: Ch 1, sc in same st, {clear}; {JOIN}."
    )


@pytest.mark.parametrize(("written", "clear"), JOINS)
def test_joins(written: str, clear: str) -> None:
    assert sections(f"{BASE}Rnd 2: Ch 1, sc in each st around; {written}.") == sections(
        f"{BASE}Rnd 2: Ch 1, sc in each st around; {clear}."
    )


@pytest.mark.parametrize(("written", "clear"), RINGS)
def test_rings(written: str, clear: str) -> None:
    assert sections(f"Rnd 1: {written}.") == sections(f"Rnd 1: {clear}.")
