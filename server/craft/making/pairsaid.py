"""The words of the pair's drawing: names, numbers of rounds, what it is drawn by, and all of it for those who
do not see it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from server.craft.making.counting import many
from server.craft.making.differences import Difference
from server.craft.making.pairshape import Shape, sections_from_below
from server.craft.making.shapes import Plan, PlanSection
from server.craft.making.twinwords import piece_noun
from server.craft.measure.lengths import Units, length_text
from server.craft.text.tree import Pattern

BY = {
    "gauge": "Drawn to scale, by the pattern’s gauge.",
    "measured": "Drawn to scale, by what you measured.",
    "proportions": "Not to scale: the pattern states no gauge. Stitches and rounds are in proportion.",
}


@dataclass(frozen=True, slots=True)
class PairWords:
    """What the drawing says.

    names   by piece: "Glove one"
    sizes   by piece: "7.5 × 16 cm"; "" where it is not to scale
    rounds  by piece and section: "6"; "3/6" where 3 of 6 stand
    scale   what it is drawn by
    """

    title: str
    description: str
    names: Mapping[int, str]
    sizes: Mapping[int, str]
    rounds: Mapping[tuple[int, int], str]
    scale: str


def pair_words(
    pattern: Pattern,
    plans: Mapping[int, Plan],
    laid: Mapping[int, Shape],
    found: Sequence[Difference],
    title: str,
    units: Units,
) -> PairWords:
    """The words for these pieces. title: of a part in one piece."""
    noun = piece_noun(pattern)
    alone = len(plans) == 1
    names = {1: title or pattern.header.title} if alone else {
        piece: f"{noun.capitalize()} {word}" for piece, word in ((1, "one"), (2, "two"))
    }  # fmt: skip
    told = {
        (piece, section.index): _told(laid[piece], section.index)
        for piece, plan in plans.items()
        for section in plan.sections
    }
    scale = BY[laid[1].scale.source]
    return PairWords(
        title=f"{names[1]}, drawn" if alone else f"{names[1]} and {noun} two, drawn side by side",
        description=" ".join([scale, *_sections(plans, laid, names, told), *_differences(found)]),
        names=names,
        sizes={piece: _size(shape, units) for piece, shape in laid.items()},
        rounds={
            key: f"{made}" if made == whole else f"{made}/{whole}" for key, (made, whole) in told.items()
        },
        scale=scale,
    )


def _told(shape: Shape, section: int) -> tuple[int, int]:
    bands = [band for band in shape.all_bands if band.section == section]
    return sum(band.made for band in bands), len(bands)


def _size(shape: Shape, units: Units) -> str:
    if shape.scale.source == "proportions":
        return ""
    wide = length_text(shape.width_mm, units).removesuffix(f" {units}")
    return f"{wide} × {length_text(shape.length_mm, units)}"


def _sections(
    plans: Mapping[int, Plan],
    laid: Mapping[int, Shape],
    names: Mapping[int, str],
    told: Mapping[tuple[int, int], tuple[int, int]],
) -> list[str]:
    """From the bottom of the drawing up."""
    said = []
    for section in sections_from_below(plans[1].sections, downward=laid[1].downward):
        parts = [
            f"{_rounds(*told[piece, section.index])}{_in(names, piece)}"
            for piece in plans
            if told[piece, section.index][1]
        ]
        if parts:
            said.append(f"{_title(section)}: {', '.join(parts)}.")
    lead = "From the bottom up." if said else ""
    return [lead, *said] if lead else said


def _title(section: PlanSection) -> str:
    return section.title or "The piece"


def _in(names: Mapping[int, str], piece: int) -> str:
    return f" in {names[piece][:1].lower()}{names[piece][1:]}" if len(names) > 1 else ""


def _rounds(made: int, whole: int) -> str:
    if made == whole:
        return many(whole, "round")
    return f"{made} of {many(whole, 'round')}" if made else f"{many(whole, 'round')} to come"


def _differences(found: Sequence[Difference]) -> list[str]:
    said = [
        f"Difference {at}, {each.section_title}: {each.one} in one, {each.two} in two."
        for at, each in enumerate((each for each in found if not each.accepted), 1)
    ]
    meant = [each for each in found if each.accepted]
    return [*said, *([f"{many(len(meant), 'difference')} meant, with an empty mark."] if meant else [])]
