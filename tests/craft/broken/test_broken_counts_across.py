"""Stated counts across rounds, sections and ways of working: what only follows is not reported."""

from tests.craft.broken.expect_broken import Check, line_of, only_fault, states


def test_a_count_held_over_by_rep_rnd(check: Check, pattern: str) -> None:
    """
    Title: Plover Mitt
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, 2 sc in same st, sc in each st around; join with sl st in first sc. [25 sc]
    Rnd 3: rep rnd 2.
    """
    # rnd 2 has 24 + 1, rnd 3 has 25 + 1, and rnd 2's count line holds for it
    found = only_fault(check, pattern, "count", at=[24])
    states(found, 25, 26)
    assert found["line"] in {line_of(pattern, "Rnd 2:"), line_of(pattern, "Rnd 3:")}


def test_a_new_count_given_with_rep_rnd(check: Check, pattern: str) -> None:
    """
    Title: Plover Mitt
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, 2 sc in same st, sc in each st around; join with sl st in first sc. [25 sc]
    Rnd 3: rep rnd 2. [27 sc]
    """
    # 25 + 1
    states(only_fault(check, pattern, "count", on="Rnd 3:", words="27", at=[24]), 27, 26)


def test_one_text_for_several_rounds_that_grow(check: Check, pattern: str) -> None:
    """
    Title: Plover Mitt
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnds 2 to 4: Ch 1, 2 sc in same st, sc in each st around; join with sl st in first sc. [25 sc]
    """
    # 25, 26, 27: the first that is wrong is rnd 3
    states(only_fault(check, pattern, "count", on="Rnds 2", words="25", at=[24]), 25, 26)


def test_counts_that_go_on_wrong_are_one_fault(check: Check, pattern: str) -> None:
    """
    Title: Ruff Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 3 (counts as dc), dc in same ch, dc in each ch around; join with sl st in top of beg ch. [24 dc]
    Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [24 dc]
    Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [24 sc]
    """
    states(only_fault(check, pattern, "count", on="Rnd 1:", at=[24]), 24, 25)


def test_two_faults_are_two_findings(check: Check, pattern: str) -> None:
    """
    Title: Sanderling Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [23 sc]
    Rnd 2: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [24 sc]
    Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [26 sc]
    """
    # rnd 2 is right, so that neither follows from the other
    report = check(pattern)
    assert report["proved"] is False
    faults = sorted((found["line"], found["kind"]) for found in report["findings"])
    assert faults == [(line_of(pattern, "Rnd 1:"), "count"), (line_of(pattern, "Rnd 3:"), "count")]


def test_an_edging_in_the_foundation(check: Check, pattern: str) -> None:
    """
    Title: Sanderling Cuff
    Foundation: 24, multiple of 6
    Custom: 18 to 30

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Fasten off.

    # Bottom edging - in the foundation
    Join yarn with sc in any foundation ch, sc in each foundation ch around;
      join with sl st in first sc. [N - 1 sc]
    Fasten off.
    """
    # as many as the foundation has chains
    only_fault(check, pattern, "count", on="N - 1", words="N - 1", at=[18, 24, 30])


def test_the_group_that_the_gap_takes_is_forgotten(check: Check, pattern: str) -> None:
    """
    Title: Sanderling Mitt
    Foundation: 24, multiple of 3
    Custom: 15 to 27

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk 2 ch, V-st in next ch; rep from * around;
      join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]

    # Thumb gap
    Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, ch 5, sk next V-st,
      *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4.
      [N/3 V-sts, 1 ch-5 sp]
    """
    # one V-st of N/3 is skipped
    only_fault(check, pattern, "count", on="1 ch-5 sp", words="N/3 V-st", at=[15, 18, 21, 24, 27])


def test_a_uk_text_is_counted_in_uk_terms(check: Check, pattern: str) -> None:
    """
    Title: Whimbrel Mitt
    Terms: UK
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with ss in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, dc in same ch, dc in each ch around; join with ss in first dc. [24 dc]
    Rnd 2: Ch 3 (counts as tr), tr in each st around; join with ss in top of beg ch. [23 tr]
    """
    # a tr on each of 24 dc, the beginning chain one of them
    states(only_fault(check, pattern, "count", on="Rnd 2:", words="23 tr", at=[24]), 23, 24)


def test_a_spiral_round(check: Check, pattern: str) -> None:
    """
    Title: Whimbrel Tube
    Foundation: 24, multiple of 6
    Custom: none
    Worked: spiral

    # Tube
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Sc in each ch around. [24 sc]
    Rnd 2: 2 sc in next st, sc in each st around. [24 sc]
    """
    # 23 places with one sc, one with two
    states(only_fault(check, pattern, "count", on="Rnd 2:", words="24", at=[24]), 24, 25)


def test_a_crown_wrong_at_the_large_size(check: Check, pattern: str) -> None:
    """
    Title: Godwit Crown
    Sizes: child (grown)
    Foundation: none
    Pieces: one

    # Crown
    Rnd 1: Ch 3 (counts as dc), 11 (13) dc in ring; join with sl st in top of beg ch. [12 (15) dc]
    """
    # the beginning chain and 11 (13): 12 (14)
    states(only_fault(check, pattern, "count", on="Rnd 1:", words="15", at=["grown"]), 15, 14)
