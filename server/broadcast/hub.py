"""The hub of one process: rooms and who listens at them.

A listener is a slot, not a queue: it has the number it was written last, and where it is behind, it gets the
room as it is now. Everything is written from one loop, without a task for each listener; only one that cannot
take what is written gets a task of its own, which waits for it and for nobody else.
"""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Awaitable, Callable, Generator, MutableMapping
from contextlib import suppress
from typing import Any

from server.broadcast.bus import Bus
from server.broadcast.frames import HEARTBEAT, HELD_UP, Happening, goodbye, unpacked

Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]
Direct = Callable[[bytes], bool]
Load = Callable[[], Awaitable[Happening]]
log = logging.getLogger(__name__)
BATCH = 500  # written before others on the loop have a turn
HEARTBEAT_S = 15.0
NOTHING = Happening(-1, -1, b"", b"")
ENDED = b""  # on the bus, where a room's streams end


class Listener:
    """One open stream.

    begun   it was written the room as it was; until then only whoever lets it join writes to it
    seen    the number it was written last
    behind  the task that waits for it to take more
    member  whose page it is, None where nobody's
    direct  writes a whole chunk to its socket, False where it cannot just now
    """

    __slots__ = ("begun", "behind", "direct", "member", "seen", "send")

    def __init__(self, send: Send, member: int | None, direct: Direct | None) -> None:
        self.send = send
        self.direct = direct
        self.member = member
        self.begun = False
        self.seen = -1
        self.behind: asyncio.Task[None] | None = None


class _Room:
    """A room with listeners: the last thing that happened, and how to look it up."""

    def __init__(self, name: str, load: Load) -> None:
        self.name = name
        self.load = load
        self.last = NOTHING
        self.listeners: set[Listener] = set()
        self.writing: asyncio.Task[None] | None = None
        self.ending: asyncio.Task[None] | None = None


class _Content:
    """What many are written, made once: the message of a server's `send`, and a chunk (RFC 9112, 7.1)."""

    __slots__ = ("chunk", "message")

    def __init__(self, body: bytes) -> None:
        self.message: dict[str, Any] = {"type": "http.response.body", "body": body, "more_body": True}
        self.chunk = b"%x\r\n%s\r\n" % (len(body), body)


