"""An along once more: its parts, words and evenings for the next season, and none of its people.

Patterns come as drafts, each as it stands on its writing page: nothing is published in a host's name, what
she mended meanwhile is not lost, and each is proved again when she publishes it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from uuid import uuid4

from sqlalchemy import func
from sqlmodel import Session, select

from server.services.errors import Refusal
from server.services.series import owning
from server.services.series.announcing import new_key
from server.services.series.evenings import WALL, Set, moved, of_along, parts
from server.services.series.wallclock import WallTime
from server.storage import hosting
from server.storage.tables import Along, AlongPage, Evening, Part

TITLE_MOST, ALONGS_MOST = 80, 200
DAYS_MOST = 5 * 366


@dataclass(frozen=True)
class SeasonForm:
    """The form, as typed. evenings: "move" or "leave" out; later by weeks and days."""

    title: str = ""
    evenings: str = "move"
    weeks: str = "52"
    days: str = "0"


def copy(session: Session, host_id: int, along_id: int, form: SeasonForm, now: datetime) -> int:
    """A new along of this host, made from one that she hosts; gives its id. Refusal at the form's field,
    also where an evening would come to an hour that its clock skips."""
    old = owning.hosted(session, host_id, along_id)
    ask = "Give the along a title, with at least one letter or digit."
    title = owning.line(form.title, "title", TITLE_MOST, ask)
    who = hosting.shown_name(session, host_id)
    if form.evenings not in ("move", "leave"):
        raise Refusal("Choose whether the evenings come along, later, or are left out.", "evenings")
    own = session.exec(select(func.count()).select_from(Along).where(Along.host_id == host_id)).one()
    if own >= ALONGS_MOST:
        raise Refusal(f"You have {ALONGS_MOST} alongs, which is as many as there can be.", "title")
    later = _later(form) if form.evenings == "move" else None
    evenings = [e for e in of_along(session, along_id) if not e.is_cancelled] if later is not None else []
    walls = [_moved(evening, later or 0) for evening in evenings]
    new = Along(
        host_id=host_id,
        title=title,
        welcome=old.welcome,
        join_code=hosting.new_join_code(session),
        created_at=now,
    )
    session.add(new)
    session.flush()
    assert new.id is not None
    new_parts = _copy_parts(session, along_id, new.id, now, who)
    _copy_page(session, along_id, new.id, now, who)
    for evening, wall in zip(evenings, walls, strict=True):
        session.add(
            Evening(
                along_id=new.id, part_id=new_parts.get(evening.part_id or 0), title=evening.title,
                note=evening.note, place=evening.place, local_start=f"{wall.local:{WALL}}", zone=wall.zone,
                fold=wall.fold, minutes=evening.minutes, uid=str(uuid4()), made_at=now, changed_at=now,
                changed_by=who,
            )
        )  # fmt: skip
    session.flush()
    return new.id


def _later(form: SeasonForm) -> int:
    """By how many days; Refusal at "weeks" or "days"."""
    numbers = []
    for field, typed in (("weeks", form.weeks), ("days", form.days)):
        if not re.fullmatch(r"[0-9]{1,4}", typed.strip() or "0"):
            raise Refusal(f"Write a whole number of {field}, 0 or more.", field)
        numbers.append(int(typed.strip() or "0"))
    days = numbers[0] * 7 + numbers[1]
    if days == 0:
        raise Refusal("Say how much later the evenings are: 52 weeks is the same weekday next year.", "weeks")
    if days > DAYS_MOST:
        raise Refusal("Evenings can be set up to 5 years later.", "weeks")
    return days


def _moved(evening: Set, days: int) -> WallTime:
    try:
        return moved(evening.wall, days)
    except Refusal as refusal:
        raise Refusal(
            f"“{evening.title}” would not come out. {refusal.message} Choose other weeks or days, or move "
            "that evening first.",
            "weeks",
        ) from None


def _copy_parts(session: Session, old_id: int, new_id: int, now: datetime, who: str) -> dict[int, int]:
    """New ids of parts by their old ones."""
    ids: dict[int, int] = {}
    for position, part in enumerate(parts(session, old_id), 1):
        written = part.draft_text.strip() != ""
        made = Part(
            along_id=new_id, position=position, title=part.title, draft_text=part.draft_text,
            draft_saved_at=now if written else None, draft_saved_by=who if written else None,
        )  # fmt: skip
        session.add(made)
        session.flush()
        assert part.id is not None
        assert made.id is not None
        ids[part.id] = made.id
    return ids


def _copy_page(session: Session, old_id: int, new_id: int, now: datetime, who: str) -> None:
    """The words of the page; it is not shown yet, and has an address of its own."""
    old = session.get(AlongPage, old_id)
    if old is None:
        return
    session.add(
        AlongPage(
            along_id=new_id, key=new_key(), lets_join=old.lets_join, names_waiting=old.names_waiting,
            skill=old.skill, materials=old.materials, cautions=old.cautions, changed_at=now, changed_by=who,
        )
    )  # fmt: skip
