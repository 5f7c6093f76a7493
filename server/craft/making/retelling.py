"""What a round would have, had something in it been made otherwise: its path, edited, and counted anew.

The counts follow rule 1 of the notation, as the fabric's own do: stitches by name, a decrease also as the
stitch it is made of, runs of chains as spaces, and stitches in one place that spell a group as that group.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from server.craft.fabric.values import Did, DidRepeat, Doing, Node, WorkedRound
from server.craft.text.tree import FoundationStitches, Join, JoinYarn, SpecialStitch, Work
from server.craft.text.vocabulary import legs, plain_stitch

Spelled = Mapping[tuple[str, ...], str]


class Bit(NamedTuple):
    """A node of a round's path; `again` where it is made a second time; the group it was worked as, by name
    and by which one.
    """

    node: Node
    again: int = 0
    group: tuple[str, int] | None = None


class _Stitch(NamedTuple):
    name: str
    place: tuple[object, ...] | None
    group: tuple[str, int] | None


@dataclass(frozen=True, slots=True)
class Unit:
    """What was worked into one place: bits `start` to `end` of the path, half-open.

    repeat  the repeat that it is in, with which time; None where it is in none
    """

    did: Did
    start: int
    end: int
    repeat: DidRepeat | None = None
    turn: int = 0


def spelling(specials: Mapping[str, SpecialStitch]) -> dict[tuple[str, ...], str]:
    """Each group's name by the stitches and chains that spell it."""
    return {
        tuple(
            name for part in one.items for name in ((part,) if isinstance(part, str) else ("ch",) * part)
        ): (one.name)
        for one in specials.values()
        if not one.one_stitch and one.name != "picot"
    }


# --- the units of a round ----------------------------------------------------------------------------------


def units(doings: Sequence[Doing]) -> list[Unit]:
    """Every place that was worked into, in working order. A repeat whose times differ in more than its last
    is told with its first time only.
    """
    return list(_units(doings, 0, None, 0))


def _units(doings: Sequence[Doing], shift: int, repeat: DidRepeat | None, turn: int) -> Iterator[Unit]:
    for doing in doings:
        if isinstance(doing, Did):
            yield from _split(doing, shift, repeat, turn)
            continue
        length = pass_length(doing)
        whole = doing.nodes[1] - doing.nodes[0]
        regular = doing.times if doing.last is None else doing.times - 1
        if doing.last is None and whole != length * doing.times:
            regular = 1
        for time in range(regular):
            yield from _units(doing.body, shift + time * length, repeat or doing, turn or time + 1)
        if doing.last is not None:
            yield from _units(doing.last, shift, repeat or doing, turn or doing.times)


def pass_length(repeat: DidRepeat) -> int:
    """How many nodes one time of a repeat makes."""
    return repeat.body[-1].nodes[1] - repeat.body[0].nodes[0] if repeat.body else 0


def _split(did: Did, shift: int, repeat: DidRepeat | None, turn: int) -> Iterator[Unit]:
    start, end = did.nodes[0] + shift, did.nodes[1] + shift
    if not isinstance(did.instruction, Work | JoinYarn | FoundationStitches) or start == end:
        return
    each = unit_length(did)
    for at in range(start, end, each):
        yield Unit(did, at, min(at + each, end), repeat, turn)


def unit_length(did: Did) -> int:
    """How many nodes go into one place of an instruction; all of them where the places are not alike."""
    made = did.nodes[1] - did.nodes[0]
    stitch = did.instruction.stitch if isinstance(did.instruction, Work | FoundationStitches) else ""
    if isinstance(did.instruction, FoundationStitches) or (isinstance(stitch, str) and legs(stitch) > 1):
        return 1
    in_ring = did.noun is not None and did.noun.kind == "ring"
    if in_ring and isinstance(stitch, str) and did.reached == 1:
        times = did.instruction.times if isinstance(did.instruction, Work) else None
        return 1 if times is not None and made > 1 else made
    return made // did.reached if did.reached > 1 and made % did.reached == 0 else max(made, 1)


# --- counting anew -----------------------------------------------------------------------------------------


