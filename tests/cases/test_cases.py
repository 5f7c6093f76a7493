"""Whole patterns, as a designer would publish them: those that are proved, and those with one mistake.

What was worked by hand stands beside each pattern and is held without any snapshot. The whole report is
held by a snapshot too, so that the words a maker reads, and every number that nobody worked by hand, cannot
change unseen.
"""

import json
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from server.craft.fabric.report import check
from tests.cases.hand import CASES, Hand, linear, patterns, read_found, read_hand, value
from tests.cases.snapshots import dumped, snapshot_of, unused_snapshots

PROVED = list(patterns("proved"))
BROKEN = list(patterns("broken"))


def named(path: Path) -> str:
    """A case's name in the list of tests."""
    return path.stem


def hand_of(pattern: Path) -> Hand:
    """What was worked by hand of this pattern."""
    return read_hand(pattern.with_suffix(".counts.toml"))


def found_in(pattern: Path) -> list[dict[str, Any]]:
    """What must be found in this pattern."""
    return read_found(pattern.with_suffix(".found.toml"))


@cache
def report_of(pattern: Path) -> dict[str, Any]:
    """The public report, worked at the counts that were worked by hand too."""
    counts = hand_of(pattern).custom if pattern.parent.name == "proved" else ()
    return check(pattern.read_text(encoding="utf-8"), counts)


def told(report: dict[str, Any]) -> str:
    """The findings, for the message of a failed assertion."""
    return "\n" + "\n".join(json.dumps(found, ensure_ascii=False) for found in report["findings"])


def as_expected(report: dict[str, Any], expected: list[dict[str, Any]]) -> None:
    """The report finds exactly what is expected: each key that stands in the hand file is compared.

    Of the words at fault the hand file may have a piece; the snapshot holds them all.
    """
    assert len(report["findings"]) == len(expected), told(report)
    for found, one in zip(report["findings"], expected, strict=True):
        for key, wanted in one.items():
            if key == "words":
                assert wanted in found["words"], told(report)
            elif key == "says":
                assert all(piece in found["message"] for piece in wanted), told(report)
            elif key == "at":
                at = report["counts_tried"] if wanted == "every count" else wanted
                assert sorted(found["foundations"], key=str) == sorted(at, key=str), told(report)
            else:
                assert found[key] == wanted, f"{key}: {told(report)}"


@pytest.mark.parametrize("pattern", PROVED, ids=named)
def test_hand_worked_numbers_are_their_formulas(pattern: Path) -> None:
    hand = hand_of(pattern)
    for line in hand.lines:
        for name, cell in line.cells.items():
            if cell.formula:
                worked = [value(cell.formula, n) for n in hand.custom]
                assert worked == list(cell.numbers), f"{line.section}: {name} {cell}"


@pytest.mark.parametrize("pattern", PROVED, ids=named)
def test_every_count_is_the_hand_worked_one(pattern: Path) -> None:
    hand, report = hand_of(pattern), report_of(pattern)
    assert sorted(report["rounds"]) == sorted(str(key) for key in hand.at)
    for key in hand.at:
        worked = [(row["section"], row["label"], row["counts"]) for row in report["rounds"][str(key)]]
        assert worked == hand.counted(key), f"at {key}"


@pytest.mark.parametrize("pattern", PROVED, ids=named)
def test_every_formula_is_the_hand_worked_one(pattern: Path) -> None:
    def lines(formulas: dict[str, str]) -> dict[str, tuple[Fraction, Fraction]]:
        return {name: linear(formula) for name, formula in formulas.items()}

    found = {(row["section"], row["label"]): lines(row["counts"]) for row in report_of(pattern)["formulas"]}
    expected = {key: lines(formulas) for key, formulas in hand_of(pattern).formulas().items()}
    # A round that only custom counts have was not worked by hand.
    assert {key: found.get(key) for key in expected} == expected


@pytest.mark.parametrize("pattern", PROVED, ids=named)
def test_a_proved_pattern_is_proved(pattern: Path) -> None:
    report = report_of(pattern)
    assert report["proved"] is True, told(report)
    as_expected(report, found_in(pattern))


@pytest.mark.parametrize("pattern", BROKEN, ids=named)
def test_a_broken_pattern_is_found_out(pattern: Path) -> None:
    report, expected = report_of(pattern), found_in(pattern)
    assert expected, f"{pattern.stem} has nothing beside it that says what is broken"
    as_expected(report, expected)
    assert report["proved"] is all(one["severity"] == "warning" for one in expected)


@pytest.mark.parametrize("pattern", [*PROVED, *BROKEN], ids=named)
def test_words_stand_where_the_finding_says_and_a_mend_mends(pattern: Path) -> None:
    text = pattern.read_text(encoding="utf-8")
    for found in report_of(pattern)["findings"]:
        before = text.split("\n")[: found["line"] - 1]
        begin = sum(len(line) + 1 for line in before) + found["column"] - 1
        end = begin + len(found["words"])
        assert text[begin:end] == found["words"]
        if found["mend"] is not None:
            after = check(text[:begin] + found["mend"] + text[end:])
            left = [(one["code"], one["line"], one["words"]) for one in after["findings"]]
            assert (found["code"], found["line"], found["words"]) not in left, told(after)


@pytest.mark.parametrize("pattern", [*PROVED, *BROKEN], ids=named)
def test_the_whole_report(pattern: Path, update_snapshots: bool) -> None:
    path, report = snapshot_of(pattern), report_of(pattern)
    text = dumped(report)
    assert json.loads(text) == report
    if update_snapshots:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert path.exists(), "no snapshot yet: pytest tests/cases --update-snapshots writes it"
    assert text == path.read_text(encoding="utf-8")


def test_no_snapshot_is_unused(update_snapshots: bool) -> None:
    unused = unused_snapshots()
    if update_snapshots:
        for path in unused:
            path.unlink()
        unused = []
    assert not unused, "no pattern has these snapshots any more; --update-snapshots takes them away"


def test_a_snapshot_of_no_pattern_is_found(tmp_path: Path) -> None:
    (tmp_path / "proved").mkdir()
    for name in (f"{PROVED[0].stem}.json", "a-pattern-that-was-taken-away.json"):
        (tmp_path / "proved" / name).write_text("{}", encoding="utf-8")
    assert [path.name for path in unused_snapshots(tmp_path)] == ["a-pattern-that-was-taken-away.json"]


def test_every_pattern_has_its_hand_file_and_every_hand_file_its_pattern() -> None:
    assert len(PROVED) >= 24
    assert len(BROKEN) >= 24
    hand_files = {path.name.removesuffix(".counts.toml") for path in (CASES / "proved").glob("*.counts.toml")}
    assert hand_files == {path.stem for path in PROVED}
    found = {path.name.removesuffix(".found.toml") for path in (CASES / "broken").glob("*.found.toml")}
    assert found == {path.stem for path in BROKEN}
    warned = {path.name.removesuffix(".found.toml") for path in (CASES / "proved").glob("*.found.toml")}
    assert warned <= {path.stem for path in PROVED}
