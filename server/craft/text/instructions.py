"""Reads what is done in a round: chains, stitches, skips, joins; repeats are in `repeats`."""

from __future__ import annotations

from dataclasses import replace

from server.craft.text import row_ends
from server.craft.text.betweens import in_pairs
from server.craft.text.chains import chain, counts_as
from server.craft.text.cursor import FILLERS, Cursor
from server.craft.text.joins import join, join_place, to_ring
from server.craft.text.left import all_left
from server.craft.text.nouns import noun
from server.craft.text.numbers import number
from server.craft.text.picots import picot_of
from server.craft.text.places import loop_here, place
from server.craft.text.remarks import pass_remarks
from server.craft.text.terms import alien
from server.craft.text.tree import (
    Chain,
    FastenOff,
    FoundationStitches,
    Inline,
    Instruction,
    Join,
    Loop,
    NoJoin,
    Noun,
    Number,
    Place,
    Plain,
    Repeat,
    RingStart,
    Skip,
    Turn,
    Work,
)
from server.craft.text.vocabulary import BY_US, CLOSED, legs

FOUNDATION = "foundation of "
EXPECTED = "a stitch, `ch`, `sk`, a repeat or `join`"
IGNORED = (
    "then", "and", "now", "work", "make", "also", "next", "begin", "with", "working", "but", "only",
    "ending", "end", "a", "an", "the", "your", "evenly",
)  # fmt: skip


def instruction(cursor: Cursor) -> Instruction | None:
    """One instruction other than a repeat; None where only a remark stood. Unread where nothing reads."""
    start = cursor.at
    pass_remarks(cursor)
    if cursor.done or cursor.peek().kind == "punct":
        if cursor.at > start:
            return None
        raise cursor.unread(EXPECTED)
    if cursor.peek().kind in ("stitch", "group"):
        made = picot_of(cursor) or _worked(cursor)
    else:
        made = picot_of(cursor) or _chain_or_end(cursor) or _ring(cursor) or _worked(cursor)
    made = replace(made, span=cursor.since(start))
    return in_pairs(cursor, made) if isinstance(made, Work) else made


def _chain_or_end(cursor: Cursor) -> Instruction | None:
    """Chains, skips, joins, `turn`, `fasten off`."""
    if cursor.is_word("ch"):
        return chain(cursor)
    if cursor.peek().kind == "num" and cursor.is_word("ch", ahead=1) and not cursor.is_punct("-", ahead=2):
        many = cursor.take().number
        cursor.take()
        return Chain(Plain(many), counts_as(cursor))
    if cursor.peek().kind == "num" and cursor.is_punct("(", "[", ahead=1):
        back = cursor.at
        by_size = number(cursor)  # `40 [44, 48] ch`
        if by_size is not None and not isinstance(by_size, Plain) and cursor.word("ch"):
            return Chain(by_size, counts_as(cursor))
        cursor.at = back
    if cursor.word("sk"):
        return Skip(_skipped(cursor))
    if cursor.is_word("join", "attach"):
        return join(cursor)
    if cursor.word("turn"):
        return Turn()
    if cursor.is_word("dont"):
        cursor.take()
        if cursor.word("turn"):
            return NoJoin()
        cursor.word("join")
        cursor.skip_words(("or", "turn", "rnd", "rnds", "and"))
        return NoJoin()
    if cursor.words("no", "join") or cursor.words("without", "join"):
        return NoJoin()
    if cursor.word("fasten off") or cursor.words("fasten", "off"):
        _pass_finishing(cursor)
        return FastenOff()
    return None


def _pass_finishing(cursor: Cursor) -> None:
    """Passes what stands behind `fasten off`: `, weave in ends`, up to something that is worked."""
    cursor.at = cursor.clause_end(cursor.at)
    while cursor.is_punct(","):
        end = cursor.clause_end(cursor.at + 1)
        clause = cursor.tokens[cursor.at + 1 : end]
        if any(
            token.kind != "word" or token.value in ("ch", "sk", "join", "rep", "turn") for token in clause
        ):
            return
        cursor.at = end


