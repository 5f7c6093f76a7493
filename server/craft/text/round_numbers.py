"""Checks rounds by their numbers: what `rep rnd` names has to stand before it, and no number stands twice."""

from __future__ import annotations

from dataclasses import replace

from server.craft.text import rules
from server.craft.text.cursor import Context
from server.craft.text.references import named_section, referenced
from server.craft.text.tree import Pattern, Plain, RepeatRounds, RoundLine

MOST_NAMED = 12
"""How many sections before it are named, the nearest ones."""
MOST_SOUGHT = 20
"""How many rounds that are not there are sought in the other sections: more have one cause."""


def check_references(pattern: Pattern, context: Context) -> None:
    """Every `rep rnd` names rounds that stand before it."""
    for index, section in enumerate(pattern.sections):
        for at, line in enumerate(section.lines):
            if isinstance(line, RoundLine) and line.repeats is not None:
                _check_reference(pattern, context, index, at, line.repeats)


def _check_reference(pattern: Pattern, context: Context, index: int, at: int, repeats: RepeatRounds) -> None:
    if repeats.section is not None and named_section(pattern, index, repeats.section) is None:
        names = [section.title for section in pattern.sections[: index + 1] if section.title]
        near = f" Sections before it: {', '.join(names[-MOST_NAMED:])}." if names else ""
        context.findings.append(
            rules.NO_SUCH_SECTION.at(context.source, repeats.span, name=repeats.section, near=near)
        )
        return
    for wanted in repeats.rounds:
        if referenced(pattern, index, at, repeats, wanted) is None:
            known = sum(finding.code == rules.NO_SUCH_ROUND.code for finding in context.findings)
            near, mend = (
                _where_it_is(pattern, index, at, repeats, wanted) if known < MOST_SOUGHT else ("", None)
            )
            context.findings.append(
                rules.NO_SUCH_ROUND.at(context.source, repeats.span, near=near, mend=mend)
            )
            return


def check_numbers(pattern: Pattern, context: Context) -> None:
    """No round's number stands twice in a section."""
    for section in pattern.sections:
        seen: dict[int, list[tuple[int, ...] | None]] = {}
        for line in section.lines:
            if not isinstance(line, RoundLine):
                continue
            label = line.label
            if label is None or label.foundation or not isinstance(label.first, Plain):
                continue
            if any(_both(line.only, other) for other in seen.get(label.first.value, ())):
                name = f"{label.word} {label.first.value}"
                context.findings.append(rules.ROUND_AGAIN.at(context.source, label.span, label=name))
            last = label.last.value if isinstance(label.last, Plain) else label.first.value
            for number in range(label.first.value, min(last, label.first.value + 400) + 1):
                seen.setdefault(number, []).append(line.only)


def _both(one: tuple[int, ...] | None, other: tuple[int, ...] | None) -> bool:
    """Whether two lines are worked for the same size."""
    return one is None or other is None or bool(set(one) & set(other))


def _where_it_is(
    pattern: Pattern, index: int, at: int, repeats: RepeatRounds, wanted: int
) -> tuple[str, str | None]:
    """Which rounds the section that is meant has, or which section has that round; and the mend, if one."""
    named = named_section(pattern, index, repeats.section) if repeats.section is not None else None
    if named is not None and named != index:
        here = _rounds_before(pattern, named, len(pattern.sections[named].lines))
        for other in range(index, -1, -1):
            upto = at if other == index else len(pattern.sections[other].lines)
            plain = RepeatRounds((wanted,))
            title = pattern.sections[other].title
            found = _has(pattern, other, upto, plain, wanted)
            if found and title and len(repeats.rounds) == 1:
                return f"{here} “{title}” has a round {wanted}.", f"rep rnd {wanted} of {title}"
        return here, None
    return _rounds_before(pattern, index, at), None


def _has(pattern: Pattern, index: int, at: int, repeats: RepeatRounds, wanted: int) -> bool:
    alone = replace(pattern, sections=pattern.sections[index : index + 1])
    return referenced(alone, 0, at, repeats, wanted) is not None


def _rounds_before(pattern: Pattern, index: int, at: int) -> str:
    labels = [
        line.label.first.value
        for line in pattern.sections[index].lines[:at]
        if isinstance(line, RoundLine)
        and line.label
        and isinstance(line.label.first, Plain)
        and line.label.first.value
    ]
    title = pattern.sections[index].title
    which = f"“{title}”" if title else "The section"
    many = "round" if len(labels) == 1 else "rounds"
    return f" {which} has {many} {', '.join(map(str, labels))} before it." if labels else ""
