"""Reads places: `next 3 sts`, `same ch`, `top of beg ch`, `side of next dc`."""

from __future__ import annotations

from dataclasses import replace

from server.craft.text.betweens import between, other_side
from server.craft.text.chains import passed_count
from server.craft.text.cursor import FILLERS, Cursor
from server.craft.text.left import ends_here, pass_end_of_round, to_last, to_space
from server.craft.text.nouns import counted_space, noun, numbered_space
from server.craft.text.numbers import number
from server.craft.text.tree import Loop, Noun, Part, Place, Plain, Which

LOOPS: dict[str, Loop] = {"blo": "back", "flo": "front", "thirdloop": "third"}
LOOP_BEGINS = (*LOOPS, "in", "through", "working", "working in", "the")
NOUN_EXPECTED = "a stitch, a chain or a space, such as `next st`, `same ch`, `next ch-1 sp`"
BELOW = ("prev", "below")
WHICH: dict[str, Which] = {
    "first": "first", "last": "last", "any": "any", "next": "next", "skipped": "skipped",
}  # fmt: skip


def loop_here(cursor: Cursor) -> Loop | None:
    """`BLO`, `in back loop of`, `through back loop`: the loop, if one is named here."""
    if not (cursor.is_word(*LOOP_BEGINS) or cursor.is_punct("(")):
        return None
    back = cursor.at
    bracket = cursor.punct("(")
    cursor.word("in", "through", "working", "working in")
    cursor.word("in", "through")
    cursor.skip_words(("the",))
    if cursor.is_word(*LOOPS):
        loop = LOOPS[cursor.take().value]
        cursor.word("only")
        cursor.word("of")
        if bracket:
            cursor.punct(")")
        return loop
    cursor.at = back
    return None


def place(cursor: Cursor) -> Place:
    """A place, after its `in`. Raises Unread where none stands here."""
    start = cursor.at
    loop = loop_here(cursor)
    if loop and not _noun_ahead(cursor):
        where = _around(cursor, Place("plain", (Noun("st"),)))
    else:
        cursor.skip_words((*FILLERS, "that"))
        where = _edge_or_part(cursor)
    if tail := _loop_behind(cursor):
        loop = tail
    if where.nouns == (Noun("row"),) and where.edge is None:
        where = replace(where, edge="side")
    return replace(where, loop=loop, span=cursor.since(start))


def _loop_behind(cursor: Cursor) -> Loop | None:
    """`… in each st around, in BLO`: a loop named after the place."""
    if cursor.is_word(*LOOPS) or (cursor.is_word("in", "through") and cursor.is_word(*LOOPS, ahead=1)):
        return loop_here(cursor)
    if cursor.is_word("in") and cursor.is_word("the", ahead=1) and cursor.is_word(*LOOPS, ahead=2):
        return loop_here(cursor)
    if cursor.is_punct("(") and cursor.is_word(*LOOPS, ahead=1) and cursor.is_punct(")", ahead=2):
        return loop_here(cursor)
    return None


def _noun_ahead(cursor: Cursor) -> bool:
    token = cursor.peek()
    if token.kind in ("stitch", "group", "num", "ord", "N"):
        return True
    return cursor.is_word(
        "next", "same", "each", "first", "last", "any", "st", "ch", "sp", "ring", "foundation", "beg", "the",
        "of", "place",
        "skipped", "rem", "both", "tch", "a", "center", "top", "side", "underside", "between", "other",
        "opposite", "free", "unused",
    )  # fmt: skip


