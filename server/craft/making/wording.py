"""A round in a maker's numbers: one line with abbreviations, or steps to do one after another.

All are made from what was done in the fabric (`WorkedRound.doings`) and from the tree, in US or UK terms; no
text is ever rewritten. Repeats are said with their number, places with how many there were.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

from server.craft.fabric.values import Did, DidRepeat, Doing
from server.craft.making.fullwords import Full
from server.craft.making.placewords import NEXT, Tongue
from server.craft.making.shortwords import Short
from server.craft.making.surroundings import NOTHING, Surroundings, Upto
from server.craft.text.tree import Chain, Inline, Join, JoinYarn, NoJoin, Noun, Part, Place, Skip, Turn, Work
from server.craft.text.vocabulary import legs


class Voice(Protocol):
    """Says single instructions; how they are put together is the same for all."""

    def did(self, did: Did) -> str:
        """An instruction as it was carried out."""

    def again(self, did: Did) -> str:
        """A further slip stitch on the way, after one in the same step."""

    def upto(self, where: Upto | None) -> str:
        """How far a run of stitches or a repeat goes."""

    def gap(self, chains: str, number: int) -> str:
        """The chains that make a gap: the only one, or the `number`th."""


def line(doings: Sequence[Doing], tongue: Tongue) -> str:
    """The round in one line: "Ch 1, sc in same ch, sc in each of next 23 ch; join with sl st in first sc"."""
    words, voice = "", Short(tongue)
    for doing in _prepared(doings, tongue):
        closing = isinstance(doing, Did) and isinstance(doing.instruction, Join | NoJoin | Turn)
        words += ("" if not words else "; " if closing else ", ") + _in_line(doing, voice)
    return sentence(words) + "." if words else ""


def steps(doings: Sequence[Doing], tongue: Tongue) -> tuple[str, ...]:
    """The round step by step, abbreviated; chains and skips stand with the stitch they lead to."""
    return tuple(_Steps(Short(tongue)).all_of(_prepared(doings, tongue)))


def full_steps(doings: Sequence[Doing], tongue: Tongue, around: Surroundings = NOTHING) -> tuple[str, ...]:
    """The round step by step in full words, with what only the fabric tells of it."""
    prepared = [
        replace(doing, counts_as=around.begun[at]) if at in around.begun and isinstance(doing, Did) else doing
        for at, doing in enumerate(_prepared(doings, tongue))
    ]
    first = ["Make an adjustable ring"] if around.ring else []
    return (*first, *_Steps(Full(tongue), around).all_of(prepared))


def sentence(words: str) -> str:
    """With a capital at its head, inside the bracket of a repeat too."""
    head = 1 if words.startswith("[") else 0
    return words[:head] + words[head : head + 1].upper() + words[head + 1 :]


# --- step by step ------------------------------------------------------------------------------------------


@dataclass(slots=True)
class _Steps:
    """Puts a round's doings into steps."""

    voice: Voice
    around: Surroundings = NOTHING
    made: list[str] = field(default_factory=list)
    leading: list[str] = field(default_factory=list)  # chains and skips that wait for their stitch
    slipping: bool = False
    in_gap: bool = False

    def all_of(self, doings: Sequence[Doing]) -> list[str]:
        """The steps of these doings."""
        for at, doing in enumerate(doings):
            upto = self.voice.upto(self.around.upto.get(at))
            if isinstance(doing, DidRepeat):
                self._flush()
                self.made.extend(_repeat_steps(doing, self.voice, upto))
                self.slipping = False
            else:
                self._one(doing, upto, self.around.gaps.get(at))
        self._flush()
        return self.made

    def _one(self, did: Did, upto: str, gap: int | None) -> None:
        made, words = did.instruction, self.voice.did(did)
        slips = isinstance(made, Work) and made.stitch == "sl st" and did.reached > 0
        if gap is not None:
            self._flush()
            self.leading.append(self.voice.gap(words, gap))
            self.in_gap = True
        elif isinstance(made, Skip) or (isinstance(made, Chain) and not did.begins):
            self.leading.append(words)
            if self.in_gap:
                self._flush()  # the gap is a step of its own
        elif slips and self.slipping and not self.leading:
            self.made[-1] += self.voice.again(did)
        elif isinstance(made, Work):
            self._step(words + ("" if _all_there_are(did) else upto))
        else:
            self._flush()
            self._step(words)
        self.slipping = slips

    def _step(self, words: str) -> None:
        self.made.append(sentence(", ".join([*self.leading, words])))
        self.leading.clear()

    def _flush(self) -> None:
        if self.leading:
            self.made.append(sentence(", ".join(self.leading)))
            self.leading.clear()
        self.in_gap = False


def _all_there_are(did: Did) -> bool:
    """An `each` that is the whole round: that "each of the 24 stitches" goes to its end is plain."""
    place = did.instruction.place if isinstance(did.instruction, Work) else None
    return (
        did.begins and place is not None and place.which == "each" and place.until is None
        and place.before is None
    )  # fmt: skip


def _repeat_steps(repeat: DidRepeat, voice: Voice, upto: str) -> list[str]:
    one = as_one(repeat)
    if one is not None:
        return [sentence(voice.did(one) + upto)]
    made: list[str] = []
    for times, body in _runs(repeat):
        if times == 1:
            made.extend(_Steps(voice).all_of(body))
        elif times > 1:
            made.append(f"{times} times{upto}: {_inside(body, voice)}")
    return made


# --- the whole round ---------------------------------------------------------------------------------------


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


def _inside(body: Sequence[Doing], voice: Voice) -> str:
    return ", ".join(_in_line(doing, voice) for doing in body)


def _in_line(doing: Doing, voice: Voice) -> str:
    if isinstance(doing, Did):
        return voice.did(doing)
    one = as_one(doing)
    if one is not None:
        return voice.did(one)
    runs = [
        _inside(body, voice) if times == 1 else f"[{_inside(body, voice)}] {times} times"
        for times, body in _runs(doing)
        if times >= 1 and body
    ]
    return ", ".join(runs)
