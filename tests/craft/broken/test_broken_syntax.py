"""Words that do not read: one syntax finding at them, and nothing of the rounds after."""

import pytest

from tests.craft.broken.expect_broken import Check, clean, line_of, mended, only_fault, only_warning

HEAD = """Title: Coot Cuff
Foundation: 24, multiple of 6
Custom: 18 to 30

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
"""
TAIL = "\nRnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]\n"


@pytest.mark.parametrize(
    ("rnd", "words"),
    [
        ("Ch 1, sc in same st, scc in each st around; join with sl st in first sc.", "scc"),
        ("Ch 1, sc in same st, frond in each st around; join with sl st in first sc.", "frond"),
        ("Ch 1, sc in same st, Perch in each st around; join with sl st in first sc.", "Perch"),
        ("Ch 1, sc in same st, sc in eahc st around; join with sl st in first sc.", "eahc"),
        ("Ch 1, sc in same st, sc in next blob, sc in each st around; join with sl st in first sc.", "blob"),
        ("Ch 1, sc in same st, sc in next 5 carrots; join with sl st in first sc.", "carrots"),
        ("Ch 1, sc in same st, sc in each st around; join with sl st in frst sc.", "frst"),
        ("Ch 1, sc in same st, *sc in next st; rep from * arond; join with sl st in first sc.", "arond"),
        ("Ch 1, sc in same st, dance in rain, sc in each st around; join with sl st in first sc.", "dance"),
        ("Ch 1, sc in same st, sc in next st; rep from * around; join with sl st in first sc.", "rep from *"),
        ("Ch 3, (dc, ch 1, dc in same st, dc in each st around; join with sl st in top of beg ch.", ""),
        ("Ch 1, sc in same st, [sc in next 3 sts, 2 sc in next st 6 times; join with sl st in first sc.", ""),
        ("Ch 1, sc in same st, sc in each st) around; join with sl st in first sc.", ""),
    ],
)  # fmt: skip
def test_a_round_that_does_not_read(check: Check, rnd: str, words: str) -> None:
    only_fault(check, f"{HEAD}Rnd 2: {rnd}{TAIL}", "syntax", on="Rnd 2:", words=words)


def test_a_count_whose_bracket_does_not_close(check: Check) -> None:
    text = HEAD + "Rnd 2: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [24 sc\n"
    only_fault(check, text, "syntax", on="Rnd 2:")


@pytest.mark.parametrize("rnd", ["rep rnd 9.", "rep rnd 1 of Sleeve.", "rep rnd 2.", "rep rnds 1 and 7."])
def test_a_round_that_there_is_not_to_repeat(check: Check, rnd: str) -> None:
    only_fault(check, f"{HEAD}Rnd 2: {rnd}\n", on="Rnd 2:")


def test_two_rounds_that_do_not_read_are_two_faults(check: Check) -> None:
    text = HEAD + (
        "Rnd 2: Ch 1, sc in same st, frond in each st around; join with sl st in first sc.\n"
        "Rnd 3: Ch 1, sc in same st, sc in eahc st around; join with sl st in first sc.\n"
    )
    report = check(text)
    assert sorted((found["line"], found["kind"]) for found in report["findings"]) == [
        (line_of(text, "Rnd 2:"), "syntax"),
        (line_of(text, "Rnd 3:"), "syntax"),
    ]


FIVE_TIMES = """Title: Coot Cuff
Foundation: 24, multiple of 4
Custom: none

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
Rnd 2: Ch 1, sc in same st, sc in next 2 sts, 2 sc in next st, *sc in next 3 sts, 2 sc in next st;
  rep from * 4 times; join with sl st in first sc.
  [30 sc]
"""
# 4 places, 4 more at the asterisk, 4 x 4 more: 24; six times 5 sc


def test_rep_from_by_number_without_more(check: Check) -> None:
    found = only_warning(check, FIVE_TIMES, on="rep from *", words="4 times", at=[24])
    assert found["mend"] is not None
    after = mended(FIVE_TIMES, found)
    assert "4 times more" in after
    clean(check, after)


def test_rep_from_by_number_is_read_as_more(check: Check) -> None:
    # read as four in all it would leave four places; read as four more, one more is too many
    text = FIVE_TIMES.replace("4 times", "5 times more")
    only_fault(check, text, "closing", "place", at=[24])


@pytest.mark.parametrize(
    ("right", "before", "wrong"),
    [
        ("sc", "in each", "scc"),
        ("each", "st around", "eahc"),
        ("first", "sc.", "frst"),
        ("around", ";", "arond"),
    ],
)
def test_a_misspelt_word_is_mended(check: Check, right: str, before: str, wrong: str) -> None:
    text = HEAD + "Rnd 2: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]\n"
    gap = "" if before == ";" else " "
    head, tail = text.rsplit(f"{right}{gap}{before}", 1)
    broken = f"{head}{wrong}{gap}{before}{tail}"
    found = only_fault(check, broken, "syntax", on="Rnd 2:", words=wrong)
    assert found["mend"] is not None
    assert mended(broken, found) == text
