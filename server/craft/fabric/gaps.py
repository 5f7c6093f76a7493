"""The edge of a gap, in working order (rule 7)."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from server.craft.fabric.ring import Atom, Ring, Stretch
from server.craft.fabric.working import Gap
from server.craft.text.tree import Section

LEAST_GAP_CH = 2
"""Fewer chains over a skipped place are a mesh, not a gap."""

ORDINALS = {
    "first": 1, "1st": 1, "second": 2, "2nd": 2, "other": 2, "third": 3, "3rd": 3, "fourth": 4, "4th": 4,
    "last": -1,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class MadeGap:
    """A gap as it was made: the section that made it, its length in chains, its edge."""

    section: int
    title: str
    chains: int
    edge: Ring


def named_gap(section: Section, gaps: list[MadeGap]) -> MadeGap | None:
    """The gap that a section works around.

    `around the 2nd gap` counts the gaps of the last section called a gap (those of its longest length) in
    the order they
    were made; `around the thumb gap` names the section; `around the gap` is the longest of the last one.
    """
    if not gaps:
        return None
    words = re.findall(r"\w+", f"{section.title} {section.purpose}".lower())
    before = words[max(0, words.index("gap") - 1)] if "gap" in words else ""
    named = [gap for gap in gaps if before and before in gap.title.lower().split()]
    of_last = [gap for gap in gaps if gap.section == gaps[-1].section]
    if before in ORDINALS:
        alike = [gap for gap in of_last if gap.chains == max(one.chains for one in of_last)]
        if len(alike) < 2:
            alike = of_last if len(of_last) > 1 else gaps
        place = ORDINALS[before]
        return alike[place - 1 if place > 0 else place] if place <= len(alike) else None
    return max(named or of_last, key=lambda gap: gap.chains)


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
    atoms = [atom._replace(begin=0) if (atom := below.atoms[index]).begin else atom for index in span]
    nth = {index: at for at, index in reversed(list(enumerate(span)))}
    spaces = _inside(below.spaces, nth, len(span))
    groups = _inside(below.groups, nth, len(span))
    right = made.atoms[after % len(made.atoms)]
    left = made.atoms[gap.element - 1]
    edge = [
        *atoms,
        Atom("side", right.name),
        *(Atom("underside", "ch", number) for number in range(gap.chains, 0, -1)),
        Atom("side", left.name),
    ]
    return Ring(tuple(edge), spaces, groups, hook=0, below=len(atoms), gap=True)


def _inside(parts: tuple[Stretch, ...], nth: Mapping[int, int], many: int) -> tuple[Stretch, ...]:
    """Spaces or groups that lie wholly among the passed places, counted from the first of them."""
    return tuple(
        part._replace(start=start)
        for part in parts
        if (start := nth.get(part.start)) is not None and start + part.length <= many
    )
