"""A load on this machine: so many connections, each sending one request after another, and then no more."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

CONNECTIONS = 16
SLICES = 8  # of a load that is measured beside others


@dataclass(frozen=True)
class Measured:
    """requests per second, and the times that half and all but a hundredth of the requests stayed below."""

    per_second: float
    p50_ms: float
    p99_ms: float

    @classmethod
    def of(cls, took_s: Sequence[float], whole_s: float) -> Measured:
        """From what each request took, and all of them."""
        took = sorted(took_s)
        return cls(len(took) / whole_s, took[len(took) // 2] * 1000, took[int(len(took) * 0.99)] * 1000)


def get(path: str, cookie: str = "") -> bytes:
    """A GET request as bytes."""
    return f"GET {path} HTTP/1.1\r\nHost: localhost\r\nAccept: text/html\r\n{_cookie(cookie)}\r\n".encode()


def post_json(path: str, body: str, cookie: str = "") -> bytes:
    """A POST request with a JSON body as bytes."""
    return (
        f"POST {path} HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
        f"Content-Length: {len(body.encode())}\r\n{_cookie(cookie)}\r\n{body}"
    ).encode()


def measure(port: int, requests: Sequence[bytes], connections: int = CONNECTIONS) -> Measured:
    """Sends every request once, spread over the connections; every answer has to be a 200."""
    return Measured.of(*asyncio.run(_send(port, requests, connections)))


def beside(port: int, loads: Mapping[str, Sequence[bytes]]) -> dict[str, Measured]:
    """Every load by name, a slice of each in turn: whatever else the machine does meets all of them."""
    took: dict[str, list[float]] = {name: [] for name in loads}
    whole = dict.fromkeys(loads, 0.0)
    for number in range(SLICES):
        for name, requests in loads.items():
            some_s, in_all_s = asyncio.run(_send(port, requests[number::SLICES], CONNECTIONS))
            took[name] += some_s
            whole[name] += in_all_s
    return {name: Measured.of(took[name], whole[name]) for name in loads}


def _cookie(cookie: str) -> str:
    return f"Cookie: {cookie}\r\n" if cookie else ""


async def _send(port: int, requests: Sequence[bytes], connections: int) -> tuple[list[float], float]:
    took: list[float] = []
    begun = time.perf_counter()
    await asyncio.gather(*(_client(port, requests[n::connections], took) for n in range(connections)))
    return took, time.perf_counter() - begun


async def _client(port: int, requests: Sequence[bytes], took: list[float]) -> None:
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    for request in requests:
        begun = time.perf_counter()
        writer.write(request)
        head = await reader.readuntil(b"\r\n\r\n")
        if not head.startswith(b"HTTP/1.1 200"):
            raise RuntimeError(f"{request[:60]!r} was answered {head[:60]!r}")
        await reader.readexactly(_length(head))
        took.append(time.perf_counter() - begun)
    writer.close()


def _length(head: bytes) -> int:
    for line in head.lower().split(b"\r\n"):
        if line.startswith(b"content-length:"):
            return int(line.partition(b":")[2])
    raise RuntimeError(f"an answer without a length: {head!r}")
