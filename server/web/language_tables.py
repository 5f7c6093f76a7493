"""The engine's own tables as rows of the pattern language page: header keys, stitches, spellings, findings.

Everything here is read from the tables that the engine reads with, so that the page cannot say otherwise.
A row that has no words yet is shown without them; a test does not let it come to that.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from server.craft.text import language, rules, vocabulary
from server.craft.text.findings import Kind
from server.craft.text.header import KEYS, OTHER_KEYS
from server.craft.text.language import words as said
from server.craft.text.lexer import CLOSED_SPELLINGS, ORDINAL_WORDS, PHRASES, SLIPS
from server.craft.text.rules import Rule
from server.craft.text.vocabulary import Rung, name_in

KINDS: dict[Kind, str] = {
    "header": "At the top",
    "syntax": "Reading",
    "count": "Counts",
    "place": "Places",
    "closing": "Closing",
    "join": "Joins",
}


@dataclass(frozen=True)
class KeyRow:
    """A header key; also: other words that are read as it."""

    key: str
    also: tuple[str, ...]


@dataclass(frozen=True)
class StitchRow:
    """A stitch of the ladder: its names, further spellings in each of the terms, its height."""

    us: str
    uk: str
    height_ch: int
    us_also: tuple[str, ...]
    uk_also: tuple[str, ...]
    kin: tuple[str, ...]
    key: str


@dataclass(frozen=True)
class WordRow:
    """A word, what it means, and every other form that is read as it."""

    shown: str
    means: str
    also: tuple[str, ...]


@dataclass(frozen=True)
class FindingRow:
    """Something that can be found; sample: the key of an entry that shows it, or nothing."""

    kind: str
    means: str
    is_error: bool
    sample: str


def keys() -> tuple[KeyRow, ...]:
    """Header keys in their usual order."""
    return tuple(KeyRow(key, tuple(also for also, of in OTHER_KEYS.items() if of == key)) for key in KEYS)


def stitches() -> tuple[StitchRow, ...]:
    """The ladder, shortest first."""
    return tuple(_stitch(rung) for rung in vocabulary.LADDER)


def _stitch(rung: Rung) -> StitchRow:
    us_also = _also(vocabulary.US_SPELLINGS, rung.us, but=rung.us)
    uk_also = _also(vocabulary.UK_SPELLINGS, rung.us, but=rung.uk)
    kin: tuple[str, ...] = ()
    if rung.height_ch == 0:
        us_also = uk_also = tuple(one for one in SLIPS if one != rung.us)
    else:
        kin = (f"{rung.us}2tog", f"{rung.us}3tog", f"FP{rung.us}", f"BP{rung.us}", f"f{rung.us}")
    key = language.words.stitch_entry(rung).key
    return StitchRow(rung.us, name_in(rung.us, "UK"), rung.height_ch, us_also, uk_also, kin, key)


def _also(spellings: Mapping[str, str], value: str, but: str) -> tuple[str, ...]:
    return tuple(written for written, means in spellings.items() if means == value and written != but)


def words() -> tuple[WordRow, ...]:
    """Every word that has several spellings, and the closed stitches; then ordinals."""
    rows = []
    for value in _in_order(PHRASES.values()):
        word = said.WORDS.get(value, said.Word(value, ""))
        rows.append(WordRow(word.shown, word.means, _also(PHRASES, value, word.shown)))
    rows += [
        WordRow(value, said.CLOSED.get(value, ""), _also(CLOSED_SPELLINGS, value, value))
        for value in _in_order(CLOSED_SPELLINGS.values())
    ]
    rows += [
        WordRow(f"{number}{_suffix(number)}", "in order", (word,)) for word, number in ORDINAL_WORDS.items()
    ]
    return tuple(rows)


def _suffix(number: int) -> str:
    return {1: "st", 2: "nd", 3: "rd"}.get(number, "th")


def _in_order(values: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(values))


def findings() -> tuple[FindingRow, ...]:
    """Every finding there is, by kind."""
    samples = {
        code: one.key for chapter in language.chapters() for one in chapter.entries for code in one.finds
    }
    found = [rule for rule in vars(rules).values() if isinstance(rule, Rule)]
    return tuple(
        FindingRow(
            title,
            said.FINDINGS.get(rule.code, rule.code),
            rule.severity == "error",
            samples.get(rule.code, ""),
        )
        for kind, title in KINDS.items()
        for rule in found
        if rule.kind == kind
    )
