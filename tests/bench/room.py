"""`python -m tests.bench.room [LISTENERS …]`: a room's fan-out beside a bare asyncio socket server that
writes the same bytes, in the same run.

A series opens so many listeners at one side, tells them something a dozen times, and goes to the other side.
What is compared are the medians of the events of all series: until the last hundredth had it (p99), in ms
from the moment it was told to the moment the system had it in the listener's socket. The listeners' process
stands still meanwhile, as the listeners of a room are on other machines: one worker has a core here, and two
have one each. Run it on a machine that has two cores and does nothing else. `ulimit -n` has to be some
hundreds above the number of listeners.
"""

from __future__ import annotations

import json
import os
import resource
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit
from uuid import uuid4

import httpx2

from server.broadcast import frame
from server.services import demo, room
from server.storage.migrating import migrate
from server.storage.sessions import open_engine, writing
from server.storage.tables import now

LISTENERS = (1000, 5000, 10_000)
SERIES, EVENTS, WARM = 3, 12, 2
EVENING, FIRST = 2, 1_000_000
FILLING = 40  # events of 4 KiB, until who does not read is behind
ONCE = 50
STILL_S = 60e-6  # for each listener: some times what writing to it takes
SEND_BUFFER = 8192  # of every socket of either side, so that who does not read is soon behind
REDIS = os.environ.get("EVENHAND_REDIS_URL") or os.environ.get("REDIS_URL") or "redis://127.0.0.1:6379/0"
GOALS = {"p99 / bare socket": 1.6, "KiB per idle listener": 14.0, "two workers / one, p99": 0.75}


@dataclass
class Took:
    """ms of every event: until half, all but a hundredth, and all of the listeners had it; and what it took
    of the servers' processor time, which other work on the machine changes little."""

    p50: list[float] = field(default_factory=list)
    p99: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    cpu: list[float] = field(default_factory=list)
    lost: int = 0
    late: int = 0

    def add(self, line: str) -> None:
        """What the listeners printed of one event."""
        said = json.loads(line)
        self.p50.append(said["p50"])
        self.p99.append(said["p99"])
        self.most.append(said["max"])
        self.lost = max(self.lost, said["lost"])
        self.late += said["late"]

    def __str__(self) -> str:
        middle = statistics.median
        return (
            f"p50 {middle(self.p50):7.1f}  p99 {middle(self.p99):7.1f} "
            f"({min(self.p99):.1f} to {max(self.p99):.1f})  max {middle(self.most):7.1f}"
            f"  cpu {middle(self.cpu):6.1f}" + (f"  ({self.late} had to be waited for)" if self.late else "")
        )


class Side:
    """One or more server processes on one socket. `tell` writes one event to all who listen."""

    def __init__(self, module: str, workers: int = 1, settings: dict[str, str] | None = None) -> None:
        self.listening = socket.socket()
        self.listening.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, SEND_BUFFER)
        self.listening.bind(("127.0.0.1", 0))
        self.listening.listen(4096)
        self.port: int = self.listening.getsockname()[1]
        self.number = FIRST
        fd = self.listening.fileno()
        self.processes = [
            subprocess.Popen(
                [sys.executable, "-m", module, str(fd)], pass_fds=[fd], env=os.environ | (settings or {})
            )
            for _ in range(workers)
        ]

    def kib(self) -> float:
        """Resident memory of all its processes."""
        pages = sum(int(Path(f"/proc/{p.pid}/statm").read_text().split()[1]) for p in self.processes)
        return pages * resource.getpagesize() / 1024

    def cpu_ms(self) -> float:
        """Processor time of all its processes so far."""
        stats = (Path(f"/proc/{p.pid}/stat").read_text().rpartition(") ")[2].split() for p in self.processes)
        return 1000 * sum(int(stat[11]) + int(stat[12]) for stat in stats) / os.sysconf("SC_CLK_TCK")

    def tell(self, *, fill: bool = False) -> None:
        """One event, the next number."""
        raise NotImplementedError

    def held(self) -> list[int]:
        """How many files and sockets each of its processes has open."""
        return [len(list(Path(f"/proc/{each.pid}/fd").iterdir())) for each in self.processes]

    def close(self) -> None:
        """Ends its processes."""
        for process in self.processes:
            process.kill()
            process.wait(10)
        self.listening.close()


