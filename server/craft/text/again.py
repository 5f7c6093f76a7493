"""Reads lines whose text is that of other rounds: `rep rnd 3 of Cuff`, `as rnd 2`, `work even for 4 rnds`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from server.craft.text.cursor import Context, Cursor
from server.craft.text.lexer import Token
from server.craft.text.numbers import number, plus
from server.craft.text.remarks import pass_remarks
from server.craft.text.tails import LAST, UNTIL, Tail, tail_of
from server.craft.text.tree import (
    Chain,
    Instruction,
    Join,
    Noun,
    Number,
    Place,
    Plain,
    Repeat,
    RepeatRounds,
    RoundLine,
    SizeList,
    Span,
    Turn,
    Work,
)
from server.craft.text.vocabulary import BY_US


@dataclass(frozen=True, slots=True)
class Again:
    """A line that has another's text: which rounds, or a body of its own (`work even`); and how far."""

    repeats: RepeatRounds | None
    body: tuple[Instruction, ...]
    tail: Tail


def again(found: list[Token], context: Context, before: Sequence[RoundLine]) -> Again | None:
    """`rep rnds 2 and 3 until …`, `same as rnd 2`, `work even for 4 rnds`; None where it is something else.

    before   the lines with rounds that stand before it, the last one last
    """
    if not found:
        return None
    cursor = Cursor(found, context)
    if (even := _even(cursor, before)) is not None:
        return even
    cursor.at = 0
    _with_colour(cursor)
    cursor.skip_words(("work", "same", "as", "for", "cont", "in", "foll", "next", "the", "to", "alternating"))
    said = cursor.word("rep")
    if said:
        cursor.punct(".")
    cursor.skip_words(("the", "from", "alternating"))
    many = _last_rounds(cursor, said=said)
    section = None
    if many is not None:
        rounds = _rounds_before(before, many)
        if not rounds:
            return None
    elif (numbers := _numbered(cursor)) is not None:
        rounds = numbers
        section = _section(cursor, context)
    else:
        return None
    repeats = RepeatRounds(rounds, section, found[0].span.to(found[-1].span))
    return Again(repeats, (), tail_of(cursor, len(rounds)))


def _with_colour(cursor: Cursor) -> None:
    """Passes `with A`, `using color B,` before the words."""
    if cursor.is_word("with", "using", "in") and len(cursor.peek(1).value) == 1:
        cursor.at += 2
    else:
        pass_remarks(cursor)
    cursor.punct(",", ":")


def _by_ordinals(cursor: Cursor) -> tuple[int, ...] | None:
    """`2nd round`, `3rd and 4th rounds`, `2nd to 5th rounds`."""
    back = cursor.at
    numbers = [cursor.take().number]
    through = cursor.is_word("to") or cursor.is_punct("-")
    if (through or cursor.is_word("and") or cursor.is_punct("&")) and cursor.peek(1).kind == "ord":
        cursor.take()
        upto = min(cursor.take().number, 1000)
        numbers.extend(range(numbers[0] + 1, upto + 1) if through else [upto])
    if cursor.word("rnd"):
        return tuple(numbers)
    cursor.at = back
    return None


def _numbered(cursor: Cursor) -> tuple[int, ...] | None:
    """`rnds 2 and 3`, `R2`, `rnds 2-5`, `2nd and 3rd rounds`."""
    if cursor.peek().kind == "ord":
        return _by_ordinals(cursor)
    if not cursor.word("rnd") and not (cursor.is_word("r") and cursor.peek(1).glued and cursor.word("r")):
        return None
    if cursor.peek().kind != "num":
        return None
    numbers = [cursor.take().number]
    while True:
        if cursor.is_punct("-", "&", ",", "+") or cursor.is_word("to", "and", "through", "thru"):
            through = cursor.is_punct("-") or cursor.is_word("to", "through", "thru")
            back = cursor.at
            cursor.take()
            cursor.word("and")
            if not cursor.word("rnd") and cursor.is_word("r") and cursor.peek(1).glued:
                cursor.take()
            if _how_often_ahead(cursor):
                cursor.at = back
                return tuple(numbers)
            if cursor.peek().kind == "num" and cursor.peek().number <= 1000:
                upto = cursor.take().number
                numbers.extend(range(numbers[-1] + 1, upto + 1) if through else [upto])
                continue
            cursor.at = back
        return tuple(numbers) or None


