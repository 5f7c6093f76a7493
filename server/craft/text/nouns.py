"""Reads what a place is called: `st`, `ch-1 sp`, `V-st`, `beg ch-4`, `foundation ch`."""

from __future__ import annotations

from server.craft.text.cursor import Cursor
from server.craft.text.terms import alien
from server.craft.text.tree import Noun


def noun(cursor: Cursor) -> Noun | None:
    """What a place is called, if a name stands here."""
    token = cursor.peek()
    if token.kind == "num":
        return numbered_space(cursor)
    if token.kind == "group":
        cursor.take()
        cursor.word("st")
        return Noun("group", token.value)
    if token.kind == "stitch":
        cursor.take()
        alien(cursor, token)
        cursor.word("st")
        return Noun("stitch", token.value)
    if cursor.word("st", "place"):
        return Noun("st")
    if cursor.word("sp", "sps"):
        return Noun("sp")
    if cursor.word("ring", "magicring", "circle", "mc"):  # where a place is due, MC is no colour
        return Noun("ring")
    if cursor.is_word("foundation") or (cursor.is_word("beg") and cursor.is_word("foundation", ahead=1)):
        cursor.word("beg")
        cursor.take()
        cursor.word("ch", "st")
        return Noun("foundation ch")
    if cursor.word("tch"):
        return Noun("beg ch")
    if cursor.is_word("beg") and (cursor.is_word("ch", ahead=1) or cursor.peek(1).kind == "stitch"):
        cursor.take()
        if cursor.peek().kind == "stitch":
            return Noun("stitch", cursor.take().value)
        cursor.take()
        return Noun("beg ch", length=_length(cursor))
    if cursor.is_word("ch"):
        return _chain_noun(cursor)
    return _row_end(cursor)


LOOPS = ("sp", "loop", "lp", "loops", "lps")


def numbered_space(cursor: Cursor) -> Noun | None:
    """`2-ch sp`, `6ch loop`: a space named by its chains, as British patterns name it."""
    if cursor.peek().kind != "num":
        return None
    hyphen = 1 if cursor.is_punct("-", ahead=1) and cursor.peek(1).glued else 0
    chain = cursor.peek(1 + hyphen)
    if not (hyphen or chain.glued) or chain.value != "ch" or not cursor.is_word(*LOOPS, ahead=2 + hyphen):
        return None
    length = cursor.take().number
    cursor.at += 2 + hyphen
    return Noun("sp", length=length)


def counted_space(cursor: Cursor) -> Noun | None:
    """`1 ch sp` behind `each`: the space of a chain of one."""
    if (space := numbered_space(cursor)) is not None:
        return space
    if cursor.peek().kind != "num" or not (cursor.is_word("ch", ahead=1) and cursor.is_word("sp", ahead=2)):
        return None
    cursor.at += 3
    return Noun("sp", length=cursor.peek(-3).number)


def _row_end(cursor: Cursor) -> Noun | None:
    """`row`, `row end`: the end of a row, where something is worked along a side."""
    written = cursor.context.source.slice(cursor.peek().span).lower()
    if not cursor.is_word("rnd") or not written.startswith("row"):
        return None
    cursor.take()
    cursor.punct("-")
    cursor.word("end", "ends", "edge", "edges")
    return Noun("row")


def _length(cursor: Cursor) -> int | None:
    """The `-4` of `beg ch-4`."""
    back = cursor.at
    cursor.punct("-")
    if cursor.peek().kind == "num" and (cursor.at > back or cursor.peek().glued):
        return cursor.take().number
    cursor.at = back
    return None


def _chain_noun(cursor: Cursor) -> Noun:
    """`ch`, `ch-5`, `ch-1 sp`, `ch 1 sp`, `ch sp`."""
    cursor.take()
    back = cursor.at
    hyphen = cursor.punct("-")
    if cursor.peek().kind == "num":
        length = cursor.take().number
        if cursor.word("sp", "loop", "lp", "loops", "lps"):
            return Noun("sp", length=length)
        if hyphen or (cursor.tokens[back].glued):
            return Noun("sp", length=length, loop_form=True)
        cursor.at = back
        return Noun("ch")
    if cursor.word("sp", "loop", "lp", "loops", "lps"):
        return Noun("sp")
    cursor.at = back
    return Noun("ch")
