"""No maker sees or changes another's notebook: every route of the application is tried, with the secret of
another notebook, and without any.

The routes are the application's own list. A route with something new in its address fails here until it is
said below what stands for it, so that none is forgotten.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from fastapi import FastAPI
from sqlalchemy import Engine, text
from sqlmodel import select
from starlette.routing import BaseRoute, Mount
from starlette.testclient import TestClient

from server.storage.sessions import reading, writing
from server.storage.tables import Evening, Host, Notebook, NotebookKey, RoomEvent
from server.web.maker.batches import ADDRESS as BATCHES
from server.web.maker.device import NOTEBOOKS
from server.web.routes import ROUTERS
from tests.services.story import Maker, make_along
from tests.web.conftest import SignedIn

HERS = ("Idavelle", "My ring is snug", "Why is mine so wide?")
INTRUDERS = ("in the same along", "in another along", "with no notebook")
# Tables that have something of hers, and how a row of hers is told.
KEPT = {
    "notebook": "id = :notebook",
    "notebook_key": "notebook_id = :notebook",
    "notebook_move": "notebook_id = :notebook",
    "project": "notebook_id = :notebook",
    "entry": "project_id IN (SELECT id FROM project WHERE notebook_id = :notebook)",
    "room_event": "notebook_id = :notebook",
}


@dataclass
class Hers:
    """Ida's notebook and all that stands for something in an address or a form."""

    notebook_id: int
    secret: str
    secrets: dict[str, str]
    entry_id: str
    key_id: int
    part_id: int
    along_id: int
    evening_id: int


@pytest.fixture
def hers(engine: Engine, signed_in: SignedIn) -> Hers:
    """Ida in the middle of a glove, with a note, a lost phone's key, a hand up in a room that was open."""
    signed_in("marit")
    with writing(engine) as session:
        along_id, part_id = make_along(session)
        ida = Maker(session, part_id, HERS[0])
        ida.settle(36)
        ida.work(1, 3)
        note = ida.send("note", 1, spot=ida.next_spot(1), text=HERS[1])
        key = NotebookKey(notebook_id=ida.notebook_id, secret_hash="k" * 64, how="device")
        evening = Evening(
            along_id=along_id, part_id=part_id, title="The cuff", local_start="2026-11-05T19:30",
            zone="Europe/Oslo", minutes=120, uid="one", changed_by="Marit",
        )  # fmt: skip
        session.add_all((key, evening))
        session.flush()
        for kind in ("opened", "hand"):
            session.add(
                RoomEvent(
                    evening_id=evening.id or 0, kind=kind, words=HERS[2] if kind == "hand" else "",
                    notebook_id=ida.notebook_id if kind == "hand" else None,
                )
            )  # fmt: skip
        beside = Maker(session, part_id, "Eve").secret
        _, other = make_along(session, code="ELSE77")
        elsewhere = Maker(session, other, "Una", code="ELSE77").secret
        return Hers(
            ida.notebook_id, ida.secret, dict(zip(INTRUDERS, (beside, elsewhere, ""), strict=True)), note,
            key.id or 0, part_id, along_id, evening.id or 0,
        )  # fmt: skip


def routes(app: FastAPI) -> Iterator[tuple[str, str]]:
    """(method, path) of every route there is."""
    included = [each for each in app.routes if not isinstance(each, Mount)]
    assert len(included) == len(ROUTERS), "a router stands outside of server/web/routes.py"
    found: list[BaseRoute] = [route for router in ROUTERS for route in router.routes]
    for route in found:
        methods, path = getattr(route, "methods", None), getattr(route, "path", None)
        assert methods, f"{route}: say how it is tried"
        assert path, f"{route}: say how it is tried"
        for method in sorted(methods - {"HEAD"}):
            yield method, str(path)
    yield "POST", BATCHES  # it is answered before the routes


def address(path: str, hers: Hers) -> str:
    """The path with what is Ida's in its place; a secret is never hers."""
    said = {
        "part_id": hers.part_id, "evening_id": hers.evening_id, "along_id": hers.along_id, "piece": 1,
        "number": 1, "other_id": 1, "key_id": hers.key_id, "code": "KAJ947", "secret": "x" * 43,
        "token": "x" * 43, "key": "x" * 16, "address": "lamp-evenings-" + "x" * 16,
        "asked": "x", "path": "x.js",
    }  # fmt: skip
    names = re.findall(r"{(\w+)", path)
    assert set(names) <= set(said), f"{path}: say what stands for {set(names) - set(said)}"
    return re.sub(r"{(\w+)(?::\w+)?}", lambda found: str(said[found[1]]), path)


