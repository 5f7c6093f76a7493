"""The nearest phrases that read, for words that do not."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from server.craft.text.lexer import CLOSED_SPELLINGS, PHRASES
from server.craft.text.tree import Terms
from server.craft.text.vocabulary import spellings

LEADING = (
    "next", "same", "each", "first", "last", "around", "across", "join", "rep", "sk", "ch", "turn", "skip",
    "chain", "from", "times", "more", "counts as", "ring", "foundation ch", "top", "center", "side",
    "underside", "sl st",
    "fasten off", "omitting", "in", "any", "sts", "st", "with", "of", "beg", "sps", "sp",
)  # fmt: skip


def nearest_phrases(words: str, terms: Terms, groups: Iterable[str]) -> list[str]:
    """Up to three phrases near to `words`, the nearest first."""
    low = words.lower().strip(".,;:")
    if not low or len(low) > 40:
        return []
    own = {group.lower(): group for group in groups}
    known = {*LEADING, *PHRASES, *CLOSED_SPELLINGS, *spellings(terms), *own}
    return [
        own.get(close, close)
        for close in get_close_matches(low, sorted(known), n=4, cutoff=0.7)
        if close != low
    ]
