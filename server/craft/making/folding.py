"""The fold: from any heap of entries to the state of a pair."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from server.craft.fabric.values import Numbers
from server.craft.making.log import Change, Entry, Making, Note, Piece, Try
from server.craft.making.spots import fit_of, is_fit, is_spot, order, turn_of

HOOK_MOST_MM = 100.0
NUMBER_MOST = 1_000_000


def fold(entries: Iterable[Entry]) -> Making:
    """The state that the entries give: the same for every order of arrival and any repetition. Never raises.

    The rules, all of them:

    1. Entries are taken in the order of (at, device, order, id). An id that comes again is the same entry;
       should two different entries bear one id, the first in that order counts, by all its fields.
    2. An undo (of an entry, by id, on whichever piece) takes that entry out of force: the state is what the
       others give, as though it had never been made. An undo is an entry and can be undone. Where it stands
       in the order does not matter, and it may arrive before what it undoes. Undos that undo each other in a
       ring do nothing.
    3. An entry of an unknown kind, for a piece that the kind does not have, or with values that cannot be is
       kept and counted, and says nothing.
    4. "settled": the last one holds. A piece keeps the numbers it was begun in: those settled when the first
       of its standing rounds was worked (or the next that are settled, where none were). They end when all
       its rounds are taken out.
    5. "worked" makes its round stand. A round that stands already is not worked twice. Rounds are listed in
       the order of the piece, whatever order they were logged in.
    6. "taken_out" takes out its round and all that stand after it in the piece, with what was counted in
       them and with the hook changes that came at them or after. Rounds to fit at that line or after it are
       open again. Where no such round stands and no such fit was ended, nothing happens. A round may be
       worked again after.
    7. Notes stay for good; undo takes a note back.
    8. "fit_ended" says how many rounds a line to fit has, never fewer than stand in it; the last one holds.
       It ends when "fit_reopened" says so, when a round of that line beyond that number is worked, or by
       rule 6.
    9. "hook" without a spot is the hook from the beginning, with one it is the hook from that round on; the
       last one for a place holds. A change to the hook that was in hand anyway is none.
    10. "counted": the last count of a name at a round holds.
    11. "finished" holds until a round is worked that did not stand, a round is taken out, or a fit is opened
        again.
    12. "accepted" holds for the difference of that key. "tried" are all kept.
    13. Once a round of glove two stands, these changes to glove one are remembered as changes: rounds taken
        out, a hook said anew for rounds that stand, a fit or a finished glove opened again.
    """
    known = _distinct(entries)
    state = _State()
    for entry in in_force(known):
        rule = _RULES.get(entry.kind)
        if rule is not None and _piece_fits(entry):
            rule(state, entry)
    return state.made(entries_seen=len(known))


def in_force(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries that count, in order: without undos and what they undo (rules 1 and 2 of `fold`)."""
    known = _distinct(entries)
    targets = {entry.id: _target(entry) for entry in known if entry.kind == "undo"}
    waiting = {entry.id: 0 for entry in known}  # undos of it that are not decided yet
    for target in targets.values():
        if target in waiting:
            waiting[target] += 1
    holds = dict.fromkeys(waiting, True)
    decided = [id_ for id_, undos in waiting.items() if undos == 0]
    for id_ in decided:  # grows: an undo is decided once every undo of it is
        target = targets.get(id_, "")
        if target in waiting:
            holds[target] = holds[target] and not holds[id_]
            waiting[target] -= 1
            if waiting[target] == 0:
                decided.append(target)
    return tuple(entry for entry in known if entry.kind != "undo" and holds[entry.id])


def _target(entry: Entry) -> str:
    values: object = entry.values  # whatever a device sent
    target = values.get("entry") if isinstance(values, Mapping) else None
    return target if isinstance(target, str) else ""


def _distinct(entries: Iterable[Entry]) -> list[Entry]:
    """Every entry once, in the order of rule 1."""

    def place_in_time(entry: Entry) -> tuple[str, str, int, str]:
        return (entry.at, entry.device, entry.order, entry.id)

    def all_of_it(entry: Entry) -> tuple[Any, ...]:
        values = json.dumps(entry.values, sort_keys=True, default=repr)
        return (*place_in_time(entry), entry.piece, entry.kind, values)

    first: dict[str, Entry] = {}
    for entry in entries:
        other = first.get(entry.id)
        if other is None or (other != entry and all_of_it(entry) < all_of_it(other)):
            first[entry.id] = entry
    return sorted(first.values(), key=place_in_time)


# --- the state while it is folded --------------------------------------------------------------------------


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
            counted={spot: self.counted[spot] for spot in sorted(self.counted, key=order)},
            finished=self.finished,
        )


@dataclass(slots=True)
class _State:
    """The pair while it is folded."""

    tries: list[Try] = field(default_factory=list)
    settled: Numbers | None = None
    hands: dict[int, _Hand] = field(default_factory=lambda: {1: _Hand(1), 2: _Hand(2)})
    accepted: set[str] = field(default_factory=set)
    changed: list[Change] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)

    def note_change(
        self, entry: Entry, kind: Literal["taken_out", "hook", "reopened"], spot: str | None, count: int = 0
    ) -> None:
        """Rule 13."""
        if entry.piece == 1 and self.hands[2].worked:
            self.changed.append(Change(kind, spot, count, entry.at))

    def made(self, entries_seen: int) -> Making:
        return Making(
            tries=tuple(self.tries),
            settled=self.settled,
            pieces={number: hand.made() for number, hand in self.hands.items()},
            accepted=frozenset(self.accepted),
            changed=tuple(self.changed),
            notes=tuple(self.notes),
            entries_seen=entries_seen,
        )


