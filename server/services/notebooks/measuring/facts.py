"""What a maker told about hand, gauge and yarn, read from her log: the newest of a kind holds, observations
are all kept. Nothing has to be there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from sqlmodel import Session, col, select

from server.craft import making as craft
from server.craft.making import PlanRound, worn
from server.craft.making.counting import SPACE
from server.craft.making.spots import order
from server.craft.making.standing import hook_at, is_foundation
from server.craft.making.tension import places_of
from server.craft.measure.calibrating import CountedLength, Fact, SwatchUsed
from server.craft.measure.counts import AllowedCounts
from server.craft.measure.fitting import FitRequest
from server.craft.measure.gauge import Gauge, any_gauge, swatch
from server.craft.measure.hands import Hand, aged_hand, guessed_hand, measured_hand, sized_hand
from server.craft.measure.lengths import Units
from server.craft.measure.putup import PutUp
from server.craft.measure.roundone import may_be_around
from server.craft.measure.stated_yarn import header_gauge, read_yarn
from server.craft.measure.updating import EASE, MeasuredWidth, Observation, TriedOn
from server.craft.measure.yarntable import YarnCategory, yarn_category
from server.craft.text.tree import Header
from server.services.errors import NotFound
from server.services.notebooks import fitshapes
from server.services.notebooks.desk import Desk, open_desk
from server.services.notebooks.logs import read_log
from server.storage import tables

Values = Mapping[str, Any]
TAKEN_BACK = frozenset({*fitshapes.RULES, "tried"})


@dataclass(frozen=True)
class Told:
    """The newest entry of each kind (None where there is none), and those that are all kept.

    from_part   title of the part that the hand was given at, where it was another one
    last        the entry of these kinds made last: what can be taken back
    """

    hand: Values | None
    gauge: Values | None
    yarn: Values | None
    left: craft.Entry | None
    felt: tuple[Values, ...]
    tried: tuple[Values, ...]
    sampled: tuple[Values, ...]
    from_part: str = ""
    ease: Values | None = None
    last: craft.Entry | None = None


def told(desk: Desk) -> Told:
    """What stands in this part's log."""
    return _told([entry for entry in craft.in_force(one.entry for one in desk.log) if entry.piece == 0])


def told_with_hand(session: Session, desk: Desk) -> Told:
    """The same, with the hand from another part of the notebook where none was given at this one."""
    here = told(desk)
    if here.hand is not None:
        return here
    others = session.exec(
        select(tables.Project.id, tables.Part.title)
        .where(
            tables.Project.notebook_id == desk.notebook_id,
            tables.Part.id == tables.Project.part_id,
            tables.Project.part_id != desk.part_id,
        )
        .order_by(col(tables.Project.id))
    ).all()
    found: list[tuple[str, Values, str]] = []
    for project_id, title in others:
        if project_id is None:
            continue
        entries = craft.in_force(one.entry for one in read_log(session, project_id))
        found += [(entry.at, entry.values, title) for entry in entries if entry.kind == "hand"]
    if not found:
        return here
    _, hand, title = max(found, key=lambda each: each[0])
    return replace(here, hand=hand, from_part=title)


def _told(entries: Iterable[craft.Entry]) -> Told:
    by_kind: dict[str, list[craft.Entry]] = {}
    last = None
    for entry in entries:
        by_kind.setdefault(entry.kind, []).append(entry)
        last = entry

    def newest(kind: str) -> Values | None:
        return by_kind[kind][-1].values if kind in by_kind else None

    def every(kind: str) -> tuple[Values, ...]:
        return tuple(entry.values for entry in by_kind.get(kind, ()))

    return Told(
        newest("hand"),
        newest("gauge"),
        newest("yarn"),
        by_kind["left"][-1] if "left" in by_kind else None,
        every("felt"),
        every("tried"),
        every("sampled"),
        ease=newest("ease"),
        last=last if last is not None and last.kind in TAKEN_BACK else None,
    )


def is_for_a_hand(desk: Desk) -> bool:
    """Whether the part goes on a hand."""
    return worn.is_for_a_hand(desk.pattern)


def part_to_measure_for(session: Session, notebook_id: int) -> int | None:
    """The first published part of the along that goes on a hand and is not settled; None where there is
    none.
    """
    parts = session.exec(
        select(tables.Part.id)
        .where(tables.Part.along_id == tables.Notebook.along_id, tables.Notebook.id == notebook_id)
        .order_by(col(tables.Part.position), col(tables.Part.id))
    ).all()
    for part_id in parts:
        try:
            desk = open_desk(session, notebook_id, part_id or 0)
        except NotFound:  # not published yet
            continue
        if desk.making.settled is None and is_for_a_hand(desk):
            return part_id
    return None


def hand_of(values: Values | None) -> Hand:
    """The hand as she gave it; a guess from grown-ups where she gave none."""
    if values is None:
        return guessed_hand()
    group: Any = values.get("group")
    age: Any = values.get("age_years")
    known = values["known"]
    if known == "measured":
        hand = measured_hand(values["around_mm"], group, age if group == "child" else None)
    elif known == "size":
        hand = sized_hand(values["size"])
    elif known == "age":
        hand = aged_hand(age)
    else:
        hand = guessed_hand(group)
    return hand.with_lengths(
        wrist_mm=values.get("wrist_mm"),
        wrist_to_thumb_mm=values.get("to_thumb_mm"),
        wrist_to_end_mm=values.get("to_end_mm"),
    )


def category_of(told: Told, header: Header) -> YarnCategory | None:
    """The yarn's category: hers, else what the gauge was said for, else the pattern's."""
    for values in (told.yarn, told.gauge):
        if values is not None and values.get("category") is not None:
            return yarn_category(values["category"])
    return read_yarn(header.yarn).category


