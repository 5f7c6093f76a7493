"""Backups: the whole database in one file, taken while the server runs, and put back whole or not at all."""

from __future__ import annotations

import sqlite3
import tempfile
from contextlib import closing
from datetime import datetime
from pathlib import Path

from sqlalchemy import Engine

from server.services.errors import Refusal
from server.storage import migrating
from server.storage.erasure import erase_again, erased_in
from server.storage.scrubbing import scrub
from server.storage.sessions import open_engine, reading, writing


def back_up(database: Path, file: Path, *, force: bool = False) -> None:
    """Copies the database as it is at one moment. Refusal where there is none, or `file` would be lost."""
    if not database.is_file():
        raise Refusal(f"There is no database at {database} to copy.")
    if file.exists() and not force:
        raise Refusal(f"{file} is there already. Name another file, or add --force to replace it.")
    if not file.parent.is_dir():
        raise Refusal(f"There is no folder {file.parent} to put it in.")
    part = file.with_name(file.name + ".part")
    part.unlink(missing_ok=True)
    try:
        part.touch(mode=0o600)  # notebooks are private
        _copy(database, part)
        with closing(_open(part, "rw")) as copy:
            copy.execute(
                "PRAGMA journal_mode=DELETE"
            )  # one file, with nothing beside it that could be forgotten
        problem = problem_with(part)
        if problem:
            raise Refusal(f"The copy is not sound: {problem}. The database itself needs a look.")
        part.replace(file)
    finally:
        part.unlink(missing_ok=True)


def restore(file: Path, database: Path, now: datetime, *, force: bool = False) -> Path | None:
    """Puts a backup in the database's place and brings it up to date.

    Gives where the database that was there has been kept. Refusal where the file is no sound backup of ours
    or is of a newer version, and where there is a database already, unless `force`. A server that is running
    goes on with what was restored.
    """
    if not file.is_file():
        raise Refusal(f"There is no file {file}.")
    problem = problem_with(file)
    if problem:
        raise Refusal(f"{file} cannot be restored: {problem}.")
    if database.exists() and not force:
        raise Refusal(f"There is a database at {database}. Add --force to replace it; it is kept beside.")
    with tempfile.TemporaryDirectory(dir=database.parent) as folder:
        ready = Path(folder) / "ready.db"
        _copy(file, ready)
        engine = open_engine(ready)
        migrating.migrate(engine)
        if database.exists():
            _erase_again(database, engine)
        engine.dispose()
        kept = None
        if database.exists():
            kept = database.with_name(f"{database.stem}-before-restore-{now:%Y%m%dT%H%M%SZ}.db")
            back_up(database, kept)
        # Page by page into the file that is there, as one transaction: a server that has it open reads the
        # new pages. Another file in its place would leave that server writing into a file that nobody finds
        # again.
        _copy(ready, database)
    database.chmod(0o600)
    return kept


def _erase_again(database: Path, ready: Engine) -> None:
    """What makers had erased from the database that goes is not brought back by the one that comes."""
    going = open_engine(database)
    try:
        if migrating.revision(going) != migrating.newest():
            return  # of before there was anything to erase with
        with reading(going) as session:
            before = erased_in(session)
    finally:
        going.dispose()
    with writing(ready) as session:
        again = erase_again(session, before)
    if again:
        scrub(ready)


def problem_with(file: Path) -> str:
    """What is wrong with a database file; "" for a sound one that can be brought up to date."""
    try:
        with closing(_open(file, "ro")) as connection:
            for (line,) in connection.execute("PRAGMA integrity_check"):
                if line != "ok":
                    return f"it is damaged ({line})"
            if connection.execute("PRAGMA foreign_key_check").fetchone():
                return "some of its rows refer to rows that are not there"
            tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
            if "alembic_version" not in tables:
                return "it is a database, but not one of Evenhand"
            revision = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    except sqlite3.DatabaseError as error:
        return f"it is not a sound database ({error})"
    if revision is None:
        return "it has no tables yet"
    if not migrating.known(revision[0]):
        return "it was made by a newer version; restore it with that one"
    return ""


def _copy(source: Path, target: Path) -> None:
    with closing(_open(source, "ro")) as reader, closing(_open(target, "rwc")) as writer:
        reader.backup(writer, pages=-1)


def _open(file: Path, mode: str) -> sqlite3.Connection:
    return sqlite3.connect(f"{file.resolve().as_uri()}?mode={mode}", uri=True, timeout=10)
