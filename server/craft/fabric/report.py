"""The public report of a pattern: the value that `evenhand check --json` prints. Its form stays stable."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from server.craft.fabric.prove import Proof, prove


def check(text: str, foundations: Sequence[int] = ()) -> dict[str, Any]:
    """Proves a text and reports it; `foundations`: custom counts to show besides the sizes. Never raises."""
    return as_dict(prove(text, foundations))


def as_dict(proof: Proof) -> dict[str, Any]:
    """A proof as plain values: dicts, lists, strings, numbers."""
    return {
        "title": proof.title,
        "multiple": proof.multiple,
        "plus": proof.plus,
        "sizes": dict(proof.sizes),
        "proved": proof.proved,
        "counts_tried": list(proof.counts_tried),
        "findings": [
            {
                "severity": finding.severity,
                "code": finding.code,
                "kind": finding.kind,
                "line": finding.line,
                "column": finding.column,
                "words": finding.words,
                "foundations": list(finding.foundations),
                "stated": finding.stated,
                "worked": finding.worked,
                "message": finding.message,
                "mend": finding.mend,
            }
            for finding in proof.findings
        ],
        "rounds": {
            key: [
                {
                    "section": row.section,
                    "label": row.label,
                    "line": row.line,
                    "counts": dict(row.counts[key]),
                }
                for row in proof.rows
                if key in row.counts
            ]
            for key in proof.keys
        },
        "formulas": [
            {"section": row.section, "label": row.label, "counts": dict(row.formulas)}
            for row in proof.rows
            if row.formulas
        ],
    }
