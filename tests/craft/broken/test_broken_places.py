"""Places that do not exist, and places passed without a word."""

import pytest

from tests.craft.broken.expect_broken import Check, only_fault, only_warning


def test_a_space_where_there_is_none(check: Check, pattern: str) -> None:
    """
    Title: Osier Cuff
    Foundation: 24, multiple of 6
    Custom: 18 to 30

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 3 (counts as dc), dc in each ch around; join with sl st in top of beg ch. [24 dc]
    Rnd 2: Ch 1, sc in same st, *3 sc in next ch-5 sp; rep from * around; join with sl st in first sc.
    Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]
    """
    only_fault(check, pattern, "place", on="Rnd 2:", words="ch-5 sp", at=[18, 24, 30])


MESH = """Title: Osier Cuff
Foundation: 24, multiple of 3
Custom: none

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 1, sc in same ch, ch 3, sk 2 ch, *sc in next ch, ch 3, sk 2 ch; rep from * around;
  join with sl st in first sc. [8 sc, 8 ch-3 sps]
"""
# 24 ch / 3: 8 sc, each with a ch 3 after it


@pytest.mark.parametrize(
    ("after", "words"),
    [
        # the spaces are ch-3 sps
        ("Ch 1, sc in same st, *3 sc in next ch-5 sp; rep from * around;", "ch-5 sp"),
        # a ch-3 has no fourth chain
        ("Ch 1, sc in same st, sc in 4th ch of next ch-3, *sc in next sc, sc in 2nd ch of next ch-3;"
         " rep from * around;", "4th ch"),
        # every stitch is an sc
        ("Ch 1, sc in same st, 3 sc in next ch-3 sp, *dc in next hdc, 3 sc in next ch-3 sp;"
         " rep from * around;", "next hdc"),
        ("Ch 1, sc in each dc around;", "each dc"),
        ("Ch 3 (counts as dc), FPdc around next dc, *dc in next sc, 3 sc in next ch-3 sp; rep from * around;",
         "next dc"),
        # no V-st has been made
        ("Ch 3 (counts as dc), V-st in next V-st, *dc in next sc; rep from * around;", "next V-st"),
        # nothing has been skipped in this round yet
        ("Ch 1, sc in same st, dc in skipped st, *3 sc in next ch-3 sp; rep from * around;", "skipped st"),
    ],
)  # fmt: skip
def test_a_place_that_a_mesh_does_not_have(check: Check, after: str, words: str) -> None:
    text = f"{MESH}Rnd 2: {after}\n  join with sl st in first st.\n"
    only_fault(check, text, "place", on="Rnd 2:", words=words, at=[24])


def test_a_space_that_only_the_large_size_lacks(check: Check, pattern: str) -> None:
    """
    Title: Osier Cuff
    Sizes: small (large)
    Foundation: 24 (30), multiple of 3
    Custom: none

    # Cuff
    Foundation rnd: Ch 24 (30); join with sl st in first ch to form a ring. [24 (30) ch]
    Rnd 1: Ch 1, sc in same ch, ch 3 (4), sk 2 ch, *sc in next ch, ch 3 (4), sk 2 ch; rep from * around;
      join with sl st in first sc. [8 (10) sc, 8 (10) sps]
    Rnd 2: Sl st in next ch-3 sp, ch 1, 3 sc in same sp, *3 sc in next ch-3 sp; rep from * around;
      join with sl st in first sc. [24 (30) sc]
    """
    # the large size has ch-4 sps; what its second naming lacks only follows
    only_fault(check, pattern, "place", on="Rnd 2:", words="ch-3 sp", at=[30])


def test_a_group_with_two_spaces_has_no_one_center(check: Check, pattern: str) -> None:
    """
    Title: Withy Cuff
    Foundation: 24, multiple of 4
    Custom: none
    Special stitch: Tuft = (dc, ch 1, dc, ch 1, dc) in one place

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sk 1 ch, Tuft in next ch, sk 1 ch,
      *sc in next ch, sk 1 ch, Tuft in next ch, sk 1 ch; rep from * around;
      join with sl st in first sc. [6 Tufts, 6 sc]
    Rnd 2: Ch 1, sc in same st, Tuft in next Tuft, *sc in next sc, Tuft in next Tuft; rep from * around;
      join with sl st in first sc.
    """
    only_fault(check, pattern, "place", on="Rnd 2:", words="Tuft", at=[24])


def test_a_shell_of_four_has_no_center_stitch(check: Check, pattern: str) -> None:
    """
    Title: Withy Cuff
    Foundation: 24, multiple of 4
    Custom: none
    Special stitch: shell = 4 dc in one place

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sk 1 ch, shell in next ch, sk 1 ch,
      *sc in next ch, sk 1 ch, shell in next ch, sk 1 ch; rep from * around; join with sl st in first sc.
    Rnd 2: Ch 1, sc in same st, sc in center dc of next shell, *sc in next sc, ch 1; rep from * around;
      join with sl st in first sc.
    """
    only_fault(check, pattern, "place", on="Rnd 2:", words="center dc", at=[24])


