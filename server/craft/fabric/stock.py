"""Stitches that are alike are one value: the yarn's path tells them apart by where they stand in it.

A stitch of one name, worked in one way into one place, is made once and taken again in every round, at every
count. Most of a proof's stitches are taken, not made: taking one is a fifth of the work, and no memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal, NamedTuple

from server.craft.fabric.ring import Atom
from server.craft.fabric.values import Into, Node

Base = tuple[int, ...]


class Element(NamedTuple):
    """What a stitch or chain leaves in the new ring.

    kind    "stitch" or "chain"; name its US name
    base    identity of the place it stands in: two stitches in one place have the same base
    begin   length of the beginning chain that it is, else 0
    atom    the place that it is for the next round
    """

    kind: Literal["stitch", "chain"]
    name: str
    base: tuple[Any, ...] | None
    begin: int
    atom: Atom


CHAIN = Node("chain", "ch", 1, (), "none")
CHAIN_ELEMENT = Element("chain", "ch", None, 0, Atom("chain", "ch"))


class Nodes:
    """Stitches of one name, worked in one way: those into one place each by that place, the others by all."""

    __slots__ = ("_several", "_single", "into", "loop", "name", "size")

    def __init__(self, name: str, into: Into, loop: str, size: int) -> None:
        self.name, self.into, self.loop, self.size = name, into, loop, size
        self._single: list[Node] = []
        self._several: dict[Base, Node] = {}

    def single(self, end: int) -> Sequence[Node]:
        """The stitches into one place each, by its index: at least those below `end`."""
        made = self._single
        while len(made) < end:
            made.append(self._made((len(made),)))
        return made

    def at(self, base: Base) -> Node:
        """The stitch into these places."""
        if len(base) == 1:
            return self.single(base[0] + 1)[base[0]]
        node = self._several.get(base)
        if node is None:
            node = self._several[base] = self._made(base)
        return node

    def _made(self, base: Base) -> Node:
        return Node("stitch", self.name, self.size, base, self.into, self.loop)


class Elements:
    """What stitches of one name leave, worked in one way; as `Nodes`."""

    __slots__ = ("_several", "_single", "atom", "into", "name")

    def __init__(self, name: str, into: str, atom: Atom) -> None:
        self.name, self.into, self.atom = name, into, atom
        self._single: list[Element] = []
        self._several: dict[Base, Element] = {}

    def single(self, end: int) -> Sequence[Element]:
        """What the stitches into one place each leave, by its index: at least those below `end`."""
        made = self._single
        while len(made) < end:
            made.append(Element("stitch", self.name, (self.into, len(made)), 0, self.atom))
        return made

    def at(self, base: Base) -> Element:
        """What the stitch into these places leaves."""
        if len(base) == 1:
            return self.single(base[0] + 1)[base[0]]
        made = self._several.get(base)
        if made is None:
            # nothing tells the stitches around one ring apart: each stands in a place of its own
            own = (self.into, *base) if self.into != "ring" else None
            made = self._several[base] = Element("stitch", self.name, own, 0, self.atom)
        return made


class Stock:
    """Stitches made so far. It is not for several threads at once."""

    __slots__ = ("_atoms", "_elements", "_nodes")

    def __init__(self) -> None:
        self._nodes: dict[tuple[str, Into, str, int], Nodes] = {}
        self._elements: dict[tuple[str, str], Elements] = {}
        self._atoms: dict[tuple[str, int], Atom] = {}

    def nodes(self, name: str, into: Into, loop: str, size: int = 1) -> Nodes:
        """Stitches of a name, worked in one way; `size` is how many legs a decrease has."""
        key = (name, into, loop, size)
        known = self._nodes.get(key)
        if known is None:
            known = self._nodes[key] = Nodes(name, into, loop, size)
        return known

    def elements(self, name: str, into: str) -> Elements:
        """What such stitches leave."""
        key = (name, into)
        known = self._elements.get(key)
        if known is None:
            known = self._elements[key] = Elements(name, into, self.atom(name))
        return known

    def atom(self, name: str, begin: int = 0) -> Atom:
        """The place that a stitch is for the next round."""
        key = (name, begin)
        known = self._atoms.get(key)
        if known is None:
            known = self._atoms[key] = Atom("stitch", name, begin=begin)
        return known
