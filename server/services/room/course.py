"""The way of an evening through a pattern: every round that is made at some size, one after another, and its
words for all sizes at once.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from threading import Lock

from server.craft.fabric.values import Numbers
from server.craft.making import CustomRule, Plan, PlanRound, SheetLine, plan, sheet
from server.craft.making.spots import fit_of, order
from server.craft.text import read
from server.craft.text.tree import Header, Pattern, Terms

NUMBER, NUMBERED = re.compile(r"\d+"), re.compile(r"(\D+)(\d+)")
# Working a pattern at every count takes as long as a proof: one after another, so that others get a turn.
_WORKING = Lock()


@dataclass(frozen=True)
class Spot:
    """Where a host is. turn: which round of the line, from 1; step: of the round, from 0, None: all of it."""

    section: int
    round: int
    turn: int
    step: int | None = None

    @property
    def address(self) -> str:
        """As the plan has it: "0.3.2"."""
        return f"{self.section}.{self.round}.{self.turn}"


@dataclass(frozen=True)
class Stop:
    """One round of the way.

    label    "Rnd 4"
    line     the label of its whole line: "Rnds 3 to 7 (7, 8), or to the base of the thumb"
    text     the instructions for all sizes
    steps    the same one after another: "8 (9, 10) times: sk 2 sts, V-st in next st"
    count    what it has at its end: "9 (10, 11) V-sts"
    custom   the same for a count of one's own: "N/3 V-sts"; "" where it does not go by N
    missing  sizes that have no such round; of rounds to fit: as the pattern is written
    is_fit   whether everyone makes as many of it as she needs
    notes    the host's words that stand after it
    """

    spot: Spot
    section: str
    label: str
    line: str
    text: str
    steps: tuple[str, ...]
    count: str
    custom: str
    missing: tuple[str, ...]
    is_fit: bool
    notes: tuple[str, ...]


@dataclass(frozen=True)
class Course:
    """A version's way. sizes: "small (medium, large)", "" for one size."""

    title: str
    terms: Terms
    sizes: str
    custom: CustomRule | None
    stops: tuple[Stop, ...]

    @cached_property
    def _at(self) -> dict[str, int]:
        return {stop.spot.address: index for index, stop in enumerate(self.stops)}

    def index(self, spot: Spot) -> int | None:
        """Which stop that is; None where the way has none there."""
        return self._at.get(spot.address)

    def words(self, spot: Spot) -> tuple[str, str]:
        """The section and the round there: ("Cuff", "Rnd 9"); also of a round to fit that is one of more than
        any size is written with: counted on from its line's first, else by its line. ("", "") for none."""
        index = self.index(spot)
        if index is not None:
            return self.stops[index].section, self.stops[index].label
        first = self.index(replace(spot, turn=1))
        if first is None or spot.turn < 1:
            return "", ""
        stop = self.stops[first]
        numbered = NUMBERED.fullmatch(stop.label)
        on = f"{numbered[1]}{int(numbered[2]) + spot.turn - 1}" if numbered else stop.line
        return stop.section, on

    def after(self, spot: Spot) -> Spot | None:
        """The next step, or the next round; None at the end. From the whole round one comes to its first
        step."""
        index = self._at[spot.address]
        step = -1 if spot.step is None else spot.step
        if step + 1 < len(self.stops[index].steps):
            return replace(spot, step=step + 1)
        return self.next_round(spot)

    def before(self, spot: Spot) -> Spot | None:
        """The step before, or the last one of the round before; None at the beginning."""
        if spot.step is not None:
            return replace(spot, step=spot.step - 1 if spot.step else None)
        index = self._at[spot.address]
        if index == 0:
            return None
        stop = self.stops[index - 1]
        return replace(stop.spot, step=len(stop.steps) - 1 if stop.steps else None)

    def next_round(self, spot: Spot) -> Spot | None:
        """The round after; None at the end."""
        index = self._at[spot.address] + 1
        return self.stops[index].spot if index < len(self.stops) else None