def _ring(cursor: Cursor) -> Instruction | None:
    if cursor.word("magicring"):
        return RingStart()
    start = cursor.at
    if cursor.word("in"):
        cursor.skip_words(("a", "an", "the"))
        if cursor.word("magicring"):
            return RingStart()
        cursor.at = start
    many = number(cursor)
    word = cursor.peek()
    if word.kind == "word" and word.value.startswith(FOUNDATION):
        cursor.take()
        many = many or number(cursor)
        if many is None:
            raise cursor.unread("a number after it, such as `fsc 28`", word.span)
        return FoundationStitches(word.value.removeprefix(FOUNDATION), many)
    cursor.at = start
    return None


def _skipped(cursor: Cursor) -> Place:
    start = cursor.at
    cursor.skip_words(("over", "the"))
    many = number(cursor)
    if many is not None:
        cursor.at = start
        cursor.skip_words(("over", "the"))
        found = place(cursor)
        return replace(found, span=cursor.since(start))
    if cursor.done or cursor.is_punct(",", ";", "."):
        return Place("next", (Noun("st"),), span=cursor.since(start))
    found = place(cursor)
    if found.which == "plain":
        found = replace(found, which="next")
    return replace(found, span=cursor.since(start))


# --- stitches -----------------------------------------------------------------------------------------------


def _worked(cursor: Cursor) -> Instruction:
    """Stitches and where they go."""
    start = cursor.at
    if cursor.is_word("in", "working", "through") and (led := _place_first(cursor)):
        return led
    loop = loop_here(cursor)
    cursor.skip_words((*FILLERS, "work"))
    many = number(cursor)
    if cursor.is_word("inc", "dec", "invdec"):
        return _inc_dec(cursor, "", many)
    token = cursor.peek()
    if token.kind not in ("stitch", "group"):
        if many is None or token.kind != "word":
            cursor.at = start
        raise cursor.unread(EXPECTED, cursor.here())
    cursor.take()
    alien(cursor, token)
    if token.kind == "stitch":
        cursor.word("st")
    if token.value in CLOSED and cursor.is_word("of") and cursor.peek(2).kind == "stitch":
        cursor.at += 3  # `puff st of 3 hdc`: how it is made is the pattern's own affair
    if token.value == "sl st" and cursor.words("to", "join"):
        return join_place(cursor)
    if cursor.is_word("inc", "dec"):
        return _inc_dec(cursor, token.value, many)
    if token.value == "sl st" and cursor.is_word("to") and to_ring(cursor):
        return Join(None, to_ring=True)
    made = _into(cursor, token.value, many or Plain(1), stated_many=many is not None)
    if token.value == "sl st" and isinstance(made, Work):
        if cursor.words("to", "join"):
            return Join(made.place)
        if to_ring(cursor):
            return Join(made.place, to_ring=True)
    return _with_loop(made, loop)


def _with_loop(made: Instruction, loop: Loop | None) -> Instruction:
    if loop is not None and isinstance(made, Work):
        where = made.place or Place("plain", (Noun("st"),))
        return replace(made, place=replace(where, loop=loop))
    return made


def _place_first(cursor: Cursor) -> Instruction | None:
    """`in next st, work (dc, ch 1, dc)`; `working in back loops only, sc in each st around`."""
    back = cursor.at
    cursor.word("working")
    if loop := loop_here(cursor):
        cursor.punct(",", ":")
        if cursor.peek().kind in ("stitch", "num", "group"):
            return _with_loop(_worked(cursor), loop)
    cursor.at = back
    if cursor.word("in"):
        where = place(cursor)
        cursor.punct(",")
        if cursor.word("work", "make"):
            if cursor.is_punct("(", "["):
                inside = inline(cursor)
                return Work(inside, Plain(1), where)
            many = number(cursor) or Plain(1)
            token = cursor.peek()
            if token.kind in ("stitch", "group"):
                cursor.take()
                alien(cursor, token)
                return Work(token.value, many, where)
    cursor.at = back
    return None


