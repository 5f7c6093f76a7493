"""The hub: everybody gets what happened, once; one who cannot take it is waited for by nobody."""

from __future__ import annotations

import asyncio
from collections.abc import MutableMapping
from typing import Any

import pytest

from server.broadcast import Bus, Happening, Here, Hub, frame
from server.broadcast.frames import HEARTBEAT, unpacked


def happening(number: int, after: int | None = None) -> Happening:
    """Number so and so: its change is small, and the whole says that it is."""
    before = number - 1 if after is None else after
    return Happening(
        number, before, frame(number, "step", {"to": number}), frame(number, "room", {"at": number})
    )


class Reader:
    """The other end of a stream. `stall()`: its socket is full, so that writing waits until `go_on()`."""

    def __init__(self) -> None:
        self.got: list[bytes] = []
        self.ended = False
        self.free = asyncio.Event()
        self.free.set()

    def stall(self) -> None:
        self.free.clear()

    def go_on(self) -> None:
        self.free.set()

    async def send(self, message: MutableMapping[str, Any]) -> None:
        if not self.free.is_set():
            await self.free.wait()
        if self.ended:
            raise RuntimeError("sent after the answer was at its end")
        self.got.append(message["body"])
        self.ended = not message["more_body"]

    @property
    def kinds(self) -> list[str]:
        """What was written so far: "step 4", "room 3", "" for a heartbeat."""
        return [_kind(each) for each in self.got]


def _kind(body: bytes) -> str:
    lines = dict(line.split(b": ", 1) for line in body.splitlines() if b": " in line)
    return f"{lines.get(b'event', b'').decode()} {lines.get(b'id', b'').decode()}".strip()


class World:
    """A hub with one room, "r", whose database says `last`."""

    def __init__(self, heartbeat_s: float = 3600) -> None:
        self.hub = Hub(Bus(), heartbeat_s)
        self.last = happening(1)
        self.loads = 0

    async def load(self) -> Happening:
        self.loads += 1
        await asyncio.sleep(0)
        return self.last

    async def join(self, has_seen: int | None = None, member: int | None = None) -> Reader:
        reader = Reader()
        await self.hub.join("r", reader.send, self.load, member, has_seen)
        return reader

    async def tell(self, number: int, after: int | None = None) -> None:
        self.last = happening(number, after)
        await self.hub.tell("r", self.last)
        await settle()


async def settle() -> None:
    """Lets everything run that can run."""
    for _ in range(20):
        await asyncio.sleep(0)


def test_the_first_thing_is_the_room_as_it_is_and_then_each_change() -> None:
    async def play() -> None:
        world = World()
        early = await world.join()
        await world.tell(2)
        late = await world.join()
        await world.tell(3)
        assert early.kinds == ["room 1", "step 2", "step 3"]
        assert late.kinds == ["room 2", "step 3"]
        assert world.loads == 1
        await world.hub.close()

    asyncio.run(play())


def test_who_has_seen_it_gets_a_heartbeat_only() -> None:
    async def play() -> None:
        world = World()
        here = await world.join(has_seen=1)
        behind = await world.join(has_seen=0)
        from_another_database = await world.join(has_seen=99)
        assert here.got[0].endswith(HEARTBEAT)
        assert here.kinds == [""]
        assert behind.kinds == from_another_database.kinds == ["room 1"]
        await world.tell(2)
        assert here.kinds == ["", "step 2"]
        await world.hub.close()

    asyncio.run(play())


def test_a_stalled_listener_gets_what_is_so_then_and_holds_nobody_up() -> None:
    async def play() -> None:
        world = World()
        stalled, others = await world.join(), [await world.join() for _ in range(1200)]
        stalled.stall()
        for number in range(2, 30):
            await world.tell(number)
        assert all(each.kinds[-1] == "step 29" for each in others)
        assert stalled.kinds == ["room 1"]
        stalled.go_on()
        await settle()
        assert stalled.kinds == ["room 1", "step 2", "room 29"]  # the one in its pipe, then what is so now
        await world.tell(30)
        assert stalled.kinds[-1] == "step 30"
        await world.hub.close()

    asyncio.run(play())


def test_one_that_missed_a_change_gets_the_whole() -> None:
    async def play() -> None:
        world = World()
        reader = await world.join()
        await world.tell(5, after=4)
        assert reader.kinds == ["room 1", "room 5"]
        await world.tell(4, after=1)  # two who were committed together may be told in either order
        assert reader.kinds == ["room 1", "room 5"]
        await world.hub.close()

    asyncio.run(play())


def test_what_happens_while_the_room_is_looked_up_is_not_lost() -> None:
    async def play() -> None:
        world = World()
        asked, go = asyncio.Event(), asyncio.Event()

        async def slow() -> Happening:
            found = world.last
            asked.set()
            await go.wait()
            return found

        reader = Reader()
        joining = asyncio.create_task(world.hub.join("r", reader.send, slow))
        await asked.wait()
        await world.tell(2)
        go.set()
        await joining
        await settle()
        assert _kind(reader.got[-1]) == "room 2"
        await world.hub.close()

    asyncio.run(play())


def test_one_that_is_gone_is_left_out() -> None:
    async def play() -> None:
        world = World()
        gone, stays = Reader(), await world.join()

        async def broken(message: MutableMapping[str, Any]) -> None:
            if gone.got:
                raise OSError("connection reset")
            await gone.send(message)

        listener = await world.hub.join("r", broken, world.load)
        await world.tell(2)
        assert stays.kinds[-1] == "step 2"
        assert listener is not None
        world.hub.leave("r", listener)
        world.hub.leave("r", listener)
        assert world.hub.listeners == 1
        await world.hub.close()

    asyncio.run(play())


