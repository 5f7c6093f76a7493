"""/host/evenings/<id>/recap: chapters for the video, the evening round by round, words for who missed it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from fastapi import APIRouter, Depends, Query
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response

from server.services import alongs
from server.services.errors import NotFound, Refusal
from server.services.recap.chapters import Chapter, as_lines, as_webvtt, chapters, offset_typed, offset_words
from server.services.recap.evening import Timeline, timeline
from server.services.series import Set, evenings
from server.web.evening_words import ShownEvening, shown_evenings
from server.web.host_sources import RowId, disposition
from server.web.moments import now
from server.web.pages import render
from server.web.recap_words import Round, rounds, titles
from server.web.sessions import ReadSession
from server.web.signing import CurrentHost, HostRoute

router = APIRouter(prefix="/host/evenings/{evening_id}", route_class=HostRoute)
Detail = Literal["rounds", "steps"]


@dataclass(frozen=True)
class Wish:
    """How chapters are asked for. at: where in the video the room was opened, as typed."""

    at: str
    detail: Detail


@dataclass(frozen=True)
class HostRecapPage:
    """Context of recap/host.html.

    opened    whether its room ever was
    lines     the chapters as text; "" where none of the evening is in the video
    query     of the addresses of the files
    missed    words to pass on
    """

    host_name: str
    along_id: int
    along_title: str
    evening: ShownEvening
    opened: bool
    at: str
    detail: Detail
    lines: str
    many: int
    query: str
    rounds: tuple[Round, ...]
    missed: str
    errors: dict[str, str] = field(default_factory=dict)


@router.get("/recap")
def recap(
    request: Request,
    evening_id: RowId,
    host: CurrentHost,
    session: ReadSession,
    at: Annotated[str, Query(max_length=40)] = "",
    detail: Detail = "rounds",
) -> Response:
    """The evening told again."""
    evening = evenings.one(session, host.host_id, evening_id)
    along = alongs.own_along(session, host.host_id, evening.along_id)
    at = at.replace("\x00", "")
    found = timeline(session, evening_id)
    errors: dict[str, str] = {}
    cut: tuple[Chapter, ...] = ()
    try:
        cut = _chapters(session, found, Wish(at, detail))
    except Refusal as refusal:
        errors = {"at": refusal.message}
    told = rounds(session, evening_id, found.opened_at) if found else ()
    page = HostRecapPage(
        host_name=host.shown_name,
        along_id=evening.along_id,
        along_title=along.title,
        evening=shown_evenings((evening,), now())[0],
        opened=found is not None,
        at=at,
        detail=detail,
        lines=as_lines(cut),
        many=len(cut),
        query=f"at={'' if errors else offset_words(offset_typed(at))}&detail={detail}",
        rounds=told,
        missed=missed_words(evening, _after(session, evening), told),
        errors=errors,
    )
    return render(request, "recap/host.html", page, 422 if errors else 200)


@dataclass(frozen=True)
class Cut:
    """An evening's chapters for a file, at least one."""

    title: str
    chapters: tuple[Chapter, ...]

    def headers(self, ending: str) -> dict[str, str]:
        """Of the file with that ending."""
        return {"Content-Disposition": disposition("attachment", f"{self.title} chapters", ending)}


def cut_for_file(
    evening_id: RowId,
    host: CurrentHost,
    session: ReadSession,
    at: Annotated[str, Query(max_length=40)] = "",
    detail: Detail = "rounds",
) -> Cut:
    """The chapters as asked for; NotFound where there is nothing to put in a file."""
    evening = evenings.one(session, host.host_id, evening_id)
    cut = _chapters(session, timeline(session, evening_id), Wish(at, detail))
    if not cut:
        raise NotFound("There are no chapters: none of the evening is in the video at that time.")
    return Cut(evening.title, cut)


CutForFile = Annotated[Cut, Depends(cut_for_file)]


@router.get("/chapters.txt")
def chapter_lines(cut: CutForFile) -> Response:
    """For a video's description."""
    return PlainTextResponse(as_lines(cut.chapters) + "\n", headers=cut.headers("txt"))


@router.get("/chapters.vtt")
def chapter_track(cut: CutForFile) -> Response:
    """As a track of chapters."""
    return Response(as_webvtt(cut.chapters), media_type="text/vtt", headers=cut.headers("vtt"))


def _chapters(session: Session, found: Timeline | None, wish: Wish) -> tuple[Chapter, ...]:
    opened_s = offset_typed(wish.at)
    if found is None:
        return ()
    shown = tuple(titles(session, found, by_step=wish.detail == "steps"))
    return chapters(found.opened_at, shown, found.closed_at, opened_s)


def _after(session: Session, evening: Set) -> Set | None:
    """The evening of the along that comes after it, of those that take place."""
    later = [
        each
        for each in evenings.of_along(session, evening.along_id)
        if not each.is_cancelled and each.wall.moment > evening.wall.moment
    ]
    return later[0] if later else None


def missed_words(evening: Set, after: Set | None, told: tuple[Round, ...]) -> str:
    """What somebody needs who was not there, as plain text to pass on. Who asked is not said."""
    shown = shown_evenings((evening,), now())[0]
    said = [f"{evening.title}, {shown.day}"]
    made = [each.where for each in told if each.address]
    if made:
        said += ["", "We made: " + (made[0] if len(made) == 1 else f"{made[0]} to {made[-1]}") + "."]
    for kind, head in (("announce", "Said:"), ("answer", "Asked:")):
        lines = [
            f"- {each.where}: " + (f"{remark.question} – " if remark.question else "") + remark.words
            for each in told
            for remark in each.remarks
            if remark.kind == kind and remark.words
        ]
        said += ["", head, *lines] if lines else []
    if after is not None:
        then = shown_evenings((after,), now())[0]
        said += ["", f"Next: {after.title}, {then.day}, {then.hours} ({then.zone})."]
        said += [after.note] if after.note else []
    return "\n".join(said)
