"""Finds the places that an instruction names, as rules 2 and 3 of the notation have it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

from server.craft.fabric.faults import Stuck, called, fault
from server.craft.fabric.missing import exists, no_place, none_left, passed, stands_on, what_there_is
from server.craft.fabric.parts import part_of
from server.craft.fabric.ring import Found
from server.craft.fabric.values import Did, Into
from server.craft.fabric.working import Hit, Target, Working
from server.craft.text import rules
from server.craft.text.numbers import ordinal
from server.craft.text.tree import Noun, Part, Place, Span, Work


def targets(work: Working, place: Place, span: Span) -> Iterator[Target]:
    """Every place that `place` names, one after another; the hook must be
    moved in between (by working into it).
    """
    if any(noun.kind == "ring" for noun in place.nouns):
        return iter((_ring(work, place, span),))
    one = ONE_PLACE.get(place.which)
    if one is not None:
        return iter((one(work, place, span),))
    if place.which == "each" or place.until is not None:
        return _each(work, place, span)
    if place.which == "last":
        return _last(work, place, span)
    if (place.which == "skipped" or place.skipped) and not work.ring.gap:
        return _skipped(work, place, span)
    return _ahead(work, place, span)


def _ahead(work: Working, place: Place, span: Span) -> Iterator[Target]:
    many = work.value(place.count, span) if place.count is not None else 1
    if place.edge == "underside" and place.part is not None:
        yield _underside(work, place, place.part, span)
        return
    if place.which == "kth":
        start = work.position + 1
        for passing in range(place.ordinal):
            target = _search(work, place, start, span, warn=passing == 0)
            start = target.found.end + 1
        passed(work, place, target.found.start, span)
        yield target
        return
    for turn in range(many):
        first = work.position + 1
        if (
            turn == 0
            and not work.stood
            and (place.which in ("first", "any", "skipped") or heads_a_row(work, place))
        ):
            first = _standing_start(work, place.nouns)
        if place.edge == "between" and _may_lie_here(work, place):
            first = work.position
        elif place.pairs and _just_between(work):
            first = work.position + 2  # the second of the pair just parted is behind the hook as well
        if turn == 0 and place.which == "first" and work.stood and work.begun is not None:
            yield _first_again(work, place, span)
            continue
        for _ in range(place.step - 1 if turn else 0):
            first = _search(work, place, first, span).found.end + 1
        target = _search(work, place, first, span)
        yield target


def heads_a_row(work: Working, place: Place) -> bool:
    """Whether `next st` begins a row in which nothing stands yet: then it is the row's first stitch."""
    begins = not work.ring.circular and not work.stood and not work.elements
    return begins and place.which == "next" and place.edge is None


def _may_lie_here(work: Working, place: Place) -> bool:
    """Whether the gap right behind the hook is one of those meant: it is not the one just worked into."""
    return not _just_between(work) and (place.which != "next" or place.nouns[0].kind == "group")


def _just_between(work: Working) -> bool:
    return work.last is not None and work.last.into == "between"


def _underside(work: Working, place: Place, part: Part, span: Span) -> Target:
    """`underside of 3rd ch of ch-5`: the chains of a gap are numbered as they were made."""
    ring = work.ring
    chains = [index for index, atom in enumerate(ring.atoms) if atom.kind == "underside"]
    length = place.nouns[0].length
    wanted = part.ordinal if part.kind == "kth" else (len(chains) + 1) // 2
    if part.kind == "center" and len(chains) % 2 == 0:
        wanted = 0
    there = [index for index in chains if ring.atoms[index].number == wanted]
    if not there or length not in (None, len(chains)):
        raise Stuck(
            fault(
                rules.NO_PLACE,
                span,
                place=f"underside of {ordinal(wanted)} ch of ch-{length or len(chains)}",
                near="",
            )
        )
    first = _next_or_hook(work)
    at = next(position for position in range(first, first + work.size) if position % work.size == there[0])
    if at >= work.limit:
        raise Hit(Found(at, at, at, at), Noun("ch"), exact=at == work.limit, skipping=False, span=span)
    return Target(Found(at, at, at, at), Noun("ch"), "underside")


