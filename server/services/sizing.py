"""For a host: whom a pattern's sizes fit, which to offer, and whether the yarn it asks for is enough.

Kept for a while: a page asks for the same text again and again.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from threading import Lock

from server.craft.making import worn
from server.craft.measure.counts import AllowedCounts
from server.craft.measure.gauge import Gauge, any_gauge
from server.craft.measure.handtables import child_ages
from server.craft.measure.lengths import Units
from server.craft.measure.sizetables import SizeTable, population, proposed_sizes, size_table
from server.craft.measure.stated_yarn import StatedCheck, check_stated, header_gauge, own_units, read_yarn
from server.craft.text import read
from server.craft.text.tree import Pattern
from server.services.errors import Refusal

# The yarn is summed over the pattern at every size: one after the other leaves room for short requests.
_WORKING = Lock()
GROUPS: tuple[tuple[str, str], ...] = (
    ("women", "women"),
    ("men", "men"),
    ("adults", "women and men"),
    ("children 2 to 4", "children from 2 to 4"),
    ("children 5 to 8", "children from 5 to 8"),
    ("children 9 to 12", "children from 9 to 12"),
    ("children 13 to 18", "young people from 13 to 18"),
)


@dataclass(frozen=True)
class Sizing:
    """Sizes for a population.

    gauge       what is gone by, in words
    for_a_hand  False: nothing is proposed, since hands are all that the tables have
    rows_around its chain is how long it is, and its rows go around
    own         the pattern's own sizes; None where it begins in a ring, its rows go around, or it has none
    proposed    sizes to offer; None where counts cannot be chosen
    """

    title: str
    gauge: str
    for_a_hand: bool
    begins_in_ring: bool
    rows_around: bool
    own: SizeTable | None
    proposed: SizeTable | None


def groups() -> tuple[tuple[str, str], ...]:
    """The populations there are: what each is asked for by, and its words."""
    return (*GROUPS, *((f"child {age}", f"children of {age}") for age in child_ages()))


@lru_cache(maxsize=64)
def sizing_of(text: str, people: str, units: Units) -> Sizing:
    """Whom the sizes of a pattern fit; Refusal(field "people") for a population that there is not."""
    if people not in dict(groups()):
        raise Refusal("Choose whose hands.", "people")
    pattern = read(text).pattern
    header, gauge = pattern.header, _gauge(pattern)
    line = header.line("Gauge")
    at = f"At the pattern’s gauge, {line.value}." if line and header.gauge is not None else gauge.says
    counts = AllowedCounts.of(header)
    for_a_hand, rows_around = worn.is_for_a_hand(pattern), worn.chain_goes_along(pattern)
    if counts is None or not for_a_hand or rows_around:
        return Sizing(header.title, at, for_a_hand, counts is None, rows_around, None, None)
    hands = population(people)
    own = size_table(counts.sizes, gauge, hands, units) if counts.sizes else None
    proposed = proposed_sizes(counts, gauge, hands, units) if counts.multiple is not None else None
    return Sizing(header.title, at, True, False, False, own, proposed)


@lru_cache(maxsize=64)
def stated_of(text: str, units: Units | None = None) -> tuple[StatedCheck, ...]:
    """Each size's stated yarn against the fabric of a proved text; none where it states none. In yards where
    the pattern has yards, unless said otherwise.
    """
    with _WORKING:
        pattern = read(text).pattern
        return check_stated(pattern, units or own_units(pattern.header))


def _gauge(pattern: Pattern) -> Gauge:
    header = pattern.header
    return any_gauge(
        None,
        header_gauge(header),
        read_yarn(header.yarn).category,
        header.hook_mm[0] if header.hook_mm and header.gauge is None else None,
    )
