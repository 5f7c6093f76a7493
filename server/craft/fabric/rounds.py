"""Works one round: instructions into a ring of places, with the faults met on the way."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from server.craft.fabric.closing import check_left_over
from server.craft.fabric.doing import carry_out
from server.craft.fabric.faults import Fault, Stuck, fault
from server.craft.fabric.foundation_sides import on_chains
from server.craft.fabric.leaving import counts_of, new_ring
from server.craft.fabric.ring import Found, Ring
from server.craft.fabric.stated import check_stated
from server.craft.fabric.values import Doing, Into, Node
from server.craft.fabric.working import Gap, Hit, Setting, Target, Working
from server.craft.text import rules
from server.craft.text.tree import (
    Chain,
    CountLine,
    FastenOff,
    Instruction,
    Place,
    RoundLine,
    Span,
    Turn,
    Work,
)


@dataclass(frozen=True, slots=True)
class Outcome:
    """A round as worked.

    right     the stated count was checked, all of it, and agrees
    stopped   the round could not be worked to its end
    """

    ring: Ring
    path: tuple[Node, ...]
    doings: tuple[Doing, ...]
    counts: Mapping[str, int]
    faults: tuple[Fault, ...]
    right: bool
    stopped: bool
    gaps: tuple[Gap, ...]
    turn_after: bool


class Task(NamedTuple):
    """One round to work: with the setting all that its outcome depends on.

    text        the line whose text is worked
    led_in      what is done before it: the chain carried over from the row before, the yarn joined
    stated      the count line that holds
    ring        what it is worked into, from the side that is worked
    turned      whether the text has a turn at its head, which is done already
    foundation  whether it makes the foundation
    off_line    whether the section has a list with no number of its own at this count
    held_over   words of `rep rnd 3`, where the text or count stands at another round
    """

    text: RoundLine
    led_in: tuple[Instruction, ...]
    stated: CountLine | None
    ring: Ring
    turned: bool
    foundation: bool
    off_line: bool
    held_over: Span | None
    stated_held_over: bool = False

    @property
    def items(self) -> tuple[Instruction, ...]:
        """All that is done, in order; the chain that begins the row after is left to that one."""
        body = leading_turn(self.text.body)[0] if self.turned else self.text.body
        return (*self.led_in, *trailing_chain(body)[0])


def leading_turn(items: Sequence[Instruction]) -> tuple[tuple[Instruction, ...], bool]:
    """The instructions without a turn at their head (`ch 1, turn, …`), and whether there was one."""
    for index, item in enumerate(items[:2]):
        if isinstance(item, Turn) and len(items) > index + 1:
            return (*items[:index], *items[index + 1 :]), True
        if not isinstance(item, Chain):
            break
    return tuple(items), False


def trailing_chain(items: Sequence[Instruction]) -> tuple[tuple[Instruction, ...], Chain | None]:
    """The instructions without a chain before the turn at their end: it begins the next row."""
    end = len(items)
    while end and isinstance(items[end - 1], FastenOff):
        end -= 1
    if end >= 3 and isinstance(items[end - 1], Turn) and isinstance(chain := items[end - 2], Chain):
        return (*items[: end - 2], *items[end - 1 :]), chain
    return tuple(items), None


def work_round(task: Task, setting: Setting) -> Outcome:
    """Works one round. Faults are in the outcome; only TooLarge is raised."""
    outcome = _worked(task, setting)
    if any(_spoils(one) for one in outcome.faults) and (head := next_at_head(task)) is not None:
        first, place = head
        if not any(_spoils(one) for one in _worked(first, setting).faults):
            found = fault(rules.NEXT_AT_HEAD, place.span)
            return replace(outcome, faults=(found,), right=False)
    return outcome


def _spoils(one: Fault) -> bool:
    return one.rule.severity == "error" and one.rule.kind != "join"


def _worked(task: Task, setting: Setting) -> Outcome:
    work = Working(task.ring, setting, task.text.body_span)
    work.foundation = 0 if task.foundation else None
    _stand(work)
    stopped = False
    try:
        carry_out(work, task.items, top=True)
    except Stuck as stuck:
        work.faults.append(stuck.fault)
        stopped = True
    except Hit as hit:
        work.faults.append(_past_the_end(work, hit))
        stopped = True
    if not stopped:
        check_left_over(work)
    circular = work.joined or work.chain_places > 0 or not _is_flat(task, setting)
    ring = new_ring(work, circular=circular)
    counts = counts_of(ring, foundation=task.foundation)
    right, worked = False, len(work.faults)
    if (
        task.stated is not None
        and not stopped
        and not any(one.rule.severity == "error" and one.rule.kind != "join" for one in work.faults)
    ):
        worked = len(work.faults)
        held = task.held_over if task.stated_held_over else None
        right = check_stated(work, ring, counts, task.stated, held_over=held, off_line=task.off_line)
    faults = tuple(work.faults)
    if task.held_over is not None:
        faults = tuple(
            replace(one, span=task.held_over, mend=None, origin=one.origin or one.span)
            if index < worked or task.stated_held_over
            else one
            for index, one in enumerate(faults)
        )
    return Outcome(
        ring, on_chains(work), tuple(work.doings), counts, faults, right, stopped,
        tuple(work.gaps), work.turn_after,
    )  # fmt: skip


def next_at_head(task: Task) -> tuple[Task, Place] | None:
    """The round begun with `first` where it is written with `next`, as many a pattern has it, and that place.

    None where the round is not begun so, or has its text from another round.
    """
    if task.held_over is not None or not task.ring.circular or task.ring.hook < 0:
        return None
    body = task.text.body
    for index, item in enumerate(body):
        if isinstance(item, Chain) and item.counts is None:
            continue
        if not (isinstance(item, Work) and item.place is not None and item.place.which == "next"):
            return None
        first = replace(item, place=replace(item.place, which="first"))
        text = replace(task.text, body=(*body[:index], first, *body[index + 1 :]))
        return task._replace(text=text), item.place
    return None


def _is_flat(task: Task, setting: Setting) -> bool:
    """Whether rows are worked, be it in a piece of rounds (a cuff that is seamed)."""
    ring = task.ring
    if setting.header.worked == "rows":
        return True
    return len(ring) > 0 and not ring.circular and ring.atoms[0].kind not in ("side", "underside")


def _stand(work: Working) -> None:
    """The hook where the round before left it."""
    ring = work.ring
    if not work.size:
        work.position, work.stood = -1, True
        return
    if ring.hook < 0:
        last = work.size - 1
        work.position, work.stood = -1, True
        work.last = Target(Found(last, last, last, last), ring.noun_at(last), "top", moves=False)
        return
    end = ring.hook + ring.hook_length - 1
    noun = ring.noun_at(ring.hook)
    work.position, work.stood = end, False
    into: Into = "space" if noun.kind == "sp" else "foundation" if noun.kind == "foundation ch" else "top"
    work.last = Target(Found(ring.hook, end, ring.hook, end), noun, into)


def _past_the_end(work: Working, hit: Hit) -> Fault:
    if work.ring.gap:
        return fault(rules.NO_PLACE, hit.span, place="place left around the gap for it", near="")
    if not work.ring.circular:
        return fault(rules.NO_PLACE, hit.span, place="place left in this row", near="")
    return fault(rules.TOO_MUCH, hit.span, how=hit.how, nearest="")
