"""What a round leaves for the next: its ring of places, with spaces and groups, and its counts (rule 1)."""

from __future__ import annotations

from collections import Counter
from operator import eq

from server.craft.fabric.ring import Atom, Ring, Stretch
from server.craft.fabric.stock import Element
from server.craft.fabric.working import Working
from server.craft.text.vocabulary import plain_stitch


def new_ring(work: Working, *, circular: bool) -> Ring:
    """The places that the round leaves."""
    kind = (
        "foundation"
        if work.foundation is not None and all(e.kind == "chain" for e in work.elements)
        else None
    )
    atoms = (
        (Atom("foundation", "ch"),) * len(work.elements)
        if kind
        else tuple([element.atom for element in work.elements])
    )
    spaces = () if kind else tuple(_spaces(work.elements))
    hook, length = (
        work.hook if work.joined and work.hook is not None else (0 if circular else max(0, len(atoms) - 1), 1)
    )
    if not work.joined and (work.no_join or work.setting.header.worked == "spiral") and circular:
        hook, length = -1, 1
    groups = () if kind else tuple(_groups(work, circular))
    clumps = () if kind else tuple(_clumps(work.elements, circular))
    return Ring(atoms, spaces, groups, circular, hook, length, clumps=clumps)


def _spaces(elements: list[Element]) -> list[Stretch]:
    spaces: list[Stretch] = []
    start = -1
    for index, element in enumerate(elements):
        if element.kind == "chain":
            if start < 0:
                start = index
        elif start >= 0:
            spaces.append(Stretch(start, index - start))
            start = -1
    if start >= 0:
        spaces.append(Stretch(start, len(elements) - start))
    return spaces


def _clumps(elements: list[Element], circular: bool) -> list[Stretch]:
    """Two and more stitches in one place, also across the round's beginning."""
    runs = _runs(elements)
    clumps = [Stretch(start, end - start) for start, end in runs if end - start > 1]
    if circular and len(runs) > 1:
        (first, upto), (last, end) = runs[0], runs[-1]
        base = elements[first].base
        if base is not None and base == elements[last].base and len(elements) == end and not first:
            clumps = [one for one in clumps if one.start not in (first, last)]
            clumps.append(Stretch(last, end - last + upto))
    return clumps


def _groups(work: Working, circular: bool) -> list[Stretch]:
    """Groups worked by name, and stitches in one place that spell one, also across the round's beginning."""
    elements = work.elements
    groups = [Stretch(made.start, made.end - made.start, made.name) for made in work.groups]
    spelled = work.setting.spelled
    shortest = min(map(len, spelled), default=1)
    if not spelled or (shortest > 1 and not _any_in_one_place(elements)):
        return sorted(groups, key=lambda group: group.start)
    taken = {index for group in groups for index in range(group.start, group.start + group.length)}
    runs = _runs(elements)
    if circular and len(runs) > 1 and (wrapped := _wrapped(work, runs[-1], runs[0])) is not None:
        groups.append(wrapped)
        runs = runs[1:-1]
    for start, end in runs:
        if end - start < shortest or not taken.isdisjoint(range(start, end)):
            continue
        name = spelled.get(tuple(element.name for element in elements[start:end]))
        if name is not None:
            groups.append(Stretch(start, end - start, name))
    return sorted(groups, key=lambda group: group.start)


def _any_in_one_place(elements: list[Element]) -> bool:
    """Whether any two stitches one after another stand in one place, also across the round's beginning."""
    bases = [element.base for element in elements if element.kind == "stitch"]
    return bool(bases) and (bases[0] == bases[-1] or any(map(eq, bases, bases[1:])))


def _runs(elements: list[Element]) -> list[tuple[int, int]]:
    """Half-open ranges from first to last of the stitches that stand one after another in one place."""
    runs: list[tuple[int, int]] = []
    start = end = -1
    base: object = None
    for index, (kind, _, own, _, _) in enumerate(elements):
        if kind == "chain":
            continue
        if start >= 0 and own is not None and own == base:
            end = index + 1
            continue
        if start >= 0:
            runs.append((start, end))
        start, end, base = index, index + 1, own
    if start >= 0:
        runs.append((start, end))
    return runs


def _wrapped(work: Working, last: tuple[int, int], first: tuple[int, int]) -> Stretch | None:
    elements = work.elements
    if elements[last[0]].base is None or elements[last[0]].base != elements[first[0]].base:
        return None
    names = tuple(element.name for element in (*elements[last[0] :], *elements[: first[1]]))
    name = work.setting.spelled.get(names)
    return Stretch(last[0], len(names), name) if name else None


def counts_of(ring: Ring, *, foundation: bool) -> dict[str, int]:
    """What a round has: groups, stitches (decreases also as the stitch they are),
    spaces, "sts"; a foundation its chains.
    """
    if foundation and all(atom.kind == "foundation" for atom in ring.atoms):
        return {"ch": len(ring.atoms)}
    counts: dict[str, int] = {}
    for group in ring.groups:
        counts[group.name] = counts.get(group.name, 0) + 1
    stitches = Counter([atom.name for atom in ring.atoms if atom.kind == "stitch"])
    for stitch, number in stitches.items():
        for name in dict.fromkeys((plain_stitch(stitch), stitch)):
            counts[name] = counts.get(name, 0) + number
    for length, number in Counter(space.length for space in ring.spaces).items():
        counts[f"ch-{length} sp"] = number
    return {**counts, "sts": stitches.total()}