def test_nothing_stands_on_a_picot(check: Check, pattern: str) -> None:
    """
    Title: Withy Edging
    Foundation: 24, multiple of 3
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in next 2 ch, picot, *sc in next 3 ch, picot; rep from * around;
      join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 2 sts, sc in next picot, sc in each st around;
      join with sl st in first sc.
    """
    only_fault(check, pattern, on="Rnd 2:", words="picot")


def test_same_space_where_the_hook_is_on_a_stitch(check: Check, pattern: str) -> None:
    """
    Title: Withy Mitt
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 3 (counts as dc), dc in each ch around; join with sl st in top of beg ch. [24 dc]
    Rnd 2: Ch 3 (counts as dc), 4 dc in same sp, *sk 5 sts, 5 dc in next st; rep from * around;
      join with sl st in top of beg ch.
    """
    # no space has been slipped to: there is none in the ring at all
    only_fault(check, pattern, on="Rnd 2:", words="same sp", severity="", at=[24])


def test_the_foundation_of_a_crown_has_no_free_side(check: Check, pattern: str) -> None:
    """
    Title: Withy Crown
    Sizes: child (grown)
    Foundation: none
    Pieces: one

    # Crown
    Rnd 1: Ch 3 (counts as dc), 11 (13) dc in ring; join with sl st in top of beg ch. [12 (14) dc]
    Fasten off.

    # Bottom edging - in the foundation
    Join yarn with sc in any foundation ch, sc in each foundation ch around; join with sl st in first sc.
    Fasten off.
    """
    only_fault(check, pattern, at=["child", "grown"])


def test_stitches_passed_without_sk(check: Check, pattern: str) -> None:
    """
    Title: Sedge Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in next 10 ch, hdc in next ch, sc in each ch around;
      join with sl st in first sc. [23 sc, 1 hdc]
    Rnd 2: Ch 1, sc in same st, sc in next hdc, sc in each st around; join with sl st in first sc. [14 sc]
    """
    # ten sc are passed: 1 + 1 + 12 = 14
    only_warning(check, pattern, "place", on="Rnd 2:", words="hdc", at=[24])


def test_a_stitch_passed_in_a_repeat_is_one_warning(check: Check, pattern: str) -> None:
    """
    Title: Sedge Cuff
    Foundation: 24, multiple of 4
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, hdc in next ch, dc in next ch, hdc in next ch,
      *sc in next ch, hdc in next ch, dc in next ch, hdc in next ch; rep from * around;
      join with sl st in first sc.
    Rnd 2: Ch 1, sc in same st, sk next hdc, 3 dc in next dc, sk next hdc,
      *sc in next sc, 3 dc in next dc, sk next hdc; rep from * around;
      join with sl st in first sc. [6 sc, 18 dc]
    """
    # the hdc between sc and dc, five times
    only_warning(check, pattern, "place", on="*sc in next sc,", words="dc", at=[24])


def test_a_space_of_another_length_passed(check: Check, pattern: str) -> None:
    """
    Title: Sedge Cuff
    Foundation: 24, multiple of 4
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 4 (counts as dc, ch 1), sk 1 ch, dc in next ch, ch 3, sk 1 ch, *dc in next ch, ch 1, sk 1 ch,
      dc in next ch, ch 3, sk 1 ch; rep from * around; join with sl st in 3rd ch of beg ch-4.
    Rnd 2: Sl st in next ch-1 sp, sl st in next dc, sl st in next ch-3 sp, ch 1, 3 sc in same sp,
      *3 sc in next ch-3 sp; rep from * around; join with sl st in first sc. [18 sc]
    """
    # 24 / 4 = 6 ch-3 sps; the ch-1 sp before each but the first is passed
    only_warning(check, pattern, "place", on="*3 sc", words="ch-3 sp", at=[24])


def test_the_same_spaces_skipped_in_words_are_no_fault(check: Check, pattern: str) -> None:
    """
    Title: Sedge Cuff
    Foundation: 24, multiple of 4
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 4 (counts as dc, ch 1), sk 1 ch, dc in next ch, ch 3, sk 1 ch, *dc in next ch, ch 1, sk 1 ch,
      dc in next ch, ch 3, sk 1 ch; rep from * around; join with sl st in 3rd ch of beg ch-4.
    Rnd 2: Sl st in next ch-1 sp, sl st in next dc, sl st in next ch-3 sp, ch 1, 3 sc in same sp,
      *sk next ch-1 sp, 3 sc in next ch-3 sp; rep from * around; join with sl st in first sc. [17 sc]
    """
    # only the stated count is wrong
    only_fault(check, pattern, "count", on="[17 sc]", words="17", at=[24])
