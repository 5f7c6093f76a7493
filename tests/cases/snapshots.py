"""Reports as text that reads well in a difference: one line a finding, a round, a formula."""

import json
from pathlib import Path
from typing import Any

from tests.cases.hand import CASES, patterns

SNAPSHOTS = CASES / "snapshots"
KINDS = ("proved", "broken")


def snapshot_of(pattern: Path) -> Path:
    """Where the report of a pattern file is kept."""
    return SNAPSHOTS / pattern.parent.name / f"{pattern.stem}.json"


def unused_snapshots(root: Path = SNAPSHOTS) -> list[Path]:
    """The files among the snapshots that no pattern has."""
    used = {snapshot_of(pattern).relative_to(SNAPSHOTS) for kind in KINDS for pattern in patterns(kind)}
    return sorted(path for path in root.rglob("*") if path.is_file() and path.relative_to(root) not in used)


def dumped(report: dict[str, Any]) -> str:
    """The report as JSON: a list has each of its entries on one line, so has each list under `rounds`."""
    return _object({key: _value(value, key) for key, value in report.items()}, "") + "\n"


def _value(value: Any, key: str) -> str:
    if key == "rounds":
        return _object({count: _lines(rounds, "  ") for count, rounds in value.items()}, " ")
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return _lines(value, " ")
    return _flat(value)


def _object(entries: dict[str, str], indent: str) -> str:
    lines = ",\n".join(f"{indent} {_flat(key)}: {text}" for key, text in entries.items())
    return f"{{\n{lines}\n{indent}}}"


def _lines(entries: list[Any], indent: str) -> str:
    lines = ",\n".join(f"{indent} {_flat(entry)}" for entry in entries)
    return f"[\n{lines}\n{indent}]" if entries else "[]"


def _flat(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)
