"""Where a piece is worn, as far as its pattern says."""

from __future__ import annotations

import re

from server.craft.making.twinwords import piece_noun
from server.craft.text.tree import Pattern, RoundLine

NOT_ON_A_HAND = frozenset({"sock", "bootie", "slipper", "leg warmer", "sleeve"})
BY_TITLE = re.compile(r"\b(boots?|ankles?|legs?|foot|feet)\b", re.IGNORECASE)  # "Boot Cuffs": no glove either


def is_for_a_hand(pattern: Pattern) -> bool:
    """Whether it goes on a hand: its `Fits` line says so, or it is a pair that is neither for feet nor
    sleeves.
    """
    line = pattern.header.line("Fits")
    if line is not None and "hand" in line.value.lower():
        return True
    header = pattern.header
    named_otherwise = piece_noun(pattern) in NOT_ON_A_HAND or BY_TITLE.search(header.title)
    return header.pieces == "pair" and not named_otherwise


def chain_goes_along(pattern: Pattern) -> bool:
    """Whether the foundation is how long it is, and the rows go around: "Rows 2 to 32, or until it goes
    around the wrist". Its chains say nothing of how far around it is.
    """
    return pattern.header.worked == "rows" and any(
        isinstance(line, RoundLine)
        and line.label is not None
        and line.label.until is not None
        and "around" in line.label.until.lower()
        for section in pattern.sections
        for line in section.lines
    )
