"""Pieces worked in rows, and pieces that start from a ring."""

import pytest

from tests.craft.expect import (
    Check,
    Report,
    counts,
    crown,
    flat,
    formula,
    labels,
    proved,
    proved_clean,
    same_work,
)


@pytest.mark.parametrize(
    ("stitch", "kth", "height"),
    # the chains passed: 1 never counts, so N - 1 sts; 2, 3, 4 count as the stitch, so N - (k - 1) + 1
    [("sc", "2nd", 1), ("hdc", "3rd", 1), ("dc", "4th", 2), ("tr", "5th", 3)],
)
def test_a_first_row_from_the_hook(check: Check, stitch: str, kth: str, height: int) -> None:
    text = flat(
        f"Row 1: {stitch.capitalize()} in {kth} ch from hook, {stitch} in each ch across; "
        f"turn. [N - {height} {stitch}]",
        f"Row 2: Ch 1, sc in each st across; turn. [N - {height} sc]",
    )
    report = check(text)
    proved_clean(report)
    assert labels(report, 24, "Panel") == ["Foundation row", "Row 1", "Row 2"]
    assert counts(report, 24, "Panel", "Foundation row")["ch"] == 24
    assert counts(report, 24, "Panel", "Row 1").items() >= {stitch: 24 - height, "sts": 24 - height}.items()
    assert counts(report, 24, "Panel", "Row 2")["sc"] == 24 - height
    assert formula(report, "Panel", "Row 1")[stitch] == f"N - {height}"


def test_a_chain_that_counts_in_rows(check: Check) -> None:
    text = flat(
        "Row 1: Dc in 4th ch from hook, dc in each ch across; turn. [N - 2 dc]",
        "Rows 2 to 5: Ch 3 (counts as dc), dc in each dc across; turn. [N - 2 dc]",
    )
    report = check(text)
    proved_clean(report)
    assert labels(report, 24, "Panel")[-1] == "Row 5"
    assert counts(report, 24, "Panel", "Row 5")["dc"] == 22


def test_a_chain_that_counts_and_same_st_widen_a_row(check: Check) -> None:
    text = flat(
        "Row 1: Sc in 2nd ch from hook, sc in each ch across; turn. [N - 1 sc]",
        "Row 2: Ch 3 (counts as dc), dc in same st, dc in each st across; turn. [N dc]",
        "Row 3: Ch 1, 2 sc in first st, sc in each st across; turn. [N + 1 sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Panel", "Row 2")["dc"] == 24
    assert counts(report, 24, "Panel", "Row 3")["sc"] == 25


def test_a_repeat_across(check: Check) -> None:
    text = flat(
        "Row 1: Sc in 2nd ch from hook, sc in each ch across; turn. [N - 1 sc]",
        # over N - 1 sts, an odd number: sc, then N/2 - 1 pairs
        "Row 2: Ch 1, sc in first st, *ch 1, sk next st, sc in next st; rep from * across; "
        "turn. [N/2 sc, N/2 - 1 ch-1 sps]",
        "Row 3: Ch 1, sc in first sc, *sc in next ch-1 sp, sc in next sc; rep from * across; "
        "turn. [N - 1 sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Panel", "Row 2").items() >= {"sc": 12, "ch-1 sp": 11}.items()
    assert counts(report, 24, "Panel", "Row 3")["sc"] == 23
    assert formula(report, "Panel", "Row 2").items() >= {"sc": "N/2", "ch-1 sp": "N/2 - 1"}.items()


def test_a_row_repeat_to_the_last_stitch(check: Check) -> None:
    text = flat(
        "Row 1: Sc in 2nd ch from hook, sc in each ch across; turn. [N - 1 sc]",
        "Row 2: Ch 1, sc in first st, *2 sc in next st; rep from * to last st, sc in last st; "
        "turn. [2N - 4 sc]",
    )
    report = check(text)
    proved_clean(report)
    # 23 sts: two plain at the ends, 21 doubled
    assert counts(report, 24, "Panel", "Row 2")["sc"] == 44


