"""So many listeners in a process of their own, that stands still while a room is written.

When an event was there is what the system noted as it put it into the listener's socket (SO_TIMESTAMPNS,
socket(7)): reading it takes no part of the time, nor of the processors that the servers have. For each line
on standard input ("look") everybody who reads has the next event read, and how long it took is printed.

    python -m tests.bench.room_listeners PORT PATH HOW_MANY NOT_READING
"""

from __future__ import annotations

import json
import re
import select
import socket
import struct
import sys
import time
from contextlib import suppress

TOLD = re.compile(rb",(\d{15,})\]")
TIMESTAMP_NS = getattr(socket, "SO_TIMESTAMPNS", 35)  # linux/asm-generic/socket.h; Python has no name for it
PATIENCE_MS = 60_000
READ_BYTES = 1 << 16


class Listener:
    """One stream that is open. late: of how many events it had to be waited for."""

    def __init__(self, port: int, request: bytes) -> None:
        self.socket = socket.create_connection(("127.0.0.1", port), 60)
        self.socket.setsockopt(socket.SOL_SOCKET, TIMESTAMP_NS, 1)
        self.socket.sendall(request)
        self.late = 0

    def read(self) -> tuple[bytes, int]:
        """What is there, and when the last of it came, in ns of the system's clock.

        ConnectionError where the stream is closed, TimeoutError where nothing comes.
        """
        self.socket.setblocking(False)
        try:
            return self._taken()
        except BlockingIOError:
            self.late += 1
        waiting = select.poll()
        waiting.register(self.socket, select.POLLIN)
        if not waiting.poll(PATIENCE_MS):
            raise TimeoutError("a listener hears nothing")
        return self._taken()

    def _taken(self) -> tuple[bytes, int]:
        data, said, _, _ = self.socket.recvmsg(READ_BYTES, 128)
        if not data:
            raise ConnectionError("a listener was closed")
        for level, kind, value in said:
            if level == socket.SOL_SOCKET and kind == TIMESTAMP_NS:
                seconds, ns = struct.unpack("@ll", value)
                return data, seconds * 10**9 + ns
        return data, 0  # the system begins to note a moment after it is asked to

    def forget(self) -> None:
        """What came so far is not looked at: the head, and the room as it was."""
        self.socket.setblocking(False)
        with suppress(BlockingIOError):
            while self.socket.recv(READ_BYTES):
                pass

    def event(self) -> tuple[int, int]:
        """The next step: when it was told and when it was there, in ns of the system's clock."""
        held = b""
        while True:
            data, came = self.read()
            held += data
            if held.endswith(b"\n\n\r\n") and (found := TOLD.search(held)):
                return int(found[1]), came


def look(everybody: list[Listener]) -> str:
    """When the event was there, after it was told: ms for half of them, all but a hundredth, all."""
    took, lost = [], 0
    for listener in everybody:
        try:
            told, came = listener.event()
        except OSError:
            lost += 1
        else:
            took.append((came - told) / 1e6)
    took.sort()
    values = {"p50": took[len(took) // 2], "p99": took[int(len(took) * 0.99)], "max": took[-1], "lost": lost}
    late = sum(each.late for each in everybody)
    for each in everybody:
        each.late = 0
    return json.dumps(values | {"late": late})


def stands_still(port: int, request: bytes) -> socket.socket:
    """A listener that asks and then never reads, with the smallest buffer that the system gives."""
    made = socket.socket()
    made.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
    made.connect(("127.0.0.1", port))
    made.sendall(request)
    return made


def main(port: int, path: str, many: int, still: int) -> None:
    """Connects, says so, and goes on by what is asked."""
    request = f"GET {path} HTTP/1.1\r\nHost: localhost\r\nAccept: text/event-stream\r\n\r\n".encode()
    held = [stands_still(port, request) for _ in range(still)]
    everybody: list[Listener] = []
    for _ in range(many - still):  # one after the other, as people come
        everybody.append(Listener(port, request))
        everybody[-1].read()
    time.sleep(1)
    for each in everybody:
        each.forget()
        each.late = 0
    print("here", flush=True)
    while sys.stdin.readline():
        print(look(everybody), flush=True)
    for one in held:
        one.close()


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2], int(sys.argv[3]), int(sys.argv[4]))
