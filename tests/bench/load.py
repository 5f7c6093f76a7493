"""A load on this machine: so many connections, each sending one request after another, and then no more."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Sequence
from dataclasses import dataclass

CONNECTIONS = 16


@dataclass(frozen=True)
class Measured:
    """requests per second, and the times that half and all but a hundredth of the requests stayed below."""

    per_second: float
    p50_ms: float
    p99_ms: float


def get(path: str, cookie: str = "") -> bytes:
    """A GET request as bytes."""
    return f"GET {path} HTTP/1.1\r\nHost: localhost\r\nAccept: text/html\r\n{_cookie(cookie)}\r\n".encode()


def post_json(path: str, body: str, cookie: str = "") -> bytes:
    """A POST request with a JSON body as bytes."""
    return (
        f"POST {path} HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
        f"Content-Length: {len(body.encode())}\r\n{_cookie(cookie)}\r\n{body}"
    ).encode()


def measure(port: int, requests: Sequence[bytes]) -> Measured:
    """Sends every request once, spread over the connections; every answer has to be a 200."""
    return asyncio.run(_measure(port, requests))


def _cookie(cookie: str) -> str:
    return f"Cookie: {cookie}\r\n" if cookie else ""


async def _measure(port: int, requests: Sequence[bytes]) -> Measured:
    took: list[float] = []
    begun = time.perf_counter()
    await asyncio.gather(*(_client(port, requests[n::CONNECTIONS], took) for n in range(CONNECTIONS)))
    whole = time.perf_counter() - begun
    took.sort()
    return Measured(len(took) / whole, took[len(took) // 2] * 1000, took[int(len(took) * 0.99)] * 1000)


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
