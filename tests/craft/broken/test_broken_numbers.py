"""Formulas, size lists and the lines they read on: what is not whole, not on a line, or not a size's."""

import pytest

from tests.craft.broken.expect_broken import Check, brief, clean, line_of, only_fault, only_warning, sound


def test_a_formula_that_is_not_whole_at_some_counts(check: Check, pattern: str) -> None:
    """
    Title: Egret Cuff
    Foundation: 24, multiple of 6
    Custom: 18 to 36

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in next N/4 sts, hdc in each st around; join with sl st in first sc.
    """
    # 18/4 and 30/4
    only_fault(check, pattern, on="Rnd 2:", words="N/4", at=[18, 30])


def test_a_number_of_times_that_is_not_whole(check: Check, pattern: str) -> None:
    """
    Title: Egret Cuff
    Foundation: 24, multiple of 6
    Custom: 18 to 36

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, [sc in next 2 sts, 2 sc in next st] N/4 times, sc in each st around;
      join with sl st in first sc.
    """
    # 4 1/2 and 7 1/2 times
    only_fault(check, pattern, on="Rnd 2:", words="N/4", at=[18, 30])


def test_a_formula_below_nothing(check: Check, pattern: str) -> None:
    """
    Title: Egret Cuff
    Foundation: 24, multiple of 6
    Custom: 18 to 36

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, hdc in next N - 20 sts, sc in each st around; join with sl st in first sc.
    """
    # 18 - 20 is less than nothing
    only_fault(check, pattern, on="Rnd 2:", words="N - 20", at=[18])


SIZES = """Title: Egret Wristers
Sizes: small (medium, large)
Foundation: 24 (28, 32), multiple of 4
Custom: 16 to 40

# Cuff
Foundation rnd: Ch 24 (28, 32); join with sl st in first ch to form a ring. [24 (28, 32) ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (28, 32) sc]
Rnd 2: Ch 1, sc in same st, sc in next 5 (6, 7) sts, hdc in each st around; join with sl st in first sc.
Rnds 3 to 5 (6, 8): Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sts]
"""
# 5 (6, 7) lies on N/4 - 1; numbers of rounds are always the nearest smaller size's


def test_the_wristers_themselves_are_right(check: Check) -> None:
    clean(check, SIZES)


@pytest.mark.parametrize(
    ("right", "wrong", "words"),
    [
        ("[24 (28, 32) sc]", "[24 (28) sc]", "24 (28)"),
        ("[24 (28, 32) sc]", "[24 (28, 32, 36) sc]", "24 (28, 32, 36)"),
        ("5 (6, 7) sts", "5 (6) sts", "5 (6)"),
        ("5 (6, 7) sts", "5 (6, 7, 8) sts", "5 (6, 7, 8)"),
        ("Ch 24 (28, 32);", "Ch 24 (28);", "24 (28)"),
        ("Rnds 3 to 5 (6, 8):", "Rnds 3 to 5 (6):", "5 (6)"),
    ],
)
def test_a_size_list_with_the_wrong_number_of_numbers(
    check: Check, right: str, wrong: str, words: str
) -> None:
    only_fault(check, SIZES.replace(right, wrong), on=wrong, words=words)


def test_a_list_off_every_line_leaves_its_section_s_counts_unchecked(check: Check, pattern: str) -> None:
    """
    Title: Curlew Band
    Sizes: small (medium, large)
    Foundation: 12 (18, 24), multiple of 6
    Custom: 30 to 36

    # Band
    Foundation rnd: Ch 12 (18, 24); join with sl st in first ch to form a ring. [12 (18, 24) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [12 (18, 24) sc]

    # Swell
    Rnd 1: Ch 1, sc in same st,
      2 sc in each of next 3 (4, 6) sts, sc in next st, 2 sc in each of next 3 (5, 6) sts,
      sc in each st around; join with sl st in first sc.
      [18 (27, 36) sc]
    """
    # sizes: N + 3 + 3, N + 4 + 5, N + 6 + 6 = 18, 27, 36, which lies on 3N/2; at 30 and 36 both lists
    # read as 6, so 42 and 48 are worked, where 45 and 54 would be stated: not checked there
    report = check(pattern, foundations=(30,))
    sound(report, pattern)
    assert report["proved"] is True, brief(report)
    where = {(found["line"], *found["foundations"]) for found in report["findings"]}
    assert where == {(line_of(pattern, "2 sc in each of"), 30, 36)}, brief(report)
    swell = [rnd for rnd in report["rounds"]["30"] if rnd["section"] == "Swell"]
    assert [rnd["counts"]["sc"] for rnd in swell] == [42]


