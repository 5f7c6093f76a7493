"""The ring of places that a round leaves for the next: stitches, chains, spaces, groups, in working order.

Places are numbered from 0; a joined round goes on in a circle, so positions count on past the end and are
taken modulo the ring's length. In rows the places end at the last one.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal, NamedTuple

from server.craft.text.tree import Noun
from server.craft.text.vocabulary import plain_stitch

AtomKind = Literal["stitch", "chain", "foundation", "side", "underside"]


class Atom(NamedTuple):
    """One place: a stitch's top, a chain, a foundation chain, or at a gap a side or underside.

    name     what stands there ("dc"; "ch" for chains)
    number   for an underside the chain's number as it was made
    begin    for a beginning chain that counts: its length in chains, else 0
    """

    kind: AtomKind
    name: str
    number: int = 0
    begin: int = 0


class Stretch(NamedTuple):
    """Places that belong together: a chain space (name "") or a named group."""

    start: int
    length: int
    name: str = ""


class Found(NamedTuple):
    """A place found, in positions that count on past the ring's end.

    start, end     what the hook has passed after it (a whole space or group)
    base_start, base_end   where the stitch goes
    """

    start: int
    end: int
    base_start: int
    base_end: int

    def further(self, places: int) -> Found:
        """The same place met so many places further on."""
        start, end, base_start, base_end = self
        return Found(start + places, end + places, base_start + places, base_end + places)


class Named(NamedTuple):
    """All places of one name: where they start, ascending, and each as found on the first time around; None
    where each is one place by itself.
    """

    starts: list[int]
    found: list[Found] | None

    def at(self, nth: int, further: int) -> Found:
        """One of them, met so many places further on."""
        if self.found is not None:
            return self.found[nth].further(further)
        position = self.starts[nth] + further
        return Found(position, position, position, position)


@dataclass(frozen=True)
class Ring:
    """The places of one round.

    hook      index of the place (and `hook_length` places) the hook stands on after the join;
              -1 before the first place (spiral)
    clumps    two and more stitches in one place, whether they have a name or not
    below     how many places at the head were skipped under a gap (a gap's edge only)
    """

    atoms: tuple[Atom, ...]
    spaces: tuple[Stretch, ...] = ()
    groups: tuple[Stretch, ...] = ()
    circular: bool = True
    hook: int = 0
    hook_length: int = 1
    below: int = 0
    gap: bool = False
    clumps: tuple[Stretch, ...] = ()

    @cached_property
    def key(self) -> int:
        """A hash of all that the ring is, made once."""
        return hash(
            (
                self.atoms,
                self.spaces,
                self.groups,
                self.circular,
                self.hook,
                self.hook_length,
                self.below,
                self.gap,
                self.clumps,
            )
        )

    def __hash__(self) -> int:
        return self.key

    def __len__(self) -> int:
        return len(self.atoms)

    @cached_property
    def space_at(self) -> dict[int, Stretch]:
        """Each chain's space, by the chain's index."""
        size = len(self.atoms)
        return {(space.start + step) % size: space for space in self.spaces for step in range(space.length)}

    @cached_property
    def space_starting(self) -> dict[int, Stretch]:
        """Spaces by the index of their first chain."""
        return {space.start: space for space in self.spaces}

    @cached_property
    def groups_starting(self) -> dict[int, tuple[Stretch, ...]]:
        """Groups by the index of their first place."""
        table: dict[int, tuple[Stretch, ...]] = {}
        for group in self.groups:
            table[group.start] = (*table.get(group.start, ()), group)
        return table

    @cached_property
    def longest(self) -> int:
        """Length of the longest space or group."""
        return max((stretch.length for stretch in (*self.spaces, *self.groups)), default=0)

    @cached_property
    def covered(self) -> Sequence[tuple[object, ...]]:
        """Which spaces and groups each place lies in, and where in them; empty where there are none.

        Two stretches of places are alike where their atoms are, and this.
        """
        if not self.longest:
            return ()
        size = len(self.atoms)
        alike: dict[tuple[object, ...], tuple[object, ...]] = {}
        table: list[tuple[object, ...]] = [()] * size
        for start, length, name in (*self.spaces, *self.groups):
            for step in range(length):
                at = (start + step) % size
                lies = (*table[at], name, length, step)
                table[at] = alike.setdefault(lies, lies)
        return table

    @cached_property
    def begin_at(self) -> int | None:
        """Index of the beginning chain that counts, if the round has one."""
        return next((index for index, atom in enumerate(self.atoms) if atom.begin), None)

    def turned(self) -> Ring:
        """The same places met from the other side."""
        size = len(self.atoms)

        def back(part: Stretch) -> Stretch:
            return part._replace(start=(size - part.start - part.length) % size if size else 0)

        hook = size - self.hook - self.hook_length if self.hook >= 0 else 0
        return replace(
            self,
            atoms=self.atoms[::-1],
            spaces=tuple(back(space) for space in reversed(self.spaces)),
            groups=tuple(back(group) for group in reversed(self.groups)),
            clumps=tuple(back(clump) for clump in reversed(self.clumps)),
            hook=hook % size if size else 0,
            hook_length=self.hook_length if self.hook >= 0 else 1,
        )

    # --- names ----------------------------------------------------------------------------------------------

    def is_noun(self, index: int, noun: Noun, edge: str | None = None) -> bool:
        """Whether the place at an index is called that; spaces and groups are asked by `stretches`."""
        return is_called(self.atoms[index], noun, edge)

    def stretches(self, noun: Noun, index: int) -> Stretch | None:
        """The space or group of that name that begins at an index."""
        if noun.kind == "sp":
            space = self.space_starting.get(index)
            return space if space is not None and noun.length in (None, space.length) else None
        if noun.kind == "group":
            return next(
                (group for group in self.groups_starting.get(index, ()) if group.name == noun.name), None
            )
        return None

    def named(self, noun: Noun, edge: str | None = None) -> Named:
        """All places that have this name (at a gap's edge only, where one is given)."""
        key = (noun.kind, noun.name, noun.length, edge)
        table = self._named.get(key)
        if table is None:
            table = self._named[key] = self._collect(noun, edge)
        return table

    @cached_property
    def _named(self) -> dict[tuple[str, str, int | None, str | None], Named]:
        return {}

    def _collect(self, noun: Noun, edge: str | None) -> Named:
        if edge == "between":
            ends = self._between(noun)
            return Named(ends, [Found(index, index, index, index + 1) for index in ends])
        if noun.kind in ("sp", "group") and edge is None:
            starting = self.space_starting if noun.kind == "sp" else self.groups_starting
            stretches = [
                stretch for index in sorted(starting) if (stretch := self.stretches(noun, index)) is not None
            ]
            return Named([one.start for one in stretches], [self._whole(one, one.start) for one in stretches])
        known: dict[int, bool] = {}  # a ring has few atoms that are not the same one, and asks each once
        starts: list[int] = []
        for index, atom in enumerate(self.atoms):
            called = known.get(id(atom))
            if called is None:
                called = known[id(atom)] = is_called(atom, noun, edge)
            if called:
                starts.append(index)
        return Named(starts, None)

    def _between(self, noun: Noun) -> list[int]:
        """Indices of the places that have the next of that name right behind them."""
        size = len(self.atoms)
        ends = range(size if self.circular else size - 1)
        if noun.kind == "group":
            parts = [one for one in self.groups if one.name == noun.name] if noun.name else self.clumps
            starts = {one.start % size for one in parts}
            last = {(one.start + one.length - 1) % size for one in parts}
            return [index for index in ends if index in last and (index + 1) % size in starts]
        any_st = Noun("st")
        return [
            index
            for index in ends
            if self.is_noun((index + 1) % size, noun if noun.kind == "stitch" else any_st)
            and self.is_noun(index, any_st)
        ]

    def find(
        self, nouns: tuple[Noun, ...], first: int, last: int, edge: str | None = None
    ) -> tuple[Noun, Found] | None:
        """The first place from position `first` to `last` (both included) that has one of these names.

        A group that has no one center is found too; its base is empty (base_end < base_start).
        """
        size = len(self.atoms)
        if not size:
            return None
        lap, index = divmod(first, size)
        best: tuple[Noun, Found] | None = None
        for noun in nouns:
            named = self.named(noun, edge)
            starts = named.starts
            if not starts:
                continue
            at, around = bisect_left(starts, index), lap
            if at == len(starts):
                at, around = 0, lap + 1
            position = starts[at] + around * size
            if position <= last:
                best = noun, named.at(at, around * size)
                last = position - 1  # another name is only met before this one where it stands before it
        return best

    def _whole(self, stretch: Stretch, position: int) -> Found:
        end = position + stretch.length - 1
        if not stretch.name:
            return Found(position, end, position, end)
        center = self.center(stretch)
        if center is None:
            return Found(position, end, position, position - 1)
        return Found(position, end, position + center[0], position + center[1])

    def center(self, group: Stretch) -> tuple[int, int] | None:
        """Offsets of a group's center: its middle space, or its middle stitch
        where it has no space; None for neither.
        """
        size = len(self.atoms)
        inside = [
            (offset, space.length)
            for offset in range(group.length)
            if (space := self.space_starting.get((group.start + offset) % size)) is not None
            and offset + space.length <= group.length
        ]
        if inside:
            if len(inside) % 2 == 0:
                return None
            offset, length = inside[len(inside) // 2]
            return offset, offset + length - 1
        return (group.length // 2, group.length // 2) if group.length % 2 else None

    def all_from(
        self, nouns: tuple[Noun, ...], first: int, limit: int, edge: str | None = None
    ) -> list[tuple[Noun, Found]]:
        """All places with one of these names, one after another, from position `first` to before `limit`."""
        size = len(self.atoms)
        if len(nouns) == 1 and first >= 0 and limit <= size and nouns[0].kind not in ("sp", "group"):
            noun = nouns[0]
            starts = self.named(noun, edge).starts
            inside = starts[bisect_left(starts, first) : bisect_left(starts, limit)]
            return [(noun, Found(at, at, at, at)) for at in inside]
        places: list[tuple[Noun, Found]] = []
        at = first
        while at < limit and (hit := self.find(nouns, at, limit - 1, edge)) is not None:
            if hit[1].base_start >= limit:
                break
            places.append(hit)
            at = hit[1].end + 1
        return places

    def positions(self, noun: Noun, first: int, last: int, edge: str | None = None) -> Iterator[int]:
        """Positions from `first` to `last` of all places with that name."""
        at = first
        while (found := self.find((noun,), at, last, edge)) is not None:
            yield found[1].start
            at = found[1].end + 1

    def starts(self, noun: Noun, first: int, limit: int) -> list[int]:
        """Positions from `first` to before `limit` at which a place of that name starts, also inside
        another.
        """
        size = len(self.atoms)
        positions: list[int] = []
        if not size or limit <= first:
            return positions
        starts = self.named(noun).starts
        for lap in range(first // size, (limit - 1) // size + 1):
            begin, end = first - lap * size, limit - lap * size
            inside = starts[bisect_left(starts, begin) : bisect_left(starts, end)]
            positions += [at + lap * size for at in inside] if lap else inside
        return positions

    def many(self, noun: Noun, first: int, last: int) -> int:
        """How many places of that name there are from position `first` to `last`."""
        size = len(self.atoms)
        if not size or last < first:
            return 0
        if noun.kind == "group":
            return sum(1 for _ in self.positions(noun, first, last))
        starts = self.named(noun).starts
        laps, end = divmod(last, size)
        before_laps, begin = divmod(first, size)
        whole = (laps - before_laps) * len(starts)
        return whole + bisect_right(starts, end) - bisect_left(starts, begin)

    def noun_at(self, index: int) -> Noun:
        """What the place at an index is called."""
        atom = self.atoms[index]
        if atom.kind == "chain":
            return Noun("sp", length=self.space_at[index].length)
        return Noun("foundation ch") if atom.kind == "foundation" else Noun("stitch", atom.name)


def is_called(atom: Atom, noun: Noun, edge: str | None = None) -> bool:
    """Whether a place is called that (at a gap's edge only, where one is given)."""
    if edge is not None:
        if atom.kind != edge:
            return False
        return (
            edge == "underside" or noun.kind != "stitch" or plain_stitch(atom.name) == plain_stitch(noun.name)
        )
    if noun.kind == "edge":
        return True
    if atom.kind in ("side", "underside"):
        return False
    if noun.kind == "st":
        return atom.kind in ("stitch", "foundation")
    if noun.kind == "ch":
        return atom.kind in ("chain", "foundation")
    if noun.kind == "foundation ch":
        return atom.kind == "foundation"
    if noun.kind == "stitch":
        return atom.kind == "stitch" and (atom.name == noun.name or plain_stitch(atom.name) == noun.name)
    return noun.kind == "beg ch" and atom.begin > 0 and noun.length in (None, atom.begin)
