"""A round being worked: where the hook is, what has been made, what went wrong."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from server.craft.fabric.faults import Fault, Stuck, TooLarge, fault
from server.craft.fabric.numbering import Count, NotWhole, Numbering
from server.craft.fabric.ring import Found, Ring
from server.craft.fabric.stock import CHAIN, CHAIN_ELEMENT, Element, Stock
from server.craft.fabric.values import Did, DidRepeat, Into, Node
from server.craft.text import rules
from server.craft.text.tree import Header, Noun, Number, Repeat, Span, SpecialStitch

MAX_NODES_IN_ROUND = 20_000
MAX_NUMBER = 10_000


class Target(NamedTuple):
    """A place that something is worked into.

    moves   whether the hook goes on to it
    via     the space or group that a part of was named
    """

    found: Found
    noun: Noun
    into: Into
    moves: bool = True
    via: Noun | None = None


@dataclass(slots=True)
class MadeGroup:
    """A group worked by its name: its elements' half-open range."""

    name: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Gap:
    """Chains over skipped places: a gap, as it was made.

    chains    how many; `element` where its chains begin among the round's elements
    before, after   positions in the round below of the place worked before and after
    """

    chains: int
    element: int
    before: int
    after: int


class Hit(Exception):
    """The hook would go to, or past, the place where the round began. Never leaves the fabric."""

    def __init__(
        self,
        target: Found | None,
        noun: Noun,
        *,
        exact: bool,
        skipping: bool,
        span: Span,
        middle: bool = False,
        how: str = "no place is left before it",
    ) -> None:
        super().__init__()
        self.target = target
        self.noun = noun
        self.exact = exact
        self.skipping = skipping
        self.middle = middle
        self.how = how
        self.span = span


Skipped = tuple[int, "Skipped"] | None
"""Places just skipped, the next one to be come back to first: (position, the others)."""


class Mark(NamedTuple):
    """A moment to go back to."""

    position: int
    begun: Found | None
    begun_noun: Noun | None
    stood: bool
    last: Target | None
    elements: int
    nodes: int
    groups: int
    doings: int
    faults: int
    skipped: Skipped
    gaps: int
    pending_gap: Gap | None


@dataclass(frozen=True)
class Setting:
    """What holds for every round at one count."""

    header: Header
    count: Count
    specials: Mapping[str, SpecialStitch]
    stock: Stock = field(default_factory=Stock)

    @cached_property
    def numbering(self) -> Numbering:
        """Numbers at this count."""
        return Numbering(self.header, self.count)

    @cached_property
    def spelled(self) -> dict[tuple[str, ...], str]:
        """Each group's name by the stitches and chains that spell it."""
        return {
            tuple(
                name for part in one.items for name in ((part,) if isinstance(part, str) else ("ch",) * part)
            ): one.name
            for one in self.specials.values()
            if not one.one_stitch and one.name != "picot"
        }


