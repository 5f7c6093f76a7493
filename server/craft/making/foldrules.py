"""The rules of the fold, one function per kind of entry, on the state while it is folded.

`fold` says in words what each of them does. Values that cannot be say nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from server.craft.fabric.values import Numbers
from server.craft.making.log import Change, Entry, Making, Measure, Mid, Note, Piece, Try
from server.craft.making.spots import fit_of, is_fit, is_spot, order, turn_of

HOOK_MOST_MM = 100.0
NUMBER_MOST = 1_000_000
LINE_MOST = 400  # rounds of one line that can be counted in; the engine works no more
PLACE_MOST = 200  # characters
MEASURE_MOST_MM = 3000.0
WEIGHT_MOST_G = 5000.0


@dataclass(slots=True)
class _Hand:
    """One piece while it is folded."""

    number: int
    numbers: Numbers | None = None
    hook_mm: float | None = None
    hooks: dict[str, float] = field(default_factory=dict)
    worked: set[str] = field(default_factory=set)
    fits: dict[str, int] = field(default_factory=dict)
    notes: list[Note] = field(default_factory=list)
    taken_out: list[tuple[str, int]] = field(default_factory=list)
    counted: dict[str, dict[str, int]] = field(default_factory=dict)
    finished: bool = False
    place: Mid | None = None
    measures: dict[tuple[str, Measure], float] = field(default_factory=dict)
    weights: dict[str, float] = field(default_factory=dict)

    def hook_changes(self) -> tuple[tuple[str, float], ...]:
        """The changes in working order, without those to the hook in hand (rule 9)."""
        changes: list[tuple[str, float]] = []
        in_hand = self.hook_mm
        for spot in sorted(self.hooks, key=order):
            if self.hooks[spot] != in_hand:
                in_hand = self.hooks[spot]
                changes.append((spot, in_hand))
        return tuple(changes)

    def made(self) -> Piece:
        return Piece(
            number=self.number,
            numbers=self.numbers,
            hook_mm=self.hook_mm,
            hook_changes=self.hook_changes(),
            worked=tuple(sorted(self.worked, key=order)),
            fits_ended={fit: self.fits[fit] for fit in sorted(self.fits, key=order)},
            notes=tuple(self.notes),
            taken_out=tuple(self.taken_out),
            counted={spot: dict(self.counted[spot]) for spot in sorted(self.counted, key=order)},
            finished=self.finished,
            place=self.place,
            measures={
                (what, spot): self.measures[spot, what]
                for spot, what in sorted(self.measures, key=lambda each: (order(each[0]), each[1]))
            },
            weights={spot: self.weights[spot] for spot in sorted(self.weights, key=order)},
        )


@dataclass(slots=True)
class State:
    """The pair while it is folded."""

    tries: list[Try] = field(default_factory=list)
    settled: Numbers | None = None
    hands: dict[int, _Hand] = field(default_factory=lambda: {1: _Hand(1), 2: _Hand(2)})
    accepted: set[str] = field(default_factory=set)
    changed: list[Change] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    steps: int = 0  # entries folded after the first lot

    def note_change(
        self, entry: Entry, kind: Literal["taken_out", "hook", "reopened"], spot: str | None, count: int = 0
    ) -> None:
        """Rule 13."""
        if entry.piece == 1 and self.hands[2].worked:
            self.changed.append(Change(kind, spot, count, entry.at))

    def made(self, entries_seen: int, same: Mapping[int, Piece] | None = None) -> Making:
        """The pair as folded. `same` has the pieces that are known to be made up already."""
        same = same or {}
        return Making(
            tries=tuple(self.tries),
            settled=self.settled,
            pieces={number: same.get(number) or hand.made() for number, hand in self.hands.items()},
            accepted=frozenset(self.accepted),
            changed=tuple(self.changed),
            notes=tuple(self.notes),
            entries_seen=entries_seen,
        )


# --- one rule per kind: (state, entry) ---------------------------------------------------------------------


def _whole(value: object, least: int) -> int | None:
    """The value where it is a whole number of at least `least`."""
    if isinstance(value, int) and not isinstance(value, bool) and least <= value <= NUMBER_MOST:
        return value
    return None


def _size(value: object, most: float) -> float | None:
    """The value where it is a number above 0 and at most `most`."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value) if 0 < value <= most else None  # no NaN, no infinity, no integer beyond a float


