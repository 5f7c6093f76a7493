"""The working page's matter: one round in her numbers, what glove one did there, and what can be done
about it.
"""

from __future__ import annotations

from dataclasses import dataclass

from server.craft import making as craft
from server.craft.making import spots
from server.craft.making.standing import is_foundation
from server.craft.making.twinwords import shown
from server.services.notebooks import fitshapes
from server.services.notebooks.countingin import Ahead, ahead
from server.services.notebooks.desk import Desk, piece_name
from server.services.notebooks.finding import likely_misses
from server.services.notebooks.logbook import last_entry, taken_back
from server.services.notebooks.logs import Logged
from server.services.notebooks.numbers import HookChoice, hook_choice


@dataclass(frozen=True)
class TakeOut:
    """Taking out from a round on: how many rounds that is, and the words for the first of them and for
    what stays.
    """

    spot: str
    rounds: int
    words: str
    back_to: str


@dataclass(frozen=True)
class FitNow:
    """The rounds to fit that she is in.

    done     rounds of it that stand here
    other    rounds that glove one has of it, once it ended there; None at glove one
    can_end  it may end now
    """

    fit: str
    until: str
    done: int
    other: int | None
    can_end: bool


@dataclass(frozen=True)
class Departure:
    """A difference with what mends it at a press, where something does: rounds taken out, or going on."""

    difference: craft.Difference
    take_out: TakeOut | None
    go_on: str | None


@dataclass(frozen=True)
class Counted:
    """What she counted at a round, beside what there should be; `likely`: the slips that explain a wrong
    count.
    """

    label: str
    words: str
    agrees: bool
    likely: tuple[craft.Miss, ...]


@dataclass(frozen=True)
class Working:
    """One piece as it lies in her hands.

    done, to_go    rounds that stand, and that are still planned; the foundation is not counted as one
    word, number   the round's label in two: "Rnd" and "4"; word is empty where it has no number
    steps, count   of the round at hand, as she reads them: abbreviated or in full words; empty without one
    mid, stops     where within the round at hand she stopped, and every place where she could
    pace           how long a round takes her, and since when the last one stands
    at_round       of glove two: whether it is a twin up to this round, and what to heed before working it
    ahead          the rounds that can be logged at once
    redo           the undo she made last, which can be undone in its turn; redo_words: what it took back
    """

    piece: int
    name: str
    place: craft.Place
    done: int
    to_go: int
    word: str
    number: str
    steps: tuple[str, ...]
    count: str
    fit: FitNow | None
    as_made: tuple[str, ...]
    at_round: craft.RoundVerdict | None
    departures: tuple[Departure, ...]
    meant: tuple[craft.Difference, ...]
    changed: tuple[str, ...]
    notes: tuple[craft.Note, ...]
    counted: tuple[Counted, ...]
    before: craft.PlanRound | None
    take_outs: tuple[TakeOut, ...]
    reopen: FitNow | None
    hook: HookChoice | None
    other_hook: HookChoice | None
    undo: Logged | None
    undo_words: str
    mid: craft.Mid | None
    stops: tuple[craft.Mid, ...]
    pace: craft.Pace
    ahead: tuple[Ahead, ...]
    redo: Logged | None
    redo_words: str


def working(desk: Desk, piece: int) -> Working:
    """The working page's matter for a piece; her numbers must be settled."""
    place = desk.place(piece)
    own = desk.making.pieces[piece]
    before = desk.plan(piece).round_at(own.worked[-1]) if own.worked else None
    word, number = _round_words(place)
    foundation = {each.spot for each in desk.plan(piece).rounds if is_foundation(each)}
    undo = last_entry(desk, piece)
    redo, back = taken_back(desk, piece) or (None, None)
    verdict = desk.verdict if piece == 2 or desk.is_pair else None
    here = place.round.spot if place.round else None
    return Working(
        piece=piece,
        name=piece_name(desk, piece),
        place=place,
        done=sum(1 for spot in own.worked if spot not in foundation),
        to_go=place.to_go - len(foundation - set(own.worked)),
        word=word,
        number=number,
        steps=_steps(desk, place.round),
        count=_count(desk, place.round),
        fit=_fit_now(desk, piece, place),
        as_made=_as_made(desk, here) if piece == 2 and here else (),
        at_round=desk.verdict_at(here) if piece == 2 and here else None,
        departures=departures(desk) if piece == 2 else (),
        meant=tuple(each for each in verdict.differences if each.accepted) if verdict and piece == 2 else (),
        changed=verdict.changed if verdict else (),
        notes=tuple(note for note in own.notes if note.spot == here),
        counted=tuple(_counted(desk, piece, before)) + tuple(_counted(desk, piece, place.round)),
        before=before,
        take_outs=take_outs(desk, piece),
        reopen=_reopen(desk, piece, place),
        hook=_hook_at(own, here),
        other_hook=_hook_at(desk.making.pieces[1], here) if piece == 2 else None,
        undo=undo,
        undo_words=entry_words(desk, undo) if undo else "",
        mid=own.place if own.place and own.place.spot == here else None,
        stops=craft.stops(place.round, full=desk.wording == "full") if place.round else (),
        pace=craft.pace((logged.entry for logged in desk.log), piece),
        ahead=ahead(desk, piece),
        redo=redo,
        redo_words=_redo_words(desk, back) if back else "",
    )


