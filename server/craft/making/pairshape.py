"""What a piece looks like laid flat: every round a band, as wide as its stitches, as tall as its tallest one.

Widths come from the counts of the rounds and the gauge (or from what she measured), so that the drawing is of
the piece as made, not of the pattern's idea of it.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from server.craft.fabric.chart.measures import WIDTH, Specials, height, ladder_name
from server.craft.making.log import Making, Piece
from server.craft.making.shapes import Plan, PlanRound, PlanSection
from server.craft.making.spots import turn_of
from server.craft.making.standing import highest, is_foundation, left_behind, open_goal
from server.craft.text.reader import special_stitches
from server.craft.text.tree import Gauge, Pattern
from server.craft.text.vocabulary import CLOSED

MM_PER_CM = 10.0
PLAIN_STITCH_MM = 6.5  # without a gauge: only proportions are drawn, and that is said
SPACE = re.compile(r"ch-(\d+) sp")
Source = Literal["measured", "gauge", "proportions"]


@dataclass(frozen=True, slots=True)
class Scale:
    """How large a stitch is.

    stitch_mm  width of one foundation-count stitch
    unit_mm    millimetres for a unit of the charts' stitch heights
    source     where that comes from
    """

    stitch_mm: float
    unit_mm: float
    source: Source


@dataclass(frozen=True, slots=True)
class Band:
    """One round, laid flat.

    below_mm   its width where it stands on the round below
    width_mm   its width at its top
    height_mm  how tall it is
    made       it stands; else it is still to come
    """

    spot: str
    section: int
    below_mm: float
    width_mm: float
    height_mm: float
    made: bool


@dataclass(frozen=True, slots=True)
class Limb:
    """What is worked around a gap: a thumb, a leg. Its first band stands at the gap's round."""

    gap: str
    bands: tuple[Band, ...]


@dataclass(frozen=True, slots=True)
class Shape:
    """A piece laid flat.

    bands     of the body, in working order
    edging    bands that go down from the foundation, the nearest first
    limbs     what is worked around the gaps
    openings  rounds with a gap: how long its chains lie, half of them to be seen, mm
    downward  it begins at its tip (from a ring), and is drawn from the top down
    scale     what it was drawn with
    """

    bands: tuple[Band, ...]
    edging: tuple[Band, ...]
    limbs: tuple[Limb, ...]
    openings: Mapping[str, float]
    downward: bool
    scale: Scale

    @property
    def all_bands(self) -> tuple[Band, ...]:
        """Every band of it."""
        return (*self.bands, *self.edging, *(band for limb in self.limbs for band in limb.bands))

    def limb_of(self, section: int) -> bool:
        """Whether a section is of a limb."""
        return any(band.section == section for limb in self.limbs for band in limb.bands)

    @property
    def width_mm(self) -> float:
        """Of the body, at its widest."""
        return max((band.width_mm for band in (*self.bands, *self.edging)), default=0.0)

    @property
    def length_mm(self) -> float:
        """Of the body with its edging at the foundation."""
        return sum(band.height_mm for band in (*self.bands, *self.edging))


def shapes(pattern: Pattern, making: Making, plans: Mapping[int, Plan]) -> dict[int, Shape]:
    """The pieces of these plans (by their number) laid flat.

    A piece is drawn by what she measured of it; where she measured nothing of it, by what she measured of the
    other; where she measured neither, by the pattern's gauge.
    """
    specials = special_stitches(pattern)
    rows = pattern.header.worked == "rows"
    drawn: dict[int, Shape] = {}
    for number, plan in plans.items():
        scale = _by_gauge(pattern.header.gauge, plan, specials)
        drawn[number] = _shape(plan, making, number, scale, specials, rows=rows)
    measured = {
        number: _by_measures(shape, making.pieces[number])
        for number, shape in drawn.items()
        if making.pieces[number].measures
    }
    for number, plan in plans.items():
        scale = measured.get(number) or next(iter(measured.values()), drawn[number].scale)
        if scale is not drawn[number].scale:
            drawn[number] = _shape(plan, making, number, scale, specials, rows=rows)
    return drawn


# --- scale -------------------------------------------------------------------------------------------------


def _by_gauge(gauge: Gauge | None, plan: Plan, specials: Specials) -> Scale:
    """The gauge's rounds are taken as those that the piece has most of."""
    if gauge is None:
        return Scale(PLAIN_STITCH_MM, PLAIN_STITCH_MM / WIDTH, "proportions")
    stitch_mm = float(gauge.length_cm / gauge.stitches) * MM_PER_CM
    if gauge.rounds is None:
        return Scale(stitch_mm, stitch_mm / WIDTH, "gauge")
    tall = Counter(_units(each, specials) for each in plan.rounds if not _is_chain(each))
    usual = max(tall, key=lambda units: (tall[units], units), default=WIDTH)
    return Scale(stitch_mm, float(gauge.length_cm / gauge.rounds) * MM_PER_CM / usual, "gauge")