def _edge_or_part(cursor: Cursor) -> Place:
    if lies := between(cursor):
        return _around(cursor, lies)
    if other_side(cursor):
        return _around(cursor, Place("plain", (Noun("foundation ch"),)))
    if cursor.is_word("side", "sides") or (cursor.is_word("end", "ends") and cursor.is_word("of", ahead=1)):
        cursor.take()
        cursor.skip_words(FILLERS)
        return replace(_edge_or_part(cursor), edge="side")
    if cursor.is_word("underside", "undersides"):
        cursor.take()
        cursor.skip_words(FILLERS)
        return replace(_edge_or_part(cursor), edge="underside")
    if cursor.is_word("post", "posts"):
        cursor.take()
        cursor.skip_words(FILLERS)
        return replace(_edge_or_part(cursor), post=True)
    if cursor.is_word("top", "tops"):
        cursor.take()
        cursor.skip_words(FILLERS)
        if begins := _counted_chain(cursor):
            return replace(begins, part=Part("top"))
        inner = _edge_or_part(cursor)
        if inner.which == "plain" and inner.nouns == (Noun("ch"),) and cursor.peek().kind == "num":
            # `top of ch 3`: a loop that is there, though it is written like one to make
            inner = replace(inner, nouns=(Noun("sp", length=cursor.take().number, loop_form=True),))
        return _top_of(inner)
    if cursor.is_word("center"):
        return _center(cursor)
    return _of_something(cursor, _plain_place(cursor))


def _counted_chain(cursor: Cursor) -> Place | None:
    """`3rd of 4 ch`, `top of 3 ch`: the beginning chain, as British patterns name it."""
    back = cursor.at
    cursor.skip_words(("the", "beg", "first", "turn"))
    if cursor.peek().kind == "num" and cursor.is_word("ch", ahead=1):
        length = cursor.take().number
        cursor.take()
        return Place("beg", (Noun("beg ch", length=length),))
    cursor.at = back
    return None


def _top_of(inner: Place) -> Place:
    """`top of ch-3`, `top of beg ch`, `top of next dc`: a chain named so is the beginning chain."""
    noun = inner.nouns[0] if inner.nouns else None
    if noun and (
        noun.kind == "beg ch" or (noun.kind == "sp" and noun.loop_form and inner.which in ("plain", "beg"))
    ):
        return replace(inner, which="beg", nouns=(Noun("beg ch", length=noun.length),), part=Part("top"))
    if noun and noun.kind == "ch" and inner.which == "plain":
        return replace(inner, which="beg", nouns=(Noun("beg ch"),), part=Part("top"))
    return inner


def _center(cursor: Cursor) -> Place:
    cursor.take()
    inner = noun(cursor)
    cursor.skip_words(("of", "the"))
    if inner is not None and (cursor.done or not _noun_ahead(cursor)):
        # `center ring` and the like: there is only one such place
        return Place("plain", (inner,))
    whole = _plain_place(cursor)
    return replace(whole, part=Part("center", noun=inner))


def _of_something(cursor: Cursor, where: Place) -> Place:
    """`3rd ch of next ch-5`, `first dc of next shell`; `of previous rnd` says nothing new."""
    back = cursor.at
    if not cursor.word("of", "on", "from", "in"):
        _pass_below(cursor)
        return where
    if cursor.peek(-1).value in ("in", "on", "from") and where.which not in ("kth", "first", "last", "plain"):
        cursor.at = back
        _pass_below(cursor)
        return where
    cursor.skip_words(("the",))
    if cursor.is_word(*BELOW, "rnd", "this", "work", "row") or cursor.is_word("hook"):
        cursor.at = back
        _pass_below(cursor)
        return where
    if not _noun_ahead(cursor):
        cursor.at = back
        return where
    whole = _counted_chain(cursor) or _edge_or_part(cursor)
    inner = where.nouns[0] if where.nouns else None
    if where.which == "kth":
        part = Part("kth", where.ordinal, inner)
    elif where.which in ("first", "plain", "next"):
        part = Part("kth", 1, inner)
    elif where.which == "last":
        part = Part("last", 0, inner)
    else:
        raise cursor.unread("`of` after a first, 2nd, center or last stitch only", cursor.since(back))
    return replace(whole, part=part)


def _pass_below(cursor: Cursor) -> None:
    """Passes `of previous rnd`, `of rnd below`, `from rnd 2`: every place is in the round below."""
    back = cursor.at
    if not cursor.word("of", "from", "in", "on"):
        if cursor.is_word("below"):
            cursor.take()
        return
    cursor.skip_words(("the",))
    if cursor.word("prev"):
        cursor.word("rnd")
        cursor.word("below")
        return
    if cursor.word("rnd"):
        if cursor.peek().kind == "num":
            cursor.take()
        cursor.word("below")
        return
    cursor.at = back


