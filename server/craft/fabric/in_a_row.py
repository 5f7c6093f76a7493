"""The same stitch into one place after another, made in one go: `sc in each st`, `dc in next 12 sts`."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from server.craft.fabric.faults import TooLarge
from server.craft.fabric.missing import passed
from server.craft.fabric.parts import part_of
from server.craft.fabric.placing import each_range, heads_a_row
from server.craft.fabric.ring import Found
from server.craft.fabric.working import MAX_NODES_IN_ROUND, Working
from server.craft.text.tree import Noun, Place, Span

ONE_BY_ONE = 4
"""So few are as quickly worked one by one."""
SINGLE = ("st", "stitch", "ch", "foundation ch")
"""Kinds of names that one place has, and not several together."""


def places_in_a_row(work: Working, place: Place, span: Span) -> Sequence[int]:
    """The positions that `place` names, all of them within the round; none where they are to be met one by
    one.
    """
    ring = work.ring
    if (
        not work.size or ring.gap or len(place.nouns) != 1 or place.nouns[0].kind not in SINGLE
        or place.part is not None or place.edge is not None or place.skipped or place.step != 1
        or place.evenly
    ):  # fmt: skip
        return ()
    noun = place.nouns[0]
    if place.which == "each":
        first, limit, keep = each_range(work, place, span)
        positions = ring.starts(noun, first, limit)
        return positions[: max(0, len(positions) - keep)]
    if place.which in ("next", "plain") and place.count is not None and place.until is None:
        many = work.value(place.count, span)
        if many < ONE_BY_ONE or heads_a_row(work, place):
            return ()
        ahead = ring.starts(noun, work.position + 1, work.limit)
        return ahead[:many] if len(ahead) >= many else ()
    return ()


def in_a_row(
    work: Working, place: Place, stitch: str, times: int, loop: str, span: Span
) -> tuple[int, Noun] | None:
    """Works a stitch, so many times over, into each of the places; gives how many they are, and their name.

    None, and nothing worked, where they are to be worked one by one. Raises TooLarge.
    """
    positions = places_in_a_row(work, place, span)
    atoms, size = work.ring.atoms, work.size
    if len(positions) < ONE_BY_ONE or len({atoms[at % size].kind for at in positions}) > 1:
        return None
    if len(work.nodes) + times * len(positions) > MAX_NODES_IN_ROUND:
        raise TooLarge(span)
    noun = place.nouns[0]
    _one(work, place, positions[0], stitch, times, loop, span)
    assert work.last is not None
    into, stock = work.last.into, work.setting.stock
    if positions[-1] - positions[0] >= len(positions):
        for before, at in pairwise(positions):
            work.position = before
            passed(work, place, at, span)
    work.position = positions[-2]
    between = [at % size for at in positions[1:-1]]
    nodes = stock.nodes(stitch, into, loop).single(size)
    elements = stock.elements(stitch, into).single(size)
    work.nodes += [nodes[at] for at in between for _ in range(times)]
    work.elements += [elements[at] for at in between for _ in range(times)]
    _one(work, place, positions[-1], stitch, times, loop, span)
    return len(positions), noun


def _one(work: Working, place: Place, at: int, stitch: str, times: int, loop: str, span: Span) -> None:
    found = Found(at, at, at, at)
    passed(work, place, at, span)
    work.stitches((stitch,), times, part_of(work, place, place.nouns[0], found, span), loop, span)