class Hub:
    """All rooms of this process. It belongs to the event loop that it is first used on."""

    def __init__(self, bus: Bus | None = None, heartbeat_s: float = HEARTBEAT_S) -> None:
        self.bus = bus or Bus()
        self.on_end: Callable[[str | None], None] = lambda room: None
        self._rooms: dict[str, _Room] = {}
        self._heartbeat_s = heartbeat_s
        self._beating: asyncio.Task[None] | None = None
        self._opened: asyncio.Task[None] | None = None
        self._is_closed = False

    @property
    def listeners(self) -> int:
        """How many streams are open."""
        return sum(len(room.listeners) for room in self._rooms.values())

    async def tell(self, room: str, happening: Happening) -> None:
        """Something happened, and is in the database: to all listeners of the room, in all processes."""
        await self._open()
        await self.bus.send(room, happening.packed())

    async def end(self, room: str) -> None:
        """Ends every stream of a room, in all processes. Each calls its `on_end` first, with the room; with
        None where it may have missed that of any."""
        await self._open()
        await self.bus.send(room, ENDED)

    async def join(
        self,
        room: str,
        send: Send,
        load: Load,
        member: int | None = None,
        has_seen: int | None = None,
        direct: Direct | None = None,
    ) -> Listener | None:
        """A new listener, whose answer has been started: the first thing it gets is the room as it is now, or
        a heartbeat where it `has_seen` just that. None where the hub was closed, or the room's streams were
        ended, meanwhile: the answer is at its end.

        `load` looks up what happened last, for a room that nobody in this process listens at.
        """
        await self._open()
        known = self._rooms.get(room)
        if known is None:
            known = self._rooms[room] = _Room(room, load)
        listener = Listener(send, member, direct)
        known.listeners.add(listener)
        try:
            if known.last is NOTHING:
                self._newer(known, await load())
            if not self._has_ended(known, listener):
                listener.seen = known.last.number
                first = HEARTBEAT if has_seen == known.last.number else known.last.whole
                await send(_Content(HELD_UP + first).message)
        except BaseException:
            self.leave(room, listener)
            raise
        if self._has_ended(known, listener):
            self.leave(room, listener)
            await self._end(listener)
            return None
        listener.begun = True
        if listener.seen < known.last.number:  # something happened while it was written
            self._write_soon(known)
        if member is not None:
            await self.bus.here.seen(room, [member])
        return listener

    def _has_ended(self, room: _Room, listener: Listener) -> bool:
        return self._is_closed or listener not in room.listeners

    def leave(self, room: str, listener: Listener) -> None:
        """It is gone."""
        if listener.behind is not None:
            listener.behind.cancel()
        known = self._rooms.get(room)
        if known is not None:
            known.listeners.discard(listener)
            if not known.listeners:
                del self._rooms[room]

    async def close(self) -> None:
        """Ends every stream, so that the server can stop; who listens comes back by itself."""
        self._is_closed = True
        for room in list(self._rooms.values()):
            for listener in list(room.listeners):
                if listener.behind is not None:
                    listener.behind.cancel()
                elif listener.begun:  # another is ended by whoever lets it join
                    await self._end(listener)
        for task in (self._beating, self._opened):
            if task is not None and task.get_loop() is asyncio.get_running_loop():
                task.cancel()
        await self.bus.close()

    def reopen(self) -> None:
        """After `close`: for a server that starts again in the same process, on another loop."""
        self._is_closed, self._opened, self._beating = False, None, None
        self._rooms.clear()

    # --- what happened --------------------------------------------------------------------------------------

    async def _open(self) -> None:
        loop = asyncio.get_running_loop()
        if self._opened is not None and self._opened.get_loop() is not loop:
            self.reopen()
        if self._opened is None:
            self._opened = loop.create_task(self.bus.open(self._take, self._look_again))
        if not self._opened.done():
            await asyncio.shield(self._opened)
        if self._beating is None:
            self._beating = loop.create_task(self._beat())

    def _take(self, name: str, packed: bytes) -> None:
        if packed == ENDED:
            self.on_end(name)
        room = self._rooms.get(name)
        if room is None:
            return
        if packed == ENDED:
            room.ending = asyncio.get_running_loop().create_task(self._end_all(room))
        else:
            self._newer(room, unpacked(packed))

    def _newer(self, room: _Room, happening: Happening) -> None:
        if happening.number > room.last.number:
            room.last = happening
            self._write_soon(room)

    async def _end_all(self, room: _Room) -> None:
        for listener in list(room.listeners):
            ready = listener.begun and listener.behind is None
            self.leave(room.name, listener)
            if ready:  # one that takes nothing is not waited for; one that joins is ended by whoever lets it
                await self._end(listener)

    async def _look_again(self) -> None:
        self.on_end(None)
        for room in list(self._rooms.values()):
            self._newer(room, await room.load())

    # --- writing --------------------------------------------------------------------------------------------

    def _write_soon(self, room: _Room) -> None:
        if room.writing is None or room.writing.done():
            room.writing = asyncio.get_running_loop().create_task(self._write_all(room))

    async def _write_all(self, room: _Room) -> None:
        """Until everybody has the last thing that happened; what happens meanwhile is taken up at once."""
        through = -1
        while through < room.last.number:
            through = room.last.number
            waiting = [each for each in room.listeners if each.begun and each.seen < through]
            for start in range(0, len(waiting), BATCH):
                last = room.last
                change, whole = _Content(last.change), _Content(last.whole)
                for listener in waiting[start : start + BATCH]:
                    if listener.behind is None and listener.seen < last.number:
                        content = change if listener.seen == last.after else whole
                        listener.seen = last.number
                        if listener.direct is None or not listener.direct(content.chunk):
                            self._write(room, listener, content.message)
                await asyncio.sleep(0)

    def _write(self, room: _Room, listener: Listener, message: dict[str, Any]) -> None:
        """Writes without waiting. A server's `send` waits only where the socket is full: then a task goes on
        with it where it stopped."""
        sending = listener.send(message).__await__()
        try:
            waits_for = next(sending)
        except StopIteration:
            return
        except Exception:  # the connection is gone: whoever waits at it is told by the server
            log.debug("a listener is gone", exc_info=True)
            return
        rest = _Rest(sending, waits_for)
        listener.behind = asyncio.get_running_loop().create_task(self._wait_for(room, listener, rest))

    async def _wait_for(self, room: _Room, listener: Listener, rest: _Rest) -> None:
        try:
            await rest
            while listener.seen < room.last.number:
                listener.seen = room.last.number
                await listener.send(_Content(room.last.whole).message)
        except Exception:
            log.debug("a listener that was behind is gone", exc_info=True)
        finally:
            listener.behind = None

    async def _beat(self) -> None:
        """A comment to everybody every so often: proxies keep the connection, and who is gone is noticed."""
        while True:
            await asyncio.sleep(self._heartbeat_s)
            beat = _Content(HEARTBEAT)
            for room in list(self._rooms.values()):
                everybody = [each for each in room.listeners if each.begun]
                await self.bus.here.seen(room.name, {m for m in (each.member for each in everybody) if m})
                for start in range(0, len(everybody), BATCH):
                    for listener in everybody[start : start + BATCH]:
                        if listener.behind is None and not (listener.direct and listener.direct(beat.chunk)):
                            self._write(room, listener, beat.message)
                    await asyncio.sleep(0)

    async def _end(self, listener: Listener) -> None:
        try:
            await listener.send({"type": "http.response.body", "body": goodbye(), "more_body": False})
        except Exception:
            log.debug("a listener is gone", exc_info=True)


class _Rest:
    """The rest of something awaited that was begun by hand and waits for something."""

    __slots__ = ("_begun", "_waits_for")

    def __init__(self, begun: Generator[Any, Any, None], waits_for: Any) -> None:
        self._begun = begun
        self._waits_for = waits_for

    def __await__(self) -> Generator[Any, Any, None]:
        waits_for = self._waits_for
        with suppress(StopIteration):
            while True:
                try:
                    value = yield waits_for
                except BaseException as error:
                    waits_for = self._begun.throw(error)
                else:
                    waits_for = self._begun.send(value)
