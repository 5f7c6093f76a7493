"""Her own facts about the yarn, and what they make of the model.

Two things are not known: by how much her stitches take more or less yarn than the model says (a factor),
and what a metre weighs. Each fact tells one of them, or both together (see `beliefs`); the best tell
most:

1. a glove weighed: factor · grams per metre, to the scale's gram;
2. a part of one weighed: the same, and the rest may take a little more or less;
3. a swatch weighed, or unravelled and measured (the factor alone);
4. a stitch count with the length it took: the factor, from one kind of stitch.

Without any of them the factor is 1, give or take about 13 %.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from server.craft.measure.beliefs import Belief, Range, Seen
from server.craft.measure.lengths import Units, length_text, weight_text
from server.craft.measure.putup import PutUp, grams_per_metre
from server.craft.measure.quantities import yarn_text
from server.craft.measure.yarnlength import Setting, prior_spread, stitch_mm
from server.craft.measure.yarntable import YarnCategory
from server.craft.text.vocabulary import full_words

SCALE_G = 1 / math.sqrt(12)  # a kitchen scale shows whole grams: any fraction up to half a gram either way
WHOLE_PIECE, PART, SWATCH, STITCHES = 0.01, 0.025, 0.06, 0.08
"""Judgement: how far a fact about one thing holds for the whole pair (another glove, another stretch, another
mixture of stitches)."""
NEAR_WHOLE = 0.999

Kind = Literal["glove", "part", "swatch weighed", "swatch unravelled", "stitches"]
RANKED: tuple[Kind, ...] = ("glove", "part", "swatch weighed", "swatch unravelled", "stitches")


@dataclass(frozen=True, slots=True)
class Weighed:
    """A glove or a part of it on the scale.

    model_m   metres of what was weighed by the model, tails included
    share     how much of the whole glove that is, 0 to 1 (1: it is finished)
    piece     which one: of several weighings of one piece the best counts
    """

    grams: float
    model_m: float
    share: float = 1.0
    piece: int = 1


@dataclass(frozen=True, slots=True)
class SwatchUsed:
    """A swatch of so many stitches of one kind: what it weighs, or (unravelled) how long its yarn is."""

    stitch: str
    count: int
    grams: float | None = None
    metres: float | None = None


@dataclass(frozen=True, slots=True)
class CountedLength:
    """So many stitches of one kind took so much yarn, mm."""

    stitch: str
    count: int
    length_mm: float


Fact = Weighed | SwatchUsed | CountedLength


@dataclass(frozen=True, slots=True)
class Calibration:
    """The factor and the grams per metre as they stand; `best` is the best fact, None for none."""

    belief: Belief
    best: Kind | None
    says: tuple[str, ...]

    def metres(self, model_m: float, besides: float = 0.0) -> Range:
        """Metres that so many metres of the model really are."""
        return self.belief.range(1, 0, besides).times(model_m)

    def grams(self, model_m: float, besides: float = 0.0) -> Range:
        """Grams of so many metres of the model."""
        return self.belief.range(1, 1, besides).times(model_m)

    def weight(self, metres: float) -> float:
        """Grams of so many true metres (tails), at the middle."""
        return self.belief.middle(0, 1) * metres


def calibrated(
    by: Setting,
    *,
    unmeasured: float = 0.0,
    put_up: PutUp | None = None,
    category: YarnCategory | None = None,
    facts: Iterable[Fact] = (),
    units: Units = "cm",
    noun: str = "glove",
) -> Calibration:
    """The calibration from the label and her facts, in any order; each only makes it surer.

    noun         what one of a pair is called; "piece" where there is but one
    unmeasured   share of the piece's yarn in stitches that were not measured (`PieceYarn.unmeasured`)
    ValueError for a fact whose numbers are not above 0, or a swatch with neither weight nor length.
    """
    g_per_m, spread, from_where = grams_per_metre(put_up, category, units)
    before = Belief.about(1.0, prior_spread(unmeasured), g_per_m, spread)
    said: list[str] = [from_where]
    best: list[Kind] = []
    belief = before
    for kind, seen in sorted(_told(tuple(facts), by, units, noun), key=lambda one: RANKED.index(one[0])):
        belief = belief.after(seen)
        said.append(seen.says)
        best.append(kind)
    if not best:
        first = f"{noun} one" if noun != "piece" else "the piece on its way"
        said.append(f"Yarn by stitch from published measurements. Weigh a swatch, or {first}, to be surer.")
    return Calibration(belief, best[0] if best else None, tuple(said))


def _told(facts: Sequence[Fact], by: Setting, units: Units, noun: str) -> list[tuple[Kind, Seen]]:
    told: list[tuple[Kind, Seen]] = []
    weighings: dict[int, tuple[Kind, Seen]] = {}
    for fact in dict.fromkeys(facts):
        if isinstance(fact, Weighed):
            kind, seen = _weighed(fact, noun)
            if fact.piece not in weighings or seen.spread < weighings[fact.piece][1].spread:
                weighings[fact.piece] = kind, seen
        elif isinstance(fact, SwatchUsed):
            told += _swatch(fact, by, units)
        else:
            told.append(_counted(fact, by, units))
    return [*weighings.values(), *told]


def _weighed(fact: Weighed, noun: str) -> tuple[Kind, Seen]:
    _all_above_0(fact.grams, fact.model_m, fact.share)
    whole = fact.share >= NEAR_WHOLE
    # The less of it was weighed, the more of what is to come is only guessed from it.
    holds = WHOLE_PIECE if whole else math.hypot(WHOLE_PIECE, PART * (2 - min(fact.share, 1.0)))
    name = "the piece" if noun == "piece" else f"{noun} {'one' if fact.piece == 1 else 'two'}"
    what = f"{name[0].upper()}{name[1:]}" if whole else f"{round(fact.share * 100)} % of {name}"
    says = f"{what} weighs {weight_text(fact.grams)}."
    seen = Seen(1, 1, fact.grams / fact.model_m, math.hypot(SCALE_G / fact.grams, holds), says)
    return ("glove" if whole else "part"), seen


def _swatch(fact: SwatchUsed, by: Setting, units: Units) -> list[tuple[Kind, Seen]]:
    _all_above_0(fact.count)
    model = fact.count * stitch_mm(fact.stitch) * by.scale / 1000
    name = f"The swatch of {fact.count} {full_words(fact.stitch, 'US')}"
    told: list[tuple[Kind, Seen]] = []
    if fact.grams is not None:
        _all_above_0(fact.grams)
        spread = math.hypot(SCALE_G / fact.grams, SWATCH)
        says = f"{name} weighs {weight_text(fact.grams)}."
        told.append(("swatch weighed", Seen(1, 1, fact.grams / model, spread, says)))
    if fact.metres is not None:
        _all_above_0(fact.metres)
        says = f"{name} took {yarn_text(fact.metres, units)}."
        told.append(("swatch unravelled", Seen(1, 0, fact.metres / model, SWATCH, says)))
    if not told:
        raise ValueError("a swatch is weighed, or unravelled and measured")
    return told


def _counted(fact: CountedLength, by: Setting, units: Units) -> tuple[Kind, Seen]:
    _all_above_0(fact.count, fact.length_mm)
    model = fact.count * stitch_mm(fact.stitch) * by.scale
    says = f"{fact.count} {full_words(fact.stitch, 'US')} took {length_text(fact.length_mm, units)} of yarn."
    return "stitches", Seen(1, 0, fact.length_mm / model, STITCHES, says)


def _all_above_0(*numbers: float) -> None:
    for number in numbers:
        if not 0 < number < math.inf:
            raise ValueError(f"a number above 0 is needed, not {number:g}")
