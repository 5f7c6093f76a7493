"""Repeats that do not close, and places left or lacking at the end of a round."""

import re

from tests.craft.broken.expect_broken import Check, Finding, only_fault, round_lines


def names_counts(finding: Finding, *counts: int) -> None:
    """The message names these foundation counts."""
    said = {int(number) for number in re.findall(r"\d+", finding["message"])}
    assert set(counts) <= said, f"{counts} not in: {finding['message']}"


def test_a_repeat_over_at_most_counts(check: Check, pattern: str) -> None:
    """
    Title: Sluice Cuff
    Foundation: 24, multiple of 4
    Custom: 20 to 40

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 3 (counts as dc), 4 dc in same st, *sk 4 sts, 5 dc in next st; rep from * around;
      join with sl st in top of beg ch.
    """
    # five places a repeat: only 20 and 40 close
    found = only_fault(check, pattern, "closing", on="Rnd 2:", at=[24, 28, 32, 36])
    names_counts(found, 20, 40)


def test_a_repeat_that_closes_only_at_multiples_of_four(check: Check, pattern: str) -> None:
    """
    Title: Sluice Cuff
    Foundation: 24, multiple of 6
    Custom: 18 to 36

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 2 sts, ch 2, sk 1 st,
      *sc in next 3 sts, ch 2, sk 1 st; rep from * around; join with sl st in first sc.
    """
    # 18 and 30 are no multiples of 4
    only_fault(check, pattern, "closing", on="*sc in", at=[18, 30])


def test_a_repeat_that_the_middle_size_does_not_close(check: Check, pattern: str) -> None:
    """
    Title: Sluice Cuff
    Sizes: small (medium, large)
    Foundation: 24 (30, 36), multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24 (30, 36); join with sl st in first ch to form a ring. [24 (30, 36) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (30, 36) sc]
    Rnd 2: Ch 3 (counts as dc), 3 dc in same st, *sk 3 sts, 4 dc in next st; rep from * around;
      join with sl st in top of beg ch.
    """
    only_fault(check, pattern, "closing", on="Rnd 2:", at=[30])


def test_a_round_that_begins_one_stitch_into_the_repeat(check: Check, pattern: str) -> None:
    """
    Title: Groyne Cuff
    Foundation: 24, multiple of 3
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 3 (counts as dc), *dc in next 2 sts, ch 1, sk 1 st; rep from * around;
      join with sl st in top of beg ch.
    """
    # 23 places for repeats of 3: after 7 of them two are left, and the eighth would skip the beginning
    only_fault(check, pattern, "closing", on="Rnd 2:", at=[24])


def test_chains_left_before_the_beginning(check: Check, pattern: str) -> None:
    """
    Title: Groyne Cuff
    Foundation: 24, multiple of 3
    Custom: 18 to 27

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, *ch 3, sk 2 sts, sc in next st; rep from * around;
      join with sl st in first sc.
    """
    # the last ch 3 is made, but its sc would fall on the first: nothing says to omit it
    only_fault(check, pattern, "closing", on="Rnd 2:", at=[18, 21, 24, 27])


def test_a_stitch_that_falls_on_the_first(check: Check, pattern: str) -> None:
    """
    Title: Groyne Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, *sk 2 sts, shell in next st, sk 2 sts, sc in next st; rep from * around;
      join with sl st in first sc.
    """
    # the fourth repeat's sc falls on the first sc: the middle of a repeat
    only_fault(check, pattern, "closing", on="Rnd 2:", at=[24])


def test_omitting_what_the_repeat_does_not_have(check: Check, pattern: str) -> None:
    """
    Title: Groyne Cuff
    Foundation: 24, multiple of 3
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, *ch 3, sk 2 sts, sc in next st; rep from * around, omitting last hdc;
      join with sl st in first sc.
    """
    only_fault(check, pattern, on="Rnd 2:")


def test_a_repeat_to_the_last_two_that_never_gets_there(check: Check, pattern: str) -> None:
    """
    Title: Breakwater Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, *sc in next 3 sts, 2 sc in next st; rep from * to last 2 sts,
      sc in last 2 sts; join with sl st in first sc.
    """
    # 24 - 1 - 2 = 21 places for repeats of 4
    only_fault(check, pattern, "closing", on="Rnd 2:", at=[24])


def test_a_repeat_to_the_last_two_at_some_counts(check: Check, pattern: str) -> None:
    """
    Title: Breakwater Cuff
    Foundation: 24, multiple of 3
    Custom: 18 to 30

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next st, *ch 1, sk 1 st, sc in next st; rep from * to last 2 sts,
      sc in last 2 sts; join with sl st in first sc.
    """
    # N - 4 places for repeats of 2: not at 21 and 27
    only_fault(check, pattern, "closing", on="Rnd 2:", at=[21, 27])


def test_too_many_repeats_by_number(check: Check, pattern: str) -> None:
    """
    Title: Breakwater Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 4 sts, 2 sc in next st, *sc in next 5 sts, 2 sc in next st;
      rep from * 3 times more; join with sl st in first sc.
    """
    # 6 + 4 x 6 = 30 places of 24
    found = only_fault(check, pattern, "closing", "place", at=[24])
    assert found["line"] in round_lines(pattern, "Rnd 2:")


def test_too_few_repeats_by_number(check: Check, pattern: str) -> None:
    """
    Title: Breakwater Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 2 sts, 2 sc in next st, *sc in next 3 sts, 2 sc in next st;
      rep from * 2 times more; join with sl st in first sc.
    """
    # 4 + 3 x 4 = 16 places: 8 left
    found = only_fault(check, pattern, "closing", "place", at=[24])
    assert found["line"] in round_lines(pattern, "Rnd 2:")
    names_counts(found, 8)


