"""Reads how often a text is repeated: `around`, `5 times more`, `to last 2 sts, omitting last sc`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from server.craft.text.cursor import Cursor, Unread
from server.craft.text.instructions import inline, instruction
from server.craft.text.left import to_last
from server.craft.text.numbers import number
from server.craft.text.places import place
from server.craft.text.terms import alien
from server.craft.text.tree import Chain, Instruction, Number, Place, Plain, Skip, Work


@dataclass(slots=True)
class Often:
    """How often a text is repeated.

    more       `5 times more`: the first one is not among them
    omitting   what the last repeat leaves out
    """

    times: Number | None = None
    around: bool = False
    to_last: Place | None = None
    more: bool = False
    omitting: tuple[Work | Chain | Skip, ...] = ()


def how_often(cursor: Cursor) -> Often | None:
    """`around`, `across`, `to end`, `to last 2 sts`, `5 times more`, `x 8`,
    `twice`; with what the last leaves out.
    """
    often = _rounds_or_times(cursor)
    if often is not None:
        often.omitting = _omitting(cursor)
    return often


def _rounds_or_times(cursor: Cursor) -> Often | None:
    back = cursor.at
    if until := to_last(cursor):
        return Often(to_last=until)
    if cursor.is_word("each") and "way" in (cursor.peek(1).value, cursor.peek(2).value):
        cursor.take()  # `all the way around`
    cursor.skip_words(("the", "way"))
    if cursor.word("around", "across"):
        if until := to_last(cursor):
            return Often(to_last=until)
        _pass_end(cursor)
        return Often(around=True)
    if cursor.word("to", "until", "till"):
        cursor.skip_words(("the", "you", "reach"))
        if cursor.word("end", "beg"):
            _pass_end(cursor)
            return Often(around=True)
    cursor.at = back
    return _times(cursor)


def _times(cursor: Cursor) -> Often | None:
    back = cursor.at
    cursor.word("a")
    if cursor.word("one"):
        more = cursor.word("more", "further")
        if cursor.word("time"):
            return Often(times=Plain(1), more=more)
        cursor.at = back
    if cursor.word("once", "twice"):
        many: Number | None = Plain(1 if cursor.peek(-1).value == "once" else 2)
        return Often(times=many, more=cursor.word("more"))
    if cursor.word("x") or cursor.punct("x"):
        many = number(cursor)
        if many is not None:
            return Often(times=many, more=cursor.word("more"))
    if cursor.word("another"):
        many = number(cursor)
        if many is not None and cursor.word("times", "time"):
            return Often(times=many, more=True)
    cursor.at = back
    many = number(cursor)
    if many is not None:
        more = cursor.word("more", "further", "additional")
        if cursor.word("times", "time", "x", "reps", "rep") or cursor.punct("x") or more:
            return Often(times=many, more=cursor.word("more") or more)
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
    if not (
        cursor.word("omitting", "omit") or cursor.words("leaving", "out") or cursor.words("leave", "out")
    ):
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


def ending(cursor: Cursor, body: Sequence[Instruction]) -> tuple[Work | Chain | Skip, ...]:
    """`, ending with 5 dc in last sc` behind `rep from * around`: what the last repeat leaves out.

    Nothing, and nothing taken, where what it ends with is not how the text begins.
    """
    back, known = cursor.at, len(cursor.context.findings)
    cursor.punct(",", ";")
    if cursor.word("ending", "end"):
        cursor.skip_words(("last", "the", "final", "rep", "with", "in"))
        try:
            ends = _up_to_stop(cursor)
        except Unread:
            ends = []
        left = [item for item in body[len(ends) :] if isinstance(item, Work | Chain | Skip)]
        if ends and left and len(ends) + len(left) == len(body) and all(map(_alike, ends, body)):
            return tuple(left)
    cursor.at = back
    del cursor.context.findings[known:]
    return ()


def _up_to_stop(cursor: Cursor) -> list[Instruction]:
    """What is worked up to the join, or to the end of the sentence."""
    found: list[Instruction] = []
    while not cursor.done and not cursor.is_punct(";", ".", "(", "[", "*"):
        if cursor.is_punct(",") and (cursor.is_word("join", ahead=1) or cursor.peek(1).value == "sl st"):
            break
        if cursor.punct(",") or cursor.word("and", "then"):
            continue
        made = instruction(cursor)
        if made is not None:
            found.append(made)
    return found


def _alike(one: Instruction, other: Instruction) -> bool:
    """Whether both work as much of the same, wherever it goes."""
    if isinstance(one, Work) and isinstance(other, Work):
        return one.stitch == other.stitch and one.times == other.times
    return one == other


def _item_ahead(cursor: Cursor) -> bool:
    return cursor.peek().kind in ("stitch", "group") or cursor.is_word("ch", "sk")


def _omitted_item(cursor: Cursor) -> list[Work | Chain | Skip]:
    start = cursor.at
    if cursor.is_punct("("):
        return list(inline(cursor).items)
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
