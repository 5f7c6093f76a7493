"""The nearest phrases that read, for words that do not: only those that really do in that place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from difflib import get_close_matches
from functools import lru_cache

from server.craft.text.findings import Finding
from server.craft.text.lexer import CLOSED_SPELLINGS, PHRASES
from server.craft.text.mending import marks_mended
from server.craft.text.reading import Reading
from server.craft.text.source import Source
from server.craft.text.special import DEFAULTS
from server.craft.text.tree import Header, Pattern, Span, Terms
from server.craft.text.vocabulary import spellings

LEADING = (
    "next", "same", "each", "first", "last", "around", "across", "join", "rep", "sk", "ch", "turn", "skip",
    "chain", "from", "times", "more", "counts as", "ring", "foundation ch", "top", "center", "side",
    "underside", "sl st",
    "fasten off", "omitting", "in", "any", "sts", "st", "with", "of", "beg", "sps", "sp",
)  # fmt: skip


MARKS = ("unclosed", "star-never-repeated", "stray")
"""Codes of marks that do not pair up."""
MAX_FINDINGS = 60
"""How many findings of one text are tried; where more does not read, it is no pattern in these terms."""


def with_nearest(reading: Reading, read: Callable[[str], Reading]) -> Reading:
    """The reading, its findings with the nearest phrase that really reads in their place, where there is one.

    read   reads a text without looking for what is nearest
    """
    unread = [one for one in reading.findings if one.code in ("unread", "count-unread", *MARKS)]
    mended = {id(one): _mended(reading.pattern, one, read) for one in unread[:MAX_FINDINGS]}
    return Reading(reading.pattern, tuple(mended.get(id(one), one) for one in reading.findings))


def _mended(pattern: Pattern, finding: Finding, read: Callable[[str], Reading]) -> Finding:
    source = Source(pattern.source)
    start = source.offset(finding.line, finding.column)
    block = _block_at(pattern, start)
    if block is None:
        return finding
    # that line alone, below the same header: what stands elsewhere does not change how it reads
    head = _header_words(pattern.header)
    words = source.slice(block)
    at = start - block.start

    def found_in(line: str) -> list[Finding]:
        above = head.count("\n") + 2
        return [one for one in read(f"{head}\n# A\n{line}\n").findings if one.line > above]

    def faults(line: str) -> int:
        return sum(one.code == finding.code for one in found_in(line))

    if finding.code in MARKS or finding.words == "(":
        return marks_mended(finding, words, at, pattern.header.worked == "rows", found_in)

    names = tuple(one.name for one in (*DEFAULTS, *pattern.header.special))
    before = -1
    for near in nearest_phrases(finding.words, pattern.header.terms, names):
        before = faults(words) if before < 0 else before
        if faults(words[:at] + near + words[at + len(finding.words) :]) < before:
            message = f"{finding.message} The nearest that reads is “{near}”."
            return replace(finding, message=message, mend=near)
    return finding


def _block_at(pattern: Pattern, offset: int) -> Span | None:
    """The line, with what goes on from it below, that an offset lies in."""
    spans = (line.span for section in pattern.sections for line in section.lines)
    return next((span for span in spans if span.start <= offset < span.end), None)


def _header_words(header: Header) -> str:
    return "\n".join(f"{line.key}: {line.value}" for line in header.lines)


@lru_cache(maxsize=1024)
def nearest_phrases(words: str, terms: Terms, groups: tuple[str, ...]) -> tuple[str, ...]:
    """Up to three phrases near to `words`, the nearest first."""
    low = words.lower().strip(".,;:")
    if not low or len(low) > 40:
        return ()
    own = {group.lower(): group for group in groups}
    known = {*LEADING, *PHRASES, *CLOSED_SPELLINGS, *spellings(terms), *own}
    close = get_close_matches(low, sorted(known), n=4, cutoff=0.7)
    return tuple(own.get(one, one) for one in close if one != low)
