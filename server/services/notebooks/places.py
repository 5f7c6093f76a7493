"""Where each maker is, kept for the host's roster. A cache: `refresh` makes it anew from the log at any
time.
"""

from __future__ import annotations

from datetime import datetime

from sqlmodel import Session

from server.services.notebooks.desk import Desk, open_desk
from server.storage import statements
from server.storage.groups import at_the_end

TRYING = "trying on"
MEASURING = "measuring"
FINISHED = "finished"
NO_VERDICT = "no second piece yet"


def refresh(session: Session, desk: Desk, now: datetime) -> None:
    """Write down where she is in this part."""
    if desk.project_id is None:
        return
    settled = desk.making.settled
    piece = current_piece(desk) if settled else 1
    place = desk.place(piece) if settled else None
    trying = TRYING if desk.making.tries else MEASURING
    title = trying if place is None else FINISHED if place.kind == "finished" else place.section.title
    statements.put_place(
        session,
        statements.PlaceRow(
            project_id=desk.project_id,
            piece=piece,
            spot=place.round.spot if place and place.round else None,
            section_title=title,
            round_label=place.round.label if place and place.round else "",
            foundation=settled.foundation if settled else None,
            size=settled.size if settled else None,
            verdict=desk.verdict_state if settled else NO_VERDICT,
            updated_at=statements.kept(now),
        ),
    )


def refresh_after(session: Session, desk: Desk, now: datetime) -> None:
    """`refresh` for a desk whose log has just grown. Writers that are committed together may have added to
    one log: its place is worked out once, from all of it.
    """

    def from_her_desk(ending: Session) -> None:
        refresh(ending, desk, now)

    def from_the_log(ending: Session) -> None:
        refresh(ending, open_desk(ending, desk.notebook_id, desk.part_id), now)

    if not at_the_end(session, ("place", desk.notebook_id, desk.part_id), from_her_desk, from_the_log):
        refresh(session, desk, now)


def current_piece(desk: Desk) -> int:
    """The piece she is at: where she logged last while it is not finished, else the first unfinished, or
    the last.
    """
    pieces = desk.making.pieces
    unfinished = [n for n in desk.pieces if n not in pieces or not pieces[n].finished]
    if not unfinished:
        return desk.pieces[-1]
    latest = (
        one.entry.piece
        for one in reversed(desk.log)
        if one.entry.piece in unfinished and one.entry.kind != "undo"
    )
    return next(latest, unfinished[0])
