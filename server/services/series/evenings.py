"""The live evenings of an along: set, moved, cancelled, taken up again."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import cast
from uuid import uuid4

from sqlmodel import Session, col, select

from server.services.errors import NotFound, Refusal
from server.services.series import owning
from server.services.series.wallclock import WallTime, Which, day_typed, time_typed, wall_time, zone_named
from server.storage import hosting, rooms
from server.storage.tables import Along, Evening, Part

TITLE_MOST, PLACE_MOST, NOTE_MOST = 80, 200, 2000
EVENINGS_MOST = 100
MINUTES_LEAST, MINUTES_MOST = 10, 24 * 60
ROOM_IS_OPEN = "Its room is open. Close the room first, then cancel the evening."
WALL = "%Y-%m-%dT%H:%M"


@dataclass(frozen=True)
class EveningForm:
    """What the form for an evening has in it, as typed. which: "", "first", "second"; part: an id or ""."""

    title: str = ""
    day: str = ""
    time: str = ""
    minutes: str = "120"
    zone: str = ""
    which: str = ""
    part: str = ""
    place: str = ""
    note: str = ""


@dataclass(frozen=True)
class Set:
    """An evening as it is kept. part_title is "" where it is for no part in particular."""

    id: int
    along_id: int
    title: str
    part_id: int | None
    part_title: str
    place: str
    note: str
    wall: WallTime
    minutes: int
    is_cancelled: bool
    uid: str
    sequence: int
    made_at: datetime
    changed_at: datetime
    changed_by: str

    @property
    def ends(self) -> datetime:
        """When it ends, aware, by the clock of its zone."""
        end = self.wall.moment + timedelta(minutes=self.minutes)
        return end.astimezone(self.wall.here.tzinfo)

    @property
    def mark(self) -> str:
        """What `change` knows it by."""
        w = self.wall
        return owning.mark(
            self.title,
            self.part_id,
            self.place,
            self.note,
            w.local,
            w.zone,
            w.fold,
            self.minutes,
            self.is_cancelled,
        )

    def is_over(self, now: datetime) -> bool:
        """Whether it has ended by then."""
        return self.ends <= now


def of_along(session: Session, along_id: int) -> tuple[Set, ...]:
    """The evenings of an along, the first one first, cancelled ones among them."""
    rows = session.exec(
        select(Evening, Part)
        .where(Evening.along_id == along_id)
        .outerjoin(Part, col(Part.id) == Evening.part_id)
        .order_by(col(Evening.id))
    ).all()
    return tuple(sorted((_as_set(e, p) for e, p in rows), key=lambda e: (e.wall.moment, e.id)))


def _as_set(row: Evening, part: Part | None) -> Set:
    assert row.id is not None
    wall = WallTime(datetime.fromisoformat(row.local_start), row.zone, row.fold)
    return Set(
        row.id, row.along_id, row.title, row.part_id, part.title if part else "", row.place, row.note, wall,
        row.minutes, row.is_cancelled, row.uid, row.sequence, row.made_at, row.changed_at, row.changed_by,
    )  # fmt: skip


def hosted_evening(session: Session, host_id: int, evening_id: int) -> tuple[Evening, Along]:
    """The rows of an evening of an along that she hosts and of that along; else NotFound."""
    row = session.get(Evening, evening_id)
    if row is None:
        raise NotFound(owning.UNKNOWN)
    return row, owning.hosted(session, host_id, row.along_id)


def one(session: Session, host_id: int, evening_id: int) -> Set:
    """An evening of an along that she hosts."""
    row, _ = hosted_evening(session, host_id, evening_id)
    return _as_set(row, session.get(Part, row.part_id) if row.part_id else None)


def parts(session: Session, along_id: int) -> Sequence[Part]:
    """The parts of an along, in their order."""
    return session.exec(
        select(Part).where(Part.along_id == along_id).order_by(col(Part.position), col(Part.id))
    ).all()


def usual(session: Session, host_id: int, along_id: int) -> EveningForm:
    """The form for the next evening: a week after the last, else empty; in the zone of this host's last
    evening anywhere."""
    last = next(iter(reversed(of_along(session, along_id))), None)
    if last is not None:
        local = last.wall.local + timedelta(weeks=1)
        return EveningForm(
            day=f"{local:%Y-%m-%d}", time=f"{local:%H:%M}", minutes=str(last.minutes), zone=last.wall.zone,
            place=last.place,
        )  # fmt: skip
    newest = select(Evening.zone).where(Evening.along_id == Along.id, hosting.is_hosted_by(host_id))
    zone = session.exec(newest.order_by(col(Evening.id).desc()).limit(1)).first()
    return EveningForm(zone=zone or "")


def form_of(evening: Set) -> EveningForm:
    """The form of an evening as it is kept."""
    local = evening.wall.local
    return EveningForm(
        evening.title, f"{local:%Y-%m-%d}", f"{local:%H:%M}", str(evening.minutes), evening.wall.zone,
        evening.wall.which, str(evening.part_id or ""), evening.place, evening.note,
    )  # fmt: skip


def add(session: Session, host_id: int, along_id: int, form: EveningForm, now: datetime) -> int:
    """Set a new evening; gives its id. Refusal at the form's field for what cannot be read."""
    owning.hosted(session, host_id, along_id)
    row = Evening(
        along_id=along_id, title="", local_start="", zone="", minutes=1, uid=str(uuid4()), made_at=now,
        changed_at=now, changed_by=hosting.shown_name(session, host_id),
    )  # fmt: skip
    with session.no_autoflush:
        _fill(session, row, form, now)
    if len(of_along(session, along_id)) >= EVENINGS_MOST:
        raise Refusal(f"An along has {EVENINGS_MOST} evenings at most, and this one has them.", "title")
    session.add(row)
    session.flush()
    assert row.id is not None
    return row.id


