"""Symbols in the published convention, drawn in an even pen line of our own.

Convention (reference page, section 5): chain an open oval, slip stitch a filled dot, single crochet a
cross, half double a T, double crochet a T with one slash, taller stitches one slash more for each yarn
over; a shared foot is an increase, a shared top a decrease; post stitches have a hooked foot, popcorn a
rounded cap, puff and bobble an oval, a picot is a small closed ring, and an arc under a stitch says
which loop.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from server.craft.fabric.chart.marks import Mark
from server.craft.fabric.chart.measures import CHAIN_THICK, FOOT_PAD, Specials, ladder_name, legs_of
from server.craft.fabric.chart.pen import Pen, Point, Projection, mean, moved, right_of, toward
from server.craft.fabric.chart.runs import picot_radius
from server.craft.text.vocabulary import CLOSED, POST

SLASHES = {"sl st": 0, "sc": 0, "hdc": 0, "dc": 1, "tr": 2, "dtr": 3, "trtr": 4}
BAR = 5.4  # half of a T's bar
CROSS = 4.8  # half of the bar of a single crochet's cross
SLASH = 3.6
SLASH_STEP = 5.0
UPPER, LOWER = 0.38, 0.56  # how far down a stem its slashes are: lower where stems meet at the top
TILT = math.radians(28)
DOT_RADIUS = 2.8
HOOK = 6.5
LOOP_ARC = 5.2
RAIL_BESIDE = 7.5
TOP_PAD = 1.0
FILLED = ("dot",)


def draw(mark: Mark, project: Projection, pen: Pen, specials: Specials) -> None:
    """Draws a mark."""
    top = project(mark.top)
    feet = [project(foot) for foot in mark.feet]
    if mark.shape == "oval":
        oval(pen, feet[0], top)
    elif mark.shape == "dot":
        pen.ellipse(top, (DOT_RADIUS, 0.0), (0.0, DOT_RADIUS))
    elif mark.shape == "ring":
        pen.ellipse(top, (mark.size, 0.0), (0.0, mark.size))
    elif mark.shape == "column":
        column(pen, feet[0], top, mark.size)
    elif mark.shape == "tie":
        pen.line(feet[0], *feet[1:])
    elif mark.shape == "rail":
        rail(pen, feet[0], top)
    elif mark.shape == "loop":
        loop(pen, feet[0], project.up(mark.feet[0]), mark.size)
    elif mark.name in CLOSED or not ladder_name(mark.name):
        _closed(pen, mark, feet[0], top, specials)
    else:
        _post(pen, mark, feet, top)


# --- chains --------------------------------------------------------------------------------------------


def oval(pen: Pen, start: Point, end: Point, thick: float = CHAIN_THICK) -> None:
    """A chain from one end to the other."""
    along, far = toward(start, end)
    center = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    side = right_of(along)
    pen.ellipse(center, (along[0] * far / 2, along[1] * far / 2), (side[0] * thick / 2, side[1] * thick / 2))


def column(pen: Pen, foot: Point, top: Point, chains: int) -> None:
    """A beginning chain, standing."""
    along, far = toward(foot, top)
    pitch = (far - FOOT_PAD * 0.6) / max(1, chains)
    for place in range(chains):
        low = FOOT_PAD * 0.6 + place * pitch
        oval(
            pen,
            moved(foot, (along, low + 0.35)),
            moved(foot, (along, low + pitch - 0.35)),
            CHAIN_THICK * 0.92,
        )


def rail(pen: Pen, foot: Point, top: Point) -> None:
    """A line beside chains that stand in a stitch's place."""
    along, far = toward(foot, top)
    side = right_of(along)
    low, high = (
        moved(foot, (side, RAIL_BESIDE), (along, 1.0)),
        moved(foot, (side, RAIL_BESIDE), (along, far - 1.0)),
    )
    pen.line(moved(low, (side, -2.6)), low, high, moved(high, (side, -2.6)))


def loop(pen: Pen, foot: Point, up: Point, chains: int) -> None:
    """A picot: a ring of chains, closed with a dot at its foot."""
    radius = picot_radius(chains)
    center = moved(foot, (up, radius + 3.0))
    side = right_of(up)
    ring = max(3, chains)
    for place in range(ring):
        ends = []
        for share in (0.06, 0.94):
            turn = 2 * math.pi * (place + share) / ring
            ends.append(moved(center, (up, -radius * math.cos(turn)), (side, radius * math.sin(turn))))
        oval(pen, ends[0], ends[1], 4.6)
    pen.ellipse(moved(foot, (up, 1.4)), (1.5, 0.0), (0.0, 1.5))


# --- stitches ------------------------------------------------------------------------------------------


def _post(pen: Pen, mark: Mark, feet: Sequence[Point], top: Point) -> None:
    rung = ladder_name(mark.name)
    hooked = POST.match(mark.name)
    directions = []
    for foot in feet:
        along, far = toward(foot, top)
        directions.append(along)
        pad = FOOT_PAD + (3.4 if mark.loop else 0.0)
        start = moved(foot, (along, min(pad, far / 3)))
        end = moved(top, (along, -TOP_PAD if rung != "sc" else -2.2))
        if hooked:
            start = moved(start, (along, HOOK * 0.55))
            _hook(pen, start, along, 1 if hooked[1] == "FP" else -1)
        pen.line(start, end)
        if rung == "sc":
            _cross(pen, moved(foot, (along, far * (0.55 if len(feet) == 1 else 0.42))), along)
        _slashes(pen, top, along, far, SLASHES[rung], UPPER if len(feet) == 1 else LOWER)
        if mark.loop:
            _loop_arc(pen, foot, along, mark.loop)
    if rung not in ("sc", "sl st"):
        _bar(pen, moved(top, (mean(directions), -TOP_PAD)), mean(directions))


