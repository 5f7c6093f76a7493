"""A stated count that the stitches do not bear out: one count finding, with both numbers."""

import pytest

from tests.craft.broken.expect_broken import Check, clean, only_fault, states


def test_one_stitch_too_many_stated(check: Check, pattern: str) -> None:
    """
    Title: Tern Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [25 sc]
    """
    # one sc in each of 24 ch
    found = only_fault(check, pattern, "count", on="Rnd 1:", words="25", at=[24])
    states(found, 25, 24)
    assert found["mend"] is not None


def test_formula_wrong_at_every_count(check: Check, pattern: str) -> None:
    """
    Title: Tern Cuff
    Foundation: 24, multiple of 6
    Custom: 18 to 36

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N + 1 sc]
    """
    only_fault(check, pattern, "count", on="Rnd 1:", words="N + 1", at=[18, 24, 30, 36])


def test_formula_right_at_the_size_only(check: Check, pattern: str) -> None:
    """
    Title: Tern Cuff
    Foundation: 24, multiple of 4
    Custom: 16 to 32

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]
    Rnd 2: Ch 1, sc in same st, sc in next st, sc2tog, *sc in next 2 sts, sc2tog; rep from * around;
      join with sl st in first sc.
      [N/2 + 6 sc]
    """
    # 4 places give 3 sc: 3N/4 = 12, 15, 18, 21, 24; N/2 + 6 = 14, 16, 18, 20, 22
    only_fault(check, pattern, "count", on="N/2", words="N/2 + 6", at=[16, 20, 28, 32])


def test_one_size_wrong(check: Check, pattern: str) -> None:
    """
    Title: Dunlin Wristers
    Sizes: small (medium, large)
    Foundation: 24 (28, 32), multiple of 4
    Custom: none

    # Cuff
    Foundation rnd: Ch 24 (28, 32); join with sl st in first ch to form a ring. [24 (28, 32) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (28, 33) sc]
    """
    states(only_fault(check, pattern, "count", on="Rnd 1:", words="33", at=[32]), 33, 32)


def test_the_middle_size_wrong_after_increases(check: Check, pattern: str) -> None:
    """
    Title: Dunlin Wristers
    Sizes: small (medium, large)
    Foundation: 24 (28, 32), multiple of 4
    Custom: none

    # Cuff
    Foundation rnd: Ch 24 (28, 32); join with sl st in first ch to form a ring. [24 (28, 32) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (28, 32) sc]
    Rnd 2: Ch 1, sc in same st, sc in next 2 sts, 2 sc in next st, *sc in next 3 sts, 2 sc in next st;
      rep from * around; join with sl st in first sc. [30 (36, 40) sc]
    """
    # 4 places give 5 sc: 30, 35, 40
    states(only_fault(check, pattern, "count", on="36", words="36", at=[28]), 36, 35)


def test_a_wrong_list_reads_on_its_line_at_custom_counts(check: Check, pattern: str) -> None:
    """
    Title: Dunlin Wristers
    Sizes: small (large)
    Foundation: 24 (28), multiple of 4
    Custom: 16 to 36

    # Cuff
    Foundation rnd: Ch 24 (28); join with sl st in first ch to form a ring. [24 (28) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (29) sc]
    """
    # 24 (29) lies on 5N/4 - 6: 14, 19, 24, 29, 34, 39; N sc are worked, so only 24 agrees
    only_fault(check, pattern, "count", on="Rnd 1:", words="29", at=[16, 20, 28, 32, 36])


V_STITCHES = """Title: Avocet Mitt
Foundation: 24, multiple of 3
Custom: none

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk 2 ch, V-st in next ch; rep from * around;
  join with sl st in 3rd ch of beg ch-4.
  [8 V-sts, 16 dc, 8 ch-1 sps, 16 sts]
"""
# 24 ch / 3 = 8 V-sts, each 2 dc and one ch-1 sp; sts counts no chains


@pytest.mark.parametrize(
    ("right", "wrong", "stated", "worked"),
    [
        ("8 V-sts", "7 V-sts", 7, 8),  # the one that the beginning chain is part of forgotten
        ("8 ch-1 sps", "9 ch-1 sps", 9, 8),
        ("16 dc", "15 dc", 15, 16),  # the beginning chain's dc forgotten
        ("16 sts", "24 sts", 24, 16),  # the chains counted as stitches
    ],
)
def test_one_part_of_a_count_wrong(check: Check, right: str, wrong: str, stated: int, worked: int) -> None:
    text = V_STITCHES.replace(right, wrong)
    states(only_fault(check, text, "count", on="V-sts,", words=wrong, at=[24]), stated, worked)


def test_the_v_stitches_themselves_are_right(check: Check) -> None:
    clean(check, V_STITCHES)


