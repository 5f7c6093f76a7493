"""The fold: from any heap of entries to the state of a pair."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from server.craft.making.foldrules import RULES, State, piece_fits, touched
from server.craft.making.log import Entry, Making

PlaceInTime = tuple[str, str, int, str]
NOTHING: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Folding:
    """A log folded, that can go on from where it is, once: what comes after is folded into the same state.

    making   what `fold` gives of its entries, for good
    """

    making: Making
    _state: State
    _step: int
    _last: PlaceInTime
    _undone: frozenset[str]  # ids that an undo names, whether they have come or not

    def with_entry(self, entry: Entry) -> Folding | None:
        """The folding of its entries and this one, whose id is none of theirs.

        None where the entry does not simply come after all the others: it stands before one of them, is an
        undo, or was undone before it came; and where this folding has gone on already. Then all have to be
        folded anew.
        """
        now = place_in_time(entry)
        state = self._state
        if now <= self._last or entry.kind == "undo" or entry.id in self._undone or self._step != state.steps:
            return None
        state.steps += 1
        changing = NOTHING
        rule = RULES.get(entry.kind)
        if rule is not None and piece_fits(entry):
            changing = touched(entry)
            rule(state, entry)
        same = {number: made for number, made in self.making.pieces.items() if number not in changing}
        making = state.made(self.making.entries_seen + 1, same)
        return Folding(making, state, state.steps, now, self._undone)


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
    6. "taken_out" takes out its round and all that stand after it in the piece, with what was counted,
       measured and weighed there or after, with the hook changes that came there or after, and with the
       place within a round there or after. Rounds to fit at that line or after it are open again. Where no
       such round stands and no such fit was ended, nothing happens. A round may be worked again after.
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
    14. "place" says where within a round that is not worked yet she stopped: {spot, text, step, repeat}, a
        text of 1 to 200 characters, step and repeat whole and not negative, or none. The last one holds. It
        ends when that round is worked, or by rule 6. At a round that stands already it says nothing.
    15. "counted_in" is {rounds: {"section.line": n}, ended: ["section.line", …]}: the turns 1 to n of each of
        these lines are worked (rule 5), one by one in the order of the piece; then each line in `ended` is
        ended with its n (rule 8). n is 1 to 400, and a line in `ended` is one of `rounds`: where anything of
        it cannot be, the whole says nothing.
    16. "measured" is {what: "width" or "length", mm, spot}: laid flat, the width across at that round (half
        the way around), or the length from the foundation edge to that round's end; above 0, at most
        3000 mm. The last one for what and spot holds, until rule 6.
    17. "weighed" is {grams, spot}: what the piece weighs with the rounds up to and with that one; above 0, at
        most 5000 g. The last one for a spot holds, until rule 6.
    18. "hand", "gauge", "yarn", "left", "sampled", "felt" and "ease" are about fit and yarn (what they hold
        is in the rules for entries): they are kept and counted, and say nothing of the rounds.
    """
    return folding(entries).making


def folding(entries: Iterable[Entry]) -> Folding:
    """`fold`, in a form that goes on with entries that come later."""
    known = _distinct(entries)
    state = State()
    for entry in in_force(known):
        rule = RULES.get(entry.kind)
        if rule is not None and piece_fits(entry):
            rule(state, entry)
    return Folding(
        state.made(entries_seen=len(known)),
        state,
        state.steps,
        place_in_time(known[-1]) if known else ("", "", 0, ""),
        frozenset(_target(entry) for entry in known if entry.kind == "undo"),
    )


def place_in_time(entry: Entry) -> PlaceInTime:
    """What entries are sorted by (rule 1 of `fold`)."""
    return (entry.at, entry.device, entry.order, entry.id)


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

    def all_of_it(entry: Entry) -> tuple[Any, ...]:
        values = json.dumps(entry.values, sort_keys=True, default=repr)
        return (*place_in_time(entry), entry.piece, entry.kind, values)

    first: dict[str, Entry] = {}
    for entry in entries:
        other = first.get(entry.id)
        if other is None or (other != entry and all_of_it(entry) < all_of_it(other)):
            first[entry.id] = entry
    return sorted(first.values(), key=place_in_time)
