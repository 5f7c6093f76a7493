"""Puts the rounds of a label such as `Rnds 3, 5 and 7` or `Even rnds` in their places, in working order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from server.craft.text import rules
from server.craft.text.cursor import Context, Spread
from server.craft.text.tree import Label, Line, Note, Plain, RepeatRounds, RoundLine, SizeList, Span

MAX_ROUNDS = 400


def spread(lines: Sequence[Line], context: Context) -> list[Line]:
    """The lines with one for each round that a list or `odd`, `even` names: the first has the text,
    the others say `rep`. Without such a label the lines are as they were.
    """
    named = {
        line.label.span: context.spread[line.label.span]
        for line in lines
        if isinstance(line, RoundLine) and line.label is not None and line.label.span in context.spread
    }
    if not named:
        return list(lines)
    taken, top = _numbered(lines, named)
    blocks: list[tuple[int, list[Line]]] = []
    for line in lines:
        label = line.label if isinstance(line, RoundLine) else None
        if isinstance(line, RoundLine) and label is not None and label.span in named:
            blocks.extend(_each(line, label, named[label.span], taken, top, context))
        elif label is not None and not label.foundation and isinstance(label.first, Plain):
            blocks.append((label.first.value, [line]))
        elif blocks:
            blocks[-1][1].append(line)
        else:
            blocks.append((-1, [line]))
    blocks.sort(key=lambda block: block[0])
    return [line for _, block in blocks for line in block]


def _numbered(lines: Sequence[Line], named: dict[Span, Spread]) -> tuple[set[int], int]:
    """The numbers that labels of their own have, and the highest number of all."""
    taken: set[int] = set()
    top = 0
    for line in lines:
        label = line.label if isinstance(line, RoundLine) else None
        if label is None or label.foundation or not isinstance(label.first, Plain):
            continue
        known = named.get(label.span)
        if known is not None and known.numbers:
            top = max(top, *known.numbers)
            continue
        if known is not None:
            continue
        last = label.last
        end = last.value if isinstance(last, Plain) else max(last.values) if isinstance(last, SizeList) else 0
        end = min(max(end, label.first.value), label.first.value + MAX_ROUNDS)
        taken.update(range(label.first.value, end + 1))
        top = max(top, end)
    return taken, top


def _each(
    line: RoundLine, label: Label, how: Spread, taken: set[int], top: int, context: Context
) -> list[tuple[int, list[Line]]]:
    numbers = how.numbers or tuple(
        number
        for number in range(max(how.first, 1), min(top, MAX_ROUNDS) + 1)
        if number % 2 == how.parity and number not in taken
    )
    if not numbers:
        example = "Odd rnds 3-9:" if how.parity else "Even rnds 2-8:"
        expected = f"up to which round, such as `{example}`"
        context.findings.append(rules.UNREAD.at(context.source, label.span, expected=expected, near=""))
        return [(top + 1, [Note(context.source.slice(line.span), line.span)])]
    first, *others = numbers
    head = replace(line, label=replace(label, first=Plain(first), last=None))
    found: list[tuple[int, list[Line]]] = [(first, [head])]
    for turn, number in enumerate(others, start=1):
        rounds = line.repeats.rounds if line.repeats is not None else (first,)
        section = line.repeats.section if line.repeats is not None else None
        again = RepeatRounds((rounds[turn % len(rounds)],), section, label.span)
        found.append((number, [replace(head, label=replace(label, first=Plain(number), last=None), body=(),
                                       repeats=again, stated=None)]))  # fmt: skip
    if line.repeats is not None:
        found[0] = (first, [replace(head, repeats=replace(line.repeats, rounds=line.repeats.rounds[:1]))])
    return found
