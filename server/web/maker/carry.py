"""/notebook/<part>/carry: what a device needs to go on with no network, as JSON."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from server.services import notebooks
from server.services.notebooks.clocks import iso
from server.web.encodings import compressed
from server.web.maker.device import device_of, notebook_for
from server.web.maker.facts import PartId
from server.web.sessions import ReadSession

router = APIRouter()


@router.get("/notebook/{part_id}/carry")
def carry(
    request: Request,
    session: ReadSession,
    part_id: PartId,
    notebook: Annotated[int | None, Query()] = None,
    state: Annotated[int, Query()] = -1,
    plan: Annotated[str, Query(max_length=64)] = "",
) -> Response:
    """The plan and the log: each left out (null) where the device has it, which it says by the sign of its
    plan and the length of its log. `now` is what the server's clock says.
    """
    device = device_of(request, session)
    kept = notebook_for(session, device, part_id) if notebook is None else device.notebook(notebook)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    carried = notebooks.carried(desk)
    answer: dict[str, Any] = {
        "notebook": kept.notebook_id,
        "nickname": kept.nickname,
        "device": device.name,
        "now": iso(datetime.now(UTC)),
        "plan": carried.plan,
        "carried": None if plan == carried.plan else carried.values,
        "state": desk.state,
        "entries": None if state == desk.state else [notebooks.entry_values(each.entry) for each in desk.log],
    }
    headers = {"Cache-Control": "private, no-store", "Vary": "Cookie"}
    return compressed(request, JSONResponse(answer, headers=headers))
