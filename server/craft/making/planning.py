"""From a pattern and a maker's numbers to her plan."""

from __future__ import annotations

from typing import Any

from server.craft.fabric.values import Numbers
from server.craft.making.shapes import Plan
from server.craft.text.tree import Pattern, Terms


def plan(pattern: Pattern, numbers: Numbers, terms: Terms = "US") -> Plan:
    """The whole list of rounds of one piece in these numbers."""
    raise NotImplementedError


def plan_to_dict(plan: Plan) -> dict[str, Any]:
    """The plan as plain values for the page; only strings, numbers, lists and dicts."""
    raise NotImplementedError
