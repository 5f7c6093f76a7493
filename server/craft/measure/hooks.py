"""Hook sizes. Millimetres are the size; a US name is a name for it.

mm -> US is a function and US -> mm is not: B, C, G and K have each meant two sizes. The table is
`data/hooks.csv`; every row there names its sources and whether they were seen or remembered.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

OLDER = " (older labels)"


@dataclass(frozen=True, slots=True)
class Hook:
    """A row of the table: size in mm, yarn or steel hook, US name and old UK number ("" for none)."""

    hook_mm: float
    kind: Literal["yarn", "steel"]
    us: str
    uk_old: str
    note: str
    source: str
    confidence: Literal["seen", "memory"]


@cache
def table() -> tuple[Hook, ...]:
    """Every row of the published tables, yarn hooks first, each kind as the file has it."""
    text = (files("server.craft.measure") / "data" / "hooks.csv").read_text(encoding="utf-8")
    rows = []
    for row in csv.DictReader(text.splitlines()):
        kind: Literal["yarn", "steel"] = "steel" if row["hook_type"] == "steel" else "yarn"
        seen: Literal["seen", "memory"] = "seen" if row["confidence"] == "seen" else "memory"
        us = row["us"].replace(OLDER, "").replace("10.5", "10½")
        rows.append(Hook(float(row["mm"]), kind, us, row["uk_old"], row["note"], row["source"], seen))
    return tuple(rows)


HOOKS_MM: tuple[float, ...] = tuple(sorted({hook.hook_mm for hook in table() if hook.kind == "yarn"}))
"""The sizes of yarn hooks in mm, rising: what a maker is offered."""


def us_name(hook_mm: float) -> str | None:
    """The US name of a yarn hook of that size ("H-8" for 5.0); None where it has none.

    Steel hooks share some sizes with yarn hooks and are numbered the other way round: see `us_steel_name`.
    """
    return _named(hook_mm, "yarn")


def us_steel_name(hook_mm: float) -> str | None:
    """The US number of a steel hook of that size ("7" for 1.65); None where it has none."""
    return _named(hook_mm, "steel")


def hook_text(hook_mm: float) -> str:
    """A hook as it is said: "5 mm (US H-8)", "4.25 mm (US G)", "3 mm"."""
    name = us_name(hook_mm)
    return f"{hook_mm:g} mm" + (f" (US {name})" if name else "")


def _named(hook_mm: float, kind: str) -> str | None:
    for hook in table():
        if (
            hook.kind == kind and abs(hook.hook_mm - hook_mm) < 0.005
        ):  # half of the last digit that is written
            return hook.us or None
    return None
