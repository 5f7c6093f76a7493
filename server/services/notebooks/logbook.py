"""Adding to the log. Entries are only ever added; the same entry sent again is the same entry.

A form says which log its page had seen (`state`). What depends on that log, such as the round it was made
for, is checked against the log as it is now: where another device went on meanwhile, nothing is logged and
she is told.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cached_property

from sqlmodel import Session

from server.craft import making as craft
from server.services.errors import Refusal
from server.services.notebooks import clocks, fitshapes, places
from server.services.notebooks.clocks import iso
from server.services.notebooks.desk import Desk, keep_desk, open_desk
from server.services.notebooks.logs import Logged
from server.services.notebooks.shapes import NewEntry, checked, fit_of
from server.services.notebooks.visits import mark_seen
from server.storage import statements, tables
from server.storage.statements import EntryRow

# Kinds that no plan depends on: what they say is said beside the rounds.
BESIDE_THE_PLAN = frozenset({"note", "counted", "accepted", "tried", *fitshapes.RULES})
TOO_MUCH = (
    "That is more than one piece can have here: too many rounds, or too many stitches in them. "
    "Nothing was written down."
)
AS_JSON = json.JSONEncoder(ensure_ascii=False, sort_keys=True)
MOVED_ON_SPOILS = frozenset({"taken_out", "fit_reopened", "settled", "tried", "counted_in"})


class Overtaken(Refusal):
    """The log went on since the page was made; nothing was logged."""


@dataclass(frozen=True)
class DeviceEntry:
    """An entry with the moment and order its own device gave it, sent when the device was back on the
    network.

    after  id of the last entry of the log that the device had seen when it made this one; "" for none
    """

    new: NewEntry
    at: str
    order: int
    after: str = ""


@dataclass(frozen=True)
class Received:
    """What became of entries sent by a device: ids now in the log, ids refused with the reason, and her desk
    as it is then.
    """

    kept: tuple[str, ...]
    refused: tuple[tuple[str, str], ...]
    desk: Desk


def log(
    session: Session,
    notebook_id: int,
    part_id: int,
    news: Sequence[NewEntry],
    *,
    state: int | None,
    device: str,
    now: datetime,
) -> bool:
    """Log what a form brings, all of it or nothing. False where it was logged before (the same form sent
    twice).

    `state` is the length of the log that the form's page was made from. Overtaken where that no longer
    holds good.
    """
    desk = open_desk(session, notebook_id, part_id)
    known = statements.known_entries(session, [new.id for new in news])
    if news and all(_is_known(known, desk, new.id) for new in news):
        return False
    clean = [checked(new, desk.pattern) for new in news]
    for new in clean:
        _check_now(desk, new, state)
    project_id = _started(session, desk, now)
    seen = max((logged.entry.at for logged in desk.log), default="")
    order = _next_order(desk, device)
    rows = []
    for step, new in enumerate(clean):
        # After everything its page had seen, whatever the clocks of her devices say: the fold sorts by
        # this moment.
        at = max(iso(now + timedelta(milliseconds=step)), clocks.later(seen, step + 1) if seen else "")
        rows.append(_row(DeviceEntry(new, at, order + step), device, now))
    desk = desk.with_entries(rows, project_id)
    if not _can_be_drawn(desk, rows):
        raise Refusal(TOO_MUCH)
    _write_down(session, desk, rows, now)
    return True


def receive(
    session: Session,
    notebook_id: int,
    part_id: int,
    sent: Sequence[DeviceEntry],
    *,
    device: str,
    now: datetime,
    clock: str | None = None,
) -> Received:
    """Take in entries that a device logged on its own. Any order and any repetition; each stands for
    itself.

    `clock` is what the device's clock said when it sent them: where that is off, so are their moments, and
    they are put right.
    """
    desk = open_desk(session, notebook_id, part_id)
    off = clocks.skew(clock, now)
    moments = _Moments(desk)
    known = statements.known_entries(session, [one.new.id for one in sent])
    kept: list[str] = []
    refused: list[tuple[str, str]] = []
    fresh: list[DeviceEntry] = []
    for one in sorted(sent, key=lambda each: each.order):
        try:
            if one.new.id in moments.new or _is_known(known, desk, one.new.id):
                kept.append(one.new.id)
                continue
            clean = checked(one.new, desk.pattern)
            at = clocks.moment_of(one.at, off, now, moments.of(one.after))
        except Refusal as refusal:
            refused.append((one.new.id, refusal.message))
            continue
        moments.new[clean.id] = at
        fresh.append(DeviceEntry(clean, at, one.order))
    rows, too_much, grown = _drawable(desk, [_row(one, device, now) for one in fresh])
    refused += [(row.id, TOO_MUCH) for row in too_much]
    kept += [row.id for row in rows]
    if rows and desk.project_id is None:
        grown = replace(grown, project_id=_started(session, desk, now))
    desk = grown
    _write_down(session, desk, rows, now)
    not_kept = {id_ for id_, _ in refused}
    return Received(tuple(id_ for id_ in dict.fromkeys(kept) if id_ not in not_kept), tuple(refused), desk)


class _Moments:
    """When the entries of a log were made, and those that come to it: new, by id."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.new: dict[str, str] = {}

    def of(self, entry_id: str) -> str | None:
        """The moment of an entry; None where there is none of that id."""
        if entry_id in self.new or not entry_id:
            return self.new.get(entry_id)
        last = self._desk.log[-1:]
        if last and last[0].entry.id == entry_id:  # as a rule, and the log may be long
            return last[0].entry.at
        return self._of_all.get(entry_id)

    @cached_property
    def _of_all(self) -> dict[str, str]:
        return {logged.entry.id: logged.entry.at for logged in self._desk.log}


