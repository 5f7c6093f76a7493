"""The database session of a request: one request, one transaction, committed before its answer goes out.

    def page(session: ReadSession) -> HTMLResponse: ...
    def save(session: WriteSession, ...) -> RedirectResponse: ...

`scope="function"` ends the dependency as soon as the endpoint has returned. Without it FastAPI would send
the answer first and commit afterwards: a failed commit would still look like success.

What is written very often goes in as a job of its own, without a thread of the request's waiting for it:

    async def log(request: Request, ...) -> Answer:
        return await database_of(request).write(lambda session: ...)
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import asynccontextmanager
from queue import SimpleQueue
from typing import Annotated, TypeVar, cast

from anyio import from_thread
from fastapi import Depends, Request
from sqlalchemy import Engine
from sqlmodel import Session

from server.storage.groups import Member, Writer
from server.storage.sessions import read_session
from server.storage.stamps import StampReader

T = TypeVar("T")


class _Waiting(Member):
    """A member of a group of writers, and the future that its request waits at."""

    def __init__(self, work: Callable[[Session], object]) -> None:
        super().__init__(work)
        self.loop = asyncio.get_running_loop()
        self.ended: asyncio.Future[object] = self.loop.create_future()

    def tell(self) -> None:
        """On the loop: how it ended."""
        if self.ended.done():  # nobody waits for it any more
            return
        if self.failure is not None:
            self.ended.set_exception(self.failure)
        else:
            self.ended.set_result(self.result)


class Database:
    """The engine, and the line of this process' writers.

    SQLite lets one writer in at a time and makes the others poll. Waiting in line costs no thread, is fair,
    and lets those who wait be committed together (server.storage.groups). Whoever is told, is told after the
    COMMIT, also that nothing was done: what was refused may have read what another of the group wrote.
    """

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self.stamps = StampReader(engine)
        self._writer = Writer(engine, _deliver)

    async def write(self, job: Callable[[Session], T]) -> T:
        """Runs `job` in the writer's thread and gives its result once it is on the disk; raises what it
        raised, or why it could not be written.

        A job whose request is gone before its turn is left out; after that it is done all the same.
        """

        def work(session: Session) -> T:
            if waiting.ended.cancelled():
                raise asyncio.CancelledError
            return job(session)

        waiting = _Waiting(work)
        self._writer.submit(waiting)
        return cast(T, await waiting.ended)

    def write_from_thread(self, job: Callable[[Session], T]) -> T:
        """`write` for an endpoint or dependency that runs in a thread, and holds no WriteSession."""
        return from_thread.run(self.write, job)

    @asynccontextmanager
    async def turn(self) -> AsyncIterator[Session]:
        """A turn to write: the session is this block's alone until its end, which comes after the COMMIT."""
        granted: asyncio.Future[Session] = asyncio.get_running_loop().create_future()
        left: SimpleQueue[BaseException | None] = SimpleQueue()

        def work(session: Session) -> None:
            waiting.loop.call_soon_threadsafe(_grant, granted, session)
            failure = left.get()  # the writer's thread waits here while the block runs
            if failure is not None:
                raise failure

        waiting = _Waiting(work)
        self._writer.submit(waiting)
        try:
            await asyncio.wait((granted, waiting.ended), return_when=asyncio.FIRST_COMPLETED)
            if not granted.done():
                waiting.ended.result()  # the turn never came; this says why
            yield granted.result()
        except asyncio.CancelledError as error:
            granted.cancel()
            waiting.ended.cancel()
            left.put(error)
            raise
        except BaseException as error:
            left.put(error)
            await _end_of(waiting, error)
            raise
        left.put(None)
        await waiting.ended

    async def close(self) -> None:
        """Comes back once all who are in line have been told; nobody is let in after that."""
        await asyncio.get_running_loop().run_in_executor(None, self.close_here)

    def close_here(self) -> None:
        """`close`, for who may wait in this thread."""
        self._writer.close()
        self.stamps.close()


def _grant(granted: asyncio.Future[Session], session: Session) -> None:
    if not granted.done():
        granted.set_result(session)


async def _end_of(waiting: _Waiting, error: BaseException) -> None:
    """Waits for the group; raises where more than this one's own error went wrong."""
    try:
        await waiting.ended
    except BaseException as ended:
        if ended is not error:
            raise


def _deliver(members: Sequence[Member]) -> None:
    """In the writer's thread: wakes the loops up, once each, so that a large group is not told one by one."""
    by_loop: dict[asyncio.AbstractEventLoop, list[_Waiting]] = {}
    for member in members:
        if isinstance(member, _Waiting):
            by_loop.setdefault(member.loop, []).append(member)
    for loop, waiting in by_loop.items():
        if not loop.is_closed():
            loop.call_soon_threadsafe(_tell_all, waiting)


def _tell_all(waiting: Sequence[_Waiting]) -> None:
    for each in waiting:
        each.tell()


def database_of(request: Request) -> Database:
    """The application's database."""
    database: Database = request.app.state.database
    return database


async def _reading(request: Request) -> AsyncIterator[Session]:
    with read_session(database_of(request).engine) as session:
        yield session


async def _writing(request: Request) -> AsyncIterator[Session]:
    async with database_of(request).turn() as session:
        yield session


ReadSession = Annotated[Session, Depends(_reading, scope="function")]
WriteSession = Annotated[Session, Depends(_writing, scope="function")]
