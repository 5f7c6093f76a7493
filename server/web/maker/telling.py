"""What a maker tells of hand, gauge, fit and yarn: one form makes one entry, and is asked about first where
it looks odd.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from pydantic import BaseModel
from starlette.requests import Request

from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.services.notebooks import Desk, NewEntry, measuring
from server.services.notebooks.desk import Units
from server.web.maker.device import device_of, notebook_for
from server.web.maker.facts import Said, said
from server.web.sessions import ReadSession, WriteSession

Values = Mapping[str, Any]


class TellingForm(BaseModel):
    """What every form has that tells something. `sure`: the questions that were answered with yes."""

    id: str = ""
    notebook: int = 0
    state: int | None = None
    sure: str = ""


@dataclass(frozen=True)
class Stays:
    """A form that was not written down: the desk as it stands, and what is said or asked."""

    desk: Desk
    said: Said


def desk_for(request: Request, session: ReadSession, part_id: int) -> Desk:
    """The part in the notebook that this device has; NotFound where it has none."""
    kept = notebook_for(session, device_of(request, session), part_id)
    return notebooks.open_desk(session, kept.notebook_id, part_id)


def tell(
    request: Request,
    session: WriteSession,
    part_id: int,
    form: TellingForm,
    kind: str,
    piece: int,
    values: Callable[[Units], Values],
    panel: str = "",
) -> Stays | None:
    """Writes one entry down; None once it stands, else why it does not. What is hardly plausible is asked
    about once, and then taken.

    values   the entry's values from the form, read in her units; may raise Refusal
    panel    the form on its page (the kind)
    """
    device = device_of(request, session)
    kept = device.notebook(form.notebook)
    desk = notebooks.open_desk(session, kept.notebook_id, part_id)
    panel, typed = panel or kind, form.model_dump(mode="json")
    try:
        new = NewEntry(form.id, piece, kind, values(desk.units))
        asked = measuring.questions(session, desk, new)
        first = Said("", panel=panel, typed=typed, asked=asked)
        if asked and form.sure != first.sure:
            return Stays(desk, first)
        notebooks.log(
            session,
            desk.notebook_id,
            desk.part_id,
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
        return Stays(desk, said(refusal, panel, typed))
    return None