def _standing_start(work: Working, nouns: tuple[Noun, ...]) -> int:
    """The hook's own place, where nothing stands in it yet; for a group, the group that it lies in."""
    if not work.size:
        return 0
    hook = work.position - (work.stand_length if work.hook is None else work.hook[1]) + 1
    if any(noun.kind == "group" for noun in nouns):
        for group in work.ring.groups:
            offset = (hook - group.start) % work.size
            if offset < group.length and any(noun.name == group.name for noun in nouns):
                return hook - offset
    return hook


def _search(work: Working, place: Place, first: int, span: Span, *, warn: bool = True) -> Target:
    """The first place from position `first` on; Hit where it is past the round, Stuck where there is none."""
    ring = work.ring
    hit = ring.find(place.nouns, first, max(work.farthest, first - 1), place.edge) if work.size else None
    if (
        hit is not None
        and ring.gap
        and (place.skipped or place.which == "skipped")
        and hit[1].start % work.size >= ring.below
    ):
        hit = ring.find(
            place.nouns, work.size * (1 + hit[1].start // work.size), work.farthest + work.size, place.edge
        )
    if hit is None:
        if (work.begun is not None or not ring.circular) and exists(work, place):
            raise Hit(None, place.nouns[0], exact=False, skipping=False, span=span)
        raise Stuck(no_place(work, place, span))
    noun, found = hit
    if found.base_end < found.base_start and place.part is None:
        raise Stuck(fault(rules.NO_CENTER, span, group=noun.name))
    target = part_of(work, place, noun, found, span)
    limit = work.limit
    if target.found.base_start >= limit:
        raise Hit(target.found, noun, exact=target.found.base_start == limit, skipping=False, span=span)
    if warn:
        passed(work, place, found.start, span)
    return target


def _ring(work: Working, place: Place, span: Span) -> Target:
    if work.size and not all(atom.kind == "foundation" for atom in work.ring.atoms):
        raise Stuck(fault(rules.NO_PLACE, span, place="ring", near=what_there_is(work)))
    return Target(Found(work.position, work.position, 0, -1), Noun("ring"), "ring")


def _where_it_began(work: Working) -> Target:
    """The place the round began in, for `same st as beg ch`."""
    assert work.begun is not None
    assert work.begun_noun is not None
    begun, noun = work.begun, work.begun_noun
    into: Into = "ring" if work.ring_begun else "top"
    if noun.kind == "sp" and begun.base_start % (work.size or 1) not in work.ring.space_at:
        return Target(begun, noun, "between", moves=False)
    if work.size and not work.ring_begun:
        named = work.ring.noun_at(begun.base_start % work.size)
        noun = named if noun.kind not in ("sp", "group") else noun
        into = "space" if named.kind == "sp" else "foundation" if named.kind == "foundation ch" else "top"
    return Target(begun, noun, into, moves=False)


def _same(work: Working, place: Place, span: Span) -> Target:
    """The place last worked into; at the beginning the one the hook stands on."""
    last = work.last
    if place.at_beginning and work.begun is not None:
        last = _where_it_began(work)
    if last is not None and last.into == "between":
        return last._replace(moves=False)
    if last is None:
        raise Stuck(fault(rules.NO_PLACE, span, place="same place", near=" Nothing is worked yet."))
    noun = place.nouns[0]
    size = work.size or 1
    begins = last.found.base_start
    if place.part is not None and noun.kind == "sp" and work.size:
        space = work.ring.space_at.get(begins % size)
        if space is not None and noun.length in (None, space.length):
            start = begins - (begins - space.start) % size
            end = start + space.length - 1
            return part_of(work, place, noun, Found(start, end, start, end), span)
    is_space = last.into == "space" or (
        bool(work.size) and begins % size in work.ring.space_at and last.noun.kind == "sp"
    )
    fits = (
        noun.kind in ("st", "beg ch")
        or (
            noun.kind == "sp" and is_space and noun.length in (None, work.ring.space_at[begins % size].length)
        )
        or (noun.kind == "group" and last.noun == noun)
        or (noun.kind == "group" and _in_group(work, noun, begins))
        or last.into == "ring"
        or (
            noun.kind in ("stitch", "ch", "foundation ch")
            and bool(work.size)
            and _is_there(work, noun, begins % size, last)
        )
    )
    if not fits:
        raise Stuck(fault(rules.NO_PLACE, span, place=f"same {called(noun)}", near=stands_on(work, last)))
    return last._replace(into="post" if place.post else last.into, moves=False)


def _is_there(work: Working, noun: Noun, index: int, last: Target) -> bool:
    atom = work.ring.atoms[index]
    if noun.kind == "ch":
        return atom.kind in ("chain", "foundation", "underside")
    return work.ring.is_noun(index, noun) or (atom.kind == "side" and last.noun == noun)


def _in_group(work: Working, noun: Noun, position: int) -> bool:
    return any(
        group.name == noun.name and (position - group.start) % work.size < group.length
        for group in work.ring.groups
    )


def _from_hook(work: Working, place: Place, span: Span) -> Target:
    """`2nd ch from hook`: in the foundation of rows; chains just made are a ring to begin in."""
    made = 0
    while made < len(work.elements) and work.elements[-1 - made].kind == "chain":
        made += 1
    if not work.size:
        return Target(Found(0, 0, 0, -1), Noun("ring"), "ring")
    at = max(work.stand, 0) + place.ordinal - 1
    if work.begun is not None or place.ordinal < 1 or at >= work.size or made:
        raise Stuck(fault(rules.NO_PLACE, span, place=f"{ordinal(place.ordinal)} ch from hook", near=""))
    work.begin_from_hook = place.ordinal - 1
    return Target(Found(at, at, at, at), Noun("foundation ch"), "foundation")


def _beginning(work: Working, place: Place, span: Span) -> Target:
    """The beginning chain of the round below: `3rd ch of beg ch-3`, `top of turning ch`."""
    at = work.ring.begin_at
    noun = place.nouns[0]
    atom = work.ring.atoms[at] if at is not None else None
    if at is None or atom is None or noun.length not in (None, atom.begin):
        raise Stuck(fault(rules.NO_PLACE, span, place=called(noun), near=what_there_is(work)))
    if place.part is not None and place.part.kind == "kth" and place.part.ordinal > atom.begin:
        name = f"{ordinal(place.part.ordinal)} ch in a {called(Noun('beg ch', length=atom.begin))}"
        raise Stuck(fault(rules.NO_PLACE, span, place=name, near=""))
    return _search(
        work,
        replace(place, nouns=(Noun("beg ch", length=noun.length),), part=None, which="next"),
        _next_or_hook(work),
        span,
    )


def _next_or_hook(work: Working) -> int:
    return work.position + 1 if work.stood else _standing_start(work, ())


def _each(work: Working, place: Place, span: Span) -> Iterator[Target]:
    """`each st around`: from the hook's own place, where nothing stands in it yet."""
    first, limit, keep = each_range(work, place, span)
    spots = work.ring.all_from(place.nouns, first, limit, place.edge)
    chosen = spots[: max(0, len(spots) - keep) : place.step]
    if not chosen and (place.before is not None or _behind_a_space(work)):
        return
    if not chosen:
        raise Stuck(
            no_place(work, place, span) if not exists(work, place) or keep else none_left(place, span)
        )
    for noun, found in chosen:
        if found.base_end < found.base_start and place.part is None:
            raise Stuck(fault(rules.NO_CENTER, span, group=noun.name))
        if place.step == 1:
            passed(work, place, found.start, span)
        yield part_of(work, place, noun, found, span)
    if place.step > 1 and not keep:
        # `every other st around`: those behind the last one are passed over as those between are
        over = spots[(len(chosen) - 1) * place.step + 1 :]
        work.skip([position for _, found in over for position in range(found.start, found.end + 1)])
        work.position = max(work.position, spots[-1][1].end)


def _behind_a_space(work: Working) -> bool:
    """Whether this round went up to a space: then there may be nothing left behind that."""
    return any(
        isinstance(did, Did) and isinstance(did.instruction, Work)
        and did.instruction.place is not None and did.instruction.place.before is not None
        for did in work.doings
    )  # fmt: skip


def each_range(work: Working, place: Place, span: Span) -> tuple[int, int, int]:
    """Where `each st` begins, the position that it does not reach any more, and how many before that it
    leaves.
    """
    first = _next_or_hook(work) if place.which == "each" else work.position + 1
    if not work.stood and place.which == "each":
        first = _standing_start(work, place.nouns)
    keep = work.value(place.until, span) if place.until is not None else 0
    # the place the round begins in is the first of these where it has not begun: once around from there
    limit = work.limit if work.begun is not None or not work.ring.circular else first + work.size
    if work.skipped is not None and work.ring.circular and not work.ring.gap:
        limit = _before_the_head(work, first, limit)
    if place.before is not None:
        space = work.ring.find((place.before,), first, limit - 1) if work.size else None
        if space is None:
            raise Stuck(no_place(work, replace(place, nouns=(place.before,)), span))
        limit = space[1].start
    return first, limit, keep


def _before_the_head(work: Working, first: int, limit: int) -> int:
    """Where a round ends that passed over its first places (`Ch 1, sk first st, sc in each st around`): they
    are passed over at its end too.
    """
    begun = work.begun.base_start if work.begun is not None else first
    return min([limit, *(at + work.size for at in work.all_skipped() if at < begun)])


def _last(work: Working, place: Place, span: Span) -> Iterator[Target]:
    """`last 2 sts`: the ones just before the round began (or before the row's end)."""
    many = work.value(place.count, span) if place.count is not None else 1
    limit = work.limit
    first = _next_or_hook(work)
    spots = list(work.ring.positions(place.nouns[0], first, limit - 1)) if work.size else []
    if len(spots) < many:
        if not exists(work, place):
            raise Stuck(no_place(work, place, span))
        raise Stuck(fault(rules.NOT_LAST, span))
    for position in spots[len(spots) - many :]:
        yield _search(work, replace(place, which="next", count=None), position, span)


def _skipped(work: Working, place: Place, span: Span) -> Iterator[Target]:
    """`in skipped st`: places just skipped in this round; the hook does not move on."""
    many = work.value(place.count, span) if place.count is not None else 1
    noun = place.nouns[0]
    matching = (work.ring.find((noun,), position, position) for position in work.all_skipped())
    free = list(islice((hit[1] for hit in matching if hit is not None), many))
    if len(free) < many:
        raise Stuck(
            fault(
                rules.NO_PLACE, span, place=f"skipped {called(noun)}", near=" Nothing just skipped is left."
            )
        )
    for found in free:
        target = part_of(work, place, noun, found, span)
        work.come_back(found)
        yield target._replace(moves=False)


def _first_again(work: Working, place: Place, span: Span) -> Target:
    """`first ch-1 sp` when the round is under way: the first one from where the round began."""
    assert work.begun is not None
    hit = work.ring.find(
        place.nouns, work.begun.base_start, work.begun.base_start + work.size - 1, place.edge
    )
    if hit is None:
        raise Stuck(no_place(work, place, span))
    noun, found = hit
    if found.start > work.position:
        return _search(work, replace(place, which="next", count=None), work.position + 1, span)
    if found.base_end < found.base_start:
        raise Stuck(fault(rules.NO_CENTER, span, group=noun.name))
    return part_of(work, place, noun, found, span)._replace(moves=False)


def left_places(work: Working, noun: Noun, *, upto: int | None = None) -> int:
    """How many places of that name are left before the round's beginning (or the row's end)."""
    limit = work.limit if upto is None else upto
    if not work.size:
        return 0
    return work.ring.many(noun, _next_or_hook(work), limit - 1)


ONE_PLACE = {"same": _same, "from hook": _from_hook, "beg": _beginning}
"""Places that are one by their nature."""