def put_up_of(told: Told, header: Header) -> PutUp | None:
    """The ball's label: hers, else the pattern's where she has not said that her yarn is another."""
    if told.yarn is not None and told.yarn.get("grams") is not None:
        return PutUp(told.yarn["grams"], told.yarn["metres"])
    return read_yarn(header.yarn).put_up if told.yarn is None else None


def ease_of(told: Told) -> float:
    """The ease she wants, as a share of the hand (−0.05: 5 % smaller); the usual where she said none."""
    return EASE if told.ease is None else -told.ease["smaller_percent"] / 100


def gauge_of(told: Told, header: Header, hook_mm: float | None, units: Units) -> Gauge:
    """The gauge to go by: what she chose, else the best there is. A swatch keeps the hook that it was made
    with, and is moved to the hook in her hand where that is another.
    """
    values = told.gauge
    category = category_of(told, header)
    if values is None:
        return any_gauge(None, header_gauge(header), category, hook_mm)
    wanted = values.get("hook_mm") or hook_mm
    if values["source"] == "swatch":
        own = swatch(
            values["stitches"], values["over_mm"], values.get("rounds"), values.get("rounds_over_mm"),
            hook_mm=values.get("hook_mm"), units=units,
        )  # fmt: skip
        return any_gauge(own, None, category, hook_mm if values.get("hook_mm") else None)
    if values["source"] == "pattern":
        return any_gauge(None, header_gauge(header), category, wanted)
    return any_gauge(None, None, category, wanted)


def seen(desk: Desk, told: Told) -> tuple[Observation, ...]:
    """Try-ons, how round one felt, and widths: what was felt or measured with another hook than glove one is
    begun with says nothing of this one.
    """
    hook_mm = desk.making.pieces[1].hook_mm
    found: list[Observation] = [
        TriedOn(each["foundation"], each["verdict"], each.get("by_mm")) for each in told.tried
    ]
    felt = {"too loose": "too long", "too tight": "too short", "right": "fits"}
    for each in told.felt:
        if each.get("hook_mm") not in (None, hook_mm) or not _is_telling(each, hand_of(told.hand)):
            continue
        verdict: Any = felt[each["verdict"]]
        found.append(TriedOn(each["foundation"], verdict, each.get("by_mm")))
    return (*found, *(width for _, width in widths(desk)))


def _is_telling(felt: Values, hand: Hand) -> bool:
    """Whether round one may have felt so on that hand: else it is to be measured again first."""
    by_mm = felt.get("by_mm") or 0.0
    ring = hand.around_mm + (by_mm if felt["verdict"] == "too loose" else -by_mm)
    return may_be_around(ring, hand.around_mm)


def widths(desk: Desk) -> list[tuple[str, MeasuredWidth]]:
    """Widths across with the spot of each, where the round goes all around: a thumb is none."""
    found = []
    for number in desk.pieces:
        piece = desk.making.pieces[number]
        if piece.numbers is None or piece.numbers.foundation is None:
            continue
        plan = desk.plan(number)
        for (what, spot), mm in piece.measures.items():
            planned = plan.round_at(spot)
            if hook_at(piece, spot) not in (None, desk.making.pieces[1].hook_mm):
                continue
            if what != "width" or planned is None:
                continue
            if goes_all_around(planned, piece.numbers.foundation, desk.pattern.header):
                flat = desk.pattern.header.worked == "rows"
                found.append((spot, MeasuredWidth(piece.numbers.foundation, mm, flat)))
    return sorted(found, key=lambda each: order(each[0]))


def round_to_measure(desk: Desk) -> PlanRound | None:
    """The last round of glove one that stands and is as far around as the foundation; None where none is."""
    piece = desk.making.pieces[1]
    foundation = piece.numbers.foundation if piece.numbers is not None else None
    if foundation is None:
        return None
    plan = desk.plan(1)
    for spot in reversed(piece.worked):
        planned = plan.round_at(spot)
        if planned is not None and goes_all_around(planned, foundation, desk.pattern.header):
            return planned
    return None


def goes_all_around(planned: PlanRound, foundation: int, header: Header) -> bool:
    """Whether a round is as far around as the foundation: as many places or stitches as there are chains, or
    one of the pattern's own groups or one space to each repeat.
    """
    if is_foundation(planned) or foundation in (places_of(planned), planned.counts.get("sts")):
        return True
    own = {special.name for special in header.special}
    return header.multiple is not None and any(
        count * header.multiple + header.plus == foundation
        for name, count in planned.counts.items()
        if name in own or SPACE.fullmatch(name)
    )


def request_of(desk: Desk, told: Told, hook_mm: float | None) -> FitRequest | None:
    """What is known before a recommendation; None where no chains go around the hand: the pattern begins in a
    ring, or its rows go around.
    """
    counts = AllowedCounts.of(desk.pattern.header)
    if counts is None or worn.chain_goes_along(desk.pattern):
        return None
    gauge = gauge_of(told, desk.pattern.header, hook_mm, desk.units)
    return FitRequest(
        counts, hand_of(told.hand), gauge, ease_of(told), seen=seen(desk, told), units=desk.units
    )


def yarn_facts(told: Told) -> tuple[Fact, ...]:
    """What swatches and counted stitches took."""
    facts: list[Fact] = []
    for each in told.sampled:
        if each["what"] == "counted":
            facts.append(CountedLength(each["stitch"], each["count"], each["metres"] * 1000))
        else:
            facts.append(SwatchUsed(each["stitch"], each["count"], each["grams"], each["metres"]))
    return tuple(facts)
