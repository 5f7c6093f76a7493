"""The evening that a maker's shelf shows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlmodel import Session

from server.services import room
from server.services.series import evenings
from server.web.evening_words import ShownEvening, shown_evenings

NEAR = timedelta(hours=12)


@dataclass(frozen=True)
class NextEvening:
    """An evening. is_open: its room is open now; is_near: it begins within hours, or has begun."""

    evening: ShownEvening
    is_open: bool
    is_near: bool


def next_evening(session: Session, along_id: int, here: datetime) -> NextEvening | None:
    """The evening whose room is open, else the one that is on or comes next; None for none."""
    every = evenings.of_along(session, along_id)
    if not every:
        return None
    open_rooms = room.open_in(session, along_id)
    opened = next((each for each in reversed(every) if each.id in open_rooms), None)
    chosen = opened or evenings.next_of(every, here)
    if chosen is None:
        return None
    shown = next(each for each in shown_evenings(every, here) if each.id == chosen.id)
    return NextEvening(shown, opened is not None, chosen.wall.moment - here < NEAR)