def test_a_ribbed_strip_in_rows(report: Report) -> None:
    """Title: Bollard Band
    Foundation: 11
    Worked: rows
    Pieces: one

    # Band
    Foundation row: Ch 11. [11 ch]
    Row 1: Sc in 2nd ch from hook, sc in each ch across; turn. [10 sc]
    Rows 2 to 30: Ch 1, sc in BLO of each st across; turn. [10 sc]
    Fasten off.
    """
    proved_clean(report)
    assert len(labels(report, 11, "Band")) == 31
    assert counts(report, 11, "Band", "Row 30")["sc"] == 10


def test_rows_by_size(report: Report) -> None:
    """Title: Gangway Scarf
    Sizes: short (long)
    Foundation: 20 (26), multiple of 6 + 2
    Worked: rows
    Pieces: one

    # Scarf
    Foundation row: Ch 20 (26).
    Row 1: Hdc in 3rd ch from hook, hdc in each ch across; turn. [19 (25) hdc]
    Rows 2 to 4 (6): Ch 2 (counts as hdc), hdc in each st across; turn. [19 (25) hdc]
    """
    proved_clean(report)
    # two chains passed count as a hdc: 18 (24) and 1
    assert counts(report, 20, "Scarf", "Row 4")["hdc"] == 19
    assert counts(report, 26, "Scarf", "Row 6")["hdc"] == 25
    assert formula(report, "Scarf", "Row 1")["hdc"] == "N - 1"


def test_chain_one_turn_at_a_rows_end_begins_the_next(check: Check) -> None:
    at_the_end = flat(
        "Row 1: Sc in 2nd ch from hook, sc in each ch across; ch 1, turn.",
        "Row 2: Sc in each sc across; ch 1, turn.",
        "Row 3: 2 sc in first sc, sc in each sc across.",
    )
    at_the_beginning = flat(
        "Row 1: Sc in 2nd ch from hook, sc in each ch across; turn.",
        "Row 2: Ch 1, sc in each sc across; turn.",
        "Row 3: Ch 1, 2 sc in first sc, sc in each sc across.",
    )
    report = check(at_the_end)
    assert counts(report, 24, "Panel", "Row 3")["sc"] == 24
    same_work(report, check(at_the_beginning))


def test_chain_three_turn_counts_in_the_next_row(check: Check) -> None:
    text = flat(
        "Row 1: Dc in 4th ch from hook, dc in each ch across; ch 3, turn. [N - 2 dc]",
        "Row 2: Dc in same st, dc in each st across. [N - 1 dc]",
    )
    report = check(text)
    proved(report)
    assert counts(report, 24, "Panel", "Row 2")["dc"] == 23


def test_sc_crown_in_joined_rounds(check: Check) -> None:
    text = crown(
        "Rnd 1: Ch 1, 6 sc in ring; join with sl st in first sc. [6 sc]",
        "Rnd 2: Ch 1, 2 sc in each sc around; join with sl st in first sc. [12 sc]",
        "Rnd 3: Ch 1, sc in same st, 2 sc in next st, *sc in next st, 2 sc in next st; rep from * around;",
        "  join with sl st in first sc. [18 sc]",
        "Rnd 4: Ch 1, sc in same st, sc in next st, 2 sc in next st, [sc in next 2 sts, "
        "2 sc in next st] 5 times;",
        "  join with sl st in first sc. [24 sc]",
    )
    report = check(text)
    proved_clean(report)
    assert set(report["rounds"]) == {"child", "adult"}
    for size in ("child", "adult"):
        assert [counts(report, size, "Crown", f"Rnd {k}")["sc"] for k in (1, 2, 3, 4)] == [6, 12, 18, 24]


def test_sc_crown_in_a_spiral(check: Check) -> None:
    text = crown(
        "Rnd 1: 6 sc in ring. [6 sc]",
        "Rnd 2: 2 sc in each sc around. [12 sc]",
        "Rnd 3: *Sc in next sc, 2 sc in next sc; rep from * around. [18 sc]",
        "Rnd 4: *Sc in next 2 sc, 2 sc in next sc; rep from * around. [24 sc]",
        "Rnds 5 to 6 (8): Sc in each sc around. [24 sc]",
        worked="spiral",
    )
    report = check(text)
    proved_clean(report)
    assert [counts(report, "child", "Crown", f"Rnd {k}")["sc"] for k in (1, 2, 3, 4, 6)] == [
        6,
        12,
        18,
        24,
        24,
    ]
    assert labels(report, "child", "Crown")[-1] == "Rnd 6"
    assert labels(report, "adult", "Crown")[-1] == "Rnd 8"


