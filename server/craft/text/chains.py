"""Reads chains, and what a beginning chain counts as."""

from __future__ import annotations

from server.craft.text.cursor import Cursor, Unread
from server.craft.text.numbers import number
from server.craft.text.terms import alien
from server.craft.text.tree import Chain, CountsAs, Plain

COUNTS_WORDS = (
    "counts", "count", "counting", "counted", "equals", "acts", "act", "as", "this", "that", "which", "it",
    "will", "does", "is", "made", "in", "of", "and", "also", "here", "throughout", "the", "a", "an", "one",
    "your", "my", "first", "rnd", "each", "for", "now", "to",
)  # fmt: skip
"""Words of `(this counts as your first …)` that lead to the stitch."""


def chain(cursor: Cursor) -> Chain:
    """Chains, from `ch` on."""
    start = cursor.at
    cursor.take()
    many = number(cursor)
    if many is None:
        if cursor.word("one"):
            many = Plain(1)
        else:
            raise cursor.unread("a number after `ch`, such as `ch 3`", cursor.since(start))
    return Chain(many, counts_as(cursor))


def counts_as(cursor: Cursor) -> CountsAs | None:
    """`(counts as dc, ch 1)`, `(does not count as a st)`, `(= 1 dc)`, `(first dc made)`, or nothing."""
    start = cursor.at
    if cursor.is_punct(",") and _counts_words(cursor, 1):
        cursor.take()
    bracket = cursor.is_punct("(", "[")
    if not _counts_words(cursor, 1 if bracket else 0) and not (bracket and _made_words(cursor)):
        cursor.at = start
        return None
    if bracket:
        cursor.take()
    stitches: list[str] = []
    chains, negative, many = 0, False, 0
    while (
        not cursor.done and not cursor.is_punct(")", "]") and (bracket or not cursor.is_punct(",", ";", "."))
    ):
        if bracket and (cursor.is_punct("*", "**", "(", "[") or cursor.is_word("in", "sk", "join", "rep")):
            opened = cursor.tokens[start].span
            raise Unread(opened, "“)” behind what the chain counts as")
        token = cursor.take()
        if token.kind == "stitch":
            alien(cursor, token)
            stitches.append(token.value)
        elif token.kind == "word" and token.value in ("not", "doesn't", "doesnt", "dont", "never"):
            negative = True
        elif token.kind == "word" and token.value == "st" and not stitches:
            stitches.append("st")
        elif token.kind == "word" and token.value == "ch":
            cursor.punct("-")
            behind = cursor.peek().kind == "num" and cursor.peek(1).value != "ch"
            chains += cursor.take().number if behind else many
        many = token.number if token.kind == "num" else 0
    if bracket:
        cursor.take()
    if not (stitches or chains or negative):
        stitches = _counts_itself(cursor, start)
    span = cursor.since(start)
    return CountsAs((), 0, span) if negative else CountsAs(tuple(stitches), chains, span)


def _counts_itself(cursor: Cursor, start: int) -> list[str]:
    """`(counts)`, `(counts as 1)`: as whatever stitch comes first. Unread at a word that is no stitch."""
    for token in cursor.tokens[start : cursor.at]:
        if token.kind == "word" and token.value not in COUNTS_WORDS:
            raise Unread(token.span, "a stitch, such as `counts as dc`")
    return ["st"]


def _counts_words(cursor: Cursor, ahead: int) -> bool:
    """Whether words such as `counts as` or `not` stand within the first few tokens."""
    if ahead and not cursor.is_punct("(", "[", ","):
        return False
    if cursor.is_punct("=", ahead=ahead):
        return True
    low = [cursor.peek(ahead + step).value for step in range(5)]
    return (
        "counts" in low[:3] or "count" in low[:4] or "counting" in low[:3] or (low[0] == "not" and ahead > 0)
        or (low[0] == "equals") or (low[:2] == ["does", "not"]) or (low[:2] == ["acts", "as"])
    )  # fmt: skip


def _made_words(cursor: Cursor) -> bool:
    """`(first dc made)`."""
    inside = [cursor.peek(step) for step in range(1, 6)]
    values = [token.value for token in inside]
    return ("made" in values and ")" in values) and any(token.kind == "stitch" for token in inside)


NEGATIVE = ("not", "doesn't", "doesnt", "dont", "never")


def passed_count(cursor: Cursor) -> CountsAs | None:
    """`(the skipped chs count as a hdc)` behind `3rd ch from hook`: what the chains before it count as."""
    start = cursor.at
    if not cursor.punct("(", "["):
        return None
    end = at = cursor.at
    while end < len(cursor.tokens) and cursor.tokens[end].value not in (")", "]", "(", "["):
        end += 1
    while at < end and cursor.tokens[at].value not in ("count", "counts", "counted", "counting"):
        at += 1
    before, after = cursor.tokens[cursor.at : at], cursor.tokens[at + 1 : end]
    if (
        end == len(cursor.tokens)
        or at == end
        or not any(one.value in ("ch", "skipped", "sk") for one in before)
    ):
        cursor.at = start
        return None
    cursor.at = end + 1
    if any(one.value in NEGATIVE for one in before):
        return CountsAs((), 0, cursor.since(start))
    stitches = [one for one in after if one.kind == "stitch"]
    many = [
        one for one, last in zip(after[1:], after, strict=False) if one.kind == "num" and last.value == "ch"
    ]
    for one in stitches:
        alien(cursor, one)
    if len(stitches) > 1 or not (stitches or any(one.value == "st" for one in after)):
        raise cursor.unread("a stitch, such as `(the skipped chs count as a dc)`", cursor.since(start))
    stitch = stitches[0].value if stitches else "st"
    return CountsAs((stitch,), sum(one.number for one in many), cursor.since(start))
