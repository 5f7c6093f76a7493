"""Reads where something is worked along the ends of rows, or around an edge: `along row ends`, `around the
edge of the cuff`, `around the thumb opening`.
"""

from __future__ import annotations

from server.craft.text.cursor import Cursor
from server.craft.text.nouns import noun
from server.craft.text.tree import Noun, Place

LEADS = ("along", "down", "up", "across", "around", "in", "on", "over")
SIDES = ("side", "sides", "edge", "edges", "end", "ends")
BEFORE = (
    "the", "one", "side", "each", "edge", "edges", "end", "ends", "of", "long", "top", "upper", "bottom",
    "lower", "raw", "open", "entire", "whole", "your", "to",
)  # fmt: skip
PARTS = (
    "cuff", "band", "ribbing", "rib", "ribs", "brim", "strip", "piece", "tube", "waistband", "rectangle",
    "mitt", "mitten", "hand", "wrister", "hat",
)  # fmt: skip
"""What has an edge to work around."""
TO_OPENING = (
    "the", "thumb", "finger", "corner", "base", "bottom", "side", "edge", "inside", "beg", "start", "of",
    "this",
)  # fmt: skip
"""What stands before an opening: `corner of the thumb opening`."""
ROW_EDGE = Noun("row", "edge")
"""An edge that no row is named at: what it is of, its section says."""


def row_ends(cursor: Cursor) -> Place | None:
    """`along row ends`, `down the side edge`, `across the ends of rows`, `around the edge of the band`."""
    back = cursor.at
    lead = cursor.take().value
    if opening(cursor):
        return Place("each", (Noun("edge"),), evenly=True)
    cursor.skip_words(BEFORE)
    row = cursor.is_word("rnd")
    passed = [token.value for token in cursor.tokens[back : cursor.at]]
    side = any(value in SIDES for value in passed)
    if row:
        noun(cursor)
    elif side and passed[-1] in ("of", "the", "your") and cursor.word(*PARTS):
        pass
    elif passed[-1] in ("top", "bottom") and lead != "in" and (cursor.done or cursor.peek().kind == "punct"):
        side = True  # `evenly around the top`
        passed.append("edge")
    elif passed[-1] in ("of", "the", "each", "your"):
        cursor.at = back
        return None
    named = side or (row and lead not in ("in", "on", "over", "around"))
    if not named or (lead in ("in", "on", "over", "around") and not _edge(passed, row=row)):
        cursor.at = back
        return None
    name = Noun("row") if row else ROW_EDGE
    return Place("each", (name,), edge="side", evenly=lead in ("in", "on", "over", "around"))


def opening(cursor: Cursor) -> bool:
    """Passes `the thumb opening`, `corner of thumb hole`, `the opening`."""
    back = cursor.at
    cursor.skip_words(TO_OPENING)
    if cursor.word("opening", "hole", "thumbhole", "fingerhole"):
        return True
    # a gap may also lie between two stitches
    if cursor.at > back and cursor.is_word("gap") and not cursor.is_word("between", ahead=1):
        cursor.take()
        return True
    cursor.at = back
    return False


def pass_opening(cursor: Cursor) -> None:
    """Passes `of the thumb opening` behind a place: its section is worked around it."""
    back = cursor.at
    if not (cursor.word("of", "around", "along", "on", "in", "at", "from") and opening(cursor)):
        cursor.at = back


def _edge(passed: list[str], *, row: bool) -> bool:
    """Whether `in`, `around` lead to an edge as such: `in each row end` reads anyway."""
    return not row and any(value in ("edge", "edges") or value in SIDES[:2] for value in passed)
