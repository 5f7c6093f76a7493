"""Reads a whole pattern: text to tree, with findings. It never raises, whatever the text."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import pairwise

from server.craft.text import rules
from server.craft.text.counts import split_count
from server.craft.text.cursor import Context, Cursor, Unread
from server.craft.text.header import HeaderReader, header_key
from server.craft.text.labels import read_label, starts_with_label
from server.craft.text.lexer import Lexicon, Token, tokens
from server.craft.text.near import with_nearest
from server.craft.text.reading import Reading as Reading
from server.craft.text.references import named_section, referenced
from server.craft.text.repeats import sequence
from server.craft.text.source import Source
from server.craft.text.special import DEFAULTS
from server.craft.text.tree import (
    Ending,
    FastenOff,
    Header,
    Instruction,
    Join,
    JoinYarn,
    Label,
    Line,
    NoJoin,
    Note,
    Pattern,
    Plain,
    RepeatRounds,
    RoundLine,
    Section,
    SectionKind,
    Span,
    SpecialStitch,
    Turn,
    Work,
)

NOTE = re.compile(r"^\s*notes?\s*[:.–—-]", re.IGNORECASE)
ENDING = re.compile(r"^\s*(?:fasten|finish|tie)\s+off\b", re.IGNORECASE)
YARN = re.compile(
    r"^\s*(?:re-?)?(?:join|attach)\s+(?:the\s+|new\s+|your\s+)*(?:yarn|colou?r|mc|cc)\b", re.IGNORECASE
)
SECTION = re.compile(r"^\s*#+\s*(?P<title>.*?)\s*#*\s*$")
FOUNDATION_CHAIN = re.compile(r"^\s*(?:ch|chain|fsc)\s+(?:\d|N\b)", re.IGNORECASE)
PLAIN_HEADING = re.compile(r"^[\s*_]*[^\W\d][^\d.;,=\[\]]{1,40}[\s:*_]*$")
DASH = re.compile(r"\s+[-–—]+\s+|\s*[—]\s*|:\s+")
STARTS_INSTRUCTION = re.compile(
    r"^\s*(?:[*\[({]|\d+\s*(?:sc|dc|hdc|tr|htr|ch)\b"
    r"|(?:with|using|working|work|join|rejoin|attach|ch|chain|sc|dc|hdc|htr|tr|dtr|sl\s?st|slip|ss|sk"
    r"|skip|miss|rep|repeat|turn|make|magic|fsc|in|insert|2\s)\b)",
    re.IGNORECASE,
)
MAX_CHARACTERS = 200_000


@dataclass(slots=True)
class _Block:
    """A line with what goes on from it below."""

    kind: str  # "section", "round", "ending", "yarn", "note", "loose"
    span: Span


def read(text: str) -> Reading:
    """The tree of a pattern text, and findings for all that did not read; where
    there is one, with the nearest that does.
    """
    return with_nearest(_read(text), _read)


def _read(text: str) -> Reading:
    """One reading, without looking for what is nearest."""
    source = Source(text[:MAX_CHARACTERS])
    header_reader, blocks, prose = _split(source)
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
    _check_references(pattern, context)
    _check_numbers(pattern, context)
    ordered = sorted(context.findings, key=lambda finding: (finding.line, finding.column))
    return Reading(pattern, tuple(ordered))


def _split(source: Source) -> tuple[HeaderReader, list[_Block], list[Note]]:
    """Header lines, the blocks of the body, and the prose before the first round."""
    header = HeaderReader(source)
    blocks: list[_Block] = []
    prose: list[Note] = []
    in_body = fresh = False
    headings = _plain_headings(source)
    for line in source.lines():
        text = source.slice(line)
        if not text.strip():
            fresh = True
            continue
        kind = "section" if line.start in headings else _kind(text)
        if not in_body and header.takes_foundation(text):
            header.add(line)
            continue
        in_body = in_body or kind in ("section", "round") or FOUNDATION_CHAIN.match(text) is not None
        if not in_body:
            if not header.add(line):
                prose.append(Note(" ".join(text.split()), line))
            continue
        if kind == "loose" and not fresh and blocks and blocks[-1].kind != "section":
            blocks[-1].span = blocks[-1].span.to(line)
        else:
            blocks.append(_Block(kind, line))
        fresh = False
    return header, blocks, prose


def _plain_headings(source: Source) -> set[int]:
    """Where headings stand in a text that marks none with `#`: short lines, each right above a round."""
    lines = [line for line in source.lines() if source.slice(line).strip()]
    if any(SECTION.match(source.slice(line)) for line in lines):
        return set()
    found: set[int] = set()
    for line, after in pairwise(lines):
        text = source.slice(line)
        if (
            PLAIN_HEADING.match(text)
            and (starts_with_label(source.slice(after)) or FOUNDATION_CHAIN.match(source.slice(after)))
            and _kind(text) == "loose"
            and header_key(text) is None
            and not STARTS_INSTRUCTION.match(text)
        ):
            found.add(line.start)
    return found


def _kind(text: str) -> str:
    if SECTION.match(text):
        return "section"
    if NOTE.match(text):
        return "note"
    if ENDING.match(text):
        return "ending"
    if YARN.match(text):
        return "yarn"
    return "round" if starts_with_label(text) else "loose"


def _sections(blocks: list[_Block], context: Context, header: Header) -> tuple[Section, ...]:
    sections: list[Section] = []
    lines: list[Line] = []
    title = Section("", "", "body", ())
    seen_round = False
    for block in blocks:
        if block.kind == "section":
            if lines or title.title:
                sections.append(replace(title, lines=tuple(lines)))
            title, lines = _section_title(block, context.source), []
            continue
        line = _line(block, context, header, after_round=seen_round)
        if line is not None:
            seen_round = seen_round or isinstance(line, RoundLine)
            lines.append(line)
    if lines or title.title:
        sections.append(replace(title, lines=tuple(lines)))
    return tuple(sections)


def _section_title(block: _Block, source: Source) -> Section:
    text = source.slice(block.span)
    match = SECTION.match(text)
    words = match["title"] if match else text.strip(" *_:")
    parts = DASH.split(words, maxsplit=1)
    title, purpose = parts[0].strip(" .:"), parts[1].strip(" .") if len(parts) > 1 else ""
    return Section(title, purpose, section_kind(title, purpose), (), source.trimmed(block.span))


def section_kind(title: str, purpose: str) -> SectionKind:
    """What a section is for, from its words."""
    words = f"{title} {purpose}".lower()
    if re.search(r"\b(around|round|in|into|along|on)\b[^.]*\bgap\b", words):
        return "gap edge"
    if re.search(r"\b(in|into|along|on)\b\s+(the\s+)?(free side of (the )?)?foundation\b", words):
        return "foundation edge"
    return "gap" if re.search(r"\bgaps?\b", words) else "body"


def _line(block: _Block, context: Context, header: Header, *, after_round: bool) -> Line | None:
    text = context.source.slice(block.span)
    if block.kind == "note":
        return Note(" ".join(NOTE.sub("", text, count=1).split()), block.span)
    if block.kind == "ending":
        return Ending(" ".join(text.split()), block.span)
    if block.kind == "loose" and not STARTS_INSTRUCTION.match(text):
        return _loose(block, context, text, after_round=after_round)
    return _round(block, context, header)


def _loose(block: _Block, context: Context, text: str, *, after_round: bool) -> Line:
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


def _round(block: _Block, context: Context, header: Header) -> RoundLine:
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
    repeats = _repeat_rounds(rest, context)
    items: tuple[Instruction, ...] = ()
    if repeats is None:
        read_items = sequence(Cursor(rest, context))
        items, sound = _as_joined(tuple(read_items.items), header, label), sound and read_items.sound
        if not items and sound:
            context.findings.append(rules.EMPTY_ROUND.at(context.source, label.span if label else block.span))
            sound = False
    if any(one.code in ("list-length", "no-n", "unread") for one in context.findings[known:]):
        sound = False
    return RoundLine(label, items, repeats, stated, sound, context.source.trimmed(block.span), body_span)


def _as_joined(
    items: tuple[Instruction, ...], header: Header, label: Label | None
) -> tuple[Instruction, ...]:
    """A slip stitch into the round's first place, at its end, is the join: `sl st in top of ch-3`."""
    if header.worked == "rows" and label is not None and label.word == "Row" and not label.foundation:
        return items
    end = len(items)
    while end and isinstance(items[end - 1], Turn | FastenOff | NoJoin):
        end -= 1
    if end < 2:
        return items
    last = items[end - 1]
    if not (
        isinstance(last, Work)
        and last.stitch == "sl st"
        and last.times == Plain(1)
        and last.place is not None
    ):
        return items
    where = last.place
    if (
        where.which in ("first", "beg")
        or (where.part is not None and where.part.kind == "top")
        or (where.which == "plain" and where.part is not None and where.part.kind == "kth")
    ):
        return (*items[: end - 1], Join(where, span=last.span), *items[end:])
    return items


