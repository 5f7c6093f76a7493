"""What a host sends from her desk in the live hour: its forms."""

from __future__ import annotations

from pydantic import BaseModel


class Move(BaseModel):
    """Where to go, as sent. how: "on", "back", "round on", "round back"; seen: the place it was sent from."""

    how: str = ""
    seen: str = ""


class Go(BaseModel):
    """A round to go to."""

    round: str = ""


class Words(BaseModel):
    """What is said: to all, or as an answer (to: "all" or "her")."""

    words: str = ""
    hand: int = 0
    to: str = ""


class Minutes(BaseModel):
    """A timer."""

    minutes: str = ""
    words: str = ""


class Hiding(BaseModel):
    """A hand's words to hide, or to show again."""

    hand: int = 0
    hidden: str = ""
