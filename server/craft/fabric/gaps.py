"""The edge of a gap, in working order (rule 7)."""

from __future__ import annotations

from dataclasses import replace

from server.craft.fabric.ring import Atom, Ring, Stretch
from server.craft.fabric.working import Gap


def gap_ring(gap: Gap, below: Ring, made: Ring) -> Ring | None:
    """The edge of a gap; None where a neighbour is missing.

    In working order: the places below that were passed, the side of the stitch after the chains, their
    underside (last made met first), and the side of the stitch before them.
    """
    size = len(below.atoms)
    after = gap.element + gap.chains
    if not size or gap.element == 0 or gap.chains > len(made.atoms):
        return None
    span = [position % size for position in range(gap.before + 1, gap.after)]
    atoms = [replace(below.atoms[index], begin=0) for index in span]
    spaces = [moved for space in below.spaces if (moved := _inside(space, span)) is not None]
    groups = [moved for group in below.groups if (moved := _inside(group, span)) is not None]
    right = made.atoms[after % len(made.atoms)]
    left = made.atoms[gap.element - 1]
    edge = [
        *atoms,
        Atom("side", right.name),
        *(Atom("underside", "ch", number) for number in range(gap.chains, 0, -1)),
        Atom("side", left.name),
    ]
    return Ring(tuple(edge), tuple(spaces), tuple(groups), hook=0, below=len(atoms), gap=True)


def _inside(part: Stretch, span: list[int]) -> Stretch | None:
    """A space or group that lies wholly among the passed places, counted from the first of them."""
    if part.start not in span:
        return None
    start = span.index(part.start)
    return replace(part, start=start) if start + part.length <= len(span) else None
