"""Reads which sizes something is for: `large only`, `for sizes M and L`, `all sizes`."""

from __future__ import annotations

import re
from collections.abc import Sequence

SAYS_ONLY = re.compile(r"\bonly\b|\bfor\b|\bsizes?\b", re.IGNORECASE)
SAYS_NOTHING = re.compile(
    r"\b(?:for|the|only|sizes?|work|worked|at|in|on|this|rnds?|rounds?|rows?|these|version)\b", re.IGNORECASE
)
PARTED = re.compile(r"\s*(?:,|&|/|\+|\band\b|\bor\b|\n)\s*", re.IGNORECASE)
LETTERS = {
    "extra small": "xs", "small": "s", "medium": "m", "large": "l", "extra large": "xl",
    "x-small": "xs", "x-large": "xl",
}  # fmt: skip
HEADING = re.compile(r"^[\W_]*(?:for\s+)?(?:the\s+)?(?P<names>[^\d.;:\[\]()]{1,50}?)[\W_]*$", re.IGNORECASE)
"""A line of its own that says for which sizes the rounds below it are."""


def sizes_named(words: str, names: Sequence[str]) -> tuple[int, ...] | None:
    """Indices of the sizes that the words name and nothing besides; None where they say something else."""
    left = SAYS_NOTHING.sub(" ", words).strip(" .,:;()[]–—-*_\n\t")
    low = " ".join(left.lower().split())
    if low in ("", "all", "both", "each", "every"):
        return tuple(range(len(names))) if low and SAYS_ONLY.search(words) else None
    found: list[int] = []
    for part in PARTED.split(low):
        part = part.strip()
        if not part:
            continue
        index = _index(part, names)
        alike = [at for at, name in enumerate(names) if name.lower().startswith(f"{part} ")]
        if index is None and not (alike and re.search(r"\bsizes\b", words, re.IGNORECASE)):
            return None
        found.extend(alike if index is None else [index])
    return tuple(sorted(set(found))) or None


def _index(part: str, names: Sequence[str]) -> int | None:
    known = [" ".join(name.lower().split()) for name in names]
    for spelled in (part, part.removesuffix("s"), part + "s"):
        if spelled in known:
            return known.index(spelled)
    if part in ("largest", "biggest", "larger"):
        return len(known) - 1
    if part in ("smallest", "smaller"):
        return 0
    letters = [LETTERS.get(name, name) for name in known]
    wanted = LETTERS.get(part, part)
    if letters.count(wanted) == 1:
        return letters.index(wanted)
    starts = [index for index, name in enumerate(known) if len(part) > 2 and name.startswith(part)]
    return starts[0] if len(starts) == 1 else None


def sizes_heading(line: str, names: Sequence[str]) -> tuple[int, ...] | None:
    """The sizes of a line such as `Large only:`; None for any other line."""
    match = HEADING.match(line)
    if match is None or len(names) < 2 or not SAYS_ONLY.search(line):
        return None
    return sizes_named(line, names)


def listed_names(only: Sequence[int], names: Sequence[str]) -> str:
    """ "large only", "medium and large only"."""
    said = [names[index] for index in only if index < len(names)]
    head = ", ".join(said[:-1])
    return f"{head} and {said[-1]} only" if head else f"{said[-1] if said else ''} only"
