"""Builds what was done in a round by hand, as the fabric has it, for tests of the wording alone."""

from __future__ import annotations

from typing import Literal, TypedDict, Unpack

from server.craft.fabric.values import Did, DidRepeat, Doing
from server.craft.making.placewords import Tongue
from server.craft.text.tree import (
    Chain,
    CountsAs,
    Inline,
    Instruction,
    Join,
    Loop,
    Noun,
    Number,
    Part,
    Place,
    Plain,
    Skip,
    Terms,
    Which,
    Work,
)

ST, CH = Noun("st"), Noun("ch")


def stitch(name: str) -> Noun:
    return Noun("stitch", name)


def group(name: str) -> Noun:
    return Noun("group", name)


def sp(length: int, loop_form: bool = False) -> Noun:
    return Noun("sp", length=length, loop_form=loop_form)


class More(TypedDict, total=False):
    """What a place may have besides how it is found and what it is called."""

    count: Number
    ordinal: int
    part: Part
    edge: Literal["side", "underside"]
    loop: Loop
    post: bool
    skipped: bool
    until: Number
    step: int
    at_beginning: bool


def place(which: Which, *nouns: Noun, **more: Unpack[More]) -> Place:
    return Place(which, nouns, **more)


def ch(number: int, counts: tuple[str, int] | None = None, written: CountsAs | None = None) -> Did:
    """Chains; with `counts` a beginning chain."""
    return Did(Chain(Plain(number), written), 0, None, (0, 0), counts, begins=counts is not None)


def work(
    name: str | Inline, where: Place | None = None, reached: int = 1, times: int = 1, noun: Noun | None = None
) -> Did:
    found = noun or (where.nouns[0] if where else None)
    return Did(Work(name, Plain(times), where), reached, found, (0, 0))


def simple(made: Instruction) -> Did:
    """An instruction without a place of its own."""
    return Did(made, 0, None, (0, 0))


def skip(count: int, noun: Noun) -> Did:
    return Did(Skip(place("next", noun)), count, noun, (0, 0))


def join(where: Place | None, to_ring: bool = False, noun: Noun | None = None) -> Did:
    return Did(Join(where, to_ring), 1 if where else 0, noun, (0, 0))


def rep(times: int, *body: Doing, last: tuple[Doing, ...] | None = None) -> DidRepeat:
    return DidRepeat(times, body, last, (0, 0))


def inline(*items: str | int | tuple[int, str]) -> Inline:
    """`inline("dc", 1, (2, "dc"))` is `(dc, ch 1, 2 dc)`."""
    made: list[Chain | Work] = []
    for each in items:
        if isinstance(each, int):
            made.append(Chain(Plain(each)))
        elif isinstance(each, str):
            made.append(Work(each, Plain(1)))
        else:
            made.append(Work(each[1], Plain(each[0])))
    return Inline(tuple(made))


def tongue(terms: Terms = "US", the: bool = True) -> Tongue:
    """Numbers are said as they stand; only plain ones are used here."""

    def value(number: Number) -> int:
        assert isinstance(number, Plain)
        return number.value

    return Tongue(terms, value, the)
