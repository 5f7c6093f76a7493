"""A wrong count helps to find the miss: what the likely slip is, from the fabric of the round."""

from __future__ import annotations

from functools import lru_cache

from server.craft import making as craft
from server.craft.fabric.values import Numbers
from server.services.notebooks.desk import Desk, Terms, read_pattern

COUNTED_MOST = 5000


def likely(desk: Desk, piece: int, spot: str, name: str, counted: int) -> tuple[craft.Miss, ...]:
    """The likely slips behind a count at a round, likeliest first; none where it is right, or where the round
    has no such thing to count.
    """
    if not 0 <= counted <= COUNTED_MOST:
        return ()
    return _misses(desk.version.text, desk.plan(piece).numbers, spot, name, counted, desk.terms)


@lru_cache(maxsize=256)
def _misses(
    text: str, numbers: Numbers, spot: str, name: str, counted: int, terms: Terms
) -> tuple[craft.Miss, ...]:
    return craft.misses(read_pattern(text), numbers, spot, name, counted, terms)
