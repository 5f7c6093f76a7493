"""SQLite as SQLAlchemy speaks it, with the three SAVEPOINT statements sent as they are.

SQLAlchemy compiles each of them anew, at the price of twenty rows; every writer that uses the ORM has two.
"""

from __future__ import annotations

import sqlite3

from sqlalchemy import Connection
from sqlalchemy.dialects import registry
from sqlalchemy.dialects.sqlite.pysqlite import SQLiteDialect_pysqlite
from sqlalchemy.exc import DBAPIError

NAME = "sqlite+savepoints"


class Savepoints(SQLiteDialect_pysqlite):
    """The dialect."""

    supports_statement_cache = True

    def do_savepoint(self, connection: Connection, name: str) -> None:
        """Begins a SAVEPOINT."""
        send(_ours(connection), f"SAVEPOINT {name}")

    def do_rollback_to_savepoint(self, connection: Connection, name: str) -> None:
        """Takes back what was written since."""
        send(_ours(connection), f"ROLLBACK TO SAVEPOINT {name}")

    def do_release_savepoint(self, connection: Connection, name: str) -> None:
        """Makes it part of what it stands in."""
        send(_ours(connection), f"RELEASE SAVEPOINT {name}")


def send(connection: sqlite3.Connection, statement: str) -> None:
    """Sends a statement as it is; errors are SQLAlchemy's, as everywhere."""
    try:
        connection.execute(statement)
    except sqlite3.Error as error:
        raise DBAPIError.instance(statement, None, error, sqlite3.Error) from error


def _ours(connection: Connection) -> sqlite3.Connection:
    ours = connection.connection.driver_connection
    assert isinstance(ours, sqlite3.Connection)
    return ours


registry.register(NAME.replace("+", "."), __name__, Savepoints.__name__)
