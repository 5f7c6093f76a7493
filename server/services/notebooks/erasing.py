"""Erasing a notebook for good, with a receipt.

What stays is the receipt (a number, the moment, how much went) and the SHA-256 of the secrets that opened
the notebook, so that a device that still has one can be told. Neither says whose it was or what was in it.
Both go after as long as a device can hold a secret. The caller commits and then has the file rewritten
(`storage.scrubbing`): only then nothing of it is left in the database's files.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlmodel import Session, col, delete, func, select

from server.services.errors import NotFound, Refusal
from server.services.notebooks.logs import forget_logs
from server.services.notebooks.ways import NOT_HERE
from server.storage import tables
from server.storage.erasure import erase_rows

RECEIPTS_STAY = timedelta(days=400)  # as long as a browser keeps a notebook's secret
LETTERS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"  # none that is read as another
NUMBER_GROUPS, GROUP = 4, 4  # 31 letters: 79 bits, not to be guessed


@dataclass(frozen=True)
class Held:
    """What a notebook holds, before it goes."""

    nickname: str
    along_title: str
    projects: int
    entries: int
    keys: int


@dataclass(frozen=True)
class Receipt:
    """What was erased, and when. `keys`: ways in that open nothing any more, the link among them."""

    number: str
    erased_at: datetime
    projects: int
    entries: int
    keys: int


def held(session: Session, notebook_id: int) -> Held:
    """How much there is to erase."""
    row = session.exec(
        select(tables.Notebook.nickname, tables.Along.title).where(
            tables.Notebook.id == notebook_id, tables.Along.id == tables.Notebook.along_id
        )
    ).first()
    if row is None:
        raise NotFound(NOT_HERE)
    mine = tables.Project.notebook_id == notebook_id
    projects = session.exec(select(func.count()).select_from(tables.Project).where(mine)).one()
    entries = session.exec(
        select(func.count())
        .select_from(tables.Entry)
        .join(tables.Project, col(tables.Project.id) == tables.Entry.project_id)
        .where(mine)
    ).one()
    return Held(row[0], row[1], projects, entries, len(_hashes(session, notebook_id)))


def erase(session: Session, notebook_id: int, typed: str, now: datetime) -> Receipt:
    """Erase the notebook and all that belongs to it.

    `typed` is its nickname, written by hand as the second step; Refusal where it is another.
    """
    going = held(session, notebook_id)
    if " ".join(typed.split()).casefold() != going.nickname.casefold():
        raise Refusal(
            f"Write {going.nickname} here, then this notebook is erased. Nothing has gone.", "nickname"
        )
    session.exec(delete(tables.Erasure).where(col(tables.Erasure.erased_at) < now - RECEIPTS_STAY))
    receipt = Receipt(_number(), now, going.projects, going.entries, going.keys)
    session.add(
        tables.Erasure(
            number=receipt.number,
            erased_at=now,
            projects=receipt.projects,
            entries=receipt.entries,
            keys=receipt.keys,
        )
    )
    session.flush()
    for hashed in _hashes(session, notebook_id):
        session.add(tables.ErasedKey(secret_hash=hashed, erasure_number=receipt.number))
    session.flush()
    erase_rows(session, notebook_id)
    forget_logs(session)
    return receipt


def receipt_of(session: Session, number: str) -> Receipt:
    """The receipt of that number; NotFound where there is none, or none any more."""
    row = session.get(tables.Erasure, number.strip().upper())
    if row is None:
        raise NotFound("There is no receipt of this number.")
    return Receipt(row.number, row.erased_at, row.projects, row.entries, row.keys)


def _hashes(session: Session, notebook_id: int) -> list[str]:
    """What is kept of every secret that opens the notebook, or opened it and was shut out."""
    link = session.exec(select(tables.Notebook.secret_hash).where(tables.Notebook.id == notebook_id)).all()
    keys = session.exec(
        select(tables.NotebookKey.secret_hash).where(tables.NotebookKey.notebook_id == notebook_id)
    ).all()
    return [*link, *keys]


def _number() -> str:
    groups = ("".join(secrets.choice(LETTERS) for _ in range(GROUP)) for _ in range(NUMBER_GROUPS))
    return "-".join(groups)
