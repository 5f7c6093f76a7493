"""What a header says: sizes, foundation, gauge, hook, yarn, special stitches."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from server.craft.text.source import NOWHERE, Span

Terms = Literal["US", "UK"]
Worked = Literal["joined rounds", "spiral", "rows"]
Pieces = Literal["pair", "one"]


@dataclass(frozen=True, slots=True)
class SpecialStitch:
    """A named group, or a stitch with a meaning of its own.

    `items` flat: stitches' names and chains ("dc", 1, "dc"). `one_stitch`: several legs closed to one stitch.
    """

    name: str
    items: tuple[str | int, ...]
    one_stitch: bool = False
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Gauge:
    """`14 sts and 8 rnds = 10 cm`: stitches and rounds over a length in cm."""

    stitches: Fraction
    rounds: Fraction | None
    length_cm: Fraction
    unit: Literal["cm", "in"] = "cm"
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class HeaderLine:
    """A header line as it was written: key as known ("Title"), value, place."""

    key: str
    value: str
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Header:
    """The header.

    foundations      chains, one per size; empty for `Foundation: none`
    hook_mm, fits_cm one value, or one per size
    custom           the range of custom counts; an empty one (1, 0) for `none`, None where it is left to the
                     default
    """

    title: str = ""
    terms: Terms = "US"
    sizes: tuple[str, ...] = ()
    foundations: tuple[int, ...] = ()
    multiple: int | None = None
    plus: int = 0
    custom: tuple[int, int] | None = None
    worked: Worked = "joined rounds"
    pieces: Pieces = "pair"
    hook_mm: tuple[float, ...] = ()
    gauge: Gauge | None = None
    fits_cm: tuple[float, ...] = ()
    yarn: str = ""
    special: tuple[SpecialStitch, ...] = ()
    lines: tuple[HeaderLine, ...] = field(default=(), compare=False)

    def line(self, key: str) -> HeaderLine | None:
        """The header line of that key, as written."""
        return next((line for line in self.lines if line.key == key), None)