def test_a_bracket_by_number_fits_the_size_only(check: Check, pattern: str) -> None:
    """
    Title: Breakwater Cuff
    Foundation: 24, multiple of 6
    Custom: 24 to 36

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 5 sts, [ch 1, sk 1 st, sc in next 5 sts] 3 times;
      join with sl st in first sc.
    """
    # 6 + 3 x 6 = 24 places at every count: at 30 six are left, at 36 twelve
    found = only_fault(check, pattern, "closing", "place", at=[30, 36])
    assert found["line"] in round_lines(pattern, "Rnd 2:")


def test_one_stitch_left_at_the_end(check: Check, pattern: str) -> None:
    """
    Title: Mole Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 22 sts; join with sl st in first sc. [23 sc]
    """
    only_fault(check, pattern, "closing", "place", on="Rnd 2:", at=[24])


def test_a_stitch_left_and_the_count_that_follows_from_it(check: Check, pattern: str) -> None:
    """
    Title: Mole Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 22 sts; join with sl st in first sc. [24 sc]
    """
    only_fault(check, pattern, on="Rnd 2:", at=[24])


def test_a_stitch_left_at_the_large_size(check: Check, pattern: str) -> None:
    """
    Title: Mole Cuff
    Sizes: small (medium, large)
    Foundation: 24 (28, 32), multiple of 4
    Custom: none

    # Cuff
    Foundation rnd: Ch 24 (28, 32); join with sl st in first ch to form a ring. [24 (28, 32) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (28, 32) sc]
    Rnd 2: Ch 1, sc in same st, sc in next 23 (27, 30) sts; join with sl st in first sc.
    """
    only_fault(check, pattern, "closing", "place", on="Rnd 2:", at=[32])


def test_one_stitch_more_than_there_are(check: Check, pattern: str) -> None:
    """
    Title: Mole Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 24 sts; join with sl st in first sc. [25 sc]
    """
    only_fault(check, pattern, "closing", "place", on="Rnd 2:", at=[24])


def test_every_second_group_of_an_odd_number(check: Check, pattern: str) -> None:
    """
    Title: Jetty Mitt
    Foundation: 24, multiple of 3
    Custom: 18 to 30

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk 2 ch, V-st in next ch; rep from * around;
      join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]
    Rnd 2: Sl st in next ch-1 sp, ch 3 (counts as dc), 4 dc in same sp, sk next V-st,
      *5 dc in next ch-1 sp, sk next V-st; rep from * around; join with sl st in top of beg ch.
    """
    # 7 V-sts at 21 and 9 at 27 are odd
    only_fault(check, pattern, "closing", on="*5 dc", at=[21, 27])


def test_a_multiple_declared_too_small(check: Check, pattern: str) -> None:
    """
    Title: Jetty Cuff
    Foundation: 24, multiple of 3
    Custom: 18 to 30

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sk 2 sts, shell in next st, sk 2 sts,
      *sc in next st, sk 2 sts, shell in next st, sk 2 sts; rep from * around; join with sl st in first sc.
    """
    # six places a repeat
    only_fault(check, pattern, "closing", on="*sc in", at=[21, 27])


def test_two_together_around_over_what_is_left_of_an_even_number(check: Check, pattern: str) -> None:
    """
    Title: Jetty Cuff
    Foundation: 24, multiple of 3
    Custom: 18 to 30

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, [sc2tog] around; join with sl st in first sc.
    """
    # N - 1 places by two: 17, 23 and 29 leave one
    only_fault(check, pattern, "closing", on="Rnd 2:", at=[18, 24, 30])


def test_a_nested_repeat_at_odd_multiples(check: Check, pattern: str) -> None:
    """
    Title: Pontoon Cuff
    Foundation: 20, multiple of 5
    Custom: 20 to 40

    # Cuff
    Foundation rnd: Ch 20; join with sl st in first ch to form a ring. [20 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [20 sc]
    Rnd 2: Ch 1, sc in same st, [sc in next 2 sts, 2 sc in next st] 3 times,
      *sc in next st, [sc in next 2 sts, 2 sc in next st] 3 times; rep from * around;
      join with sl st in first sc.
    """
    # 1 + 3 x 3 = 10 places a repeat
    only_fault(check, pattern, "closing", on="*sc in", at=[25, 35])


def test_the_round_after_a_decrease_is_written_for_the_old_count(check: Check, pattern: str) -> None:
    """
    Title: Pontoon Cuff
    Foundation: 24, multiple of 6
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 3 sts, sc2tog, *sc in next 4 sts, sc2tog; rep from * around;
      join with sl st in first sc. [20 sc]
    Rnd 3: Ch 3 (counts as dc), 2 dc in same st, *sk 2 sts, 3 dc in next st; rep from * around;
      join with sl st in top of beg ch. [24 dc]
    Rnd 4: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [24 sc]
    """
    # 20 is no multiple of 3; what rnds 3 and 4 state only follows
    only_fault(check, pattern, "closing", on="Rnd 3:", at=[24])


def test_a_spiral_that_does_not_close(check: Check, pattern: str) -> None:
    """
    Title: Pontoon Tube
    Foundation: 24, multiple of 6
    Custom: 18 to 30
    Worked: spiral

    # Tube
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Sc in each ch around. [24 sc]
    Rnd 2: *Sc in next 3 sts, 2 sc in next st; rep from * around.
    """
    # four places a repeat: 18 and 30 do not close
    only_fault(check, pattern, "closing", on="Rnd 2:", at=[18, 30])
