"""Strands: rounds that are each worked into the one before, with the ring of places between them made
again.

A worked round says which places it goes into by their index in the ring below, in the order in which the
hook meets them. That ring is not kept with the round, so it is made again here from the path below by
the same rule: stitches, counting beginning chains and chains leave a place, all else leaves none, and a
turn runs it backward.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from server.craft.fabric.chart.ovals import unfolded
from server.craft.fabric.values import Did, Node, WorkedRound, WorkedSection
from server.craft.text.tree import Join, Turn


@dataclass(frozen=True, slots=True)
class BasePlace:
    """A place of an edge that a strand starts in, where no round of the strand lies below.

    kind    "foundation", "skipped" (under a gap), "side", "underside", "chain", "stitch"; "place" for others
    name    US name of the stitch that stands there, "ch" for chains
    """

    kind: str
    name: str


@dataclass(frozen=True, slots=True)
class StrandRound:
    """A round of a strand.

    ring        for each place below, in the order it is met: the index of the node (or base place) that it is
    direction   +1 as the first round of a piece runs, -1 against it
    circular    whether the last place leads on to the first
    passed      chains of its own that the row above passes at its head and that stand up as its edge
    spare       further chains that it passes: its last made, which lie along the top of the row above
    """

    worked: WorkedRound
    ring: tuple[int, ...]
    direction: int
    circular: bool
    passed: int = 0
    spare: int = 0


@dataclass(frozen=True, slots=True)
class Strand:
    """Rounds worked one into another, upward from a foundation, a ring to begin in, or an edge."""

    rounds: tuple[StrandRound, ...]
    base: tuple[BasePlace, ...] = ()
    edge: str = ""

    @property
    def in_rows(self) -> bool:
        """Whether it is worked to and fro."""
        return not any(one.circular for one in self.rounds)

    @property
    def from_ring(self) -> bool:
        """Whether it begins in a ring: an adjustable one, or a few chains joined."""
        first = self.rounds[:2]
        return not self.base and any(node.into == "ring" for one in first for node in one.worked.path)


def made_places(path: Sequence[Node]) -> tuple[int, ...]:
    """Indices of the nodes that are places for the next round, in working order."""
    places: list[int] = []
    for index, node in enumerate(path):
        if node.kind in ("stitch", "chain") or (node.kind == "begin" and node.name):
            places.append(index)
        elif node.kind == "picot" and node.name != "picot":
            del places[max(0, len(places) - node.size) :]
        elif begins_ring(path, index):
            places.clear()
    return tuple(places)


def begins_ring(path: Sequence[Node], index: int) -> bool:
    """Whether the slip stitch at an index closes chains to a ring that this same round is worked into."""
    node = path[index]
    if node.kind != "slip" or node.base or index == 0:
        return False
    only_chains = all(before.kind in ("chain", "begin") and not before.base for before in path[:index])
    return only_chains and any(after.into == "ring" for after in path[index + 1 :])


def joins(worked: WorkedRound) -> bool:
    """Whether the round is joined to its own beginning."""
    return any(isinstance(did, Did) and isinstance(did.instruction, Join) for did in worked.doings)


def turns_after(worked: WorkedRound) -> bool:
    """Whether the piece is turned at the round's end."""
    return bool(worked.path) and any(
        isinstance(did, Did) and isinstance(did.instruction, Turn) and did.nodes[0] > 0
        for did in worked.doings
    )


def in_rows(sections: Sequence[WorkedSection]) -> bool:
    """Whether a piece is worked in rows: the reader labels its rounds so."""
    return any(one.label.startswith(("Row", "Foundation row")) for part in sections for one in part.rounds)


def strands(sections: Sequence[WorkedSection], *, rows: bool) -> tuple[Strand, ...]:
    """All strands of a piece, in the order in which they begin."""
    found: list[list[StrandRound]] = []
    bases: list[tuple[tuple[BasePlace, ...], str]] = []
    strand_of: dict[str, int] = {}
    gap: tuple[BasePlace, ...] = ()
    for section in sections:
        widest = 0
        for worked in section.rounds:
            at = strand_of.get(worked.below) if worked.below else None
            if at is None or found[at][-1].worked.spot != worked.below:
                base = _base(worked, found, gap)
                first = -1 if rows and not base else 1
                ring = tuple(range(len(base)))
                found.append([StrandRound(worked, ring, first, joins(worked) or not rows)])
                bases.append((base, worked.below if worked.below in ("foundation", "gap") else ""))
                strand_of[worked.spot] = len(found) - 1
                continue
            last = found[at][-1]
            oval = unfolded(worked, len(made_places(last.worked.path))) if len(found[at]) == 1 else None
            if oval is not None:
                both_sides = (BasePlace("foundation", "ch"),) * oval[1]
                found.append([StrandRound(oval[0], tuple(range(oval[1])), 1, circular=True)])
                bases.append((both_sides, ""))
                strand_of[worked.spot] = len(found) - 1
                continue
            here = _above(last, worked, rows=rows)
            found[at][-1] = _with_passed(last, here)
            found[at].append(here)
            strand_of[worked.spot] = at
            if section.kind == "gap":
                chains, edge = _gap_edge(last, here)
                if chains > widest:
                    widest, gap = chains, edge
    return tuple(Strand(tuple(one), *base) for one, base in zip(found, bases, strict=True))


