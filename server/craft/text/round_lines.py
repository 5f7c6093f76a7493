"""Reads one line of a section: a round with its label, text and count; an end; words for the maker."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Literal

from server.craft.text import rules
from server.craft.text.again import Again, again, next_number, upto
from server.craft.text.betweens import NEXT_TWO
from server.craft.text.blocks import (
    CHAIN_LEAD,
    NOTE,
    STARTS_INSTRUCTION,
    Block,
    begins_chain,
    sizes_before_label,
)
from server.craft.text.counts import split_count
from server.craft.text.cursor import Context, Cursor, Unread
from server.craft.text.endings import all_around, as_joined, into_ring
from server.craft.text.for_sizes import sizes_named
from server.craft.text.labels import read_label, until_words
from server.craft.text.lexer import MOST_DEEP, Token, tokens, too_deep
from server.craft.text.numbers import plus, written
from server.craft.text.repeats import sequence
from server.craft.text.tails import Tail, own_tail
from server.craft.text.tree import (
    CountLine,
    Ending,
    Header,
    Instruction,
    Label,
    Line,
    Note,
    Number,
    Plain,
    Repeat,
    RoundLine,
    Span,
    Work,
)

UNTIL_WORDS = re.compile(r",?\s*\b(?:until|till|to the|to fit|for pattern)\b", re.IGNORECASE)
NOT_SOUND = ("list-length", "no-n", "unread")


@dataclass(frozen=True, slots=True)
class Before:
    """The lines with rounds before a line: in its own section, and in the section before."""

    here: tuple[RoundLine, ...]
    earlier: tuple[RoundLine, ...]

    @property
    def lines(self) -> tuple[RoundLine, ...]:
        """Those of its own section; of the one before where it has none yet."""
        return self.here or self.earlier


def read_line(block: Block, context: Context, header: Header, before: Before) -> Line:
    """A block of the body as a line."""
    text = context.source.slice(block.span)
    if block.kind == "note":
        return Note(" ".join(NOTE.sub("", text, count=1).split()), block.span)
    if block.kind == "ending":
        return Ending(" ".join(text.split()), block.span)
    if block.kind in ("loose", "sizes") and not (STARTS_INSTRUCTION.match(text) or begins_chain(text)):
        return _loose(block, context, text, after_round=bool(before.lines))
    return _Round(block, context, header, before).read()


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


class _Round:
    """One round line being read."""

    def __init__(self, block: Block, context: Context, header: Header, before: Before) -> None:
        self.block, self.context, self.header, self.before = block, context, header, before
        self.sound = True
        self.only: tuple[int, ...] | None = None

    def read(self) -> RoundLine:
        """The round, as far as it reads."""
        context, block = self.context, self.block
        found = tokens(context.source.text, self._without_sizes(), context.lexicon)
        if (deep := too_deep(found)) is not None:
            self._unread(Unread(deep, f"brackets at most {MOST_DEEP} deep in one another"))
            span = context.source.trimmed(block.span)
            return RoundLine(None, (), None, None, sound=False, span=span, body_span=span)
        cursor = Cursor(found, context)
        label = self._label(cursor) if block.kind in ("round", "step") else None
        if block.kind == "first":
            label = Label("Row" if context.rows else "Rnd", Plain(1), span=block.span)
        known = len(context.findings)
        rest, stated = split_count(found[cursor.at :], context)
        if self._found(known, "count-unread", *NOT_SOUND):
            stated = None
        known = len(context.findings)
        body_span = rest[0].span.to(rest[-1].span) if rest else block.span
        line = self._again(rest, label, stated, body_span)
        if line is None:
            label, before_tail = self._tail(rest, label)
            if stated is None and len(before_tail) < len(rest):
                before_tail, stated = split_count(before_tail, context)
            rest = before_tail
            items = self._items(rest, label, asked=stated is None)
            line = RoundLine(label, items, None, stated)
        if self._found(known, *NOT_SOUND):
            self.sound = False
        if line.label is not None and line.label.span in context.for_sizes:
            self.only = context.for_sizes[line.label.span]
        span = context.source.trimmed(block.span)
        return replace(line, sound=self.sound, only=self.only, span=span, body_span=body_span)

    def _found(self, known: int, *codes: str) -> bool:
        return any(one.code in codes for one in self.context.findings[known:])

    def _unread(self, complaint: Unread) -> None:
        finding = rules.UNREAD.at(self.context.source, complaint.span, expected=complaint.expected, near="")
        self.context.findings.append(finding)
        self.sound = False

    def _without_sizes(self) -> Span:
        """The line without `Large only:` before its label, which is kept."""
        span, source = self.block.span, self.context.source
        text = source.slice(span)
        if self.block.kind == "loose" and (lead := CHAIN_LEAD.match(text)):
            return Span(span.start + lead.end(), span.end)
        before = sizes_before_label(text) if self.block.kind == "round" else 0
        if not before:
            return span
        words = Span(span.start, span.start + before)
        named = sizes_named(source.slice(words), self.context.size_names)
        if named is None:
            names = " or ".join(f"`{name} only:`" for name in self.context.size_names[:3])
            self._unread(Unread(words, f"the name of a size, such as {names}"))
        elif len(named) < len(self.context.size_names):
            self.only = named
        return Span(words.end, span.end)

    def _label(self, cursor: Cursor) -> Label | None:
        try:
            following = next_number(self.before.here)
            return read_label(cursor, rows=self.context.rows, following=following)
        except Unread as complaint:
            self._unread(complaint)
            return None

    def _items(self, rest: list[Token], label: Label | None, *, asked: bool) -> tuple[Instruction, ...]:
        known = len(self.context.findings)
        read = sequence(Cursor(rest, self.context))
        items = into_ring(as_joined(tuple(read.items), self.header, label))
        around = all_around(items, label)
        if asked:
            self._ask_lone(items, around)
            self._ask_pairs(items)
        items = around
        self.sound = self.sound and read.sound
        if not items and self.sound and len(self.context.findings) == known:
            span = label.span if label else self.block.span
            self.context.findings.append(rules.EMPTY_ROUND.at(self.context.source, span))
            self.sound = False
        return items

    def _ask_lone(self, items: tuple[Instruction, ...], around: tuple[Instruction, ...]) -> None:
        """Asks where a stitch stands alone, with no count: `Rnd 4: sc.` may have lost its other words."""
        lone = next((item for item in items if item not in around), None)
        if not isinstance(lone, Work) or lone.place is not None:
            return
        source, way = self.context.source, "across" if self.context.rows else "around"
        words = f"{source.slice(source.trimmed(lone.span))} in each st {way}"
        finding = rules.LONE_STITCH.at(source, lone.span, mend=words, mend_words=words, around=way)
        self.context.findings.append(finding)

    def _ask_pairs(self, items: tuple[Instruction, ...]) -> None:
        """Asks for the count of a round with `2 dc between next 2 dc`, which may be said of every gap too."""
        for item in items:
            if isinstance(item, Repeat):
                self._ask_pairs(item.body)
            elif isinstance(item, Work) and item.place is not None and item.place.pairs:
                source = self.context.source
                words = source.slice(source.trimmed(item.span))
                sure = NEXT_TWO.sub("between next pair of", words)
                if sure != words:
                    self.context.findings.append(
                        rules.BETWEEN_PAIRS.at(source, item.span, mend=sure, mend_words=sure)
                    )

    # --- rounds whose text is another's, and how far a text goes --------------------------------------------

    def _again(
        self, rest: list[Token], label: Label | None, stated: CountLine | None, body_span: Span
    ) -> RoundLine | None:
        """The line, where it says to work other rounds again, or to work even."""
        try:
            found = again(rest, self.context, self.before.lines)
        except Unread as complaint:
            self._unread(complaint)
            return RoundLine(label, (), None, stated)
        if found is None:
            return None
        label = self._reaching(found, label, body_span)
        return RoundLine(label, found.body, found.repeats, stated)

    def _reaching(self, found: Again, label: Label | None, body_span: Span) -> Label:
        """The label with as many rounds as the words say."""
        tail, turns = found.tail, len(found.repeats.rounds) if found.repeats else 1
        if label is None:
            first, word = next_number(self.before.here), "Row" if self.context.rows else "Rnd"
            last = upto(first, tail.rounds or Plain(turns))
            made = Label("Row" if word == "Row" else "Rnd", first, last, tail.until, span=body_span)
            if tail.until is not None:
                text = self.context.source.slice(body_span)
                self._ask_how_many(made, body_span, " " + UNTIL_WORDS.split(text, maxsplit=1)[0])
            return made
        if tail.rounds is not None and label.last is None:
            label = replace(label, last=upto(label.first, tail.rounds))
        return self._until(label, tail)

    def _tail(self, rest: list[Token], label: Label | None) -> tuple[Label | None, list[Token]]:
        """The label with what `rep this rnd 4 more times` or `until …` says; the text without."""
        if label is not None and label.foundation:
            return label, rest
        try:
            found = own_tail(rest, self.context)
        except Unread as complaint:
            self._unread(complaint)
            return label, rest
        if found is None:
            return label, rest
        at, tail = found
        if label is None:
            if tail.rounds is None or tail.until is not None:
                return label, rest
            first, span = next_number(self.before.here), rest[0].span.to(rest[-1].span)
            word: Literal["Rnd", "Row"] = "Row" if self.context.rows else "Rnd"
            return Label(word, first, upto(first, tail.rounds), span=span), rest[:at]
        if tail.rounds is not None and label.last is None:
            label = replace(label, last=upto(label.first, tail.rounds))
        return self._until(label, tail), rest[:at]

    def _until(self, label: Label, tail: Tail) -> Label:
        if tail.until is None or label.until is not None:
            return label
        label = replace(label, until=tail.until)
        if label.last is None and isinstance(label.first, Plain):
            self._ask_how_many(label, label.span, "")
        return label

    def _ask_how_many(self, label: Label, span: Span, text: str) -> None:
        """Asks for the number of rounds of a line to fit that has none."""
        last: Number = label.last if label.last is not None else plus(label.first, 1)
        until = until_words(label.until or "")
        head = f"{label.word}s {written(label.first)} to {written(last)}, or {until}:{text}"
        many = "one is taken" if label.last is None else "one of each is taken"
        shown = head if len(head) < 90 else head[:87] + "…"
        finding = rules.FIT_UNSAID.at(self.context.source, span, mend=head, many=many, mend_words=shown)
        self.context.findings.append(finding)
