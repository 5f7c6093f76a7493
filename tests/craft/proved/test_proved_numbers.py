"""Numbers: formulas in N, size lists on a line in N and off it, numbers of rounds, and the one size."""

from tests.craft.expect import (
    Check,
    Report,
    counts,
    flat,
    formula,
    labels,
    only_warning,
    proved,
    proved_clean,
    section,
    tube,
)


def test_formulas_stand_wherever_a_number_may(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, 2 sc in same st, sc in next N/2 sts, sc in next N/2 - 1 sts; "
        "join with sl st in first sc. [N + 1 sc]"
    )
    report = check(text, foundations=(12,))
    proved_clean(report)
    # 1 + N/2 + N/2 - 1 = N places, the first with two
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 25
    assert counts(report, 12, "Cuff", "Rnd 2")["sc"] == 13
    assert formula(report, "Cuff", "Rnd 2")["sc"] == "N + 1"


def test_a_formula_counts_a_repeat(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, sc in next st, 2 sc in next st, [sc in next 2 sts, "
        "2 sc in next st] N/3 - 1 times;",
        "  join with sl st in first sc. [4N/3 sc]",
        foundation="24 (30), multiple of 3",
    )
    report = check(text, foundations=(9,))
    proved_clean(report)
    # 4 sc over every 3 sts
    assert counts(report, 30, "Cuff", "Rnd 2")["sc"] == 40
    assert counts(report, 9, "Cuff", "Rnd 2")["sc"] == 12
    assert formula(report, "Cuff", "Rnd 2")["sc"] == "4N/3"


def test_a_formula_with_a_factor_and_a_constant(report: Report) -> None:
    """Title: Lattice Cuff
    Foundation: 24 (30, 36), multiple of 3

    # Cuff
    Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
    Rnd 1: Ch 5 (counts as dc, ch 2), sk 2 ch, *dc in next ch, ch 2, sk 2 ch; rep from * around;
      join with sl st in 3rd ch of beg ch-5. [N/3 dc, N/3 ch-2 sps]
    Rnd 2: Ch 1, sc in same st, *2 sc in next ch-2 sp; rep from * around;
      join with sl st in first sc. [2N/3 + 1 sc]
    """
    proved_clean(report)
    # one sc in the first dc, two in each of N/3 spaces
    assert counts(report, 24, "Cuff", "Rnd 1").items() >= {"dc": 8, "ch-2 sp": 8, "sts": 8}.items()
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 17
    assert counts(report, 36, "Cuff", "Rnd 2")["sc"] == 25
    assert formula(report, "Cuff", "Rnd 1").items() >= {"dc": "N/3", "ch-2 sp": "N/3"}.items()
    assert formula(report, "Cuff", "Rnd 2")["sc"] == "2N/3 + 1"


def test_a_list_equal_to_the_foundations_is_n(check: Check) -> None:
    text = (
        "Title: Equal Lists\nFoundation: 24 (28, 32), multiple of 4\n\n# Cuff\n"
        "Foundation rnd: Ch 24 (28, 32); join with sl st in first ch to form a ring. [24 (28, 32) ch]\n"
        "Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (28, 32) sc]\n"
    )
    report = check(text, foundations=(40, 12))
    proved_clean(report)
    assert counts(report, 40, "Cuff", "Foundation rnd")["ch"] == 40
    assert counts(report, 12, "Cuff", "Rnd 1")["sc"] == 12
    assert formula(report, "Cuff", "Rnd 1")["sc"] == "N"


def test_a_list_on_a_line_reads_on_it(check: Check) -> None:
    text = tube(
        # 11 (13, 15) is N/2 - 1, and 35 (41, 47) is 3N/2 - 1
        "Rnd 2: Ch 1, sc in same st, 2 sc in each of next 11 (13, 15) sts, sc in each st around; "
        "join with sl st in first sc.",
        "  [35 (41, 47) sc]",
        foundation="24 (28, 32), multiple of 4",
    )
    report = check(text, foundations=(40, 12))
    proved_clean(report)
    assert counts(report, 28, "Cuff", "Rnd 2")["sc"] == 41
    # at 40: 19 doubled, 59; at 12: 5 doubled, 17
    assert counts(report, 40, "Cuff", "Rnd 2")["sc"] == 59
    assert counts(report, 12, "Cuff", "Rnd 2")["sc"] == 17
    assert formula(report, "Cuff", "Rnd 2")["sc"] == "3N/2 - 1"


def test_two_sizes_always_lie_on_a_line(check: Check) -> None:
    text = tube(
        # 5 (9) over 20 (28) is N/2 - 5
        "Rnd 2: Ch 1, sc in same st, 2 sc in each of next 5 (9) sts, sc in each st around; "
        "join with sl st in first sc.",
        "  [25 (37) sc]",
        foundation="20 (28), multiple of 4",
    )
    report = check(text, foundations=(24, 12))
    proved_clean(report)
    # 24 + 7; 12 + 1
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 31
    assert counts(report, 12, "Cuff", "Rnd 2")["sc"] == 13


def test_a_list_on_a_line_that_is_not_whole_reads_as_the_smaller_size(check: Check) -> None:
    text = tube(
        # 3 (4, 5) is N/8: whole at every second allowed count only
        "Rnd 2: Ch 1, sc in same st, 2 sc in each of next 3 (4, 5) sts, sc in each st around; "
        "join with sl st in first sc.",
        foundation="24 (32, 40), multiple of 4",
    )
    report = check(text, foundations=(12, 16, 28, 44, 48))
    found = only_warning(report)
    assert "3 (4, 5)" in found["words"]
    assert found["foundations"] == [n for n in range(12, 73, 4) if n % 8]
    assert counts(report, 16, "Cuff", "Rnd 2")["sc"] == 16 + 2
    assert counts(report, 48, "Cuff", "Rnd 2")["sc"] == 48 + 6
    # the nearest smaller size's number; below the smallest, the smallest's
    assert counts(report, 28, "Cuff", "Rnd 2")["sc"] == 28 + 3
    assert counts(report, 44, "Cuff", "Rnd 2")["sc"] == 44 + 5
    assert counts(report, 12, "Cuff", "Rnd 2")["sc"] == 12 + 3


def test_a_list_off_a_line_is_a_warning_at_the_custom_counts(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, 2 sc in each of next 3 (4, 6) sts, sc in each st around; "
        "join with sl st in first sc.",
        foundation="24 (28, 32), multiple of 4",
    )
    report = check(text, foundations=(20, 40))
    found = only_warning(report)
    assert "3 (4, 6)" in found["words"]
    assert found["foundations"] == [n for n in range(12, 65, 4) if n not in (24, 28, 32)]
    assert [counts(report, n, "Cuff", "Rnd 2")["sc"] for n in (24, 28, 32)] == [27, 32, 38]
    assert counts(report, 20, "Cuff", "Rnd 2")["sc"] == 20 + 3
    assert counts(report, 40, "Cuff", "Rnd 2")["sc"] == 40 + 6


def test_stated_lists_are_not_checked_where_a_list_reads_off_its_line(check: Check) -> None:
    text = tube(
        # 24 - 3, 28 - 4, 32 - 6: right at each size, and no size's number is right at 40
        "Rnd 2: Ch 1, sc in same st, [sc2tog] 3 (4, 6) times, sc in each st around; "
        "join with sl st in first sc.",
        "  [21 (24, 26) sc]",
        foundation="24 (28, 32), multiple of 4",
    )
    report = check(text, foundations=(20, 40))
    proved(report)
    assert any("3 (4, 6)" in found["words"] for found in report["findings"])
    assert [counts(report, n, "Cuff", "Rnd 2")["sc"] for n in (24, 28, 32)] == [21, 24, 26]
    assert counts(report, 40, "Cuff", "Rnd 2")["sc"] == 34
    assert counts(report, 20, "Cuff", "Rnd 2")["sc"] == 17


def test_lists_off_a_line_are_quiet_where_only_sizes_are_worked(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, [sc2tog] 3 (4, 6) times, sc in each st around; "
        "join with sl st in first sc.",
        "  [21 (24, 26) sc]",
        foundation="24 (28, 32), multiple of 4",
        header=["Custom: none"],
    )
    report = check(text)
    proved_clean(report)
    assert [counts(report, n, "Cuff", "Rnd 2")["sc2tog"] for n in (24, 28, 32)] == [3, 4, 6]


def test_numbers_of_rounds_are_the_smaller_sizes(check: Check) -> None:
    text = tube(
        # 4 (5, 6) lies on the line N/4 - 2, which numbers of rounds do not follow
        "Rnds 2 to 4 (5, 6): Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]",
        foundation="24 (28, 32), multiple of 4",
    )
    report = check(text, foundations=(16, 36, 40))
    proved_clean(report)
    to_rnd_4 = ["Foundation rnd", "Rnd 1", "Rnd 2", "Rnd 3", "Rnd 4"]
    assert labels(report, 24, "Cuff") == to_rnd_4
    assert labels(report, 28, "Cuff") == [*to_rnd_4, "Rnd 5"]
    assert labels(report, 32, "Cuff") == [*to_rnd_4, "Rnd 5", "Rnd 6"]
    assert labels(report, 16, "Cuff") == to_rnd_4
    assert labels(report, 36, "Cuff") == [*to_rnd_4, "Rnd 5", "Rnd 6"]
    assert labels(report, 40, "Cuff") == [*to_rnd_4, "Rnd 5", "Rnd 6"]


def test_with_one_size_the_foundations_number_is_n(check: Check) -> None:
    text = (
        "Title: One Size\nFoundation: 24, multiple of 4\n\n# Cuff\n"
        "Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]\n"
        "Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]\n"
        # the 3 is a plain number: three at every count
        "Rnd 2: Ch 1, sc in same st, 2 sc in each of next 3 sts, sc in each st around; "
        "join with sl st in first sc. [N + 3 sc]\n"
    )
    report = check(text, foundations=(40,))
    proved_clean(report)
    assert counts(report, 40, "Cuff", "Foundation rnd")["ch"] == 40
    assert counts(report, 40, "Cuff", "Rnd 1")["sc"] == 40
    assert counts(report, 40, "Cuff", "Rnd 2")["sc"] == 43
    assert formula(report, "Cuff", "Rnd 2")["sc"] == "N + 3"


def test_a_plain_stated_number_holds_at_every_count(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, ch 3, sk next 3 sts, sc in each st around; join with sl st in first sc.",
        "  [N - 3 sc, 1 ch-3 sp]",
    )
    report = check(text, foundations=(40,))
    proved_clean(report)
    assert counts(report, 40, "Cuff", "Rnd 2").items() >= {"sc": 37, "ch-3 sp": 1}.items()
    assert formula(report, "Cuff", "Rnd 2").items() >= {"sc": "N - 3", "ch-3 sp": "1"}.items()


def test_a_list_may_count_chains_and_skips(check: Check) -> None:
    text = tube(
        # 5 (6, 7) is N/4 - 1: the round has N - (N/4 - 1) = 3N/4 + 1 sc, 19 (22, 25)
        "Rnd 2: Ch 1, sc in same st, sc in next 3 sts, ch 5 (6, 7), sk next 5 (6, 7) sts, "
        "sc in each st around;",
        "  join with sl st in first sc. [19 (22, 25) sc]",
        foundation="24 (28, 32), multiple of 4",
    )
    report = check(text, foundations=(40,))
    proved_clean(report)
    assert counts(report, 28, "Cuff", "Rnd 2").items() >= {"sc": 22, "ch-6 sp": 1}.items()
    assert counts(report, 40, "Cuff", "Rnd 2").items() >= {"sc": 31, "ch-9 sp": 1}.items()


def test_counts_may_name_several_things(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, ch 1, sk next st, sc in next st, ch 3, sk 3 sts, *sc in next st, "
        "ch 1, sk next st,",
        "  sc in next st, ch 3, sk 3 sts; rep from * around; join with sl st in first sc.",
        "  [N/3 sc, N/3 sts, N/6 ch-1 sps, N/6 ch-3 sps, N/3 sps]",
        "Rnd 3: Ch 1, sc in same st, *sc in next ch-1 sp, 3 sc in next ch-3 sp; rep from * around;",
        "  join with sl st in first sc. [2N/3 + 1 sc]",
        foundation="24 (30), multiple of 6",
    )
    report = check(text)
    proved_clean(report)
    # every 6 sts: 2 sc, a ch-1 sp, a ch-3 sp
    assert (
        counts(report, 30, "Cuff", "Rnd 2").items()
        >= {"sc": 10, "sts": 10, "ch-1 sp": 5, "ch-3 sp": 5}.items()
    )
    # 1 + 5 x (1 + 3)
    assert counts(report, 30, "Cuff", "Rnd 3")["sc"] == 21


def test_what_a_count_leaves_out_is_not_checked(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, ch 1, sk next st, *sc in next st, ch 1, sk next st; rep from * around;",
        "  join with sl st in first sc. [N/2 ch-1 sps]",
        "Rnd 3: Ch 1, sc in same st, sc in each st and ch-1 sp around; join with sl st in first sc.",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


def test_size_lists_go_by_size_from_a_ring(report: Report) -> None:
    """Title: Cork Cap
    Sizes: child (woman, man)
    Foundation: none
    Pieces: one

    # Crown
    Rnd 1: Ch 1, 6 (7, 8) sc in ring; join with sl st in first sc. [6 (7, 8) sc]
    Rnd 2: Ch 1, 2 sc in each st around; join with sl st in first sc. [12 (14, 16) sc]
    Rnds 3 to 4 (4, 5): Ch 1, sc in each st around; join with sl st in first sc. [12 (14, 16) sc]
    """
    proved_clean(report)
    assert [counts(report, size, "Crown", "Rnd 2")["sc"] for size in ("child", "woman", "man")] == [
        12,
        14,
        16,
    ]
    assert [len(section(report, size, "Crown")) for size in ("child", "woman", "man")] == [4, 4, 5]


def test_n_in_rows_with_a_plus(check: Check) -> None:
    text = flat(
        "Row 1: Sc in 2nd ch from hook, sc in each ch across; turn. [N - 1 sc]",
        "Row 2: Ch 1, sc in each st across; turn. [N - 1 sc]",
        foundation="21 (25), multiple of 4 + 1",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 25, "Panel", "Row 2")["sc"] == 24
    assert formula(report, "Panel", "Row 2")["sc"] == "N - 1"
