"""The twin rules: glove two against glove one as it was made."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from server.craft.making.counting import many
from server.craft.making.differences import Difference, Pair, differences
from server.craft.making.log import Making, Measure, Piece
from server.craft.making.placing import Planner, piece_plan
from server.craft.making.shapes import Plan, PlanSection
from server.craft.making.spots import fit_of, order, section_of
from server.craft.making.standing import hook_at, is_foundation, lines_of, standing
from server.craft.making.tension import measured_differences
from server.craft.making.twinwords import (
    at_words,
    changed_words,
    foundation_words,
    hook_words,
    piece_noun,
    shown,
)
from server.craft.measure.hooks import hook_text
from server.craft.measure.lengths import Units, length_text, weight_text
from server.craft.text.tree import Pattern, Terms

VerdictState = Literal["twin so far", "differs", "twins", "no second piece yet"]
RowState = Literal["same", "differs", "meant", "so far"]


@dataclass(frozen=True, slots=True)
class TwinRow:
    """A section, or the foundation, the hook or the thumb gap's place, of both gloves side by side.

    state  "same"; "differs"; "meant": it differs, and all of that is accepted; "so far" while one of the
           gloves is not through it and nothing differs yet
    """

    section_title: str
    one: str
    two: str
    state: RowState


@dataclass(frozen=True, slots=True)
class Verdict:
    """The verdict on a pair.

    changed  sentences on what changed in glove one after glove two began; both gloves' pages say them
    """

    state: VerdictState
    differences: tuple[Difference, ...] = ()
    sections: tuple[TwinRow, ...] = ()
    changed: tuple[str, ...] = ()

    def at(self, spot: str) -> tuple[Difference, ...]:
        """The differences that show at a round."""
        return tuple(each for each in self.differences if each.spot == spot)


@dataclass(frozen=True, slots=True)
class AsMade:
    """What glove one did at a round, to be shown at glove two.

    worked      glove one has this round
    hook_mm     the hook it was made with; hook_new: it was changed at this round
    counted     what she counted there, by US name
    notes       her notes at this round
    measured    she measured or weighed it at this round
    says        all of it in sentences
    """

    worked: bool
    hook_mm: float | None
    hook_new: bool
    counted: dict[str, int]
    notes: tuple[str, ...]
    says: tuple[str, ...]
    measured: bool = False


def verdict(
    pattern: Pattern,
    making: Making,
    terms: Terms = "US",
    planner: Planner | None = None,
    units: Units = "cm",
) -> Verdict:
    """Glove two held against glove one as made.

    Compared are the foundation, the hook round by round, the rounds of every line (so of cuff, hand, edgings
    and thumb, and with them the thumb gap's place), the counts that she confirmed, and what she measured and
    weighed (`tension` has how much may differ). Notes never differ: `as_made` shows them where they were
    made. An accepted difference stays in the list and does not stand against "twins".
    """
    if _no_second(pattern, making):
        return Verdict("no second piece yet")
    pair = pair_of(pattern, making, terms, planner, units)
    found = _found(pair, making)
    return Verdict(
        _state_of(making, found), found, _rows(pair, found), changed_words(making, pair.plan_one, pair.noun)
    )


def verdict_state(
    pattern: Pattern, making: Making, terms: Terms, plan_of: Callable[[int], Plan]
) -> VerdictState:
    """The state of `verdict` alone, without the words around it: a quarter of the work. Numbers must be
    settled; `plan_of` gives a piece's plan (from `piece_plan`).
    """
    if _no_second(pattern, making):
        return "no second piece yet"
    return _state_of(making, _found(_pair(pattern, making, terms, (plan_of(1), plan_of(2))), making))


def _no_second(pattern: Pattern, making: Making) -> bool:
    return pattern.header.pieces == "one" or not making.pieces[2].started


def _found(pair: Pair, making: Making) -> tuple[Difference, ...]:
    made = differences(pair)
    counts_at = [each.spot for each in made if each.kind == "count" and each.spot is not None]
    return tuple(
        replace(each, accepted=True) if each.key in making.accepted else each
        for each in [*made, *measured_differences(pair, counts_at)]
    )


def _state_of(making: Making, found: Sequence[Difference]) -> VerdictState:
    if any(not each.accepted for each in found):
        return "differs"
    return "twins" if all(piece.finished for piece in making.pieces.values()) else "twin so far"


def pair_of(
    pattern: Pattern, making: Making, terms: Terms, planner: Planner | None, units: Units = "cm"
) -> Pair:
    """Both pieces with their plans; ValueError where no numbers are settled."""
    settled = making.settled is not None
    plans = [
        piece_plan(pattern, making, number, terms, planner)
        if settled or making.pieces[number].numbers is not None
        else None
        for number in (1, 2)
    ]
    plan_one, plan_two = plans[0] or plans[1], plans[1] or plans[0]
    if plan_one is None or plan_two is None:
        raise ValueError("no numbers are settled yet")
    return _pair(pattern, making, terms, (plan_one, plan_two), units)


def _pair(
    pattern: Pattern, making: Making, terms: Terms, plans: tuple[Plan, Plan], units: Units = "cm"
) -> Pair:
    return Pair(
        one=making.pieces[1],
        two=making.pieces[2],
        plan_one=plans[0],
        plan_two=plans[1],
        noun=piece_noun(pattern),
        terms=terms,
        changed=making.changed,
        units=units,
        flat=pattern.header.worked == "rows",
    )


# --- both gloves side by side ------------------------------------------------------------------------------


def _rows(pair: Pair, found: tuple[Difference, ...]) -> tuple[TwinRow, ...]:
    rows = [
        TwinRow(
            "Foundation",
            foundation_words(pair.one.numbers),
            foundation_words(pair.two.numbers),
            _state([each for each in found if each.kind == "foundation"], pair.one.started),
        ),
        TwinRow(
            "Hook",
            hook_words(pair.one, pair.plan_one),
            hook_words(pair.two, pair.plan_two),
            _state([each for each in found if each.kind == "hook"], _hooks_known(pair)),
        ),
    ]
    for section in pair.plan_two.sections:
        if section.kind == "gap":
            rows.append(_gap_row(pair, section, found))
        if section.rounds:
            rows.append(_section_row(pair, section, found))
    return (*rows, *_measured_rows(pair, found))


def _measured_rows(pair: Pair, found: tuple[Difference, ...]) -> Iterator[TwinRow]:
    """A row for all that either glove was measured or weighed for."""

    def at(kind: str, spot: str) -> list[Difference]:
        return [each for each in found if (each.kind, each.spot) == (kind, spot)]

    both: tuple[tuple[Measure, str], ...] = (("width", "Width"), ("length", "Length"))
    for what, title in both:
        one, two = (
            {spot: mm for (w, spot), mm in each.measures.items() if w == what} for each in pair.pieces
        )
        for spot in sorted({*one, *two}, key=order):
            told = [
                length_text(each[spot], pair.units) if spot in each else "not measured" for each in (one, two)
            ]
            state = _state(at(what, spot), spot in one and spot in two)
            yield TwinRow(f"{title} at {at_words(pair.plan_two, spot)}", told[0], told[1], state)
    one, two = (each.weights for each in pair.pieces)
    for spot in sorted({*one, *two}, key=order):
        told = [weight_text(each[spot]) if spot in each else "not weighed" for each in (one, two)]
        state = _state(at("weight", spot), spot in one and spot in two)
        yield TwinRow(f"Weight with {at_words(pair.plan_two, spot)}", told[0], told[1], state)


def _state(found: Sequence[Difference], settled: bool) -> RowState:
    if found:
        return "meant" if all(each.accepted for each in found) else "differs"
    return "same" if settled else "so far"


def _hooks_known(pair: Pair) -> bool:
    ends = (pair.one.finished and pair.two.finished) and (pair.one.hook_mm and pair.two.hook_mm)
    return bool(ends)


def _section_row(pair: Pair, section: PlanSection, found: tuple[Difference, ...]) -> TwinRow:
    differing = [
        each
        for each in found
        if each.kind in ("rounds", "count") and each.spot and section_of(each.spot) == section.index
    ]
    told, through = [], True
    for piece, plan in ((pair.one, pair.plan_one), (pair.two, pair.plan_two)):
        lines = [line for line in lines_of(pair.plan_one, pair.plan_two) if section_of(line) == section.index]
        stands = [standing(piece, plan, line) for line in lines]
        whole = all(each.through for each in stands)
        foundation = {fit_of(each.spot) for each in plan.rounds if is_foundation(each)}
        rounds = sum(each.rounds for each in stands if each.line not in foundation)
        through = through and whole
        told.append(
            many(rounds, "round") + ("" if whole else " so far") if rounds else "none" if whole else "not yet"
        )
    return TwinRow(section.title, told[0], told[1], _state(differing, through))


def _gap_row(pair: Pair, section: PlanSection, found: tuple[Difference, ...]) -> TwinRow:
    places = [
        gap_place(piece, plan, section.index)
        for piece, plan in ((pair.one, pair.plan_one), (pair.two, pair.plan_two))
    ]
    told = ["not yet" if each is None else f"above {many(each, 'round')}" for each in places]
    known = None not in places
    below = [
        each
        for each in found
        if each.kind == "rounds" and each.spot and section_of(each.spot) < section.index
    ]
    state = _state(below if known and places[0] != places[1] else [], known)
    return TwinRow(f"{section.title}: its place", told[0], told[1], state)


def gap_place(piece: Piece, plan: Plan, gap: int) -> int | None:
    """How many rounds stand below the gap section; None where the gap itself does not stand."""
    if not any(section_of(spot) == gap for spot in piece.worked):
        return None
    return rounds_below(piece, plan, gap)


def rounds_below(piece: Piece, plan: Plan, section: int) -> int:
    """How many rounds stand in the sections before one, the foundation left out."""
    foundation = {round_.spot for round_ in plan.rounds if is_foundation(round_)}
    return sum(1 for spot in piece.worked if section_of(spot) < section and spot not in foundation)


# --- what glove one did here -------------------------------------------------------------------------------


def as_made(
    pattern: Pattern,
    making: Making,
    spot: str,
    terms: Terms = "US",
    planner: Planner | None = None,
    units: Units = "cm",
) -> AsMade:
    """What glove one did at a round: its number of rounds here, hook, counts, measures and notes."""
    one, noun = making.pieces[1], piece_noun(pattern)
    plan = pair_of(pattern, making, terms, planner).plan_one
    stand = standing(one, plan, fit_of(spot))
    changes = dict(one.hook_changes)
    worked = spot in one.worked
    counted = one.counted.get(spot, {})
    notes = tuple(note.text for note in one.notes if note.spot == spot)
    says: list[str] = []
    if plan.fit_at(fit_of(spot)) and stand.through and stand.rounds:
        says.append(f"{noun.capitalize()} one had {many(stand.rounds, 'round')} here.")
    elif stand.through and not worked:
        says.append(f"{noun.capitalize()} one has no such round.")
    if spot in changes:
        says.append(f"{noun.capitalize()} one changed to a hook of {hook_text(changes[spot])} here.")
    elif plan.rounds and spot == plan.rounds[0].spot and one.hook_mm is not None:
        says.append(f"{noun.capitalize()} one was begun with a hook of {hook_text(one.hook_mm)}.")
    if counted:
        words = ", ".join(shown(name, count, terms) for name, count in sorted(counted.items()))
        says.append(f"You counted {words} in {noun} one.")
    measured = _measured_here(one, spot, noun, units)
    says += measured
    says.extend(f"Your note at {noun} one: {text}" for text in notes)
    return AsMade(
        worked, hook_at(one, spot), spot in changes, dict(counted), notes, tuple(says), bool(measured)
    )


def _measured_here(one: Piece, spot: str, noun: str, units: Units) -> list[str]:
    """What glove one was measured and weighed for at a round: what glove two is to be held against."""
    told = []
    width, length = one.measures.get(("width", spot)), one.measures.get(("length", spot))
    if width is not None:
        told.append(f"{length_text(width, units)} wide")
    if length is not None:
        told.append(f"{length_text(length, units)} long")
    says = [f"{noun.capitalize()} one was {' and '.join(told)} at the end of this round."] if told else []
    if spot in one.weights:
        says.append(f"{noun.capitalize()} one weighed {weight_text(one.weights[spot])} with this round.")
    return says
