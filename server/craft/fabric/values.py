"""The fabric's values: stitches in the yarn's path, rounds, sections, and a piece's numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from server.craft.text.tree import Instruction, Noun, RoundLine, SectionKind

NodeKind = Literal["stitch", "chain", "begin", "slip", "picot", "ring"]
Into = Literal[
    "top", "chain", "space", "center", "post", "side", "underside", "between", "ring", "foundation", "none"
]


@dataclass(frozen=True, slots=True)
class Node:
    """One thing the yarn makes, in its path.

    kind    "begin" is a beginning chain as what it counts as; "slip" a travelling or joining slip stitch
    name    US name ("dc", "ch", "sc2tog", "sl st"); for "begin" the stitch it counts as, "" where it counts
            as none
    size    chains in a "begin", legs of a decrease, else 1
    base    indices of the places of the round below that it is worked into (several for a decrease or a
            space)
    into    how it is worked into them
    loop    "back", "front", "third" or ""
    """

    kind: NodeKind
    name: str
    size: int
    base: tuple[int, ...]
    into: Into
    loop: str = ""


@dataclass(frozen=True, slots=True)
class Did:
    """An instruction as it was carried out once.

    reached    how many places it went into (or skipped)
    noun       what those places are called; None where it has no place
    nodes      half-open range of the round's path that it made
    counts_as  for a beginning chain: the stitch it counts as ("" for none) and its spare chains
    begins     whether the round begins with it: its beginning chain, or the yarn joined
    """

    instruction: Instruction
    reached: int
    noun: Noun | None
    nodes: tuple[int, int]
    counts_as: tuple[str, int] | None = None
    begins: bool = False


@dataclass(frozen=True, slots=True)
class DidRepeat:
    """A repeat as it was carried out: how often in all, the text of one
    repeat, and of the last where it differs.
    """

    times: int
    body: tuple[Did | DidRepeat, ...]
    last: tuple[Did | DidRepeat, ...] | None
    nodes: tuple[int, int]


Doing = Did | DidRepeat


@dataclass(frozen=True, slots=True)
class WorkedRound:
    """One round of the fabric.

    spot     its address "section.line.turn"
    label    "Rnd 3", "Foundation rnd", "" where it has none
    source   the round line it came from (for `rep rnd 3`: the line that says so)
    text     the line whose text is worked
    counts   what the round has: stitches, spaces, groups, "sts" by US names
    path     the nodes in the yarn's order
    doings   what was done, in order
    below    spot of the round it is worked into, "" for none
    turned   whether that round is met from its other side
    """

    spot: str
    section: int
    label: str
    source: RoundLine
    text: RoundLine
    counts: Mapping[str, int]
    path: tuple[Node, ...]
    doings: tuple[Doing, ...]
    below: str
    turned: bool = False

    @property
    def stitches(self) -> int:
        """How many stitches and chains the hook makes in this round (a beginning chain counts its chains)."""
        return sum(node.size if node.kind == "begin" else 1 for node in self.path)


@dataclass(frozen=True, slots=True)
class WorkedSection:
    """A section of the fabric, with its rounds in working order."""

    index: int
    title: str
    purpose: str
    kind: SectionKind
    rounds: tuple[WorkedRound, ...]


@dataclass(frozen=True, slots=True)
class Fabric:
    """A piece worked in one set of numbers."""

    sections: tuple[WorkedSection, ...]

    @property
    def stitches(self) -> int:
        """All that the hook makes in the piece."""
        return sum(round_.stitches for section in self.sections for round_ in section.rounds)


@dataclass(frozen=True, slots=True)
class Numbers:
    """The numbers a piece is worked in.

    foundation   chains; None where the pattern starts from a ring
    size         the size's name, where a named one was chosen
    fits         own numbers of rounds for lines to fit: ("section.line", rounds), at least 1 each
    """

    foundation: int | None
    size: str | None = None
    fits: tuple[tuple[str, int], ...] = ()
