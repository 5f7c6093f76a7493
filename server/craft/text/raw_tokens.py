"""The words, numbers and signs of a text as they stand, before spellings are folded."""

from __future__ import annotations

import re
import unicodedata
from typing import Literal, NamedTuple

WORD = re.compile(
    r"(?P<smile>(?<=\s)[:;]-?[)D](?=\s|$))|(?P<ord>\d+(?:st|nd|rd|th|ST|ND|RD|TH)\b)|(?P<num>\d+)"
    r"|(?P<word>[^\W\d_]+(?:['’][^\W\d_]+)?)|(?P<punct>\S)",
    re.UNICODE,
)
PUNCT = {
    "–": "-", "—": "--", "−": "-", "‐": "-", "‑": "-", "×": "x", "∗": "*", "⁎": "*", "†": "†", "‡": "‡",
    "“": '"', "”": '"',
    "’": "'", "‘": "'", "{": "{", "}": "}", "…": "...", "＊": "*", "✱": "*", "•": ".",
}  # fmt: skip


MANNER = frozenset(("loosely", "tightly", "firmly", "carefully", "gently", "snugly"))
"""How a maker is to work; what is worked is the same."""

RawKind = Literal["ord", "num", "word", "punct"]
RAW_KINDS: dict[str, RawKind] = {"ord": "ord", "num": "num", "word": "word", "punct": "punct"}


class Raw(NamedTuple):
    """A word, number or sign as it stands; `low` is the word as phrases are written."""

    kind: RawKind
    text: str
    start: int
    end: int
    glued: bool
    low: str


def raw_tokens(text: str, start: int, end: int) -> list[Raw]:
    """Those of text[start:end]; words of manner and pictures are left out."""
    raws: list[Raw] = []
    last = -1
    for match in WORD.finditer(text, start, end):
        word, way = match.group(0), match.lastgroup or ""
        low = word.lower()
        if low in MANNER or way == "smile" or (way == "punct" and is_picture(word)):
            continue
        kind = RAW_KINDS[way]
        if kind == "punct":
            word = PUNCT.get(word, word)
            low = word.lower()
        begin, end_ = match.span()
        if word == "*" and raws and begin == last and raws[-1].text in ("*", "**"):
            raws[-1] = Raw("punct", "**", raws[-1].start, end_, raws[-1].glued, "**")
        else:
            raws.append(Raw(kind, word, begin, end_, begin == last, low.replace("’", "'")))
        last = end_
    return _undotted(raws) if DOTTED.search(text, start, end) else raws


DOTTED = re.compile(r"\b(?:s\.\s?s|[ds]\.\s?c|[dh]\.\s?tr|h\.\s?d\.\s?c)\b", re.IGNORECASE)
"""`s.s.`, `d.c.`, `h.tr.`: abbreviations with a stop behind each letter, as old leaflets have them."""
UNDOTTED = ("ss", "dc", "sc", "dtr", "htr", "hdc")


def _undotted(raws: list[Raw]) -> list[Raw]:
    """The tokens with `d.c.` as one word, its stops taken with it."""
    found: list[Raw] = []
    at = 0
    while at < len(raws):
        end = at
        while len(raws[end].text) == 1 and _word_behind_stop(raws, end):
            end += 2
        letters = "".join(raw.low for raw in raws[at : end + 1 : 2])
        if end > at and letters in UNDOTTED:
            stop = end + 1 < len(raws) and raws[end + 1].text == "." and raws[end + 1].glued
            last = raws[end + 1 if stop else end]
            found.append(Raw("word", letters, raws[at].start, last.end, raws[at].glued, letters))
            at = end + (2 if stop else 1)
        else:
            found.append(raws[at])
            at += 1
    return found


def _word_behind_stop(raws: list[Raw], at: int) -> bool:
    """Whether a stop and another word follow the word here."""
    return (
        at + 2 < len(raws) and raws[at].kind == raws[at + 2].kind == "word"
        and raws[at + 1].text == "." and raws[at + 1].glued
        and raws[at + 2].glued
    )  # fmt: skip


def is_picture(word: str) -> bool:
    """Whether a sign is a picture: hearts, stars and yarn balls that a post is decked with."""
    return len(word) == 1 and word not in PUNCT and unicodedata.category(word) in ("So", "Sk", "Cf", "Mn")
