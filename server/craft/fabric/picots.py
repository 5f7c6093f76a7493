"""Picots: chains closed on themselves, which leave no place."""

from __future__ import annotations

from server.craft.fabric.faults import Stuck, fault
from server.craft.fabric.values import Node
from server.craft.fabric.working import Working
from server.craft.text import rules
from server.craft.text.tree import Noun, Work


def is_picot(work: Working, item: Work) -> bool:
    """`picot`, or `sl st in 3rd ch from hook` (or its first chain) behind chains just made."""
    if item.stitch == "picot":
        return True
    if (
        item.stitch not in ("sl st", "sc")
        or item.place is None
        or not work.elements
        or work.elements[-1].kind != "chain"
    ):
        return False
    return item.place.which == "from hook" or (
        item.place.which == "first" and item.place.nouns == (Noun("ch"),) and item.place.part is None
    )


def picot(work: Working, item: Work) -> None:
    """Closes chains just made to a picot; they leave no place."""
    if item.stitch == "picot":
        for _ in range(work.value(item.times, item.span)):
            make_picot(work, item)
        return
    place = item.place
    assert place is not None
    run = 0
    while run < len(work.elements) and work.elements[-1 - run].kind == "chain":
        run += 1
    back = place.ordinal if place.which == "from hook" else run
    if back > run:
        raise Stuck(fault(rules.NO_PLACE, item.span, place=f"chain number {back} from the hook", near=""))
    del work.elements[len(work.elements) - back :]
    work.make(Node("picot", str(item.stitch), back, (), "none"), None, item.span)


def make_picot(work: Working, item: Work) -> None:
    """A picot by its name."""
    special = work.setting.specials.get("picot")
    many = special.items[0] if special and special.items and isinstance(special.items[0], int) else 3
    work.make(Node("picot", "picot", int(many), (), "none"), None, item.span)