def _drawable(desk: Desk, fresh: Sequence[EntryRow]) -> tuple[list[EntryRow], list[EntryRow], Desk]:
    """The new entries with which the pieces can still be drawn up, those with which they cannot, and the desk
    with the good ones: one that cannot be never keeps back the others.
    """
    if not fresh:
        return [], [], desk
    grown = desk.with_entries(fresh, desk.project_id)
    if _can_be_drawn(grown, fresh):
        return list(fresh), [], grown
    good: list[EntryRow] = []
    too_much: list[EntryRow] = []
    grown = desk
    for one in fresh:
        more = grown.with_entries([one], desk.project_id)
        if _can_be_drawn(more, [one]):
            good.append(one)
            grown = more
        else:
            too_much.append(one)
    return good, too_much, grown


def _can_be_drawn(desk: Desk, new: Sequence[EntryRow]) -> bool:
    """False where a piece could not be drawn up any more, so that no log stands in the way of its own pages.
    Only what is new in the log can be the reason.
    """
    if all(row.kind in BESIDE_THE_PLAN for row in new) or desk.making.settled is None:
        return True
    try:
        for piece in desk.pieces:
            desk.plan(piece)
    except ValueError:
        return False
    return True


def _write_down(session: Session, desk: Desk, rows: Sequence[EntryRow], now: datetime) -> None:
    """Puts entries down that the desk has in its log already, the place for the roster, and her visit."""
    if desk.project_id is not None:
        statements.insert_entries(session, desk.project_id, rows)
        keep_desk(session, desk)
        places.refresh_after(session, desk, now)
    mark_seen(session, desk.notebook_id, now)


def last_entry(desk: Desk, piece: int) -> Logged | None:
    """The last entry of that piece that still holds: the one that an undo would take back."""
    holding = craft.in_force(logged.entry for logged in desk.log)
    of_piece = [entry.id for entry in holding if entry.piece == piece]
    return next((one for one in desk.log if one.entry.id == of_piece[-1]), None) if of_piece else None


def taken_back(desk: Desk, piece: int) -> tuple[Logged, Logged] | None:
    """The undo that was made last in that piece, and what it took back; None once anything else was logged
    there.
    """
    of_piece = [one for one in desk.log if one.entry.piece == piece]
    if not of_piece or of_piece[-1].entry.kind != "undo":
        return None
    target = of_piece[-1].entry.values.get("entry")
    back = next((one for one in of_piece if one.entry.id == target and one.entry.kind != "undo"), None)
    return None if back is None else (of_piece[-1], back)


