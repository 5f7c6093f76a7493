"""So many listeners in a process of their own. For each line on standard input ("expect") it waits until all
who read have the next event, and prints when that was.

    python -m tests.bench.room_listeners PORT PATH HOW_MANY NOT_READING
"""

from __future__ import annotations

import asyncio
import json
import re
import socket
import sys
import time
from typing import cast

import uvloop

TOLD = re.compile(rb",(\d{10,})\]")
AT_ONCE = 200


class Listener(asyncio.Protocol):
    """One listener; it notes when something came."""

    def __init__(self, request: bytes, crowd: Crowd) -> None:
        self.request = request
        self.crowd = crowd
        self.has_head = False

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        """Asks for the stream."""
        cast(asyncio.Transport, transport).write(self.request)  # uvloop's is one by what it does

    def data_received(self, data: bytes) -> None:
        """The head first, then an event each time."""
        if not self.has_head:
            self.has_head = True
            self.crowd.has_come()
        elif b"event: step" in data:
            self.crowd.told(data)

    def connection_lost(self, exc: Exception | None) -> None:
        """No listener should be lost."""
        self.crowd.lost += 1


class Crowd:
    """All who read."""

    def __init__(self, readers: int) -> None:
        self.readers = readers
        self.lost = 0
        self.come = 0
        self.all_here = asyncio.Event()
        self.at: list[int] = []
        self.told_at = 0
        self.all_told = asyncio.Event()

    def has_come(self) -> None:
        """One more has its stream."""
        self.come += 1
        if self.come == self.readers:
            self.all_here.set()

    def told(self, data: bytes) -> None:
        """One more has the event."""
        now = time.monotonic_ns()
        if not self.at:
            found = TOLD.search(data)
            self.told_at = int(found[1]) if found else now
        self.at.append(now)
        if len(self.at) == self.readers:
            self.all_told.set()

    def begin(self) -> None:
        """The next event is to come."""
        self.at = []
        self.all_told.clear()

    def line(self) -> str:
        """When the event was there, after it was told: ms for half of them, all but a hundredth, all."""
        took = sorted((at - self.told_at) / 1e6 for at in self.at)
        values = {"p50": took[len(took) // 2], "p99": took[int(len(took) * 0.99)], "max": took[-1]}
        return json.dumps(values | {"lost": self.lost})


async def _stands_still(port: int, request: bytes) -> socket.socket:
    """A listener that asks and then never reads, with the smallest buffer that the system gives."""
    made = socket.socket()
    made.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
    made.setblocking(False)
    loop = asyncio.get_running_loop()
    await loop.sock_connect(made, ("127.0.0.1", port))
    await loop.sock_sendall(made, request)
    return made


async def main(port: int, path: str, many: int, still: int) -> None:
    """Connects, says so, and goes on by what is asked."""
    loop = asyncio.get_running_loop()
    request = f"GET {path} HTTP/1.1\r\nHost: localhost\r\nAccept: text/event-stream\r\n\r\n".encode()
    crowd = Crowd(many - still)
    held = [await _stands_still(port, request) for _ in range(still)]
    for start in range(0, crowd.readers, AT_ONCE):
        some = range(start, min(start + AT_ONCE, crowd.readers))
        await asyncio.gather(
            *(loop.create_connection(lambda: Listener(request, crowd), "127.0.0.1", port) for _ in some)
        )
    await crowd.all_here.wait()
    print("here", flush=True)
    lines = asyncio.StreamReader()
    await loop.connect_read_pipe(lambda: asyncio.StreamReaderProtocol(lines), sys.stdin)
    while await lines.readline():
        crowd.begin()
        print("waiting", flush=True)
        await asyncio.wait_for(crowd.all_told.wait(), 60)
        print(crowd.line(), flush=True)
    for each in held:
        each.close()


if __name__ == "__main__":
    uvloop.run(main(int(sys.argv[1]), sys.argv[2], int(sys.argv[3]), int(sys.argv[4])))
