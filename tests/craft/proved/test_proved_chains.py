"""Beginning chains, and where the hook stands at a round's beginning.

`st in same st, st in each st around` tells a chain that counts from one that does not. Where it counts it
stands in the first place, `each` begins after it, and the round has one stitch more than places (N + 1).
Where it does not, `same` works the first place, `each` goes on after it, and the round has N.
"""

import pytest

from tests.craft.expect import Check, counts, only_warning, proved_clean, tube


@pytest.mark.parametrize(
    ("chain", "stitch"),
    [
        ("Ch 2", "hdc"),
        ("Ch 3", "dc"),
        ("Ch 4", "tr"),
        ("Ch 1 (counts as sc)", "sc"),
        ("Ch 2 (counts as dc)", "dc"),
        ("Ch 3 (counts as dc)", "dc"),
        ("Ch 4 (counts as tr)", "tr"),
        ("Ch 5 (counts as dtr)", "dtr"),
    ],
)
def test_a_chain_that_counts_stands_in_the_first_place(check: Check, chain: str, stitch: str) -> None:
    text = tube(
        f"Rnd 2: {chain}, {stitch} in same st, {stitch} in each st around; "
        f"join with sl st in top of beg ch. [N + 1 {stitch}]"
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {stitch: 25, "sts": 25}.items()


@pytest.mark.parametrize(
    ("chain", "stitch"),
    [
        ("Ch 1", "sc"),
        ("Ch 1", "hdc"),
        ("Ch 1 (does not count as a st)", "sc"),
        ("Ch 2 (does not count as a st)", "hdc"),
        ("Ch 3 (does not count as a st)", "dc"),
    ],
)
def test_a_chain_that_does_not_count_leaves_the_first_place(check: Check, chain: str, stitch: str) -> None:
    text = tube(
        f"Rnd 2: {chain}, {stitch} in same st, {stitch} in each st around; "
        f"join with sl st in first {stitch}. [N {stitch}]"
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {stitch: 24, "sts": 24}.items()


@pytest.mark.parametrize(("chain", "stitch"), [("Ch 2", "dc"), ("Ch 3", "tr"), ("Ch 2", "tr")])
def test_a_bare_chain_shorter_than_the_stitch_does_not_count(check: Check, chain: str, stitch: str) -> None:
    text = tube(
        f"Rnd 2: {chain}, {stitch} in same st, {stitch} in each st around; "
        f"join with sl st in first {stitch}. [N {stitch}]"
    )
    report = check(text)
    only_warning(report)
    assert counts(report, 24, "Cuff", "Rnd 2")[stitch] == 24


@pytest.mark.parametrize(
    ("chain", "stitch", "space", "top"),
    [
        ("Ch 4", "dc", 1, "3rd ch of beg ch-4"),
        ("Ch 4 (counts as dc, ch 1)", "dc", 1, "3rd ch of beg ch-4"),
        ("Ch 5", "dc", 2, "3rd ch of beg ch-5"),
        ("Ch 3", "hdc", 1, "2nd ch of beg ch-3"),
        ("Ch 6", "tr", 2, "4th ch of beg ch-6"),
    ],
)
def test_a_longer_chain_counts_as_the_stitch_and_a_space(
    check: Check, chain: str, stitch: str, space: int, top: str
) -> None:
    text = tube(
        f"Rnd 2: {chain}, sk next st, *{stitch} in next st, ch {space}, sk next st; rep from * around; "
        f"join with sl st in {top}.",
        f"  [N/2 {stitch}, N/2 ch-{space} sps]",
    )
    report = check(text)
    proved_clean(report)
    # one stitch and one space for every 2 sts, the chain's among them
    expected = {stitch: 12, "sts": 12, f"ch-{space} sp": 12}
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= expected.items()


def test_each_begins_with_the_hooks_place_where_nothing_stands(check: Check) -> None:
    report = check(tube("Rnd 2: Ch 1, sc in each st around; join with sl st in first sc. [N sc]"))
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 24


def test_each_begins_after_a_chain_that_counts(check: Check) -> None:
    report = check(
        tube("Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]")
    )
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["dc"] == 24


def test_first_is_the_hooks_place_where_nothing_stands(check: Check) -> None:
    report = check(
        tube("Rnd 2: Ch 1, 2 sc in first st, sc in each st around; join with sl st in first sc. [N + 1 sc]")
    )
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 25


def test_next_is_the_place_after_the_hook(check: Check) -> None:
    # begun in the 2nd place: 22 more places ahead, and the 1st, which nothing stands in, comes last
    report = check(
        tube("Rnd 2: Ch 1, 2 sc in next st, sc in each st around; join with sl st in first sc. [N + 1 sc]")
    )
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 25


def test_next_after_a_chain_that_counts(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), 2 dc in next st, *dc in next st, 2 dc in next st; rep from * around;",
        "  join with sl st in top of beg ch. [3N/2 dc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["dc"] == 36


def test_the_next_round_stands_on_the_top_of_the_chain(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
        "Rnd 3: Ch 1, 2 sc in same st, sc in each dc around; join with sl st in first sc. [N + 1 sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 25


def test_the_chain_is_a_dc_wherever_a_dc_is_named(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
        # begun in the 2nd dc; the last repeat ends in the 1st, which is the chain
        "Rnd 3: Ch 1, *sc in next dc, 2 sc in next dc; rep from * around; "
        "join with sl st in first sc. [3N/2 sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 36


def test_two_runs_of_chains_in_a_row_are_one(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, ch 1, ch 2, sk 2 sts, *sc in next st, ch 1, ch 2, sk 2 sts; "
        "rep from * around;",
        "  join with sl st in first sc. [N/3 sc, N/3 ch-3 sps]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 8, "ch-3 sp": 8}.items()


def test_slip_stitches_before_the_chain_travel(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, *sk 2 sts, V-st in next st; rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
        "Rnd 3: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, *V-st in next V-st; "
        "rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts, 2N/3 sts]",
        foundation="24 (27), multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    for label in ("Rnd 2", "Rnd 3"):
        worked = counts(report, 27, "Cuff", label)
        assert worked.items() >= {"V-st": 9, "dc": 18, "ch-1 sp": 9, "sts": 18}.items()
        assert worked.get("sl st", 0) == 0


def test_travelling_over_several_stitches(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), (dc, ch 2, 2 dc) in same st, *sk 3 sts, (2 dc, ch 2, "
        "2 dc) in next st; rep from * around;",
        "  join with sl st in top of beg ch. [N dc, N/4 ch-2 sps]",
        "Rnd 3: Sl st in next dc, sl st in next ch-2 sp, ch 3 (counts as dc), (dc, ch 2, 2 dc) in same sp,",
        "  *(2 dc, ch 2, 2 dc) in next ch-2 sp; rep from * around; "
        "join with sl st in top of beg ch. [N dc, N/4 ch-2 sps]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3").items() >= {"dc": 24, "ch-2 sp": 6}.items()
    assert counts(report, 24, "Cuff", "Rnd 3").get("sl st", 0) == 0
