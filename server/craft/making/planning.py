"""From a pattern and a maker's numbers to her plan."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from server.craft.fabric import work
from server.craft.fabric.numbering import Count, Numbering
from server.craft.fabric.values import Fabric, Numbers, WorkedRound
from server.craft.making.counting import count_text, to_count
from server.craft.making.fullwords import full_count
from server.craft.making.placewords import Tongue
from server.craft.making.shapes import Fit, Plan, PlanRound, PlanSection
from server.craft.making.spots import fit_of
from server.craft.making.surroundings import section_gaps, surroundings
from server.craft.making.within import first_repeat
from server.craft.making.wording import full_steps, steps
from server.craft.making.wording import line as line_words
from server.craft.text.tree import Ending, Header, Note, Number, Pattern, RoundLine, Section, Terms

NUMBERED = re.compile(r"(Rnd|Row) (\d+)")
LEAST_TO_FIT = 1  # the first round of a line to fit is always worked (notation: sections and rounds)


def plan(pattern: Pattern, numbers: Numbers, terms: Terms = "US") -> Plan:
    """The whole list of rounds of one piece in these numbers, from the fabric worked in them.

    It costs about as much as working the piece once: keep it per (pattern version, numbers, terms).
    """

    return plan_of(pattern, work(pattern, numbers), numbers, terms)


def plan_of(pattern: Pattern, fabric: Fabric, numbers: Numbers, terms: Terms) -> Plan:
    """The plan of a piece that is already worked in these numbers."""
    said = _Said(pattern, numbers, terms, fabric)
    rounds = {made.index: made.rounds for made in fabric.sections}
    sections = [
        said.section(index, section, rounds.get(index, ())) for index, section in enumerate(pattern.sections)
    ]
    return Plan(pattern.header.title, pattern.header.pieces, numbers, terms, tuple(sections))


def plan_to_dict(plan: Plan) -> dict[str, Any]:
    """The plan as plain values for the page; only strings, numbers, lists and dicts."""
    made: dict[str, Any] = _plain(plan)
    return made


def count_of(header: Header, numbers: Numbers) -> Count:
    """The count that `work` works these numbers at: a size, by its foundation or name, or a custom one."""
    if not header.foundations:
        return Count(None, header.sizes.index(numbers.size) if numbers.size in header.sizes else 0)
    named = header.sizes.index(numbers.size) if numbers.size in header.sizes else None
    foundation = numbers.foundation if numbers.foundation is not None else header.foundations[named or 0]
    if named is not None and header.foundations[named] == foundation:
        return Count(foundation, named)
    return Count(
        foundation, header.foundations.index(foundation) if foundation in header.foundations else None
    )


def _plain(value: object) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple | list):
        return [_plain(each) for each in value]
    if isinstance(value, Mapping):
        return {str(key): _plain(each) for key, each in value.items()}
    return value


@dataclass(slots=True)
class _Line:
    """A round line with the notes that stand after it."""

    line: RoundLine
    notes: list[str]


class _Said:
    """Words for one pattern in one set of numbers."""

    def __init__(self, pattern: Pattern, numbers: Numbers, terms: Terms, fabric: Fabric) -> None:
        self.pattern = pattern
        self.terms = terms
        self.numbering = Numbering(pattern.header, count_of(pattern.header, numbers))
        self.by_spot = {each.spot: each for made in fabric.sections for each in made.rounds}
        self.gaps = {
            spot: made
            for section in fabric.sections
            if section.kind == "gap"
            for spot, made in section_gaps(section.rounds).items()
        }
        self.shift = 0  # how many rounds the labels are on (or back) by what lines to fit took more or less

    def section(self, index: int, section: Section, fabric: Sequence[WorkedRound]) -> PlanSection:
        """A section with its rounds in working order."""
        rounds: list[PlanRound] = []
        fits: list[Fit] = []
        lines, notes = _lines(section)
        for each in lines:
            worked = [one for one in fabric if one.source is each.line]
            fit = self._fit(each.line, worked)
            if self._first(each.line) == 1:
                self.shift = 0
            made = [self._round(section, index, one, fit) for one in worked]
            if made and each.notes:
                made[-1] = replace(made[-1], notes=tuple(each.notes))
            rounds += made
            if fit is not None:
                fits.append(fit)
                self.shift += fit.rounds - fit.written
        ends = tuple(_one_line(line.text) for line in section.lines if isinstance(line, Ending))
        named = tuple(_named(rounds, "Row" if self.pattern.header.worked == "rows" else "Rnd"))
        return PlanSection(
            index, section.title, section.purpose, section.kind, named, tuple(fits), ends, notes
        )

    def _first(self, line: RoundLine) -> int | None:
        return self.numbering.rounds(line.label.first) if line.label is not None else None

    def _fit(self, line: RoundLine, worked: Sequence[WorkedRound]) -> Fit | None:
        label = line.label
        if label is None or label.until is None or not worked:
            return None
        first = self.numbering.rounds(label.first)
        last = self.numbering.rounds(label.last) if label.last is not None else first
        written = max(last - first + 1, LEAST_TO_FIT)
        return Fit(fit_of(worked[0].spot), label.until, LEAST_TO_FIT, written, len(worked))

    def _round(self, section: Section, index: int, worked: WorkedRound, fit: Fit | None) -> PlanRound:
        label = worked.source.label
        foundation = label is not None and label.foundation

        def value(number: Number) -> int:
            return self.numbering.value(number, is_foundation=foundation)

        below, how = self.by_spot.get(worked.below), self.pattern.header.worked
        around = surroundings(worked, below, how, value, self.gaps)
        repeat = first_repeat(worked.doings, Tongue(self.terms, value), around)
        items = to_count(worked.counts, worked.source.stated or worked.text.stated, self.terms)
        return PlanRound(
            spot=worked.spot,
            section=index,
            section_title=section.title,
            label=self._label(worked),
            host_line=_one_line(self.pattern.source[worked.source.span.start : worked.source.span.end]),
            line=line_words(worked.doings, Tongue(self.terms, value)),
            steps=steps(worked.doings, Tongue(self.terms, value, the=True)),
            full_steps=full_steps(worked.doings, Tongue(self.terms, value), around),
            counts=dict(worked.counts),
            count_text=count_text(items),
            full_count=full_count(items, self.terms),
            to_count=items,
            stitches=worked.stitches,
            fit=fit.fit if fit is not None else None,
            repeats=repeat.times if repeat is not None else 0,
            repeat_step=repeat.step if repeat is not None else None,
            full_repeat_step=repeat.full_step if repeat is not None else None,
        )

    def _label(self, worked: WorkedRound) -> str:
        numbered = NUMBERED.fullmatch(worked.label)
        if numbered is None or not self.shift:
            return worked.label
        return f"{numbered[1]} {int(numbered[2]) + self.shift}"


def _lines(section: Section) -> tuple[list[_Line], tuple[str, ...]]:
    """The round lines with the notes after them, and the notes before the first."""
    lines: list[_Line] = []
    before: list[str] = []
    for line in section.lines:
        if isinstance(line, RoundLine):
            lines.append(_Line(line, []))
        elif isinstance(line, Note):
            (lines[-1].notes if lines else before).append(_one_line(line.text))
    return lines, tuple(before)


def _named(rounds: list[PlanRound], word: str) -> Iterator[PlanRound]:
    """Names rounds without a label: "Rnd 1" where the section has no other, else "Beginning", "Next rnd"."""
    labelled = any(each.label for each in rounds)
    for number, each in enumerate(rounds, start=1):
        unnumbered = "Beginning" if number == 1 else f"Next {word.lower()}"
        name = unnumbered if labelled else f"{word} {number}"
        yield each if each.label else replace(each, label=name)


def _one_line(text: str) -> str:
    return " ".join(text.split())
