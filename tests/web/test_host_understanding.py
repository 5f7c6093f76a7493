"""What is laid out beside the text: findings at their words, mends, the table of counts, the sum."""

from __future__ import annotations

from dataclasses import replace

import pytest

from server.craft.fabric import prove
from server.craft.text.findings import Finding
from server.services.patterns import Checked, check
from server.web.understanding import FINDINGS_MOST, _lines, in_words, mended, understand, views

TUBE = """Title: Pier Band
Sizes: small (large)
Foundation: 20 (24), multiple of 2

# Band
Foundation rnd: Ch 20 (24); join with sl st in first ch to form a ring. [20 (24) ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]
Rnds 2 to 4 (4): Ch 1, sc in same st, sc in each sc around; join with sl st in first sc. [N sc]
Rnd 5: Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; rep from * around;
  join with sl st in 3rd ch of beg ch-4. [N/2 dc, N/2 ch-1 sps]
Fasten off."""


def test_an_empty_text_is_nothing_to_read_and_nothing_wrong() -> None:
    understood = understand(check(" \n"))
    assert (understood.state, understood.findings, understood.sections) == ("empty", (), ())


def test_a_proved_text_says_at_how_many_counts() -> None:
    understood = understand(check(TUBE))
    assert understood.findings == ()
    assert understood.state == "proved"
    # Custom counts: from four repeats below the smallest size, 20 - 8 = 12, to eight above the largest,
    # 24 + 16 = 40: (40 - 12) / 2 + 1 = 15 counts.
    assert understood.summary == "Proved at 15 counts from 12 to 40, every size among them."
    assert (understood.title, understood.custom, understood.missing) == ("Pier Band", "multiple of 2", ())


def test_the_table_has_a_row_for_each_kind_of_stitch_and_a_column_for_each_size() -> None:
    understood = understand(check(TUBE))
    assert [(c.name, c.foundation) for c in understood.columns] == [("small", "20 ch"), ("large", "24 ch")]
    (band,) = understood.sections
    rows = {(r.label, c.name): (c.numbers, c.formula) for r in band.rounds for c in r.cells}
    assert rows["Foundation rnd", "ch"] == (("20", "24"), "N")
    assert rows["Rnd 1", "sc"] == (("20", "24"), "N")
    # N/2 dc stand in every other stitch, the beginning chain one of them; a space after each.
    assert rows["Rnd 5", "dc"] == (("10", "12"), "N/2")
    assert rows["Rnd 5", "ch-1 sp"] == (("10", "12"), "N/2")


def test_rounds_of_one_line_that_come_to_the_same_are_one_row() -> None:
    (band,) = understand(check(TUBE)).sections
    assert [(r.label, r.line) for r in band.rounds] == [
        ("Foundation rnd", 6), ("Rnd 1", 7), ("Rnds 2 to 4", 8), ("Rnd 5", 9),
    ]  # fmt: skip


def test_the_sum_is_all_that_the_hook_makes() -> None:
    # At N = 20, with the slip stitch of each join: foundation 20 ch + 1; rounds 1 to 4 a chain + 20 sc + 1
    # each; round 5 four chains, 9 (dc, ch 1) + 1: 21 + 4 * 22 + 23 = 132. At N = 24: 25 + 4 * 26 + 27 = 156.
    assert understand(check(TUBE)).totals == ("132", "156")


def test_a_finding_says_where_what_and_at_which_counts() -> None:
    text = TUBE.replace("in first sc. [N sc]\nRnds", "in first sc. [N + 1 sc]\nRnds")
    understood = understand(check(text))
    (finding,) = understood.findings
    assert understood.state == "unproved"
    assert understood.summary == "1 thing to mend."
    assert finding.line == 7
    line = text.split("\n")[6]
    assert line[finding.column - 1 :][: finding.length] in "[N + 1 sc]"
    assert finding.holds == "at every count"
    assert (finding.stated, finding.worked) != ("", "")
    marked = next(one for one in understood.lines if one.number == 7)
    assert "".join(piece.text for piece in marked.pieces) == line
    assert [piece.text for piece in marked.pieces if piece.finding] == [
        line[finding.column - 1 :][: finding.length]
    ]


