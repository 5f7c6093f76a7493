"""Joining an along: a link or a code, a nickname, and from then on a notebook behind a secret link.

Nothing personal is asked. The secret is never stored, only its SHA-256; whoever has the link has the
notebook.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func
from sqlmodel import Session, col, select

from server.services.errors import Gone, NotFound, Refusal
from server.storage import statements
from server.storage.keys import SECRET_SHAPE as SECRET_SHAPE
from server.storage.keys import new_secret as new_secret
from server.storage.keys import secret_hash as secret_hash
from server.storage.tables import Along, ErasedKey, Erasure, Host, Notebook, NotebookKey

NICKNAME_MOST = 30
UNKNOWN = "Nothing is kept at this link or code."


@dataclass(frozen=True)
class Welcome:
    """What someone who has an along's code sees before she joins."""

    along_id: int
    code: str
    title: str
    welcome: str
    host_name: str


@dataclass(frozen=True)
class Joined:
    """A notebook and its secret. The secret is known here and on her devices only."""

    notebook_id: int
    secret: str
    is_new: bool


@dataclass(frozen=True)
class Kept:
    """A notebook that a device has the secret of."""

    notebook_id: int
    along_id: int
    along_title: str
    nickname: str
    secret: str


@dataclass(frozen=True)
class Lost:
    """A secret on a device that opens nothing any more, and why.

    receipt   the number of the receipt, where the notebook was erased; "" where only this key was shut out
    """

    secret: str
    at: datetime
    receipt: str

    @property
    def message(self) -> str:
        """What its device is told."""
        day = f"on {self.at.day} {self.at:%B %Y}"
        if self.receipt:
            return (
                f"It was erased for good {day}, on another device. The receipt has the number {self.receipt}."
            )
        return (
            f"This device was shut out of it {day}, from another device. The notebook itself stays as it is: "
            "open it with its link, or have it moved here again."
        )


def tidy_code(typed: str) -> str:
    """A join code as typed, without the spaces and dashes that people put in, in capitals."""
    return re.sub(r"[\s\-–—.·]+", "", typed).upper()


def tidy_nickname(typed: str) -> str:
    """The nickname as it will be shown; Refusal(field "nickname") where it cannot be one."""
    shown = unicodedata.normalize("NFC", typed)
    # Control and direction-changing characters would spoil the host's list; a joiner is kept, emoji are
    # built with it.
    shown = "".join(c for c in shown if c == "\u200d" or c.isspace() or unicodedata.category(c)[0] != "C")
    shown = " ".join(shown.split())
    if not any(unicodedata.category(c)[0] in "LNS" for c in shown):
        raise Refusal("Choose a nickname, with at least one letter or number in it.", "nickname")
    if len(shown) > NICKNAME_MOST:
        raise Refusal(
            f"{len(shown)} characters is long for a list of names. {NICKNAME_MOST} or fewer work.", "nickname"
        )
    if re.search(r"\S@\S+\.\S|://|www\.", shown):
        raise Refusal("A nickname, please, not an address: everyone in the along can see it.", "nickname")
    return shown


def welcome(session: Session, code: str) -> Welcome:
    """The along that a code belongs to; NotFound where there is none."""
    row = session.exec(
        select(Along, Host).where(Along.join_code == tidy_code(code), Along.host_id == Host.id)
    ).first()
    if row is None:
        raise NotFound(UNKNOWN)
    along, host = row
    assert along.id is not None
    return Welcome(along.id, along.join_code, along.title, along.welcome, host.shown_name)


def join(session: Session, code: str, nickname: str, secret: str, now: datetime) -> Joined:
    """Make a notebook in the along of that code.

    `secret` is the one the form was made with: the same form sent twice (a double tap, a lost answer)
    opens the notebook it made the first time. With another nickname it is someone else at the same device:
    a notebook of her own.
    """
    return _join(session, welcome(session, code).along_id, nickname, secret, now)