def test_spaces_of_two_lengths_counted_together(check: Check, pattern: str) -> None:
    """
    Title: Avocet Mitt
    Foundation: 24, multiple of 4
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 4 (counts as dc, ch 1), sk 1 ch, dc in next ch, ch 3, sk 1 ch, *dc in next ch, ch 1, sk 1 ch,
      dc in next ch, ch 3, sk 1 ch; rep from * around; join with sl st in 3rd ch of beg ch-4.
      [12 dc, 6 sps]
    """
    # 24 / 4 = 6 repeats, each one ch-1 sp and one ch-3 sp
    states(only_fault(check, pattern, "count", on="6 sps", words="6 sps", at=[24]), 6, 12)


def test_decreases_are_counted_under_their_stitch(check: Check, pattern: str) -> None:
    """
    Title: Knot Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 3 sts, sc2tog, *sc in next 4 sts, sc2tog; rep from * around;
      join with sl st in first sc. [16 sc]
    """
    # 4 repeats of 4 sc and one sc2tog: 20 sc where none is listed apart
    states(only_fault(check, pattern, "count", on="[16 sc]", words="16", at=[24]), 16, 20)


def test_decreases_listed_apart_are_not_counted_twice(check: Check, pattern: str) -> None:
    """
    Title: Knot Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 3 sts, sc2tog, *sc in next 4 sts, sc2tog; rep from * around;
      join with sl st in first sc. [20 sc, 4 sc2tog]
    """
    # 4 x 4 = 16 sc beside the 4 sc2tog
    states(only_fault(check, pattern, "count", on="[20 sc", words="20 sc", at=[24]), 20, 16)


def test_post_stitches_are_counted_by_their_own_name(check: Check, pattern: str) -> None:
    """
    Title: Knot Cuff
    Foundation: 24, multiple of 2
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 3 (counts as dc), dc in each ch around; join with sl st in top of beg ch. [N dc]
    Rnd 2: Ch 3 (counts as dc), FPdc around next dc, *dc in next dc, FPdc around next dc; rep from * around;
      join with sl st in top of beg ch. [24 dc]
    """
    # every second one is an FPdc: 12 dc (the beginning chain one of them), 12 FPdc
    states(only_fault(check, pattern, "count", on="[24 dc]", words="24", at=[24]), 24, 12)


def test_a_chain_that_does_not_count_is_not_counted(check: Check, pattern: str) -> None:
    """
    Title: Ruff Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 3 (does not count as a st), dc in same ch, dc in each ch around;
      join with sl st in first dc. [25 dc]
    """
    states(only_fault(check, pattern, "count", on="[25", words="25", at=[24]), 25, 24)


def test_a_chain_that_counts_and_a_stitch_beside_it(check: Check, pattern: str) -> None:
    """
    Title: Ruff Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 3 (counts as dc), dc in same ch, dc in each ch around; join with sl st in top of beg ch. [24 dc]
    """
    # the chain, one dc beside it, 23 dc more
    states(only_fault(check, pattern, "count", on="Rnd 1:", words="24", at=[24]), 24, 25)


def test_the_foundation_chain_is_not_as_long_as_the_header_says(check: Check, pattern: str) -> None:
    """
    Title: Ruff Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 22; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    """
    # rnd 1's 22 sc only follow
    only_fault(check, pattern, "count", "header", on="Foundation rnd:", at=[24])


def test_picots_are_no_stitches(check: Check, pattern: str) -> None:
    """
    Title: Godwit Edging
    Foundation: 24, multiple of 3
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 2 sts, picot, *sc in next 3 sts, picot; rep from * around;
      join with sl st in first sc. [32 sts]
    """
    # 24 sc; 8 picots count for nothing
    states(only_fault(check, pattern, "count", on="32 sts", words="32", at=[24]), 32, 24)


def test_a_cluster_is_one_stitch_of_its_own_name(check: Check, pattern: str) -> None:
    """
    Title: Godwit Cuff
    Foundation: 24, multiple of 2
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, cluster in next ch, *sc in next ch, cluster in next ch; rep from * around;
      join with sl st in first sc. [36 sts]
    """
    # 12 sc and 12 clusters, not three dc for each cluster
    states(only_fault(check, pattern, "count", on="36 sts", words="36", at=[24]), 36, 24)


@pytest.mark.parametrize(
    "count", ["(25)", "(25 sc.)", "= 25 sc", "25 sts.", "— 25 sc", "[25 sts]", "(25 sts)"]
)
def test_a_wrong_count_in_any_spelling(check: Check, count: str) -> None:
    text = (
        "Title: Turnstone Cuff\nFoundation: 24, multiple of 6\nCustom: none\n\n# Cuff\n"
        "Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]\n"
        f"Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. {count}\n"
    )
    states(only_fault(check, text, "count", on="Rnd 1:", words="25", at=[24]), 25, 24)
