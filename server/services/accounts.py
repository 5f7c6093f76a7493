"""Host accounts: made from a one-time link, opened with a name and a password, closed by signing out.

Tokens of links and sessions have 256 random bits and are stored as SHA-256 only. Passwords are stored as
Argon2id (RFC 9106, the library's recommended parameters). Hashing takes tens of milliseconds on purpose: it
is done before the first statement of a writing session, so that nobody waits for the database meanwhile.
"""

from __future__ import annotations

import re
import secrets
import unicodedata
from dataclasses import dataclass
from datetime import datetime, timedelta
from hashlib import sha256

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from sqlmodel import Session, col, delete, select

from server.services.errors import NotFound, Refusal
from server.storage.tables import FILES_HOST, Host, HostInvite, HostSession

INVITE_DAYS = 7
SESSION_DAYS = 60  # without a visit, after which a device has to sign in again
SEEN_EVERY = timedelta(hours=12)  # how exactly the last visit is written down
NAME_SHAPE = re.compile(r"[a-z0-9](?:[a-z0-9._-]{1,38}[a-z0-9])")
PASSWORD_LEAST, PASSWORD_MOST = 10, 200
SHOWN_NAME_MOST = 60

WRONG = "That name and password do not belong together. Try again; capitals in the password matter."
USED_LINK = "This link does not make an account. Each one works once and for a few days: ask for a new one."

_HASHER = PasswordHasher()
# Verified against when a name is unknown, so that the answer takes as long as for a known one.
_NOBODY = _HASHER.hash(secrets.token_urlsafe(32))


@dataclass(frozen=True)
class SignedIn:
    """A host as the pages know her."""

    host_id: int
    shown_name: str


@dataclass(frozen=True)
class NewAccount:
    """What the form for a new account has in it, as typed."""

    sign_in_name: str
    shown_name: str
    password: str


def _hash(token: str) -> str:
    return sha256(token.encode()).hexdigest()


def tidy_name(typed: str) -> str:
    """A sign-in name as it is kept: one spelling for every way to type it."""
    return unicodedata.normalize("NFKC", typed).strip().casefold()


def tidy_shown(typed: str) -> str:
    """A name or title as it is shown: one line, single spaces, no characters that cannot be seen."""
    text = unicodedata.normalize("NFC", typed)
    kept = "".join(c for c in text if c == "\u200d" or c.isspace() or unicodedata.category(c)[0] != "C")
    return " ".join(kept.split())


def invite(session: Session, now: datetime) -> str:
    """The token of a new one-time link. It is shown once and stored as a hash."""
    token = secrets.token_urlsafe(32)
    session.add(
        HostInvite(token_hash=_hash(token), created_at=now, expires_at=now + timedelta(days=INVITE_DAYS))
    )
    session.flush()
    return token


def any_host(session: Session) -> bool:
    """Whether there is a host account at all."""
    account = select(Host.id).where(Host.sign_in_name != FILES_HOST).limit(1)
    return session.exec(account).first() is not None


def open_invite(session: Session, token: str, now: datetime) -> HostInvite:
    """The invite of a link that still works; NotFound for any other, whatever the reason."""
    found = session.exec(select(HostInvite).where(HostInvite.token_hash == _hash(token))).first()
    if found is None or found.used_at is not None or found.expires_at <= now:
        raise NotFound(USED_LINK)
    return found


