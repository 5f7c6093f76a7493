"""Addresses: a round's spot "section.line.turn", a line's fit "section.line", and their order."""

from __future__ import annotations

import re
from functools import lru_cache

SPOT = re.compile(r"(0|[1-9][0-9]{0,5})\.(0|[1-9][0-9]{0,5})\.([1-9][0-9]{0,5})")
FIT = re.compile(r"(0|[1-9][0-9]{0,5})\.(0|[1-9][0-9]{0,5})")
SPOTS_KEPT = 4096  # taken apart once: a pair is compared by a thousand of these


def is_spot(value: object) -> bool:
    """True for a well-formed spot: "1.3.2"."""
    return isinstance(value, str) and SPOT.fullmatch(value) is not None


def is_fit(value: object) -> bool:
    """True for a well-formed fit: "1.3"."""
    return isinstance(value, str) and FIT.fullmatch(value) is not None


@lru_cache(maxsize=SPOTS_KEPT)
def order(address: str) -> tuple[int, ...]:
    """The place of a spot or a fit in working order; a fit comes before its own spots."""
    return tuple(int(part) for part in address.split("."))


@lru_cache(maxsize=SPOTS_KEPT)
def fit_of(spot: str) -> str:
    """The line "section.line" that a spot belongs to."""
    return spot.rpartition(".")[0]


@lru_cache(maxsize=SPOTS_KEPT)
def turn_of(spot: str) -> int:
    """The turn of a spot within its line, from 1."""
    return int(spot.rpartition(".")[2])


@lru_cache(maxsize=SPOTS_KEPT)
def section_of(address: str) -> int:
    """The section's index of a spot or a fit."""
    return int(address.partition(".")[0])
