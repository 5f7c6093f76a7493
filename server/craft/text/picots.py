"""Reads a picot that says how many chains it has: `ch-4 picot`, `4-ch picot`, `picot of 4 ch`,
`picot (ch 4, sl st in 4th ch from hook)`.
"""

from __future__ import annotations

from dataclasses import replace

from server.craft.text.cursor import Cursor
from server.craft.text.tree import Chain, Instruction, Noun, Place, Plain, Repeat, Work

MADE = ("made", "worked")


def closed_on_stitch(cursor: Cursor, items: list[Instruction]) -> None:
    """`ch 3, sl st in last dc made`, `ch 3, sl st in top of last dc made`: a picot on that stitch.

    Behind chains just made; the slip stitch becomes one in the first of them, and they leave no place.
    """
    if len(items) < 2 or not isinstance(items[-1], Work) or not isinstance(items[-2], Chain):
        return
    made, chains = items[-1], items[-2]
    where = made.place
    if made.stitch != "sl st" or where is None or where.nouns[:1] == (Noun("ch"),):
        return
    if not isinstance(chains.number, Plain) or where.which not in ("last", "same", "plain"):
        return
    back = cursor.at
    cursor.word("just")
    if cursor.word(*MADE):
        place = Place("from hook", (Noun("ch"),), ordinal=chains.number.value)
        closing = replace(made, place=place)
        items[-2:] = [Repeat((chains, closing), times=Plain(1), style="bracket")]
    else:
        cursor.at = back


WORDS_BEFORE = 3  # of `ch-4 picot`


def picot_of(cursor: Cursor) -> Instruction | None:
    """The picot, spelled out: its chains and the slip stitch that closes them. None, with nothing taken,
    where it says no number of chains or is no picot.
    """
    if not any(cursor.peek(ahead).value == "picot" for ahead in range(WORDS_BEFORE + 1)):
        return None
    start = cursor.at
    chains = _before(cursor) or _behind(cursor)
    if chains is None:
        cursor.at = start
        return None
    closing = Work("sl st", Plain(1), Place("from hook", (Noun("ch"),), ordinal=chains))
    return Repeat((Chain(Plain(chains)), closing), times=Plain(1), style="bracket")


def _before(cursor: Cursor) -> int | None:
    """`ch-4 picot`, `4-ch picot`."""
    start = cursor.at
    if cursor.word("ch"):
        cursor.punct("-")
        chains = cursor.take().number if cursor.peek().kind == "num" else 0
    else:
        chains = cursor.take().number if cursor.peek().kind == "num" else 0
        cursor.punct("-")
        if not cursor.word("ch"):
            chains = 0
    if chains and _picot(cursor):
        return chains
    cursor.at = start
    return None


def _behind(cursor: Cursor) -> int | None:
    """`picot-4`, `picot of 4 chs`, `picot (ch 4, sl st in 4th ch from hook)`."""
    if not _picot(cursor):
        return None
    if cursor.punct("-") or cursor.word("of"):
        chains = cursor.take().number if cursor.peek().kind == "num" else None
        cursor.word("ch")
        return chains
    if cursor.punct("(", "[") and cursor.word("ch") and cursor.peek().kind == "num":
        chains = cursor.take().number
        while not cursor.done and not cursor.is_punct(")", "]"):
            cursor.take()
        return chains if cursor.punct(")", "]") else None
    return None


def _picot(cursor: Cursor) -> bool:
    if cursor.peek().kind not in ("stitch", "group") or cursor.peek().value != "picot":
        return False
    cursor.take()
    return True
