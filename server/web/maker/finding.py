"""/notebook/<part>/piece/<1|2>/where: she counts what she holds, and the notebook finds her place. A piece
made without a log is counted in the same way.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Form, Path
from pydantic import BaseModel, ConfigDict
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.craft.making import FoundPlace
from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.services.notebooks import Asked, Desk, Overtaken
from server.web.maker.device import device_of, notebook_for
from server.web.maker.facts import NOTHING_SAID, FormFacts, PartId, PartNav, Said, facts, part_nav, said
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()
Piece = Annotated[int, Path(ge=1, le=2)]
PREFIX = "held-"
ANSWERS_MOST, ANSWER_MOST = 200, 12


@dataclass(frozen=True)
class FindPage:
    """Context of maker/find.html.

    asked    what she is to count; `typed` what she answered, by the question's key
    found    where she is by that; None until she has asked
    started  whether the log has anything of the piece
    """

    nav: PartNav
    form: FormFacts
    said: Said
    piece: int
    name: str
    started: bool
    asked: tuple[Asked, ...]
    typed: Mapping[str, str]
    found: FoundPlace | None


class FoundForm(BaseModel):
    """The facts of a form that makes an entry; the answers come beside them, each under its own name."""

    model_config = ConfigDict(extra="allow")

    id: str = ""
    notebook: int = 0
    state: int | None = None


@router.get("/notebook/{part_id}/piece/{piece}/where")
def find(request: Request, session: ReadSession, part_id: PartId, piece: Piece) -> Response:
    """The questions, and the answer where she has counted."""
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = _desk(notebooks.open_desk(session, kept.notebook_id, part_id), piece)
    if desk.making.settled is None:
        return RedirectResponse(f"/notebook/{part_id}/numbers", 303)
    return _page(request, desk, piece, answers(request.query_params))


@router.post("/notebook/{part_id}/piece/{piece}/where")
def log_found(
    request: Request,
    session: WriteSession,
    part_id: PartId,
    piece: Piece,
    form: Annotated[FoundForm, Form()],
) -> Response:
    """Makes the log say what she holds."""
    device = device_of(request, session)
    kept = device.notebook(form.notebook)
    _desk(notebooks.open_desk(session, kept.notebook_id, part_id), piece)
    typed = answers({name: str(value) for name, value in (form.model_extra or {}).items()})
    try:
        notebooks.log_found(
            session,
            kept.notebook_id,
            part_id,
            piece,
            typed,
            entry_id=form.id,
            state=form.state,
            device=device.name,
            now=datetime.now(UTC),
        )
    except NotFound:
        raise
    except Refusal as refusal:
        session.rollback()
        desk = notebooks.open_desk(session, kept.notebook_id, part_id)
        return _page(request, desk, piece, typed, refusal)
    return RedirectResponse(f"/notebook/{part_id}/piece/{piece}", 303)


def answers(sent: Mapping[str, str]) -> dict[str, str]:
    """What she answered, by the question's key."""
    told = [(name, value) for name, value in sent.items() if name.startswith(PREFIX)][:ANSWERS_MOST]
    return {name.removeprefix(PREFIX): value[:ANSWER_MOST] for name, value in told}


def _desk(desk: Desk, piece: int) -> Desk:
    if piece not in desk.pieces:
        raise NotFound("This part has no such piece.")
    return desk


def _page(
    request: Request, desk: Desk, piece: int, typed: Mapping[str, str], refusal: Refusal | None = None
) -> Response:
    what, found = NOTHING_SAID, None
    if refusal is not None:
        what = said(refusal, "find", typed)
    elif typed:
        try:
            found = notebooks.found(desk, piece, typed)
        except Refusal as wrong:
            what = said(wrong, "find", typed)
    page = FindPage(
        nav=part_nav(desk, f"piece {piece}"),
        form=facts(desk),
        said=what,
        piece=piece,
        name=notebooks.piece_name(desk, piece),
        started=desk.making.pieces[piece].started,
        asked=notebooks.asked(desk, piece),
        typed=typed,
        found=found,
    )
    status = 200 if not what.message else 409 if isinstance(refusal, Overtaken) else 422
    return render(request, "maker/find.html", page, status)
