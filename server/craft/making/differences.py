"""The differences between two pieces, one rule a function, each with what mends it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from server.craft.making.counting import many, ordinal
from server.craft.making.log import Change, Piece
from server.craft.making.shapes import Plan
from server.craft.making.spots import fit_of, order, section_of
from server.craft.making.standing import Standing, hook_at, lines_of, rounds_in, standing
from server.craft.making.twinwords import at_words, foundation_words, section_title, section_words, shown
from server.craft.measure.hooks import hook_text
from server.craft.measure.lengths import Units
from server.craft.text.tree import Terms


@dataclass(frozen=True, slots=True)
class Difference:
    """One difference between the gloves.

    key            what it is, with both values: the same difference has the same key, a greater one another
    kind           "foundation", "hook", "rounds", "count"; "width", "length", "weight" where both were
                   measured or weighed at that round
    spot           the round it shows at; None for the whole glove
    section_title  where: a section's title, or "Foundation"
    what           in a sentence: "Glove one had 6 rounds here; this is the 7th. Take it out, or note that
                   it is meant."
    one, two       both values in words
    mend           what to do to glove two; where glove one changed after glove two began, to either
    take_out       the spot that glove two is to be taken out from, where that is the mend
    accepted       she said that it is meant; it stays visible
    """

    key: str
    kind: Literal["foundation", "hook", "rounds", "count", "width", "length", "weight"]
    spot: str | None
    section_title: str
    what: str
    one: str
    two: str
    mend: str
    take_out: str | None = None
    accepted: bool = False


@dataclass(frozen=True, slots=True)
class Pair:
    """Both pieces with their plans, and how they are called; `flat`: worked in rows."""

    one: Piece
    two: Piece
    plan_one: Plan
    plan_two: Plan
    noun: str
    terms: Terms
    changed: tuple[Change, ...]
    units: Units = "cm"
    flat: bool = False

    @property
    def alike(self) -> bool:
        """Both are made in the same foundation and size, so that their counts can be compared."""
        one, two = self.plan_one.numbers, self.plan_two.numbers
        return (one.foundation, one.size if one.foundation is None else None) == (
            two.foundation,
            two.size if two.foundation is None else None,
        )

    @property
    def pieces(self) -> tuple[Piece, Piece]:
        """Glove one and glove two."""
        return self.one, self.two

    @property
    def first(self) -> str:
        """ "Glove one" at the head of a sentence."""
        return f"{self.noun.capitalize()} one"

    @property
    def second(self) -> str:
        """ "glove two" within a sentence."""
        return f"{self.noun} two"


def differences(pair: Pair) -> list[Difference]:
    """All differences in what was worked, in working order, those of the whole piece first.

    None is marked accepted here. What was measured is compared in `tension`.
    """
    if not pair.one.started:
        return []
    whole = _foundation(pair)
    found = [*_hooks(pair), *_rounds(pair), *_counts(pair)]
    return whole + sorted(found, key=lambda each: order(each.spot or "0.0.0"))


def _foundation(pair: Pair) -> list[Difference]:
    """The foundation chain, or the size where there is none."""
    if pair.alike or pair.one.numbers is None or pair.two.numbers is None:
        return []
    one, two = foundation_words(pair.one.numbers), foundation_words(pair.two.numbers)
    first = pair.plan_two.rounds[0].spot
    return [
        Difference(
            key=f"foundation/{one}/{two}",
            kind="foundation",
            spot=None,
            section_title="Foundation",
            what=f"{pair.first} was begun with {one}, {pair.second} with {two}.",
            one=one,
            two=two,
            mend=f"Begin {pair.second} again with {one}, or note that it is meant.",
            take_out=first if first in pair.two.worked else None,
        )
    ]


# --- hooks, round by round ---------------------------------------------------------------------------------


def _hooks(pair: Pair) -> list[Difference]:
    """Runs of rounds made with different hooks; a hook that was not written down is not compared."""
    in_one = set(pair.one.worked)
    both = [spot for spot in pair.two.worked if spot in in_one]
    if not (pair.one.hook_changes or pair.two.hook_changes):
        both = both[:1]  # what is so there is so to the end
    found: list[Difference] = []
    before: tuple[float | None, float | None] = (None, None)
    for at, spot in enumerate(both):
        one, two = hook_at(pair.one, spot), hook_at(pair.two, spot)
        if one is not None and two is not None and one != two and (one, two) != before:
            found.append(_hook(pair, spot, both[at - 1] if at else None, one, two))
        before = (one, two)
    return found


def _hook(pair: Pair, spot: str, before: str | None, one: float, two: float) -> Difference:
    here = at_words(pair.plan_two, spot)
    if before is None:
        mend = f"Begin {pair.second} again with {one:g} mm"
    elif spot == pair.two.worked[-1]:
        mend = f"Take out {here} and work it with {one:g} mm"
    else:
        mend = f"Take out back to the end of {at_words(pair.plan_two, before)} and go on with {one:g} mm"
    return Difference(
        key=f"hook/{spot}/{one:g}/{two:g}",
        kind="hook",
        spot=spot,
        section_title=section_title(pair.plan_two, spot),
        what=f"{pair.first} was made with {one:g} mm from {here} on, {pair.second} with {two:g} mm.",
        one=hook_text(one),
        two=hook_text(two),
        mend=f"{mend}, or note that it is meant.",
        take_out=spot,
    )


# --- rounds, line by line ----------------------------------------------------------------------------------


def _rounds(pair: Pair) -> list[Difference]:
    """Lines of which piece two has more or fewer rounds than piece one as made."""
    found = []
    for line in lines_of(pair.plan_one, pair.plan_two):
        if rounds_in(pair.one, line) == rounds_in(pair.two, line):
            continue
        one, two = standing(pair.one, pair.plan_one, line), standing(pair.two, pair.plan_two, line)
        if one.through and two.rounds > one.rounds:
            found.append(_more(pair, one, two))
        elif two.through and two.rounds < one.rounds:
            found.append(_fewer(pair, one, two))
    return found


def _more(pair: Pair, one: Standing, two: Standing) -> Difference:
    line, over = one.line, two.rounds - one.rounds
    first_over = f"{line}.{one.rounds + 1}"
    section = section_words(pair.plan_two, line)
    behind = [spot for spot in pair.two.worked if order(spot) >= order(first_over)]
    mended = f"take out {many(over, 'round')} of {section}"
    if len(behind) > over:
        mended = f"take out {_from_on(pair, behind, first_over)}, and go on from there"
    if one.rounds and over == 1 and len(behind) == 1:
        what = (
            f"{pair.first} had {many(one.rounds, 'round')} here; this is the {ordinal(two.rounds)}. "
            "Take it out, or note that it is meant."
        )
    else:
        had = many(one.rounds, "round") if one.rounds else "no round"
        what = f"{pair.first} had {had} here; {pair.second} has {two.rounds}."
    return Difference(
        key=f"rounds/{line}/{one.rounds}/{two.rounds}",
        kind="rounds",
        spot=first_over,
        section_title=section_title(pair.plan_two, line),
        what=what,
        one=many(one.rounds, "round"),
        two=many(two.rounds, "round"),
        mend=_sentence(mended) + _or_one(pair, line, f"work {many(over, 'more round', 'more rounds')} there"),
        take_out=first_over if behind else None,
    )


def _from_on(pair: Pair, spots: list[str], first: str) -> str:
    """ "Rnd 1 of the Hand", "3 rounds, Rnd 1 of the Hand the first of them"."""
    where = at_words(pair.plan_two, first)
    return where if len(spots) == 1 else f"{len(spots)} rounds, {where} the first of them"


def _fewer(pair: Pair, one: Standing, two: Standing) -> Difference:
    line, short = one.line, one.rounds - two.rounds
    section = section_words(pair.plan_two, line)
    behind = [spot for spot in pair.two.worked if order(fit_of(spot)) > order(line)]
    elsewhere = all(section_of(spot) != section_of(line) for spot in pair.two.worked)
    out: str | None = None
    if elsewhere:
        mended = f"work {section}"
    elif behind:
        out = min(behind, key=order)
        mended = f"take out {_from_on(pair, behind, out)}"
        mended += f", and work {many(short, 'more round', 'more rounds')} of {section}"
    else:
        mended = f"work {many(short, 'more round', 'more rounds')} of {section}"
    has = str(two.rounds) if two.rounds else "none"
    return Difference(
        key=f"rounds/{line}/{one.rounds}/{two.rounds}",
        kind="rounds",
        spot=f"{line}.{max(two.rounds, 1)}",
        section_title=section_title(pair.plan_two, line),
        what=f"{pair.first} had {many(one.rounds, 'round')} here; {pair.second} has {has}.",
        one=many(one.rounds, "round"),
        two=many(two.rounds, "round"),
        mend=_sentence(mended) + _or_one(pair, line, f"take out {many(short, 'round')} there"),
        take_out=out,
    )


def _or_one(pair: Pair, line: str, mended: str) -> str:
    """The mend in piece one, where that is the piece that changed last."""
    touched = any(
        fit_of(change.spot) == line
        or (change.kind == "taken_out" and order(fit_of(change.spot)) < order(line))
        for change in pair.changed
        if change.spot and change.kind != "hook"
    )
    return f" Or mend {pair.noun} one, which changed after {pair.second} began: {mended}." if touched else ""


# --- counts ------------------------------------------------------------------------------------------------


def _counts(pair: Pair) -> list[Difference]:
    """What she counted at piece two, against what she counted at piece one, or what is to be there."""
    if not pair.alike:
        return []
    found = []
    for spot in pair.two.counted:
        planned = pair.plan_one.round_at(spot)
        for name, count in sorted(pair.two.counted[spot].items()):
            own = pair.one.counted.get(spot, {}).get(name)
            target = own if own is not None else planned.counts.get(name) if planned else None
            if target is not None and target != count:
                found.append(_count(pair, spot, name, (target, count), own is not None))
    return found


def _count(pair: Pair, spot: str, name: str, counts: tuple[int, int], was_counted: bool) -> Difference:
    target, count = counts
    here = at_words(pair.plan_two, spot)
    one, two = shown(name, target, pair.terms), shown(name, count, pair.terms)
    off = f"{shown(name, abs(target - count), pair.terms)} too {'few' if count < target else 'many'}"
    says = f"You counted {one} in {pair.noun} one" if was_counted else f"There should be {one}"
    return Difference(
        key=f"count/{spot}/{name}/{target}/{count}",
        kind="count",
        spot=spot,
        section_title=section_title(pair.plan_two, spot),
        what=f"{says} at the end of {here}; in {pair.second} you counted {count}: {off}.",
        one=one,
        two=two,
        mend=f"Count again; if it stays so, take out {here} and work it again.",
        take_out=spot if spot in pair.two.worked else None,
    )


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:] + "."
