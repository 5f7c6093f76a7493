"""What was written down in a room is told to its listeners, once it is on the disk."""

from __future__ import annotations

from collections.abc import Callable

from sqlmodel import Session
from starlette.requests import Request

from server.broadcast import Happening, Hub
from server.services import room
from server.storage.sessions import reading
from server.web.room_stream import desk_room, maker_room
from server.web.sessions import database_of

Job = Callable[[Session], Happening | None]


def hub_of(request: Request) -> Hub:
    """The application's hub."""
    hub: Hub = request.app.state.hub
    return hub


async def said(request: Request, evening_id: int, job: Job) -> None:
    """Carries out what a host does, then tells everybody; what the job raises is raised."""
    await said_where(request, lambda session: (evening_id, job(session)))


async def said_where(request: Request, job: Callable[[Session], tuple[int, Happening | None]]) -> None:
    """The same, where only the job finds out in which evening's room."""

    def with_newest(session: Session) -> tuple[int, Happening | None, Happening]:
        evening_id, happening = job(session)
        return evening_id, happening, room.newest(session, evening_id)

    evening_id, happening, newest = await database_of(request).write(with_newest)
    if happening is not None:
        await hub_of(request).tell(maker_room(evening_id), happening)
        await hub_of(request).tell(desk_room(evening_id), newest)


async def noted(request: Request, evening_id: int, job: Job) -> None:
    """Carries out what a maker does, then tells the hosts."""
    happening = await database_of(request).write(job)
    if happening is not None:
        await hub_of(request).tell(desk_room(evening_id), happening)


async def ended(request: Request, evening_id: int) -> None:
    """Every stream of the room ends; who may listen comes back by itself."""
    for name in (maker_room(evening_id), desk_room(evening_id)):
        await hub_of(request).end(name)


async def key(request: Request, evening_id: int) -> str:
    """The key of the room, made at its first use."""
    database = database_of(request)
    with reading(database.engine) as session:
        found = room.key_of(session, evening_id)
    return found or await database.write(lambda writer: room.make_key(writer, evening_id))
