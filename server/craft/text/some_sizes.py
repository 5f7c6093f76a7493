"""Reads instructions that are for some sizes only: `(large only)`, `for small, …`."""

from __future__ import annotations

from server.craft.text.cursor import Cursor
from server.craft.text.for_sizes import SAYS_ONLY, sizes_named
from server.craft.text.tree import Instruction, Repeat, SizeList, Span


def only_here(cursor: Cursor) -> tuple[tuple[int, ...], Span] | None:
    """`for large only, …`, `[large only: …`: which sizes, and the words; a bracket is left standing."""
    names, back = cursor.context.size_names, cursor.at
    bracket = cursor.is_punct("(", "[", "{")
    start = back + 1 if bracket else back
    if len(names) < 2 or start >= len(cursor.tokens) or cursor.tokens[start].kind == "punct":
        return None
    at = start
    while at < min(len(cursor.tokens), start + 8) and cursor.tokens[at].value not in (
        ":",
        ";",
        ".",
        ")",
        "*",
    ):
        if cursor.tokens[at].value == "," and not bracket:
            break
        at += 1
    if (
        at >= len(cursor.tokens)
        or at == start
        or cursor.tokens[at].value not in ((":",) if bracket else (":", ","))
    ):
        return None
    span = cursor.tokens[start].span.to(cursor.tokens[at - 1].span)
    words = cursor.context.source.slice(span)
    only = sizes_named(words, names) if SAYS_ONLY.search(words) else None
    if only is None:
        return None
    cursor.at = at + 1 if not bracket else back
    return only, span


def some(cursor: Cursor, items: tuple[Instruction, ...], only: tuple[int, ...], span: Span) -> Instruction:
    """Instructions that only some sizes have."""
    sizes = cursor.context.sizes
    absent = tuple(index for index in range(sizes) if index not in only)
    times = SizeList(tuple(int(index in only) for index in range(sizes)), absent, span)
    return Repeat(items, times=times, style="bracket", span=span)
