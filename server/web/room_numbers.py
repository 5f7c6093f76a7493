"""The host's place in a maker's own numbers, and her own beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlmodel import Session

from server.craft.making import Plan, PlanRound
from server.services import notebooks, room
from server.services.errors import NotFound
from server.services.notebooks import Desk
from server.services.room import At, Course
from server.web.room_words import course_at


@dataclass(frozen=True)
class Hers:
    """What a maker sees of the host's place.

    section, label, steps, count   the round in her numbers and her wording, or for all sizes where she has
                                   not settled on numbers; step: the one at hand, None: the whole round
    settled     whether they are her own numbers
    ended       her line of this has fewer rounds than the host is at: how many; else 0
    own         where she is herself: "Glove one: Cuff, Rnd 4"; "" where she has begun nothing
    own_address the address of her own round; own_index: which of `rounds` that is
    part_id     the part that is shown; piece: which of its pieces she is at
    apart       how many rounds she is ahead (or, below 0, behind); None where that cannot be said
    rounds      every round, for the page's script: [address, section, label, steps, count]
    counts      by a round's address: what it has
    """

    part_id: int
    part_title: str
    piece: int
    section: str
    label: str
    steps: tuple[str, ...]
    step: int | None
    count: str
    settled: bool
    ended: int
    own: str
    own_address: str
    own_index: int | None
    apart: int | None
    rounds: list[list[Any]]

    @property
    def counts(self) -> dict[str, str]:
        """What each round has."""
        return {each[0]: each[4] for each in self.rounds}

    @property
    def apart_words(self) -> str:
        """ "2 rounds behind", "with your host" """
        return apart_words(self.apart)


def apart_words(apart: int | None) -> str:
    """How far she is from the host."""
    if apart is None:
        return ""
    if apart == 0:
        return "with your host"
    rounds = "1 round" if abs(apart) == 1 else f"{abs(apart)} rounds"
    return f"{rounds} {'ahead of' if apart > 0 else 'behind'} your host"


def hers(session: Session, notebook_id: int, at: At) -> Hers | None:
    """The host's place as this maker has it; None where the part is none of hers."""
    way = course_at(session, at)
    try:
        desk = notebooks.open_desk(session, notebook_id, at.part_id)
    except NotFound:
        return None
    if way is None:
        return None
    settled = desk.making.settled
    if settled is None:
        return _for_all(way, desk, at)
    piece = notebooks.current_piece(desk)
    own = desk.plan(piece)
    if desk.version.id == at.version_id:
        plan = own
    else:
        plan = room.in_numbers(room.version_text(session, at.version_id), settled, desk.terms)
    return _in_her_numbers(desk, plan, own, piece, at)


def _in_her_numbers(desk: Desk, plan: Plan, own: Plan, piece: int, at: At) -> Hers | None:
    made = room.hers(plan, at.spot)
    if made is None:
        return None
    steps, count = _words(desk, made)
    place = desk.place(piece)
    own_round = place.round
    order = [each.spot for each in plan.rounds]
    own_index = order.index(own_round.spot) if own_round is not None and own_round.spot in order else None
    if place.kind in ("finish", "finished"):
        own_index = len(order)
    ended = int(made.spot.rpartition(".")[2]) if made.spot != at.spot.address else 0
    apart = own_index - order.index(made.spot) if own_index is not None else None
    where = place.section.title if own_round is None else f"{own_round.section_title}, {own_round.label}"
    if place.kind in ("finish", "finished"):
        where = "all rounds done"
    return Hers(
        part_id=desk.part_id,
        part_title=desk.part_title,
        piece=piece,
        section=made.section_title,
        label=made.label,
        steps=steps,
        step=_step(at, len(steps)),
        count=count,
        settled=True,
        ended=ended,
        own=f"{notebooks.piece_name(desk, piece)}: {where}",
        own_address=own_round.spot if own_round is not None else "",
        own_index=own_index,
        apart=apart,
        rounds=[_row(desk, each) for each in plan.rounds],
    )


def _words(desk: Desk, made: PlanRound) -> tuple[tuple[str, ...], str]:
    full = desk.wording == "full"
    return (made.full_steps, made.full_count) if full else (made.steps, made.count_text)


def _row(desk: Desk, made: PlanRound) -> list[Any]:
    steps, count = _words(desk, made)
    return [made.spot, made.section_title, made.label, list(steps), count]


def _step(at: At, steps: int) -> int | None:
    return at.spot.step if at.spot.step is not None and at.spot.step < steps else None


def _for_all(way: Course, desk: Desk, at: At) -> Hers | None:
    """For all sizes: she has not settled on numbers."""
    index = way.index(at.spot)
    if index is None:
        return None
    stop = way.stops[index]
    return Hers(
        part_id=desk.part_id,
        part_title=desk.part_title,
        piece=1,
        section=stop.section,
        label=stop.label,
        steps=stop.steps,
        step=_step(at, len(stop.steps)),
        count=stop.count,
        settled=False,
        ended=0,
        own="",
        own_address="",
        own_index=None,
        apart=None,
        rounds=[
            [each.spot.address, each.section, each.label, list(each.steps), each.count] for each in way.stops
        ],
    )


def without_numbers(session: Session, at: At | None) -> dict[str, str]:
    """What each round has at all sizes, by its address."""
    way = course_at(session, at)
    return {each.spot.address: each.count for each in way.stops} if way is not None else {}
