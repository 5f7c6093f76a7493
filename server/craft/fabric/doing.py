"""Carries out instructions: chains, stitches, skips, joins. Repeats are in `repeating`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from operator import eq

from server.craft.fabric import repeating
from server.craft.fabric.beginning import begin_chain, first_stitch, pass_from_hook, travels
from server.craft.fabric.faults import Stuck, TooLarge, fault
from server.craft.fabric.foundation_sides import along_other_side
from server.craft.fabric.in_a_row import in_a_row
from server.craft.fabric.joining import join
from server.craft.fabric.picots import is_picot, make_picot, picot
from server.craft.fabric.placing import targets
from server.craft.fabric.ring import Found
from server.craft.fabric.travelling import stand_at, travel
from server.craft.fabric.values import Did, Node
from server.craft.fabric.working import MAX_NODES_IN_ROUND, Gap, Hit, MadeGroup, Target, Working
from server.craft.text import rules
from server.craft.text.numbers import written
from server.craft.text.tree import (
    Chain,
    FoundationStitches,
    Inline,
    Instruction,
    Join,
    JoinYarn,
    NoJoin,
    Noun,
    OtherSide,
    Place,
    Plain,
    Repeat,
    RingStart,
    SizeList,
    Skip,
    Span,
    Turn,
    Work,
)
from server.craft.text.vocabulary import legs

NEXT_ST = (Noun("st"),)


def carry_out(work: Working, items: Sequence[Instruction], *, top: bool = False) -> None:
    """Carries out instructions in order. Raises Stuck or Hit where one cannot be."""
    for index, item in enumerate(items):
        following = items[index + 1 :]
        if isinstance(item, Repeat):
            repeating.repeat(work, item, following, carry_out)
        elif isinstance(item, Chain):
            _chain(work, item, following, top=top)
        else:
            _one(work, item, items, index, top=top)
        if not isinstance(item, Repeat | Join | Turn | NoJoin | Chain | Skip):
            work.closed_by = None


def _one(work: Working, item: Instruction, items: Sequence[Instruction], index: int, *, top: bool) -> None:
    start = len(work.nodes)
    if isinstance(item, Work):
        if top and travels(items, index):
            travel(work, item)
        elif top and item.stitch == "sl st" and work.setting.header.worked == "spiral":
            _last_slip(work, item)
        else:
            _work(work, item)
    elif isinstance(item, Skip):
        _skip(work, item)
    elif isinstance(item, Join):
        if item.to_ring and any(isinstance(after, Work | Repeat) for after in items[index + 1 :]):
            _begin_ring(work, item)
        else:
            join(work, item)
        work.doings.append(Did(item, 0, None, (start, len(work.nodes))))
    elif isinstance(item, JoinYarn):
        _join_yarn(work, item)
    elif isinstance(item, Turn):
        if work.elements or work.nodes:
            work.turn_after = True
        work.doings.append(Did(item, 0, None, (start, start)))
    elif isinstance(item, NoJoin):
        work.no_join = True
        work.doings.append(Did(item, 0, None, (start, start)))
    elif isinstance(item, OtherSide):
        along_other_side(work, item)
    elif isinstance(item, FoundationStitches):
        _foundation_stitches(work, item)
    elif isinstance(item, RingStart):
        work.ring_begun = True
        work.doings.append(Did(item, 0, None, (start, start)))
    else:
        work.doings.append(Did(item, 0, None, (start, start)))


# --- chains -------------------------------------------------------------------------------------------------


def _chain(work: Working, item: Chain, following: Sequence[Instruction], *, top: bool) -> None:
    many = work.value(item.number, item.span)
    start = len(work.nodes)
    if work.foundation is not None and not work.elements:
        _agree_with_header(work, item)
    if _opens_a_gap(work, item, following):
        # a spiral has no beginning chain: these pass over the first places of the round
        work.begun, work.begun_noun = Found(0, 0, 0, 0), Noun("st")
    elif top and not work.elements and work.foundation is None and (work.size or _goes_on(following)):
        counts = begin_chain(work, item, many, following)
        work.doings.append(Did(item, 0, None, (start, len(work.nodes)), counts, begins=True))
        return
    if following and isinstance(following[0], Skip) and work.last is not None:
        last = work.last.found
        work.pending_gap = Gap(many, len(work.elements), last.base_end, 0)
    work.chains(many, item.span)
    work.doings.append(Did(item, 0, None, (start, len(work.nodes))))


def _agree_with_header(work: Working, item: Chain) -> None:
    """The foundation's list, where it is the header's but for some numbers: one of the two is a slip."""
    number, foundations = item.number, work.setting.header.foundations
    if not isinstance(number, SizeList) or len(number.values) != len(foundations):
        return
    if number.values != foundations and any(map(eq, number.values, foundations)):
        right = written(SizeList(foundations))
        words = written(number)
        raise Stuck(fault(rules.FOUNDATION_DIFFERS, number.span, foundation=right, mend=right, chained=words))


def _opens_a_gap(work: Working, item: Chain, following: Sequence[Instruction]) -> bool:
    if work.setting.header.worked != "spiral" or work.begun is not None or work.elements or not work.size:
        return False
    return item.counts is None and bool(following) and isinstance(following[0], Skip)


def _goes_on(following: Sequence[Instruction]) -> bool:
    """Whether stitches come after the chain in a piece that starts from a
    ring: then the chain begins the round.
    """
    for item in following:
        if isinstance(item, Join) and item.to_ring:
            return False
        if isinstance(item, Work | Repeat):
            return True
    return False


def _begin_ring(work: Working, item: Join) -> None:
    """`ch 4, join to form a ring, ch 3, 11 dc in ring`: the chains are the ring the round is worked into."""
    work.make(Node("slip", "sl st", 1, (), "none"), None, item.span)
    work.elements.clear()
    work.ring_begun = True


def _foundation_stitches(work: Working, item: FoundationStitches) -> None:
    many = work.value(item.number, item.span)
    start = len(work.nodes)
    if start + many > MAX_NODES_IN_ROUND:
        raise TooLarge(item.span)
    work.nodes += [Node("stitch", item.stitch, 1, (), "none")] * many
    work.elements += work.setting.stock.elements(item.stitch, "foundation").single(many)[:many]
    work.doings.append(Did(item, many, None, (start, len(work.nodes))))


# --- stitches -----------------------------------------------------------------------------------------------


def _work(work: Working, item: Work) -> None:
    start = len(work.nodes)
    reached, noun = 0, None
    if isinstance(item.stitch, str) and legs(item.stitch) > 1:
        reached, noun = _together(work, item, item.stitch)
    elif is_picot(work, item):
        picot(work, item)
    else:
        reached, noun = _into_places(work, item)
        if not reached and len(work.nodes) == start:
            return  # none of it at this size
    work.doings.append(Did(item, reached, noun, (start, len(work.nodes))))


def _last_slip(work: Working, item: Work) -> None:
    """A spiral's end: `sl st in next st` into the round's own first stitch makes the step even."""
    mark = work.mark()
    try:
        _work(work, item)
    except Hit as hit:
        if not hit.exact or len(work.nodes) > mark.nodes:
            raise
        start = len(work.nodes)
        work.make(Node("slip", "sl st", 1, (), "none"), None, item.span)
        work.doings.append(Did(item, 1, hit.noun, (start, start + 1)))


def _into_places(work: Working, item: Work) -> tuple[int, Noun | None]:
    """Into one place after another; how many they were, and what the first is called."""
    place = item.place or Place("next", NEXT_ST, span=item.span)
    times = work.value(item.times, item.span)
    loop = place.loop or ""
    stitch = _one_stitch(work, item)
    if stitch is not None and times and not work.begin_from_hook:
        done = in_a_row(work, place, stitch, times, loop, item.span)
        if done is not None:
            return done
    reached, noun = 0, None
    if place.which == "each" and place.nouns[0].kind == "edge" and not place.evenly and not work.quiet:
        work.report(fault(rules.EVENLY_UNSAID, item.span, many=str(work.size)))
    for target in _or_too_few(work, place, item.span):
        noun = noun or target.noun
        if work.begin_from_hook:
            pass_from_hook(work, first_stitch((item,), work.setting.specials) or "sc", item)
        if place.evenly:
            _evenly(work, item, target, times, reached)
        elif stitch is not None and times == 1:
            work.stitch(stitch, target, loop, item.span)
        elif stitch is not None:
            work.stitches((stitch,), times, target, loop, item.span)
        else:
            put(work, item, target, times)
        reached += 1
    return reached, noun


def _evenly(work: Working, item: Work, target: Target, many: int, reached: int) -> None:
    """The share of this place, where so many stitches go over all row ends."""
    size = work.size
    share = many * (reached + 1) // size - many * reached // size
    for _ in range(share):
        put(work, item, target)
    if not share:
        work.skip(range(target.found.start, target.found.end + 1))
        work.position, work.stood = target.found.end, True


def _or_too_few(work: Working, place: Place, span: Span) -> Iterator[Target]:
    """The places; where there are fewer of them than were asked for, the Hit says how many there are."""
    reached = 0
    try:
        for target in targets(work, place, span):
            yield target
            reached += 1
    except Hit as hit:
        if reached and place.count is not None:
            are = "is" if reached == 1 else "are"
            hit.how = f"only {reached} of its {work.value(place.count)} places {are} left"
        raise


def _one_stitch(work: Working, item: Work) -> str | None:
    """The name of what is worked, where it is one stitch and no group."""
    if isinstance(item.stitch, Inline):
        return None
    special = work.setting.specials.get(item.stitch)
    return item.stitch if special is None or special.one_stitch else None


def put(work: Working, item: Work, target: Target, times: int = 1) -> None:
    """One stitch, group or `(…)` into a place, so many times over."""
    loop = (item.place.loop if item.place else None) or ""
    if not isinstance(item.stitch, Inline):
        _put_named(work, item.stitch, target, loop, item, times)
        return
    for _ in range(times):
        _put_inline(work, item.stitch, target, loop)


def _put_named(work: Working, name: str, target: Target, loop: str, item: Work, times: int = 1) -> None:
    special = work.setting.specials.get(name)
    if special is None or special.one_stitch:
        work.stitches((name,), times, target, loop, item.span)
        return
    if name == "picot":
        for _ in range(times):
            make_picot(work, item)
        return
    first = len(work.elements)
    work.stitches(special.items, times, target, loop, item.span)
    many = (len(work.elements) - first) // times if times else 0
    work.groups += [MadeGroup(name, first + turn * many, first + (turn + 1) * many) for turn in range(times)]


def _put_inline(work: Working, inside: Inline, target: Target, loop: str) -> None:
    for part in inside.items:
        if isinstance(part, Chain):
            many = work.value(part.number, part.span)
            if not work.elements and work.begun is None and part is inside.items[0]:
                work.last = target
                if target.moves:
                    work.position = target.found.end
                following = [replace(one, place=None) for one in inside.items[1:] if isinstance(one, Work)]
                begin_chain(work, part, many, following)
                continue
            work.chains(many, part.span)
            continue
        times = work.value(part.times, part.span)
        if (stitch := _one_stitch(work, part)) is not None:
            work.stitches((stitch,), times, target, loop, part.span)
            continue
        _put_named(work, str(part.stitch), target, loop, part, times)


def _together(work: Working, item: Work, name: str) -> tuple[int, Noun | None]:
    """`sc2tog`: the next places, as many as it has legs, closed to one stitch."""
    many = legs(name)
    place = item.place or Place("next", (Noun("st"),), span=item.span)
    times = work.value(item.times, item.span)
    if place.which in ("next", "plain") and (place.count is None or work.value(place.count) < many):
        place = replace(place, which="next", count=Plain(many * times))
    reached, noun = 0, None
    waiting: list[Target] = []
    before = work.position
    try:
        for target in targets(work, place, item.span):
            noun = noun or target.noun
            waiting.append(target)
            work.begin_at(waiting[0])
            work.position = target.found.end if target.moves else work.position
            if len(waiting) == many:
                _close_together(work, name, waiting, item)
                reached += many
                waiting = []
    except Hit as hit:
        are = "is" if len(waiting) == 1 else "are"
        raise Hit(
            hit.target,
            hit.noun,
            exact=hit.exact,
            skipping=False,
            span=hit.span,
            middle=bool(waiting),
            how=f"it takes {many} places, and {len(waiting)} {are} left" if waiting else hit.how,
        ) from None
    if waiting:
        work.position = before
        raise Stuck(fault(rules.NO_PLACE, item.span, place=f"{many} places for each {name}", near=""))
    return reached, noun


def _close_together(work: Working, name: str, waiting: list[Target], item: Work) -> None:
    size = work.size or 1
    base = tuple(
        position % size
        for target in waiting
        for position in range(target.found.base_start, target.found.base_end + 1)
    )
    loop = (item.place.loop if item.place else None) or ""
    stock = work.setting.stock
    node = stock.nodes(name, waiting[0].into, loop, len(waiting)).at(base)
    work.make(node, stock.elements(name, "together").at(base), item.span)
    work.moved(waiting[-1])


# --- moving -------------------------------------------------------------------------------------------------


def _skip(work: Working, item: Skip) -> None:
    place = item.place
    start = len(work.nodes)
    reached, noun = 0, None
    fresh: list[int] = []
    try:
        for target in targets(work, place, item.span):
            found = target.found
            fresh.extend(range(found.start, found.end + 1))
            work.position = max(work.position, found.end)
            work.stood = True
            noun = noun or target.noun
            reached += 1
    except Hit as hit:
        raise Hit(
            hit.target, hit.noun, exact=hit.exact and reached == 0, skipping=True, span=hit.span
        ) from None
    work.skip(fresh)
    work.doings.append(Did(item, reached, noun, (start, start)))


def _join_yarn(work: Working, item: JoinYarn) -> None:
    start = len(work.nodes)
    place = item.place or Place("any", (Noun("st"),), span=item.span)
    if place.which in ("plain", "next", "kth"):
        place = replace(place, which="first" if place.which != "kth" else "kth")
    if not work.size:
        raise Stuck(fault(rules.NO_YARN, item.span))
    work.quiet = True
    target = next(iter(targets(work, place, item.span)))
    work.quiet = False
    stand_at(work, target)
    assert work.last is not None
    if item.stitch == "sl st":
        found = target.found
        base = tuple(at % work.size for at in range(found.base_start, found.base_end + 1))
        work.make(Node("slip", "sl st", 1, base, target.into), None, item.span)
    else:
        put(work, Work(item.stitch, Plain(1), place, item.span), work.last)
    work.doings.append(Did(item, 1, target.noun, (start, len(work.nodes)), begins=True))
