"""What a post leaves to its reader: which stitch an `inc` is, which round the last one was, what MC is."""

import pytest

from tests.craft.expect import (
    Check,
    counts,
    crown,
    flat,
    only_warning,
    proved_clean,
    same_work,
    section,
    tube,
)


@pytest.mark.parametrize("stitch", ["sc", "hdc", "dc"])
def test_an_increase_is_of_the_stitch_that_the_round_is_worked_in(check: Check, stitch: str) -> None:
    start = f"Rnd 1: 8 {stitch} in ring; join with sl st in first {stitch}. [8 {stitch}]"
    # every other place twice: 8 + 4
    same_work(
        check(
            crown(start, f"Rnd 2: Ch 1, *{stitch} in next st, inc; rep from * around; join. [12 {stitch}]")
        ),
        check(
            crown(
                start, f"Rnd 2: Ch 1, *{stitch} in next st, 2 {stitch} in next st; rep from * around; join."
            )
        ),
    )
    same_work(
        check(
            crown(start, f"Rnd 2: Ch 1, *inc, {stitch} in next st; rep from * around; join. [12 {stitch}]")
        ),
        check(
            crown(
                start, f"Rnd 2: Ch 1, *2 {stitch} in next st, {stitch} in next st; rep from * around; join."
            )
        ),
    )


def test_a_decrease_too(check: Check) -> None:
    report = check(
        tube("Rnd 2: Ch 1, *hdc in next 2 sts, dec; rep from * around; join. [18 hdc]", foundation="24")
    )
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["hdc2tog"] == 6


def test_the_last_round_where_sizes_number_them_apart(check: Check) -> None:
    report = check(
        crown(
            "Rnd 1: 8 hdc in ring; join with sl st in first hdc. [8 hdc]",
            "Rnds 2-4 (6): Ch 1, 2 hdc in first st, hdc in each st around; join.",
            "Rnd 5 (7): Ch 1, *FPdc around next st, BPdc around next st; rep from * around, "
            "omitting last BPdc; join.",
            "Rnd 6 (8): Rep last rnd.",
        )
    )
    for size in ("child", "adult"):
        last, before = section(report, size, "Crown")[:-3:-1]
        assert last["counts"] == before["counts"], size
        assert last["counts"]["FPdc"], size


def test_mc_is_a_magic_circle_where_a_place_is_due(check: Check) -> None:
    same_work(
        check(crown("Rnd 1: 8 hdc in MC, join. [8]")),
        check(crown("Rnd 1: 8 hdc in magic circle, join. [8]")),
    )


@pytest.mark.parametrize(
    "words",
    [
        ", making sure the chain isn’t twisted",
        ". Make sure your chain does not twist",
        ", checking that the stitches are not twisted",
    ],
)
def test_words_about_a_twisted_chain(check: Check, words: str) -> None:
    proved_clean(
        check(
            f"Title: Twist\nFoundation: 24\n\n# Cuff\nFoundation rnd: Ch 24, join with sl st in first "
            f"ch{words}.\n"
            "Rnd 1: Ch 1, sc in each ch around; join with sl st in first sc. [24 sc]\n"
        )
    )


def test_from_the_hook_and_across(check: Check) -> None:
    proved_clean(check(flat("Row 1: Sc in 2nd ch from hook and across, turn. [23 sc]", foundation="24")))


@pytest.mark.parametrize("stitch", ["sc", "Hdc"])
def test_a_stitch_alone_is_asked_about(check: Check, stitch: str) -> None:
    found = only_warning(check(tube(f"Rnd 2: {stitch}.")))
    assert (found["code"], found["words"], found["line"]) == ("lone-stitch", stitch, 7)
    assert found["mend"] == f"{stitch} in each st around"
    proved_clean(check(tube(f"Rnd 2: {found['mend']}.")))


@pytest.mark.parametrize("first", ["each of first 2 sts", "each of the first 2 sts", "first 2 sts"])
@pytest.mark.parametrize("last", ["each of last 22 sts", "each of the last 22 sts", "last 22 sts"])
def test_each_of_the_first_and_of_the_last(check: Check, first: str, last: str) -> None:
    # 2 places twice, the other 22 once
    proved_clean(check(tube(f"Rnd 2: Ch 1, 2 sc in {first}, sc in {last}; join. [26 sc]", foundation="24")))


@pytest.mark.parametrize(
    "words", ["foundation ch around", "foundation chain around", "foundation ch. [24 sc]"]
)
def test_a_line_broken_before_the_foundation(check: Check, words: str) -> None:
    head, _, rest = words.partition(". ")
    edging = (
        f"Join yarn with sc in any foundation ch, sc in each rem\n{head}; join with sl st in first sc. {rest}"
    )
    report = check(tube("\n# Bottom edging - in the foundation", edging, foundation="24"))
    proved_clean(report)
    assert report["rounds"]["24"][-1]["counts"]["sc"] == 24
