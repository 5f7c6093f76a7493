"""The verdict at a round: what glove two is told while it is worked, before the round stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from server.craft.making.counting import many, ordinal
from server.craft.making.differences import Difference, Pair
from server.craft.making.log import Making
from server.craft.making.placing import Planner
from server.craft.making.spots import fit_of, order, section_of, turn_of
from server.craft.making.standing import hook_at, is_foundation, standing
from server.craft.making.twins import Verdict, gap_place, pair_of, rounds_below, verdict
from server.craft.measure.hooks import hook_text
from server.craft.measure.lengths import Units
from server.craft.text.tree import Pattern, Terms


@dataclass(frozen=True, slots=True)
class RoundVerdict:
    """What shows at a round of glove two.

    state        "differs" where something is not as in glove one up to here, or would not be with this round
    headline     "Twin so far: 8 rounds as in glove one."; the foundation is not counted as one
    before       what to heed before this round is worked, a sentence each: a hook to change to, a round more
                 than glove one had, a gap that would sit elsewhere
    differences  all up to this round that she has not said are meant
    """

    state: Literal["twin so far", "differs"]
    headline: str
    before: tuple[str, ...] = ()
    differences: tuple[Difference, ...] = ()


def verdict_at(
    pattern: Pattern,
    making: Making,
    spot: str,
    terms: Terms = "US",
    planner: Planner | None = None,
    units: Units = "cm",
    found: Verdict | None = None,
) -> RoundVerdict:
    """The verdict while glove two is at a round, which may stand already or be the next. `found` is the
    verdict on the whole, where it is known already.
    """
    pair = pair_of(pattern, making, terms, planner, units)
    found = found or verdict(pattern, making, terms, planner, units)
    here = tuple(
        each
        for each in found.differences
        if not each.accepted and (each.spot is None or order(each.spot) <= order(spot))
    )
    before = tuple(_before(pair, making, spot)) if pair.one.started and spot not in pair.two.worked else ()
    state: Literal["twin so far", "differs"] = "differs" if here or before else "twin so far"
    return RoundVerdict(state, _headline(pair, found, spot, len(here)), before, here)


def _headline(pair: Pair, found: Verdict, spot: str, differing: int) -> str:
    meant = sum(1 for each in found.differences if each.accepted)
    also = f" {many(meant, 'difference is', 'differences are')} meant." if meant else ""
    if differing:
        return f"Not as {pair.noun} one in {many(differing, 'place')}.{also}"
    one = set(pair.one.worked) - {each.spot for each in pair.plan_one.rounds if is_foundation(each)}
    same = sum(1 for each in pair.two.worked if each in one and order(each) <= order(spot))
    if not same:
        return f"{pair.second.capitalize()} begins here.{also}"
    return f"Twin so far: {many(same, 'round')} as in {pair.noun} one.{also}"


def _before(pair: Pair, making: Making, spot: str) -> Iterator[str]:
    stands = standing(pair.one, pair.plan_one, fit_of(spot))
    turn = turn_of(spot)
    if stands.through and turn > stands.rounds:
        had = many(stands.rounds, "round") if stands.rounds else "no round"
        yield f"{pair.first} had {had} here; this would be the {ordinal(turn)}."
    one, two = hook_at(pair.one, spot), hook_at(pair.two, spot)
    if one is not None and two is not None and one != two and not _hook_meant(making, one, two):
        yield (
            f"{pair.first} had a hook of {hook_text(one)} here; you have {hook_text(two)} in hand. "
            "Change it now."
        )
    yield from _gap(pair, spot)


def _hook_meant(making: Making, one: float, two: float) -> bool:
    """Whether she said of the same two hooks that they are meant, at whichever round."""
    return any(key.startswith("hook/") and key.endswith(f"/{one:g}/{two:g}") for key in making.accepted)


def _gap(pair: Pair, spot: str) -> Iterator[str]:
    index = section_of(spot)
    section = next((each for each in pair.plan_two.sections if each.index == index), None)
    if section is None or section.kind != "gap":
        return
    one, two = gap_place(pair.one, pair.plan_one, index), rounds_below(pair.two, pair.plan_two, index)
    if one is not None and one != two:
        where = "higher" if two > one else "lower"
        yield (
            f"{pair.first} has this gap above {many(one, 'round')}; here it would sit above {two}, "
            f"{many(abs(two - one), 'round')} {where}."
        )
