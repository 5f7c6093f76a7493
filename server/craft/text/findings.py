"""A finding: what is wrong (or loose) in a pattern, where, for which counts, and how to mend it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Severity = Literal["error", "warning"]
Kind = Literal["syntax", "count", "closing", "place", "join", "header"]
CountKey = int | str
"""A foundation count; for `Foundation: none` a size's name."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault, at its words.

    line, column   where the words stand, from 1
    words          the exact slice of the text at fault
    foundations    the counts it holds for; empty where it holds whatever the count
    stated         what the text says; worked: what the engine came to
    mend           the text that should stand in the place of `words`
    """

    severity: Severity
    code: str
    kind: Kind
    line: int
    column: int
    words: str
    message: str
    foundations: tuple[CountKey, ...] = ()
    stated: str | None = None
    worked: str | None = None
    mend: str | None = None

    @property
    def is_error(self) -> bool:
        """True where the pattern cannot be published with it."""
        return self.severity == "error"
