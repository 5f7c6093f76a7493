"""Rows that leave stitches, and what the chains at a row's beginning count as."""

from tests.craft.broken.expect_broken import Check, only_fault, only_warning


def test_a_row_that_leaves_a_stitch(check: Check, pattern: str) -> None:
    """
    Title: Reed Strip
    Foundation: 13
    Worked: rows

    # Strip
    Foundation row: Ch 13.
    Row 1: Sc in 2nd ch from hook, sc in each ch across, turn. [12 sc]
    Row 2: Ch 1, sc in first sc, sc in next 10 sc, turn. [11 sc]
    """
    # 12 places, 11 worked: in rows a warning
    only_warning(check, pattern, "closing", "place", on="Row 2:", at=[13])


def test_a_row_whose_repeat_does_not_come_out(check: Check, pattern: str) -> None:
    """
    Title: Reed Strip
    Foundation: 13
    Worked: rows

    # Strip
    Foundation row: Ch 13.
    Row 1: Sc in 2nd ch from hook, sc in each ch across, turn. [12 sc]
    Row 2: Ch 1, sc in first sc, *ch 1, sk 1 sc, sc in next sc; rep from * across, turn.
    """
    # 11 places for repeats of 2
    only_fault(check, pattern, "closing", on="Row 2:", severity="", at=[13])


def test_a_row_counted_without_the_chains_that_count(check: Check, pattern: str) -> None:
    """
    Title: Reed Strip
    Foundation: 14
    Worked: rows

    # Strip
    Foundation row: Ch 14.
    Row 1: Dc in 4th ch from hook, dc in each ch across, turn. [11 dc]
    """
    # three chains passed count as a dc, and 11 chains are worked: 12
    found = only_fault(check, pattern, "count", on="Row 1:", words="11", at=[14])
    assert "12" in found["worked"]
