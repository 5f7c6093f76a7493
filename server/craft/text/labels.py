"""Reads round labels: `Rnd 1:`, `Rnds 2 to 5 (5, 6), or to the base of the thumb:`, `Foundation row:`."""

from __future__ import annotations

import re

from server.craft.text import rules
from server.craft.text.cursor import Cursor, Spread
from server.craft.text.for_sizes import SAYS_ONLY, sizes_named
from server.craft.text.numbers import number, plus
from server.craft.text.tree import Label, Number, Plain, SizeList, Span

ONE = Plain(1)
LABEL_START = re.compile(
    r"^[^\w(\[{#]*(?:(?:rounds?|rnds?|rds?|rows?)\b\.?\s*#?\s*\d|r\s?\d+\b(?!\w)\s*(?:[:.;,()–—-]|to\b|and\b|&)"
    r"|\d+(?:st|nd|rd|th)\s*(?:(?:to|and|&|[-–])\s*\d+(?:st|nd|rd|th)\s+)?(?:rounds?|rnds?|rds?|rows?)\b\.?\s*[:)–—-]"
    r"|\d+(?:st|nd|rd|th)\s+(?:rounds?|rnds?|rds?|rows?)\b\.\s*(?=[*(\dA-Z])"
    r"|foundation\s+(?:rnd|round|row|chain|ch|rd)\b\s*[:.–—-]?|foundation\s*[:.]"
    r"|(?:(?:all|every|each)\s+(?:the\s+)?)?(?:odd|even)(?:[\s-]*number(?:ed)?)?\s+(?:rounds?|rnds?|rds?|rows?)\b"
    r"|(?:next|last|final|following)\s+(?:\d{1,3}\s+(?:[(\[][\d,\s/-]+[)\]]\s*)?)?(?:rounds?|rnds?|rds?|rows?)\b\s*(?:\([^()\d]*\)\s*)?[:.)–—-]"
    r"|(?:rnd|round|row)\s+foundation\b)",
    re.IGNORECASE,
)
FIT_WORDS = re.compile(
    r"\s*,?\s*\(?\s*(?:or\s+(?:until|till|to|for as long as|as many as)|until|till)\s+", re.IGNORECASE
)
CLAUSES = re.compile(
    r"^(?:it|you|they|she|he|there|all)\b|\b(?:is|are|measures?|reach(?:es)?|fits?|has|have|covers?|meets?)\b",
    re.IGNORECASE,
)
"""What follows `or until`; anything else is a place, after `or to`."""
SIDE = re.compile(r"\s*\((?![^()]*\b(?:only|sizes?)\b)[^()\d]*\)(?=\s*[:.–—-])", re.IGNORECASE)
"""A remark in a label, such as `(RS)` or `(increase round)`; one that is for some sizes only is none."""
TERMINATOR = re.compile(r"\s*\)?\s*[:.–—-]+|\s*[);](?!\w)")


def starts_with_label(line: str) -> bool:
    """Whether a line begins a round of its own."""
    match = LABEL_START.match(line)
    if match is None:
        return False
    # `… in each` / `foundation ch around`: a line broken before those words begins nothing
    return not match[0].lstrip().startswith("foundation") or match[0].rstrip().endswith(":")


def read_label(cursor: Cursor, *, rows: bool, following: Number = ONE) -> Label:
    """The label at the cursor, its terminator taken. Raises Unread where its numbers do not read.

    following   the number that `Next rnd:` has
    """
    start = cursor.at
    while cursor.peek().kind == "punct" and not cursor.done:
        cursor.take()
    if (parity := _parity(cursor)) is not None:
        return _every_other(cursor, parity, start, rows=rows)
    if cursor.word("foundation"):
        word = cursor.take() if cursor.is_word("rnd", "ch", "row") else None
        raw = cursor.context.source.slice(word.span).lower() if word else ""
        kind = "Row" if raw.startswith("row") or (rows and raw not in ("rnd", "round", "rd")) else "Rnd"
        cursor.punct(":", ".", "-", "--")
        return Label("Row" if kind == "Row" else "Rnd", Plain(0), foundation=True, span=cursor.since(start))
    if cursor.context.by_steps and cursor.peek().kind == "num":
        step = Plain(cursor.take().number)
        upto: Number | None = None
        if (cursor.punct("-") or cursor.word("to")) and cursor.peek().kind == "num":
            upto = Plain(cursor.take().number)
        cursor.punct(".", ")")
        return Label("Row" if rows else "Rnd", step, upto, span=cursor.since(start))
    if cursor.peek().kind == "ord":
        return _ordinal(cursor, start, rows=rows)
    if cursor.is_word("next", "last", "final"):
        return _following(cursor, start, following, rows=rows)
    head = cursor.take()
    many = cursor.context.source.slice(head.span).lower().rstrip(".").endswith("s")
    many = many or (cursor.is_punct(",", ahead=1) and cursor.peek(2).kind == "num" and cursor.peek(2).glued)
    cursor.punct(".", "#")
    first = number(cursor)
    if first is None:
        raise cursor.unread("a number after the label, such as `Rnd 1:`", cursor.since(start))
    last, how = _last(cursor, first, many), None
    if isinstance(first, Plain) and isinstance(last, Plain):
        first, last = _ranges_by_size(cursor, first, last)
    if isinstance(first, Plain):
        how = _not_in_a_row(cursor, first.value, last) if many or not cursor.is_punct(",") else None
    for_whom = _for_sizes(cursor)
    until = _until(cursor)
    _end(cursor)
    label = Label("Row" if rows else "Rnd", first, last, until, span=cursor.since(start))
    if how is not None:
        cursor.context.spread[label.span] = how
    if for_whom is not None:
        cursor.context.for_sizes[label.span] = for_whom
    if isinstance(first, Plain) and isinstance(last, Plain) and last.value < first.value:
        cursor.context.findings.append(rules.ROUNDS_BACKWARD.at(cursor.context.source, label.span))
    return label


