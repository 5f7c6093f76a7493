"""What only the fabric tells of a round: how far a run of stitches goes, where the gap is, what began it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from server.craft.fabric.gaps import LEAST_GAP_CH
from server.craft.fabric.values import Did, DidRepeat, Doing, Node, WorkedRound
from server.craft.text.tree import (
    Chain,
    FastenOff,
    Join,
    JoinYarn,
    NoJoin,
    Noun,
    Number,
    Repeat,
    RingStart,
    Skip,
    Turn,
    Work,
    Worked,
)
from server.craft.text.vocabulary import legs

ENDINGS = (Join, NoJoin, Turn, FastenOff)


@dataclass(frozen=True, slots=True)
class Upto:
    """How far a run of stitches, or a repeat, goes.

    kind    "gap": a gap of the round below is next, the `count`th where there are several, else 0. "round
            end", "row end": nothing is left. "last": `count` places called `nouns` are left for what follows
    """

    kind: Literal["gap", "round end", "row end", "last"]
    count: int = 0
    nouns: tuple[Noun, ...] = ()


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the fabric tells of one round; doings by their index in it.

    upto      runs and repeats that go up to something
    gaps      chains that make a gap, each with its number where there are several, else 0
    ring      whether an adjustable ring has to be made first, which the text does not say
    begun     stitches with the beginning in them, `(ch 3, dc, …)` or `dc in 4th ch from hook`: what its chain
              counts as ("" for nothing), and the chains it has to spare
    """

    upto: Mapping[int, Upto] = field(default_factory=dict)
    gaps: Mapping[int, int] = field(default_factory=dict)
    ring: bool = False
    begun: Mapping[int, tuple[str, int]] = field(default_factory=dict)


NOTHING = Surroundings()


def section_gaps(rounds: Sequence[WorkedRound]) -> dict[str, dict[int, int]]:
    """The gaps that a section makes: its longest `ch n, sk …` (notation: rule 7), all of that length.

    By spot and by the index of the chains among the round's doings; numbered where there are several, else 0.
    """
    found = [(each.spot, at, many) for each in rounds for at, many, _ in _gaps(each)]
    longest = max((many for _, _, many in found), default=0)
    alike = [(spot, at) for spot, at, many in found if many == longest >= LEAST_GAP_CH]
    gaps: dict[str, dict[int, int]] = {}
    for number, (spot, at) in enumerate(alike, start=1):
        gaps.setdefault(spot, {})[at] = number if len(alike) > 1 else 0
    return gaps


def surroundings(
    worked: WorkedRound,
    below: WorkedRound | None,
    how: Worked,
    value: Callable[[Number], int],
    gaps: Mapping[str, Mapping[int, int]],
) -> Surroundings:
    """What the fabric tells of a round.

    `below` is the round it is worked into, `value` what a written number is; `gaps` are the gaps that the
    piece makes (`section_gaps` of all sections called a gap).
    """
    places = _gap_places(worked, below, gaps.get(below.spot, {}), how) if below is not None else {}
    return Surroundings(
        upto=dict(_uptos(worked, places, how, value)),
        gaps=gaps.get(worked.spot, {}),
        ring=_needs_ring(worked),
        begun=dict(_begun(worked)),
    )


# --- how far -----------------------------------------------------------------------------------------------


def _uptos(
    worked: WorkedRound, gaps: Mapping[int, int], how: Worked, value: Callable[[Number], int]
) -> Iterator[tuple[int, Upto]]:
    written = _written(worked)
    for at, doing in enumerate(worked.doings):
        if not _is_run(doing):
            continue
        repeat = written.get(at)
        following = next((each for each in worked.doings[at + 1 :] if _moves(each)), None)
        if following is not None and (gap := _goes_into(following, worked.path, gaps)) is not None:
            yield at, Upto("gap", gap)
        elif following is None:
            if (end := _round_end(worked, doing, repeat, how)) is not None:
                yield at, end
        elif (last := _last(following) or _said(doing, repeat, value)) is not None:
            yield at, last


def _is_run(doing: Doing) -> bool:
    """A repeat, or a stitch into several places: what can be said to go up to something."""
    if isinstance(doing, DidRepeat):
        return doing.times > 1 and doing.last is None
    made = doing.instruction
    if not isinstance(made, Work) or (made.place is not None and made.place.which == "last"):
        return False
    return doing.reached > (legs(made.stitch) if isinstance(made.stitch, str) else 1)


def _moves(doing: Doing) -> bool:
    """Whether the hook goes on to other places with it."""
    if isinstance(doing, DidRepeat):
        return any(_moves(each) for each in doing.body)
    return isinstance(doing.instruction, Work | Skip) and doing.reached > 0


def _last(following: Doing) -> Upto | None:
    """The last places of the round, where what comes next goes into them."""
    if not isinstance(following, Did) or not isinstance(following.instruction, Work | Skip):
        return None
    place = following.instruction.place
    if place is None or place.which != "last" or place.part is not None:
        return None
    return Upto("last", following.reached, place.nouns)


def _said(doing: Doing, repeat: Repeat | None, value: Callable[[Number], int]) -> Upto | None:
    """`to last 2 sts`, where the text says so and other words come next."""
    if repeat is not None and repeat.to_last is not None:
        count = repeat.to_last.count
        return Upto("last", value(count) if count is not None else 1, repeat.to_last.nouns)
    made = doing.instruction if isinstance(doing, Did) else None
    if not isinstance(made, Work) or made.place is None or made.place.until is None:
        return None
    return Upto("last", value(made.place.until), (Noun("st"),))


