"""Several processes: what one tells, the listeners of the others hear. Needs a Redis; names of its own."""

from __future__ import annotations

import asyncio
import os
import socket
from collections.abc import Awaitable, Callable
from urllib.parse import urlsplit
from uuid import uuid4

import pytest

from server.broadcast import Happening, Hub, Redis
from tests.broadcast.test_hub import Reader, happening

URL = os.environ.get("EVENHAND_REDIS_URL") or os.environ.get("REDIS_URL") or "redis://127.0.0.1:6379/0"


def _answers() -> bool:
    address = urlsplit(URL)
    try:
        with socket.create_connection((address.hostname or "127.0.0.1", address.port or 6379), 1):
            return True
    except OSError:
        return False


pytestmark = pytest.mark.skipif(
    not _answers(), reason=f"no Redis answers at {URL} (sudo apt-get install redis)"
)


@pytest.fixture
def prefix() -> str:
    return f"evenhand-test-{uuid4().hex[:8]}"


async def wait_until(is_so: Callable[[], bool]) -> None:
    """Comes back once it is so."""
    async with asyncio.timeout(10):
        while not is_so():
            await asyncio.sleep(0.005)


async def joined(hub: Hub, load: Callable[[], Awaitable[Happening]], member: int | None = None) -> Reader:
    reader = Reader()
    await hub.join("r", reader.send, load, member)
    return reader


def test_two_processes_are_one_room(prefix: str) -> None:
    async def play() -> None:
        one, two, elsewhere = Hub(Redis(URL, prefix)), Hub(Redis(URL, prefix)), Hub(Redis(URL, prefix + "-x"))
        last = [happening(1)]

        async def load() -> Happening:
            return last[0]

        readers = [await joined(hub, load, member) for member, hub in enumerate((one, two), start=1)]
        other = await joined(elsewhere, load)
        last[0] = happening(2)
        await one.tell("r", last[0])
        await wait_until(lambda: all(each.kinds[-1] == "step 2" for each in readers))
        last[0] = happening(3)
        await two.tell("r", last[0])
        await wait_until(lambda: all(each.kinds[-1] == "step 3" for each in readers))
        assert [each.kinds for each in readers] == [["room 1", "step 2", "step 3"]] * 2
        assert other.kinds == ["room 1"]
        assert await one.bus.here.members("r") == await two.bus.here.members("r") == {1, 2}
        for hub in (one, two, elsewhere):
            await hub.close()

    asyncio.run(play())


def test_what_was_told_while_redis_was_away_is_looked_up(prefix: str) -> None:
    """The connection is cut, something happens elsewhere, and everybody has it once Redis is back."""

    async def play() -> None:
        from redis.asyncio import from_url

        hub = Hub(Redis(URL, prefix))
        last = [happening(1)]

        async def load() -> Happening:
            return last[0]

        reader = await joined(hub, load)
        cutter = from_url(URL)
        last[0] = happening(2)  # told on a bus that this process does not hear
        mine = [each for each in await cutter.client_list(_type="pubsub") if each["name"] == prefix]
        assert len(mine) == 1
        await cutter.client_kill_filter(_id=mine[0]["id"])
        await wait_until(lambda: reader.kinds[-1] == "room 2" or reader.kinds[-1] == "step 2")
        await cutter.aclose()
        await hub.close()

    asyncio.run(play())


def test_without_redis_the_listeners_of_this_process_hear_it_all_the_same(prefix: str) -> None:
    async def play() -> None:
        with socket.socket() as nobody:
            nobody.bind(("127.0.0.1", 0))
            hub = Hub(Redis(f"redis://127.0.0.1:{nobody.getsockname()[1]}/0", prefix))

            async def load() -> Happening:
                return happening(1)

            reader = await joined(hub, load, 7)
            await hub.tell("r", happening(2))
            await wait_until(lambda: reader.kinds[-1] == "step 2")
            assert await hub.bus.here.members("r") == {7}
            await hub.close()

    asyncio.run(play())