@lru_cache(maxsize=32)
def course(text: str, terms: Terms | None = None) -> Course:
    """The way through a published text, in its own terms or others."""
    with _WORKING:
        pattern = read(text).pattern
        said = terms or pattern.header.terms
        printed = sheet(pattern, said)
        plans = [plan(pattern, numbers, said) for numbers in _sizes(pattern.header)]
    names = pattern.header.sizes
    lines = [[line for line in section.lines if line.kind == "round"] for section in printed.sections]
    return Course(
        title=printed.title,
        terms=said,
        sizes=_listed(names) if len(names) > 1 else "",
        custom=printed.custom,
        stops=tuple(_stops(plans, names, lines)),
    )


def _sizes(header: Header) -> list[Numbers]:
    foundations: Sequence[int | None] = header.foundations or (None,) * len(header.sizes)
    return [Numbers(count, name) for count, name in zip(foundations, header.sizes, strict=True)]


def _stops(plans: Sequence[Plan], names: Sequence[str], lines: Sequence[Sequence[SheetLine]]) -> list[Stop]:
    at_sizes: dict[str, list[PlanRound | None]] = {}
    for index, each in enumerate(plans):
        for made in each.rounds:
            at_sizes.setdefault(made.spot, [None] * len(plans))[index] = made
    stops = []
    for address in sorted(at_sizes, key=order):
        rounds = at_sizes[address]
        section, line, turn = order(address)
        beside = [hers(each, Spot(section, line, turn)) for each in plans]  # the line goes on alike
        there = [each for each in beside if each is not None]
        printed = lines[section][line]
        stops.append(
            Stop(
                spot=Spot(section, line, turn),
                section=there[0].section_title,
                label=by_size([each.label for each in rounds if each is not None]),
                line=printed.label,
                text=printed.text,
                steps=_steps(there),
                count=by_size([each.count_text for each in there]),
                custom=printed.custom,
                missing=tuple(name for name, each in zip(names, rounds, strict=True) if each is None),
                is_fit=any(each.fit is not None for each in there),
                notes=there[0].notes,
            )
        )
    return stops


def _steps(rounds: Sequence[PlanRound]) -> tuple[str, ...]:
    """Steps for all sizes; the most detailed ones where the sizes go about it in different steps."""
    if len({len(each.steps) for each in rounds}) > 1:
        return max((each.steps for each in rounds), key=len)
    return tuple(by_size(texts) for texts in zip(*(each.steps for each in rounds), strict=True))


def by_size(texts: Sequence[str]) -> str:
    """The same words with other numbers as one: "8 (9, 10) times". Where the words differ too, each stands
    in full: "1 st / 2 sts"."""
    if len(set(texts)) == 1:
        return texts[0]
    bare = {NUMBER.sub("#", text) for text in texts}
    if len(bare) > 1:
        return " / ".join(dict.fromkeys(texts))
    numbers = [NUMBER.findall(text) for text in texts]
    told = iter([each[0] if len(set(each)) == 1 else _listed(each) for each in zip(*numbers, strict=True)])
    return NUMBER.sub(lambda _: next(told), texts[0])


def _listed(values: Sequence[str]) -> str:
    return f"{values[0]} ({', '.join(values[1:])})"


@lru_cache(maxsize=512)
def in_numbers(text: str, numbers: Numbers, terms: Terms) -> Plan:
    """The plan of a text in somebody's own numbers."""
    return plan(_read(text), numbers, terms)


@lru_cache(maxsize=32)
def _read(text: str) -> Pattern:
    return read(text).pattern


def hers(made: Plan, spot: Spot) -> PlanRound | None:
    """The round of her plan where the host is: that one, or, where her line has fewer rounds, its last; None
    where she has no such line."""
    exact = made.round_at(spot.address)
    if exact is not None:
        return exact
    line = fit_of(spot.address)
    return next((each for each in reversed(made.rounds) if fit_of(each.spot) == line), None)
