"""What there was in the room of an evening: when it was open, and which round was shown when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func
from sqlmodel import Session, col, select

from server.storage.tables import Evening, RoomEvent

STEPS_MOST = 5000  # of an evening; a host who taps through a whole pattern twice makes a few hundred


@dataclass(frozen=True)
class ShownStep:
    """A step as it was shown. address: "section.line.turn"; step: from 0, None for the whole round."""

    at: datetime
    part_id: int
    version_id: int
    address: str
    step: int | None


@dataclass(frozen=True)
class Timeline:
    """closed_at: when the room was last closed; None while it is open."""

    opened_at: datetime
    closed_at: datetime | None
    steps: tuple[ShownStep, ...]


def told_again(session: Session, along_id: int) -> frozenset[int]:
    """The evenings of an along whose rooms were open, and are closed now."""
    rows = session.exec(
        select(RoomEvent.evening_id, func.max(RoomEvent.id))
        .where(
            Evening.along_id == along_id,
            RoomEvent.evening_id == Evening.id,
            col(RoomEvent.kind).in_(("opened", "closed")),
        )
        .group_by(col(RoomEvent.evening_id))
    ).all()
    last = session.exec(
        select(RoomEvent.evening_id).where(
            col(RoomEvent.id).in_([number for _, number in rows]), RoomEvent.kind == "closed"
        )
    ).all()
    return frozenset(last)


def timeline(session: Session, evening_id: int) -> Timeline | None:
    """Of an evening; None where its room was never opened."""
    rows = session.exec(
        select(RoomEvent)
        .where(RoomEvent.evening_id == evening_id, col(RoomEvent.kind).in_(("opened", "closed", "step")))
        .order_by(col(RoomEvent.id))
        .limit(STEPS_MOST)
    ).all()
    opened = next((row.at for row in rows if row.kind == "opened"), None)
    if opened is None:
        return None
    gates = [row for row in rows if row.kind != "step"]
    closed = gates[-1].at if gates[-1].kind == "closed" else None
    return Timeline(opened, closed, tuple(step for row in rows if (step := _step(row)) is not None))


def _step(row: RoomEvent) -> ShownStep | None:
    placed = None not in (row.section, row.round, row.turn)
    if row.kind != "step" or row.part_id is None or row.version_id is None or not placed:
        return None
    return ShownStep(row.at, row.part_id, row.version_id, f"{row.section}.{row.round}.{row.turn}", row.step)
