"""Where she is, found from what she counts on the piece in her hands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from server.craft.making.counting import many
from server.craft.making.held import FIT_MOST, Group, groups, held_in
from server.craft.making.log import Making, Piece
from server.craft.making.placing import Place, Planner, piece_plan, place
from server.craft.making.planning import plan as plan_of
from server.craft.making.spots import fit_of, order, turn_of
from server.craft.making.standing import fit_as_made, highest, left_behind
from server.craft.text.tree import Pattern, Terms


@dataclass(frozen=True, slots=True)
class Told:
    """An entry to log: its kind and values."""

    kind: Literal["taken_out", "counted_in"]
    values: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class FoundPlace:
    """What she counted, as the notebook reads it.

    says     "You are at Hand, Rnd 3: 6 rounds below the gap, 2 rounds above the gap."; "" where it cannot be
    place    the round that is next; None where it cannot be
    cannot   what cannot be, and what would be right, a sentence each
    off      where the log has another number, a sentence each; none where they agree
    entries  what to log, in this order, so that the log says what she holds; none where it does already
    keep     what to do where the log is right after all; "" where they agree
    """

    says: str
    place: Place | None
    cannot: tuple[str, ...] = ()
    off: tuple[str, ...] = ()
    entries: tuple[Told, ...] = ()
    keep: str = ""

    @property
    def agrees(self) -> bool:
        """Whether the log says what she holds."""
        return not self.cannot and not self.entries


def place_groups(
    pattern: Pattern, making: Making, piece: int, terms: Terms = "US", planner: Planner | None = None
) -> tuple[Group, ...]:
    """What to ask her to count; ValueError where no numbers are settled.

    The foundation is not asked for: without it there is nothing to hold. The round that makes a gap is
    neither below nor above it.
    """
    hand = making.pieces[piece]
    numbers = hand.numbers or making.settled
    if numbers is None:
        raise ValueError("no numbers are settled yet")
    written = (planner or plan_of)(pattern, replace(numbers, fits=()), terms)
    goals, aside = {}, written.aside
    for fit in written.fits:
        own, one = hand.fits_ended.get(fit.fit), fit_as_made(making.pieces[1], fit.fit, aside)
        goals[fit.fit] = own or (one if piece == 2 else None) or fit.written
        if own is None and highest(hand, fit.fit) > goals[fit.fit] and not left_behind(hand, fit.fit, aside):
            goals[fit.fit] = FIT_MOST  # she has gone beyond what was to be, and may go on
    return groups(written, goals)


def found_place(
    pattern: Pattern,
    making: Making,
    piece: int,
    counted: Mapping[str, int],
    terms: Terms = "US",
    planner: Planner | None = None,
) -> FoundPlace:
    """Where a piece is by what she counts, and the entries that make the log say so.

    `counted` has rounds by the keys of `place_groups`; a key that is missing stays as the log has it.
    ValueError for other keys, or where no numbers are settled.

    A group of which she counts as many rounds as the log has is as the log has it. Else its rounds are given
    to its lines in working order. One to fit takes what the others leave, once she is beyond the group; while
    she is in it, as many as are to be (ended with, as glove one was made, or written) before the lines after
    it have any. Where a section has several to fit, all but the last are taken to be as they are to be.
    """
    asked = place_groups(pattern, making, piece, terms, planner)
    unknown = set(counted) - {group.key for group in asked}
    if unknown:
        raise ValueError(f"nothing is counted by the name {min(unknown)!r}")
    hand = making.pieces[piece]
    told = {group.key: counted.get(group.key, held_in(group, hand)) for group in asked}
    cannot = tuple(_cannot(asked, told))
    if cannot:
        return FoundPlace("", None, cannot)
    target = _Target()
    for at, group in enumerate(asked):
        through = _beyond(asked, told, at)
        if hand.started and told[group.key] == held_in(group, hand):
            target.rounds |= {
                line.line: stand for line in group.lines if (stand := highest(hand, line.line)) > 0
            }
        else:
            _give(group, told[group.key], through=through, target=target)
        _end(group, through=through, target=target)
    after = _with(making, hand, target)
    here = place(piece_plan(pattern, after, piece, terms, planner), after, piece)
    entries = tuple(_entries(hand, target))
    off = tuple(_off(asked, told, hand)) if entries else ()
    keep = (
        "If the log is right, count once more: nothing has to be changed." if entries and hand.started else ""
    )
    return FoundPlace(_says(here, asked, told), here, (), off, entries, keep)


@dataclass(slots=True)
class _Target:
    """Rounds of each line as counted, and the lines to fit that she is through with."""

    rounds: dict[str, int] = field(default_factory=dict)
    ended: list[str] = field(default_factory=list)

    def stands(self, spot: str) -> bool:
        return turn_of(spot) <= self.rounds.get(fit_of(spot), 0)

    @property
    def spots(self) -> tuple[str, ...]:
        lines = sorted(self.rounds, key=order)
        return tuple(f"{line}.{turn}" for line in lines for turn in range(1, self.rounds[line] + 1))


# --- what cannot be ----------------------------------------------------------------------------------------


def _cannot(asked: tuple[Group, ...], told: Mapping[str, int]) -> Iterator[str]:
    gap = any(told[group.key] for group in asked if group.gap)
    for at, group in enumerate(asked):
        rounds = told[group.key]
        if rounds < 0:
            yield f"A number of rounds is 0 or more: {rounds} {group.asks} cannot be."
        elif group.most is not None and rounds > group.most:
            right = many(group.most, "round")
            yield f"You counted {rounds} {_of(group)}, which has {right}: {group.most} at most."
        elif rounds > FIT_MOST:
            yield f"You counted {rounds} {_of(group)}: the notebook takes {FIT_MOST} at most."
        elif rounds < group.least and _beyond(asked, told, at):
            later = next(other for other in asked[at + 1 :] if other.along and told[other.key])
            yield (
                f"You counted {rounds} {_of(group)}, and there are at least {group.least} before "
                f"{later.asks} can be there. Count again from the foundation."
            )
        elif group.at_gap and rounds and not gap:
            yield f"{_capital(group.asks)}: worked around the gap, which by your count is not there yet."


def _beyond(asked: tuple[Group, ...], told: Mapping[str, int], at: int) -> bool:
    """Whether something stands that is worked after this group."""
    return asked[at].along and any(other.along and told[other.key] > 0 for other in asked[at + 1 :])


def _of(group: Group) -> str:
    return group.asks if group.asks.startswith(("round", "row")) else f"rounds of {group.asks}"


# --- the target --------------------------------------------------------------------------------------------


def _give(group: Group, rounds: int, *, through: bool, target: _Target) -> None:
    """Gives the rounds of a group to its lines."""
    lines = [line for line in group.lines if not line.foundation]
    fits = [line for line in lines if line.fit]
    target.rounds |= {line.line: line.goal for line in group.lines if line.foundation}
    left = rounds
    for at, line in enumerate(lines):
        others = lines[at + 1 :]
        if not through:
            own = min(left, line.goal)
        elif line.fit and line is fits[-1]:
            own = left - sum(other.goal for other in others)
        else:
            own = min(line.goal, left - sum(other.least for other in others))
        if own:
            target.rounds[line.line] = own
        left -= own
    if left and fits:  # more than are to be: the last to fit has them
        target.rounds[fits[-1].line] = target.rounds.get(fits[-1].line, 0) + left


def _end(group: Group, *, through: bool, target: _Target) -> None:
    """Ends the lines to fit that she is through with."""
    reached = [line.line for line in group.lines if target.rounds.get(line.line)]
    for line in group.lines:
        later = any(order(other) > order(line.line) for other in reached)
        if line.fit and line.line in reached and (through or later):
            target.ended.append(line.line)


def _with(making: Making, hand: Piece, target: _Target) -> Making:
    """The pair as it would be."""
    fits = {fit: target.rounds[fit] for fit in target.ended}
    kept = {fit: n for fit, n in hand.fits_ended.items() if target.rounds.get(fit) == n}
    new = replace(
        hand,
        numbers=hand.numbers or making.settled,
        worked=target.spots,
        fits_ended=kept | fits,
        finished=hand.finished and set(target.spots) == set(hand.worked),
    )
    return replace(making, pieces={**making.pieces, hand.number: new})


def _entries(hand: Piece, target: _Target) -> Iterator[Told]:
    """Rounds out from the first that she does not hold, then those in that she does."""
    stand = set(hand.worked)
    over = [spot for spot in hand.worked if not target.stands(spot)]
    if over:
        yield Told("taken_out", {"spot": over[0]})
        stand = {spot for spot in stand if order(spot) < order(over[0])}
    missing = [spot for spot in target.spots if spot not in stand]
    if missing:
        yield Told("counted_in", {"rounds": dict(target.rounds), "ended": list(target.ended)})


# --- words -------------------------------------------------------------------------------------------------


def _says(here: Place, asked: tuple[Group, ...], told: Mapping[str, int]) -> str:
    held = ", ".join(_held(group, told[group.key]) for group in asked if told[group.key])
    if here.round is None:
        return f"Every round is there: {held}."
    where = f"{here.section.title}, {here.round.label}" if here.round.label else here.section.title
    if not held:
        begun = any(line.foundation for group in asked for line in group.lines)
        held = "only the foundation is there" if begun else "nothing is there yet"
    return f"You are at {where}: {held}."


def _held(group: Group, rounds: int) -> str:
    if group.yes_or_no and not group.asks.startswith(("round", "row")):
        return group.asks
    one = group.asks.replace("rounds", "round", 1).replace("rows", "row", 1)
    return f"{rounds} {one if rounds == 1 else group.asks}"


def _off(asked: tuple[Group, ...], told: Mapping[str, int], hand: Piece) -> Iterator[str]:
    for group in asked:
        log, count = held_in(group, hand), told[group.key]
        if log == count or not hand.started:
            continue
        if group.yes_or_no and not group.asks.startswith(("round", "row")):
            has = "has" if log else "does not have"
            yield f"The log {has} {group.asks}; by your count it is {_there(count)}."
        else:
            off = f"{abs(count - log)} {'fewer' if count < log else 'more'}"
            yield f"The log has {_held(group, log)}; you count {count}, {off}."


def _there(count: int) -> str:
    return "there" if count else "not there yet"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
