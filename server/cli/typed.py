"""Lengths, weights and what was tried on as they are typed at the console."""

from __future__ import annotations

import argparse
import math
import re
from dataclasses import dataclass

from server.craft.measure.quantities import MM_PER, grams, mm

AMOUNT = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*([A-Za-z]*)\s*")
SPELLED = {
    "mm": "mm", "cm": "cm", "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "in": "in", "inch": "in", "inches": "in", "yd": "yd", "yds": "yd", "yard": "yd", "yards": "yd",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Length:
    """A length as typed; `unit` is "" where none was: then the command's own unit holds."""

    value: float
    unit: str

    def mm(self, bare: str) -> float:
        """In mm; a bare number is in `bare`."""
        return mm(self.value, self.unit or bare)


@dataclass(frozen=True, slots=True)
class Felt:
    """How it was, and by how much where that was said: "12 cm too long", "fits"."""

    verdict: str
    by: Length | None


def length(typed: str) -> Length:
    """ "19 cm", "7.5in", "190". argparse.ArgumentTypeError for anything else."""
    match = AMOUNT.fullmatch(typed)
    if match is None or (match[2] and match[2].lower() not in SPELLED) or not _number(match[1]):
        units = ", ".join(MM_PER)
        raise argparse.ArgumentTypeError(f"a length is a number above 0 with {units} or none, not {typed!r}")
    return Length(_number(match[1]), SPELLED.get(match[2].lower(), ""))


def weight_g(typed: str) -> float:
    """ "36 g", "1.5 oz", "36" in grams; 0 is a weight too. argparse.ArgumentTypeError for anything else."""
    match = AMOUNT.fullmatch(typed)
    unit = match[2].lower() or "g" if match is not None else ""
    if match is None or unit not in ("g", "oz"):
        raise argparse.ArgumentTypeError(f"a weight is a number with g, oz or none, not {typed!r}")
    return grams(_number(match[1]), unit)


def hook_mm(typed: str) -> float:
    """ "5", "5.5 mm". argparse.ArgumentTypeError for anything that is no hook."""
    match = AMOUNT.fullmatch(typed)
    size = _number(match[1]) if match is not None and match[2].lower() in ("", "mm") else 0.0
    if not 0.5 <= size <= 50:
        raise argparse.ArgumentTypeError(f"a hook is its size in mm, from 0.5 to 50, not {typed!r}")
    return size


def count(typed: str) -> int:
    """A whole number from 1. argparse.ArgumentTypeError for anything else."""
    if not (typed.isascii() and typed.isdecimal() and 0 < int(typed) <= 100_000):
        raise argparse.ArgumentTypeError(f"a whole number above 0 is needed, not {typed!r}")
    return int(typed)


def rounds(typed: str) -> int:
    """A whole number from 0. argparse.ArgumentTypeError for anything else."""
    return 0 if typed == "0" else count(typed)


def number(typed: str) -> float:
    """A number above 0, half stitches included. argparse.ArgumentTypeError for anything else."""
    match = AMOUNT.fullmatch(typed)
    if match is None or match[2] or not _number(match[1]):
        raise argparse.ArgumentTypeError(f"a number above 0 is needed, not {typed!r}")
    return _number(match[1])


def ease(typed: str) -> float:
    """ "-5", "−5 %", "+3%": per cent of the hand, as a share. argparse.ArgumentTypeError otherwise."""
    match = re.fullmatch(r"\s*([+−-]?)\s*(\d+(?:[.,]\d+)?)\s*%?\s*", typed)
    if match is None:
        raise argparse.ArgumentTypeError(f"an ease is per cent of the hand, such as -5, not {typed!r}")
    share = _number(match[2]) / 100
    return -share if match[1] in ("-", "−") else share


def felt(typed: str, allowed: tuple[str, ...]) -> Felt:
    """ "12 cm too long", "too short", "fits". argparse.ArgumentTypeError with what is allowed."""
    low = " ".join(typed.lower().split())
    for verdict in allowed:
        if low.endswith(verdict):
            before = low.removesuffix(verdict).strip()
            return Felt(verdict, length(before) if before else None)
    raise argparse.ArgumentTypeError(f"{typed!r} is none of: {', '.join(allowed)} (“12 cm {allowed[0]}”)")


def _number(digits: str) -> float:
    value = float(digits.replace(",", "."))
    return value if math.isfinite(value) else 0.0
