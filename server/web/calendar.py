"""Calendars: the evenings of an along to follow (RFC 5545), and one evening as a file.

Both stand below the address of the along's page, and are there as long as it is shown.
"""

from __future__ import annotations

from hashlib import sha256
from typing import Literal

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.services.errors import NotFound
from server.services.series import announcing, calendar
from server.web import addresses
from server.web.host_sources import RowId, disposition
from server.web.sessions import ReadSession

router = APIRouter()
MEDIA_TYPE = "text/calendar; charset=utf-8"
BOTH = ["GET", "HEAD"]


@router.api_route("/along/{address}/evenings.ics", methods=BOTH)
def all_evenings(request: Request, address: str, session: ReadSession) -> Response:
    """All evenings, also those that are over or cancelled: to follow."""
    own, title, evenings = announcing.followed(session, address)
    return _answer(
        request, calendar(title, evenings, addresses.whole(request, f"/along/{own}")), title, "inline"
    )


@router.api_route("/along/{address}/evenings/{evening_id}.ics", methods=BOTH)
def one_evening(request: Request, address: str, evening_id: RowId, session: ReadSession) -> Response:
    """One evening, to take into a calendar by hand."""
    own, title, evenings = announcing.followed(session, address)
    chosen = [evening for evening in evenings if evening.id == evening_id]
    if not chosen:
        raise NotFound(announcing.NOTHING)
    data = calendar(title, chosen, addresses.whole(request, f"/along/{own}"))
    return _answer(request, data, f"{title} {chosen[0].title}", "attachment")


def _answer(request: Request, data: bytes, name: str, how: Literal["inline", "attachment"]) -> Response:
    return kept_by_sign(
        request,
        data,
        MEDIA_TYPE,
        {"Content-Disposition": disposition(how, name, "ics"), "X-Robots-Tag": "noindex"},
    )


def kept_by_sign(request: Request, data: bytes, media_type: str, headers: dict[str, str]) -> Response:
    """A file with its sign: 304 to who has it already (RFC 9110, 13.1.2)."""
    sign = f'"{sha256(data).hexdigest()[:24]}"'
    headers = {"ETag": sign, "Cache-Control": "no-cache", **headers}
    asked = {one.strip().removeprefix("W/") for one in request.headers.get("if-none-match", "").split(",")}
    if sign in asked or "*" in asked:
        return Response(status_code=304, headers=headers)
    return Response(data, media_type=media_type, headers=headers)
