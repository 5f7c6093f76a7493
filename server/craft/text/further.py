"""Reads further places of a stitch: `sc in same st and in each st around`, `and 1 sc in each ch`."""

from __future__ import annotations

from dataclasses import replace

from server.craft.text.cursor import Cursor
from server.craft.text.left import GAP
from server.craft.text.nouns import LOOPS, noun
from server.craft.text.numbers import number
from server.craft.text.places import place
from server.craft.text.terms import alien
from server.craft.text.tree import Chain, Instruction, Noun, Place, Plain, Work
from server.craft.text.vocabulary import height_ch


def and_across(cursor: Cursor, items: list[Instruction], made: Instruction) -> None:
    """`sc in 2nd ch from hook and across`: the same stitch in each place after it."""
    if not (isinstance(made, Work) and cursor.is_word("and") and cursor.is_word("across", "around", ahead=1)):
        return
    if cursor.peek(2).kind != "punct":
        return
    start = cursor.at
    cursor.at += 2
    span = cursor.since(start)
    items.append(Work(made.stitch, made.times, Place("each", (Noun("st"),), span=span), span))


def and_in(cursor: Cursor, items: list[Instruction], made: Instruction) -> None:
    """`sc in same st and in each st around`: the same stitch in a further place."""
    while (
        isinstance(made, Work)
        and (cursor.is_word("and") or cursor.is_punct("&"))
        and (cursor.is_word("in", "each", "next", ahead=1) or _same_in_each(cursor, made))
    ):
        start = cursor.at
        cursor.take()
        while not cursor.is_word("in", "each", "next"):
            cursor.take()  # `1 hdc`
        cursor.word("in")
        more = place(cursor)
        if both := _each_of_both(made.place, more):
            made = Work(made.stitch, made.times, both, made.span.to(cursor.since(start)))
            items[-1] = made
            continue
        made = Work(made.stitch, made.times, more, cursor.since(start))
        items.append(made)


def _same_in_each(cursor: Cursor, made: Work) -> bool:
    """`hdc in each hdc and 1 hdc in each ch`: the same stitch once more, in each of another kind."""
    if made.times != Plain(1) or made.place is None or made.place.which != "each":
        return False
    ahead = 2 if cursor.peek(1).kind == "num" and cursor.peek(1).number == 1 else 1
    stitch = cursor.peek(ahead)
    return (
        stitch.kind == "stitch" and stitch.value == made.stitch
        and cursor.is_word("in", ahead=ahead + 1) and cursor.is_word("each", ahead=ahead + 2)
    )  # fmt: skip


def _each_of_both(one: Place | None, other: Place) -> Place | None:
    """`in each st and in each ch around`: each of both, in the order met; None where it is two places."""
    if one is None or one.which != "each" or other.which != "each" or one.until is not None:
        return None
    if one.step != 1 or other.step != 1 or set(one.nouns) & set(other.nouns):
        return None
    return replace(one, nouns=one.nouns + other.nouns, until=other.until, span=one.span.to(other.span))


