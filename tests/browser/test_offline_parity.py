"""The browser's fold, place and words are the server's: the same state and the same view for random logs, of
pairs and single pieces, from chains and from a ring, in rounds, spirals and rows."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from server.craft.making import Entry, Making, Numbers, Piece, fold
from server.craft.making.pace import pace
from server.craft.text.tree import Pattern, RoundLine
from server.services import notebooks
from server.services.notebooks import Desk, HookChoice, Log, Logged, TakeOut
from server.services.notebooks.carrying import carried, entry_values
from server.services.notebooks.desk import Terms, Version, Wording, read_pattern
from server.services.notebooks.working import FitNow
from server.web.maker.strips import strip
from server.web.maker.working import count_names
from tests.browser.conftest import OpenPage
from tests.services.story import CROWN, NOW, SLIPWAY

CASES = Path(__file__).parents[1] / "cases" / "proved"
LOGS_EACH = 30
ENTRIES_MOST = 90
PATTERNS = {
    "the demo's pair": SLIPWAY,
    "one piece from a ring": CROWN,
    **{
        name: (CASES / f"{name}.txt").read_text()
        for name in (
            "anchor-watch-spiral-mittens", "corded-row-cuffs", "cormorant-gusset-wristers",
            "fairweather-uk-mitts", "ferry-fsc-mitts", "headland-chevron-scarf", "duckling-booties",
        )
    },
}  # fmt: skip
DEVICES = ("phone", "tablet")
PLAIN = ("measured", "weighed") + ("worked",) * 12 + ("fit_ended",) * 3 + ("counted",) * 2 + (
    "taken_out", "hook", "note", "fit_reopened", "accepted", "finished", "undo", "place", "counted_in",
    "measured", "weighed", "settled", "tried", "from the future", "nonsense",
)  # fmt: skip

JS = """async ([carried, logs]) => {
  const { fold } = await import("/static/js/notebook/fold.js");
  const { viewOf } = await import("/static/js/notebook/view.js");
  const plain = (value) => {
    if (value instanceof Map) return Object.fromEntries([...value].map(([key, each]) => [key, plain(each)]));
    if (value instanceof Set) return [...value].sort();
    if (Array.isArray(value)) return value.map(plain);
    if (value && typeof value === "object") {
      return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, plain(each)]));
    }
    return value;
  };
  return logs.map(({ entries, carried }) => {
    const making = fold(entries);
    const views = Object.keys(carried.names).map((piece) => viewOf(carried, entries, making, Number(piece)));
    return { making: plain(making), views };
  });
}"""


# --- the same in Python ------------------------------------------------------------------------------------


def state_of(making: Making) -> dict[str, Any]:
    """The state as the browser has it."""
    return {
        "tries": [
            {"foundation": t.foundation, "verdict": t.verdict, "at": t.at, "id": t.id} for t in making.tries
        ],
        "settled": numbers_of(making.settled),
        "pieces": {str(number): piece_of(piece) for number, piece in making.pieces.items()},
        "accepted": sorted(making.accepted),
        "changed": [{"kind": c.kind, "spot": c.spot, "count": c.count, "at": c.at} for c in making.changed],
        "notes": [{"spot": n.spot, "text": n.text, "at": n.at, "id": n.id} for n in making.notes],
        "entriesSeen": making.entries_seen,
    }


def numbers_of(numbers: Numbers | None) -> dict[str, Any] | None:
    return None if numbers is None else {"foundation": numbers.foundation, "size": numbers.size}


def piece_of(piece: Piece) -> dict[str, Any]:
    mid = piece.place
    return {
        "number": piece.number,
        "numbers": numbers_of(piece.numbers),
        "hookMm": piece.hook_mm,
        "hookChanges": [list(each) for each in piece.hook_changes],
        "worked": list(piece.worked),
        "fitsEnded": piece.fits_ended,
        "notes": [{"spot": n.spot, "text": n.text, "at": n.at, "id": n.id} for n in piece.notes],
        "takenOut": [list(each) for each in piece.taken_out],
        "counted": piece.counted,
        "finished": piece.finished,
        "place": mid and {"spot": mid.spot, "text": mid.text, "step": mid.step, "repeat": mid.repeat},
        "measures": {f"{what}@{spot}": mm for (what, spot), mm in piece.measures.items()},
        "weights": piece.weights,
    }


def view_of(desk: Desk, piece: int) -> dict[str, Any] | None:
    """The view as the browser has it, from the working page's own matter."""
    if desk.making.pieces[piece].numbers is None and desk.making.settled is None:
        return None
    view = notebooks.working(desk, piece)
    place, own = view.place, desk.making.pieces[piece]
    at, section = place.round, place.section
    pace_now = pace((logged.entry for logged in desk.log), piece)
    full = desk.wording == "full"
    return {
        "piece": piece,
        "name": view.name,
        "kind": place.kind,
        "section": {
            "index": section.index, "title": section.title, "purpose": section.purpose,
            "ends": list(section.ends),
        },
        "word": view.word,
        "number": view.number,
        "label": at.label if at else "",
        "spot": at.spot if at else None,
        "steps": list(view.steps),
        "count": view.count,
        "repeats": at.repeats if at else 0,
        "repeatStep": (at.full_repeat_step if full else at.repeat_step) if at else None,
        "lead": list(section.notes) if at and at == section.rounds[0] else [],
        "hostNotes": list(at.notes) if at else [],
        "then": list(section.ends) if at and at == section.rounds[-1] and not at.fit else [],
        "fit": fit_of(view.fit),
        "done": view.done,
        "toGo": view.to_go,
        "asMade": list(view.as_made),
        "atRound": view.at_round and {
            "twin": view.at_round.state == "twin so far", "headline": view.at_round.headline,
            "before": list(view.at_round.before),
        },
        "notes": [note.text for note in view.notes],
        "mid": piece_of(own)["place"] if own.place and at and own.place.spot == at.spot else None,
        "counted": [{"label": c.label, "words": c.words, "agrees": c.agrees} for c in view.counted],
        "departures": [
            {
                "key": d.difference.key, "kind": d.difference.kind, "words": d.difference.what,
                "mend": d.difference.mend, "one": d.difference.one, "two": d.difference.two,
                "section": d.difference.section_title, "takeOut": out_of(d.take_out), "goOn": d.go_on,
            }
            for d in view.departures
        ],
        "meant": [
            f"{d.section_title}, {d.one} in {notebooks.noun(desk)} one, {d.two} in {notebooks.noun(desk)} two"
            for d in view.meant
        ],
        "changed": list(view.changed),
        "takeOuts": [out_of(each) for each in view.take_outs],
        "reopen": fit_of(view.reopen),
        "hook": hook_of(view.hook),
        "otherHook": hook_of(view.other_hook),
        "undo": {"id": view.undo.entry.id, "words": view.undo_words} if view.undo else None,
        "since": pace_now.since,
        "secondsPerRound": pace_now.seconds_per_round,
        "ahead": [{"spot": each.spot, "label": each.label} for each in view.ahead],
        "redo": {"id": view.redo.entry.id, "words": view.redo_words} if view.redo else None,
        "stops": [{"text": m.text, "step": m.step, "repeat": m.repeat} for m in view.stops],
        "strip": [
            {"label": each.label, "state": each.state, "other": each.other} for each in strip(desk, piece)
        ],
        "before": view.before and {
            "spot": view.before.spot, "label": view.before.label, "section": view.before.section_title,
            "count": view.before.full_count if full else view.before.count_text,
        },
        "countable": [list(each) for each in count_names(view, desk.terms)],
    }  # fmt: skip


