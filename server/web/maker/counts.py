"""/notebook/<part>/piece/<1|2>/likely: what may have happened where a count is wrong, for a page that goes by
the device's own store.
"""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from server.services import notebooks
from server.services.errors import NotFound
from server.web.maker.device import device_of, notebook_for
from server.web.maker.facts import PartId
from server.web.sessions import ReadSession

router = APIRouter()


@router.get("/notebook/{part_id}/piece/{piece}/likely")
def likely(
    request: Request,
    session: ReadSession,
    part_id: PartId,
    piece: Annotated[int, Path(ge=1, le=2)],
    spot: Annotated[str, Query(max_length=20)],
    name: Annotated[str, Query(max_length=40)],
    count: Annotated[int, Query(ge=0, le=5000)],
) -> Response:
    """The likely slips behind a count, likeliest first; none where it is right or there is no such round."""
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    if piece not in desk.pieces or desk.making.settled is None:
        raise NotFound("This part has no such piece.")
    slips = notebooks.likely_misses(desk, piece, spot, name, count)
    answer = {"likely": [{"says": slip.says, "where": slip.where} for slip in slips]}
    return JSONResponse(answer, headers={"Cache-Control": "private, no-store", "Vary": "Cookie"})
