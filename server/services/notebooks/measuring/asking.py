"""What is asked once more before it is written down: figures that are hardly plausible beside what is known.
Whoever answers yes is right, and the entry is taken as it is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from sqlmodel import Session

from server.craft.measure.calibrating import Calibration
from server.craft.measure.gauge import Gauge, any_gauge, swatch
from server.craft.measure.hands import ask_again
from server.craft.measure.lengths import MM_PER_INCH, Units, gauge_text, length_text, weight_text
from server.craft.measure.quantities import grams_text, label_text, yarn_range_text, yarn_text
from server.craft.measure.roundone import may_be_around, would_be
from server.craft.measure.stated_yarn import header_gauge, read_yarn
from server.craft.measure.updating import Known, chains_text, updated
from server.craft.measure.yarnlength import stitch_mm
from server.craft.measure.yarntable import yarn_categories
from server.craft.text.vocabulary import full_words
from server.services.notebooks import shapes
from server.services.notebooks.desk import Desk
from server.services.notebooks.figures import Values
from server.services.notebooks.measuring.facts import (
    Told,
    category_of,
    goes_all_around,
    hand_of,
    is_for_a_hand,
    request_of,
    told_with_hand,
)
from server.services.notebooks.measuring.fitcard import hook_in_hand
from server.services.notebooks.measuring.reckoning import metres_of, reckoned
from server.services.notebooks.shapes import NewEntry

GAUGE_OFF = 2.0  # judgement: hands and stitches differ by less; an inch for a centimetre is 2.54
AROUND_OFF = 1.6  # judgement: a width that was measured all the way around is 2
FAR_OFF = 2.5  # judgement: of chains, metres and grams


@dataclass(frozen=True)
class _Asking:
    """What a question goes by."""

    desk: Desk
    told: Told
    piece: int

    @property
    def units(self) -> Units:
        return self.desk.units

    def known(self) -> Known | None:
        """Gauge and hand as they stand; None where no chains go around the hand."""
        request = request_of(self.desk, self.told, hook_in_hand(self.desk))
        if request is None or not is_for_a_hand(self.desk):
            return None
        return updated(request.gauge, request.hand, request.seen, ease=request.ease)


def questions(session: Session, desk: Desk, new: NewEntry) -> tuple[str, ...]:
    """What to ask once more about an entry before it is written down; none where all is plausible.

    Refusal where it cannot be written down at all.
    """
    ask = _ASKED.get(new.kind)
    if ask is None:
        return ()
    clean = shapes.checked(new, desk.pattern)
    return tuple(ask(_Asking(desk, told_with_hand(session, desk), clean.piece), clean.values))


def _hand(asking: _Asking, values: Values) -> list[str]:
    return list(ask_again(hand_of(values), asking.units))


def _gauge(asking: _Asking, values: Values) -> list[str]:
    if values["source"] != "swatch":
        return []
    units, expected = asking.units, _expected(asking, values)
    asked = []
    for what, count, over_mm, usual in (
        ("stitches", values["stitches"], values["over_mm"], expected.stitches),
        ("rounds", values["rounds"], values["rounds_over_mm"], expected.rounds),
    ):
        if count is None or usual is None:
            continue
        own = swatch(count, over_mm).stitches
        if 1 / GAUGE_OFF <= own / usual <= GAUGE_OFF:
            continue
        here, there = (gauge_text(each, units).replace("stitches", what) for each in (own, usual))
        asked.append(
            f"{count:g} {what} in {length_text(over_mm, units)} would be {here}; about "
            f"{there.partition(' ')[0]} are usual here. {_other_unit(count, over_mm, usual, units)}"
        )
    return asked


def _expected(asking: _Asking, values: Values) -> Gauge:
    """The pattern's gauge with her hook; the yarn's where hers is another than the pattern's."""
    header = asking.desk.pattern.header
    category, hook_mm = category_of(asking.told, header), values["hook_mm"] or hook_in_hand(asking.desk)
    own = category is not None and category != read_yarn(header.yarn).category
    return any_gauge(None, None if own else header_gauge(header), category, hook_mm)


def _other_unit(count: float, over_mm: float, usual: float, units: Units) -> str:
    number, other_mm, name = (
        (over_mm / MM_PER_INCH, 10.0, "cm") if units == "in" else (over_mm / 10, MM_PER_INCH, "in")
    )
    if 1 / GAUGE_OFF <= swatch(count, number * other_mm).stitches / usual <= GAUGE_OFF:
        return f"If it was {number:.3g} {name}, write {number:.3g} {name}."
    return "Is it so?"


