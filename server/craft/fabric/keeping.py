"""Keeps worked rounds: one that was worked before, in the same words on the same places, is not worked again.

What a round comes to depends on its words, on the ring it is worked into, on the count, and on the header's
numbers and terms. Where it stands in the text matters only to the places of its faults: those move along.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import count as counting
from typing import NamedTuple

from server.craft.fabric.faults import Fault
from server.craft.fabric.ring import Ring
from server.craft.fabric.rounds import Outcome, Task, work_round
from server.craft.fabric.stock import Stock
from server.craft.fabric.working import Setting
from server.craft.text.tree import Pattern, Span, SpecialStitch

Key = tuple[object, ...]


class _Kept(NamedTuple):
    """An outcome, and where the parts of the text stood that its faults are in."""

    outcome: Outcome
    parts: tuple[Span, ...]


@dataclass(slots=True)
class Cache:
    """Rounds worked, kept from one proof to the next of a text as it is typed, or of several texts.

    most_nodes   how many stitches it may keep (about 65 bytes each); beyond that it begins anew
    """

    most_nodes: int = 400_000
    nodes: int = field(default=0, init=False)
    stock: Stock = field(default_factory=Stock, init=False, repr=False)
    _outcomes: dict[Key, _Kept] = field(default_factory=dict, init=False, repr=False)
    _rings: dict[Ring, Ring] = field(default_factory=dict, init=False, repr=False)
    _words: dict[str, list[tuple[object, int]]] = field(default_factory=dict, init=False, repr=False)
    _contexts: dict[Key, int] = field(default_factory=dict, init=False, repr=False)
    _numbers: Iterator[int] = field(default_factory=counting, init=False, repr=False)

    @property
    def outcomes(self) -> tuple[Outcome, ...]:
        """All that is kept."""
        return tuple(kept.outcome for kept in self._outcomes.values())

    def begin(self) -> None:
        """Makes room, if need be, before a proof. A number once given out never means something else."""
        if self.nodes > self.most_nodes:
            for table in (self._outcomes, self._rings, self._words, self._contexts):
                table.clear()
            self.stock = Stock()
            self.nodes = 0

    def keep(self, key: Key, outcome: Outcome, parts: tuple[Span, ...]) -> Outcome:
        """Keeps an outcome; an equal ring that is known already stands for its own."""
        known = self._rings.setdefault(outcome.ring, outcome.ring)
        if known is not outcome.ring:
            outcome = replace(outcome, ring=known)
        if all(_part_of(fault.span, parts) is not None for fault in outcome.faults):
            self._outcomes[key] = _Kept(outcome, parts)
            self.nodes += len(outcome.path)
        return outcome

    def find(self, key: Key, parts: tuple[Span, ...]) -> Outcome | None:
        """The outcome kept under a key, its faults where their words stand now."""
        kept = self._outcomes.get(key)
        if kept is None:
            return None
        outcome = kept.outcome
        if not outcome.faults or kept.parts == parts:
            return outcome
        return replace(outcome, faults=tuple(_moved(fault, kept.parts, parts) for fault in outcome.faults))

    def number_of_words(self, words: str, tree: object) -> int:
        """A number for these words read as this tree: the same for the same."""
        known = self._words.setdefault(words, [])
        for other, number in known:
            # a tree that was not read from a text may differ in how it was meant to be written
            if other is tree or (words and other == tree):
                return number
        known.append((tree, next(self._numbers)))
        return known[-1][1]

    def number_of_context(self, context: Key) -> int:
        """A number for all that holds for every round of a pattern: the same for the same."""
        return self._contexts.setdefault(context, next(self._numbers))


@dataclass(slots=True)
class Caches:
    """Caches for several texts that are typed at the same time: each has its own, so that nobody who types
    pushes anything out of another's. It is not for several threads at once.

    most         how many caches there may be, and
    most_nodes   how many stitches they may keep together; beyond that those go that were not in use longest
    """

    most: int = 32
    most_nodes: int = 1_000_000
    _by_key: dict[Hashable, Cache] = field(default_factory=dict, init=False, repr=False)

    def of(self, key: Hashable) -> Cache:
        """The cache of that key, made at its first use; it counts as used now."""
        cache = self._by_key.pop(key, None) or Cache()
        self._by_key[key] = cache
        nodes = sum(each.nodes for each in self._by_key.values())
        for unused in list(self._by_key)[:-1]:
            if nodes <= self.most_nodes and len(self._by_key) <= self.most:
                break
            nodes -= self._by_key.pop(unused).nodes
        return cache

    def __contains__(self, key: Hashable) -> bool:
        return key in self._by_key


def _part_of(span: Span, parts: tuple[Span, ...]) -> int | None:
    """Index of the part that a span lies in."""
    for at, part in enumerate(parts):
        if part.start <= span.start <= span.end <= part.end:
            return at
    return None


def _moved(fault: Fault, before: tuple[Span, ...], now: tuple[Span, ...]) -> Fault:
    at = _part_of(fault.span, before)
    assert at is not None
    by = now[at].start - before[at].start
    return replace(fault, span=Span(fault.span.start + by, fault.span.end + by))


class Keeping:
    """One proof's use of a cache."""

    def __init__(self, cache: Cache, pattern: Pattern, specials: Mapping[str, SpecialStitch]) -> None:
        header = pattern.header
        self.cache = cache
        self.source = pattern.source
        self.context = cache.number_of_context(
            (header.terms, header.worked, len(header.sizes), header.foundations, tuple(specials.values()))
        )
        # stitches and chains of the rounds of this proof, each once: as many whether they were kept or not
        self.worked = 0
        self._counted: set[Key] = set()
        # by identity: the trees of a pattern live as long as the proof of it
        self._words: dict[int, int] = {}

    def outcome(self, task: Task, setting: Setting) -> Outcome:
        """The round, kept or worked. Raises TooLarge."""
        parts, numbers = self._parts(task)
        key: Key = (
            self.context, setting.count.foundation, setting.count.size, numbers, task.ring, task.foundation,
            task.off_line, task.turned, task.held_over is not None, task.stated_held_over,
        )  # fmt: skip
        outcome = self.cache.find(key, parts)
        if outcome is None:
            outcome = self.cache.keep(key, work_round(task, setting), parts)
        if key not in self._counted:
            self._counted.add(key)
            self.worked += len(outcome.path)
        return outcome

    def _parts(self, task: Task) -> tuple[tuple[Span, ...], tuple[int, ...]]:
        """The parts of the text that a round is read from: their places, and the numbers of their words."""
        spans = [task.text.body_span]
        numbers = [self._number(task.text.body, task.text.body_span)]
        for item in task.led_in:
            spans.append(item.span)
            numbers.append(self._number(item, item.span))
        if task.stated is not None:
            spans.append(task.stated.span)
            numbers.append(self._number(task.stated, task.stated.span))
        if task.held_over is not None:
            spans.append(task.held_over)
        return tuple(spans), tuple(numbers)

    def _number(self, tree: object, span: Span) -> int:
        number = self._words.get(id(tree))
        if number is None:
            number = self._words[id(tree)] = self.cache.number_of_words(
                self.source[span.start : span.end], tree
            )
        return number
