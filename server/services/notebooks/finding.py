"""Finding her place from what she counts on the piece, and the miss behind a wrong count."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

from sqlmodel import Session

from server.craft import making as craft
from server.craft.making.held import FIT_MOST, held_in
from server.services.errors import Refusal
from server.services.notebooks import logbook
from server.services.notebooks.desk import Desk, Terms, open_desk, planned, read_pattern
from server.services.notebooks.shapes import NewEntry


@dataclass(frozen=True)
class Asked:
    """What she is to count: one number, or a yes or no.

    key     the name of the answer
    asks    what to count: "rounds below the gap", "the Top edging"
    in_log  rounds that the log has
    all     how many rounds "yes" stands for; None where a number is asked
    """

    key: str
    asks: str
    in_log: int
    all: int | None


def asked(desk: Desk, piece: int) -> tuple[Asked, ...]:
    """What to ask her to count on that piece; her numbers must be settled."""
    own = desk.making.pieces[piece]
    groups = craft.place_groups(desk.pattern, desk.making, piece, desk.terms, planned)
    return tuple(
        Asked(each.key, each.asks, held_in(each, own), each.most if each.yes_or_no else None)
        for each in groups
    )


def found(desk: Desk, piece: int, typed: Mapping[str, str]) -> craft.FoundPlace:
    """Where the piece is by what she typed; an empty answer stays as the log has it.

    Refusal (field: the answer's key) where one is no number.
    """
    if desk.making.settled is None:
        raise Refusal("Settle on your number of chains first.")
    counted = {}
    for each in asked(desk, piece):
        text = str(typed.get(each.key, "")).strip()
        if not text:
            continue
        if not text.isascii() or not text.isdigit() or int(text) > FIT_MOST:
            raise Refusal(f"Write how many {each.asks} you count: a number from 0 to {FIT_MOST}.", each.key)
        counted[each.key] = int(text)
    return craft.found_place(desk.pattern, desk.making, piece, counted, desk.terms, planned)


def log_found(
    session: Session,
    notebook_id: int,
    part_id: int,
    piece: int,
    typed: Mapping[str, str],
    *,
    entry_id: str,
    state: int | None,
    device: str,
    now: datetime,
) -> bool:
    """Make the log say what she holds. False where there is nothing to log, or the form was sent twice.

    Refusal where it cannot be, with what would be right; Overtaken where the log went on meanwhile.
    """
    desk = open_desk(session, notebook_id, part_id)
    if any(logged.entry.id == entry_id for logged in desk.log):
        return False
    here = found(desk, piece, typed)
    if here.cannot:
        raise Refusal(" ".join(here.cannot))
    news = [
        NewEntry(entry_id if at == 0 else f"{entry_id}.{at}", piece, each.kind, each.values)
        for at, each in enumerate(here.entries)
    ]
    if not news:
        return False
    return logbook.log(session, notebook_id, part_id, news, state=state, device=device, now=now)


def likely_misses(desk: Desk, piece: int, spot: str, name: str, counted: int) -> tuple[craft.Miss, ...]:
    """What explains a count at a round that is not what the round has; () where it is right.

    Of glove two, held against what the round is to have, not against a count of glove one.
    """
    return _misses(desk.version.text, desk.plan(piece).numbers, spot, name, counted, desk.terms)


@lru_cache(maxsize=256)
def _misses(
    text: str, numbers: craft.Numbers, spot: str, name: str, counted: int, terms: Terms
) -> tuple[craft.Miss, ...]:
    """Kept: a wrong count is shown on every page until it is mended, and works the piece each time."""
    return craft.misses(read_pattern(text), numbers, spot, name, counted, terms)
