"""Finds the thumb of a post that calls no section a gap: its one `ch 6, sk 6 sts`, and what is worked around
it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from server.craft.text.source import Source
from server.craft.text.titles import section_kind
from server.craft.text.tree import (
    Chain,
    FoundationStitches,
    Instruction,
    JoinYarn,
    Line,
    Noun,
    Plain,
    Repeat,
    RingStart,
    RoundLine,
    Section,
    Skip,
    Span,
    Work,
)

OPENING = re.compile(
    r"\bthumb[\s-]*(?:opening|hole|gap)\b|\b(?:around|round|at|in|of|to)\s+the\s+(?:opening|hole)\b",
    re.IGNORECASE,
)
"""Words that speak of the gap that a thumb is worked around."""
PASSED_OVER = re.compile(r"\b(?:skipped|missed|unworked)\b", re.IGNORECASE)
THUMB = re.compile(r"\bthumbs?\b", re.IGNORECASE)
LEAST_CH = 2
GAP, AROUND, ABOVE = "Thumb gap", "around the gap", "Above it"


def names_opening(text: str) -> bool:
    """Whether a line speaks of the thumb's opening."""
    return OPENING.search(text) is not None


def with_thumb(sections: Sequence[Section], source: Source, *, spiral: bool) -> tuple[Section, ...]:
    """The sections, the round that makes the one gap in a section of its own, and the thumb around it.

    As they were where a section says itself that it works around a gap, where there are several gaps, or
    where nothing is worked around the one there is.
    """
    called = [index for index, one in enumerate(sections) if one.kind == "gap"]
    if any(one.kind == "gap edge" for one in sections) or len(called) > 1:
        return tuple(sections)
    gaps = [
        (index, at)
        for index, one in enumerate(sections)
        for at, line in enumerate(one.lines)
        if isinstance(line, RoundLine) and one.kind in ("body", "gap") and _makes_gap(line, spiral=spiral)
    ]
    if len(gaps) != 1 or (called and called[0] != gaps[0][0]):
        return tuple(sections)
    index, at = gaps[0]
    thumb = next((late for late in range(index + 1, len(sections)) if _around(sections[late], source)), None)
    if thumb is None:
        return tuple(sections)
    found = list(sections)
    one = found[thumb]
    purpose = f"{one.purpose}, {AROUND}" if one.purpose else AROUND
    lines = _in_undersides(one.lines)
    found[thumb] = replace(one, kind="gap edge", title=one.title or "Thumb", purpose=purpose, lines=lines)
    if not called:
        found[index : index + 1] = _parted(found[index], at)
    return tuple(found)


def _in_undersides(lines: Sequence[Line]) -> tuple[Line, ...]:
    """The lines; in the first round around the gap, `each of 4 ch` are the undersides of its chains."""
    at = next((at for at, line in enumerate(lines) if isinstance(line, RoundLine) and _works(line)), None)
    if at is None:
        return tuple(lines)
    line = lines[at]
    assert isinstance(line, RoundLine)
    body = tuple(_in_underside(item) if isinstance(item, Work) else item for item in line.body)
    return (*lines[:at], replace(line, body=body), *lines[at + 1 :])


def _works(line: RoundLine) -> bool:
    return any(isinstance(item, Work | Repeat) for item in line.body)


def _in_underside(item: Work) -> Work:
    where = item.place
    if where is None or where.nouns != (Noun("ch"),) or where.edge is not None or where.skipped:
        return item
    if where.which not in ("next", "each", "plain"):
        return item
    return replace(item, place=replace(where, edge="underside"))


def _parted(section: Section, at: int) -> list[Section]:
    """What stands before the gap's round, that round, and what stands after it."""
    before, line, after = section.lines[:at], section.lines[at], section.lines[at + 1 :]
    own = THUMB.search(section.title) is not None and not any(isinstance(one, RoundLine) for one in before)
    if own:
        called = section_kind(section.title, section.purpose) == "gap"
        purpose = section.purpose if called else ", ".join(filter(None, (section.purpose, "the gap")))
        gap = replace(section, purpose=purpose, kind="gap", lines=(*before, line))
    else:
        gap = Section(GAP, "", "gap", (line,), line.span)
    parts = [] if own or not before else [replace(section, lines=before)]
    rest = replace(section, title=ABOVE if own or not section.title else section.title, lines=after)
    return [*parts, gap, *([replace(rest, span=_span(after))] if after else [])]


def _span(lines: Sequence[Line]) -> Span:
    return lines[0].span


def _makes_gap(line: RoundLine, *, spiral: bool) -> bool:
    """Whether chains pass over places, once and not again and again."""
    if line.repeats is not None or (line.label is not None and line.label.last is not None):
        return False
    body = line.body
    found = [at for at in range(len(body) - 1) if _passes_over(body, at) and (at or spiral)]
    again = any(isinstance(item, Repeat) and _somewhere(item.body) for item in body)
    return len(found) == 1 and not again


def _passes_over(body: Sequence[Instruction], at: int) -> bool:
    chain = body[at]
    if not isinstance(chain, Chain) or not isinstance(body[at + 1], Skip) or chain.counts is not None:
        return False
    return not isinstance(chain.number, Plain) or chain.number.value >= LEAST_CH


def _somewhere(body: Sequence[Instruction]) -> bool:
    return any(_passes_over(body, at) for at in range(len(body) - 1))


def _around(section: Section, source: Source) -> bool:
    """Whether a section works around the gap: it says so, or is called a thumb and joins yarn anew."""
    if section.kind != "body":
        return False
    rounds = [line for line in section.lines if isinstance(line, RoundLine)]
    if not rounds or any(isinstance(item, RingStart | FoundationStitches) for item in rounds[0].body):
        return False
    works = next(
        (line for line in rounds if any(isinstance(item, Work | Repeat) for item in line.body)), rounds[0]
    )
    said = source.slice(rounds[0].span.to(works.span))
    joins = any(isinstance(item, JoinYarn) for item in (*rounds[0].body[:1], *works.body[:1]))
    is_thumb = THUMB.search(section.title) is not None and (joins or PASSED_OVER.search(said) is not None)
    return is_thumb or names_opening(said)
