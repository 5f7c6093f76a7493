"""A part's pattern as a printed sheet for all sizes: of the draft that is kept, or of a published version."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from threading import Lock

from sqlmodel import Session

from server.craft.fabric import Proof
from server.craft.making import Sheet, sheet
from server.craft.text.tree import Terms
from server.services import patterns

# A sheet works the pattern at every count, as a proof does: one after the other leaves room for short
# requests.
_WORKING = Lock()


@dataclass(frozen=True)
class Source:
    """The text that a sheet or a chart is made from. `version` is None for the draft."""

    part_id: int
    part_title: str
    version: int | None
    text: str
    proof: Proof


def draft(session: Session, host_id: int, part_id: int) -> Source:
    """The draft that is kept; NotFound where the part is not hers."""
    found = patterns.open_part(session, host_id, part_id)
    checked = patterns.check(found.text)
    return Source(part_id, found.part_title, None, checked.text, checked.proof)


def version(session: Session, host_id: int, part_id: int, number: int) -> Source:
    """A published version; NotFound where there is none, or the part is not hers."""
    found = patterns.version(session, host_id, part_id, number)
    checked = patterns.check(found.text)
    return Source(part_id, found.part_title, number, checked.text, checked.proof)


def sheet_of(source: Source, terms: Terms) -> Sheet | None:
    """Its sheet in these terms; None where the text is not proved."""
    return _made(source.text, terms) if source.proof.proved else None


@lru_cache(maxsize=32)  # the page, its text and the other terms are asked for one after another
def _made(text: str, terms: Terms) -> Sheet:
    with _WORKING:
        return sheet(patterns.check(text).proof.pattern, terms)
