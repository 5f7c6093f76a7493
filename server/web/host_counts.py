"""The table of counts beside a pattern: what each round comes to at each size, and at any N.

Pure: a proof in, frozen values for the templates out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from server.craft.fabric import Proof, ProofRow


@dataclass(frozen=True)
class Column:
    """A size's column: its name and, where there is one, its foundation count."""

    key: str
    name: str
    foundation: str


@dataclass(frozen=True)
class Cell:
    """One kind of stitch, space or group in a round: its number in each size's column, and at any N.

    formula  a line in N; empty where there is none
    parts    lines in N by remainder ("N/2 where N/3 is even"), where one line does not serve
    values   pairs of count and number, where no line serves at all
    """

    name: str
    numbers: tuple[str, ...]
    formula: str
    parts: tuple[str, ...] = ()
    values: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Round:
    """A round's rows in the table; line: where it stands in the text."""

    label: str
    line: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class Section:
    """A section's rounds in the table."""

    title: str
    rounds: tuple[Round, ...]


def custom_words(proof: Proof) -> str:
    """Which custom counts are allowed, "multiple of 4 + 1"; empty where none are."""
    if proof.multiple is None:
        return ""
    return f"multiple of {proof.multiple}" + (f" + {proof.plus}" if proof.plus else "")


def columns_of(proof: Proof) -> tuple[Column, ...]:
    columns = []
    for name, foundation in proof.sizes.items():
        key = str(foundation) if foundation is not None else name
        columns.append(Column(key, name, f"{foundation} ch" if foundation is not None else ""))
    return tuple(columns)


def sections_of(proof: Proof, columns: Sequence[Column]) -> tuple[Section, ...]:
    sections: list[Section] = []
    for row in proof.rows:
        worked = Round(row.label, row.line, _cells(row, columns, proof))
        if not sections or sections[-1].title != row.section:
            sections.append(Section(row.section, (worked,)))
        else:
            sections[-1] = Section(row.section, (*sections[-1].rounds, worked))
    return tuple(Section(section.title, _together(section.rounds)) for section in sections)


def _together(rounds: Sequence[Round]) -> tuple[Round, ...]:
    """Rounds of one line of text that come to the same, as one: "Rnds 3 to 6"."""
    shown: list[Round] = []
    for _, alike in groupby(rounds, key=lambda one: (one.line, one.cells)):
        run = list(alike)
        first, last = run[0].label.split(), run[-1].label.split()
        if len(run) > 1 and len(first) == len(last) == 2:
            shown.append(Round(f"{first[0]}s {first[1]} to {last[1]}", run[0].line, run[0].cells))
        else:
            shown.extend(run)
    return tuple(shown)


def _cells(row: ProofRow, columns: Sequence[Column], proof: Proof) -> tuple[Cell, ...]:
    counts = row.counts
    names: dict[str, None] = {}
    for column in columns:
        names.update(dict.fromkeys(counts.get(column.key, {})))
    cells = [
        Cell(
            name,
            tuple(str(counts.get(column.key, {}).get(name, "–")) for column in columns),
            row.formulas.get(name, "").replace(" - ", " − "),
            *_not_linear(row, name, proof),
        )
        for name in names
    ]
    # In a round of one kind of stitch "sts" says the same once more.
    others = [cell for cell in cells if cell.name != "sts"]
    if len(others) == 1 and all(cell.numbers == others[0].numbers for cell in cells):
        return tuple(others)
    return tuple(cells)


def _not_linear(
    row: ProofRow, name: str, proof: Proof
) -> tuple[tuple[str, ...], tuple[tuple[str, str], ...]]:
    """Lines by remainder, or else the number at each count that was worked; neither where one line serves."""
    if name in row.formulas or proof.multiple is None:
        return (), ()
    if name in row.piecewise:
        return tuple(row.piecewise[name].replace(" - ", " − ").split(", ")), ()
    return (), tuple((key, str(counts.get(name, 0))) for key, counts in row.counts.items())
