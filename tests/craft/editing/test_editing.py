"""Warnings that a technical editor gives: the pattern proves, and something is asked about."""

from typing import Any

import pytest

from tests.craft.expect import only_warning, proved_clean

HEAD = """\
Title: Skerry Cuff
Sizes: small (large)
Foundation: {foundation}
{more}
# Cuff
Foundation rnd: Ch {foundation_ch}; join with sl st in first ch to form a ring.
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]
"""


def text(foundation: str = "24 (32), multiple of 4", more: str = "Pieces: pair") -> str:
    return HEAD.format(foundation=foundation, more=more, foundation_ch="N")


def test_a_foundation_that_falls_is_asked_about(check: Any) -> None:
    finding = only_warning(check(text("32 (24), multiple of 4")))
    assert (finding["code"], finding["kind"], finding["line"]) == ("not-rising", "header", 3)


def test_what_it_fits_may_not_fall_either(check: Any) -> None:
    finding = only_warning(check(text(more="Fits: 20 (18) cm hand")))
    assert (finding["code"], finding["words"]) == ("not-rising", "20 (18) cm hand")


def test_a_gauge_far_from_the_fit_is_asked_about_at_the_sizes_it_holds_for(check: Any) -> None:
    # 14 sts = 10 cm: 24 sts are 17.1 cm around, 5 % under 18; 32 are 22.9 cm, 43 % over 16
    finding = only_warning(check(text(more="Gauge: 14 sts and 9 rnds = 10 cm\nFits: 18 (18.1) cm hand")))
    assert finding["code"] == "gauge-and-fit"
    assert finding["foundations"] == [32]
    assert "22.9 cm" in finding["message"]
    assert "20 %" in finding["message"]


@pytest.mark.parametrize(
    ("stitches", "per_in", "hand_in"),
    [
        (28, "3.5", "8.5"),  # Suzie's mitts for men, suzies-yarnie-stuff 2009-10: 8.0 in for an 8.5 in hand
        (30, "3.5", "9.5"),  # the same, larger: 8.57 in for 9.5 in, 9.8 % under
        (40, "5.5", "7"),  # kniterdone 2008-11: 7.27 in against a stated 7.0 in
        (36, "5.5", "6.5"),
        (32, "5.5", "6"),
    ],
)
def test_published_mitts_are_not_asked_about(check: Any, stitches: int, per_in: str, hand_in: str) -> None:
    report = check(
        f"Title: T\nFoundation: {stitches}\nGauge: {per_in} sts = 1 in\nFits: {hand_in} in hand\n"
        f"# Cuff\nFoundation rnd: Ch {stitches}; join with sl st in first ch to form a ring.\n"
        "Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc.\n"
    )
    proved_clean(report)


def test_the_foundation_number_in_an_instruction_does_not_go_with_custom_counts(check: Any) -> None:
    report = check(
        "Title: T\nFoundation: 24, multiple of 4\n# Cuff\n"
        "Foundation rnd: Ch 24; join with sl st in first ch.\n"
        "Rnd 1: Ch 1, sc in same ch, sc in each ch around, ch 24; join with sl st in first sc.\n"
    )
    finding = only_warning(report)
    assert (finding["code"], finding["words"], finding["mend"]) == ("bare-foundation", "24", "N")
