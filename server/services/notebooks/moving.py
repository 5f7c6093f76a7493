"""Moving a notebook to another device: a one-time link (shown as a QR) or six words, whichever is easier.

The server knows the old device's secret only as a hash, so the new one gets a secret of its own: a phone
that is lost later can then be shut out by itself. An offer holds for a quarter of an hour and once; a new one
takes the place of the one before. Link and words are kept as SHA-256 only. They are found by that hash: how
long an answer takes says nothing about how near a guess was.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from hashlib import sha256

from sqlmodel import Session, col, delete, select

from server.services.errors import NotFound, Refusal
from server.services.notebooks import ways, words
from server.storage import tables
from server.storage.keys import SECRET_SHAPE, new_secret, secret_hash

HOLDS = timedelta(minutes=15)
OVER = (
    "These words open nothing. They hold for 15 minutes and once: look whether they are copied right, or "
    "make new ones on the other device."
)


@dataclass(frozen=True)
class Offer:
    """What the old device shows. It is known here and now only."""

    link_secret: str
    words: tuple[str, ...]
    expires_at: datetime


@dataclass(frozen=True)
class Offered:
    """What the new device sees before it takes the notebook."""

    nickname: str
    along_title: str


@dataclass(frozen=True)
class Taken:
    """A notebook that has arrived on a new device, with that device's own secret."""

    notebook_id: int
    secret: str


def offer(session: Session, notebook_id: int, now: datetime) -> Offer:
    """Hold the notebook out, in the place of an earlier offer."""
    if session.get(tables.Notebook, notebook_id) is None:
        raise NotFound(ways.NOT_HERE)
    session.exec(
        delete(tables.NotebookMove).where(
            (col(tables.NotebookMove.notebook_id) == notebook_id)
            | (col(tables.NotebookMove.expires_at) <= now)
        )
    )
    made = Offer(new_secret(), words.draw(), now + HOLDS)
    session.add(
        tables.NotebookMove(
            notebook_id=notebook_id,
            link_hash=secret_hash(made.link_secret),
            words_hash=_words_hash(made.words),
            expires_at=made.expires_at,
        )
    )
    session.flush()
    return made


def offered(session: Session, link_secret: str, now: datetime) -> Offered:
    """Whose notebook a one-time link holds out; looking uses nothing up. NotFound where it holds no more."""
    move = _by_link(session, link_secret, now)
    nickname, title = session.exec(
        select(tables.Notebook.nickname, tables.Along.title).where(
            tables.Notebook.id == move.notebook_id, tables.Along.id == tables.Notebook.along_id
        )
    ).one()
    return Offered(nickname, title)


def take_by_link(session: Session, link_secret: str, now: datetime) -> Taken:
    """Take the notebook that the link holds out; NotFound where it holds no more."""
    return _take(session, _by_link(session, link_secret, now), now)


def take_by_words(session: Session, typed: tuple[str, ...], now: datetime) -> Taken:
    """Take the notebook that six words (from `words.read`) hold out; Refusal where they open nothing."""
    move = session.exec(
        select(tables.NotebookMove).where(
            tables.NotebookMove.words_hash == _words_hash(typed), col(tables.NotebookMove.expires_at) > now
        )
    ).first()
    if move is None:
        raise Refusal(OVER, "words")
    return _take(session, move, now)


def _by_link(session: Session, link_secret: str, now: datetime) -> tables.NotebookMove:
    move = None
    if SECRET_SHAPE.fullmatch(link_secret):
        move = session.exec(
            select(tables.NotebookMove).where(
                tables.NotebookMove.link_hash == secret_hash(link_secret),
                col(tables.NotebookMove.expires_at) > now,
            )
        ).first()
    if move is None:
        raise NotFound("This link holds no more.")
    return move


def _take(session: Session, move: tables.NotebookMove, now: datetime) -> Taken:
    secret = ways.add_key(session, move.notebook_id, "device", now)
    session.delete(move)
    session.flush()
    return Taken(move.notebook_id, secret)


def _words_hash(six: tuple[str, ...]) -> str:
    return sha256(" ".join(six).encode()).hexdigest()
