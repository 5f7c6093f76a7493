"""The shelf /notebook: her parts, her secret link, her terms and units, and the other notebooks on this
device.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fastapi import APIRouter, Form, Query
from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.services.joining import Kept, Lost
from server.services.notebooks import Shelf, measuring
from server.services.series import announcing
from server.web.evening_words import ShownEvening
from server.web.maker.device import Device, device_of, put_away, remember, with_visit
from server.web.maker.facts import address
from server.web.moments import now
from server.web.pages import render
from server.web.recap_list import recaps
from server.web.room_next import NextEvening, next_evening
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()


Arrived = Literal["", "moved", "brought"]


@dataclass(frozen=True)
class ShelfPage:
    """Context of maker/shelf.html.

    arrived  the notebook has just come to this device: moved from another one, or read in from a file
    next     the evening that is on or comes next, if there is one
    recaps   the evenings that were, the last first
    public_page  what stands in the address of the along's page; "" where it is not shown
    lost     notebooks that this device has no way into any more
    measure_for   the part to measure a hand for, where she has just joined
    """

    shelf: Shelf
    link: str
    joined: bool
    arrived: Arrived
    others: tuple[Kept, ...]
    lost: tuple[Lost, ...]
    error: str
    measure_for: int | None
    next: NextEvening | None
    recaps: tuple[ShownEvening, ...]
    public_page: str


@dataclass(frozen=True)
class NoNotebook:
    """Context of maker/no_notebook.html: this device has no notebook (any more)."""

    lost: tuple[Lost, ...] = ()


@dataclass(frozen=True)
class PutAway:
    """Context of maker/put_away.html: her link once more, before the notebook leaves this device."""

    kept: Kept
    link: str


class ChoiceForm(BaseModel):
    """How she reads, as sent; a form without the wording leaves that as it is."""

    notebook: int = 0
    terms: str = ""
    units: str = ""
    wording: str | None = None


class NotebookForm(BaseModel):
    """A notebook on this device, as sent."""

    notebook: int = 0


@router.get("/notebook")
def shelf(
    request: Request,
    session: ReadSession,
    joined: Annotated[str, Query()] = "",
    moved: Annotated[str, Query()] = "",
    brought: Annotated[str, Query()] = "",
) -> Response:
    """The notebook opened last on this device."""
    device = device_of(request, session)
    if device.current is None:
        return render(request, "maker/no_notebook.html", NoNotebook(device.lost))
    arrived: Arrived = "moved" if moved == "1" else "brought" if brought == "1" else ""
    response = _page(request, session, device.current, device, joined=joined == "1", arrived=arrived)
    remember(response, request, device, device.current.secret)  # the cookie's time begins anew
    return with_visit(response, request, session, device.current.notebook_id)


def _page(
    request: Request,
    session: ReadSession,
    current: Kept,
    device: Device,
    *,
    joined: bool = False,
    arrived: Arrived = "",
    error: str = "",
) -> Response:
    context = ShelfPage(
        shelf=notebooks.open_shelf(session, current.notebook_id),
        link=address(request, f"/n/{current.secret}"),
        joined=joined,
        arrived=arrived,
        lost=device.lost,
        others=tuple(each for each in device.kept if each.notebook_id != current.notebook_id),
        error=error,
        measure_for=measuring.part_to_measure_for(session, current.notebook_id) if joined else None,
        next=next_evening(session, current.along_id, now()),
        recaps=recaps(session, current.along_id),
        public_page=announcing.address_shown(session, current.along_id),
    )
    return render(request, "maker/shelf.html", context, 422 if error else 200)


@router.post("/notebook/choices")
def choose(request: Request, session: WriteSession, form: Annotated[ChoiceForm, Form()]) -> Response:
    """Sets the terms and units she reads in, and how the steps are said."""
    device = device_of(request, session)
    kept = device.notebook(form.notebook)
    try:
        notebooks.choose(session, kept.notebook_id, terms=form.terms, units=form.units, wording=form.wording)
    except NotFound:
        raise
    except Refusal as refusal:
        session.rollback()
        return _page(request, session, kept, device, error=refusal.message)
    return RedirectResponse("/notebook#reading", 303)


@router.post("/notebook/open")
def open_other(request: Request, session: ReadSession, form: Annotated[NotebookForm, Form()]) -> Response:
    """Opens another notebook that this device has."""
    device = device_of(request, session)
    response = RedirectResponse("/notebook", 303)
    remember(response, request, device, device.notebook(form.notebook).secret)
    return response


@router.get("/notebook/put-away")
def before_put_away(request: Request, session: ReadSession) -> Response:
    """Shows the link once more, since without it the notebook could not be opened again."""
    kept = device_of(request, session).current
    if kept is None:
        return render(request, "maker/no_notebook.html", NoNotebook())
    return render(request, "maker/put_away.html", PutAway(kept, address(request, f"/n/{kept.secret}")))


@router.post("/notebook/put-away")
def put_away_now(request: Request, session: ReadSession, form: Annotated[NotebookForm, Form()]) -> Response:
    """Takes a notebook off this device."""
    device = device_of(request, session)
    response = RedirectResponse("/notebook", 303)
    put_away(response, request, device, form.notebook)
    return response
