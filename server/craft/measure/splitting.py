"""A set of parts from one cake: how to split it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from server.craft.measure.beliefs import Range
from server.craft.measure.quantities import grams_text

Part = tuple[str, Range]
"""A part's name and the grams that it takes (see `needing.YarnNeed.grams`)."""


@dataclass(frozen=True, slots=True)
class Share:
    """What to set aside for one part, g; `need` is what it takes."""

    name: str
    set_aside_g: float
    need: Range
    says: str


@dataclass(frozen=True, slots=True)
class Split:
    """The shares, and what is over (below 0: short) at the middle of what they take together."""

    shares: tuple[Share, ...]
    over_g: float
    enough: bool
    says: tuple[str, ...]


def split_cake(parts: Sequence[Part], cake_g: float) -> Split:
    """Splits a cake so that each part is as sure as the others.

    Every part gets its middle and the same share of the way to its upper end; where not even the middles
    are there, the same share of its middle. ValueError for no parts, or a weight that is not above 0.
    """
    if not parts or cake_g <= 0:
        raise ValueError("A cake weighs more than 0 g, and is for at least one part.")
    middle = math.fsum(need.middle for _, need in parts)
    room = math.fsum(need.high - need.middle for _, need in parts)
    over = cake_g - middle
    if over >= 0:
        of_room = min(over / room, 1.0) if room > 0 else 0.0
        asides = [need.middle + of_room * (need.high - need.middle) for _, need in parts]
    else:
        asides = [need.middle * cake_g / middle for _, need in parts]
    shares = tuple(
        Share(
            name,
            aside,
            need,
            f"{name}: set {grams_text(aside)} aside (takes about {grams_text(need.middle)}).",
        )
        for (name, need), aside in zip(parts, asides, strict=True)
    )
    enough = cake_g >= middle + room
    if enough:
        all_of_them = "" if len(parts) == 1 else " for all"
        verdict = f"Enough{all_of_them}: {math.floor(cake_g - middle - room)} g stay over even so."
    elif over >= 0:
        verdict = "Enough if it goes as expected. " + (
            "Weigh again on the way."
            if len(parts) == 1
            else "Make the part first that must not fail, and weigh again."
        )
    else:
        verdict = f"Not enough: {math.ceil(-over)} g short. " + (
            "Fewer rounds or a smaller size may do."
            if len(parts) == 1
            else "Each part may give some rounds, or leave one out."
        )
    return Split(shares, over, enough, (*(share.says for share in shares), verdict))
