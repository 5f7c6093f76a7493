"""`make bench`: what proofs, pages and writes cost, as ratios within one run.

Absolute figures are one machine's on one day. Each series measures both sides one after the other; the ratios
shown are the medians over the series, with their range. A goal that is missed is said so, and the exit code
is 1.
"""

from __future__ import annotations

import json
import os
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import NAMESPACE_OID, uuid5

import httpx2
from sqlmodel import select

from server.craft import making as craft
from server.craft import text as craft_text
from server.services import demo, joining
from server.services.notebooks import clocks
from server.storage.migrating import migrate
from server.storage.sessions import open_engine, writing
from server.storage.tables import Along, Part, PatternVersion, Project, now
from tests.bench import engine, floors, load
from tests.bench.application import EMPTY
from tests.serving import free_port

SERIES = 3
PAGES = 640
WRITERS = 128  # each with a notebook of her own
WRITES_EACH = 8
LEAST_ROWS = 400  # of an insert loop
STORED, NAMED = "evenhand_notebooks", "evenhand_device"
BEGUN = datetime(2026, 11, 20, 19, 30, tzinfo=UTC)
APART = timedelta(seconds=40)  # a round of the small ones


Makers = dict[int, str]  # secrets by notebook


@dataclass(frozen=True)
class Step:
    """An entry that a maker logs, without what is hers."""

    kind: str
    piece: int
    values: dict[str, Any]


@dataclass(frozen=True)
class World:
    """What there is to ask for: the demo, makers who write notes, and makers who make the pair.

    pair  what is logged for it from the beginning, in the order it is made
    """

    part_id: int
    project_id: int
    busy_secret: str
    note_takers: Makers
    pair_makers: Makers
    pair: list[Step]


def fill(database: Path) -> World:
    """The demo and the writers, in a new database."""
    engine = open_engine(database)
    migrate(engine)
    with writing(engine) as session:
        loaded = demo.load(session, now())
        part_id = session.exec(select(Part.id).where(Part.title == demo.PART)).one()
        code = session.exec(select(Along.join_code)).one()
        text = session.exec(select(PatternVersion.text).where(PatternVersion.part_id == part_id)).one()
        joined = [
            joining.join(session, code, f"Writer {n}", joining.new_secret(), now())
            for n in range(2 * WRITERS)
        ]
        project_id = session.exec(select(Project.id)).first()
    engine.dispose()
    assert part_id is not None
    assert project_id is not None
    busy = next(maker.secret for maker in loaded.makers if maker.nickname == "Aurel")
    secrets = [(one.notebook_id, one.secret) for one in joined]
    return World(part_id, project_id, busy, dict(secrets[::2]), dict(secrets[1::2]), pair_of(text))


def pair_of(text: str) -> list[Step]:
    """A pair in the pattern's first size: settled, and round by round."""
    pattern = craft_text.read(text).pattern
    header = pattern.header
    size, foundation = header.sizes[0], header.foundations[0]
    rounds = craft.plan(pattern, craft.Numbers(foundation, size), "US").rounds
    worked = [Step("worked", piece, {"spot": each.spot}) for piece in (1, 2) for each in rounds]
    return [Step("settled", 0, {"foundation": foundation, "size": size}), *worked]


def serve(data: Path, port: int) -> subprocess.Popen[bytes]:
    """The application in a process of its own; comes back once it answers."""
    process = subprocess.Popen(
        [
            sys.executable, "-m", "uvicorn", "tests.bench.application:application", "--factory",
            "--port", str(port), "--log-level", "warning", "--no-access-log",
        ],
        env=os.environ | {"EVENHAND_DATA_DIR": str(data)},
    )  # fmt: skip
    until = time.monotonic() + 30
    while time.monotonic() < until and process.poll() is None:
        try:
            if httpx2.get(f"http://127.0.0.1:{port}/healthz").status_code == 200:
                return process
        except httpx2.TransportError:
            time.sleep(0.05)
    process.kill()
    raise SystemExit("the application did not start")


