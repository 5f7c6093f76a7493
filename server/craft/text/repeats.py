"""Reads a round's instructions in order, with their repeats: `*…; rep from *`, `[…] 6 times`."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from server.craft.text import rules
from server.craft.text.betweens import in_pairs
from server.craft.text.cursor import Cursor, Unread
from server.craft.text.for_sizes import sizes_named
from server.craft.text.further import and_across, and_in, from_on, with_space
from server.craft.text.how_often import Often, ending, how_often
from server.craft.text.instructions import IGNORED, inline, instruction
from server.craft.text.lexer import Token
from server.craft.text.numbers import plus
from server.craft.text.oval import name_other_side, to_other_side
from server.craft.text.picots import closed_on_stitch
from server.craft.text.places import place
from server.craft.text.prose import STARS, passes_prose
from server.craft.text.remarks import last_again, pass_remarks, tells_only
from server.craft.text.some_sizes import only_here, some
from server.craft.text.tree import (
    Instruction,
    Plain,
    Repeat,
    Span,
    Work,
)

OTHER = ("other", "second", "2nd", "opposite", "left", "right")
"""`Repeat for the other side`: what is said of another piece or edge."""
ONLY_SOME = ("only", "size", "sizes", "if", "omit")
"""Words that make a bracket more than a remark: it would say that something is not for all."""

CLOSERS = {"(": ")", "[": "]", "{": "}"}


@dataclass(slots=True)
class _Star:
    mark: str
    item: int
    token: int
    closed: int | None = None  # items up to here, after a closing mark


@dataclass(slots=True)
class Sequence:
    """What was read so far of a round, or of the inside of a bracket."""

    items: list[Instruction] = field(default_factory=list)
    stars: list[_Star] = field(default_factory=list)
    sound: bool = True


def sequence(cursor: Cursor, close: str = "") -> Sequence:
    """Reads up to the closing bracket (left standing), or to the end of the line.

    What does not read becomes a finding and is passed up to the next comma: each fault is one finding.
    """
    read = Sequence()
    while not cursor.done:
        if close and cursor.is_punct(close):
            break
        if cursor.punct(",", ";", ".", ":", "-", "--", "&", "+", "!"):
            continue
        if to_other_side(cursor, read.items) or pass_remarks(cursor) or last_again(cursor, read.items):
            continue
        if _leads_on(cursor):
            continue
        start = cursor.at
        try:
            _step(cursor, read)
            name_other_side(cursor, read.items, start)
        except Unread as complaint:
            _report(cursor, read, complaint)
            _pass_clause(cursor, start)
    for star in read.stars if read.sound else ():  # else its repeat may stand in what does not read
        mark = cursor.tokens[star.token]
        cursor.context.findings.append(rules.NO_REPEAT.at(cursor.context.source, mark.span))
        read.sound = False
    return read


def _pass_clause(cursor: Cursor, start: int) -> None:
    """Goes on behind the clause that begins at `start` and has all that was taken: brackets are whole."""
    end = cursor.clause_end(start)
    while end < min(cursor.at, len(cursor.tokens)):
        end = cursor.clause_end(end + 1)
    cursor.at = max(end, start + 1)


def _leads_on(cursor: Cursor) -> bool:
    """Takes a word that only leads on; `next` does where a comma follows."""
    if cursor.is_word("next") and not cursor.is_punct(",", ahead=1):
        return False
    return cursor.word(*IGNORED)


def _report(cursor: Cursor, read: Sequence, complaint: Unread) -> None:
    cursor.context.findings.append(
        rules.UNREAD.at(cursor.context.source, complaint.span, expected=complaint.expected, near="")
    )
    read.sound = False


def _step(cursor: Cursor, read: Sequence) -> None:
    token = cursor.peek()
    if passes_prose(cursor):
        return
    if (only := only_here(cursor)) is not None:
        _for_some(cursor, read, only)
    elif token.kind == "punct" and token.value in STARS:
        _star(cursor, read)
    elif cursor.is_word("rep"):
        _rep(cursor, read)
    elif token.kind == "punct" and token.value in CLOSERS:
        read.items.extend(_bracket(cursor, read))
    elif token.kind == "punct" and token.value in (")", "]", "}"):
        cursor.take()
        cursor.context.findings.append(rules.STRAY.at(cursor.context.source, token.span))
        cursor.at = cursor.clause_end(cursor.at)
        read.sound = False
    else:
        made = instruction(cursor)
        if made is not None:
            read.items.append(made)
            closed_on_stitch(cursor, read.items)
            with_space(cursor, read.items, made)
            and_across(cursor, read.items, made)
            and_in(cursor, read.items, made)
            from_on(cursor, read.items, made)


def _star(cursor: Cursor, read: Sequence) -> None:
    mark = cursor.take()
    opened = next(
        (star for star in reversed(read.stars) if star.mark == mark.value and star.closed is None), None
    )
    if opened is None or not _closes(cursor):
        read.stars.append(_Star(mark.value, len(read.items), cursor.at - 1))
        return
    opened.closed = len(read.items)
    back = cursor.at
    cursor.punct(",", ";")
    if cursor.is_word("rep"):
        return
    cursor.at = back
    often = how_often(cursor)
    if often is None:
        raise cursor.unread("how often: `around`, or a number of times", mark.span)
    _repeat_from(cursor, read, opened, often, total=True)


def _closes(cursor: Cursor) -> bool:
    """Whether a second mark closes the text rather than opening another."""
    ahead = 1 if cursor.is_punct(",", ";", ".") else 0
    if cursor.is_word("rep", "around", "across", "to", "until", ahead=ahead):
        return True
    if cursor.is_word("each", ahead=ahead) and "way" in (
        cursor.peek(ahead + 1).value,
        cursor.peek(ahead + 2).value,
    ):
        return True  # `all the way around`
    after = cursor.peek(ahead)
    return (after.kind == "num" and cursor.is_word("times", "more", ahead=ahead + 1)) or cursor.is_word(
        "x", "twice", ahead=ahead
    )


def _rep(cursor: Cursor, read: Sequence) -> None:
    """`rep from * around`, `repeat from ** to * 5 times more`, `rep to end`."""
    start = cursor.at
    cursor.take()
    if cursor.is_word("for", "on") and any(cursor.is_word(*OTHER, ahead=ahead) for ahead in (1, 2, 3)):
        cursor.at = cursor.clause_end(cursor.at)
        return
    cursor.word("from")
    cursor.skip_words(("the", "first", "between", "instructions"))
    mark = cursor.take().value if cursor.is_punct(*STARS) else None
    back = cursor.at
    if (cursor.word("to", "and") or mark is not None) and cursor.is_punct(*STARS):
        cursor.take()
    else:
        cursor.at = back
    star = _opened(read, mark)
    often_at = cursor.at
    often = how_often(cursor)
    if star is None:
        _without_star(cursor, read, mark, often, start)
        return
    if often is None and not (cursor.done or cursor.peek().kind == "punct"):
        _repeat_from(cursor, read, star, Often(around=True), total=False)
        raise cursor.unread("how often: `around`, `4 times more` or `to last 2 sts`")
    if often is None:
        span = cursor.since(start)
        cursor.context.findings.append(
            rules.REPEAT_UNSAID.at(cursor.context.source, span, mend=_with(cursor, span, " around"))
        )
        often = Often(around=True)
    if often.times is not None and not often.more:
        _warn_more(cursor, often_at, often)
    _repeat_from(cursor, read, star, often, total=False)


def _with(cursor: Cursor, span: Span, more: str) -> str:
    return cursor.context.source.slice(cursor.context.source.trimmed(span)) + more


def _opened(read: Sequence, mark: str | None) -> _Star | None:
    if mark is None:
        return read.stars[-1] if read.stars else None
    return next((star for star in reversed(read.stars) if star.mark == mark), None)


def _without_star(cursor: Cursor, read: Sequence, mark: str | None, often: Often | None, start: int) -> None:
    """`rep around` with no star: behind a bracket that did not say how often, or a fault."""
    last = read.items[-1] if read.items else None
    if mark is None and isinstance(last, Repeat) and last.times == Plain(1) and often is not None:
        read.items[-1] = replace(
            last, times=often.times, around=often.around, to_last=often.to_last, omitting=often.omitting
        )
        return
    span = cursor.since(start)
    cursor.context.findings.append(rules.NO_STAR.at(cursor.context.source, span, mark=mark or "*"))
    read.sound = False


def _warn_more(cursor: Cursor, often_at: int, often: Often) -> None:
    assert often.times is not None
    end = often_at
    while end < cursor.at and cursor.tokens[end].value not in ("times", "time", "once", "twice", "x"):
        end += 1
    span = cursor.tokens[often_at].span.to(cursor.tokens[min(end, len(cursor.tokens) - 1)].span)
    words = cursor.context.source.slice(span)
    cursor.context.findings.append(
        rules.REPEAT_MORE.at(
            cursor.context.source, span, mend=f"{words} more", more=words, mend_words=f"{words} more"
        )
    )


def _repeat_from(cursor: Cursor, read: Sequence, star: _Star, often: Often, *, total: bool) -> None:
    end = star.closed if star.closed is not None else len(read.items)
    body, after = tuple(read.items[star.item : end]), read.items[end:]
    span = cursor.since(star.token)
    times = often.times if often.times is None or total else plus(often.times, 1)
    read.stars = [other for other in read.stars if other is not star and other.item < star.item]
    if not body:
        if not read.sound:
            return  # what was to be repeated does not read, and is found there
        raise cursor.unread("something to repeat", span)
    omitting = often.omitting or (ending(cursor, body) if often.around else ())
    made = Repeat(body, times, often.around, often.to_last, omitting, "star", span)
    read.items[star.item :] = [made, *after]


def _bracket(cursor: Cursor, read: Sequence) -> list[Instruction]:
    """`[…] 6 times`, `(…) around`, `(dc, ch 1, dc) in next st`, or a remark in brackets."""
    start = cursor.at
    close = CLOSERS[cursor.peek().value]
    end = _matching(cursor, start)
    if end is None:
        cursor.context.findings.append(
            rules.UNCLOSED.at(cursor.context.source, cursor.peek().span, expected=close)
        )
        read.sound = False
        cursor.at = len(cursor.tokens)
        return []
    inside = cursor.tokens[start + 1 : end]
    if read.items and tells_only(inside) and not _often_ahead(cursor, end + 1):
        cursor.at = end + 1
        return []
    if not any(
        token.kind in ("stitch", "group", "num", "N") or token.value in ("ch", "sk", "inc", "dec")
        for token in inside
    ):
        cursor.at = end + 1
        if any(token.kind == "word" and token.value in ONLY_SOME for token in inside):
            span = cursor.since(start)
            only = sizes_named(cursor.context.source.slice(span), cursor.context.size_names)
            if only is not None:
                if read.items and (cursor.done or cursor.is_punct(",", ";", ".")):
                    return [some(cursor, (read.items.pop(),), only, span)]
                _for_some(cursor, read, (only, span))
                return []
            raise cursor.unread("the same for every size, with a number for each, such as `2 (2, 3)`", span)
        return []
    after = cursor.tokens[end + 1] if end + 1 < len(cursor.tokens) else None
    if (
        after is not None
        and after.kind == "word"
        and after.value in ("in", "between", "blo", "flo")
        and _only_stitches(inside)
    ):
        made = inline(cursor)
        cursor.word("all")
        cursor.word("in")
        where = place(cursor)
        return [in_pairs(cursor, Work(made, Plain(1), where, cursor.since(start)))]
    return [_bracket_repeat(cursor, start, end, read)]


def _often_ahead(cursor: Cursor, at: int) -> bool:
    """Whether it says how often there, or where: then what stands in the bracket is worked."""
    ahead = at - cursor.at
    return cursor.peek(ahead).kind == "num" or cursor.is_word(
        "around", "across", "in", "x", "twice", "to", "rep", "blo", "flo", "until", "once", ahead=ahead
    )


def _for_some(cursor: Cursor, read: Sequence, only: tuple[tuple[int, ...], Span]) -> None:
    """What stands behind `large only`: the next instruction, or all of the bracket that it opens."""
    sizes, span = only
    if cursor.is_punct("(", "[", "{") and (end := _matching(cursor, cursor.at)) is not None:
        opened = cursor.tokens[cursor.at + 1].span
        if opened.start == span.start:
            close = CLOSERS[cursor.take().value]
            cursor.take_before(span.end)
            inner = sequence(cursor, close)
            read.sound = read.sound and inner.sound
            cursor.at = end + 1
            read.items.append(some(cursor, tuple(inner.items), sizes, span))
            return
    before = len(read.items)
    _step(cursor, read)
    made = tuple(read.items[before:])
    if made:
        read.items[before:] = [some(cursor, made, sizes, span)]


def _only_stitches(inside: list[Token]) -> bool:
    """Whether a bracket names nothing but stitches and chains: then it goes in one place as a whole."""
    return not any(token.kind == "word" and token.value in ("in", "sk", "join", "turn") for token in inside)


def _matching(cursor: Cursor, start: int) -> int | None:
    depth = 0
    for at in range(start, len(cursor.tokens)):
        token = cursor.tokens[at]
        if token.kind == "punct" and token.value in "([{":
            depth += 1
        elif token.kind == "punct" and token.value in (")", "]", "}"):
            depth -= 1
            if depth == 0:
                return at
    return None


def _bracket_repeat(cursor: Cursor, start: int, end: int, read: Sequence) -> Repeat:
    close = CLOSERS[cursor.take().value]
    inner = sequence(cursor, close)
    read.sound = read.sound and inner.sound
    cursor.at = end + 1
    back = cursor.at
    cursor.punct(",", ";")
    if cursor.word("rep"):
        cursor.word("from")
        often = how_often(cursor)
    else:
        cursor.at = back
        often = how_often(cursor)
    span = cursor.since(start)
    if not inner.items and inner.sound:
        raise cursor.unread("something to work inside the bracket", span)
    if often is None:
        cursor.at = back
        cursor.context.findings.append(
            rules.REPEAT_UNSAID.at(cursor.context.source, span, mend=_with(cursor, span, " around"))
        )
        read.sound = False
        often = Often(times=Plain(1))
    return Repeat(
        tuple(inner.items), often.times, often.around, often.to_last, often.omitting, "bracket", span
    )
