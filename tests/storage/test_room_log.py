"""The log of a room: it only grows; what is a maker's goes with her notebook, all goes with the evening."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import IntegrityError
from sqlmodel import select

from server.storage.erasure import erase_rows
from server.storage.sessions import reading, writing
from server.storage.tables import Along, Evening, RoomEvent, RoomHidden
from tests.storage.rows import Rows, fill


@pytest.fixture
def rows(engine: Engine) -> Rows:
    """An evening with a step (1), a hand (2), its answer for all (3) and one for her alone (4)."""
    with writing(engine) as session:
        rows = fill(session)
        along = session.exec(select(Along)).one()
        evening = Evening(
            along_id=along.id or 0, title="One", local_start="2026-12-03T19:30", zone="UTC", minutes=60,
            uid="u", changed_by="Orla",
        )  # fmt: skip
        session.add(evening)
        session.flush()
        here = evening.id or 0
        for event in (
            RoomEvent(evening_id=here, kind="step", section=0, round=1, turn=1, said_by="Orla"),
            RoomEvent(evening_id=here, kind="hand", words="Which loop?", notebook_id=rows.notebook),
            RoomEvent(evening_id=here, kind="answer", words="Both.", about_id=2, said_by="Orla"),
            RoomEvent(
                evening_id=here, kind="answer", words="Fern: both.", about_id=2, notebook_id=rows.notebook,
                said_by="Orla",
            ),
        ):  # fmt: skip
            session.add(event)
            session.flush()
        session.add(RoomHidden(event_id=2, hidden_by="Orla"))
    return rows


@pytest.mark.parametrize(
    ("statement", "why"),
    [
        ("UPDATE room_event SET words = 'other'", "never changes"),
        ("UPDATE room_event SET round = 2", "never changes"),
        ("UPDATE room_event SET about_id = NULL", "never changes"),
        ("UPDATE room_event SET about_id = 1 WHERE id = 4", "never changes"),
        ("DELETE FROM room_event WHERE id = 1", "goes only with its maker or its evening"),
        ("DELETE FROM room_event WHERE id = 2", "goes only with its maker or its evening"),
        ("UPDATE room_event SET kind = 'wave'", "never changes"),
        (
            "INSERT INTO room_event (evening_id, at, kind, words, said_by) VALUES (1, '', 'wave', '', '')",
            "CHECK",
        ),
    ],
)
def test_refused(engine: Engine, rows: Rows, statement: str, why: str) -> None:
    with pytest.raises(IntegrityError, match=why), writing(engine) as session:
        session.connection().execute(text(statement))
    with reading(engine) as session:
        assert len(session.exec(select(RoomEvent)).all()) == 4


def test_erasing_a_notebook_takes_what_she_said_and_what_was_for_her_alone(
    engine: Engine, rows: Rows
) -> None:
    with writing(engine) as session:
        erase_rows(session, rows.notebook)
    with reading(engine) as session:
        left = [(each.id, each.words, each.about_id) for each in session.exec(select(RoomEvent)).all()]
        assert left == [(1, "", None), (3, "Both.", None)]
        assert session.exec(select(RoomHidden)).all() == []


def test_an_evening_takes_its_room_with_it(engine: Engine, rows: Rows) -> None:
    with writing(engine) as session:
        session.connection().execute(text("DELETE FROM evening"))
    with reading(engine) as session:
        assert session.exec(select(RoomEvent)).all() == []


def test_no_id_comes_twice(engine: Engine, rows: Rows) -> None:
    """A stream resumes by the last id it saw: it must never be another event's."""
    with writing(engine) as session:
        here = session.exec(select(RoomEvent.evening_id)).first() or 0
        erase_rows(session, rows.notebook)
        event = RoomEvent(evening_id=here, kind="announce", words="Tea.", said_by="Orla")
        session.add(event)
        session.flush()
        assert event.id == 5