def _above(last: StrandRound, worked: WorkedRound, *, rows: bool) -> StrandRound:
    ring = made_places(last.worked.path)
    direction = last.direction
    backward = turns_after(last.worked) if last.circular else False
    if rows:
        backward = backward if last.circular else True
    elif worked.turned:
        backward = not backward
    if backward:
        ring, direction = ring[::-1], -direction
    return StrandRound(worked, ring, direction, joins(worked) or not rows)


def _with_passed(last: StrandRound, above: StrandRound) -> StrandRound:
    """The foundation of rows whose last chains are passed at the head of the first row."""
    begin = next((node for node in above.worked.path[:1] if node.kind == "begin"), None)
    passed = begin is not None and bool(begin.base) and begin.into in ("foundation", "none")
    if not passed or begin is None or (begin.into == "foundation" and len(begin.base) < 2):
        return last
    passes = min(begin.size, len(begin.base))
    spare = len(begin.base) - passes
    return StrandRound(last.worked, last.ring, last.direction, last.circular, passes, spare)


def _base(
    worked: WorkedRound, found: Sequence[Sequence[StrandRound]], gap: tuple[BasePlace, ...]
) -> tuple[BasePlace, ...]:
    """Where a strand starts: the foundation's free side, a gap's edge, or places known only by their use."""
    if worked.below == "foundation" and found:
        first = found[0][0].worked
        chains = [node for node in first.path if node.kind == "chain"] or first.path
        many = sum(1 for node in chains if node.kind in ("chain", "stitch"))
        return (BasePlace("foundation", "ch"),) * many
    if worked.below == "gap" and gap:
        return gap
    return _by_use(worked) if worked.below else ()


def _by_use(worked: WorkedRound) -> tuple[BasePlace, ...]:
    known: dict[int, BasePlace] = {}
    for node in worked.path:
        for index in node.base:
            kind = node.into if node.into in ("side", "underside", "foundation") else "place"
            known.setdefault(
                index,
                BasePlace(kind, "ch" if node.into in ("underside", "foundation", "space", "chain") else "st"),
            )
    return tuple(known.get(index, BasePlace("place", "st")) for index in range(max(known, default=-1) + 1))


# --- the gap -------------------------------------------------------------------------------------------


def chain_runs(path: Sequence[Node]) -> Iterator[tuple[int, int]]:
    """Half-open ranges of chains that follow one another."""
    start: int | None = None
    for index in range(len(path) + 1):
        is_chain = index < len(path) and path[index].kind == "chain"
        if is_chain and start is None:
            start = index
        elif not is_chain and start is not None:
            yield start, index
            start = None


def gap_run(here: StrandRound) -> tuple[int, int, tuple[int, ...]] | None:
    """The longest run of chains that passes over places: its nodes' range, and the places' ring indices."""
    best: tuple[int, int, tuple[int, ...]] | None = None
    path, size = here.worked.path, len(here.ring)
    for start, end in chain_runs(path):
        before = next((node for node in reversed(path[:start]) if node.base), None)
        after = next((node for node in path[end:] if node.base and node.kind != "slip"), None)
        if before is None or after is None or not size:
            continue
        many = (after.base[0] - before.base[-1] - 1) % size
        if many and (best is None or end - start > best[1] - best[0]):
            best = start, end, tuple((before.base[-1] + 1 + step) % size for step in range(many))
    return best


def _gap_edge(below: StrandRound, here: StrandRound) -> tuple[int, tuple[BasePlace, ...]]:
    """How many chains the round's gap has, and its edge in working order."""
    run = gap_run(here)
    if run is None:
        return 0, ()
    start, end, passed = run
    path, under = here.worked.path, below.worked.path
    made = made_places(path)
    left = path[made[made.index(start) - 1]].name
    right = path[made[(made.index(end - 1) + 1) % len(made)]].name
    skipped = tuple(BasePlace("skipped", under[here.ring[index]].name) for index in passed)
    chains = (BasePlace("underside", "ch"),) * (end - start)
    return end - start, (*skipped, BasePlace("side", right), *chains, BasePlace("side", left))
