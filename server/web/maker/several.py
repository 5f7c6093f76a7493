"""/notebook/<part>/several: several rounds logged at once, as one entry."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Form
from pydantic import BaseModel, Field
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.services.notebooks import NewEntry
from server.web.maker.device import device_of
from server.web.maker.facts import PartId, said
from server.web.maker.working import part, working_page
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()
SPOTS_MOST = 100


class SeveralForm(BaseModel):
    """The rounds ticked, and the facts of a form that makes an entry."""

    id: str = ""
    notebook: int = 0
    state: int | None = None
    piece: int = 1
    spot: list[str] = Field(default=[], max_length=SPOTS_MOST)


@router.post("/notebook/{part_id}/several")
def log_several(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[SeveralForm, Form()]
) -> Response:
    """Logs every round up to the last one ticked."""
    device = device_of(request, session)
    kept = device.notebook(form.notebook)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    if form.piece not in desk.pieces:
        raise NotFound("This part has no such piece.")
    if desk.making.settled is None:
        return RedirectResponse(f"/notebook/{part_id}/numbers", 303)
    try:
        if not any(one.entry.id == form.id for one in desk.log):  # sent twice, it is logged once
            values = notebooks.counted_in_to(desk, form.piece, form.spot)
            new = NewEntry(form.id, form.piece, "counted_in", values)
            notebooks.log(
                session,
                kept.notebook_id,
                part_id,
                [new],
                state=form.state,
                device=device.name,
                now=datetime.now(UTC),
            )
    except NotFound:
        raise
    except Refusal as refusal:
        session.rollback()
        desk = notebooks.open_desk(session, kept.notebook_id, part_id)
        return working_page(request, desk, form.piece, said(refusal, "several", {}))
    return RedirectResponse(f"/notebook/{part_id}/piece/{form.piece}", 303)


@router.get("/notebook/{part_id}/several")
def after_several(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """Where a page that answered the form is loaded again: to where she is."""
    return part(request, session, part_id)
