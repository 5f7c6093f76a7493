"""Reads a round's count: `[6 (7, 8) V-sts, 12 dc]`, `(24 sc)`, `= 24 dc`, `— 24 dc`, `24 sts.`"""

from __future__ import annotations

from server.craft.text import rules
from server.craft.text.cursor import Context, Cursor
from server.craft.text.lexer import Token
from server.craft.text.nouns import noun
from server.craft.text.numbers import number, sized
from server.craft.text.terms import alien
from server.craft.text.tree import CountLine, Formula, Noun, Number, Plain, SizeList, Span, StatedCount

FILLERS = (
    "total",
    "made",
    "around",
    "in",
    "each",
    "altogether",
    "worked",
    "complete",
    "now",
    "you",
    "have",
    "the",
    "per",
    "rnd",
)
LEADS = (
    "you", "should", "will", "must", "now", "have", "total", "of", "for", "a", "there", "are", "st", "count",
    "with", "end", "the", "rnd", "at", "this", "makes", "making", "giving", "gives", "leaving", "i", "we",
    "should", "ought",
)  # fmt: skip
"""Words that lead up to a count: `You should have 24 sc`, `Total: 24 sts`."""

OPENS = {")": "(", "]": "[", "}": "{"}
AFTER_REPEAT = (
    "times",
    "around",
    "across",
    "x",
    "rep",
    "in",
    "twice",
    "once",
    "to",
    "until",
    "more",
    "all",
    "blo",
    "flo",
)


def split_count(tokens: list[Token], context: Context) -> tuple[list[Token], CountLine | None]:
    """A round's tokens without its count, and the count, if it has one."""
    end = len(tokens)
    while end and tokens[end - 1].kind == "punct" and tokens[end - 1].value in (".", ";", ",", "!"):
        end -= 1
    for attempt in (_bracketed, _after_sign, _last_sentence):
        found = attempt(tokens, end, context)
        if found is not None:
            return found
    return tokens, None


def _bracketed(
    tokens: list[Token], end: int, context: Context
) -> tuple[list[Token], CountLine | None] | None:
    """A count in brackets: at the end, or with no more than an ending behind it."""
    close = end - 1
    while close >= 0:
        token = tokens[close]
        if token.kind == "punct" and token.value in OPENS:
            opened = _opening(tokens, close)
            if opened is None:
                return None
            found = _bracket_at(tokens, opened, close, context)
            if found is not None:
                rest = tokens[:opened] + tokens[close + 1 :]
                if not tokens[close + 1 : end]:
                    rest = tokens[:opened]
                return rest, found
            if close == end - 1 and _names_groups(tokens[opened + 1 : close]):
                return tokens[:opened], None
            if close == end - 1 and token.value == "]" and _meant_as_count(tokens, opened, close):
                _unread_count(tokens[opened : close + 1], context)
                return tokens[:opened], None
            close = opened - 1
            continue
        close -= 1
    return None


def _only_numbers(inside: list[Token]) -> bool:
    return all(token.kind == "num" or token.value in (",", "-", "/") for token in inside)


def _names_groups(inside: list[Token]) -> bool:
    """`(13 groups)`: nothing that is counted."""
    if not 2 <= len(inside) <= 4 or inside[0].kind != "num":
        return False
    between = all(token.kind == "word" or token.value == "-" for token in inside[1:-1])
    return between and inside[-1].value in ("groups", "sets", "clumps", "clusters")


