"""What comes next: the waiting list of parts, and the along once more for the next season."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from fastapi import APIRouter, Form
from pydantic import BaseModel
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import alongs
from server.services.errors import NotFound, Refusal
from server.services.series import SeasonForm, Waiting, evenings, seasons, waiting
from server.web.host_alongs import by_field
from server.web.host_sources import RowId
from server.web.moments import now
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host", route_class=HostRoute)


@dataclass(frozen=True)
class WaitingPage:
    """Context of host/waiting.html."""

    host_name: str
    along_id: int
    along_title: str
    waiting: tuple[Waiting, ...]


@dataclass(frozen=True)
class SeasonPage:
    """Context of host/season.html: the form as typed; evenings: how many could come along."""

    host_name: str
    along_id: int
    along_title: str
    evenings: int
    form: SeasonForm
    errors: dict[str, str] = field(default_factory=dict)


class SentSeason(BaseModel):
    """The form as sent."""

    title: str = ""
    evenings: str = ""
    weeks: str = ""
    days: str = ""


@router.get("/alongs/{along_id}/waiting")
def waiting_list(request: Request, along_id: RowId, host: CurrentHost, session: ReadSession) -> Response:
    """The parts that are not published yet, in the order in which they are to come."""
    along = alongs.own_along(session, host.host_id, along_id)
    rows = waiting.waiting(session, host.host_id, along_id)
    return render(request, "host/waiting.html", WaitingPage(host.shown_name, along_id, along.title, rows))


@router.post("/parts/{part_id}/wait")
def move_waiting(
    part_id: RowId, host: CurrentHost, session: WriteSession, way: Annotated[str, Form()] = ""
) -> Response:
    """One place earlier or later on the waiting list."""
    ways: dict[str, Literal["earlier", "later"]] = {"earlier": "earlier", "later": "later"}
    if way not in ways:
        raise Refusal("A part moves earlier or later.")
    along_id = waiting.move(session, host.host_id, part_id, ways[way])
    return RedirectResponse(f"/host/alongs/{along_id}/waiting#part-{part_id}", status_code=303)


def _season_page(
    session: Session,
    host: CurrentHost,
    along_id: int,
    typed: SeasonForm | None = None,
    errors: dict[str, str] | None = None,
) -> SeasonPage:
    along = alongs.own_along(session, host.host_id, along_id)
    coming = sum(not one.is_cancelled for one in evenings.of_along(session, along_id))
    form = typed or SeasonForm(title=along.title, evenings="move" if coming else "leave")
    return SeasonPage(host.shown_name, along_id, along.title, coming, form, errors or {})


@router.get("/alongs/{along_id}/season")
def season(request: Request, along_id: RowId, host: CurrentHost, session: ReadSession) -> Response:
    """The form to make the along once more."""
    return render(request, "host/season.html", _season_page(session, host, along_id))


@router.post("/alongs/{along_id}/season")
def copy(
    request: Request,
    along_id: RowId,
    host: CurrentHost,
    session: WriteSession,
    sent: Annotated[SentSeason, Form()],
) -> Response:
    """Make it once more, and go there."""
    typed = SeasonForm(**sent.model_dump())
    try:
        new_id = seasons.copy(session, host.host_id, along_id, typed, now())
    except NotFound:
        raise
    except Refusal as refusal:
        page = _season_page(session, host, along_id, typed, by_field(refusal))
        return render(request, "host/season.html", page, 422)
    return RedirectResponse(f"/host/alongs/{new_id}", status_code=303)
