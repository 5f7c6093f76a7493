"""The end of a round: what is left unworked, which groups were spelled, the new ring, its counts (rules 1 and 5)."""

from __future__ import annotations

from collections.abc import Mapping

from server.craft.fabric.faults import Fault, Stuck, fault, several
from server.craft.fabric.numbering import NotWhole
from server.craft.fabric.placing import targets
from server.craft.fabric.repeating import head_skips
from server.craft.fabric.ring import Atom, Ring, Stretch
from server.craft.fabric.working import Element, Hit, Working
from server.craft.text import rules
from server.craft.text.tree import CountLine, Noun, SizeList, Span, StatedCount
from server.craft.text.vocabulary import name_in, plain_stitch, plural


def check_left_over(work: Working) -> None:
    """Reports places between the last one worked and the beginning that nothing accounts for (rule 5)."""
    if not work.size or work.begun is None or work.ring_begun:
        return
    if work.ring.gap:
        _check_gap_parts(work)
        return
    if not work.ring.circular:
        _check_row(work)
        return
    if work.closed_by is not None:
        if work.closed_by.around and work.closed_exactly:
            return
        if work.closed_by.times is not None and _head_skips_reach(work):
            return
    left = _left(work, work.position + 1, work.limit, to_space=_begun_by_space(work))
    if left:
        work.report(fault(rules.LEFT_OVER, _last_span(work), left=_are(left)))


def _begun_by_space(work: Working) -> bool:
    assert work.begun is not None and work.begun_noun is not None
    return work.begun_noun.kind in ("sp", "group") or (
        work.ring.atoms[work.begun.base_start % work.size].kind == "chain"
    )


def _left(work: Working, first: int, limit: int, *, to_space: bool) -> list[str]:
    """Names of the places left; stitches passed on the way to a space are not."""
    passed = {position % work.size for position in work.skipped} | work.travelled
    left: list[str] = []
    for position in range(first, limit):
        index = position % work.size
        if index in passed:
            continue
        atom = work.ring.atoms[index]
        if atom.kind in ("stitch", "foundation") and not to_space:
            left.append("foundation ch" if atom.kind == "foundation" else "st")
        space = work.ring.space_starting.get(index)
        if space is not None and space.length in work.spaces_worked:
            left.append(f"ch-{space.length} sp")
    return left


def _are(left: list[str]) -> str:
    words = several(len(left), left[0]) if len(set(left)) == 1 else f"{len(left)} places"
    return f"{words} {'is' if len(left) == 1 else 'are'}"


def _last_span(work: Working) -> Span:
    """The last instruction that worked something: the words at fault."""
    from server.craft.fabric.values import Did, DidRepeat
    from server.craft.text.tree import Join, NoJoin, Turn

    for doing in reversed(work.doings):
        if isinstance(doing, DidRepeat):
            inner = doing
            return work.closed_by.span if work.closed_by is not None else _first_span(inner, work.body_span)
        if isinstance(doing, Did) and not isinstance(doing.instruction, Join | NoJoin | Turn):
            return doing.instruction.span
    return work.body_span


def _first_span(doing: object, default: Span) -> Span:
    from server.craft.fabric.values import Did, DidRepeat

    if isinstance(doing, Did):
        return doing.instruction.span
    return _first_span(doing.body[0], default) if isinstance(doing, DidRepeat) and doing.body else default


def _head_skips_reach(work: Working) -> bool:
    """A repeat by number: whether the skips at its head, once more, lead exactly to the beginning."""
    assert work.closed_by is not None
    skips = head_skips(work.closed_by)
    if not skips:
        return False
    mark = work.mark()
    try:
        for skip in skips:
            for target in targets(work, skip.place, skip.span):
                work.position = max(work.position, target.found.end)
                work.stood = True
        return work.position + 1 == work.limit
    except (Hit, Stuck):
        return False
    finally:
        work.back_to(mark)


