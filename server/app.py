"""The application: settings in, an ASGI app out. The database has been migrated before."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from fastapi import FastAPI
from starlette.middleware import Middleware
from starlette.types import Receive, Scope, Send

from server import __version__
from server.broadcast import Bus, Hub, Redis
from server.settings import ROOT, Settings
from server.storage.sessions import open_engine
from server.web.maker.readypages import ReadyPages
from server.web.problems import answer_problems
from server.web.room_stream import PREFIX as STREAMS
from server.web.room_stream import Streams
from server.web.routes import ROUTERS
from server.web.security import RequestSize, SameOrigin, SecurityHeaders
from server.web.sessions import Database
from server.web.staticfiles import KeptFiles


class Evenhand(FastAPI):
    """The application. What is streamed goes past all that a page needs: ten thousand may listen."""

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request, or the application's own beginning and end."""
        if scope["type"] == "http" and scope["path"].startswith(STREAMS):
            await self.state.streams(scope, receive, send)
        else:
            await super().__call__(scope, receive, send)


def create_app(settings: Settings | None = None) -> FastAPI:
    """The whole application on the database of `settings`."""
    settings = settings or Settings()
    engine = open_engine(settings.database)
    database = Database(engine)
    hub = Hub(Redis(settings.redis_url, settings.redis_prefix) if settings.redis_url else Bus())

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
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
    app.state.ready_pages = ReadyPages()
    app.state.static = KeptFiles(ROOT / "static")
    for router in ROUTERS:
        app.include_router(router)
    answer_problems(app)
    app.mount("/static", app.state.static, name="static")
    return app
