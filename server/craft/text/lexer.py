"""Tokens of a pattern's text: spellings folded to one, each with its place in the source."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Literal, NamedTuple

from server.craft.text.raw_tokens import WORD, Raw, raw_tokens
from server.craft.text.tree import Span, SpecialStitch, Terms
from server.craft.text.vocabulary import BY_US, CLOSED, alien_spellings, plurals_read, spellings

TokenKind = Literal["num", "ord", "stitch", "group", "word", "punct", "N"]


class Token(NamedTuple):
    """A word, number or sign. `value` is folded to one spelling; stitches by their US names."""

    kind: TokenKind
    value: str
    span: Span
    glued: bool = False  # no space before it

    @property
    def number(self) -> int:
        """The value of a "num" or "ord"."""
        return int(self.value) if len(self.value) <= 9 else 10**9


# Where one word stands for another. Longer phrases win over shorter ones.
PHRASES: dict[str, str] = {
    "chain": "ch", "chains": "ch", "chs": "ch", "chn": "ch",
    "skip": "sk", "miss": "sk", "skipping": "sk", "missing": "sk", "skips": "sk",
    "stitch": "st", "stitches": "st", "sts": "st", "place": "place", "places": "place",
    "space": "sp", "spaces": "sp", "sps": "sp", "loop space": "sp", "arch": "sp", "arches": "sp",
    "repeat": "rep", "reps": "rep", "repeats": "rep", "repeating": "rep", "reping": "rep",
    "beginning": "beg", "begin": "beg", "starting": "beg", "start": "beg", "initial": "beg",
    "round": "rnd", "rounds": "rnd", "rnds": "rnd", "rd": "rnd", "rds": "rnd", "row": "rnd", "rows": "rnd",
    "missed": "skipped", "following": "next", "foll": "next", "nxt": "next",
    "remaining": "rem", "remain": "rem",
    "continue": "cont", "continuing": "cont",
    "together": "tog", "every": "each", "all": "each", "ea": "each",
    "into": "in", "join": "join", "joining": "join", "joined": "join",
    "turning chain": "tch", "turning ch": "tch", "t-ch": "tch", "turn ch": "tch",
    "centre": "center", "middle": "center", "previous": "prev", "previous rnd": "prev",
    "magic ring": "magicring", "magic circle": "magicring", "magic loop": "magicring", "mr": "magicring",
    "adjustable ring": "magicring", "adjustable loop": "magicring", "sliding loop": "magicring",
    "back loop only": "blo", "back loops only": "blo", "back loop": "blo", "back loops": "blo", "tbl": "blo",
    "blo": "blo", "bl": "blo", "backloop": "blo", "back loop(s)": "blo",
    "front loop only": "flo", "front loops only": "flo", "front loop": "flo", "front loops": "flo",
    "tfl": "flo",
    "flo": "flo", "fl": "flo", "frontloop": "flo",
    "3rd loop only": "thirdloop", "third loop only": "thirdloop",
    "3rd loop": "thirdloop", "third loop": "thirdloop",
    "increase": "inc", "increases": "inc", "decrease": "dec", "decreases": "dec",
    "invisible decrease": "invdec", "invisible dec": "invdec", "inv dec": "invdec", "invdec": "invdec",
    "don't": "dont", "do not": "dont",
    "finish off": "fasten off", "fasten off": "fasten off", "cut yarn": "fasten off", "tie off": "fasten off",
    "betw": "between", "btwn": "between", "btw": "between", "bet": "between", "in between": "between",
    "once": "once", "twice": "twice", "one": "one", "the": "the", "a": "a", "an": "a",
    "two": "2w", "three": "3w", "four": "4w", "five": "5w", "six": "6w", "seven": "7w", "eight": "8w",
    "nine": "9w", "ten": "10w", "eleven": "11w", "twelve": "12w",
}  # fmt: skip
NUMBER_WORDS = {f"{number}w": number for number in range(2, 13)}
SLIPS = ("sl st", "sl. st", "sl-st", "slst", "ss", "slip stitch", "slip st", "slip", "sl sts", "sl.st", "sl")
CLOSED_SPELLINGS = {
    "cluster": "cluster", "cl": "cluster", "clusters": "cluster", "cls": "cluster",
    "puff": "puff", "puffs": "puff", "puff st": "puff", "puff sts": "puff", "puff stitch": "puff",
    "puff stitches": "puff",
    "popcorn": "popcorn", "popcorns": "popcorn", "pc": "popcorn", "pcs": "popcorn", "popcorn st": "popcorn",
    "popcorn stitch": "popcorn", "popcorn stitches": "popcorn",
    "bobble": "bobble", "bobbles": "bobble", "bobble st": "bobble", "bobble stitch": "bobble",
    "picot": "picot", "picots": "picot",
}  # fmt: skip
ORDINAL_WORDS = {
    "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8, "ninth": 9,
    "tenth": 10,
}  # fmt: skip
LEADING_ON = (
    "in",
    "into",
    "of",
    "around",
    "across",
    "from",
    "over",
    "st",
    "sp",
    "sps",
    "times",
    "more",
    "and",
)


SHORTENED = ("ch", "st", "sts", "sp", "sps", "sc", "dc", "hdc", "htr", "tr", "dtr")
"""Words that a stop may shorten: `1 tr. to end`."""

Meaning = tuple[TokenKind, str]


class Lexicon:
    """The phrases of one pattern: the standing ones, its terms' stitches, its own special stitches."""

    def __init__(self, terms: Terms, special: Sequence[SpecialStitch]) -> None:
        self.terms = terms
        self.alien = alien_spellings(terms)
        self.groups = {one.name: one for one in special}
        self._table = dict(_standing(terms))
        for one in special:
            kind: TokenKind = "stitch" if one.one_stitch or one.name in CLOSED else "group"
            for form in plurals_read(one.name):
                self._table[_fold(form)] = (kind, one.name)
        self._longest = dict(_standing_longest(terms))
        _note_longest(self._longest, (_fold(form) for one in special for form in plurals_read(one.name)))

    def phrase(self, words: Sequence[str]) -> Meaning | None:
        """What these words together stand for, if anything."""
        return self._table.get(" ".join(words))

    def longest(self, first: str) -> int:
        """The most raw tokens that a phrase with this first one has; 0 where there is none."""
        return self._longest.get(first, 0)


