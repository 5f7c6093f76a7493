"""The slips that a round invites: each with what it would make of the round, read from the fabric."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from server.craft.fabric.values import Did, DidRepeat, Doing, Node
from server.craft.making.placewords import place_words
from server.craft.making.retelling import Bit, Unit, left_out, made_again, pass_length
from server.craft.making.shortwords import Short
from server.craft.making.slipwords import PLAIN, Told
from server.craft.making.wording import as_one
from server.craft.text.tree import Work
from server.craft.text.vocabulary import TOGETHER, legs, plain_stitch

FLAT_MOST_CH = 3  # longer chains arch, and are seen


@dataclass(frozen=True, slots=True)
class Slip:
    """One slip.

    rank     how likely, 0 first (see `misses`)
    says     what may have happened, one sentence
    where    where to look for it, one sentence
    made     the round with it, to be counted
    end      which end of the round it is at: "beginning", "end", "" for neither
    often    it may well have happened more than once in the round
    partial  only a part of a group: who counts groups does not see it
    """

    rank: int
    says: str
    where: str
    made: Sequence[Bit]
    end: Literal["beginning", "end", ""] = ""
    often: bool = False
    partial: bool = False


def slips(told: Told) -> list[Slip]:
    """Every slip of a round, likeliest first."""
    if told.foundation:
        return list(_foundation(told))
    found = [
        *_beginning(told),
        *_join(told),
        *_first(told),
        *_last(told),
        *_places(told),
        *_decreases(told),
        *_in_places(told),
        *_repeats(told),
        *_chains(told),
    ]
    return sorted(found, key=lambda slip: slip.rank)


def _foundation(told: Told) -> Iterator[Slip]:
    bits = told.bits
    one = Bit(Node("chain", "ch", 1, (), "none"))
    yield Slip(
        0,
        "The loop on the hook may have been counted. It is never a chain.",
        "Count from the slip knot, without the loop that is on the hook.",
        [*bits, one],
    )
    yield Slip(
        0,
        "The chain next to the slip knot may not have been counted: it is pulled tight and small.",
        "Begin to count at the slip knot; every V on the front is a chain.",
        bits[1:],
    )


# --- what was counted, not made ----------------------------------------------------------------------------


def _beginning(told: Told) -> Iterator[Slip]:
    """The beginning chain, counted or not."""
    at = told.begin_at
    if at is None:
        return
    node = told.bits[at].node
    length = node.size + told.spare
    if node.name:
        group = told.first_group
        belongs = f" and belongs to the first {group}" if group else ""
        yield Slip(
            0,
            f"The beginning ch {length} counts as one {told.name(node.name)}{belongs}: it may not have been "
            "counted.",
            "At the beginning of the round, beside the join.",
            left_out(told.bits, at, at + 1 + told.spare),
            "beginning",
        )
    elif told.units:
        stitch = told.looks_like(told.units[0])
        yield Slip(
            0,
            f"The beginning ch {length} does not count as a stitch here: it may have been counted as one.",
            "At the beginning of the round, beside the join.",
            [*told.bits, _loose(stitch)],
            "beginning",
        )


def _join(told: Told) -> Iterator[Slip]:
    """The join's slip stitch, counted."""
    if told.joined and told.units:
        stitch = told.looks_like(told.units[-1])
        counted = "a stitch" if stitch == PLAIN else f"one {told.name(stitch)}"
        yield Slip(
            1,
            f"The slip stitch of the join may have been counted as {counted}: it lies beside the last one.",
            "At the end of the round, where it is joined.",
            [*told.bits, _loose(stitch)],
            "end",
        )


def _loose(stitch: str) -> Bit:
    """A stitch that is seen where none was worked into a place."""
    return Bit(Node("stitch", stitch, 1, (), "none"))


# --- the ends of the round ---------------------------------------------------------------------------------


def _first(told: Told) -> Iterator[Slip]:
    if len(told.units) < 2 or told.in_ring(told.units[0]):
        return
    first, at = told.units[0], told.begin_at
    words = told.one(first)
    begin = told.bits[at].node if at is not None else None
    if begin is not None and begin.name:
        if told.shares_beginning(first):
            yield Slip(
                4,
                f"Beside the beginning chain, {words} {told.goes(first)} into the same place: that may have "
                "been left out.",
                "At the beginning of the round.",
                left_out(told.bits, first.start, first.end),
                "beginning",
            )
        else:
            yield Slip(
                4,
                f"The beginning chain stands in the first place already: {words} may have been worked into "
                "that place as well.",
                "At the beginning of the round: what stands in the place of the beginning chain?",
                made_again(told.bits, first.start, first.end),
                "beginning",
            )
    elif begin is not None and told.joined:
        yield Slip(
            4,
            f"The first place is the one joined into, where the hook stands: {words} may have gone into "
            "the one after it.",
            "At the beginning of the round: is there something in the place under the join?",
            left_out(told.bits, first.start, first.end),
            "beginning",
        )


