"""Turns of a repeat that are like those before, some places further on: taken over, not carried out again.

Working is local. When the text of a repeat was carried out, from one state of the hook to the same state so
many places further on, and the places of the round below that it had to do with stand there again at that
distance, then it does the same again, so many places further on. Where the round below runs on alike, so do
the turns, up to where the round closes; the last ones before that are always carried out.

Only what looks at nothing but its surroundings is taken over: see `is_local`.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from itertools import chain

from server.craft.fabric.ring import Ring
from server.craft.fabric.stock import Element, Stock
from server.craft.fabric.values import Node
from server.craft.fabric.working import MAX_NODES_IN_ROUND, Gap, MadeGroup, Mark, Skipped, Working
from server.craft.text.tree import Chain, Inline, Instruction, Noun, Place, Repeat, Skip, Work

NEAR = ("next", "plain", "kth", "skipped", "same")
FEWEST = 2
"""Fewer turns are as quickly carried out."""
MOST_TOGETHER = 4
"""How many turns may be alike only together, because they meet the round below at different places."""


class Turns:
    """The turns of one repeat, as they are carried out.

    last   the beginning of the last one that came to its end
    """

    def __init__(self, work: Working, item: Repeat) -> None:
        self.work, self.body = work, item.body
        self.last = work.mark()
        self._now = (self.last, 0)
        self._begun: deque[tuple[Mark, int]] = deque(maxlen=MOST_TOGETHER)
        self._local: bool | None = None

    def begin(self, left: int = 0) -> Mark:
        """A turn begins; `left` is how many of the places are left that the repeat goes on by."""
        self._now = (self.work.mark(), left)
        return self._now[0]

    def replayed(self, most: int, left: int | None = None) -> int:
        """The turn has come to its end; gives how many were taken over after it, at most so many.

        left   how many of the places that the repeat goes on by are left now; at none it is done
        """
        work = self.work
        self.last = self._now[0]
        self._begun.append(self._now)
        if most <= FEWEST:
            return 0
        if _stands_as(work, self.last) and repeats_itself(self.body):
            return again_in_place(work, self.last, most)
        if not work.size or work.ring.gap:
            return 0
        if self._local is None:
            self._local = is_local(self.body)
        if not self._local:
            return 0
        for together in range(1, len(self._begun) + 1):
            before, left_before = self._begun[-together]
            times = most // together
            if left is not None:
                took = left_before - left
                times = min(times, left // took) if took > 0 else 0
            times = replay(work, before, times)
            if times:
                self._begun.clear()
                return times * together
        return 0


def is_local(items: Sequence[Instruction]) -> bool:
    """Whether these instructions look at nothing but the places next to the hook, and what they made."""
    return all(_is_local(item) for item in items)


def _is_local(item: Instruction) -> bool:
    if isinstance(item, Chain):
        return True
    if isinstance(item, Skip):
        return _is_near(item.place)
    if isinstance(item, Repeat):
        return item.times is not None and not item.omitting and is_local(item.body)
    if not isinstance(item, Work):
        return False
    inside = item.stitch.items if isinstance(item.stitch, Inline) else ()
    return (item.place is None or _is_near(item.place)) and is_local(inside)


def _is_near(place: Place) -> bool:
    """Whether a place is found from where the hook is, in a round that has begun."""
    return (
        place.which in NEAR
        and place.until is None
        and place.before is None
        and place.edge is None
        and not place.at_beginning
        and not any(noun.kind == "ring" for noun in place.nouns)
    )


def repeats_itself(items: Sequence[Instruction]) -> bool:
    """Whether these instructions do the same again where hook and round below are the same: all but picots
    that close chains made before, which are told by what was made last.
    """
    for item in items:
        if isinstance(item, Repeat):
            if item.times is None or item.omitting or not repeats_itself(item.body):
                return False
        elif isinstance(item, Work):
            if item.place is not None and (item.place.which == "from hook" or Noun("ch") in item.place.nouns):
                return False
        elif not isinstance(item, Chain):
            return False
    return True


def _stands_as(work: Working, before: Mark) -> bool:
    """Whether hook and round stand as they did at that moment, whatever was made since."""
    return (
        work.position == before.position
        and work.last == before.last
        and work.begun == before.begun
        and work.begun_noun == before.begun_noun
        and work.stood == before.stood
        and work.skipped is before.skipped
        and work.pending_gap is None
        and before.pending_gap is None
        and len(work.gaps) == before.gaps
        and len(work.faults) == before.faults
    )


def again_in_place(work: Working, before: Mark, most: int) -> int:
    """Makes again what was made since that moment, in the same place, so many times, or as often as there is
    room in a round; gives how often.
    """
    nodes, elements = work.nodes[before.nodes :], work.elements[before.elements :]
    groups = work.groups[before.groups :]
    times = min(most, (MAX_NODES_IN_ROUND - len(work.nodes)) // len(nodes)) if nodes else most
    work.nodes += nodes * times
    work.elements += elements * times
    for made in range(len(elements), len(elements) * times + 1, len(elements) or 1):
        work.groups += [MadeGroup(one.name, one.start + made, one.end + made) for one in groups]
    return times


def replay(work: Working, before: Mark, most: int) -> int:
    """Does again, further on, what was done since `before`, as often as it goes but once; gives how often.

    What was done is local, and is done at most so often. The hook stands where it would after all of it.
    """
    step = work.position - before.position
    if most < FEWEST or step <= 0 or not _is_further(work, before, step):
        return 0
    fresh = _skipped_since(work.skipped, before.skipped)
    if fresh is None:
        return 0
    ring = work.ring
    room = min(work.limit, work.size) - ring.longest - work.position - 1
    many = len(work.nodes) - before.nodes
    times = min(most, room // step, (MAX_NODES_IN_ROUND - len(work.nodes)) // many)
    if times < FEWEST:
        return 0
    times = _runs_on(ring, _lowest(before), work.position, step, times) - 1
    if times < FEWEST:
        return 0
    _take_over(work, before, step, times, fresh)
    return times


def _is_further(work: Working, before: Mark, step: int) -> bool:
    """Whether all is as it was at that moment, a step further on."""
    last, now = before.last, work.last
    if last is None or now is None or before.begun is None or not (before.stood and work.stood):
        return False
    return (
        now.found == last.found.further(step)
        and now[1:] == last[1:]
        and work.pending_gap is None
        and before.pending_gap is None
        and len(work.faults) == before.faults
        and any(element.kind == "stitch" for element in work.elements[before.elements :])
    )


def _skipped_since(now: Skipped, before: Skipped) -> list[int] | None:
    """Places skipped since, the last one first; None where one skipped before that was come back to."""
    fresh: list[int] = []
    while now is not before:
        if now is None:
            return None
        position, now = now
        fresh.append(position)
    return fresh


def _lowest(before: Mark) -> int:
    """The first position that was looked at since that moment."""
    assert before.last is not None
    found = before.last.found
    return min(before.position + 1, found.start, found.base_start)


def _runs_on(ring: Ring, first: int, last: int, step: int, times: int) -> int:
    """How often the places from `first` to `last` come again, each time a step further on; at most so often.

    As many places past `last` as the longest space or group has are looked at, too: a part of one may have
    been named.
    """
    if first < 0:
        return 0
    end = last + ring.longest + 1

    def alike(turns: int) -> bool:
        far = end + turns * step
        return all(
            places[first : far - step] == places[first + step : far] for places in (ring.atoms, ring.covered)
        )

    if not alike(FEWEST):
        return 0
    if alike(times):
        return times
    least, most = FEWEST, times  # alike, and not alike
    while most - least > 1:
        middle = (least + most) // 2
        least, most = (middle, most) if alike(middle) else (least, middle)
    return least


def _take_over(work: Working, before: Mark, step: int, times: int, fresh: Sequence[int]) -> None:
    """Makes all that was made since that moment so many times more, each time a step further on."""
    nodes, elements = work.nodes[before.nodes :], work.elements[before.elements :]
    groups, gaps = work.groups[before.groups :], work.gaps[before.gaps :]
    for turn in range(1, times + 1):
        by, made = turn * step, turn * len(elements)
        work.groups += [MadeGroup(one.name, one.start + made, one.end + made) for one in groups]
        work.gaps += [Gap(one.chains, one.element + made, one.before + by, one.after + by) for one in gaps]
        work.skip([position + by for position in fresh])
    stock = work.setting.stock
    work.nodes += chain.from_iterable(
        zip(*(_further_nodes(stock, one, step, times) for one in nodes), strict=True)
    )
    work.elements += chain.from_iterable(
        zip(*(_further_elements(stock, one, step, times) for one in elements), strict=True)
    )
    assert work.last is not None
    work.last = work.last._replace(found=work.last.found.further(times * step))
    work.position += times * step


def _further_nodes(stock: Stock, node: Node, step: int, times: int) -> Sequence[Node]:
    """The same stitch so many times, each time a step further on."""
    base = node.base
    if not base:
        return [node] * times
    alike = stock.nodes(node.name, node.into, node.loop, node.size)
    if len(base) == 1:
        return alike.single(base[0] + times * step + 1)[base[0] + step :: step][:times]
    return [alike.at(further) for further in _bases(base, step, times)]


def _further_elements(stock: Stock, element: Element, step: int, times: int) -> Sequence[Element]:
    """What the same stitch leaves so many times, each time a step further on."""
    if element.base is None:
        return [element] * times
    way, *base = element.base
    alike = stock.elements(element.name, way)
    if len(base) == 1:
        return alike.single(base[0] + times * step + 1)[base[0] + step :: step][:times]
    return [alike.at(further) for further in _bases(base, step, times)]


def _bases(base: Sequence[int], step: int, times: int) -> Iterator[tuple[int, ...]]:
    return (tuple(place + by for place in base) for by in range(step, times * step + 1, step))
