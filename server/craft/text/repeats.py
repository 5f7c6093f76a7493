"""Reads a round's instructions in order, with their repeats: `*…; rep from *`, `[…] 6 times`, `(…) around`."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from server.craft.text import rules
from server.craft.text.cursor import Cursor, Unread
from server.craft.text.instructions import IGNORED, alien, inline, instruction
from server.craft.text.lexer import Token
from server.craft.text.numbers import number, plus
from server.craft.text.places import place, to_last
from server.craft.text.tree import (
    Chain,
    FastenOff,
    FoundationStitches,
    Instruction,
    Join,
    Number,
    Place,
    Plain,
    Repeat,
    RingStart,
    Skip,
    Span,
    Turn,
    Work,
)

STARS = ("*", "**", "†", "‡")
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


@dataclass(slots=True)
class _Often:
    times: Number | None = None
    around: bool = False
    to_last: Place | None = None
    more: bool = False
    omitting: tuple[Work | Chain | Skip, ...] = ()


def sequence(cursor: Cursor, close: str = "") -> Sequence:
    """Reads up to the closing bracket (left standing), or to the end of the line.

    What does not read becomes a finding and is passed up to the next comma, so that each fault is one finding.
    """
    read = Sequence()
    while not cursor.done:
        if close and cursor.is_punct(close):
            break
        if cursor.punct(",", ";", ".", ":", "-", "--", "&", "+") or cursor.word(*_ignorable(cursor)):
            continue
        start = cursor.at
        try:
            _step(cursor, read)
        except Unread as complaint:
            _report(cursor, read, complaint)
            cursor.at = max(cursor.clause_end(max(start, min(cursor.at, len(cursor.tokens)))), start + 1)
    for star in read.stars:
        mark = cursor.tokens[star.token]
        cursor.context.findings.append(rules.NO_REPEAT.at(cursor.context.source, mark.span))
        read.sound = False
    return read


def _ignorable(cursor: Cursor) -> tuple[str, ...]:
    """Words that only lead on; `with` and `work` lead on where an instruction follows."""
    return tuple(word for word in IGNORED if word != "next" or cursor.is_punct(",", ahead=1))


def _report(cursor: Cursor, read: Sequence, complaint: Unread) -> None:
    cursor.context.findings.append(
        rules.UNREAD.at(cursor.context.source, complaint.span, expected=complaint.expected, near="")
    )
    read.sound = False


def _step(cursor: Cursor, read: Sequence) -> None:
    token = cursor.peek()
    if token.kind == "punct" and token.value in STARS:
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
            _and_in(cursor, read, made)


def _and_in(cursor: Cursor, read: Sequence, made: Instruction) -> None:
    """`sc in same st and in each st around`: the same stitch in a further place."""
    while isinstance(made, Work) and cursor.is_word("and") and cursor.is_word("in", "each", ahead=1):
        start = cursor.at
        cursor.take()
        cursor.word("in")
        made = Work(made.stitch, made.times, place(cursor), cursor.since(start))
        read.items.append(made)


def _star(cursor: Cursor, read: Sequence) -> None:
    mark = cursor.take()
    opened = next((star for star in reversed(read.stars) if star.mark == mark.value and star.closed is None), None)
    if opened is None or not _closes(cursor):
        read.stars.append(_Star(mark.value, len(read.items), cursor.at - 1))
        return
    opened.closed = len(read.items)
    back = cursor.at
    cursor.punct(",", ";")
    if cursor.is_word("rep"):
        return
    cursor.at = back
    often = _how_often(cursor)
    if often is None:
        raise cursor.unread("how often: `around`, or a number of times", mark.span)
    _repeat_from(cursor, read, opened, often, total=True)


def _closes(cursor: Cursor) -> bool:
    """Whether a second mark closes the text rather than opening another."""
    ahead = 1 if cursor.is_punct(",", ";", ".") else 0
    if cursor.is_word("rep", "around", "across", "to", "until", ahead=ahead):
        return True
    after = cursor.peek(ahead)
    return (after.kind == "num" and cursor.is_word("times", "more", ahead=ahead + 1)) or cursor.is_word(
        "x", "twice", ahead=ahead
    )


def _rep(cursor: Cursor, read: Sequence) -> None:
    """`rep from * around`, `repeat from ** to * 5 times more`, `rep to end`."""
    start = cursor.at
    cursor.take()
    cursor.word("from")
    cursor.skip_words(("the", "first", "between", "instructions"))
    mark = cursor.take().value if cursor.is_punct(*STARS) else None
    back = cursor.at
    if (cursor.word("to") or cursor.word("and")) and cursor.is_punct(*STARS):
        cursor.take()
    else:
        cursor.at = back
    star = _opened(read, mark)
    often_at = cursor.at
    often = _how_often(cursor)
    if star is None:
        _without_star(cursor, read, mark, often, start)
        return
    if often is None and not (cursor.done or cursor.peek().kind == "punct"):
        _repeat_from(cursor, read, star, _Often(around=True), total=False)
        raise cursor.unread("how often: `around`, `4 times more` or `to last 2 sts`")
    if often is None:
        span = cursor.since(start)
        cursor.context.findings.append(rules.REPEAT_UNSAID.at(cursor.context.source, span, mend=_with(cursor, span, " around")))
        often = _Often(around=True)
    if often.times is not None and not often.more:
        _warn_more(cursor, often_at, often)
    _repeat_from(cursor, read, star, often, total=False)


def _with(cursor: Cursor, span: Span, more: str) -> str:
    return cursor.context.source.slice(cursor.context.source.trimmed(span)) + more


def _opened(read: Sequence, mark: str | None) -> _Star | None:
    if mark is None:
        return read.stars[-1] if read.stars else None
    return next((star for star in reversed(read.stars) if star.mark == mark), None)


def _without_star(cursor: Cursor, read: Sequence, mark: str | None, often: _Often | None, start: int) -> None:
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


def _warn_more(cursor: Cursor, often_at: int, often: _Often) -> None:
    assert often.times is not None
    end = often_at
    while end < cursor.at and cursor.tokens[end].value not in ("times", "time", "once", "twice"):
        end += 1
    span = cursor.tokens[often_at].span.to(cursor.tokens[min(end, len(cursor.tokens) - 1)].span)
    words = cursor.context.source.slice(span)
    cursor.context.findings.append(
        rules.REPEAT_MORE.at(cursor.context.source, span, mend=f"{words} more", more=words, mend_words=f"{words} more")
    )


def _repeat_from(cursor: Cursor, read: Sequence, star: _Star, often: _Often, *, total: bool) -> None:
    end = star.closed if star.closed is not None else len(read.items)
    body, after = tuple(read.items[star.item : end]), read.items[end:]
    span = cursor.since(star.token)
    times = often.times if often.times is None or total else plus(often.times, 1)
    read.stars = [other for other in read.stars if other is not star and other.item < star.item]
    if not body:
        raise cursor.unread("something to repeat", span)
    made = Repeat(body, times, often.around, often.to_last, often.omitting, "star", span)
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
    if not any(token.kind in ("stitch", "group", "num", "N") or token.value in ("ch", "sk", "inc", "dec") for token in inside):
        cursor.at = end + 1
        return []
    after = cursor.tokens[end + 1] if end + 1 < len(cursor.tokens) else None
    if after is not None and after.kind == "word" and after.value in ("in", "blo", "flo") and _only_stitches(inside):
        made = inline(cursor)
        cursor.word("all")
        cursor.word("in") if not cursor.is_word("blo", "flo") else None
        where = place(cursor)
        return [Work(made, Plain(1), where, cursor.since(start))]
    return [_bracket_repeat(cursor, start, end, read)]


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
        often = _how_often(cursor)
    else:
        cursor.at = back
        often = _how_often(cursor)
    span = cursor.since(start)
    if not inner.items:
        raise cursor.unread("something to work inside the bracket", span)
    if often is None:
        cursor.at = back
        cursor.context.findings.append(rules.REPEAT_UNSAID.at(cursor.context.source, span, mend=_with(cursor, span, " around")))
        read.sound = False
        often = _Often(times=Plain(1))
    return Repeat(
        tuple(inner.items), often.times, often.around, often.to_last, often.omitting, "bracket", span
    )


def _how_often(cursor: Cursor) -> _Often | None:
    """`around`, `across`, `to end`, `to last 2 sts`, `5 times more`, `x 8`, `twice`; with what the last leaves out."""
    often = _rounds_or_times(cursor)
    if often is not None:
        often.omitting = _omitting(cursor)
    return often


def _rounds_or_times(cursor: Cursor) -> _Often | None:
    back = cursor.at
    if until := to_last(cursor):
        return _Often(to_last=until)
    cursor.word("all")
    cursor.skip_words(("the", "way"))
    if cursor.word("around", "across"):
        if until := to_last(cursor):
            return _Often(to_last=until)
        _pass_end(cursor)
        return _Often(around=True)
    if cursor.word("to", "until", "till") and (cursor.skip_words(("the", "you", "reach")) or True):
        if cursor.word("end", "beg"):
            _pass_end(cursor)
            return _Often(around=True)
    cursor.at = back
    return _times(cursor)


def _times(cursor: Cursor) -> _Often | None:
    back = cursor.at
    cursor.word("a")
    if cursor.word("once", "twice"):
        many: Number | None = Plain(1 if cursor.peek(-1).value == "once" else 2)
        return _Often(times=many, more=cursor.word("more"))
    if cursor.word("x") or cursor.punct("x"):
        many = number(cursor)
        if many is not None:
            return _Often(times=many, more=cursor.word("more"))
    if cursor.word("another"):
        many = number(cursor)
        if many is not None and cursor.word("times", "time"):
            return _Often(times=many, more=True)
    cursor.at = back
    many = number(cursor)
    if many is not None:
        more = cursor.word("more", "further", "additional")
        if cursor.word("times", "time", "x", "reps", "rep") or cursor.punct("x") or more:
            return _Often(times=many, more=cursor.word("more") or more)
    cursor.at = back
    return None


def _pass_end(cursor: Cursor) -> None:
    back = cursor.at
    if cursor.word("of", "to"):
        cursor.skip_words(("the", "end", "of"))
        if cursor.word("rnd"):
            return
    cursor.at = back


def _omitting(cursor: Cursor) -> tuple[Work | Chain | Skip, ...]:
    """`, omitting last sc`, `omitting last (sc, ch 1)`: what the last repeat leaves out."""
    back = cursor.at
    cursor.punct(",", ";", "(")
    if not (cursor.word("omitting", "omit") or cursor.words("leaving", "out") or cursor.words("leave", "out")):
        cursor.at = back
        return ()
    cursor.skip_words(("the", "last", "final"))
    left: list[Work | Chain | Skip] = []
    while not cursor.done and not cursor.is_punct(";", ".", ")", "]"):
        if cursor.punct(",") or cursor.word("and", "last", "the"):
            if not _item_ahead(cursor) and not cursor.is_word("last", "the"):
                break
            continue
        if cursor.is_word("on", "of", "from", "at", "in", "rep"):
            cursor.at = cursor.clause_end(cursor.at)
            break
        left.extend(_omitted_item(cursor))
        if cursor.is_punct(","):
            break
    cursor.punct(")")
    if not left:
        raise cursor.unread("what the last repeat leaves out, such as `omitting last sc`")
    return tuple(left)


def _item_ahead(cursor: Cursor) -> bool:
    return cursor.peek().kind in ("stitch", "group") or cursor.is_word("ch", "sk")


def _omitted_item(cursor: Cursor) -> list[Work | Chain | Skip]:
    start = cursor.at
    if cursor.is_punct("("):
        return [item for item in inline(cursor).items]
    if cursor.is_word("ch"):
        cursor.take()
        cursor.punct("-")
        many = number(cursor) or Plain(1)
        cursor.word("sp")
        return [Chain(many, None, cursor.since(start))]
    if cursor.is_word("sk"):
        made = instruction(cursor)
        return [made] if isinstance(made, Skip) else []
    many = number(cursor) or Plain(1)
    token = cursor.peek()
    if token.kind not in ("stitch", "group"):
        raise cursor.unread("what the last repeat leaves out, such as `omitting last sc`")
    cursor.take()
    alien(cursor, token)
    if cursor.is_word("in"):
        cursor.take()
        return [Work(token.value, many, place(cursor), cursor.since(start))]
    return [Work(token.value, many, None, cursor.since(start))]


def ends_the_round(items: tuple[Instruction, ...] | list[Instruction]) -> Literal["join", "turn", "open"]:
    """How a round's text ends."""
    for item in reversed(items):
        if isinstance(item, Turn):
            return "turn"
        if isinstance(item, Join):
            return "join"
        if not isinstance(item, FastenOff | RingStart | FoundationStitches):
            break
    return "open"
