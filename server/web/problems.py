"""The page for what cannot be done: every status from 400 up that is not answered within a form itself."""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import dataclass
from html import escape

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from jinja2 import TemplateNotFound
from sqlalchemy.exc import OperationalError
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from server.services.errors import Gone, NotAllowed, NotFound, Refusal
from server.web.pages import render, wants_fragment

log = logging.getLogger(__name__)

NOTHING_HERE = (
    "There is nothing at this address",
    "Look at the link or the code once more, letter by letter, or ask whoever gave it to you for it again.",
)
NOT_UNDERSTOOD = (
    "This could not be read",
    "What was sent is not what this page expects. Go back, load the page again and send it once more.",
)
OUR_FAULT = (
    "Something here is broken",
    "It is not your doing, and what was saved before is safe. Go back and try it once more; "
    "if it stays so, tell your host.",
)
BUSY = ("Too much at once just now", "Nothing was saved. Wait a moment, go back and send it again.")
TOO_SOON = (
    "That was a little often",
    "Nothing was done. Wait a minute, then go back and send it again.",
)
BY_STATUS = {429: TOO_SOON, 404: NOTHING_HERE, 405: NOTHING_HERE, 500: OUR_FAULT, 503: BUSY}


@dataclass(frozen=True)
class Problem:
    """Context of public/problem.html (a page) and public/_problem.html (the same inside a page)."""

    status: int
    title: str
    message: str


def problem(request: Request, status: int, title: str, message: str) -> Response:
    """The answer, as whoever asked can read it: JSON, a fragment or a page."""
    accepted = request.headers.get("accept", "")
    if "application/json" in accepted and "text/html" not in accepted:
        return JSONResponse({"title": title, "message": message}, status_code=status)
    template = "public/_problem.html" if wants_fragment(request) else "public/problem.html"
    try:
        return render(request, template, Problem(status, title, message), status)
    except TemplateNotFound:
        return _bare(status, title, message)


def _bare(status: int, title: str, message: str) -> HTMLResponse:
    """A page that needs nothing: no template, no database, no style."""
    title, message = escape(title), escape(message)
    return HTMLResponse(
        '<!doctype html><html lang="en"><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{title}</title><h1>{title}</h1><p>{message}</p>"
        '<p><a href="/">To the first page</a></p></html>',
        status_code=status,
    )


def nothing_here(request: Request) -> Response:
    """404, the same words whatever exists."""
    return problem(request, 404, *NOTHING_HERE)


def answer_problems(app: FastAPI) -> None:
    """Maps what endpoints raise to answers."""
    for kind, handler in HANDLERS.items():
        app.add_exception_handler(kind, handler)


def answer_to(request: Request, error: Exception) -> Response:
    """The same answer where no framework stands around what raised it."""
    return next(handler(request, error) for kind, handler in HANDLERS.items() if isinstance(error, kind))


def _http(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    title, message = BY_STATUS.get(error.status_code, NOT_UNDERSTOOD)
    answer = problem(request, error.status_code, title, message)
    answer.headers.update(error.headers or {})
    return answer


def _unreadable(request: Request, error: Exception) -> Response:
    # An address with words where a number stands is an unknown link like any other.
    if isinstance(error, RequestValidationError) and any(e["loc"][0] == "path" for e in error.errors()):
        return nothing_here(request)
    return problem(request, 400, *NOT_UNDERSTOOD)


def _refusal(request: Request, error: Exception) -> Response:
    assert isinstance(error, Refusal)
    if isinstance(error, Gone):
        return problem(request, 410, "This notebook is not here any more", error.message)
    if isinstance(error, NotFound):
        return nothing_here(request)
    if isinstance(error, NotAllowed):
        return problem(request, 403, "This is not yours to change", error.message)
    return problem(request, 422, "This does not work out yet", error.message)


def _database(request: Request, error: Exception) -> Response:
    if "locked" not in str(error):
        return _broken(request, error)
    log.warning("the database was busy for too long", exc_info=error)
    answer = problem(request, 503, *BUSY)
    answer.headers["Retry-After"] = "2"
    return answer


def _broken(request: Request, error: Exception) -> Response:
    # Not through a template: it may be the template that broke. This answer passes no middleware either, so
    # it carries the one header that matters itself.
    log.error("%s %s", request.method, request.scope.get("route", ""), exc_info=error)
    answer = _bare(500, *OUR_FAULT)
    answer.headers["Content-Security-Policy"] = "default-src 'none'"
    return answer


HANDLERS: dict[type[Exception], Callable[[Request, Exception], Response]] = {
    HTTPException: _http,
    RequestValidationError: _unreadable,
    Refusal: _refusal,
    OperationalError: _database,
    Exception: _broken,  # the last: it is all of them
}
