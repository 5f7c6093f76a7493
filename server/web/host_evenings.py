"""Pages for the evenings of an along: the list, a new one, one to change, cancelled and taken up again."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from fastapi import APIRouter, Form
from pydantic import BaseModel
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import alongs
from server.services.errors import NotFound, Refusal
from server.services.recap.evening import told_again
from server.services.series import EveningForm, Twice, evenings
from server.services.series.wallclock import WallTime, choices_of, zones
from server.web.evening_words import ShownEvening, shown_evenings
from server.web.host_sources import RowId
from server.web.moments import now
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host", route_class=HostRoute)
Choices = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class EveningsPage:
    """Context of host/evenings.html: the evenings, and the form for a new one as typed. told: those
    whose room was open and is closed, some before their hour; choices: which of two equal times, where that
    is asked."""

    host_name: str
    along_id: int
    along_title: str
    evenings: tuple[ShownEvening, ...]
    told: frozenset[int]
    form: EveningForm
    parts: Choices
    zones: tuple[str, ...]
    choices: Choices = ()
    errors: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class EveningPage:
    """Context of host/evening.html: one to change. mark: what was kept when the form was opened."""

    host_name: str
    along_id: int
    along_title: str
    evening: ShownEvening
    form: EveningForm
    mark: str
    parts: Choices
    zones: tuple[str, ...]
    choices: Choices = ()
    errors: dict[str, str] = field(default_factory=dict)


class SentEvening(BaseModel):
    """The form for an evening as sent."""

    title: str = ""
    day: str = ""
    time: str = ""
    minutes: str = ""
    zone: str = ""
    which: str = ""
    part: str = ""
    place: str = ""
    note: str = ""
    mark: str = ""

    def typed(self) -> EveningForm:
        """What was typed."""
        return EveningForm(**self.model_dump(exclude={"mark"}))


Sent = Annotated[SentEvening, Form()]


def _parts(session: Session, along_id: int) -> Choices:
    return tuple((str(part.id), part.title) for part in evenings.parts(session, along_id))


def _list(
    session: Session,
    host: CurrentHost,
    along_id: int,
    typed: EveningForm | None = None,
    refused: Refusal | None = None,
) -> EveningsPage:
    along = alongs.own_along(session, host.host_id, along_id)
    return EveningsPage(
        host_name=host.shown_name,
        along_id=along_id,
        along_title=along.title,
        evenings=shown_evenings(evenings.of_along(session, along_id), now()),
        told=told_again(session, along_id),
        form=typed or evenings.usual(session, host.host_id, along_id),
        parts=_parts(session, along_id),
        zones=zones(),
        choices=refused.choices if isinstance(refused, Twice) else (),
        errors=_by_field(refused),
    )


def _by_field(refused: Refusal | None) -> dict[str, str]:
    return {refused.field: refused.message} if refused is not None and refused.field else {}


@router.get("/alongs/{along_id}/evenings")
def all_evenings(request: Request, along_id: RowId, host: CurrentHost, session: ReadSession) -> Response:
    """The evenings of an along, and the form for the next."""
    return render(request, "host/evenings.html", _list(session, host, along_id))


@router.post("/alongs/{along_id}/evenings")
def add_evening(
    request: Request, along_id: RowId, host: CurrentHost, session: WriteSession, sent: Sent
) -> Response:
    """Set a new evening."""
    try:
        evenings.add(session, host.host_id, along_id, sent.typed(), now())
    except NotFound:
        raise
    except Refusal as refusal:
        page = _list(session, host, along_id, sent.typed(), refusal)
        return render(request, "host/evenings.html", page, 422)
    return RedirectResponse(f"/host/alongs/{along_id}/evenings", status_code=303)


def _one(
    session: Session,
    host: CurrentHost,
    evening_id: int,
    typed: EveningForm | None = None,
    refused: Refusal | None = None,
) -> EveningPage:
    kept = evenings.one(session, host.host_id, evening_id)
    along = alongs.own_along(session, host.host_id, kept.along_id)
    choices = refused.choices if isinstance(refused, Twice) else ()
    if typed is None and kept.wall.which:
        choices = choices_of(WallTime(kept.wall.local, kept.wall.zone))
    return EveningPage(
        host_name=host.shown_name,
        along_id=kept.along_id,
        along_title=along.title,
        evening=shown_evenings((kept,), now())[0],
        form=typed or evenings.form_of(kept),
        mark=kept.mark,
        parts=_parts(session, kept.along_id),
        zones=zones(),
        choices=choices,
        errors=_by_field(refused),
    )


@router.get("/evenings/{evening_id}")
def one_evening(request: Request, evening_id: RowId, host: CurrentHost, session: ReadSession) -> Response:
    """One evening, to move or change or cancel."""
    return render(request, "host/evening.html", _one(session, host, evening_id))


@router.post("/evenings/{evening_id}")
def change_evening(
    request: Request, evening_id: RowId, host: CurrentHost, session: WriteSession, sent: Sent
) -> Response:
    """Keep it as typed."""
    along_id = evenings.one(session, host.host_id, evening_id).along_id
    try:
        evenings.change(session, host.host_id, evening_id, sent.typed(), sent.mark or None, now())
    except NotFound:
        raise
    except Refusal as refusal:
        page = _one(session, host, evening_id, sent.typed(), refusal)
        return render(request, "host/evening.html", page, 422)
    return RedirectResponse(f"/host/alongs/{along_id}/evenings", status_code=303)


@router.post("/evenings/{evening_id}/cancel")
def cancel_evening(request: Request, evening_id: RowId, host: CurrentHost, session: WriteSession) -> Response:
    """It does not take place; everybody's calendar is told."""
    try:
        along_id = evenings.cancel(session, host.host_id, evening_id, now())
    except NotFound:
        raise
    except Refusal as refusal:
        return render(request, "host/evening.html", _one(session, host, evening_id, refused=refusal), 409)
    return RedirectResponse(f"/host/alongs/{along_id}/evenings", status_code=303)


@router.post("/evenings/{evening_id}/again")
def take_up_evening(evening_id: RowId, host: CurrentHost, session: WriteSession) -> Response:
    """It takes place after all."""
    along_id = evenings.cancel(session, host.host_id, evening_id, now(), cancelled=False)
    return RedirectResponse(f"/host/alongs/{along_id}/evenings", status_code=303)
