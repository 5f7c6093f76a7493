"""Whether a room is open: asked for by more than one use case."""

from __future__ import annotations

from sqlmodel import Session, col, select

from server.storage.tables import RoomEvent


def is_open(session: Session, evening_id: int) -> bool:
    """Whether the last thing said of the room is that it was opened."""
    last = session.exec(
        select(RoomEvent.kind)
        .where(RoomEvent.evening_id == evening_id, col(RoomEvent.kind).in_(("opened", "closed")))
        .order_by(col(RoomEvent.id).desc())
        .limit(1)
    ).first()
    return last == "opened"
