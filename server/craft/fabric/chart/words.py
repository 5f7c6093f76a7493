"""What a chart says to someone who does not see it."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Literal

from server.craft.fabric.chart.panels import Panel
from server.craft.fabric.chart.strands import gap_run

Hand = Literal["right", "left"]


def several(number: int, one: str, more: str | None = None) -> str:
    """ "1 round", "3 rounds"."""
    return f"{number} {one if number == 1 else more or one + 's'}"


def title_of(title: str, panels: Sequence[Panel]) -> str:
    """The chart's title: the pattern's, and which sections."""
    names = listed(dict.fromkeys(section.title for panel in panels for section in panel.sections))
    return f"Chart of {title}: {names}" if title and names else f"Chart of {names or title or 'nothing yet'}"


def listed(names: Sequence[str] | dict[str, None]) -> str:
    """ "Cuff", "Cuff and Hand", "Cuff, Hand and Thumb"."""
    names = list(names)
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}" if names else ""


def description(panels: Sequence[Panel], hand: Hand, lit: str, other: Collection[str] | None = None) -> str:
    """Sentences that say what the chart shows."""
    said = [_panel(panel, hand) for panel in panels]
    if lit:
        said.append(f"{lit} is marked.")
    if other is not None:
        own = [one for panel in panels for one in panel.drawn]
        has = [one for one in own if one.spot in other]
        lit_has = any(one.spot in other for one in own if not one.context)
        if has:
            said.append(f"The other piece has {'this round too' if lit_has else 'no such round'}.")
    return " ".join(said) or "There is nothing to draw."


def _panel(panel: Panel, hand: Hand) -> str:
    rounds = [one.level.standing for one in panel.drawn if not one.context]
    names = listed([section.title for section in panel.sections])
    foundation = 0
    if rounds and rounds[0].worked.label.startswith("Foundation"):
        foundation = sum(1 for node in rounds[0].worked.path if node.kind == "chain")
        rounds = rounds[1:]
    many = several(len(rounds), "row" if panel.layout == "rows" else "round")
    start = (
        f"{several(foundation, 'foundation chain')} at the bottom and {many} above" if foundation else many
    )
    way, back = ("right to left", "left to right") if hand == "right" else ("left to right", "right to left")
    if panel.layout == "round":
        turn = "anticlockwise" if hand == "right" else "clockwise"
        said = f"{names}: {many} worked from the center, {turn}."
    elif panel.layout == "rows":
        first = way if not rounds or rounds[0].direction > 0 else back
        said = f"{names}: {start}, worked to and fro; the first row is read from {first}."
    else:
        edge = {
            "foundation": ", worked into the free side of the foundation",
            "gap": ", worked around the gap",
        }
        where = edge.get(panel.edge, "")
        said = f"{names}: a tube unrolled to a flat strip, {start}{where}, each read from {way}."
        if any(one.direction < 0 for one in rounds):
            said = f"{said[:-1]} unless its arrow points the other way."
    return " ".join([said, *_gaps(panel)])


def _gaps(panel: Panel) -> list[str]:
    kinds = {section.index: section for section in panel.sections}
    said = []
    for one in panel.drawn:
        section = kinds.get(one.level.standing.worked.section)
        if one.context or section is None or section.kind != "gap":
            continue
        run = gap_run(one.level.standing)
        if run is not None:
            said.append(f"{section.title}: {several(run[1] - run[0], 'chain')} over an opening.")
    return said
