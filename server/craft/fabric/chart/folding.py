"""Where a strip too wide for a page is cut: between stitches, not through them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from server.craft.fabric.chart.marks import Mark
from server.craft.fabric.chart.panels import Panel

REACH = 0.16  # of a piece's width that a cut may lie to either side of where even pieces would have it
STEPS = 24


def cuts(panel: Panel, pieces: int) -> tuple[float, ...]:
    """Positions along the strip that part it into so many pieces, where they cross the fewest stitches."""
    marks = [mark for one in panel.drawn for mark in one.level.marks] + [mark for _, mark in panel.base]
    spans = [_span(mark) for mark in marks]
    piece = panel.laid.width / pieces
    found = []
    for nth in range(1, pieces):
        wished = nth * piece
        tries = [wished + REACH * piece * step / STEPS for step in range(-STEPS, STEPS + 1)]
        found.append(
            min(tries, key=lambda at: (sum(low < at < high for low, high in spans), abs(at - wished)))
        )
    return tuple(found)


def _span(mark: Mark) -> tuple[float, float]:
    along = [u for u, _ in (*mark.feet, mark.top)]
    return min(along) - 2.0, max(along) + 2.0


def piece_of(u: float, at: Sequence[float]) -> int:
    """Which piece a position belongs to."""
    return bisect_right(at, u)
