"""A project's log as it is read, and folded.

Every write looks at the log that it adds to, and a process' writer sees the same logs again and again. So it
keeps them (server.storage.kept), as long as the database says that nothing else has been written to them.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property, lru_cache, reduce

from sqlmodel import Session

from server.craft import making as craft
from server.storage import statements
from server.storage.kept import Kept, kept_in

WHAT = "log"  # with the project's id, its key among what is kept


@dataclass(frozen=True)
class Logged:
    """An entry of the log with the moment the server got it."""

    entry: craft.Entry
    received_at: datetime


@dataclass(frozen=True)
class Log:
    """All entries of a project, in the order that the fold works them.

    mark  what the log is known again by; None where nothing keeps it
    """

    entries: tuple[Logged, ...] = ()
    mark: statements.LogMark | None = None

    @cached_property
    def folding(self) -> craft.Folding:
        """The entries, folded."""
        return craft.folding(logged.entry for logged in self.entries)

    def with_rows(self, rows: Sequence[statements.EntryRow]) -> Log:
        """The log with these entries too, which are not in it yet, and will be written down in this order.
        What was folded is not folded again where they come after it.
        """
        new = sorted(map(logged_of, rows), key=_place_in_time)
        entries = (*self.entries, *new)
        if self.entries and new and _place_in_time(new[0]) < _place_in_time(self.entries[-1]):
            entries = tuple(sorted(entries, key=_place_in_time))
        mark = self.mark
        if mark is not None and rows:
            mark = statements.LogMark(mark.secret_hash, len(entries), rows[-1].id)
        log = Log(entries, mark)
        folded: craft.Folding | None = self.__dict__.get("folding")
        gone_on = reduce(_with_entry, (each.entry for each in new), folded)
        if gone_on is not None:
            log.__dict__["folding"] = gone_on
        return log


def read_log(session: Session, project_id: int) -> tuple[Logged, ...]:
    """All entries of a project, in the order that the fold works them."""
    return tuple(as_logged(row) for row in statements.log_rows(session, project_id))


def log_of(session: Session, project_id: int) -> Log:
    """The log of a project, which is there: as the writer keeps it, where that is still what is written."""
    kept = kept_in(session)
    if kept is None:
        return Log(read_log(session, project_id))
    key = (WHAT, project_id)
    log = kept.get(key)
    if isinstance(log, Log):
        return log
    mark = statements.log_mark(session, project_id)
    log = kept.outdated(key)  # something was written since: as a rule to other notebooks
    if not isinstance(log, Log) or log.mark != mark:
        log = Log(read_log(session, project_id), mark)
    keep_log(kept, project_id, log)
    return log


def keep_log(kept: Kept, project_id: int, log: Log) -> None:
    """Keeps a log for the writer's next turn, once all of it has been written down."""
    kept.put((WHAT, project_id), log, _weight(log))


def forget_logs(session: Session) -> None:
    """Leaves nothing of any log in this process' memory, where one was erased."""
    kept = kept_in(session)
    if kept is not None:
        kept.clear()
    as_logged.cache_clear()


def _weight(log: Log) -> int:
    return 1 + len(log.entries)


@lru_cache(maxsize=16_384)
def as_logged(row: statements.EntryRow) -> Logged:
    """`logged_of`. Rows never change, and are read again for every page; the values are shared, so nobody may
    change them either.
    """
    return logged_of(row)


def logged_of(row: statements.EntryRow) -> Logged:
    """An entry's row as a value."""
    return Logged(
        craft.Entry(
            id=row.id,
            piece=row.piece,
            kind=row.kind,
            values=json.loads(row.values_json),
            at=row.at,
            device=row.device,
            order=row.device_order,
        ),
        statements.moment_kept(row.received_at),
    )


def _place_in_time(one: Logged) -> craft.PlaceInTime:
    return craft.place_in_time(one.entry)


def _with_entry(folding: craft.Folding | None, entry: craft.Entry) -> craft.Folding | None:
    return None if folding is None else folding.with_entry(entry)
