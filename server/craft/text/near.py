"""The nearest phrase that reads, for words that do not."""

from __future__ import annotations

from difflib import get_close_matches

from server.craft.text.cursor import Context
from server.craft.text.lexer import CLOSED_SPELLINGS, PHRASES
from server.craft.text.vocabulary import spellings

LEADING = (
    "next", "same", "each", "first", "last", "around", "across", "join", "rep", "sk", "ch", "turn", "skip", "chain",
    "from", "times", "more", "counts as", "ring", "foundation ch", "top", "center", "side", "underside", "sl st",
    "fasten off", "omitting", "in", "any",
)  # fmt: skip


def nearest_phrase(words: str, context: Context) -> tuple[str | None, str | None]:
    """The nearest phrase to `words`, and the mend (the same, where it may stand in their place)."""
    known = {*LEADING, *PHRASES, *CLOSED_SPELLINGS, *spellings(context.terms), *context.groups}
    low = words.lower().strip(".,;:")
    if not low or len(low) > 40:
        return None, None
    close = get_close_matches(low, sorted(known), n=1, cutoff=0.72)
    return (close[0], close[0]) if close and close[0] != low else (None, None)
