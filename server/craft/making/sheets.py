"""A pattern as a printed sheet for all sizes: smallest first, the others in parentheses.

Instructions are the host's own, printed from the tree in US or UK terms; counts are the fabric's at every
size, so that a stated count cannot be wrong. What is the same at all sizes stands once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from server.craft.fabric.formulas import piecewise
from server.craft.fabric.numbering import custom_counts, numbers_in
from server.craft.making.bysize import BySize, LineCounts
from server.craft.making.counting import key_of, name_words
from server.craft.making.fullnames import full_name
from server.craft.making.used import names_in
from server.craft.text.numbers import line_in_n, written
from server.craft.text.printer import header_lines, round_words
from server.craft.text.reader import special_stitches
from server.craft.text.tree import (
    Ending,
    Header,
    Line,
    Note,
    Noun,
    Pattern,
    RoundLine,
    Section,
    SectionKind,
    SizeList,
    SpecialStitch,
    Terms,
)
from server.craft.text.vocabulary import CLOSED, TOGETHER, name_in


@dataclass(frozen=True, slots=True)
class Fact:
    """Something stated in a word or two: ("Gauge", "14 sts and 9 rnds = 10 cm")."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A line of a section.

    label   "Rnds 3 to 6 (6, 7), or to the base of the thumb"; "" for a round without one, an ending, a note
    text    the instructions, or the words of an ending or a note
    count   what the round has, by size: "6 (7, 8) Perches"; "" for none
    custom  the same for a count of one's own: "N/4 Perches"; "" where it does not go by N
    """

    kind: Literal["round", "end", "note"]
    label: str
    text: str
    count: str = ""
    custom: str = ""


@dataclass(frozen=True, slots=True)
class SheetSection:
    """A section of the sheet."""

    title: str
    purpose: str
    kind: SectionKind
    lines: tuple[SheetLine, ...]


@dataclass(frozen=True, slots=True)
class CustomRule:
    """Which counts of one's own are allowed.

    rule     "any multiple of 4", "any multiple of 6 + 2"
    proved   the smallest and the largest that are proved
    by_size  whether some numbers are to be taken from the next smaller size
    """

    rule: str
    proved: tuple[int, int]
    by_size: bool


@dataclass(frozen=True, slots=True)
class Sheet:
    """A pattern as a printed sheet.

    facts          sizes, fit, foundation, gauge and how it is worked, by the keys of a pattern's header
    materials      yarn and hook
    special        groups and special stitches that are used: "Perch = (2 dc, ch 1, 2 dc) in one place"
    abbreviations  those that the sheet uses, each with its full words
    custom         the rule for a count of one's own, None where none is allowed
    notes          the host's words before the first round; in her own terms, as she wrote them
    """

    title: str
    terms: Terms
    written_in: Terms
    facts: tuple[Fact, ...]
    materials: tuple[Fact, ...]
    special: tuple[str, ...]
    abbreviations: tuple[Fact, ...]
    custom: CustomRule | None
    notes: tuple[str, ...]
    sections: tuple[SheetSection, ...]


MATERIALS = ("Yarn", "Hook")
AS_WRITTEN = ("Yarn", "Hook", "Fits")  # no stitch stands in these, and the host's own words say more
ONE_SIZE = ("one size",)  # what a header without sizes is read as
GENERAL = {
    "beg": "beginning", "ch": "chain", "rep": "repeat", "rnd": "round", "sk": "skip",
    "sl st": "slip stitch", "sp": "space", "st": "stitch",
}  # fmt: skip


SEVERAL_LEGS = "several legs in one place, closed together at the top: one stitch"


def sheet(pattern: Pattern, terms: Terms = "US") -> Sheet:
    """The sheet of a proved pattern. ValueError where some of its lines did not read.

    It works the pattern once for every size and every custom count: as long as a proof takes.
    """
    if any(
        isinstance(line, RoundLine) and not line.sound for part in pattern.sections for line in part.lines
    ):
        raise ValueError("some lines of the pattern did not read")
    by_size = BySize(pattern)
    sections = tuple(_section(section, by_size, terms) for section in pattern.sections)
    header = pattern.header
    facts = tuple(_facts(header, terms))
    used = names_in(pattern.sections)
    special = _special(pattern, used)
    return Sheet(
        title=header.title,
        terms=terms,
        written_in=header.terms,
        facts=tuple(fact for fact in facts if fact.label not in MATERIALS),
        materials=tuple(fact for fact in facts if fact.label in MATERIALS),
        special=tuple(_special_words(header, special, terms)),
        abbreviations=tuple(_abbreviations(pattern, used, special, sections, terms)),
        custom=_custom_rule(by_size),
        notes=tuple(note.text for note in pattern.prose),
        sections=sections,
    )


# --- header ------------------------------------------------------------------------------------------------


def _facts(header: Header, terms: Terms) -> Iterator[Fact]:
    for line in header_lines(replace(header, special=()), terms):
        label, _, text = line.partition(": ")
        if label in ("Title", "Terms") or (label == "Sizes" and header.sizes == ONE_SIZE):
            continue
        own = header.line(label)
        if own is not None and label in AS_WRITTEN:
            text = own.value
        yield Fact("Tension" if label == "Gauge" and terms == "UK" else label, text)


def _special(pattern: Pattern, used: set[str]) -> tuple[SpecialStitch, ...]:
    """The host's own, and the standing ones that the text uses and that say what they are."""
    own = pattern.header.special
    named = {special.name for special in own}
    standing = [
        special
        for name, special in special_stitches(pattern).items()
        if name in used and name not in named and special.items
    ]
    return (*own, *standing)


