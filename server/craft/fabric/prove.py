"""Proves a pattern: works it at every size and every custom count, and joins what went wrong to findings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from server.craft.fabric.faults import Found, Placed, TooLarge, fault
from server.craft.fabric.formulas import formula, piecewise
from server.craft.fabric.induction import EveryMultiple, every_multiple
from server.craft.fabric.joined_findings import findings_of
from server.craft.fabric.keeping import Cache, Keeping
from server.craft.fabric.numbering import Count, all_lists, counts_to_try, is_allowed, nearest_allowed
from server.craft.fabric.piece import Extent, PieceWorker, WorkedPiece
from server.craft.fabric.values import Fabric, Numbers, WorkedRound
from server.craft.fabric.working import Setting
from server.craft.text import rules
from server.craft.text.findings import CountKey, Finding
from server.craft.text.reader import Reading, read, special_stitches
from server.craft.text.source import Source
from server.craft.text.tree import Header, Pattern, RoundLine, Span
from server.craft.text.vocabulary import name_in

MAX_NODES_IN_PROOF = 500_000
"""Stitches that one proof may have in rounds that are not the same. More is no garment, and takes seconds."""

MAX_SECTIONS = 100
"""Sections of one piece; more are several pieces."""

UNWORKABLE = ("no-foundation", "sizes-differ", "unread-value")


@dataclass(frozen=True, slots=True)
class ProofRow:
    """A round in the table: its counts at each size (and count asked for) in the
    pattern's own terms, and as lines in N.
    """

    section: str
    label: str
    line: int
    counts: Mapping[str, Mapping[str, int]]
    formulas: Mapping[str, str]
    piecewise: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Proof:
    """What is known of a pattern.

    sizes      name to foundation count, None where it starts from a ring
    rows       every round that some size has, in order
    stitches   all that the hook makes in one piece, by the same keys as the rows' counts
    """

    pattern: Pattern
    findings: tuple[Finding, ...]
    sizes: Mapping[str, int | None]
    counts_tried: tuple[CountKey, ...]
    keys: tuple[str, ...]
    rows: tuple[ProofRow, ...]
    stitches: Mapping[str, int]
    every_multiple: EveryMultiple | None = None

    @property
    def proved(self) -> bool:
        """Whether nothing stands against publishing."""
        return not any(finding.is_error for finding in self.findings)

    @property
    def title(self) -> str:
        """The pattern's title."""
        return self.pattern.header.title

    @property
    def multiple(self) -> int | None:
        """Which custom counts are allowed: multiples of this (plus `plus`); None for none."""
        return self.pattern.header.multiple

    @property
    def plus(self) -> int:
        """What is added once to a multiple."""
        return self.pattern.header.plus

    def allowed(self, foundation: int) -> bool:
        """Whether a foundation count is allowed."""
        return is_allowed(self.pattern.header, foundation)

    def nearest(self, foundation: int) -> tuple[int, ...]:
        """The allowed counts next below and above."""
        return nearest_allowed(self.pattern.header, foundation)


@dataclass(slots=True)
class _Work:
    pieces: dict[Count, WorkedPiece] = field(default_factory=dict)
    found: list[Found] = field(default_factory=list)
    varying: set[Span] = field(default_factory=set)

    def note_varying(self, piece: WorkedPiece) -> None:
        """Lines whose rounds differ in their counts from one to the next: no one count line serves them."""
        for section in piece.sections:
            seen: dict[Span, Mapping[str, int]] = {}
            for worked in section.rounds:
                span = worked.source.span
                if seen.setdefault(span, worked.counts) != worked.counts:
                    self.varying.add(span)


def prove(text: str, foundations: Sequence[int] = (), cache: Cache | None = None) -> Proof:
    """Reads and proves a pattern text; `foundations` are counts to work besides the sizes. Never raises."""
    reading = read(text)
    header = reading.pattern.header
    workable = not any(
        finding.code in UNWORKABLE and finding.kind == "header" and _is_foundation_line(reading, finding)
        for finding in reading.findings
    )
    counts = counts_to_try(header, tuple(n for n in foundations if is_allowed(header, n))) if workable else ()
    work = _Work()
    if workable:
        _work_all(reading.pattern, counts, cache or Cache(), work)
    findings = findings_of(reading, work.found, counts, work.varying, workable=workable)
    shown = [count for count in counts if count.size is not None or count.foundation in foundations]
    keys = tuple(str(count.key(header)) for count in shown)
    sizes = dict(zip(header.sizes, header.foundations or (None,) * len(header.sizes), strict=False))
    return Proof(
        reading.pattern, findings, sizes, tuple(count.key(header) for count in counts), keys,
        _rows(reading.pattern, work.pieces, shown), _stitches(work.pieces, shown, reading.pattern),
        None if any(one.is_error for one in findings) else _every_multiple(header, work.pieces),
    )  # fmt: skip


def _every_multiple(header: Header, pieces: Mapping[Count, WorkedPiece]) -> EveryMultiple | None:
    """The proof by induction; sizes that are no custom count do not stand in its way."""
    if header.multiple is None:
        return None
    by_count = {
        count.foundation: piece.sections
        for count, piece in pieces.items()
        if count.foundation is not None and (count.foundation - header.plus) % header.multiple == 0
    }
    return every_multiple(by_count, header.multiple) if by_count else None


def _is_foundation_line(reading: Reading, finding: Finding) -> bool:
    """Whether a header finding leaves the piece without numbers to work with."""
    if finding.code == "no-foundation":
        return True
    source = Source(reading.pattern.source)
    for key in ("Foundation", "Sizes"):
        line = reading.pattern.header.line(key)
        if line is not None and source.line(line.span.start) == finding.line:
            return True
    return False