def join_again(session: Session, notebook_id: int, nickname: str, secret: str, now: datetime) -> Joined:
    """A second notebook in the along of one that she has, read in the same way: the same parts once more, for
    another pair. `nickname` and `secret` as in `join`.
    """
    first = session.get(Notebook, notebook_id)
    if first is None:
        raise NotFound(UNKNOWN)
    joined = _join(session, first.along_id, nickname, secret, now)
    if joined.is_new:
        second = session.get(Notebook, joined.notebook_id)
        assert second is not None
        second.terms, second.units, second.wording = first.terms, first.units, first.wording
        session.add(second)
    return joined


def _join(session: Session, along_id: int, nickname: str, secret: str, now: datetime) -> Joined:
    shown = tidy_nickname(nickname)
    if not SECRET_SHAPE.fullmatch(secret):
        secret = new_secret()
    made = session.exec(select(Notebook).where(Notebook.secret_hash == secret_hash(secret))).first()
    if made is not None:
        if made.along_id == along_id and made.nickname == shown:
            assert made.id is not None
            return Joined(made.id, secret, is_new=False)
        secret = new_secret()
    taken = session.exec(
        select(Notebook.id).where(
            Notebook.along_id == along_id, func.lower(col(Notebook.nickname)) == shown.lower()
        )
    ).first()
    if taken is not None:
        raise Refusal(
            f"Someone in this along is already called {shown}. Add a letter or choose another, so that "
            f"the host can "
            "tell you apart. If that is you, open your notebook with its own link instead.",
            "nickname",
        )
    notebook = Notebook(
        along_id=along_id,
        secret_hash=secret_hash(secret),
        nickname=shown,
        terms="US",
        units="cm",
        joined_at=now,
        last_seen_at=now,
    )
    session.add(notebook)
    session.flush()
    assert notebook.id is not None
    return Joined(notebook.id, secret, is_new=True)


def notebook_at(session: Session, secret: str) -> Kept:
    """The notebook behind a secret link; NotFound where there is none, Gone where it was erased or the link
    shut out.
    """
    found = notebooks_at(session, (secret,))
    if not found:
        lost = lost_at(session, (secret,))
        raise Gone(lost[0].message) if lost else NotFound(UNKNOWN)
    return found[0]


def notebooks_at(session: Session, kept: Sequence[str]) -> tuple[Kept, ...]:
    """The notebooks behind the secrets that a device keeps, in its order, each once; secrets that open
    nothing are left out.
    """
    hashes = {secret_hash(secret): secret for secret in kept if SECRET_SHAPE.fullmatch(secret)}
    if not hashes:
        return ()
    found = {row.secret_hash: row for row in statements.notebook_rows(session, list(hashes))}
    opened: dict[int, Kept] = {}
    for hashed, secret in hashes.items():
        if hashed in found:
            row = found[hashed]
            opened.setdefault(row.id, Kept(row.id, row.along_id, row.along_title, row.nickname, secret))
    return tuple(opened.values())


def lost_at(session: Session, kept: Sequence[str]) -> tuple[Lost, ...]:
    """Those of the secrets whose notebook was erased, or that were shut out of it."""
    hashes = {secret_hash(secret): secret for secret in kept if SECRET_SHAPE.fullmatch(secret)}
    if not hashes:
        return ()
    erased = session.exec(
        select(ErasedKey.secret_hash, Erasure.erased_at, Erasure.number).where(
            col(ErasedKey.secret_hash).in_(list(hashes)), ErasedKey.erasure_number == Erasure.number
        )
    ).all()
    shut = session.exec(
        select(NotebookKey.secret_hash, NotebookKey.shut_out_at).where(
            col(NotebookKey.secret_hash).in_(list(hashes)), col(NotebookKey.shut_out_at).is_not(None)
        )
    ).all()
    lost = {hashed: Lost(hashes[hashed], at, number) for hashed, at, number in erased}
    lost |= {hashed: Lost(hashes[hashed], at, "") for hashed, at in shut if at is not None}
    return tuple(lost[hashed] for hashed in hashes if hashed in lost)
