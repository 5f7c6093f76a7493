"""A round in a maker's numbers: one line with abbreviations, or steps to do one after another.

Both are made from what was done in the fabric (`WorkedRound.doings`) and from the tree, in US or UK terms;
no text is ever rewritten. Repeats are said with their number, places with how many there were.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from server.craft.fabric.values import Did, DidRepeat, Doing
from server.craft.making.placewords import NEXT, Tongue, place_words, skip_words
from server.craft.text.tree import (
    Chain,
    FastenOff,
    FoundationStitches,
    Inline,
    Instruction,
    Join,
    JoinYarn,
    NoJoin,
    Noun,
    Part,
    Place,
    RingStart,
    Skip,
    Turn,
    Work,
)
from server.craft.text.vocabulary import legs, name_in, plural


def line(doings: Sequence[Doing], tongue: Tongue) -> str:
    """The round in one line: "Ch 1, sc in same ch, sc in each of next 23 ch; join with sl st in first sc"."""
    words = ""
    for doing in _prepared(doings, tongue):
        closing = isinstance(doing, Did) and isinstance(doing.instruction, Join | NoJoin | Turn)
        words += ("" if not words else "; " if closing else ", ") + _in_line(doing, tongue)
    return sentence(words) + "." if words else ""


def steps(doings: Sequence[Doing], tongue: Tongue) -> tuple[str, ...]:
    """The round step by step; chains and skips stand with the stitch they lead to."""
    return tuple(_steps(_prepared(doings, tongue), tongue))


def _steps(doings: Sequence[Doing], tongue: Tongue) -> list[str]:
    made: list[str] = []
    leading: list[str] = []  # chains and skips that wait for their stitch
    slipping = False

    def step(words: str) -> None:
        made.append(sentence(", ".join([*leading, words])))
        leading.clear()

    for doing in doings:
        if isinstance(doing, DidRepeat):
            _flush(made, leading)
            made.extend(_repeat_steps(doing, tongue))
            slipping = False
            continue
        words = _did(doing, tongue)
        slips = isinstance(doing.instruction, Work) and doing.instruction.stitch == "sl st"
        if slips and slipping:
            made[-1] += f", {words}"
        elif isinstance(doing.instruction, Skip) or (
            isinstance(doing.instruction, Chain) and not doing.begins
        ):
            leading.append(words)
        elif isinstance(doing.instruction, Work):
            step(words)
        else:
            _flush(made, leading)
            step(words)
        slipping = slips
    _flush(made, leading)
    return made


def sentence(words: str) -> str:
    """With a capital at its head, inside the bracket of a repeat too."""
    head = 1 if words.startswith("[") else 0
    return words[:head] + words[head : head + 1].upper() + words[head + 1 :]


def _prepared(doings: Sequence[Doing], tongue: Tongue) -> list[Doing]:
    """A round's doings with what only the whole round tells.

    A bare `join` goes into the round's first place; and an `each` with which the round begins is marked as
    its beginning (`Did.begins`): it takes in the place where the hook stands, so "next" would be wrong.
    """
    made: list[Doing] = []
    stands = False
    for doing in doings:
        if isinstance(doing, Did):
            what = doing.instruction
            if isinstance(what, Join) and what.place is None and not what.to_ring:
                doing = replace(doing, instruction=replace(what, place=_first_place(doings, tongue)))
            elif (
                isinstance(what, Work)
                and not stands
                and what.place is not None
                and what.place.which == "each"
            ):
                doing = replace(doing, begins=True)
            stands = stands or _stands(doing)
        else:
            stands = True
        made.append(doing)
    return made


def _stands(did: Did) -> bool:
    """Whether this leaves a stitch; slip stitches before the first one only travel."""
    made = did.instruction
    if isinstance(made, Chain):
        return did.begins and bool(did.counts_as and did.counts_as[0])
    return isinstance(made, Work | JoinYarn) and made.stitch != "sl st"


def _first_place(doings: Sequence[Doing], tongue: Tongue) -> Place:
    """The first place that a round made: its beginning chain where that counts, else its first stitch."""
    for doing in doings:
        did = doing.body[0] if isinstance(doing, DidRepeat) else doing
        if not isinstance(did, Did):
            break
        if isinstance(did.instruction, Chain) and did.begins and did.counts_as and did.counts_as[0]:
            length, spare = tongue.value(did.instruction.number), did.counts_as[1]
            if not spare:
                return Place("beg", (Noun("beg ch"),), part=Part("top"))
            return Place(
                "beg", (Noun("beg ch", length=length),), part=Part("kth", length - spare, Noun("ch"))
            )
        stitch = did.instruction.stitch if isinstance(did.instruction, Work | JoinYarn) else "sl st"
        if isinstance(stitch, str) and stitch != "sl st":
            return Place("first", (Noun("stitch", stitch),))
        if isinstance(stitch, Inline):
            break
    return Place("first", (Noun("st"),))


# --- repeats -----------------------------------------------------------------------------------------------


def as_one(repeat: DidRepeat) -> Did | None:
    """A repeat of one stitch into the next place each time, as that stitch into so many; None for others."""
    if repeat.last is not None or len(repeat.body) != 1 or not isinstance(repeat.body[0], Did):
        return None
    did = repeat.body[0]
    work = did.instruction
    if not isinstance(work, Work) or (isinstance(work.stitch, str) and legs(work.stitch) > 1):
        return None
    place = work.place or NEXT
    if place.which != "next" or place.step != 1 or (place.part is not None and did.reached != 1):
        return None
    return replace(did, reached=did.reached * repeat.times, nodes=repeat.nodes)


def _runs(repeat: DidRepeat) -> list[tuple[int, tuple[Doing, ...]]]:
    """How often which text: the repeated one, and the last one by itself where it differs."""
    if repeat.last is None:
        return [(repeat.times, repeat.body)]
    return [(repeat.times - 1, repeat.body), (1, repeat.last)] if repeat.times > 1 else [(1, repeat.last)]


def _repeat_steps(repeat: DidRepeat, tongue: Tongue) -> list[str]:
    one = as_one(repeat)
    if one is not None:
        return [sentence(_did(one, tongue))]
    made: list[str] = []
    for times, body in _runs(repeat):
        if times == 1:
            made.extend(_steps(body, tongue))
        elif times > 1:
            made.append(f"{times} times: {_inside(body, tongue)}")
    return made


def _inside(body: Sequence[Doing], tongue: Tongue) -> str:
    return ", ".join(_in_line(doing, tongue) for doing in body)


def _in_line(doing: Doing, tongue: Tongue) -> str:
    if isinstance(doing, Did):
        return _did(doing, tongue)
    one = as_one(doing)
    if one is not None:
        return _did(one, tongue)
    runs = [
        _inside(body, tongue) if times == 1 else f"[{_inside(body, tongue)}] {times} times"
        for times, body in _runs(doing)
        if times >= 1 and body
    ]
    return ", ".join(runs)


def _flush(made: list[str], leading: list[str]) -> None:
    if leading:
        made.append(sentence(", ".join(leading)))
        leading.clear()


# --- one instruction ---------------------------------------------------------------------------------------


def _did(did: Did, tongue: Tongue) -> str:
    """An instruction as it was carried out, in words."""
    made = did.instruction
    if isinstance(made, Work):
        return _work(made, did, tongue)
    if isinstance(made, Chain):
        return _chain(made, did, tongue)
    if isinstance(made, Skip):
        return skip_words(made.place, did.reached, tongue)
    if isinstance(made, Join):
        return _join(made, tongue)
    if isinstance(made, JoinYarn):
        stitch = f"join yarn with {name_in(made.stitch, tongue.terms)}"
        return f"{stitch} {place_words(made.place, 1, made.stitch, tongue)}" if made.place else stitch
    if isinstance(made, FoundationStitches):
        return f"{name_in('f' + made.stitch, tongue.terms)} {tongue.value(made.number)}"
    return _plain_words(made)


def _plain_words(made: Instruction) -> str:
    if isinstance(made, Turn):
        return "turn"
    if isinstance(made, NoJoin):
        return "do not join"
    if isinstance(made, FastenOff):
        return "fasten off"
    if isinstance(made, RingStart):
        return "make an adjustable ring"
    raise TypeError(f"no words for {type(made).__name__}")


def _work(work: Work, did: Did, tongue: Tongue) -> str:
    stitch = work.stitch if isinstance(work.stitch, str) else ""
    place = work.place
    if place is None and did.noun is not None:
        place = replace(NEXT, nouns=(did.noun,))
    times = tongue.value(work.times)
    if isinstance(work.stitch, Inline):
        words = _inline(work.stitch, tongue) + (f" {times} times" if times > 1 else "")
    else:
        words = _times_name(work.stitch, times, tongue)
    if place is None and did.reached == 0:
        return words  # a picot stands in no place
    return f"{words} {place_words(place, max(did.reached, 1), stitch, tongue, whole=did.begins)}"


def _times_name(name: str, times: int, tongue: Tongue) -> str:
    said = name_in(name, tongue.terms)
    return said if times == 1 else f"{times} {plural(said)}"


def _inline(inline: Inline, tongue: Tongue) -> str:
    """`(dc, ch 1, 2 dc)`."""
    items = [
        f"ch {tongue.value(each.number)}"
        if isinstance(each, Chain)
        else _inline(each.stitch, tongue)
        if isinstance(each.stitch, Inline)
        else _times_name(each.stitch, tongue.value(each.times), tongue)
        for each in inline.items
    ]
    return f"({', '.join(items)})"


def _chain(chain: Chain, did: Did, tongue: Tongue) -> str:
    length = tongue.value(chain.number)
    words = f"ch {length}"
    if not did.begins or did.counts_as is None:
        return words
    stitch, spare = did.counts_as
    if not stitch:
        said = chain.counts is not None or length > 1  # a plain ch 1 never counts, as every maker knows
        return f"{words} (does not count as a st)" if said else words
    counts = name_in(stitch, tongue.terms) + (f", ch {spare}" if spare else "")
    return f"{words} (counts as {counts})"


def _join(join: Join, tongue: Tongue) -> str:
    ring = " to form a ring" if join.to_ring else ""
    if join.place is not None:
        return f"join with sl st {place_words(join.place, 1, 'sl st', tongue)}{ring}"
    if join.to_ring:
        return f"join with sl st in first ch{ring}"
    return "join with sl st in first st"
