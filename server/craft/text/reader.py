"""Reads a whole pattern: text to tree, with findings. It never raises, whatever the text."""

from __future__ import annotations

import re
from dataclasses import replace

from server.craft.text import rules
from server.craft.text.again import repeat_rounds
from server.craft.text.blocks import NOTE, STARTS_INSTRUCTION, Block, split
from server.craft.text.counts import split_count
from server.craft.text.cursor import Context, Cursor, Unread
from server.craft.text.endings import as_joined
from server.craft.text.labels import read_label
from server.craft.text.lexer import Lexicon, tokens
from server.craft.text.near import with_nearest
from server.craft.text.reading import Reading as Reading
from server.craft.text.repeats import sequence
from server.craft.text.round_numbers import check_numbers, check_references
from server.craft.text.source import Source
from server.craft.text.special import DEFAULTS
from server.craft.text.titles import section_title
from server.craft.text.tree import (
    Ending,
    Header,
    Instruction,
    JoinYarn,
    Label,
    Line,
    Note,
    Pattern,
    RoundLine,
    Section,
    Span,
    SpecialStitch,
)

MAX_CHARACTERS = 200_000


def read(text: str) -> Reading:
    """The tree of a pattern text, and findings for all that did not read; where
    there is one, with the nearest that does.
    """
    return with_nearest(_read(text), _read)


def _read(text: str) -> Reading:
    """One reading, without looking for what is nearest."""
    source = Source(text[:MAX_CHARACTERS])
    header_reader, blocks, prose = split(source)
    header = header_reader.header()
    groups = {one.name: one for one in (*DEFAULTS, *header.special)}
    context = Context(
        source, header.terms, len(header.sizes), Lexicon(header.terms, tuple(groups.values())), groups,
        rows=header.worked == "rows", has_n=bool(header.foundations) or header.line("Foundation") is None,
    )  # fmt: skip
    context.findings.extend(header_reader.findings)
    sections = _sections(blocks, context, header)
    pattern = Pattern(header, sections, tuple(prose), text)
    if not any(isinstance(line, RoundLine) for section in sections for line in section.lines):
        context.findings.append(rules.NO_ROUNDS.at(source, Span(0, 0)))
    check_references(pattern, context)
    check_numbers(pattern, context)
    ordered = sorted(context.findings, key=lambda finding: (finding.line, finding.column))
    return Reading(pattern, tuple(ordered))


def _sections(blocks: list[Block], context: Context, header: Header) -> tuple[Section, ...]:
    sections: list[Section] = []
    lines: list[Line] = []
    title = Section("", "", "body", ())
    seen_round = False
    for block in blocks:
        if block.kind == "section":
            if lines or title.title:
                sections.append(replace(title, lines=tuple(lines)))
            title, lines = section_title(block, context.source), []
            continue
        line = _line(block, context, header, after_round=seen_round)
        if line is not None:
            seen_round = seen_round or isinstance(line, RoundLine)
            lines.append(line)
    if lines or title.title:
        sections.append(replace(title, lines=tuple(lines)))
    return tuple(sections)


def _line(block: Block, context: Context, header: Header, *, after_round: bool) -> Line | None:
    text = context.source.slice(block.span)
    if block.kind == "note":
        return Note(" ".join(NOTE.sub("", text, count=1).split()), block.span)
    if block.kind == "ending":
        return Ending(" ".join(text.split()), block.span)
    if block.kind == "loose" and not STARTS_INSTRUCTION.match(text):
        return _loose(block, context, text, after_round=after_round)
    return _round(block, context, header)


def _loose(block: Block, context: Context, text: str, *, after_round: bool) -> Line:
    """A paragraph that is no round: words for the maker before the first
    round, afterwards something to look at.
    """
    words = " ".join(text.split())
    if after_round:
        found = tokens(context.source.text, block.span, context.lexicon)
        worked = sum(token.kind in ("stitch", "group") or token.value in ("ch", "sk") for token in found)
        first = context.source.trimmed(block.span)
        mark = Span(first.start, min(first.end, first.start + 60))
        rule = (
            rules.UNREAD_LINE if worked >= 2 or re.match(r"^\W*\w+\W*\d+\s*:", text) else rules.READ_AS_NOTE
        )
        slice_ = context.source.slice(mark)
        context.findings.append(rule.at(context.source, mark, mend=f"Note: {slice_}"))
    return Note(words, block.span)


def _round(block: Block, context: Context, header: Header) -> RoundLine:
    found = tokens(context.source.text, block.span, context.lexicon)
    cursor = Cursor(found, context)
    label: Label | None = None
    sound = True
    if block.kind == "round":
        try:
            label = read_label(cursor, rows=context.rows)
        except Unread as complaint:
            context.findings.append(
                rules.UNREAD.at(context.source, complaint.span, expected=complaint.expected, near="")
            )
            sound = False
    known = len(context.findings)
    rest, stated = split_count(found[cursor.at :], context)
    if any(one.code in ("list-length", "count-unread", "unread", "no-n") for one in context.findings[known:]):
        stated = None
    known = len(context.findings)
    body_span = rest[0].span.to(rest[-1].span) if rest else block.span
    repeats = repeat_rounds(rest, context)
    items: tuple[Instruction, ...] = ()
    if repeats is None:
        read_items = sequence(Cursor(rest, context))
        items, sound = as_joined(tuple(read_items.items), header, label), sound and read_items.sound
        if not items and sound:
            context.findings.append(rules.EMPTY_ROUND.at(context.source, label.span if label else block.span))
            sound = False
    if any(one.code in ("list-length", "no-n", "unread") for one in context.findings[known:]):
        sound = False
    return RoundLine(label, items, repeats, stated, sound, context.source.trimmed(block.span), body_span)


def special_stitches(pattern: Pattern) -> dict[str, SpecialStitch]:
    """All groups and special stitches that hold in a pattern, the standing ones included."""
    return {one.name: one for one in (*DEFAULTS, *pattern.header.special)}


def joins_yarn(line: RoundLine) -> bool:
    """Whether a round without a label only joins yarn, and so sets the hook for the next round."""
    return (
        line.label is None
        and len(line.body) == 1
        and isinstance(line.body[0], JoinYarn)
        and line.body[0].stitch == "sl st"
    )