def _last(told: Told) -> Iterator[Slip]:
    if len(told.units) < 2 or told.in_ring(told.units[-1]):
        return
    last = told.units[-1]
    start, end = told.with_its_chains(last)
    place, words, end_words = told.place(last), told.one(last), told.end_words
    out, again = left_out(told.bits, start, end), made_again(told.bits, start, end)
    at_end = f"At the end of the {told.word}, just {end_words}."
    by_name = told.alone_in_repeat(last) or told.is_decrease(last)
    if by_name or (start, end) != (last.start, last.end):
        says = f"The last {told.words(last)} {end_words} may have been left out: {told.hides}."
        yield Slip(2, says, at_end, out, "end")
    else:
        says = f"The last {place} {end_words} may have been passed over: {told.hides}."
        where = f"At the end of the {told.word}: is there one {place} with nothing {told.at(last)} it?"
        yield Slip(2, says, where, out, "end")
    if not told.joined:
        says = f"The last {place} {end_words} may have {words} twice {told.at(last)} it."
    elif told.is_plain_place(last):
        says = (
            f"The slip stitch that joined the {told.word} below looks like a stitch: "
            f"{words} may have been worked into it."
        )
    else:
        says = f"The round may have gone on past its beginning, with {words} too many at its end."
    yield Slip(3, says, at_end, again, "end")


# --- places ------------------------------------------------------------------------------------------------


def _places(told: Told) -> Iterator[Slip]:
    """A place passed over, or worked twice; likeliest where the round does something once only."""
    kinds: dict[tuple[str, str], list[Unit]] = {}
    for unit in told.units:
        whole = told.with_its_chains(unit) == (unit.start, unit.end)
        if whole and not told.alone_in_repeat(unit) and not told.is_decrease(unit):
            place = "st" if told.is_stitch_place(unit) else told.place(unit)
            kinds.setdefault((told.words(unit), place), []).append(unit)
    for alike in kinds.values():
        if told.in_ring(alike[0]):
            yield from _in_ring(told, alike[0])
        elif len(alike) > 1:
            yield from _somewhere(told, alike)
        elif alike[0] not in (told.units[0], told.units[-1]):
            yield from _once(told, alike[0])


def _in_ring(told: Told, unit: Unit) -> Iterator[Slip]:
    words, where = told.words(unit), "Count once more around the ring, from the beginning."
    out, again = left_out(told.bits, unit.start, unit.end), made_again(told.bits, unit.start, unit.end)
    yield Slip(6, f"One {words} too few may have been worked into the ring.", where, out, often=True)
    yield Slip(6, f"One {words} too many may have been worked into the ring.", where, again, often=True)


def _once(told: Told, unit: Unit) -> Iterator[Slip]:
    """What the round does once only."""
    exactly = _exactly(told, unit)
    where = f"What stands {exactly} of the {told.word} below?"
    words = told.words(unit)
    out, again = left_out(told.bits, unit.start, unit.end), made_again(told.bits, unit.start, unit.end)
    yield Slip(5, f"The {words} {exactly} may have been left out.", where, out)
    yield Slip(5, f"The {words} {exactly} may have been worked twice.", where, again)