class FloorSide(Side):
    """The bare socket server."""

    def __init__(self) -> None:
        super().__init__("tests.bench.room_floor")
        self.control = socket.create_connection(("127.0.0.1", self.port))

    def tell(self, *, fill: bool = False) -> None:
        """The same bytes as the room's: the frame as a chunk."""
        self.number += 1
        body = frame(self.number, "step", {"at": [1, 1, 0, 3, 2, self.number, time.time_ns()]})
        self.control.sendall(b"tell " + (b"%x\r\n%s\r\n" % (len(body), body)).hex().encode())
        assert self.control.recv(5) == b"told\n"


class RoomSide(Side):
    """The application."""

    def __init__(self, data: Path, workers: int = 1, settings: dict[str, str] | None = None) -> None:
        super().__init__(
            "tests.bench.room_server", workers, {"EVENHAND_DATA_DIR": str(data)} | (settings or {})
        )
        self.client = httpx2.Client(base_url=f"http://127.0.0.1:{self.port}", timeout=60)
        until = time.monotonic() + 120
        answered = 0
        while answered < 4 * workers:
            assert time.monotonic() < until, "the application did not start"
            with httpx2.Client(base_url=f"http://127.0.0.1:{self.port}", timeout=60) as one:
                answered += one.get("/healthz").status_code == 200

    def tell(self, *, fill: bool = False) -> None:
        """Through the hub."""
        self.number += 1
        told = self.client.get(f"/bench/tell/{EVENING}/{self.number}", params={"fill": 1} if fill else {})
        assert told.status_code == 204

    def behind(self) -> int:
        """How many listeners cannot take more."""
        said: dict[str, int] = self.client.get("/bench/room").json()
        return said["behind"]


class Crowd:
    """The listeners' process."""

    def __init__(self, process: subprocess.Popen[str], many: int) -> None:
        self.process = process
        self.settles_s = 0.1 + many * STILL_S

    def line(self) -> str:
        """The next thing that it prints."""
        assert self.process.stdout is not None
        return self.process.stdout.readline()

    def look(self) -> str:
        """What it prints of the event that was told; it is asked once all should have it."""
        assert self.process.stdin is not None
        time.sleep(self.settles_s)
        self.process.stdin.write("look\n")
        self.process.stdin.flush()
        return self.line()


@contextmanager
def listening(side: Side, path: str, many: int, still: int = 0) -> Iterator[Crowd]:
    """So many listeners at a side, `still` of them not reading."""
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.bench.room_listeners", str(side.port), path, str(many), str(still)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    crowd = Crowd(process, many)
    assert crowd.line() == "here\n"
    try:
        yield crowd
    finally:
        process.kill()
        process.wait(10)
        time.sleep(1)  # its sockets go


def events(side: Side, crowd: Crowd, took: Took, many: int = EVENTS, *, fill: bool = False) -> None:
    """Tells so many, each once everybody has the one before; the first ones warm up and are not counted."""
    begun = 0.0
    for number in range(many):
        if number == WARM:
            begun = side.cpu_ms()
        side.tell(fill=fill)
        line = crowd.look()
        if number >= WARM:
            took.add(line)
    took.cpu.append((side.cpu_ms() - begun) / (many - WARM))


def told(what: str, value: float) -> bool:
    """Prints a ratio beside its goal; False where that is missed."""
    goal = GOALS.get(what.partition(":")[2].strip())
    mark = "" if goal is None else f"<= {goal}  {'reached' if value <= goal else 'MISSED'}"
    print(f"  {what:44} {value:7.2f}  {mark}", flush=True)
    return goal is None or value <= goal


