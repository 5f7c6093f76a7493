"""The join: it must land on the round's first place, and there the hook stands (rule 6)."""

from __future__ import annotations

from itertools import islice

from server.craft.fabric.faults import fault
from server.craft.fabric.values import Node
from server.craft.fabric.working import Working
from server.craft.text import rules
from server.craft.text.numbers import ordinal
from server.craft.text.tree import Join, Noun, Place, Span
from server.craft.text.vocabulary import name_in, plain_stitch


def join(work: Working, item: Join) -> None:
    """Joins the round; a place that is not there is a fault, and the hook goes to the round's first place."""
    if work.joined:
        return
    work.joined = True
    place = item.place
    index = 0
    if place is not None and work.elements:
        found = _element(work, item, place)
        index = 0 if found is None else found
    work.hook = (index, 1)
    if (
        work.elements
        and work.elements[index].kind == "chain"
        and not item.to_ring
        and work.foundation is None
    ):
        work.hook = (index, _run_length(work, index))
    work.make(Node("slip", "sl st", 1, (), "none"), None, item.span)


def _run_length(work: Working, index: int) -> int:
    end = index
    while end < len(work.elements) and work.elements[end].kind == "chain":
        end += 1
    return end - index


def _began(work: Working) -> str:
    if work.began_with and (work.begin_counts or not work.elements):
        return work.began_with
    return name_in(work.elements[0].name, work.setting.header.terms) if work.elements else "nothing"


def _element(work: Working, item: Join, place: Place) -> int | None:
    """Index of the element that the join names; None (and a fault) where there is none."""
    noun = place.nouns[0] if place.nouns else Noun("st")
    if (
        place.which == "beg"
        or noun.kind == "beg ch"
        or (noun.kind == "sp" and noun.loop_form and place.which == "plain")
    ):
        return _in_beginning(work, item, place, noun)
    if place.which in ("same", "any") or (place.which == "next" and work.setting.header.worked == "spiral"):
        return 0
    nth = place.ordinal if place.which == "kth" else 1
    found = (index for index in range(len(work.elements)) if _is_element(work, index, noun))
    index = next(islice(found, nth - 1, None), None)
    if index is None:
        _nowhere(work, item, _named(work, noun))
        return None
    if noun.kind in ("group", "sp") and nth == 1 and index <= _first_group_end(work):
        return index
    if index != 0:
        mend = _right_join(work)
        work.report(fault(rules.JOIN_ELSEWHERE, _place_span(item, place), began=_began(work), mend=mend))
    return index


def _first_group_end(work: Working) -> int:
    """The last element that a space or group joined into may begin at and still be the round's first."""
    index = 0
    while index < len(work.elements) and work.elements[index].kind != "chain":
        index += 1
    return index


def _place_span(item: Join, place: Place) -> Span:
    return place.span if place.span.end else item.span


def _right_join(work: Working) -> str:
    if work.begin_counts:
        return "top of beg ch"
    return (
        f"first {name_in(plain_stitch(work.elements[0].name), work.setting.header.terms)}"
        if work.elements
        else "first st"
    )


def _nowhere(work: Working, item: Join, named: str) -> None:
    span = item.place.span if item.place is not None and item.place.span.end else item.span
    work.report(fault(rules.JOIN_NOWHERE, span, place=named, began=_began(work), mend=_right_join(work)))


def _named(work: Working, noun: Noun) -> str:
    if noun.kind == "sp":
        return f"ch-{noun.length} sp" if noun.length else "space"
    return name_in(noun.name, work.setting.header.terms) if noun.name else noun.kind


def _is_element(work: Working, index: int, noun: Noun) -> bool:
    element = work.elements[index]
    if noun.kind == "st":
        return element.kind == "stitch"
    if noun.kind in ("ch", "foundation ch"):
        return element.kind == "chain"
    if noun.kind == "stitch":
        return element.kind == "stitch" and noun.name in (element.name, plain_stitch(element.name))
    if noun.kind == "group":
        return any(
            group.start == index and group.name == noun.name for group in work.groups
        ) or _begins_group(work, index, noun)
    if noun.kind == "sp":
        begins = element.kind == "chain" and (index == 0 or work.elements[index - 1].kind != "chain")
        return begins and noun.length in (None, _run_length(work, index))
    return False


def _begins_group(work: Working, index: int, noun: Noun) -> bool:
    special = work.setting.specials.get(noun.name)
    if special is None or index + len(special.items) > len(work.elements) + 8:
        return False
    at = index
    for part in special.items:
        for name in (part,) if isinstance(part, str) else ("ch",) * part:
            if at >= len(work.elements) or work.elements[at].name != name:
                return False
            at += 1
    return True


def _in_beginning(work: Working, item: Join, place: Place, noun: Noun) -> int | None:
    """`top of beg ch`, `3rd ch of beg ch-4`."""
    kth = place.part.ordinal if place.part is not None and place.part.kind == "kth" else 0
    wrong_length = noun.length is not None and noun.length != work.begin_length
    if not work.begin_counts or wrong_length or kth > work.begin_length:
        what = f"beg ch-{noun.length}" if noun.length else "beg ch that counts"
        _nowhere(work, item, f"{ordinal(kth)} ch of {what}" if kth else f"top of {what}")
        return None
    if kth and kth != work.begin_height:
        work.report(
            fault(rules.JOIN_ELSEWHERE, _place_span(item, place), began=_began(work), mend=_right_join(work))
        )
        return kth - work.begin_height if kth > work.begin_height else 0
    return 0
