"""The pair page's matter: both gloves section by section, the verdict, and each glove's own record."""

from __future__ import annotations

from dataclasses import dataclass

from server.craft import making as craft
from server.craft.making.standing import is_foundation
from server.services.notebooks.desk import Desk, piece_name
from server.services.notebooks.numbers import HookChoice, hook_choice
from server.services.notebooks.working import Departure, departures, round_name


@dataclass(frozen=True)
class PlacedNote:
    """A note with the round it stands at."""

    at: str
    text: str


@dataclass(frozen=True)
class Glove:
    """One glove as made."""

    piece: int
    name: str
    finished: bool
    started: bool
    foundation: int | None
    hook: HookChoice | None
    done: int
    notes: tuple[PlacedNote, ...]
    taken_out: tuple[PlacedNote, ...]


@dataclass(frozen=True)
class Pair:
    """Both gloves and the verdict. A part in one piece has one glove and no rows."""

    gloves: tuple[Glove, ...]
    verdict: craft.Verdict
    open: tuple[Departure, ...]
    meant: tuple[craft.Difference, ...]


def pair(desk: Desk) -> Pair:
    """The pair page's matter; her numbers must be settled."""
    verdict = desk.verdict
    return Pair(
        gloves=tuple(_glove(desk, piece) for piece in desk.pieces),
        verdict=verdict,
        open=departures(desk) if desk.is_pair else (),
        meant=tuple(each for each in verdict.differences if each.accepted),
    )


def _glove(desk: Desk, piece: int) -> Glove:
    own = desk.making.pieces[piece]
    numbers = own.numbers or desk.making.settled
    standing = set(own.worked)
    return Glove(
        piece=piece,
        name=piece_name(desk, piece),
        finished=own.finished,
        started=own.started,
        foundation=numbers.foundation if numbers else None,
        hook=hook_choice(own.hook_mm) if own.hook_mm is not None else None,
        done=sum(1 for each in desk.plan(piece).rounds if each.spot in standing and not is_foundation(each)),
        notes=tuple(
            PlacedNote(round_name(desk, piece, note.spot) if note.spot else "", note.text)
            for note in own.notes
        ),
        taken_out=tuple(
            PlacedNote(round_name(desk, piece, spot), str(rounds)) for spot, rounds in own.taken_out
        ),
    )