@dataclass
class Working:
    """The state of one round.

    position   the place the hook is behind, counting on from the ring's start past its end
    stood      whether something stands in the hook's place at the round's beginning
    begun      the place the round began in, once it has begun
    skipped    places just skipped that may be come back to
    hook       where the join, or travelling, has put the hook: index and how many places
    size       how many places lie below
    chain_places   how many chains the foundation has, once the round has gone on along their other side
    stand, stand_length   index of the place that the round begins from, and how many places it has; -1
               before the first one
    """

    ring: Ring
    setting: Setting
    body_span: Span
    position: int = 0
    stood: bool = False
    begun: Found | None = None
    begun_noun: Noun | None = None
    last: Target | None = None
    elements: list[Element] = field(default_factory=list)
    nodes: list[Node] = field(default_factory=list)
    groups: list[MadeGroup] = field(default_factory=list)
    doings: list[Did | DidRepeat] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    skipped: Skipped = None
    travelled: set[int] = field(default_factory=set)
    gaps: list[Gap] = field(default_factory=list)
    pending_gap: Gap | None = None
    closed_by: Repeat | None = None
    closed_exactly: bool = False
    began_with: str = ""
    begin_length: int = 0
    begin_height: int = 0
    begin_counts: bool = False
    begin_from_hook: int = 0
    joined: bool = False
    no_join: bool = False
    turn_after: bool = False
    hook: tuple[int, int] | None = None
    ring_begun: bool = False
    foundation: int | None = None
    spaces_worked: set[int] = field(default_factory=set)
    quiet: bool = False
    open_repeats: int = 0
    chain_places: int = 0

    size: int = field(init=False)
    stand: int = field(init=False)
    stand_length: int = field(init=False)

    def __post_init__(self) -> None:
        self.size = len(self.ring.atoms)
        self.stand, self.stand_length = self.ring.hook, self.ring.hook_length

    # --- the ring's ends ------------------------------------------------------------------------------------

    @property
    def limit(self) -> int:
        """The first position past the round: where it began, once around; in rows the end of the row."""
        if not self.ring.circular:
            return self.size
        if self.begun is not None:
            return self.begun.base_start + self.size
        hook = max(self.stand, 0)
        return hook + self.size + (0 if self.stood else 1)

    @property
    def farthest(self) -> int:
        """How far a search may look: once around from the hook, past the beginning."""
        if not self.ring.circular:
            return self.size - 1
        return max(self.position, 0) + self.size if self.begun is not None else self.limit - 1

    # --- numbers --------------------------------------------------------------------------------------------

    def value(self, number: Number, span: Span | None = None) -> int:
        """A number at this count; Stuck where it is not whole or too large."""
        try:
            value = self.setting.numbering.value(number, is_foundation=self.foundation is not None)
        except NotWhole as odd:
            raise Stuck(fault(rules.NOT_WHOLE, odd.number.span)) from None
        if value < 0:
            raise Stuck(fault(rules.NEGATIVE, number.span))
        if value > MAX_NUMBER:
            raise TooLarge(span or number.span)
        return value

    # --- making ---------------------------------------------------------------------------------------------

    def make(self, node: Node, element: Element | None, span: Span) -> None:
        """Adds to the path, and to what the next round finds."""
        if len(self.nodes) >= MAX_NODES_IN_ROUND:
            raise TooLarge(span)
        self.nodes.append(node)
        if element is not None:
            self.elements.append(element)

    def stitches(self, parts: Sequence[str | int], times: int, target: Target, loop: str, span: Span) -> None:
        """Stitches (by name) and chains (how many) into one place, so many times over."""
        if not times or not parts:
            return
        found, into, size = target.found, target.into, self.size
        base: tuple[int, ...] = ()
        if size:
            start, end = found.base_start, found.base_end
            base = (start % size,) if start == end else tuple(at % size for at in range(start, end + 1))
        if self.begun is None:
            self.begin_at(target)
        if len(self.nodes) + times > MAX_NODES_IN_ROUND:
            raise TooLarge(span)
        nodes: list[Node] = []
        elements: list[Element] = []
        stock = self.setting.stock
        for part in parts:
            if isinstance(part, int):
                nodes += [CHAIN] * part
                elements += [CHAIN_ELEMENT] * part
                continue
            nodes.append(stock.nodes(part, into, loop).at(base))
            elements.append(stock.elements(part, into).at(base))
        if len(self.nodes) + len(nodes) * times > MAX_NODES_IN_ROUND:
            raise TooLarge(span)
        self.nodes += nodes * times
        self.elements += elements * times
        self.moved(target)

    def stitch(self, name: str, target: Target, loop: str, span: Span) -> None:
        """One stitch into a place."""
        found, into, size = target.found, target.into, self.size
        base: tuple[int, ...] = ()
        if size:
            start, end = found.base_start, found.base_end
            base = (start % size,) if start == end else tuple(at % size for at in range(start, end + 1))
        if self.begun is None:
            self.begin_at(target)
        if len(self.nodes) >= MAX_NODES_IN_ROUND:
            raise TooLarge(span)
        stock = self.setting.stock
        self.nodes.append(stock.nodes(name, into, loop).at(base))
        self.elements.append(stock.elements(name, into).at(base))
        self.moved(target)

    def moved(self, target: Target) -> None:
        """The hook is now behind a place that was worked into."""
        found = target.found
        if target.noun.kind == "sp" and self.size:
            space = self.ring.space_at.get(found.base_start % self.size)
            if space is not None:
                self.spaces_worked.add(space.length)
        if target.moves:
            if self.pending_gap is not None:
                gap = self.pending_gap
                self.gaps.append(Gap(gap.chains, gap.element, gap.before, found.base_start))
                self.pending_gap = None
            self.position = found.end
            if target.via is not None and target.via.kind == "group":
                self._pass_rest(found, target.via)
        self.stood = True
        self.last = target

    def _pass_rest(self, found: Found, group: Noun) -> None:
        """What is left of a group that is worked into one of its stitches is passed with it."""
        index = found.end % self.size
        for one in self.ring.groups:
            behind = (index - one.start) % self.size
            if one.name == group.name and behind < one.length:
                self.skip(range(found.end + 1, found.end + one.length - behind))

    def skip(self, positions: Sequence[int]) -> None:
        """Notes places that were just skipped, in order."""
        for position in reversed(positions):
            self.skipped = (position, self.skipped)

    def come_back(self, found: Found) -> None:
        """Takes a place out of those just skipped: it is worked into after all."""
        before: list[int] = []
        left = self.skipped
        while left is not None:
            position, left = left
            if not found.start <= position <= found.end:
                before.append(position)
            elif left is None or not found.start <= left[0] <= found.end:
                break  # the rest lies elsewhere: a place was skipped in one go
        self.skipped = left
        self.skip(before)

    def all_skipped(self) -> Iterator[int]:
        """Places just skipped, the next one to be come back to first."""
        left = self.skipped
        while left is not None:
            position, left = left
            yield position

    def begin_at(self, target: Target) -> None:
        """The first stitch says where the round began."""
        if self.begun is None and target.into != "none":
            self.begun = target.found
            self.begun_noun = target.via or target.noun
            if target.into == "ring":
                self.ring_begun = True

    def chains(self, many: int, span: Span) -> None:
        """A run of chains."""
        if len(self.nodes) + many > MAX_NODES_IN_ROUND:
            raise TooLarge(span)
        self.nodes += [CHAIN] * many
        self.elements += [CHAIN_ELEMENT] * many

    # --- going back -----------------------------------------------------------------------------------------

    def mark(self) -> Mark:
        """The present moment."""
        return Mark(
            self.position, self.begun, self.begun_noun, self.stood, self.last,
            len(self.elements), len(self.nodes), len(self.groups), len(self.doings), len(self.faults),
            self.skipped, len(self.gaps), self.pending_gap,
        )  # fmt: skip

    def back_to(self, mark: Mark) -> None:
        """Takes out all that was made since a moment."""
        self.position, self.begun, self.begun_noun = mark.position, mark.begun, mark.begun_noun
        self.stood, self.last = mark.stood, mark.last
        del self.elements[mark.elements :]
        del self.nodes[mark.nodes :]
        del self.groups[mark.groups :]
        del self.doings[mark.doings :]
        del self.faults[mark.faults :]
        del self.gaps[mark.gaps :]
        self.skipped = mark.skipped
        self.pending_gap = mark.pending_gap

    def report(self, found: Fault) -> None:
        """Notes a fault that the round can go on from; once for the same words."""
        if not any(known.rule is found.rule and known.span == found.span for known in self.faults):
            self.faults.append(found)
