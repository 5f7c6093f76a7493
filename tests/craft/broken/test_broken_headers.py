"""Headers with one line at fault: a header finding on that line, and nothing that follows from it."""

import pytest

from tests.craft.broken.expect_broken import Check, clean, line_of, only_fault

MITT = """Title: Kestrel Mitt
Terms: US
Sizes: small (medium, large)
Foundation: 24 (28, 32), multiple of 4
Custom: 16 to 40
Worked: joined rounds
Pieces: pair
Yarn: 4 medium, 74 (84, 96) m, 100 g = 170 m
Hook: 4.5 (5, 5.5) mm
Gauge: 14 sts and 8 rnds = 10 cm
Fits: 16 (18, 20) cm hand
Special stitch: Perch = (2 dc, ch 1, 2 dc) in one place

# Cuff
Foundation rnd: Ch 24 (28, 32); join with sl st in first ch to form a ring. [24 (28, 32) ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (28, 32) sc]
Rnd 2: Ch 3 (counts as dc), (dc, ch 1, 2 dc) in same st, *sk 3 sts, Perch in next st; rep from * around;
  join with sl st in top of beg ch. [6 (7, 8) Perches]
"""


def with_line(key: str, line: str) -> str:
    """The mitt with another line in the place of the one with this key; "" takes it out."""
    lines = MITT.split("\n")
    place = next(index for index, old in enumerate(lines) if old.startswith(key + ":"))
    return "\n".join([*lines[:place], *([line] if line else []), *lines[place + 1 :]])


def test_the_mitt_itself_is_right(check: Check) -> None:
    clean(check, MITT)


@pytest.mark.parametrize("key", ["Title", "Foundation"])
def test_what_may_not_be_left_out(check: Check, key: str) -> None:
    only_fault(check, with_line(key, ""), "header")


@pytest.mark.parametrize("key", ["Terms", "Custom", "Worked", "Pieces", "Yarn", "Hook", "Gauge", "Fits"])
def test_what_may_be_left_out(check: Check, key: str) -> None:
    clean(check, with_line(key, ""))


@pytest.mark.parametrize(
    ("key", "line"),
    [
        ("Title", "Title:"),
        ("Title", "Tilte: Kestrel Mitt"),
        ("Foundation", "Fundation: 24 (28, 32), multiple of 4"),
        ("Foundation", "Foundation: plenty, multiple of 4"),
        ("Foundation", "Foundation: 24 (28, 32), multiple of 0"),
        ("Custom", "Custom: 40 to 16"),
        ("Custom", "Custom: whatever you like"),
    ],
)
def test_an_error_on_one_line(check: Check, key: str, line: str) -> None:
    only_fault(check, with_line(key, line), "header", on=line)


@pytest.mark.parametrize(
    ("key", "line"),
    [
        ("Terms", "Terms: Dutch"),
        ("Worked", "Worked: sideways"),
        ("Pieces", "Pieces: three"),
        ("Gauge", "Gauge: rather tight"),
        ("Hook", "Hook: a thick one"),
        ("Hook", "Hok: 4.5 (5, 5.5) mm"),
        ("Hook", "Hook: 4.5 (5) mm"),
        ("Yarn", "Yarn: 4 medium, 74 (84) m, 100 g = 170 m"),
        ("Fits", "Fits: 16 (18) cm hand"),
    ],
)
def test_a_finding_on_one_line(check: Check, key: str, line: str) -> None:
    only_fault(check, with_line(key, line), "header", on=line, severity="")


def test_fewer_foundations_than_sizes(check: Check) -> None:
    text = with_line("Foundation", "Foundation: 24 (28), multiple of 4")
    assert only_fault(check, text, "header")["line"] in {
        line_of(text, "Sizes:"),
        line_of(text, "Foundation: "),
    }


def test_a_foundation_that_is_no_multiple(check: Check) -> None:
    # 30 is no multiple of 4; what rnd 2 makes of 30 only follows
    text = MITT.replace("(28, ", "(30, ").replace(" [6 (7, 8) Perches]", "")
    only_fault(check, text, "header", on="Foundation: ", words="30")


def test_a_foundation_that_forgets_the_plus(check: Check, pattern: str) -> None:
    """
    Title: Kestrel Cuff
    Foundation: 24, multiple of 6 + 2
    Custom: 20 to 38

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    """
    # 6 x 4 = 24, and 2 more are 26
    only_fault(check, pattern, "header", on="Foundation: ", words="24")


def test_a_special_stitch_with_a_bracket_missing(check: Check) -> None:
    text = with_line("Special stitch", "Special stitch: Perch = (2 dc, ch 1, 2 dc in one place")
    only_fault(check, text, "header", "syntax", on="Special stitch:")


TERMS = """Title: Kestrel Tube
Terms: {terms}
Foundation: 24, multiple of 4
Custom: none

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 1, dc in same ch, {other} in next ch, dc in each ch around; join with sl st in first dc.
"""


@pytest.mark.parametrize(("terms", "other"), [("UK", "sc"), ("UK", "hdc"), ("US", "htr")])
def test_a_name_that_only_the_other_terms_have(check: Check, terms: str, other: str) -> None:
    text = TERMS.format(terms=terms, other=other)
    found = only_fault(check, text, on="Rnd 1:", words=other)
    assert found["words"].split()[0] == other


@pytest.mark.parametrize("terms", ["UK", "US"])
def test_a_name_that_both_terms_have(check: Check, terms: str) -> None:
    clean(check, TERMS.format(terms=terms, other="tr"))


@pytest.mark.parametrize(
    ("key", "line"),
    [
        ("Fits", "Fits: 0 (18, 20) cm hand"),
        ("Fits", "Fits: 0 in hand"),
        ("Gauge", "Gauge: 0 sts and 8 rnds = 10 cm"),
        ("Gauge", "Gauge: 14 sts and 8 rnds = 0 cm"),
        ("Hook", "Hook: 0 mm"),
    ],
)
def test_a_measure_of_nothing(check: Check, key: str, line: str) -> None:
    text = with_line(key, line)
    found = only_fault(check, text, "header", on=line)
    assert found["words"] in line


@pytest.mark.parametrize(
    ("foundation", "words", "mend"),
    [
        ("1 (28, 32), multiple of 4", "1", "4"),
        ("1 (30, 34), multiple of 4 + 2", "1", "6"),
        ("2 (26, 38), multiple of 12 + 2", "2", "14"),
    ],
)
def test_a_foundation_below_one_multiple(check: Check, foundation: str, words: str, mend: str) -> None:
    text = with_line("Foundation", f"Foundation: {foundation}")
    found = next(one for one in check(text)["findings"] if one["code"] == "not-a-multiple")
    assert (found["kind"], found["words"], found["mend"]) == ("header", words, mend)
