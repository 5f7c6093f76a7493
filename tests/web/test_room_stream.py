"""The streams of a room, over real sockets: what is written there, who may listen, how they end."""

from __future__ import annotations

import os
import signal
import socket
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit
from uuid import uuid4

import pytest
import uvicorn
from sqlmodel import select
from starlette.types import Receive, Scope, Send

from server.services import accounts, demo, room
from server.storage.migrating import migrate
from server.storage.sessions import open_engine, reading, writing
from server.storage.tables import Host, Notebook
from server.web.moments import now
from server.web.room_stream import straight_to
from server.web.signing import COOKIE
from tests.serving import Served, browsing

WAITED_IN_VAIN = "graceful shutdown exceeded"  # uvicorn says, where somebody stayed too long
EVENING = 2  # of the demo: the next one
REDIS = os.environ.get("EVENHAND_REDIS_URL") or os.environ.get("REDIS_URL") or "redis://127.0.0.1:6379/0"


@dataclass(frozen=True)
class World:
    """The demo with an open room in a data folder: its key, a maker, and the host's way in."""

    data: Path
    key: str
    maker: int
    cookie: str

    @property
    def stream(self) -> str:
        return f"/live/{EVENING}/{self.key}"


@pytest.fixture(scope="module")
def world(tmp_path_factory: pytest.TempPathFactory) -> World:
    return open_world(tmp_path_factory.mktemp("streams") / "var")


def open_world(data: Path) -> World:
    """The demo with an open room, in a folder that is made for it."""
    data.mkdir()
    engine = open_engine(data / "evenhand.db")
    migrate(engine)
    with writing(engine) as session:
        demo.load(session, now())
        host = session.exec(select(Host.id).where(Host.sign_in_name == demo.SIGN_IN_NAME)).one() or 0
        cookie = accounts.sign_in(session, host, now())
        room.open_room(session, host, EVENING, now())
        key = room.make_key(session, EVENING)
        maker = session.exec(select(Notebook.id)).first() or 0
    engine.dispose()
    return World(data, key, maker, cookie)


class Stream:
    """A listener at a stream, on a socket of its own."""

    def __init__(self, port: int, path: str, *headers: str, method: str = "GET") -> None:
        self.socket = socket.create_connection(("127.0.0.1", port))
        self.socket.settimeout(20)
        lines = [f"{method} {path} HTTP/1.1", "Host: localhost", *headers]
        self.socket.sendall(("\r\n".join(lines) + "\r\n\r\n").encode())
        self.text = ""

    def until(self, words: str) -> str:
        """All that came, once these words have."""
        while words not in self.text:
            part = self.socket.recv(65536)
            assert part, f"ended before {words!r}: {self.text}"
            self.text += part.decode()
        return self.text

    def to_the_end(self) -> str:
        """All that came, once the other side has closed."""
        while part := self.socket.recv(65536):
            self.text += part.decode()
        return self.text

    @property
    def number(self) -> int:
        """The id of the last event."""
        return int(self.text.rpartition("\nid: ")[2].partition("\n")[0])

    def close(self) -> None:
        self.socket.close()


@pytest.fixture(scope="module")
def served(world: World) -> Iterator[Served]:
    with Served(world.data) as served:
        yield served


def move(served: Served, world: World, how: str = "on") -> None:
    """The host goes on."""
    with browsing(served.url) as host:
        host.cookies.set(COOKIE, world.cookie)
        assert host.post(f"/host/evenings/{EVENING}/room/move", data={"how": how}).status_code == 200


def last_number(world: World) -> int:
    """The number of the last thing that all were told."""
    engine = open_engine(world.data / "evenhand.db")
    with reading(engine) as session:
        number = room.state(session, EVENING).number
    engine.dispose()
    return number


def test_the_first_event_is_the_room_as_it_is_and_each_step_is_a_few_bytes(
    served: Served, world: World
) -> None:
    stream = Stream(served.port, world.stream)
    head = stream.until("event: room").partition("\r\n\r\n")[0].lower()
    for line in (
        "200 ok", "content-type: text/event-stream; charset=utf-8", "cache-control: no-store, no-transform",
        "x-accel-buffering: no", "x-content-type-options: nosniff", "transfer-encoding: chunked",
    ):  # fmt: skip
        assert line in head
    assert '"open":true' in stream.until("\n\n\r\n")
    before = len(stream.text)
    move(served, world)
    stream.until("event: step")
    stream.until("]}\n\n")
    assert len(stream.text) - before < 100
    stream.close()


