"""The ways into a notebook: its link, the devices it was moved to, the cards that open it. Each has a secret
of its own, so that one that is lost can be shut out and the others stay.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from sqlmodel import Session, col, func, select

from server.services.errors import NotFound, Refusal
from server.storage import tables
from server.storage.keys import new_secret, secret_hash

How = Literal["link", "device", "card"]
WAYS_MOST = 30
NOT_HERE = "This notebook is not here any more."


@dataclass(frozen=True)
class Way:
    """One way in.

    key_id   None for the notebook's link
    here     the device that asks came this way
    """

    key_id: int | None
    how: How
    made_at: datetime
    here: bool


@dataclass(frozen=True)
class NewLink:
    """The link's new secret; `exchange` where the device that asked came by the old one."""

    secret: str
    exchange: bool


def ways_in(session: Session, notebook_id: int, secret: str) -> tuple[Way, ...]:
    """Every way that is open, the link first; `secret` is the asking device's."""
    notebook = _notebook(session, notebook_id)
    here = secret_hash(secret)
    replaced = session.exec(
        select(func.max(tables.NotebookKey.shut_out_at)).where(
            tables.NotebookKey.notebook_id == notebook_id, tables.NotebookKey.how == "link"
        )
    ).one()
    rows = session.exec(
        select(tables.NotebookKey)
        .where(tables.NotebookKey.notebook_id == notebook_id, col(tables.NotebookKey.shut_out_at).is_(None))
        .order_by(col(tables.NotebookKey.id))
    ).all()
    link = Way(None, "link", replaced or notebook.joined_at, notebook.secret_hash == here)
    return (link, *(Way(row.id, _how(row.how), row.made_at, row.secret_hash == here) for row in rows))


def add_key(session: Session, notebook_id: int, how: How, now: datetime) -> str:
    """A further secret for the notebook. Refusal where it has as many as anybody can oversee."""
    open_keys = session.exec(
        select(func.count())
        .select_from(tables.NotebookKey)
        .where(tables.NotebookKey.notebook_id == notebook_id, col(tables.NotebookKey.shut_out_at).is_(None))
    ).one()
    if open_keys >= WAYS_MOST:
        raise Refusal(
            f"There are {open_keys} ways into this notebook already. Shut out those you no longer use, then "
            "go on."
        )
    secret = new_secret()
    session.add(
        tables.NotebookKey(
            notebook_id=notebook_id, secret_hash=secret_hash(secret), how=how, made_at=now, shut_out_at=None
        )
    )
    session.flush()
    return secret


def shut_out(session: Session, notebook_id: int, key_id: int, secret: str, now: datetime) -> None:
    """Shut a device or a card out of the notebook. Done twice it is done once.

    Refusal for the device that asks: it would be out in the middle of it.
    """
    key = session.exec(
        select(tables.NotebookKey).where(
            tables.NotebookKey.id == key_id, tables.NotebookKey.notebook_id == notebook_id
        )
    ).first()
    if key is None:
        raise NotFound(NOT_HERE)
    if key.secret_hash == secret_hash(secret):
        raise Refusal("This is the device you are at. Take the notebook off it instead.")
    if key.shut_out_at is None:
        key.shut_out_at = now
        session.add(key)


def renew_link(session: Session, notebook_id: int, secret: str, now: datetime) -> NewLink:
    """Another link in the place of the notebook's: the old one, and every device that came by it, is out."""
    notebook = _notebook(session, notebook_id)
    exchange = notebook.secret_hash == secret_hash(secret)
    session.add(
        tables.NotebookKey(
            notebook_id=notebook_id,
            secret_hash=notebook.secret_hash,
            how="link",
            made_at=notebook.joined_at,
            shut_out_at=now,
        )
    )
    fresh = new_secret()
    notebook.secret_hash = secret_hash(fresh)
    session.add(notebook)
    session.flush()
    return NewLink(fresh, exchange)


def _notebook(session: Session, notebook_id: int) -> tables.Notebook:
    notebook = session.get(tables.Notebook, notebook_id)
    if notebook is None:
        raise NotFound(NOT_HERE)
    return notebook


def _how(kept: str) -> How:
    return "card" if kept == "card" else "link" if kept == "link" else "device"
