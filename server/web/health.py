"""GET /healthz: for whoever watches whether the server is up."""

from __future__ import annotations

from fastapi import APIRouter
from sqlalchemy import text
from starlette.responses import JSONResponse

from server import __version__
from server.web.sessions import ReadSession

router = APIRouter()


@router.api_route("/healthz", methods=["GET", "HEAD"])
def healthz(session: ReadSession) -> JSONResponse:
    """200 with the version, once the database has answered."""
    session.connection().execute(text("SELECT 1"))
    return JSONResponse({"status": "ok", "version": __version__}, headers={"Cache-Control": "no-store"})
