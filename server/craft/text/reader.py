"""Reads a whole pattern: text to tree, with findings. It never raises, whatever the text."""

from __future__ import annotations

import re
from dataclasses import replace

from server.craft.text import rules
from server.craft.text.blocks import Block, split
from server.craft.text.cursor import Context
from server.craft.text.edges import with_edges
from server.craft.text.endings import begins_from_hook, parted
from server.craft.text.for_sizes import sizes_heading
from server.craft.text.lexer import Lexicon
from server.craft.text.marks import without_marks
from server.craft.text.near import with_nearest
from server.craft.text.reading import Reading as Reading
from server.craft.text.round_lines import Before, read_line
from server.craft.text.round_numbers import check_numbers, check_references
from server.craft.text.source import Source
from server.craft.text.special import DEFAULTS
from server.craft.text.spread import spread
from server.craft.text.standing import with_standing
from server.craft.text.thumbs import names_opening, with_thumb
from server.craft.text.titles import by_its_text, section_title
from server.craft.text.tree import (
    Header,
    JoinYarn,
    Line,
    Pattern,
    Plain,
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
    source = Source(without_marks(text[:MAX_CHARACTERS]))
    header_reader, blocks, prose = split(source)
    header = header_reader.header()
    groups = {one.name: one for one in (*DEFAULTS, *header.special)}
    context = Context(
        source, header.terms, len(header.sizes), Lexicon(header.terms, tuple(groups.values())), groups,
        rows=header.worked == "rows", has_n=bool(header.foundations) or header.line("Foundation") is None,
        size_names=header.sizes, foundations=header.foundations,
        by_steps=any(block.kind == "step" for block in blocks),
    )  # fmt: skip
    context.findings.extend(header_reader.findings)
    parts = with_thumb(_sections(blocks, context, header), source, spiral=header.worked == "spiral")
    sections = with_standing(tuple(with_edges(one, context) for one in parts), prose, context)
    pattern = Pattern(header, sections, tuple(prose), text)
    if not any(isinstance(line, RoundLine) for section in sections for line in section.lines):
        context.findings.append(rules.NO_ROUNDS.at(source, Span(0, 0)))
    check_references(pattern, context)
    if not context.by_steps:
        check_numbers(pattern, context)
    _not_asked_at_the_end(pattern, context)
    ordered = sorted(context.findings, key=lambda finding: (finding.line, finding.column))
    return Reading(pattern, tuple(ordered))


def _not_asked_at_the_end(pattern: Pattern, context: Context) -> None:
    """Words behind the last round can be nothing but words: nobody is asked whether they are."""
    ends = [
        line.span.end for section in pattern.sections for line in section.lines if isinstance(line, RoundLine)
    ]
    if ends:
        last = context.source.line(max(ends))
        context.findings[:] = [
            one for one in context.findings if one.code != rules.READ_AS_NOTE.code or one.line <= last
        ]


def _sections(blocks: list[Block], context: Context, header: Header) -> tuple[Section, ...]:
    sections: list[Section] = []
    lines: list[Line] = []
    title = Section("", "", "body", ())
    only: tuple[int, ...] | None = None
    before: list[RoundLine] = []
    on_rows = context.rows
    for block in blocks:
        if block.kind == "section":
            if lines or title.title:
                sections.append(replace(title, lines=tuple(spread(lines, context))))
            title, lines, only = section_title(block, context.source), [], None
            before = [
                line for one in sections[-1:] for line in one.lines if isinstance(line, RoundLine)
            ] or before
            continue
        if block.kind == "sizes":
            named = sizes_heading(context.source.slice(block.span), context.size_names)
            if named is not None:
                only = None if len(named) == len(context.size_names) else named
                continue
        here = [one for one in lines if isinstance(one, RoundLine)]
        line = read_line(block, context, header, Before(tuple(here), tuple(before)))
        if isinstance(line, RoundLine) and line.only is None:
            line = replace(line, only=only)
        if isinstance(line, RoundLine) and (here or before):
            text = context.source.slice(block.span)
            anew = bool(line.body) and isinstance(line.body[0], JoinYarn)
            edge = by_its_text(replace(title, title="", purpose="") if here else title, text, on_rows=on_rows)
            if edge.kind != "body" and not here:
                title = edge
            elif edge.kind not in ("body", title.kind) and (
                anew or (edge.kind == "row ends" and (_first(line) or _rounds_begin(line, here, context)))
            ):
                sections.append(replace(title, lines=tuple(spread(lines, context))))
                title, lines = replace(edge, span=line.span), []
            elif anew and here and title.kind == "body" and names_opening(text):
                sections.append(replace(title, lines=tuple(spread(lines, context))))
                title, lines = Section("Thumb", "", "body", (), line.span), []
        if isinstance(line, RoundLine):
            on_rows = title.kind == "body" and (on_rows or begins_from_hook(line.body))
        lines.extend(parted(line, header, first=not here and not before))
    if lines or title.title:
        sections.append(replace(title, lines=tuple(spread(lines, context))))
    return tuple(sections)


def _first(line: RoundLine) -> bool:
    """Whether rounds are counted anew from this one."""
    return line.label is not None and not line.label.foundation and line.label.first == Plain(1)


def _rounds_begin(line: RoundLine, before: list[RoundLine], context: Context) -> bool:
    """Whether rows are called so before it, and this one is called a round."""
    labels = [one.label for one in (*before[-1:], line)]
    if any(label is None for label in labels):
        return False
    rows = [re.search(r"\brows?\b", context.source.slice(one.span), re.IGNORECASE) for one in labels if one]
    return rows[0] is not None and rows[-1] is None


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
