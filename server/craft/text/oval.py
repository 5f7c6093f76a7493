"""Reads where a round goes on along the other side of the foundation chain: an oval, as a sole begins."""

from __future__ import annotations

from server.craft.text.betweens import OTHER_SIDE, other_side
from server.craft.text.cursor import Cursor
from server.craft.text.endings import begins_from_hook
from server.craft.text.tree import Instruction, OtherSide

LEADS = (
    "now", "working", "work", "cont", "on", "rotate", "rotating", "turn", "back", "and", "to", "in", "then",
    "piece", "your", "the", "begin",
)  # fmt: skip


def to_other_side(cursor: Cursor, items: list[Instruction]) -> bool:
    """`working along the other side of the ch`, where the round began in a chain from the hook."""
    if not _may_turn(items):
        return False
    start = cursor.at
    for words in (LEADS, LEADS[:2]):
        cursor.skip_words(words)
        if other_side(cursor):
            items.append(OtherSide(cursor.since(start)))
            return True
        cursor.at = start
    return False


def name_other_side(cursor: Cursor, items: list[Instruction], start: int) -> None:
    """`sc in next 7 ch along the other side of the ch`: the words stand behind what is worked there."""
    if len(items) < 2 or not _may_turn(items[:-1]):
        return
    span = cursor.since(start)
    if OTHER_SIDE.search(cursor.context.source.slice(span)):
        items.insert(len(items) - 1, OtherSide(span))


def _may_turn(items: list[Instruction]) -> bool:
    return begins_from_hook(tuple(items)) and not any(isinstance(item, OtherSide) for item in items)