def _bracket_at(tokens: list[Token], opened: int, close: int, context: Context) -> CountLine | None:
    before = tokens[opened - 1] if opened else None
    after = tokens[close + 1] if close + 1 < len(tokens) else None
    if before is not None and before.kind in ("num", "N") and not _behind_times(tokens, opened, close):
        inner = tokens[opened + 1 : close]
        of_round = opened > 1 and tokens[opened - 2].value in ("rnd", "r") and not _only_numbers(inner)
        if (tokens[opened].value == "(" and not of_round) or all(
            token.kind == "num" or token.value == "," for token in inner
        ):
            return None
    if after is not None and (
        after.kind == "num" or (after.kind in ("word", "punct") and after.value in AFTER_REPEAT)
    ):
        return None
    inside = _without_lead(tokens[opened + 1 : close])
    if not inside or inside[0].kind not in ("num", "N", "punct"):
        return None
    plain_numbers = all(token.kind == "num" or token.value == "," for token in inside)
    if (
        after is not None
        and tokens[opened].value == "("
        and plain_numbers
        and not _line_ends(tokens[close], after, context)
    ):
        return None
    return _items(inside, tokens[opened].span.to(tokens[close].span), context)


def _without_lead(part: list[Token]) -> list[Token]:
    """The tokens of a count without the words that lead up to it."""
    at = 0
    while at < len(part) and (part[at].value in LEADS or (at and part[at].value in (":", "=", ","))):
        at += 1
    return part[at:] if at < len(part) and part[at].kind in ("num", "N") else part


def _behind_times(tokens: list[Token], opened: int, close: int) -> bool:
    """`*sc, inc* x 6 (18)`: one number in the bracket, far more than the times, is the round's count."""
    inside = tokens[opened + 1 : close]
    times = tokens[opened - 1]
    return (
        opened > 1
        and close + 1 == len(tokens)
        and tokens[opened - 2].value == "x"
        and len(inside) == 1
        and inside[0].kind == times.kind == "num"
        and inside[0].number >= 2 * times.number
    )


def _line_ends(close: Token, after: Token, context: Context) -> bool:
    """Whether the bracket is the last of its line, with more on the line below."""
    return context.source.line(close.span.start) < context.source.line(after.span.start)


def _meant_as_count(tokens: list[Token], opened: int, close: int) -> bool:
    inside = tokens[opened + 1 : close]
    return (
        bool(inside)
        and inside[0].kind in ("num", "N")
        and not any(token.value in ("in", "sk") for token in inside)
    )


def _unread_count(part: list[Token], context: Context) -> None:
    """A bracket at the end that is meant as a count and does not read: the words that do not."""
    bad = next(
        (
            token
            for token in part[1:-1]
            if token.kind == "word" and token.value not in (*FILLERS, "st", "ch", "sp", "and")
        ),
        part[1],
    )
    context.findings.append(rules.COUNT_UNREAD.at(context.source, bad.span, near=""))


def _opening(tokens: list[Token], close: int) -> int | None:
    depth = 0
    for at in range(close, -1, -1):
        token = tokens[at]
        if token.kind != "punct":
            continue
        if token.value in OPENS:
            depth += 1
        elif token.value in "([{" and token.value:
            depth -= 1
            if depth == 0:
                return at
    return None


def _after_sign(
    tokens: list[Token], end: int, context: Context
) -> tuple[list[Token], CountLine | None] | None:
    """`= 24 dc`, `— 24 dc`, `- 24 dc`, `: 24 dc` at the end."""
    for at in range(end - 1, -1, -1):
        token = tokens[at]
        if token.kind == "punct" and token.value in ("=", "--", "-") and tokens[at + 1 : at + 2]:
            if tokens[at + 1].kind not in ("num", "N") or (token.value == "-" and token.glued):
                continue
            if token.value == "-" and _ends_in_n(tokens[:at]):
                continue
            found = _items(tokens[at + 1 : end], tokens[at].span.to(tokens[end - 1].span), context)
            if found is not None:
                return tokens[:at], found
    return None


def _ends_in_n(tokens: list[Token]) -> bool:
    """Whether `N` or `N/3` stands at the end: a minus behind it is the number's, as in `N/3 - 1 sts`."""
    kinds = [token.kind for token in tokens[-3:]]
    return kinds[-1:] == ["N"] or (kinds == ["N", "punct", "num"] and tokens[-2].value == "/")


