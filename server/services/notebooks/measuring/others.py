"""Another yarn, and a set of parts from one cake."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlmodel import Session, col, select

from server.craft.making.spots import section_of
from server.craft.measure.counts import AllowedCounts
from server.craft.measure.fitting import FitRequest
from server.craft.measure.hands import measured_hand
from server.craft.measure.needing import yarn_need
from server.craft.measure.putup import PutUp
from server.craft.measure.splitting import Split, split_cake
from server.craft.measure.substituting import Substitution, substituted
from server.craft.measure.yarntable import YarnCategory, yarn_category
from server.services.errors import NotFound, Refusal
from server.services.notebooks.desk import Desk, open_desk
from server.services.notebooks.measuring.facts import (
    category_of,
    gauge_of,
    is_for_a_hand,
    request_of,
    told,
    told_with_hand,
)
from server.services.notebooks.measuring.fitcard import hook_in_hand
from server.services.notebooks.measuring.reckoning import reckoned
from server.storage import tables

PARTS_MOST = 60


@dataclass(frozen=True)
class Instead:
    """Another yarn: what changes, in the order to be read."""

    old: YarnCategory
    new: YarnCategory
    change: Substitution
    says: tuple[str, ...]


@dataclass(frozen=True)
class CakePart:
    """A published part of the along that a cake may be split over."""

    part_id: int
    title: str


def instead(session: Session, desk: Desk, category: int, put_up: PutUp | None) -> Instead:
    """What another yarn changes; Refusal where the pattern has no counts to change."""
    known, header = told_with_hand(session, desk), desk.pattern.header
    counts = AllowedCounts.of(header)
    if counts is None:
        raise Refusal("This pattern begins in a ring: its sizes keep their counts in any yarn.", "category")
    old = category_of(known, header) or yarn_category(4)
    new = yarn_category(category)
    hook_mm = hook_in_hand(desk)
    request = request_of(desk, known, hook_mm) if is_for_a_hand(desk) else None
    if request is None:  # as far around as it is planned, whatever it goes around
        gauge = gauge_of(known, header, hook_mm, desk.units)
        foundation = reckoned(desk, known).numbers.foundation or counts.nearest(0)
        around = measured_hand(foundation * gauge.stitch_mm)
        request = FitRequest(counts, around, gauge, ease=0.0, units=desk.units)
    try:
        change = substituted(
            desk.pattern, request, old, new, hook_mm=hook_mm, put_up=put_up, units=desk.units
        )
    except ValueError:
        raise Refusal("The pattern cannot be worked in so thick or thin a yarn.", "category") from None
    best = change.fit.recommended
    around_says = f"{best.says[0].upper()}{best.says[1:]}" if is_for_a_hand(desk) else ""
    says = (
        change.says[0],
        f"Chain {best.foundation} ({counts.words()}).",
        around_says,
        *change.need.says[:2],
        f"To buy: {change.need.says[2]}" if put_up is not None else "",
        _rounds_words(desk, change),
    )
    return Instead(old, new, change, tuple(each for each in says if each))


def _rounds_words(desk: Desk, change: Substitution) -> str:
    """ "About 4 rounds in the Cuff and 3 in the Hand, or to fit."; empty where there are no lines to fit."""
    lines = [
        f"{number} in the {desk.pattern.sections[section_of(fit)].title}" for fit, number in change.rounds
    ]
    if not lines:
        return ""
    first, _, rest = lines[0].partition(" ")
    lines[0] = f"{first} round{'' if first == '1' else 's'} {rest}"
    return (
        f"About {' and '.join([', '.join(lines[:-1]), lines[-1]] if len(lines) > 1 else lines)}, or to fit."
    )


def cake_parts(session: Session, notebook_id: int) -> tuple[CakePart, ...]:
    """The published parts of her along."""
    rows = session.exec(
        select(tables.Part.id, tables.Part.title)
        .where(tables.Part.along_id == tables.Notebook.along_id, tables.Notebook.id == notebook_id)
        .order_by(col(tables.Part.position), col(tables.Part.id))
        .limit(PARTS_MOST)
    ).all()
    found = []
    for part_id, title in rows:
        try:
            open_desk(session, notebook_id, part_id or 0)
        except NotFound:  # not published yet
            continue
        found.append(CakePart(part_id or 0, title))
    return tuple(found)


def split(session: Session, notebook_id: int, part_ids: Sequence[int], cake_g: float) -> Split:
    """How to split a cake over whole parts, each in her numbers or in the middle size."""
    if not part_ids:
        raise Refusal("Tick the parts that the cake is for.", "parts")
    if cake_g <= 0:
        raise Refusal("Write what the cake weighs, such as 150.", "grams")
    parts = []
    for part_id in dict.fromkeys(part_ids):
        desk = open_desk(session, notebook_id, part_id)
        state = reckoned(desk, told(desk))
        need = yarn_need(state.piece, state.calibration, state.by, pieces=state.pieces, units=desk.units)
        parts.append((desk.part_title, need.grams))
    return split_cake(parts, cake_g)
