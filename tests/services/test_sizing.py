"""For a host: sizes proposed for a population, gaps, and yarn that is not enough."""

from __future__ import annotations

from pathlib import Path

import pytest

from server.services import demo, sizing
from server.services.errors import Refusal
from tests.services.story import CROWN, SLIPWAY

SHORT = SLIPWAY.replace("130 (150, 196) m", "74 (84, 96) m")


def test_sizes_are_proposed_with_shares_and_gaps() -> None:
    found = sizing.sizing_of(SLIPWAY, "adults", "cm")
    assert found.own is not None
    assert found.proposed is not None
    assert [row.foundation for row in found.own.rows] == [24, 28, 32]
    assert all(row.foundation % 4 == 0 for row in found.proposed.rows)
    assert found.proposed.covered >= found.own.covered - 0.05
    assert found.proposed.covered + found.proposed.below + found.proposed.above == pytest.approx(
        1 - sum(gap.share for gap in found.proposed.gaps)
    )
    # 4 chains of 14 in 10 cm are 28.6 mm: more than the tenth of a hand that one size is right for.
    assert found.own.gaps
    assert any(words.startswith("Between 24 and 28 lies a gap") for words in found.own.says)


@pytest.mark.parametrize("people", [key for key, _ in sizing.groups()])
def test_every_population_that_is_offered_there_is(people: str) -> None:
    found = sizing.sizing_of(SLIPWAY, people, "cm")
    assert found.proposed is not None
    assert 0 < found.proposed.covered <= 1


def test_nobody_is_no_population() -> None:
    with pytest.raises(Refusal) as refused:
        sizing.sizing_of(SLIPWAY, "giants", "cm")
    assert refused.value.field == "people"


def test_units_change_words_and_no_figure() -> None:
    here, there = (sizing.sizing_of(SLIPWAY, "women", units) for units in ("cm", "in"))
    assert here.proposed is not None
    assert there.proposed is not None
    assert here.proposed.rows == there.proposed.rows
    assert here.proposed.says != there.proposed.says


def test_a_ring_and_what_is_no_glove_get_no_sizes() -> None:
    assert sizing.sizing_of(CROWN, "adults", "cm").begins_in_ring
    socks = SLIPWAY.replace("Slipway Wristers", "Slipway Socks").replace("cm hand", "cm foot")
    assert not sizing.sizing_of(socks, "adults", "cm").for_a_hand


def test_a_chain_that_is_how_long_it_is_gets_no_sizes_around() -> None:
    sideways = (Path(__file__).parents[1] / "cases" / "proved" / "corded-row-cuffs.txt").read_text("utf-8")
    found = sizing.sizing_of(sideways, "adults", "cm")
    assert found.rows_around
    assert (found.own, found.proposed) == (None, None)


def test_yarn_that_cannot_do_is_warned_of() -> None:
    checks = sizing.stated_of(SHORT)
    assert [check.verdict for check in checks] == ["cannot"] * 3
    assert all(check.warns for check in checks)
    in_yards = SHORT.replace("74 (84, 96) m", "81 (92, 105) yd")
    assert "81 yd will hardly do" in sizing.stated_of(in_yards)[0].says
    assert sizing.stated_of(SLIPWAY.replace(", 130 (150, 196) m, 100 g = 170 m", "")) == ()


def test_our_own_patterns_can_be_made_from_what_they_ask_for() -> None:
    """The example and the demo state what is enough in nine cases of ten."""
    for text in (SLIPWAY, demo.PATTERN.read_text(encoding="utf-8"), demo.COWL.read_text(encoding="utf-8")):
        checks = sizing.stated_of(text)
        assert checks
        assert not [check.says for check in checks if check.warns or check.verdict == "too much"]
