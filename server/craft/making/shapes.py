"""A maker's plan as values: the rounds of one piece in her own numbers and terms."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from server.craft.fabric.values import Numbers
from server.craft.making.spots import fit_of
from server.craft.text.tree import SectionKind, Terms


@dataclass(frozen=True, slots=True)
class CountItem:
    """One thing to count at a round's end.

    name    its US name, as the fabric and the log have it ("dc", "V-st", "ch-1 sp", "sts")
    count   how many there should be
    words   the same in her terms: "8 V-sts"
    """

    name: str
    count: int
    words: str


@dataclass(frozen=True, slots=True)
class PlanRound:
    """One round to make.

    spot           its address "section.line.turn"
    section        index of its section
    section_title  the section's title
    label          "Rnd 3", numbered on where a section to fit took more or fewer rounds than written
    host_line      the round as the host wrote it
    line           the round in one line, in her numbers and terms
    steps          the same, one thing to do after another
    full_steps     the steps in full words
    counts         everything the round has, by US names
    count_text     what to count at its end: "8 V-sts, 8 ch-1 sps"
    full_count     the same in full words: "8 V-stitches, 8 chain-1 spaces"
    to_count       the same, item by item
    stitches       all that the hook makes in it, chains included
    fit            "section.line" where the round belongs to rounds to fit, else None
    notes          the host's notes that stand after it
    repeats        how often its first repeat is worked, as the steps say it ("7 times: …"); 0 for none
    repeat_step    the index of that step in `steps`, and in `full_steps`; None for none
    """

    spot: str
    section: int
    section_title: str
    label: str
    host_line: str
    line: str
    steps: tuple[str, ...]
    counts: dict[str, int]
    count_text: str
    to_count: tuple[CountItem, ...]
    stitches: int
    fit: str | None = None
    notes: tuple[str, ...] = ()
    full_steps: tuple[str, ...] = ()
    full_count: str = ""
    repeats: int = 0
    repeat_step: int | None = None
    full_repeat_step: int | None = None


@dataclass(frozen=True, slots=True)
class Fit:
    """Rounds to fit: the same round until the piece reaches a place on her.

    fit      its address "section.line"
    until    the place: "the base of the thumb"
    least    the fewest rounds it may have
    written  how many the pattern has at her size
    rounds   how many this plan has
    """

    fit: str
    until: str
    least: int
    written: int
    rounds: int


@dataclass(frozen=True, slots=True)
class PlanSection:
    """A section of the plan: `ends` its endings ("Fasten off."), `notes` the notes before its first round."""

    index: int
    title: str
    purpose: str
    kind: SectionKind
    rounds: tuple[PlanRound, ...]
    fits: tuple[Fit, ...]
    ends: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class Plan:
    """One piece in a maker's own numbers, from the first chain to the last end."""

    title: str
    pieces: Literal["pair", "one"]
    numbers: Numbers
    terms: Terms
    sections: tuple[PlanSection, ...]

    @cached_property
    def rounds(self) -> tuple[PlanRound, ...]:
        """Every round in working order."""
        return tuple(round_ for section in self.sections for round_ in section.rounds)

    @cached_property
    def fits(self) -> tuple[Fit, ...]:
        """Every line of rounds to fit, in working order."""
        return tuple(fit for section in self.sections for fit in section.fits)

    def round_at(self, spot: str) -> PlanRound | None:
        """The round at a spot; None where this plan has none there."""
        return self._by_spot.get(spot)

    @cached_property
    def aside(self) -> frozenset[int]:
        """Sections worked into an edge, of the foundation or of a gap: they may be made at any time, so that
        a round of theirs does not tell that what comes before them in the pattern is done.
        """
        return frozenset(
            section.index for section in self.sections if section.kind in ("foundation edge", "gap edge")
        )

    @cached_property
    def lines(self) -> dict[str, tuple[PlanRound, ...]]:
        """The rounds of each line of the pattern, in working order."""
        found: dict[str, list[PlanRound]] = {}
        for round_ in self.rounds:
            found.setdefault(fit_of(round_.spot), []).append(round_)
        return {line: tuple(rounds) for line, rounds in found.items()}

    @cached_property
    def _by_spot(self) -> dict[str, PlanRound]:
        return {round_.spot: round_ for round_ in reversed(self.rounds)}

    def fit_at(self, fit: str) -> Fit | None:
        """The rounds to fit at an address "section.line"; None where there are none."""
        return next((each for each in self.fits if each.fit == fit), None)
