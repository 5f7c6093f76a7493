"""The tree of a written pattern: frozen values, each with its place in the source.

Stitch names in the tree are always the US abbreviations ("sc", "dc", "FPdc", "dc2tog"), whatever terms the
text is written in; `Header.terms` says which those were. Spans do not take part in comparison, so that two
trees are equal when they say the same.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from server.craft.text.header_values import Gauge as Gauge
from server.craft.text.header_values import Header as Header
from server.craft.text.header_values import HeaderLine as HeaderLine
from server.craft.text.header_values import Pieces as Pieces
from server.craft.text.header_values import SpecialStitch as SpecialStitch
from server.craft.text.header_values import Terms as Terms
from server.craft.text.header_values import Worked as Worked
from server.craft.text.source import NOWHERE as NOWHERE
from server.craft.text.source import Span as Span

Loop = Literal["back", "front", "third"]


# --- numbers ------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Plain:
    """A number written as digits: the same for every size."""

    value: int
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class SizeList:
    """One number per size, smallest first: `24 (28, 32)`.

    absent   indices of sizes that have none of it, `2 (-, 4)`; their value is 0
    """

    values: tuple[int, ...]
    absent: tuple[int, ...] = ()
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Formula:
    """A line in N: `2N/3 + 1` has the slope 2/3 and the shift 1."""

    slope: Fraction
    shift: Fraction
    span: Span = field(default=NOWHERE, compare=False)


Number = Plain | SizeList | Formula


# --- what is named ------------------------------------------------------------------------------------------

NounKind = Literal["st", "ch", "sp", "stitch", "group", "foundation ch", "ring", "beg ch", "row", "edge"]


@dataclass(frozen=True, slots=True)
class Noun:
    """What a place is called.

    kind "stitch" and "group" have a name; kind "sp" has the length of its chain, or None for any space;
    kind "row" is a row's end; kind "edge" is any place of the edge that is worked around;
    kind "beg ch" has the length that was written ("beg ch-4"), or None.
    """

    kind: NounKind
    name: str = ""
    length: int | None = None
    loop_form: bool = field(default=False, compare=False)  # written `ch-5`, not `ch-5 sp`


PartKind = Literal["kth", "center", "last", "top"]


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a place: `3rd ch of`, `center dc of`, `last dc of`, `top of`."""

    kind: PartKind
    ordinal: int = 0
    noun: Noun | None = None


Which = Literal["next", "same", "first", "last", "each", "any", "kth", "skipped", "beg", "from hook", "plain"]


@dataclass(frozen=True, slots=True)
class Place:
    """Where something is worked.

    which      how it is found: `next 3 sts`, `same st`, `each st around`, `2nd ch from hook` ("from hook") …
    count      how many places (`next 3`), None for one; for "kth" and "from hook" the ordinal is in `ordinal`
    nouns      what they are called; more than one for `each st and ch-1 sp`
    part       a part of each place
    edge       "side" or "underside" at a gap; "between" two neighbours of that name
    loop       back, front or third loop
    post       around the place's post, not into its top
    until      `each … to last 2 sts`: how many are left
    before     `each … to ch-6 sp`: up to the next place of that name, none where it is next at once
    """

    which: Which
    nouns: tuple[Noun, ...] = ()
    count: Number | None = None
    ordinal: int = 0
    part: Part | None = None
    edge: Literal["side", "underside", "between"] | None = None
    loop: Loop | None = None
    post: bool = False
    skipped: bool = False  # `next 5 skipped sts`: only among the places that a gap passed over
    until: Number | None = None
    before: Noun | None = None
    pairs: bool = (
        False  # `2 dc between next 2 dc`: between the two of a pair, then those of the pair after it
    )
    step: int = 1  # `every other st` is 2
    evenly: bool = False  # so many stitches over all of these places
    at_beginning: bool = False  # `same st as beg ch`: where the round began
    passed: CountsAs | None = None  # `3rd ch from hook (skipped chs count as hdc)`
    span: Span = field(default=NOWHERE, compare=False)


