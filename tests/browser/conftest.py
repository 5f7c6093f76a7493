"""The system's Chromium on the real application, served on this machine. Without a Chromium these tests are
skipped with a line that says so; where CI says it is CI, that is a failure."""

from __future__ import annotations

import os
import shutil
import socket
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NoReturn

import pytest
import uvicorn
from fastapi import FastAPI
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright
from starlette.types import ASGIApp

ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
NAMES = ("chromium", "chromium-browser", "google-chrome")
# What the browser and htmx write when an answer has a status from 400 up, or none comes.
NOT_OURS = (
    "Failed to load resource",
    "An unknown error occurred when fetching the script.",  # the worker, with the server stopped
    "htmx: htmx:error: Failed to fetch",
    "htmx: htmx:response:error",
)
PHONE, DESK = (390, 844), (1280, 900)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Everything in this folder plays in a browser."""
    here = Path(__file__).parent
    for item in items:
        if item.path.is_relative_to(here):
            item.add_marker(pytest.mark.browser)


def do_without(message: str) -> NoReturn:
    """Skips what needs a browser, saying why; a failure where CI says it is CI."""
    if os.environ.get("CI") == "true":
        pytest.fail(message)
    pytest.skip(message)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Chromium, once for all."""
    path = next(filter(None, map(shutil.which, NAMES)), None)
    if path is None:
        do_without(f"no browser: none of {', '.join(NAMES)} is installed (sudo apt-get install chromium)")
    try:
        playwright = sync_playwright().start()
    except Exception as error:  # the library raises nothing more exact
        do_without(f"no browser: its driver does not start (sudo apt-get install libatomic1): {error}")
    chromium = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
    yield chromium
    chromium.close()
    playwright.stop()


class Site:
    """The application, served on a port of its own. `stop` and `start` let a test take the server away for a
    while."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port: int = free.getsockname()[1]
        self.url = f"http://localhost:{self.port}"
        self.start()

    def start(self) -> None:
        """Serve, and come back once it does."""
        config = uvicorn.Config(
            self._app, host="127.0.0.1", port=self.port, log_level="warning", lifespan="off"
        )
        self._server = uvicorn.Server(config)
        self._thread = threading.Thread(target=self._server.run, daemon=True)
        self._thread.start()
        until = time.monotonic() + 10
        while not self._server.started:
            assert time.monotonic() < until, "the server did not start"
            time.sleep(0.01)

    def stop(self) -> None:
        """Stop serving; open connections are closed."""
        self._server.force_exit = True
        self._server.should_exit = True
        self._thread.join(10)


@pytest.fixture
def site(app: FastAPI) -> Iterator[Site]:
    """The application of this test, served."""
    served = Site(app)
    yield served
    served.stop()


OpenPage = Callable[..., Page]


@pytest.fixture
def open_page(browser: Browser, site: Site) -> Iterator[OpenPage]:
    """A page on a device of its own: `open_page(size=PHONE, dark=True, scripts=False, like=other_page)`.

    `like`: with the cookies of another page. Anything that a page writes to the console as an error fails the
    test, apart from what they write about answers that are refused or do not come: tests ask for those.
    """
    contexts: list[BrowserContext] = []
    complaints: list[str] = []

    def note(kind: str, text: str) -> None:
        if kind == "error" and not text.startswith(NOT_OURS):
            complaints.append(text)

    def open_one(
        size: tuple[int, int] = PHONE, *, dark: bool = False, scripts: bool = True, like: Page | None = None
    ) -> Page:
        context = browser.new_context(
            base_url=site.url,
            viewport={"width": size[0], "height": size[1]},
            color_scheme="dark" if dark else "light",
            java_script_enabled=scripts,
            storage_state=like.context.storage_state() if like else None,
        )
        contexts.append(context)
        context.set_default_timeout(10_000)
        page = context.new_page()
        page.on("console", lambda message: note(message.type, message.text))
        page.on("pageerror", lambda error: note("error", str(error)))
        return page

    yield open_one
    for context in contexts:
        context.close()
    assert complaints == []
