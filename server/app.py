"""The application: settings in, an ASGI app out. The database has been migrated before."""

from __future__ import annotations

import asyncio
import gc
import signal
import threading
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager, contextmanager
from types import FrameType
from typing import Any

from fastapi import FastAPI
from starlette.middleware import Middleware
from starlette.types import Receive, Scope, Send

from server import __version__
from server.broadcast import Bus, Hub, Redis
from server.settings import ROOT, Settings
from server.storage.sessions import open_engine
from server.web.maker.batches import Batches, is_batch
from server.web.maker.readypages import ReadyPages
from server.web.problems import answer_problems
from server.web.room_stream import PREFIX as STREAMS
from server.web.room_stream import Streams
from server.web.routes import ROUTERS
from server.web.security import RequestSize, SameOrigin, SecurityHeaders
from server.web.sessions import Database
from server.web.staticfiles import KeptFiles

NEW_OBJECTS = 10_000  # before those are looked through; a page makes some thousands


class Evenhand(FastAPI):
    """The application. What is streamed, and what every tap sends, goes past all that a page needs: ten
    thousand may listen, and hundreds log at once.
    """

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request, or the application's own beginning and end."""
        if scope["type"] != "http":
            await super().__call__(scope, receive, send)
        elif scope["path"].startswith(STREAMS):
            await self.state.streams(scope, receive, send)
        elif is_batch(scope["path"]):
            scope["app"] = self
            await self.state.batches(scope, receive, send)
        else:
            await super().__call__(scope, receive, send)


@contextmanager
def _streams_end_first(hub: Hub) -> Iterator[None]:
    """A server that is told to stop waits for what is open, and streams end when somebody ends them: at the
    same signal, then, before whoever has handled it so far."""
    loop = asyncio.get_running_loop()
    before: dict[int, Callable[[int, FrameType | None], Any]] = {}
    closing: list[asyncio.Task[None]] = []

    def handle(number: int, frame: FrameType | None) -> None:
        loop.call_soon_threadsafe(lambda: closing.append(loop.create_task(hub.close())))
        before[number](number, frame)

    if threading.current_thread() is threading.main_thread():  # signals are handled there alone
        for ending in (signal.SIGINT, signal.SIGTERM):
            handler = signal.getsignal(ending)
            if callable(handler):
                before[int(ending)] = handler
                signal.signal(ending, handle)
    try:
        yield
    finally:
        for number, was in before.items():
            signal.signal(number, was)


def create_app(settings: Settings | None = None) -> FastAPI:
    """The whole application on the database of `settings`."""
    settings = settings or Settings()
    engine = open_engine(settings.database)
    database = Database(engine)
    hub = Hub(Redis(settings.redis_url, settings.redis_prefix) if settings.redis_url else Bus())

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        with _streams_end_first(hub):
            yield
        await hub.close()
        await database.close()
        engine.dispose()

    app = Evenhand(
        title="Evenhand",
        version=__version__,
        docs_url=None,
        redoc_url=None,
        openapi_url=None,
        telemetry={"tracing": False, "metrics": False, "logs": False},
        lifespan=lifespan,
        middleware=[
            Middleware(SecurityHeaders),
            Middleware(SameOrigin),
            Middleware(
                RequestSize,
                most_bytes=settings.most_request_bytes,
                larger={"/notebook/import": settings.most_file_bytes},
            ),
        ],
    )
    app.state.settings = settings
    app.state.database = database
    app.state.hub = hub
    app.state.streams = Streams(hub, database)
    app.state.batches = SecurityHeaders(
        SameOrigin(RequestSize(Batches(database), settings.most_request_bytes))
    )
    app.state.ready_pages = ReadyPages()
    app.state.static = KeptFiles(ROOT / "static")
    for router in ROUTERS:
        app.include_router(router)
    answer_problems(app)
    app.mount("/static", app.state.static, name="static")
    return app


def create_serving_app(settings: Settings | None = None) -> FastAPI:
    """The application, for a process that does nothing but serve it.

    Now and then the interpreter looks through all objects there are, for those that only hold each other. All
    the modules make that a tenth of a second in which no request goes on. They stay to the end, so they are
    left out of it; and what one request makes is not looked through in the middle of it.
    """
    app = create_app(settings)
    gc.collect()
    gc.freeze()
    gc.set_threshold(NEW_OBJECTS, *gc.get_threshold()[1:])
    return app
