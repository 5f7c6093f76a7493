"""What goes wrong while a round is worked at one count."""

from __future__ import annotations

from dataclasses import dataclass

from server.craft.fabric.numbering import Count
from server.craft.text.rules import Rule
from server.craft.text.tree import Noun, Span
from server.craft.text.vocabulary import plural

Order = tuple[int, int]
"""Where a round stands in the text: index of its section, and of its line there."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A rule that is broken at some words, at the count being worked.

    The prover joins the counts to one finding.

    values   for the message
    mend     the text that should stand in the place of those words
    """

    rule: Rule
    span: Span
    values: tuple[tuple[str, str], ...] = ()
    stated: str | None = None
    worked: str | None = None
    mend: str | None = None
    origin: Span | None = None


@dataclass(frozen=True, slots=True)
class Placed:
    """A fault with the round it was met in.

    order     where that stands in the text
    strand    "main", "foundation" or "gap": what the round hangs on; "" for the piece as a whole
    checked   the last round of the strand, up to then, whose stated count agreed; None where none did
    foundation   whether the round makes the foundation, which an edging is worked into later
    """

    fault: Fault
    order: Order = (-1, -1)
    strand: str = ""
    checked: Order | None = None
    foundation: bool = False


@dataclass(frozen=True, slots=True)
class Found:
    """A fault at one count."""

    count: Count
    placed: Placed

    @property
    def fault(self) -> Fault:
        """What went wrong."""
        return self.placed.fault

    @property
    def section(self) -> int:
        """Index of the section it is in."""
        return self.placed.order[0]


class Stuck(Exception):
    """The round cannot go on at this place. Never leaves the fabric."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.rule.code)
        self.fault = fault


class TooLarge(Exception):
    """More stitches than a piece may have. Never leaves the fabric."""

    def __init__(self, span: Span) -> None:
        super().__init__()
        self.span = span


def fault(
    rule: Rule,
    span: Span,
    *,
    stated: str | None = None,
    worked: str | None = None,
    mend: str | None = None,
    **values: str,
) -> Fault:
    """A fault with the values of its message."""
    return Fault(rule, span, tuple(sorted(values.items())), stated, worked, mend)


def called(noun: Noun, terms_name: str | None = None) -> str:
    """A place's name in words: "st", "ch-1 sp", "V-st", "foundation ch"."""
    if noun.kind == "sp":
        return f"ch-{noun.length} sp" if noun.length is not None else "space"
    if noun.kind in ("stitch", "group"):
        return terms_name or noun.name
    if noun.kind == "beg ch":
        return f"beg ch-{noun.length}" if noun.length else "beg ch"
    return noun.kind


def several(number: int, name: str) -> str:
    """ "1 st", "3 sts", "2 V-sts"."""
    return f"{number} {name if number == 1 else 'sts' if name == 'st' else plural(name)}"
