"""What the parts of a series take: read from the headers of their patterns, for each part and together."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from server.craft.text import read
from server.craft.text.tree import Header

M_PER_YARD = 0.9144  # by definition (1959)
_UNIT = r"(m|metres?|meters?|yds?|yards?)\b"
_PUT_UP = re.compile(rf"(\d+(?:\.\d+)?)\s*g\s*=\s*(\d+(?:\.\d+)?)\s*{_UNIT}", re.IGNORECASE)
_AMOUNT = re.compile(rf"(\d+(?:\.\d+)?)\s*(?:[(\[]([^)\]]*)[)\]])?\s*{_UNIT}", re.IGNORECASE)
# The weights of the Craft Yarn Council's standard, 0 to 7, and names that are used for them.
_WEIGHT = re.compile(
    r"\b(?:([0-7])\b\s*[-–,]?\s*)?(lace|super fine|fingering|fine|sport|light|dk|medium|worsted|aran|"
    r"super bulky|bulky|chunky|jumbo)\b",
    re.IGNORECASE,
)
_NUMBERS = {
    "lace": 0, "super fine": 1, "fingering": 1, "fine": 2, "sport": 2, "light": 3, "dk": 3, "medium": 4,
    "worsted": 4, "aran": 4, "bulky": 5, "chunky": 5, "super bulky": 6, "jumbo": 7,
}  # fmt: skip


@dataclass(frozen=True)
class Yarn:
    """A yarn as a header states it. metres: one for each size, or one for all; () where it says none.

    weight          the number of its weight, None where it is not said
    ball_g, ball_m  the put-up, 0 where it is not said
    """

    words: str
    metres: tuple[float, ...]
    weight: int | None
    ball_g: float
    ball_m: float


@dataclass(frozen=True)
class PartNeeds:
    """What one part takes. facts: (name, as the pattern has it), in order."""

    title: str
    sizes: tuple[str, ...]
    yarn: Yarn
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


def yarn_of(line: str) -> Yarn:
    """The amounts in a header's yarn line: `3 light, 66 (75, 86) m, 50 g = 125 m`."""
    put_up = _PUT_UP.search(line)
    rest = _PUT_UP.sub(" ", line)
    amount = _AMOUNT.search(rest)
    weight = _WEIGHT.search(rest)
    metres: tuple[float, ...] = ()
    if amount:
        factor = M_PER_YARD if amount[3].lower().startswith("y") else 1.0
        numbers = [amount[1], *re.findall(r"\d+(?:\.\d+)?", amount[2] or "")]
        metres = tuple(float(number) * factor for number in numbers)
    number = None
    if weight:
        number = int(weight[1]) if weight[1] else _NUMBERS[weight[2].lower()]
    ball_m = 0.0
    if put_up:
        ball_m = float(put_up[2]) * (M_PER_YARD if put_up[3].lower().startswith("y") else 1.0)
    return Yarn(line, metres, number, float(put_up[1]) if put_up else 0.0, ball_m)


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
    return PartNeeds(title, header.sizes, yarn_of(header.yarn), tuple(facts))


def together(parts: Sequence[PartNeeds]) -> SetNeeds | None:
    """All parts as a set; None where fewer than two of them state how much yarn they take."""
    counted = [part for part in parts if part.yarn.metres]
    if len(counted) < 2:
        return None
    left_out = tuple(part.title for part in parts if not part.yarn.metres)
    ball = _shared_ball(counted)
    totals = tuple(
        SizeTotal(name, metres, math.ceil(metres / ball[1]) if ball else None)
        for name, metres in _sums(counted)
    )
    return SetNeeds(totals, _cake(counted, totals, ball), left_out)


def _sums(parts: Sequence[PartNeeds]) -> list[tuple[str, int]]:
    """(size, metres) for each size, where all parts that have sizes have the same; else the least and the
    most."""
    named = {part.sizes for part in parts if len(part.yarn.metres) > 1}
    if not named:
        return [("every size", _ceil(sum(part.yarn.metres[0] for part in parts)))]
    if len(named) == 1:
        (sizes,) = named
        if all(len(part.yarn.metres) in (1, len(sizes)) for part in parts):
            return [
                (size, _ceil(sum(p.yarn.metres[at if len(p.yarn.metres) > 1 else 0] for p in parts)))
                for at, size in enumerate(sizes)
            ]
    least, most = (_ceil(sum(which(part.yarn.metres) for part in parts)) for which in (min, max))
    return [("the smallest of each", least), ("the largest of each", most)]


def _ceil(metres: float) -> int:
    return math.ceil(round(metres, 6))


def _shared_ball(parts: Sequence[PartNeeds]) -> tuple[float, float] | None:
    balls = {(part.yarn.ball_g, part.yarn.ball_m) for part in parts}
    weights = {part.yarn.weight for part in parts}
    ball = next(iter(balls))
    return ball if len(balls) == 1 and len(weights) == 1 and ball[1] > 0 else None


def _cake(parts: Sequence[PartNeeds], totals: Sequence[SizeTotal], ball: tuple[float, float] | None) -> str:
    weights = {part.yarn.weight for part in parts}
    if len(weights) > 1 or None in weights:
        return "The parts take yarns of different weights: no one cake does for the set."
    most = max(total.metres for total in totals)
    if ball is None:
        return f"All take yarn of the same weight: one cake of {most} m does for the set at its largest."
    grams = _ceil(most / ball[1] * ball[0])
    return (
        f"All take the same yarn: one cake of {most} m, about {grams} g, does for the set at its largest. A "
        "swatch comes on top."
    )
