"""Places that are not there, and places passed by: the words that say so."""

from __future__ import annotations

from server.craft.fabric.faults import Fault, called, fault, several
from server.craft.fabric.working import Target, Working
from server.craft.text import rules
from server.craft.text.tree import Noun, Place, Span
from server.craft.text.vocabulary import name_in, plural


def exists(work: Working, place: Place) -> bool:
    """Whether any place below has one of the names, wherever the hook is."""
    return work.ring.find(place.nouns, 0, work.size - 1, place.edge) is not None if work.size else False


def no_place(work: Working, place: Place, span: Span) -> Fault:
    """The fault that nothing below is called that."""
    names = " or ".join(called(noun, name_in(noun.name, work.setting.header.terms)) for noun in place.nouns)
    if place.edge == "side":
        names = f"side of {names}"
    elif place.edge == "between":
        names = f"gap between {'groups' if place.nouns == (Noun('group'),) else plural(names)}"
    elif place.edge == "underside":
        names = f"underside of {names}"
    return fault(rules.NO_PLACE, span, place=f"{names}", near=what_there_is(work))


def what_there_is(work: Working) -> str:
    """Which spaces or stitches do stand below, to show what may have been meant."""
    if not work.size:
        return " Nothing stands below to work into."
    spaces = sorted({space.length for space in work.ring.spaces})
    stitches = sorted(
        {name_in(atom.name, work.setting.header.terms) for atom in work.ring.atoms if atom.kind == "stitch"}
    )
    groups = sorted({group.name for group in work.ring.groups})
    there = [*groups, *stitches, *(f"ch-{length} sp" for length in spaces)]
    if any(atom.kind == "foundation" for atom in work.ring.atoms):
        there.append("foundation ch")
    return f" The round below has: {', '.join(there)}." if there else ""


def none_left(place: Place, span: Span) -> Fault:
    """The fault that no such place is left in the round."""
    return fault(rules.NO_PLACE, span, place=f"{called(place.nouns[0])} left", near="")


def stands_on(work: Working, last: Target) -> str:
    """Where the hook is, in words."""
    return f" The hook is at a {called(last.noun, name_in(last.noun.name, work.setting.header.terms))}."


def passed(work: Working, place: Place, to: int, span: Span) -> None:
    """Warns where stitches are passed without `sk` on the way (rule 3)."""
    first = work.position + (
        2 if place.pairs and work.last is not None and work.last.into == "between" else 1
    )
    if work.quiet or work.ring.gap or to <= first or not work.size:
        return
    ring = work.ring
    between = range(first, to)
    names = place.nouns
    if any(noun.kind in ("sp", "group") for noun in names):
        lengths = {noun.length for noun in names if noun.kind == "sp"}
        if lengths and None not in lengths and place.edge is None:
            for position in between:
                space = ring.space_starting.get(position % work.size)
                if space is not None and space.length not in lengths:
                    work.report(fault(rules.OTHER_LENGTH, span, passed=f"ch-{space.length} sp"))
                    return
        return
    over = [
        position for position in between if ring.atoms[position % work.size].kind in ("stitch", "foundation")
    ]
    if over:
        name = "foundation ch" if ring.atoms[over[0] % work.size].kind == "foundation" else "st"
        verb = "is" if len(over) == 1 else "are"
        work.report(fault(rules.PASSED, span, passed=f"{several(len(over), name)} {verb}"))


def group_begun_in(work: Working) -> set[int]:
    """Indices of the group in whose center stitch the round began: its other places are passed with it."""
    if work.begun is None or not work.size:
        return set()
    size, index = work.size, work.begun.base_start % work.size
    for group in work.ring.groups:
        center = work.ring.center(group)
        if center is not None and center[0] == center[1] and (group.start + center[0]) % size == index:
            return {(group.start + offset) % size for offset in range(group.length)}
    return set()
