"""Figures as people write them: whole numbers, decimals, hooks."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from server.services.errors import Refusal

Values = Mapping[str, Any]
HOOK_LEAST_MM, HOOK_MOST_MM = 0.4, 40.0


def whole(values: Values, key: str, least: int, most: int, what: str) -> int:
    """A whole number from `least` to `most`; Refusal(field `key`) with what would be right."""
    try:
        number = int(str(values.get(key, "")).strip())
    except ValueError:
        raise Refusal(f"{what} is a number from {least} to {most}.", key) from None
    if not least <= number <= most:
        raise Refusal(f"{number} is out of reach here: {what} is a number from {least} to {most}.", key)
    return number


def decimal(typed: object) -> float | None:
    """A number as people write it, "9.5", "9,5" or 9.5; None where it is none."""
    text = str(typed).strip().replace(",", ".")
    return float(text) if re.fullmatch(r"\d{1,5}(\.\d{1,6})?", text) else None


def hook_mm(typed: object) -> float:
    """A hook size in mm as people write it: "4.5", "4,5", "4.5 mm"."""
    text = str(typed).strip().lower().removesuffix("mm").strip().replace(",", ".")
    if not re.fullmatch(r"\d{1,2}(\.\d{1,2})?", text):
        raise Refusal("Write the hook in mm, such as 4.5.", "hook_mm")
    size = float(text)
    if not HOOK_LEAST_MM <= size <= HOOK_MOST_MM:
        raise Refusal(
            f"{size:g} mm is no hook size. They run from {HOOK_LEAST_MM:g} to {HOOK_MOST_MM:g} mm.", "hook_mm"
        )
    return size
