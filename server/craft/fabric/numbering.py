"""What a number is at one count: lists by size, lines in N, and lists read at custom counts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from server.craft.text.tree import Formula, Header, Number, Pattern, Plain, RoundLine, Section, SizeList, Span


class NotWhole(Exception):
    """A formula that is no whole number at this count. Never leaves the fabric."""

    def __init__(self, number: Formula) -> None:
        super().__init__()
        self.number = number


@dataclass(frozen=True, slots=True)
class Count:
    """One count that a piece is worked at.

    foundation   chains, None where it starts from a ring
    size         index of the named size, None for a custom count
    """

    foundation: int | None
    size: int | None

    def key(self, header: Header) -> int | str:
        """How results are keyed: the count, or the size's name where there is no count, or a smaller size
        has the same.
        """
        if self.foundation is None:
            return header.sizes[self.size or 0]
        if self.size is not None and header.foundations.index(self.foundation) != self.size:
            return header.sizes[self.size]
        return self.foundation


def counts_to_try(header: Header, asked: tuple[int, ...] = ()) -> tuple[Count, ...]:
    """Every size, and every custom count in range, ascending; `asked` counts too."""
    if not header.foundations:
        return tuple(Count(None, index) for index in range(len(header.sizes)))
    sizes = [Count(foundation, index) for index, foundation in enumerate(header.foundations)]
    customs = sorted({*custom_counts(header), *asked} - {*header.foundations})
    return tuple(
        sorted((*sizes, *(Count(one, None) for one in customs)), key=lambda one: one.foundation or 0)
    )


def custom_counts(header: Header) -> tuple[int, ...]:
    """The custom counts in the range to prove: the header's own, or four repeats
    below the smallest size to eight above.
    """
    multiple, plus = header.multiple, header.plus
    if multiple is None or not header.foundations:
        return ()
    low, high = header.custom or (
        max(min(header.foundations) - 4 * multiple, 3 * multiple + plus),
        max(header.foundations) + 8 * multiple,
    )
    first = low + (plus - low) % multiple
    return tuple(count for count in range(first, high + 1, multiple) if count > plus and count >= 1)


def is_allowed(header: Header, foundation: int) -> bool:
    """Whether a foundation count is a size's, or a whole number of repeats."""
    if foundation in header.foundations:
        return True
    multiple, plus = header.multiple, header.plus
    return multiple is not None and foundation >= multiple + plus and (foundation - plus) % multiple == 0


def nearest_allowed(header: Header, foundation: int) -> tuple[int, ...]:
    """The allowed counts next below and above, none under three repeats unless the header has it so.

    Where no multiple is given, only sizes.
    """
    if header.multiple is None:
        below = [count for count in header.foundations if count < foundation]
        above = [count for count in header.foundations if count > foundation]
        return tuple(([max(below)] if below else []) + ([min(above)] if above else []))
    repeats = (foundation - header.plus) // header.multiple
    near = (repeats * header.multiple + header.plus, (repeats + 1) * header.multiple + header.plus)
    low = header.custom[0] if header.custom and header.custom[0] <= header.custom[1] else None
    least = min(3 * header.multiple + header.plus, *header.foundations, *((low,) if low is not None else ()))
    first = least + (header.plus - least) % header.multiple
    return tuple(sorted({count for count in near if count >= least} or {first}))


