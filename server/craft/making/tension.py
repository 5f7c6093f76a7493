"""The gloves' measures against each other: where the counts agree and the measures do not, the hand has
changed.

What is compared, and how much two gloves may differ and still be twins:

- Width at the same round, both measured: half a stitch. Derived: less than half a stitch, and no other count
  would come nearer. A round of `p` places (stitches, and the chains between them) laid flat shows p/2 of them
  across, so a stitch is 2 · width/p wide, and half of one width/p; in rows, which lie flat as they are, half
  a stitch is width/(2 · p). Only where no count differs up to there: else that is the difference, and this
  one follows from it.
- Length at the same round, both measured: half a round. Derived in the same way: glove one's length over the
  rounds it has up to there is what a round adds, and half of that is allowed. Only where both gloves have the
  same rounds up to there besides; so with the weight.
- Weight at the same round, both weighed: what the two gloves' equal rounds may differ by the two rules above,
  and what the scale rounds away. Derived: a fabric's yarn goes with its area (published pieces in sc, hdc and
  dc took the same yarn per area within 2 %: windchilde.com/bluedepth), so half a stitch of p and half a round
  of r allow a share of 1/p (in rows 1/(2 · p)) and 1/(2 · r); two readings of one weight, each to the gram,
  may be 1 g apart.

What to do is common practice, no source: a tighter hand takes the next hook up, a looser one the next down;
the height of a round is in how far the loops are drawn up; washing and laying out evens out a little.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Literal

from server.craft.making.counting import SPACE
from server.craft.making.differences import Difference, Pair
from server.craft.making.log import Measure
from server.craft.making.shapes import PlanRound
from server.craft.making.spots import order
from server.craft.making.standing import hook_at, is_foundation
from server.craft.making.twinwords import at_words, section_title
from server.craft.measure.hooks import HOOKS_MM, hook_text
from server.craft.measure.lengths import length_text, small_text, weight_text

STEP_MM = 0.4  # hooks are sold in steps of half a millimetre; the quarters between them are hardly felt
SCALE_G = 1.0


@dataclass(frozen=True, slots=True)
class Compared:
    """A width, length or weight that both gloves have at the same round, in mm or g.

    allowed   how far apart they may be
    """

    what: Literal["width", "length", "weight"]
    spot: str
    one: float
    two: float
    allowed: float

    @property
    def agrees(self) -> bool:
        """Whether they are the same within what is allowed."""
        return abs(self.two - self.one) <= self.allowed

    @property
    def percent(self) -> int:
        """How far glove two is off, in per cent of glove one; at least 1."""
        return max(1, round(abs(self.two - self.one) / self.one * 100))


def compared(pair: Pair, counts_differ_at: Collection[str] = ()) -> list[Compared]:
    """Everything that both gloves were measured and weighed for at the same round, in working order.

    Left out where a count differs up to there; of lengths and weights also where the gloves do not have the
    same rounds up to there. A width does not hang on how many rounds there are.
    """
    if not pair.alike:
        return []
    found: list[Compared] = []
    for (what, spot), one in pair.one.measures.items():
        two = pair.two.measures.get((what, spot))
        alike = _both_have(pair, spot) if what == "width" else _same_rounds(pair, spot)
        if two is not None and alike and _no_count_differs(spot, counts_differ_at):
            found.append(Compared(what, spot, one, two, allowed_mm(pair, what, spot, one)))
    for spot, one in pair.one.weights.items():
        two = pair.two.weights.get(spot)
        if two is not None and _same_rounds(pair, spot) and _no_count_differs(spot, counts_differ_at):
            found.append(Compared("weight", spot, one, two, SCALE_G + one * _share(pair, spot)))
    kinds = ("width", "length", "weight")
    return sorted(found, key=lambda each: (order(each.spot), kinds.index(each.what)))


def allowed_mm(pair: Pair, what: Measure, spot: str, one_mm: float) -> float:
    """Half a stitch of a width, half a round of a length, in mm."""
    if what == "length":
        return one_mm / (2 * max(_rounds_to(pair, spot), 1))
    return one_mm * _half_a_stitch(pair, spot)


def _half_a_stitch(pair: Pair, spot: str) -> float:
    """Half a stitch as a share of the width."""
    round_ = pair.plan_one.round_at(spot)
    places = places_of(round_) if round_ is not None else 0
    return 1 / (max(places, 1) * (2 if pair.flat else 1))


def _share(pair: Pair, spot: str) -> float:
    return _half_a_stitch(pair, spot) + 1 / (2 * max(_rounds_to(pair, spot), 1))


def places_of(round_: PlanRound) -> int:
    """Stitches of a round and the chains between them; of a foundation its chains."""
    chains = sum(
        int(name[3:-3]) * count for name, count in round_.counts.items() if SPACE.fullmatch(name) is not None
    )
    return round_.counts.get("sts", 0) + chains + round_.counts.get("ch", 0)


def _rounds_to(pair: Pair, spot: str) -> int:
    """Rounds of glove one up to and with one, the foundation left out."""
    plan = {each.spot: each for each in pair.plan_one.rounds}
    upto = [each for each in pair.one.worked if order(each) <= order(spot)]
    return sum(1 for each in upto if each not in plan or not is_foundation(plan[each]))


def _both_have(pair: Pair, spot: str) -> bool:
    return spot in pair.one.worked and spot in pair.two.worked


def _same_rounds(pair: Pair, spot: str) -> bool:
    one, two = (
        [each for each in piece.worked if order(each) <= order(spot)] for piece in (pair.one, pair.two)
    )
    return one == two and spot in one


def _no_count_differs(spot: str, counts_differ_at: Collection[str]) -> bool:
    return all(order(each) > order(spot) for each in counts_differ_at)


# --- differences -------------------------------------------------------------------------------------------


def measured_differences(pair: Pair, counts_differ_at: Collection[str] = ()) -> Iterator[Difference]:
    """Where the measures do not agree, with how the hand has changed and what to do.

    A glove that became short stays short: of lengths and weights only the first round is named.
    """
    every = compared(pair, counts_differ_at)
    for each in every:
        if each.agrees:
            continue
        earlier = [
            other for other in every if other.what == each.what and order(other.spot) < order(each.spot)
        ]
        if each.what != "width" and any(not other.agrees for other in earlier):
            continue
        agreed = [other.spot for other in earlier if other.agrees]
        yield _difference(pair, each, agreed[-1] if agreed else None)


def _difference(pair: Pair, each: Compared, agreed: str | None) -> Difference:
    says = {"width": _width, "length": _length}.get(each.what, _weight)
    what, mend = says(pair, each)
    back = ""
    out = next((spot for spot in pair.two.worked if agreed and order(spot) > order(agreed)), None)
    if agreed is not None and out is not None:
        back = f" At the end of {at_words(pair.plan_two, agreed)} they agree still: you can go back to there."
    show = weight_text if each.what == "weight" else lambda value: length_text(value, pair.units)
    return Difference(
        key=f"{each.what}/{each.spot}/{each.one:g}/{each.two:g}",
        kind=each.what,
        spot=each.spot,
        section_title=section_title(pair.plan_two, each.spot),
        what=what,
        one=show(each.one),
        two=show(each.two),
        mend=mend + back,
        take_out=out,
    )


def _width(pair: Pair, each: Compared) -> tuple[str, str]:
    narrower = each.two < each.one
    hand = "tighter" if narrower else "looser"
    off = f"{small_text(abs(each.two - each.one), pair.units)} ({each.percent} %)"
    what = (
        f"At the end of {at_words(pair.plan_two, each.spot)} {pair.noun} one is "
        f"{length_text(each.one, pair.units)} wide, {pair.second} {length_text(each.two, pair.units)}: "
        f"{off} {'narrower' if narrower else 'wider'}."
    )
    return f"{what} {_why(pair, each.spot, hand)}", _hook_mend(pair, each.spot, tighter=narrower)


def _length(pair: Pair, each: Compared) -> tuple[str, str]:
    shorter = each.two < each.one
    off = f"{small_text(abs(each.two - each.one), pair.units)} ({each.percent} %)"
    what = (
        f"To the end of {at_words(pair.plan_two, each.spot)} {pair.noun} one is "
        f"{length_text(each.one, pair.units)} long, {pair.second} {length_text(each.two, pair.units)}: "
        f"{off} {'shorter' if shorter else 'longer'} with the same rounds."
    )
    draw = "a little higher" if shorter else "a little less"
    if pair.two.finished:
        mend = "Wet both, lay them out to the same length and let them dry, or note that it is meant."
    else:
        mend = (
            f"Draw the loops up {draw} as you work, and measure again after 2 rounds; if the width is off "
            "too, another hook mends both. Or go on, or note that it is meant."
        )
    return f"{what} {_why(pair, each.spot, 'tighter' if shorter else 'looser')}", mend


def _weight(pair: Pair, each: Compared) -> tuple[str, str]:
    more = each.two > each.one
    what = (
        f"To the end of {at_words(pair.plan_two, each.spot)} {pair.noun} one weighs {weight_text(each.one)}, "
        f"{pair.second} {weight_text(each.two)}: {weight_text(abs(each.two - each.one))} ({each.percent} %) "
        f"{'more' if more else 'less'} with the same rounds."
    )
    hand = "looser hand takes more" if more else "tighter hand takes less"
    mend = (
        f"Measure the width of both: a {hand} yarn. "
        "If they are as wide, look whether it is the same yarn. Or note that it is meant."
    )
    return what, mend


def _why(pair: Pair, spot: str, hand: str) -> str:
    one, two = hook_at(pair.one, spot), hook_at(pair.two, spot)
    if one is not None and two is not None and one != two:
        return f"{pair.first} had a hook of {hook_text(one)} there, {pair.second} {hook_text(two)}."
    return f"The counts agree, so your hand is {hand} than it was."


def _hook_mend(pair: Pair, spot: str, *, tighter: bool) -> str:
    """A hook size up for a tighter hand, down for a looser one; glove one's, where it had another."""
    if pair.two.finished:
        return "Wet both, lay them out to the same width and let them dry, or note that it is meant."
    one, two = hook_at(pair.one, spot), hook_at(pair.two, spot)
    way = "up" if tighter else "down"
    if one is not None and two is not None and one != two and (one > two) == tighter:
        hook = f"Go back to {pair.noun} one's hook of {hook_text(one)}"
    else:
        other = next_hook_mm(two if two is not None else one, up=tighter)
        hook = f"Take a hook a size {way}" + (f", {hook_text(other)}," if other is not None else "")
    return (
        f"{hook} from the next round on, and measure again after 2 rounds. Or go on with a "
        f"{'looser' if tighter else 'firmer'} hand, or note that it is meant."
    )


def next_hook_mm(hook_mm: float | None, *, up: bool) -> float | None:
    """The next yarn hook a size up or down, mm; None where there is none or the hook is not known."""
    if hook_mm is None:
        return None
    if up:
        return next((size for size in HOOKS_MM if size >= hook_mm + STEP_MM), None)
    return next((size for size in reversed(HOOKS_MM) if size <= hook_mm - STEP_MM), None)
