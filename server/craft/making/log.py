"""The log of a pair as values: the entries, and the state that `fold` makes of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Literal

from server.craft.fabric.values import Numbers
from server.craft.making.spots import fit_of, section_of, turn_of

TryVerdict = Literal["too long", "too short", "fits"]
Measure = Literal["width", "length"]


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of the log, as a device made it. It is never changed and never removed.

    id      made on the device, unique
    piece   0 the notebook (both pieces), 1, 2
    kind    "tried", "settled", "hook", "worked", "taken_out", "fit_ended", "fit_reopened", "counted",
            "note", "accepted", "finished", "place", "counted_in", "measured", "weighed", "hand", "gauge",
            "yarn", "left", "sampled", "felt", "ease", "undo"
    values  what that kind needs
    at      the device's clock: ISO 8601, UTC, with milliseconds
    device  which device; `order` is that device's own counter
    """

    id: str
    piece: int
    kind: str
    values: Mapping[str, Any]
    at: str
    device: str
    order: int


@dataclass(frozen=True, slots=True)
class Try:
    """A try-on of the foundation ring."""

    foundation: int
    verdict: TryVerdict
    at: str
    id: str


@dataclass(frozen=True, slots=True)
class Note:
    """A maker's note, at a round or (spot None) on the whole piece."""

    spot: str | None
    text: str
    at: str
    id: str


@dataclass(frozen=True, slots=True)
class Change:
    """Something in glove one that changed after glove two had begun.

    kind   "taken_out", "hook" or "reopened"
    spot   where: the first round taken out, the hook's round (None: from the beginning), the round worked
    count  rounds taken out, else 0
    """

    kind: Literal["taken_out", "hook", "reopened"]
    spot: str | None
    count: int
    at: str


@dataclass(frozen=True, slots=True)
class Mid:
    """Where within a round she stopped: "after the 3rd repeat".

    step    the index of the step in the round's steps, from 0; None where it was not said
    repeat  how often the round's repeat was worked; None where it was not said
    """

    spot: str
    text: str
    step: int | None = None
    repeat: int | None = None


@dataclass(frozen=True)
class Piece:
    """One piece as logged.

    numbers       the numbers it was begun in; None while nothing of it stands
    hook_mm       the hook from the beginning, mm
    hook_changes  (spot, mm) in working order: from that round on
    worked        spots of the rounds that stand, in working order
    fits_ended    rounds to fit that were ended: fit -> how many rounds it has
    notes         every note, in the order made; they survive taking out
    taken_out     (spot, rounds) of each taking out, in the order done
    counted       what she counted: spot -> US name -> count
    finished      she said so, and has not worked on or taken out since
    place         where within the round at hand she stopped; None at a round's beginning
    measures      what she measured, laid flat, mm: (what, spot) -> mm
    weights       what the piece weighed, g, with the rounds up to a spot
    """

    number: int
    numbers: Numbers | None = None
    hook_mm: float | None = None
    hook_changes: tuple[tuple[str, float], ...] = ()
    worked: tuple[str, ...] = ()
    fits_ended: dict[str, int] = field(default_factory=dict)
    notes: tuple[Note, ...] = ()
    taken_out: tuple[tuple[str, int], ...] = ()
    counted: dict[str, dict[str, int]] = field(default_factory=dict)
    finished: bool = False
    place: Mid | None = None
    measures: dict[tuple[Measure, str], float] = field(default_factory=dict)
    weights: dict[str, float] = field(default_factory=dict)

    @property
    def started(self) -> bool:
        """True as soon as a round of it stands."""
        return bool(self.worked)

    @cached_property
    def lines(self) -> dict[str, int]:
        """How many rounds stand of each line of the pattern that any stands of, in working order."""
        rounds: dict[str, int] = {}
        for line in map(fit_of, self.worked):  # which are in working order
            rounds[line] = rounds.get(line, 0) + 1
        return rounds

    @cached_property
    def highest(self) -> dict[str, int]:
        """The highest turn that stands, of the same lines."""
        return {fit_of(spot): turn_of(spot) for spot in self.worked}

    @cached_property
    def sections(self) -> frozenset[int]:
        """The sections that anything stands of."""
        return frozenset(section_of(line) for line in self.lines)


@dataclass(frozen=True, slots=True)
class Making:
    """The state of a pair: what every log of the same entries gives.

    tries         the try-ons, in the order made
    settled       the numbers she settled on last; None before
    pieces        1 and 2, always both
    accepted      keys of the differences that she meant
    changed       what changed in glove one after glove two had begun, in the order done
    notes         notes on the pair as a whole
    entries_seen  how many different entries were folded, those included that say nothing here
    """

    tries: tuple[Try, ...]
    settled: Numbers | None
    pieces: dict[int, Piece]
    accepted: frozenset[str]
    changed: tuple[Change, ...]
    notes: tuple[Note, ...]
    entries_seen: int
