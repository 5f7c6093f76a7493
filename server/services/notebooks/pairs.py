"""The pair page's matter: both gloves section by section, the verdict, and what each glove's fabric looks
like so far.
"""

from __future__ import annotations

from dataclasses import dataclass

from server.craft import making as craft
from server.craft.making.standing import is_foundation
from server.craft.text.tree import SectionKind
from server.services.notebooks.desk import Desk, piece_name
from server.services.notebooks.numbers import HookChoice, hook_choice
from server.services.notebooks.working import Departure, departures, round_name

# How tall a stitch stands, in chains: the starting chain it takes. Source: the turning chains of the
# reference tables (Crochet Guild of America lessons 1997 as quoted by a public tutorial).
HEIGHT_CHAINS = {"sl st": 0.5, "sc": 1.0, "hdc": 2.0, "dc": 3.0, "tr": 4.0, "dtr": 5.0}
PLAIN_HEIGHT_CHAINS = 1.0  # a round of chains only, or of a stitch that no table has


@dataclass(frozen=True)
class MadeRound:
    """A round of the drawing: how tall it is (in chains), whether it stands, whether something differs
    there.
    """

    spot: str
    height_chains: float
    made: bool
    differs: bool


@dataclass(frozen=True)
class MadeSection:
    """A section of one glove with its rounds, made and still to make."""

    title: str
    kind: SectionKind
    rounds: tuple[MadeRound, ...]


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
    sections: tuple[MadeSection, ...]
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
    differing = {each.spot for each in desk.verdict.differences if each.spot} if piece == 2 else set()
    return Glove(
        piece=piece,
        name=piece_name(desk, piece),
        finished=own.finished,
        started=own.started,
        foundation=numbers.foundation if numbers else None,
        hook=hook_choice(own.hook_mm) if own.hook_mm is not None else None,
        done=sum(1 for each in desk.plan(piece).rounds if each.spot in standing and not is_foundation(each)),
        sections=tuple(
            MadeSection(
                section.title,
                section.kind,
                tuple(
                    MadeRound(each.spot, _height(each), each.spot in standing, each.spot in differing)
                    for each in section.rounds
                ),
            )
            for section in desk.plan(piece).sections
        ),
        notes=tuple(
            PlacedNote(round_name(desk, piece, note.spot) if note.spot else "", note.text)
            for note in own.notes
        ),
        taken_out=tuple(
            PlacedNote(round_name(desk, piece, spot), str(rounds)) for spot, rounds in own.taken_out
        ),
    )


def _height(planned: craft.PlanRound) -> float:
    """A round is as tall as its tallest stitch; post and decrease stitches as the stitch they are made of."""
    heights = [
        HEIGHT_CHAINS[stitch]
        for name, count in planned.counts.items()
        if count
        for stitch in HEIGHT_CHAINS
        if name == stitch
        or name.removeprefix("FP").removeprefix("BP") == stitch
        or name.startswith(f"{stitch}2")
    ]
    return max(heights, default=PLAIN_HEIGHT_CHAINS)
