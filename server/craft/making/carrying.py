"""A plan as a device carries it: small, with every line to fit long enough to go on far beyond what is
written, so that the next round is there without a network.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from server.craft.fabric.numbering import Numbering
from server.craft.fabric.values import Numbers
from server.craft.making.counting import name_words
from server.craft.making.fullwords import full_count
from server.craft.making.placing import Planner
from server.craft.making.planning import NUMBERED, count_of
from server.craft.making.planning import plan as plan_of
from server.craft.making.shapes import Plan, PlanRound, PlanSection
from server.craft.making.spots import fit_of
from server.craft.text.tree import Pattern, RoundLine, Terms
from server.craft.text.vocabulary import name_in

MORE_ROUNDS = (40, 20, 10, 5, 1, 0)
"""How many rounds a line to fit is carried beyond the written number: as many as the piece can have."""


def carried_plan(
    pattern: Pattern, numbers: Numbers, terms: Terms = "US", planner: Planner | None = None
) -> dict[str, Any]:
    """The plan of a piece in these numbers, as plain values for a device.

    numbers   {"foundation": int | null, "size": str | null}
    texts     what rounds say, each once: {steps, full, count, fullCount, toCount: [[name, count, words,
              full words]], counts: {name: count}, stitches, repeats, repeatStep, fullRepeatStep}
    sections  {index, title, purpose, kind, ends, notes, lines}
    lines     {line: "section.line", fit: {until, least, written} | null, first, named, notes, labels, texts}
      first   its labels begin at 1 anew
      named   it has no label of the host's: its own name stays as it is
      notes   said after its last round
      labels  "Rnd 3", as they are where every line to fit has its written number
      texts   indices into `texts`

    A line to fit has more labels and texts than written; beyond those the last text comes again. In a piece
    a label is on by what the lines to fit before it have more than written (back by what they have fewer),
    since the last line that is `first`: the rule of `plan`. What a round says does not depend on how often a
    line to fit was worked.
    """
    make = planner or plan_of
    written = make(pattern, replace(numbers, fits=()), terms)
    long = _lengthened(pattern, written, make)
    numbering = Numbering(pattern.header, count_of(pattern.header, numbers))
    texts: dict[str, int] = {}
    shift = 0
    sections = []
    for section in long.sections:
        said = _section(section)
        by_line = _by_line(section)
        for line, labelled, first in _lines(pattern, section.index, numbering):
            rounds = by_line.get(line, [])
            if not rounds and not first:
                continue
            shift = 0 if first else shift
            fit = long.fit_at(line)
            said["lines"].append(
                {
                    "line": line,
                    "fit": {"until": fit.until, "least": fit.least, "written": fit.written} if fit else None,
                    "first": first,
                    "named": not labelled,
                    "notes": list(rounds[-1].notes) if rounds else [],
                    "labels": [_moved(each.label, -shift if labelled else 0) for each in rounds],
                    "texts": [_text_index(texts, each, terms) for each in rounds],
                }
            )
            shift += fit.rounds - fit.written if fit else 0
        sections.append(said)
    return {
        "numbers": {"foundation": numbers.foundation, "size": numbers.size},
        "texts": [json.loads(text) for text in texts],
        "sections": sections,
    }


def count_nouns(names: Iterable[str], terms: Terms) -> dict[str, list[str]]:
    """What counts are called, in the singular, the plural, and alone: {"V-st": ["V-st", "V-sts", "V-st"]}."""
    return {
        name: [name_words(name, 1, terms), name_words(name, 2, terms), name_in(name, terms)]
        for name in sorted(set(names))
    }


def names_counted(carried: Mapping[str, Any]) -> set[str]:
    """Every name that a carried plan counts."""
    return {name for text in carried["texts"] for name in text["counts"]} | {
        item[0] for text in carried["texts"] for item in text["toCount"]
    }


def _lengthened(pattern: Pattern, written: Plan, make: Planner) -> Plan:
    """The plan with its lines to fit made longer, by as much as the piece can have."""
    for more in MORE_ROUNDS:
        fits = tuple((fit.fit, fit.written + more) for fit in written.fits)
        try:
            return make(pattern, replace(written.numbers, fits=fits), written.terms)
        except ValueError:
            continue
    return written


def _section(section: PlanSection) -> dict[str, Any]:
    return {
        "index": section.index,
        "title": section.title,
        "purpose": section.purpose,
        "kind": section.kind,
        "ends": list(section.ends),
        "notes": list(section.notes),
        "lines": [],
    }


def _by_line(section: PlanSection) -> dict[str, list[PlanRound]]:
    lines: dict[str, list[PlanRound]] = {}
    for each in section.rounds:
        lines.setdefault(fit_of(each.spot), []).append(each)
    return lines


def _lines(pattern: Pattern, section: int, numbering: Numbering) -> Iterator[tuple[str, bool, bool]]:
    """The lines of a section, each with whether it has a label, and whether that says round 1: the numbers
    begin anew there.
    """
    written = (each for each in pattern.sections[section].lines if isinstance(each, RoundLine))
    for number, line in enumerate(written):
        label = line.label
        yield (
            f"{section}.{number}",
            label is not None,
            label is not None and numbering.rounds(label.first) == 1,
        )


def _moved(label: str, by: int) -> str:
    numbered = NUMBERED.fullmatch(label)
    return f"{numbered[1]} {int(numbered[2]) + by}" if numbered and by else label


def _text_index(texts: dict[str, int], each: PlanRound, terms: Terms) -> int:
    text = {
        "steps": list(each.steps),
        "full": list(each.full_steps),
        "count": each.count_text,
        "fullCount": each.full_count,
        "toCount": [
            [item.name, item.count, item.words, full_count((item,), terms)] for item in each.to_count
        ],
        "counts": dict(each.counts),
        "stitches": each.stitches,
        "repeats": each.repeats,
        "repeatStep": each.repeat_step,
        "fullRepeatStep": each.full_repeat_step,
    }
    return texts.setdefault(json.dumps(text, ensure_ascii=False), len(texts))
