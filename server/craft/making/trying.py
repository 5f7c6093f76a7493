"""Trying the foundation ring on: which count to try next, and what to say to a count that is not allowed."""

from __future__ import annotations

from server.craft.making.log import TryVerdict

LEAST_REPEATS = 3  # fewer repeats than three are never proved (notation: Custom)


def next_try(foundation: int, verdict: TryVerdict, multiple: int, plus: int) -> int:
    """The count to try next: one repeat out where the ring was too long, one in where it was too short.

    A count that fits stays. The answer is always allowed: k * multiple + plus with at least three repeats,
    so that a ring of three repeats that is too long stays as it is. From a count that is not allowed the
    next allowed one in that direction. ValueError where multiple < 1.
    """
    if multiple < 1:
        raise ValueError(f"a multiple is at least 1, not {multiple}")
    if verdict == "fits":
        return foundation
    repeats, rest = divmod(foundation - plus, multiple)
    if verdict == "too short":
        repeats += 1
    elif rest == 0:
        repeats -= 1
    return max(repeats, LEAST_REPEATS) * multiple + plus


def not_allowed(foundation: int, multiple: int, plus: int, nearest: tuple[int, ...]) -> str:
    """What to say to a count that the pattern does not allow: why, and the nearest that it does.

    `nearest` has the allowed counts next below and above, one or two of them.
    """
    of = f"a multiple of {multiple}" + (f" plus {plus}" if plus else "")
    other = [str(count) for count in sorted(nearest) if count != foundation]
    least = LEAST_REPEATS * multiple + plus
    if foundation < least:
        why = f"{foundation} is too few: this pattern needs at least {least}, {of}."
    elif (foundation - plus) % multiple:
        why = f"{foundation} is not {of}."
    else:
        why = f"This pattern does not work with {foundation}."
    if not other:
        return why
    return f"{why} Nearest that work{'s' if len(other) == 1 else ''}: {' or '.join(other)}."
