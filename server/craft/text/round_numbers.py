"""Checks rounds by their numbers: what `rep rnd` names has to stand before it, and no number stands twice."""

from __future__ import annotations

from server.craft.text import rules
from server.craft.text.cursor import Context
from server.craft.text.references import named_section, referenced
from server.craft.text.tree import Pattern, Plain, RepeatRounds, RoundLine


def check_references(pattern: Pattern, context: Context) -> None:
    """Every `rep rnd` names rounds that stand before it."""
    for index, section in enumerate(pattern.sections):
        for at, line in enumerate(section.lines):
            if isinstance(line, RoundLine) and line.repeats is not None:
                _check_reference(pattern, context, index, at, line.repeats)


def _check_reference(pattern: Pattern, context: Context, index: int, at: int, repeats: RepeatRounds) -> None:
    if repeats.section is not None and named_section(pattern, index, repeats.section) is None:
        names = [section.title for section in pattern.sections[: index + 1] if section.title]
        near = f" Sections before it: {', '.join(names)}." if names else ""
        context.findings.append(
            rules.NO_SUCH_SECTION.at(context.source, repeats.span, name=repeats.section, near=near)
        )
        return
    for wanted in repeats.rounds:
        if referenced(pattern, index, at, repeats, wanted) is None:
            context.findings.append(
                rules.NO_SUCH_ROUND.at(context.source, repeats.span, near=_rounds_before(pattern, index, at))
            )
            return


def check_numbers(pattern: Pattern, context: Context) -> None:
    """No round's number stands twice in a section."""
    for section in pattern.sections:
        seen: set[int] = set()
        for line in section.lines:
            label = line.label if isinstance(line, RoundLine) else None
            if label is None or label.foundation or not isinstance(label.first, Plain):
                continue
            if label.first.value in seen:
                name = f"{label.word} {label.first.value}"
                context.findings.append(rules.ROUND_AGAIN.at(context.source, label.span, label=name))
            last = label.last.value if isinstance(label.last, Plain) else label.first.value
            seen.update(range(label.first.value, min(last, label.first.value + 400) + 1))


def _rounds_before(pattern: Pattern, index: int, at: int) -> str:
    labels = [
        line.label.first.value
        for line in pattern.sections[index].lines[:at]
        if isinstance(line, RoundLine)
        and line.label
        and isinstance(line.label.first, Plain)
        and line.label.first.value
    ]
    return f" The section has rounds {', '.join(map(str, labels))} before it." if labels else ""
