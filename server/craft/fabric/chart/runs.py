"""Runs of chains between two stitches: straight where there is room, bowed upward to an arc where there is
not."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from server.craft.fabric.chart.bodies import Picot, Run
from server.craft.fabric.chart.marks import Flat, Mark, Shape
from server.craft.fabric.chart.measures import CHAIN, CHAIN_THICK

STEPS = 48
LONGEST_OVAL = CHAIN * 1.3
SHARE = 0.93  # of its part of the run that an oval takes
CLEAR = CHAIN_THICK / 2 + 3.5
NEAR_ENDS = 0.12  # what lies so near an end of the run is not passed over
MORE_RISE = 8.0  # a bow is no steeper than this for the sake of what lies near its ends
TIED = 42.0  # chains farther apart than this have a thin line to lead the eye along them
BOW = 0.05  # of its span that a run with room to spare still bows


@dataclass(frozen=True, slots=True)
class Field:
    """How lengths in drawing units lie along a round."""

    from_center: bool

    def along(self, units: float, y: float) -> float:
        """A length as a step of u at height y."""
        return units / max(y, 1.0) if self.from_center else units

    def units(self, step: float, y: float) -> float:
        """A step of u as a length at height y."""
        return step * max(y, 1.0) if self.from_center else step


class Arc:
    """A curve from one flat point to another, bowed upward, walked by its length."""

    def __init__(self, start: Flat, end: Flat, bulge: float, field: Field) -> None:
        self.start, self.end, self.bulge = start, end, bulge
        span = field.units(end[0] - start[0], (start[1] + end[1]) / 2)
        self.lengths = [0.0]
        for step in range(1, STEPS + 1):
            here, before = step / STEPS, (step - 1) / STEPS
            rise = self._y(here) - self._y(before)
            self.lengths.append(self.lengths[-1] + math.hypot(span / STEPS, rise))

    @property
    def length(self) -> float:
        """Its whole length in drawing units."""
        return self.lengths[-1]

    def _y(self, t: float) -> float:
        return self.start[1] + (self.end[1] - self.start[1]) * t + 4 * self.bulge * t * (1 - t)

    def at(self, length: float) -> Flat:
        """The point so far along it."""
        length = min(max(length, 0.0), self.length)
        step = next((one for one in range(1, STEPS + 1) if self.lengths[one] >= length), STEPS)
        part = self.lengths[step] - self.lengths[step - 1]
        t = (step - 1 + ((length - self.lengths[step - 1]) / part if part else 0.0)) / STEPS
        return self.start[0] + (self.end[0] - self.start[0]) * t, self._y(t)


def arc_for(start: Flat, end: Flat, chains: int, passed: Sequence[Flat], field: Field) -> Arc:
    """The arc of so many chains, high enough to pass over the tops of what it passes."""
    wanted = chains * CHAIN
    span = abs(field.units(end[0] - start[0], (start[1] + end[1]) / 2))
    least = 0.0
    for v, y in passed:
        t = (v - start[0]) / (end[0] - start[0]) if end[0] != start[0] else 0.5
        if NEAR_ENDS < t < 1 - NEAR_ENDS:
            rise = y + CLEAR - (start[1] + (end[1] - start[1]) * t)
            least = max(least, min(rise / (4 * t * (1 - t)), rise + MORE_RISE))
    if chains >= 3:
        least = max(least, BOW * span)
    low, up = least, max(least, wanted)
    if Arc(start, end, low, field).length < wanted:
        for _ in range(24):
            middle = (low + up) / 2
            if Arc(start, end, middle, field).length < wanted:
                low = middle
            else:
                up = middle
    return Arc(start, end, low, field)


def lay_run(run: Run, arc: Arc, sign: int, field: Field, note: Callable[[Mark], None]) -> None:
    """Marks of a run along its arc, given in (v, y); `sign` makes v the u of the marks."""
    many = len(run.chains)
    pitch = arc.length / many if many else 0.0
    oval = min(LONGEST_OVAL, pitch * SHARE)
    for place, index in enumerate(run.chains):
        middle = (place + 0.5) * pitch
        tail, head = arc.at(middle - oval / 2), arc.at(middle + oval / 2)
        note(Mark(index, "oval", "ch", "ch", (_signed(tail, sign),), _signed(head, sign)))
    if many > 1 and pitch > TIED:
        ends = [arc.at(arc.length * step / 12) for step in range(13)]
        note(Mark(-1, "tie", "", "", tuple(_signed(end, sign) for end in ends), _signed(ends[-1], sign)))
    for picot in run.picots:
        if picot.after == 0:
            continue  # it stands upon the stitch before
        foot = arc.at(picot.after * pitch)
        lay_picot(picot, _signed((foot[0], foot[1] + 1.0), sign), field, note)


def lay_picot(picot: Picot, foot: Flat, field: Field, note: Callable[[Mark], None]) -> None:
    """A picot upon its foot: a closed ring; chains that were worked singly are the ring's ovals."""
    radius = picot_radius(picot.size)
    center = (foot[0], foot[1] + radius + 3.0)
    symbol = f"picot:{picot.size}"
    for place, index in enumerate(picot.chains):
        ends = []
        for side in (0.05, 0.95):
            turn = 2 * math.pi * (place + side) / picot.size
            step = field.along(-radius * math.sin(turn), center[1])
            ends.append((center[0] + step, center[1] - radius * math.cos(turn)))
        note(Mark(index, "oval", "ch", "ch", (ends[0],), ends[1]))
    shape: Shape = "dot" if picot.chains else "loop"
    top = (foot[0], foot[1] + 1.5) if picot.chains else (foot[0], center[1] + radius)
    note(Mark(picot.index, shape, symbol, "picot", (foot,), top, picot.size))


def picot_radius(chains: int) -> float:
    """Radius of the ring that a picot's chains make."""
    return max(4.6, chains * 8.5 / (2 * math.pi))


def _signed(point: Flat, sign: int) -> Flat:
    return sign * point[0], point[1]
