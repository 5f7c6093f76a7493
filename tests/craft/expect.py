"""Plain assertions and short patterns that the engine's tests share.

Everything here reads the engine's public report (the JSON of `evenhand check`), never its insides.
"""

from collections.abc import Callable, Iterable, Mapping
from typing import Any

Report = dict[str, Any]
Finding = dict[str, Any]
Counts = dict[str, int]
Check = Callable[..., Report]


def told(report: Report) -> str:
    """What the engine found, one line a finding, for the message of a failed assertion."""
    lines = [
        f"line {found['line']}:{found['column']} {found['severity']} {found['kind']} {found['words']!r}: "
        f"{found['message']}"
        for found in report["findings"]
    ]
    return "\n".join(lines) or "no findings"


def proved(report: Report) -> None:
    """The pattern is proved; warnings may stand beside it."""
    assert report["proved"] is True, told(report)
    assert all(found["severity"] == "warning" for found in report["findings"]), told(report)
    assert report["rounds"], "nothing was worked"


def proved_clean(report: Report) -> None:
    """The pattern is proved and nothing at all was found in it."""
    proved(report)
    assert report["findings"] == [], told(report)


def only_finding(report: Report) -> Finding:
    """The one finding of a report that has exactly one."""
    assert len(report["findings"]) == 1, told(report)
    found: Finding = report["findings"][0]
    return found


def only_warning(report: Report) -> Finding:
    """The one finding of a proved pattern: a warning."""
    proved(report)
    return only_finding(report)


def section(report: Report, foundation: int | str, title: str) -> list[dict[str, Any]]:
    """The rounds of one section at one foundation count (or size's name), in working order."""
    rounds = report["rounds"]
    assert str(foundation) in rounds, f"no rounds for {foundation}; there are {sorted(rounds)}"
    return [worked for worked in rounds[str(foundation)] if worked["section"] == title]


def labels(report: Report, foundation: int | str, title: str) -> list[str]:
    """The labels of a section's rounds, in working order."""
    return [worked["label"] for worked in section(report, foundation, title)]


def counts(report: Report, foundation: int | str, title: str, label: str) -> Counts:
    """What one round counts; the round must be there exactly once."""
    found = [worked for worked in section(report, foundation, title) if worked["label"] == label]
    assert len(found) == 1, f"{label!r} of {title!r}: {labels(report, foundation, title)}\n{told(report)}"
    worked: Counts = found[0]["counts"]
    return worked


def formula(report: Report, title: str, label: str) -> dict[str, str]:
    """The formulas in N of one round; the round must be there exactly once."""
    found = [row for row in report["formulas"] if row["section"] == title and row["label"] == label]
    assert len(found) == 1, f"{label!r} of {title!r} in {report['formulas']}\n{told(report)}"
    stated: dict[str, str] = found[0]["counts"]
    return stated


def tally(report: Report, names: Mapping[str, str] | None = None) -> dict[str, list[Counts]]:
    """Every round's counts at every count, in working order; `names` puts other names for the stitches'."""
    rename = names or {}
    return {
        foundation: [{rename.get(name, name): n for name, n in row["counts"].items()} for row in rounds]
        for foundation, rounds in report["rounds"].items()
    }


def same_work(one: Report, other: Report) -> None:
    """Two texts are both proved and their rounds count the same, stitch by stitch's name."""
    proved(one)
    proved(other)
    assert any(any(row.values()) for rows in tally(one).values() for row in rows), "nothing was counted"
    assert tally(one) == tally(other)


def alike(check: Check, written: str, clear: str) -> Report:
    """The report of the spelling as written, which works as the clear form does."""
    report = check(written)
    same_work(report, check(clear))
    return report


def _text(header: Iterable[str], lines: Iterable[str]) -> str:
    return "\n".join([*header, "", *lines]) + "\n"


def tube(*lines: str, foundation: str = "24, multiple of 4", header: Iterable[str] = ()) -> str:
    """A pattern in joined rounds: N chains, a round of N sc, then the lines under test from `Rnd 2` on."""
    start = (
        "# Cuff",
        "Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]",
        "Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]",
    )
    return _text(["Title: Quay Tube", f"Foundation: {foundation}", *header], [*start, *lines])


def spiral(*lines: str, foundation: str = "24, multiple of 4") -> str:
    """A pattern worked in a spiral: N chains, a round of N sc, then the lines under test from `Rnd 2` on."""
    start = (
        "# Cuff",
        "Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]",
        "Rnd 1: Sc in each ch around. [N sc]",
    )
    return _text(["Title: Eddy Tube", f"Foundation: {foundation}", "Worked: spiral"], [*start, *lines])


def flat(*lines: str, foundation: str = "24, multiple of 2") -> str:
    """A pattern worked in rows: N chains, then the lines under test from `Row 1` on."""
    start = ("# Panel", "Foundation row: Ch N. [N ch]")
    return _text(["Title: Jetty Panel", f"Foundation: {foundation}", "Worked: rows"], [*start, *lines])


def crown(*lines: str, worked: str = "joined rounds") -> str:
    """A pattern that starts from a ring, in two sizes, child and adult: only the lines under test,
    from `Rnd 1` on."""
    header = (
        "Title: Buoy Cap",
        "Sizes: child (adult)",
        "Foundation: none",
        f"Worked: {worked}",
        "Pieces: one",
    )
    return _text(header, ["# Crown", *lines])
