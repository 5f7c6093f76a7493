"""Reads joins: of a round, of chains to a ring, of yarn."""

from __future__ import annotations

from dataclasses import replace

from server.craft.text.cursor import Cursor
from server.craft.text.places import place
from server.craft.text.row_ends import opening, pass_opening
from server.craft.text.terms import alien
from server.craft.text.tree import Join, JoinYarn, Noun, Part

BEHIND_YARN = ("with", "in", "to", "at", "by", "work", "ch", "join")


def join(cursor: Cursor) -> Join | JoinYarn:
    """A join from its first word on: of the round, to a ring, or of yarn."""
    cursor.take()
    if _yarn_words(cursor):
        return _join_yarn(cursor)
    cursor.skip_words(("rnd", "work", "the"))
    cursor.word("with", "using", "by", "w")
    if cursor.is_punct("/"):
        cursor.take()
    cursor.skip_words(("a", "an"))
    if cursor.peek().kind == "stitch" and cursor.peek().value != "sl st":
        return _join_yarn(cursor)
    if cursor.peek().kind == "stitch":
        cursor.take()
    return join_place(cursor)


def join_place(cursor: Cursor) -> Join:
    """What stands behind `join with sl st`: a place, or nothing."""
    start = cursor.at
    if to_ring(cursor):
        _with_slip(cursor)
        return Join(None, to_ring=True)
    if cursor.word("in", "to", "at"):
        cursor.skip_words(("the",))
        where = place(cursor)
        if where.which == "kth" and where.part is None and where.nouns == (Noun("ch"),):
            # `join in 3rd ch`: of the beginning chain, what else
            where = replace(
                where,
                which="beg",
                nouns=(Noun("beg ch"),),
                ordinal=0,
                part=Part("kth", where.ordinal, Noun("ch")),
            )
        ring = to_ring(cursor) or (where.nouns[:1] and where.nouns[0].kind == "ring")
        return Join(None if where.nouns[:1] and where.nouns[0].kind == "ring" else where, to_ring=bool(ring))
    cursor.at = start
    return Join(None, to_ring=False)


def to_ring(cursor: Cursor) -> bool:
    """Whether `to form a ring` stands here; passes those words."""
    back = cursor.at
    cursor.punct(",")
    if cursor.word("to", "in", "forming", "making"):
        cursor.skip_words(("form", "make", "a", "the", "big", "large", "long", "wide", "one"))
        if cursor.word("ring", "circle", "rnd", "loop", "tube"):
            return True
    cursor.at = back
    return False


def _with_slip(cursor: Cursor) -> None:
    """Passes `with a sl st` behind `join in a ring`."""
    back = cursor.at
    if cursor.word("with", "using", "by"):
        cursor.skip_words(("a", "an"))
        if cursor.peek().kind == "stitch" and cursor.peek().value == "sl st":
            cursor.take()
            return
    cursor.at = back


def _yarn_words(cursor: Cursor) -> bool:
    """Whether `yarn`, `colour B` or the like is what is joined; passes those words."""
    if len(cursor.peek().value) == 1 and cursor.is_word("in", "to", "with", "at", ahead=1):
        cursor.take()  # `join B in …`
        return True
    for ahead in range(4):
        token = cursor.peek(ahead)
        if token.kind == "word" and token.value in ("yarn", "color", "colour", "mc", "cc"):
            cursor.at += ahead + 1
            while cursor.peek().kind == "word" and cursor.peek().value not in BEHIND_YARN:
                cursor.at += 1
            return True
        if token.kind != "word" or token.value in ("with", "in", "to"):
            return False
    return False


def _join_yarn(cursor: Cursor) -> JoinYarn:
    back = cursor.at
    stitch = "sl st"
    if cursor.word("with", "by"):
        cursor.skip_words(("a", "an", "standing"))
        if cursor.peek().kind == "num":
            cursor.take()
        if cursor.peek().kind == "stitch":
            token = cursor.take()
            alien(cursor, token)
            stitch = token.value
        else:
            cursor.at = back
    elif cursor.peek().kind == "stitch":
        stitch = cursor.take().value
    if cursor.word("in", "to", "at", "around"):
        if opening(cursor):
            return JoinYarn(stitch, None)
        where = place(cursor)
        pass_opening(cursor)
        return JoinYarn(stitch, where)
    return JoinYarn(stitch, None)