def _repeat_rounds(found: list[Token], context: Context) -> RepeatRounds | None:
    """`rep rnd 3 of Cuff`, `rep rnds 2 and 3`, `same as rnd 2`, `as rnd 2`."""
    cursor = Cursor(found, context)
    cursor.skip_words(("work", "same", "as", "for", "cont", "in", "foll", "next", "the"))
    cursor.word("rep")
    cursor.skip_words(("the", "last"))
    if not cursor.word("rnd") or cursor.peek().kind != "num":
        return None
    numbers = [cursor.take().number]
    while True:
        if cursor.is_punct("-", "&", ",") or cursor.is_word("to", "and", "through", "thru"):
            through = cursor.is_punct("-") or cursor.is_word("to", "through", "thru")
            back = cursor.at
            cursor.take()
            cursor.word("and")
            if cursor.peek().kind == "num" and cursor.peek().number <= 1000:
                upto = cursor.take().number
                numbers.extend(range(numbers[-1] + 1, upto + 1) if through else [upto])
                continue
            cursor.at = back
        break
    section = None
    if cursor.word("of", "from", "in"):
        cursor.skip_words(("the", "section"))
        start = cursor.at
        while not cursor.done and not cursor.is_punct(".", ";", ","):
            cursor.take()
        section = " ".join(context.source.slice(context.source.trimmed(cursor.since(start))).split())
    return RepeatRounds(tuple(numbers), section, found[0].span.to(found[-1].span))


