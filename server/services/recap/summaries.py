"""What one maker made of a part, in a few numbers, from her log through the fold.

The log only grows, so that a summary holds as long as it has no more entries: it is kept by their number and
the last of their ids, and a page of a thousand makers reads anew only those who went on. What is folded for
one page is bounded (`MAKERS_MOST`).
"""

from __future__ import annotations

import json
from collections import OrderedDict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from threading import Lock
from typing import Any, NamedTuple

from sqlmodel import Session

from server.craft.fabric.values import Numbers
from server.craft.making import Entry, Making, Piece, fold, in_force
from server.craft.making.pairshape import Shape, shapes
from server.craft.making.planning import plan
from server.craft.making.shapes import Plan
from server.craft.making.spots import fit_of
from server.craft.making.standing import fit_as_made
from server.craft.measure.hands import sized_hand
from server.craft.text import read
from server.craft.text.printer import round_words
from server.craft.text.tree import Pattern, RoundLine
from server.storage import statements

MAKERS_MOST = 1000  # the latest who began; folding one costs about as much as showing her working page
KEPT_MOST = 8192
MM_PER_10_CM = 100.0
Values = Mapping[str, Any]
PROJECTS = """
SELECT p.id, p.notebook_id, count(e.id), coalesce(max(e.id), '') FROM project p
LEFT JOIN entry e ON e.project_id = p.id
WHERE p.part_id = ? AND p.pattern_version_id = ? GROUP BY p.id ORDER BY p.id DESC LIMIT ?
"""


@dataclass(frozen=True)
class Summary:
    """What a maker made. Of the first piece, unless it says else.

    foundation, size  what she settled on; both None before
    hook_mm           the hook that she began with; None where she did not write it down
    fits              rounds in each line to fit that she is through with: "0.3" -> 6
    lines             lines that she has or had rounds of, in either piece
    went_back         lines that she took rounds out from, in either piece
    wider             her width over the width by the pattern's gauge; None where nothing was measured
    grams             what the finished pieces weigh, all of them; None where not weighed
    finished          how many pieces are finished
    hand_mm           around her hand, measured or by its size; None where she said neither
    swatch            stitches to 10 cm of her swatch; None where she made none
    """

    notebook_id: int
    foundation: int | None
    size: str | None
    hook_mm: float | None
    fits: Mapping[str, int]
    lines: frozenset[str]
    went_back: frozenset[str]
    wider: float | None
    grams: float | None
    finished: int
    hand_mm: float | None = None
    swatch: float | None = None


class _Project(NamedTuple):
    id: int
    notebook_id: int
    entries: int
    last_id: str


class _Kept:
    """The summaries that were made last."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._summaries: OrderedDict[tuple[_Project, int], Summary] = OrderedDict()

    def of(self, project: _Project, version_id: int, make: Callable[[], Summary]) -> Summary:
        with self._lock:
            found = self._summaries.get((project, version_id))
            if found is not None:
                self._summaries.move_to_end((project, version_id))
                return found
        made = make()
        with self._lock:
            self._summaries[project, version_id] = made
            while len(self._summaries) > KEPT_MOST:
                self._summaries.popitem(last=False)
        return made


_KEPT = _Kept()


def summaries(session: Session, part_id: int, version_id: int, text: str) -> tuple[Summary, ...]:
    """Of all who are on that version and have settled on numbers, those who began first first."""
    found = statements.rows(session, PROJECTS, (part_id, version_id, MAKERS_MOST))
    projects = [_Project(*row) for row in reversed(found) if row[2]]
    every = [_KEPT.of(each, version_id, partial(_summary, session, each, text)) for each in projects]
    return tuple(each for each in every if each.foundation is not None or each.size is not None)


def _summary(session: Session, project: _Project, text: str) -> Summary:
    rows = statements.log_rows(session, project.id)
    entries = [
        Entry(row.id, row.piece, row.kind, json.loads(row.values_json), row.at, row.device, row.device_order)
        for row in rows
    ]
    told = {entry.kind: entry.values for entry in in_force(entries) if entry.kind in ("hand", "gauge")}
    return summary_of(fold(entries), project.notebook_id, text, told)


def summary_of(making: Making, notebook_id: int, text: str, told: Mapping[str, Values]) -> Summary:
    """The numbers of one maker's state, on this text of the pattern; told: the last of what she said of her
    hand and her gauge."""
    pattern = pattern_of(text)
    one, pieces = making.pieces[1], tuple(making.pieces.values())
    numbers = one.numbers or making.settled or Numbers(None)
    worked = Numbers(numbers.foundation, numbers.size)
    aside = plan_of(text, worked).aside if one.worked else frozenset()
    to_fit = {fit_of(spot) for spot in one.worked} | set(one.fits_ended)
    fits = {line: fit_as_made(one, line, aside) for line in to_fit & fit_lines(text)}
    return Summary(
        notebook_id=notebook_id,
        foundation=numbers.foundation,
        size=numbers.size,
        hook_mm=one.hook_mm,
        fits={line: rounds for line, rounds in fits.items() if rounds is not None},
        lines=frozenset(fit_of(spot) for piece in pieces for spot in piece.worked) | _went_back(pieces),
        went_back=_went_back(pieces),
        wider=_wider(one, text, worked),
        grams=_grams(pieces, pattern.header.pieces == "pair"),
        finished=sum(piece.finished for piece in pieces),
        hand_mm=_hand_mm(told.get("hand", {})),
        swatch=_swatch(told.get("gauge", {})),
    )


def _hand_mm(said: Values) -> float | None:
    """A hand known by its owner's age or by nothing says little of her: it is left out."""
    around, size = said.get("around_mm"), said.get("size")
    if isinstance(around, int | float) and not isinstance(around, bool):
        return float(around)
    try:
        return sized_hand(size).around_mm if isinstance(size, str) else None
    except ValueError:
        return None


