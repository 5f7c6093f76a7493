"""A post's thumb, around the one gap that its rounds make, and edgings with a number; counts by hand."""

import pytest

from tests.craft.expect import (
    Check,
    counts,
    only_finding,
    only_warning,
    proved,
    proved_clean,
    spiral,
    tube,
)

J = "join with sl st in first sc."
PLAIN = f"Ch 1, sc in each st around; {J}"
# 24 - 4, then all 20 and the 4 chains
HAND = (
    f"Rnd 2: Ch 1, sc in first 10 sts, ch 4, sk 4 sts, sc in last 10 sts; {J} [20 sc, 1 ch-4 sp]",
    f"Rnd 3: Ch 1, sc in each st and ch around; {J} [24 sc]",
    "Fasten off.",
)


def mitt(*thumb: str) -> str:
    return tube(*HAND, "", *thumb, foundation="24")


@pytest.mark.parametrize(
    ("first", "many"),
    [
        # around the gap are 4 stitches, the sides of 2, and 4 chains
        (f"Join yarn at thumb opening, sc evenly around; {J} [10 sc]", 10),
        (
            f"Rnd 1: Join yarn in any st of thumb opening, ch 1, work 12 sc evenly around thumb hole; {J}",
            12,
        ),
        (
            f"Rnd 1: Join yarn at the corner of the thumb hole, ch 1, sc 8 around the thumb hole; {J} (8 sc)",
            8,
        ),
        (f"Rnd 1: Join yarn, ch 1, sc evenly around thumb opening; {J} (11 sc)", 11),
        (
            "Rnd 1: Join yarn in first skipped st, ch 1, sc in each of 4 skipped sts, sc in side of next sc, "
            f"sc in each of 4 ch, sc in side of next sc; {J} [10 sc]",
            10,
        ),
    ],
)
def test_a_thumb_around_the_one_gap(check: Check, first: str, many: int) -> None:
    report = check(mitt("# THUMB", first, f"Rnds 2-3: {PLAIN}", "Fasten off."))
    proved_clean(report)
    rows = [row for row in report["rounds"]["24"] if row["section"] == "THUMB"]
    assert [row["counts"]["sc"] for row in rows] == [many] * 3
    # the rounds of the hand are what they were: the gap stands alone, so that it can be drawn and counted to
    assert counts(report, 24, "Thumb gap", "Rnd 2")["sc"] == 20
    assert next(row["counts"]["sc"] for row in report["rounds"]["24"] if row["label"] == "Rnd 3") == 24


def test_a_thumb_without_a_heading(check: Check) -> None:
    report = check(
        mitt(f"Join yarn at the thumb opening, ch 1, 10 sc evenly around the opening; {J}", f"Rnd 2: {PLAIN}")
    )
    proved_clean(report)
    assert counts(report, 24, "Thumb", "Rnd 2")["sc"] == 10


def test_a_spiral_thumb(check: Check) -> None:
    text = spiral(
        "Rnd 2: Sc in next 10 sts, ch 4, sk 4 sts, sc in next 10 sts. [20 sc]",
        "Rnd 3: Sc in each st and ch around. [24 sc]",
        "Sl st in next st, fasten off.",
        "",
        "Thumb: join yarn in the thumb hole, sc evenly around the hole. 10 sc",
        "Work 3 more rounds even. Fasten off.",
        foundation="24",
    )
    report = check(text)
    proved_clean(report)
    assert [row["counts"]["sc"] for row in report["rounds"]["24"] if row["section"] == "Thumb"] == [10] * 4


def test_how_many_evenly_is_asked_where_nothing_says_it(check: Check) -> None:
    text = mitt("# THUMB", f"Rnd 1: Join yarn, ch 1, sc evenly around the thumb opening; {J}")
    found = only_warning(check(text))
    assert (found["code"], found["mend"]) == ("evenly-unsaid", "10 sc evenly around the thumb opening")
    proved_clean(check(text.replace(found["words"], found["mend"])))


def test_how_many_goes_by_size(check: Check) -> None:
    """Above 4 (6) skipped: 4 + 4 + 2, 6 + 6 + 2."""
    text = tube(
        f"Rnd 2: Ch 1, sc in first 10 sts, ch 4 (6), sk 4 (6) sts, sc in each st around; {J}",
        f"Rnd 3: Ch 1, sc in each st and ch around; {J} [24 (28) sc]",
        "Fasten off.",
        "",
        "# THUMB",
        f"Rnd 1: Join yarn, ch 1, sc evenly around the thumb opening; {J}",
        foundation="24 (28)",
        header=("Sizes: S (M)",),
    )
    found = only_warning(check(text))
    assert found["mend"] == "10 (14) sc evenly around the thumb opening"
    report = check(text.replace(found["words"], found["mend"]))
    proved_clean(report)
    assert [counts(report, key, "THUMB", "Rnd 1")["sc"] for key in (24, 28)] == [10, 14]


def test_a_thumb_whose_count_is_wrong_is_found(check: Check) -> None:
    first = "Join yarn in first skipped st, ch 1, sc in each of 4 skipped sts, sc in side of next sc"
    text = mitt("# THUMB", f"Rnd 1: {first}, sc in each of 4 ch, sc in side of next sc; {J} [12 sc]")
    found = only_finding(check(text))
    assert (found["code"], found["words"], found["mend"]) == ("count-wrong", "12 sc", "10 sc")


def test_two_gaps_are_not_guessed_at(check: Check) -> None:
    once = "ch 4, sk 4 sts, sc in next 6 sts"
    gap = f"Rnd 2: Ch 1, sc in first 4 sts, {once}, {once}; {J}"
    report = check(
        tube(
            gap,
            "Fasten off.",
            "",
            "# THUMB",
            f"Rnd 1: Join yarn in first skipped st, sc in next skipped st; {J}",
            foundation="24",
        )
    )
    assert report["proved"] is False


def test_a_mesh_is_no_gap(check: Check) -> None:
    mesh = f"Rnd 2: Ch 1, *sc in next 2 sts, ch 2, sk 2 sts; rep from * around; {J} [12 sc, 6 ch-2 sps]"
    top = f"Join yarn in any sc, ch 1, 30 sc evenly around the top edge; {J} [30 sc]"
    report = check(tube(mesh, "Fasten off.", "", "# TOP EDGE", top, foundation="24"))
    proved(report)
    assert all(row["section"] != "Thumb gap" for row in report["rounds"]["24"])


@pytest.mark.parametrize("many", [20, 24, 26, 50])
def test_an_edging_with_a_number(check: Check, many: int) -> None:
    edge = f"Rnd 1: Join yarn in any st, ch 1, work {many} sc evenly around the top edge; {J} [{many} sc]"
    report = check(
        tube(f"Rnd 2: {PLAIN}", "Fasten off.", "", "# TOP EDGING", edge, f"Rnd 2: {PLAIN}", foundation="24")
    )
    proved_clean(report)
    assert counts(report, 24, "TOP EDGING", "Rnd 2")["sc"] == many


def test_an_edging_whose_count_is_another_is_found(check: Check) -> None:
    edge = f"Rnd 1: Join yarn in any st, ch 1, 26 sc evenly around; {J} [28 sc]"
    found = only_finding(check(tube(f"Rnd 2: {PLAIN}", "Fasten off.", "", "# EDGING", edge, foundation="24")))
    assert (found["code"], found["worked"]) == ("count-wrong", "26 sc")
