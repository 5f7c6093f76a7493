"""What she can count on a piece in her hands: rounds below the gap and above it, edgings, the thumb."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from server.craft.making.log import Piece
from server.craft.making.shapes import Plan, PlanSection
from server.craft.making.spots import fit_of, order
from server.craft.making.standing import is_foundation

EDGING = re.compile(r"\b(edging|edge|border|trim)\b", re.IGNORECASE)
FIT_MOST = 300  # rounds of a line to fit that the log takes


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the pattern: its address, its rounds, and whether she decides how many.

    goal  the rounds it is to have: those written, or those of glove one as made
    """

    line: str
    goal: int
    fit: bool
    foundation: bool

    @property
    def least(self) -> int:
        """The fewest rounds it has once she is through with it."""
        return 1 if self.fit else self.goal


@dataclass(frozen=True, slots=True)
class Group:
    """Rounds that are counted as one number.

    key      what the answer is called
    asks     what to count: "rounds below the gap", "rounds of the Thumb"
    lines    its lines, in working order
    along    whether it is on the way from the foundation up, so that a later one comes after it is done
    gap      whether it makes a gap
    at_gap   whether it is worked around a gap, which then has to be there
    """

    key: str
    asks: str
    lines: tuple[Line, ...]
    along: bool
    gap: bool = False
    at_gap: bool = False

    @property
    def most(self) -> int | None:
        """The most rounds it can have; None where she decides how many."""
        if any(line.fit for line in self.lines):
            return None
        return sum(line.goal for line in self.lines if not line.foundation)

    @property
    def least(self) -> int:
        """The fewest rounds it has once she is through with it, the foundation left out."""
        return sum(line.least for line in self.lines if not line.foundation)

    @property
    def yes_or_no(self) -> bool:
        """Whether one round is all there is, so that the answer is yes or no."""
        return self.most == 1


def groups(plan: Plan, goals: Mapping[str, int] | None = None) -> tuple[Group, ...]:
    """The groups that are counted apart, in working order.

    Sections on the way up are one group as far as there is nothing to tell them apart by: up to a gap or an
    edging, and with one line to fit at most, as with two the number would not say which has how many. Each
    other section is a group of its own. `goals` has rounds of lines to fit where they are not as written.
    """
    gaps = [section for section in plan.sections if section.kind == "gap"]
    made: list[Group] = []
    together: list[PlanSection] = []
    for section in plan.sections:
        if not section.rounds:
            continue
        if section.kind == "body" and not EDGING.search(section.title):
            if together and len(_fits([*together, section])) > 1:
                made.append(_body(plan, together, gaps, goals))
                together = []
            together.append(section)
            continue
        if section.kind in ("body", "gap") and together:
            made.append(_body(plan, together, gaps, goals))
            together = []
        made.append(_own(plan, section, goals))
    if together:
        made.append(_body(plan, together, gaps, goals))
    return tuple(sorted(made, key=lambda group: order(group.lines[0].line)))


def _fits(sections: list[PlanSection]) -> list[str]:
    return [fit.fit for section in sections for fit in section.fits]


def _body(
    plan: Plan, sections: list[PlanSection], gaps: list[PlanSection], goals: Mapping[str, int] | None
) -> Group:
    indices = [section.index for section in sections]
    key = ".".join(str(index) for index in indices)
    return Group(key, _asks(plan, sections, gaps), tuple(_lines(plan, indices, goals)), along=True)


def _asks(plan: Plan, sections: list[PlanSection], gaps: list[PlanSection]) -> str:
    """ "rounds below the gap" where these are all there are on that side of the only gap."""
    word = "rows" if any(round_.label.startswith("Row") for round_ in plan.rounds) else "rounds"
    body = [
        section
        for section in plan.sections
        if section.rounds and section.kind == "body" and not EDGING.search(section.title)
    ]
    if len(gaps) == 1:
        below = [section for section in body if section.index < gaps[0].index]
        above = [section for section in body if section.index > gaps[0].index]
        if sections == below:
            return f"{word} below the gap"
        if sections == above:
            return f"{word} above the gap"
    if sections == body:
        begun = any(is_foundation(round_) for round_ in plan.rounds)
        return f"{word} from the {'foundation' if begun else 'beginning'}"
    return f"{word} of the " + " and ".join(section.title for section in sections)


def _own(plan: Plan, section: PlanSection, goals: Mapping[str, int] | None) -> Group:
    lines = tuple(_lines(plan, [section.index], goals))
    title = section.title if section.title.lower().startswith("the ") else f"the {section.title}"
    one = sum(line.goal for line in lines) == 1 and not any(line.fit for line in lines)
    asks = title if one else f"rounds of {title}"
    along = section.kind in ("body", "gap")
    gap, at_gap = section.kind == "gap", section.kind == "gap edge"
    return Group(str(section.index), asks, lines, along, gap, at_gap)


def _lines(plan: Plan, sections: list[int], goals: Mapping[str, int] | None) -> Iterator[Line]:
    planned = [round_ for round_ in plan.rounds if round_.section in sections]
    for line in dict.fromkeys(fit_of(round_.spot) for round_ in planned):
        rounds = [round_ for round_ in planned if fit_of(round_.spot) == line]
        fit = plan.fit_at(line)
        goal = (goals or {}).get(line, fit.written) if fit is not None else len(rounds)
        yield Line(line, goal, fit is not None, is_foundation(rounds[0]))


def held_in(group: Group, piece: Piece) -> int:
    """How many rounds of a group stand in the log, the foundation left out."""
    lines = {line.line for line in group.lines if not line.foundation}
    return sum(1 for spot in piece.worked if fit_of(spot) in lines)