def _tried(asking: _Asking, values: Values) -> list[str]:
    known = asking.known()
    if known is None:
        return []
    chains, hand_mm, units = values["foundation"], known.hand.around_mm, asking.units
    around, asked = chains * known.gauge.stitch_mm, list[str]()
    if not 1 / FAR_OFF <= around / hand_mm <= FAR_OFF:
        asked.append(
            f"{chains_text(chains)} would be about {length_text(around, units)} around, for a hand of "
            f"{length_text(hand_mm, units)}. Is the number right?"
        )
    by_mm, verdict = values.get("by_mm"), values["verdict"]
    if by_mm is not None:
        ring = hand_mm + (by_mm if verdict in ("too long", "too loose") else -by_mm)
        if not may_be_around(ring, hand_mm):
            asked.append(f"{would_be(by_mm, verdict, ring, hand_mm, units)} Is it so?")
    return asked


def _width(asking: _Asking, values: Values) -> list[str]:
    known, desk = asking.known(), asking.desk
    if known is None or values["what"] != "width":
        return []
    planned = desk.plan(asking.piece).round_at(values["spot"])
    numbers = desk.making.pieces[asking.piece].numbers
    foundation = numbers.foundation if numbers is not None else None
    if planned is None or foundation is None:
        return []
    if not goes_all_around(planned, foundation, desk.pattern.header):
        return []
    across = values["mm"] * (1 if desk.pattern.header.worked == "rows" else 2)
    usual = foundation * known.gauge.stitch_mm
    if 1 / AROUND_OFF <= across / usual <= AROUND_OFF:
        return []
    hint = "Was it all the way around? Across is half of it." if across > usual else "Was it laid flat?"
    return [
        f"{length_text(values['mm'], asking.units)} across would be {length_text(across, asking.units)} "
        f"around; about {length_text(usual, asking.units)} is to be expected. {hint}"
    ]


def _label(asking: _Asking, values: Values) -> list[str]:
    if values["grams"] is None:
        return []
    bounds = [bound for each in yarn_categories() for bound in each.m_per_100g]
    per_100_g, low, high = values["metres"] / values["grams"] * 100, min(bounds), max(bounds)
    if low / AROUND_OFF <= per_100_g <= high * AROUND_OFF:
        return []
    return [
        f"{weight_text(values['grams'])} = {label_text(values['metres'], asking.units)} would be "
        f"{yarn_text(per_100_g, asking.units)} in 100 g; yarns have "
        f"{yarn_range_text(low, high, asking.units)}. Is it so?"
    ]


def _weighed(asking: _Asking, values: Values) -> list[str]:
    desk, state = asking.desk, reckoned(asking.desk, asking.told)
    own = desk.making.pieces[asking.piece]
    if values["spot"] not in own.worked:
        return []
    standing = own.worked[: own.worked.index(values["spot"]) + 1]
    usual = _grams(state.calibration, metres_of(state.piece, standing))
    if _near(values["grams"], usual):
        return []
    return [
        f"{weight_text(values['grams'])} on the scale; its stitches take about {grams_text(usual)}. "
        "Is only the piece on it?"
    ]


def _sampled(asking: _Asking, values: Values) -> list[str]:
    state = reckoned(asking.desk, asking.told)
    usual_m = values["count"] * stitch_mm(values["stitch"]) * state.by.scale / 1000
    name = f"{values['count']} {full_words(values['stitch'], asking.desk.terms)}"
    if values["grams"] is not None:
        usual_g = _grams(state.calibration, usual_m)
        if _near(values["grams"], usual_g):
            return []
        usual, here = grams_text(usual_g), weight_text(values["grams"])
        return [f"{name} would take about {usual}, not {here}. Is it so?"]
    if _near(values["metres"], usual_m):
        return []
    usual, here = (yarn_text(each, asking.units) for each in (usual_m, values["metres"]))
    return [f"{name} would take about {usual}, not {here}. Is it so?"]


def _grams(calibration: Calibration, metres: float) -> float:
    return calibration.grams(metres).middle


def _near(value: float, usual: float) -> bool:
    """Whether it may be; a gram or two of a small thing always may."""
    return usual <= 0 or 1 / FAR_OFF <= value / usual <= FAR_OFF or abs(value - usual) <= 1


_ASKED: Mapping[str, Callable[[_Asking, Values], list[str]]] = {
    "hand": _hand,
    "gauge": _gauge,
    "tried": _tried,
    "felt": _tried,
    "measured": _width,
    "yarn": _label,
    "weighed": _weighed,
    "sampled": _sampled,
}