def _swatch(said: Values) -> float | None:
    stitches, over_mm = said.get("stitches"), said.get("over_mm")
    if isinstance(stitches, int | float) and isinstance(over_mm, int | float) and over_mm > 0:
        return stitches / over_mm * MM_PER_10_CM
    return None


def _went_back(pieces: Sequence[Piece]) -> frozenset[str]:
    return frozenset(fit_of(spot) for piece in pieces for spot, _ in piece.taken_out)


def _wider(piece: Piece, text: str, numbers: Numbers) -> float | None:
    """The mean over the rounds that were measured."""
    measured = {spot: mm for (what, spot), mm in piece.measures.items() if what == "width"}
    if not measured or pattern_of(text).header.gauge is None:
        return None
    by_gauge = {band.spot: band.width_mm for band in shape_of(text, numbers).all_bands}
    ratios = [mm / by_gauge[spot] for spot, mm in measured.items() if by_gauge.get(spot)]
    return sum(ratios) / len(ratios) if ratios else None


def _grams(pieces: Sequence[Piece], is_pair: bool) -> float | None:
    """Both pieces, or twice the one that was weighed; only what was weighed when it was whole."""
    wanted = pieces if is_pair else pieces[:1]
    whole = [
        piece.weights[piece.worked[-1]]
        for piece in wanted
        if piece.finished and piece.worked and piece.worked[-1] in piece.weights
    ]
    return sum(whole) * len(wanted) / len(whole) if whole else None


@lru_cache(maxsize=64)
def pattern_of(text: str) -> Pattern:
    """A published text as read."""
    return read(text).pattern


@lru_cache(maxsize=256)
def plan_of(text: str, numbers: Numbers) -> Plan:
    """The plan in these numbers, in US terms."""
    return plan(pattern_of(text), numbers)


@lru_cache(maxsize=256)
def shape_of(text: str, numbers: Numbers) -> Shape:
    """The piece in these numbers by the pattern's own gauge."""
    return shapes(pattern_of(text), fold(()), {1: plan_of(text, numbers)})[1]


class WrittenLine(NamedTuple):
    """A round line in words: its section, its label ("Rnds 3 to 7 (7, 8)", "" for none), and until where it
    is worked where the maker decides that."""

    section: str
    label: str
    until: str | None


@lru_cache(maxsize=64)
def fit_lines(text: str) -> frozenset[str]:
    """The lines to fit: "0.3"."""
    return frozenset(line for line, written in lines_of(text).items() if written.until)


@lru_cache(maxsize=64)
def lines_of(text: str) -> dict[str, WrittenLine]:
    """Address of each round line -> its words, in working order."""
    pattern = pattern_of(text)
    found: dict[str, WrittenLine] = {}
    for at, section in enumerate(pattern.sections):
        rounds = [line for line in section.lines if isinstance(line, RoundLine)]
        for number, line in enumerate(rounds):
            until = line.label.until if line.label is not None else None
            label = round_words(pattern, line, pattern.header.terms).label
            label = label.removesuffix(f", or to {until}") if until else label
            found[f"{at}.{number}"] = WrittenLine(section.title, label, until)
    return found