def _by_measures(shape: Shape, piece: Piece) -> Scale:
    """Widths: the mean of what was measured against what the shape has there; length: by the farthest
    round.
    """
    scale, at = shape.scale, {band.spot: index for index, band in enumerate(shape.bands)}
    ratios = [
        mm / shape.bands[at[spot]].width_mm
        for (what, spot), mm in sorted(piece.measures.items())
        if what == "width" and spot in at
    ]
    lengths = {at[spot]: mm for (what, spot), mm in piece.measures.items() if what == "length" and spot in at}
    wider = sum(ratios) / len(ratios) if ratios else 1.0
    longer = wider if scale.source == "proportions" else 1.0
    if lengths:
        last = max(lengths)
        longer = lengths[last] / sum(band.height_mm for band in shape.bands[: last + 1])
    if not ratios and scale.source == "proportions":
        wider = longer
    return Scale(scale.stitch_mm * wider, scale.unit_mm * longer, "measured")


# --- the shape ---------------------------------------------------------------------------------------------


def _shape(plan: Plan, making: Making, number: int, scale: Scale, specials: Specials, *, rows: bool) -> Shape:
    piece = making.pieces[number]
    offered = _offered(plan, making, piece)
    draw = _Drawing(scale, specials, set(piece.worked), rows)
    foundation = next((each for each in plan.rounds if _is_chain(each)), None)
    around = float(_places(foundation.counts)) if foundation else None
    body: list[Band] = []
    edging: list[Band] = []
    limbs: list[list[Band]] = []
    openings: dict[str, float] = {}
    strand = body
    width: float | None = around
    for section in plan.sections:
        rounds = [each for each in section.rounds if not _is_chain(each) and each.spot not in offered]
        if section.kind == "foundation edge":
            strand, width = edging, around
        elif section.kind == "gap edge":
            limbs.append([])
            strand, width = limbs[-1], None
        for each in rounds:
            band, width = draw.band(each, section, width)
            strand.append(band)
        if section.kind == "gap" and rounds:
            gap = max(rounds, key=lambda each: _longest_chain(each.counts))
            openings[gap.spot] = _longest_chain(gap.counts) * scale.stitch_mm / 2
    gaps = list(openings)
    return Shape(
        tuple(body),
        tuple(edging),
        tuple(Limb(gap, tuple(bands)) for gap, bands in zip(gaps, limbs, strict=False)),
        openings,
        foundation is None,
        scale,
    )


@dataclass(frozen=True, slots=True)
class _Drawing:
    scale: Scale
    specials: Specials
    standing: set[str]
    rows: bool

    def band(self, round_: PlanRound, section: PlanSection, below: float | None) -> tuple[Band, float]:
        """A round upon a width, in stitches, and its own: as wide as the one below, where its stitches and
        chains allow that. Chains stretch and hang in arches; stitches do not.
        """
        stitches, places = round_.counts.get("sts", 0), _places(round_.counts)
        wide = float(places) if below is None else min(max(below, stitches), places) or below
        foot = self._foot(section, below, wide)
        flat = self.scale.stitch_mm * (1.0 if self.rows else 0.5)
        tall = _units(round_, self.specials) * self.scale.unit_mm
        made = round_.spot in self.standing
        return Band(round_.spot, round_.section, foot * flat, wide * flat, tall, made), wide

    def _foot(self, section: PlanSection, below: float | None, wide: float) -> float:
        """How wide it stands: from a ring on nothing; a limb, and a row, as wide as it is."""
        if below is None:
            return 0.0 if section.kind == "body" else wide
        return wide if self.rows else below


def _is_chain(round_: PlanRound) -> bool:
    """The foundation, labelled or not: it is an edge, no band."""
    return is_foundation(round_) or set(round_.counts) == {"ch"}


def _offered(plan: Plan, making: Making, piece: Piece) -> set[str]:
    """Rounds that the plan has only so that she may go on; they are not to be made."""
    found, aside = set(), plan.aside
    for fit in plan.fits:
        if fit.fit in piece.fits_ended or left_behind(piece, fit.fit, aside) or piece.finished:
            continue
        goal, _ = open_goal(fit, making.pieces[1], piece, aside)
        most = max(goal, highest(piece, fit.fit))
        found |= {each.spot for each in plan.rounds if each.fit == fit.fit and turn_of(each.spot) > most}
    return found


def _places(counts: Mapping[str, int]) -> int:
    """Stitches, and the chains between them."""
    chains = sum(int(found[1]) * many for name, many in counts.items() if (found := SPACE.fullmatch(name)))
    return counts.get("sts", 0) + chains or counts.get("ch", 0)


def _longest_chain(counts: Mapping[str, int]) -> int:
    return max((int(found[1]) for name in counts if (found := SPACE.fullmatch(name))), default=0)


def _units(round_: PlanRound, specials: Specials) -> float:
    """How tall the round's tallest stitch is, in units of the charts."""
    return max((height(name, specials) for name in _stitches(round_.counts, specials)), default=WIDTH)


def _stitches(counts: Mapping[str, int], specials: Specials) -> Iterable[str]:
    for name, many in counts.items():
        closed = name in CLOSED or (name in specials and specials[name].one_stitch)
        if many and (closed or ladder_name(name)):
            yield name


def sections_from_below(sections: Sequence[PlanSection], *, downward: bool) -> list[PlanSection]:
    """Sections with rounds in the order that a piece lies in, from the foundation's edge up."""
    below = [each for each in sections if each.kind == "foundation edge"]
    rest = [each for each in sections if each.kind != "foundation edge"]
    placed = [*reversed(below), *rest]
    return list(reversed(placed)) if downward else placed