def _round_end(worked: WorkedRound, doing: Doing, repeat: Repeat | None, how: Worked) -> Upto | None:
    """Where nothing comes after: the end of the round, if the text says so or the fabric must be whole.

    A joined or spiral round is proved to leave nothing over; a row and the edge of a gap may.
    """
    if worked.below == "":
        return None  # a ring or a foundation chain: there are no places in it to come to the end of
    if isinstance(doing, Did):
        place = doing.instruction.place if isinstance(doing.instruction, Work) else None
        whole = place is not None and place.which == "each" and place.until is None and place.before is None
    else:
        whole = repeat is not None and repeat.around
    joined = any(isinstance(each, Did) and isinstance(each.instruction, Join) for each in worked.doings)
    row = how == "rows" and not joined
    if not whole and (row or worked.below == "gap"):
        return None
    return Upto("row end" if row else "round end")


def _written(worked: WorkedRound) -> dict[int, Repeat]:
    """The repeats of the text by the index of what was done of them."""
    texts = iter([item for item in worked.text.body if isinstance(item, Repeat)])
    return {
        at: repeat
        for at, doing in enumerate(worked.doings)
        if isinstance(doing, DidRepeat) and (repeat := next(texts, None)) is not None
    }


# --- the gap -----------------------------------------------------------------------------------------------


def _gaps(worked: WorkedRound) -> Iterator[tuple[int, int, tuple[int, int]]]:
    """Every `ch n, sk …` of a round: its index, its chains, and where they are in the path."""
    for at, (doing, after) in enumerate(zip(worked.doings, worked.doings[1:], strict=False)):
        if (
            isinstance(doing, Did)
            and isinstance(doing.instruction, Chain)
            and not doing.begins
            and isinstance(after, Did)
            and isinstance(after.instruction, Skip)
        ):
            first, end = doing.nodes
            yield at, end - first, doing.nodes


def _gap_places(
    worked: WorkedRound, below: WorkedRound, made: Mapping[int, int], how: Worked
) -> dict[int, int]:
    """The gaps' chains among the places of the round below, numbered as this round meets them: to the gap."""
    nodes = {
        node: made[at] for at, _, (first, end) in _gaps(below) if at in made for node in range(first, end)
    }
    atoms = _atoms(below.path)
    backward = _met_backward(worked, below, how)
    return {
        len(atoms) - 1 - index if backward else index: nodes[node]
        for index, node in enumerate(atoms)
        if node in nodes
    }


def _atoms(path: Sequence[Node]) -> list[int]:
    """The path's nodes that leave a place for the next round, in order."""
    atoms: list[int] = []
    for at, node in enumerate(path):
        if node.kind in ("stitch", "chain") or (node.kind == "begin" and node.name):
            atoms.append(at)
        elif node.kind == "picot" and node.name != "picot":
            del atoms[len(atoms) - node.size :]  # the chains that it closes stand aside
    return atoms


def _met_backward(worked: WorkedRound, below: WorkedRound, how: Worked) -> bool:
    joined = any(isinstance(each, Did) and isinstance(each.instruction, Join) for each in below.doings)
    if how == "rows" and not joined:
        return True
    turned = any(isinstance(each, Did) and isinstance(each.instruction, Turn) for each in below.doings)
    return turned != worked.turned


def _goes_into(doing: Doing, path: Sequence[Node], places: Mapping[int, int]) -> int | None:
    """The gap that the first stitch of it goes into, as it is numbered; None where it goes elsewhere."""
    first, end = doing.nodes
    into = next((node.base for node in path[first:end] if node.into in ("space", "chain")), ())
    return places.get(into[0]) if into else None


# --- the beginning -----------------------------------------------------------------------------------------


def _needs_ring(worked: WorkedRound) -> bool:
    """`11 dc in ring` with nothing to work into: an adjustable ring."""
    if worked.below:
        return False
    for doing in worked.doings:
        if isinstance(doing, Did) and (
            isinstance(doing.instruction, RingStart | JoinYarn)
            or (isinstance(doing.instruction, Join) and doing.instruction.to_ring)
        ):
            return False
        if _in_ring(doing):
            return True
    return False


def _in_ring(doing: Doing) -> bool:
    if isinstance(doing, DidRepeat):
        return any(_in_ring(each) for each in doing.body)
    place = doing.instruction.place if isinstance(doing.instruction, Work) else None
    return place is not None and any(noun.kind == "ring" for noun in place.nouns)


def _begun(worked: WorkedRound) -> Iterator[tuple[int, tuple[str, int]]]:
    """`(ch 3, dc, ch 1, 2 dc) in same sp`, `dc in 4th ch from hook`: what their chain counts as."""
    for at, doing in enumerate(worked.doings):
        if not isinstance(doing, Did) or not isinstance(doing.instruction, Work):
            continue
        first, end = doing.nodes
        if first < end and worked.path[first].kind == "begin":
            name = worked.path[first].name
            yield at, (name, _leading(worked.path[first + 1 : end]) if name else 0)


def _leading(path: Sequence[Node]) -> int:
    """How many chains stand first: those that a beginning chain has to spare."""
    return next((at for at, node in enumerate(path) if node.kind != "chain"), len(path))
