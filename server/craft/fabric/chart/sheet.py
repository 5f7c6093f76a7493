"""Puts a chart together on its sheet: how large, what beside what, a wide strip in pieces, the key below."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Sequence

from server.craft.fabric.chart import labels
from server.craft.fabric.chart.canvas import Box, Canvas, text_width
from server.craft.fabric.chart.folding import cuts, end_of_window, piece_of
from server.craft.fabric.chart.key import draw_key, entries, token
from server.craft.fabric.chart.manner import Manner
from server.craft.fabric.chart.marks import Mark
from server.craft.fabric.chart.panels import Drawn, Panel
from server.craft.fabric.chart.pen import Projection

TEXT_PX = 12.5
BETWEEN = 26.0
WINDOW_ROOM = 50.0  # that a window leaves beside the round and its number: for the arrow and the dots


class Draft:
    """A chart being put together."""

    def __init__(self, root: ET.Element, panels: Sequence[Panel], manner: Manner) -> None:
        self.root, self.panels, self.manner = root, panels, manner
        self.scale = manner.sheet.scale(panels)
        self.canvas = self._canvas()
        self.lit = ""
        self.used: list[Mark] = []
        self.begun: set[str] = set()
        drawn = [one.spot for panel in panels for one in panel.drawn]
        lit = manner.highlight
        self._above = set(drawn[drawn.index(lit) + 1 :]) if lit in drawn else set()
        self.own = {one.spot for panel in panels for one in panel.drawn if not one.context}

    def _canvas(self) -> Canvas:
        return Canvas(self.root, self.manner.hand == "left", TEXT_PX / self.scale, self.manner.specials)

    def draw(self) -> None:
        """Draws all panels one above another, and the key below."""
        done: list[tuple[ET.Element, Box]] = []
        for panel in self.panels:
            at = cuts(panel, self.manner.sheet.pieces(panel))
            for piece in range(len(at) + 1):
                done.append(self._piece(panel, piece, at))
        whole = max((box.width for _, box in done), default=0.0)
        y = 0.0
        for element, box in done:
            x = (whole - box.width) / 2 - box.left
            dx, dy = round(x, 1), round(y - box.top, 1)
            element.set("transform", f"translate({dx:g} {dy:g})")
            self.canvas.box.take_in(box.left + dx, box.top + dy, box.right + dx, box.bottom + dy)
            y += box.height + BETWEEN
        if self.manner.key and self.used:
            self._key(whole, y)

    # --- a panel ---------------------------------------------------------------------------------------

    def _piece(self, panel: Panel, piece: int, at: Sequence[float]) -> tuple[ET.Element, Box]:
        """One piece of a panel that is cut at these positions along it."""
        canvas = self._canvas()
        holder = canvas.group(self.root, class_=f"panel panel--{panel.layout}")
        project = Projection(panel.layout == "round")

        inside = self._window(panel)

        def here(u: float) -> bool:
            return inside[0] <= u <= inside[1] and (not at or piece_of(u, at) == piece)

        base = [(kind, mark) for kind, mark in panel.base if here(mark.top[0])]
        if base:
            group = canvas.group(holder, class_="round below", opacity="0.5")
            for _, mark in base:
                canvas.mark(group, mark, project, {"class": f"place {token(mark.symbol)}"})
                self.used.append(mark)
        for one in panel.drawn:
            if any(here(mark.top[0]) for mark in one.level.marks):
                group = self._round_group(canvas, holder, one)
                if self.manner.other is not None and one.spot in self.manner.other:
                    self._behind(canvas, group, one, here)
                self._marks(canvas, group, one, here, project)
        own = [mark for one in panel.drawn if not one.context for mark in one.level.marks]
        if self.manner.window and not all(here(mark.top[0]) for mark in own):
            labels.cut_dots(canvas, canvas.group(holder, class_="labels cut"), panel, inside)
        self._labels(canvas, holder, panel, base, piece, at)
        return holder, canvas.box

    def _window(self, panel: Panel) -> tuple[float, float]:
        """From where to where a strip is drawn: all of it, or what the sheet shows from the lit round's
        start.
        """
        whole = (-math.inf, math.inf)
        target = self.manner.sheet.target
        if not self.manner.window or target is None or panel.layout == "round":
            return whole
        lit = next((one.level for one in panel.drawn if one.spot == self.manner.highlight), None)
        if lit is None:
            return whole
        along = [mark.top[0] for one in panel.drawn for mark in one.level.marks]
        label = text_width(labels.number_of(lit), TEXT_PX / self.scale)
        wide = target / self.scale - WINDOW_ROOM - label
        if max(along) - min(along) <= wide:
            return whole
        if lit.standing.direction > 0:
            return (-math.inf, end_of_window(panel, min(along), wide, 1))
        return (end_of_window(panel, max(along), wide, -1), math.inf)

    def _behind(self, canvas: Canvas, group: ET.Element, one: Drawn, here: Callable[[float], bool]) -> None:
        """A band behind a round that the other piece has."""
        along = [u for mark in one.level.marks for u, _ in (*mark.feet, mark.top) if here(mark.top[0])]
        _, low, high = one.level.start
        left, right = min(along) - 3.0, max(along) + 3.0
        pen = canvas.pen()
        pen.line((-left, -low), (-left, -high - 1.0), (-right, -high - 1.0), (-right, -low))
        pen.close()
        canvas.path(
            group, pen, class_="band", fill="currentColor", fill_opacity="0.08", stroke_width="0.8",
            stroke_dasharray="3 2.5",
        )  # fmt: skip

    def _round_group(self, canvas: Canvas, holder: ET.Element, one: Drawn) -> ET.Element:
        manner = self.manner
        lit = manner.highlight == one.spot
        names = ["round"]
        attributes: dict[str, str] = {}
        if one.context:
            above = one.spot in self._above
            names.append("above" if above else "below")
            attributes["opacity"] = "0.35" if above else "0.5"
        elif lit:
            names.append("lit")
            worked = one.level.standing.worked
            section = next(
                (s.title for panel in self.panels for s in panel.sections if s.index == worked.section), ""
            )
            self.lit = f"{worked.label or 'A round'} of {section}" if section else worked.label
            attributes["stroke_width"] = "2.1"
        elif manner.highlight is not None:
            attributes["opacity"] = "0.6"
        base = f"{manner.prefix}r-{one.spot.replace('.', '-')}"
        if base not in self.begun and not (one.context and one.spot in self.own):
            self.begun.add(base)
            attributes["id"] = base
        return canvas.group(holder, class_=" ".join(names), data_spot=one.spot, **attributes)

    def _marks(
        self,
        canvas: Canvas,
        group: ET.Element,
        one: Drawn,
        here: Callable[[float], bool],
        project: Projection,
    ) -> None:
        steps = self.manner.steps if self.manner.highlight == one.spot else None
        again = one.context and one.spot in self.own  # another panel has it as its own
        stem = f"{self.manner.prefix}s-{one.spot.replace('.', '-')}"
        for tie in one.level.ties:
            if here(tie.top[0]):
                canvas.mark(group, tie, project, {"class": "tie", "stroke-width": "0.6"})
        shown = [mark for mark in one.level.marks if here(mark.top[0])]
        self.used.extend(shown)
        if self.manner.window and one.context:
            canvas.marks(group, shown, project)
            return
        for mark in shown:
            lit = steps is not None and steps[0] <= mark.node < steps[1]
            attributes = {"class": f"st {token(mark.symbol)}{' lit' if lit else ''}"}
            if not again:
                attributes["id"] = f"{stem}-{mark.node}"
            if lit:
                attributes["stroke-width"] = "3"
            canvas.mark(group, mark, project, attributes)

    # --- labels ----------------------------------------------------------------------------------------

    def _labels(
        self, canvas: Canvas, holder: ET.Element, panel: Panel, base: Sequence[tuple[str, Mark]], piece: int,
        at: Sequence[float],
    ) -> None:  # fmt: skip
        beside = canvas.group(holder, class_="labels")

        def group_of(one: Drawn) -> ET.Element:
            lit = " lit" if one.spot == self.manner.highlight else ""
            weight = {"font_weight": "bold"} if lit else {}
            return canvas.group(beside, class_=f"round-number{lit}", **weight)

        if panel.layout == "round":
            labels.center_numbers(canvas, group_of, panel.drawn)
            labels.center_arrow(canvas, canvas.group(holder, class_="labels"), panel)
            self._heading(canvas, beside, panel)
            return
        box = canvas.box
        edges = (-box.right, -box.left) if canvas.mirrored else (box.left, box.right)
        here = [one for one in panel.drawn if piece_of(one.level.start[0], at) == piece]
        labels.strip_numbers(canvas, group_of, panel, here, edges)
        if panel.edge == "gap":
            labels.edge_words(canvas, beside, base)
        labels.gap_word(canvas, beside, panel, lambda u: piece_of(u, at) == piece)
        left = -canvas.box.right if canvas.mirrored else canvas.box.left
        if len(panel.sections) > 1 and piece == len(at):
            bracket = canvas.group(holder, class_="labels sections")
            labels.section_brackets(canvas, bracket, panel, left)
        if len(panel.sections) == 1 or at:
            self._heading(canvas, beside, panel, f"{piece + 1} of {len(at) + 1}" if at else "")

    def _heading(self, canvas: Canvas, parent: ET.Element, panel: Panel, part: str = "") -> None:
        words = " · ".join(section.title for section in panel.sections)
        if part:
            words = f"{words} ({part})"
        x = (canvas.box.left + canvas.box.right) / 2
        at = (-x if canvas.mirrored else x, canvas.box.top - canvas.size * 0.9)
        canvas.text(parent, at, re.sub(r"\s+", " ", words), class_="heading", font_weight="bold")

    # --- key -------------------------------------------------------------------------------------------

    def _key(self, whole: float, y: float) -> None:
        canvas = self._canvas()
        canvas.mirrored = False
        target = self.manner.sheet.target
        wide = min(target / self.scale - 8.0, max(whole, 260.0)) if target else max(whole, 260.0)
        if self.manner.key_px is not None:
            wide = min(wide, self.manner.key_px / self.scale)
        notes = []
        round_or_row = "row" if all(panel.layout == "rows" for panel in self.panels) else "round"
        if any(panel.layout != "round" for panel in self.panels):
            notes.append(("start", f"{round_or_row} 2 starts here"))
        if any(panel.base or any(one.context for one in panel.drawn) for panel in self.panels):
            notes.append(("below", "lighter: already worked"))
        if self.manner.other is not None:
            notes.append(("other", "dashed band: the other piece has it"))
        lines = entries(self.used, self.manner.terms, self.manner.specials)
        holder = canvas.group(self.root, class_="legend")
        draw_key(canvas, holder, lines, notes, wide, y)
        box = canvas.box
        aside = 0.0
        if self.manner.key_px is not None and self.manner.hand == "right":
            aside = round(max(0.0, whole - max(wide, box.right)), 1)
            holder.set("transform", f"translate({aside:g} 0)")
        self.canvas.box.take_in(box.left + aside, box.top, box.right + aside, box.bottom)
