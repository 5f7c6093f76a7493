"""What the parts of a series take: read from the headers of their patterns, for each part and together."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from server.craft.measure.putup import PutUp
from server.craft.measure.stated_yarn import StatedYarn, read_yarn
from server.craft.text import read
from server.craft.text.tree import Header


@dataclass(frozen=True)
class PartNeeds:
    """What one part takes. facts: (name, as the pattern has it), in order."""

    title: str
    sizes: tuple[str, ...]
    yarn: StatedYarn
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class SizeTotal:
    """Yarn for all parts at one size. balls: of the put-up they share, None where they share none."""

    size: str
    metres: int
    balls: int | None


@dataclass(frozen=True)
class SetNeeds:
    """What all parts take together. cake: one sentence on whether one yarn does for the set; left_out: parts
    that state no amount."""

    totals: tuple[SizeTotal, ...]
    cake: str
    left_out: tuple[str, ...]


@lru_cache(maxsize=256)
def _header(text: str) -> Header:
    return read(text).pattern.header


def needs_of(title: str, text: str) -> PartNeeds:
    """What a published pattern's header says that it takes."""
    header = _header(text)
    facts = []
    for key, name in (
        ("Sizes", "Sizes"), ("Fits", "To fit"), ("Yarn", "Yarn"), ("Hook", "Hook"), ("Gauge", "Gauge"),
    ):  # fmt: skip
        line = header.line(key)
        if line is not None and line.value:
            label = "Tension" if key == "Gauge" and header.terms == "UK" else name
            facts.append((label, line.value))
    return PartNeeds(title, header.sizes, read_yarn(header.yarn), tuple(facts))


def together(parts: Sequence[PartNeeds]) -> SetNeeds | None:
    """All parts as a set; None where fewer than two of them state how much yarn they take."""
    counted = [part for part in parts if _metres(part)]
    if len(counted) < 2:
        return None
    left_out = tuple(part.title for part in parts if not _metres(part))
    ball = _shared_ball(counted)
    totals = tuple(
        SizeTotal(name, metres, math.ceil(metres / ball.metres) if ball else None)
        for name, metres in _sums(counted)
    )
    return SetNeeds(totals, _cake(counted, totals, ball), left_out)


def _metres(part: PartNeeds) -> tuple[float, ...]:
    """What it asks for, m: one for each size, or one for all; empty where nothing is stated."""
    sizes = max(len(part.yarn.metres or part.yarn.grams), 1)
    asked = (part.yarn.metres_for(at) for at in range(sizes))
    return tuple(metres for metres in asked if metres is not None)


def _sums(parts: Sequence[PartNeeds]) -> list[tuple[str, int]]:
    """(size, metres) for each size, where all parts that have sizes have the same; else the least and the
    most."""
    metres = [_metres(part) for part in parts]
    named = {part.sizes for part, asked in zip(parts, metres, strict=True) if len(asked) > 1}
    if not named:
        return [("every size", _ceil(sum(asked[0] for asked in metres)))]
    if len(named) == 1:
        (sizes,) = named
        if all(len(asked) in (1, len(sizes)) for asked in metres):
            return [
                (size, _ceil(sum(asked[at if len(asked) > 1 else 0] for asked in metres)))
                for at, size in enumerate(sizes)
            ]
    least, most = (_ceil(sum(map(which, metres))) for which in (min, max))
    return [("the smallest of each", least), ("the largest of each", most)]


def _ceil(metres: float) -> int:
    return math.ceil(round(metres, 6))


def _shared_ball(parts: Sequence[PartNeeds]) -> PutUp | None:
    balls = {part.yarn.put_up for part in parts}
    categories = {part.yarn.category for part in parts}
    return next(iter(balls)) if len(balls) == 1 and len(categories) == 1 else None


def _cake(parts: Sequence[PartNeeds], totals: Sequence[SizeTotal], ball: PutUp | None) -> str:
    categories = {part.yarn.category for part in parts}
    if None in categories:
        return "Not every part says which weight of yarn it takes: whether one cake does for the set is open."
    if len(categories) > 1:
        return "The parts take yarns of different weights: no one cake does for the set."
    most = max(total.metres for total in totals)
    if ball is None:
        return f"All take yarn of the same weight: one cake of {most} m does for the set at its largest."
    grams = _ceil(most * ball.g_per_m)
    return (
        f"All take the same yarn: one cake of {most} m, about {grams} g, does for the set at its largest. A "
        "swatch comes on top."
    )
