"""What a piece measures at every size, laid flat: from the counts of its rounds and the pattern's gauge.

The gauge's rounds are taken as those that the piece has most of; others are as tall beside them as they are
drawn in charts (`pairshape`). No source has heights of all stitches in one gauge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from server.craft.fabric.values import Numbers
from server.craft.making.folding import fold
from server.craft.making.pairshape import Band, Shape, shapes
from server.craft.making.planning import plan
from server.craft.making.shapes import Plan
from server.craft.text.tree import Header, Pattern

SAME_MM = 5.0  # judgement: nobody lays a tape on crochet more closely than half a centimetre
Across = Literal["lower", "upper", "widest"]
Along = Literal["length", "to gap"]
Where = Literal["lower", "upper", "widest", "length", "to gap", "limb across", "limb length"]


@dataclass(frozen=True, slots=True)
class SizeMeasure:
    """One measure of the piece.

    letter  what the drawing calls it: "A"
    where   where it is taken; limb: which limb, from 0, for those of a limb
    name    "Lower edge, laid flat"
    around  what twice of it is called, where the piece is a tube there; else ""
    mm      for each size, in the pattern's order
    """

    letter: str
    where: Where
    name: str
    around: str
    mm: tuple[float, ...]
    limb: int = 0


@dataclass(frozen=True, slots=True)
class Measured:
    """A pattern measured at all its sizes.

    sizes     their names
    shapes    the piece at each of them
    measures  empty where the pattern has no gauge: then `why_not` says so
    to_fit    what the lengths take for granted, in a sentence; "" for nothing
    """

    sizes: tuple[str, ...]
    shapes: tuple[Shape, ...]
    measures: tuple[SizeMeasure, ...]
    to_fit: str
    why_not: str


def measured(pattern: Pattern) -> Measured:
    """The measures of a proved pattern. It works the piece once for each size."""
    header = pattern.header
    plans = [plan(pattern, numbers) for numbers in size_numbers(header)]
    nothing_made = fold(())
    laid = _alike([shapes(pattern, nothing_made, {1: each})[1] for each in plans])
    if header.gauge is None:
        return Measured(
            header.sizes, laid, (), "", "The pattern states no gauge, and measures follow from it."
        )
    found = list(_across(laid, rows=header.worked == "rows"))
    why_not = ""
    if header.gauge.rounds is not None:
        found += _along(laid, plans)
    else:
        why_not = "The gauge states no rounds, so that lengths do not follow from it."
    found += _limbs(laid, plans, with_length=header.gauge.rounds is not None)
    lettered = tuple(
        SizeMeasure(chr(ord("A") + at), each.where, each.name, each.around, each.mm, each.limb)
        for at, each in enumerate(found[:26])
    )
    return Measured(header.sizes, laid, lettered, _to_fit(plans), why_not)


def _alike(laid: Sequence[Shape]) -> tuple[Shape, ...]:
    """Shapes to one scale: the gauge's rounds are of one stitch at every size, the one that most sizes have
    most rounds of (the first of them where that is even)."""
    units = [each.scale.unit_mm for each in laid]
    unit_mm = max(units, key=units.count)
    return tuple(_as_tall(each, unit_mm / each.scale.unit_mm) for each in laid)


def _as_tall(shape: Shape, by: float) -> Shape:
    def taller(bands: Sequence[Band]) -> tuple[Band, ...]:
        return tuple(replace(band, height_mm=band.height_mm * by) for band in bands)

    return replace(
        shape,
        bands=taller(shape.bands),
        edging=taller(shape.edging),
        limbs=tuple(replace(limb, bands=taller(limb.bands)) for limb in shape.limbs),
        scale=replace(shape.scale, unit_mm=shape.scale.unit_mm * by),
    )


def size_numbers(header: Header) -> tuple[Numbers, ...]:
    """The numbers of each size, in the pattern's order."""
    foundations: Sequence[int | None] = header.foundations or (None,) * len(header.sizes)
    return tuple(Numbers(each, name) for each, name in zip(foundations, header.sizes, strict=True))


def lower_mm(shape: Shape) -> float:
    """How wide the edge is that lies lowest."""
    if shape.edging:
        return shape.edging[-1].width_mm
    return (shape.bands[-1].width_mm if shape.downward else shape.bands[0].below_mm) if shape.bands else 0.0


def upper_mm(shape: Shape) -> float:
    """How wide the edge is that lies highest."""
    if not shape.bands:
        return 0.0
    return shape.bands[0].below_mm if shape.downward else shape.bands[-1].width_mm


def _across(laid: Sequence[Shape], *, rows: bool) -> Iterator[SizeMeasure]:
    """Both edges and the widest place, each once where they are about the same."""
    kept: list[tuple[float, ...]] = []
    places: tuple[tuple[Across, str, tuple[float, ...]], ...] = (
        ("lower", "Lower edge", tuple(map(lower_mm, laid))),
        ("upper", "Upper edge", tuple(map(upper_mm, laid))),
        ("widest", "Widest", tuple(shape.width_mm for shape in laid)),
    )
    for where, name, mm in places:
        known = any(all(abs(a - b) < SAME_MM for a, b in zip(mm, other, strict=True)) for other in kept)
        if known or not all(mm):
            continue
        kept.append(mm)
        if rows:
            yield SizeMeasure("", where, f"{name}, across", "", mm)
        else:
            yield SizeMeasure("", where, f"{name}, laid flat", f"{name}, around", mm)


def _along(laid: Sequence[Shape], plans: Sequence[Plan]) -> Iterator[SizeMeasure]:
    yield SizeMeasure("", "length", "Length, edge to edge", "", tuple(each.length_mm for each in laid))
    if not all(each.openings for each in laid):
        return
    to_gap = tuple(gap_mm(each) for each in laid)
    section = next(s for s in plans[0].sections if s.kind == "gap")
    name = section.title.lower() or "gap"
    yield SizeMeasure("", "to gap", f"Lower edge to the {name}", "", to_gap)


def gap_mm(shape: Shape) -> float:
    """From the lowest edge up to where the first gap opens."""
    gap = next(iter(shape.openings))
    at = [band.spot for band in shape.bands].index(gap)
    inside = shape.bands[at + 1 :] if shape.downward else shape.bands[:at]
    return sum(band.height_mm for band in (*shape.edging, *inside))


def _limbs(laid: Sequence[Shape], plans: Sequence[Plan], *, with_length: bool) -> Iterator[SizeMeasure]:
    """Of each limb that differs from the one before, how wide and how long it is."""
    titles = {section.index: section.title for section in plans[0].sections}
    said: set[tuple[str, tuple[float, ...]]] = set()
    for number in range(min((len(each.limbs) for each in laid), default=0)):
        limbs = [each.limbs[number] for each in laid]
        if not all(limb.bands for limb in limbs):
            continue
        name = titles.get(limbs[0].bands[0].section, "") or "Thumb"
        across = tuple(limb.bands[-1].width_mm for limb in limbs)
        if (name, across) in said:
            continue
        said.add((name, across))
        yield SizeMeasure("", "limb across", f"{name}, laid flat", f"{name}, around", across, number)
        if with_length:
            long = tuple(sum(band.height_mm for band in limb.bands) for limb in limbs)
            yield SizeMeasure("", "limb length", f"{name}, length", "", long, number)


def _to_fit(plans: Sequence[Plan]) -> str:
    if not any(each.fits for each in plans):
        return ""
    return "Lengths are with the rounds as written; rounds to fit may be more or fewer on you."
