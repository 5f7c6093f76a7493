"""The waiting list: parts that are not published yet, in the order in which they are to come."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from sqlmodel import Session, col, select

from server.services.errors import NotFound
from server.services.series import owning
from server.storage.tables import Part, PatternVersion


@dataclass(frozen=True)
class Waiting:
    """A part that waits. has_text: something is written for it already."""

    part_id: int
    title: str
    has_text: bool
    is_first: bool
    is_last: bool


def waiting(session: Session, host_id: int, along_id: int) -> tuple[Waiting, ...]:
    """The waiting list of an along that she hosts."""
    owning.hosted(session, host_id, along_id)
    rows = rows_waiting(session, along_id)
    return tuple(
        Waiting(row.id or 0, row.title, bool(row.draft_text.strip()), at == 0, at == len(rows) - 1)
        for at, row in enumerate(rows)
    )


def rows_waiting(session: Session, along_id: int) -> Sequence[Part]:
    """The parts of an along that have no published version, in their order."""
    published = select(PatternVersion.part_id)
    return session.exec(
        select(Part)
        .where(Part.along_id == along_id, col(Part.id).not_in(published))
        .order_by(col(Part.position), col(Part.id))
    ).all()


def move(session: Session, host_id: int, part_id: int, way: Literal["earlier", "later"]) -> int:
    """Swap a waiting part with its neighbour on the list, if there is one; published parts stay where they
    are. Gives the along's id."""
    part = session.get(Part, part_id)
    if part is None:
        raise NotFound(owning.UNKNOWN)
    owning.hosted(session, host_id, part.along_id)
    every = session.exec(
        select(Part).where(Part.along_id == part.along_id).order_by(col(Part.position), col(Part.id))
    ).all()
    for position, row in enumerate(every, 1):
        row.position = position
        session.add(row)
    rows = rows_waiting(session, part.along_id)
    at = next((i for i, row in enumerate(rows) if row.id == part_id), None)
    if at is None:
        raise NotFound("This part is published: it does not wait any more.")
    other = at - 1 if way == "earlier" else at + 1
    if 0 <= other < len(rows):
        rows[at].position, rows[other].position = rows[other].position, rows[at].position
    return part.along_id
