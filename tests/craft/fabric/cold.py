"""Everything that is worked of a text: with all shortcuts, and cold, every stitch carried out by itself."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import pytest

from server.craft.fabric import Cache, in_a_row, prove, replaying
from server.craft.fabric.faults import TooLarge
from server.craft.fabric.induction import EveryMultiple
from server.craft.fabric.keeping import Keeping
from server.craft.fabric.numbering import all_lists, counts_to_try
from server.craft.fabric.piece import Extent, PieceWorker, WorkedPiece
from server.craft.fabric.report import as_dict
from server.craft.fabric.rounds import Outcome, Task
from server.craft.fabric.working import Setting
from server.craft.text.reader import read, special_stitches
from server.craft.text.tree import Pattern, SpecialStitch

EXTENTS: tuple[Extent, ...] = ("written", "least", "more")


@dataclass(frozen=True)
class Everything:
    """A text's report and induction; and at every count and extent the piece, None where it is too large, and
    each round's outcome: its ring, its stitches with all their fields, what was done, its faults.
    """

    report: dict[str, object]
    every_multiple: EveryMultiple | None
    pieces: list[WorkedPiece | None]
    outcomes: list[Outcome]


class Noting(Keeping):
    """A keeping that notes what it gives."""

    def __init__(self, cache: Cache, pattern: Pattern, specials: Mapping[str, SpecialStitch]) -> None:
        super().__init__(cache, pattern, specials)
        self.outcomes: list[Outcome] = []

    def outcome(self, task: Task, setting: Setting) -> Outcome:
        """As kept or worked."""
        self.outcomes.append(super().outcome(task, setting))
        return self.outcomes[-1]


def worked(text: str, cache: Cache | None = None) -> Everything:
    """Proves a text, and works all of its pieces with one cache."""
    cache = cache or Cache()
    proof = prove(text, cache=cache)
    pattern = read(text).pattern
    specials, lists = special_stitches(pattern), all_lists(pattern)
    pieces: list[WorkedPiece | None] = []
    keeping = Noting(cache, pattern, specials)
    for count in counts_to_try(pattern.header) if proof.counts_tried else ():
        setting = Setting(pattern.header, count, specials, cache.stock)
        for extent in EXTENTS:
            try:
                pieces.append(PieceWorker(pattern, setting, lists, keeping, extent=extent).work())
            except TooLarge:
                pieces.append(None)
    return Everything(as_dict(proof), proof.every_multiple, pieces, keeping.outcomes)


def worked_cold(text: str) -> Everything:
    """The same without any shortcut: nothing kept, no repeat taken over, no stitches made in one go."""
    with pytest.MonkeyPatch.context() as without:
        without.setattr(Cache, "find", lambda *_: None)
        without.setattr(replaying, "replay", lambda *_: 0)
        without.setattr(replaying, "again_in_place", lambda *_: 0)
        without.setattr(in_a_row, "places_in_a_row", lambda *_: ())
        return worked(text)
