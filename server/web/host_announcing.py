"""A host's settings of the page for everyone."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from fastapi import APIRouter, Form, Query
from pydantic import BaseModel
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services.errors import NotFound, Refusal
from server.services.series import PageForm, announcing
from server.web import addresses
from server.web.host_alongs import by_field
from server.web.host_sources import RowId
from server.web.moments import now
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/alongs/{along_id}/page", route_class=HostRoute)


@dataclass(frozen=True)
class AnnouncingPage:
    """Context of host/announcing.html. page_link: "" before it was first saved."""

    host_name: str
    along_id: int
    along_title: str
    form: PageForm
    mark: str
    page_link: str
    changed_by: str
    saved: bool
    errors: dict[str, str] = field(default_factory=dict)


class SentPage(BaseModel):
    """The form as sent: a box that is not ticked is not sent."""

    is_shown: bool = False
    is_findable: bool = False
    lets_join: bool = False
    names_waiting: bool = False
    skill: str = ""
    materials: str = ""
    cautions: str = ""
    mark: str = ""

    def typed(self) -> PageForm:
        """What was typed."""
        return PageForm(**self.model_dump(exclude={"mark"}))


def _page(
    request: Request,
    session: Session,
    host: CurrentHost,
    along_id: int,
    typed: PageForm | None = None,
    errors: dict[str, str] | None = None,
    *,
    saved: bool = False,
) -> AnnouncingPage:
    kept = announcing.settings(session, host.host_id, along_id)
    return AnnouncingPage(
        host_name=host.shown_name,
        along_id=along_id,
        along_title=kept.along_title,
        form=typed or kept.form,
        mark=kept.mark,
        page_link=addresses.whole(request, f"/along/{kept.address}") if kept.address else "",
        changed_by=kept.changed_by,
        saved=saved,
        errors=errors or {},
    )


@router.get("")
def settings(
    request: Request,
    along_id: RowId,
    host: CurrentHost,
    session: ReadSession,
    saved: Annotated[str, Query()] = "",
) -> Response:
    """What the page shows, and its address."""
    page = _page(request, session, host, along_id, saved=bool(saved))
    return render(request, "host/announcing.html", page)


@router.post("")
def save(
    request: Request,
    along_id: RowId,
    host: CurrentHost,
    session: WriteSession,
    sent: Annotated[SentPage, Form()],
) -> Response:
    """Keep it as typed."""
    try:
        announcing.save(session, host.host_id, along_id, sent.typed(), sent.mark or None, now())
    except NotFound:
        raise
    except Refusal as refusal:
        page = _page(request, session, host, along_id, sent.typed(), by_field(refusal))
        return render(request, "host/announcing.html", page, 422)
    return RedirectResponse(f"/host/alongs/{along_id}/page?saved=1", status_code=303)


@router.post("/address")
def new_address(along_id: RowId, host: CurrentHost, session: WriteSession) -> Response:
    """The old address leads nowhere any more."""
    announcing.new_address(session, host.host_id, along_id)
    return RedirectResponse(f"/host/alongs/{along_id}/page?saved=1", status_code=303)
