"""A maker's own numbers: a named size or her own count, tried on as a ring until it fits, and her hook."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar

from sqlmodel import Session

from server.craft import making as craft
from server.craft.measure import hooks
from server.services.errors import Refusal
from server.services.notebooks import logbook
from server.services.notebooks.desk import Desk, open_desk, piece_name, proof_of
from server.services.notebooks.figures import decimal, hook_mm
from server.services.notebooks.shapes import FOUNDATION_MOST, NewEntry

CM_PER_INCH = 2.54
REPEATS_LEAST = 3
T = TypeVar("T")


@dataclass(frozen=True)
class SizeChoice:
    """A named size: its chains (None where the pattern starts from a ring), the hand it fits, the host's
    hook.
    """

    name: str
    foundation: int | None
    fits: str
    hook_mm: float | None


@dataclass(frozen=True)
class Trial:
    """A ring to try on, and what either answer leads to; None where there is no further step that way."""

    foundation: int
    size: str | None
    shorter: int | None
    longer: int | None


@dataclass(frozen=True)
class HookChoice:
    """A hook size in mm, said with its US name where it has one."""

    hook_mm: float

    @property
    def words(self) -> str:
        """ "4.5 mm (US 7)" """
        return hooks.hook_text(self.hook_mm)


def sizes(desk: Desk) -> tuple[SizeChoice, ...]:
    """The named sizes of her version, smallest first."""
    header = desk.pattern.header
    names = header.sizes or tuple("" for _ in header.foundations[:1])
    return tuple(
        SizeChoice(
            name=name,
            foundation=_at(header.foundations, place),
            fits=hand_length(_at(header.fits_cm, place), desk.units),
            hook_mm=_at(header.hook_mm, place),
        )
        for place, name in enumerate(names)
    )


def custom_words(desk: Desk) -> str:
    """Which counts of her own she may choose: "any multiple of 4"; empty where there are only the sizes."""
    header = desk.pattern.header
    if not header.foundations or header.multiple is None:
        return ""
    if header.custom is not None and header.custom[0] > header.custom[1]:  # `Custom: none`
        return ""
    return f"any {_multiple_words(header.multiple, header.plus)}"


def count_of_her_own(desk: Desk, typed: str) -> int:
    """The foundation count as typed; Refusal(field "foundation") with the nearest that work where it is
    not allowed.
    """
    found = re.fullmatch(r"(\d{1,6})(?:\s*(?:ch|chs|chain|chains)\.?)?", typed.strip(), re.IGNORECASE)
    known = [size.foundation for size in sizes(desk) if size.foundation is not None]
    if not found or int(found[1]) == 0:
        example = known[len(known) // 2] if known else 28
        raise Refusal(f"Write the number of chains in digits, such as {example}.", "foundation")
    count = int(found[1])
    if count in known:
        return count
    if not custom_words(desk):
        raise Refusal(f"This pattern is made for {_one_of(known)} chains only.", "foundation")
    if count > FOUNDATION_MOST:
        raise Refusal(
            f"{count} chains is more than this notebook works with: {FOUNDATION_MOST} at most.", "foundation"
        )
    proof = proof_of(desk.version.text)
    least = _least(desk)
    if count < least:
        raise Refusal(f"{count} chains is under three repeats. The fewest that work: {least}.", "foundation")
    if not proof.allowed(count):
        header = desk.pattern.header
        nearest = tuple(each for each in proof.nearest(count) if each >= least)
        raise Refusal(craft.not_allowed(count, header.multiple or 1, header.plus, nearest), "foundation")
    if count not in proof.counts_tried and not proof_of(desk.version.text, count).proved:
        raise Refusal(f"The pattern does not come out even over {count} chains. Ask your host.", "foundation")
    return count


def trial(desk: Desk, foundation: int, size: str | None = None) -> Trial:
    """The ring of that many chains, and where either answer leads."""
    return Trial(
        foundation=foundation,
        size=_size_at(desk, foundation, size),
        shorter=_step(desk, foundation, "too long"),
        longer=_step(desk, foundation, "too short"),
    )


def next_trial(desk: Desk) -> Trial | None:
    """The ring she was about to try, from the last answer in her log; None where she has not tried one
    yet.
    """
    if not desk.making.tries:
        return None
    last = desk.making.tries[-1]
    step = last.foundation if last.verdict == "fits" else _step(desk, last.foundation, last.verdict)
    return trial(desk, last.foundation if step is None else step)


def settle(
    session: Session,
    notebook_id: int,
    part_id: int,
    *,
    entry_id: str,
    foundation: int | None,
    size: str | None,
    fits: bool,
    state: int | None,
    device: str,
    now: datetime,
) -> bool:
    """Write her number down, with the try that found it where there was one. Once a piece stands, its
    number stands.
    """
    desk = open_desk(session, notebook_id, part_id)
    settled = desk.making.settled
    standing = [number for number in desk.pieces if desk.making.pieces[number].started]
    if standing and settled and (settled.foundation, settled.size) != (foundation, size):
        raise Refusal(
            f"{piece_name(desk, standing[0])} stands over its own number and keeps it. To change it, "
            f"take all its rounds "
            "out first.",
            "foundation",
        )
    news = [NewEntry(entry_id, 0, "settled", {"foundation": foundation, "size": size})]
    if fits and foundation is not None:
        tried = NewEntry(f"{entry_id}.fits", 0, "tried", {"foundation": foundation, "verdict": "fits"})
        news.insert(0, tried)
    return logbook.log(session, notebook_id, part_id, news, state=state, device=device, now=now)


def hook_choices() -> tuple[HookChoice, ...]:
    """The hook sizes of the published tables, finest first."""
    return tuple(HookChoice(size) for size in sorted(hooks.HOOKS_MM))


def hook_choice(size_mm: float) -> HookChoice:
    """A hook of that size."""
    return HookChoice(size_mm)


def suggested_hook_mm(desk: Desk) -> float | None:
    """The hook the host asks for at her size (the nearest smaller size's for a count of her own)."""
    choices = sizes(desk)
    settled = desk.making.settled
    if not choices or settled is None:
        return choices[0].hook_mm if choices else None
    fitting = [
        choice
        for choice in choices
        if choice.name == settled.size
        or (settled.size is None and (choice.foundation or 0) <= (settled.foundation or 0))
    ]
    return (fitting or list(choices[:1]))[-1].hook_mm


def typed_hook_mm(chosen: str, other: str) -> float:
    """The hook from a list and a field beside it; what is written in the field goes first."""
    return hook_mm(other if other.strip() else chosen)


def typed_length_mm(typed: str, units: str) -> float:
    """A length as she writes it in her units, in mm: "9.5" in cm is 95; Refusal(field "measure")."""
    number = decimal(typed.strip().lower().removesuffix("cm").removesuffix("in"))
    if number is None:
        example = "9.5" if units != "in" else "3.75"
        raise Refusal(f"Write what you measured in digits, such as {example}.", "measure")
    return round(number * (CM_PER_INCH if units == "in" else 1) * 10, 2)


def size_named(desk: Desk, name: str) -> SizeChoice:
    """The named size; Refusal(field "size") where there is none of that name."""
    for choice in sizes(desk):
        if choice.name == name:
            return choice
    raise Refusal("Choose one of the sizes.", "size")


def _step(desk: Desk, foundation: int, verdict: craft.TryVerdict) -> int | None:
    header = desk.pattern.header
    if custom_words(desk) and header.multiple is not None:
        count = craft.next_try(foundation, verdict, header.multiple, header.plus)
        possible = _least(desk) <= count <= FOUNDATION_MOST or count in header.foundations
        step_taken = possible and count != foundation  # at the fewest, one repeat out leaves it as it is
        return count if step_taken and proof_of(desk.version.text).allowed(count) else None
    if verdict == "too long":
        return max((count for count in header.foundations if count < foundation), default=None)
    return min((count for count in header.foundations if count > foundation), default=None)


def _least(desk: Desk) -> int:
    """The smallest count of her own: three repeats, so that a round still has a beginning, middle and end."""
    return REPEATS_LEAST * (desk.pattern.header.multiple or 1) + desk.pattern.header.plus


def _size_at(desk: Desk, foundation: int, size: str | None) -> str | None:
    """The size's name at that count: the one asked for if it has that count, else the first that has it."""
    here = [choice.name for choice in sizes(desk) if choice.foundation == foundation and choice.name]
    return size if size in here else here[0] if here else None


def _multiple_words(multiple: int, plus: int) -> str:
    if multiple == 1 and not plus:
        return "number"
    return f"multiple of {multiple}" + (f" + {plus}" if plus else "")


def _one_of(numbers: list[int] | tuple[int, ...]) -> str:
    words = [str(number) for number in sorted(set(numbers))]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}" if words else ""


def _at(values: tuple[T, ...], place: int) -> T | None:
    """A header's value for a size: its own, or the one that holds for all."""
    return values[place] if place < len(values) else values[0] if len(values) == 1 else None


def hand_length(length_cm: float | None, units: str) -> str:
    """A hand that a size fits: "18 cm", "7 1/4 in"; empty for none."""
    if length_cm is None:
        return ""
    if units == "cm":
        return f"{length_cm:g} cm"
    quarters = round(length_cm / CM_PER_INCH * 4)
    whole, part = divmod(quarters, 4)
    fraction = {0: "", 1: " 1/4", 2: " 1/2", 3: " 3/4"}[part]
    return f"{whole}{fraction} in"
