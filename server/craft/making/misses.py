"""A wrong count: which slip explains the difference, and where to look for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
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
TWO_REACH = 12  # a difference beyond it is not explained by two slips; judgement
NUMBER = "{number}"  # in the place of how many, where that is put in later


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


@dataclass(frozen=True, slots=True)
class Misses:
    """What explains every wrong count of one name in one round.

    should   the right count
    by_off   the misses by the difference, what was counted less `should`; where it is not in there, nothing
             explains it
    again    what is said there: where 1 is missing, 1 is too many, several are missing, several are too many
             (with NUMBER for how many)
    """

    should: int
    by_off: Mapping[int, tuple[Miss, ...]]
    again: tuple[Miss, Miss, Miss, Miss]


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
    counted_wrong = _told(pattern, numbers, worked, terms).of(name)
    off = counted - counted_wrong.should
    return () if off == 0 else counted_wrong.misses(off) or (counted_wrong.again(off),)


def every_miss(
    pattern: Pattern, numbers: Numbers, terms: Terms = "US"
) -> Iterator[tuple[str, Mapping[str, Misses]]]:
    """All that `misses` says of a piece: each round's spot, and by the name of what is counted there."""
    for made in work(pattern, numbers).sections:
        for worked in made.rounds:
            if worked.spot:
                told = _told(pattern, numbers, worked, terms)
                yield worked.spot, {name: told.of(name).every() for name in sorted(_names(worked, terms))}


def _told(pattern: Pattern, numbers: Numbers, worked: WorkedRound, terms: Terms) -> _Slipped:
    return _Slipped(
        Told(pattern, worked, Numbering(pattern.header, count_of(pattern.header, numbers)), terms)
    )


class _Slipped:
    """A round with its slips, each counted anew."""

    def __init__(self, told: Told) -> None:
        worked = told.worked
        stated = to_count(worked.counts, worked.source.stated or worked.text.stated, told.terms)
        self.told, self.beside = told, [each.name for each in stated]
        self.as_made = told.counts(told.bits)
        self.slips = [(slip, told.counts(slip.made)) for slip in slips(told)]

    def of(self, name: str) -> _Counting:
        """What the slips change in the count of a name."""
        as_made = count_in(self.as_made, name, self.beside)
        is_group = name in self.told.spelled.values()
        changes = [
            (slip, count_in(counts, name, self.beside) - as_made)
            for slip, counts in self.slips
            if not (is_group and slip.partial)
        ]
        should = count_in(self.told.worked.counts, name, self.beside)
        return _Counting(self.told, name, should, [(slip, change) for slip, change in changes if change])


@dataclass(frozen=True, slots=True)
class _Counting:
    """One name counted in a round, with what each slip changes in it."""

    told: Told
    name: str
    should: int
    changes: Sequence[tuple[Slip, int]]

    def misses(self, off: int) -> tuple[Miss, ...]:
        """What explains a difference, which is not 0; () where nothing does."""
        found = list(
            dict.fromkeys(Miss(slip.says, slip.where) for slip, change in self.changes if change == off)
        )
        if not found:
            found = [*_often(self.changes, off), *_two(self.changes, off)]
        return tuple(found[:SHOWN_MOST])

    def again(self, off: int, number: str = "") -> Miss:
        """What to do where nothing explains it. `number` is shown in the place of how many."""
        return _count_again(self.told, self.name, off, number or str(abs(off)))

    def every(self) -> Misses:
        """All that can be said."""
        reach = {
            *range(-TWO_REACH, TWO_REACH + 1),
            *(times * change for _, change in self.changes for times in range(1, OFTEN_MOST + 1)),
        }
        offs = sorted(off for off in reach if off and self.should + off >= 0)
        by_off = {off: found for off in offs if (found := self.misses(off))}
        again = (self.again(-1), self.again(1), self.again(-2, NUMBER), self.again(2, NUMBER))
        return Misses(self.should, by_off, again)


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
    if abs(off) > TWO_REACH:
        return
    likely = [(slip, change) for slip, change in changes if slip.rank < SURE_RANK]
    pairs = [
        (one, other)
        for (one, change), (other, more) in combinations(likely, 2)
        if change + more == off and (not one.end or one.end != other.end) and one.made != other.made
    ]
    for one, other in sorted(pairs, key=lambda pair: pair[0].rank + pair[1].rank)[:TWO_SHOWN_MOST]:
        yield Miss(f"Two slips together. {one.says} {other.says}", f"{one.where} {other.where}", 2)


def _count_again(told: Told, name: str, off: int, number: str) -> Miss:
    missing = "missing" if off < 0 else "too many"
    begin = "the join" if told.joined else "the edge" if told.rows else "the marker"
    if told.foundation:
        mend = f"make {number} more" if off < 0 else f"take the last {number} out"
        return Miss(
            f"{number} ch {missing} are no slip of the eye.",
            f"Count again from the slip knot, a marker at every 10th. If it stays so, {mend} and join anew.",
            0,
        )
    return Miss(
        f"No single slip makes {number} {name_words(name, abs(off), told.terms)} {missing}.",
        f"Count again from {begin}, with a marker at every 10th. If it stays so, take the {told.word} out.",
        0,
    )
