"""A wrong count: which slip explains the difference, and where to look for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from server.craft.fabric import work
from server.craft.fabric.numbering import Numbering
from server.craft.fabric.values import Numbers, WorkedRound
from server.craft.making.counting import counted as count_in
from server.craft.making.counting import name_words, to_count
from server.craft.making.planning import count_of
from server.craft.making.slips import Slip, slips
from server.craft.making.slipwords import Told
from server.craft.text.tree import Pattern, Terms

SHOWN_MOST = 6
TWO_SHOWN_MOST = 2
OFTEN_MOST = 3
SURE_RANK = 7  # slips beyond it are not put together to two


@dataclass(frozen=True, slots=True)
class Miss:
    """A likely reason for a wrong count.

    says   what may have happened, in one or two sentences
    where  where to look, or what to do
    times  how often it would have to have happened; 0 where nothing explains the difference
    """

    says: str
    where: str
    times: int = 1


def misses(
    pattern: Pattern, numbers: Numbers, spot: str, name: str, counted: int, terms: Terms = "US"
) -> tuple[Miss, ...]:
    """What explains a count that is not what the round has, likeliest first; () where the count is right.

    `name` is the US name of what was counted ("sc", "V-st", "ch-1 sp", "sts"), as in `PlanRound.to_count`.
    Each slip is made in the fabric of that round, in these numbers, and the round counted again: a slip is
    named only where it makes exactly the difference. () also where the round does not have that name, or
    where there is no such round.

    The order is common practice, no source: what can be seen without taking anything out comes first.
    First what may only have been counted wrongly (the beginning chain, the join's slip stitch); then the
    end of the round, where the join hides one place and offers another that is none; its beginning; then
    whatever the round does only once, and its increases and decreases, where hands that go by rhythm go
    wrong; then a place anywhere; a whole repeat, which one sees; a chain between stitches. Where no slip
    explains it alone: one slip two or three times, or two different ones. Where they do not either: to count
    again from the join.
    """
    worked = _round(pattern, numbers, spot)
    if worked is None or name not in _names(worked, terms):
        return ()
    told = Told(pattern, worked, Numbering(pattern.header, count_of(pattern.header, numbers)), terms)
    beside = [
        each.name for each in to_count(worked.counts, worked.source.stated or worked.text.stated, terms)
    ]
    should = count_in(worked.counts, name, beside)
    off = counted - should
    if off == 0:
        return ()
    as_made = count_in(told.counts(told.bits), name, beside)
    is_group = name in told.spelled.values()
    changes = [
        (slip, count_in(told.counts(slip.made), name, beside) - as_made)
        for slip in slips(told)
        if not (is_group and slip.partial)
    ]
    changes = [(slip, change) for slip, change in changes if change]
    found = list(dict.fromkeys(Miss(slip.says, slip.where) for slip, change in changes if change == off))
    if not found:
        found = [*_often(changes, off), *_two(changes, off)]
    return tuple(found[:SHOWN_MOST]) or (_count_again(told, name, off),)


def _round(pattern: Pattern, numbers: Numbers, spot: str) -> WorkedRound | None:
    fabric = work(pattern, numbers)
    return next((each for made in fabric.sections for each in made.rounds if each.spot == spot), None)


def _names(worked: WorkedRound, terms: Terms) -> set[str]:
    stated = to_count(worked.counts, worked.source.stated or worked.text.stated, terms)
    return {each.name for each in stated} | set(worked.counts)


def _often(changes: Sequence[tuple[Slip, int]], off: int) -> Iterator[Miss]:
    for slip, change in changes:
        if slip.often and off % change == 0 and 2 <= off // change <= OFTEN_MOST:
            times = off // change
            how_often = "twice" if times == 2 else f"{times} times"
            yield Miss(f"{slip.says} It would have happened {how_often}.", slip.where, times)


def _two(changes: Sequence[tuple[Slip, int]], off: int) -> Iterator[Miss]:
    likely = [(slip, change) for slip, change in changes if slip.rank < SURE_RANK]
    pairs = [
        (one, other)
        for (one, change), (other, more) in combinations(likely, 2)
        if change + more == off and (not one.end or one.end != other.end) and one.made != other.made
    ]
    for one, other in sorted(pairs, key=lambda pair: pair[0].rank + pair[1].rank)[:TWO_SHOWN_MOST]:
        yield Miss(f"Two slips together. {one.says} {other.says}", f"{one.where} {other.where}", 2)


def _count_again(told: Told, name: str, off: int) -> Miss:
    missing = "missing" if off < 0 else "too many"
    begin = "the join" if told.joined else "the edge" if told.rows else "the marker"
    if told.foundation:
        mend = f"make {abs(off)} more" if off < 0 else f"take the last {abs(off)} out"
        return Miss(
            f"{abs(off)} ch {missing} are no slip of the eye.",
            f"Count again from the slip knot, a marker at every 10th. If it stays so, {mend} and join anew.",
            0,
        )
    return Miss(
        f"No single slip makes {abs(off)} {name_words(name, abs(off), told.terms)} {missing}.",
        f"Count again from {begin}, with a marker at every 10th. If it stays so, take the {told.word} out.",
        0,
    )
