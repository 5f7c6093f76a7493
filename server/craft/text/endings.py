"""What stands at a round's end and is read only there."""

from __future__ import annotations

from server.craft.text.tree import (
    FastenOff,
    Header,
    Instruction,
    Join,
    Label,
    NoJoin,
    Plain,
    Turn,
    Work,
)


def as_joined(items: tuple[Instruction, ...], header: Header, label: Label | None) -> tuple[Instruction, ...]:
    """A slip stitch into the round's first place, at its end, is the join: `sl st in top of ch-3`."""
    if header.worked == "rows" and label is not None and label.word == "Row" and not label.foundation:
        return items
    end = len(items)
    while end and isinstance(items[end - 1], Turn | FastenOff | NoJoin):
        end -= 1
    if end < 2:
        return items
    last = items[end - 1]
    if not (
        isinstance(last, Work)
        and last.stitch == "sl st"
        and last.times == Plain(1)
        and last.place is not None
    ):
        return items
    where = last.place
    if (
        where.which in ("first", "beg")
        or (where.part is not None and where.part.kind == "top")
        or (where.which == "plain" and where.part is not None and where.part.kind == "kth")
    ):
        return (*items[: end - 1], Join(where, span=last.span), *items[end:])
    return items
