"""Names and places in full words: "V-stitches", "in the 3rd chain of the beginning chain-4"."""

from __future__ import annotations

from server.craft.making.counting import ordinal
from server.craft.making.placewords import NEXT, Tongue, only_one
from server.craft.text.tree import Noun, Part, Place, Terms
from server.craft.text.vocabulary import full_words, legs, plain_stitch, plural

LETTERS_WITH_AN = "AEFHILMNORSX"


def full_name(name: str, count: int, terms: Terms) -> str:
    """A stitch or group as something made: ("V-st", 2) -> "V-stitches", ("dc", 2, "UK") -> "trebles"."""
    said = full_words(name, terms)
    if said == name and name.lower().endswith(("-st", " st")):
        said = f"{name}itch"
    return said if count == 1 else plural(said)


def full_noun(noun: Noun, count: int, terms: Terms) -> str:
    """What a place is called: "stitch", "chain-1 spaces", "foundation chains", "single crochet decrease"."""
    one = count == 1
    if noun.kind == "sp":
        if noun.length is None:
            return "space" if one else "spaces"
        if one and noun.loop_form:
            return f"chain-{noun.length}"
        return f"chain-{noun.length} space" + ("" if one else "s")
    if noun.kind in ("stitch", "group"):
        if legs(noun.name) > 1:
            return decrease(noun.name, count, terms)
        return full_name(noun.name or "group", count, terms)
    if noun.kind == "beg ch":
        return "beginning chain" if noun.length is None else f"beginning chain-{noun.length}"
    plain = {
        "st": "stitch",
        "ch": "chain",
        "foundation ch": "foundation chain",
        "ring": "ring",
        "row": "row",
    }[noun.kind]
    return plain if one else plural(plain)


def decrease(name: str, count: int, terms: Terms) -> str:
    """A decrease that something is worked into, or that is counted: "single crochet decreases"."""
    many = "" if legs(name) == 2 else f"{legs(name)}-together "
    words = f"{full_words(plain_stitch(name), terms)} {many}decrease"
    return words if count == 1 else plural(words)


def with_article(words: str) -> str:
    """ "a double crochet", "an Anchor", "an X-stitch"."""
    lettered = len(words) > 1 and words[1] in "- " and words[0] in LETTERS_WITH_AN
    vowel = words[:1].lower() in ("a", "e", "i", "o", "u") and not (len(words) > 1 and words[1] in "- ")
    return f"an {words}" if lettered or vowel else f"a {words}"


# --- places ------------------------------------------------------------------------------------------------


def full_place(place: Place | None, reached: int, stitch: str, tongue: Tongue, *, whole: bool = False) -> str:
    """Where a stitch is worked: "in the next stitch", "over the next 2 stitches", "around the next treble".

    `reached` is the number of places it went into; `stitch` the US name of what is worked ("" for a group of
    its own). `whole`: the round begins with it, so that an `each` is all of them, not the next ones.
    """
    where = place or NEXT
    if legs(stitch) > 1 and where.part is None and where.which in ("next", "plain", "each", "first", "last"):
        which = where.which if where.which in ("first", "last") else "next"
        return f"over the {which} {reached} {_nouns(where, reached, tongue)}"
    if where.nouns[:1] == (Noun("edge"),):
        return "evenly around the edge" if where.evenly else "around the edge"
    if where.evenly:
        return f"evenly along the ends of {reached} rows"
    if where.edge == "between":
        return f"in {_between(where, reached, tongue)}"
    inner = _inner(where, reached, tongue, whole=whole)
    if where.post:
        return f"around {inner}"
    loop = f"the {'3rd' if where.loop == 'third' else where.loop} loop of " if where.loop else ""
    edge = f"the {where.edge} of " if where.edge else ""
    return f"in {loop}{edge}{_part(where.part, tongue)}{inner}"


def _between(place: Place, reached: int, tongue: Tongue) -> str:
    """ "the next space between groups", "each of the next 23 spaces between treble crochets"."""
    names = _nouns(place, 2, tongue)
    which = place.which if place.which in ("first", "last") else "next"
    if place.pairs and reached == 1:
        return f"the space between the next 2 {names}"
    if reached == 1:
        return f"the {which} space between {names}"
    return f"each of the {which} {reached} spaces between {names}"


def full_skip(place: Place, reached: int, tongue: Tongue) -> str:
    """What is passed over: "skip the next 3 stitches", in UK terms "miss the next 3 stitches"."""
    verb = "skip" if tongue.terms == "US" else "miss"
    names = _nouns(place, reached, tongue)
    many = "" if reached == 1 else f"{reached} "
    return f"{verb} the {'last' if place.which == 'last' else 'next'} {many}{names}"


def full_nouns(nouns: tuple[Noun, ...], count: int, terms: Terms) -> str:
    """ "stitches and chain-1 spaces"."""
    return " and ".join(full_noun(noun, count, terms) for noun in nouns or NEXT.nouns)


def _part(part: Part | None, tongue: Tongue) -> str:
    if part is None:
        return ""
    name = full_noun(part.noun, 1, tongue.terms) if part.noun is not None else ""
    if part.kind == "kth":
        lead = "first" if part.ordinal == 1 else ordinal(part.ordinal)
        return f"the {lead} {name or 'stitch'} of "
    if part.kind == "top":
        return "the top of "
    if part.kind == "last":
        return f"the last {name or 'stitch'} of "
    center = "center" if tongue.terms == "US" else "centre"
    return f"the {center} {name} of " if name else f"the {center} of "


def _nouns(place: Place, reached: int, tongue: Tongue) -> str:
    names = full_nouns(place.nouns, reached, tongue.terms)
    return f"{tongue.skipped} {names}" if place.skipped and place.which != "skipped" else names


def _inner(place: Place, reached: int, tongue: Tongue, *, whole: bool) -> str:
    """The place itself, without loop, edge or part."""
    which, names = place.which, _nouns(place, reached, tongue)
    if place.step > 1 and which in ("next", "each", "last"):
        nth = "other" if place.step == 2 else ordinal(place.step)
        return f"every {nth} {_nouns(place, 1, tongue)}, {reached} times"
    if which == "each" and whole and reached > 1:
        first = "first " if place.until is not None or place.before is not None else ""
        return f"each of the {first}{reached} {names}"
    if which == "skipped":
        names = f"{tongue.skipped} {names}"
        return f"the {names}" if reached == 1 else f"each of the next {reached} {names}"
    if which in ("first", "last"):
        return f"the {which} {names}" if reached == 1 else f"each of the {which} {reached} {names}"
    if which == "kth":
        return f"the {ordinal(place.ordinal)} {names}"
    if which == "from hook":
        return f"the {ordinal(place.ordinal)} {names} from the hook"
    if which == "same":
        return f"the same {names}" + (" as the beginning chain" if place.at_beginning else "")
    if which == "any":
        return f"any {names}"
    if which == "beg" or (which == "plain" and only_one(place)):
        return f"the {names}"
    return f"the next {names}" if reached == 1 else f"each of the next {reached} {names}"
