"""Repeats: by number, around until the round closes, and up to the last stitches (rule 4)."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from server.craft.fabric.faults import Fault, Stuck, called, fault, several
from server.craft.fabric.placing import left_places
from server.craft.fabric.replaying import Turns
from server.craft.fabric.values import DidRepeat, Doing
from server.craft.fabric.working import Hit, Mark, Working
from server.craft.text import rules
from server.craft.text.tree import Chain, Inline, Instruction, Noun, Repeat, SizeList, Skip, Work
from server.craft.text.vocabulary import name_in

CarryOut = Callable[[Working, Sequence[Instruction]], None]
MAX_TIMES = 10_000


def repeat(work: Working, item: Repeat, following: Sequence[Instruction], carry_out: CarryOut) -> None:
    """Carries out a repeat; the text is worked at least once."""
    start, doing_at = len(work.nodes), len(work.doings)
    if isinstance(item.times, SizeList) and _for_some_sizes(work, item, item.times, carry_out):
        return
    try:
        if item.times is not None:
            rounds = _by_number(work, item, carry_out)
        elif item.to_last is not None:
            rounds = _to_last(work, item, carry_out)
        else:
            rounds = _around(work, item, following, carry_out)
    finally:
        del work.doings[doing_at:]
    last = rounds[-1] if len(rounds) > 1 and len(rounds[-1]) != len(rounds[0]) else None
    work.doings.append(DidRepeat(len(rounds), rounds[0], last, (start, len(work.nodes))))
    work.closed_by = item


def _for_some_sizes(work: Working, item: Repeat, times: SizeList, carry_out: CarryOut) -> bool:
    """A text that some sizes have none of: left out there; where it is worked once, it is no repeat."""
    if work.value(times, item.span) == 0:
        return True
    if times.absent and work.value(times, item.span) == 1:
        carry_out(work, item.body)
        return True
    return False


def _once(
    work: Working, body: Sequence[Instruction], carry_out: CarryOut, *, open_ended: bool = False
) -> tuple[Doing, ...]:
    """The text once; in an open-ended repeat a Hit inside is the repeat's to judge."""
    at = len(work.doings)
    work.open_repeats += open_ended
    try:
        carry_out(work, body)
    finally:
        work.open_repeats -= open_ended
    return tuple(work.doings[at:])


def _kept(item: Repeat) -> Sequence[Instruction]:
    """The body without what the last repeat leaves out."""
    return item.body[: len(item.body) - _omitted_tail(item)]


def _omitted_tail(item: Repeat) -> int:
    """How many instructions at the body's end are those that `omitting` names."""
    left = len(item.omitting)
    if left == 0:
        return 0
    tail = item.body[-left:]
    return (
        left
        if len(tail) == left
        and all(_same(one, other) for one, other in zip(tail, item.omitting, strict=True))
        else 0
    )


def _same(one: Instruction, omitted: Instruction) -> bool:
    if isinstance(one, Work) and isinstance(omitted, Work):
        return one.stitch == omitted.stitch or isinstance(one.stitch, Inline)
    return type(one) is type(omitted)


def _by_number(work: Working, item: Repeat, carry_out: CarryOut) -> list[tuple[Doing, ...]]:
    assert item.times is not None
    times = max(1, work.value(item.times, item.span))
    done: list[tuple[Doing, ...]] = []
    turns = Turns(work, item)
    while len(done) < times:
        body = item.body if len(done) + 1 < times or not item.omitting else _kept(item)
        turns.begin()
        try:
            done.append(_once(work, body, carry_out))
        except Hit:
            if work.open_repeats or not work.size:
                raise
            raise Stuck(_too_far(item, len(done), times)) from None
        done += done[-1:] * turns.replayed(times - len(done))
    return done


def _too_far(item: Repeat, turn: int, times: int) -> Fault:
    over = times - turn
    how = f"{several(over, 'repeat')} too many, only {turn} of {times} come out whole"
    return fault(rules.TOO_MUCH, item.span, how=how, nearest="")


