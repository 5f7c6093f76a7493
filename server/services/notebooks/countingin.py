"""Several rounds at once: those that could be logged now, and the one entry that logs them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from server.craft.making import spots
from server.services.errors import Refusal
from server.services.notebooks.desk import Desk

AHEAD_MOST = 12  # more are counted in by number, not ticked


@dataclass(frozen=True)
class Ahead:
    """A round that lies ahead, by its spot and its name."""

    spot: str
    label: str


def ahead(desk: Desk, piece: int) -> tuple[Ahead, ...]:
    """The rounds from the one at hand on, as far as they can be logged without another answer of hers: rounds
    to fit are ended by her, not by a list.
    """
    place = desk.place(piece)
    if place.kind != "round":
        return ()
    own = desk.making.pieces[piece]
    stand = set(own.worked)
    listed: list[Ahead] = []
    open_fit: str | None = None
    for each in desk.plan(piece).rounds:
        if each.spot in stand:
            continue
        if len(listed) == AHEAD_MOST or (open_fit is not None and each.fit != open_fit):
            break
        open_fit = each.fit if each.fit not in own.fits_ended else None
        listed.append(Ahead(each.spot, f"{each.section_title}, {each.label or 'this round'}"))
    return tuple(listed)


def counted_in_to(desk: Desk, piece: int, ticked: Collection[str]) -> dict[str, Any]:
    """Values of the one entry that logs every round up to the last ticked; Refusal(field "spot") where none
    is.
    """
    listed = [each.spot for each in ahead(desk, piece)]
    last = max((listed.index(spot) for spot in ticked if spot in listed), default=None)
    if last is None:
        raise Refusal("Tick the rounds that you have made, up to the last one.", "spot")
    rounds = {spots.fit_of(spot): spots.turn_of(spot) for spot in listed[: last + 1]}
    return {"rounds": rounds, "ended": []}
