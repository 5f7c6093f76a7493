"""A thumb gap, the round over it and the thumb around it, each with one mistake."""

import pytest

from tests.craft.broken.expect_broken import Check, clean, line_of, only_fault, states

GAP = """Title: Lockgate Mitt
Foundation: 24, multiple of 3
Custom: 15 to 27

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk 2 ch, V-st in next ch; rep from * around;
  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]

# Thumb gap
Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, ch 5, sk next V-st,
  *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4.
  [N/3 - 1 V-sts, 1 ch-5 sp]

# Hand - to the knuckles
Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp,
  V-st in 3rd ch of next ch-5, *V-st in next V-st; rep from * around;
  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]
Fasten off.

# Thumb - around the gap
Rnd 1: Join yarn with sl st in skipped V-st, ch 3 (counts as dc), dc in same sp,
  2 dc in side of next dc, dc in underside of next 5 ch, 2 dc in side of next dc;
  join with sl st in top of beg ch. [11 dc]
Rnd 2: Ch 1, sc in same st, sc in each dc around; join with sl st in first sc. [11 sc]
Fasten off.
"""
# 2 + 2 + 5 + 2 = 11
EVERY = [15, 18, 21, 24, 27]


def without_gap(text: str) -> str:
    """The same mitt with a plain round in the section called a gap."""
    return (
        text.replace("dc in same sp, ch 5, sk next V-st,\n", "dc in same sp,\n")
        .replace("[N/3 - 1 V-sts, 1 ch-5 sp]", "[N/3 V-sts]")
        .replace("  V-st in 3rd ch of next ch-5, *V-st", "  *V-st")
    )


def thumb_lines(text: str) -> range:
    """The lines of the thumb's section."""
    begin = line_of(text, "# Thumb - around the gap")
    return range(begin, len(text.split("\n")) + 1)


def test_the_mitt_itself_is_right(check: Check) -> None:
    clean(check, GAP)


def test_a_gap_left_open_is_no_fault(check: Check) -> None:
    clean(check, GAP[: GAP.index("# Thumb - around the gap")])


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("V-st in 3rd ch of next ch-5", "V-st in 6th ch of next ch-5"),
        ("V-st in 3rd ch of next ch-5", "V-st in 3rd ch of next ch-7"),
        ("dc in underside of next 5 ch", "dc in underside of next 6 ch"),
        ("in skipped V-st", "in skipped shell"),
    ],
)
def test_a_place_that_the_gap_does_not_have(check: Check, right: str, wrong: str) -> None:
    text = GAP.replace(right, wrong)
    only_fault(check, text, "place", on=wrong, at=EVERY)


def test_a_thumb_that_works_nothing_of_the_underside(check: Check) -> None:
    text = GAP.replace(" dc in underside of next 5 ch,", "").replace("[11 ", "[6 ")
    assert only_fault(check, text, at=EVERY)["line"] in thumb_lines(text)


def test_a_thumb_that_works_nothing_of_one_side(check: Check) -> None:
    text = GAP.replace(", 2 dc in side of next dc;", ";").replace("[11 ", "[9 ")
    assert only_fault(check, text, at=EVERY)["line"] in thumb_lines(text)


def test_a_thumb_around_a_gap_that_no_section_is_called(check: Check) -> None:
    text = GAP.replace("# Thumb gap", "# Palm")
    assert only_fault(check, text)["line"] in thumb_lines(text)


def test_a_section_called_a_gap_without_one(check: Check) -> None:
    # the cuff and the hand have N/3 V-sts all through; the thumb has nothing to go around
    text = without_gap(GAP)
    assert "ch-5" not in text.split("# Thumb - around")[0]
    found = only_fault(check, text)
    assert found["line"] in thumb_lines(text) or found["line"] == line_of(text, "# Thumb gap")


def test_the_underside_counted_wrong(check: Check) -> None:
    text = GAP.replace("[11 dc]", "[12 dc]")
    found = only_fault(check, text, "count", on="[12 dc]", words="12", at=EVERY)
    states(found, 12, 11)


def test_the_round_over_the_gap_forgets_it(check: Check) -> None:
    # without a V-st in the gap's chain the hand stays one V-st short at every count
    text = GAP.replace("  V-st in 3rd ch of next ch-5, *V-st", "  sk next ch-5 sp, *V-st")
    found = only_fault(check, text, "count", words="N/3", at=EVERY)
    assert line_of(text, "# Hand") < found["line"] < line_of(text, "# Thumb - around the gap")
