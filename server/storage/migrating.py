"""Brings a database file to the tables of this version."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine

MIGRATIONS = Path(__file__).parents[2] / "migrations"


def configuration(connection: Connection | None = None) -> Config:
    """Alembic's configuration, working on `connection`."""
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS))
    config.attributes["connection"] = connection
    return config


def newest() -> str:
    """The revision that this version of the program works with."""
    head = ScriptDirectory.from_config(configuration()).get_current_head()
    assert head is not None
    return head


def revision(engine: Engine) -> str | None:
    """The revision that the database is at; None for one without tables."""
    with engine.connect() as connection:
        return MigrationContext.configure(connection).get_current_revision()


def known(wanted: str) -> bool:
    """Whether this version of the program has a migration of that name."""
    return any(
        script.revision == wanted for script in ScriptDirectory.from_config(configuration()).walk_revisions()
    )


def migrate(engine: Engine, to: str = "head") -> None:
    """Runs the migrations that are missing, all in one transaction: it arrives, or nothing has changed."""
    _move(engine, to, command.upgrade)


def migrate_back(engine: Engine, to: str) -> None:
    """Undoes the migrations above the revision `to` ("base": all of them), and what only they could hold."""
    _move(engine, to, command.downgrade)


def _move(engine: Engine, to: str, how: Callable[[Config, str], None]) -> None:
    with engine.connect().execution_options(writing=True) as connection:
        # Altering a table in SQLite is copying it and dropping the old one. With foreign keys on, the drop
        # would take the rows that refer to it along. They can only be switched off before a transaction
        # begins.
        driver = connection.connection.driver_connection
        assert driver is not None
        driver.execute("PRAGMA foreign_keys=OFF")
        try:
            with connection.begin():
                how(configuration(connection), to)
                lost = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
                if lost:
                    raise RuntimeError(f"after migrating, rows refer to nothing: {lost[:5]}")
        finally:
            connection.invalidate()  # the next one is set up afresh, with foreign keys on
