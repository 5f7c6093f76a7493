"""The page of an along for everyone, and the picture that goes with a link to it."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services.series import Announced, PartNeeds, SetNeeds, announcing
from server.web import addresses, previews
from server.web.calendar import BOTH, kept_by_sign
from server.web.evening_words import ShownEvening, shown_evenings
from server.web.moments import now
from server.web.pages import render
from server.web.sessions import ReadSession

router = APIRouter()
DESCRIPTION_MOST = 200


@dataclass(frozen=True)
class PublicAlongPage:
    """Context of public/along.html. address: whole, of this page; follow: of its calendar, for a program
    that follows calendars; description: for previews of the link."""

    title: str
    welcome: str
    hosts: str
    description: str
    address: str
    base: str
    picture: str
    calendar: str
    follow: str
    evenings: tuple[ShownEvening, ...]
    parts: tuple[PartNeeds, ...]
    waiting: tuple[str, ...]
    for_all: SetNeeds | None
    skill: str
    materials: str
    cautions: tuple[str, ...]
    join_code: str
    join_link: str


@router.api_route("/along/{address}", methods=BOTH)
def public_along(request: Request, address: str, session: ReadSession) -> Response:
    """What, when, what it takes, and how to join."""
    along = announcing.announced(session, address)
    if address != along.address:
        return RedirectResponse(f"/along/{along.address}", status_code=302)
    answer = render(request, "public/along.html", _page(request, along))
    answer.headers["X-Robots-Tag"] = "all" if along.is_findable else "noindex, nofollow"
    return answer


def _page(request: Request, along: Announced) -> PublicAlongPage:
    base = f"/along/{along.address}"
    calendar = addresses.whole(request, f"{base}/evenings.ics")
    return PublicAlongPage(
        title=along.title,
        welcome=along.welcome,
        hosts=_and(along.hosts),
        description=_description(along),
        address=addresses.whole(request, base),
        base=base,
        picture=addresses.whole(request, f"{base}/picture.png"),
        calendar=calendar,
        follow="webcal" + calendar[calendar.index(":") :],
        evenings=shown_evenings(along.evenings, now()),
        parts=along.parts,
        waiting=along.waiting,
        for_all=along.for_all,
        skill=along.skill,
        materials=along.materials,
        cautions=tuple(line.strip() for line in along.cautions.splitlines() if line.strip()),
        join_code=along.join_code,
        join_link=addresses.whole(request, f"/join/{along.join_code}") if along.join_code else "",
    )


def _and(names: tuple[str, ...]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + f" and {names[-1]}"


def _description(along: Announced) -> str:
    """A sentence or two for who sees only the link."""
    parts = [part.title for part in along.parts]
    said = " ".join(along.welcome.split()) or f"Made along together with {_and(along.hosts)}" + (
        f": {', '.join(parts)}." if parts else "."
    )
    if len(said) <= DESCRIPTION_MOST:
        return said
    return said[: DESCRIPTION_MOST - 1].rsplit(" ", 1)[0].rstrip(".,;:") + "…"


@router.api_route("/along/{address}/picture.png", methods=BOTH)
def picture(request: Request, address: str, session: ReadSession) -> Response:
    """The picture for previews of the link."""
    along = announcing.announced(session, address)
    data = previews.picture(along.title, f"with {_and(along.hosts)}")
    return kept_by_sign(request, data, "image/png", {})
