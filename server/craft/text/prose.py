"""Passes sentences within a round's text that name nothing to work."""

from __future__ import annotations

from server.craft.text.cursor import Cursor
from server.craft.text.instructions import FOUNDATION

STARS = ("*", "**", "†", "‡")


def passes_prose(cursor: Cursor) -> bool:
    """Passes a sentence between others that names nothing to work: `Any multiple of 3 will do.`"""
    before = cursor.peek(-1)
    if cursor.at and not (before.kind == "punct" and before.value in (".", "!", "?")):
        return False
    if cursor.peek().kind != "word":
        return False
    end = cursor.at
    while end < len(cursor.tokens) and cursor.tokens[end].value not in (".", "!", "?"):
        token = cursor.tokens[end]
        if token.kind in ("stitch", "group") or (token.kind == "word" and _is_worked(token.value)):
            return False
        if token.kind == "punct" and token.value in (*STARS, "[", "{"):
            return False
        end += 1
    if end - cursor.at < 3:
        return False
    cursor.at = end
    return True


def _is_worked(word: str) -> bool:
    return word in WORKED or word.startswith(FOUNDATION)


WORKED = (
    "ch", "sk", "join", "rep", "turn", "inc", "dec", "invdec", "fasten off", "magicring", "blo", "flo", "rnd",
    "thirdloop", "dont", "st", "sp", "around", "across",
)  # fmt: skip
"""Words that a sentence to be worked has."""