def fit_of(fit: FitNow | None) -> dict[str, Any] | None:
    return None if fit is None else {
        "fit": fit.fit, "until": fit.until, "done": fit.done, "other": fit.other, "canEnd": fit.can_end,
    }  # fmt: skip


def out_of(out: TakeOut | None) -> dict[str, Any] | None:
    return (
        None
        if out is None
        else {"spot": out.spot, "rounds": out.rounds, "words": out.words, "backTo": out.back_to}
    )


def hook_of(hook: HookChoice | None) -> dict[str, Any] | None:
    return None if hook is None else {"mm": hook.hook_mm, "words": hook.words}


# --- random logs -------------------------------------------------------------------------------------------


class Doings:
    """A maker at random, mostly sensible: what she logs fits where she is, and now and then it does not."""

    def __init__(self, text: str, draw: random.Random) -> None:
        self.draw = draw
        self.entries: list[Entry] = []
        self.pattern = read_pattern(text)
        version = Version(1, 1, text)
        terms: Terms = draw.choice(("US", "UK"))
        wording: Wording = draw.choice(("short", "full"))
        self.desk = Desk(
            1,
            "Ida",
            terms,
            draw.choice(("cm", "in")),
            wording,
            "Lamp evenings",
            1,
            "Wristers",
            version,
            version,
            1,
            Log(),
        )
        self.at = NOW

    def log(self, most: int) -> Desk:
        """So many entries, and what her desk is then."""
        if self.draw.random() < 0.95:
            self.add("settled", 0, numbers_of(numbers_in(self.pattern, self.draw)) or {})
        piece = 1
        for _ in range(self.draw.randrange(most)):
            if self.desk.is_pair and self.draw.random() < 0.04:
                piece = 3 - piece
            kind = self.draw.choice(PLAIN)
            self.add(kind, 0 if kind in ("settled", "tried", "accepted") else piece, self.values(kind, piece))
        if self.desk.is_pair and self.draw.random() < 0.4:
            self.measure_twins()
        return self.desk

    def measure_twins(self) -> None:
        """Glove two gets the rounds of glove one, and both are measured at some of them."""
        for spot in self.desk.making.pieces[1].worked:
            self.add("worked", 2, {"spot": spot})
        for spot in self.desk.making.pieces[2].worked:
            for kind in ("measured", "measured", "weighed"):
                for piece in (1, 2) if self.draw.random() < 0.4 else ():
                    self.add(kind, piece, {**self.values(kind, piece), "spot": spot})

    def add(self, kind: str, piece: int, values: Mapping[str, Any]) -> None:
        self.at += timedelta(milliseconds=self.draw.choice((0, 1, 240_000, 300_000, 900_000, 9_000_000)))
        number = len(self.entries)
        device = self.draw.choice(DEVICES)
        at = self.at - timedelta(minutes=self.draw.choice((0, 0, 0, 0, 0, 7)))
        self.entries.append(Entry(f"entry-{number:04}", piece, kind, values, iso(at), device, number))
        logged = sorted(self.entries, key=lambda each: (each.at, each.device, each.order, each.id))
        self.desk = replace(self.desk, written=Log(tuple(Logged(each, self.at) for each in logged)))

    def values(self, kind: str, piece: int) -> Mapping[str, Any]:
        return VALUES[kind](self, piece) if kind in VALUES else {"more": 1}

    def spot(self, piece: int) -> str:
        """A round that stands, the one at hand, or any other address."""
        making = self.desk.making
        worked = making.pieces[piece].worked
        if making.settled is None or self.draw.random() < 0.1:
            lines = [
                f"{section}.{line}"
                for section, each in enumerate(self.pattern.sections)
                for line, _ in enumerate(one for one in each.lines if isinstance(one, RoundLine))
            ]
            return f"{self.draw.choice(lines)}.{self.draw.randint(1, 9)}"
        place = self.desk.place(piece)
        if place.round is not None and (not worked or self.draw.random() < 0.6):
            return place.round.spot
        return self.draw.choice(worked) if worked else "0.0.1"

    def next_spot(self, piece: int) -> str:
        if self.desk.making.settled is None or self.draw.random() < 0.06:
            return self.spot(piece)
        place = self.desk.place(piece)
        return place.round.spot if place.round else self.spot(piece)

    def fit(self, piece: int) -> tuple[str, int]:
        if self.desk.making.settled is None:
            return "0.3", 4
        fits = self.desk.plan(piece).fits
        place = self.desk.place(piece)
        if place.can_end is not None:
            return place.can_end.fit, max(place.in_fit, 1)
        return (self.draw.choice(fits).fit if fits else "0.0"), self.draw.randint(1, 9)

    def name(self, spot: str) -> str:
        planned = self.desk.plan(1).round_at(spot) if self.desk.making.settled else None
        names = [*planned.counts] if planned else []
        return self.draw.choice([*names, "sts", "Perch", "zaps"])

    def difference(self) -> str:
        if self.desk.making.settled is None or not self.desk.verdict.differences:
            return "hook/0.0.1/5/6"
        return self.draw.choice(self.desk.verdict.differences).key

    def lines_counted_in(self, piece: int) -> dict[str, Any]:
        fits = [fit.fit for fit in self.desk.plan(piece).fits] if self.desk.making.settled else []
        lines = {f"{line.spot.rpartition('.')[0]}": 1 for line in self._rounds(piece)[:3]}
        ended = [fit for fit in fits if self.draw.random() < 0.5]
        lines |= {fit: self.draw.randint(1, 6) for fit in ended}
        return {"rounds": lines, "ended": ended}

    def _rounds(self, piece: int) -> Sequence[Any]:
        return self.desk.plan(piece).rounds if self.desk.making.settled else ()


