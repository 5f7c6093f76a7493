"""The application as one worker on a socket that the bench opened, with two routes added: one that tells a
room something, one that says how many listen and how many are behind."""

from __future__ import annotations

import socket
import sys
import time

import uvicorn
from fastapi import FastAPI, Request
from starlette.responses import JSONResponse, Response

from server.app import create_serving_app
from server.broadcast import Happening, frame

FILL = "x" * 4096


def application() -> FastAPI:
    """The application, with what the bench asks of it."""
    app = create_serving_app()

    @app.get("/bench/tell/{room}/{number}")
    async def tell(request: Request, room: str, number: int, fill: int = 0) -> Response:
        at = [1, 1, 0, 3, 2, number, time.time_ns()]
        change = frame(number, "step", {"at": at} | ({"fill": FILL} if fill else {}))
        await request.app.state.hub.tell(room, Happening(number, number - 1, change, change))
        return Response(status_code=204)

    @app.get("/bench/room")
    async def state(request: Request) -> JSONResponse:
        hub = request.app.state.hub
        behind = sum(each.behind is not None for room in hub._rooms.values() for each in room.listeners)
        return JSONResponse({"listeners": hub.listeners, "behind": behind})

    for _ in range(2):
        app.router.routes.insert(0, app.router.routes.pop())
    return app


if __name__ == "__main__":
    config = uvicorn.Config(
        application(), log_level="warning", access_log=False, backlog=4096, timeout_graceful_shutdown=1
    )
    uvicorn.Server(config).run(sockets=[socket.socket(fileno=int(sys.argv[1]))])
