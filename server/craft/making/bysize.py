"""Numbers by size for a printed sheet: those of the text, and those that the fabric has at every size."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from fractions import Fraction
from functools import cached_property
from typing import TypeVar, cast

from server.craft.fabric import work
from server.craft.fabric.numbering import Count, Numbering, custom_counts
from server.craft.fabric.values import Fabric, Numbers, WorkedRound
from server.craft.making.counting import SPACE, all_keys, counted, key_of
from server.craft.making.used import names_in
from server.craft.text.numbers import line_in_n
from server.craft.text.reader import special_stitches
from server.craft.text.tree import (
    CountLine,
    Formula,
    Label,
    Noun,
    Number,
    Pattern,
    Place,
    Plain,
    RoundLine,
    SizeList,
    StatedCount,
)
from server.craft.text.vocabulary import legs

Node = TypeVar("Node")
N = (Fraction(1), Fraction(0))
ONE = Plain(1)


def line_through(points: Mapping[int, int]) -> tuple[Fraction, Fraction] | None:
    """Slope and shift of the line in N that all points (foundation to number) lie on; None for none.

    One foundation count alone proves no line, unless the number is that count itself.
    """
    (x0, y0), (x1, y1) = min(points.items()), max(points.items())
    if x0 == x1:
        return N if x0 == y0 else None
    slope = Fraction(y1 - y0, x1 - x0)
    shift = y0 - slope * x0
    return (slope, shift) if all(slope * x + shift == y for x, y in points.items()) else None


@dataclass(frozen=True, slots=True)
class LineCounts:
    """What one name counts in a round line: at each size, and by custom foundation count."""

    sizes: tuple[int, ...]
    custom: Mapping[int, int]


@dataclass(frozen=True)
class BySize:
    """A proved pattern worked at every size and every custom count that is proved."""

    pattern: Pattern

    @cached_property
    def counts(self) -> tuple[Count, ...]:
        """Every size, in the pattern's order."""
        header = self.pattern.header
        foundations: Sequence[int | None] = header.foundations or (None,) * len(header.sizes)
        return tuple(Count(foundation, index) for index, foundation in enumerate(foundations))

    @cached_property
    def custom_counts(self) -> tuple[int, ...]:
        """Foundation counts of a maker's own that are proved and are no size's, ascending."""
        header = self.pattern.header
        return tuple(each for each in custom_counts(header) if each not in header.foundations)

    @cached_property
    def has_own(self) -> bool:
        """Whether a maker may take a count of her own."""
        return bool(self.custom_counts)

    @cached_property
    def fabrics(self) -> tuple[dict[int, list[WorkedRound]], ...]:
        """The rounds at each size, by the line whose count holds for them."""
        sizes = self.pattern.header.sizes
        return tuple(
            _by_line(work(self.pattern, Numbers(count.foundation, sizes[count.size or 0])))
            for count in self.counts
        )

    @cached_property
    def custom_fabrics(self) -> dict[int, dict[int, list[WorkedRound]]]:
        """The same at each custom count."""
        return {own: _by_line(work(self.pattern, Numbers(own))) for own in self.custom_counts}

    # --- numbers of the text --------------------------------------------------------------------------------

    def number(self, number: Number, *, foundation: bool = False) -> Number:
        """A written number with one number for each size; once where it is the same at all of them.

        A line in N of a pattern in one size stays as it is where other counts are allowed: there the one
        number would be wrong for them, except in the foundation round, where it is understood.
        """
        if isinstance(number, Plain) or (isinstance(number, SizeList) and number.absent):
            return number
        if isinstance(number, Formula):
            if len(set(self.pattern.header.foundations)) == 1 and self.has_own:
                is_n = (number.slope, number.shift) == N
                return Plain(self.pattern.header.foundations[0]) if foundation and is_n else number
            values = tuple(
                Numbering(self.pattern.header, count).value(number, is_foundation=foundation)
                for count in self.counts
            )
        else:
            values = number.values
        return Plain(values[0]) if len(set(values)) == 1 else SizeList(values)

    def line(self, line: RoundLine) -> RoundLine:
        """A round line with its numbers by size, and with the count that it really has."""
        foundation = line.label is not None and line.label.foundation
        body = self._mapped(line.body, foundation=foundation)
        return replace(line, label=self._label(line.label), body=body, stated=self.stated(line))

    def _label(self, label: Label | None) -> Label | None:
        return self._mapped(label, foundation=False) if label is not None else None

    def _mapped(self, node: Node, *, foundation: bool) -> Node:
        """A part of the tree with every number by size."""
        if isinstance(node, Plain | SizeList | Formula):
            return cast(Node, self.number(node, foundation=foundation))
        if isinstance(node, tuple):
            return cast(Node, tuple(self._mapped(each, foundation=foundation) for each in node))
        if is_dataclass(node) and not isinstance(node, type):
            parts = {each.name: getattr(node, each.name) for each in fields(node)}
            mapped = {name: self._mapped(part, foundation=foundation) for name, part in parts.items()}
            if isinstance(node, Place) and node.which == "next" and mapped["count"] == ONE:
                mapped["count"] = None  # "next 1 st" is the next one
            changed = {name: part for name, part in mapped.items() if part is not parts[name]}
            return cast(Node, replace(node, **changed)) if changed else node
        return node

    # --- counts of the fabric -------------------------------------------------------------------------------

    def stated(self, line: RoundLine) -> CountLine | None:
        """The count of a round line, from the fabric; None where none holds for all its rounds."""
        numbers = [(self._as_number(counts), noun) for noun, counts in self.line_counts(line)]
        items = tuple(StatedCount(number, noun) for number, noun in numbers if number is not None)
        return CountLine(items) if items else None

    def line_counts(self, line: RoundLine) -> list[tuple[Noun, LineCounts]]:
        """What a round line's count names, as the host has it or all there is, and how many there are."""
        at_sizes = [rounds for fabric in self.fabrics for rounds in [fabric.get(id(line), [])] if rounds]
        if not at_sizes:
            return []
        said = _said(line, at_sizes[0])
        named = said or self._all_names(line, at_sizes)
        keys = [key_of(noun) for noun in named]
        found: list[tuple[Noun, LineCounts]] = []
        for noun, key in zip(named, keys, strict=True):
            sizes = [_same(fabric.get(id(line), []), key, keys) for fabric in self.fabrics]
            own = {
                count: _same(fabric.get(id(line), []), key, keys)
                for count, fabric in self.custom_fabrics.items()
            }
            if any(number is None for number in (*sizes, *own.values())):
                return []  # its rounds differ: no one count serves them
            numbers = tuple(number or 0 for number in sizes)
            counts = LineCounts(numbers, {count: number or 0 for count, number in own.items()})
            if said or not self.has_own or self.in_n(counts) is not None:
                found.append((noun, counts))
        return found

    def _all_names(self, line: RoundLine, at_sizes: Sequence[Sequence[WorkedRound]]) -> list[Noun]:
        """Names of all that a round line makes, where every size has some of it; groups if they are named."""
        everywhere = [all_keys(each.counts) for rounds in at_sizes for each in rounds]
        common = [key for key in everywhere[0] if all(key in keys for keys in everywhere)]
        groups = {
            special.name for special in special_stitches(self.pattern).values() if not special.one_stitch
        }
        own = {special.name for special in self.pattern.header.special} | names_in(line)
        return [
            _noun(key, groups)
            for key in common
            if legs(key) == 1 and (key in own or key not in groups)  # a decrease counts as the stitch it is
        ]

    def _as_number(self, counts: LineCounts) -> Number | None:
        """A count as a number of the text that holds at every size and custom count; None where none does."""
        header = self.pattern.header
        sizes = counts.sizes
        if len(set(header.foundations)) == 1 and counts.custom:
            line = self.in_n(counts)
            if line is None or line[0] == 0:
                return Plain(sizes[0]) if set(counts.custom.values()) == set(sizes) else None
            return Plain(header.foundations[0]) if line == N else Formula(*line)
        if len(set(sizes)) == 1:
            return Plain(sizes[0])
        return SizeList(sizes)

    def in_n(self, counts: LineCounts) -> tuple[Fraction, Fraction] | None:
        """The line in N that a count lies on at every size and custom count; None where there is none."""
        foundations = self.pattern.header.foundations
        return line_through({**dict(zip(foundations, counts.sizes, strict=True)), **counts.custom})

    def list_in_n(self, number: SizeList) -> str | None:
        """What to take for a list at a count of one's own: "N/4 - 1"; None where no line fits the sizes.

        Where the line is whole at some counts only, it says so.
        """
        line = self._line_of(number)
        if line is None:
            return None
        return line_in_n(*line) + ("" if self._is_whole(line) else " where that is a whole number")

    def goes_by_size(self, number: SizeList) -> bool:
        """Whether a list has no number for some count of one's own, so that the next smaller size's holds."""
        line = self._line_of(number)
        return line is None or not self._is_whole(line)

    def _line_of(self, number: SizeList) -> tuple[Fraction, Fraction] | None:
        foundations = self.pattern.header.foundations
        if len(set(foundations)) < len(foundations):
            return None
        return line_through(dict(zip(foundations, number.values, strict=True)))

    def _is_whole(self, line: tuple[Fraction, Fraction]) -> bool:
        return all((line[0] * own + line[1]).denominator == 1 for own in self.custom_counts)


