"""The application with one empty route added: what everything else is measured against."""

from __future__ import annotations

from fastapi import FastAPI
from starlette.responses import PlainTextResponse

from server.app import create_serving_app

EMPTY = "/bench/empty"


def application() -> FastAPI:
    """Through the same middleware as every page, with nothing behind it."""
    app = create_serving_app()

    @app.get(EMPTY)
    async def empty() -> PlainTextResponse:
        return PlainTextResponse("")

    app.router.routes.insert(0, app.router.routes.pop())  # the first one tried: no page has it easier
    return app
