"""Where a round's instructions end and its count begins."""

from fractions import Fraction

import pytest

from server.craft.text import read
from server.craft.text.tree import Formula, Noun, Number, Plain, RoundLine, SizeList, Work

HEAD = """Title: Turnstone Mitts
Sizes: small (medium, large)
Foundation: 24 (30, 36), multiple of 6

# Cuff
"""


def round_of(words: str) -> RoundLine:
    """The one round of a section, read without a finding."""
    reading = read(f"{HEAD}Rnd 1: {words}\n")
    assert not reading.findings, reading.findings
    (line,) = reading.pattern.sections[0].lines
    assert isinstance(line, RoundLine)
    return line


def places_reached(line: RoundLine) -> Number | None:
    """How many places the round's last stitch goes into."""
    last = line.body[-1]
    assert isinstance(last, Work)
    assert last.place is not None
    return last.place.count


@pytest.mark.parametrize(
    ("number", "value"),
    [
        ("N - 1", Formula(Fraction(1), Fraction(-1))),
        ("N/3 - 1", Formula(Fraction(1, 3), Fraction(-1))),
        ("2N/3 - 4", Formula(Fraction(2, 3), Fraction(-4))),
        ("N/6 + 2", Formula(Fraction(1, 6), Fraction(2))),
        ("8 (10, 12)", SizeList((8, 10, 12))),
    ],
)
def test_a_minus_in_a_number_begins_no_count(number: str, value: Number) -> None:
    line = round_of(f"Ch 1, sc in same st, sc in next {number} sts.")
    assert places_reached(line) == value
    assert line.stated is None


@pytest.mark.parametrize("sign", ["-", "–", "—", "="])
def test_a_sign_behind_the_round_begins_its_count(sign: str) -> None:
    line = round_of(f"Ch 1, sc in same st, sc in next 8 sts {sign} 9 sc")
    assert places_reached(line) == Plain(8)
    assert line.stated is not None
    assert [(item.number, item.noun) for item in line.stated.items] == [(Plain(9), Noun("stitch", "sc"))]


@pytest.mark.parametrize("count", ["= N/3 - 1 dc", "[N/3 - 1 dc]", "(N/3 - 1 dc)", "— N/3 - 1 dc"])
def test_a_count_may_have_a_minus_in_it(count: str) -> None:
    line = round_of(f"Ch 1, sc in same st, dc in next 8 sts {count}")
    assert line.stated is not None
    assert [item.number for item in line.stated.items] == [Formula(Fraction(1, 3), Fraction(-1))]
