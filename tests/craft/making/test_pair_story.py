"""A pair from the first try-on to the verdict, on a pattern's text and the real engine."""

from __future__ import annotations

from typing import Any

from server.craft.making import Place, Verdict, as_made, fold, next_try, piece_plan, place, verdict
from server.craft.text import read
from tests.craft.making.entries import log
from tests.craft.making.slipway import TEXT

PATTERN = read(TEXT).pattern


class Maker:
    """Logs what she does, and reads what her page would show."""

    def __init__(self) -> None:
        self.told: list[tuple[str, int, dict[str, Any]]] = []

    def say(self, kind: str, piece: int = 0, **values: Any) -> None:
        self.told.append((kind, piece, values))

    def place(self, piece: int) -> Place:
        making = fold(log(*self.told))
        return place(piece_plan(PATTERN, making, piece), making, piece)

    def verdict(self) -> Verdict:
        return verdict(PATTERN, fold(log(*self.told)))

    def work(self, piece: int, rounds: int = 1) -> None:
        """Works the rounds that are shown next."""
        for _ in range(rounds):
            here = self.place(piece)
            assert here.round is not None
            self.say("worked", piece, spot=here.round.spot)

    def end(self, piece: int) -> None:
        here = self.place(piece)
        assert here.can_end is not None
        self.say("fit_ended", piece, fit=here.can_end.fit, rounds=here.in_fit)

    def finish(self, piece: int) -> None:
        """Works on to the end as shown, ending lines to fit as soon as glove one did, or as written."""
        while (here := self.place(piece)).kind not in ("finish", "finished"):
            if here.kind == "end fit" or (here.can_end is not None and here.in_fit >= here.can_end.written):
                self.end(piece)
            else:
                self.work(piece)
        self.say("finished", piece)


def test_a_pair() -> None:
    ida = Maker()
    ida.say("tried", foundation=36, verdict="too long")
    tried = next_try(36, "too long", 4, 0)
    ida.say("tried", foundation=tried, verdict="fits")
    ida.say("settled", foundation=tried, size=None)  # 32, which is also the large size's number
    ida.say("hook", 1, hook_mm=5, spot=None)

    # glove one: five rounds to fit where the pattern has five at 32, one taken out again, one more: five
    first = ida.place(1)
    assert first.round is not None
    assert first.round.steps == ("Ch 32", "Join with sl st in first ch to form a ring")
    ida.work(1, 3)
    assert ida.place(1).can_end is None
    ida.work(1, 5)
    here = ida.place(1)
    assert here.can_end is not None
    assert (here.in_fit, here.can_end.written) == (5, 5)
    assert here.round is not None
    assert here.round.label == "Rnd 8"
    ida.work(1)
    ida.say("taken_out", 1, spot=here.round.spot)
    ida.end(1)
    gap = ida.place(1).round
    assert gap is not None
    assert (gap.section_title, gap.count_text) == ("Thumb gap", "7 Perches, 1 ch-7 sp")
    ida.say("note", 1, spot=gap.spot, text="the gap sits well")
    ida.finish(1)
    assert ida.place(1).kind == "finished"
    assert ida.verdict().state == "no second piece yet"

    # glove two: shown what glove one did, stopped where it ended
    ida.say("hook", 2, hook_mm=5, spot=None)
    ida.work(2, 8)
    stopped = ida.place(2)
    assert (stopped.kind, stopped.in_fit) == ("end fit", 5)
    assert ida.verdict().state == "twin so far"

    # she goes on all the same: named at once, and mended by taking it out
    ida.work(2)
    (more,) = ida.verdict().differences
    assert more.what == "Glove one had 5 rounds here; this is the 6th. Take it out, or note that it is meant."
    assert more.mend == "Take out 1 round of the Cuff."
    ida.say("taken_out", 2, spot=more.take_out)
    assert ida.verdict().differences == ()
    ida.end(2)

    here = ida.place(2)
    assert here.round is not None
    shown = as_made(PATTERN, fold(log(*ida.told)), here.round.spot)
    assert shown.says == ("Your note at glove one: the gap sits well",)
    ida.finish(2)
    found = ida.verdict()
    assert found.state == "twins"
    assert {row.state for row in found.sections} == {"same"}
    rows = {row.section_title: (row.one, row.two) for row in found.sections}
    assert rows["Foundation"] == ("32 chains", "32 chains")
    assert rows["Cuff"] == ("7 rounds", "7 rounds")
    assert rows["Thumb gap: its place"] == ("above 7 rounds", "above 7 rounds")
