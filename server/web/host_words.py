"""Names and words of an along's makers: hidden by a host, and shown again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fastapi import APIRouter, Form, Query
from pydantic import BaseModel
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.broadcast import Happening
from server.services import moderating, room
from server.services.moderating import Name, Words
from server.web.host_sources import RowId
from server.web.moments import Moment, moment, now
from server.web.pages import render
from server.web.room_telling import said_where
from server.web.sessions import ReadSession, WriteSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/alongs/{along_id}/words", route_class=HostRoute)


@dataclass(frozen=True)
class ShownWords:
    """What a maker said, and when."""

    said: Words
    when: Moment


@dataclass(frozen=True)
class WordsPage:
    """Context of host/words.html."""

    host_name: str
    along_id: int
    along_title: str
    names: tuple[Name, ...]
    words: tuple[ShownWords, ...]
    makers: int
    many: int
    page: int
    pages: int


class HideForm(BaseModel):
    """A name or words to hide or to show, as sent."""

    id: Annotated[int, Form(ge=1, le=2**63 - 1)]
    hidden: Literal["yes", "no"]
    page: int = 1


Sent = Annotated[HideForm, Form()]


@router.get("")
def names_and_words(
    request: Request,
    along_id: RowId,
    host: CurrentHost,
    session: ReadSession,
    page: Annotated[int, Query(ge=1, le=10**6)] = 1,
) -> Response:
    """All of them, a page at a time."""
    found = moderating.said(session, host.host_id, along_id, page)
    here = now()
    context = WordsPage(
        host_name=host.shown_name,
        along_id=along_id,
        along_title=found.along_title,
        names=found.names,
        words=tuple(ShownWords(each, moment(each.at, here)) for each in found.words),
        makers=found.makers,
        many=found.many,
        page=found.page,
        pages=found.pages,
    )
    return render(request, "host/words.html", context)


@router.post("/names")
def hide_name(along_id: RowId, host: CurrentHost, session: WriteSession, form: Sent) -> Response:
    """Hide a nickname, or show it again."""
    moderating.hide_name(session, host.host_id, along_id, form.id, now(), hidden=form.hidden == "yes")
    return RedirectResponse(f"/host/alongs/{along_id}/words?page={max(form.page, 1)}#names", 303)


@router.post("")
async def hide_words(request: Request, along_id: RowId, host: CurrentHost, form: Sent) -> Response:
    """Hide what was said, or show it again. An announcement that stands on the screens goes from them."""
    at, hidden = now(), form.hidden == "yes"

    def job(session: Session) -> tuple[int, Happening | None]:
        evening_id = moderating.evening_of(session, host.host_id, along_id, form.id)
        taken = room.take_off(session, host.host_id, evening_id, form.id, at) if hidden else None
        moderating.hide_words(session, host.host_id, along_id, form.id, at, hidden=hidden)
        return evening_id, taken

    await said_where(request, job)
    return RedirectResponse(f"/host/alongs/{along_id}/words?page={max(form.page, 1)}#said", 303)
