"""Turning chain heights and the first stitch's chain, each with its source."""

import pytest

from tests.craft.expect import Check, counts, flat, only_warning, proved_clean, tube

# Source: dummies.com; careyscraftycorner.tripod.com (Crochet Guild of America lessons, 1997);
# crochetforall.com. The turning chain in chains; it counts as a stitch except for sc (dummies.com,
# thebestknittersguide.com).
COUNTING = [("hdc", 2), ("dc", 3), ("tr", 4), ("dtr", 5)]


@pytest.mark.parametrize(("stitch", "height"), COUNTING)
def test_a_bare_chain_of_the_published_height_counts(check: Check, stitch: str, height: int) -> None:
    text = tube(
        f"Rnd 2: Ch {height}, {stitch} in same st, {stitch} in each st around; "
        f"join with sl st in top of beg ch. [N + 1 {stitch}]"
    )
    report = check(text)
    proved_clean(report)
    # the chain and a stitch in the first place, one in each of the others
    assert counts(report, 24, "Cuff", "Rnd 2")[stitch] == 25


@pytest.mark.parametrize(
    ("stitch", "height"), [(stitch, height) for stitch, height in COUNTING if height > 2]
)
def test_a_bare_chain_one_shorter_does_not_count(check: Check, stitch: str, height: int) -> None:
    text = tube(
        f"Rnd 2: Ch {height - 1}, {stitch} in same st, {stitch} in each st around; "
        f"join with sl st in first {stitch}. [N {stitch}]"
    )
    report = check(text)
    only_warning(report)
    assert counts(report, 24, "Cuff", "Rnd 2")[stitch] == 24


# Same sources: the chain of sc is 1 and is no stitch
def test_the_chain_of_single_crochet_never_counts(check: Check) -> None:
    report = check(
        tube("Rnd 2: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]")
    )
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 24, "sts": 24}.items()


# Derived from the heights t: the first stitch goes into chain t + 1 from the hook, and N chains give N - t
# stitches where the chain is none, N - t + 1 where it is one (dc in the 4th chain, 3 skipped: seen in
# Crochet Now UK, 2020-04)
@pytest.mark.parametrize(
    ("stitch", "kth", "worked"),
    [
        ("sc", "2nd", 24 - 1),
        ("hdc", "3rd", 24 - 2 + 1),
        ("dc", "4th", 24 - 3 + 1),
        ("tr", "5th", 24 - 4 + 1),
        ("dtr", "6th", 24 - 5 + 1),
    ],
)
def test_the_first_stitch_of_a_row(check: Check, stitch: str, kth: str, worked: int) -> None:
    text = flat(
        f"Row 1: {stitch.capitalize()} in {kth} ch from hook, {stitch} in each ch across; "
        f"turn. [{worked} {stitch}]",
        foundation="24",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Panel", "Row 1").items() >= {stitch: worked, "sts": worked}.items()
