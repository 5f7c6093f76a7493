"""/notebook/<part>/settings: sets how the working page behaves on this device."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Form
from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import notebooks
from server.services.errors import Refusal
from server.web.maker.device import device_of, notebook_for
from server.web.maker.facts import PartId, said
from server.web.maker.working import part, working_page
from server.web.maker.worksettings import (
    SWITCHES,
    WorkSettings,
    keep_settings,
    minutes_typed,
    settings_of,
)
from server.web.sessions import ReadSession

router = APIRouter()


class SettingsForm(BaseModel):
    """The settings as sent: a switch that is off sends nothing."""

    piece: int = 1
    large: str = ""
    left: str = ""
    haptic: str = ""
    spoken: str = ""
    awake: str = ""
    keys: str = ""
    rest: str = ""
    rest_minutes: str = ""


@router.post("/notebook/{part_id}/settings")
def set_settings(
    request: Request, session: ReadSession, part_id: PartId, form: Annotated[SettingsForm, Form()]
) -> Response:
    """Keeps the settings on this device and goes back to the round."""
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    piece = form.piece if form.piece in desk.pieces else 1
    switches = {name: getattr(form, name) == "on" for name in SWITCHES}
    try:
        chosen = WorkSettings(**switches, rest_minutes=minutes_typed(form.rest_minutes))
    except Refusal as refusal:
        if desk.making.settled is None:  # there is no round to show the form beside
            return RedirectResponse(f"/notebook/{part_id}/numbers", 303)
        what = said(refusal, "settings", form.model_dump(mode="json"))
        chosen = replace(settings_of(request), **switches)
        return working_page(request, desk, piece, what, chosen)
    response = RedirectResponse(f"/notebook/{part_id}/piece/{piece}", 303)
    keep_settings(response, request, chosen)
    return response


@router.get("/notebook/{part_id}/settings")
def after_settings(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """Where a page that answered the form is loaded again: to where she is."""
    return part(request, session, part_id)
