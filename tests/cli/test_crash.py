"""The server is killed while many makers log. What it has acknowledged is there when it is back."""

from __future__ import annotations

import sqlite3
import threading
import time
from pathlib import Path

import httpx2
import pytest
from sqlmodel import select

from server.services import joining
from server.storage.migrating import migrate
from server.storage.sessions import open_engine, writing
from server.storage.tables import Along, Part, now
from tests.serving import Served, browsing
from tests.storage.rows import fill

MAKERS = 24  # so that every COMMIT is one of many
ROUNDS_OF_KILLING = 3
ACKNOWLEDGED_LEAST = 150  # before each killing


def prepare(data: Path) -> tuple[int, dict[int, str]]:
    """A database with one part and several makers: the part's id, and their secrets by notebook."""
    data.mkdir()
    engine = open_engine(data / "evenhand.db")
    migrate(engine)
    with writing(engine) as session:
        fill(session)
        part_id = session.exec(select(Part.id)).one()
        code = session.exec(select(Along.join_code)).one()
        joined = [
            joining.join(session, code, f"Maker {n}", joining.new_secret(), now()) for n in range(MAKERS)
        ]
    engine.dispose()
    assert part_id is not None
    return part_id, {one.notebook_id: one.secret for one in joined}


def log_until_gone(
    url: str, path: str, notebook: int, secret: str, prefix: str, acknowledged: list[str]
) -> None:
    """Logs notes one after another, as a phone does; gives up when the server is gone."""
    with browsing(url) as client:
        client.get(f"/n/{secret}")
        for order in range(10_000):
            name = f"{prefix}-{notebook}-{order:05}"
            entry = {
                "id": name,
                "piece": 1,
                "kind": "note",
                "values": {"spot": None, "text": "still here"},
                "at": "2026-11-20T19:30:00.000Z",
                "order": order,
            }
            try:
                answer = client.post(path, json={"notebook": notebook, "entries": [entry]})
            except httpx2.TransportError:
                return
            assert answer.status_code == 200, answer.text
            assert answer.json()["kept"] == [name]
            acknowledged.append(name)


@pytest.mark.crash
def test_what_was_acknowledged_survives(tmp_path: Path) -> None:
    data = tmp_path / "var"
    part_id, secrets = prepare(data)
    acknowledged: list[str] = []
    for killing in range(ROUNDS_OF_KILLING):
        before = len(acknowledged)
        with Served(data) as served:
            path = f"/notebook/{part_id}/entries/batch"
            threads = [
                threading.Thread(
                    target=log_until_gone,
                    args=(served.url, path, notebook, secret, f"k{killing}", acknowledged),
                )
                for notebook, secret in secrets.items()
            ]
            for thread in threads:
                thread.start()
            until = time.monotonic() + 20
            while len(acknowledged) < before + ACKNOWLEDGED_LEAST and time.monotonic() < until:
                time.sleep(0.01)
            served.kill()
            for thread in threads:
                thread.join(20)
        assert len(acknowledged) >= before + ACKNOWLEDGED_LEAST, "it was killed in the middle of writing"

    with Served(data):  # it comes up by itself after the last killing
        pass
    with sqlite3.connect(data / "evenhand.db") as connection:
        kept = {name for (name,) in connection.execute("SELECT id FROM entry")}
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert set(acknowledged) <= kept
    # At most what was under way when it was killed is there without having been acknowledged.
    assert len(kept - set(acknowledged) - {"a", "b"}) <= MAKERS * ROUNDS_OF_KILLING