def test_closing_ends_every_stream_and_one_that_comes_then() -> None:
    async def play() -> None:
        world = World()
        readers = [await world.join() for _ in range(3)]
        await world.hub.close()
        assert all(each.ended and each.kinds[-1] == "bye" for each in readers)
        assert all(b"retry: " in each.got[-1] for each in readers)
        assert (await world.join()).ended

    asyncio.run(play())


class SlowWorld(World):
    """Its database answers when it is let go."""

    def __init__(self) -> None:
        super().__init__()
        self.answers = asyncio.Event()

    async def load(self) -> Happening:
        self.loads += 1
        last = self.last
        await self.answers.wait()
        return last

    def joins(self) -> tuple[Reader, asyncio.Task[Any]]:
        """A listener who comes in, and what lets it in."""
        reader = Reader()
        return reader, asyncio.create_task(self.hub.join("r", reader.send, self.load))


@pytest.mark.parametrize("by", ["closing", "a new address"])
@pytest.mark.parametrize("moment", ["before it is looked up", "while it is written to"])
def test_a_stream_that_is_ended_while_it_begins_ends_once(by: str, moment: str) -> None:
    async def play() -> None:
        world = SlowWorld()
        reader, joining = world.joins()
        await settle()
        if moment == "while it is written to":
            reader.stall()
            world.answers.set()
            await settle()
        ending = asyncio.create_task(world.hub.close() if by == "closing" else world.hub.end("r"))
        await settle()
        assert ending.done(), "nobody waits for one who takes nothing"
        world.answers.set()
        reader.go_on()
        assert await joining is None
        assert reader.ended
        assert reader.kinds == (["room 1", "bye"] if moment == "while it is written to" else ["bye"])
        assert world.hub.listeners == 0

    asyncio.run(play())


def test_what_happens_while_several_come_in_is_told_once() -> None:
    async def play() -> None:
        world = SlowWorld()
        (early, first), (late, second) = world.joins(), world.joins()
        await settle()
        await world.tell(2)
        world.answers.set()
        await asyncio.gather(first, second)
        await settle()
        await world.tell(3)
        for reader in (early, late):
            assert reader.kinds == ["room 2", "step 3"]
        await world.hub.close()

    asyncio.run(play())


def test_a_room_without_listeners_is_forgotten_and_looked_up_again() -> None:
    async def play() -> None:
        world = World()
        reader = Reader()
        listener = await world.hub.join("r", reader.send, world.load)
        assert listener is not None
        world.hub.leave("r", listener)
        await world.tell(2)
        assert (await world.join()).kinds == ["room 2"]
        assert world.loads == 2
        await world.hub.close()

    asyncio.run(play())


def test_heartbeats_keep_the_streams_and_say_who_is_here() -> None:
    async def play() -> None:
        world = World(heartbeat_s=0)
        at = [1000.0]
        world.hub.bus.here = Here(lambda: at[0])
        reader = await world.join(member=7)
        at[0] += 3600
        until = asyncio.get_running_loop().time() + 5
        while HEARTBEAT not in reader.got and asyncio.get_running_loop().time() < until:
            await asyncio.sleep(0)
        assert HEARTBEAT in reader.got
        assert await world.hub.bus.here.members("r") == {7}
        await world.hub.close()

    asyncio.run(play())


def test_who_is_here_counts_for_a_while_after_her_page_was_open() -> None:
    async def play() -> None:
        at = [1000.0]
        here = Here(lambda: at[0])
        await here.seen("r", [1, 2])
        at[0] += 500
        await here.seen("r", [2])
        assert await here.members("r") == {1, 2}
        at[0] += 200
        assert await here.members("r") == {2}
        at[0] += 601
        assert await here.members("r") == frozenset()

    asyncio.run(play())


def test_a_happening_survives_the_bus() -> None:
    sent = Happening(12, 9, "id: 12\ndata: «ø»\n\n".encode(), b"id: 12\n\n\n")
    assert unpacked(sent.packed()) == sent


def test_the_frame_is_one_event_in_lf_alone() -> None:
    made = frame(17, "step", {"at": [1, 2, 0, 3, 4, None], "words": "two\nlines\r\n“ø”"})
    assert made == (
        'id: 17\nevent: step\ndata: {"at":[1,2,0,3,4,null],"words":"two\\nlines\\r\\n“ø”"}\n\n'.encode()
    )


def test_a_socket_that_can_be_written_straight_to_gets_the_chunk_and_a_full_one_waits() -> None:
    """What a socket refuses goes the usual way, and waits there: nothing is lost, nothing comes twice."""

    async def play() -> None:
        world = World()
        reader, chunks, is_full = Reader(), [], [False]

        def direct(chunk: bytes) -> bool:
            if not is_full[0]:
                chunks.append(chunk)
            return not is_full[0]

        await world.hub.join("r", reader.send, world.load, direct=direct)
        await world.tell(2)
        body = happening(2).change
        assert chunks == [b"%x\r\n%s\r\n" % (len(body), body)]
        is_full[0] = True
        reader.stall()
        await world.tell(3)
        await world.tell(4)
        assert (len(chunks), reader.kinds) == (1, ["room 1"])
        is_full[0] = False
        reader.go_on()
        await settle()
        assert reader.kinds == ["room 1", "step 3", "room 4"]
        await world.tell(5)
        assert len(chunks) == 2
        await world.hub.close()

    asyncio.run(play())
