"""Where a piece is worn, as far as its pattern says."""

from __future__ import annotations

from server.craft.making.twinwords import piece_noun
from server.craft.text.tree import Pattern

NOT_ON_A_HAND = frozenset({"sock", "bootie", "slipper", "leg warmer", "sleeve"})


def is_for_a_hand(pattern: Pattern) -> bool:
    """Whether it goes on a hand: its `Fits` line says so, or it is a pair that is neither for feet nor
    sleeves.
    """
    line = pattern.header.line("Fits")
    if line is not None and "hand" in line.value.lower():
        return True
    return pattern.header.pieces == "pair" and piece_noun(pattern) not in NOT_ON_A_HAND
