"""Stitches: slip stitches as stitches, decreases, post stitches, loops, stitches of several legs, picots,
spirals."""

import pytest

from tests.craft.expect import Check, counts, proved, proved_clean, spiral, tube


def test_slip_stitches_that_are_stitches(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sl st in same st, hdc in next st, *sl st in next st, hdc in next st; "
        "rep from * around;",
        "  join with sl st in first sl st. [N/2 sl sts, N/2 hdc, N sts]",
        "Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sl st": 12, "hdc": 12, "sts": 24}.items()
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


def test_sc2tog_works_the_next_two(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, sc in next st, sc2tog, *sc in next 2 sts, sc2tog; rep from * around;",
        "  join with sl st in first sc. [3N/4 sc]",
        # an sc2tog is an sc wherever an sc is named
        "Rnd 3: Ch 1, sc in same st, sc in each sc around; join with sl st in first sc. [3N/4 sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 18, "sc2tog": 6, "sts": 18}.items()
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 18


def test_a_decrease_listed_apart(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, sc in next st, sc2tog over next 2 sts, *sc in next 2 sts, "
        "sc2tog over next 2 sts;",
        "  rep from * around; join with sl st in first sc. [N/2 sc, N/4 sc2tog]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc2tog": 6, "sts": 18}.items()


@pytest.mark.parametrize(
    ("chain", "stitch"), [("Ch 1", "sc"), ("Ch 2 (counts as hdc)", "hdc"), ("Ch 3 (counts as dc)", "dc")]
)
def test_three_together(check: Check, chain: str, stitch: str) -> None:
    start = f"{stitch} in same st, " if stitch == "sc" else ""
    top = "first sc" if stitch == "sc" else "top of beg ch"
    text = tube(
        f"Rnd 2: {chain}, {start}{stitch}3tog, *{stitch} in next st, {stitch}3tog; rep from * around; "
        f"join with sl st in {top}.",
        f"  [N/2 {stitch}]",
    )
    report = check(text)
    proved_clean(report)
    # 4 sts become 2
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {stitch: 12, f"{stitch}3tog": 6, "sts": 12}.items()


@pytest.mark.parametrize(
    ("chain", "stitch"), [("Ch 2 (counts as hdc)", "hdc"), ("Ch 3 (counts as dc)", "dc")]
)
def test_two_together(check: Check, chain: str, stitch: str) -> None:
    text = tube(
        f"Rnd 2: {chain}, {stitch} in next st, {stitch}2tog, *{stitch} in next 2 sts, {stitch}2tog; "
        f"rep from * around;",
        f"  join with sl st in top of beg ch. [3N/4 {stitch}]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {stitch: 18, f"{stitch}2tog": 6, "sts": 18}.items()


def test_post_stitches_are_counted_by_their_own_names(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
        "Rnd 3: Ch 3 (counts as dc), FPdc around next dc, *BPdc around next dc, FPdc around next dc; "
        "rep from * around;",
        "  join with sl st in top of beg ch. [N/2 FPdc, N/2 - 1 BPdc, 1 dc, N sts]",
        "Rnd 4: Ch 3 (counts as dc), FPdc around next FPdc, *BPdc around next BPdc, "
        "FPdc around next FPdc; rep from * around;",
        "  join with sl st in top of beg ch. [N/2 FPdc, N/2 - 1 BPdc, 1 dc]",
    )
    report = check(text)
    proved_clean(report)
    # the chain over place 1, FPdc on 2, 4 … N, BPdc on 3, 5 … N - 1
    for label in ("Rnd 3", "Rnd 4"):
        assert (
            counts(report, 24, "Cuff", label).items() >= {"FPdc": 12, "BPdc": 11, "dc": 1, "sts": 24}.items()
        )


@pytest.mark.parametrize("post", ["FPsc", "FPdc", "BPdc", "FPtr"])
def test_a_post_stitch_every_second(check: Check, post: str) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
        f"Rnd 3: Ch 1, sc in same st, {post} around next dc, *sc in next dc, {post} around next dc; "
        f"rep from * around;",
        f"  join with sl st in first sc. [N/2 sc, N/2 {post}, N sts]",
        "Rnd 4: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3").items() >= {"sc": 12, post: 12, "sts": 24}.items()
    assert counts(report, 24, "Cuff", "Rnd 4")["sc"] == 24


@pytest.mark.parametrize(
    "words",
    [
        "sc in BLO of each st around",
        "sc in FLO of each st around",
        "sc in back loop of each st around",
        "sc in front loop of each st around",
        "sc in back loop of next st, sc in back loop of each st around",
        "*sc in back loop of next st, sc in front loop of next st; rep from * around",
    ],
)
def test_loops(check: Check, words: str) -> None:
    text = tube(
        f"Rnd 2: Ch 1, {words}; join with sl st in first sc. [N sc]",
        "Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 24
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


@pytest.mark.parametrize("legs", ["cluster", "puff", "popcorn", "bobble"])
def test_several_legs_closed_together_are_one_stitch(check: Check, legs: str) -> None:
    text = tube(
        f"Rnd 2: Ch 1, sc in same st, {legs} in next st, *sc in next st, {legs} in next st; "
        f"rep from * around;",
        f"  join with sl st in first sc. [N/2 sc, N/2 {legs}s, N sts]",
        f"Rnd 3: Ch 1, sc in same st, sc in next {legs}, *sc in next sc, sc in next {legs}; "
        f"rep from * around;",
        "  join with sl st in first sc. [N sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 12, legs: 12, "sts": 24}.items()
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


def test_a_picot_is_no_stitch_and_no_place(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, sc in next 2 sts, picot, *sc in next 3 sts, picot; rep from * around;",
        "  join with sl st in first sc. [N sc, N sts]",
        "Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    worked = counts(report, 24, "Cuff", "Rnd 2")
    assert worked.items() >= {"sc": 24, "sts": 24}.items()
    # the three chains of a picot are no space, its slip stitch no stitch
    assert worked.get("ch-3 sp", 0) == 0
    assert worked.get("sl st", 0) == 0
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


def test_a_spiral_begins_on_the_first_stitch_of_the_round_before(check: Check) -> None:
    text = spiral(
        "Rnds 2 to 4: Sc in each sc around. [N sc]",
        "Rnd 5: *Sc in next 3 sc, 2 sc in next sc; rep from * around. [5N/4 sc]",
        "Rnd 6: *Sc in next 3 sc, sc2tog; rep from * around. [N sc]",
        "Rnd 7: Hdc in each sc around. [N hdc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 4")["sc"] == 24
    assert counts(report, 24, "Cuff", "Rnd 5")["sc"] == 30
    # 5 sts become 4
    assert counts(report, 24, "Cuff", "Rnd 6").items() >= {"sc": 24, "sc2tog": 6}.items()
    assert counts(report, 24, "Cuff", "Rnd 7")["hdc"] == 24


def test_a_spiral_may_say_do_not_join(check: Check) -> None:
    report = check(
        spiral("Rnd 2: Sc in each sc around; do not join. [N sc]", "Rnd 3: 2 sc in each sc around. [2N sc]")
    )
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 48


def test_an_alternation_of_two_in_a_spiral(check: Check) -> None:
    text = spiral(
        "Rnd 2: *Sc in next st, dc in next st; rep from * around. [N/2 sc, N/2 dc]",
        "Rnd 3: *Dc in next sc, sc in next dc; rep from * around. [N/2 sc, N/2 dc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3").items() >= {"sc": 12, "dc": 12, "sts": 24}.items()


def test_turned_rounds(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch; turn. [N dc]",
        "Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc; turn. [N sc]",
        "Rnd 4: Ch 3 (counts as dc), dc in next st, FPdc around next st, *dc in next 2 sts, "
        "FPdc around next st; rep from * around;",
        "  join with sl st in top of beg ch. [2N/3 dc, N/3 FPdc]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24
    assert counts(report, 24, "Cuff", "Rnd 4").items() >= {"dc": 16, "FPdc": 8, "sts": 24}.items()