def _by_line(fabric: Fabric) -> dict[int, list[WorkedRound]]:
    """Rounds by the identity of the line whose count holds for them.

    That is the line that they come from, and where `rep rnd 3` states no count, the repeated one as well.
    """
    rounds: dict[int, list[WorkedRound]] = {}
    for section in fabric.sections:
        for each in section.rounds:
            rounds.setdefault(id(each.source), []).append(each)
            if each.text is not each.source and each.source.stated is None:
                rounds.setdefault(id(each.text), []).append(each)
    return rounds


def _said(line: RoundLine, rounds: Sequence[WorkedRound]) -> list[Noun]:
    """What the host's count names: of the line itself, or of the round that it repeats."""
    if line.stated is not None:
        return [item.noun or _bare(rounds[0]) for item in line.stated.items]
    texts = {id(each.text): each.text.stated for each in rounds}
    stated = next(iter(texts.values())) if len(texts) == 1 else None
    return [item.noun or _bare(rounds[0]) for item in stated.items] if stated is not None else []


def _bare(round_: WorkedRound) -> Noun:
    """What a bare number counts: stitches, in a foundation its chains."""
    return Noun("st" if "sts" in round_.counts else "ch")


def _same(rounds: Sequence[WorkedRound], key: str, keys: Sequence[str]) -> int | None:
    """How many all these rounds have; None where they differ or there are none."""
    found = {counted(each.counts, key, keys) for each in rounds}
    return found.pop() if len(found) == 1 else None


def _noun(key: str, groups: set[str]) -> Noun:
    if key in ("sts", "st"):
        return Noun("st")
    if key == "ch":
        return Noun("ch")
    if SPACE.fullmatch(key):
        return Noun("sp", length=int(key[3:-3]))
    return Noun("group" if key in groups else "stitch", key)
