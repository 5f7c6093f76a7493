"""Parts of a place: `3rd ch of next ch-5`, `center dc of next shell`; and how a place is worked into."""

from __future__ import annotations

from server.craft.fabric.faults import Stuck, called, fault
from server.craft.fabric.ring import Found
from server.craft.fabric.values import Into
from server.craft.fabric.working import Target, Working
from server.craft.text import rules
from server.craft.text.numbers import ordinal
from server.craft.text.tree import Noun, Part, Place, Span
from server.craft.text.vocabulary import name_in


def part_of(work: Working, place: Place, noun: Noun, found: Found, span: Span) -> Target:
    """The part of a place that is named, or the place itself."""
    if place.edge == "between":
        return Target(found, Noun("sp"), "between")
    into = _into(work, place, noun, found)
    if place.part is None or place.part.kind == "top":
        return Target(found, noun, into)
    inside = _inside(work, place.part, noun, found)
    part = place.part
    index: int | None
    if part.kind == "center":
        if part.noun is None and noun.kind == "group":
            if found.base_end < found.base_start:
                raise Stuck(fault(rules.NO_CENTER, span, group=noun.name))
            return Target(found, noun, into)
        index = len(inside) // 2 if len(inside) % 2 else None
        if index is None:
            raise Stuck(fault(rules.NO_CENTER, span, group=called(noun)))
    elif part.kind == "last":
        index = len(inside) - 1 if inside else None
    else:
        index = part.ordinal - 1 if part.ordinal <= len(inside) else None
    if index is None:
        what = called(part.noun or Noun("ch"), name_in((part.noun or noun).name, work.setting.header.terms))
        name = (
            f"{ordinal(part.ordinal)} {what} in a {called(noun)}"
            if part.kind == "kth"
            else f"{what} in a {called(noun)}"
        )
        raise Stuck(fault(rules.NO_PLACE, span, place=name, near=""))
    at = inside[index]
    whole_space = part.noun is not None and part.noun.kind == "sp"
    if whole_space:
        length = work.ring.space_at[at % work.size].length
        return Target(Found(at, at + length - 1, at, at + length - 1), part.noun or noun, "space", via=noun)
    named = work.ring.noun_at(at % work.size)
    kind: Into = "chain" if named.kind == "sp" else "top"
    return Target(Found(at, at, at, at), part.noun or noun, into if place.edge else kind, via=noun)


def _inside(work: Working, part: Part, noun: Noun, found: Found) -> list[int]:
    """Positions of the parts with that name inside a found place."""
    ring = work.ring
    wanted = part.noun or Noun("ch" if noun.kind == "sp" else "st")
    if noun.kind == "sp" and wanted.kind in ("ch", "st"):
        return list(range(found.start, found.end + 1))
    if wanted.kind == "sp":
        return list(ring.positions(wanted, found.start, found.end))
    return [
        position
        for position in range(found.start, found.end + 1)
        if ring.is_noun(position % work.size, wanted)
    ]


def _into(work: Working, place: Place, noun: Noun, found: Found) -> Into:
    if place.post:
        return "post"
    if place.edge is not None:
        return place.edge
    if noun.kind == "sp":
        return "space"
    atom = work.ring.atoms[found.base_start % work.size]
    if atom.kind in ("side", "underside"):
        return "side" if atom.kind == "side" else "underside"
    if noun.kind == "group":
        return "space" if atom.kind == "chain" else "center"
    if atom.kind == "foundation":
        return "foundation"
    return "chain" if atom.kind == "chain" else "top"
