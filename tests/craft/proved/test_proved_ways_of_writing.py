"""Ways in which designers write that are no other spelling of one phrase: each as a printed pattern means it.

The counts of the last round were worked by hand from the words; the reasons stand beside them.
"""

from collections.abc import Callable

import pytest

from tests.craft.expect import Check, counts, flat, labels, only_finding, only_warning, proved, spiral, tube

J = "join with sl st in first sc."
PLAIN = f"Ch 1, sc in same st, sc in each st around; {J}"
DC = "Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch."
SIZED = {"foundation": "24 (28, 32), multiple of 4", "header": ("Sizes: small (medium, large)",)}


def three(*lines: str) -> str:
    """The tube in three sizes without custom counts."""
    header = ("Sizes: small (medium, large)", "Custom: none")
    return tube(*lines, foundation="24 (28, 32), multiple of 4", header=header)


def tall(*lines: str) -> str:
    """The tube with a round of double crochet before the lines."""
    return tube(f"Rnd 2: {DC}", *lines)


ONE_MORE_ROUND: list[tuple[str, Callable[..., str], str, dict[str, int]]] = [
    ("markers", tube, f"Rnd 2: Ch 1, sc in same st (PM), sc in each st around; {J} Move marker up "
        f"each rnd.",
     {"sc": 24}),
    ("place marker", tube, f"Rnd 2: Ch 1, sc in same st, place marker, sc in each st around; "
        f"{J}", {"sc": 24}),
    ("a colour first", tube, f"Rnd 2: With CC, ch 1, sc in same st, sc in each st around; {J}", {"sc": 24}),
    ("a colour changed", tube, f"Rnd 2: Change to color B. {PLAIN}", {"sc": 24}),
    ("a colour in use", tube, f"Rnd 2: Using color A: {PLAIN}", {"sc": 24}),
    ("another hook", tube, f"Rnd 2: With smaller hook, ch 1, sc in each st around; {J}", {"sc": 24}),
    ("manner", tube, f"Rnd 2: Ch 1 loosely, sc in each st around; {J}", {"sc": 24}),
    ("do not turn in brackets", tube, "Rnd 2: Ch 1, sc in each st around; join with sl st in first "
        "sc (do not turn).",
     {"sc": 24}),
    ("do not turn behind a slip stitch", tube, "Rnd 2: Ch 1, sc in each st around; sl st to first "
        "st, do not turn.",
     {"sc": 24}),
    ("next and each", tube, f"Rnd 2: Ch 1, sc in same st and in each st around; {J}", {"sc": 24}),
    ("without in", tube, f"Rnd 2: Ch 1, sc each st around; {J}", {"sc": 24}),
    # sc, then over 23: 2 together and 2 plain, five times, and the last 3 as 2 together and one
    ("2 sts together", tube, f"Rnd 2: Ch 1, sc in same st, *sc next 2 sts together, sc in next 2 "
        f"sts; rep from * to last 3 sts, sc next 2 sts tog, sc in last st; {J}", {"sc": 18, "sc2tog": 6}),
    ("twice", tube, f"Rnd 2: Ch 1, sc2tog twice, dec twice, sc in each st around; "
        f"{J}", {"sc": 20, "sc2tog": 4}),
    # three increases, the rest plain: 24 + 3
    ("inc 3 times", tube, f"Rnd 2: Ch 1, sc in same st, inc 3 times, sc in each st around; "
        f"{J}", {"sc": 27}),
    # the first of 24 passed over at the round's beginning is passed over at its end: 23
    *(
        (f"the first passed over, {words}", tube, f"Rnd 2: Ch 1, {words}; {J}", {"sc": 23})
        for words in ("sk first st, sc in each st around", "sk next st, sc in next st and in each st around")
    ),
    # a picot is no stitch, whatever its chains: 24 sc
    *(
        (f"a picot with its chains, {words}", tube,
         f"Rnd 2: Ch 1, sc in same st, {words}, sc in next st, *sc in next st, {words}, sc in next st; "
         f"rep from * around; {J}", {"sc": 24})
        for words in ("ch-4 picot", "5-ch picot", "picot-3", "picot of 4 chains",
                      "picot (ch 4, sl st in 4th ch from hook)")
    ),
    ("cluster with its legs", tube,
     f"Rnd 2: Ch 1, sc in same st, *3-dc cluster in next st, sc in next st; rep from * to last st, "
         f"3dc-cl in last "
     f"st; {J}", {"sc": 12, "cluster": 12}),
    ("puff with its legs", tube,
     f"Rnd 2: Ch 1, sc in same st, *puff st of 3 hdc in next st, sc in next st; rep from * to last "
         f"st, puff in last "
     f"st; {J}", {"sc": 12, "puff": 12}),
    ("shell with its legs", tube,
     f"Rnd 2: Ch 1, sc in same st, *sk 1 st, 5-dc shell in next st, sk 1 st, sc in next st; rep "
         f"from * around, "
     f"omitting last sc; {J}", {"sc": 6, "shell": 6}),
    ("every other, an even number", tube, f"Rnd 2: Ch 1, sc in every other st around; {J} [N/2 "
        f"sc]", {"sc": 12}),
    ("rep behind a bracket", tube, f"Rnd 2: Ch 1, [sc, ch 1, sk 1] rep around; {J}", {"sc": 12,
        "ch-1 sp": 12}),
    ("a lone stitch", tube, f"Rnd 2: Ch 1, sc; {J} [24 sc]", {"sc": 24}),
    ("a lone stitch in a loop", tube, "Rnd 2: Ch 2, hdc in 3rd loop only; join with sl st in top of "
        "beg ch.",
     {"hdc": 24}),
    # the chain stands in the gap that the slip stitch goes to; a dc in each of the other 23 gaps
    ("between stitches", tall,
     "Rnd 3: Sl st in sp between first 2 dc, ch 3 (counts as dc), dc in sp between next 2 dc, dc in "
         "each sp between "
     "dc around; join with sl st in top of beg ch.", {"dc": 24}),
    ("between the chain and a stitch", tall,
     "Rnd 3: Sl st between beg ch-3 and first dc, ch 3 (counts as dc), *dc between next 2 dc; rep "
         "from * around; "
     "join with sl st in top of beg ch.", {"dc": 24}),
    ("prose within", tube, f"Rnd 2: Ch 1, sc in each st around. It should lie quite flat by now. "
        f"{J}", {"sc": 24}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("pattern", "line", "hand"),
    [case[1:] for case in ONE_MORE_ROUND],
    ids=[case[0] for case in ONE_MORE_ROUND],
)
def test_a_round(check: Check, pattern: Callable[..., str], line: str, hand: dict[str, int]) -> None:
    report = check(pattern(line))
    proved(report)
    assert report["findings"] == []
    last = report["rounds"]["24"][-1]["counts"]
    assert {name: last.get(name) for name in hand} == hand


@pytest.mark.parametrize(
    "count",
    ["You should have 24 sc.", "(you will have 24 sc)", "You now have 24 sts.", "Total: 24 sts.",
        "[Total: 24 sc]",
     "24 sc total.", "(8 groups of 3 sc)"],
)  # fmt: skip
def test_a_count_in_a_sentence(check: Check, count: str) -> None:
    proved(check(tube(f"Rnd 2: {PLAIN} {count}")))
    wrong = check(tube(f"Rnd 2: {PLAIN} {count.replace('24', '23').replace('8 groups', '7 groups')}"))
    assert only_finding(wrong)["kind"] == "count"


def test_a_dash_is_a_size_that_has_none_of_it(check: Check) -> None:
    report = check(
        three(
            f"Rnd 2: Ch 1, sc in same st, 2 sc in next 2 (-, 4) sts, sc in each st around; {J}",
            f"Rnds 3 to 5 (-, 6): {PLAIN}",
            f"Rnd 7: Ch 1, sc in same st, [sc2tog] 2 (-, 4) times, sc in each st around; {J} [24 (-, 32) sc]",
        )
    )
    proved(report)
    assert report["findings"] == []
    # two more and two fewer; none; four more and four fewer
    assert [counts(report, size, "Cuff", "Rnd 2")["sc"] for size in (24, 28, 32)] == [26, 28, 36]
    assert [counts(report, size, "Cuff", "Rnd 7")["sc"] for size in (24, 28, 32)] == [24, 28, 32]
    assert labels(report, 28, "Cuff")[2:] == ["Rnd 2", "Rnd 7"]
    assert labels(report, 32, "Cuff")[3:7] == ["Rnd 3", "Rnd 4", "Rnd 5", "Rnd 6"]


@pytest.mark.parametrize(
    "lines",
    [
        [f"Rnd 3 (large only): {PLAIN}"],
        [f"Rnd 3 - large only: {PLAIN}"],
        [f"Rnd 3 for size large only: {PLAIN}"],
        [f"For size large: Rnd 3: {PLAIN}"],
        [f"(Large only) Rnd 3: {PLAIN}"],
        ["Large only:", f"Rnd 3: {PLAIN}", "All sizes:"],
        ["For large:", f"Rnd 3: {PLAIN}", "", "All sizes"],
    ],
)
def test_a_line_for_one_size(check: Check, lines: list[str]) -> None:
    report = check(three(f"Rnd 2: {PLAIN}", *lines, f"Rnd 4: {PLAIN}"))
    proved(report)
    assert report["findings"] == []
    assert labels(report, 24, "Cuff")[2:] == labels(report, 28, "Cuff")[2:] == ["Rnd 2", "Rnd 4"]
    assert labels(report, 32, "Cuff")[2:] == ["Rnd 2", "Rnd 3", "Rnd 4"]


def test_two_lines_of_one_number_for_different_sizes(check: Check) -> None:
    report = check(
        three(
            f"Rnd 2 (small and medium only): {PLAIN}",
            "Rnd 2 (large only): Ch 1, 2 sc in each st around; join with sl st in first sc.",
            "Rnd 3: rep rnd 2.",
        )
    )
    proved(report)
    # the large has its own round 2, and that is what it repeats: 32, 64, 128
    assert [counts(report, size, "Cuff", "Rnd 3")["sc"] for size in (24, 28, 32)] == [24, 28, 128]


@pytest.mark.parametrize(
    "words",
    [
        "(large only) 2 sc in next st, sc in each st around",
        "2 sc in next st (large only), sc in each st around",
        "for large only, 2 sc in next st, sc in each st around",
        "[large only: 2 sc in next st], sc in each st around",
    ],
)
def test_an_instruction_for_one_size(check: Check, words: str) -> None:
    report = check(three(f"Rnd 2: Ch 1, sc in same st, {words}; {J}"))
    proved(report)
    assert [counts(report, size, "Cuff", "Rnd 2")["sc"] for size in (24, 28, 32)] == [24, 28, 33]


@pytest.mark.parametrize(
    ("odd", "even"),
    [
        ("Odd rnds 3-9:", "Even rnds 2-8:"),
        ("Rnds 3, 5, 7 and 9:", "Rnds 2, 4, 6, 8:"),
        ("Rnds 3-9 (odd):", "Rnds 2-8 (even):"),
        ("Rnds 3-9, odd rnds only:", "Rnds 2-8, even rnds only:"),
        ("All odd rounds from 3 to 9:", "All even-numbered rounds from 2 to 8:"),
        ("Rnds 3, 5, 7, 9:", "Even rnds:"),
    ],
)
def test_odd_and_even_rounds(check: Check, odd: str, even: str) -> None:
    report = check(tube(f"{odd} {DC}", f"{even} {PLAIN}"))
    proved(report)
    assert report["findings"] == []
    worked = report["rounds"]["24"][1:]
    assert [row["label"] for row in worked] == [f"Rnd {number}" for number in range(1, 10)]
    assert [next(iter(row["counts"])) for row in worked] == ["sc", "sc"] + ["dc", "sc"] * 3 + ["dc"]


def test_a_round_and_all_even_ones(check: Check) -> None:
    report = check(tube(f"Rnd 2 and all even rnds: {PLAIN}", f"Rnd 3: {DC}", f"Rnd 5: {DC}"))
    proved(report)
    assert [next(iter(row["counts"])) for row in report["rounds"]["24"][1:]] == ["sc", "sc", "dc", "sc", "dc"]


def test_even_rounds_without_an_end(check: Check) -> None:
    found = only_finding(check(tube(f"Rnd 2: {PLAIN}", f"Odd rnds: {DC}")))
    assert found["code"] == "unread"
    assert "`Odd rnds 3-9:`" in found["message"]


@pytest.mark.parametrize(
    "again",
    ["Rnd 3: As R2.", "Rnd 3: as rnd 2", "Rnd 3: Same as rnd 2.", "Rnd 3: Rep last rnd.",
        "Rnd 3: Work even.",
     "Rep rnd 2.", "Rep last rnd once more.", "Work even for 1 rnd."],
)  # fmt: skip
def test_a_round_again(check: Check, again: str) -> None:
    report = check(tube(f"Rnd 2: {DC}", again))
    proved(report)
    assert [row["counts"].get("dc", 0) for row in report["rounds"]["24"]] == [0, 0, 24, 24]
    assert report["rounds"]["24"][-1]["label"] == "Rnd 3"


@pytest.mark.parametrize(
    ("again", "rounds"),
    [
        ("Rep rnds 2 and 3 two more times.", 4),
        ("Repeat last 2 rnds twice.", 4),
        ("Rnds 4-9: rep rnds 2 and 3 alternately.", 6),
        ("Work even for 4 rnds.", 4),
        ("Work 3 rnds even.", 3),
        ("Rnd 4: Work even for 5 rnds.", 5),
    ],
)
def test_rounds_again_so_often(check: Check, again: str, rounds: int) -> None:
    report = check(tube(f"Rnd 2: {PLAIN}", f"Rnd 3: {DC}", again))
    proved(report)
    assert report["findings"] == []
    assert labels(report, 24, "Cuff")[4:] == [f"Rnd {number}" for number in range(4, 4 + rounds)]


@pytest.mark.parametrize("tail", ["Rep this rnd 3 more times.", "[N sc] Rep this rnd 3 more times."])
def test_a_round_says_itself_how_often(check: Check, tail: str) -> None:
    report = check(tube(f"Rnd 2: {PLAIN} {tail}", f"Rnd 6: {DC}"))
    proved(report)
    assert labels(report, 24, "Cuff")[2:] == ["Rnd 2", "Rnd 3", "Rnd 4", "Rnd 5", "Rnd 6"]


@pytest.mark.parametrize(
    ("again", "mend"),
    [
        (
            "Rep rnds 2 and 3 until piece measures 6 inches.",
            "Rnds 4 to 5, or until piece measures 6 inches: Rep rnds 2 and 3",
        ),
        ("Rep rnd 2 to the base of the thumb.", "Rnds 4 to 5, or to the base of the thumb: Rep rnd 2"),
        ("Work even until piece measures 2.5 in.", "Rnds 4 to 5, or until piece measures 2.5 in: Work even"),
    ],
)
def test_rounds_until_something_is_reached(check: Check, again: str, mend: str) -> None:
    text = tube(f"Rnd 2: {PLAIN}", f"Rnd 3: {DC}", again)
    found = only_warning(check(text))
    assert (found["code"], found["mend"]) == ("fit-unsaid", mend)
    clear = check(text.replace(found["words"], found["mend"]))
    proved(clear)
    assert clear["findings"] == []


def test_what_stands_behind_a_repeated_round_is_not_lost(check: Check) -> None:
    found = only_finding(check(tube(f"Rnd 2: {PLAIN}", "Rnd 3: Rep rnd 2, with 2 dc in last st.")))
    assert found["severity"] == "error"
    assert "write the round out" in found["message"]


def test_moss_runs_on_in_a_spiral(check: Check) -> None:
    """Over an odd count: 13 of 25 places, the last skip passing over the round's own first stitch."""
    report = check(
        spiral(
            "Rnd 2: *Sc in next st, ch 1, sk next st; rep from * around. [(N + 1)/2 sc]",
            "Rnds 3-6: *sc in next ch-1 sp, ch 1, sk next sc; rep from * around. [(N + 1)/2 sc]",
            "Rnd 7: Sc in each sc and ch-1 sp around. [N + 1 sc]",
            foundation="25, multiple of 2 + 1",
        )
    )
    proved(report)
    assert report["findings"] == []
    assert counts(report, 25, "Cuff", "Rnd 6") == {"sc": 13, "ch-1 sp": 13, "sts": 13}


def test_moss_does_not_run_on_in_joined_rounds(check: Check) -> None:
    line = (
        f"Rnd 2: Ch 1, sc in same st, ch 1, sk next st, *sc in next st, ch 1, sk next st; rep "
        f"from * around; {J}"
    )
    assert only_finding(check(tube(line, foundation="25")))["kind"] == "closing"


def test_a_gap_at_the_head_of_a_spirals_round(check: Check) -> None:
    report = check(
        spiral("Rnd 2: Ch 5, sk 5 sts, sc in each st around.", "Rnd 3: Sc in each st and ch around. [N sc]")
    )
    proved(report)
    # a spiral has no beginning chain: 24 - 5 sc and the 5 chains
    assert counts(report, 24, "Cuff", "Rnd 2") == {"sc": 19, "ch-5 sp": 1, "sts": 19}


def test_a_spiral_ends_with_a_slip_stitch(check: Check) -> None:
    report = check(spiral("Rnd 2: Sc in each st around, sl st in next st. Fasten off."))
    proved(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["sts"] == 24


def test_between_groups(check: Check) -> None:
    """8 groups of 3 over 24; as many gaps between them."""
    report = check(
        tube(
            "Rnd 2: Ch 3 (counts as dc), 2 dc in same st, sk 2 sts, *3 dc in next st, sk 2 sts; rep "
            "from * around; "
            "join with sl st in top of beg ch.",
            "Rnd 3: Sl st in next 2 dc, sl st in sp between groups, ch 3 (counts as dc), 2 dc in "
            "same sp, *3 dc in next "
            "sp between groups; rep from * around; join with sl st in top of beg ch. [N dc]",
            foundation="24, multiple of 3",
        )
    )
    proved(report)
    assert report["findings"] == []


def test_between_v_sts(check: Check) -> None:
    """8 V-sts and 8 gaps between them: 3 dc into each of the 16."""
    report = check(
        tube(
            "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, sk 2 sts, *V-st in next st, sk 2 sts; "
            "rep from * around; "
            "join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
            "Rnd 3: Sl st in next ch-1 sp, ch 3 (counts as dc), 2 dc in same sp, *3 dc between "
            "V-sts, 3 dc in next ch-1 "
            "sp; rep from * around, omitting last 3 dc in next ch-1 sp; join with sl st in top of "
            "beg ch. [2N dc]",
            foundation="24, multiple of 3",
        )
    )
    proved(report)


def test_the_foundation_and_the_first_row_in_one_line(check: Check) -> None:
    text = (
        "Title: Spit Panel\nFoundation: 24\nWorked: rows\n\n# Panel\n"
        "Row 1: Ch 24. Sc in 2nd ch from hook and in each ch across; turn. [23 sc]\n"
        "Row 2: Ch 1, sc in each st across. [23 sc]\n"
    )
    report = check(text)
    proved(report)
    assert labels(report, 24, "Panel") == ["Foundation row", "Row 1", "Row 2"]


def test_too_few_places_for_a_decrease(check: Check) -> None:
    found = only_finding(check(tube(f"Rnd 2: Ch 1, sc in same st, sc in each st to last st, sc2tog; {J}")))
    assert found["code"] == "too-much"
    assert "it takes 2 places, and 1 is left" in found["message"]


def test_fewer_places_than_are_asked_for(check: Check) -> None:
    found = only_finding(
        check(tube(f"Rnd 2: Ch 1, sc in same st, sc in next 20 sts, dc in next 5 sts; {J}", foundation="24"))
    )
    assert "only 3 of its 5 places are left" in found["message"]


def test_one_finding_for_a_wrong_plus(check: Check) -> None:
    sizes = ("Sizes: S (M, L)",)
    report = check(tube(f"Rnd 2: {PLAIN}", foundation="24 (30, 36), multiple of 6 + 2", header=sizes))
    found = only_finding(report)
    assert (found["code"], found["words"]) == ("not-a-multiple", "multiple of 6 + 2")
    assert found["mend"] == "multiple of 6"


def test_the_section_that_has_the_round(check: Check) -> None:
    text = tube(
        f"Rnd 2: {PLAIN}",
        "# Hand",
        f"Rnd 1: {DC}",
        f"Rnds 2 to 4: {PLAIN}",
        "# Top",
        "Rnd 1: rep rnd 4 of Cuff.",
    )
    found = only_finding(check(text))
    assert found["code"] == "no-such-round"
    assert "“Cuff” has rounds 1, 2 before it." in found["message"]
    assert "“Hand” has a round 4." in found["message"]
    proved(check(text.replace(found["words"], found["mend"])))


def test_a_repeat_that_leaves_out_a_stitch_it_needs(check: Check) -> None:
    """Over 34: eight repeats of 4 and the first sc are 33; what is left out leaves two stitches unworked."""
    line = (
        f"Rnd 2: Ch 1, sc in same st, *sk 1 st, 5 dc in next st, sk 1 st, sc in next st; rep "
        f"from * around, omitting last sc; {J}"
    )
    assert only_finding(check(tube(line, foundation="34")))["code"] == "left-over"
    assert check(tube(line, foundation="32"))["proved"]


def test_rows_run_on_without_in(check: Check) -> None:
    first = "Row 1: Sc in 2nd ch from hook, sc across; turn. [N - 1 sc]"
    report = check(flat(first, "Row 2: Ch 1, sc each st across."))
    proved(report)


PANEL = (
    "Row 1: Sc in 2nd ch from hook and in each ch across; turn. [N - 1 sc]",
    "Rows 2 to 10: Ch 1, sc in each st across; turn. [N - 1 sc]",
)


@pytest.mark.parametrize(
    ("words", "hand"),
    [
        ("sc in side of each row across", 10),
        ("sc in each row end across", 10),
        ("sc in end of each row", 10),
        ("sc evenly along row ends", 10),
        ("2 sc in side of each row across", 20),
        ("25 sc evenly along row ends", 25),
        ("work 7 sc evenly across row ends", 7),
    ],
)
def test_the_ends_of_rows(check: Check, words: str, hand: int) -> None:
    """Ten rows have ten ends; the foundation has none."""
    report = check(
        flat(*PANEL, "# Edging", f"Row 1: Ch 1, {words}; turn.", "Row 2: Ch 1, sc in each st across.")
    )
    proved(report)
    assert report["findings"] == []
    assert [counts(report, 24, "Edging", label)["sc"] for label in ("Row 1", "Row 2")] == [hand, hand]


def test_row_ends_worked_in_a_joined_round(check: Check) -> None:
    """A band of ten rows, its side worked into as a ring."""
    band = "Rnd 1: Join yarn with sl st in side of first row, ch 1, 3 sc in side of each row around; "
    report = check(flat(*PANEL, "Fasten off.", "# Body - along the row ends", band + J))
    proved(report)
    assert counts(report, 24, "Body", "Row 1")["sc"] == 30


def test_no_rows_no_ends(check: Check) -> None:
    head = "Title: Spit\nFoundation: 12\nWorked: rows\n\n"
    text = f"{head}# Edging - along the row ends\nRow 1: Sc in side of each row.\n"
    assert only_finding(check(text))["code"] == "no-row-ends"


@pytest.mark.parametrize(
    "lines",
    [
        ["Join yarn in other side of foundation chain, ch 1, sc in each ch around; "],
        [
            "# Edging",
            "Join yarn in any ch, ch 1, sc in each ch along the opposite side of the chain; ",
        ],
        [
            "# Edging on the opposite side of the chain",
            "Rnd 1: Join yarn in any ch, ch 1, sc in each ch around; ",
        ],
        ["# Edging", "Rnd 1: Join yarn in any free loop of foundation ch, ch 1, sc in each ch around; "],
        [
            "# Edging",
            "Working along the other side of the ch, join yarn in any ch, ch 1, sc in each ch; ",
        ],
    ],
)
def test_the_other_side_of_the_foundation(check: Check, lines: list[str]) -> None:
    """24 chains have 24 free sides, though the tube is wider by then."""
    wider = f"Rnd 2: Ch 1, 2 sc in each st around; {J} [2N sc]"
    report = check(tube(wider, "Fasten off.", "", *lines[:-1], lines[-1] + J))
    proved(report)
    assert report["rounds"]["24"][-1]["counts"]["sc"] == 24
