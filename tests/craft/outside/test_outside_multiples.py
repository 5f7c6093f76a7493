"""Stitch multiples and published counts, each with its source.

Only the multiple and the worked count are the source's; the rounds that work them are ours.
"""

import pytest

from tests.craft.expect import Check, counts, flat, formula, proved, proved_clean, spiral, tube


# Source: https://craftorator.com/2290-helping-our-users-crochet-summer-hat.html
# 5-dc shells in the round, every 6 sts: 72 dc give 12 shells
def test_five_dc_shells_in_the_round(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
        "Rnd 3: Ch 3 (counts as dc), sk 2 dc, 5 dc in next dc, sk 2 dc, *dc in next dc, sk 2 dc, "
        "5 dc in next dc, sk 2 dc;",
        "  rep from * around; join with sl st in top of beg ch. [N/6 shells]",
        foundation="72, multiple of 6",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 72, "Cuff", "Rnd 2")["dc"] == 72
    # 12 shells, and 12 dc between them
    assert counts(report, 72, "Cuff", "Rnd 3").items() >= {"shell": 12, "dc": 72}.items()
    assert formula(report, "Cuff", "Rnd 3")["shell"] == "N/6"


# Source: http://gardeners-ramblings.blogspot.com/2009/10/shell-baby-hat.html
# 3-dc shells, every second st: 36 dc give 18 shells, and the round has 54 dc
def test_three_dc_shells_in_the_round(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
        "Rnd 3: Ch 3 (counts as dc), 2 dc in same st, *sk next dc, shell in next dc; rep from * around;",
        "  join with sl st in top of beg ch. [N/2 shells, 3N/2 dc]",
        foundation="36, multiple of 2",
        header=["Special stitch: shell = 3 dc in one place"],
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 36, "Cuff", "Rnd 3").items() >= {"shell": 18, "dc": 54, "sts": 54}.items()


# Source: http://www.thelavenderchair.com/stacked-shells-floppy-sun-hat-crochet-pattern/
# 3 sc and an arch of 3 chains, every 6 sts: 72 sts give 12 arches
def test_arches_in_the_round(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, sc in next 2 sts, ch 3, sk 3 sts, *sc in next 3 sts, ch 3, "
        "sk 3 sts; rep from * around;",
        "  join with sl st in first sc. [N/6 ch-3 sps, N/2 sc]",
        foundation="72, multiple of 6",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 72, "Cuff", "Rnd 2").items() >= {"ch-3 sp": 12, "sc": 36}.items()


