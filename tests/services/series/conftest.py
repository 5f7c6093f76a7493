"""What tests of a series share: a host with an along of two parts, and a pattern that is proved."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

import pytest
from sqlmodel import Session

from server.services import accounts, alongs
from server.services.accounts import NewAccount

NOW = datetime(2026, 11, 2, 9, 0, tzinfo=UTC)


def a_host(session: Session, name: str) -> int:
    """An account of that name; gives its id."""
    form = NewAccount(name, name.title(), "three old lamps")
    return accounts.make_account(session, accounts.invite(session, NOW), form, NOW)


@dataclass(frozen=True)
class Begun:
    """What the tests begin with."""

    host_id: int
    along_id: int
    cuff: int
    hat: int


@pytest.fixture
def begun(session: Session) -> Begun:
    """A host with an along of two parts."""
    host_id = a_host(session, "marit")
    along_id = alongs.make(session, host_id, "Harbour evenings", "Thursdays", NOW)
    cuff = alongs.add_part(session, host_id, along_id, "Mitts")
    hat = alongs.add_part(session, host_id, along_id, "Hat")
    return Begun(host_id, along_id, cuff, hat)
