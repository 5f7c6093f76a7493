"""Lays a strand out, round over round: each stitch on what it is worked into, chains along their run."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from server.craft.fabric.chart import measures, spacing
from server.craft.fabric.chart.bodies import Sorted, sort
from server.craft.fabric.chart.marks import Laid, Level, Mark, Standing
from server.craft.fabric.chart.measures import CHAIN, CHAIN_THICK, RING_RADIUS, Specials
from server.craft.fabric.chart.rounds import Ground, RoundLayout
from server.craft.fabric.chart.runs import Field
from server.craft.fabric.chart.strands import BasePlace, Strand, StrandRound, made_places

SIDE_LENGTH = 26.0
GROWN = 1.25  # rows with more than so many times the stitches of the first have increases
BASE_WIDTHS = {"side": SIDE_LENGTH + 8.0, "skipped": measures.WIDTH + 3.0}


def lay_strand(
    strand: Strand, *, from_center: bool, specials: Specials, first: int = 0, last: int | None = None
) -> Laid:
    """Lays out the rounds from index `first` to `last` of a strand (both included; None for the last of all).

    The round below the first is then taken as evenly spaced.
    """
    rounds = strand.rounds[first : None if last is None else last + 1]
    field = Field(from_center)
    sorted_rounds = [sort(one) for one in rounds]
    base = _base_of(strand, first)
    seam = _seam(rounds, sorted_rounds) if not from_center else (0.0, 0.0)
    width = 2 * math.pi if from_center else _width(sorted_rounds, base, sum(seam))
    below = _inner_radius(rounds, sorted_rounds) if from_center else 0.0
    marks, ground = _lay_base(strand, base, first, width, below, seam)
    levels: list[Level] = []
    for standing, parts in zip(rounds, sorted_rounds, strict=True):
        if levels:
            ground = Ground([levels[-1].places[node] for node in standing.ring], below)
        if not (parts.bodies or parts.beside or parts.travels or ground.places):
            if not standing.circular:
                spare = width - _row_width(sorted_rounds)
                seam = spare / 2, spare / 2
            level = _lay_chain(standing, parts, width, below, field, seam)
        else:
            level = RoundLayout(standing, parts, ground, field, width, specials).lay()
        if levels and levels[-1].standing.passed:
            levels[-1] = _with_passed(levels[-1], level)
        levels.append(level)
    return Laid(tuple(levels), marks, width, from_center)


def _width(rounds: Sequence[Sorted], base: Sequence[BasePlace], seam: float) -> float:
    own = max((parts.before + parts.after for parts in rounds), default=0.0)
    widest = max((parts.demand() - parts.before - parts.after for parts in rounds), default=0.0) + max(
        own, seam
    )
    return max(widest, sum(_base_width(place) for place in base) + seam, 2 * CHAIN)


def _row_width(parts: Sequence[Sorted]) -> float:
    """Room for the foundation of rows: as the rows need that are not much longer than the first."""
    counts = [len(one.bodies) for one in parts]
    first = counts[1] if len(counts) > 1 else counts[0]
    return max(one.demand() for one, many in zip(parts, counts, strict=True) if many <= GROWN * first)


def _seam(rounds: Sequence[StrandRound], parts: Sequence[Sorted]) -> tuple[float, float]:
    """Room that the rounds' beginnings and joins take, which a row of even places has to leave free."""
    circular = [one for standing, one in zip(rounds, parts, strict=True) if standing.circular]
    return max((one.before for one in circular), default=0.0), max(
        (one.after for one in circular), default=0.0
    )


def _even(widths: Sequence[float], width: float, seam: tuple[float, float]) -> list[float]:
    """Centers of places spread evenly over a strip, but for its seam."""
    return [seam[0] + at for at in spacing.evenly(widths, width - sum(seam))]


# --- what lies below the first round -------------------------------------------------------------------


def _base_of(strand: Strand, first: int) -> tuple[BasePlace, ...]:
    """The places below: of the strand's edge, or of a round that is itself not laid out."""
    if first == 0:
        return strand.base
    below = strand.rounds[first - 1].worked.path
    return tuple(
        BasePlace("chain" if below[index].kind == "chain" else "stitch", below[index].name or "ch")
        for index in made_places(below)
    )


def _base_width(place: BasePlace) -> float:
    if place.kind in ("foundation", "underside", "chain"):
        return CHAIN + 0.6
    return BASE_WIDTHS.get(
        place.kind, measures.width(place.name) if place.kind == "stitch" else measures.WIDTH
    )


def _lay_base(
    strand: Strand,
    base: Sequence[BasePlace],
    first: int,
    width: float,
    floor: float,
    seam: tuple[float, float],
) -> tuple[tuple[tuple[str, Mark], ...], Ground]:
    lead = _lead(strand) if first == 0 else 0
    order = [(lead + step) % len(base) for step in range(len(base))]
    in_order = _even([_base_width(base[at]) for at in order], width, seam)
    centers = [in_order[order.index(at)] for at in range(len(base))]
    standings = [
        Standing(u, floor, place.kind in ("foundation", "underside", "chain"))
        for u, place in zip(centers, base, strict=True)
    ]
    if first:
        index_of = {node: at for at, node in enumerate(made_places(strand.rounds[first - 1].worked.path))}
        ring = [standings[index_of[node]] for node in strand.rounds[first].ring]
        if strand.rounds[first - 1].direction < 0:
            ring = [Standing(width - one.u, one.y, one.is_chain) for one in ring]
        return (), Ground(ring, floor)
    marks = [(place.kind, _base_mark(place, one)) for place, one in zip(base, standings, strict=True)]
    seen = tuple((marks[at][0], mark) for at in order if (mark := marks[at][1]) is not None)
    return seen, Ground(standings, floor)


