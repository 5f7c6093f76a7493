"""Devices send what they logged with no network, in batches, while the server is killed again and again, and
while answers are lost: in the end every entry is there, none twice, and what was acknowledged never went."""

from __future__ import annotations

import random
import sqlite3
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import httpx2
import pytest

from server.craft.making import Entry, fold
from server.services import joining
from server.storage.migrating import migrate
from server.storage.sessions import open_engine, writing
from tests.services.story import NOW, Maker, make_along
from tests.serving import Served, browsing

MAKERS, DEVICES_EACH, ENTRIES_EACH = 3, 2, 60
KILLINGS = 2
BATCH_MOST = 9
LOST = 0.15  # of the answers


@dataclass
class Device:
    """A device with an outbox: rounds of the cuff, now and then one taken out, and notes."""

    name: str
    notebook: int
    secret: str
    outbox: list[dict[str, Any]]
    draw: random.Random
    acknowledged: set[str] = field(default_factory=set)
    complaints: list[str] = field(default_factory=list)

    def send_until_gone(self, url: str, path: str) -> None:
        """Sends what is not acknowledged; gives up when the server is gone or all is there."""
        with browsing(url) as client:
            try:
                client.get(f"/n/{self.secret}")
                while waiting := [one for one in self.outbox if one["id"] not in self.acknowledged]:
                    some = waiting[: self.draw.randint(1, BATCH_MOST)]
                    answer = client.post(path, json={"notebook": self.notebook, "entries": some})
                    if answer.status_code != 200:
                        self.complaints.append(answer.text)
                        return
                    if self.draw.random() >= LOST:
                        self.acknowledged |= set(answer.json()["kept"])
            except httpx2.TransportError:
                return


def outbox(name: str, draw: random.Random) -> list[dict[str, Any]]:
    entries: list[dict[str, Any]] = []
    turn = 0
    for order in range(ENTRIES_EACH):
        kind, values = "worked", {"spot": f"0.3.{turn + 1}"}
        if turn > 2 and draw.random() < 0.2:
            kind, values = "taken_out", {"spot": f"0.3.{turn}"}
        elif draw.random() < 0.2:
            kind, values = "note", {"spot": f"0.3.{turn + 1}", "text": f"note {order} of {name}"}
        turn += {"worked": 1, "taken_out": -1}.get(kind, 0)
        at = f"2026-11-20T19:{order // 60:02}:{order % 60:02}.000Z"
        after = f"{name}-{order - 1:05}" if order else ""
        entries.append(
            {"id": f"{name}-{order:05}", "piece": 1, "kind": kind, "values": values, "at": at, "order": order,
             "after": after}
        )  # fmt: skip
    return entries


def prepare(data: Path) -> tuple[int, list[Device]]:
    """A database with the makers of one part, their numbers settled, and their devices."""
    data.mkdir()
    engine = open_engine(data / "evenhand.db")
    migrate(engine)
    devices = []
    with writing(engine) as session:
        _, part_id = make_along(session)
        for maker in range(MAKERS):
            joined = joining.join(session, "KAJ947", f"Maker {maker}", joining.new_secret(), NOW)
            Maker.at(session, part_id, joined.notebook_id).settle(28, "medium")
            for number in range(DEVICES_EACH):
                name = f"maker{maker}-device{number}"
                draw = random.Random(name)
                devices.append(Device(name, joined.notebook_id, joined.secret, outbox(name, draw), draw))
    engine.dispose()
    return part_id, devices


@pytest.mark.crash
def test_every_outbox_arrives_whole(tmp_path: Path) -> None:
    data = tmp_path / "var"
    part_id, devices = prepare(data)
    path = f"/notebook/{part_id}/entries/batch"
    for killing in range(KILLINGS):
        with Served(data) as served:
            threads = [
                threading.Thread(target=one.send_until_gone, args=(served.url, path)) for one in devices
            ]
            before = sum(len(one.acknowledged) for one in devices)
            for thread in threads:
                thread.start()
            until = time.monotonic() + 20
            while sum(len(one.acknowledged) for one in devices) < before + 50 and time.monotonic() < until:
                time.sleep(0.005)
            served.kill()
            for thread in threads:
                thread.join(20)
        assert [complaint for one in devices for complaint in one.complaints] == []
        assert set().union(*(one.acknowledged for one in devices)) <= set(ids(data)), f"killing {killing}"
    assert any(len(one.acknowledged) < ENTRIES_EACH for one in devices), "it was killed in the middle"
    with Served(data) as served:
        for one in devices:
            one.send_until_gone(served.url, path)
        states = [state_told(served.url, part_id, one) for one in devices]
    assert [complaint for one in devices for complaint in one.complaints] == []
    there = ids(data)
    assert len(there) == len(set(there))
    assert set(there) >= {entry["id"] for one in devices for entry in one.outbox}
    assert len(there) == MAKERS * (1 + DEVICES_EACH * ENTRIES_EACH)
    for first, second in zip(states[::2], states[1::2], strict=True):
        assert first == second, "both devices of a maker are told the same"


def ids(data: Path) -> list[str]:
    """Ids of all that is in the database; it is whole."""
    with sqlite3.connect(data / "evenhand.db") as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        return [name for (name,) in connection.execute("SELECT id FROM entry")]


def state_told(url: str, part_id: int, device: Device) -> object:
    """What a device makes of the log that the server gives it: each of its own entries once, in its order."""
    with browsing(url) as client:
        client.get(f"/n/{device.secret}")
        told = client.get(f"/notebook/{part_id}/carry", params={"notebook": device.notebook}).json()
    entries = [Entry(**each) for each in told["entries"]]
    own = [each.id for each in sorted(entries, key=lambda e: (e.at, e.device, e.order, e.id))]
    assert [each for each in own if each.startswith(device.name)] == [each["id"] for each in device.outbox]
    return fold(entries)