def _inc_dec(cursor: Cursor, stitch: str, many: Number | None) -> Instruction:
    """`inc`, `hdc inc in next st`, `dec`, `inv dec`, `sc dec over next 2 sts`."""
    kind = cursor.take().value
    base = stitch or _stitch_nearby(cursor)
    if many is None and (cursor.is_word("x") or cursor.is_punct("x")) and cursor.peek(1).kind == "num":
        cursor.take()
        many = number(cursor)
    if many is None and cursor.peek().kind == "num":
        behind = cursor.is_word("times", "x", "st", ahead=1) or cursor.is_punct("x", "(", "[", ahead=1)
        many = None if behind else number(cursor)
    if kind in ("dec", "invdec"):
        made = _into(cursor, f"{base}2tog", Plain(1), stated_many=False)
    else:
        made = _into(cursor, base, Plain(2), stated_many=False)
        if isinstance(made, Work) and made.place is None:
            made = replace(made, place=Place("next", (Noun("st"),)))
    if isinstance(many, Plain) and many.value > 1:
        return Repeat((made,), times=many, style="bracket")
    return made


def _stitch_nearby(cursor: Cursor) -> str:
    """The stitch that a bare `inc` or `dec` is made of: the one last named in the round, else the next."""
    before = reversed(cursor.tokens[: cursor.at])
    for token in (*before, *cursor.tokens[cursor.at :]):
        if token.kind == "stitch" and token.value in BY_US and token.value != "sl st":
            return token.value
    return "sc"


def _into(cursor: Cursor, stitch: str, many: Number, *, stated_many: bool) -> Instruction:
    """What follows a stitch's name: `in next st`, `16`, `5 times in next st`, `over next 2 sts`."""
    start = cursor.at
    if cursor.word("evenly"):
        cursor.skip_words(("spaced",))
        if cursor.is_word("each") and "way" in (cursor.peek(1).value, cursor.peek(2).value):
            cursor.skip_words(("each", "the", "way"))  # `evenly all the way around`
        made = _into(cursor, stitch, many, stated_many=False)
        return _spread_evenly(made, many)
    if cursor.is_word(*row_ends.LEADS) and (ends := row_ends.row_ends(cursor)):
        return Work(stitch, many, replace(ends, evenly=ends.evenly and many != Plain(1)))
    if together := _closed_with_words(cursor, stitch, many):
        return together
    if cursor.is_word("once", "twice"):
        times = Plain(1 if cursor.take().value == "once" else 2)
        where = None if legs(stitch) > 1 or many == Plain(1) else Place("next", (Noun("st"),))
        if cursor.is_word("in", "around", "over"):
            return Work(stitch, times, _preposed(cursor, stitch))
        return Repeat((Work(stitch, many, where),), times=times, style="bracket")
    if (again := number(cursor)) is not None:
        if cursor.is_word("evenly") and many == Plain(1):
            return _into(cursor, stitch, again, stated_many=False)
        if cursor.is_word(*row_ends.LEADS) and many == Plain(1) and (ends := row_ends.row_ends(cursor)):
            return Work(stitch, again, replace(ends, evenly=True))
        if cursor.word("times", "x") or cursor.is_punct("x"):
            if cursor.is_word("in", "around", "over"):
                return Work(stitch, again, _preposed(cursor, stitch))
            where = None if many == Plain(1) else Place("next", (Noun("st"),))
            return Repeat((Work(stitch, many, where),), times=again, style="bracket")
        return Work(stitch, many, Place("next", (Noun("st"),), again, span=cursor.since(start)))
    if cursor.is_word("across", "around") and not _post_place(cursor):
        cursor.take()
        return _over_all(stitch, many, Place("each", (Noun("st"),), span=cursor.since(start)))
    if stitch != "sl st" and many == Plain(1) and (left := all_left(cursor)):
        return _over_all(stitch, many, left)
    if cursor.is_word("in", "over", "around", "to", "across", "through", "between") or loop_ahead(cursor):
        return Work(stitch, many, _preposed(cursor, stitch))
    if cursor.is_word("next", "each", "same", "first", "last"):
        return Work(stitch, many, place(cursor))
    if stated_many and many != Plain(1):
        # "2 sc" alone: one in each of the next two (designers differ; the stated count tells)
        return Work(stitch, Plain(1), Place("next", (Noun("st"),), many))
    return Work(stitch, many, None)


