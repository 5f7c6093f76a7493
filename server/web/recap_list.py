"""The evenings of an along that a maker can read again."""

from __future__ import annotations

from sqlmodel import Session

from server.services.recap.evening import told_again
from server.services.series import evenings
from server.web.evening_words import ShownEvening, shown_evenings
from server.web.moments import now

SHOWN_MOST = 12


def recaps(session: Session, along_id: int) -> tuple[ShownEvening, ...]:
    """Those whose room was open and is closed, the last one first."""
    ids = told_again(session, along_id)
    if not ids:
        return ()
    were = [each for each in evenings.of_along(session, along_id) if each.id in ids]
    return shown_evenings(were[::-1][:SHOWN_MOST], now())
