"""What was worked by hand beside each pattern: its counts, and what must be found in it.

`NAME.counts.toml` has `at`, the counts (or the sizes' names) that were worked, and a table for each
section and round, `[Cuff."Rnds 2 to 6 (7, 7)"]`: a name, its numbers in the order of `at`, and behind `=`
the formula in N where there is one. The last round of a label may go by `at` too.

`NAME.found.toml` has `[[finding]]` tables: severity, kind, line, words (or a piece of them), `at` (the counts
that it holds for, or "every count"), `stated` and `worked` where the finding is about a number, `mend` where
there is one that anybody would write, and in `says` what the message must tell a maker. In a pattern without
such a file nothing may be found.
"""

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

CASES = Path(__file__).parent
Key = int | str
Counts = dict[str, int]


@dataclass(frozen=True)
class Cell:
    """One count of one round: its numbers in the order of the counts, and its formula in N if it has one."""

    numbers: tuple[int, ...]
    formula: str | None


@dataclass(frozen=True)
class Worked:
    """One line of rounds: the numbers of its rounds at each count, and what each of them counts."""

    section: str
    rounds: tuple[tuple[str, ...], ...]
    cells: dict[str, Cell]


@dataclass(frozen=True)
class Hand:
    """All that was worked by hand of one pattern."""

    at: tuple[Key, ...]
    lines: tuple[Worked, ...]

    @property
    def custom(self) -> tuple[int, ...]:
        """The foundation counts that were worked; none for a piece that starts from a ring."""
        return tuple(count for count in self.at if isinstance(count, int))

    def counted(self, key: Key) -> list[tuple[str, str, Counts]]:
        """Section, label and counts of every round at one of the counts, in working order."""
        place = self.at.index(key)
        rounds: list[tuple[str, str, Counts]] = []
        for section in dict.fromkeys(line.section for line in self.lines):
            found = [
                (section, label, {name: cell.numbers[place] for name, cell in line.cells.items()})
                for line in self.lines
                if line.section == section
                for label in line.rounds[place]
            ]
            rounds += sorted(found, key=lambda row: _order(row[1]))
        return [
            (section, label, {name: n for name, n in counts.items() if n})
            for section, label, counts in rounds
        ]

    def formulas(self) -> dict[tuple[str, str], dict[str, str]]:
        """The formulas in N of every round that has some; a round that one count alone has, has none."""
        return {
            (line.section, label): formulas
            for line in self.lines
            if (formulas := {name: cell.formula for name, cell in line.cells.items() if cell.formula})
            for label in {label for rounds in line.rounds for label in rounds}
            if sum(label in rounds for rounds in line.rounds) > 1
        }


def _order(label: str) -> int:
    numbers = re.findall(r"\d+", label)
    return int(numbers[0]) if numbers else 0


def labels(text: str, places: int) -> tuple[tuple[str, ...], ...]:
    """The rounds that a label covers, at each of so many counts: "Rnds 2 to 4 (5)", "Rnds 2, 4 and 6", ""."""
    many = re.fullmatch(r"(Rnd|Row)s (.+)", text)
    if not many:
        return ((text,),) * places
    word, rest = many.groups()
    span = re.fullmatch(r"(\d+) to (\d+)(?: \(([\d, ]+)\))?", rest)
    if not span:
        return (tuple(f"{word} {n}" for n in re.findall(r"\d+", rest)),) * places
    first, last, others = span.groups()
    lasts = [int(last)] + ([int(n) for n in others.split(",")] if others else [int(last)] * (places - 1))
    assert len(lasts) == places, f"{text!r} has {len(lasts)} last rounds, and {places} counts were worked"
    return tuple(tuple(f"{word} {n}" for n in range(int(first), end + 1)) for end in lasts)


def cell(text: str, places: int) -> Cell:
    """Reads "8 9 10 = N/3"."""
    numbers, _, formula = text.partition(" = ")
    found = tuple(int(n) for n in numbers.split())
    assert len(found) == places, f"{text!r} has {len(found)} numbers, and {places} counts were worked"
    return Cell(found, formula or None)


def linear(formula: str) -> tuple[Fraction, Fraction]:
    """A formula's slope and shift: "2N/3 - 1" is 2/3 and -1, "(N - 3)/6" is 1/6 and -1/2."""
    over = re.fullmatch(r"\((.+)\)/(\d+)", formula)
    if over:
        slope, shift = linear(over[1])
        return slope / int(over[2]), shift / int(over[2])
    slope = shift = Fraction(0)
    for term in formula.replace(" - ", " + -").split(" + "):
        found = re.fullmatch(r"(-?)(\d*)(N?)(?:/(\d+))?", term)
        assert found, f"{formula!r} is no formula"
        sign, factor, letter, part = found.groups()
        size = Fraction(int(factor or 1), int(part or 1)) * (-1 if sign else 1)
        slope, shift = (slope + size, shift) if letter else (slope, shift + size)
    return slope, shift


def value(formula: str, n: int) -> Fraction:
    """A formula's value: "2N/3 - 1" at 24 is 15."""
    slope, shift = linear(formula)
    return slope * n + shift


def read_hand(path: Path) -> Hand:
    """The counts that stand beside a pattern."""
    with path.open("rb") as file:
        tables: dict[str, Any] = tomllib.load(file)
    at = tuple(tables.pop("at"))
    return Hand(
        at,
        tuple(
            Worked(
                section,
                labels(label, len(at)),
                {name: cell(text, len(at)) for name, text in counts.items()},
            )
            for section, rounds in tables.items()
            for label, counts in rounds.items()
        ),
    )


def read_found(path: Path) -> list[dict[str, Any]]:
    """What must be found in a pattern: nothing where no file says so."""
    if not path.exists():
        return []
    with path.open("rb") as file:
        found: list[dict[str, Any]] = tomllib.load(file)["finding"]
    return found


def patterns(kind: str) -> Iterator[Path]:
    """The pattern files, "proved" or "broken", in the order of their names."""
    return iter(sorted((CASES / kind).glob("*.txt")))