def account_problems(form: NewAccount) -> dict[str, str]:
    """What is to be put right in the form, by field; empty where nothing is. Needs no database."""
    problems: dict[str, str] = {}
    name = tidy_name(form.sign_in_name)
    if not NAME_SHAPE.fullmatch(name):
        problems["sign_in_name"] = (
            "A sign-in name has 3 to 40 characters: letters a to z, digits, and dots, dashes or underscores "
            "between them."
        )
    shown = tidy_shown(form.shown_name)
    if not any(unicodedata.category(c)[0] in "LN" for c in shown):
        problems["shown_name"] = "Write the name that makers will see, with at least one letter or digit."
    elif len(shown) > SHOWN_NAME_MOST:
        problems["shown_name"] = f"That is {len(shown)} characters. {SHOWN_NAME_MOST} or fewer fit on a page."
    length = len(form.password)
    if length < PASSWORD_LEAST:
        problems["password"] = (
            f"That is {length} characters. Use at least {PASSWORD_LEAST}: three or four words of your own "
            "do well."
        )
    elif length > PASSWORD_MOST:
        problems["password"] = f"That is {length} characters. {PASSWORD_MOST} or fewer can be kept."
    elif name and tidy_name(form.password) in (name, tidy_name(form.shown_name)):
        problems["password"] = (
            "Choose one that is not your name: names are the first thing that strangers try."  # noqa: S105  # a sentence to show, not a password
        )
    return problems


def make_account(session: Session, token: str, form: NewAccount, now: datetime) -> int:
    """Make the account that a one-time link is for; the link is used up. Gives the host's id.

    Refusal with the field for a form that has problems or a name that is taken, NotFound where the link works
    no more.
    """
    for field, message in account_problems(form).items():
        raise Refusal(message, field)
    password_hash = _HASHER.hash(form.password)
    used = open_invite(session, token, now)
    name = tidy_name(form.sign_in_name)
    if session.exec(select(Host.id).where(Host.sign_in_name == name)).first() is not None:
        raise Refusal(f"There is already a host called {name}. Choose another sign-in name.", "sign_in_name")
    host = Host(
        sign_in_name=name, shown_name=tidy_shown(form.shown_name), password_hash=password_hash, created_at=now
    )
    used.used_at = now
    session.add_all((host, used))
    session.flush()
    assert host.id is not None
    return host.id


def check_password(session: Session, sign_in_name: str, password: str) -> int:
    """The id of the host whose name and password these are; Refusal, the same for every reason, where they
    are nobody's."""
    host = session.exec(select(Host).where(Host.sign_in_name == tidy_name(sign_in_name))).first()
    kept = host.password_hash if host else _NOBODY
    try:
        _HASHER.verify(kept, password[: PASSWORD_MOST + 1])
    except (VerificationError, InvalidHashError):
        raise Refusal(WRONG, "password") from None
    if host is None or host.id is None:
        raise Refusal(WRONG, "password")
    return host.id


def sign_in(session: Session, host_id: int, now: datetime) -> str:
    """Open a session on a device: gives its token, for a cookie. Sessions nobody has used for long are
    cleared away."""
    session.exec(
        delete(HostSession).where(col(HostSession.last_seen_at) < now - timedelta(days=SESSION_DAYS))
    )
    token = secrets.token_urlsafe(32)
    session.add(HostSession(token_hash=_hash(token), host_id=host_id, created_at=now, last_seen_at=now))
    session.flush()
    return token


def sign_out(session: Session, token: str) -> None:
    """Close the session of a token. One that is closed already is no matter."""
    session.exec(delete(HostSession).where(col(HostSession.token_hash) == _hash(token)))


def signed_in(session: Session, token: str, now: datetime) -> tuple[SignedIn, bool] | None:
    """Who a token belongs to, and whether `seen` is due; None where it is nobody's or too old."""
    if not token:
        return None
    row = session.exec(
        select(HostSession, Host).where(
            HostSession.token_hash == _hash(token), HostSession.host_id == Host.id
        )
    ).first()
    if row is None:
        return None
    opened, host = row
    if opened.last_seen_at <= now - timedelta(days=SESSION_DAYS):
        return None
    assert host.id is not None
    return SignedIn(host.id, host.shown_name), opened.last_seen_at <= now - SEEN_EVERY


def seen(session: Session, token: str, now: datetime) -> None:
    """Write down that a session was used."""
    opened = session.exec(select(HostSession).where(HostSession.token_hash == _hash(token))).first()
    if opened is not None:
        opened.last_seen_at = now
        session.add(opened)