def measure(data: Path, path: str, many: int) -> bool:
    """Everything at one number of listeners."""
    floor_took, room_took = Took(), Took()
    kib: list[float] = []
    for _ in range(SERIES):
        floor = FloorSide()
        with listening(floor, path, many) as crowd:
            events(floor, crowd, floor_took)
        floor.close()
        app = RoomSide(data)
        app.tell()
        with listening(app, path, ONCE):  # what the first ones load, and need no more
            before = app.kib()
        with listening(app, path, many) as crowd:
            kib.append((app.kib() - before) / (many - ONCE))
            events(app, crowd, room_took)
        app.close()
    print(f"\n{many} listeners, ms\n  bare socket   {floor_took}\n  room          {room_took}", flush=True)
    assert not room_took.lost, f"{room_took.lost} connections lost"
    all_reached = told(
        f"{many}: p99 / bare socket", statistics.median(room_took.p99) / statistics.median(floor_took.p99)
    )
    told(
        f"{many}: processor time / bare socket",
        statistics.median(room_took.cpu) / statistics.median(floor_took.cpu),
    )
    all_reached &= told(f"{many}: KiB per idle listener", statistics.median(kib))
    all_reached &= measure_still(data, path, many)
    return all_reached & measure_two(data, path, many)


def measure_still(data: Path, path: str, many: int) -> bool:
    """One in a hundred not reading at all, beside nobody of them so, in turns."""
    all_read, some_still = Took(), Took()
    behind = 0
    for _ in range(SERIES):
        app = RoomSide(data)
        for still, took in ((0, all_read), (many // 100, some_still)):
            with listening(app, path, many, still) as crowd:
                events(app, crowd, Took(), FILLING, fill=True)
                behind = max(behind, app.behind())
                events(app, crowd, took)
        app.close()
    print(f"  all read      {all_read}\n  1 in 100 not  {some_still}  ({behind} were behind)", flush=True)
    return told(
        f"{many}: 1 in 100 not reading / all read, p99",
        statistics.median(some_still.p99) / statistics.median(all_read.p99),
    )


def measure_two(data: Path, path: str, many: int) -> bool:
    """Two workers with Redis, and one with it."""
    address = urlsplit(REDIS)
    try:
        socket.create_connection((address.hostname or "127.0.0.1", address.port or 6379), 1).close()
    except OSError:
        print(f"  no Redis answers at {REDIS}: two workers are not measured")
        return True
    one_took, two_took = Took(), Took()
    held: list[list[int]] = []
    for _ in range(SERIES):
        for workers, took in ((1, one_took), (2, two_took)):
            prefix = f"evenhand-bench-{uuid4().hex[:8]}"
            settings = {"EVENHAND_REDIS_URL": REDIS, "EVENHAND_REDIS_PREFIX": prefix} if workers == 2 else {}
            app = RoomSide(data, workers, settings)
            with listening(app, path, many) as crowd:
                events(app, crowd, took)
                if workers == 2:
                    held.append(app.held())
            app.close()
    print(f"  one worker    {one_took}\n  two, Redis    {two_took}\n  sockets of each: {held}", flush=True)
    return told(
        f"{many}: two workers / one, p99", statistics.median(two_took.p99) / statistics.median(one_took.p99)
    )


def main(sizes: Sequence[int]) -> int:
    """Measures and prints; 1 where a goal is missed."""
    print(f"load when it began: {os.getloadavg()[0]:.1f}, cores: {os.cpu_count()}", flush=True)
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder)
        engine = open_engine(data / "evenhand.db")
        migrate(engine)
        with writing(engine) as session:
            demo.load(session, now())
            key = room.make_key(session, EVENING)
        engine.dispose()
        reached = [measure(data, f"/live/{EVENING}/{key}", many) for many in sizes]
    return 0 if all(reached) else 1


if __name__ == "__main__":
    sys.exit(main([int(each) for each in sys.argv[1:]] or LISTENERS))
