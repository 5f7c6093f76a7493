"""What the database itself refuses, and what it lets go."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import IntegrityError, StatementError
from sqlmodel import Session, select

from server.storage.sessions import reading, writing
from server.storage.tables import Entry, Host, Notebook
from tests.storage.rows import Rows, entry, fill

REST = "kind, values_json, at, device, device_order, received_at"


@pytest.fixture
def rows(engine: Engine) -> Rows:
    with writing(engine) as session:
        return fill(session)


def count(session: Session, table: str) -> int:
    return int(session.connection().execute(text(f"SELECT count(*) FROM {table}")).scalar_one())


@pytest.mark.parametrize(
    ("statement", "why"),
    [
        ("UPDATE pattern_version SET text = 'other'", "a published version never changes"),
        ("UPDATE pattern_version SET number = 7", "a published version never changes"),
        ("DELETE FROM pattern_version", "a published version never goes"),
        ("UPDATE entry SET kind = 'note' WHERE id = 'a'", "what was logged never changes"),
        ("DELETE FROM entry WHERE id = 'a'", "what was logged goes only with its whole notebook"),
        ("DELETE FROM project", "a project goes only with its whole notebook"),
        (
            f"REPLACE INTO entry SELECT id, project_id, 2, {REST} FROM entry WHERE id = 'a'",
            "what was logged goes only with its whole notebook",
        ),
    ],
)
def test_refused(engine: Engine, rows: Rows, statement: str, why: str) -> None:
    with pytest.raises(IntegrityError, match=why), writing(engine) as session:
        session.connection().execute(text(statement))
    with reading(engine) as session:
        assert count(session, "entry") == 2
        assert [e.kind for e in session.exec(select(Entry)).all()] == ["worked", "worked"]


def test_a_notebook_goes_with_all_that_is_hers(engine: Engine, rows: Rows) -> None:
    with writing(engine) as session:
        session.delete(session.get_one(Notebook, rows.notebook))
    with reading(engine) as session:
        assert {t: count(session, t) for t in ("notebook", "project", "entry", "project_place")} == {
            "notebook": 0,
            "project": 0,
            "entry": 0,
            "project_place": 0,
        }
        assert count(session, "pattern_version") == 1


@pytest.mark.parametrize("statement", ["DELETE FROM part", "DELETE FROM along", "DELETE FROM host"])
def test_what_others_stand_on_stays(engine: Engine, rows: Rows, statement: str) -> None:
    with pytest.raises(IntegrityError, match="FOREIGN KEY"), writing(engine) as session:
        session.connection().execute(text(statement))


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE notebook SET terms = 'AU'",
        "UPDATE notebook SET units = 'ell'",
        f"INSERT INTO entry SELECT 'c', project_id, 3, {REST} FROM entry",
    ],
)
def test_values_out_of_range_are_refused(engine: Engine, rows: Rows, statement: str) -> None:
    with pytest.raises(IntegrityError, match="CHECK"), writing(engine) as session:
        session.connection().execute(text(statement))


def test_an_entry_that_came_twice_is_refused_the_second_time(engine: Engine, rows: Rows) -> None:
    with pytest.raises(IntegrityError, match="UNIQUE"), writing(engine) as session:
        session.add(entry(rows.project, "a"))


def test_moments_come_back_in_utc(engine: Engine) -> None:
    zone = timezone(timedelta(hours=5, minutes=30))
    with writing(engine) as session:
        session.add(
            Host(
                sign_in_name="n",
                shown_name="N",
                password_hash="-",
                created_at=datetime(2026, 11, 20, 1, 0, 0, 123456, zone),
            )
        )
    with reading(engine) as session:
        kept = session.exec(select(Host)).one().created_at
    assert kept == datetime(2026, 11, 19, 19, 30, 0, 123456, UTC)
    assert kept.tzinfo is UTC


def test_a_moment_without_a_zone_is_refused(engine: Engine) -> None:
    naive = datetime(2026, 11, 20)  # noqa: DTZ001
    with pytest.raises(StatementError, match="no time zone"), writing(engine) as session:
        session.add(Host(sign_in_name="n", shown_name="N", password_hash="-", created_at=naive))
