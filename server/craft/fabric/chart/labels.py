"""What stands beside the stitches: round numbers where the rounds start, sections, the gap."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Sequence

from server.craft.fabric.chart.canvas import Canvas, text_width, wrapped
from server.craft.fabric.chart.marks import Level, Mark
from server.craft.fabric.chart.measures import JOIN_SLOT, NUMBER_SLOT
from server.craft.fabric.chart.panels import Drawn, Panel
from server.craft.fabric.chart.pen import Projection, moved, right_of
from server.craft.fabric.chart.spacing import stacked
from server.craft.fabric.chart.strands import gap_run

ARROW = 6.0
FAR = 60.0  # a round that starts farther in than this has its number beside it, not in the column
NEAR = 6.0
SECTION_WIDEST = 92.0


def number_of(level: Level) -> str:
    """The number beside a round: its label's; for a foundation how many chains it has."""
    worked = level.standing.worked
    chains = sum(1 for node in worked.path if node.kind == "chain")
    if chains and all(node.kind in ("chain", "slip") for node in worked.path):
        return f"{chains} ch"
    found = re.search(r"\d+", worked.label)
    return found[0] if found else ""


def strip_numbers(
    canvas: Canvas,
    group_of: Callable[[Drawn], ET.Element],
    panel: Panel,
    levels: Sequence[Drawn],
    edges: tuple[float, float],
) -> None:
    """Round numbers with an arrow the way the round goes. `edges`: the stitches' left and right end."""
    for side in (1, -1):
        ours = [one for one in levels if not one.context and one.level.standing.direction == side]
        middles = [-(one.level.start[1] + one.level.start[2]) / 2 for one in ours]
        texts = stacked(middles, [canvas.size] * len(ours))
        for one, y, text_y in zip(ours, middles, texts, strict=True):
            own = max(-side * u for mark in one.level.marks for u, _ in (*mark.feet, mark.top)) + NEAR
            column = side * (edges[1] if side > 0 else edges[0])
            x = side * ((column if column - own < FAR else own) + 5.0)
            holder = group_of(one)
            pen = canvas.pen()
            pen.line((x, y), (x + side * ARROW, y - ARROW * 0.6), (x + side * ARROW, y + ARROW * 0.6))
            pen.close()
            canvas.path(holder, pen, class_="start", fill="currentColor", stroke="none")
            if words := number_of(one.level):
                at = (x + side * (ARROW + 4.0), text_y + canvas.size * 0.36)
                canvas.text(holder, at, words, anchor="start" if side > 0 else "end", class_="number")


def center_numbers(canvas: Canvas, group_of: Callable[[Drawn], ET.Element], levels: Sequence[Drawn]) -> None:
    """Round numbers in the room between a round's end and its start."""
    project = Projection(True)
    for one in levels:
        words = number_of(one.level)
        if one.context or not words:
            continue
        u, foot, top = one.level.start
        y = (foot + top) / 2
        joined = any(node.kind == "slip" and not node.base for node in one.level.standing.worked.path)
        out = (NUMBER_SLOT / 2 + (JOIN_SLOT if joined else 0.0) * 0.6) / max(top, 1.0)
        at = project((u - one.level.standing.direction * out, y))
        canvas.text(group_of(one), (at[0], at[1] + canvas.size * 0.36), words, class_="number")


def center_arrow(canvas: Canvas, parent: ET.Element, panel: Panel) -> None:
    """Outside, where the rounds start: an arrow the way they go."""
    project = Projection(True)
    last = panel.drawn[-1].level
    radius = max(mark.top[1] for mark in last.marks) + 13.0
    pen = canvas.pen()
    reach = 30.0 / radius * last.standing.direction
    steps = [project((last.start[0] + reach * (step / 8 - 0.5), radius)) for step in range(9)]
    pen.line(steps[0], *steps[1:])
    end, before = steps[-1], steps[-2]
    along = ((end[0] - before[0]), (end[1] - before[1]))
    far = (along[0] ** 2 + along[1] ** 2) ** 0.5 or 1.0
    along = (along[0] / far, along[1] / far)
    side = right_of(along)
    pen.line(moved(end, (along, -6.0), (side, -4.0)), end, moved(end, (along, -6.0), (side, 4.0)))
    canvas.path(parent, pen, class_="start")
    at = project((last.start[0], radius + canvas.size * 0.9 + 4.0))
    lean = at[0] / (radius + canvas.size)
    anchor = "middle" if abs(lean) < 0.35 else "start" if lean > 0 else "end"
    canvas.text(parent, (at[0], at[1] + canvas.size * 0.3), "start", anchor=anchor, class_="number")


