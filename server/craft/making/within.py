"""Where within a round she can stop: after a step, or after one of its repeats."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from server.craft.fabric.values import DidRepeat, Doing
from server.craft.making.counting import ordinal
from server.craft.making.log import Mid
from server.craft.making.placewords import Tongue
from server.craft.making.shapes import PlanRound
from server.craft.making.surroundings import NOTHING, Surroundings
from server.craft.making.wording import as_one, full_steps, steps


@dataclass(frozen=True, slots=True)
class RepeatAt:
    """A round's first repeat: how often its step says "… times", and the index of that step."""

    times: int
    step: int
    full_step: int


def first_repeat(doings: Sequence[Doing], tongue: Tongue, around: Surroundings = NOTHING) -> RepeatAt | None:
    """The first repeat of a round that its steps say as one; None where there is none.

    One stitch into each of many places is no repeat to her, nor is a text that is worked once. Where the
    last time differs it is a step of its own, and not counted here.
    """
    for at, doing in enumerate(doings):
        if not isinstance(doing, DidRepeat) or as_one(doing) is not None:
            continue
        times = doing.times - (doing.last is not None)
        if times > 1:
            before = doings[:at]
            return RepeatAt(times, len(steps(before, tongue)), len(full_steps(before, tongue, around)))
    return None


def after_repeat(repeat: int, repeats: int) -> str:
    """ "after the 3rd of 8 repeats"."""
    return f"after the {ordinal(repeat)} of {repeats} repeats"


def after_step(step: int, steps: int) -> str:
    """ "after step 2 of 4"; `step` is its index, from 0."""
    return f"after step {step + 1} of {steps}"


def stops(planned: PlanRound, *, full: bool = False) -> tuple[Mid, ...]:
    """Every place within a round where she can say that she stopped, in working order.

    After each step but the last, and within the repeat after each time but the last. `full`: for the steps
    in full words.
    """
    told = planned.full_steps if full else planned.steps
    repeat_step = planned.full_repeat_step if full else planned.repeat_step
    made: list[Mid] = []
    for step in range(len(told)):
        if step == repeat_step:
            made += [
                Mid(planned.spot, after_repeat(times, planned.repeats), step, times)
                for times in range(1, planned.repeats)
            ]
        if step < len(told) - 1:
            made.append(Mid(planned.spot, after_step(step, len(told)), step, None))
    return tuple(made)
