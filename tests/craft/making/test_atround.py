"""The verdict at a round: what glove two is told while it is worked."""

from __future__ import annotations

from typing import Any

from server.craft.making import RoundVerdict, fold, verdict_at
from tests.craft.making.entries import log, worked
from tests.craft.making.plans import PATTERN, planner
from tests.craft.making.test_twins import SETTLED, fit_ended, hook, made

Told = tuple[str, int, dict[str, Any]]


def at(spot: str, *told: Told) -> RoundVerdict:
    return verdict_at(PATTERN, fold(log(SETTLED, *told)), spot, "US", planner)


def test_twin_so_far() -> None:
    """The foundation and 4 rounds stand."""
    found = at("0.2.3", *made(1), *made(2, upto="0.2.2"))
    assert found == RoundVerdict("twin so far", "Twin so far: 4 rounds as in glove one.")
    assert at("0.0.1", *made(1)).headline == "Glove two begins here."


def test_a_round_more_than_glove_one_had_is_said_before_it_is_worked() -> None:
    told = [*made(1), *made(2, upto="0.2.6")]
    before = at("0.2.7", *told)
    assert before.state == "differs"
    assert before.before == ("Glove one had 6 rounds here; this would be the 7th.",)
    after = at("0.2.7", *told, *worked("0.2.7", piece=2))
    assert after.before == ()
    assert [each.kind for each in after.differences] == ["rounds"]
    assert after.headline == "Not as glove one in 1 place."


def test_a_hook_to_change_to_is_said_before_the_round() -> None:
    told = [hook(1, 5), hook(1, 4.5, "0.2.2"), hook(2, 5), *made(1), *made(2, upto="0.2.1")]
    assert at("0.2.1", *told).before == ()
    assert at("0.2.2", *told).before == (
        "Glove one had a hook of 4.5 mm (US 7) here; you have 5 mm (US H-8) in hand. Change it now.",
    )
    assert at("0.2.2", *told, hook(2, 4.5, "0.2.2")).before == ()


def test_a_hook_that_is_meant_is_not_said_at_every_round() -> None:
    told = [hook(1, 5), hook(2, 4.5), *made(1), *made(2, upto="0.2.1")]
    meant: Told = ("accepted", 0, {"difference": "hook/0.0.1/5/4.5"})
    found = at("0.2.2", *told, meant)
    assert found.before == ()
    assert found.state == "twin so far"
    assert found.headline == "Twin so far: 3 rounds as in glove one. 1 difference is meant."


def test_the_gap_would_sit_elsewhere() -> None:
    told = [*made(1), *made(2, cuff=5, upto="0.2.5"), fit_ended(2, "0.2", 5)]
    assert at("1.0.1", *told).before == (
        "Glove one has this gap above 8 rounds; here it would sit above 7, 1 round lower.",
    )


def test_only_what_differs_up_to_here() -> None:
    told = [*made(1), *made(2, cuff=7, upto="1.0.1")]
    assert at("0.2.2", *told).differences == ()
    assert at("0.2.2", *told).state == "twin so far"
    assert len(at("1.0.1", *told).differences) == 1


def test_beside_an_unfinished_glove_one_nothing_is_said() -> None:
    found = at("0.2.5", *made(1, upto="0.2.2"), *made(2, upto="0.2.4"))
    assert found.before == ()
    assert found.state == "twin so far"