def typed(hers: Hers) -> dict[str, str]:
    """All that any form could ask for, about Ida's notebook."""
    return {
        "notebook": str(hers.notebook_id), "part": str(hers.part_id), "id": f"eve-{'0' * 12}", "kind": "note",
        "piece": "1", "text": "Eve was here", "entry": hers.entry_id, "spot": "0.0.1", "nickname": HERS[0],
        "terms": "UK", "units": "in", "wording": "full", "words": "Eve was here", "foundation": "24",
        "secret": "y" * 43, "code": "KAJ947", "hidden": "yes", "hand": "2", "number": "2", "version": "1",
        "verdict": "fits", "hook": "4", "size": "small", "sure": "yes", "state": "4",
    }  # fmt: skip


def rows(engine: Engine, hers: Hers) -> dict[str, list[tuple[object, ...]]]:
    """All that is kept of hers, but for when she was last seen."""
    with reading(engine) as session:
        connection = session.connection()
        found = {}
        for table, where in KEPT.items():
            query = text(f"SELECT * FROM {table} WHERE {where} ORDER BY 1, 2")
            found[table] = [tuple(row) for row in connection.execute(query, {"notebook": hers.notebook_id})]
    return found


def tries(client: TestClient, app: FastAPI, hers: Hers, secret: str) -> Iterator[tuple[str, str]]:
    """(what was asked, all that came back) for every route, each from a device as it was."""
    for method, path in routes(app):
        where = address(path, hers)
        for body in ({}, {"data": typed(hers)}, {"json": batch(hers)}) if method == "POST" else ({},):
            client.cookies.clear()
            if secret:
                client.cookies.set(NOTEBOOKS, secret)
            query = "" if method == "POST" else f"?notebook={hers.notebook_id}&part={hers.part_id}"
            answer = client.request(method, where + query, **body)
            assert answer.status_code < 500 or answer.status_code == 501, f"{method} {where}"
            yield f"{method} {path}", answer.text + json.dumps(dict(answer.headers))


def batch(hers: Hers) -> dict[str, object]:
    """What a device would send."""
    entry = {
        "id": "eve-batch-0001", "piece": 1, "kind": "note", "values": {"text": "Eve", "spot": "0.0.1"},
        "at": "2026-11-05T20:00:00.000Z", "order": 1,
    }  # fmt: skip
    return {"notebook": hers.notebook_id, "entries": [entry], "state": 0}


@pytest.mark.parametrize("who", INTRUDERS)
def test_no_route_shows_or_changes_it(
    client: TestClient, app: FastAPI, engine: Engine, hers: Hers, who: str
) -> None:
    before = rows(engine, hers)
    assert all(before[table] for table in ("notebook", "notebook_key", "project", "entry", "room_event"))
    tried = 0
    for asked, came in tries(client, app, hers, hers.secrets[who]):
        tried += 1
        for words in (*HERS, hers.secret):
            assert words not in came or _typed_back(asked, words), f"{asked} shows “{words}” to one {who}"
    assert tried > 150
    assert rows(engine, hers) == before


def _typed_back(asked: str, words: str) -> bool:
    """Forms that keep what was typed into them show the nickname that the intruder typed herself."""
    return words == HERS[0] and asked in (
        "POST /join/{code}",
        "POST /notebook/again",
        "POST /notebook/import",
    )


def test_with_her_own_secret_the_same_routes_do_show_it(client: TestClient, app: FastAPI, hers: Hers) -> None:
    """The tries above are worth something: they come to her pages where the secret is hers."""
    shown = set()
    for method, path in routes(app):
        if method == "GET":
            client.cookies.clear()
            client.cookies.set(NOTEBOOKS, hers.secret)
            answer = client.get(address(path, hers))
            shown |= {path for words in HERS if words in answer.text}
    assert {
        "/notebook",
        "/notebook/export.json",
        "/notebook/{part_id}/carry",
        "/notebook/{part_id:int}/piece/{piece:int}",
    } <= shown


def test_hosts_see_no_note_of_hers(signed_in: SignedIn, app: FastAPI, engine: Engine, hers: Hers) -> None:
    """Her own host finds her nickname and what she said in the room, and nothing of her notebook."""
    marit = signed_in("marit")
    with writing(engine) as session:
        session.exec(select(Host).where(Host.sign_in_name == "marit")).one()
    found = set()
    for method, path in routes(app):
        if method == "GET" and path.startswith("/host"):
            answer = marit.get(address(path, hers))
            assert HERS[1] not in answer.text, path
            assert hers.secret not in answer.text, path
            found |= {path for words in (HERS[0],) if words in answer.text}
    assert "/host/alongs/{along_id}" in found


def test_every_table_with_something_of_hers_is_looked_at() -> None:
    """A table that refers to a notebook or a project, but for caches and what hosts put beside it."""
    from server.storage.tables import METADATA

    told = {
        table.name
        for table in METADATA.tables.values()
        for key in table.foreign_keys
        if key.column.table.name in ("notebook", "project")
    }
    assert told - {"project_place", "notebook_hidden"} <= set(KEPT)
    assert Notebook.__tablename__ in KEPT