def departures(desk: Desk) -> tuple[Departure, ...]:
    """Every difference that she has not said is meant, with its mend."""
    return tuple(_departure(desk, each) for each in desk.verdict.differences if not each.accepted)


def take_outs(desk: Desk, piece: int) -> tuple[TakeOut, ...]:
    """All the ways to take rounds out: one, two, and so on back to nothing."""
    worked = desk.making.pieces[piece].worked
    return tuple(_take_out(desk, piece, spot) for spot in reversed(worked))


def round_name(desk: Desk, piece: int, spot: str) -> str:
    """ "Cuff, Rnd 4", as it stands in that piece."""
    planned = desk.plan(piece).round_at(spot)
    if planned is None:  # more rounds to fit than the piece has now: the round was taken out since
        sections = desk.plan(piece).sections
        index = spots.section_of(spot)
        where = f"{sections[index].title}, " if index < len(sections) else ""
        return f"{where}a round that is out"
    return f"{planned.section_title}, {planned.label}" if planned.label else planned.section_title


def entry_words(desk: Desk, logged: Logged) -> str:
    """An entry in a few words, such as "Cuff, Rnd 4 logged"."""
    entry = logged.entry
    values = entry.values
    spot = values.get("spot")
    at = round_name(desk, entry.piece, str(spot)) if spot and entry.piece else ""
    words = {
        "worked": f"{at} logged",
        "taken_out": f"taken out back to before {at}",
        "hook": f"hook {float(values.get('hook_mm', 0)):g} mm" + (f" from {at}" if at else ""),
        "fit_ended": _ended_words(desk, entry) if entry.kind == "fit_ended" else "",
        "fit_reopened": "section gone on with",
        "counted": f"count at {at}",
        "note": f"note at {at}" if at else "note",
        "finished": f"{piece_name(desk, entry.piece)} finished" if entry.piece else "finished",
        "place": f"stopped in {at}",
        "counted_in": "rounds counted in",
        "measured": f"measured at {at}",
        "weighed": f"weighed at {at}",
    }
    return words.get(entry.kind) or fitshapes.words(entry.kind, values)


def _redo_words(desk: Desk, back: Logged) -> str:
    """What was taken back. A round that two devices logged, not knowing of each other, still stands."""
    words = entry_words(desk, back)
    worked = desk.making.pieces[back.entry.piece].worked
    twice = back.entry.kind == "worked" and back.entry.values.get("spot") in worked
    return f"{words}. It was logged twice and is still there" if twice else words


def _ended_words(desk: Desk, entry: craft.Entry) -> str:
    """By the last round's name, as the strip counts the whole section and the part to fit may be less."""
    rounds = int(entry.values.get("rounds", 0))
    planned = desk.plan(entry.piece).round_at(f"{entry.values.get('fit')}.{rounds}") if entry.piece else None
    if planned is None or not planned.label:
        return f"section ended after {rounds_words(rounds)}"
    return f"ended after {planned.section_title}, {planned.label}"


def rounds_words(number: int) -> str:
    """ "1 round", "6 rounds" """
    return "1 round" if number == 1 else f"{number} rounds"


def _round_words(place: craft.Place) -> tuple[str, str]:
    if place.round is None:
        return "", ""
    word, _, number = place.round.label.rpartition(" ")
    return (word, number) if number.isdigit() else ("", place.round.label or place.section.title)


