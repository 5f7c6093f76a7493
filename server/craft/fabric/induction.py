"""A proof for every multiple, by induction over the repeat.

Working is local: what the hook does next depends on the places between it and the next one named, and on
whether the round's beginning is reached. So when a round at N + s is the round at N with one block of the
yarn's path worked once more, and at N + 2s once more again, at the same place and next to an equal block,
then every further s works one block more in the same surroundings: the round comes out at every N + ks.
This holds for a piece when it holds for each round, the ring that a round is worked into having grown in
the same way.

Base of the induction: every count tried. Step: the last three counts of each remainder.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from server.craft.fabric.values import Node, WorkedRound, WorkedSection

SPACE = re.compile(r"ch-(\d+) sp")
STEPS = (1, 2, 3, 4, 6)
"""How many repeats of the foundation one block of the path may span."""

Move = tuple[str, str, int, str, str, tuple[int, ...]]


@dataclass(frozen=True, slots=True)
class EveryMultiple:
    """The pattern comes out at every allowed count from `least` on.

    step    chains that one more block of every round's path takes
    upto    the largest count that was worked; beyond it the induction holds
    """

    least: int
    upto: int
    step: int


def every_multiple(pieces: Mapping[int, Sequence[WorkedSection]], multiple: int) -> EveryMultiple | None:
    """The proof for every multiple, from pieces worked at counts `multiple` apart; None if there is none.

    A piece that ends its repeats differently at each remainder needs a step of several multiples. A count
    that stands apart (a size far below the range) says nothing of those between: the proof begins after them.
    """
    counts = sorted(pieces)
    if any(after - before != multiple for before, after in pairwise(counts)):
        counts = _last_regular(counts, multiple)
    for repeats in STEPS:
        if len(counts) < 3 * repeats:
            return None
        if all(_grows(pieces, counts[-1 - rest], repeats * multiple) for rest in range(repeats)):
            return EveryMultiple(counts[0], counts[-1], repeats * multiple)
    return None


def _last_regular(counts: list[int], multiple: int) -> list[int]:
    """The counts at the end that are one multiple apart."""
    at = len(counts) - 1
    while at and counts[at] - counts[at - 1] == multiple:
        at -= 1
    return counts[at:]


def _grows(pieces: Mapping[int, Sequence[WorkedSection]], largest: int, step: int) -> bool:
    three = [pieces.get(largest - 2 * step), pieces.get(largest - step), pieces.get(largest)]
    rounds = [_rounds(piece) for piece in three if piece is not None]
    if len(rounds) < 3 or not (rounds[0].keys() == rounds[1].keys() == rounds[2].keys()):
        return False
    return all(
        _grows_by_a_block(*(moves(each[spot], _places_below(each, each[spot])) for each in rounds))
        for spot in rounds[0]
    )


def _rounds(piece: Sequence[WorkedSection]) -> dict[str, WorkedRound]:
    return {worked.spot: worked for section in piece for worked in section.rounds}


def _places_below(rounds: Mapping[str, WorkedRound], worked: WorkedRound) -> int | None:
    """How many places the ring has that a round is worked into; None for an edge of the foundation or a gap.

    Every stitch and every chain of the round below is one place; its counts have them all.
    """
    below = rounds.get(worked.below)
    if below is None:
        return None
    counts = below.counts
    spaces = (match for match in map(SPACE.fullmatch, counts) if match)
    return (
        counts.get("ch", 0) + counts.get("sts", 0) + sum(int(space[1]) * counts[space[0]] for space in spaces)
    )


def moves(worked: WorkedRound, places: int | None) -> tuple[Move, ...]:
    """The yarn's path as moves: what is made, and how far on from the place before it stands.

    On a ring of so many `places` a step is counted the shorter way around, so that a step over the ring's
    beginning is the same in a ring of any size; with None it is the plain difference.
    """
    made: list[Move] = []
    before = 0
    for node in worked.path:
        made.append(_move(node, before, places))
        if node.base:
            before = node.base[0]
    return tuple(made)


def _move(node: Node, before: int, places: int | None) -> Move:
    steps = tuple(_shorter_way(place - before, places) for place in node.base)
    return node.kind, node.name, node.size, node.into, node.loop, steps


def _shorter_way(step: int, places: int | None) -> int:
    """The same step, modulo the ring, from just under half a ring back to half a ring on."""
    if not places:
        return step
    rest = step % places
    return rest if 2 * rest <= places else rest - places


def _grows_by_a_block(small: tuple[Move, ...], middle: tuple[Move, ...], large: tuple[Move, ...]) -> bool:
    """Whether middle is small with a block put in, and large is middle with that block put in again beside
    it.
    """
    if len(small) == len(middle):
        return small == middle == large
    size = len(middle) - len(small)
    if size < 0 or len(large) - len(middle) != size:
        return False
    head = _common(small, middle)
    block = middle[head : head + size]
    if middle[:head] + middle[head + size :] != small or large[: head + size] != middle[: head + size]:
        return False
    return large[head + size : head + 2 * size] == block and large[head + 2 * size :] == middle[head + size :]


def _common(one: Sequence[Move], other: Sequence[Move]) -> int:
    """How many moves the two begin with alike."""
    at = 0
    while at < min(len(one), len(other)) and one[at] == other[at]:
        at += 1
    return at
