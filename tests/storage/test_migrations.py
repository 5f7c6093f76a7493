"""The migrations make exactly the tables of server/storage/tables.py, from nothing, and can be undone."""

from __future__ import annotations

from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from sqlalchemy import Engine, inspect, text
from sqlalchemy.exc import IntegrityError
from sqlmodel import select

from server.storage.erasure import erase_rows
from server.storage.migrating import configuration, known, migrate, migrate_back, newest, revision
from server.storage.sessions import open_engine, reading, writing
from server.storage.tables import METADATA, Along, Entry, Notebook, NotebookKey, Part, PatternVersion
from tests.storage.rows import fill

FIRST_TRIGGERS = {
    "entry_stays",
    "entry_stays_as_it_is",
    "pattern_version_stays",
    "pattern_version_stays_as_it_is",
    "project_stays",
}
ROOM_TRIGGERS = {"room_event_keeps_its_question", "room_event_stays", "room_event_stays_as_it_is"}
TRIGGERS = FIRST_TRIGGERS | ROOM_TRIGGERS


@pytest.fixture
def empty(tmp_path: Path) -> Engine:
    return open_engine(tmp_path / "empty.db")


def triggers(engine: Engine) -> set[str]:
    with reading(engine) as session:
        return set(
            session.connection()
            .execute(text("SELECT name FROM sqlite_master WHERE type = 'trigger'"))
            .scalars()
        )


def test_from_empty_to_the_tables(empty: Engine) -> None:
    assert revision(empty) is None
    migrate(empty)
    assert revision(empty) == newest()
    assert set(inspect(empty).get_table_names()) == set(METADATA.tables) | {"alembic_version"}
    assert triggers(empty) == TRIGGERS


def test_no_table_differs_from_its_class(empty: Engine) -> None:
    migrate(empty)
    with empty.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, METADATA) == []
        command.check(configuration(connection))


def test_back_and_forth(empty: Engine) -> None:
    migrate(empty)
    migrate_back(empty, "base")
    assert set(inspect(empty).get_table_names()) == {"alembic_version"}
    assert triggers(empty) == set()
    migrate(empty)
    assert triggers(empty) == TRIGGERS


def test_migrating_again_keeps_all_rows(empty: Engine) -> None:
    migrate(empty)
    with writing(empty) as session:
        fill(session)
    migrate(empty)
    with reading(empty) as session:
        assert len(session.exec(select(Entry)).all()) == 2


def test_a_notebook_of_the_first_tables_reads_abbreviated_steps_and_keeps_its_log(empty: Engine) -> None:
    migrate(empty)
    with writing(empty) as session:
        fill(session)
    migrate_back(empty, "0001")
    assert triggers(empty) == FIRST_TRIGGERS
    migrate(empty)
    assert triggers(empty) == TRIGGERS
    with reading(empty) as session:
        assert [each.wording for each in session.exec(select(Notebook)).all()] == ["short"]
        assert len(session.exec(select(Entry)).all()) == 2


def test_only_two_ways_to_read_the_steps(empty: Engine) -> None:
    migrate(empty)
    with pytest.raises(IntegrityError, match="wording"), writing(empty) as session:
        fill(session)
        session.connection().execute(text("UPDATE notebook SET wording = 'loud'"))


def test_foreign_keys_are_on_again_afterwards(empty: Engine) -> None:
    migrate(empty)
    with reading(empty) as session:
        assert session.connection().execute(text("PRAGMA foreign_keys")).scalar_one() == 1


def test_a_failed_migration_changes_nothing(empty: Engine, monkeypatch: pytest.MonkeyPatch) -> None:
    def upgrade_and_fail(config: object, to: str) -> None:
        real_upgrade(config, to)  # type: ignore[arg-type]
        raise RuntimeError("the disk is full")

    real_upgrade = command.upgrade
    monkeypatch.setattr(command, "upgrade", upgrade_and_fail)
    with pytest.raises(RuntimeError, match="full"):
        migrate(empty)
    assert inspect(empty).get_table_names() == []


def test_known_revisions() -> None:
    assert known(newest())
    assert not known("ffff")


def test_before_there_were_more_keys_than_one_and_forth_again(empty: Engine) -> None:
    """Back to two migrations and forth: rows and triggers stay; what only the third could hold goes."""
    migrate(empty)
    with writing(empty) as session:
        rows = fill(session)
        session.add(NotebookKey(notebook_id=rows.notebook, secret_hash="k", how="device"))
    migrate_back(empty, "0002")
    assert triggers(empty) == FIRST_TRIGGERS
    assert not {"notebook_key", "notebook_move", "erasure", "erased_key"} & set(
        inspect(empty).get_table_names()
    )
    with pytest.raises(IntegrityError, match="never goes"), writing(empty) as session:
        session.connection().execute(text("DELETE FROM pattern_version"))
    migrate(empty)
    assert triggers(empty) == TRIGGERS
    with reading(empty) as session:
        assert session.exec(select(NotebookKey)).all() == []
        assert [each.kept_from for each in session.exec(select(Along)).all()] == [None]
        assert len(session.exec(select(Entry)).all()) == 2


def test_a_published_version_stays_though_private_ones_go(empty: Engine) -> None:
    """A version goes only where its along came with a file and no notebook is in it any more."""
    migrate(empty)
    with writing(empty) as session:
        rows = fill(session)
    with pytest.raises(IntegrityError, match="never goes"), writing(empty) as session:
        session.connection().execute(text("DELETE FROM notebook"))
        session.connection().execute(text("DELETE FROM pattern_version"))
    with writing(empty) as session:
        session.connection().execute(text("UPDATE along SET kept_from = 'Orla'"))
    with pytest.raises(IntegrityError, match="never goes"), writing(empty) as session:
        session.connection().execute(text("DELETE FROM pattern_version"))
    with writing(empty) as session:
        erase_rows(session, rows.notebook)
    with reading(empty) as session:
        for table in (Notebook, Entry, PatternVersion, Part, Along):
            assert session.exec(select(table)).all() == []


def test_only_three_ways_in(empty: Engine) -> None:
    migrate(empty)
    with pytest.raises(IntegrityError, match="how"), writing(empty) as session:
        rows = fill(session)
        session.add(NotebookKey(notebook_id=rows.notebook, secret_hash="k", how="magic"))
