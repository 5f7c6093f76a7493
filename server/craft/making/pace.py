"""How long a round takes her, from the moments her rounds were logged."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from statistics import median

from server.craft.making.folding import in_force
from server.craft.making.log import Entry

PAUSE_S = 3600.0  # longer between two rounds: she stopped meanwhile
GAPS_LEAST = 2  # fewer say nothing about the next


@dataclass(frozen=True, slots=True)
class Pace:
    """A piece's pace.

    seconds_per_round  the median of what the rounds took; None while too few were logged
    since              the moment its last round was logged, as the entry has it; None before the first
    """

    seconds_per_round: float | None
    since: str | None


def pace(entries: Iterable[Entry], piece: int) -> Pace:
    """The pace of a piece, from its log.

    What a round took is the time between its `worked` entry and the one before it, of those in force. More
    than an hour is a pause and no round; under two such times there is no pace. The median, so that one long
    round with a phone call in it does not count. Rounds counted in afterwards took no time that is known.
    An entry whose moment does not read is left out.
    """
    moments = [
        (moment, entry.at)
        for entry in in_force(entries)
        if entry.piece == piece and entry.kind == "worked" and (moment := _moment(entry.at)) is not None
    ]
    moments.sort()
    took = [(after[0] - before[0]).total_seconds() for before, after in pairwise(moments)]
    rounds = [seconds for seconds in took if seconds <= PAUSE_S]
    return Pace(
        seconds_per_round=median(rounds) if len(rounds) >= GAPS_LEAST else None,
        since=moments[-1][1] if moments else None,
    )


def _moment(at: str) -> datetime | None:
    try:
        moment = datetime.fromisoformat(at)
    except ValueError:
        return None
    return moment if moment.tzinfo is not None else None
