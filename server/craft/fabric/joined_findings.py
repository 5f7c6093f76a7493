"""Joins faults met at many counts to findings: one for one fault, with the counts it holds for."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import replace

from server.craft.fabric.consequences import without_consequences
from server.craft.fabric.editing import edited
from server.craft.fabric.faults import Found
from server.craft.fabric.mended_counts import count_words, number_before
from server.craft.fabric.numbering import Count
from server.craft.text import rules
from server.craft.text.findings import CountKey, Finding
from server.craft.text.reader import Reading
from server.craft.text.rules import Rule
from server.craft.text.source import Source
from server.craft.text.tree import (
    Header,
    Pattern,
    Span,
)


def findings_of(
    reading: Reading,
    found: Sequence[Found],
    counts: Sequence[Count],
    varying: Collection[Span],
    *,
    workable: bool,
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
    odd_sizes = {key for one in reading.findings if one.code == "not-a-multiple" for key in one.foundations}
    if odd_sizes and odd_sizes.issuperset(pattern.header.foundations):
        # the multiple is none of the pattern's: what goes wrong at its counts says nothing
        found = [one for one in found if one.count.size is not None or one.fault.rule is rules.TOO_LARGE]
    merged: dict[tuple[str, Span], list[Found]] = {}
    for one in found:
        if one.count.foundation in odd_sizes and one.fault.rule is not rules.TOO_LARGE:
            continue
        merged.setdefault((one.fault.rule.code, one.fault.span), []).append(one)
    worked = [
        _finding(pattern, source, group, counts, varying)
        for group in without_consequences(merged.values(), counts)
    ]
    errors = {one.line for one in (*read_findings, *worked) if one.is_error}
    asked = [one for one in edited(pattern, source) if workable and not (one.kind == "count" and errors)]
    together = [*read_findings, *worked, *asked]
    unique = {(one.code, one.line, one.column, one.words): one for one in reversed(together)}
    return tuple(sorted(unique.values(), key=lambda one: (one.line, one.column, one.code)))


def _finding(
    pattern: Pattern, source: Source, group: list[Found], counts: Sequence[Count], varying: Collection[Span]
) -> Finding:
    header = pattern.header
    affected = list(dict.fromkeys(one.count for one in group))
    affected.sort(key=lambda count: (count.foundation or 0, count.size or 0))
    keys = list(dict.fromkeys(count.key(header) for count in affected))
    group = sorted(
        group, key=lambda one: (one.count.size is None, one.count.foundation or 0, one.count.size or 0)
    )
    first = group[0].fault
    values = dict(first.values)
    where = _where(header, affected, counts)
    values["where"] = where
    values["counts"] = _some_keys(keys)
    if "how" in values and len({dict(one.fault.values)["how"] for one in group}) > 1:
        values["how"] = f"at {_said(header, group[0].count)} {values['how']}"
    if "nearest" in values:
        values["nearest"] = _nearest_closing(affected, counts)
    stated, worked_words, mend = first.stated, first.worked, first.mend
    if first.rule is rules.COUNT_WRONG:
        stated, worked_words, mend = count_words(pattern, source, group, counts)
        values["instead"] = f", and {mend}" if mend and values["instead"] else ""
        if any(span.start <= first.span.start < span.end for span in varying):
            mend = None
    if first.rule is rules.EVENLY_UNSAID:
        words = source.slice(source.trimmed(first.span))
        each = {one.count: int(dict(one.fault.values)["many"]) for one in group}
        mend = number_before(header, words, each, counts)
        values["mend_words"] = mend or f"… {words}"
    if first.rule is rules.NEXT_AT_HEAD:
        words = source.slice(source.trimmed(first.span))
        mend = values["mend_words"] = re.sub(
            r"\b(?:next|following|foll)\b", "first", words, count=1, flags=re.I
        )
        mend = mend if mend != words else None
    finding = _formatted(first.rule, source, first.span, values, stated, worked_words, mend)
    return replace(finding, foundations=tuple(keys) if first.rule is not rules.TOO_LARGE else ())


def _formatted(
    rule: Rule,
    source: Source,
    span: Span,
    values: dict[str, str],
    stated: str | None,
    worked: str | None,
    mend: str | None,
) -> Finding:
    trimmed = source.trimmed(span)
    line, column = source.line_column(trimmed.start)
    words = source.slice(trimmed)
    short = " ".join(words.split())
    shown = short if len(short) <= 80 else short[:77] + "…"
    message = rule.message.format(**{**values, "words": shown, "stated": stated, "worked": worked})
    return Finding(
        rule.severity, rule.code, rule.kind, line, column, words, message, (), stated, worked, mend
    )


def _where(header: Header, affected: Sequence[Count], counts: Sequence[Count]) -> str:
    """Which counts a finding holds for, in words; nothing where it holds for all."""
    if len(affected) == len(counts):
        return ""
    sizes = [header.sizes[count.size] for count in affected if count.size is not None]
    customs = [count.foundation for count in affected if count.size is None and count.foundation is not None]
    all_sizes = sum(count.size is not None for count in counts)
    if sizes and len(sizes) == all_sizes:
        first = next(count for count in affected if count.size is not None)
        return " at every size" if len(sizes) > 1 else f" at {_said(header, first)}"
    if sizes:
        return f" at {_listed(sizes)}"
    if len(customs) > 1:
        return f" at custom counts such as {customs[0]}"
    return f" at {customs[0]} chains" if customs else ""


def _said(header: Header, count: Count) -> str:
    """A count in words: its size's name where the text has one, else its chains."""
    if count.size is not None and (header.line("Sizes") is not None or count.foundation is None):
        return header.sizes[count.size]
    return f"{count.foundation} chains"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _some_keys(keys: Sequence[CountKey]) -> str:
    words = [str(key) for key in keys[:3]]
    if len(keys) <= 4:
        return _listed([str(key) for key in keys])
    return f"{', '.join(words)} and {len(keys) - 3} more counts"


def _nearest_closing(affected: Sequence[Count], counts: Sequence[Count]) -> str:
    """The allowed counts that would close, next below and above the first one that does not."""
    first = affected[0].foundation
    closing = [
        count.foundation for count in counts if count not in set(affected) and count.foundation is not None
    ]
    if first is None or not closing:
        return ""
    near = [
        max((n for n in closing if n < first), default=None),
        min((n for n in closing if n > first), default=None),
    ]
    words = [str(n) for n in near if n is not None]
    return f" Nearest that come out even: {' or '.join(words)} chains." if words else ""