def test_dc_crown(check: Check) -> None:
    text = crown(
        "Rnd 1: Ch 3 (counts as dc), 11 dc in ring; join with sl st in top of beg ch. [12 dc]",
        "Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each dc around; "
        "join with sl st in top of beg ch. [24 dc]",
        "Rnd 3: Ch 3 (counts as dc), 2 dc in next dc, *dc in next dc, 2 dc in next dc; rep from * around;",
        "  join with sl st in top of beg ch. [36 dc]",
        "Rnd 4: Ch 3 (counts as dc), dc in next dc, 2 dc in next dc, *dc in next 2 dc, 2 dc in next dc; "
        "rep from * around;",
        "  join with sl st in top of beg ch. [48 dc]",
    )
    report = check(text)
    proved_clean(report)
    assert [counts(report, "adult", "Crown", f"Rnd {k}")["dc"] for k in (1, 2, 3, 4)] == [12, 24, 36, 48]


def test_hdc_crown_by_size(check: Check) -> None:
    text = crown(
        "Rnd 1: Ch 2 (counts as hdc), 7 (9) hdc in ring; join with sl st in top of beg ch. [8 (10) hdc]",
        "Rnd 2: Ch 2 (counts as hdc), hdc in same st, 2 hdc in each st around; "
        "join with sl st in top of beg ch. [16 (20) hdc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, "child", "Crown", "Rnd 2")["hdc"] == 16
    assert counts(report, "adult", "Crown", "Rnd 2")["hdc"] == 20


def test_a_square_from_a_ring(check: Check) -> None:
    text = crown(
        # 3 dc and a ch-2 corner, four times
        "Rnd 1: Ch 3 (counts as dc), 2 dc in ring, ch 2, *3 dc in ring, ch 2; rep from * 2 times more;",
        "  join with sl st in top of beg ch. [12 dc, 4 ch-2 sps]",
        # 3 dc, ch 2, 3 dc in each corner, ch 1 between
        "Rnd 2: Sl st in next 2 dc, sl st in next ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, "
        "3 dc) in same sp,",
        "  *ch 1, (3 dc, ch 2, 3 dc) in next ch-2 sp; rep from * around, ch 1; "
        "join with sl st in top of beg ch.",
        "  [24 dc, 4 ch-2 sps, 4 ch-1 sps]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, "child", "Crown", "Rnd 1").items() >= {"dc": 12, "ch-2 sp": 4}.items()
    assert counts(report, "child", "Crown", "Rnd 2").items() >= {"dc": 24, "ch-2 sp": 4, "ch-1 sp": 4}.items()


def test_a_crown_with_its_body_to_fit_and_brim(report: Report) -> None:
    """Title: Fender Cap
    Sizes: child (adult)
    Foundation: none
    Worked: joined rounds
    Pieces: one

    # Crown
    Rnd 1: Ch 1, 8 (9) sc in ring; join with sl st in first sc. [8 (9) sc]
    Rnd 2: Ch 1, 2 sc in each st around; join with sl st in first sc. [16 (18) sc]
    Rnd 3: Ch 1, sc in same st, 2 sc in next st, *sc in next st, 2 sc in next st; rep from * around;
      join with sl st in first sc. [24 (27) sc]

    # Body - to the brow
    Rnds 1 to 3 (4), or to the brow: Ch 1, sc in each st around; join with sl st in first sc. [24 (27) sc]

    # Brim
    Rnd 1: Ch 1, sc in same st, ch 2, sk next 2 sts, *sc in next st, ch 2, sk next 2 sts; rep from * around;
      join with sl st in first sc. [8 (9) sc, 8 (9) ch-2 sps]
    Fasten off.
    """
    proved_clean(report)
    assert labels(report, "child", "Body") == ["Rnd 1", "Rnd 2", "Rnd 3"]
    assert labels(report, "adult", "Body") == ["Rnd 1", "Rnd 2", "Rnd 3", "Rnd 4"]
    assert counts(report, "child", "Brim", "Rnd 1").items() >= {"sc": 8, "ch-2 sp": 8}.items()
    assert counts(report, "adult", "Brim", "Rnd 1").items() >= {"sc": 9, "ch-2 sp": 9}.items()
