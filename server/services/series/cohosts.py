"""Several hosts of one along: let in by a one-time link; all may change it, its own host alone removes it."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from hashlib import sha256

from sqlalchemy import func
from sqlmodel import Session, col, delete, select

from server.services.errors import NotAllowed, NotFound, Refusal
from server.services.series import owning
from server.storage import hosting
from server.storage.tables import (
    Along,
    AlongHost,
    AlongHostInvite,
    Host,
    Notebook,
    Part,
    PatternVersion,
)

INVITE_DAYS = 7
COHOSTS_MOST = 12
USED = "This link lets nobody in. Each one works once and for a few days: ask for a new one."


@dataclass(frozen=True)
class CoHost:
    """Someone who helps to host."""

    host_id: int
    name: str
    since: datetime


@dataclass(frozen=True)
class Hosts:
    """Who hosts an along. invite_until: how long the link that was made last still works, None where none
    is out; kept_by: why the along cannot be removed, "" where it can."""

    along_id: int
    along_title: str
    owner: str
    is_owner: bool
    others: tuple[CoHost, ...]
    invite_until: datetime | None
    kept_by: str


@dataclass(frozen=True)
class Invitation:
    """What a link lets in to."""

    along_title: str
    owner: str


def _hash(token: str) -> str:
    return sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


def hosts(session: Session, host_id: int, along_id: int, now: datetime) -> Hosts:
    """Who hosts an along that she hosts."""
    along = owning.hosted(session, host_id, along_id)
    until = session.exec(
        select(AlongHostInvite.expires_at).where(
            AlongHostInvite.along_id == along_id, col(AlongHostInvite.expires_at) > now
        )
    ).first()
    return Hosts(
        along_id, along.title, hosting.shown_name(session, along.host_id), along.host_id == host_id,
        _others(session, along_id), until, _kept_by(session, along_id),
    )  # fmt: skip


def _others(session: Session, along_id: int) -> tuple[CoHost, ...]:
    rows = session.exec(
        select(Host, AlongHost)
        .where(AlongHost.along_id == along_id, Host.id == AlongHost.host_id)
        .order_by(col(AlongHost.since), col(Host.id))
    ).all()
    return tuple(CoHost(host.id or 0, host.shown_name, let_in.since) for host, let_in in rows)


def names(session: Session, along: Along) -> tuple[str, ...]:
    """The shown names of all its hosts, its own first."""
    others = _others(session, along.id) if along.id is not None else ()
    return (hosting.shown_name(session, along.host_id), *(other.name for other in others))


def invite(session: Session, host_id: int, along_id: int, now: datetime) -> str:
    """The token of a new link; one that was out before works no more. It is shown once, kept as a hash."""
    owning.owned(session, host_id, along_id)
    if len(_others(session, along_id)) >= COHOSTS_MOST:
        raise Refusal(f"{COHOSTS_MOST} others host with you, which is as many as there can be.")
    take_back(session, host_id, along_id)
    token = secrets.token_urlsafe(32)
    expires_at = now + timedelta(days=INVITE_DAYS)
    session.add(AlongHostInvite(along_id=along_id, token_hash=_hash(token), expires_at=expires_at))
    session.flush()
    return token


def take_back(session: Session, host_id: int, along_id: int) -> None:
    """The link that is out lets nobody in any more."""
    owning.owned(session, host_id, along_id)
    session.exec(delete(AlongHostInvite).where(col(AlongHostInvite.along_id) == along_id))


def _invited(session: Session, token: str, now: datetime) -> tuple[AlongHostInvite, Along]:
    found = session.exec(
        select(AlongHostInvite, Along).where(
            AlongHostInvite.token_hash == _hash(token), Along.id == AlongHostInvite.along_id
        )
    ).first()
    if found is None or found[0].expires_at <= now:
        raise NotFound(USED)
    return found


def invitation(session: Session, token: str, now: datetime) -> Invitation:
    """What a link lets in to; NotFound where it lets nobody in."""
    _, along = _invited(session, token, now)
    return Invitation(along.title, hosting.shown_name(session, along.host_id))


def accept(session: Session, host_id: int, token: str, now: datetime) -> int:
    """This host hosts along from now on, and the link is used up; gives the along's id."""
    link, along = _invited(session, token, now)
    assert along.id is not None
    if along.host_id == host_id:
        raise Refusal("This is your own along. Send the link to whoever is to host it with you.")
    if session.get(AlongHost, (along.id, host_id)) is None:
        session.add(AlongHost(along_id=along.id, host_id=host_id, since=now))
    session.delete(link)
    session.flush()
    return along.id


def let_go(session: Session, host_id: int, along_id: int, other_id: int) -> None:
    """Someone hosts it no more: the along's own host says so, or she who leaves."""
    along = owning.hosted(session, host_id, along_id)
    if host_id not in (along.host_id, other_id):
        raise NotAllowed("You can leave yourself. Others are let go by the along’s own host.")
    session.exec(
        delete(AlongHost).where(col(AlongHost.along_id) == along_id, col(AlongHost.host_id) == other_id)
    )


def _kept_by(session: Session, along_id: int) -> str:
    makers = session.exec(
        select(func.count()).select_from(Notebook).where(Notebook.along_id == along_id)
    ).one()
    if makers:
        has = "1 maker has a notebook" if makers == 1 else f"{makers} makers have notebooks"
        return f"It stays: {has} in it, and a notebook is its maker’s."
    published = session.exec(
        select(PatternVersion.id).where(Part.along_id == along_id, PatternVersion.part_id == Part.id).limit(1)
    ).first()
    return "It stays: a published version never goes." if published is not None else ""


def remove_along(session: Session, host_id: int, along_id: int) -> None:
    """Remove an along with its drafts, evenings and page. NotAllowed for all but its own host; Refusal where
    somebody has joined it or something is published."""
    along = owning.owned(session, host_id, along_id)
    kept_by = _kept_by(session, along_id)
    if kept_by:
        raise Refusal(kept_by)
    for part in session.exec(select(Part).where(Part.along_id == along_id)).all():
        session.delete(part)
    session.flush()
    session.delete(along)
    session.flush()