def iso(moment: datetime) -> str:
    return moment.isoformat(timespec="milliseconds").replace("+00:00", "Z")


def numbers_in(pattern: Pattern, draw: random.Random) -> Numbers:
    header = pattern.header
    at = draw.randrange(max(len(header.foundations), len(header.sizes), 1))
    return Numbers(
        header.foundations[at] if header.foundations else None, header.sizes[at] if header.sizes else None
    )


def _counted(doings: Doings, piece: int) -> dict[str, Any]:
    spot = doings.spot(piece)
    return {"spot": spot, "name": doings.name(spot), "count": doings.draw.choice((0, 1, 7, 8, 24, 28, 32))}


def _fit_ended(doings: Doings, piece: int) -> dict[str, Any]:
    fit, rounds = doings.fit(piece)
    return {"fit": fit, "rounds": rounds}


VALUES: Mapping[str, Callable[[Doings, int], Mapping[str, Any]]] = {
    "worked": lambda self, piece: {"spot": self.next_spot(piece)},
    "taken_out": lambda self, piece: {"spot": self.spot(piece)},
    "settled": lambda self, piece: numbers_of(numbers_in(self.pattern, self.draw)) or {},
    "tried": lambda self, piece: {"foundation": self.draw.randint(1, 40), "verdict": self.draw.choice(
        ("too long", "too short", "fits", "odd"))},
    "hook": lambda self, piece: {"hook_mm": self.draw.choice((5, 4.5, 4.25, 3.3)),
                                 "spot": self.draw.choice((None, self.spot(piece)))},
    "fit_ended": _fit_ended,
    "fit_reopened": lambda self, piece: {"fit": self.fit(piece)[0]},
    "counted": _counted,
    "note": lambda self, piece: {"spot": self.draw.choice((None, self.spot(piece))),
                                 "text": self.draw.choice(("loose here", " ", "ä 🧶 \"quoted\""))},
    "accepted": lambda self, piece: {"difference": self.difference()},
    "finished": lambda self, piece: {},
    "undo": lambda self, piece: {"entry": self.draw.choice(self.entries).id if self.entries else "none"},
    "place": lambda self, piece: {"spot": self.spot(piece), "text": "after the 3rd repeat",
                                  "step": self.draw.choice((None, 2)), "repeat": self.draw.choice((3, None))},
    "counted_in": lambda self, piece: self.lines_counted_in(piece),
    "measured": lambda self, piece: {"what": self.draw.choice(("width", "length")), "spot": self.spot(piece),
                                     "mm": self.draw.choice((90, 92.5, 97.25, 104, -1))},
    "weighed": lambda self, piece: {"spot": self.spot(piece), "grams": self.draw.choice((10, 20.25, 35.75))},
    "nonsense": lambda self, piece: {"spot": None, "rounds": None},
}  # fmt: skip


