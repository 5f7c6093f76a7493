"""Who is where, seen from the host's place: with her, ahead, behind, done; and who has a count of her own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from sqlmodel import Session

from server.craft.fabric.values import Numbers
from server.craft.making.spots import order
from server.craft.text.tree import Terms
from server.services.room.course import hers, in_numbers
from server.services.room.log import At
from server.storage import statements

Standing = Literal["with her", "ahead", "behind", "not begun"]

PLACES_OF_PART = """
SELECT r.notebook_id, p.spot, p.section_title, p.foundation, p.size, p.updated_at
FROM project r JOIN project_place p ON p.project_id = r.id WHERE r.part_id = ?
"""
LAST_SAID = """
SELECT e.notebook_id, e.at, e.version_id, e.section, e.round, e.turn, e.step
FROM room_event e
WHERE e.kind = 'done' AND e.id IN (
  SELECT max(id) FROM room_event WHERE evening_id = ? AND kind IN ('done', 'undone') GROUP BY notebook_id)
"""
Word = tuple[datetime, int | None, int | None, int | None, int | None, int | None]
FINISHED = "finished"  # as the place of a finished piece is kept


@dataclass(frozen=True)
class OwnCount:
    """Makers on one count of their own: how many are here, and what the round is to them."""

    foundation: int
    makers: int
    count: str
    step: str


@dataclass(frozen=True)
class Heads:
    """How many are here, and where. done: of those, how many said so at the host's place; own: of the makers
    who are here, the fewest chains first."""

    here: int
    with_her: int
    ahead: int
    behind: int
    not_begun: int
    done: int
    own: tuple[OwnCount, ...]


@dataclass(frozen=True)
class _Where:
    spot: str | None
    finished: bool
    foundation: int | None
    size: str | None
    at: datetime


def heads(
    session: Session, evening_id: int, at: At | None, text: str, terms: Terms, here: Collection[int]
) -> Heads:
    """Everybody who is here (ids of notebooks), in the part that the host shows."""
    if at is None:
        return Heads(len(here), 0, 0, 0, 0, 0, ())
    wheres = _wheres(session, at.part_id)
    said = _said_done(session, evening_id)
    standings: Counter[Standing] = Counter()
    own: Counter[int] = Counter()
    done = 0
    for notebook_id in here:
        where = wheres.get(notebook_id)
        word = said.get(notebook_id)
        done += word is not None and word[1] == at.version_id and word[2:] == _numbers(at)
        standings[_standing(at, where, word)] += 1
        if where is not None and where.foundation is not None and where.size is None:
            own[where.foundation] += 1
    counts = tuple(_own(text, terms, at, foundation, own[foundation]) for foundation in sorted(own))
    return Heads(
        len(here), standings["with her"], standings["ahead"], standings["behind"], standings["not begun"],
        done, counts,
    )  # fmt: skip


def _wheres(session: Session, part_id: int) -> dict[int, _Where]:
    rows = statements.rows(session, PLACES_OF_PART, (part_id,))
    return {
        row[0]: _Where(row[1], row[2] == FINISHED, row[3], row[4], statements.moment_kept(row[5]))
        for row in rows
    }


def _said_done(session: Session, evening_id: int) -> dict[int, Word]:
    """(when, version, section, round, turn, step) of the last "done" of each who did not take it back."""
    rows = statements.rows(session, LAST_SAID, (evening_id,))
    return {row[0]: (statements.moment_kept(row[1]), *row[2:]) for row in rows}


def _numbers(at: At) -> tuple[int, int, int, int | None]:
    return at.spot.section, at.spot.round, at.spot.turn, at.spot.step


def _standing(at: At, where: _Where | None, word: Word | None) -> Standing:
    """By what she did last: a round in her log, or a "done" said here. A "done" at a step is there; one of a
    whole round has her in front of the next."""
    host = order(at.spot.address)
    if word is not None and None not in word[2:5] and (where is None or word[0] > where.at):
        mine = tuple(int(number or 0) for number in word[2:5])
        return "with her" if mine == host else "ahead" if mine > host else "behind"
    if where is None or (where.spot is None and not where.finished):
        return "not begun"
    if where.finished:
        return "ahead"
    mine = order(where.spot or "")
    return "with her" if mine == host else "ahead" if mine > host else "behind"


def _own(text: str, terms: Terms, at: At, foundation: int, makers: int) -> OwnCount:
    made = hers(in_numbers(text, Numbers(foundation), terms), at.spot)
    if made is None:
        return OwnCount(foundation, makers, "", "")
    step = at.spot.step
    said = made.steps[step] if step is not None and step < len(made.steps) else ""
    return OwnCount(foundation, makers, made.count_text, said)
