"""What makers call themselves and what was said in rooms: seen by an along's hosts, hidden and shown again.

A hidden name is left out of every host's page, which others look at too; hidden words are left out of
everything that makers and the screen are shown. Nothing is deleted: a maker keeps what she wrote, and it goes
with her when she leaves.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func
from sqlmodel import Session, col, select

from server.services.errors import NotFound
from server.storage import hosting
from server.storage.tables import Along, Evening, Notebook, NotebookHidden, RoomEvent, RoomHidden

UNKNOWN = "There is nothing of yours at this address."
A_PAGE = 100
SAID = ("hand", "announce", "answer")  # kinds that have words for others


@dataclass(frozen=True)
class Name:
    """A maker's nickname. hidden_by: who has hidden it, "" where it is shown."""

    notebook_id: int
    nickname: str
    hidden_by: str


@dataclass(frozen=True)
class Words:
    """What a maker said with her hand up, or a host to all (notebook_id: 0, nickname: the host's name then).
    hidden_by: who has hidden it, "" where it is shown."""

    event_id: int
    evening_id: int
    evening_title: str
    notebook_id: int
    nickname: str
    words: str
    at: datetime
    hidden_by: str


@dataclass(frozen=True)
class Said:
    """Names and words of an along, a page of each: names in the order of the alphabet, the last words first.

    makers, many  how many there are in all
    """

    along_id: int
    along_title: str
    names: tuple[Name, ...]
    words: tuple[Words, ...]
    makers: int
    many: int
    page: int
    pages: int


def said(session: Session, host_id: int, along_id: int, page: int = 1) -> Said:
    """Of an along that she hosts, `page` from 1; NotFound for any other."""
    along = _own(session, host_id, along_id)
    makers = session.exec(
        select(func.count()).select_from(Notebook).where(Notebook.along_id == along_id)
    ).one()
    spoken = (
        Evening.along_id == along_id, RoomEvent.evening_id == Evening.id, col(RoomEvent.kind).in_(SAID),
        RoomEvent.words != "", (col(RoomEvent.kind) == "hand") | col(RoomEvent.notebook_id).is_(None),
    )  # fmt: skip
    many = session.exec(select(func.count()).select_from(RoomEvent).where(*spoken)).one()
    pages = max(1, -(-max(makers, many) // A_PAGE))
    page = min(max(page, 1), pages)
    first = (page - 1) * A_PAGE
    names = session.exec(
        select(Notebook, NotebookHidden)
        .where(Notebook.along_id == along_id)
        .outerjoin(NotebookHidden, col(NotebookHidden.notebook_id) == Notebook.id)
        .order_by(func.lower(Notebook.nickname), col(Notebook.id))
        .offset(first)
        .limit(A_PAGE)
    ).all()
    words = session.exec(
        select(RoomEvent, Evening, Notebook, RoomHidden)
        .where(*spoken)
        .outerjoin(Notebook, col(RoomEvent.notebook_id) == Notebook.id)
        .outerjoin(RoomHidden, col(RoomHidden.event_id) == RoomEvent.id)
        .order_by(col(RoomEvent.id).desc())
        .offset(first)
        .limit(A_PAGE)
    ).all()
    return Said(
        along_id,
        along.title,
        tuple(Name(n.id or 0, n.nickname, _by(hidden)) for n, hidden in names),
        tuple(_words(*row) for row in words),
        makers,
        many,
        page,
        pages,
    )


def _by(hidden: NotebookHidden | RoomHidden | None) -> str:
    return hidden.hidden_by if hidden is not None else ""


def _words(event: RoomEvent, evening: Evening, notebook: Notebook | None, hidden: RoomHidden | None) -> Words:
    whose = (notebook.id or 0, notebook.nickname) if notebook is not None else (0, event.said_by)
    return Words(
        event.id or 0, evening.id or 0, evening.title, *whose, event.words, event.at, _by(hidden)
    )  # fmt: skip


def hide_name(
    session: Session, host_id: int, along_id: int, notebook_id: int, now: datetime, *, hidden: bool
) -> None:
    """Hide a maker's nickname, or show it again; doing it twice changes nothing."""
    _own(session, host_id, along_id)
    notebook = session.get(Notebook, notebook_id)
    if notebook is None or notebook.along_id != along_id:
        raise NotFound(UNKNOWN)
    row = session.get(NotebookHidden, notebook_id)
    if hidden and row is None:
        by = hosting.shown_name(session, host_id)
        session.add(NotebookHidden(notebook_id=notebook_id, at=now, hidden_by=by))
    elif not hidden and row is not None:
        session.delete(row)


def evening_of(session: Session, host_id: int, along_id: int, event_id: int) -> int:
    """The evening in whose room that was said; NotFound where that is of no along that she hosts."""
    _own(session, host_id, along_id)
    event = session.get(RoomEvent, event_id)
    evening = session.get(Evening, event.evening_id) if event is not None else None
    if event is None or evening is None or evening.along_id != along_id or event.kind not in SAID:
        raise NotFound(UNKNOWN)
    return event.evening_id


def hide_words(
    session: Session, host_id: int, along_id: int, event_id: int, now: datetime, *, hidden: bool
) -> None:
    """Hide what a maker or a host said in a room, or show it again; doing it twice changes nothing."""
    evening_of(session, host_id, along_id, event_id)
    row = session.get(RoomHidden, event_id)
    if hidden and row is None:
        by = hosting.shown_name(session, host_id)
        session.add(RoomHidden(event_id=event_id, at=now, hidden_by=by))
    elif not hidden and row is not None:
        session.delete(row)


def _own(session: Session, host_id: int, along_id: int) -> Along:
    along = hosting.along_hosted_by(session, host_id, along_id)
    if along is None:
        raise NotFound(UNKNOWN)
    return along
