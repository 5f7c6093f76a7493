"""What a writer keeps between its transactions: what every write looks at need not be read and worked anew
for each.

Only its thread sees it. What is kept is as good as read from the database: it is taken for outdated as soon
as anything at all was written besides what `accounted` names, by whichever connection or process. It is also
given up together with the writes that it was made from: what a member put here goes when the member is rolled
back, all of it when a group is.
"""

from __future__ import annotations

import sqlite3
from collections import OrderedDict
from collections.abc import Hashable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from sqlmodel import Session

KEPT = "what the writer keeps"  # key in a session's info
WEIGHT_MOST = 100_000  # entries of logs, of some 700 bytes; anything else weighs as much as one


@dataclass(slots=True)
class _Value:
    value: object
    weight: int
    as_of: int


class Kept:
    """Values by key, those used last. Whoever keeps one of a `weight` other than 1 says so."""

    def __init__(self) -> None:
        self._values: OrderedDict[Hashable, _Value] = OrderedDict()
        self._weight = 0
        self._put_now: set[Hashable] = set()
        self._as_of = 0  # counts up whenever what was put before is outdated
        self._connection: sqlite3.Connection | None = None
        self._version: int | None = None  # of the database, as the connection sees it
        self._changes = 0  # that the connection had made when the member's turn began
        self._accounted = 0  # of those it has made since

    def begin_group(self, connection: sqlite3.Connection) -> None:
        """A group's transaction has begun on it; what another connection wrote meanwhile outdates all."""
        (version,) = connection.execute("PRAGMA data_version").fetchone()
        if connection is not self._connection or version != self._version:
            self._as_of += 1
        self._connection, self._version = connection, version

    def begin(self) -> None:
        """A member's turn begins."""
        self._put_now.clear()
        self._changes = self._made()
        self._accounted = 0

    def end(self) -> None:
        """A member's turn has ended well."""
        self._look_for_changes()

    def take_back(self) -> None:
        """Forgets what was put here in this turn: it may never be written."""
        for key in self._put_now:
            self._drop(key)
        self._put_now.clear()

    def clear(self) -> None:
        """Forgets everything."""
        self._values.clear()
        self._weight = 0
        self._put_now.clear()

    def get(self, key: Hashable) -> object | None:
        """The value, where it is not outdated; else None."""
        self._look_for_changes()
        kept = self._values.get(key)
        if kept is None or kept.as_of != self._as_of:
            return None
        self._values.move_to_end(key)
        return kept.value

    def outdated(self, key: Hashable) -> object | None:
        """The value, outdated or not, to be compared with what the database says now; None where there is
        none.
        """
        kept = self._values.get(key)
        return None if kept is None else kept.value

    def put(self, key: Hashable, value: object, weight: int = 1) -> None:
        """Keeps it, in the place of the one that was there."""
        self._look_for_changes()
        self._drop(key)
        self._values[key] = _Value(value, weight, self._as_of)
        self._weight += weight
        self._put_now.add(key)
        while self._weight > WEIGHT_MOST:
            _, oldest = self._values.popitem(last=False)
            self._weight -= oldest.weight

    @contextmanager
    def accounted(self) -> Iterator[None]:
        """What the block writes outdates nothing: whoever writes it puts here himself what it changes."""
        before = self._made()
        yield
        self._accounted += self._made() - before

    def _look_for_changes(self) -> None:
        made = self._made()
        if made != self._changes + self._accounted:
            self._as_of += 1
            self._changes = made - self._accounted

    def _made(self) -> int:
        assert self._connection is not None
        return self._connection.total_changes

    def _drop(self, key: Hashable) -> None:
        dropped = self._values.pop(key, None)
        if dropped is not None:
            self._weight -= dropped.weight


def kept_in(session: Session) -> Kept | None:
    """What the writer keeps, in a session of its, with all that the session held back flushed; None in any
    other.
    """
    kept = session.info.get(KEPT)
    if kept is None:
        return None
    assert isinstance(kept, Kept)
    flush_held_back(session)
    return kept


def flush_held_back(session: Session) -> None:
    """Sends what the session still holds back. It has begun a transaction wherever there may be such."""
    if session.in_transaction() and (session.new or session.dirty or session.deleted):
        session.flush()