def test_who_comes_back_is_told_what_is_so_now_and_nothing_twice(served: Served, world: World) -> None:
    stream = Stream(served.port, world.stream)
    stream.until("event: room")
    seen = stream.number
    stream.close()
    again = Stream(served.port, world.stream, f"Last-Event-ID: {seen}")
    again.until(":\n\n")
    assert "event:" not in again.text
    by_the_page = Stream(served.port, f"{world.stream}?seen={seen}")
    by_the_page.until(":\n\n")
    assert "event:" not in by_the_page.text
    move(served, world)
    assert "event: step" in again.until("]}\n\n")
    late = Stream(served.port, world.stream, f"Last-Event-ID: {seen}")
    assert "event: room" in late.until("\n\n\r\n")
    assert late.number == again.number > seen
    odd = Stream(served.port, world.stream, "Last-Event-ID: ²²")
    odd.until("event: room")
    for each in (again, by_the_page, late, odd):
        each.close()


@pytest.mark.parametrize(
    ("path", "method", "status"),
    [
        ("/live/2/" + "2" * 16, "GET", 404),
        ("/live/99/{key}", "GET", 404),
        ("/live/1/{key}", "GET", 404),
        ("/live/2/{key}/1.0123456789abcdef", "GET", 404),
        ("/live/2/{key}/desk.0123456789abcdef", "GET", 404),
        ("/live/2/{key}/", "GET", 404),
        ("/live/", "GET", 404),
        ("/live/" + "9" * 30 + "/{key}", "GET", 404),
        ("/live/2/{key}", "POST", 405),
        ("/live/2/{key}", "HEAD", 405),
    ],
)
def test_without_its_key_nobody_listens(
    served: Served, world: World, path: str, method: str, status: int
) -> None:
    stream = Stream(served.port, path.format(key=world.key), "Content-Length: 0", method=method)
    assert stream.until("\r\n\r\n").startswith(f"HTTP/1.1 {status} ")
    stream.close()


def test_a_maker_who_listens_is_here_and_only_hosts_hear_of_hands(served: Served, world: World) -> None:
    mine = f"{world.stream}/{world.maker}.{room.mark(world.key, str(world.maker))}"
    desk = Stream(served.port, f"{world.stream}/desk.{room.mark(world.key, 'desk')}")
    desk.until("event: desk")
    maker = Stream(served.port, mine)
    maker.until("event: room")
    with browsing(served.url) as host:
        host.cookies.set(COOKIE, world.cookie)
        until = time.monotonic() + 10
        while "1 here" not in (page := host.get(f"/host/evenings/{EVENING}/room").text):
            assert time.monotonic() < until, page
    told = desk.number
    move(served, world)
    maker.until("event: step")
    desk.until(f"id: {maker.number}\n")
    assert told < desk.number == maker.number
    assert "words" not in desk.text
    maker.close()
    desk.close()


def test_a_reader_that_stands_still_holds_nobody_up(served: Served, world: World) -> None:
    still, reads = Stream(served.port, world.stream), Stream(served.port, world.stream)
    reads.until("event: room")
    for _ in range(8):
        move(served, world)
    last = last_number(world)
    reads.until(f"id: {last}\n")
    still.until(f"id: {last}\n")  # its bytes lay in its socket
    still.close()
    reads.close()


def test_the_server_stops_at_once_with_streams_open(world: World) -> None:
    with Served(world.data) as served:
        streams = [Stream(served.port, world.stream) for _ in range(40)]
        for stream in streams:
            stream.until("event: room")
        assert served.stop(signal.SIGTERM) == 0
        assert WAITED_IN_VAIN not in served.printed
        ends = [stream.to_the_end() for stream in streams]
        assert all("event: bye" in end and end.endswith("0\r\n\r\n") for end in ends)
        assert "rror" not in served.printed


def test_after_a_restart_the_numbers_mean_the_same(world: World) -> None:
    with Served(world.data) as first:
        stream = Stream(first.port, world.stream)
        stream.until("event: room")
        seen = stream.number
        first.kill()
    with Served(world.data) as second:
        again = Stream(second.port, world.stream, f"Last-Event-ID: {seen}")
        again.until(":\n\n")
        assert "event:" not in again.text
        again.close()