# Source: https://needlelittlelovebyrc.blogspot.com/2020/03/waffle-stitch-headbandear-warmer-i-hook_2.html
# waffle in joined, turned rounds, every 3 sts: 66 (69, 72) sts by size
def test_waffle_by_size(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch; "
        "turn. [66 (69, 72) dc]",
        "Rnd 3: Ch 3 (counts as dc), dc in next st, FPdc around next st, *dc in next 2 sts, "
        "FPdc around next st; rep from * around;",
        "  join with sl st in top of beg ch; turn. [44 (46, 48) dc, 22 (23, 24) FPdc]",
        foundation="66 (69, 72), multiple of 3",
    )
    report = check(text)
    proved(report)
    for n in (66, 69, 72):
        assert (
            counts(report, n, "Cuff", "Rnd 3").items() >= {"dc": 2 * n // 3, "FPdc": n // 3, "sts": n}.items()
        )


# Source: http://suzies-yarnie-stuff.blogspot.com/2009/10/suzies-mitts-for-men.html
# rib of front and back post half doubles, every 2 sts: mitts over 28 [30] sts
def test_post_rib_of_half_doubles(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 2 (counts as hdc), hdc in each st around; join with sl st in top of beg ch. [28 [30] hdc]",
        "Rnd 3: Ch 2 (does not count as a st), FPhdc around same st, BPhdc around next st, "
        "*FPhdc around next st,",
        "  BPhdc around next st; rep from * around; join with sl st in first FPhdc. [14 [15] FPhdc, "
        "14 [15] BPhdc]",
        foundation="28 [30], multiple of 2",
    )
    report = check(text)
    proved(report)
    for n in (28, 30):
        assert (
            counts(report, n, "Cuff", "Rnd 3").items() >= {"FPhdc": n // 2, "BPhdc": n // 2, "sts": n}.items()
        )


# Source: https://5knotsnorth.blogspot.com/2018/09/the-heyyy-baby-cowl.html
# front and back post doubles in turn, every 2 sts: 80 / 90 / 100 sts
def test_front_and_back_post_doubles(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [80 (90, "
        "100) dc]",
        "Rnd 3: Ch 2 (does not count as a st), FPdc around same st, BPdc around next st, "
        "*FPdc around next st,",
        "  BPdc around next st; rep from * around; join with sl st in first FPdc. [40 (45, 50) FPdc, "
        "40 (45, 50) BPdc]",
        foundation="80 (90, 100), multiple of 2",
        header=["Custom: 76 to 104"],
    )
    report = check(text)
    proved_clean(report)
    for n in (80, 90, 100):
        assert (
            counts(report, n, "Cuff", "Rnd 3").items() >= {"FPdc": n // 2, "BPdc": n // 2, "sts": n}.items()
        )


# Source: http://birdiecreates.blogspot.com/2012/02/gray-flapper-hat.html
# sc and dc in turn, in a spiral, every 2 sts: 56 sts
def test_sc_and_dc_in_turn_in_a_spiral(check: Check) -> None:
    text = spiral(
        "Rnd 2: *Sc in next st, dc in next st; rep from * around. [N/2 sc, N/2 dc]",
        "Rnd 3: *Sc in next st, dc in next st; rep from * around. [N/2 sc, N/2 dc]",
        foundation="56, multiple of 2",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 56, "Cuff", "Rnd 3").items() >= {"sc": 28, "dc": 28, "sts": 56}.items()


# Source: https://craftorator.com/5544-crochet-v-stitch-waves-pattern.html (a wide V every fourth stitch);
# the multiple in the round is derived: without the edge stitches
def test_a_wide_v_every_fourth_stitch(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 6 (counts as dc, ch 3), dc in same st, ch 1, *sk 3 sts, V-st in next st, ch 1; "
        "rep from * around;",
        "  join with sl st in 3rd ch of beg ch-6. [N/4 V-sts, N/4 ch-3 sps, N/4 ch-1 sps]",
        foundation="16, multiple of 4",
        header=["Special stitch: V-st = (dc, ch 3, dc) in one place"],
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 16, "Cuff", "Rnd 2").items() >= {"V-st": 4, "ch-3 sp": 4, "ch-1 sp": 4}.items()


# Source: http://taraduffstuff.blogspot.com/2015/02/taraduffs-sampler-afghan-crochet-long.html
# V-stitches in rows, every third chain and 2 for the edges: ch 32 gives 10 V-stitches
def test_v_stitches_in_rows(check: Check) -> None:
    text = flat(
        # the 3 chains passed are a dc; V-sts in chains 4, 7 … 31; a dc in the last
        "Row 1: V-st in 4th ch from hook, *sk 2 ch, V-st in next ch; rep from * to last ch, "
        "dc in last ch; turn. [10 (11, 12) V-sts]",
        foundation="32 (35, 38), multiple of 3 + 2",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 32, "Panel", "Row 1").items() >= {"V-st": 10, "dc": 22, "ch-1 sp": 10}.items()
    assert counts(report, 38, "Panel", "Row 1")["V-st"] == 12


# Source: http://crochet.about.com/od/fiveinchsquares/p/aa020207.htm
# 5-dc shells in rows, 6 and 1: 19 sc = 6 x 3 + 1, on ch 20
def test_five_dc_shells_in_rows(check: Check) -> None:
    text = flat(
        "Row 1: Sc in 2nd ch from hook, sc in each ch across; turn. [19 sc]",
        "Row 2: Ch 1, sc in first sc, *sk 2 sc, 5 dc in next sc, sk 2 sc, sc in next sc; "
        "rep from * across; turn. [3 shells, 4 sc]",
        foundation="20",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 20, "Panel", "Row 1")["sc"] == 19
    assert counts(report, 20, "Panel", "Row 2").items() >= {"shell": 3, "dc": 15, "sc": 4}.items()


# Source: https://crochetspot.com/three-special-stitches-for-your-crocheting-arsenal
# chevron, 12 and 3 foundation chains: ch 39, ch 111
@pytest.mark.parametrize(("chains", "waves"), [(39, 3), (111, 9)])
def test_chevron_in_rows(check: Check, chains: int, waves: int) -> None:
    text = flat(
        # the 3 chains passed and the first dc are the half of an increase; the last two dc the other half
        "Row 1: Dc in 4th ch from hook, dc in next 3 ch, [dc2tog] 2 times, dc in next 3 ch, "
        "*2 dc in each of next 2 ch,",
        "  dc in next 3 ch, [dc2tog] 2 times, dc in next 3 ch; rep from * to last ch, 2 dc in last ch; "
        "turn. [N - 3 dc]",
        foundation="39 (111), multiple of 12 + 3",
    )
    report = check(text)
    proved_clean(report)
    # each wave has 12 stitches, two of them decreases
    worked = counts(report, chains, "Panel", "Row 1")
    assert worked.items() >= {"dc": 12 * waves, "dc2tog": 2 * waves, "sts": 12 * waves}.items()


# Source: https://www.stitchwhisperdesigns.com/2021/03/multiples.html
# open mesh, 2 and 1: the 1 is the closing edge stitch
def test_open_mesh_in_rows(check: Check) -> None:
    text = flat(
        "Row 1: Sc in 2nd ch from hook, sc in each ch across; turn. [N - 1 sc]",
        "Row 2: Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; "
        "rep from * to last st, dc in last st; turn.",
        "  [N/2 dc, N/2 - 1 ch-1 sps]",
        foundation="20, multiple of 2",
    )
    report = check(text)
    proved_clean(report)
    # 19 sts = 2 x 9 + 1: 9 spaces between 10 dc
    assert counts(report, 20, "Panel", "Row 2").items() >= {"dc": 10, "ch-1 sp": 9}.items()


# Source: http://lotsofcrochetstitches.blogspot.it/2012/09/moss-crochet-stitch.html
# moss of sl st and hdc, every 2 sts
def test_moss_in_the_round(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sl st in same st, hdc in next st, *sl st in next st, hdc in next st; "
        "rep from * around;",
        "  join with sl st in first sl st. [N/2 sl sts, N/2 hdc]",
        foundation="24, multiple of 2",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sl st": 12, "hdc": 12}.items()


# Source: http://www.oocities.org/snowymts.geo/Printable/vstitchprintable.html (a V every second stitch)
def test_a_v_every_second_stitch(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, *sk next st, V-st in next st; rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/2 V-sts, N dc]",
        foundation="24, multiple of 2",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"V-st": 12, "dc": 24}.items()
