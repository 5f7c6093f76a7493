"""Reads where something is worked along the ends of rows: `along row ends`, `around the edge of the cuff`."""

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
PARTS = ("cuff", "band", "ribbing", "rib", "ribs", "brim", "strip", "piece", "tube", "waistband", "rectangle")
"""What is worked in rows, and has their ends for its edge."""


def row_ends(cursor: Cursor) -> Place | None:
    """`along row ends`, `down the side edge`, `across the ends of rows`, `around the edge of the band`."""
    back = cursor.at
    lead = cursor.take().value
    cursor.skip_words(BEFORE)
    row = cursor.is_word("rnd")
    passed = [token.value for token in cursor.tokens[back : cursor.at]]
    side = any(value in SIDES for value in passed)
    if row:
        noun(cursor)
    elif side and passed[-1] in ("of", "the", "your") and cursor.word(*PARTS):
        pass
    elif passed[-1] in ("of", "the", "each", "your"):
        cursor.at = back
        return None
    named = side or (row and lead not in ("in", "on", "over", "around"))
    if not named or (lead in ("in", "on", "over", "around") and not _edge(passed, row=row)):
        cursor.at = back
        return None
    return Place("each", (Noun("row"),), edge="side", evenly=lead in ("in", "on", "over", "around"))


def _edge(passed: list[str], *, row: bool) -> bool:
    """Whether `in`, `around` lead to an edge as such: `in each row end` reads anyway."""
    return not row and any(value in ("edge", "edges") or value in SIDES[:2] for value in passed)
