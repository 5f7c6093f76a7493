"""Places in words, with the number of places that were really reached: "in each of the next 6 V-sts"."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from server.craft.making.counting import ordinal
from server.craft.text.tree import Noun, Number, Part, Place, Terms
from server.craft.text.vocabulary import legs, name_in, plural


@dataclass(frozen=True, slots=True)
class Tongue:
    """How a round is said: in which terms, what a written number is to her, and whether "the" is said."""

    terms: Terms
    value: Callable[[Number], int]
    the: bool = False

    @property
    def each_of(self) -> str:
        """ "each of the" in steps, "each of" in a line."""
        return "each of the" if self.the else "each of"

    @property
    def skipped(self) -> str:
        """ "skipped", in UK terms "missed"."""
        return "skipped" if self.terms == "US" else "missed"


NEXT = Place("next", (Noun("st"),))


def noun_words(noun: Noun, count: int, terms: Terms) -> str:
    """What a place is called, singular or plural."""
    one = count == 1
    if noun.kind == "sp":
        if noun.length is None:
            return "sp" if one else "sps"
        if one:
            return f"ch-{noun.length}" if noun.loop_form else f"ch-{noun.length} sp"
        return f"ch-{noun.length} sps"
    if noun.kind in ("stitch", "group"):
        name = name_in(noun.name, terms) if noun.kind == "stitch" else noun.name or "group"
        return name if one else plural(name)
    if noun.kind == "beg ch":
        return "beg ch" if noun.length is None else f"beg ch-{noun.length}"
    if noun.kind == "st":
        return "st" if one else "sts"
    if noun.kind == "row":
        return "row" if one else "rows"
    return noun.kind  # "ch", "foundation ch", "ring": the same for one and for many


def place_words(
    place: Place | None, reached: int, stitch: str, tongue: Tongue, *, whole: bool = False
) -> str:
    """Where a stitch is worked: "in next st", "around each of the next 6 dc", "over next 2 sts".

    `reached` is the number of places it went into; `stitch` the US name of what is worked ("" for a group of
    its own). `whole`: the round begins with it, so that an `each` is all of them, not the next ones.
    """
    where = place or NEXT
    if legs(stitch) > 1 and where.part is None and where.which in ("next", "plain", "each", "first", "last"):
        which = where.which if where.which in ("first", "last") else "next"
        return f"over {which} {reached} {_nouns(where, reached, tongue)}"
    if where.nouns[:1] == (Noun("edge"),):
        return "evenly around the edge" if where.evenly else "around the edge"
    if where.evenly:
        return f"evenly along {reached} row ends"
    if where.edge == "between":
        return f"in {_between(where, reached, tongue)}"
    if where.post:
        return "around " + _inner(where, reached, tongue, whole=whole)
    loop = f"{where.loop} loop of " if where.loop else ""
    edge = f"{where.edge} of " if where.edge else ""
    return f"in {loop}{edge}{_part(where.part, tongue)}{_inner(where, reached, tongue, whole=whole)}"


def _between(place: Place, reached: int, tongue: Tongue) -> str:
    """ "next sp between groups", "each of next 23 sps between dc"."""
    names = _nouns(place, 2, tongue)
    which = place.which if place.which in ("first", "last") else "next"
    if place.pairs and reached == 1:
        return f"sp between next 2 {names}"
    return (
        f"{which} sp between {names}"
        if reached == 1
        else (f"{tongue.each_of} {which} {reached} sps between {names}")
    )


def skip_words(place: Place, reached: int, tongue: Tongue) -> str:
    """What is passed over: "sk 3 sts", "sk next V-st", in UK terms "miss 3 sts"."""
    verb = "sk" if tongue.terms == "US" else "miss"
    names = _nouns(place, reached, tongue)
    if place.which == "last":
        return f"{verb} last {names}" if reached == 1 else f"{verb} last {reached} {names}"
    return f"{verb} next {names}" if reached == 1 else f"{verb} {reached} {names}"


def _part(part: Part | None, tongue: Tongue) -> str:
    if part is None:
        return ""
    name = noun_words(part.noun, 1, tongue.terms) if part.noun is not None else ""
    if part.kind == "kth":
        lead = "first" if part.ordinal == 1 else ordinal(part.ordinal)
        return f"{lead} {name or 'st'} of "
    if part.kind == "top":
        return "top of "
    if part.kind == "last":
        return f"last {name or 'st'} of "
    center = "center" if tongue.terms == "US" else "centre"
    return f"{center} {name} of " if name else f"{center} of "


def _nouns(place: Place, reached: int, tongue: Tongue) -> str:
    names = " and ".join(noun_words(noun, reached, tongue.terms) for noun in place.nouns or NEXT.nouns)
    return f"{tongue.skipped} {names}" if place.skipped and place.which != "skipped" else names


def _inner(place: Place, reached: int, tongue: Tongue, *, whole: bool) -> str:
    """The place itself, without loop, edge or part."""
    names = _nouns(place, reached, tongue)
    which = place.which
    if which in ("next", "each"):
        if place.step > 1:
            nth = "other" if place.step == 2 else ordinal(place.step)
            return f"every {nth} {_nouns(place, 1, tongue)}, {reached} times"
        if which == "each" and whole and reached > 1:
            first = "first " if place.until is not None or place.before is not None else ""
            return f"each of the {first}{reached} {names}"
        return f"next {names}" if reached == 1 else f"{tongue.each_of} next {reached} {names}"
    if which in ("first", "last"):
        return f"{which} {names}" if reached == 1 else f"{tongue.each_of} {which} {reached} {names}"
    if which == "skipped":
        names = f"{tongue.skipped} {names}"
        return names if reached == 1 else f"{tongue.each_of} next {reached} {names}"
    if which == "kth":
        return f"{ordinal(place.ordinal)} {names}"
    if which == "from hook":
        return f"{ordinal(place.ordinal)} {names} from hook"
    if which == "plain":
        return _plain(place, reached, names, tongue)
    if which == "beg":
        return names
    return f"{which} {names}" + (" as beg ch" if place.at_beginning else "")  # same, any


def _plain(place: Place, reached: int, names: str, tongue: Tongue) -> str:
    """A place that is named without saying which: there is only one such ("ring"), or the next is meant."""
    if only_one(place):
        return names
    return f"next {names}" if reached == 1 else f"{tongue.each_of} next {reached} {names}"


def only_one(place: Place) -> bool:
    """A place named without saying which, where there is only one such: the ring, the gap's own chain."""
    kinds = {noun.kind for noun in place.nouns}
    gaps_own = place.edge is not None and place.part is not None
    return bool(kinds) and (kinds <= {"ring", "beg ch"} or gaps_own)
