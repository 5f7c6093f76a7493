"""Trying the foundation ring on: which count to try next, and what to say to a count that is not allowed."""

from __future__ import annotations

from server.craft.making.log import TryVerdict


def next_try(foundation: int, verdict: TryVerdict, multiple: int, plus: int) -> int:
    """The count to try next: one repeat out where the ring was too long, one in where it was too short."""
    raise NotImplementedError


def not_allowed(foundation: int, multiple: int, plus: int, nearest: tuple[int, ...]) -> str:
    """What to say to a count that the pattern does not allow."""
    raise NotImplementedError