def change(
    session: Session, host_id: int, evening_id: int, form: EveningForm, mark: str | None, now: datetime
) -> None:
    """Change an evening. Moved to another time or length, its SEQUENCE is raised (RFC 5545).

    `mark` is that of the evening the form was opened with: where somebody has changed it since, Refusal.
    """
    row, _ = hosted_evening(session, host_id, evening_id)
    before = one(session, host_id, evening_id)
    if mark not in (None, before.mark) and form != form_of(before):
        local = before.wall.local
        raise Refusal(
            f"{before.changed_by} changed this evening since you opened the form: now it is “{before.title}” "
            f"on {local.day} {local:%B %Y at %H:%M}. What you typed is still here; save again to put it in "
            "place of that.",
            "title",
        )
    with session.no_autoflush:
        _fill(session, row, form, now)
    after = _as_set(row, None)
    if (before.wall, before.minutes) != (after.wall, after.minutes):
        row.sequence += 1
    if before.mark != after.mark:
        row.changed_at, row.changed_by = now, hosting.shown_name(session, host_id)
        session.add(row)


def cancel(session: Session, host_id: int, evening_id: int, now: datetime, *, cancelled: bool = True) -> int:
    """Say that an evening does not take place, or (cancelled=False) that it does after all; gives its
    along's id. It stays in the calendar, so that everybody's own calendar is told. Refusal while its room is
    open."""
    row, along = hosted_evening(session, host_id, evening_id)
    if cancelled and rooms.is_open(session, evening_id):
        raise Refusal(ROOM_IS_OPEN, "cancel")
    if row.is_cancelled != cancelled:
        row.is_cancelled, row.sequence = cancelled, row.sequence + 1
        row.changed_at, row.changed_by = now, hosting.shown_name(session, host_id)
        session.add(row)
    assert along.id is not None
    return along.id


def _fill(session: Session, row: Evening, form: EveningForm, now: datetime) -> None:
    title = owning.line(form.title, "title", TITLE_MOST, "Give the evening a title, such as “The cuff”.")
    zone = zone_named(form.zone)
    day = day_typed(form.day, now.date())
    wall = _wall(day, form.time, zone, form.which)
    minutes = _minutes(form.minutes)
    part_id = _part(session, row.along_id, form.part)
    place = owning.line(form.place, "place", PLACE_MOST)
    note = owning.lines(form.note, "note", NOTE_MOST)
    row.title, row.part_id, row.place, row.note = title, part_id, place, note
    row.local_start, row.zone, row.fold, row.minutes = f"{wall.local:{WALL}}", zone, wall.fold, minutes


def _wall(day: date, typed: str, zone: str, which: str) -> WallTime:
    hour, minute = time_typed(typed)
    local = datetime.combine(day, time(hour, minute))
    return wall_time(local, zone, cast(Which, which if which in ("first", "second") else ""))


def _minutes(typed: str) -> int:
    text = typed.strip()
    minutes = int(text) if re.fullmatch(r"[0-9]{1,6}", text) else 0
    if not MINUTES_LEAST <= minutes <= MINUTES_MOST:
        raise Refusal(
            f"Write the length in minutes, from {MINUTES_LEAST} to {MINUTES_MOST}: 120 is two hours.",
            "minutes",
        )
    return minutes


def _part(session: Session, along_id: int, typed: str) -> int | None:
    if not typed:
        return None
    part = session.get(Part, int(typed)) if re.fullmatch(r"[0-9]{1,18}", typed) else None
    if part is None or part.along_id != along_id:
        raise Refusal("Choose one of the along's parts, or none in particular.", "part")
    return part.id


def moved(wall: WallTime, days: int) -> WallTime:
    """The same wall time so many days later. Refusal where the clock skips it that day."""
    return wall_time(wall.local + timedelta(days=days), wall.zone, "second" if wall.fold else "first")


def next_of(evenings: Sequence[Set], now: datetime) -> Set | None:
    """The evening that is on or comes next, cancelled ones left out."""
    return next((e for e in evenings if not e.is_cancelled and not e.is_over(now.astimezone(UTC))), None)
