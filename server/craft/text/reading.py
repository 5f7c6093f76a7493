"""What a reading gives."""

from __future__ import annotations

from dataclasses import dataclass

from server.craft.text.findings import Finding
from server.craft.text.tree import Pattern


@dataclass(frozen=True, slots=True)
class Reading:
    """A pattern as far as it read, and what did not."""

    pattern: Pattern
    findings: tuple[Finding, ...]
