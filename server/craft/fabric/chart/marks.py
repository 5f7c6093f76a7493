"""What a layout hands on to the drawing: marks in flat coordinates, and what each round leaves to stand on.

Flat coordinates are (u, y): u along the round in the direction in which a piece begins, y upward from
where it begins. On a strip both are drawing units. From the center u is an angle in radians and y the
distance to the center.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from server.craft.fabric.chart.strands import StrandRound

Flat = tuple[float, float]
Shape = Literal["post", "oval", "column", "rail", "dot", "loop", "ring", "tie"]


@dataclass(frozen=True, slots=True)
class Mark:
    """One symbol.

    node    index in the round's path; -1 for what is no node (a place of an edge, an adjustable ring)
    shape   "post" stands from its feet to its top; "oval" is a chain from its one foot to its top; "column" a
            beginning chain; "rail" a line beside chains that count as a stitch; "dot" lies at its top; "loop"
            is a picot upon its foot; "ring" a circle around its top; "tie" a thin line through its feet
    symbol  which entry of the key it belongs to
    size    chains of a column or loop
    """

    node: int
    shape: Shape
    symbol: str
    name: str
    feet: tuple[Flat, ...]
    top: Flat
    size: int = 1
    loop: str = ""


@dataclass(frozen=True, slots=True)
class Standing:
    """A place that a round leaves: where a stitch in it has its foot."""

    u: float
    y: float
    is_chain: bool = False


@dataclass(frozen=True, slots=True)
class Level:
    """A round as laid out.

    marks    one for each node of the path, in its order
    ties     thin lines that lead along chains drawn far apart
    places   what the next round can be worked into, by index of the node
    start    where the round begins: u of its first mark's outer edge, and y of its feet and tops
    """

    standing: StrandRound
    marks: tuple[Mark, ...]
    places: dict[int, Standing]
    start: tuple[float, float, float]
    ties: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True)
class Laid:
    """A strand as laid out.

    base     marks of the edge below the first round, each with the kind of place that it is
    width    of the strip in drawing units; a whole turn in radians from the center
    """

    levels: tuple[Level, ...]
    base: tuple[tuple[str, Mark], ...]
    width: float
    from_center: bool
