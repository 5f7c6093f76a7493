"""A sample of the pattern language page, taken over into a draft: a new part in one of her alongs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Form
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import alongs, patterns
from server.services.errors import Refusal
from server.web.language import Key, entry_at
from server.web.moments import now
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/samples", route_class=HostRoute)
RowId = Annotated[int, Form(ge=1, le=2**63 - 1)]


@dataclass(frozen=True)
class SamplePage:
    """Context of host/sample.html. alongs: pairs of id and title; chosen: the id that is ticked."""

    host_name: str
    key: str
    sample: str
    alongs: tuple[tuple[str, str], ...]
    title: str
    chosen: str
    error: str = ""


@router.get("/{key}")
def choose_along(request: Request, key: Key, host: CurrentHost, session: ReadSession) -> Response:
    """Ask in which along the new part is to stand, and what it is called."""
    entry = entry_at(key)
    mine = _choices(session, host.host_id)
    chosen = mine[0][0] if mine else ""
    page = SamplePage(host.shown_name, key, entry.sample, mine, _title(entry.name), chosen)
    return render(request, "host/sample.html", page)


def _choices(session: Session, host_id: int) -> tuple[tuple[str, str], ...]:
    return tuple((str(along.id), along.title) for along in alongs.of_host(session, host_id))


def _title(name: str) -> str:
    return f"Sample: {name}"


@router.post("/{key}")
def take(
    request: Request,
    key: Key,
    host: CurrentHost,
    session: WriteSession,
    along_id: RowId,
    title: Annotated[str, Form()] = "",
) -> Response:
    """Make the part with the sample as its draft, and go to it. No text of hers is touched."""
    entry = entry_at(key)
    try:
        part_id = alongs.add_part(session, host.host_id, along_id, title)
    except Refusal as refusal:
        if refusal.field is None:
            raise
        mine = _choices(session, host.host_id)
        page = SamplePage(host.shown_name, key, entry.sample, mine, title, str(along_id), refusal.message)
        return render(request, "host/sample.html", page, 422)
    patterns.save_draft(session, host.host_id, part_id, entry.sample, None, now())
    return RedirectResponse(f"/host/parts/{part_id}", status_code=303)