def _steps(desk: Desk, planned: craft.PlanRound | None) -> tuple[str, ...]:
    if planned is None:
        return ()
    return planned.full_steps if desk.wording == "full" else planned.steps


def _count(desk: Desk, planned: craft.PlanRound | None) -> str:
    if planned is None:
        return ""
    return planned.full_count if desk.wording == "full" else planned.count_text


def _as_made(desk: Desk, spot: str) -> tuple[str, ...]:
    """What glove one did at a round, in sentences; there is always at least one."""
    made = desk.as_made(spot)
    says = list(made.says)
    if not made.worked and not says:
        says.append(f"{piece_name(desk, 1)} has not come to this round.")
    elif made.worked and not (made.counted or made.notes or made.hook_new or made.measured):
        says.append("Worked, nothing noted at it.")
    if made.worked and made.hook_mm is not None and not any("hook" in words for words in says):
        says.append(f"Hook {hook_choice(made.hook_mm).words}.")
    return tuple(says)


def _fit_now(desk: Desk, piece: int, place: craft.Place) -> FitNow | None:
    fit = place.can_end.fit if place.can_end else place.round.fit if place.round else None
    planned = desk.plan(piece).fit_at(fit) if fit else None
    if fit is None or planned is None:
        return None
    return FitNow(
        fit=fit,
        until=planned.until,
        done=_rounds_of(desk.making.pieces[piece], fit),
        other=_ended_at(desk.making.pieces[1], fit) if piece == 2 else None,
        can_end=place.can_end is not None,
    )


def _rounds_of(piece: craft.Piece, fit: str) -> int:
    return sum(1 for spot in piece.worked if spots.fit_of(spot) == fit)


def _ended_at(piece: craft.Piece, fit: str) -> int | None:
    return _rounds_of(piece, fit) if fit in piece.fits_ended else None


def _departure(desk: Desk, difference: craft.Difference) -> Departure:
    one, two = desk.making.pieces[1], desk.making.pieces[2]
    if difference.take_out is not None and difference.take_out in two.worked:
        return Departure(difference, _take_out(desk, 2, difference.take_out), None)
    fit = spots.fit_of(difference.spot) if difference.kind == "rounds" and difference.spot else ""
    ended_early = fit in two.fits_ended and _rounds_of(two, fit) < _rounds_of(one, fit)
    return Departure(difference, None, fit if ended_early else None)


def _take_out(desk: Desk, piece: int, spot: str) -> TakeOut:
    worked = desk.making.pieces[piece].worked
    place = worked.index(spot)
    rounds = len(worked) - place
    back = round_name(desk, piece, worked[place - 1]) if place else "the beginning"
    return TakeOut(spot, rounds, round_name(desk, piece, spot), back)


def _reopen(desk: Desk, piece: int, place: craft.Place) -> FitNow | None:
    """The rounds to fit that ended last, while nothing is worked after them: she may still go on with
    them.
    """
    own = desk.making.pieces[piece]
    if not own.worked:
        return None
    fit = spots.fit_of(own.worked[-1])
    planned = desk.plan(piece).fit_at(fit)
    if fit not in own.fits_ended or planned is None or own.finished:
        return None
    return FitNow(fit, planned.until, _rounds_of(own, fit), None, can_end=False)


def _hook_at(piece: craft.Piece, spot: str | None) -> HookChoice | None:
    size = piece.hook_mm
    for changed, size_mm in piece.hook_changes:
        if spot is None or spots.order(changed) <= spots.order(spot):
            size = size_mm
    return hook_choice(size) if size is not None else None


def _counted(desk: Desk, piece: int, planned: craft.PlanRound | None) -> list[Counted]:
    if planned is None:
        return []
    said = []
    for name, count in desk.making.pieces[piece].counted.get(planned.spot, {}).items():
        should = planned.counts.get(name)
        agrees = should is None or should == count
        words = f"You counted {shown(name, count, desk.terms)}"
        if should is None:
            words += "."
        elif agrees:
            words += ": as it should be."
        else:
            off = f"{abs(count - should)} {'missing' if count < should else 'too many'}"
            words += f"; there should be {should}: {off}."
        slips = () if agrees else likely_misses(desk, piece, planned.spot, name, count)
        said.append(Counted(planned.label or planned.section_title, words, agrees, slips))
    return said