def _check_references(pattern: Pattern, context: Context) -> None:
    """Every `rep rnd` names rounds that stand before it."""
    for index, section in enumerate(pattern.sections):
        for at, line in enumerate(section.lines):
            if isinstance(line, RoundLine) and line.repeats is not None:
                _check_reference(pattern, context, index, at, line.repeats)


def _check_reference(pattern: Pattern, context: Context, index: int, at: int, repeats: RepeatRounds) -> None:
    if repeats.section is not None and named_section(pattern, index, repeats.section) is None:
        names = [section.title for section in pattern.sections[: index + 1] if section.title]
        near = f" Sections before it: {', '.join(names)}." if names else ""
        context.findings.append(
            rules.NO_SUCH_SECTION.at(context.source, repeats.span, name=repeats.section, near=near)
        )
        return
    for wanted in repeats.rounds:
        if referenced(pattern, index, at, repeats, wanted) is None:
            context.findings.append(
                rules.NO_SUCH_ROUND.at(context.source, repeats.span, near=_rounds_before(pattern, index, at))
            )
            return


def _check_numbers(pattern: Pattern, context: Context) -> None:
    """No round's number stands twice in a section."""
    for section in pattern.sections:
        seen: set[int] = set()
        for line in section.lines:
            label = line.label if isinstance(line, RoundLine) else None
            if label is None or label.foundation or not isinstance(label.first, Plain):
                continue
            if label.first.value in seen:
                name = f"{label.word} {label.first.value}"
                context.findings.append(rules.ROUND_AGAIN.at(context.source, label.span, label=name))
            last = label.last.value if isinstance(label.last, Plain) else label.first.value
            seen.update(range(label.first.value, min(last, label.first.value + 400) + 1))


def _rounds_before(pattern: Pattern, index: int, at: int) -> str:
    labels = [
        line.label.first.value
        for line in pattern.sections[index].lines[:at]
        if isinstance(line, RoundLine)
        and line.label
        and isinstance(line.label.first, Plain)
        and line.label.first.value
    ]
    return f" The section has rounds {', '.join(map(str, labels))} before it." if labels else ""


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