def _following(cursor: Cursor, start: int, following: Number, *, rows: bool) -> Label:
    """`Next rnd:`, `Last round.`, `Next 4 rnds:`, `Next 10 (12, 14) rnds:`."""
    cursor.take()
    many = number(cursor)
    cursor.word("rnd")
    until = _until(cursor)
    _end(cursor)
    last: Number | None = None
    if isinstance(many, Plain):
        last = plus(following, many.value - 1) if 1 < many.value <= 400 else None
    elif isinstance(many, SizeList):
        before = (
            following.values if isinstance(following, SizeList) else (_plain(following),) * len(many.values)
        )
        last = SizeList(
            tuple(one + begins - 1 for one, begins in zip(many.values, before, strict=False)), many.absent
        )
    return Label("Row" if rows else "Rnd", following, last, until, span=cursor.since(start))


def _plain(number: Number) -> int:
    return number.value if isinstance(number, Plain) else 1


def _ordinal(cursor: Cursor, start: int, *, rows: bool) -> Label:
    """`1st round.`, `5th and 6th rounds:`, `7th to 10th rnds -`."""
    first, last = Plain(cursor.take().number), None
    if cursor.word("to", "and") or cursor.punct("&", "-"):
        if cursor.peek().kind != "ord":
            raise cursor.unread("a number such as `6th`", cursor.since(start))
        last = Plain(cursor.take().number)
    if not cursor.word("rnd"):
        raise cursor.unread("`round` behind the number, such as `1st round:`", cursor.since(start))
    until = _until(cursor)
    _end(cursor)
    label = Label("Row" if rows else "Rnd", first, last, until, span=cursor.since(start))
    if last is not None and last.value < first.value:
        cursor.context.findings.append(rules.ROUNDS_BACKWARD.at(cursor.context.source, label.span))
    return label


def _ranges_by_size(cursor: Cursor, first: Plain, last: Plain) -> tuple[Number, Number]:
    """`Rnds 15-20 (18-26)`: another range for each further size."""
    back = cursor.at
    if cursor.context.sizes > 1 and cursor.punct("(", "["):
        firsts, lasts = [first.value], [last.value]
        while cursor.peek().kind == "num" and cursor.peek(1).value in ("-", "to"):
            firsts.append(cursor.take().number)
            cursor.take()
            if cursor.peek().kind != "num":
                break
            lasts.append(cursor.take().number)
            cursor.punct(",", ";")
        if cursor.punct(")", "]") and len(firsts) == len(lasts) == cursor.context.sizes:
            span = first.span.to(last.span)
            return SizeList(tuple(firsts), span=span), SizeList(tuple(lasts), span=span)
    cursor.at = back
    return first, last


def _parity(cursor: Cursor) -> int | None:
    """`Odd rnds`, `all even-numbered rounds`: 1, 0; None for another label."""
    back = cursor.at
    cursor.skip_words(("each", "the"))
    if cursor.is_word("odd", "even"):
        parity = 1 if cursor.take().value == "odd" else 0
        cursor.punct("-")
        cursor.skip_words(("numbered", "number"))
        if cursor.word("rnd"):
            return parity
    cursor.at = back
    return None


