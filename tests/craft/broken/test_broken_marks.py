"""Brackets, stars and lists that one mark or number mends: it is offered, and the pattern proves with it."""

import pytest

from tests.craft.broken.expect_broken import Check, clean, mended, only_fault

HEAD = """Title: Coot Cuff
Foundation: 24, multiple of 6
Custom: none

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
"""
J = "join with sl st in first sc."


@pytest.mark.parametrize(
    ("rnd", "code", "mend"),
    [
        (f"Ch 1, *sc in next st, ch 1, sk next st; {J} [12 sc]", "star-never-repeated",
         "*sc in next st, ch 1, sk next st; rep from * around"),
        ("Ch 1, *sc in next st, ch 1, sk next st around. Join. [12 sc]", "star-never-repeated",
         "*sc in next st, ch 1, sk next st; rep from * around"),
        (f"Ch 1, [sc in next 3 sts, 2 sc in next st 6 times; {J} [30 sc]", "unclosed",
         "[sc in next 3 sts, 2 sc in next st]"),
        (f"Ch 1, [sc in next st, ch 1, sk 1 st around; {J} [12 sc]", "unclosed",
         "[sc in next st, ch 1, sk 1 st]"),
        (f"Ch 1, (sc in next st, ch 1, sk 1 st; {J} [12 sc]", "unclosed",
         "(sc in next st, ch 1, sk 1 st) around"),
        # 2 in the first, and one in each of the 23 others
        (f"Ch 1, (sc, ch 1, sc in first st, sc in each st around; {J} [25 sc]", "unclosed", "(sc, ch 1, sc)"),
        (f"Ch 1, sc in each st around; {J} [24 sc", "unclosed", "[24 sc]"),
        (f"Ch 1, sc in each st) around; {J} [24 sc]", "stray", " around"),
        ("Ch 3 (counts as dc, dc in each st around; join with sl st in top of beg ch. [24 dc]", "unread",
         "(counts as dc)"),
    ],
)  # fmt: skip
def test_a_mark_that_is_missing(check: Check, rnd: str, code: str, mend: str) -> None:
    text = f"{HEAD}Rnd 2: {rnd}\n"
    found = only_fault(check, text, "syntax", on="Rnd 2:")
    assert (found["code"], found["mend"]) == (code, mend)
    clean(check, mended(text, found))


SIZED = (
    HEAD.replace("24, multiple of 6", "24 (30, 36), multiple of 6")
    .replace("Ch 24;", "Ch 24 (30, 36);")
    .replace("[24 ch]", "[24 (30, 36) ch]")
    .replace("[24 sc]", "[24 (30, 36) sc]")
)


@pytest.mark.parametrize(
    ("right", "short", "mend"),
    [
        ("[24 (30, 36) sc]", "[24 (30) sc]", "24 (30, 36)"),
        ("first 12 (14, 16) sts", "first 12 (14) sts", "12 (14, 16)"),
        ("first 12 (14, 16) sts", "first 12 (14, 16, 18) sts", "12 (14, 16)"),
    ],
)  # fmt: skip
def test_a_list_of_another_length(check: Check, right: str, short: str, mend: str) -> None:
    rnd = f"Rnd 2: Ch 1, sc in first 12 (14, 16) sts, sc in each st around; {J} [24 (30, 36) sc]\n"
    text = SIZED + rnd.replace(right, short)
    found = only_fault(check, text, "syntax", on="Rnd 2:")
    assert (found["code"], found["mend"]) == ("list-length", mend)
    clean(check, mended(text, found))


def test_a_list_whose_steps_differ_is_not_guessed_at(check: Check) -> None:
    sizes = SIZED.replace("24 (30, 36)", "24 (30, 36, 42)")
    text = f"{sizes}Rnd 2: Ch 1, sc in first 12 (14, 18) sts, sc in each st around; {J}\n"
    found = only_fault(check, text, "syntax", on="Rnd 2:")
    assert (found["code"], found["mend"]) == ("list-length", None)
