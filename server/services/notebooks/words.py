"""Six words that can be told over the phone: drawn from a published list, and read back as people type them.

The list is the Electronic Frontier Foundation's for five dice (data/README.md). Four of its 7776 words have a
hyphen; they are never drawn, so that every sign between two words is only a sign between two words. Six words
have 6 · log2(7772) = 77 bits.
"""

from __future__ import annotations

import re
import secrets
import unicodedata
from difflib import get_close_matches
from functools import lru_cache
from pathlib import Path

from server.services.errors import Refusal

LIST = Path(__file__).parent / "data" / "eff_large_wordlist.txt"
WORDS = 6
TYPED_MOST = 400  # characters; six of the longest words have fewer than 60
LONGEST = 24


@lru_cache(maxsize=1)
def word_list() -> tuple[str, ...]:
    """The words that are drawn, in the list's order."""
    words = (line.split("\t")[1] for line in LIST.read_text(encoding="ascii").splitlines())
    return tuple(word for word in words if word.isalpha())


@lru_cache(maxsize=1)
def _known() -> frozenset[str]:
    return frozenset(word_list())


def draw() -> tuple[str, ...]:
    """Six words, drawn anew by the system's own random source."""
    words = word_list()
    return tuple(secrets.choice(words) for _ in range(WORDS))


def read(typed: str) -> tuple[str, ...]:
    """The six words in what was typed, whatever stands between them and in capitals or not.

    Refusal where there are not six, or one is not on the list: it is named, with the nearest that is. What is
    said depends on the published list alone, never on which words would open something.
    """
    plain = unicodedata.normalize("NFKC", typed[:TYPED_MOST]).lower()
    words = tuple(re.findall(r"[^\W\d_]+", plain))
    for word in words[: 2 * WORDS]:
        if word not in _known():
            raise Refusal(_unknown(word), "words")
    if len(words) != WORDS:
        wrote = "No word is" if not words else "1 word is" if len(words) == 1 else f"{len(words)} words are"
        raise Refusal(f"{wrote} written here; there are {WORDS} on the other device.", "words")
    return words


def _unknown(word: str) -> str:
    near = get_close_matches(word[:LONGEST], word_list(), n=2, cutoff=0.7)
    shown = word[:LONGEST]
    if not near:
        return f"“{shown}” is not one of the words used here. Look at it once more on the other device."
    meant = " or ".join(f"“{each}”" for each in near)
    return f"“{shown}” is not one of the words used here. Did you mean {meant}?"
