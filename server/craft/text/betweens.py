"""Reads places that lie between stitches or groups, and on the other side of the foundation chain."""

from __future__ import annotations

import re

from server.craft.text.cursor import FILLERS, Cursor
from server.craft.text.nouns import noun
from server.craft.text.tree import Noun, Place, Which

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
