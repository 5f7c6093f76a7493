"""The likely slips behind every wrong count, as a device carries them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any

from server.craft import making as craft
from server.craft.fabric.values import Numbers
from server.services.notebooks.carrying import carried
from server.services.notebooks.desk import Desk, Terms, planned, read_pattern

BEYOND = (2, 1, 0)  # rounds of a line to fit beyond the written ones: the last of them stands for all later


def carried_slips(desk: Desk) -> dict[str, Any]:
    """What may have happened where any count of the pieces is wrong; her numbers must be settled.

    plan   the sign of the plan that it belongs to
    sets   for each of the numbers that the pieces are in: {numbers: {foundation, size}, texts: [[says,
           where]], rounds: {spot: index in counts}, counts: [{name: [should, again, {difference: texts}]}]}
           (see `craft.making.Misses`; texts are given by their index, likeliest first)

    Of a line to fit, a round beyond those that are there is as the last of them.
    """
    numbers = dict.fromkeys(replace(desk.plan(piece).numbers, fits=()) for piece in desk.pieces)
    sets = [_set(desk.version.text, each, desk.terms) for each in numbers]
    return {"plan": carried(desk).plan, "sets": sets}


@lru_cache(maxsize=64)
def _set(text: str, numbers: Numbers, terms: Terms) -> Mapping[str, Any]:
    texts: dict[tuple[str, str], int] = {}
    counts: dict[str, int] = {}

    def told(misses: tuple[craft.Miss, ...]) -> list[int]:
        return [texts.setdefault((each.says, each.where), len(texts)) for each in misses]

    rounds = {}
    for spot, names in craft.every_miss(read_pattern(text), _lengthened(text, numbers, terms), terms):
        said = {
            name: [
                each.should,
                told(each.again),
                {off: told(misses) for off, misses in each.by_off.items()},
            ]
            for name, each in names.items()
        }
        rounds[spot] = counts.setdefault(json.dumps(said), len(counts))
    return {
        "numbers": {"foundation": numbers.foundation, "size": numbers.size},
        "texts": [list(each) for each in texts],
        "rounds": rounds,
        "counts": [json.loads(each) for each in counts],
    }


def _lengthened(text: str, numbers: Numbers, terms: Terms) -> Numbers:
    """The numbers with lines to fit a little longer than written: as long as the piece can have them."""
    pattern = read_pattern(text)
    written = planned(pattern, numbers, terms)
    for more in BEYOND:
        long = replace(numbers, fits=tuple((fit.fit, fit.written + more) for fit in written.fits))
        try:
            planned(pattern, long, terms)
        except ValueError:
            continue
        return long
    return numbers
