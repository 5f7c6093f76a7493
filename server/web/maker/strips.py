"""The strip of rounds on the working page: this section's rounds, the one at hand lit, glove one's behind
it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from server.craft.making.standing import is_foundation
from server.services.notebooks import Desk


@dataclass(frozen=True)
class StripRound:
    """One round of the strip.

    state   worked, at hand, or to come
    other   glove one has it too
    """

    label: str
    state: Literal["worked", "now", "to come"]
    other: bool


def strip(desk: Desk, piece: int) -> tuple[StripRound, ...]:
    """The rounds of the section at hand, in order; with glove one's where it has more of them."""
    place = desk.place(piece)
    own = set(desk.making.pieces[piece].worked)
    one = set(desk.making.pieces[1].worked) if piece == 2 else set()
    at_hand = place.round.spot if place.round and place.kind == "round" else None
    rounds = [
        StripRound(
            each.label,
            "now" if each.spot == at_hand else "worked" if each.spot in own else "to come",
            each.spot in one,
        )
        for each in place.section.rounds
        if not is_foundation(each)
        if place.kind != "end fit" or place.round is None or each.spot != place.round.spot
    ]
    return tuple(rounds)
