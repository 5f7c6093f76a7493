"""The end of a round: what is left unworked (rule 5), and the edges of a gap (rule 7)."""

from __future__ import annotations

from collections.abc import Sequence

from server.craft.fabric.faults import Stuck, fault, several
from server.craft.fabric.missing import group_begun_in
from server.craft.fabric.placing import targets
from server.craft.fabric.repeating import head_skips
from server.craft.fabric.values import Did, DidRepeat, Doing
from server.craft.fabric.working import Hit, Working
from server.craft.text import rules
from server.craft.text.tree import Join, NoJoin, OtherSide, Place, Span, Turn, Work


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
    left = _gaps_left(work) or _left(work, work.position + 1, work.limit, to_space=_begun_by_space(work))
    if left:
        work.report(fault(rules.LEFT_OVER, _last_span(work), left=_are(left)))


def _gaps_left(work: Working) -> list[str]:
    """Names of the gaps left, in a round that is worked between stitches to its end."""
    if work.last is None or work.last.into != "between" or not _begun_by_space(work):
        return []
    place = _last_place(work.doings)
    if place is None or place.edge != "between":
        return []
    first = work.position + (2 if place.pairs else 1)
    passed = {position % work.size for position in work.all_skipped()} | work.travelled
    gaps = list(work.ring.positions(place.nouns[0], first, work.limit - 1, place.edge))
    # of pairs every other gap is the one between two pairs
    return ["gap" for at in gaps[:: 2 if place.pairs else 1] if at % work.size not in passed]


def _last_place(doings: Sequence[Doing]) -> Place | None:
    """Where the last stitch went."""
    for doing in reversed(doings):
        if isinstance(doing, DidRepeat):
            if (place := _last_place(doing.last or doing.body)) is not None:
                return place
        elif isinstance(doing.instruction, Work):
            return doing.instruction.place
    return None


def _begun_by_space(work: Working) -> bool:
    assert work.begun is not None
    assert work.begun_noun is not None
    return work.begun_noun.kind in ("sp", "group") or (
        work.ring.atoms[work.begun.base_start % work.size].kind == "chain"
    )


def _left(work: Working, first: int, limit: int, *, to_space: bool) -> list[str]:
    """Names of the places left; stitches passed on the way to a space are not."""
    passed = {position % work.size for position in work.all_skipped()} | work.travelled
    if first < limit:
        passed |= group_begun_in(work)
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
    for doing in reversed(work.doings):
        if isinstance(doing, DidRepeat):
            return work.closed_by.span if work.closed_by is not None else _first_span(doing, work.body_span)
        if not isinstance(doing.instruction, Join | NoJoin | OtherSide | Turn):
            return doing.instruction.span
    return work.body_span


def _first_span(doing: Doing, default: Span) -> Span:
    if isinstance(doing, Did):
        return doing.instruction.span
    return _first_span(doing.body[0], default) if doing.body else default


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
    head = [] if work.begin_length and work.nodes[0].kind != "begin" else _head_of_row(work)
    tail = (
        []
        if work.closed_by is not None and work.closed_by.times is not None and _head_skips_reach(work)
        else (_left(work, work.position + 1, work.size, to_space=False))
    )
    if head or tail:
        rule = rules.LEFT_OVER if work.chain_places else rules.LEFT_OVER_ROW
        work.report(fault(rule, _last_span(work) if tail else work.body_span, left=_are(tail or head)))


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
    last = _last_place(work.doings)
    if last is not None and last.evenly:
        return  # all around, whatever share each edge has of it
    ring = work.ring
    worked = {
        index
        for node in work.nodes
        if node.kind in ("stitch", "begin") and (node.name or node.kind == "stitch")
        for index in node.base
    }
    parts = (
        ("the places that the gap passed over", range(ring.below)),
        ("the side of the stitch after the gap", range(ring.below, ring.below + 1)),
        ("the underside of its chains", range(ring.below + 1, work.size - 1)),
        ("the side of the stitch before the gap", range(work.size - 1, work.size)),
    )
    missing = [words for words, part in parts if len(part) and not worked.intersection(part)]
    if missing:
        work.report(fault(rules.GAP_PART, work.body_span, part=" and ".join(missing)))