def _around(
    work: Working, item: Repeat, following: Sequence[Instruction], carry_out: CarryOut
) -> list[tuple[Doing, ...]]:
    done: list[tuple[Doing, ...]] = []
    turns = Turns(work, item)
    while len(done) < MAX_TIMES:
        if done and not work.ring.circular and _row_is_done(work):
            break
        mark, doings_at = turns.begin(), len(work.doings)
        try:
            turn = _once(work, item.body, carry_out, open_ended=True)
        except Hit as hit:
            how_far = _progress(work, mark)
            if done and _closes(work, item, mark, hit, how_far, following):
                work.back_to(mark)
                break
            if item.omitting and _ends_omitting(work, item, mark, carry_out, done):
                return done
            if done and _runs_on(work, item, hit):
                done.append(tuple(work.doings[doings_at:]))
                return done
            work.back_to(mark)
            raise Stuck(_uneven(work, item, turns.last, len(done))) from None
        done.append(turn)
        if work.position == mark.position or (work.size == 0):
            raise Stuck(
                fault(rules.NOT_CLOSING, item.span, how="a repeat does not move the hook on", nearest="")
            )
        done += [turn] * turns.replayed(MAX_TIMES - len(done))
    if item.omitting and _omitted_tail(item) and len(done) > 0:
        # the repeat closed: the last one is worked again without what is left out; where that is a stitch,
        # its place is left unworked, and the round did not close after all
        reached = work.position
        work.back_to(turns.last)
        done[-1] = _once(work, _kept(item), carry_out)
        work.closed_exactly = work.closed_exactly and work.position == reached
    return done


def _runs_on(work: Working, item: Repeat, hit: Hit) -> bool:
    """A spiral ends in the middle of a repeat where no more than its last skip is left: that passes over the
    first stitch of this round, and the next one goes on behind it (moss stitch over an odd count).
    """
    if work.setting.header.worked != "spiral" or not (hit.skipping and hit.exact):
        return False
    tail = item.body[-1]
    work.closed_exactly = True
    return isinstance(tail, Skip) and tail.span == hit.span


def _progress(work: Working, mark: Mark) -> tuple[int, int]:
    """Stitches and chains made since a moment."""
    fresh = work.elements[mark.elements :]
    stitches = sum(element.kind == "stitch" for element in fresh)
    return stitches, len(fresh) - stitches


def _closes(
    work: Working,
    item: Repeat,
    mark: Mark,
    hit: Hit,
    how_far: tuple[int, int],
    following: Sequence[Instruction],
) -> bool:
    """Whether the round closes before this repeat: its first stitch would fall where the round began."""
    stitches, chains = how_far
    work.closed_exactly = False
    if stitches or hit.middle:
        return False
    comes_back = any(
        isinstance(one, Work) and one.place is not None and one.place.which == "skipped" for one in item.body
    )
    if hit.skipping:
        falls = (
            (hit.exact and comes_back)
            or (work.ring.circular and not _kind_of_beginning(work, _first_noun(item, hit)))
            or (not work.ring.circular and not _left_for(work, mark, item, hit))
        )
    elif hit.exact and hit.target is not None:
        falls = True
    elif not work.ring.circular:
        falls = not _left_for(work, mark, item, hit)
    else:
        falls = not _kind_of_beginning(work, hit.noun)
    if not falls:
        return False
    work.closed_exactly = hit.exact
    if chains == 0 or not work.ring.circular:
        return True
    return _chains_follow(item, following)


def _first_noun(item: Repeat, hit: Hit) -> Noun:
    """What the repeat's first stitch is worked into."""
    for one in item.body:
        if isinstance(one, Work) and one.place is not None and one.place.nouns:
            return one.place.nouns[0]
        if isinstance(one, Work):
            return Noun("st")
    return hit.noun


def _kind_of_beginning(work: Working, noun: Noun) -> bool:
    """Whether the place the round began in is called that."""
    begun = work.begun
    if begun is None or not work.size:
        return True
    index = begun.base_start % work.size
    if noun.kind == "sp":
        space = work.ring.space_at.get(index)
        return space is not None and noun.length in (None, space.length)
    if noun.kind == "group":
        return any(
            group.name == noun.name
            and (center := work.ring.center(group)) is not None
            and (group.start + center[0]) % work.size == index
            for group in work.ring.groups
        )
    return work.ring.is_noun(index, noun)


def _left_for(work: Working, mark: Mark, item: Repeat, hit: Hit) -> bool:
    """Rows: whether any place is left that the repeat's first stitch could name."""
    position = mark.position
    noun = _first_noun(item, hit)
    last = work.size - 1
    return position < last and work.ring.find((noun,), position + 1, last) is not None


