"""An instruction in a maker's numbers with abbreviations: "sc in each of next 23 ch"."""

from __future__ import annotations

from dataclasses import dataclass, replace

from server.craft.fabric.values import Did
from server.craft.making.placewords import NEXT, Tongue, place_words, skip_words
from server.craft.making.surroundings import Upto
from server.craft.text.tree import (
    Chain,
    FastenOff,
    FoundationStitches,
    Inline,
    Instruction,
    Join,
    JoinYarn,
    NoJoin,
    OtherSide,
    RingStart,
    Skip,
    Turn,
    Work,
)
from server.craft.text.vocabulary import name_in, plural


@dataclass(frozen=True, slots=True)
class Short:
    """The voice of a line or of steps with abbreviations."""

    tongue: Tongue

    def did(self, did: Did) -> str:
        """An instruction as it was carried out."""
        made, tongue = did.instruction, self.tongue
        if isinstance(made, Work):
            return _work(made, did, tongue)
        if isinstance(made, Chain):
            return _chain(made, did, tongue)
        if isinstance(made, Skip):
            return skip_words(made.place, did.reached, tongue)
        if isinstance(made, Join):
            return _join(made, tongue)
        if isinstance(made, JoinYarn):
            stitch = f"join yarn with {name_in(made.stitch, tongue.terms)}"
            return f"{stitch} {place_words(made.place, 1, made.stitch, tongue)}" if made.place else stitch
        if isinstance(made, FoundationStitches):
            return f"{name_in('f' + made.stitch, tongue.terms)} {tongue.value(made.number)}"
        return _plain_words(made)

    def again(self, did: Did) -> str:
        """A further slip stitch on the way, after one in the same step."""
        return f", {self.did(did)}"

    def upto(self, where: Upto | None) -> str:
        """How far: not said with abbreviations, where a number is enough."""
        return ""

    def gap(self, chains: str, number: int) -> str:
        """The chains that make a gap: no more than that with abbreviations."""
        return chains


def _plain_words(made: Instruction) -> str:
    if isinstance(made, Turn):
        return "turn"
    if isinstance(made, NoJoin):
        return "do not join"
    if isinstance(made, OtherSide):
        return "working along the other side of the foundation ch"
    if isinstance(made, FastenOff):
        return "fasten off"
    if isinstance(made, RingStart):
        return "make an adjustable ring"
    raise TypeError(f"no words for {type(made).__name__}")


def _work(work: Work, did: Did, tongue: Tongue) -> str:
    stitch = work.stitch if isinstance(work.stitch, str) else ""
    place = work.place
    if place is None and did.noun is not None:
        place = replace(NEXT, nouns=(did.noun,))
    times = tongue.value(work.times)
    if isinstance(work.stitch, Inline):
        words = _inline(work.stitch, tongue) + (f" {times} times" if times > 1 else "")
    else:
        words = _times_name(work.stitch, times, tongue)
    if place is None and did.reached == 0:
        return words  # a picot stands in no place
    return f"{words} {place_words(place, max(did.reached, 1), stitch, tongue, whole=did.begins)}"


def _times_name(name: str, times: int, tongue: Tongue) -> str:
    said = name_in(name, tongue.terms)
    return said if times == 1 else f"{times} {plural(said)}"


def _inline(inline: Inline, tongue: Tongue) -> str:
    """`(dc, ch 1, 2 dc)`."""
    items = [
        f"ch {tongue.value(each.number)}"
        if isinstance(each, Chain)
        else _inline(each.stitch, tongue)
        if isinstance(each.stitch, Inline)
        else _times_name(each.stitch, tongue.value(each.times), tongue)
        for each in inline.items
    ]
    return f"({', '.join(items)})"


def _chain(chain: Chain, did: Did, tongue: Tongue) -> str:
    length = tongue.value(chain.number)
    words = f"ch {length}"
    if not did.begins or did.counts_as is None:
        return words
    stitch, spare = did.counts_as
    if not stitch:
        said = chain.counts is not None or length > 1  # a plain ch 1 never counts, as every maker knows
        return f"{words} (does not count as a st)" if said else words
    counts = name_in(stitch, tongue.terms) + (f", ch {spare}" if spare else "")
    return f"{words} (counts as {counts})"


def _join(join: Join, tongue: Tongue) -> str:
    ring = " to form a ring" if join.to_ring else ""
    if join.place is not None:
        return f"join with sl st {place_words(join.place, 1, 'sl st', tongue)}{ring}"
    if join.to_ring:
        return f"join with sl st in first ch{ring}"
    return "join with sl st in first st"
