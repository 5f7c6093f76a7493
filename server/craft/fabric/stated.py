"""A round's stated count against what was worked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from server.craft.fabric.faults import Fault, fault
from server.craft.fabric.numbering import NotWhole
from server.craft.fabric.ring import Ring
from server.craft.fabric.working import Working
from server.craft.text import rules
from server.craft.text.tree import CountLine, SizeList, Span, StatedCount
from server.craft.text.vocabulary import name_in, plain_stitch, plural


def check_stated(
    work: Working,
    ring: Ring,
    counts: Mapping[str, int],
    stated: CountLine,
    *,
    held_over: Span | None,
    off_line: bool,
) -> bool:
    """Compares a count line with what was worked; answers whether all of it was checked and right.

    held_over: the words of `rep rnd 3` where the count line stands at another round.
    """
    right, checked = True, False
    numbering = work.setting.numbering
    for item in stated.items:
        if work.setting.numbering.is_absent(item.number):
            continue
        if off_line and isinstance(item.number, SizeList):
            continue
        name = _name_of(item, work)
        if name is None:
            continue
        try:
            expected = numbering.value(item.number, is_foundation=True)
        except NotWhole as odd:
            work.report(fault(rules.NOT_WHOLE, odd.number.span))
            right = False
            continue
        actual = _worked(name, stated, ring, counts)
        checked = True
        if actual != expected:
            instead = _instead(counts, expected) if actual == 0 else None
            work.faults.append(_wrong(work, item, name, (expected, actual), held_over, instead))
            right = False
    return right and checked


def _name_of(item: StatedCount, work: Working) -> str | None:
    noun = item.noun
    if noun is None:
        return (
            "ch" if work.foundation is not None and all(e.kind == "chain" for e in work.elements) else "sts"
        )
    if noun.kind == "st":
        return "sts"
    if noun.kind in ("stitch", "group"):
        return noun.name
    if noun.kind == "sp":
        return f"ch-{noun.length} sp" if noun.length is not None else "sp"
    return "ch" if noun.kind in ("ch", "foundation ch") else None


def _worked(name: str, stated: CountLine, ring: Ring, counts: Mapping[str, int]) -> int:
    if name == "sp":
        return len(ring.spaces)
    if name == "ch":
        return sum(atom.kind in ("chain", "foundation") for atom in ring.atoms)
    if name == "sts":
        return counts.get("sts", 0)
    named = {
        other.noun.name for other in stated.items if other.noun is not None and other.noun.kind == "stitch"
    }
    apart = {other for other in named if other != name and plain_stitch(other) == name}
    return counts.get(name, 0) - sum(counts.get(other, 0) for other in apart)


def _instead(counts: Mapping[str, int], expected: int) -> str | None:
    """Where none of what is stated is there: the stitch that there is that many of."""
    return next((name for name, number in counts.items() if number == expected and name != "sts"), None)


def _wrong(
    work: Working,
    item: StatedCount,
    name: str,
    numbers: tuple[int, int],
    held_over: Span | None,
    instead: str | None,
) -> Fault:
    """The fault of a count: `numbers` as stated and as worked."""
    terms = work.setting.header.terms
    expected, actual = numbers
    shown = name_in(name, terms)

    def words(number: int) -> str:
        if name == "sts":
            return f"{number} st{'' if number == 1 else 's'}"
        if name.endswith(" sp") or name == "sp":
            return f"{number} {shown}{'' if number == 1 else 's'}"
        return f"{number} {shown if number == 1 else plural(shown)}"

    found = fault(
        rules.COUNT_WRONG, held_over or item.span, stated=words(expected), worked=words(actual), name=name,
        instead=name_in(instead, terms) if instead else "",
    )  # fmt: skip
    return replace(found, origin=item.span) if held_over is not None else found