class Numbering:
    """Evaluates numbers at one count."""

    def __init__(self, header: Header, count: Count) -> None:
        self.header = header
        self.count = count

    def value(self, number: Number, *, is_foundation: bool = False) -> int:
        """The whole number; raises NotWhole for a formula that is none here.

        is_foundation: in the foundation round and in stated counts a single size's foundation number is N.
        """
        count, header = self.count, self.header
        if isinstance(number, Plain):
            single = len(header.foundations) == 1 and is_foundation and number.value == header.foundations[0]
            return count.foundation if single and count.foundation is not None else number.value
        if isinstance(number, Formula):
            slope, shift = number.slope, number.shift
            over = slope.denominator * shift.denominator
            above = slope.numerator * (count.foundation or 0) * shift.denominator
            value, rest = divmod(above + shift.numerator * slope.denominator, over)
            if rest:
                raise NotWhole(number)
            return int(value)
        if count.foundation is not None and number.values == header.foundations:
            return count.foundation
        if count.size is not None:
            return number.values[min(count.size, len(number.values) - 1)]
        on_line = self._on_line(number)
        return on_line if on_line is not None else number.values[self._nearest_smaller()]

    def is_off_line(self, number: Number) -> bool:
        """Whether a list has no number of its own here, so that the nearest smaller size's is taken."""
        if not isinstance(number, SizeList) or self.count.size is not None or self.count.foundation is None:
            return False
        return number.values != self.header.foundations and self._on_line(number) is None

    def rounds(self, number: Number) -> int:
        """A number of rounds: at a custom count the nearest smaller size's."""
        if isinstance(number, SizeList):
            index = self.count.size if self.count.size is not None else self._nearest_smaller()
            return number.values[min(index, len(number.values) - 1)]
        return self.value(number)

    def is_absent(self, number: Number | None) -> bool:
        """Whether a list has a dash for the size worked (at a custom count the nearest smaller one)."""
        if not isinstance(number, SizeList) or not number.absent:
            return False
        return self.size_index() in number.absent

    def size_index(self) -> int:
        """Index of the size worked; at a custom count of the nearest smaller one."""
        return self.count.size if self.count.size is not None else self._nearest_smaller()

    def _on_line(self, number: SizeList) -> int | None:
        if number.absent:
            return None
        line = _line_through(self.header.foundations, number.values)
        if line is None or self.count.foundation is None:
            return None
        rise, run, shift = line
        value, rest = divmod(rise * self.count.foundation + shift, run)
        return value if rest == 0 and value >= 0 else None

    def _nearest_smaller(self) -> int:
        foundation = self.count.foundation or 0
        smaller = [(size, index) for index, size in enumerate(self.header.foundations) if size <= foundation]
        if smaller:
            return max(smaller)[1]
        return min((size, index) for index, size in enumerate(self.header.foundations))[1]


@lru_cache(maxsize=4096)
def _line_through(foundations: tuple[int, ...], values: tuple[int, ...]) -> tuple[int, int, int] | None:
    """The line (a N + c) / b that all sizes lie on, as a, b and c, where there is one."""
    points = sorted(set(zip(foundations, values, strict=False)))
    if len({x for x, _ in points}) < len(points):
        return None
    if len(points) == 1:
        return None
    (x0, y0), (x1, y1) = points[0], points[1]
    rise, run = y1 - y0, x1 - x0
    shift = y0 * run - rise * x0
    return (rise, run, shift) if all(rise * x + shift == y * run for x, y in points) else None


def numbers_in(node: Any) -> Iterator[Number]:
    """Every number in a part of the tree."""
    if isinstance(node, Plain | SizeList | Formula):
        yield node
    elif isinstance(node, tuple):
        for one in node:
            yield from numbers_in(one)
    elif not isinstance(node, str | int | Span | None):
        for name in getattr(node, "__dataclass_fields__", ()):
            yield from numbers_in(getattr(node, name))


@dataclass(frozen=True, slots=True)
class SectionLists:
    """The size lists of a section: in its instructions, and in its stated counts."""

    worked: tuple[SizeList, ...]
    stated: tuple[SizeList, ...]


def lists_of(section: Section) -> SectionLists:
    """All lists that go by size in a section; numbers of rounds left out."""
    worked: list[SizeList] = []
    stated: list[SizeList] = []
    for line in section.lines:
        if isinstance(line, RoundLine) and line.sound:
            worked += [number for number in numbers_in(line.body) if isinstance(number, SizeList)]
            stated += [number for number in numbers_in(line.stated) if isinstance(number, SizeList)]
    return SectionLists(tuple(worked), tuple(stated))


def all_lists(pattern: Pattern) -> tuple[SectionLists, ...]:
    """The lists of every section."""
    return tuple(lists_of(section) for section in pattern.sections)
