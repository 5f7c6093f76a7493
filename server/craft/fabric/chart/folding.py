"""Where a strip too wide for a page is cut: between stitches, not through them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from server.craft.fabric.chart.marks import Mark
from server.craft.fabric.chart.panels import Panel

REACH = 0.16  # of a piece's width that a cut may lie to either side of where even pieces would have it
WINDOW_REACH = 0.25  # of a window's width that may be left out at its end
STEPS = 24


def cuts(panel: Panel, pieces: int) -> tuple[float, ...]:
    """Positions along the strip that part it into so many pieces, where they cross the fewest stitches."""
    spans = _spans(panel)
    piece = panel.laid.width / pieces
    found = []
    for nth in range(1, pieces):
        wished = nth * piece
        tries = [wished + REACH * piece * step / STEPS for step in range(-STEPS, STEPS + 1)]
        found.append(_fewest(spans, tries, wished))
    return tuple(found)


def end_of_window(panel: Panel, start: float, wide: float, direction: int) -> float:
    """Where a strip shown from `start` on, at most so wide, is left off: through the fewest stitches."""
    wished = start + direction * wide
    tries = [wished - direction * WINDOW_REACH * wide * step / STEPS for step in range(STEPS + 1)]
    return _fewest(_spans(panel), tries, wished)


def _fewest(spans: Sequence[tuple[float, float]], tries: Sequence[float], wished: float) -> float:
    return min(tries, key=lambda at: (sum(low < at < high for low, high in spans), abs(at - wished)))


def _spans(panel: Panel) -> list[tuple[float, float]]:
    marks = [mark for one in panel.drawn for mark in one.level.marks] + [mark for _, mark in panel.base]
    return [_span(mark) for mark in marks]


def _span(mark: Mark) -> tuple[float, float]:
    along = [u for u, _ in (*mark.feet, mark.top)]
    return min(along) - 2.0, max(along) + 2.0


def piece_of(u: float, at: Sequence[float]) -> int:
    """Which piece a position belongs to."""
    return bisect_right(at, u)