def test_with_another_address_the_old_one_ends_and_leads_nowhere(tmp_path: Path) -> None:
    world = open_world(tmp_path / "var")
    with Served(world.data) as served:
        desk = f"{world.stream}/desk.{room.mark(world.key, 'desk')}"
        streams = [Stream(served.port, world.stream), Stream(served.port, desk)]
        streams[0].until("event: room")
        streams[1].until("event: desk")
        with browsing(served.url) as host:
            host.cookies.set(COOKIE, world.cookie)
            assert host.post(f"/host/evenings/{EVENING}/room/addresses").status_code == 200
            assert host.get(f"/screen/{EVENING}/{world.key}").status_code == 404
            for stream in streams:
                assert "event: bye" in stream.to_the_end()
            for path in (world.stream, desk):
                assert "404" in Stream(served.port, path).to_the_end().partition("\r\n")[0]
            engine = open_engine(world.data / "evenhand.db")
            with reading(engine) as session:
                key = room.key_of(session, EVENING)
            engine.dispose()
            assert key != world.key
            assert host.get(f"/screen/{EVENING}/{key}").status_code == 200
        again = Stream(served.port, f"/live/{EVENING}/{key}")
        again.until("event: room")
        again.close()


def _redis_answers() -> bool:
    address = urlsplit(REDIS)
    try:
        with socket.create_connection((address.hostname or "127.0.0.1", address.port or 6379), 1):
            return True
    except OSError:
        return False


@pytest.mark.skipif(not _redis_answers(), reason=f"no Redis answers at {REDIS} (sudo apt-get install redis)")
def test_two_servers_with_redis_are_one_room(tmp_path: Path) -> None:
    world = open_world(tmp_path / "var")
    settings = {"EVENHAND_REDIS_URL": REDIS, "EVENHAND_REDIS_PREFIX": f"evenhand-test-{uuid4().hex[:8]}"}
    with Served(world.data, settings=settings) as one, Served(world.data, settings=settings) as two:
        mine = f"{world.stream}/{world.maker}.{room.mark(world.key, str(world.maker))}"
        streams = [Stream(one.port, world.stream), Stream(two.port, mine)]
        for stream in streams:
            stream.until("event: room")
        move(one, world, "round back")
        move(two, world)
        last = last_number(world)
        for stream in streams:
            stream.until(f"id: {last}\n")
        with browsing(one.url) as host:
            host.cookies.set(COOKIE, world.cookie)
            assert "1 here" in host.get(f"/host/evenings/{EVENING}/room").text
            assert host.post(f"/host/evenings/{EVENING}/room/addresses").status_code == 200
        for stream in streams:
            assert "event: bye" in stream.to_the_end()
        for served in (one, two):
            assert "404" in Stream(served.port, world.stream).to_the_end().partition("\r\n")[0]
        assert one.stop() == two.stop() == 0


@dataclass
class _Flow:
    write_paused: bool = False


class _Cycle:
    """What uvicorn has behind `send`, as far as it is looked at."""

    def __init__(self) -> None:
        self.flow = _Flow()
        self.transport = self
        self.disconnected = self.response_complete = False
        self.chunked_encoding: bool | None = True
        self.written: list[bytes] = []

    def write(self, chunk: bytes) -> None:
        self.written.append(chunk)

    async def send(self, message: object) -> None:
        """As the server has it."""


def test_only_a_socket_that_is_free_and_in_chunks_is_written_straight_to() -> None:
    cycle = _Cycle()
    write = straight_to(cycle.send)
    assert write is not None
    assert write(b"1\r\na\r\n")
    cycle.flow.write_paused = True
    assert not write(b"x")
    cycle.flow.write_paused, cycle.disconnected = False, True
    assert not write(b"x")
    cycle.disconnected, cycle.response_complete = False, True
    assert not write(b"x")
    assert cycle.written == [b"1\r\na\r\n"]

    async def other_server(message: object) -> None:
        """Nothing is known of what is behind it."""

    assert straight_to(other_server) is None
    cycle.chunked_encoding = None
    assert straight_to(cycle.send) is None


def test_the_server_that_is_pinned_has_a_way_straight_to_the_socket() -> None:
    """What is looked at is uvicorn's own affair: a version that goes about it otherwise is noticed here."""
    ways: list[Callable[[bytes], bool] | None] = []

    async def app(scope: Scope, receive: Receive, send: Send) -> None:
        await send({"type": "http.response.start", "status": 200, "headers": []})
        ways.append(straight_to(send))
        await send({"type": "http.response.body", "body": b"one ", "more_body": True})
        if (way := ways[-1]) is not None and not way(b"3\r\ntwo\r\n"):
            ways.append(None)
        await send({"type": "http.response.body"})

    config = uvicorn.Config(app, log_level="warning", lifespan="off")
    server = uvicorn.Server(config)
    with socket.create_server(("127.0.0.1", 0)) as listening:
        serving = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
        serving.start()
        with browsing(f"http://127.0.0.1:{listening.getsockname()[1]}") as client:
            assert client.get("/").text == "one two"
        server.should_exit = True
        serving.join(10)
    assert len(ways) == 1
    assert ways[0] is not None
