"""When a maker was here last, put on record to the minute: to look at a page, or to log."""

from __future__ import annotations

from datetime import datetime, timedelta

from sqlmodel import Session, select

from server.storage import statements, tables
from server.storage.kept import kept_in

SEEN_EVERY = timedelta(minutes=1)


def seen_lately(session: Session, notebook_id: int, now: datetime) -> bool:
    """Whether her last visit is on record closely enough, so that a page can be shown without writing."""
    last = session.exec(select(tables.Notebook.last_seen_at).where(tables.Notebook.id == notebook_id)).first()
    return last is not None and now - last < SEEN_EVERY


def mark_seen(session: Session, notebook_id: int, now: datetime) -> None:
    """Put her visit on record, where the writer does not know that it did so within the minute."""
    kept = kept_in(session)
    key = ("seen", notebook_id)
    before = None if kept is None else kept.get(key)
    if isinstance(before, datetime) and abs(now - before) < SEEN_EVERY:
        return
    statements.put_seen(session, notebook_id, now)
    if kept is not None:
        kept.put(key, now)
