"""Works a whole piece at one count: sections on the main tube, in the foundation, around the gap."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, NamedTuple

from server.craft.fabric.faults import Fault, Order, Placed, TooLarge, fault
from server.craft.fabric.gaps import LEAST_GAP_CH, MadeGap, gap_ring, named_gap
from server.craft.fabric.keeping import Keeping
from server.craft.fabric.numbering import Numbering, SectionLists
from server.craft.fabric.ring import Atom, Ring
from server.craft.fabric.rounds import Outcome, Task, leading_turn, trailing_chain
from server.craft.fabric.values import WorkedRound, WorkedSection
from server.craft.fabric.working import Setting
from server.craft.text import rules
from server.craft.text.endings import begins_from_hook
from server.craft.text.numbers import written
from server.craft.text.reader import joins_yarn
from server.craft.text.references import referenced
from server.craft.text.tree import (
    Chain,
    Ending,
    FoundationStitches,
    Instruction,
    Join,
    JoinYarn,
    Pattern,
    RingStart,
    RoundLine,
    Section,
    Span,
    Work,
)

Extent = Literal["least", "written", "more"]
MAX_ROUNDS_IN_LINE = 400
MAX_NODES_IN_PIECE = 150_000
EMPTY = Ring(())
EDGES = ("foundation", "gap", "row ends")
"""What a first round is worked into that is no round."""


@dataclass(slots=True)
class _Strand:
    """One run of rounds, each worked into the one before: the main tube, or an edging.

    suspect   an earlier fault may be behind whatever goes wrong next; cleared by a round whose count agrees
    broken    a round could not be read or worked: nothing after it can be said
    """

    ring: Ring
    below: str = ""
    name: str = "main"
    checked: Order | None = None
    suspect: bool = False
    broken: bool = False
    carried: Chain | None = None
    hook: JoinYarn | None = None


class _Turn(NamedTuple):
    """One round to work: its section, spot and label, its own line, and the line whose text it has.

    held_over   where that is another line, the words that say so
    """

    section: int
    at: int
    spot: str
    label: str
    line: RoundLine
    text: RoundLine
    held_over: Span | None


@dataclass(slots=True)
class WorkedPiece:
    """A piece at one count: its sections, and all faults with the round they were met in."""

    sections: list[WorkedSection] = field(default_factory=list)
    faults: list[Placed] = field(default_factory=list)


class PieceWorker:
    """Works one piece; rounds that were worked before come out of the keeping."""

    def __init__(
        self, pattern: Pattern, setting: Setting, lists: tuple[SectionLists, ...], keeping: Keeping,
        *, extent: Extent = "written", fits: Mapping[str, int] | None = None,
    ) -> None:  # fmt: skip
        self.pattern, self.setting, self.lists, self.keeping = pattern, setting, lists, keeping
        self.extent, self.fits = extent, fits or {}
        self.numbering: Numbering = setting.numbering
        self.off_line = tuple(
            any(self.numbering.is_off_line(number) for number in (*one.worked, *one.stated)) for one in lists
        )
        self.main = _Strand(EMPTY)
        self.foundation: int | None = None
        self.gaps: list[MadeGap] = []
        self.gaps_before = 0
        self.at_foundation = self.foundation_suspect = False
        self.gap_seen = self.gap_broken = False
        self.main_fastened = False
        self.rows, self.on_row_ends = 0, False
        self.foundation_joined = False
        self.last: _Strand | None = None
        self.piece = WorkedPiece()
        self.nodes = 0

    def work(self) -> WorkedPiece:
        """Works every section in order. Raises TooLarge."""
        for index, section in enumerate(self.pattern.sections):
            self._section(index, section)
        return self.piece

    def _section(self, index: int, section: Section) -> None:
        strand = self.last = self._strand(index, section)
        self._note_off_line(index)
        rounds: list[WorkedRound] = []
        if strand is not None:
            if section.kind == "gap":
                self.gaps_before = len(self.gaps)
            nth = 0
            for at, line in enumerate(section.lines):
                if isinstance(line, RoundLine):
                    if not strand.broken:
                        self._line(index, at, f"{index}.{nth}", line, strand, section, rounds)
                    nth += 1
                elif isinstance(line, Ending) and strand is self.main:
                    self.main_fastened = True
            if section.kind == "gap":
                self._close_gap(index, section, strand)
        self.piece.sections.append(
            WorkedSection(index, section.title, section.purpose, section.kind, tuple(rounds))
        )

    def _strand(self, index: int, section: Section) -> _Strand | None:
        if section.kind == "foundation edge":
            if self.foundation is None:
                if not self.main.broken:
                    self._fault(index, fault(rules.NO_FOUNDATION_EDGE, section.span))
                return None
            circular = self.setting.header.worked != "rows"
            free_side = Ring((Atom("foundation", "ch"),) * self.foundation, circular=circular)
            return _Strand(free_side, below="foundation", name="foundation", suspect=self.foundation_suspect)
        if section.kind == "row ends":
            return self._row_ends(section)
        if section.kind == "gap edge":
            gap = named_gap(section, self.gaps)
            if gap is None:
                if self.gaps or not (self.gap_seen or self.main.broken or self.main.suspect):
                    self._fault(index, fault(rules.GAP_MISSING, section.span))
                return None
            return _Strand(
                gap.edge, below="gap", name="gap", checked=self.main.checked, suspect=self.gap_broken
            )
        if (
            self.main_fastened
            and self.last is not None
            and self.last is not self.main
            and not joins_anew(section)
        ):
            # the body was fastened off: the yarn on the hook is that of the edging just worked
            return self.last
        return self.main

    def _row_ends(self, section: Section) -> _Strand | None:
        """The ends of the rows worked so far, one place each; work that goes on turns to that side."""
        if not self.rows:
            if not self.main.broken:
                self._fault(-1, fault(rules.NO_ROW_ENDS, section.span))
            return None
        first = next((line for line in section.lines if isinstance(line, RoundLine)), None)
        joined = first is not None and any(isinstance(item, Join) for item in first.body)
        ends = Ring((Atom("side", "row"),) * self.rows, circular=joined)
        strand = _Strand(ends, below="row ends", checked=self.main.checked, suspect=self.main.suspect)
        if not joins_anew(section):
            self.main, self.on_row_ends = strand, True
        return strand

    def _close_gap(self, index: int, section: Section, strand: _Strand) -> None:
        self.gap_seen = True
        if len(self.gaps) == self.gaps_before and not strand.broken and not strand.suspect:
            self._fault(index, fault(rules.NO_GAP, section.span))

    def _note_off_line(self, index: int) -> None:
        if not self.off_line[index]:
            return
        lists = self.lists[index]
        off = [number for number in lists.worked if self.numbering.is_off_line(number)]
        for number in off or [one for one in lists.stated if self.numbering.is_off_line(one)]:
            self._fault(index, fault(rules.OFF_LINE, number.span, form=written(number)))

    def _fault(self, index: int, found: Fault, at: int = -1, strand: _Strand | None = None) -> None:
        name, checked = (strand.name, strand.checked) if strand is not None else ("", None)
        self.piece.faults.append(Placed(found, (index, at), name, checked, self.at_foundation))

    # --- lines ----------------------------------------------------------------------------------------------

    def _line(
        self, index: int, at: int, address: str, line: RoundLine, strand: _Strand, section: Section,
        rounds: list[WorkedRound],
    ) -> None:  # fmt: skip
        """`at` is the line's index among all of the section; `address` counts its rounds' lines only."""
        if line.only is not None and self.numbering.size_index() not in line.only:
            return
        if not line.sound:
            strand.broken = True
            self.gap_broken = self.gap_broken or section.kind == "gap"
            return
        if joins_yarn(line) and line.stated is None:
            yarn = line.body[0]
            assert isinstance(yarn, JoinYarn)
            strand.hook = yarn
            return
        if line.repeats is not None and any(
            referenced(self.pattern, index, at, line.repeats, wanted) is None
            for wanted in line.repeats.rounds
        ):
            strand.broken = True
            return
        first = self.numbering.rounds(line.label.first) if line.label is not None else 0
        for turn in range(1, self._turns(address, line) + 1):
            text, held_over = self._text(index, at, line, turn)
            if text is None or not text.sound:
                strand.broken = True
                return
            label = _label(line, first + turn - 1)
            self._round(
                _Turn(index, at, f"{address}.{turn}", label, line, text, held_over), strand, section, rounds
            )
            if strand.broken:
                return

    def _turns(self, address: str, line: RoundLine) -> int:
        label = line.label
        if label is None:
            return 1
        if self.numbering.is_absent(label.last) or self.numbering.is_absent(label.first):
            return 0
        turns = 1
        if label.last is not None:
            turns = max(1, self.numbering.rounds(label.last) - self.numbering.rounds(label.first) + 1)
        if label.until is not None:
            own = self.fits.get(address)
            turns = (
                max(1, own)
                if own is not None
                else {"least": 1, "written": turns, "more": turns + 1}[self.extent]
            )
        if turns > MAX_ROUNDS_IN_LINE:
            raise TooLarge(label.span)
        return turns

    def _text(self, index: int, at: int, line: RoundLine, turn: int) -> tuple[RoundLine | None, Span | None]:
        """The line whose text is worked, and where it is another one, the words that say so."""
        repeats = line.repeats
        if repeats is None:
            return line, None
        wanted = repeats.rounds[(turn - 1) % len(repeats.rounds)]
        size = self.numbering.size_index() if self.setting.header.sizes else None
        return referenced(self.pattern, index, at, repeats, wanted, size), repeats.span

    def _round(self, turn: _Turn, strand: _Strand, section: Section, rounds: list[WorkedRound]) -> None:
        line, text = turn.line, turn.text
        items, turned = leading_turn(text.body)
        makes_foundation = self._makes_foundation(line, items)
        self.at_foundation = makes_foundation
        if makes_foundation:
            strand.ring, strand.below = EMPTY, ""
        led_in = self._led_in(items, strand)
        ring = strand.ring
        if self._goes_flat(items, strand):
            ring = replace(ring, circular=False, hook=len(ring) - 1, hook_length=1)
        rows = self.setting.header.worked == "rows"
        back_and_forth = len(ring) > 0 and not ring.circular and strand.below not in EDGES
        if back_and_forth or (turned and not rows):
            ring = ring.turned()
        stated = line.stated or text.stated
        task = Task(
            text, led_in, stated, ring, turned, makes_foundation, self.off_line[turn.section], turn.held_over,
            stated_held_over=turn.held_over is not None and line.stated is None,
        )  # fmt: skip
        outcome = self.keeping.outcome(task, self.setting)
        self._keep(turn, outcome, strand, rounds, turned=turned)
        if strand is self.main and not makes_foundation and not self.on_row_ends:
            self.rows += 1
        if makes_foundation:
            self.foundation = _foundation_chains(outcome)
            self.foundation_suspect = strand.suspect
            self.foundation_joined = any(isinstance(item, Join) for item in items)
        if section.kind == "gap":
            self._find_gap(outcome, ring, strand, turn.section, section)

    def _goes_flat(self, items: tuple[Instruction, ...], strand: _Strand) -> bool:
        """Whether a round begins `in 2nd ch from hook` of a chain that was not joined: rows, or an oval."""
        if strand is not self.main or self.foundation_joined or not self._on_foundation(strand):
            return False
        return begins_from_hook(items)

    def _on_foundation(self, strand: _Strand) -> bool:
        return len(strand.ring) > 0 and all(atom.kind == "foundation" for atom in strand.ring.atoms)

    def _led_in(self, items: tuple[Instruction, ...], strand: _Strand) -> tuple[Instruction, ...]:
        """The yarn joined before, and the chain carried over from the row before."""
        led_in: tuple[Instruction, ...] = ()
        if strand.carried is not None and not (items and isinstance(items[0], Chain)):
            led_in = (strand.carried,)
        if strand.hook is not None and not isinstance((*led_in, *items, None)[0], JoinYarn):
            led_in = (strand.hook, *led_in)
        strand.carried = strand.hook = None
        return led_in

    def _makes_foundation(self, line: RoundLine, items: tuple[Instruction, ...]) -> bool:
        if line.label is not None and line.label.foundation:
            return True
        if any(isinstance(item, FoundationStitches) for item in items):
            return True
        worked = [item for item in items if not isinstance(item, Chain | Join)]
        return not worked and bool(items) and isinstance(items[0], Chain) and not len(self.main.ring)

    def _keep(
        self, turn: _Turn, outcome: Outcome, strand: _Strand, rounds: list[WorkedRound], *, turned: bool
    ) -> None:
        self.nodes += len(outcome.path)
        if self.nodes > MAX_NODES_IN_PIECE:
            raise TooLarge(turn.line.body_span)
        if not strand.suspect:
            for one in outcome.faults:
                self._fault(turn.section, one, turn.at, strand)
        if any(one.rule.severity == "error" and one.rule.kind != "join" for one in outcome.faults):
            strand.suspect = True
        elif outcome.right:
            strand.suspect = False
            strand.checked = (turn.section, turn.at)
        rounds.append(
            WorkedRound(
                turn.spot, turn.section, turn.label, turn.line, turn.text,
                outcome.counts, outcome.path, outcome.doings, strand.below, turned,
            )
        )  # fmt: skip
        ring = outcome.ring
        if outcome.turn_after and ring.circular:
            ring = ring.turned()
        if not len(ring) and not _begins_ring(turn.text.body):
            strand.broken = True
        strand.ring, strand.below = ring, turn.spot
        strand.carried = trailing_chain(turn.text.body)[1]

    def _find_gap(
        self, outcome: Outcome, below: Ring, strand: _Strand, section_index: int, section: Section
    ) -> None:
        self.gap_broken = self.gap_broken or strand.suspect
        for gap in outcome.gaps:
            if gap.chains >= LEAST_GAP_CH:
                made = gap_ring(gap, below, outcome.ring)
                if made is not None:
                    self.gaps.append(MadeGap(section_index, section.title, gap.chains, made))


def joins_anew(section: Section) -> bool:
    """Whether a section begins with new yarn or a new foundation, and so not with the yarn on the hook."""
    first = next((line for line in section.lines if isinstance(line, RoundLine)), None)
    if first is None or (first.label is not None and first.label.foundation):
        return True
    return bool(first.body) and isinstance(first.body[0], JoinYarn | RingStart | FoundationStitches)


def _label(line: RoundLine, number: int) -> str:
    if line.label is None:
        return ""
    if line.label.foundation:
        return f"Foundation {line.label.word.lower()}"
    return f"{line.label.word} {number}"


def _foundation_chains(outcome: Outcome) -> int:
    """How many chains the foundation has: a free side to work into later."""
    ring = outcome.ring
    if all(atom.kind == "foundation" for atom in ring.atoms):
        return len(ring.atoms)
    return sum(1 for node in outcome.path if node.kind == "stitch")


def _begins_ring(items: tuple[Instruction, ...]) -> bool:
    return any(isinstance(item, RingStart | Work | Join) for item in items)