def _over_all(stitch: str, many: Number, each: Place) -> Instruction:
    """One in each of these; of a decrease as many as come out even."""
    if legs(stitch) == 1:
        return Work(stitch, many, each)
    left = None if each.until is None else replace(each, which="last", count=each.until, until=None)
    return Repeat((Work(stitch, many, None),), around=left is None, to_last=left, style="bracket")


def _spread_evenly(made: Instruction, many: Number) -> Instruction:
    """`20 sc evenly along the row ends`: so many over all of them."""
    if isinstance(made, Work) and made.place is not None and made.place.which == "each" and many != Plain(1):
        return replace(made, place=replace(made.place, evenly=True))
    return made


def _closed_with_words(cursor: Cursor, stitch: str, many: Number) -> Work | None:
    """`sc next 2 sts together`, `dc in next 3 sts tog`."""
    back = cursor.at
    cursor.word("in", "over")
    cursor.skip_words(("the",))
    if stitch in BY_US and cursor.word("next") and cursor.peek().kind == "num":
        how_many = cursor.take().number
        if noun(cursor) is not None and cursor.word("tog") and how_many in (2, 3, 4, 5):
            return Work(f"{stitch}{how_many}tog", many, None)
    cursor.at = back
    return None


def loop_ahead(cursor: Cursor) -> bool:
    """Whether a loop is named next: `sc BLO in next st`."""
    return cursor.is_word("blo", "flo", "thirdloop")


def _post_place(cursor: Cursor) -> bool:
    """Whether `around` is about a post (`around next dc`), not about the round."""
    after = cursor.peek(1)
    return after.kind in ("stitch", "group", "num", "ord") or cursor.is_word(
        "next", "the", "post", "posts", "each", "same", "st", "first", "last", "any", ahead=1
    )


def _preposed(cursor: Cursor, stitch: str) -> Place:
    start = cursor.at
    loop = loop_here(cursor)
    if loop and (cursor.done or not cursor.is_word("in", "over", "around", "each", "next")):
        cursor.at = start
        cursor.word("in")
        return place(cursor)
    post = False
    if cursor.is_word("around"):
        cursor.take()
        post = True
    else:
        cursor.word("in", "over", "to", "across", "through")
    cursor.skip_words(("across",))
    where = place(cursor)
    if post or stitch.startswith(("FP", "BP")):
        where = replace(where, post=True)
    return replace(where, loop=loop) if loop else where


def inline(cursor: Cursor) -> Inline:
    """`(dc, ch 1, 2 dc)`, from its opening bracket on."""
    start = cursor.at
    close = {"(": ")", "[": "]", "{": "}"}[cursor.take().value]
    items: list[Chain | Work] = []
    while not cursor.punct(close):
        if cursor.done:
            raise cursor.unread(f"“{close}” to close it", cursor.tokens[start].span)
        if cursor.punct(",", ";", "+", "&") or cursor.word("and", "then", "work"):
            continue
        item_at = cursor.at
        if cursor.is_word("ch"):
            made = chain(cursor)
            items.append(replace(made, span=cursor.since(item_at)))
            continue
        many = number(cursor) or Plain(1)
        token = cursor.peek()
        if cursor.word("ch"):
            items.append(Chain(many, None, cursor.since(item_at)))
            continue
        if token.kind not in ("stitch", "group"):
            raise cursor.unread("stitches and chains that go in one place, such as `(dc, ch 1, dc)`")
        cursor.take()
        alien(cursor, token)
        items.append(Work(token.value, many, None, cursor.since(item_at)))
    return Inline(tuple(items), cursor.since(start))
