"""What an ease feels like."""

from __future__ import annotations

from typing import Literal

from server.craft.measure.updating import EASE_FROM, EASE_TO

Feel = Literal["snug", "right", "loose"]
FAR = 0.05  # so much beyond the band it is felt at once


def feel_of(ease: float) -> Feel:
    """ "right" from −10 to 0 % of the hand, "snug" below, "loose" above (reference page, section 8)."""
    shown = round(ease, 2)  # as whole per cents, the way it is said beside
    if shown < EASE_FROM - 1e-9:
        return "snug"
    return "loose" if shown > EASE_TO + 1e-9 else "right"


def feel_words(ease: float) -> str:
    """The same in words that say how far."""
    feel = feel_of(ease)
    if feel == "right":
        return "right: it hugs the hand and slips on easily"
    if feel == "snug":
        if ease < EASE_FROM - FAR:
            return "too snug: it may not go over the knuckles"
        return "snug: it has to be pulled on"
    if ease > EASE_TO + FAR:
        return "too loose: it turns on the hand"
    return "a little loose: there is room in it"