def _check_row(work: Working) -> None:
    assert work.begun is not None
    head = [] if work.begin_length and not work.nodes[0].kind == "begin" else _head_of_row(work)
    tail = [] if work.closed_by is not None and work.closed_by.times is not None and _head_skips_reach_row(work) else (
        _left(work, work.position + 1, work.size, to_space=False)
    )
    if head or tail:
        work.report(fault(rules.LEFT_OVER_ROW, _last_span(work) if tail else work.body_span, left=_are(tail or head)))


def _head_skips_reach_row(work: Working) -> bool:
    return _head_skips_reach(work)


def _head_of_row(work: Working) -> list[str]:
    """Places before the first one worked into; chains passed from the hook are not among them."""
    assert work.begun is not None
    if any(node.kind == "begin" and len(node.base) and node.into == "none" for node in work.nodes[:1]):
        return []
    if work.nodes and work.nodes[0].kind == "begin" and work.begun.base_start <= len(work.nodes[0].base):
        return []
    to_space = _begun_by_space(work)
    return _left(work, 0, work.begun.base_start, to_space=to_space)


def _check_gap_parts(work: Working) -> None:
    """A section around the gap works something of each of its four edges (rule 7)."""
    ring = work.ring
    worked = {index for node in work.nodes if node.kind in ("stitch", "begin") and (node.name or node.kind == "stitch") for index in node.base}
    parts = (
        ("the places that the gap passed over", range(ring.below)),
        ("the side of the stitch after the gap", range(ring.below, ring.below + 1)),
        ("the underside of its chains", range(ring.below + 1, work.size - 1)),
        ("the side of the stitch before the gap", range(work.size - 1, work.size)),
    )
    missing = [words for words, part in parts if len(part) and not worked.intersection(part)]
    if missing:
        work.report(fault(rules.GAP_PART, work.body_span, part=" and ".join(missing)))


# --- the new ring --------------------------------------------------------------------------------------------------


def new_ring(work: Working, *, circular: bool) -> Ring:
    """The places that the round leaves."""
    kind = "foundation" if work.foundation is not None and all(e.kind == "chain" for e in work.elements) else None
    atoms = tuple(_atom(element, kind) for element in work.elements)
    spaces = () if kind else tuple(_spaces(work.elements))
    hook, length = work.hook if work.joined and work.hook is not None else (0 if circular else max(0, len(atoms) - 1), 1)
    if not work.joined and (work.no_join or work.setting.header.worked == "spiral") and circular:
        hook, length = -1, 1
    return Ring(atoms, spaces, () if kind else tuple(_groups(work, circular)), circular, hook, length)


def _atom(element: Element, kind: str | None) -> Atom:
    if kind:
        return Atom("foundation", "ch")
    return Atom("stitch" if element.kind == "stitch" else "chain", element.name, begin=element.begin)


def _spaces(elements: list[Element]) -> list[Stretch]:
    spaces: list[Stretch] = []
    start: int | None = None
    for index in range(len(elements) + 1):
        chain = index < len(elements) and elements[index].kind == "chain"
        if chain and start is None:
            start = index
        elif not chain and start is not None:
            spaces.append(Stretch(start, index - start))
            start = None
    return spaces


def _groups(work: Working, circular: bool) -> list[Stretch]:
    """Groups worked by name, and stitches in one place that spell one, also across the round's beginning."""
    elements = work.elements
    groups = [Stretch(made.start, made.end - made.start, made.name) for made in work.groups]
    taken = {index for group in groups for index in range(group.start, group.start + group.length)}
    runs = _runs(elements)
    if circular and len(runs) > 1 and (wrapped := _wrapped(work, runs[-1], runs[0])) is not None:
        groups.append(wrapped)
        runs = runs[1:-1]
    spelled = work.setting.spelled
    for start, end in runs:
        if any(index in taken for index in range(start, end)):
            continue
        name = spelled.get(tuple(element.name for element in elements[start:end]))
        if name is not None:
            groups.append(Stretch(start, end - start, name))
    return sorted(groups, key=lambda group: group.start)


