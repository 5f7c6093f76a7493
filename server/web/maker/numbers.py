"""/notebook/<part>/numbers: a size or her own count, the ring tried on, the number written down, the hook."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Form, Query
from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.craft.making import Try
from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.services.notebooks import Desk, HookChoice, NewEntry, SizeChoice, Trial, measuring
from server.web.maker.device import device_of, notebook_for, with_visit
from server.web.maker.facts import NOTHING_SAID, FormFacts, PartId, PartNav, Said, facts, part_nav, said
from server.web.pages import render
from server.web.sessions import ReadSession, WriteSession

router = APIRouter()
OWN = "own"  # the choice of a count of her own, beside the sizes' names


@dataclass(frozen=True)
class ChoosePage:
    """Context of maker/numbers.html: what to choose from, or what is settled.

    measures   words of the way to the fit card; empty where the part is not for a hand
    """

    nav: PartNav
    form: FormFacts
    said: Said
    sizes: tuple[SizeChoice, ...]
    custom: str
    chosen: str
    own: str
    tries: tuple[Try, ...]
    next_trial: Trial | None
    settled_foundation: int | None
    settled_size: str | None
    started: bool
    hook: HookChoice | None
    hook_mm: float | None
    hooks: tuple[HookChoice, ...]
    changing: bool
    measures: str


@dataclass(frozen=True)
class TryPage:
    """Context of maker/try_on.html: one ring on one hand."""

    nav: PartNav
    form: FormFacts
    said: Said
    trial: Trial
    tries: tuple[Try, ...]
    hand: str
    is_custom: bool


class NumbersForm(BaseModel):
    """A choice of numbers as sent. `fits`: the ring was tried on and fits."""

    id: str = ""
    notebook: int = 0
    state: int | None = None
    size: str = ""
    own: str = ""
    fits: str = ""
    verdict: str = ""
    foundation: str = ""


@router.get("/notebook/{part_id}/numbers")
def numbers(
    request: Request,
    session: ReadSession,
    part_id: PartId,
    size: Annotated[str, Query()] = "",
    own: Annotated[str, Query()] = "",
    change: Annotated[str, Query()] = "",
) -> Response:
    """The choice of numbers; with a size or a count in the address, that ring to try on."""
    kept = notebook_for(session, device_of(request, session), part_id)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    if size and not desk.making.pieces[1].started:
        try:
            foundation, named = _chosen(desk, size, own)
        except NotFound:
            raise
        except Refusal as refusal:
            typed = {"size": size, "own": own}
            return choose_page(request, desk, said(refusal, "choice", typed), changing=True)
        if foundation is not None:
            return with_visit(_try_page(request, desk, foundation, named), request, session, kept.notebook_id)
    return with_visit(choose_page(request, desk, changing=change == "1"), request, session, kept.notebook_id)


@router.post("/notebook/{part_id}/numbers")
def settle(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[NumbersForm, Form()]
) -> Response:
    """Writes a number down."""
    device = device_of(request, session)
    kept = device.notebook(form.notebook)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    try:
        foundation, named = _chosen(desk, form.size or OWN, form.own)
        notebooks.settle(
            session,
            kept.notebook_id,
            part_id,
            entry_id=form.id,
            foundation=foundation,
            size=named,
            fits=form.fits == "1",
            state=form.state,
            device=device.name,
            now=datetime.now(UTC),
        )
    except NotFound:
        raise
    except Refusal as refusal:
        session.rollback()
        desk = notebooks.open_desk(session, kept.notebook_id, part_id)
        typed = {"size": form.size, "own": form.own}
        return choose_page(request, desk, said(refusal, "choice", typed), changing=True)
    return RedirectResponse(f"/notebook/{part_id}/numbers", 303)


@router.post("/notebook/{part_id}/tries")
def tried(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[NumbersForm, Form()]
) -> Response:
    """Writes an attempt down with its verdict, and goes on to the next ring."""
    device = device_of(request, session)
    kept = device.notebook(form.notebook)
    values = {"foundation": form.foundation, "verdict": form.verdict}
    try:
        notebooks.log(
            session,
            kept.notebook_id,
            part_id,
            [NewEntry(form.id, 0, "tried", values)],
            state=form.state,
            device=device.name,
            now=datetime.now(UTC),
        )
    except NotFound:
        raise
    except Refusal as refusal:
        session.rollback()
        desk = notebooks.open_desk(session, kept.notebook_id, part_id)
        return choose_page(request, desk, said(refusal, "choice", {}), changing=True)
    upcoming = notebooks.next_trial(notebooks.open_desk(session, kept.notebook_id, part_id))
    query = f"?size={OWN}&own={upcoming.foundation}" if upcoming else ""
    return RedirectResponse(f"/notebook/{part_id}/numbers{query}", 303)


def _measures(desk: Desk) -> str:
    if not measuring.is_for_a_hand(desk):
        return ""
    count = measuring.recommended(desk)
    if count is None:
        return "Not sure which? Measure a hand and see how many chains"
    return f"Your measures say {count} chains: see why"


def _chosen(desk: Desk, size: str, own: str) -> tuple[int | None, str | None]:
    """Chains and the size's name, from a choice as sent."""
    if size == OWN:
        foundation = notebooks.count_of_her_own(desk, own)
        return foundation, notebooks.trial(desk, foundation).size
    choice = notebooks.size_named(desk, "" if size == "as written" else size)
    return choice.foundation, choice.name or None


def _try_page(request: Request, desk: Desk, foundation: int, size: str | None) -> Response:
    trial = notebooks.trial(desk, foundation, size)
    sizes = {choice.name: choice.fits for choice in notebooks.sizes(desk)}
    context = TryPage(
        nav=part_nav(desk, "numbers"),
        form=facts(desk),
        said=NOTHING_SAID,
        trial=trial,
        tries=desk.making.tries,
        hand=sizes.get(trial.size or "", ""),
        is_custom=bool(notebooks.custom_words(desk)),
    )
    return render(request, "maker/try_on.html", context)


def choose_page(
    request: Request, desk: Desk, what: Said = NOTHING_SAID, *, changing: bool = False
) -> Response:
    """The page to choose from, or, once settled, what is settled and the hook."""
    settled = desk.making.settled
    one = desk.making.pieces[1]
    hook = notebooks.hook_choice(one.hook_mm) if one.hook_mm is not None else None
    suggested = one.hook_mm if one.hook_mm is not None else notebooks.suggested_hook_mm(desk)
    context = ChoosePage(
        nav=part_nav(desk, "numbers"),
        form=facts(desk),
        said=what,
        sizes=notebooks.sizes(desk),
        custom=notebooks.custom_words(desk),
        chosen=what.kept("choice", "size", (settled.size or OWN) if settled else ""),
        own=what.kept("choice", "own", str(settled.foundation or "") if settled else ""),
        tries=desk.making.tries,
        next_trial=notebooks.next_trial(desk),
        settled_foundation=settled.foundation if settled else None,
        settled_size=settled.size if settled else None,
        started=any(piece.started for piece in desk.making.pieces.values()),
        hook=hook,
        hook_mm=suggested,
        hooks=notebooks.hook_choices(),
        changing=changing or settled is None,
        measures=_measures(desk),
    )
    status = 200 if not what.message else 409 if what.overtaken else 422
    return render(request, "maker/numbers.html", context, status)
