"""Reads round labels: `Rnd 1:`, `Rnds 2 to 5 (5, 6), or to the base of the thumb:`, `Foundation row:`."""

from __future__ import annotations

import re

from server.craft.text import rules
from server.craft.text.cursor import Cursor
from server.craft.text.numbers import number
from server.craft.text.tree import Label, Number, Plain, Span

LABEL_START = re.compile(
    r"^[\s*_>-]*(?:(?:rounds?|rnds?|rds?|rows?)\b\.?\s*#?\s*\d|r\s?\d+\b(?!\w)\s*(?:[:.,(–—-]|to\b|and\b|&)"
    r"|foundation\s+(?:rnd|round|row|chain|ch|rd)\b\s*[:.–—-]?|foundation\s*[:.]"
    r"|(?:rnd|round|row)\s+foundation\b)",
    re.IGNORECASE,
)
FIT_WORDS = re.compile(r"\s*,?\s*\(?\s*or\s+(?:until|till|to|for as long as|as many as)\s+", re.IGNORECASE)
SIDE = re.compile(r"\s*\((?![^()]*\b(?:only|sizes?)\b)[^()\d]*\)(?=\s*[:.–—-])", re.IGNORECASE)
"""A remark in a label, such as `(RS)` or `(increase round)`; one that is for some sizes only is none."""
TERMINATOR = re.compile(r"\s*\)?\s*[:.–—-]+")


def starts_with_label(line: str) -> bool:
    """Whether a line begins a round of its own."""
    return LABEL_START.match(line) is not None


def read_label(cursor: Cursor, *, rows: bool) -> Label:
    """The label at the cursor, its terminator taken. Raises Unread where its numbers do not read."""
    start = cursor.at
    while cursor.is_punct("*", "**", "-", ">", "_"):
        cursor.take()
    if cursor.word("foundation"):
        word = cursor.take() if cursor.is_word("rnd", "ch", "row") else None
        raw = cursor.context.source.slice(word.span).lower() if word else ""
        kind = "Row" if raw.startswith("row") or (rows and raw not in ("rnd", "round", "rd")) else "Rnd"
        cursor.punct(":", ".", "-", "--")
        return Label("Row" if kind == "Row" else "Rnd", Plain(0), foundation=True, span=cursor.since(start))
    head = cursor.take()
    many = cursor.context.source.slice(head.span).lower().rstrip(".").endswith("s")
    cursor.punct(".", "#")
    first = number(cursor)
    if first is None:
        raise cursor.unread("a number after the label, such as `Rnd 1:`", cursor.since(start))
    last = _last(cursor, first, many)
    until = _until(cursor)
    _end(cursor)
    label = Label("Row" if rows else "Rnd", first, last, until, span=cursor.since(start))
    if isinstance(first, Plain) and isinstance(last, Plain) and last.value < first.value:
        cursor.context.findings.append(rules.ROUNDS_BACKWARD.at(cursor.context.source, label.span))
    return label


def _last(cursor: Cursor, first: Number, many: bool) -> Number | None:
    back = cursor.at
    if cursor.word("to", "through", "thru", "and", "until") or cursor.punct("&", "–"):
        last = number(cursor)
        if last is None:
            cursor.at = back
        return last
    if (
        cursor.is_punct("-", "--")
        and cursor.peek(1).kind == "num"
        and (many or cursor.peek().glued or cursor.is_punct(":", ".", ahead=2))
    ):
        cursor.take()
        return number(cursor)
    if many and cursor.is_punct(",") and isinstance(first, Plain):
        return _listed(cursor, first)
    return None


def _listed(cursor: Cursor, first: Plain) -> Number | None:
    """`Rnds 2, 3 and 4`: numbers one after another."""
    back, last = cursor.at, first.value
    while cursor.punct(",", "&") or cursor.word("and"):
        cursor.word("and")
        if cursor.peek().kind == "num" and cursor.peek().number == last + 1:
            last = cursor.take().number
            continue
        break
    if last == first.value:
        cursor.at = back
        return None
    return Plain(last, first.span)


def _until(cursor: Cursor) -> str | None:
    """`, or to the base of the thumb`: the words, up to the colon."""
    if cursor.done:
        return None
    source = cursor.context.source
    rest = Span(cursor.peek().span.start, cursor.tokens[-1].span.end)
    match = FIT_WORDS.match(source.text, rest.start, rest.end)
    if not match:
        return None
    end = source.text.find(":", match.end(), rest.end)
    if end < 0:
        raise cursor.unread("`:` behind the words that say how far", rest)
    cursor.take_before(end)
    return " ".join(source.text[match.end() : end].split()).rstrip(" )")


def _end(cursor: Cursor) -> None:
    """Passes `(RS)` and the sign that ends a label."""
    if cursor.done:
        return
    source = cursor.context.source
    at = cursor.peek().span.start
    end = cursor.tokens[-1].span.end
    if side := SIDE.match(source.text, at, end):
        at = side.end()
    if stop := TERMINATOR.match(source.text, at, end):
        at = stop.end()
    cursor.take_before(at)
