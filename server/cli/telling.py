"""A proof in words, for a terminal: findings at their place in the text, then the table of counts."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from server.craft.fabric import Proof, ProofRow
from server.craft.text.findings import Finding

WIDE = 100  # characters of a pattern's line shown at most


def told(proof: Proof, text: str) -> str:
    """The whole report as text."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    parts = ["\n".join(_head(proof))]
    parts += ["\n".join(_finding(finding, lines)) for finding in proof.findings]
    if proof.rows:
        parts.append("\n".join(_table(proof)))
    return "\n\n".join(parts)


def _head(proof: Proof) -> Iterator[str]:
    yield proof.title or "(no title)"
    sizes = ", ".join(name if n is None else f"{name} {n}" for name, n in proof.sizes.items())
    if proof.multiple is not None:
        plus = f" + {proof.plus}" if proof.plus else ""
        sizes += f"{'; ' if sizes else ''}any multiple of {proof.multiple}{plus}"
    if sizes:
        yield sizes
    errors = sum(finding.is_error for finding in proof.findings)
    warnings = len(proof.findings) - errors
    found = ", ".join(
        f"{number} {word}{'' if number == 1 else 's'}"
        for number, word in ((errors, "error"), (warnings, "warning"))
        if number
    )
    tried = len(proof.counts_tried)
    state = "Proved" if proof.proved else "Not proved"
    where = f" at {tried} count{'' if tried == 1 else 's'}{_range(proof)}" if tried and proof.proved else ""
    yield f"{state}{where}{f': {found}' if found else ''}."


def _range(proof: Proof) -> str:
    numbers = [n for n in proof.counts_tried if isinstance(n, int)]
    return f" from {numbers[0]} to {numbers[-1]}" if len(numbers) > 1 else ""


def _finding(finding: Finding, lines: list[str]) -> Iterator[str]:
    yield f"Line {finding.line}, column {finding.column}: {finding.severity} ({finding.kind}, {finding.code})"
    if 0 < finding.line <= len(lines):
        yield from _marked(lines[finding.line - 1], finding)
    yield f"  {finding.message}"
    if finding.mend is not None:
        yield f"  Would read: {finding.mend}"
    if finding.foundations:
        yield f"  At: {', '.join(map(str, finding.foundations))}"


def _marked(line: str, finding: Finding) -> Iterator[str]:
    """The line with the words at fault underlined; of a long line the piece around them."""
    start = finding.column - 1
    length = max(1, len(finding.words.split("\n")[0]))
    first = 0 if len(line) <= WIDE else max(0, min(start - WIDE // 4, len(line) - WIDE))
    shown = line[first : first + WIDE].replace("\t", " ")
    before, after = ("... " if first else ""), (" ..." if first + WIDE < len(line) else "")
    yield f"    {before}{shown}{after}".rstrip()
    marks = "^" * min(length, max(1, len(shown) - (start - first)))
    yield f"    {' ' * (len(before) + start - first)}{marks}"


def _table(proof: Proof) -> Iterator[str]:
    keys = proof.keys
    with_formulas = any(row.formulas for row in proof.rows)
    table = [["", "", *keys, *(["N"] if with_formulas else [])]]
    section = None
    for label, row in _rounds(proof.rows):
        if row.section != section:
            section = row.section
            table.append([section or "(no section)"])
        names = dict.fromkeys(name for counts in row.counts.values() for name in counts)
        for at, name in enumerate(names):
            cells = [str(row.counts.get(key, {}).get(name, "-")) for key in keys]
            formula = [row.formulas.get(name, "")] if with_formulas else []
            table.append([f"  {label}" if at == 0 else "", name, *cells, *formula])
    if proof.stitches:
        table.append(["One piece in all", "stitches", *(str(proof.stitches.get(key, "-")) for key in keys)])
    yield from _aligned(table)


def _rounds(rows: tuple[ProofRow, ...]) -> Iterator[tuple[str, ProofRow]]:
    """The rounds with their labels; rounds of one line that count the same stand together ("Rnds 3 to 6")."""
    for _, same in groupby(rows, key=lambda row: (row.section, row.line, row.counts, row.formulas)):
        group = list(same)
        first, last = group[0].label, group[-1].label
        name, _, number = last.rpartition(" ")
        yield (
            (f"{name}s {first.rpartition(' ')[2]} to {number}" if len(group) > 1 else first or "-"),
            group[0],
        )


def _aligned(table: list[list[str]]) -> Iterator[str]:
    columns = max(map(len, table))
    widths = [max((len(row[i]) for row in table if i < len(row) > 1), default=0) for i in range(columns)]
    for row in table:
        if len(row) == 1:
            yield row[0]
        else:
            cells = [
                c.ljust(w) if i < 2 else c.rjust(w) for i, (c, w) in enumerate(zip(row, widths, strict=False))
            ]
            yield "  ".join(cells).rstrip()
