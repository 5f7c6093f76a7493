"""/live/…: the streams of a room, answered before all else of the application, in plain ASGI.

    /live/<evening>/<key>                 what a screen listens to
    /live/<evening>/<key>/<maker>.<mark>  the same for a maker, who is counted as being here
    /live/<evening>/<key>/desk.<mark>     what only hosts hear of: that there is something new for their desk

Whoever has the key of a room may listen; it stands on pages that only its people get. Ten thousand who come
back at once after a restart cost one look into the database.
"""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable
from typing import Any

from anyio import to_thread
from starlette.types import Receive, Scope, Send

from server.broadcast import Happening, Hub
from server.services import room
from server.storage.sessions import reading
from server.web.security import RAW_UNLISTED
from server.web.sessions import Database

PREFIX = "/live/"
PATH = re.compile(r"/live/([1-9][0-9]{0,17})/([0-9a-z]{16})(?:/(desk|[1-9][0-9]{0,17})\.([0-9a-f]{16}))?")
ROOMS_KNOWN = 10_000
HEADERS = [
    (b"content-type", b"text/event-stream; charset=utf-8"),
    # Nobody in between keeps, changes, compresses or holds it back.
    (b"cache-control", b"no-store, no-transform"),
    (b"x-accel-buffering", b"no"),
    *((name, value) for name, value in RAW_UNLISTED if name != b"content-security-policy"),
]


class Streams:
    """The ASGI application of the streams."""

    def __init__(self, hub: Hub, database: Database) -> None:
        self._hub = hub
        self._database = database
        self._keys: dict[int, str] = {}
        self._forgotten = 0
        hub.on_end = self._forget

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers one request; a stream ends when either side goes."""
        asked = PATH.fullmatch(scope["path"])
        if scope["method"] != "GET" or asked is None:
            await _refuse(send, 404 if asked is None else 405)
            return
        evening_id, key, who, mark = int(asked[1]), asked[2], asked[3], asked[4]
        if not room.same(await self._key(evening_id), key) or (
            who and not room.same(room.mark(key, who), mark)
        ):
            await _refuse(send, 404)
            return
        is_desk = who == "desk"
        name = desk_room(evening_id) if is_desk else maker_room(evening_id)
        load = self._loading(room.newest if is_desk else room.present, evening_id)
        member = int(who) if who and not is_desk else None
        await send({"type": "http.response.start", "status": 200, "headers": HEADERS})
        listener = await self._hub.join(name, send, load, member, _seen(scope), straight_to(send))
        if listener is None:
            return
        try:
            while (await receive())["type"] != "http.disconnect":
                pass
        finally:
            self._hub.leave(name, listener)

    async def _key(self, evening_id: int) -> str:
        if evening_id not in self._keys:
            forgotten = self._forgotten
            found = await to_thread.run_sync(self._read, room.key_of, evening_id)
            if not found:
                return ""
            if forgotten != self._forgotten:  # it was read while there came another
                return await self._key(evening_id)
            if len(self._keys) >= ROOMS_KNOWN:
                self._keys.clear()
            self._keys[evening_id] = found
        return self._keys[evening_id]

    def _forget(self, name: str | None) -> None:
        self._forgotten += 1
        if name is None:
            self._keys.clear()
        else:
            self._keys.pop(int(name.partition(".")[0]), None)

    def _loading(self, read: Callable[..., Happening], evening_id: int) -> Callable[[], Awaitable[Happening]]:
        async def load() -> Happening:
            return await to_thread.run_sync(self._read, read, evening_id)

        return load

    def _read(self, read: Callable[..., Any], evening_id: int) -> Any:
        with reading(self._database.engine) as session:
            return read(session, evening_id)


class _Socket:
    """uvicorn's connection behind its `send`, where that is what it looks like."""

    __slots__ = ("_cycle",)

    def __init__(self, cycle: Any) -> None:
        self._cycle = cycle

    def write(self, chunk: bytes) -> bool:
        """Writes a whole chunk of the answer; False where that has to wait, or is too late."""
        cycle = self._cycle
        if cycle.flow.write_paused or cycle.disconnected or cycle.response_complete:
            return False
        cycle.transport.write(chunk)
        return True


def straight_to(send: Send) -> Callable[[bytes], bool] | None:
    """A way past all that `send` asks and joins for each listener anew, where the server is uvicorn with
    httptools and the answer is in chunks: half of the processor time for a room of thousands. None for any
    other server: `send` does it as well."""
    cycle = getattr(send, "__self__", None)
    needed = ("flow", "transport", "disconnected", "response_complete")
    if getattr(cycle, "chunked_encoding", None) is not True or not all(hasattr(cycle, one) for one in needed):
        return None
    return _Socket(cycle).write


def maker_room(evening_id: int) -> str:
    """What the hub calls the room for everyone."""
    return str(evening_id)


def desk_room(evening_id: int) -> str:
    """What the hub calls the room for its hosts alone."""
    return f"{evening_id}.desk"


def _seen(scope: Scope) -> int | None:
    """The number that a listener says it has seen: on coming back, or by the page that it begins from."""
    said = next((value for name, value in scope["headers"] if name == b"last-event-id"), b"")
    said = said or scope["query_string"].removeprefix(b"seen=")
    return int(said) if said.isdigit() and len(said) < 19 else None


async def _refuse(send: Send, status: int) -> None:
    headers = [(b"content-type", b"text/plain; charset=utf-8"), *RAW_UNLISTED]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": b"There is no room at this address.\n"})