def _runs(elements: list[Element]) -> list[tuple[int, int]]:
    """Half-open ranges from the first to the last of the stitches that stand one after another in one place."""
    runs: list[tuple[int, int]] = []
    start = end = -1
    base: object = None
    for index, element in enumerate(elements):
        if element.kind == "chain":
            continue
        if start >= 0 and element.base is not None and element.base == base:
            end = index + 1
            continue
        if start >= 0:
            runs.append((start, end))
        start, end, base = index, index + 1, element.base
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
    """What a round has: groups, stitches (decreases also as the stitch they are), spaces, "sts"; a foundation its chains."""
    if foundation and all(atom.kind == "foundation" for atom in ring.atoms):
        return {"ch": len(ring.atoms)}
    counts: dict[str, int] = {}
    for group in ring.groups:
        counts[group.name] = counts.get(group.name, 0) + 1
    total = 0
    for atom in ring.atoms:
        if atom.kind != "stitch":
            continue
        total += 1
        for name in {plain_stitch(atom.name), atom.name}:
            counts[name] = counts.get(name, 0) + 1
    for space in ring.spaces:
        name = f"ch-{space.length} sp"
        counts[name] = counts.get(name, 0) + 1
    return {**counts, "sts": total}


# --- stated counts -------------------------------------------------------------------------------------------------


def check_stated(
    work: Working, ring: Ring, counts: Mapping[str, int], stated: CountLine, *, held_over: Span | None, off_line: bool
) -> bool:
    """Compares a count line with what was worked; answers whether all of it was checked and right.

    held_over: the words of `rep rnd 3` where the count line stands at another round.
    """
    right, checked = True, False
    numbering = work.setting.numbering
    for item in stated.items:
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
        actual = _worked(name, item, stated, ring, counts)
        checked = True
        if actual != expected:
            work.faults.append(_wrong(work, item, name, expected, actual, held_over))
            right = False
    return right and checked


def _name_of(item: StatedCount, work: Working) -> str | None:
    noun = item.noun
    if noun is None:
        return "ch" if work.foundation is not None and all(e.kind == "chain" for e in work.elements) else "sts"
    if noun.kind == "st":
        return "sts"
    if noun.kind in ("stitch", "group"):
        return noun.name
    if noun.kind == "sp":
        return f"ch-{noun.length} sp" if noun.length is not None else "sp"
    return "ch" if noun.kind in ("ch", "foundation ch") else None


def _worked(name: str, item: StatedCount, stated: CountLine, ring: Ring, counts: Mapping[str, int]) -> int:
    if name == "sp":
        return len(ring.spaces)
    if name == "ch":
        return sum(atom.kind in ("chain", "foundation") for atom in ring.atoms)
    if name == "sts":
        return sum(atom.kind == "stitch" for atom in ring.atoms)
    apart = {
        other.noun.name
        for other in stated.items
        if other is not item and other.noun is not None and other.noun.kind == "stitch" and plain_stitch(other.noun.name) == name
        and other.noun.name != name
    }  # fmt: skip
    return counts.get(name, 0) - sum(counts.get(other, 0) for other in apart)


def _wrong(work: Working, item: StatedCount, name: str, expected: int, actual: int, held_over: Span | None) -> Fault:
    terms = work.setting.header.terms
    shown = name_in(name, terms)

    def words(number: int) -> str:
        if name == "sts":
            return f"{number} st{'' if number == 1 else 's'}"
        if name.endswith(" sp") or name == "sp":
            return f"{number} {shown}{'' if number == 1 else 's'}"
        return f"{number} {shown if number == 1 else plural(shown)}"

    return fault(rules.COUNT_WRONG, held_over or item.span, stated=words(expected), worked=words(actual), name=name)


def bare(noun: Noun | None) -> bool:
    """Whether a count names nothing."""
    return noun is None
