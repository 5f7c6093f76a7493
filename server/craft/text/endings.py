"""What stands at a round's end and is read only there."""

from __future__ import annotations

from dataclasses import replace

from server.craft.text.tree import (
    Chain,
    FastenOff,
    Header,
    Instruction,
    Join,
    Label,
    Line,
    NoJoin,
    Noun,
    Number,
    Place,
    Plain,
    Repeat,
    RingStart,
    RoundLine,
    SizeList,
    Turn,
    Work,
)
from server.craft.text.vocabulary import BY_US


def parted(line: Line, header: Header, *, first: bool) -> tuple[Line, ...]:
    """`Row 1: Ch 27. Hdc in 3rd ch from hook …`: the foundation and the first round, where one line has both.

    first   whether no round stands before it
    """
    if not (isinstance(line, RoundLine) and first and header.foundations and line.body):
        return (line,)
    chain, label = line.body[0], line.label
    if (
        not isinstance(chain, Chain)
        or not _is_foundation(chain.number, header)
        or (label and label.foundation)
    ):
        return (line,)
    end = 1
    if len(line.body) > 1 and isinstance(line.body[1], Join):
        end = 2
    elif not (len(line.body) > 1 and begins_from_hook(line.body[1:])):
        return (line,)
    if not any(isinstance(item, Work | Repeat) for item in line.body[end:]):
        return (line,)
    word = label.word if label is not None else "Row" if header.worked == "rows" else "Rnd"
    made = Label(word, Plain(0), foundation=True, span=label.span if label is not None else line.span)
    rest = label if label is not None else Label(word, Plain(1), span=line.span)
    foundation = replace(line, label=made, body=line.body[:end], stated=None)
    return foundation, replace(line, label=rest, body=line.body[end:])


def _is_foundation(number: Number, header: Header) -> bool:
    if isinstance(number, Plain):
        return set(header.foundations) == {number.value}
    if isinstance(number, SizeList):
        return number.values == header.foundations
    return number.slope == 1 and number.shift == 0


def begins_from_hook(items: tuple[Instruction, ...]) -> bool:
    """Whether the first stitch goes into a chain counted from the hook."""
    for item in items:
        if isinstance(item, Work):
            return item.place is not None and item.place.which == "from hook"
        if isinstance(item, Repeat):
            return begins_from_hook(item.body)
    return False


def all_around(items: tuple[Instruction, ...], label: Label | None) -> tuple[Instruction, ...]:
    """A round of one stitch and nothing else is that stitch in each place: `hdc in 3rd loop only`, `sc`."""
    if label is None or label.foundation:
        return items
    worked = [index for index, item in enumerate(items) if not isinstance(item, LEADING)]
    if len(worked) != 1:
        return items
    item = items[worked[0]]
    if not isinstance(item, Work) or item.stitch not in BY_US or item.stitch == "sl st":
        return items
    if item.times != Plain(1):
        return items
    where = item.place or Place("plain", (Noun("st"),))
    if where != Place("plain", (Noun("st"),), loop=where.loop):
        return items
    each = replace(item, place=replace(where, which="each"))
    return (*items[: worked[0]], each, *items[worked[0] + 1 :])


def into_ring(items: tuple[Instruction, ...]) -> tuple[Instruction, ...]:
    """`In a magic ring work ch 2, 8 hdc`: what is worked goes in the ring, where no place is named."""
    if not any(isinstance(item, RingStart) for item in items):
        return items
    works = [item for item in items if isinstance(item, Work) and item.stitch != "sl st"]
    place = works[0].place if len(works) == 1 else None
    if place is None or place != Place("next", (Noun("st"),), place.count):
        return items
    made = replace(works[0], times=place.count or Plain(1), place=Place("plain", (Noun("ring"),)))
    return tuple(made if item is works[0] else item for item in items)


LEADING = (Chain, Join, Turn, NoJoin, FastenOff)
"""What may stand around the one stitch of a round."""


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