def _tried(state: State, entry: Entry) -> None:
    foundation = _whole(entry.values.get("foundation"), 1)
    verdict = entry.values.get("verdict")
    if foundation is not None and verdict in ("too long", "too short", "fits"):
        state.tries.append(Try(foundation, verdict, entry.at, entry.id))


def _settled(state: State, entry: Entry) -> None:
    foundation, size = entry.values.get("foundation"), entry.values.get("size")
    if foundation is not None and _whole(foundation, 1) is None:
        return
    if size is not None and not isinstance(size, str):
        return
    state.settled = Numbers(foundation, size)
    for hand in state.hands.values():
        if hand.worked and hand.numbers is None:
            hand.numbers = state.settled


def _hook(state: State, entry: Entry) -> None:
    size, spot = _size(entry.values.get("hook_mm"), HOOK_MOST_MM), entry.values.get("spot")
    if size is None or (spot is not None and not is_spot(spot)):
        return
    hand = state.hands[entry.piece]
    before = (hand.hook_mm, hand.hook_changes())
    if spot is None:
        hand.hook_mm = size
    else:
        hand.hooks[spot] = size
    stands_from = spot is None or any(order(each) >= order(spot) for each in hand.worked)
    was_known = spot is not None or before[0] is not None  # a hook that is said late is no change
    if hand.worked and stands_from and was_known and before != (hand.hook_mm, hand.hook_changes()):
        state.note_change(entry, "hook", spot)


def _worked(state: State, entry: Entry) -> None:
    spot = entry.values.get("spot")
    if isinstance(spot, str) and is_spot(spot):
        _stand(state, entry, spot)


def _stand(state: State, entry: Entry, spot: str) -> None:
    """Makes a round stand (rule 5)."""
    hand = state.hands[entry.piece]
    if spot in hand.worked:
        return
    if not hand.worked:
        hand.numbers = state.settled
    hand.worked.add(spot)
    if hand.place is not None and hand.place.spot == spot:
        hand.place = None
    opened = turn_of(spot) > hand.fits.get(fit_of(spot), NUMBER_MOST)
    if opened:
        del hand.fits[fit_of(spot)]
    if opened or hand.finished:
        hand.finished = False
        state.note_change(entry, "reopened", spot)


def _taken_out(state: State, entry: Entry) -> None:
    spot = entry.values.get("spot")
    if not isinstance(spot, str) or not is_spot(spot):
        return
    hand = state.hands[entry.piece]
    out = {each for each in hand.worked if order(each) >= order(spot)}
    opened = {fit for fit in hand.fits if order(fit) >= order(fit_of(spot))}
    if not out and not opened:
        return
    hand.worked -= out
    hand.fits = {fit: rounds for fit, rounds in hand.fits.items() if fit not in opened}
    hand.hooks = {at: size for at, size in hand.hooks.items() if order(at) < order(spot)}
    hand.counted = {at: counts for at, counts in hand.counted.items() if order(at) < order(spot)}
    hand.measures = {(at, what): mm for (at, what), mm in hand.measures.items() if order(at) < order(spot)}
    hand.weights = {at: grams for at, grams in hand.weights.items() if order(at) < order(spot)}
    if hand.place is not None and order(hand.place.spot) >= order(spot):
        hand.place = None
    hand.finished = False
    if out:
        hand.taken_out.append((spot, len(out)))
        state.note_change(entry, "taken_out", spot, len(out))
    else:
        state.note_change(entry, "reopened", spot)
    if not hand.worked:
        hand.numbers = None


def _fit_ended(state: State, entry: Entry) -> None:
    fit, rounds = entry.values.get("fit"), _whole(entry.values.get("rounds"), 1)
    if isinstance(fit, str) and is_fit(fit) and rounds is not None:
        _end(state.hands[entry.piece], fit, rounds)


def _end(hand: _Hand, fit: str, rounds: int) -> None:
    """Ends a line to fit (rule 8)."""
    stand = max((turn_of(spot) for spot in hand.worked if fit_of(spot) == fit), default=0)
    hand.fits[fit] = max(rounds, stand)


def _fit_reopened(state: State, entry: Entry) -> None:
    fit = entry.values.get("fit")
    hand = state.hands[entry.piece]
    if isinstance(fit, str) and fit in hand.fits:
        state.note_change(entry, "reopened", f"{fit}.{hand.fits[fit]}")
        del hand.fits[fit]
        hand.finished = False


