"""Slip stitches before a round's beginning chain: the hook moves on, and no place is left."""

from __future__ import annotations

from server.craft.fabric.placing import targets
from server.craft.fabric.values import Did, Node
from server.craft.fabric.working import Target, Working
from server.craft.text.tree import Noun, Place, Work


def travel(work: Working, item: Work) -> None:
    """A slip stitch before the beginning chain: the hook moves, no place is left."""
    start = len(work.nodes)
    place = item.place or Place("next", (Noun("st"),), span=item.span)
    reached, noun = 0, None
    work.quiet = True
    try:
        for target in targets(work, place, item.span):
            first = work.position if not work.stood else work.position + 1
            for position in range(first, target.found.end + 1):
                work.travelled.add(position % work.size)
            size = work.size
            base = tuple(at % size for at in range(target.found.base_start, target.found.base_end + 1))
            work.make(Node("slip", "sl st", 1, base, target.into), None, item.span)
            stand_at(work, target)
            noun = noun or target.noun
            reached += 1
    finally:
        work.quiet = False
    work.doings.append(Did(item, reached, noun, (start, len(work.nodes))))


def stand_at(work: Working, target: Target) -> None:
    """The hook stands on a place, and nothing stands in it yet."""
    found = target.found
    work.position = found.end
    work.stood = False
    work.hook = (found.start, found.end - found.start + 1)
    work.stand = found.start % work.size if work.size else 0
    work.stand_length = work.hook[1]
    work.position = work.stand + work.stand_length - 1
    work.last = target._replace(found=found.further(work.position - found.end))