def desks(text: str, seed: str) -> Iterator[Desk]:
    draw = random.Random(seed)
    for _ in range(LOGS_EACH):
        yield Doings(text, draw).log(draw.choice((6, 30, ENTRIES_MOST)))


@pytest.mark.parametrize("name", PATTERNS)
def test_the_same_state_and_the_same_words(open_page: OpenPage, name: str) -> None:
    page = open_page()
    page.goto("/join")
    differences = set()
    for desk in desks(PATTERNS[name], name):
        same_on_both_sides(page, desk)
        if desk.is_pair and desk.making.settled is not None:
            differences |= {each.kind for each in desk.verdict.differences}
    if PATTERNS[name] == SLIPWAY:  # what was compared had all of it
        assert differences >= {"foundation", "hook", "rounds", "count", "width", "length", "weight"}


def same_on_both_sides(page: Page, desk: Desk) -> None:
    entries = [each.entry for each in desk.log]
    shuffled = random.Random(len(entries)).sample(entries, len(entries))
    told = json.loads(json.dumps(carried(desk).values))
    sent = [entry_values(each) for each in shuffled + shuffled[:3]]
    (there,) = page.evaluate(JS, [None, [{"entries": sent, "carried": told}]])
    assert there["making"] == state_of(fold(entries))
    for piece, view in zip(desk.pieces, there["views"], strict=True):
        here = view_of(desk, piece)
        if here is None or view is None:
            assert view == here
            continue
        to_count = view.pop("toCount")
        planned = desk.place(piece).round
        assert [each["name"] for each in to_count] == [i.name for i in planned.to_count] if planned else True
        assert ", ".join(each["words"] for each in to_count) == here["count"]
        for each in view["strip"]:
            assert desk.plan(piece).round_at(each.pop("spot")) is not None
        if view["before"]:
            assert ", ".join(i["words"] for i in view["before"].pop("toCount")) == view["before"]["count"]
        assert lines(view) == lines(here)


def lines(view: Mapping[str, Any]) -> list[str]:
    """The view, one field or list item a line, so that a difference shows where it is."""
    told: list[str] = []
    for key, value in sorted(view.items()):
        items = value if isinstance(value, list) and value else [value]
        told += [f"{key}: {json.dumps(plain(item), sort_keys=True, ensure_ascii=False)}" for item in items]
    return told


def plain(value: Any) -> Any:
    """The value as JSON has it in a browser, where 540.0 is 540."""
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, dict):
        return {key: plain(each) for key, each in value.items()}
    return [plain(each) for each in value] if isinstance(value, list | tuple) else value