def test_a_list_off_every_line_is_still_checked_at_its_sizes(check: Check, pattern: str) -> None:
    """
    Title: Curlew Band
    Sizes: small (medium, large)
    Foundation: 12 (18, 24), multiple of 6
    Custom: none

    # Band
    Foundation rnd: Ch 12 (18, 24); join with sl st in first ch to form a ring. [12 (18, 24) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [12 (18, 24) sc]
    Rnd 2: Ch 1, sc in same st, 2 sc in each of next 3 (4, 6) sts, sc in each st around;
      join with sl st in first sc. [15 (22, 31) sc]
    """
    # 12 + 3, 18 + 4, 24 + 6 = 30
    found = only_fault(check, pattern, "count", on="31", words="31", at=[24])
    assert "30" in found["worked"]


def test_a_line_that_gives_no_whole_number_at_some_counts(check: Check, pattern: str) -> None:
    """
    Title: Curlew Band
    Sizes: small (large)
    Foundation: 24 (36), multiple of 6
    Custom: 18 to 48

    # Band
    Foundation rnd: Ch 24 (36); join with sl st in first ch to form a ring. [24 (36) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (36) sc]
    Rnd 2: Ch 1, sc in same st, 2 sc in each of next 2 (3) sts, sc in each st around;
      join with sl st in first sc.
    """
    # 2 (3) lies on N/12: 1.5, 2.5 and 3.5 at 18, 30 and 42, but 4 at 48
    only_warning(check, pattern, on="Rnd 2:", words="2 (3)", at=[18, 30, 42])


def test_what_such_a_list_reads_as(check: Check, pattern: str) -> None:
    """
    Title: Curlew Band
    Sizes: small (large)
    Foundation: 24 (36), multiple of 6
    Custom: 18 to 48

    # Band
    Foundation rnd: Ch 24 (36); join with sl st in first ch to form a ring. [24 (36) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (36) sc]
    Rnd 2: Ch 1, sc in same st, 2 sc in each of next 2 (3) sts, sc in each st around;
      join with sl st in first sc.
    """
    # N/12 is 1.5 at 18, which reads as the smallest's 2; 2.5 at 30 as 2, 3.5 at 42 as 3; 48/12 = 4
    report = check(pattern, foundations=(18, 30, 42, 48))
    sound(report, pattern)
    made = {count: rounds[-1]["counts"]["sc"] for count, rounds in report["rounds"].items()}
    assert made == {"18": 20, "24": 26, "30": 32, "36": 39, "42": 45, "48": 52}


def test_a_plain_number_holds_at_every_count(check: Check, pattern: str) -> None:
    """
    Title: Curlew Band
    Foundation: 24, multiple of 6
    Custom: 18 to 36

    # Band
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 3 (counts as dc), 2 dc in same st, *sk 2 sts, 3 dc in next st; rep from * around;
      join with sl st in top of beg ch. [N dc]
    Rnd 3: Ch 1, sc in same st, *sc2tog, sc in next st; rep from * to last 2 sts, sc2tog;
      join with sl st in first sc. [16 sts]
    """
    # 2N/3 sts: 16 is right at 24 only, since with one size only the Foundation's own number reads as N
    only_fault(check, pattern, "count", on="[16 sts]", words="16", at=[18, 30, 36])
