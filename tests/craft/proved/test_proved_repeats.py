"""Repeats: every way to close one, to number it, and to leave out its last part."""

import pytest

from tests.craft.expect import Check, counts, only_warning, proved, proved_clean, same_work, spiral, tube


def test_five_times_more_is_six(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, 2 sc in same st, *sc in next st, 2 sc in next st; rep from * 5 times more, "
        "sc in each st around;",
        "  join with sl st in first sc. [N + 7 sc]",
        header=["Custom: 16 to 32"],
    )
    report = check(text)
    proved_clean(report)
    # the first st doubled, and one in each of six repeats: 13 places, the rest plain
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 31


def test_five_times_reads_as_five_more_with_a_warning(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, 2 sc in same st, *sc in next st, 2 sc in next st; rep from * 5 times, "
        "sc in each st around;",
        "  join with sl st in first sc. [N + 7 sc]",
        header=["Custom: 16 to 32"],
    )
    report = check(text)
    only_warning(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 31


def test_brackets_by_number(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, [sc in next st, 2 sc in next st] 5 times, sc in each st around;",
        "  join with sl st in first sc. [N + 5 sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 29


def test_brackets_around(check: Check) -> None:
    report = check(spiral("Rnd 2: [Sc in next 3 sc, 2 sc in next sc] around. [5N/4 sc]"))
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 30


def test_to_the_last_stitches(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, *ch 1, sk next st, sc in next st; rep from * to last 3 sts, ch 1, "
        "sk next st, sc in last 2 sts;",
        "  join with sl st in first sc. [N/2 + 1 sc, N/2 - 1 ch-1 sps]",
    )
    report = check(text)
    proved_clean(report)
    # sc in 1, then pairs to N - 3; a skip, and 2 sc: 1 + (N - 4)/2 + 2 sc
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 13, "ch-1 sp": 11}.items()


def test_to_the_last_two_with_a_decrease(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, *sc in next st; rep from * to last 2 sts, sc2tog; "
        "join with sl st in first sc. [N - 1 sc]",
        "Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N - 1 sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 23, "sc2tog": 1, "sts": 23}.items()
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 23


def test_omitting_the_last_stitch(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, *ch 4, sk 3 sts, sc in next st; rep from * around, omitting last sc;",
        "  join with sl st in first sc. [N/4 sc, N/4 ch-4 sps]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 6, "ch-4 sp": 6}.items()


def test_the_same_chains_after_the_repeat_say_what_is_left_out(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, *ch 4, sk 3 sts, sc in next st; rep from * around, ch 4;",
        "  join with sl st in first sc. [N/4 sc, N/4 ch-4 sps]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 6, "ch-4 sp": 6}.items()


def test_skips_at_the_head_of_a_repeat_by_number_need_not_be_written_again(check: Check) -> None:
    text = tube(
        # the V-sts stand in 1, 4, 7 … N - 2; the head's skip is N - 1 and N
        "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, [sk 2 sts, V-st in next st] N/3 - 1 times;",
        "  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["V-st"] == 8


def test_skips_at_the_tail_of_a_repeat(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, sk 2 sts, *V-st in next st, sk 2 sts; "
        "rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["V-st"] == 8


def test_a_repeat_that_names_another_kind_closes_when_none_is_left(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/2 ch-1 sps]",
        "Rnd 3: Ch 3 (counts as dc), *2 dc in next ch-1 sp; rep from * around; "
        "join with sl st in top of beg ch. [N + 1 dc]",
    )
    report = check(text)
    proved_clean(report)
    # the chain over the first dc, then two in each of N/2 spaces
    assert counts(report, 24, "Cuff", "Rnd 3")["dc"] == 25


def test_nested_brackets(check: Check) -> None:
    text = spiral(
        "Rnd 2: *[Sc in next sc, 2 sc in next sc] 2 times, sc in next 2 sc; rep from * around. [4N/3 sc]",
        foundation="24, multiple of 6",
    )
    report = check(text)
    proved_clean(report)
    # 6 sts become 3 + 3 + 2
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 32


def test_a_nested_star(check: Check) -> None:
    text = spiral(
        "Rnd 2: [*Sc in next sc, 2 sc in next sc; rep from * 1 time more, sc in next 2 sc] around. [4N/3 sc]",
        foundation="24, multiple of 6",
    )
    report = check(text)
    proved(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 32


def test_two_repeats_in_one_round(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, *ch 1, sk next st, sc in next st; rep from * 3 times more, "
        "sc in next 2 sts,",
        "  *ch 2, sk next st, sc in next st; rep from * to last st, sc in last st; "
        "join with sl st in first sc.",
        header=["Custom: 16 to 32"],
    )
    report = check(text)
    proved_clean(report)
    # 24: sc in 1; four pairs (2-9); 10, 11; six pairs (12-23); 24
    expected = {"sc": 1 + 4 + 2 + 6 + 1, "ch-1 sp": 4, "ch-2 sp": 6}
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= expected.items()


def test_one_repeat_may_fill_the_round(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, sc in next 7 sts, *sc in next 2 sts, 2 sc in each of next 2 sts; "
        "rep from * around;",
        "  join with sl st in first sc. [14 sc]",
        foundation="12",
    )
    report = check(text)
    proved(report)
    # one repeat fills places 9-12
    assert counts(report, 12, "Cuff", "Rnd 2")["sc"] == 14


WAYS = {
    "a star around": "*sc in next 2 sts, 2 sc in next st; rep from * around",
    "a star by number": "*sc in next 2 sts, 2 sc in next st; rep from * 6 times more",
    "brackets by number": "[sc in next 2 sts, 2 sc in next st] 7 times",
    "brackets around": "[sc in next 2 sts, 2 sc in next st] around",
    "to the last stitches": "*sc in next 2 sts, 2 sc in next st; rep from * to last 3 sts, "
    "sc in next 2 sts, 2 sc in last st",
    "brackets in brackets": "[[sc in next st] 2 times, 2 sc in next st] 7 times",
    "written out": ", ".join(["sc in next 2 sts, 2 sc in next st"] * 7),
    "one stitch at a time": ", ".join(["sc in next st, sc in next st, 2 sc in next st"] * 7),
    "two in a repeat, one after": (
        "*sc in next 2 sts, 2 sc in next st, sc in next 2 sts, 2 sc in next st; rep from * 2 times more, "
        "sc in next 2 sts, 2 sc in next st"
    ),
}


@pytest.mark.parametrize("way", WAYS, ids=list(WAYS))
def test_how_a_repeat_is_spelled_does_not_matter(check: Check, way: str) -> None:
    def text(repeat: str) -> str:
        return tube(
            f"Rnd 2: Ch 1, sc in same st, sc in next st, 2 sc in next st, {repeat}; "
            f"join with sl st in first sc. [32 sc]",
            "Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [32 sc]",
            foundation="24",
        )

    report = check(text(WAYS[way]))
    # 8 times 3 sts, each with one more
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 32
    same_work(report, check(text(WAYS["a star around"])))


MESH = {
    "a star around, skips at its tail": "*dc in next st, ch 1, sk next st; rep from * around",
    "brackets by number": "[dc in next st, ch 1, sk next st] 11 times",
    "written out": ", ".join(["dc in next st, ch 1, sk next st"] * 11),
    "to the last stitches": "*dc in next st, ch 1, sk next st; rep from * to last 2 sts, dc in next st, "
    "ch 1, sk last st",
    "a star by number": "*dc in next st, ch 1, sk next st; rep from * 10 times more",
}


@pytest.mark.parametrize("way", MESH, ids=list(MESH))
def test_how_a_mesh_is_spelled_does_not_matter(check: Check, way: str) -> None:
    def text(repeat: str) -> str:
        return tube(
            f"Rnd 2: Ch 4 (counts as dc, ch 1), sk next st, {repeat}; "
            f"join with sl st in 3rd ch of beg ch-4. [12 dc, 12 ch-1 sps]",
            "Rnd 3: Ch 1, sc in same st, sc in each st and ch-1 sp around; join with sl st in first sc.",
            foundation="24",
        )

    report = check(text(MESH[way]))
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"dc": 12, "ch-1 sp": 12}.items()
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24
    same_work(report, check(text(MESH["a star around, skips at its tail"])))
