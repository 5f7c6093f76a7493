"""What an entry of the log may hold: one rule per kind. A rule returns the values as they are stored, or
refuses.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from server.craft.fabric.numbering import is_allowed
from server.craft.text.tree import Number, Pattern, Plain, RoundLine, SizeList
from server.services.errors import Refusal
from server.services.notebooks import fitshapes
from server.services.notebooks.figures import Values, decimal, hook_mm, whole

FOUNDATION_MOST = 1000  # chains; the longest blanket round that anyone works in one ring is below it
ROUNDS_MOST = 300  # in a line to fit; the engine works 400 at most
COUNT_MOST = 5000
NOTE_MOST = 1000  # characters
PLACE_MOST = 200  # characters
LINES_MOST = 200  # lines that one entry can count in; no pattern has as many
LENGTH_MOST_MM = 3000.0  # the widest or longest piece that is measured across a table
WEIGHT_MOST_G = 5000.0
ENTRY_ID = re.compile(r"[A-Za-z0-9_.-]{8,64}")
SPOT = re.compile(r"(\d{1,3})\.(\d{1,3})\.(\d{1,3})")
FIT = re.compile(r"(\d{1,3})\.(\d{1,3})")
TRY_VERDICTS = ("too long", "too short", "fits")


@dataclass(frozen=True)
class NewEntry:
    """An entry that is to be logged. `id` was made where it was logged, so that sending it twice logs it
    once.
    """

    id: str
    piece: int
    kind: str
    values: Values


def checked(new: NewEntry, pattern: Pattern) -> NewEntry:
    """The entry with its values as they are stored; Refusal where it could not be true of this pattern."""
    if not ENTRY_ID.fullmatch(new.id):
        raise Refusal("Open the page again and do it once more: this form was incomplete.")
    rule = RULES.get(new.kind)
    if rule is None:
        raise Refusal(f"The log has no entry of the kind {new.kind[:40]}.")
    pieces = {0} if new.kind in SHARED else set(range(1, 3 if pattern.header.pieces == "pair" else 2))
    if new.kind == "undo" or new.kind == "note":
        pieces |= {0}
    if new.piece not in pieces:
        raise Refusal("This part has no such piece." if new.piece > 0 else "Say which piece this is about.")
    values = rule(new.values, pattern)
    if not all(_is_text(str(value)) for value in values.values()):
        raise Refusal("Part of this is no character that could be written down.")
    return NewEntry(new.id, new.piece, new.kind, values)


def _is_text(value: str) -> bool:
    """False where there is half a character in it, which no file could hold."""
    try:
        value.encode()
    except UnicodeEncodeError:
        return False
    return True


def fit_of(spot: str) -> str:
    """The rounds-to-fit line that a spot would belong to: "1.3" for "1.3.2"."""
    return spot.rpartition(".")[0]


def _round_line(pattern: Pattern, section: int, line: int) -> RoundLine | None:
    if section >= len(pattern.sections):
        return None
    lines = [each for each in pattern.sections[section].lines if isinstance(each, RoundLine)]
    return lines[line] if line < len(lines) else None


def _spot(values: Values, pattern: Pattern) -> str:
    found = SPOT.fullmatch(str(values.get("spot", "")))
    if found:
        section, line, turn = (int(part) for part in found.groups())
        if 1 <= turn <= ROUNDS_MOST and _round_line(pattern, section, line) is not None:
            return f"{section}.{line}.{turn}"
    raise Refusal("This version of the pattern has no such round.", "spot")


def _spot_or_none(values: Values, pattern: Pattern) -> str | None:
    return None if values.get("spot") in (None, "") else _spot(values, pattern)


def _fit(values: Values, pattern: Pattern) -> str:
    found = FIT.fullmatch(str(values.get("fit", "")))
    if found:
        section, line = (int(part) for part in found.groups())
        written = _round_line(pattern, section, line)
        if written is not None and written.label is not None and written.label.until is not None:
            return f"{section}.{line}"
    raise Refusal("This version of the pattern has no such rounds to fit.", "fit")


def _tried(values: Values, pattern: Pattern) -> Values:
    verdict = values.get("verdict")
    if verdict not in TRY_VERDICTS:
        raise Refusal("Say whether the ring was too long, too short, or fits.", "verdict")
    chains = whole(values, "foundation", 1, FOUNDATION_MOST, "The foundation chain")
    by_mm = fitshapes.by_how_much(values)
    if by_mm is None or verdict == "fits":
        return {"foundation": chains, "verdict": verdict}
    return {"foundation": chains, "verdict": verdict, "by_mm": by_mm}


def _settled(values: Values, pattern: Pattern) -> Values:
    size = values.get("size") or None
    if size is not None and size not in pattern.header.sizes:
        named = ", ".join(pattern.header.sizes)
        raise Refusal(f"This pattern has no size of that name. Its sizes: {named}.", "size")
    if not pattern.header.foundations:  # it starts from a ring: the size is all there is to choose
        if size is None and pattern.header.sizes:
            raise Refusal("Choose one of the sizes.", "size")
        return {"foundation": None, "size": size}
    foundation = whole(values, "foundation", 1, FOUNDATION_MOST, "The foundation chain")
    if not is_allowed(pattern.header, foundation):
        raise Refusal(f"This pattern is not made over {foundation} chains.", "foundation")
    return {"foundation": foundation, "size": size}


def _hook(values: Values, pattern: Pattern) -> Values:
    return {"hook_mm": hook_mm(values.get("hook_mm", "")), "spot": _spot_or_none(values, pattern)}


def _at_spot(values: Values, pattern: Pattern) -> Values:
    return {"spot": _spot(values, pattern)}


def _fit_ended(values: Values, pattern: Pattern) -> Values:
    return {
        "fit": _fit(values, pattern),
        "rounds": whole(values, "rounds", 1, ROUNDS_MOST, "The number of rounds"),
    }


def _fit_reopened(values: Values, pattern: Pattern) -> Values:
    return {"fit": _fit(values, pattern)}


def _counted(values: Values, pattern: Pattern) -> Values:
    name = " ".join(str(values.get("name", "")).split())
    if not 1 <= len(name) <= 40:
        raise Refusal("Say what you counted.", "name")
    return {
        "spot": _spot(values, pattern),
        "name": name,
        "count": whole(values, "count", 0, COUNT_MOST, "A count"),
    }


def _note(values: Values, pattern: Pattern) -> Values:
    typed = str(values.get("text", "")).replace("\r\n", "\n").replace("\r", "\n")
    text = "".join(c for c in typed if c in "\n\t" or unicodedata.category(c) not in ("Cc", "Cs")).strip()
    if not text:
        raise Refusal("Write the note first.", "text")
    if len(text) > NOTE_MOST:
        raise Refusal(f"{len(text)} characters; a note holds {NOTE_MOST}. Make two notes of it.", "text")
    return {"spot": _spot_or_none(values, pattern), "text": text}


def _place(values: Values, pattern: Pattern) -> Values:
    typed = " ".join(str(values.get("text", "")).split())
    text = "".join(c for c in typed if unicodedata.category(c) not in ("Cc", "Cs"))
    if not 1 <= len(text) <= PLACE_MOST:
        raise Refusal(f"Say where in the round you stopped, in 1 to {PLACE_MOST} characters.", "text")
    return {
        "spot": _spot(values, pattern),
        "text": text,
        "step": _whole_or_none(values, "step", "The step"),
        "repeat": _whole_or_none(values, "repeat", "The repeat"),
    }


def _whole_or_none(values: Values, key: str, what: str) -> int | None:
    return None if values.get(key) in (None, "") else whole(values, key, 0, COUNT_MOST, what)


def _counted_in(values: Values, pattern: Pattern) -> Values:
    told, ended = values.get("rounds"), values.get("ended") or []
    if (
        not isinstance(told, Mapping)
        or not isinstance(ended, list | tuple)
        or not 0 < len(told) <= LINES_MOST
    ):
        raise Refusal("Say how many rounds the piece has.", "rounds")
    rounds = {}
    for line in told:
        found = FIT.fullmatch(str(line))
        written = _round_line(pattern, int(found[1]), int(found[2])) if found else None
        if found is None or written is None:
            raise Refusal("This version of the pattern has no such rounds.", "rounds")
        address = f"{int(found[1])}.{int(found[2])}"
        rounds[address] = whole(told, line, 1, _most_rounds(written), "The number of rounds")
    fits = [_fit({"fit": fit}, pattern) for fit in ended]
    if any(fit not in rounds for fit in fits):
        raise Refusal("Say how many rounds the section has that is ended.", "ended")
    return {"rounds": rounds, "ended": fits}


def _most_rounds(line: RoundLine) -> int:
    """The most rounds of a line in any size; of one to fit as many as the log takes."""
    label = line.label
    if label is None or label.last is None:
        return ROUNDS_MOST if label is not None and label.until is not None else 1
    first, last = _values(label.first), _values(label.last)
    if label.until is not None or not first or not last:
        return ROUNDS_MOST
    return max(max(last) - min(first) + 1, 1)


def _values(number: Number) -> tuple[int, ...]:
    """What a number may be in any size; () for a formula."""
    if isinstance(number, Plain):
        return (number.value,)
    return number.values if isinstance(number, SizeList) else ()


def _measured(values: Values, pattern: Pattern) -> Values:
    what, mm = values.get("what"), decimal(values.get("mm", ""))
    if what not in ("width", "length"):
        raise Refusal("Say whether you measured the width or the length.", "what")
    if mm is None or not 0 < mm <= LENGTH_MOST_MM:
        raise Refusal(f"Write what you measured, such as 9.5; at most {LENGTH_MOST_MM / 10:g} cm.", "mm")
    return {"what": what, "mm": mm, "spot": _spot(values, pattern)}


def _weighed(values: Values, pattern: Pattern) -> Values:
    grams = decimal(values.get("grams", ""))
    if grams is None or not 0 < grams <= WEIGHT_MOST_G:
        raise Refusal(f"Write what it weighs in grams, such as 21; at most {WEIGHT_MOST_G:g} g.", "grams")
    return {"grams": grams, "spot": _spot(values, pattern)}


def _accepted(values: Values, pattern: Pattern) -> Values:
    key = str(values.get("difference", ""))
    if not 1 <= len(key) <= 200:
        raise Refusal("Say which difference is meant.", "difference")
    return {"difference": key}


def _finished(values: Values, pattern: Pattern) -> Values:
    return {}


def _undo(values: Values, pattern: Pattern) -> Values:
    target = str(values.get("entry", ""))
    if not ENTRY_ID.fullmatch(target):
        raise Refusal("Say which entry is undone.", "entry")
    return {"entry": target}


SHARED = frozenset({"tried", "settled", "accepted", *fitshapes.RULES})  # about both pieces
RULES: Mapping[str, Callable[[Values, Pattern], Values]] = {
    "tried": _tried,
    "settled": _settled,
    "hook": _hook,
    "worked": _at_spot,
    "taken_out": _at_spot,
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
    "undo": _undo,
    **fitshapes.RULES,
}
