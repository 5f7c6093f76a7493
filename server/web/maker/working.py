"""/notebook/<part>/piece/<1|2>: the working page, one round at a time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.craft.text.tree import Terms
from server.craft.text.vocabulary import name_in
from server.services import notebooks
from server.services.errors import NotFound
from server.services.notebooks import Desk, HookChoice, Newer, Working, measuring
from server.services.notebooks.desk import Units, Wording
from server.services.notebooks.measuring import YarnLine
from server.web.maker.device import device_of, notebook_for, with_visit
from server.web.maker.facts import NOTHING_SAID, FormFacts, PartId, PartNav, Said, facts, part_nav, part_of
from server.web.maker.numbers import OWN
from server.web.maker.readypages import ready
from server.web.maker.stripcharts import StripChart, strip_chart
from server.web.maker.strips import StripRound, strip
from server.web.maker.worksettings import WorkSettings, settings_of
from server.web.moments import Moment, moment, now
from server.web.pages import render
from server.web.sessions import ReadSession

router = APIRouter()
often = APIRouter()


@dataclass(frozen=True)
class WorkingPage:
    """Context of maker/working.html."""

    nav: PartNav
    form: FormFacts
    said: Said
    view: Working
    strip: tuple[StripRound, ...]
    chart: StripChart | None
    hooks: tuple[HookChoice, ...]
    hook_mm: float | None
    newer: Newer | None
    count_names: tuple[tuple[str, str], ...]
    settings: WorkSettings
    logged: Moment | None
    pace_words: str
    yarn: YarnLine
    units: Units
    wording: Wording


@router.get("/notebook/{part_id}")
def part(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """To where she is in this part."""
    kept = notebook_for(session, device_of(request, session), part_id)
    return RedirectResponse(where(notebooks.open_desk(session, kept.notebook_id, part_id)), 303)


@router.get("/notebook/{part_id}/entries")
def after_entry(request: Request, session: ReadSession, part_id: PartId) -> Response:
    """Where a page that answered a form is loaded again: to where she is."""
    return part(request, session, part_id)


async def working(request: Request) -> Response:
    """The round at hand."""
    part_id, piece = part_of(request), request.path_params["piece"]
    return await ready(request, part_id, lambda session: _working(request, session, part_id, piece))


# Without FastAPI's dependencies: for a page that is ready they cost as much as the page.
often.add_route("/notebook/{part_id:int}/piece/{piece:int}", working, methods=["GET"])


def _working(request: Request, session: Session, part_id: int, piece: int) -> Response:
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    if piece not in desk.pieces:
        raise NotFound("This part has no such piece.")
    if desk.making.settled is None:
        return RedirectResponse(f"/notebook/{part_id}/numbers", 303)
    return with_visit(working_page(request, desk, piece), request, session, kept.notebook_id)


def where(desk: Desk) -> str:
    """The address of the page she would go on at."""
    base = f"/notebook/{desk.part_id}"
    if desk.making.settled is None:
        ring = notebooks.next_trial(desk)
        return f"{base}/numbers" + (f"?size={OWN}&own={ring.foundation}" if ring else "")
    if all(desk.making.pieces[piece].finished for piece in desk.pieces):
        return f"{base}/pair"
    return f"{base}/piece/{notebooks.current_piece(desk)}"


def working_page(
    request: Request,
    desk: Desk,
    piece: int,
    what: Said = NOTHING_SAID,
    settings: WorkSettings | None = None,
) -> Response:
    """The working page, with what came of a form where that was not carried out. `settings` where they are
    not the ones this device keeps.
    """
    view = notebooks.working(desk, piece)
    chosen = settings or settings_of(request)
    hook = view.hook or view.other_hook
    context = WorkingPage(
        nav=part_nav(desk, f"piece {piece}"),
        form=facts(desk),
        said=what,
        view=view,
        strip=strip(desk, piece),
        chart=strip_chart(desk, piece, "left" if chosen.left else "right"),
        hooks=notebooks.hook_choices(),
        hook_mm=hook.hook_mm if hook else notebooks.suggested_hook_mm(desk),
        newer=notebooks.newer(desk),
        count_names=count_names(view, desk.terms),
        settings=chosen,
        logged=moment(datetime.fromisoformat(view.undo.entry.at), now()) if view.undo else None,
        pace_words=pace_words(view),
        yarn=measuring.yarn_line(desk, piece),
        units=desk.units,
        wording=desk.wording,
    )
    status = 200 if not what.message else 409 if what.overtaken else 422
    return render(request, "maker/working.html", context, status)


def pace_words(view: Working) -> str:
    """How far she is, how long a round takes her and how much is left; empty where the piece is finished."""
    if view.place.kind == "finished":
        return ""
    said = [
        f"{_rounds(view.done)} done" if view.done else "",
        f"about {view.to_go} to go" if view.to_go else "",
    ]
    line = ", ".join(each for each in said if each)
    return f"{line[:1].upper()}{line[1:]}.{_time_words(view.pace.seconds_per_round, view.to_go)}"


def _time_words(seconds: float | None, to_go: int) -> str:
    """How long a round takes and how much is left; once only where both come to the same words."""
    if seconds is None:
        return ""
    each, left = _time(seconds), _time(seconds * to_go)
    if to_go > 1 and each == left:
        return f" About {left} of work to go."
    more = f": about {left} of work to go" if to_go > 1 else ""
    return f" A round takes you about {each}{more}."


def _rounds(number: int) -> str:
    return "1 round" if number == 1 else f"{number} rounds"


def _time(seconds: float) -> str:
    minutes = max(1, round(seconds / 60))
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {rest} min" if rest and hours < 10 else f"{hours} h"


def count_names(view: Working, terms: Terms) -> tuple[tuple[str, str], ...]:
    """What can be counted in the round at hand and the one before, with its name in her terms; what their
    count lines name goes first.
    """
    rounds = [each for each in (view.place.round, view.before) if each is not None]
    named = [item.name for each in rounds for item in each.to_count]
    names = dict.fromkeys([*named, *(name for each in rounds for name in each.counts)])
    return tuple((name, name_in(name, terms)) for name in names)
