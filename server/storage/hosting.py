"""Who may change an along: its own host, and those she let in; and the codes that alongs are joined by."""

from __future__ import annotations

import secrets

from sqlalchemy import ColumnElement, or_
from sqlmodel import Session, col, select

from server.storage.tables import Along, AlongHost, Host

# Read aloud and typed from a screen: no 0 O, 1 I L, 2 Z, 5 S, 8 B, U V. 22 characters, 6 of them: 113 million
# codes.
CODE_LETTERS = "34679ACDEFGHJKMNPQRTWX"
CODE_LENGTH = 6


def new_join_code(session: Session) -> str:
    """A join code that no along has."""
    while True:
        code = "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))
        if session.exec(select(Along.id).where(Along.join_code == code)).first() is None:
            return code


def is_hosted_by(host_id: int) -> ColumnElement[bool]:
    """The condition on `along` that this host may change it."""
    let_in = select(AlongHost.along_id).where(AlongHost.host_id == host_id)
    return or_(col(Along.host_id) == host_id, col(Along.id).in_(let_in))


def along_hosted_by(session: Session, host_id: int, along_id: int) -> Along | None:
    """The along, where this host may change it; None where there is none, or where she may not."""
    return session.exec(select(Along).where(Along.id == along_id, is_hosted_by(host_id))).first()


def shown_name(session: Session, host_id: int) -> str:
    """What people see of a host."""
    host = session.get(Host, host_id)
    return host.shown_name if host else ""