def _note_longest(longest: dict[str, int], phrases: Iterable[str]) -> None:
    """Notes by its first raw token how many a phrase has."""
    for phrase in phrases:
        first = phrase.split(" ", 1)[0]
        longest[first] = max(longest.get(first, 0), phrase.count(" ") + 1)


@lru_cache(maxsize=2)
def _standing_longest(terms: Terms) -> Mapping[str, int]:
    """The most raw tokens that a standing phrase with this first one has."""
    longest: dict[str, int] = {}
    _note_longest(longest, _standing(terms))
    return longest


@lru_cache(maxsize=2)
def _standing(terms: Terms) -> Mapping[str, Meaning]:
    """The phrases of every pattern in these terms."""
    table: dict[str, Meaning] = {}
    for written, folded in PHRASES.items():
        table[_fold(written)] = ("word", folded)
    for written, us in {**alien_spellings(terms), **spellings(terms)}.items():
        table.update(_forms(written, us, terms))
    for slip in SLIPS:
        table[_fold(slip)] = ("stitch", "sl st")
    for written, closed in CLOSED_SPELLINGS.items():
        table[written] = ("stitch", closed)
    return table


def _forms(written: str, us: str, terms: Terms) -> Iterator[tuple[str, Meaning]]:
    """All forms of a stitch's name: plural, as a foundation, around a post."""
    for form in (written, written + "s"):
        yield form, ("stitch", us)
    for form in (f"f{written}", f"foundation {written}", f"foundation {written}s"):
        yield form, ("word", f"foundation of {us}")
    for post, long in (("FP", "front"), ("BP", "back")):
        short = post.lower()
        for form in (
            f"{short}{written}", f"{short} {written}", f"{long} post {written}", f"{long} post {written}s",
        ):  # fmt: skip
            yield form, ("stitch", f"{post}{us}")
        if terms == "UK":
            for form in (f"r{written}{long[0]}", f"raised {written} {long}"):
                yield form, ("stitch", f"{post}{us}")