def _plain_place(cursor: Cursor) -> Place:
    if cursor.peek().kind == "ord":
        return _ordinal(cursor)
    if cursor.is_word("first", "last", "any", "skipped", "same", "next", "each", "rem", "both"):
        return _which(cursor)
    if cursor.words("rest", "of"):
        return _each(cursor)
    if (space := numbered_space(cursor)) is not None:
        return _around(cursor, Place("plain", (space,)))
    count = number(cursor)
    cursor.skip_words(("rem",))
    skipped = cursor.word("skipped", "sk", "unworked")
    name = noun(cursor)
    if name is None:
        if count is not None:
            return _around(cursor, Place("next", (Noun("st"),), count, skipped=skipped))
        raise cursor.unread(NOUN_EXPECTED)
    if count is not None and skipped:
        return Place("skipped", (name,), count)
    if count is not None:
        return _around(cursor, Place("next", (name,), count))
    if name.kind == "beg ch":
        return Place("beg", (name,))
    return _around(cursor, Place("plain", (name,), skipped=skipped))


def _nth(cursor: Cursor) -> int:
    """The number of a `2nd`; there is none before the first."""
    token = cursor.take()
    if token.number < 1:
        raise cursor.unread("places counted from the 1st on", token.span)
    return token.number


def _ordinal(cursor: Cursor) -> Place:
    start = cursor.at
    ordinal = _nth(cursor)
    skipped = cursor.word("skipped")
    name = noun(cursor)
    if name is None and cursor.is_word("of") and _chain_of(cursor, 1):
        name = Noun("ch")
    if name is None:
        raise cursor.unread(NOUN_EXPECTED, cursor.since(start))
    if any(cursor.words("from", *whose, "hook") for whose in ((), ("the",), ("your",))):
        if name.kind not in ("ch", "st"):
            raise cursor.unread("`ch` before `from hook`", cursor.since(start))
        return Place("from hook", (Noun("ch"),), ordinal=ordinal, passed=passed_count(cursor))
    if ordinal == 1:
        return Place("first", (name,), skipped=skipped)
    return Place("kth", (name,), ordinal=ordinal, skipped=skipped)


def _chain_of(cursor: Cursor, ahead: int) -> bool:
    """Whether `ch-4`, `4 ch`, `the beg ch` stands ahead: what a bare `3rd of` is about."""
    while cursor.is_word("the", "beg", "first", ahead=ahead):
        ahead += 1
    if cursor.peek(ahead).kind == "num":
        ahead += 1
    return cursor.is_word("ch", "tch", ahead=ahead)


def _which(cursor: Cursor) -> Place:
    word = cursor.take().value
    if word == "same":
        return _same(cursor)
    if word == "each":
        return _each(cursor)
    if word == "rem":
        cursor.at -= 1
        return _each(cursor)
    if word == "both":
        return Place("next", (noun(cursor) or Noun("st"),), Plain(2))
    if word in WHICH and other_side(cursor):
        return _around(cursor, Place(WHICH[word], (Noun("foundation ch"),)))
    cursor.skip_words(("the", "available", "free", "unworked") if word != "skipped" else ())
    count = None if (space := numbered_space(cursor)) is not None else number(cursor)
    cursor.skip_words(("rem", "unworked"))
    skipped = word == "skipped" or cursor.word("skipped", "sk")
    name = space or noun(cursor)
    if name is None:
        if count is None and word == "next" and (cursor.done or cursor.peek().kind == "punct"):
            name = Noun("st")
        elif count is None:
            raise cursor.unread(NOUN_EXPECTED)
        else:
            name = Noun("st")
    which = WHICH[word]
    nouns = _and_nouns(cursor, name)
    if word == "next":
        return _around(cursor, Place("next", nouns, count, skipped=skipped))
    return Place(which, nouns, count, skipped=skipped)


