"""What a device carries of one part, so that it goes on with no network: the plan in every number that the
log knows, and the log.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from server.craft import making as craft
from server.craft.fabric.values import Numbers
from server.craft.making.carrying import carried_plan, count_nouns, names_counted
from server.craft.measure import hooks
from server.services.notebooks.desk import Desk, Terms, noun, piece_name, planned, read_pattern

FORMAT = 1  # of what is carried; a device that knows another asks for all of it anew
NUMBERS_MOST = 4  # how many of the numbers she settled on are carried, the last ones first


@dataclass(frozen=True)
class Carried:
    """The plan for a device.

    plan    a sign of all that is in `values`: the same sign, the same values
    values  format, part, title, noun, pair, flat, names of the pieces, terms, units, wording, version, hooks
            [[mm, US name]], nouns of what is counted {name: [one, several, alone]}, plans (see
            `craft.making.carrying.carried_plan`), none before her numbers are settled
    """

    plan: str
    values: Mapping[str, Any]


def carried(desk: Desk) -> Carried:
    """What a device is given of the plan."""
    plans = [each for numbers in _numbers(desk) if (each := _carried(desk.version.text, numbers, desk.terms))]
    names = set().union(*(names_counted(each) for each in plans), _names_in(desk.log))
    values = {
        "format": FORMAT,
        "part": desk.part_id,
        "title": desk.part_title,
        "noun": noun(desk),
        "pair": desk.is_pair,
        "flat": desk.pattern.header.worked == "rows",
        "names": {str(piece): piece_name(desk, piece) for piece in desk.pieces},
        "terms": desk.terms,
        "units": desk.units,
        "wording": desk.wording,
        "version": desk.version.number,
        "hooks": _hook_names(),
        "nouns": count_nouns(names, desk.terms),
        "plans": plans,
    }
    return Carried(_sign(values), values)


def entry_values(entry: craft.Entry) -> dict[str, Any]:
    """An entry as devices and the server exchange it."""
    return {
        "id": entry.id,
        "piece": entry.piece,
        "kind": entry.kind,
        "values": dict(entry.values),
        "at": entry.at,
        "device": entry.device,
        "order": entry.order,
    }


def _numbers(desk: Desk) -> list[Numbers]:
    """The numbers that the pieces may be in, now or after an undo: those they are in, then those last
    settled.
    """
    making = desk.making
    now = [making.settled, *(piece.numbers for piece in making.pieces.values())]
    said = [
        Numbers(logged.entry.values.get("foundation"), logged.entry.values.get("size"))
        for logged in reversed(desk.log)
        if logged.entry.kind == "settled"
    ]
    distinct = dict.fromkeys([*(each for each in now if each is not None), *said])
    return list(distinct)[: max(NUMBERS_MOST, sum(each is not None for each in now))]


def _names_in(log: Iterable[Any]) -> set[str]:
    """Names that she counted, which may be others than the plan's."""
    return {
        name
        for logged in log
        if logged.entry.kind == "counted" and isinstance(name := logged.entry.values.get("name"), str)
    }


@lru_cache(maxsize=128)
def _carried(text: str, numbers: Numbers, terms: Terms) -> Mapping[str, Any] | None:
    """A plan as it is carried; None where the piece cannot be drawn up in these numbers."""
    try:
        return carried_plan(read_pattern(text), numbers, terms, planned)
    except ValueError:
        return None


@lru_cache(maxsize=1)
def _hook_names() -> list[list[float | str]]:
    return [[size, hooks.us_name(size) or ""] for size in hooks.HOOKS_MM]


def _sign(values: Mapping[str, Any]) -> str:
    return hashlib.sha256(json.dumps(values, sort_keys=True).encode()).hexdigest()[:16]
