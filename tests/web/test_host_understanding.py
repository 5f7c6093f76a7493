"""What is laid out beside the text: findings at their words, mends, the table of counts, the sum."""

from __future__ import annotations

from dataclasses import replace

import pytest

from server.craft.fabric import prove
from server.craft.text import reader
from server.craft.text.findings import Finding
from server.services.patterns import Checked, check
from server.web.host_header import offered, with_line
from server.web.understanding import FINDINGS_MOST, _lines, in_words, mended, noted, understand, views

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
    assert understood.summary == "Proved at every multiple of 2 from 12 on, every size among them."
    assert understood.reach.startswith("Worked at 15 counts up to 40. From there each further 2 chains ")
    assert (understood.title, understood.custom, understood.missing) == ("Pier Band", "multiple of 2", ())


def test_without_an_induction_it_is_proved_at_the_counts_that_were_worked() -> None:
    # Sizes 20 and 24 in steps of 4 are two counts: an induction needs three, one block after another.
    two = TUBE.replace("multiple of 2", "multiple of 4\nCustom: 20 to 24")
    understood = understand(check(two))
    assert understood.summary == "Proved at 2 counts from 20 to 24, every size among them."
    assert "no other multiple of 4" in understood.reach


def test_without_a_multiple_the_sizes_are_all_there_is() -> None:
    understood = understand(check(TUBE.replace(", multiple of 2", "").replace("N/2", "10 (12)")))
    assert understood.summary == "Proved at every size."
    assert understood.reach == "No other count is allowed, so this is all there is to prove."
    assert all(
        cell.values == () for section in understood.sections for one in section.rounds for cell in one.cells
    )


RAGGED = """Title: Ragged Band
Sizes: small (medium, large)
Foundation: 24 (28, 32), multiple of 4
Custom: 24 to 36

# Band
Foundation rnd: Ch N; join with sl st in first ch to form a ring.
Rnd 1: Ch 1, sc in same ch, sc in next 5 (6, 9) ch, dc in each ch around; join with sl st in first sc."""
ODD_AND_EVEN = """Title: Odd And Even
Foundation: 24, multiple of 3

# Band
Foundation rnd: Ch N; join with sl st in first ch to form a ring.
Rnd 1: Ch 1, sc in same ch, sc in every other ch around; join with sl st in first sc."""


def test_a_number_on_no_line_is_shown_at_each_count_that_was_worked() -> None:
    (band,) = understand(check(RAGGED)).sections
    cells = {cell.name: cell for cell in band.rounds[1].cells}
    # 1 + 5 (6, 9) sc; 36 is beyond the largest size, whose number it takes: 1 + 9.
    assert cells["sc"].values == (("24", "6"), ("28", "7"), ("32", "10"), ("36", "10"))
    assert cells["dc"].values == (("24", "18"), ("28", "21"), ("32", "22"), ("36", "26"))
    assert (cells["sts"].formula, cells["sts"].values) == ("N", ())
    assert cells["sc"].numbers == ("6", "7", "10")


def test_a_number_that_goes_by_remainder_has_a_line_for_each() -> None:
    (band,) = understand(check(ODD_AND_EVEN)).sections
    (sc,) = band.rounds[1].cells
    assert (sc.formula, len(sc.parts), sc.values) == ("", 2, ())
    assert sc.parts[0].endswith(" where N/3 is even")
    assert sc.parts[1].endswith(" where N/3 is odd")


def test_a_line_that_does_not_read_can_be_made_a_note() -> None:
    checked = check(TUBE.replace("Rnd 5:", "Rnd 5: flounce twice,"))
    finding = next(f for f in understand(checked).findings if f.can_be_note)
    assert finding.line == 9
    better = noted(checked, finding.key)
    assert better == checked.text.replace("\nRnd 5:", "\nNote: Rnd 5:")
    assert noted(check(TUBE), finding.key) is None


def test_only_what_does_not_read_is_offered_to_be_a_note() -> None:
    (wrong,) = understand(check(TUBE.replace("[N/2 dc,", "[N dc,"))).findings
    assert not wrong.can_be_note


POSTED = "Harbour cuffs\n\nI used a 5 mm hook.\n\n# Cuff\n" + TUBE.partition("# Band\n")[2]


def test_header_lines_are_offered_from_what_stands_in_the_text() -> None:
    offers = {one.key: one for one in understand(check(POSTED)).offered}
    assert offers["Hook"].line == "Hook: 5 mm"
    assert "5 mm" in offers["Hook"].why
    assert understand(check("")).offered == ()


@pytest.mark.parametrize("key", ["Title", "Hook", "Foundation"])
def test_an_offered_line_puts_the_same_in_by_hand_and_by_the_form(key: str) -> None:
    one = next(one for one in offered(POSTED) if one.key == key)
    better = with_line(POSTED, key)
    assert better is not None
    assert one.put + POSTED[one.length :] == better
    assert key not in {offer.key for offer in offered(better)}
    assert with_line(better, key) is None


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


def test_what_the_header_lacks_is_offered_without_reading_a_round(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is asked again with each changed word, and the header alone tells which lines are there."""
    text = "A Cuff\nUS terms, 5 mm hook\n\nRnd 1: Ch 24, join.\nRnd 2: Ch 1, sc in each ch around; join.\n"
    known = offered(text)
    assert {"Title", "Terms"} <= {one.key for one in known}
    monkeypatch.setattr(reader, "read_line", None)
    assert offered(text) == known
