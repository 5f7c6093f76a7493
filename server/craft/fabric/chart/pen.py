"""The pen: flat coordinates to the page, and paths in an even line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from server.craft.fabric.chart.marks import Flat

Point = tuple[float, float]
CIRCLE = 0.5522847498  # of the radius: control points of the cubic that comes nearest to a quarter circle


@dataclass(frozen=True, slots=True)
class Projection:
    """Flat coordinates to the page of a right-handed maker, x to the right and y down.

    On a strip a round runs from right to left; from the center it runs anticlockwise and begins at the top.
    """

    from_center: bool

    def __call__(self, flat: Flat) -> Point:
        u, y = flat
        if not self.from_center:
            return -u, -y
        angle = math.pi / 2 + u
        return y * math.cos(angle), -y * math.sin(angle)

    def up(self, flat: Flat) -> Point:
        """The unit vector that points away from where the piece begins."""
        if not self.from_center:
            return 0.0, -1.0
        angle = math.pi / 2 + flat[0]
        return math.cos(angle), -math.sin(angle)


def number(value: float) -> str:
    """A coordinate to a tenth of a unit, without a needless sign or point."""
    tenths = round(value * 10)
    whole, part = divmod(abs(tenths), 10)
    sign = "-" if tenths < 0 else ""
    return f"{sign}{whole}.{part}" if part else f"{sign}{whole}"


@dataclass(slots=True)
class Pen:
    """Draws one path. `mirrored` turns it left for right, for a left-handed maker."""

    mirrored: bool = False
    parts: list[str] = field(default_factory=list)
    low: list[float] = field(default_factory=lambda: [math.inf, math.inf])
    high: list[float] = field(default_factory=lambda: [-math.inf, -math.inf])

    @property
    def d(self) -> str:
        """The path's data."""
        return "".join(self.parts)

    def _point(self, point: Point) -> str:
        x, y = (-point[0] if self.mirrored else point[0]), point[1]
        for axis, value in enumerate((x, y)):
            self.low[axis] = min(self.low[axis], value)
            self.high[axis] = max(self.high[axis], value)
        return f"{number(x)} {number(y)}"

    def move(self, to: Point) -> None:
        """Lifts the pen."""
        self.parts.append(f"M{self._point(to)}")

    def line(self, start: Point, *to: Point) -> None:
        """A line through points."""
        self.move(start)
        self.parts.extend(f"L{self._point(point)}" for point in to)

    def curve(self, first: Point, second: Point, to: Point) -> None:
        """A cubic from where the pen is."""
        self.parts.append(f"C{self._point(first)} {self._point(second)} {self._point(to)}")

    def close(self) -> None:
        """Back to where the pen was set down."""
        self.parts.append("Z")

    def ellipse(self, center: Point, along: Point, across: Point) -> None:
        """An ellipse by its two half axes."""
        k = CIRCLE

        def at(a: float, b: float) -> Point:
            return center[0] + a * along[0] + b * across[0], center[1] + a * along[1] + b * across[1]

        self.move(at(1, 0))
        self.curve(at(1, k), at(k, 1), at(0, 1))
        self.curve(at(-k, 1), at(-1, k), at(-1, 0))
        self.curve(at(-1, -k), at(-k, -1), at(0, -1))
        self.curve(at(k, -1), at(1, -k), at(1, 0))
        self.close()


def toward(start: Point, to: Point) -> tuple[Point, float]:
    """Unit vector and distance from one point to another; upward where they are the same."""
    dx, dy = to[0] - start[0], to[1] - start[1]
    far = math.hypot(dx, dy)
    return ((dx / far, dy / far), far) if far > 1e-9 else ((0.0, -1.0), 0.0)


def moved(point: Point, *steps: tuple[Point, float]) -> Point:
    """A point moved along vectors by so much each."""
    x = point[0] + sum(vector[0] * by for vector, by in steps)
    y = point[1] + sum(vector[1] * by for vector, by in steps)
    return x, y


def right_of(vector: Point) -> Point:
    """A vector turned a quarter to the right as seen on the page."""
    return -vector[1], vector[0]


def mean(vectors: Sequence[Point]) -> Point:
    """The unit vector of the sum; upward where they cancel."""
    return toward((0.0, 0.0), (sum(v[0] for v in vectors), sum(v[1] for v in vectors)))[0]
