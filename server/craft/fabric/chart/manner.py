"""How a chart is drawn, apart from what: its sheet, hand, terms, and what is marked."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from typing import Literal

from server.craft.fabric.chart.measures import Specials
from server.craft.fabric.chart.panels import Panel
from server.craft.fabric.chart.words import Hand
from server.craft.text.tree import Terms

A4_WIDTH_MM, A4_HEIGHT_MM = 180.0, 262.0  # of a page of 210 by 297 mm, without its margins
PX_PER_MM = 96 / 25.4
LEAST_SCALE = {"phone": 0.85, "page": 0.6}
LEAST_ROUND_SCALE = {"phone": 0.6, "page": 0.45}
LEAST_OF_PAGE = 0.75  # a chart higher than a page is drawn so much smaller, at most, to stand on one
LARGEST_SCALE = 1.25
LABELS = 130.0  # room that numbers and sections take beside a strip, about


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the chart has to fit: a width in CSS pixels, a page, or nothing."""

    width_px: int | None
    page: Literal["A4"] | None

    @property
    def target(self) -> float | None:
        """The width to fit in CSS pixels."""
        return A4_WIDTH_MM * PX_PER_MM if self.page else float(self.width_px) if self.width_px else None

    @property
    def kind(self) -> str:
        """Which limits hold."""
        return "page" if self.page else "phone"

    def scale(self, panels: Sequence[Panel]) -> float:
        """CSS pixels for a drawing unit."""
        if self.target is None or not panels:
            return 1.0
        scales = []
        for panel in panels:
            beside = 30.0 if panel.layout == "round" else LABELS
            least = (LEAST_ROUND_SCALE if panel.layout == "round" else LEAST_SCALE)[self.kind]
            wide = panel.width / self.pieces(panel)
            scales.append(min(LARGEST_SCALE, max(least, self.target / (wide + beside))))
        return min(scales)

    def pieces(self, panel: Panel) -> int:
        """In how many pieces a strip is drawn: on a page it cannot be scrolled."""
        if not self.page or panel.layout == "round" or self.target is None:
            return 1
        return max(1, math.ceil(panel.width / (self.target / LEAST_SCALE[self.kind] - LABELS)))

    def shown(self, wide: float, high: float, scale: float) -> tuple[str, str]:
        """The drawing's width and height as attributes."""
        if self.page:
            scale = min(scale, A4_WIDTH_MM * PX_PER_MM / wide)
            whole = A4_HEIGHT_MM * PX_PER_MM / high
            if whole < scale:
                scale = max(whole, scale * LEAST_OF_PAGE)
            return f"{wide * scale / PX_PER_MM:.1f}mm", f"{high * scale / PX_PER_MM:.1f}mm"
        if self.target is not None and wide * scale > self.target >= wide * scale * 0.9:
            scale = self.target / wide
        return f"{wide * scale:.0f}", f"{high * scale:.0f}"


@dataclass(frozen=True, slots=True)
class Manner:
    """How a chart is drawn, apart from what.

    other   spots of rounds that the other piece has, with a band behind them; None where there is no other
    key_px  how wide the key may be, where a wide drawing is scrolled: it then stands where the rounds start
    window  whether only so much of a strip is drawn, from where its lit round starts, as the sheet shows
    """

    terms: Terms
    hand: Hand
    sheet: Sheet
    highlight: str | None
    steps: tuple[int, int] | None
    specials: Specials = field(default_factory=dict)
    prefix: str = ""
    key: bool = True
    other: Collection[str] | None = None
    window: bool = False
    key_px: int | None = None
