"""An instruction in full words: "V-stitch in each of the next 6 V-stitches"."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from server.craft.fabric.values import Did
from server.craft.making.counting import SPACE, ordinal
from server.craft.making.fullnames import decrease, full_name, full_nouns, full_place, full_skip, with_article
from server.craft.making.placewords import NEXT, Tongue
from server.craft.making.shapes import CountItem
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
    Noun,
    OtherSide,
    Place,
    RingStart,
    Skip,
    Terms,
    Turn,
    Work,
)
from server.craft.text.vocabulary import legs

FIRST_CHAIN = Place("first", (Noun("ch"),))


@dataclass(frozen=True, slots=True)
class Full:
    """The voice of steps in full words."""

    tongue: Tongue

    def did(self, did: Did) -> str:
        """An instruction as it was carried out."""
        made, tongue = did.instruction, self.tongue
        if isinstance(made, Work):
            return _work(made, did, tongue)
        if isinstance(made, Chain):
            return _chain(made, did, tongue)
        if isinstance(made, Skip):
            return full_skip(made.place, did.reached, tongue)
        if isinstance(made, Join):
            return _join(made, tongue)
        if isinstance(made, JoinYarn):
            words = f"join the yarn with {with_article(full_name(made.stitch, 1, tongue.terms))}"
            return f"{words} {full_place(made.place, 1, made.stitch, tongue)}" if made.place else words
        if isinstance(made, FoundationStitches):
            many = tongue.value(made.number)
            return f"make {many} foundation {full_name(made.stitch, many, tongue.terms)}"
        return _plain_words(made)

    def again(self, did: Did) -> str:
        """A further slip stitch on the way, after one in the same step."""
        made = did.instruction
        place = made.place if isinstance(made, Work) else None
        return f", then {full_place(place, max(did.reached, 1), 'sl st', self.tongue)}"

    def upto(self, where: Upto | None) -> str:
        """How far a run goes: ", up to the gap"."""
        if where is None:
            return ""
        if where.kind == "gap":
            return f", up to the {_numbered(where.count)}gap"
        if where.kind == "last":
            many = "" if where.count == 1 else f"{where.count} "
            return f", up to the last {many}{full_nouns(where.nouns, where.count, self.tongue.terms)}"
        return ", to the end of the row" if where.kind == "row end" else ", to the end of the round"

    def gap(self, chains: str, number: int) -> str:
        """The chains that make a gap: "make the gap: chain 7", "make the 2nd gap: chain 7"."""
        return f"make the {_numbered(number)}gap: {chains}"


def _numbered(number: int) -> str:
    """Which gap of several; "" for the only one."""
    return {0: "", 1: "first "}.get(number, f"{ordinal(number)} ")


def full_count(items: Iterable[CountItem], terms: Terms) -> str:
    """What to count at a round's end: "8 V-stitches, 8 chain-1 spaces"."""
    return ", ".join(f"{each.count} {_counted(each.name, each.count, terms)}" for each in items)


def _counted(key: str, count: int, terms: Terms) -> str:
    if key in ("st", "sts", "sp", "sps"):
        noun = Noun("st" if key.startswith("st") else "sp")
        return full_nouns((noun,), count, terms)
    if key == "ch":
        return full_nouns((Noun("ch"),), count, terms)
    if SPACE.fullmatch(key):
        return full_nouns((Noun("sp", length=int(key[3:-3])),), count, terms)
    return decrease(key, count, terms) if legs(key) > 1 else full_name(key, count, terms)


def _plain_words(made: Instruction) -> str:
    if isinstance(made, Turn):
        return "turn"
    if isinstance(made, NoJoin):
        return "do not join"
    if isinstance(made, OtherSide):
        return "go on along the other side of the foundation chain"
    if isinstance(made, FastenOff):
        return "fasten off"
    if isinstance(made, RingStart):
        return "make an adjustable ring"
    raise TypeError(f"no words for {type(made).__name__}")


