"""What a technical editor would ask about in a pattern that works: one rule is one function."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from fractions import Fraction

from server.craft.fabric.numbering import custom_counts, numbers_in
from server.craft.text import rules
from server.craft.text.endings import begins_from_hook
from server.craft.text.findings import Finding
from server.craft.text.source import Source
from server.craft.text.tree import (
    Chain,
    FastenOff,
    Join,
    NoJoin,
    Number,
    Pattern,
    Plain,
    Repeat,
    RoundLine,
    SizeList,
    Turn,
    Work,
)

FIT_TOLERANCE = Fraction(20, 100)
"""How far gauge and foundation may be from the stated fit before it is asked about.

Published mitts are 6 to 10 % under the hand (28 and 30 sts at 3.5 an inch for 8.5 and 9.5 in: Suzie's
mitts for men, suzies-yarnie-stuff 2009-10) and up to 4 % off their own gauge (40, 36, 32 sts at 5.5 an
inch: kniterdone 2008-11). More than both together, and half as much again, is no longer ease.
"""

Editing = Callable[[Pattern, Source], Iterator[Finding]]


def not_rising(pattern: Pattern, source: Source) -> Iterator[Finding]:
    """Sizes stand smallest first: the foundation's counts, and what they fit, do not fall."""
    header = pattern.header
    for key, values in (("Foundation", header.foundations), ("Fits", header.fits_cm)):
        line = header.line(key)
        if line is not None and len(values) > 1 and list(values) != sorted(values):
            yield rules.NOT_RISING.at(source, line.span, key=key)


def gauge_against_fit(pattern: Pattern, source: Source) -> Iterator[Finding]:
    """Foundation over gauge is about as wide as what the size is said to fit."""
    header = pattern.header
    line = header.line("Gauge")
    if (
        header.worked == "rows"
        or header.gauge is None
        or line is None
        or len(header.fits_cm) != len(header.foundations)
    ):
        return
    off: list[int] = []
    words = ""
    for around, foundation, fits_cm in zip(
        _stitches_around(pattern), header.foundations, header.fits_cm, strict=True
    ):
        if around is None:
            continue
        around_cm = around * header.gauge.length_cm / header.gauge.stitches
        if abs(around_cm / Fraction(fits_cm) - 1) > FIT_TOLERANCE:
            off.append(foundation)
            words = words or f"{around} sts come to {float(around_cm):.1f} cm around, and fit {fits_cm:g} cm"
    if off:
        yield rules.GAUGE_AND_FIT.at(
            source, line.span, foundations=tuple(off), what=words, tolerance=f"{int(FIT_TOLERANCE * 100)} %"
        )


def _stitches_around(pattern: Pattern) -> tuple[int | None, ...]:
    """The stitches around the piece at each size: the foundation's; of a band worked sideways, those worked
    along its rows' ends in the round; None where nothing says so.
    """
    header = pattern.header
    lines = [line for section in pattern.sections for line in section.lines if isinstance(line, RoundLine)]
    joined = any(isinstance(item, Join) for line in lines[:1] for item in line.body)
    sideways = next((at for at, line in enumerate(lines[:2]) if begins_from_hook(line.body)), None)
    if joined or sideways is None:
        return header.foundations
    rounds = (
        line
        for section in pattern.sections
        if section.kind == "row ends"
        for line in section.lines
        if isinstance(line, RoundLine) and any(isinstance(item, Join) for item in line.body)
    )
    numbers = numbers_in(first.body) if (first := next(rounds, None)) is not None else ()
    evenly = max(numbers, key=_largest, default=None)
    if isinstance(evenly, Plain) and evenly.value > 1:
        return (evenly.value,) * len(header.foundations)
    if isinstance(evenly, SizeList) and len(evenly.values) == len(header.foundations):
        return evenly.values
    return (None,) * len(header.foundations)


def _largest(number: Number) -> int:
    return max(number.values) if isinstance(number, SizeList) else getattr(number, "value", 0)


def bare_foundation(pattern: Pattern, source: Source) -> Iterator[Finding]:
    """With one size, the foundation's number in an instruction stays the same at every custom count."""
    header = pattern.header
    if len(header.foundations) != 1 or len(custom_counts(header)) < 2:
        return
    for section in pattern.sections:
        for line in section.lines:
            if not isinstance(line, RoundLine) or (line.label is not None and line.label.foundation):
                continue
            if all(isinstance(item, Chain | Join) for item in line.body):
                continue  # the foundation without a label, whose number reads as N
            for number in numbers_in(line.body):
                if isinstance(number, Plain) and number.value == header.foundations[0] and number.span.end:
                    yield rules.BARE_FOUNDATION.at(source, number.span, mend="N")


def join_unsaid(pattern: Pattern, source: Source) -> Iterator[Finding]:
    """Where most rounds join, one that says nothing of its end may have lost the words."""
    if pattern.header.worked != "joined rounds":
        return
    sections = [
        [line for line in section.lines if isinstance(line, RoundLine) and line.sound and _may_join(line)]
        for section in pattern.sections
    ]
    asked: list[RoundLine] = []
    while more := list(_unsaid(sections, frozenset(map(id, asked)))):
        asked += more  # with its join one round may show that of another to be left out too
    for line in asked:
        span = line.body[-1].span
        yield rules.JOIN_UNSAID.at(
            source, span, mend=f"{source.slice(source.trimmed(span))}; join", mend_words="join"
        )


def _is_silent(line: RoundLine) -> bool:
    return not any(isinstance(item, ENDS) for item in line.body)


def _unsaid(sections: Sequence[Sequence[RoundLine]], asked: Collection[int]) -> Iterator[RoundLine]:
    """Rounds that say nothing of their end where most join, in all or in their section, or those beside them.

    asked   identities of those that are taken to join; they are not given again
    """

    def joins(line: RoundLine) -> bool:
        return id(line) in asked or any(isinstance(item, Join) for item in line.body)

    def most(rounds: Sequence[RoundLine]) -> bool:
        return sum(map(joins, rounds)) > 2 * sum(_is_silent(line) and not joins(line) for line in rounds)

    in_all = most([line for section in sections for line in section])
    for section in sections:
        in_section = in_all or most(section)
        for at, line in enumerate(section):
            among = 0 < at < len(section) - 1 and joins(section[at - 1]) and joins(section[at + 1])
            if _is_silent(line) and id(line) not in asked and (in_section or among):
                yield line


ENDS = (Join, NoJoin, Turn, FastenOff)


def _may_join(line: RoundLine) -> bool:
    """Whether a line is a round with a text of its own: no foundation, no row, no yarn only joined."""
    if not line.body or (line.label is not None and line.label.foundation) or begins_from_hook(line.body):
        return False
    return any(isinstance(item, Work | Repeat) for item in line.body)


EDITING: tuple[Editing, ...] = (not_rising, gauge_against_fit, bare_foundation, join_unsaid)


def edited(pattern: Pattern, source: Source) -> tuple[Finding, ...]:
    """All that an editor would ask about."""
    return tuple(finding for rule in EDITING for finding in rule(pattern, source))
