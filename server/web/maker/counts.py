"""/notebook/<part>/slips: what may have happened where a count is wrong, for a device that goes by its own
store, with a network or without.
"""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from server.services import notebooks
from server.services.errors import NotFound
from server.web.encodings import compressed
from server.web.maker.device import device_of, notebook_for
from server.web.maker.facts import PartId
from server.web.sessions import ReadSession

router = APIRouter()


@router.get("/notebook/{part_id}/slips")
def slips(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """The likely slips behind every wrong count of the pieces, in her numbers."""
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    if desk.making.settled is None:
        raise NotFound("No numbers are settled here yet.")
    headers = {"Cache-Control": "private, no-store", "Vary": "Cookie"}
    return compressed(request, JSONResponse(notebooks.carried_slips(desk), headers=headers))
