"""Units against a units library (pint) as reference."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.craft.measure.quantities import (
    grams,
    mm,
    ounces,
    percent_text,
    yards,
    yarn_range_text,
    yarn_text,
)

REFERENCE: pint.UnitRegistry[float] = pint.UnitRegistry()
AMOUNTS = st.floats(0.001, 1e6)


@pytest.mark.parametrize(
    ("unit", "name"), [("mm", "mm"), ("cm", "cm"), ("m", "m"), ("in", "inch"), ("yd", "yard")]
)
@settings(deadline=None)  # the reference loads its units at the first call
@given(amount=AMOUNTS)
def test_lengths(unit: str, name: str, amount: float) -> None:
    assert mm(amount, unit) == pytest.approx(REFERENCE.Quantity(amount, name).to("mm").magnitude)


@pytest.mark.parametrize(("unit", "name"), [("g", "g"), ("oz", "oz")])
@settings(deadline=None)  # the reference loads its units at the first call
@given(amount=AMOUNTS)
def test_weights(unit: str, name: str, amount: float) -> None:
    assert grams(amount, unit) == pytest.approx(REFERENCE.Quantity(amount, name).to("g").magnitude)


@settings(deadline=None)  # the reference loads its units at the first call
@given(amount=AMOUNTS)
def test_and_back(amount: float) -> None:
    assert yards(amount) == pytest.approx(REFERENCE.Quantity(amount, "m").to("yard").magnitude)
    assert ounces(amount) == pytest.approx(REFERENCE.Quantity(amount, "g").to("oz").magnitude)


def test_metres_per_100_g_from_yards_per_pound() -> None:
    """m/100 g = yd/lb x 0.20159 (derived in the reference tables)."""
    there = REFERENCE.Quantity(1, "yard/lb").to("m/g").magnitude * 100
    assert there == pytest.approx(0.20159, abs=0.00001)
    assert mm(1, "yd") / 1000 / grams(16, "oz") * 100 == pytest.approx(there)


def test_words() -> None:
    assert (yarn_text(84.4, "cm"), yarn_text(84.4, "in"), yarn_text(3.26, "cm")) == ("84 m", "92 yd", "3.3 m")
    assert yarn_range_text(70.2, 97.1, "cm") == "70 to 98 m"
    assert (percent_text(-0.05), percent_text(0.03), percent_text(0.001)) == ("−5 %", "+3 %", "0 %")


@pytest.mark.parametrize("unit", ["", "ft", "g", "CM"])
def test_another_unit_is_refused(unit: str) -> None:
    with pytest.raises(ValueError, match="mm, cm, m, in or yd"):
        mm(1, unit)
