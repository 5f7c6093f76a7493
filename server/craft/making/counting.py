"""What to count at a round's end, in words: "8 Perches, 32 dc, 8 ch-1 sps"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from server.craft.making.shapes import CountItem
from server.craft.text.tree import CountLine, Noun, Terms
from server.craft.text.vocabulary import BY_US, POST, TOGETHER, name_in, plain_stitch, plural

SPACE = re.compile(r"ch-\d+ sp")


def ordinal(number: int) -> str:
    """ "1st", "2nd", "3rd", "4th", "11th", "21st"."""
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th') }"


def many(count: int, one: str, more: str | None = None) -> str:
    """ "1 round", "2 rounds"; `more` where the plural is not `one` with an s."""
    return f"{count} {one if count == 1 else more or one + 's'}"


def name_words(key: str, count: int, terms: Terms) -> str:
    """What a count is called, singular or plural: ("dc", 2, "UK") -> "tr", ("V-st", 2, "US") -> "V-sts"."""
    if key in ("st", "sts"):
        return "st" if count == 1 else "sts"
    if key in ("sp", "sps"):
        return "sp" if count == 1 else "sps"
    if key == "ch":
        return "ch"
    if SPACE.fullmatch(key):
        return key if count == 1 else key + "s"
    name = name_in(key, terms)
    return name if count == 1 else plural(name)


def item(key: str, count: int, terms: Terms) -> CountItem:
    """One thing to count, with its words: "8 V-sts"."""
    return CountItem(key, count, f"{count} {name_words(key, count, terms)}")


def key_of(noun: Noun | None) -> str:
    """The key under which a round's counts have what a count line names."""
    if noun is None or noun.kind == "st":
        return "sts"
    if noun.kind == "sp":
        return "sps" if noun.length is None else f"ch-{noun.length} sp"
    if noun.kind in ("stitch", "group"):
        return noun.name
    return "ch"


def to_count(counts: Mapping[str, int], stated: CountLine | None, terms: Terms) -> tuple[CountItem, ...]:
    """What a maker counts at a round's end: what the host states there, or all that the round has.

    The numbers are the fabric's, never the stated ones. Where nothing is stated: groups first, then
    stitches, then spaces; "sts" only where nothing else is there. A decrease is one of the stitches that it
    is made of, unless it is counted apart.
    """
    if stated is not None:
        keys = list(dict.fromkeys(key_of(each.noun) for each in stated.items))
        return tuple(item(key, counted(counts, key, keys), terms) for key in keys)
    keys = all_keys(counts)
    items = [item(key, counted(counts, key, keys), terms) for key in keys]
    return tuple(each for each in items if each.count)


def word_count(counts: Mapping[str, int], terms: Terms) -> str:
    """All that a round has, in words: "8 Perches, 32 dc, 8 ch-1 sps"."""
    return count_text(to_count(counts, None, terms))


def count_text(items: Iterable[CountItem]) -> str:
    """The items in one line."""
    return ", ".join(each.words for each in items)


def all_keys(counts: Mapping[str, int]) -> list[str]:
    """The keys of a round's counts: groups, then stitches, then spaces; totals only where they are all."""
    present = [key for key, count in counts.items() if count and key not in ("sts", "sps")]
    spaces = [key for key in present if SPACE.fullmatch(key)]
    plain = [key for key in present if key not in spaces and _is_plain(key)]
    groups = [key for key in present if key not in spaces and key not in plain]
    return groups + plain + spaces or [key for key in ("sts", "sps") if counts.get(key)]


def _is_plain(key: str) -> bool:
    return key == "ch" or key in BY_US or bool(POST.match(key)) or bool(TOGETHER.match(key))


def counted(counts: Mapping[str, int], key: str, beside: Iterable[str] = ()) -> int:
    """How many a round has of what a count names; `beside` are the other names in the same count line."""
    if key in counts:
        apart = {other for other in beside if other != key and plain_stitch(other) == key}
        return counts[key] - sum(counts.get(other, 0) for other in apart)
    spaces = {int(other[3:-3]): count for other, count in counts.items() if SPACE.fullmatch(other)}
    if key == "sps":
        return sum(spaces.values())
    if key == "ch":
        return sum(length * count for length, count in spaces.items())
    return counts.get("ch", 0) if key == "sts" else 0  # a bare number after the foundation counts its chains
