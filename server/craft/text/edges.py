"""Settles what `evenly around the edge` is worked into, and how many stitches that are.

An edge is that of the ends of rows, of a gap, or of the round below: the section says which. Where the words
give no number, the round's count does.
"""

from __future__ import annotations

import re
from dataclasses import replace

from server.craft.text.cursor import Context
from server.craft.text.row_ends import ROW_EDGE
from server.craft.text.tree import Instruction, Line, Noun, Number, Plain, RoundLine, Section, Work
from server.craft.text.vocabulary import plain_stitch

EVENLY = re.compile(r"\b(?:evenly|even)\b", re.IGNORECASE)
EDGE = Noun("edge")


def with_edges(section: Section, context: Context) -> Section:
    """The section, each of its edges as what it is."""
    first = next((line for line in section.lines if isinstance(line, RoundLine)), None)
    lines = tuple(_line(line, section, context, first=line is first) for line in section.lines)
    same = all(one is other for one, other in zip(lines, section.lines, strict=True))
    return section if same else replace(section, lines=lines)


def _line(line: Line, section: Section, context: Context, *, first: bool) -> Line:
    if not isinstance(line, RoundLine):
        return line
    body = tuple(_settled(item, line, section, context, first=first) for item in line.body)
    same = all(one is other for one, other in zip(body, line.body, strict=True))
    return line if same else replace(line, body=body)


def _settled(
    item: Instruction, line: RoundLine, section: Section, context: Context, *, first: bool
) -> Instruction:
    if not isinstance(item, Work) or item.place is None or item.place.which != "each":
        return item
    where, evenly = item.place, EVENLY.search(context.source.slice(item.span)) is not None
    if where.nouns == (ROW_EDGE,):
        rows = section.kind == "row ends"
        where = replace(where, nouns=(Noun("row") if rows else EDGE,), edge="side" if rows else None)
    elif section.kind == "gap edge" and first and evenly and where.nouns == (Noun("st"),):
        where = replace(where, nouns=(EDGE,))
    is_edge = where.nouns[0].kind == "edge"
    if not (evenly or is_edge) and where is item.place:
        return item
    times: Number = item.times
    if times == Plain(1) and (evenly or is_edge) and (stated := _stated(item, line)) is not None:
        times = stated
    return replace(
        item,
        times=times,
        place=replace(where, evenly=where.evenly or (times != Plain(1) and (is_edge or evenly))),
    )


def _stated(item: Work, line: RoundLine) -> Number | None:
    """The round's count, where it is that of this one stitch."""
    worked = [one for one in line.body if isinstance(one, Work) and one.stitch != "sl st"]
    if worked != [item] or line.stated is None or len(line.stated.items) != 1:
        return None
    stated = line.stated.items[0]
    name = stated.noun
    alike = (
        name is None
        or name.kind == "st"
        or (
            name.kind == "stitch"
            and isinstance(item.stitch, str)
            and plain_stitch(name.name) == plain_stitch(item.stitch)
        )
    )
    return stated.number if alike else None