def _fold(form: str) -> str:
    return " ".join(match.group(0).lower().replace("’", "'") for match in WORD.finditer(form))


def tokens(text: str, span: Span, lexicon: Lexicon) -> list[Token]:
    """The tokens of text[span.start:span.end].

    Spellings are folded: "slip stitch" and "ss" are the stitch "sl st", "Chain" is the word "ch". A name that
    only the other terms have is read as what it means there, so that it is one finding and not many.
    """
    raws = raw_tokens(text, span.start, span.end)
    found: list[Token] = []
    at = 0
    while at < len(raws):
        taken, token = (
            _phrase_at(raws, at, lexicon) or _together_at(raws, at, lexicon) or (1, _single(raws[at]))
        )
        found.append(token)
        at += taken
        if _abbreviation_stop(raws, at):
            at += 1
    if text.find("round", span.start, span.end) >= 0:
        found = [_preposition(found, at, text) if one.value == "rnd" else one for at, one in enumerate(found)]
    return _with_legs(found, lexicon)


def _preposition(found: list[Token], at: int, text: str) -> Token:
    """`dc in each st round`, `rep from * round`, `evenly round the opening`: British for `around`."""
    token = found[at]
    if not at or text[token.span.start : token.span.end] != "round":
        return token
    before, after = found[at - 1], found[at + 1] if at + 1 < len(found) else None
    ends = after is None or (after.kind == "punct" and after.value not in ("#", ":"))
    over = before.kind in ("stitch", "group") or before.value in ("st", "sp", "ch", "*", "**", ")", "]", "}")
    leads = after is not None and (
        after.value in ("next", "each", "the", "post", "same", "first", "last", "st", "both", "to")
        or after.kind in ("stitch", "group")
    )
    if (over and (ends or leads)) or (before.value in ("evenly", "way", "even", "work") and (ends or leads)):
        return token._replace(value="around")
    return token


def _with_legs(found: list[Token], lexicon: Lexicon) -> list[Token]:
    """`3-dc cluster`, `3dc-cl`, `2-dc bobble`, `5-dc shell`: one name, where it is what the name means."""
    merged: list[Token] = []
    at = 0
    while at < len(found):
        taken = _legs_at(found, at, lexicon) if found[at].kind in ("num", "stitch") else 0
        if taken:
            last = found[at + taken - 1]
            span = found[at].span.to(last.span)
            merged.append(Token(last.kind, last.value, span, found[at].glued))
        else:
            merged.append(found[at])
        at += taken or 1
    return merged


def _legs_at(found: list[Token], at: int, lexicon: Lexicon) -> int:
    """How many tokens a name with its legs has here; 0 where there is none."""
    end, many = at, 0
    if found[end].kind == "num" and end + 1 < len(found):
        many, end = found[end].number, end + 1
        if found[end].value == "-":
            end += 1
    hyphen = end > at + 1
    if end + 1 >= len(found) or found[end].kind != "stitch" or found[end].value not in BY_US:
        return 0
    legs, end = found[end].value, end + 1
    if found[end].value == "-" and found[end].glued:
        hyphen, end = True, end + 1
    if end >= len(found):
        return 0
    name = found[end]
    if name.kind == "stitch" and name.value in CLOSED:
        return end - at + 1
    special = lexicon.groups.get(name.value) if name.kind == "group" else None
    is_meant = special is not None and hyphen and special.items == (legs,) * many
    return end - at + 1 if is_meant else 0


def _abbreviation_stop(raws: list[Raw], at: int) -> bool:
    """Whether the full stop here ends an abbreviation (`sl. st. in first sc`), not a sentence."""
    if len(raws) < at + 2 or raws[at].text != "." or not raws[at].glued or raws[at + 1].glued:
        return False
    after, before = raws[at + 1].text, raws[at - 1].text.lower()
    if after == "to" and before in SHORTENED:
        return True
    if before == "ch" and after == "(":
        return len(raws) > at + 2 and raws[at + 2].low in ("to", "count", "counts", "counting", "does", "not")
    return after in LEADING_ON or (before in ("rnd", "rnds", "rd", "rds") and raws[at + 1].kind == "num")