def section_brackets(canvas: Canvas, parent: ET.Element, panel: Panel, left: float) -> None:
    """Beside the rounds' ends: which rounds make which section."""
    spans: list[tuple[float, float, list[str]]] = []
    for section in panel.sections:
        levels = [
            one.level
            for one in panel.drawn
            if not one.context and one.level.standing.worked.section == section.index
        ]
        low = min(level.start[1] for level in levels)
        high = max(level.start[2] for level in levels)
        spans.append((low, high, wrapped(section.title, SECTION_WIDEST, canvas.size)))
    line = canvas.size * 1.15
    wished = [-(low + high) / 2 for low, high, _ in spans]
    centers = stacked(wished, [len(lines) * line + 3.0 for _, _, lines in spans])
    x = left - 12.0
    for (low, high, lines), wish, center in zip(spans, wished, centers, strict=True):
        holder = canvas.group(parent, class_="section")
        pen = canvas.pen()
        pen.line((x + 4.0, -low - 2.0), (x, -low - 2.0), (x, -high + 2.0), (x + 4.0, -high + 2.0))
        pen.line((x, wish), (x - 7.0, center))
        canvas.path(holder, pen, class_="bracket", stroke_width="1")
        for place, words in enumerate(lines):
            y = center + (place - (len(lines) - 1) / 2) * line + canvas.size * 0.36
            canvas.text(holder, (x - 10.0, y), words, anchor="end")


EDGE_LEAST = 34.0
EDGE_INSET = 2.5  # between the lines under neighbouring edges
EDGE_LINES = 2  # lines that the words under an edge take at most
EDGE_WORDS = {"skipped": "passed over", "side": "side", "underside": "under the chains"}


def edge_words(canvas: Canvas, parent: ET.Element, base: Sequence[tuple[str, Mark]]) -> None:
    """Under the places around a gap: which part of its edge they are."""
    runs: list[tuple[str, list[Mark]]] = []
    for kind, mark in base:
        if not runs or runs[-1][0] != kind:
            runs.append((kind, []))
        runs[-1][1].append(mark)
    low = -min((min(y for _, y in [*mark.feet, mark.top]) for _, mark in base), default=0.0)
    ends = [-math.inf, -math.inf, -math.inf]  # of the words on each level
    for kind, marks in sorted(runs, key=lambda run: -max(mark.top[0] for mark in run[1])):
        us = [-u for mark in marks for u, _ in [*mark.feet, mark.top]]
        left, right = min(us), max(us)
        lines = wrapped(EDGE_WORDS.get(kind, ""), max(right - left, EDGE_LEAST), canvas.size)
        half = max(text_width(line, canvas.size) for line in lines) / 2
        x = (left + right) / 2
        level = next((at for at, end in enumerate(ends) if end + 5.0 <= x - half), len(ends) - 1)
        ends[level] = x + half
        y = low + canvas.size * (0.7 + level * (1.1 * EDGE_LINES + 0.2))
        reach = max((right - left) / 2 - EDGE_INSET, 4.0)
        _under(canvas, parent, (x - reach, x + reach), (x, low + canvas.size * 0.25), y)
        for place, words in enumerate(lines):
            canvas.text(parent, (x, y + canvas.size * (0.9 + 1.1 * place)), words, class_="edge")


def _under(
    canvas: Canvas, parent: ET.Element, span: tuple[float, float], at: tuple[float, float], down: float
) -> None:
    """A line under some places, and one from it to their words."""
    pen = canvas.pen()
    pen.line((span[0], at[1]), (span[1], at[1]))
    pen.line(at, (at[0], down))
    canvas.path(parent, pen, class_="bracket", stroke_width="0.8")


def gap_word(canvas: Canvas, parent: ET.Element, panel: Panel, here: Callable[[float], bool]) -> None:
    """The word for the opening, in the open cloth under a gap's chains."""
    kinds = {section.index: section for section in panel.sections}
    for below, one in zip(panel.drawn, panel.drawn[1:], strict=False):
        section = kinds.get(one.level.standing.worked.section)
        if section is None or section.kind != "gap":
            continue
        run = gap_run(one.level.standing)
        if run is None or run[1] - run[0] < 3:
            continue
        marks = {mark.node: mark for mark in one.level.marks}
        ovals = [marks[index] for index in range(run[0], run[1])]
        u = sum(mark.top[0] + mark.feet[0][0] for mark in ovals) / (2 * len(ovals))
        high = min(
            min(mark.top[1], mark.feet[0][1]) for mark in ovals[len(ovals) // 3 : -(len(ovals) // 3) or None]
        )
        low = max(below.level.places[one.level.standing.ring[index]].y for index in run[2])
        wide = abs(ovals[-1].top[0] - ovals[0].feet[0][0])
        if high - low < canvas.size * 1.3 or text_width("gap", canvas.size) > wide or not here(u):
            continue
        title = section.title.lower()
        words = title if text_width(title, canvas.size) < wide * 0.85 and "gap" in title else "gap"
        at = Projection(False)((u, (high + low) / 2))
        canvas.text(parent, (at[0], at[1] + canvas.size * 0.3), words, class_="gap")


def cut_dots(canvas: Canvas, parent: ET.Element, panel: Panel, inside: tuple[float, float]) -> None:
    """Three dots where a round goes on beyond what is drawn."""
    for one in panel.drawn:
        if one.context:
            continue
        low, high = inside
        beyond = high if high != math.inf else low
        side = 1 if high != math.inf else -1
        _, foot, top = one.level.start
        for place in range(3):
            at = Projection(False)((beyond + side * (14.0 + 6.0 * place), (foot + top) / 2))
            pen = canvas.pen()
            pen.ellipse(at, (1.4, 0.0), (0.0, 1.4))
            canvas.path(parent, pen, class_="dot", fill="currentColor", stroke="none")