def _how_often_ahead(cursor: Cursor) -> bool:
    """`rnds 2 and 3, 6 times`: whether the number says how often, and is no round's."""
    return cursor.peek().kind == "num" and cursor.is_word("times", "time", "more", "x", ahead=1)


def _last_rounds(cursor: Cursor, *, said: bool) -> int | None:
    """`rep last 2 rnds`, `rep this rnd`: how many rounds."""
    back = cursor.at
    if said and cursor.word(*LAST):
        many = cursor.take().number if cursor.peek().kind == "num" else 1
        if cursor.word("rnd") and 1 <= many <= 100:
            return many
    cursor.at = back
    return None


def _rounds_before(before: Sequence[RoundLine], many: int) -> tuple[int, ...]:
    """Numbers of the last so many rounds, in the smallest size where each has its own."""
    numbers: list[int] = []
    for line in before:
        label = line.label
        if label is None or label.foundation or (first := _smallest(label.first)) is None:
            continue
        last = max(first, _smallest(label.last) or first)
        numbers.extend(range(first, min(last, first + 400) + 1))
    return tuple(numbers[-many:]) if len(numbers) >= many else ()


def _smallest(number: Number | None) -> int | None:
    if isinstance(number, SizeList):
        return number.values[0]
    return number.value if isinstance(number, Plain) else None


def _section(cursor: Cursor, context: Context) -> str | None:
    """`of Cuff`, up to what ends the words."""
    if not cursor.word("of", "from", "in"):
        return None
    cursor.skip_words(("the", "section"))
    start = cursor.at
    while not cursor.done and not cursor.is_punct(".", ";", ",") and not cursor.is_word(*UNTIL):
        cursor.take()
    return " ".join(context.source.slice(context.source.trimmed(cursor.since(start))).split()) or None


# --- work even ----------------------------------------------------------------------------------------------


def _even(cursor: Cursor, before: Sequence[RoundLine]) -> Again | None:
    """`work even for 4 rnds`, `work 4 rnds even`, `sc even until …`: the stitch of the round before."""
    start = cursor.at
    cursor.word("cont")
    cursor.skip_words(("to", "in"))
    cursor.word("work")
    many: Number | None = None
    if not cursor.is_word("even", "evenly", "straight"):
        many = number(cursor)
        cursor.word("more")
        if many is None or not cursor.word("rnd"):
            cursor.at = start
            return None
        cursor.word("more")
    if not cursor.word("even", "straight"):
        cursor.at = start
        return None
    body = _body_even(before)
    if not body:
        cursor.at = start
        return None
    tail = tail_of(cursor, 1)
    return Again(None, body, Tail(many, tail.until) if many is not None else tail)


def _body_even(before: Sequence[RoundLine]) -> tuple[Instruction, ...]:
    """One stitch in each, of the kind that the last round has last, begun and ended as that round is."""
    for line in reversed(before):
        stitch = _main_stitch(line.body)
        if stitch is None:
            continue
        begins = line.body[:1] if isinstance(line.body[0], Chain) else ()
        ends = tuple(item for item in line.body[-2:] if isinstance(item, Join | Turn))
        return (*begins, Work(stitch, Plain(1), Place("each", (Noun("st"),))), *(_bare(one) for one in ends))
    return ()


def _bare(item: Instruction) -> Instruction:
    return Join(None) if isinstance(item, Join) else item


def _main_stitch(items: Sequence[Instruction]) -> str | None:
    for item in reversed(items):
        if isinstance(item, Work) and isinstance(item.stitch, str) and item.stitch in BY_US:
            if item.stitch != "sl st":
                return item.stitch
        elif isinstance(item, Repeat) and (found := _main_stitch(item.body)) is not None:
            return found
    return None


def next_number(before: Sequence[RoundLine]) -> Number:
    """The number of the round after those."""
    for line in reversed(before):
        label = line.label
        if label is not None and not label.foundation:
            return plus(label.last if label.last is not None else label.first, 1)
    return Plain(1)


def upto(first: Number, rounds: Number) -> Number | None:
    """The last number of so many rounds from `first` on; None for a single one."""
    if isinstance(rounds, Plain):
        return plus(first, rounds.value - 1) if rounds.value > 1 else None
    if isinstance(first, Plain):
        return plus(rounds, first.value - 1)
    return rounds


def span_of(found: list[Token], at: int = 0) -> Span:
    """The span of the tokens from one on."""
    return found[at].span.to(found[-1].span)