def _work_all(pattern: Pattern, counts: Sequence[Count], cache: Cache, work: _Work) -> None:
    specials = special_stitches(pattern)
    lists = all_lists(pattern)
    cache.begin()
    keeping = Keeping(cache, pattern, specials)
    if len(pattern.sections) > MAX_SECTIONS:
        span = pattern.sections[MAX_SECTIONS].span
        work.found += [Found(count, Placed(fault(rules.TOO_MANY_SECTIONS, span))) for count in counts]
        return
    extents: tuple[Extent, ...] = ("written", "least", "more") if _has_fit(pattern) else ("written",)
    for count in sorted(counts, key=lambda one: one.size is None):
        setting = Setting(pattern.header, count, specials, cache.stock)
        for extent in extents:
            worker = PieceWorker(pattern, setting, lists, keeping, extent=extent)
            try:
                piece = worker.work()
            except TooLarge as large:
                work.found.append(Found(count, Placed(fault(rules.TOO_LARGE, large.span, limit="20,000"))))
                return
            if extent == "written":
                work.pieces[count] = piece
            work.note_varying(piece)
            work.found.extend(Found(count, placed) for placed in piece.faults)
            if keeping.worked > MAX_NODES_IN_PROOF:
                span = pattern.sections[0].span
                work.found.append(
                    Found(count, Placed(fault(rules.TOO_LARGE, span, limit=f"{MAX_NODES_IN_PROOF:,}")))
                )
                return


def _has_fit(pattern: Pattern) -> bool:
    return any(
        isinstance(line, RoundLine) and line.label is not None and line.label.until is not None
        for section in pattern.sections
        for line in section.lines
    )


def _order(spot: str) -> tuple[int, ...]:
    return tuple(int(part) for part in spot.split("."))


def _rows(
    pattern: Pattern, pieces: Mapping[Count, WorkedPiece], shown: Sequence[Count]
) -> tuple[ProofRow, ...]:
    source = Source(pattern.source)
    by_spot: dict[str, dict[Count, WorkedRound]] = {}
    for count, piece in pieces.items():
        for section in piece.sections:
            for worked in section.rounds:
                by_spot.setdefault(worked.spot, {})[count] = worked
    rows: list[ProofRow] = []
    for spot in sorted(by_spot, key=_order):
        rounds = by_spot[spot]
        at_sizes = {count: rounds[count] for count in shown if count in rounds}
        if not at_sizes:
            continue
        any_round = next(iter(at_sizes.values()))
        rows.append(
            ProofRow(
                pattern.sections[any_round.section].title,
                any_round.label,
                source.line(any_round.source.span.start),
                {
                    str(count.key(pattern.header)): _named(pattern, worked.counts)
                    for count, worked in at_sizes.items()
                },
                *_formulas(pattern, rounds),
            )
        )
    return tuple(rows)


def _named(pattern: Pattern, counts: Mapping[str, int]) -> dict[str, int]:
    terms = pattern.header.terms
    named: dict[str, int] = {}
    for name, number in counts.items():
        own = name_in(name, terms)
        named[own] = named.get(own, 0) + number
    return named


def _formulas(pattern: Pattern, rounds: Mapping[Count, WorkedRound]) -> tuple[dict[str, str], dict[str, str]]:
    """Each name's line in N; and by remainder, where no one line serves."""
    names = dict.fromkeys(name for worked in rounds.values() for name in worked.counts)
    found: dict[str, str] = {}
    parted: dict[str, str] = {}
    header = pattern.header
    shared = [
        (count, same)
        for count, same in combinations(rounds, 2)
        if count.foundation is not None and count.foundation == same.foundation
    ]
    for name in names:
        if any(rounds[count].counts.get(name) != rounds[same].counts.get(name) for count, same in shared):
            continue  # sizes of one foundation that differ: it does not go by N
        values = {
            count.foundation: worked.counts.get(name, 0)
            for count, worked in rounds.items()
            if count.foundation is not None
        }
        line = formula(values)
        if line is not None:
            found[name_in(name, header.terms)] = line
        elif header.multiple is not None and (by := piecewise(values, header.multiple, header.plus)):
            parted[name_in(name, header.terms)] = by
    return found, parted


def _stitches(
    pieces: Mapping[Count, WorkedPiece], shown: Sequence[Count], pattern: Pattern
) -> dict[str, int]:
    return {
        str(count.key(pattern.header)): sum(
            worked.stitches for section in pieces[count].sections for worked in section.rounds
        )
        for count in shown
        if count in pieces
    }


def work(pattern: Pattern, numbers: Numbers, cache: Cache | None = None) -> Fabric:
    """Works a pattern in one maker's numbers.

    Faults are not reported here: only a proved pattern is worked for a maker. `cache` has what was worked
    before, as in `prove`.

    Raises ValueError where the numbers are not allowed in this pattern.
    """
    header = pattern.header
    size = header.sizes.index(numbers.size) if numbers.size in header.sizes else None
    if header.foundations:
        foundation = numbers.foundation if numbers.foundation is not None else header.foundations[size or 0]
        if not is_allowed(header, foundation):
            raise ValueError(f"{foundation} chains are not allowed in this pattern")
        if size is None or header.foundations[size] != foundation:
            size = header.foundations.index(foundation) if foundation in header.foundations else None
        count = Count(foundation, size)
    else:
        count = Count(None, size or 0)
    specials = special_stitches(pattern)
    setting, keeping = Setting(header, count, specials), Keeping(cache or Cache(), pattern, specials)
    worker = PieceWorker(pattern, setting, all_lists(pattern), keeping, fits=dict(numbers.fits))
    try:
        piece = worker.work()
    except TooLarge as large:
        raise ValueError("the piece would have too many stitches") from large
    return Fabric(tuple(piece.sections))
