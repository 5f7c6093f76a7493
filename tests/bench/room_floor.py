"""The floor of a room's fan-out: a bare asyncio server that writes to every socket it has, one by one."""

from __future__ import annotations

import asyncio
import socket
import sys
from typing import cast

import uvloop

HEAD = b"HTTP/1.1 200 OK\r\ncontent-type: text/event-stream\r\ntransfer-encoding: chunked\r\n\r\n"


class Floor(asyncio.Protocol):
    """One connection. "tell <hex>" on any of them has those bytes written to all the others."""

    listeners: set[asyncio.Transport] = set()  # noqa: RUF012  # all connections of the process

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        """Somebody came."""
        self.transport = cast(asyncio.Transport, transport)  # uvloop's is one by what it does

    def data_received(self, data: bytes) -> None:
        """A listener asks, or the bench tells."""
        if data.startswith(b"tell "):
            told = bytes.fromhex(data[5:].decode())
            for listener in self.listeners:
                listener.write(told)
            self.transport.write(b"told\n")
        else:
            self.listeners.add(self.transport)
            self.transport.write(HEAD)

    def connection_lost(self, exc: Exception | None) -> None:
        """It went."""
        self.listeners.discard(self.transport)


async def _serve(fd: int) -> None:
    server = await asyncio.get_running_loop().create_server(
        Floor, sock=socket.socket(fileno=fd), backlog=4096
    )
    await server.serve_forever()


if __name__ == "__main__":
    uvloop.run(_serve(int(sys.argv[1])))