def with_space(cursor: Cursor, items: list[Instruction], made: Instruction) -> None:
    """`sc in each sc around, working 6 sc in the ch-6 sp`: each up to the space, so many in it, the rest.

    `…, working 1 sc in each ch` is one in each of those too.
    """
    where = made.place if isinstance(made, Work) else None
    if (
        not isinstance(made, Work) or where is None or where.which != "each" or where.nouns[0].kind == "edge"
        or where.until is not None or where.before is not None or where.part is not None or where.step != 1
    ):  # fmt: skip
        return
    start = cursor.at
    if _including_chains(cursor):
        items[-1] = replace(made, place=replace(where, nouns=(*where.nouns, Noun("ch"))))
        return
    cursor.punct(",", ";")
    if not cursor.word("working", "work", "placing", "place", "making", "make", "with", "and", "but"):
        cursor.at = start
        return
    cursor.skip_words(("then", "also", "work", "working", "a"))
    many = number(cursor) or Plain(1)
    # `working into each ch`; `and in each ch` names one more of the places
    same = cursor.is_word("in") and many == Plain(1) and cursor.tokens[start : cursor.at][-1].value != "and"
    stitch = cursor.peek()
    if stitch.kind == "stitch":
        cursor.take()
        same = many == Plain(1) and stitch.value == made.stitch
        cursor.skip_words(("evenly", "spaced"))
    if not cursor.word("in", "over", "around", "across"):
        cursor.at = start
        return
    cursor.skip_words(("the", "thumb"))
    if same and cursor.words("each", "ch"):
        cursor.at = _past_the_space(cursor)
        cursor.word("around", "across")
        made = replace(made, place=replace(where, nouns=(*where.nouns, Noun("ch"))))
        items[-1] = made
        return
    space = Noun("sp") if cursor.word(*GAP, *LOOPS) else noun(cursor)
    if space is None or space.kind != "sp" or stitch.kind != "stitch":
        cursor.at = start
        return
    cursor.at = _past_the_space(cursor)
    alien(cursor, stitch)
    if not cursor.word("around", "across") and cursor.is_word("around", "across", ahead=1):
        cursor.at += 2 if cursor.is_punct(",") else 0
    span = cursor.since(start)
    inside = Work(stitch.value, many, Place("next", (space,), span=span), span)
    items[-1:] = [replace(made, place=replace(where, before=space)), inside, made]


def _including_chains(cursor: Cursor) -> bool:
    """`(including the chs)`, `, including each ch of the gap`: taken where that is all that is said."""
    back = cursor.at
    bracket = cursor.punct("(")
    if not bracket:
        cursor.punct(",")
    if cursor.word("including", "incl", "counting"):
        cursor.skip_words(("in", "each", "of", "all", "the", "new"))
        if cursor.peek().kind == "num" and cursor.is_word("ch", ahead=1):
            cursor.take()
        if cursor.word("ch"):
            cursor.at = _past_the_space(cursor)
            if not bracket or cursor.punct(")"):
                return True
    cursor.at = back
    return False


def _past_the_space(cursor: Cursor) -> int:
    """Where the words about a space end: `of the ch-6 sp`, `over the thumb gap`."""
    back = cursor.at
    if cursor.word("of", "over", "across", "in", "at"):
        cursor.skip_words(("the", "thumb"))
        if cursor.word(*GAP) or noun(cursor) is not None:
            return cursor.at
    return back


def from_on(cursor: Cursor, items: list[Instruction], made: Instruction) -> None:
    """`dc in each st across, starting in the 2nd st`: the first stitch is left to a chain that counts.

    Raises Unread where more is passed over, or something stands before it.
    """
    start = cursor.at
    cursor.punct(",")
    where = made.place if isinstance(made, Work) else None
    if (
        not isinstance(made, Work)
        or where is None
        or where.which != "each"
        or not (cursor.word("beg") and cursor.word("in", "with", "from"))
    ):
        cursor.at = start
        return
    first = place(cursor)
    head = [one for one in items if one is not made]
    chain = next((one for one in head if isinstance(one, Chain)), None)
    second = first.which == "kth" and first.ordinal == 2
    if not (second or first.which in ("next", "same", "first")) or any(isinstance(one, Work) for one in head):
        raise cursor.unread("`sk` before the stitch that it begins in", cursor.since(start))
    counts = chain is not None and _counts(chain, made)
    if chain is not None and chain.counts is None:
        cursor.context.counting[chain.span] = counts
    if counts and (second or first.which == "next"):
        return
    if second:
        raise cursor.unread("a beginning chain that counts, or `sk` before it", cursor.since(start))
    items.insert(len(items) - 1, replace(made, place=replace(where, which=first.which, until=None)))


def _counts(chain: Chain, first: Work) -> bool:
    """Whether a beginning chain counts before that stitch: as it says, else by its height."""
    if chain.counts is not None:
        return bool(chain.counts.stitches)
    many = chain.number.value if isinstance(chain.number, Plain) else 0
    return isinstance(first.stitch, str) and many > 1 and many >= height_ch(first.stitch) > 0
