"""/notebook/<part>/version: what a newer version of the pattern changes, and moving to it by choice."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Form
from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.services.notebooks import Desk, Newer
from server.web.maker.device import device_of, notebook_for, with_visit
from server.web.maker.facts import NOTHING_SAID, FormFacts, PartId, PartNav, Said, facts, part_nav, said
from server.web.maker.working import where
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()


@dataclass(frozen=True)
class VersionPage:
    """Context of maker/version.html. `newer` is None where hers is the newest."""

    nav: PartNav
    form: FormFacts
    said: Said
    newer: Newer | None
    back: str


class MoveForm(BaseModel):
    """The choice to move, as sent."""

    notebook: int = 0
    state: int | None = None
    to: int = 0


@router.get("/notebook/{part_id}/version")
def version(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """What the newest version changes."""
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    return with_visit(_page(request, desk), request, session, kept.notebook_id)


@router.post("/notebook/{part_id}/version")
def move(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[MoveForm, Form()]
) -> Response:
    """Moves her to the version whose changes she was shown."""
    kept = device_of(request, session).notebook(form.notebook)
    try:
        notebooks.move(
            session, kept.notebook_id, part_id, to_number=form.to, state=form.state, now=datetime.now(UTC)
        )
    except NotFound:
        raise
    except Refusal as refusal:
        session.rollback()
        desk = notebooks.open_desk(session, kept.notebook_id, part_id)
        return _page(request, desk, said(refusal, "version", {}))
    return RedirectResponse(where(notebooks.open_desk(session, kept.notebook_id, part_id)), 303)


def _page(request: Request, desk: Desk, what: Said = NOTHING_SAID) -> Response:
    context = VersionPage(
        nav=part_nav(desk, "version"),
        form=facts(desk),
        said=what,
        newer=notebooks.newer(desk),
        back=where(desk),
    )
    status = 200 if not what.message else 409 if what.overtaken else 422
    return render(request, "maker/version.html", context, status)
