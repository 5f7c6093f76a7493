"""Reads what is left of a round: `to last 2 sts`, `to end of rnd`, `in rem 4`."""

from __future__ import annotations

from server.craft.text.cursor import Cursor
from server.craft.text.nouns import noun
from server.craft.text.numbers import number
from server.craft.text.tree import Noun, Place, Plain

GAP = ("gap", "opening", "hole")
"""What the space over a thumb is called too."""


def pass_end_of_round(cursor: Cursor) -> None:
    """Passes `of the round` behind `to the end`, `to the end of the row` behind `across`."""
    back = cursor.at
    if cursor.word("of", "to", "the"):
        cursor.skip_words(("the", "end", "of"))
        if cursor.word("rnd", "row"):
            return
    cursor.at = back


def to_last(cursor: Cursor) -> Place | None:
    """`to last 2 sts`, `until last st`, `until 2 sts remain`, `to within last 2 sts`."""
    back = cursor.at
    if not cursor.word("to", "until", "til", "till"):
        return None
    cursor.skip_words(("within", "the", "you", "reach", "have"))
    last = cursor.word("last")
    count = number(cursor)
    name = noun(cursor)
    left = cursor.word("rem", "left", "unworked")
    if (last or left) and (name is not None or count is not None):
        return Place("last", (name or Noun("st"),), count or Plain(1), span=cursor.since(back))
    cursor.at = back
    return None


def all_left(cursor: Cursor) -> Place | None:
    """`to end`, `to the end of the rnd`, `to last 2 sts` behind a stitch: each place up to there."""
    start = cursor.at
    if until := to_last(cursor):
        return Place("each", (Noun("st"),), until=until.count or Plain(1), span=cursor.since(start))
    if space := to_space(cursor):
        return Place("each", (Noun("st"),), before=space, span=cursor.since(start))
    if cursor.word("to", "until", "til", "till"):
        cursor.skip_words(("the",))
        if cursor.word("end"):
            pass_end_of_round(cursor)
            if ends_here(cursor):
                return Place("each", (Noun("st"),), span=cursor.since(start))
    cursor.at = start
    return None


def to_space(cursor: Cursor) -> Noun | None:
    """`to ch-6 sp`, `up to the next ch sp`, `until you reach the gap`: what each place goes up to."""
    back = cursor.at
    cursor.word("up")
    if cursor.word("to", "until", "til", "till"):
        cursor.skip_words(("the", "you", "reach", "next", "first", "thumb"))
        name = Noun("sp") if cursor.word(*GAP) else noun(cursor)
        if name is not None and name.kind == "sp" and (ends_here(cursor) or cursor.is_word("and", "then")):
            return name
    cursor.at = back
    return None


def ends_here(cursor: Cursor) -> bool:
    """Whether a clause ends here."""
    return cursor.done or cursor.is_punct(",", ";", ".", ")", "]", "}", "[", "(", "*", "!")