def _somewhere(told: Told, alike: Sequence[Unit]) -> Iterator[Slip]:
    """What the round does in one place after another."""
    unit = alike[len(alike) // 2]
    out, again = left_out(told.bits, unit.start, unit.end), made_again(told.bits, unit.start, unit.end)
    words, one = told.words(unit), told.one(unit)
    places = {told.place(each) for each in alike}
    place = places.pop() if len(places) == 1 else "st"
    at = told.at(unit)
    missing = f"it has no {words} {at} it" if one.startswith("one ") else f"{words} are missing there"
    yield Slip(
        6,
        f"One {place} may have been passed over: {missing}.",
        f"Look along the {told.word} below for one {place} with nothing {at} it.",
        out,
        often=True,
    )
    yield Slip(
        6,
        f"One {place} may have been worked twice: {one} too many.",
        f"Look for one {place} with more {at} it than the others.",
        again,
        often=True,
    )
    if told.below_is_round:
        where, below = f"Count the {told.word} below too.", f"The {told.word} below"
        yield Slip(9, f"{below} may be short of one {place}: then this one is too.", where, out)
        yield Slip(9, f"{below} may have one {place} too many: then this one has too.", where, again)


def _exactly(told: Told, unit: Unit) -> str:
    made = unit.did.instruction
    place = made.place if isinstance(made, Work) else None
    stitch = made.stitch if isinstance(made, Work) and isinstance(made.stitch, str) else ""
    return place_words(place, 1, stitch, told.tongue)


def _decreases(told: Told) -> Iterator[Slip]:
    """A decrease worked as separate stitches, or one too many."""
    together = [unit for unit in told.units if TOGETHER.match(told.stitch_of(unit))]
    seen: set[str] = set()
    for unit in together:
        stitch = told.stitch_of(unit)
        if stitch in seen:
            continue
        seen.add(stitch)
        plain, many = plain_stitch(stitch), legs(stitch)
        apart = [_loose(plain)] * many
        yield Slip(
            5,
            f"One {told.name(stitch)} may have been worked as {many} {told.name(plain)}: a decrease missed.",
            "Look at the decreases one by one: each draws several stitches below to one top.",
            [*told.bits[: unit.start], *apart, *told.bits[unit.end :]],
            often=True,
        )
        singles = [one for one in told.units if told.stitch_of(one) == plain and one.end - one.start == 1]
        if len(singles) >= many:
            first = singles[0]
            without = [
                bit for at, bit in enumerate(told.bits) if at not in {one.start for one in singles[:many]}
            ]
            yield Slip(
                6,
                f"{many} {told.name(plain)} may have been worked as one {told.name(stitch)}: "
                "a decrease too many.",
                "Look for two decreases close together.",
                [*without[: first.start], _loose(stitch), *without[first.start :]],
            )


def _in_places(told: Told) -> Iterator[Slip]:
    """One stitch too few or too many in a place that takes several."""
    seen: set[tuple[str, str]] = set()
    for unit in told.units:
        stitches = [at for at in range(unit.start, unit.end) if told.bits[at].node.kind == "stitch"]
        place = told.place(unit)
        kind = (told.words(unit), place)
        beside_beginning = told.shares_beginning(unit) and len(told.units) > 1
        if len(stitches) < 2 or kind in seen or beside_beginning or told.in_ring(unit):
            continue
        seen.add(kind)
        at = stitches[-1]
        name, inside = told.name(told.bits[at].node.name), told.inside(unit)
        where = f"Compare them one by one: each has {inside}."
        few = f"{told.at(unit).capitalize()} one {place} there may be one {name} too few: {inside} go there."
        much = (
            f"{told.at(unit).capitalize()} one {place} there may be one {name} too many: {inside} go there."
        )
        less = left_out(told.bits, at, at + 1)
        more = [*told.bits[: at + 1], told.bits[at], *told.bits[at + 1 :]]
        yield Slip(6, few, where, less, often=True, partial=True)
        yield Slip(6, much, where, more, often=True, partial=True)


# --- repeats and chains ------------------------------------------------------------------------------------


def _repeats(told: Told) -> Iterator[Slip]:
    for doing in told.worked.doings:
        if not isinstance(doing, DidRepeat) or as_one(doing) is not None:
            continue
        start, length = doing.nodes[0], pass_length(doing)
        if not length:
            continue
        words = ", ".join(_inside(told, each) for each in doing.body)
        where = f"Count the repeats of this {told.word}: there should be {doing.times}."
        yield Slip(
            7,
            f"One repeat may have been left out: {words}.",
            where,
            left_out(told.bits, start, start + length),
            often=True,
        )
        yield Slip(
            7,
            f"One repeat may have been made too many: {words}.",
            where,
            made_again(told.bits, start, start + length),
            often=True,
        )


def _inside(told: Told, doing: Doing) -> str:
    voice = Short(told.tongue)
    if isinstance(doing, Did):
        return voice.did(doing)
    one = as_one(doing)
    if one is not None:
        return voice.did(one)
    return f"[{', '.join(_inside(told, each) for each in doing.body)}] {doing.times} times"


def _chains(told: Told) -> Iterator[Slip]:
    """Chains between stitches, left out or not seen."""
    seen: set[int] = set()
    at = 0
    bits = told.bits
    kinds = [bit.node.kind for bit in bits]
    beside = next(
        (place for place in range(1, len(bits)) if kinds[place - 1] == kinds[place] == "stitch"), None
    )
    while at < len(bits):
        end = at
        while end < len(bits) and bits[end].node.kind == "chain":
            end += 1
        length = end - at
        if length and length not in seen:
            seen.add(length)
            flat = ", or lies so flat that it was not counted as a space" if length <= FLAT_MOST_CH else ""
            says = f"One ch {length} may have been left out{flat}."
            where = "Look for two stitches with no space between them where there should be one."
            yield Slip(8, says, where, left_out(bits, at, end), often=True, partial=True)
            if beside is not None:
                says = f"There may be one ch {length} too many between two stitches."
                where = "Look for a space where two stitches should stand side by side."
                more = [*bits[:beside], *bits[at:end], *bits[beside:]]
                yield Slip(8, says, where, more, often=True, partial=True)
        at = max(end, at + 1)