def _phrase_at(raws: list[Raw], at: int, lexicon: Lexicon) -> tuple[int, Token] | None:
    if raws[at].kind == "punct" or (raws[at].kind == "word" and raws[at].text == "N"):
        return None
    lows = [raw.low for raw in raws[at : at + lexicon.longest(raws[at].low)]]
    for length in range(len(lows), 0, -1):
        part = raws[at : at + length]
        if part[-1].kind == "punct":
            continue
        hit = lexicon.phrase(lows[:length])
        if hit is None or (length == 1 and part[0].kind in ("num", "ord")):
            continue
        # "sc2tog", "dc 3 together" are decreases, not a stitch and a number
        if hit[0] == "stitch" and length == 1 and _together_at(raws, at, lexicon):
            return None
        if hit[0] == "stitch" and hit[1] in BY_US and _closed_together(raws, at + length):
            return length + 2, _together(hit[1], raws[at + length].text, raws[at], raws[at + length + 1])
        span = Span(part[0].start, part[-1].end)
        if hit[1] in NUMBER_WORDS:
            return length, Token("num", str(NUMBER_WORDS[hit[1]]), span, part[0].glued)
        return length, Token(hit[0], hit[1], span, part[0].glued)
    return None


def _closed_together(raws: list[Raw], at: int) -> bool:
    """Whether `2 together` stands here."""
    return len(raws) > at + 1 and raws[at].kind == "num" and raws[at + 1].text.lower() in ("tog", "together")


def _together_at(raws: list[Raw], at: int, lexicon: Lexicon) -> tuple[int, Token] | None:
    """`sc2tog`, `sc 2 tog`, `dc 3 together`, `2sctog`."""
    if raws[at].kind != "num" and (at + 1 >= len(raws) or raws[at + 1].kind != "num"):
        return None
    texts = [raw.text.lower() for raw in raws[at : at + 4]]
    if len(texts) >= 3 and raws[at].kind == "word" and raws[at + 1].kind == "num":
        base = lexicon.phrase(texts[:1])
        if base and base[0] == "stitch" and base[1] in BY_US and texts[2] in ("tog", "together"):
            return 3, _together(base[1], raws[at + 1].text, raws[at], raws[at + 2])
    if (
        len(texts) >= 2
        and raws[at].kind == "num"
        and texts[1].endswith("tog")
        and raws[at + 1].kind == "word"
    ):
        base = lexicon.phrase([texts[1][:-3]])
        if base and base[0] == "stitch" and base[1] in BY_US:
            return 2, _together(base[1], raws[at].text, raws[at], raws[at + 1])
    return None


def _together(us: str, count: str, first: Raw, last: Raw) -> Token:
    return Token("stitch", f"{us}{int(count[:4])}tog", Span(first.start, last.end), first.glued)


def _single(raw: Raw) -> Token:
    span = Span(raw.start, raw.end)
    if raw.kind == "ord":
        return Token("ord", re.sub(r"\D", "", raw.text), span, raw.glued)
    if raw.kind == "num":
        return Token("num", raw.text, span, raw.glued)
    if raw.kind == "punct":
        return Token("punct", raw.text, span, raw.glued)
    if raw.text == "N":
        return Token("N", "N", span, raw.glued)
    if raw.low in ORDINAL_WORDS:
        return Token("ord", str(ORDINAL_WORDS[raw.low]), span, raw.glued)
    return Token("word", raw.low, span, raw.glued)


MOST_DEEP = 12
"""How deep brackets may stand in one another: a pattern has two, and who reads it no more than a few."""


def too_deep(found: Sequence[Token]) -> Span | None:
    """The bracket that opens inside of more than `MOST_DEEP` others; None where none does."""
    depth = 0
    for token in found:
        if token.kind == "punct" and token.value in ("(", "[", "{"):
            depth += 1
            if depth > MOST_DEEP:
                return token.span
        elif token.kind == "punct" and token.value in (")", "]", "}"):
            depth = max(0, depth - 1)
    return None
