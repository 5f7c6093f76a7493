"""A pattern as a printed sheet for all sizes, with its measures and its chart, kept for a while: its page,
its text, its PDF and the other terms are asked for one after another.
"""

from __future__ import annotations

from functools import lru_cache
from threading import Lock

from server.craft.fabric import work
from server.craft.fabric.chart import chart
from server.craft.making import Sheet, sheet
from server.craft.making.sizemeasures import Measured, measured, size_numbers
from server.craft.text import read
from server.craft.text.reader import special_stitches
from server.craft.text.tree import Terms

# A sheet works the pattern at every count, as a proof does: one after the other leaves room for short
# requests.
_WORKING = Lock()


@lru_cache(maxsize=32)
def sheet_of(text: str, terms: Terms) -> Sheet:
    """The sheet of a proved text. ValueError where some of its lines do not read."""
    with _WORKING:
        return sheet(read(text).pattern, terms)


@lru_cache(maxsize=32)
def measured_of(text: str) -> Measured:
    """What the piece of a proved text measures at each size."""
    with _WORKING:
        return measured(read(text).pattern)


@lru_cache(maxsize=16)
def chart_of(text: str, terms: Terms) -> tuple[str, str]:
    """(SVG, size): the chart of a proved text with its key, for a page of paper, at its smallest size."""
    with _WORKING:
        pattern = read(text).pattern
        numbers = size_numbers(pattern.header)[0]
        drawn = chart(
            work(pattern, numbers),
            terms=terms,
            page="A4",
            special=special_stitches(pattern),
            title=f"{pattern.header.title}, {numbers.size}",
            prefix="sheet-",
        )
        return drawn, str(numbers.size)
