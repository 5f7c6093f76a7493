"""The application: settings in, an ASGI app out. The database has been migrated before."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from fastapi import FastAPI
from starlette.middleware import Middleware

from server import __version__
from server.settings import ROOT, Settings
from server.storage.sessions import open_engine
from server.web.maker.readypages import ReadyPages
from server.web.problems import answer_problems
from server.web.routes import ROUTERS
from server.web.security import RequestSize, SameOrigin, SecurityHeaders
from server.web.sessions import Database
from server.web.staticfiles import KeptFiles


def create_app(settings: Settings | None = None) -> FastAPI:
    """The whole application on the database of `settings`."""
    settings = settings or Settings()
    engine = open_engine(settings.database)
    database = Database(engine)

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        yield
        await database.close()
        engine.dispose()

    app = FastAPI(
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
    app.state.ready_pages = ReadyPages()
    app.state.static = KeptFiles(ROOT / "static")
    for router in ROUTERS:
        app.include_router(router)
    answer_problems(app)
    app.mount("/static", app.state.static, name="static")
    return app
