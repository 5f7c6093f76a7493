"""What of a page holds for one serving of it only: fresh ids, and words that the clock changes.

Whoever puts such a thing on a page says so here; a page that is kept (server.web.maker.readypages) then gets
fresh ones each time it is served, and is made anew once its words no longer hold.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from datetime import UTC, datetime

FOR_EVER = datetime.max.replace(tzinfo=UTC)


@dataclass
class Serving:
    """What was noticed while a page was made.

    ids    fresh ids on it, of the same length, in the order made
    until  from then on some of its words are others
    """

    ids: list[str] = field(default_factory=list)
    until: datetime = FOR_EVER
    clock_read: bool = False
    clock_told: bool = False

    @property
    def may_be_kept(self) -> bool:
        """False where something on it depends on the clock in a way that nobody told."""
        return self.clock_told or not self.clock_read


_noticing: ContextVar[Serving | None] = ContextVar("serving", default=None)


@contextmanager
def noticed() -> Iterator[Serving]:
    """Notices what is said within the block."""
    serving = Serving()
    token = _noticing.set(serving)
    try:
        yield serving
    finally:
        _noticing.reset(token)


def for_this_serving(fresh: str) -> str:
    """`fresh` itself: an id that no other serving of the page may have."""
    serving = _noticing.get()
    if serving is not None:
        serving.ids.append(fresh)
    return fresh


def clock_read() -> None:
    """The clock was read for something on the page."""
    serving = _noticing.get()
    if serving is not None:
        serving.clock_read = True


def holds_until(moment: datetime) -> None:
    """Words on the page are right until that moment."""
    serving = _noticing.get()
    if serving is not None:
        serving.clock_told = True
        serving.until = min(serving.until, moment)