# --- instructions -------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class CountsAs:
    """`(counts as dc, ch 1)`: stitches ("dc",) and the chains left over; neither for `does not count`."""

    stitches: tuple[str, ...] = ()
    chains: int = 0
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Chain:
    """`ch 4`, with what it counts as where that is written."""

    number: Number
    counts: CountsAs | None = None
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Inline:
    """`(dc, ch 1, dc)`: stitches and chains that go into one place."""

    items: tuple[Chain | Work, ...]
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Work:
    """One stitch, group or `(…)` worked, `times` into each place; no place means the next one."""

    stitch: str | Inline
    times: Number
    place: Place | None = None
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Skip:
    """`sk 2 ch`, `sk next V-st`."""

    place: Place
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Repeat:
    """A repeated text.

    Exactly one of `times` (in all, the first one included), `around` and `to_last` says how often.

    omitting   what `omitting last sc` leaves out of the last repeat
    style      "star" or "bracket": how it is written
    """

    body: tuple[Instruction, ...]
    times: Number | None = None
    around: bool = False
    to_last: Place | None = None
    omitting: tuple[Work | Chain | Skip, ...] = ()
    style: Literal["star", "bracket"] = field(default="star", compare=False)
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Join:
    """`join with sl st in first sc`; `place` None for a bare `join`. `to_ring`: the chain becomes a ring."""

    place: Place | None = None
    to_ring: bool = False
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class JoinYarn:
    """`join yarn with sc in any st`: `stitch` is "sl st" where only the yarn is joined."""

    stitch: str = "sl st"
    place: Place | None = None
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Turn:
    """`turn`."""

    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class NoJoin:
    """`do not join`."""

    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class OtherSide:
    """`working along the other side of the foundation ch`: on from here in the chains' free side."""

    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class FastenOff:
    """`fasten off`."""

    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class RingStart:
    """An adjustable ring to begin from."""

    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class FoundationStitches:
    """`fsc 28`: foundation chain and first round in one."""

    stitch: str
    number: Number
    span: Span = field(default=NOWHERE, compare=False)


Instruction = (
    Chain
    | Work
    | Skip
    | Repeat
    | Join
    | JoinYarn
    | Turn
    | NoJoin
    | OtherSide
    | FastenOff
    | RingStart
    | FoundationStitches
)


# --- rounds, sections, pattern ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class StatedCount:
    """One item of a count line: a number and what it counts; noun None for a bare number."""

    number: Number
    noun: Noun | None
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class CountLine:
    """`[6 (7, 8) V-sts, 12 dc]`."""

    items: tuple[StatedCount, ...]
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Label:
    """`Rnds 2 to 5 (5, 6), or to the base of the thumb`.

    word    "Rnd" or "Row"
    first   the first round's number (by size where rounds before it go by size); 0 for the foundation
    last    the last round's number, by size; None for a single round
    until   "the base of the thumb" where the maker decides how many, else None
    """

    word: Literal["Rnd", "Row"]
    first: Number
    last: Number | None = None
    until: str | None = None
    foundation: bool = False
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class RepeatRounds:
    """`rep rnds 2 and 3 of Cuff`: the rounds' numbers, in turn, and the section if another is meant."""

    rounds: tuple[int, ...]
    section: str | None = None
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class RoundLine:
    """One round, or several with the same text. `label` None: a round without a label.

    only   indices of the sizes that it is worked for; None for all
    """

    label: Label | None
    body: tuple[Instruction, ...]
    repeats: RepeatRounds | None = None
    stated: CountLine | None = None
    only: tuple[int, ...] | None = None
    sound: bool = True  # False where some of it did not read
    span: Span = field(default=NOWHERE, compare=False)
    body_span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Ending:
    """`Fasten off.`, with the words that follow it."""

    text: str
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Note:
    """Words for the maker, not worked."""

    text: str
    span: Span = field(default=NOWHERE, compare=False)


Line = RoundLine | Ending | Note
SectionKind = Literal["body", "gap", "foundation edge", "gap edge", "row ends"]


@dataclass(frozen=True, slots=True)
class Section:
    """A section: its title, what it is for, and its lines."""

    title: str
    purpose: str
    kind: SectionKind
    lines: tuple[Line, ...]
    span: Span = field(default=NOWHERE, compare=False)


@dataclass(frozen=True, slots=True)
class Pattern:
    """A pattern as read. `source` is the text it was read from."""

    header: Header
    sections: tuple[Section, ...]
    prose: tuple[Note, ...] = ()
    source: str = field(default="", compare=False)
