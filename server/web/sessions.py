"""The database session of a request: one request, one transaction, committed before its answer goes out.

    def page(session: ReadSession) -> HTMLResponse: ...
    def save(session: WriteSession, ...) -> RedirectResponse: ...

`scope="function"` ends the dependency as soon as the endpoint has returned. Without it FastAPI would send
the answer first and commit afterwards: a failed commit would still look like success.
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from typing import Annotated

from anyio import CapacityLimiter, to_thread
from fastapi import Depends, Request
from sqlalchemy import Engine
from sqlmodel import Session

from server.storage.sessions import read_session, write_session


class Database:
    """The engine, and the turn of this process' writers.

    SQLite lets one writer in at a time and makes the others poll. Waiting here instead costs no thread and
    is fair.
    """

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self.turn = asyncio.Lock()
        # A place of its own to commit: the threads for requests may all be taken by those who wait for it to
        # end.
        self.committing = CapacityLimiter(1)


async def _reading(request: Request) -> AsyncIterator[Session]:
    database: Database = request.app.state.database
    with read_session(database.engine) as session:
        yield session


async def _writing(request: Request) -> AsyncIterator[Session]:
    database: Database = request.app.state.database
    async with database.turn:
        with write_session(database.engine) as session:
            yield session
            await to_thread.run_sync(session.commit, limiter=database.committing)


ReadSession = Annotated[Session, Depends(_reading, scope="function")]
WriteSession = Annotated[Session, Depends(_writing, scope="function")]
