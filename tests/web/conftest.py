"""What tests of pages share: hosts who are signed in."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from fastapi import FastAPI
from sqlalchemy import Engine
from starlette.testclient import TestClient

from server.services import accounts
from server.services.accounts import NewAccount
from server.storage.sessions import writing
from server.web.moments import now
from server.web.signing import COOKIE

PASSWORD = "three old lamps"
SignedIn = Callable[[str], TestClient]


@pytest.fixture
def signed_in(app: FastAPI, engine: Engine) -> Iterator[SignedIn]:
    """A browser in which the host of that name is signed in; the account is made at the first use."""
    clients: list[TestClient] = []
    hosts: dict[str, int] = {}

    def sign_in(name: str) -> TestClient:
        with writing(engine) as session:
            if name not in hosts:
                token = accounts.invite(session, now())
                hosts[name] = accounts.make_account(
                    session, token, NewAccount(name, name.title(), PASSWORD), now()
                )
            token = accounts.sign_in(session, hosts[name], now())
        client = TestClient(
            app,
            base_url="http://evenhand.test",
            headers={"Origin": "http://evenhand.test", "Accept": "text/html"},
            follow_redirects=False,
            cookies={COOKIE: token},
        )
        clients.append(client)
        return client

    yield sign_in
    for client in clients:
        client.close()


@pytest.fixture
def marit(signed_in: SignedIn) -> TestClient:
    """A host's browser."""
    return signed_in("marit")