def bits_of(worked: WorkedRound, specials: Mapping[str, SpecialStitch]) -> list[Bit]:
    """The path of a round, with the groups that were worked by their names marked."""
    bits = [Bit(node) for node in worked.path]
    for number, unit in enumerate(units(worked.doings)):
        made = unit.did.instruction
        special = (
            specials.get(made.stitch) if isinstance(made, Work) and isinstance(made.stitch, str) else None
        )
        if special is None or special.one_stitch or special.name == "picot":
            continue
        length = sum(1 if isinstance(part, str) else part for part in special.items)
        for at in range(unit.start, unit.end):
            bits[at] = bits[at]._replace(group=(special.name, number * 1000 + (at - unit.start) // length))
    return _after_ring(worked.doings, bits)


def _after_ring(doings: Sequence[Doing], bits: list[Bit]) -> list[Bit]:
    """Chains that become the ring a round is worked into are none of the round's."""
    for doing in doings:
        if isinstance(doing, Did) and isinstance(doing.instruction, Join) and doing.instruction.to_ring:
            end = doing.nodes[1]
            if end < len(bits):
                nothing = Node("slip", "sl st", 1, (), "none")
                return [Bit(nothing)] * end + bits[end:]
    return bits


def counts_anew(bits: Sequence[Bit], spelled: Spelled, *, circular: bool, foundation: bool) -> dict[str, int]:
    """What a round of these bits has, keyed as `WorkedRound.counts`."""
    made = _left(bits)
    if foundation and all(one is None for one in made):
        return {"ch": len(made)}
    counts: Counter[str] = Counter()
    counts.update(_groups(made, spelled, circular))
    stitches = Counter(one.name for one in made if one is not None)
    for stitch, number in stitches.items():
        for name in {plain_stitch(stitch), stitch}:
            counts[name] += number
    counts.update(f"ch-{length} sp" for length in _spaces(made))
    counts["sts"] = stitches.total()
    return dict(counts)


def _left(bits: Sequence[Bit]) -> list[_Stitch | None]:
    """Stitches, and None for each chain, as they stand when the round is done."""
    left: list[_Stitch | None] = []
    for node, again, group in bits:
        if node.kind == "chain":
            left.append(None)
        elif node.kind == "picot" and node.name != "picot":
            del left[len(left) - node.size :]
        elif node.kind == "stitch" or (node.kind == "begin" and node.name):
            place = (again, node.into, *node.base) if node.base and node.into != "ring" else None
            left.append(_Stitch(node.name, place, group))
    return left


def _spaces(made: Sequence[_Stitch | None]) -> Iterator[int]:
    run = 0
    for one in made:
        if one is None:
            run += 1
        elif run:
            yield run
            run = 0
    if run:
        yield run


def _groups(made: Sequence[_Stitch | None], spelled: Spelled, circular: bool) -> Iterator[str]:
    named = {one.group for one in made if one is not None and one.group is not None}
    yield from (name for name, _ in named)
    runs = _runs(made)
    if circular and len(runs) > 1:
        last, first = runs[-1], runs[0]
        one, other = made[last[0]], made[first[0]]
        if one is not None and other is not None and one.place is not None and one.place == other.place:
            wrapped = spelled.get(_names([*made[last[0] :], *made[: first[1]]]))
            if wrapped is not None:
                yield wrapped
                runs = runs[1:-1]
    for start, end in runs:
        run = made[start:end]
        if any(one is not None and one.group is not None for one in run):
            continue
        name = spelled.get(_names(run))
        if name is not None:
            yield name


def _names(run: Sequence[_Stitch | None]) -> tuple[str, ...]:
    return tuple("ch" if one is None else one.name for one in run)


def _runs(made: Sequence[_Stitch | None]) -> list[tuple[int, int]]:
    """From first to last of the stitches that stand one after another in one place, half-open."""
    runs: list[tuple[int, int]] = []
    start = end = -1
    place: object = None
    for at, one in enumerate(made):
        if one is None:
            continue
        if start >= 0 and one.place is not None and one.place == place:
            end = at + 1
            continue
        if start >= 0:
            runs.append((start, end))
        start, end, place = at, at + 1, one.place
    if start >= 0:
        runs.append((start, end))
    return runs


def left_out(bits: Sequence[Bit], start: int, end: int) -> list[Bit]:
    """The path without these bits."""
    return [*bits[:start], *bits[end:]]


def made_again(bits: Sequence[Bit], start: int, end: int) -> list[Bit]:
    """The path with these bits made a second time, beside the first."""
    second = [
        bit._replace(again=1, group=(bit.group[0], -bit.group[1] - 1) if bit.group else None)
        for bit in bits[start:end]
    ]
    return [*bits[:end], *second, *bits[end:]]
