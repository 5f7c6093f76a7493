"""Slips that once brought several findings, or none: each brings one, whose mend leaves nothing behind."""

import pytest

from tests.craft.broken.expect_broken import Check, clean, mended, only_fault

HEAD = """Title: Dunlin Cuff
Sizes: small (medium, large)
Foundation: 24 (30, 36), multiple of 6

# Cuff
Foundation rnd: Ch 24 (30, 36); join with sl st in first ch to form a ring. [24 (30, 36) ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (30, 36) sc]
"""


@pytest.mark.parametrize(
    ("rnd", "words", "mend"),
    [
        ("Ch 3 (counts as dcx), dc in each st around; join with sl st in top of beg ch. [N dc]", "dcx", "dc"),
        ("Ch 1, *(sc, hdcx, sc) in next st, sk next st; rep from * around; join. [3N/2 sts]", "hdcx", "hdc"),
        ("Ch 1, *(sc, hdc, scx) in next st; rep from * around; join. [3N sts]", "scx", "sc"),
        ("Ch 1, *[scx in next st, ch 1] 2 times; rep from * around; join.", "scx", "sc"),
        ("Ch 1, 2 scx in first st, sc in each st around; join. [N + 1 sc]", "scx", "sc"),
    ],
)
def test_a_misspelt_stitch(check: Check, rnd: str, words: str, mend: str) -> None:
    text = f"{HEAD}Rnd 2: {rnd}\nRnd 3: Ch 1, sc in each st around; join with sl st in first sc.\n"
    found = only_fault(check, text, "syntax", on="Rnd 2:", words=words)
    assert (found["words"], found["mend"]) == (words, mend)
    assert check(mended(text, found))["proved"]


def test_a_number_of_the_foundation_that_is_not_the_headers(check: Check) -> None:
    text = HEAD.replace("Ch 24 (30, 36)", "Ch 24 (30, 38)") + (
        "Rnd 2: Ch 1, *sc in next 5 sts, sk next st; rep from * around; join. [5N/6 sc]\n"
        "\n# Bottom edging - in the foundation\nJoin yarn with sc in any foundation ch, sc in each "
        "foundation ch around; join with sl st in first sc. [N sc]\n"
    )
    found = only_fault(check, text, "count", on="Foundation rnd:", words="24 (30, 38)")
    assert found["mend"] == "24 (30, 36)"
    clean(check, mended(text, found))


def test_next_at_the_beginning_of_a_round_that_so_goes_past_its_end(check: Check) -> None:
    text = HEAD + (
        "Rnd 2: Ch 1, sc in first 4 sts, ch 6, skip next 6 sts, sc in each st around; join.\n"
        "Rnd 3: Ch 1, sc in next 4 sts, 6 sc in ch-6 sp, sc in each st around; join. [N sc]\n"
    )
    found = only_fault(check, text, "closing", on="Rnd 3:", words="next 4 sts")
    assert (found["code"], found["mend"]) == ("next-at-head", "first 4 sts")
    clean(check, mended(text, found))


def test_next_is_left_alone_where_the_round_comes_out(check: Check) -> None:
    clean(check, HEAD + "Rnd 2: Ch 1, sc in next 4 sts, sc in each st around; join. [N sc]\n")


def test_a_mend_is_never_the_words_themselves(check: Check) -> None:
    # rnd 2 does not come out at every count, so that what rnd 3 has at the others is no line through all
    report = check(
        "Title: Skerry\nFoundation: 30, multiple of 6\n\n# Cuff\nFoundation rnd: Ch 30; join.\n"
        "Rnd 1: Ch 1, sc in each ch around; join. (30)\n"
        "Rnd 2: Ch 3, dc in next 2 sts, *FPdc around next st, dc in next 3 sts; rep from * to last 3 sts, "
        "FPdc around next st, dc in next 2 sts; join.\nRnd 3: Ch 1, sc in each st around; join. (30 sc)\n"
        "Rnd 4: Ch 1, sc in same st, *ch 3, sk 2 sts, sc in next st; rep from * around, omitting last sc; "
        "join. [10 ch-3 sps]\n"
    )
    assert report["findings"]
    assert all(found["mend"] != found["words"] for found in report["findings"])


JOINED = "Rnd {}: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]\n"


def test_a_join_that_was_left_out(check: Check) -> None:
    silent = "Rnd 3: Ch 1, sc in same st, sc in each st around. [N sc]\n"
    text = HEAD + JOINED.format(2) + silent + JOINED.format(4) + JOINED.format(5)
    found = only_fault(check, text, "join", on="Rnd 3:", severity="warning")
    assert (found["code"], found["words"]) == ("join-unsaid", "sc in each st around")
    clean(check, mended(text, found))


@pytest.mark.parametrize("end", ["; do not join", "; turn", "; join"])
def test_a_round_that_says_how_it_ends(check: Check, end: str) -> None:
    said = f"Rnd 3: Ch 1, sc in same st, sc in each st around{end}. [N sc]\n"
    report = check(HEAD + JOINED.format(2) + said)
    assert not [found for found in report["findings"] if found["code"] == "join-unsaid"]


def test_where_no_round_says_how_it_ends_none_is_asked(check: Check) -> None:
    text = HEAD.replace("; join with sl st in first sc", "")
    clean(check, text + JOINED.format(2).replace("; join with sl st in first sc", ""))


def test_a_multiple_that_none_of_the_sizes_is_of(check: Check) -> None:
    # 24, 30 and 36 are no multiples of 7; they are of 6
    text = HEAD.replace("multiple of 6", "multiple of 7") + (
        "Rnd 2: Ch 1, *sc in next 5 sts, sk next st; rep from * around; join. [5N/6 sc]\n"
    )
    found = only_fault(check, text, "header", on="Foundation: ", words="multiple of 7")
    assert found["mend"] == "multiple of 6"
    clean(check, mended(text, found))


def test_a_bracket_left_open_within_a_repeat(check: Check) -> None:
    text = HEAD + "Rnd 2: Ch 1, *sc in next 2 sts, [sc2tog 2 times; rep from * around; join. [2N/3 sts]\n"
    only_fault(check, text, "syntax", on="Rnd 2:", words="[")


def test_a_name_of_the_other_terms_in_a_place(check: Check) -> None:
    text = HEAD.replace("Sizes", "Terms: US\nSizes") + (
        "Rnd 2: Ch 2 (counts as hdc), hdc in each rem st around; join with sl st in top of beg ch. [N hdc]\n"
        "Rnd 3: Ch 1, sc in same st, sc in each htr around; join with sl st in first sc.\n"
    )
    found = only_fault(check, text, "syntax", on="Rnd 3:", words="htr")
    assert (found["code"], found["mend"]) == ("other-terms", "hdc")
    text = HEAD.replace("Sizes", "Terms: UK\nSizes").replace("sc", "dc") + (
        "Rnd 2: Ch 1, dc in same st, dc in each st around; join with ss in first sc. [N dc]\n"
    )
    found = only_fault(check, text, "syntax", on="Rnd 2:", words="sc")
    assert found["mend"] == "dc"
    clean(check, mended(text, found))


def test_a_round_in_another_stitch_than_its_join_and_its_count_name(check: Check) -> None:
    text = HEAD + (
        "Rnd 2: Ch 1, hdc in each st around; join with sl st in first sc. [N sc]\n" + JOINED.format(3)
    )
    found = only_fault(check, text, "count", on="Rnd 2:", words="N sc")
    assert found["mend"] == "N hdc"
