"""Which drawings a chart has: each strand its own, a hat's crown apart from its straight side."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal

from server.craft.fabric.chart.layout import lay_strand
from server.craft.fabric.chart.marks import Laid, Level, Mark
from server.craft.fabric.chart.measures import Specials
from server.craft.fabric.chart.strands import Strand, in_rows, made_places, strands
from server.craft.fabric.values import Fabric, WorkedSection

Layout = Literal["strip", "round", "rows"]
STRAIGHT_ROUNDS = 4  # so many rounds without an increase after a crown are a side, drawn as a strip
GROWS = 1.04  # a round with more than so many times the places of the one below increases


@dataclass(frozen=True, slots=True)
class Drawn:
    """A level in a panel. `context`: it only shows what the rounds of the panel stand on."""

    level: Level
    context: bool

    @property
    def spot(self) -> str:
        """The round's address."""
        return self.level.standing.worked.spot


@dataclass(frozen=True, slots=True)
class Panel:
    """One drawing of a chart.

    base      marks of the edge that the first round is worked into, each with the kind of place that it is
    sections  the titles of its rounds' sections, in order
    """

    layout: Layout
    laid: Laid
    drawn: tuple[Drawn, ...]
    base: tuple[tuple[str, Mark], ...]
    sections: tuple[WorkedSection, ...]
    edge: str

    @property
    def width(self) -> float:
        """How wide the drawing is, without labels, in drawing units."""
        if not self.laid.from_center:
            return self.laid.width
        tops = (mark.top[1] for one in self.drawn for mark in one.level.marks)
        return 2 * max(tops, default=0.0) + 20.0


def sections_of(piece: Fabric | Sequence[WorkedSection]) -> tuple[WorkedSection, ...]:
    """The sections of a piece, or those given."""
    return piece.sections if isinstance(piece, Fabric) else tuple(piece)


def panels(
    sections: Sequence[WorkedSection],
    *,
    layout: Layout | None,
    only: Collection[int] | None,
    specials: Specials,
) -> tuple[Panel, ...]:
    """The drawings of the sections whose index is in `only` (None for all)."""
    rows = in_rows(sections)
    by_index = {section.index: section for section in sections}
    made: list[Panel] = []
    for strand in strands(sections, rows=rows):
        wanted = [at for at, one in enumerate(strand.rounds) if only is None or one.worked.section in only]
        if not wanted:
            continue
        for chosen, first, last in _parts(strand, wanted, layout, rows=rows):
            shown = {at for at in wanted if first <= at <= last}
            made.append(_panel(strand, chosen, first, last, shown, by_index, specials))
    return tuple(panel for panel in made if panel.sections)


def round_panel(
    sections: Sequence[WorkedSection], spot: str, *, below: int, above: int = 0, specials: Specials
) -> Panel | None:
    """A strip of the round at a spot upon the `below` rounds below it and under the `above` rounds that come
    next; None where there is no such round.
    """
    rows = in_rows(sections)
    by_index = {section.index: section for section in sections}
    for strand in strands(sections, rows=rows):
        for at, one in enumerate(strand.rounds):
            if one.worked.spot == spot:
                layout: Layout = "strip" if one.circular else "rows"
                last = min(at + above, len(strand.rounds) - 1)
                panel = _panel(strand, layout, at, last, {at}, by_index, specials, below=below)
                return panel if panel.sections else None
    return None


def _parts(
    strand: Strand, wanted: Sequence[int], layout: Layout | None, *, rows: bool
) -> list[tuple[Layout, int, int]]:
    """Which rounds of a strand are drawn together, and how."""
    first, last = wanted[0], wanted[-1]
    if strand.base or (layout is None and not strand.from_ring):
        return [("rows" if rows and strand.in_rows else "strip", first, last)]
    if layout is not None:
        return [(layout, first, last)]
    crown = _crown_end(strand)
    if last - crown < STRAIGHT_ROUNDS:
        return [("round", first, last)]
    if first > crown:
        return [("strip", first, last)]
    return [("round", first, crown), ("strip", crown + 1, last)]


def _crown_end(strand: Strand) -> int:
    """Index of the last round that increases before the first straight rounds."""
    counts = [len(made_places(one.worked.path)) for one in strand.rounds]
    end = 0
    for at in range(1, len(counts)):
        if at - end > STRAIGHT_ROUNDS:
            break
        if counts[at] > GROWS * counts[at - 1]:
            end = at
    return end


def _panel(
    strand: Strand, layout: Layout, first: int, last: int, shown: Collection[int],
    by_index: dict[int, WorkedSection], specials: Specials, below: int = 1,
) -> Panel:  # fmt: skip
    from_center = layout == "round"
    start = 0 if from_center else max(0, first - below)
    if start and strand.rounds[start - 1].passed:
        start -= 1  # the chains that it passes stand up as its edge
    laid = lay_strand(strand, from_center=from_center, specials=specials, first=start, last=last)
    drawn = tuple(
        Drawn(level, start + at not in shown) for at, level in enumerate(laid.levels) if level.marks
    )
    indices = dict.fromkeys(one.level.standing.worked.section for one in drawn if not one.context)
    sections = tuple(by_index[index] for index in indices)
    return Panel(layout, laid, drawn, laid.base, sections, strand.edge)
