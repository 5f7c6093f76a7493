"""The real server as a process of its own, for tests that stop it, kill it or measure it."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Self

import httpx2

START_WITHIN_S = 60.0
STOP_WITHIN_S = 10.0


def free_port() -> int:
    """A port that nobody listens at just now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class Served:
    """`python -m server serve` on a data folder. It is up when it has been made, and is stopped by `with`."""

    def __init__(self, data_dir: Path, *arguments: str, settings: Mapping[str, str] | None = None) -> None:
        self.port = free_port()
        self.url = f"http://localhost:{self.port}"
        self.log = data_dir.parent / f"serve-{self.port}.log"
        environment = {k: v for k, v in os.environ.items() if not k.startswith("EVENHAND_")}
        with self.log.open("wb") as log:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "server", "serve", "--port", str(self.port), *arguments],
                env=environment | {"EVENHAND_DATA_DIR": str(data_dir)} | dict(settings or {}),
                stdout=log,
                stderr=subprocess.STDOUT,
            )
        self._wait_until_up()

    def _wait_until_up(self) -> None:
        until = time.monotonic() + START_WITHIN_S
        while time.monotonic() < until:
            assert self.process.poll() is None, self.printed
            try:
                if httpx2.get(f"{self.url}/healthz").status_code == 200:
                    return
            except httpx2.TransportError:
                time.sleep(0.05)
        self.process.kill()
        raise AssertionError(f"not up within {START_WITHIN_S} s:\n{self.printed}")

    @property
    def printed(self) -> str:
        """All that it has printed so far."""
        return self.log.read_text()

    def stop(self, number: int = signal.SIGTERM) -> int:
        """Tells it to stop and waits; gives its exit code."""
        self.process.send_signal(number)
        return self.process.wait(STOP_WITHIN_S)

    def kill(self) -> None:
        """Ends it as a power cut would: in the middle of whatever it is doing."""
        self.process.kill()
        self.process.wait(STOP_WITHIN_S)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self.process.poll() is None:
            self.kill()


@contextmanager
def browsing(url: str) -> Iterator[httpx2.Client]:
    """A browser's requests: cookies kept, redirects followed."""
    with httpx2.Client(
        base_url=url, headers={"Origin": url, "Accept": "text/html"}, follow_redirects=True, timeout=30
    ) as client:
        yield client
