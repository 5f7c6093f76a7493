"""Reads places that lie between stitches or groups, and on the other side of the foundation chain."""

from __future__ import annotations

import re
from dataclasses import replace

from server.craft.text.cursor import FILLERS, Cursor
from server.craft.text.nouns import noun
from server.craft.text.tree import Inline, Noun, Place, Plain, Which, Work

GROUPS = ("groups", "group", "sets", "set", "pairs", "pair", "fans", "fan")
CLUMP = Noun("group")
"""Stitches that stand together in one place, without a name of their own."""

OTHER_SIDE = re.compile(
    r"\b(?:(?:other|opposite|free|unused|unworked|bottom|remaining)\s+(?:side|loops?|edge)s?"
    r"(?:\s+only)?(?:\s+of)?(?:\s+the)?(?:\s+(?:foundation|beginning|starting|beg))?\s+(?:chains?|chs?)\b"
    r"|(?:along|in|into|on|around|across)\s+(?:the\s+)?(?:foundation|starting|beginning|cast[- ]on)\s+"
    r"(?:edge|chain edge|ch edge)\b)",
    re.IGNORECASE,
)
"""Words that speak of the free side of the foundation chain."""

NEXT_TWO = re.compile(r"\bbetween\s+(?:the\s+)?(?:next|following|foll)\s+(?:2|two)\b", re.IGNORECASE)
SIDES = ("side", "sides", "edge", "edges")
LOOPS = ("loops", "loop", "lps", "lp")


def between(cursor: Cursor) -> Place | None:
    """`sp between next 2 dc`, `between V-sts`, `each sp between sts`, `between beg ch and first dc`."""
    back = cursor.at
    which: Which | None = None
    if cursor.is_word("next", "each", "first", "last", "any"):
        word = cursor.take().value
        which = "each" if word == "each" else "last" if word == "last" else None
    gap = cursor.word("gap")
    if not gap:
        cursor.word("sp")
    if not cursor.word("between"):
        if gap and cursor.peek(-2).kind == "word" and cursor.at > back + 1:
            return Place(which or "plain", (CLUMP,), edge="between")
        cursor.at = back
        return None
    cursor.skip_words(FILLERS)
    if cursor.is_word("next", "first", "each", "any"):
        word = cursor.take().value
        lead: Which = "next" if word == "next" else "first" if word == "first" else "each"
        which = which or (lead if word != "any" else None)
    if which == "next" and (name := _pair_of(cursor)) is not None:
        return Place("next", (name,), edge="between", pairs=True)
    cursor.skip_words(FILLERS)
    if cursor.peek().kind == "num" and not (cursor.peek(1).value == "-" or cursor.is_word(*GROUPS, ahead=2)):
        cursor.take()
    name = _what(cursor)
    if name is None:
        raise cursor.unread("what it lies between, such as `between next 2 dc`", cursor.since(back))
    if cursor.word("and"):
        cursor.skip_words((*FILLERS, "next", "first", "last"))
        second = _what(cursor)
        if second is None:
            raise cursor.unread(
                "what it lies between, such as `between beg ch and next dc`", cursor.since(back)
            )
        which, name = which if which in ("each", "last") else "plain", second
    return Place(which or "plain", (name,), edge="between")


def _pair_of(cursor: Cursor) -> Noun | None:
    """`pair of dc` behind `between next`: the stitch; None where something else stands here."""
    back = cursor.at
    if cursor.words("pair", "of"):
        cursor.skip_words(FILLERS)
        name = noun(cursor)
        if name is not None and name.kind in ("stitch", "st"):
            return name
    cursor.at = back
    return None


def in_pairs(cursor: Cursor, made: Work) -> Work:
    """`2 dc between next 2 dc`: two and more stitches between two are worked pair by pair.

    One at a time (`dc between next 2 dc`) goes in every gap, each stitch a neighbour of two gaps: both ways
    the round keeps its number of stitches, which is what is meant.
    """
    where = made.place
    if where is None or where.edge != "between" or where.which != "next" or where.pairs:
        return made
    if where.nouns[0].kind == "group" or _stitches(cursor, made) < 2:
        return made
    if not NEXT_TWO.search(cursor.context.source.slice(where.span)):
        return made
    return replace(made, place=replace(where, pairs=True))


def _stitches(cursor: Cursor, made: Work) -> int:
    """How many stitches go into each place; two where the number goes by size."""
    each = 1
    if isinstance(made.stitch, Inline):
        inside = [item for item in made.stitch.items if isinstance(item, Work)]
        each = sum(_stitches(cursor, item) for item in inside)
    elif made.stitch in cursor.context.groups and not cursor.context.groups[made.stitch].one_stitch:
        each = len(cursor.context.groups[made.stitch].items)
    return each * (made.times.value if isinstance(made.times, Plain) else 2)


def _what(cursor: Cursor) -> Noun | None:
    """A stitch, a named group, or `groups`, `3-dc groups`, `groups of 3 dc`."""
    back = cursor.at
    if cursor.peek().kind == "num":
        cursor.take()
        cursor.punct("-")
    if cursor.peek().kind == "stitch" and (cursor.is_word(*GROUPS, ahead=1) or cursor.peek(1).value == "-"):
        cursor.take()
        cursor.punct("-")
    if cursor.word(*GROUPS):
        if cursor.word("of"):
            if cursor.peek().kind == "num":
                cursor.take()
            noun(cursor)
        return CLUMP
    cursor.at = back
    return noun(cursor)


def other_side(cursor: Cursor) -> bool:
    """Passes `other side of foundation ch`, `along the opposite side of the chain`, `free loops of ch`."""
    back = cursor.at
    if cursor.word("along", "on", "around", "across", "down", "in", "of", "through"):
        cursor.skip_words(("the",))
    if cursor.word("other", "opposite", "free", "unused", "unworked", "rem", "bottom") and cursor.word(
        *SIDES, *LOOPS
    ):
        cursor.word("only")
        cursor.word("of")
        cursor.skip_words(("the", "your"))
        cursor.word("foundation", "beg", "base")
        if cursor.word("ch", "foundation"):
            cursor.word("st", "ch")
            return True
    cursor.at = back
    return False
