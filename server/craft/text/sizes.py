"""Reads the names of the sizes that a header or a post gives."""

from __future__ import annotations

import re

ONE_SIZE = re.compile(r"^one[\s-]size\b", re.IGNORECASE)
MEASURE = re.compile(r"^\d[\d.\s/–-]*(?:[\"”]|in\b|inch|cm\b)", re.IGNORECASE)
"""What a size measures, beside its name."""
WHOM = re.compile(
    r"^(?:(?:to\s+|will\s+|should\s+)?fits?\b|(?:approx|about|around|roughly|measur|circumference)|for\s+an?\b)",
    re.IGNORECASE,
)
"""Whom a size fits, beside its name."""
FITS_NAMES = re.compile(
    r"^(?:to\s+|will\s+)?fits?\s+(?:sizes?\s+)?(?=[A-Za-z]{1,12}\s*[(\[/,])", re.IGNORECASE
)
"""`fits` before names: `fits S (M, L)`."""
MEASURES_BEHIND = re.compile(r"(?<=[)\]])\s*(?::|=|–|—|\s-)\s*\d.*$")
"""What the sizes named before it measure: `S (M, L): 7 (7.5, 8) inches around the palm`."""


def size_names(value: str, *, by_slash: bool = True) -> tuple[str, ...]:
    """`S (M, L)`, `One size, to fit an average hand (18 cm)`: the names, without what tells of them.

    by_slash   whether `S/M` are two names; else one
    """
    value = MEASURES_BEHIND.sub("", FITS_NAMES.sub("", value))
    said = re.split(r"(?<=[)\]])\.?\s+(?=[A-Z])|\.\s", value)[0]
    parts = tuple(
        part.strip(" .")
        for part in re.split(r"[(),;\[\]/]" if by_slash else r"[(),;\[\]]", said)
        if part.strip(" .")
    )
    if ONE_SIZE.match(value):
        return parts[:1]
    if len(parts) == 1 and WHOM.match(parts[0]):
        return ("one size",)
    names = parts[:1] + tuple(part for part in parts[1:] if not WHOM.match(part))
    if all(MEASURE.match(name) for name in names):
        return names
    return tuple(name for name in names if not MEASURE.match(name))  # `3-6 months, 16" around`
