"""Two and more stitches between two: pair by pair; one stitch between two: in every gap. Counts by hand."""

import pytest

from tests.craft.expect import Check, counts, only_finding, only_warning, proved_clean, tube

TOP = "join with sl st in top of beg ch."
DC = f"Rnd 2: Ch 3 (counts as dc), dc in each st around; {TOP}"
FIRST = "Sl st in sp between beg ch and next dc, ch 3 (counts as dc), dc in same sp"


@pytest.mark.parametrize(
    ("pair", "hand"),
    [
        # 24 below are 12 pairs: the beginning's, and 11 more, with 2 dc in each
        ("2 dc between next 2 dc", {"dc": 24}),
        ("2 dc in sp between next 2 sts", {"dc": 24}),
        ("2 dc between the next two dc", {"dc": 24}),
        # 2 dc and a space in each of 11, and the first 2 without
        ("(dc, ch 1, dc) between next 2 dc", {"dc": 24, "ch-1 sp": 11, "V-st": 11}),
    ],
)
def test_pair_by_pair(check: Check, pair: str, hand: dict[str, int]) -> None:
    text = tube(DC, f"Rnd 3: {FIRST}, *{pair}; rep from * around; {TOP} [24 dc]", foundation="24")
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3") == hand | {"sts": 24}


def test_without_a_count_it_is_asked_and_the_mend_is_sure(check: Check) -> None:
    text = tube(DC, f"Rnd 3: {FIRST}, *2 dc between next 2 dc; rep from * around; {TOP}", foundation="24")
    found = only_warning(check(text))
    assert (found["code"], found["words"]) == ("between-pairs", "2 dc between next 2 dc")
    report = check(text.replace(found["words"], found["mend"]))
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["dc"] == 24


def test_one_between_two_goes_in_every_gap(check: Check) -> None:
    first = "Sl st in sp between first 2 dc, ch 3 (counts as dc)"
    rnd = f"Rnd 3: {first}, *dc between next 2 dc; rep from * around; {TOP}"
    report = check(tube(DC, rnd, foundation="24"))
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["dc"] == 24


def test_a_count_of_twice_as_many_is_wrong(check: Check) -> None:
    rnd = f"Rnd 3: {FIRST}, *2 dc between next 2 dc; rep from * around; {TOP} [48 dc]"
    found = only_finding(check(tube(DC, rnd, foundation="24")))
    assert (found["code"], found["worked"]) == ("count-wrong", "24 dc")


@pytest.mark.parametrize(
    ("again", "left"),
    [("[2 dc between next pair of dc] 10 times", 1), ("[dc between next 2 dc] 10 times", 13)],
)
def test_gaps_that_nothing_was_worked_into_are_left(check: Check, again: str, left: int) -> None:
    """Of 12 pairs 11 are worked; of 24 gaps 11."""
    found = only_finding(check(tube(DC, f"Rnd 3: {FIRST}, {again}; {TOP}", foundation="24")))
    assert found["code"] == "left-over"
    assert f"{left} gap" in found["message"]