def _special_words(header: Header, special: tuple[SpecialStitch, ...], terms: Terms) -> Iterator[str]:
    for line in header_lines(replace(header, special=special), terms):
        label, _, text = line.partition(": ")
        if label == "Special stitch":
            yield text


def _abbreviations(
    pattern: Pattern,
    used: set[str],
    special: tuple[SpecialStitch, ...],
    sections: Sequence[SheetSection],
    terms: Terms,
) -> Iterator[Fact]:
    """Stitches by the tree, other words where they stand in the sheet."""
    groups = set(special_stitches(pattern))
    stitches = {name for name in used if name not in groups}
    stitches |= {item for each in special for item in each.items if isinstance(item, str)} - groups
    facts = {name_in(name, terms): _words(name, terms) for name in stitches}
    defined = {each.name for each in special}
    facts |= dict.fromkeys((used & set(CLOSED)) - defined, SEVERAL_LEGS)
    said = " ".join(_all_words(sections))
    facts |= {
        short: words
        for short, words in GENERAL.items()
        if re.search(rf"(?<!sl )\b{short}s?\b", said, re.IGNORECASE)  # "sl st" has its own line
    }
    for short in sorted(facts, key=str.lower):
        if short != facts[short]:
            yield Fact(short, facts[short])


def _words(name: str, terms: Terms) -> str:
    if together := TOGETHER.match(name):
        return f"{full_name(together[1], 1, terms)} {together[2]} stitches together"
    if name.startswith("f") and full_name(name, 1, terms) == name:
        return f"foundation {full_name(name[1:], 1, terms)}"
    return full_name(name, 1, terms)


def _all_words(sections: Sequence[SheetSection]) -> Iterator[str]:
    for section in sections:
        for line in section.lines:
            if line.kind == "round":
                yield f"{line.label} {line.text} {line.count}"


# --- sections ----------------------------------------------------------------------------------------------


def _section(section: Section, by_size: BySize, terms: Terms) -> SheetSection:
    lines = tuple(_line(line, by_size, terms) for line in section.lines)
    return SheetSection(section.title, section.purpose, section.kind, lines)


def _line(line: Line, by_size: BySize, terms: Terms) -> SheetLine:
    if isinstance(line, Note):
        return SheetLine("note", "", line.text)
    if isinstance(line, Ending):
        return SheetLine("end", "", line.text)
    words = round_words(by_size.pattern, by_size.line(line), terms)
    custom = "; ".join(_custom(line, by_size, terms)) if by_size.has_own else ""
    return SheetLine("round", words.label, words.instructions, words.count, custom)


# --- a count of one's own ----------------------------------------------------------------------------------


def _custom_rule(by_size: BySize) -> CustomRule | None:
    header = by_size.pattern.header
    if header.multiple is None or not by_size.has_own:
        return None
    proved = (*custom_counts(header), *header.foundations)
    words = f"any multiple of {header.multiple}" + (f" + {header.plus}" if header.plus else "")
    return CustomRule(words, (min(proved), max(proved)), _goes_by_size(by_size))


def _goes_by_size(by_size: BySize) -> bool:
    """Whether some rounds' number, or a list that lies on no line in N, goes by the next smaller size."""
    return any(
        isinstance(number, SizeList)
        and len(set(number.values)) > 1
        and (in_label or by_size.goes_by_size(number))
        for section in by_size.pattern.sections
        for line in section.lines
        if isinstance(line, RoundLine)
        for in_label, part in ((True, line.label), (False, line.body))
        for number in numbers_in(part)
    )


def _custom(line: RoundLine, by_size: BySize, terms: Terms) -> Iterator[str]:
    """The counts in N, and what to take for lists in the instructions that lie on a line in N."""
    counts = by_size.line_counts(line)
    said = [_in_n(noun, each, by_size, terms) for noun, each in counts]
    if any("N" in words for words in said):
        yield ", ".join(words for words in said if words)
    foundations = by_size.pattern.header.foundations
    for number in dict.fromkeys(numbers_in(by_size.line(line).body)):
        if isinstance(number, SizeList) and number.values != foundations:
            line_words = by_size.list_in_n(number)
            if line_words is not None:
                yield f"for {written(number)} take {line_words}"


def _in_n(noun: Noun, counts: LineCounts, by_size: BySize, terms: Terms) -> str:
    """ "N/4 Perches"; "dc: N/2 where N/3 is even, …" where no one line serves; "" where none does."""
    key = key_of(noun)
    line = by_size.in_n(counts)
    if line is not None:
        many = 1 if line == (Fraction(0), Fraction(1)) else 2
        return f"{line_in_n(*line)} {name_words(key, many, terms)}"
    header = by_size.pattern.header
    points = {**dict(zip(header.foundations, counts.sizes, strict=True)), **counts.custom}
    parts = piecewise(points, header.multiple or 1, header.plus)
    return f"{name_words(key, 2, terms)}: {parts}" if parts is not None else ""