def _every_other(cursor: Cursor, parity: int, start: int, *, rows: bool) -> Label:
    """What follows `Odd rnds`: `3-9`, `(3 to 9)`, `3, 5, 7`, `from 3 to 9`; or nothing."""
    bracket = cursor.punct("(")
    cursor.word("from")
    first = number(cursor)
    how = Spread(parity=parity, first=2 - parity)
    if isinstance(first, Plain):
        how = _not_in_a_row(cursor, first.value, None) or how
        last = None if how.numbers else _last(cursor, first, many=True)
        if isinstance(last, Plain):
            how = Spread(_steps(first.value, last.value, parity))
        elif not how.numbers:
            how = Spread(parity=parity, first=first.value)
    if bracket:
        cursor.punct(")")
    _end(cursor)
    begins = how.numbers[0] if how.numbers else how.first
    label = Label("Row" if rows else "Rnd", Plain(begins), span=cursor.since(start))
    cursor.context.spread[label.span] = how
    return label


def _steps(first: int, last: int, parity: int) -> tuple[int, ...]:
    return tuple(at for at in range(first, min(last, first + 400) + 1) if at % 2 == parity)


def _not_in_a_row(cursor: Cursor, first: int, last: Number | None) -> Spread | None:
    """`, 5, 7 and 9`; `(even)`, `odd rnds only`; `and all even rnds`, `and every other rnd`."""
    back = cursor.at
    if isinstance(last, Plain):
        bracket = cursor.punct("(") or cursor.punct(",")
        cursor.skip_words(("all", "each", "the"))
        if cursor.is_word("odd", "even"):
            parity = 1 if cursor.take().value == "odd" else 0
            while cursor.is_word("rnd", "only", "numbers", "numbered") or cursor.is_punct("-"):
                cursor.take()
            if bracket:
                cursor.punct(")")
            return Spread(_steps(first, last.value, parity))
        cursor.at = back
        return None
    numbers = [first]
    while cursor.punct(",", "&") or cursor.word("and"):
        cursor.word("and")
        if cursor.peek().kind != "num" or cursor.peek().number <= numbers[-1]:
            break
        numbers.append(cursor.take().number)
    if len(numbers) > 1 and cursor.peek(-1).kind == "num":
        return Spread(tuple(numbers)) if len(numbers) <= 400 else None
    cursor.at = back
    if cursor.word("and") and cursor.word("each"):
        cursor.skip_words(("the", "next"))
        if cursor.word("other") or cursor.word("even" if first % 2 == 0 else "odd"):
            cursor.punct("-")
            cursor.skip_words(("numbered", "next"))
            if cursor.word("rnd"):
                return Spread(parity=first % 2, first=first)
    cursor.at = back
    return None


def _for_sizes(cursor: Cursor) -> tuple[int, ...] | None:
    """`(large only)`, `for sizes M and L` behind a label's numbers; passes those words."""
    names = cursor.context.size_names
    back = cursor.at
    at = cursor.at
    while at < len(cursor.tokens) and at < back + 16:
        token = cursor.tokens[at]
        if token.kind == "punct" and token.value in (":", ".") and at > back:
            break
        at += 1
        if token.value in (")", "]"):
            break
    if at == back or len(names) < 2:
        return None
    source = cursor.context.source
    words = source.slice(cursor.tokens[back].span.to(cursor.tokens[at - 1].span))
    only = sizes_named(words, names) if SAYS_ONLY.search(words) else None
    if only is not None:
        cursor.at = at
    return only


def _last(cursor: Cursor, first: Number, many: bool) -> Number | None:
    back = cursor.at
    if cursor.word("to", "through", "thru", "and", "until") or cursor.punct("&", "–"):
        if cursor.is_word("r", "rnd") and cursor.peek(1).kind == "num":
            cursor.take()
        last = number(cursor)
        if last is None:
            cursor.at = back
        return last
    if cursor.is_punct("-", "--") and cursor.is_word("r", "rnd", ahead=1) and cursor.peek(2).kind == "num":
        cursor.at += 2
        return number(cursor)
    if (
        cursor.is_punct("-", "--")
        and cursor.peek(1).kind == "num"
        and (many or cursor.peek().glued or cursor.is_punct(":", ".", ahead=2))
    ):
        cursor.take()
        if cursor.is_punct("(", "[", ahead=1) and cursor.is_punct("-", ahead=3):
            return Plain(cursor.peek().number, cursor.take().span)
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
        if cursor.peek().kind == "num":
            last = first.value  # numbers that are not one after another
        break
    if last == first.value:
        cursor.at = back
        return None
    return Plain(last, first.span)


def until_words(until: str) -> str:
    """ "until it fits", "to the base of the thumb"."""
    return f"{'until' if CLAUSES.search(until) else 'to'} {until}"


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