def notes(world: World, each: int, seen: int) -> list[bytes]:
    """Requests that log a note each, so many by every maker, who has seen `seen` entries of her log."""
    note = Step("note", 1, {"spot": None, "text": "still here"})
    return logged(world.part_id, world.note_takers, seen, [note] * each)


def rounds(world: World, each: int, seen: int) -> list[bytes]:
    """Requests that log what comes next of the pair, as `notes`."""
    return logged(world.part_id, world.pair_makers, seen, world.pair[seen : seen + each])


def logged(part_id: int, makers: Makers, seen: int, steps: Sequence[Step]) -> list[bytes]:
    """A request for every step of every maker, as her device sends them: by its name, in the order they were
    made in, each after the one before. Every `WRITERS`-th is hers.
    """
    requests = []
    for number, step in enumerate(steps, seen):
        for notebook, secret in makers.items():
            entry = {
                "id": entry_id(notebook, number), "piece": step.piece, "kind": step.kind,
                "values": step.values, "at": clocks.iso(BEGUN + number * APART), "order": number,
                "after": entry_id(notebook, number - 1) if number else "",
            }  # fmt: skip
            body = json.dumps({"notebook": notebook, "entries": [entry], "state": number})
            cookie = f"{STORED}={secret}; {NAMED}={notebook:016}"
            requests.append(load.post_json(f"/notebook/{part_id}/entries/batch", body, cookie))
    return requests


def entry_id(notebook: int, number: int) -> str:
    """Unlike any other, and not in any order, as ids that devices make up."""
    return uuid5(NAMESPACE_OID, f"{notebook}/{number}").hex


def told(what: str, values: Sequence[float], goal: str, reached: bool | None) -> bool:
    """Prints one line; gives whether the goal is reached (True where there is none)."""
    middle = statistics.median(values)
    mark = "" if reached is None else "reached" if reached else "MISSED"
    print(f"  {what:58} {middle:8.2f}  ({min(values):.2f} to {max(values):.2f})  {goal:>8}  {mark}")
    return reached is not False


def main() -> int:
    """Measures and prints; 1 where a goal is missed."""
    proofs = measure_proofs()
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder)
        database = data / "evenhand.db"
        world = fill(database)
        port = free_port()
        process = serve(data, port)
        try:
            return report(proofs | measure_all(world, database, port))
        finally:
            process.send_signal(signal.SIGINT)
            process.wait(10)


def measure_proofs() -> dict[str, list[float]]:
    """The engine's ratios of every series, by name."""
    ratios: dict[str, list[float]] = {}
    for _ in range(SERIES):
        for name, ratio in engine.ratios().items():
            ratios.setdefault(name, []).append(ratio)
    return ratios


def measure_all(world: World, database: Path, port: int) -> dict[str, list[float]]:
    """The ratios of every series, by name."""
    cookie = f"{STORED}={world.busy_secret}"
    pages = {
        "first page": load.get("/"),
        "join page (one row)": load.get("/join"),
        "shelf": load.get("/notebook", cookie),
        "working page, in glove two": load.get(f"/notebook/{world.part_id}/piece/2", cookie),
        "pair page": load.get(f"/notebook/{world.part_id}/pair", cookie),
    }
    for request in pages.values():
        load.measure(port, [request] * 50)  # warm
    for requests in (notes(world, 1, 0), rounds(world, 1, 0)):
        load.measure(port, requests, WRITERS)
    ratios: dict[str, list[float]] = {}
    for series in range(SERIES):
        for name, ratio in (
            measure_pages(pages, port) | measure_writes(world, database, port, 1 + series * WRITES_EACH)
        ).items():
            ratios.setdefault(name, []).append(ratio)
    return ratios


