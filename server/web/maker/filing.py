"""/notebook/import: reading a notebook in from its file."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Depends, File, Form, UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import joining
from server.services.errors import NotFound, Refusal
from server.services.notebooks import importing, reading
from server.services.notebooks.fileform import NotebookFile
from server.services.notebooks.importing import Brought
from server.web import throttles
from server.web.maker.device import device_of, remember
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()
NO_CODE = "No along has this code. Look at it once more, or leave it empty."
NO_FILE = "Choose the file first: it is the one that “Take it along” gives, and its name ends in .json."


@dataclass(frozen=True)
class ImportPage:
    """Context of maker/import.html: the form as typed, and what to put right at which field."""

    code: str = ""
    nickname: str = ""
    error: str = ""
    field: str = ""


@dataclass(frozen=True)
class BroughtPage:
    """Context of maker/imported.html: what came of the file."""

    brought: Brought


@dataclass(frozen=True)
class Read:
    """A file as read, or why it was not; and what was typed beside it."""

    file: NotebookFile | None
    code: str
    nickname: str
    error: str = ""
    field: str = "file"
    status: int = 422


def read(
    request: Request,
    file: Annotated[UploadFile | None, File()] = None,
    code: Annotated[str, Form()] = "",
    nickname: Annotated[str, Form()] = "",
) -> Read:
    """Read and check the file. A dependency of its own, before the turn to write: a large one takes time."""
    typed = (code.strip()[:40], nickname.strip()[:200])
    raw = file.file.read() if file is not None else b""
    if not raw:
        return Read(None, *typed, NO_FILE)
    wait_s = throttles.take(request, "file")
    if wait_s:
        return Read(
            None, *typed, f"That was a little often. Wait {wait_s} seconds, then send it again.", "file", 429
        )
    try:
        return Read(importing.fitting(reading.read_file(raw), datetime.now(UTC)), *typed)
    except Refusal as refusal:
        return Read(None, *typed, refusal.message, refusal.field or "file")


@router.get("/notebook/import")
def ask_file(request: Request, session: ReadSession) -> Response:
    """The form for a file."""
    return render(request, "maker/import.html", ImportPage())


@router.post("/notebook/import")
def bring_in(request: Request, asked: Annotated[Read, Depends(read)], session: WriteSession) -> Response:
    """Reads the file in: all of it, or nothing."""
    if asked.file is None:
        return _again(request, asked, asked.error, asked.field, asked.status)
    device = device_of(request, session)
    try:
        along_id = _along(request, session, asked.code)
        nickname = joining.tidy_nickname(asked.nickname or asked.file.nickname)
        brought = importing.bring_in(
            session,
            asked.file,
            on_device=[kept.notebook_id for kept in device.kept],
            along_id=along_id,
            nickname=nickname,
            now=datetime.now(UTC),
        )
    except Refusal as refusal:
        session.rollback()
        return _again(request, asked, refusal.message, refusal.field or "file", 422)
    secret = brought.secret or device.notebook(brought.notebook_id).secret
    response: Response
    if brought.secret and not brought.is_copy:
        response = RedirectResponse("/notebook?brought=1", 303)
    else:
        response = render(request, "maker/imported.html", BroughtPage(brought))
    remember(response, request, device, secret)
    return response


def _along(request: Request, session: WriteSession, code: str) -> int | None:
    if not code:
        return None
    wait_s = throttles.take(request, "join code")
    if wait_s:
        raise Refusal(throttles.wait_words(wait_s), "code")
    try:
        along_id = joining.welcome(session, code).along_id
    except NotFound:
        raise Refusal(NO_CODE, "code") from None
    throttles.give_back(request, "join code")
    return along_id


def _again(request: Request, asked: Read, error: str, field: str, status: int) -> Response:
    where = field if field in ("file", "code", "nickname") else "file"
    return render(request, "maker/import.html", ImportPage(asked.code, asked.nickname, error, where), status)