def _work(work: Work, did: Did, tongue: Tongue) -> str:
    place, times = work.place, tongue.value(work.times)
    if place is None and did.noun is not None:
        place = replace(NEXT, nouns=(did.noun,))
    if isinstance(work.stitch, Inline):
        words = f"work {_inline(work.stitch, tongue)}" + (f" {times} times" if times > 1 else "")
        where = full_place(place, max(did.reached, 1), "", tongue, whole=did.begins)
        return f"{words} {where}{_its_chain(work.stitch.items[0], did, tongue)}"
    if place is None and did.reached == 0:  # a picot stands in no place
        name = full_name(work.stitch, times, tongue.terms)
        return f"make {with_article(name) if times == 1 else f'{times} {name}'}"
    if did.reached == 0 and place == FIRST_CHAIN:  # a picot spelled out: back into the chains just made
        return f"{full_name(work.stitch, 1, tongue.terms)} in the first of these chains"
    where = full_place(place, max(did.reached, 1), work.stitch, tongue, whole=did.begins)
    passed = _passed(place.ordinal - 1, did, tongue) if place and place.which == "from hook" else ""
    return f"{_times_name(work.stitch, times, did.reached, tongue)} {where}{passed}"


def _times_name(name: str, times: int, reached: int, tongue: Tongue) -> str:
    if legs(name) > 1:
        made = max(reached // legs(name), 1)
        return full_name(name, 1, tongue.terms) + (f" {made} times" if made > 1 else "")
    said = full_name(name, times, tongue.terms)
    return said if times == 1 else f"{times} {said}"


def _inline(inline: Inline, tongue: Tongue) -> str:
    """`(double crochet, chain 1, 2 double crochets)`."""
    items = [
        f"chain {tongue.value(each.number)}"
        if isinstance(each, Chain)
        else _inline(each.stitch, tongue)
        if isinstance(each.stitch, Inline)
        else _times_name(each.stitch, tongue.value(each.times), 0, tongue)
        for each in inline.items
    ]
    return f"({', '.join(items)})"


def _its_chain(first: Chain | Work, did: Did, tongue: Tongue) -> str:
    """What the chain counts as that a round's first `(…)` begins with."""
    if did.counts_as is None or not isinstance(first, Chain):
        return ""
    length = tongue.value(first.number)
    said = _counts(did.counts_as, tongue, said=first.counts is not None or length > 1)
    return f"; the chain {length} {said}" if said else ""


def _passed(chains: int, did: Did, tongue: Tongue) -> str:
    """What the chains count as that a row's first stitch passes; of one that counts as nothing: not said."""
    if did.counts_as is None or (chains < 2 and not did.counts_as[0]):
        return ""
    stitch, spare = did.counts_as
    if chains < 2:
        return f"; the chain before it counts as {with_article(full_name(stitch, 1, tongue.terms))}"
    words = with_article(full_name(stitch, 1, tongue.terms)) if stitch else "a stitch"
    counted = f"count as {words}" if stitch else f"do not count as {words}"
    return f"; the {chains} chains before it {counted}" + (f" and a chain-{spare} space" if spare else "")


def _chain(chain: Chain, did: Did, tongue: Tongue) -> str:
    length = tongue.value(chain.number)
    if not did.begins or did.counts_as is None:
        return f"chain {length}"
    said = _counts(did.counts_as, tongue, said=chain.counts is not None or length > 1)
    return f"chain {length}" + (f"; it {said}" if said else "")


def _counts(counts_as: tuple[str, int], tongue: Tongue, *, said: bool) -> str:
    """What a beginning chain counts as; a plain chain 1 never counts, as every maker knows: not said."""
    stitch, spare = counts_as
    if not stitch:
        return "does not count as a stitch" if said else ""
    words = with_article(full_name(stitch, 1, tongue.terms))
    return f"counts as {words}" + (f" and a chain-{spare} space" if spare else "")


def _join(join: Join, tongue: Tongue) -> str:
    ring = " to form a ring" if join.to_ring else ""
    place = join.place or (FIRST_CHAIN if join.to_ring else Place("first", (Noun("st"),)))
    return f"join with a slip stitch {full_place(place, 1, 'sl st', tongue)}{ring}"
