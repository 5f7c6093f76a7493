"""A pattern as a printed sheet for all sizes, kept for a while: its page, its text and the other terms are
asked for one after another.
"""

from __future__ import annotations

from functools import lru_cache
from threading import Lock

from server.craft.making import Sheet, sheet
from server.craft.text import read
from server.craft.text.tree import Terms

# A sheet works the pattern at every count, as a proof does: one after the other leaves room for short
# requests.
_WORKING = Lock()


@lru_cache(maxsize=32)
def sheet_of(text: str, terms: Terms) -> Sheet:
    """The sheet of a proved text. ValueError where some of its lines do not read."""
    with _WORKING:
        return sheet(read(text).pattern, terms)
