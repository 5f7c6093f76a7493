"""Mends for marks that do not pair up: a bracket never closed, one that closes nothing, a star without its
repeat.

What is tried is really read in the line's place; of the mends that make the fault go away, the one that
leaves least to say is offered.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import islice
from typing import NamedTuple

from server.craft.text.findings import Finding

CLOSERS = {"(": ")", "[": "]", "{": "}"}
OFTEN = re.compile(
    r"\s+(?=(?:all\s+(?:the\s+way\s+)?)?(?:around|across|round)\b|(?:x\s*)?\d+\s*(?:more\s+)?(?:times|x)\b|x\s*\d"
    r"|twice\b|to\s+(?:the\s+)?(?:end|last)\b|until\b)",
    re.IGNORECASE,
)
"""Where it says how often."""
ENDS = re.compile(
    r"[\s;,.]*(?=[;,.]\s*(?:join|turn|fasten|do\s+not|don[’']t|sl\.?\s?st\s+(?:in|to)|ss\s+(?:in|to)|ch\s*1,?\s*turn)\b)"
    r"|[\s;,.]*$|[\s;,.]*(?=\s*[\[(=][^\[\]()]*[\])]?[\s.]*$)",
    re.IGNORECASE,
)
"""Where a repeat's text ends: before the join, the count, the line's end."""
GROUP = re.compile(r"^[(\[{][^()\[\]{}*;.]*?,[^()\[\]{}*;.]*?(?=\s+(?:in(?:to)?|around)\s)", re.IGNORECASE)
"""`(dc, ch 1, dc` before `in same st`."""
COUNTS_AS = re.compile(
    r"^\((?:this\s+)?(?:counts?|counted|counting|does\s+not\s+count|doesn[’']t\s+count|not\s+counted)"
    r"(?:\s+as\s+(?:(?:a|an|the|first|one|1|your)\s+)*[\w-]+(?:\s+(?:st|sts|stitch)\b)?)?",
    re.IGNORECASE,
)
"""`(counts as dc`: what a beginning chain is."""
TO_END = re.compile(r"[\s,;]+(?:all\s+)?(?:around|across|round)\s*$", re.IGNORECASE)
MOST_TRIED = 10


class _Try(NamedTuple):
    """Words from the fault's first on, and what may stand in their place."""

    words: str
    mend: str


def marks_mended(
    finding: Finding, line: str, at: int, rows: bool, found_in: Callable[[str], list[Finding]]
) -> Finding:
    """The finding with its words up to where the mend goes in, and the mend; as it was where none is found.

    line       the text of the round; `at` is where the fault's words begin in it
    found_in   all that is found in a line that stands in its place
    """
    best: tuple[int, _Try] | None = None
    rest = line[at:]
    for one in islice(_tries(finding, line, at, "across" if rows else "around"), MOST_TRIED):
        if not rest.startswith(one.words):
            continue
        left = found_in(line[:at] + one.mend + rest[len(one.words) :])
        if any(each.code == finding.code for each in left):
            continue
        if best is None or len(left) < best[0]:
            best = len(left), one
        if not left:
            break
    if best is None:
        return finding
    words, mend = best[1]
    return replace(finding, words=words, mend=mend)


def _tries(finding: Finding, line: str, at: int, way: str) -> Iterator[_Try]:
    rest = line[at:]
    if finding.code == "unclosed":
        yield from _closed(rest, way)
    elif finding.code == "stray":
        if behind := re.match(r"^.\s*\w+|^.\S", rest):
            yield _Try(behind[0], behind[0][1:])
    elif finding.code == "unread":
        if counts := COUNTS_AS.match(rest):
            yield _Try(counts[0], counts[0] + ")")
    elif finding.code == "star-never-repeated":
        mark = "**" if rest.startswith("**") else "*"
        for match in ENDS.finditer(rest):
            words = rest[: match.start()]
            if len(words) > len(mark):
                yield _Try(words, f"{TO_END.sub('', words)}; rep from {mark} {way}")


def _closed(rest: str, way: str) -> Iterator[_Try]:
    close = CLOSERS[rest[0]]
    if group := GROUP.match(rest):
        yield _Try(group[0], group[0] + close)
    for match in OFTEN.finditer(rest):
        words = rest[: match.start()]
        if not re.search(r"\beach\s+(?:[\w-]+\s+){0,3}[\w-]+$", words, re.IGNORECASE):
            yield _Try(words, words + close)
    for match in ENDS.finditer(rest):
        words = rest[: match.start()]
        if re.match(r"^[(\[{]\s*\d", words) and match.end() >= len(rest.rstrip(" .;,\n")):
            yield _Try(words, words + close)  # the round's count
    for match in ENDS.finditer(rest):
        words = rest[: match.start()]
        if "," in words:
            yield _Try(words, f"{words}{close} {way}")
    first = re.match(r"^.\s*\S+", rest)
    if first is not None:
        yield _Try(first[0], first[0][1:].lstrip())