def _row_is_done(work: Working) -> bool:
    """Rows: whether nothing is left after the last place."""
    return work.position >= work.size - 1


def _chains_follow(item: Repeat, following: Sequence[Instruction]) -> bool:
    """Whether the chains at the repeat's head are written again behind it."""
    head = next((one for one in item.body if isinstance(one, Chain)), None)
    after = next((one for one in following if not isinstance(one, Skip)), None)
    return head is not None and isinstance(after, Chain) and after.number == head.number


def _ends_omitting(
    work: Working, item: Repeat, mark: Mark, carry_out: CarryOut, done: list[tuple[Doing, ...]]
) -> bool:
    """Whether the last repeat comes out when it leaves out what `omitting` names."""
    if not _omitted_tail(item):
        return False
    work.back_to(mark)
    try:
        done.append(_once(work, _kept(item), carry_out, open_ended=True))
    except Hit:
        work.back_to(mark)
        return False
    return True


def _to_last(work: Working, item: Repeat, carry_out: CarryOut) -> list[tuple[Doing, ...]]:
    assert item.to_last is not None
    noun = item.to_last.nouns[0]
    keep = work.value(item.to_last.count, item.span) if item.to_last.count is not None else 1
    done: list[tuple[Doing, ...]] = []
    turns = Turns(work, item)
    left = left_places(work, noun)
    while len(done) < MAX_TIMES:
        if done and left == keep:
            return done
        mark = turns.begin(left - keep)
        try:
            if left < keep:
                raise Hit(None, noun, exact=False, skipping=False, span=item.span)
            done.append(_once(work, item.body, carry_out, open_ended=True))
        except Hit:
            work.back_to(mark)
            name = name_in(called(noun), work.setting.header.terms)
            how = f"{several(left, name)} left after {several(len(done), 'repeat')}, not {keep}"
            raise Stuck(fault(rules.NEVER_THERE, item.to_last.span, how=how, nearest="")) from None
        if work.position == mark.position:
            raise Stuck(
                fault(
                    rules.NEVER_THERE, item.to_last.span, how="a repeat does not move the hook on", nearest=""
                )
            )
        left = left_places(work, noun)
        # groups may lie in one another: so many fewer are not so many turns
        more = turns.replayed(MAX_TIMES - len(done), left - keep) if noun.kind != "group" else 0
        if more:
            done += done[-1:] * more
            left = left_places(work, noun)
    raise Stuck(fault(rules.NEVER_THERE, item.to_last.span, how="it goes on and on", nearest=""))


def _uneven(work: Working, item: Repeat, last: Mark, done: int) -> Fault:
    """The message of a round that does not come out even: how many places are over or short."""
    noun = _counted_noun(item)
    name = name_in(called(noun), work.setting.header.terms) if noun.kind != "sp" else called(noun)
    left = left_places(work, noun)
    if not done:
        how = f"{several(left, name)} left, too few for the repeat even once"
        return fault(rules.NOT_CLOSING, item.span, how=how, nearest="")
    took = work.ring.many(noun, last.position + 1, work.position)
    short = took - left
    if left == 0:
        how = "its last part would be worked where the round began"
    elif short > 0:
        over = f"{several(left, name)} over after {several(done, 'whole repeat')}"
        how = f"{over}, {several(short, name)} short of one more"
    else:
        how = f"{several(left, name)} over after {several(done, 'whole repeat')}"
    return fault(rules.NOT_CLOSING, item.span, how=how, nearest="")


def _counted_noun(item: Repeat) -> Noun:
    """What the places of a repeat are counted in: stitches, or the spaces or groups it is worked into."""
    for one in item.body:
        place = one.place if isinstance(one, Work | Skip) else None
        if place is not None and place.nouns and place.nouns[0].kind in ("sp", "group"):
            return place.nouns[0]
        if place is not None:
            break
    return Noun("st")


def head_skips(item: Repeat) -> tuple[Skip, ...]:
    """The skips at the head of a repeat."""
    heads: list[Skip] = []
    for one in item.body:
        if isinstance(one, Chain):
            continue
        if not isinstance(one, Skip):
            break
        heads.append(one)
    return tuple(heads)