def _lead(strand: Strand) -> int:
    """The place of the edge in which the first round begins."""
    path = strand.rounds[0].worked.path
    return next((node.base[0] for node in path if node.base and strand.rounds[0].circular), 0)


def _base_mark(place: BasePlace, at: Standing) -> Mark | None:
    if place.kind in ("foundation", "underside") or place.name == "ch":
        low = at.y - CHAIN_THICK / 2
        return Mark(-1, "oval", "ch", "ch", ((at.u - CHAIN * 0.46, low),), (at.u + CHAIN * 0.46, low))
    if place.kind == "side":
        half = SIDE_LENGTH / 2
        return Mark(
            -1, "post", place.name, place.name, ((at.u - half, at.y - 5.0),), (at.u + half, at.y - 5.0)
        )
    if place.kind == "skipped":
        tall = measures.height(place.name, {})
        return Mark(-1, "post", place.name, place.name, ((at.u, at.y - tall),), (at.u, at.y))
    return None


def _inner_radius(rounds: Sequence[StrandRound], parts: Sequence[Sorted]) -> float:
    """Where the first stitches have their feet in a chart worked from the center."""
    if not parts:
        return RING_RADIUS
    chains = len(parts[0].ring_chains) or (
        sum(len(run.chains) for run in parts[0].runs) if not parts[0].bodies else 0
    )
    radius = max(RING_RADIUS, chains * (CHAIN + 1.0) / (2 * math.pi) + 1.5)
    return radius + CHAIN_THICK / 2 if chains else radius


def _with_passed(level: Level, above: Level) -> Level:
    """The foundation's last chains where the row above has them: standing at its head, and along its top."""
    rail = next((mark for mark in above.marks if mark.shape == "rail"), None)
    lie = [mark for mark in above.marks[1:] if mark.shape == "oval"][: level.standing.spare]
    marks = list(level.marks)
    chains = [at for at, mark in enumerate(marks) if mark.shape == "oval"]
    spare = chains[len(chains) - level.standing.spare :]
    up = chains[len(chains) - len(spare) - level.standing.passed : len(chains) - len(spare)]
    for at, mark in zip(spare, lie, strict=False):
        marks[at] = replace(mark, node=marks[at].node)
    if rail is not None:
        low, high = rail.feet[0], rail.top
        for step, at in enumerate(up):
            ends = [(step + share) / len(up) for share in (0.03, 0.97)]
            tail, head = ((low[0] + (high[0] - low[0]) * t, low[1] + (high[1] - low[1]) * t) for t in ends)
            marks[at] = replace(marks[at], feet=(tail,), top=head)
    return replace(level, marks=tuple(marks))


def _lay_chain(
    standing: StrandRound, parts: Sorted, width: float, floor: float, field: Field, seam: tuple[float, float]
) -> Level:
    """A foundation: its chains evenly along, those that the next row passes standing up at its end."""
    chains = [index for run in parts.runs for index in run.chains]
    flat = chains[: len(chains) - standing.passed - standing.spare]
    standing_up = chains[len(flat) : len(chains) - standing.spare]
    spare = chains[len(flat) + len(standing_up) :]
    slots = len(flat) + len(spare) + (1 if standing_up else 0)
    sign = standing.direction
    centers = [sign * (v - (width if sign < 0 else 0.0)) for v in _even([CHAIN] * slots, width, seam)]
    half = sign * field.along(CHAIN * 0.46, floor)
    level_y = floor - CHAIN_THICK / 2
    marks: dict[int, Mark] = {}
    places: dict[int, Standing] = {}
    for index, u in zip(flat, centers, strict=False):
        marks[index] = Mark(index, "oval", "ch", "ch", ((u - half, level_y),), (u + half, level_y))
        places[index] = Standing(u, floor, True)
    pitch = measures.HEIGHTS["dc"] / 3
    for step, index in enumerate(standing_up):
        low = floor + step * pitch
        marks[index] = Mark(
            index, "oval", "ch", "ch", ((centers[-1], low + 0.4),), (centers[-1], low + pitch - 0.4)
        )
        places[index] = Standing(centers[-1], floor, True)
    for index in spare:  # for now; where they lie is known when the row above is laid out
        marks[index] = Mark(
            index, "oval", "ch", "ch", ((centers[-1] - half, floor),), (centers[-1] + half, floor)
        )
        places[index] = Standing(centers[-1], floor, True)
    end = centers[len(flat) - 1] if flat else 0.0
    for index in parts.joins:
        u = end + sign * field.along(CHAIN * 0.5 + 5.5, floor)
        marks[index] = Mark(index, "dot", "slip", "sl st", (), (u, level_y))
    first = centers[0] if centers else 0.0
    return Level(
        standing, tuple(marks[index] for index in sorted(marks)), places, (first - half, level_y - 6.0, floor)
    )
