"""How much may be said in a room, and how fast. Counted in its log, so that it holds in every process and
after a restart; the words say what to do instead."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil

from sqlalchemy import func
from sqlmodel import Session, col, select

from server.services.errors import Refusal
from server.storage.tables import RoomEvent

HAND_MOST, SAY_MOST, TIMER_WORDS_MOST = 140, 280, 60
TIMER_MINUTES_MOST = 60
HANDS_SHOWN = 40


@dataclass(frozen=True)
class Rate:
    """So many within so long."""

    most: int
    within: timedelta


RATES = {
    "hand": Rate(6, timedelta(minutes=10)),
    "done": Rate(30, timedelta(minutes=1)),
    "announce": Rate(20, timedelta(minutes=1)),
    "timer": Rate(20, timedelta(minutes=1)),
    "answer": Rate(60, timedelta(minutes=1)),
    "step": Rate(300, timedelta(minutes=1)),
}


def take(session: Session, evening_id: int, kind: str, now: datetime, notebook_id: int | None = None) -> None:
    """Refusal where that was done too often of late: by this maker, or by the hosts together."""
    rate = RATES[kind]
    whose = (
        RoomEvent.notebook_id == notebook_id
        if notebook_id is not None
        else col(RoomEvent.said_by) != ""  # an answer to one maker has her notebook
    )
    many, first = session.exec(
        select(func.count(), func.min(RoomEvent.at)).where(
            RoomEvent.evening_id == evening_id,
            RoomEvent.kind == kind,
            col(RoomEvent.at) > now - rate.within,
            whose,
        )
    ).one()
    if many < rate.most:
        return
    wait_s = max(1, ceil((first + rate.within - now).total_seconds()))
    wait = f"{wait_s} seconds" if wait_s > 1 else "a second"
    if wait_s > 90:
        wait = f"{ceil(wait_s / 60)} minutes"
    if kind == "hand":
        raise Refusal(f"Your hand went up {many} times just now. Wait {wait}, then put it up again.", "words")
    raise Refusal(f"That was a lot at once. Wait {wait}, then go on.", "words")


def line(typed: str, most: int, ask: str = "") -> str:
    """What was typed, as one line; Refusal where it is too long, or empty where `ask` asks for something."""
    text = unicodedata.normalize("NFC", typed)
    kept = "".join(c for c in text if c == "\u200d" or c.isspace() or unicodedata.category(c)[0] != "C")
    tidy = " ".join(kept.split())
    if ask and not any(unicodedata.category(c)[0] in "LN" for c in tidy):
        raise Refusal(ask, "words")
    if len(tidy) > most:
        raise Refusal(
            f"That is {len(tidy)} characters; {most} can be read at a glance. Say it shorter.", "words"
        )
    return tidy