def _same(cursor: Cursor) -> Place:
    name = Noun("sp") if cursor.word("gap") else noun(cursor)
    beginning = False
    if cursor.word("as"):
        words = [cursor.peek(ahead).value for ahead in range(3)]
        beginning = any(word in ("beg", "first", "join", "1") for word in words) and "last" not in words
        cursor.skip_words(("the", "last", "join", "beg", "ch", "first", "prev", "sl", "st", "yarn", "before"))
        while (
            cursor.peek().kind in ("stitch", "num", "ord")
            or (cursor.is_punct("-") and cursor.peek(1).kind == "num")
            or (cursor.is_word("ch") and cursor.peek(-1).kind == "num")  # `as beg 3 ch`
        ):
            cursor.take()
    elif cursor.is_word("at") and cursor.is_word("base", ahead=1):
        cursor.at += 2
        cursor.skip_words(("of", "the"))
        beginning = (base := noun(cursor)) is not None and base.kind == "beg ch"
    return Place("same", (name or Noun("st"),), at_beginning=beginning)


def _each(cursor: Cursor) -> Place:
    cursor.skip_words(("of", "the", "rem"))
    step = 1
    if cursor.word("other"):
        step = 2
    elif cursor.peek().kind == "ord":
        step = _nth(cursor)
        cursor.skip_words(("of", "the"))
    if (space := counted_space(cursor)) is not None:
        return _around(cursor, Place("each", _and_nouns(cursor, space), step=step))
    nested = cursor.word("next", "rem", "last", "first")
    end = cursor.peek(-1).value if nested else ""
    count = number(cursor)
    cursor.skip_words(("rem", "unworked"))
    skipped = cursor.word("skipped", "sk")
    name = noun(cursor) or (Noun("st") if count is not None and ends_here(cursor) else None)
    if name is None:
        raise cursor.unread(NOUN_EXPECTED)
    nouns = _and_nouns(cursor, name)
    if count is not None and skipped and not nested:
        return Place("skipped", nouns, count)
    if end in ("last", "first"):
        return Place(WHICH[end], nouns, count, skipped=skipped, step=step)
    if count is not None or (nested and step == 1 and cursor.peek(-2).value == "next"):
        return _around(cursor, Place("next", nouns, count, skipped=skipped, step=step))
    return _around(cursor, Place("each", nouns, skipped=skipped, step=step))


def _and_nouns(cursor: Cursor, first: Noun) -> tuple[Noun, ...]:
    """`each st and ch-1 sp`: the further names."""
    names = [first]
    while cursor.is_word("and") or cursor.is_punct("&"):
        back = cursor.at
        cursor.take()
        if not _of_so_many_ch(cursor):
            cursor.skip_words(("each", "the"))
        more = counted_space(cursor) or noun(cursor)
        if more is None or more.kind == "ring":
            cursor.at = back
            break
        names.append(more)
    return tuple(names)


def _of_so_many_ch(cursor: Cursor) -> bool:
    """Passes `each of the 6` before `ch` in `each sc and each of the 6 ch`: all that there are."""
    back = cursor.at
    cursor.skip_words(("each", "in"))
    if cursor.word("of"):
        cursor.skip_words(("the",))
        if cursor.peek().kind == "num" and cursor.is_word("ch", ahead=1):
            cursor.take()
            return True
    cursor.at = back
    return False


def _around(cursor: Cursor, where: Place) -> Place:
    """`around`, `across`, `to end of rnd`, `to last 2 sts` behind a place."""
    _pass_below(cursor)
    if where.nouns and where.nouns[0].kind in ("ch", "st") and other_side(cursor):
        which = "each" if where.which == "plain" else where.which
        where = replace(where, which=which, nouns=(Noun("foundation ch"),))
    if where.which == "each" and (space := to_space(cursor)):
        return replace(where, before=space)
    back = cursor.at
    if cursor.word("around", "across", "round"):
        pass_end_of_round(cursor)
        if where.which == "next" and where.count is not None:
            return where
        where = replace(where, which="each")
        if until := to_last(cursor):
            where = replace(where, until=until.count or Plain(1))
        return where
    cursor.word("along", "all")
    if cursor.word("to", "until", "til", "till"):
        cursor.skip_words(("the",))
        if cursor.word("end"):
            pass_end_of_round(cursor)
            return replace(where, which="each")
        cursor.at = back
        if until := to_last(cursor):
            return replace(where, which="each", until=until.count or Plain(1))
    cursor.at = back
    return where
