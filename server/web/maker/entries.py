"""Adding to the log by forms, at /notebook/<part>/entries. What devices logged on their own: batches.py."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Form
from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.services.notebooks import Desk, NewEntry
from server.web.maker.device import device_of
from server.web.maker.facts import PartId, Said, said
from server.web.maker.numbers import choose_page
from server.web.maker.pairs import pair_page
from server.web.maker.working import where, working_page
from server.web.sessions import WriteSession

router = APIRouter()


class EntryForm(BaseModel):
    """An entry as a form sends it; each kind reads the fields it needs. `back`: the page it was sent from."""

    id: str = ""
    notebook: int = 0
    state: int | None = None
    kind: str = ""
    piece: int = 0
    back: str = ""
    spot: str = ""
    fit: str = ""
    rounds: str = ""
    text: str = ""
    name: str = ""
    count: str = ""
    hook: str = ""
    hook_other: str = ""
    entry: str = ""
    difference: str = ""
    at: str = ""
    what: str = ""
    measure: str = ""
    units: str = ""
    grams: str = ""

    def values(self) -> dict[str, Any]:
        """The values of its kind."""
        kind_fields = {
            "hook": ("spot",),
            "worked": ("spot",),
            "taken_out": ("spot",),
            "fit_ended": ("fit", "rounds"),
            "fit_reopened": ("fit",),
            "counted": ("spot", "name", "count"),
            "note": ("spot", "text"),
            "accepted": ("difference",),
            "undo": ("entry",),
            "weighed": ("spot", "grams"),
        }
        values: dict[str, Any] = {name: getattr(self, name) for name in kind_fields.get(self.kind, ())}
        if self.kind == "hook":
            values["hook_mm"] = notebooks.typed_hook_mm(self.hook, self.hook_other)
        elif self.kind == "place":
            values = {"spot": self.spot} | place_said(self.at, self.text)
        elif self.kind == "measured":
            mm = notebooks.typed_length_mm(self.measure, self.units)
            values = {"spot": self.spot, "what": self.what, "mm": mm}
        return values


def place_said(at: str, text: str) -> dict[str, Any]:
    """Where within a round she stopped: from the list ("step/repeat/words"), or in her own words, which go
    first.
    """
    step, _, rest = at.partition("/")
    repeat, _, words = rest.partition("/")
    return {"text": text.strip() or words, "step": step or None, "repeat": repeat or None}


@router.post("/notebook/{part_id}/entries")
def log_entry(
    request: Request, session: WriteSession, part_id: PartId, form: Annotated[EntryForm, Form()]
) -> Response:
    """Logs one entry and shows where she is then."""
    device = device_of(request, session)
    kept = device.notebook(form.notebook)
    try:
        new = NewEntry(form.id, form.piece, form.kind, form.values())
        notebooks.log(
            session,
            kept.notebook_id,
            part_id,
            [new],
            state=form.state,
            device=device.name,
            now=datetime.now(UTC),
        )
    except NotFound:
        raise
    except Refusal as refusal:
        session.rollback()
        desk = notebooks.open_desk(session, kept.notebook_id, part_id)
        return _refused(request, desk, form, said(refusal, form.kind, form.model_dump(mode="json")))
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    return RedirectResponse(_after(desk, form), 303)


def _after(desk: Desk, form: EntryForm) -> str:
    base = f"/notebook/{desk.part_id}"
    all_finished = all(desk.making.pieces[piece].finished for piece in desk.pieces)
    if desk.making.settled is None or (form.kind == "finished" and desk.is_pair and all_finished):
        return where(desk)
    if form.back in ("numbers", "pair"):
        return f"{base}/{form.back}"
    piece = form.piece if form.piece in desk.pieces else notebooks.current_piece(desk)
    return f"{base}/piece/{piece}"


def _refused(request: Request, desk: Desk, form: EntryForm, what: Said) -> Response:
    if form.back == "numbers" or desk.making.settled is None:
        return choose_page(request, desk, what)
    if form.back == "pair":
        return pair_page(request, desk, what)
    piece = form.piece if form.piece in desk.pieces else notebooks.current_piece(desk)
    return working_page(request, desk, piece, what)