def _cross(pen: Pen, at: Point, along: Point) -> None:
    side = right_of(along)
    pen.line(moved(at, (side, -CROSS)), moved(at, (side, CROSS)))


def _bar(pen: Pen, top: Point, along: Point, half: float = BAR) -> None:
    side = right_of(along)
    pen.line(moved(top, (side, -half)), moved(top, (side, half)))


def _slashes(pen: Pen, top: Point, along: Point, far: float, many: int, share: float = UPPER) -> None:
    """Slashes across a stem, one for each yarn over; `share` of its length below its top."""
    side = right_of(along)
    slant = (
        side[0] * math.cos(TILT) + along[0] * math.sin(TILT),
        side[1] * math.cos(TILT) + along[1] * math.sin(TILT),
    )
    first = far * share - (many - 1) * SLASH_STEP / 2
    for place in range(many):
        at = moved(top, (along, -(first + place * SLASH_STEP)))
        pen.line(moved(at, (slant, -SLASH)), moved(at, (slant, SLASH)))


def _hook(pen: Pen, start: Point, along: Point, side: int) -> None:
    """The foot of a post stitch: curved to the right for a front post, to the left for a back post."""
    right = right_of(along)
    out = side * HOOK
    pen.move(moved(start, (right, out), (along, 1.5)))
    pen.curve(
        moved(start, (right, out), (along, -HOOK * 0.9)),
        moved(start, (along, -HOOK * 0.9)),
        start,
    )


def _loop_arc(pen: Pen, foot: Point, along: Point, loop_name: str) -> None:
    """Under the stitch: a bowl for the back loop, an arch for the front loop, a level line for the third."""
    right = right_of(along)
    rise = {"back": 1.0, "front": -1.0}.get(loop_name, 0.0) * 3.2
    low = moved(foot, (along, 3.4 - rise / 2))
    ends = [moved(low, (right, side * LOOP_ARC), (along, rise)) for side in (-1, 1)]
    pen.move(ends[0])
    pen.curve(
        moved(low, (right, -LOOP_ARC * 0.5), (along, -rise * 0.33)),
        moved(low, (right, LOOP_ARC * 0.5), (along, -rise * 0.33)),
        ends[1],
    )


# --- stitches closed from several legs -----------------------------------------------------------------


def _closed(pen: Pen, mark: Mark, foot: Point, top: Point, specials: Specials) -> None:
    rung, legs = legs_of(mark.name, specials)
    along, far = toward(foot, top)
    right = right_of(along)
    low = moved(foot, (along, FOOT_PAD))
    if mark.name == "popcorn":
        _popcorn(pen, low, along, far - FOOT_PAD, legs)
        return
    if mark.name in ("puff", "bobble"):
        half = (far - FOOT_PAD - TOP_PAD) / 2
        center = moved(low, (along, half))
        wide = 5.6 if mark.name == "puff" else 7.4
        pen.ellipse(center, (along[0] * half, along[1] * half), (right[0] * wide, right[1] * wide))
        _stems(pen, low, along, 2 * half, max(1, min(legs - 2, 3)), wide * 0.42)
        if mark.name == "bobble":
            _slashes(pen, moved(low, (along, 2 * half)), along, 2 * half, SLASHES[rung])
        return
    _stems(pen, low, along, far - FOOT_PAD - TOP_PAD, min(legs, 4), 6.4, slashes=SLASHES[rung])
    _bar(pen, moved(top, (along, -TOP_PAD)), along)


def _stems(
    pen: Pen, foot: Point, along: Point, far: float, many: int, spread: float, slashes: int = 0
) -> None:
    """Stems from one foot to one top, bowed apart between."""
    right = right_of(along)
    top = moved(foot, (along, far))
    for place in range(many):
        out = 0.0 if many == 1 else spread * (2 * place / (many - 1) - 1)
        pen.move(foot)
        pen.curve(
            moved(foot, (along, far * 0.3), (right, out * 1.3)),
            moved(foot, (along, far * 0.7), (right, out * 1.3)),
            top,
        )
        if slashes:
            _slashes_at(
                pen, moved(foot, (along, far * (0.56 - 0.12 * (place % 2))), (right, out)), along, slashes
            )


def _slashes_at(pen: Pen, at: Point, along: Point, many: int) -> None:
    right = right_of(along)
    for place in range(many):
        here = moved(at, (along, (place - (many - 1) / 2) * 4.2))
        pen.line(moved(here, (right, -1.7), (along, -1.1)), moved(here, (right, 1.7), (along, 1.1)))


def _popcorn(pen: Pen, foot: Point, along: Point, far: float, legs: int) -> None:
    right = right_of(along)
    half, shoulder = 7.6, far * 0.7
    many = max(2, min(legs, 5))
    for place in range(many):
        out = half * (2 * place / (many - 1) - 1)
        pen.line(foot, moved(foot, (along, shoulder), (right, out)))
    left, end = moved(foot, (along, shoulder), (right, -half)), moved(foot, (along, shoulder), (right, half))
    rise = (far - shoulder) * 1.33
    pen.move(left)
    pen.curve(moved(left, (along, rise)), moved(end, (along, rise)), end)
