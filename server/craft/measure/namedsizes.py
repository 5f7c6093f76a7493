"""A named size for a hand, from what a pattern says its sizes fit: for pieces that begin in a ring."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from server.craft.measure.hands import Hand
from server.craft.measure.lengths import Units, length_text


@dataclass(frozen=True, slots=True)
class NamedSize:
    """The size whose hand is nearest, and how far it is off, mm (above 0: made for a larger hand)."""

    name: str
    fits_mm: float
    off_mm: float
    says: str


def size_for(
    names: Sequence[str], fits_cm: Sequence[float], hand: Hand, units: Units = "cm"
) -> NamedSize | None:
    """The size that a pattern's `Fits` line has nearest to the hand; the larger of two as near ("go up a size
    if unsure": kniterdone 2008). None where the pattern does not say whom its sizes fit.
    """
    if not fits_cm or len(fits_cm) not in (1, len(names)):
        return None
    sizes = list(zip(names, [fits_cm[0]] * len(names) if len(fits_cm) == 1 else fits_cm, strict=True))
    if not sizes:
        return None
    name, cm = min(sizes, key=lambda size: (abs(size[1] * 10 - hand.around_mm), -size[1]))
    off = cm * 10 - hand.around_mm
    made, yours = length_text(cm * 10, units), length_text(hand.around_mm, units)
    says = f"{name}: made for a hand of {made}, yours has {yours}."
    return NamedSize(name, cm * 10, off, says)
