"""A stated count that is wrong: what it says, what was worked, and the count that would be right."""

from __future__ import annotations

import re
from collections.abc import Sequence

from server.craft.fabric.faults import Found
from server.craft.fabric.formulas import formula
from server.craft.fabric.numbering import Count, NotWhole, Numbering
from server.craft.text.numbers import written
from server.craft.text.source import Source
from server.craft.text.tree import (
    CountLine,
    Formula,
    Header,
    Number,
    Pattern,
    RoundLine,
    SizeList,
    Span,
    StatedCount,
)
from server.craft.text.vocabulary import plural


def count_words(
    pattern: Pattern, source: Source, group: list[Found], counts: Sequence[Count]
) -> tuple[str | None, str | None, str | None]:
    """What was stated, what was worked, and the count that would be right, in the form the text uses."""
    header = pattern.header
    span = group[0].fault.span
    item = _stated_at(pattern, span)
    by_count = {one.count: int((one.fault.worked or "0").split()[0]) for one in group}
    name = (group[0].fault.worked or "0 sts").split(" ", 1)[1]
    size_counts = [count for count in counts if count.size is not None]
    sizes_hit = [count for count in size_counts if count in by_count]
    stated = source.slice(source.trimmed(item.span)) if item is not None else group[0].fault.stated
    if item is None:
        right = _right_number(header, by_count, size_counts, None)
        words = source.slice(source.trimmed(span))
        whole = f"{words.rstrip(' .')}. [{right} {name}]" if right else None
        return stated, group[0].fault.worked, whole
    values: dict[Count, int] = {}
    for count in counts:
        if count in by_count:
            values[count] = by_count[count]
        elif (right_value := _stated_value(header, item.number, count)) is not None:
            values[count] = right_value
    number = _right_number(header, values, size_counts, item.number)
    if len(size_counts) > 1 and sizes_hit and all(count in values for count in size_counts):
        numbers = [values[count] for count in size_counts]
        shown = _list_words(numbers) if len(set(numbers)) > 1 else str(numbers[0])
        worked = f"{shown} {name}"
    else:
        worked = group[0].fault.worked or ""
        if isinstance(item.number, SizeList | Formula) and not sizes_hit:
            stated = group[0].fault.stated
    mend = None
    instead = {dict(one.fault.values).get("instead", "") for one in group}
    if not any(values.values()):
        # none of it is there: the number may be right for another stitch
        only = instead.pop() if len(instead) == 1 else ""
        number_words = source.slice(source.trimmed(item.number.span))
        return stated, worked, f"{number_words} {plural(only)}" if only else None
    if number is not None:
        mend = f"{number} {_noun_words(source, item)}".rstrip()
        mend = None if mend == " ".join((stated or "").split()) else mend
    return stated, worked, mend


def number_before(
    header: Header, words: str, values: dict[Count, int], counts: Sequence[Count]
) -> str | None:
    """Those words with their number before them, one for each size where they differ; None where none is."""
    sizes = [count for count in counts if count.size is not None]
    by_size = SizeList((0,) * len(sizes)) if len({values.get(count) for count in sizes}) > 1 else None
    number = _right_number(header, values, sizes, by_size)
    plain = re.sub(r"^(?:1|one|a|an)\s+", "", words, flags=re.IGNORECASE)
    return f"{number} {plain}" if number else None


def _noun_words(source: Source, item: StatedCount) -> str:
    """The words behind the number, as they were written."""
    return " ".join(source.text[item.number.span.end : item.span.end].split())


def _stated_at(pattern: Pattern, span: Span) -> StatedCount | None:
    for section in pattern.sections:
        for line in section.lines:
            if isinstance(line, RoundLine) and isinstance(line.stated, CountLine):
                for item in line.stated.items:
                    if item.span == span:
                        return item
    return None


def _stated_value(header: Header, number: Number, count: Count) -> int | None:
    try:
        return Numbering(header, count).value(number, is_foundation=True)
    except NotWhole:
        return None


def _right_number(
    header: Header, values: dict[Count, int], size_counts: Sequence[Count], as_written: Number | None
) -> str | None:
    """The right number, as a list where a list was written and one serves, else as a line in N."""
    if not values:
        return None
    if len(set(values.values())) == 1 and not isinstance(as_written, SizeList):
        single = str(next(iter(values.values())))
        if not (len(header.foundations) == 1 and int(single) == header.foundations[0] and len(values) > 1):
            return single
    by_foundation = {
        count.foundation: value for count, value in values.items() if count.foundation is not None
    }
    by_n = all(
        by_foundation.get(count.foundation, value) == value
        for count, value in values.items()
        if count.foundation is not None
    )
    line = formula(by_foundation) if by_n else None
    at_sizes = [values[count] for count in size_counts if count in values]
    if isinstance(as_written, SizeList) and len(at_sizes) == len(as_written.values):
        return _list_words(at_sizes)
    if line is not None and len(by_foundation) > 1:
        return line
    if len(at_sizes) == len(header.sizes):
        return _list_words(at_sizes)
    return None


def _list_words(numbers: Sequence[int]) -> str:
    return written(SizeList(tuple(numbers))) if len(numbers) > 1 else str(numbers[0])