def _counted(state: State, entry: Entry) -> None:
    spot, name = entry.values.get("spot"), entry.values.get("name")
    count = _whole(entry.values.get("count"), 0)
    if isinstance(spot, str) and is_spot(spot) and isinstance(name, str) and name and count is not None:
        state.hands[entry.piece].counted.setdefault(spot, {})[name] = count


def _note(state: State, entry: Entry) -> None:
    spot, text = entry.values.get("spot"), entry.values.get("text")
    if isinstance(text, str) and text.strip() and (spot is None or is_spot(spot)):
        notes = state.notes if entry.piece == 0 else state.hands[entry.piece].notes
        notes.append(Note(spot, text, entry.at, entry.id))


def _accepted(state: State, entry: Entry) -> None:
    key = entry.values.get("difference")
    if isinstance(key, str) and key:
        state.accepted.add(key)


def _finished(state: State, entry: Entry) -> None:
    state.hands[entry.piece].finished = True


def _place(state: State, entry: Entry) -> None:
    spot, text = entry.values.get("spot"), entry.values.get("text")
    step, repeat = entry.values.get("step"), entry.values.get("repeat")
    if not isinstance(spot, str) or not is_spot(spot):
        return
    if not isinstance(text, str) or not 1 <= len(text) <= PLACE_MOST:
        return
    if any(each is not None and _whole(each, 0) is None for each in (step, repeat)):
        return
    hand = state.hands[entry.piece]
    if spot not in hand.worked:
        hand.place = Mid(spot, text, step, repeat)


def _counted_in(state: State, entry: Entry) -> None:
    rounds, ended = entry.values.get("rounds"), entry.values.get("ended")
    if not isinstance(rounds, Mapping) or not isinstance(ended, list | tuple):
        return
    lines: dict[str, int] = {}
    for line, told in rounds.items():
        many = _whole(told, 1)
        if not is_fit(line) or many is None or many > LINE_MOST:
            return
        lines[line] = many
    if any(not isinstance(fit, str) or fit not in lines for fit in ended):
        return
    for line in sorted(lines, key=order):
        for turn in range(1, lines[line] + 1):
            _stand(state, entry, f"{line}.{turn}")
    for fit in ended:
        _end(state.hands[entry.piece], fit, lines[fit])


def _measured(state: State, entry: Entry) -> None:
    what, spot = entry.values.get("what"), entry.values.get("spot")
    mm = _size(entry.values.get("mm"), MEASURE_MOST_MM)
    if what in ("width", "length") and isinstance(spot, str) and is_spot(spot) and mm is not None:
        state.hands[entry.piece].measures[spot, what] = mm


def _weighed(state: State, entry: Entry) -> None:
    spot, grams = entry.values.get("spot"), _size(entry.values.get("grams"), WEIGHT_MOST_G)
    if isinstance(spot, str) and is_spot(spot) and grams is not None:
        state.hands[entry.piece].weights[spot] = grams


RULES: dict[str, Callable[[State, Entry], None]] = {
    "tried": _tried,
    "settled": _settled,
    "hook": _hook,
    "worked": _worked,
    "taken_out": _taken_out,
    "fit_ended": _fit_ended,
    "fit_reopened": _fit_reopened,
    "counted": _counted,
    "note": _note,
    "accepted": _accepted,
    "finished": _finished,
    "place": _place,
    "counted_in": _counted_in,
    "measured": _measured,
    "weighed": _weighed,
}
_ON_THE_PAIR = frozenset({"tried", "settled", "accepted", "note"})
_ON_A_PIECE = frozenset(RULES) - {"tried", "settled"}


def touched(entry: Entry) -> frozenset[int]:
    """The pieces that the rule of an entry may change."""
    return frozenset((1, 2)) if entry.kind == "settled" else frozenset((entry.piece,)) & {1, 2}


def piece_fits(entry: Entry) -> bool:
    """Whether the kind can be said of that piece (rule 3). An acceptance may be said at any of them."""
    values: object = entry.values  # whatever a device sent
    if not isinstance(values, Mapping):
        return False
    return entry.kind in (_ON_A_PIECE if entry.piece in (1, 2) else _ON_THE_PAIR if entry.piece == 0 else ())
