"""Joins faults met at many counts to findings: one for one fault, with the counts it holds for."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from server.craft.fabric.faults import Fault
from server.craft.fabric.numbering import Count
from server.craft.text import rules
from server.craft.text.findings import CountKey, Finding
from server.craft.text.numbers import line_in_n, written
from server.craft.text.reader import Reading
from server.craft.text.rules import Rule
from server.craft.text.source import Source
from server.craft.text.tree import CountLine, Formula, Header, Number, Pattern, Plain, RoundLine, SizeList, Span, StatedCount
from server.craft.fabric.formulas import formula


@dataclass(frozen=True, slots=True)
class Found:
    """A fault at one count, in one section (-1: in the piece as a whole)."""

    count: Count
    section: int
    fault: Fault


def findings_of(
    reading: Reading, found: Sequence[Found], counts: Sequence[Count], varying: Collection[Span], *, workable: bool
) -> tuple[Finding, ...]:
    """All findings of a pattern, in the order of the text.

    varying: lines whose rounds differ from one to the next, for which no one count can be the mend.
    """
    pattern = reading.pattern
    source = Source(pattern.source)
    keys = tuple(count.key(pattern.header) for count in counts)
    read_findings = [
        replace(one, foundations=keys) if one.kind == "syntax" else one
        for one in reading.findings
        if workable or one.code != "list-length"
    ]
    odd_sizes = {one.foundations[0] for one in reading.findings if one.code == "not-a-multiple"}
    merged: dict[tuple[str, Span], list[Found]] = {}
    for one in found:
        if one.count.foundation in odd_sizes and one.fault.rule is not rules.TOO_LARGE:
            continue
        merged.setdefault((one.fault.rule.code, one.fault.span), []).append(one)
    worked = [_finding(pattern, source, group, counts, varying) for group in merged.values()]
    kept = _without_consequences(pattern, merged, worked, bool(found))
    together = [*read_findings, *kept]
    unique = {(one.code, one.line, one.column, one.words): one for one in reversed(together)}
    return tuple(sorted(unique.values(), key=lambda one: (one.line, one.column, one.code)))


def _without_consequences(
    pattern: Pattern, merged: dict[tuple[str, Span], list[Found]], worked: list[Finding], _any: bool
) -> list[Finding]:
    """Without the warnings about lists in a section that has an error: the list may be the fault itself."""
    with_errors = {
        one.section for group in merged.values() for one in group if one.fault.rule.severity == "error"
    }
    large = any(group[0].fault.rule is rules.TOO_LARGE for group in merged.values())
    kept: list[Finding] = []
    for group, finding in zip(merged.values(), worked, strict=True):
        rule = group[0].fault.rule
        if rule is rules.OFF_LINE and group[0].section in with_errors:
            continue
        if large and rule is not rules.TOO_LARGE and rule.severity == "error" and finding.code == "count-wrong":
            continue
        kept.append(finding)
    return kept


def _finding(
    pattern: Pattern, source: Source, group: list[Found], counts: Sequence[Count], varying: Collection[Span]
) -> Finding:
    header = pattern.header
    affected = list(dict.fromkeys(one.count for one in group))
    keys = sorted({count.key(header) for count in affected}, key=str if not header.foundations else None)  # type: ignore[arg-type, type-var]  # one kind of key
    group = sorted(group, key=lambda one: (one.count.size is None, one.count.foundation or 0, one.count.size or 0))
    first = group[0].fault
    values = dict(first.values)
    where = _where(header, affected, counts)
    values["where"] = where
    values["counts"] = _some_keys(keys)
    if "nearest" in values:
        values["nearest"] = _nearest_closing(header, affected, counts)
    stated, worked_words, mend = first.stated, first.worked, first.mend
    if first.rule is rules.COUNT_WRONG:
        stated, worked_words, mend = _count_words(pattern, source, group, counts)
        if any(span.start <= first.span.start < span.end for span in varying):
            mend = None
    finding = _formatted(first.rule, source, first.span, values, stated, worked_words, mend)
    return replace(finding, foundations=tuple(keys) if first.rule is not rules.TOO_LARGE else ())


def _formatted(
    rule: Rule, source: Source, span: Span, values: dict[str, str], stated: str | None, worked: str | None, mend: str | None
) -> Finding:
    trimmed = source.trimmed(span)
    line, column = source.line_column(trimmed.start)
    words = source.slice(trimmed)
    short = " ".join(words.split())
    shown = short if len(short) <= 80 else short[:77] + "…"
    message = rule.message.format(**{**values, "words": shown, "stated": stated, "worked": worked})
    return Finding(rule.severity, rule.code, rule.kind, line, column, words, message, (), stated, worked, mend)


def _where(header: Header, affected: Sequence[Count], counts: Sequence[Count]) -> str:
    """Which counts a finding holds for, in words; nothing where it holds for all."""
    if len(affected) == len(counts):
        return ""
    sizes = [header.sizes[count.size] for count in affected if count.size is not None]
    customs = [count.foundation for count in affected if count.size is None and count.foundation is not None]
    all_sizes = sum(count.size is not None for count in counts)
    if sizes and len(sizes) == all_sizes:
        return " at every size" if len(sizes) > 1 else f" at {sizes[0]}"
    if sizes:
        return f" at {_listed(sizes)}"
    return f" at custom counts such as {customs[0]}" if len(customs) > 1 else f" at {customs[0]} chains" if customs else ""


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _some_keys(keys: Sequence[CountKey]) -> str:
    words = [str(key) for key in keys[:3]]
    return _listed(words) + (f" and {len(keys) - 3} more counts" if len(keys) > 3 else "")


def _nearest_closing(header: Header, affected: Sequence[Count], counts: Sequence[Count]) -> str:
    """The allowed counts that would close, next below and above the first one that does not."""
    first = affected[0].foundation
    closing = [count.foundation for count in counts if count not in set(affected) and count.foundation is not None]
    if first is None or not closing:
        return ""
    near = [max((n for n in closing if n < first), default=None), min((n for n in closing if n > first), default=None)]
    words = [str(n) for n in near if n is not None]
    return f" Nearest that come out even: {' or '.join(words)} chains." if words else ""


# --- stated counts -------------------------------------------------------------------------------------------------


def _count_words(
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
        values = {c: v for c, v in by_count.items()}
        right = _right_number(header, values, size_counts, None)
        words = source.slice(source.trimmed(span))
        return stated, group[0].fault.worked, f"{words.rstrip(' .')}. [{right} {_many(name)}]" if right else None
    values = {}
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
        worked = group[0].fault.worked
        if isinstance(item.number, SizeList | Formula) and not sizes_hit:
            stated = group[0].fault.stated
    mend = None
    if number is not None:
        written_noun = _noun_words(source, item)
        mend = f"{number}{' ' + _fit(written_noun, number) if written_noun else ''}"
    return stated, worked, mend


def _fit(noun: str, number: str) -> str:
    return noun


def _many(name: str) -> str:
    return name


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
    from server.craft.fabric.numbering import Numbering, NotWhole

    try:
        return Numbering(header, count).value(number, is_foundation=True)
    except NotWhole:
        return None


def _right_number(header: Header, values: dict[Count, int], size_counts: Sequence[Count], as_written: Number | None) -> str | None:
    """The right number, as a list where a list was written and one serves, else as a line in N."""
    if not values:
        return None
    if len(set(values.values())) == 1 and not isinstance(as_written, SizeList):
        single = str(next(iter(values.values())))
        if not (len(header.foundations) == 1 and int(single) == header.foundations[0] and len(values) > 1):
            return single
    by_foundation = {count.foundation: value for count, value in values.items() if count.foundation is not None}
    line = formula(by_foundation)  # type: ignore[arg-type]  # no None among the keys
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


def plain(number: int) -> Plain:
    """A number as written."""
    return Plain(number)


__all__ = ["Found", "findings_of", "line_in_n"]
