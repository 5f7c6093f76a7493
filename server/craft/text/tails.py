"""Reads how far a text is repeated: `3 more times`, `for 8 rnds`, `until piece measures 3 in`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from server.craft.text.cursor import Context, Cursor
from server.craft.text.left import to_space
from server.craft.text.lexer import Token
from server.craft.text.numbers import number, plus
from server.craft.text.tree import Number, Plain, SizeList

UNTIL = ("until", "till", "til")
LAST = ("last", "prev", "this", "these", "above")
HOW = ("alternately", "alternating", "in", "turn", "order", "alternate", "sequence", "as", "before", "set",
       "each", "all", "cont", "continue", "more", "again", "around", "throughout")  # fmt: skip
ENDS = ("join", "fasten off", "turn", "dont")


@dataclass(frozen=True, slots=True)
class Tail:
    """How far a text is repeated: so many rounds in all, or until something is reached; neither: once."""

    rounds: Number | None = None
    until: str | None = None


def tail_of(cursor: Cursor, rounds: int) -> Tail:
    """`until piece measures 6 in`, `to the base of the thumb`, `3 more times`, `for 8 rnds`; nothing else.

    Raises Unread where something to work stands behind it: it would be lost.
    """
    cursor.punct(",", ";")
    cursor.skip_words(("another", "a", "total", "of", "for"))
    if (until := until_here(cursor)) is not None:
        return Tail(until=until)
    back = cursor.at
    many = number(cursor)
    if many is None and cursor.is_word("once", "twice"):
        many = Plain(1 if cursor.take().value == "once" else 2)
        cursor.word("more")
        return Tail(_times(many, rounds))
    if many is not None:
        cursor.word("more", "further", "additional")
        if cursor.word("times", "time", "x"):
            cursor.word("more")
            return Tail(_times(many, rounds))
        if cursor.word("rnd"):
            cursor.word("more")
            return Tail(many)
    cursor.at = back
    start = cursor.at
    _pass_last_slip(cursor)
    while not cursor.done and (
        cursor.peek().kind == "punct" or cursor.is_word(*HOW, *ENDS) or _place_of_join(cursor)
    ):
        cursor.take()
    if not cursor.done and (
        any(_is_work(token) for token in cursor.tokens[start:]) or _names_round(cursor.tokens[cursor.at :])
    ):
        raise cursor.unread("nothing more: write the round out where it is another", cursor.here())
    return Tail()


def _pass_last_slip(cursor: Cursor) -> None:
    """Passes `. Sl st in next st, fasten off`: the end of the work, and no part of what is repeated."""
    back = cursor.at
    while cursor.punct(".", ",", ";") or cursor.word("and", "then"):
        pass
    if cursor.peek().kind == "stitch" and cursor.take().value == "sl st":
        cursor.at = cursor.clause_end(cursor.at)
        while cursor.punct(".", ",", ";") or cursor.word("and", "then"):
            pass
        if cursor.is_word("fasten off") or cursor.words("fasten", "off"):
            cursor.at = len(cursor.tokens)
            return
    cursor.at = back


def _is_work(token: Token) -> bool:
    return token.kind in ("stitch", "group") or token.value in ("ch", "sk", "rep")


def _names_round(left: Sequence[Token]) -> bool:
    """Whether a further round is named, `R3`, `rnd 3`, that would be lost."""
    return any(
        one.value in ("r", "rnd") and after.kind == "num"
        for one, after in pairwise(left)
        if one.kind == "word"
    )


def _place_of_join(cursor: Cursor) -> bool:
    """Words of a join that the repeated round has anyway."""
    return any(token.value == "join" for token in cursor.tokens[max(0, cursor.at - 8) : cursor.at])


def _times(many: Number, rounds: int) -> Number:
    if isinstance(many, Plain):
        return Plain(many.value * rounds)
    values = many.values if isinstance(many, SizeList) else ()
    return SizeList(tuple(one * rounds for one in values), span=many.span) if values else many


def until_here(cursor: Cursor) -> str | None:
    """`until piece measures 6 inches`, `to the base of the thumb`: the words, to the end of the sentence."""
    back = cursor.at
    cursor.punct(",")
    cursor.word("or")
    lead = cursor.is_word(*UNTIL)
    if not lead and not (cursor.is_word("to", "for") and _far(cursor)):
        cursor.at = back
        return None
    cursor.take()
    start = cursor.at
    while not cursor.done and not _sentence_ends(cursor):
        cursor.take()
    if cursor.at == start:
        cursor.at = back
        return None
    source = cursor.context.source
    words = " ".join(source.slice(source.trimmed(cursor.since(start))).split()).rstrip(" .)")
    while cursor.punct(".", "!", ")"):
        pass
    return words


def _far(cursor: Cursor) -> bool:
    """Whether `to` leads to a place on the body or a length: `to the base of the thumb`, `to fit`."""
    return cursor.is_word(
        "the", "your", "fit", "wrist", "desired", "knuckles", "base", "a", ahead=1
    ) and not (cursor.is_word("end", "last", "beg", ahead=2) or cursor.peek(2).kind == "num")


def _sentence_ends(cursor: Cursor) -> bool:
    """A full stop that is not one of a decimal number, or a sign that opens a count."""
    if cursor.is_punct("["):
        return True
    if not cursor.is_punct(".", "!", ";"):
        return False
    return not (cursor.peek().glued and cursor.peek(1).kind == "num" and cursor.peek(1).glued)


def own_tail(found: list[Token], context: Context) -> tuple[int, Tail] | None:
    """`… join. Rep this rnd 4 more times`, `… until piece measures 3 in`: where it begins, and how far."""
    for at, token in enumerate(found):
        if token.kind != "word":
            continue
        cursor = Cursor(found, context)
        cursor.at = at
        fresh = at > 0 and found[at - 1].kind == "punct" and found[at - 1].value in (".", ";", ",", ")", "]")
        if token.value == "rep" and fresh:
            cursor.take()
            rounds = cursor.word(*LAST) and cursor.word("rnd")
            if not rounds and not cursor.is_word(*UNTIL):
                continue
            tail = tail_of(cursor, 1)
            if tail.until is not None:
                return at, tail
            if tail.rounds is not None:
                return at, Tail(plus(tail.rounds, 1))
        elif token.value == "for" and (rounds_said := _for_rounds(cursor)) is not None:
            return at, Tail(rounds_said)
        elif (
            token.value in UNTIL and _measure_ahead(found, at) and not _along_the_round(cursor)
            and (until := until_here(cursor)) is not None
        ):  # fmt: skip
            return at, Tail(until=until)
    return None


def _along_the_round(cursor: Cursor) -> bool:
    """Whether `until you reach the ch-6 sp` is about the stitches of a round, not about how many rounds."""
    ahead = Cursor(cursor.tokens, cursor.context)
    ahead.at = cursor.at
    return (
        cursor.peek(-1).kind in ("word", "stitch")
        and not cursor.is_word("around", "across", "even", ahead=-1)
        and to_space(ahead) is not None
    )


def _for_rounds(cursor: Cursor) -> Number | None:
    """`for 8 (10, 12) rnds`, `for 5 more rnds`, at the end of a sentence: how many."""
    cursor.take()
    cursor.skip_words(("the", "next", "a", "total", "of", "another"))
    many = number(cursor)
    if many is None:
        return None
    cursor.word("more")
    if not cursor.word("rnd") or not (cursor.done or cursor.is_punct(".", ";", ",")):
        return None
    behind = cursor.tokens[cursor.at :]
    return None if any(_is_work(one) or one.value in ("join", "turn", "dont") for one in behind) else many


def _measure_ahead(found: list[Token], at: int) -> bool:
    """Whether `until` speaks of a length: `until piece measures 3 in`, `until it is as long as you like`."""
    ahead = {token.value for token in found[at + 1 : at + 9]}
    return bool(ahead & LENGTHS) and not ahead & {"rem", "left", "end"}


LENGTHS = {
    "measures", "measure", "long", "inches", "inch", "cm", "length", "tall", "reaches", "reach", "fits",
    "desired", "wide", "knuckles", "thumb", "wrist", "elbow", "heel",
}  # fmt: skip