def _last_sentence(
    tokens: list[Token], end: int, context: Context
) -> tuple[list[Token], CountLine | None] | None:
    """`… join. 24 sts.`"""
    for at in range(end - 1, 0, -1):
        token = tokens[at]
        if token.kind == "punct" and token.value in (".", ";"):
            part = _without_lead(tokens[at + 1 : end])
            if part and part[0].kind in ("num", "N"):
                found = _items(part, part[0].span.to(part[-1].span), context)
                if found is not None and (
                    all(item.noun is not None for item in found.items) or _is_bare(part, tokens[:at])
                ):
                    return tokens[:at], found
            return None
    return None


def _is_bare(part: list[Token], before: list[Token]) -> bool:
    """`Sc in each st around. 22 (28)`: nothing but a number, behind a round of stitches."""
    numbers = all(token.kind == "num" or token.value in ("(", ")", "[", "]", ",") for token in part)
    return numbers and any(token.kind in ("stitch", "group") for token in before)


def _items(part: list[Token], span: Span, context: Context) -> CountLine | None:
    """The items of a count, or None where these tokens are something else."""
    before = len(context.findings)
    cursor = Cursor(part, context)
    items: list[StatedCount] = []
    cursor.punct("=")
    while not cursor.done:
        start = cursor.at
        many = Plain(1, span=cursor.here()) if items and cursor.word("one") else _number(cursor)
        if many is None:
            behind = cursor.is_punct("-", ahead=1) or cursor.peek(1).kind == "num"
            if not items or not cursor.is_word("ch", "sp") or not behind:
                break
            if cursor.is_word("ch") and cursor.peek(1).kind == "num" and not cursor.is_word("sp", ahead=2):
                cursor.take()  # `36 sc + ch 8`: the chains behind their word
                many = _number(cursor) or Plain(1)
                items.append(StatedCount(many, Noun("ch"), cursor.since(start)))
                _pass_signs(cursor)
                continue
            many = Plain(1, span=cursor.here())  # `24 hdc + ch-6 sp`
        if cursor.word("groups", "group", "sets"):
            many = _in_groups(cursor, many)
            if many is None:
                continue
        name_at = cursor.at
        name = noun(cursor)
        if name is not None and cursor.tokens[name_at].kind == "stitch":
            alien(cursor, cursor.tokens[name_at])
        items.append(StatedCount(many, name, cursor.since(start)))
        cursor.skip_words(FILLERS)
        _pass_signs(cursor)
    if not cursor.done or not items:
        del context.findings[before:]
        return None
    return CountLine(tuple(items), span)


def _pass_signs(cursor: Cursor) -> None:
    """Passes what stands between two counts."""
    while cursor.punct(",", ";", ".", "+", "&", "--") or cursor.word("and", "plus"):
        pass


def _in_groups(cursor: Cursor, many: Number) -> Number | None:
    """`24 groups of 3 dc` are 72 dc; `24 groups` alone names nothing that is counted."""
    if not cursor.word("of") or cursor.peek().kind != "num":
        while cursor.punct(",", ";", ".", "+", "&"):
            pass
        return None
    each = cursor.take().number
    if isinstance(many, Plain):
        return Plain(many.value * each, many.span)
    if isinstance(many, SizeList):
        return SizeList(tuple(one * each for one in many.values), many.absent, many.span)
    return Formula(many.slope * each, many.shift * each, many.span)


def _number(cursor: Cursor) -> Number | None:
    """A number; also sizes in order, `20, 22, 24 dc`."""
    start = cursor.at
    sizes = cursor.context.sizes
    if sizes > 1 and cursor.peek().kind == "num":
        values = [cursor.take()]
        while len(values) < sizes and cursor.is_punct(",", "/") and cursor.peek(1).kind == "num":
            cursor.take()
            values.append(cursor.take())
        if len(values) == sizes and not cursor.is_punct("("):
            return sized(cursor, tuple(token.number for token in values), cursor.since(start))
        cursor.at = start
    many = number(cursor)
    return many if not isinstance(many, Plain) or many.value >= 0 else None