def _is_known(known: Mapping[str, int], desk: Desk, entry_id: str) -> bool:
    """Whether the entry is in the log; `known` has the project of each that is there."""
    if entry_id not in known:
        return False
    if known[entry_id] != desk.project_id:
        raise Refusal("Open the page again and do it once more: this form was made for another part.")
    return True


def _check_now(desk: Desk, new: NewEntry, state: int | None) -> None:
    """Overtaken where the entry no longer fits the log as it is now."""
    if new.kind in ("worked", "fit_ended", "finished"):
        if desk.making.settled is None:
            raise Refusal("Settle on your number of chains first.")
        _check_place(desk, new)
    elif new.kind == "counted_in" and desk.making.settled is None:
        raise Refusal("Settle on your number of chains first.")
    elif new.kind == "undo":
        last, back = last_entry(desk, new.piece), taken_back(desk, new.piece)
        may_be = {each.entry.id for each in (last, back[0] if back else None) if each is not None}
        if new.values["entry"] not in may_be or _moved_on(desk, state):
            raise Overtaken(
                "Your notebook went on meanwhile, so nothing was taken back. This is where it is now."
            )
    elif new.kind in MOVED_ON_SPOILS and _moved_on(desk, state):
        raise Overtaken(
            "Your notebook went on meanwhile, on another device or page. This is where it is now."
        )
    elif new.kind == "taken_out":
        piece = desk.making.pieces.get(new.piece)
        if piece is None or new.values["spot"] not in piece.worked:
            raise Overtaken("That round is not in the log any more, so there is nothing to take out.")
    elif new.kind == "accepted" and all(
        each.key != new.values["difference"] for each in desk.verdict.differences
    ):
        raise Overtaken("That difference is gone meanwhile, so there is nothing to note.")


def _moved_on(desk: Desk, state: int | None) -> bool:
    return state is not None and state != desk.state


def _check_place(desk: Desk, new: NewEntry) -> None:
    place = desk.place(new.piece)
    if new.kind == "worked":
        spot = str(new.values["spot"])
        if place.round is None or place.round.spot != spot:
            planned = desk.plan(new.piece).round_at(spot)
            name = f"{planned.section_title}, {planned.label}" if planned else "That round"
            worked = desk.making.pieces[new.piece].worked if new.piece in desk.making.pieces else ()
            was = "was logged already" if spot in worked else "is not the next one any more"
            raise Overtaken(
                f"{name} {was}, on another device or page. Nothing was logged twice; this is the next."
            )
    elif new.kind == "fit_ended":
        ended = place.can_end
        if ended is None or ended.fit != new.values["fit"] or _rounds_in(desk, new) != new.values["rounds"]:
            raise Overtaken(
                "Your notebook went on meanwhile, so the section was not ended. This is where it is now."
            )
    elif place.kind != "finish":
        raise Overtaken("Your notebook went on meanwhile. This is where it is now.")


def _rounds_in(desk: Desk, new: NewEntry) -> int:
    piece = desk.making.pieces.get(new.piece)
    return sum(1 for spot in piece.worked if fit_of(spot) == new.values["fit"]) if piece else 0


def _started(session: Session, desk: Desk, now: datetime) -> int:
    """Id of her project; the first entry starts it, on the newest version."""
    if desk.project_id is not None:
        return desk.project_id
    project = tables.Project(
        notebook_id=desk.notebook_id,
        part_id=desk.part_id,
        pattern_version_id=desk.version.id,
        started_at=now,
    )
    session.add(project)
    session.flush()
    assert project.id is not None
    return project.id


def _row(one: DeviceEntry, device: str, now: datetime) -> EntryRow:
    return EntryRow(
        id=one.new.id,
        piece=one.new.piece,
        kind=one.new.kind,
        values_json=AS_JSON.encode(dict(one.new.values)),
        at=one.at,
        device=device,
        device_order=one.order,
        received_at=statements.kept(now),
    )


def _next_order(desk: Desk, device: str) -> int:
    return 1 + max((each.entry.order for each in desk.log if each.entry.device == device), default=0)