def measure_pages(pages: dict[str, bytes], port: int) -> dict[str, float]:
    """Every page beside the empty route of the same application."""
    loads = {name: [request] * (PAGES // 2) for name, request in pages.items()}
    measured = load.beside(port, {"empty": [load.get(EMPTY)] * PAGES} | loads)
    print("  per s: " + ", ".join(f"{name} {each.per_second:.0f}" for name, each in measured.items()))
    empty = measured.pop("empty").per_second
    return {f"{name} / empty route, requests": page.per_second / empty for name, page in measured.items()}


def measure_writes(world: World, database: Path, port: int, seen: int) -> dict[str, float]:
    """128 makers who log at once, notes and then rounds, each between two runs of each insert loop."""
    ratios: dict[str, float] = {}
    for what, requests in (
        ("notes", notes(world, WRITES_EACH, seen)),
        ("rounds", rounds(world, WRITES_EACH, seen)),
    ):
        bare, stored = [], []
        for load_between in (requests, None):
            bare.append(floors.bare_sqlite(database, world.project_id, LEAST_ROWS))
            stored.append(floors.in_process(database, world.project_id, LEAST_ROWS))
            if load_between is not None:
                written = load.measure(port, load_between, WRITERS)
        print(
            f"  rows per s: SQLite {statistics.mean(bare):.0f}, SQLModel {statistics.mean(stored):.0f}, "
            f"server, {what} {written.per_second:.0f} "
            f"(p50 {written.p50_ms:.0f} ms, p99 {written.p99_ms:.0f} ms)"
        )
        ratios |= {
            f"{what} through the server / bare SQLite loop, rows": written.per_second / statistics.mean(bare),
            f"{what} through the server / SQLModel loop, rows": written.per_second / statistics.mean(stored),
            f"{what} through the server, slowest hundredth / middle": written.p99_ms / written.p50_ms,
        }
    return ratios


GOALS = {
    "proof / allocating its stitches, 60-round pair": ("<=", 6.0),
    "proof / allocating its stitches, 60-round pair, no two alike": ("<=", 6.0),
    "proof / allocating its stitches, wristers": ("<=", 6.0),
    "proof / allocating its stitches, 30 rounds of 5 kinds": ("<=", 6.0),
    "proof / allocating its stitches, 30 kinds of rounds": ("<=", 6.0),
    "one word changed, ms, 30 rounds of 5 kinds": ("<=", 100.0),
    "one word changed, ms, 30 kinds of rounds": ("<=", 100.0),
    "one stitch changed, ms, 30 kinds of rounds": ("<=", 100.0),
    "twice the rounds / once, of 5 kinds": ("<=", 2.4),
    "twice the rounds / once, no two alike": ("<=", 2.4),
    "twice the rounds / once, pair": ("<=", 2.4),
    "four times the chains / once, of 5 kinds": ("<=", 4.8),
    "four times the chains / once, no two alike": ("<=", 4.8),
    "four times the chains / once, pair": ("<=", 4.8),
    "first page / empty route, requests": (">=", 0.33),
    "working page, in glove two / empty route, requests": (">=", 0.35),
    "notes through the server / SQLModel loop, rows": (">=", 2.0),
    "notes through the server, slowest hundredth / middle": ("<=", 4.0),
    "rounds through the server / SQLModel loop, rows": (">=", 2.0),
    "rounds through the server, slowest hundredth / middle": ("<=", 4.0),
}


def report(ratios: dict[str, list[float]]) -> int:
    """Prints the ratios beside their goals."""
    print(f"\n  {'ratio, median of ' + str(SERIES) + ' series':58} {'':8}  (range){'':9} {'goal':>8}")
    all_reached = True
    for name, values in ratios.items():
        sign, goal = GOALS.get(name, ("", 0.0))
        middle = statistics.median(values)
        reached = None if not sign else middle >= goal if sign == ">=" else middle <= goal
        all_reached &= told(name, values, f"{sign} {goal}" if sign else "", reached)
    return 0 if all_reached else 1


if __name__ == "__main__":
    sys.exit(main())