# --- one rule per kind: (state, entry); values that cannot be say nothing ----------------------------------


def _whole(value: object, least: int) -> int | None:
    """The value where it is a whole number of at least `least`."""
    if isinstance(value, int) and not isinstance(value, bool) and least <= value <= NUMBER_MOST:
        return value
    return None


def _tried(state: _State, entry: Entry) -> None:
    foundation = _whole(entry.values.get("foundation"), 1)
    verdict = entry.values.get("verdict")
    if foundation is not None and verdict in ("too long", "too short", "fits"):
        state.tries.append(Try(foundation, verdict, entry.at, entry.id))


def _settled(state: _State, entry: Entry) -> None:
    foundation, size = entry.values.get("foundation"), entry.values.get("size")
    if foundation is not None and _whole(foundation, 1) is None:
        return
    if size is not None and not isinstance(size, str):
        return
    state.settled = Numbers(foundation, size)
    for hand in state.hands.values():
        if hand.worked and hand.numbers is None:
            hand.numbers = state.settled


def _hook(state: _State, entry: Entry) -> None:
    size, spot = entry.values.get("hook_mm"), entry.values.get("spot")
    if isinstance(size, bool) or not isinstance(size, int | float) or not math.isfinite(size):
        return
    if not 0 < size <= HOOK_MOST_MM or (spot is not None and not is_spot(spot)):
        return
    hand = state.hands[entry.piece]
    before = (hand.hook_mm, hand.hook_changes())
    if spot is None:
        hand.hook_mm = float(size)
    else:
        hand.hooks[spot] = float(size)
    stands_from = spot is None or any(order(each) >= order(spot) for each in hand.worked)
    was_known = spot is not None or before[0] is not None  # a hook that is said late is no change
    if hand.worked and stands_from and was_known and before != (hand.hook_mm, hand.hook_changes()):
        state.note_change(entry, "hook", spot)


def _worked(state: _State, entry: Entry) -> None:
    spot = entry.values.get("spot")
    if not isinstance(spot, str) or not is_spot(spot):
        return
    hand = state.hands[entry.piece]
    if spot in hand.worked:
        return
    if not hand.worked:
        hand.numbers = state.settled
    hand.worked.add(spot)
    opened = turn_of(spot) > hand.fits.get(fit_of(spot), NUMBER_MOST)
    if opened:
        del hand.fits[fit_of(spot)]
    if opened or hand.finished:
        hand.finished = False
        state.note_change(entry, "reopened", spot)


def _taken_out(state: _State, entry: Entry) -> None:
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
    hand.finished = False
    if out:
        hand.taken_out.append((spot, len(out)))
        state.note_change(entry, "taken_out", spot, len(out))
    else:
        state.note_change(entry, "reopened", spot)
    if not hand.worked:
        hand.numbers = None


def _fit_ended(state: _State, entry: Entry) -> None:
    fit, rounds = entry.values.get("fit"), _whole(entry.values.get("rounds"), 1)
    if isinstance(fit, str) and is_fit(fit) and rounds is not None:
        hand = state.hands[entry.piece]
        stand = max((turn_of(spot) for spot in hand.worked if fit_of(spot) == fit), default=0)
        hand.fits[fit] = max(rounds, stand)


def _fit_reopened(state: _State, entry: Entry) -> None:
    fit = entry.values.get("fit")
    hand = state.hands[entry.piece]
    if isinstance(fit, str) and fit in hand.fits:
        state.note_change(entry, "reopened", f"{fit}.{hand.fits[fit]}")
        del hand.fits[fit]
        hand.finished = False


def _counted(state: _State, entry: Entry) -> None:
    spot, name = entry.values.get("spot"), entry.values.get("name")
    count = _whole(entry.values.get("count"), 0)
    if isinstance(spot, str) and is_spot(spot) and isinstance(name, str) and name and count is not None:
        state.hands[entry.piece].counted.setdefault(spot, {})[name] = count


def _note(state: _State, entry: Entry) -> None:
    spot, text = entry.values.get("spot"), entry.values.get("text")
    if isinstance(text, str) and text.strip() and (spot is None or is_spot(spot)):
        notes = state.notes if entry.piece == 0 else state.hands[entry.piece].notes
        notes.append(Note(spot, text, entry.at, entry.id))


def _accepted(state: _State, entry: Entry) -> None:
    key = entry.values.get("difference")
    if isinstance(key, str) and key:
        state.accepted.add(key)


def _finished(state: _State, entry: Entry) -> None:
    state.hands[entry.piece].finished = True


_RULES: dict[str, Callable[[_State, Entry], None]] = {
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
}
_ON_THE_PAIR = frozenset({"tried", "settled", "accepted", "note"})
_ON_A_PIECE = frozenset(_RULES) - {"tried", "settled"}


def _piece_fits(entry: Entry) -> bool:
    """Whether the kind can be said of that piece (rule 3). An acceptance may be said at any of them."""
    values: object = entry.values  # whatever a device sent
    if not isinstance(values, Mapping):
        return False
    return entry.kind in (_ON_A_PIECE if entry.piece in (1, 2) else _ON_THE_PAIR if entry.piece == 0 else ())