def test_a_mend_makes_its_finding_go_away() -> None:
    checked = check(TUBE.replace("[N/2 dc, N/2 ch-1 sps]", "[N/2 dc, N/4 ch-1 sps]"))
    mends = [f for f in understand(checked).findings if f.mend is not None]
    assert mends, "a count that does not agree has a mend"
    better = mended(checked, mends[0].key)
    assert better is not None
    assert understand(check(better)).state == "proved"


def test_a_mend_of_another_text_is_not_applied() -> None:
    assert mended(check(TUBE), "10:3:count:5") is None
    assert mended(check(TUBE), "") is None


def finding(line: int, column: int, words: str, severity: str = "error") -> Finding:
    return Finding(severity, "code", "syntax", line, column, words, "Message.")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "findings", "expected"),
    [
        ("sc dc", [finding(1, 4, "dc")], [["sc ", "[dc]"]]),
        ("sc dc", [finding(1, 1, "sc"), finding(1, 4, "dc")], [["[sc]", " ", "[dc]"]]),
        ("sc dc", [finding(1, 1, "sc dc"), finding(1, 4, "dc")], [["[sc dc]"]]),
        ("a\nbb\nc", [finding(1, 1, "a\nbb\nc")], [["[a]"], ["[bb]"], ["[c]"]]),
        ("a\n\nc", [finding(1, 1, "a\n\nc")], [["[a]"], [], ["[c]"]]),
        ("sc", [finding(1, 3, "")], [["sc"]]),
        ("sc", [finding(9, 9, "gone")], [["sc"]]),
        ("𝒜 dc", [finding(1, 3, "dc")], [["𝒜 ", "[dc]"]]),
    ],
)
def test_marks_lie_on_the_words_they_are_for(
    text: str, findings: list[Finding], expected: list[list[str]]
) -> None:
    lines = _lines(text, views(findings, ()))
    drawn = [[f"[{p.text}]" if p.finding else p.text for p in line.pieces] for line in lines]
    assert drawn == expected
    assert sum(len(line.findings) for line in lines) == len(findings), (
        "each stands at a line, whatever its place"
    )


@pytest.mark.parametrize(
    ("counts", "holds"),
    [
        ((), ""),
        ((24,), "at 24"),
        (("small", "large"), "at small and large"),
        ((24, 28, 32), "at 24, 28 and 32"),
        (tuple(range(24, 72, 4)), "at 24, 28, 32, 36, 40 and 7 more counts"),
        (tuple(range(20, 80, 4)), "at every count"),
    ],
)
def test_the_counts_a_finding_holds_at(counts: tuple[int | str, ...], holds: str) -> None:
    found = replace(finding(1, 1, "sc"), foundations=counts)
    (view,) = views([found], tuple(range(20, 80, 4)))
    assert view.holds == holds


def test_several_things_in_words() -> None:
    assert in_words(["24"]) == "24"
    assert in_words(["24", "28"]) == "24 and 28"
    assert in_words(["24", "28", "32"]) == "24, 28 and 32"


def test_a_page_shows_a_bounded_number_of_findings_and_says_how_many_there_are() -> None:
    text = TUBE + "".join(f"\n\n# Part {n}\nRnd 1: bobbin in nxt scc. [1 sc]" for n in range(100))
    understood = understand(check(text))
    assert len(understood.findings) == FINDINGS_MOST
    assert understood.more >= 40
    assert understood.summary == f"{FINDINGS_MOST + understood.more} things to mend."
    assert [f.line for f in understood.findings] == sorted(f.line for f in understood.findings)


def test_a_proof_with_nothing_in_it_is_laid_out_too() -> None:
    understood = understand(Checked("Rnd", prove("Rnd")))
    assert understood.state == "unproved"
    assert understood.missing
