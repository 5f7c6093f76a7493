"""A round as its slips are told: what stands in each place, in a maker's terms."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from itertools import groupby

from server.craft.fabric.numbering import Numbering
from server.craft.fabric.values import Did, DidRepeat, WorkedRound
from server.craft.making.counting import name_words
from server.craft.making.placewords import Tongue, noun_words
from server.craft.making.retelling import Bit, Unit, bits_of, counts_anew, pass_length, spelling, units
from server.craft.making.spots import is_spot
from server.craft.text.reader import special_stitches
from server.craft.text.tree import Chain, Join, JoinYarn, Pattern, Skip, Terms, Work
from server.craft.text.vocabulary import BY_US, POST, legs, plain_stitch

PLAIN = "sl st"  # a stitch of no name that is counted


class Told:
    """One worked round, with what is asked of it again and again.

    bits   its path; units: every place that was worked into, those of the beginning chain left out
    """

    def __init__(self, pattern: Pattern, worked: WorkedRound, numbering: Numbering, terms: Terms) -> None:
        self.worked, self.terms = worked, terms
        self.spelled = spelling(special_stitches(pattern))
        self.foundation = "ch" in worked.counts
        self.tongue = Tongue(terms, lambda number: numbering.value(number, is_foundation=self.foundation))
        self.bits = bits_of(worked, special_stitches(pattern))
        self.joined = any(isinstance(one, Did) and isinstance(one.instruction, Join) for one in worked.doings)
        self.rows = pattern.header.worked == "rows" and not self.joined
        self.units = [unit for unit in units(worked.doings) if self._stands(unit)]

    def counts(self, bits: Sequence[Bit]) -> dict[str, int]:
        """What the round has where it was made so."""
        return counts_anew(bits, self.spelled, circular=not self.rows, foundation=self.foundation)

    def _stands(self, unit: Unit) -> bool:
        return any(self.bits[at].node.kind == "stitch" for at in range(unit.start, unit.end))

    # --- the beginning and the end --------------------------------------------------------------------------

    @cached_property
    def begin_at(self) -> int | None:
        """Where in the path the beginning chain is."""
        return next((at for at, bit in enumerate(self.bits) if bit.node.kind == "begin"), None)

    @cached_property
    def spare(self) -> int:
        """Chains of the beginning chain beyond the stitch that it counts as."""
        for doing in self.worked.doings:
            if isinstance(doing, Did) and doing.counts_as is not None:
                return doing.counts_as[1]
        return 0

    @cached_property
    def first_group(self) -> str:
        """The group that the beginning chain is a part of; "" for none."""
        at = self.begin_at
        if at is None:
            return ""
        whole = self.counts(self.bits)
        without = self.counts([*self.bits[:at], *self.bits[at + 1 :]])
        fewer = [
            name for name in whole if name in self.spelled.values() and whole[name] > without.get(name, 0)
        ]
        return fewer[0] if fewer else ""

    @property
    def word(self) -> str:
        """ "round", "row"."""
        return "row" if self.rows else "round"

    @property
    def end_words(self) -> str:
        """ "before the join", "of the row", "before the marker"."""
        return "before the join" if self.joined else "of the row" if self.rows else "before the marker"

    @property
    def hides(self) -> str:
        """Why the last place is easily lost."""
        if self.joined:
            return "it hides beside the join"
        return "it lies at the edge, beside the turning chain" if self.rows else "it hides under the marker"

    # --- units in words -------------------------------------------------------------------------------------

    def name(self, stitch: str) -> str:
        """A stitch or group in her terms, singular."""
        return name_words(stitch, 1, self.terms)

    def stitch_of(self, unit: Unit) -> str:
        """The US name of the last stitch of a unit."""
        nodes = [self.bits[at].node for at in range(unit.start, unit.end)]
        return [node.name for node in nodes if node.kind == "stitch"][-1]

    def words(self, unit: Unit) -> str:
        """What stands in one place: "sc", "2 dc", "Perch", "(dc, ch 1, dc)"."""
        bits = self.bits[unit.start : unit.end]
        if bits[0].group is not None and len({bit.group for bit in bits if bit.group}) == 1:
            return bits[0].group[0]
        names = tuple("ch" if bit.node.kind == "chain" else bit.node.name for bit in bits)
        if names in self.spelled and all(bit.node.kind != "begin" for bit in bits):
            return self.spelled[names]
        said = self.inside(unit)
        return said if "," not in said else f"({said})"

    def inside(self, unit: Unit) -> str:
        """What stands in one place, stitch by stitch: "2 dc, ch 1, 2 dc"."""
        told = []
        for name, run in groupby(
            (bit.node.kind, bit.node.name, bit.node.size) for bit in self.bits[unit.start : unit.end]
        ):
            kind, stitch, size = name
            many = len(list(run))
            if kind in ("chain", "begin"):
                told.append(f"ch {many if kind == 'chain' else size}")
            else:
                told.append(name_words(stitch, 1, self.terms) if many == 1 else self._many(stitch, many))
        return ", ".join(told)

    def _many(self, stitch: str, many: int) -> str:
        return f"{many} {name_words(stitch, many, self.terms)}"

    def one(self, unit: Unit) -> str:
        """ "one sc", "2 dc", "(dc, ch 1, dc)"."""
        words = self.words(unit)
        return words if words[0].isdigit() or words[0] == "(" else f"one {words}"

    def place(self, unit: Unit) -> str:
        """What the place is called: "st", "ch-1 sp", "dc side"."""
        noun, edge = unit.did.noun, self._edge(unit)
        words = noun_words(noun, 1, self.terms) if noun is not None else "place"
        return f"{words} {edge}" if edge else words

    def at(self, unit: Unit) -> str:
        """ "in" a place, "around" a post."""
        return "around" if self._is_post(unit) else "in"

    def goes(self, unit: Unit) -> str:
        """ "go" of several stitches, "goes" of one thing."""
        return "go" if self.words(unit)[0].isdigit() else "goes"

    def looks_like(self, unit: Unit) -> str:
        """The US name of the stitch that a slip stitch or chain beside it is taken for; PLAIN for any."""
        stitch = plain_stitch(self.stitch_of(unit))
        return stitch if stitch in BY_US and not self._is_post(unit) else PLAIN

    def _is_post(self, unit: Unit) -> bool:
        made = unit.did.instruction
        place = made.place if isinstance(made, Work) else None
        return POST.match(self.stitch_of(unit)) is not None or (place is not None and place.post)

    def _edge(self, unit: Unit) -> str:
        made = unit.did.instruction
        place = made.place if isinstance(made, Work | JoinYarn) else None
        return (place.edge or "") if place is not None else ""

    def is_stitch_place(self, unit: Unit) -> bool:
        """Whether the place is the top of a stitch."""
        noun = unit.did.noun
        return noun is not None and noun.kind in ("st", "stitch") and not self._edge(unit)

    def is_plain_place(self, unit: Unit) -> bool:
        """Whether the slip stitch of a join could be taken for such a place."""
        noun = unit.did.noun
        is_chain = noun is not None and noun.kind in ("ch", "foundation ch") and not self._edge(unit)
        plain = (self.is_stitch_place(unit) and not self._is_post(unit)) or is_chain
        return plain and not self.alone_in_repeat(unit) and not self.is_decrease(unit)

    def is_decrease(self, unit: Unit) -> bool:
        """Whether it draws several places to one top."""
        return legs(self.stitch_of(unit)) > 1

    def shares_beginning(self, unit: Unit) -> bool:
        """Whether it stands beside the beginning chain, in the same place."""
        at = self.begin_at
        return (
            at is not None
            and bool(self.bits[at].node.name)
            and (self.bits[unit.start].node.base == self.bits[at].node.base)
        )

    @property
    def below_is_round(self) -> bool:
        """Whether it is worked into a round that can be counted too."""
        return is_spot(self.worked.below)

    def in_ring(self, unit: Unit) -> bool:
        """Whether it was worked into a ring, which has no places."""
        return self.bits[unit.start].node.into == "ring"

    # --- within repeats -------------------------------------------------------------------------------------

    def with_its_chains(self, unit: Unit) -> tuple[int, int]:
        """The unit, with all of its time of the repeat where that makes chains between stitches."""
        repeat = unit.repeat
        if repeat is None or not _has(repeat, Chain):
            return unit.start, unit.end
        length = pass_length(repeat)
        start = repeat.nodes[0] + (unit.turn - 1) * length
        return start, min(start + length, repeat.nodes[1])

    def alone_in_repeat(self, unit: Unit) -> bool:
        """Whether a repeat passes places over and works this one: then the repeat is what is left out."""
        repeat = unit.repeat
        return repeat is not None and _has(repeat, Skip) and unit.end - unit.start == pass_length(repeat)


def _has(repeat: DidRepeat, kind: type[Chain] | type[Skip]) -> bool:
    return any(isinstance(one, Did) and isinstance(one.instruction, kind) for one in repeat.body)
