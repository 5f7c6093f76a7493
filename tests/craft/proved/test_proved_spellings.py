"""Spellings that real patterns use: each counts the same as the clear form, and its count is really read.

Each test puts one spelling into a small pattern and holds the result against the clear form's, whose
counts are worked by hand. Where a spelling states a count, a wrong number in the same spelling must be an
error, or it was never read.
"""

import pytest

from tests.craft.expect import Check, Report, alike, counts, flat, labels, proved, spiral, tube

PLAIN = "Ch 1, sc in same st, sc in each st around; join with sl st in first sc."


@pytest.mark.parametrize(
    "label",
    [
        "Round 2:",
        "R2:",
        "Rd 2.",
        "Rd 2:",
        "Rnd. 2 -",
        "Rnd 2.",
        "ROUND 2:",
        "rnd 2:",
        "Row 2:",
        "Rnd 2 \u2013",
    ],
)
def test_a_rounds_label(check: Check, label: str) -> None:
    round_3 = (
        "Rnd 3: Ch 3 (counts as dc), dc in same st, dc in each st around; "
        "join with sl st in top of beg ch. [N + 1 dc]"
    )
    report = alike(check, tube(f"{label} {PLAIN} [N sc]", round_3), tube(f"Rnd 2: {PLAIN} [N sc]", round_3))
    rounds = report["rounds"]["24"]
    assert [row["counts"].get("sc", 0) for row in rounds] == [0, 24, 24, 0]
    assert rounds[3]["counts"]["dc"] == 25


@pytest.mark.parametrize(
    "label",
    ["Rounds 2-5:", "Rnds 2\u20135:", "Rnds 2-5:", "Rounds 2 to 5:", "Rds 2-5:", "R2-5:", "Rnds. 2 to 5 -"],
)
def test_a_label_of_several_rounds(check: Check, label: str) -> None:
    report = alike(check, tube(f"{label} {PLAIN} [N sc]"), tube(f"Rnds 2 to 5: {PLAIN} [N sc]"))
    # the foundation, round 1, and four more
    assert [row["counts"].get("sc", 0) for row in report["rounds"]["24"]] == [0, 24, 24, 24, 24, 24]


@pytest.mark.parametrize(
    "count",
    [
        "[24 dc]",
        "(24)",
        "(24 dc.)",
        "(24 dc)",
        "= 24 dc",
        "24 sts.",
        "\u2014 24 dc",
        "- 24 dc",
        "(24 sts)",
        "[24]",
        "[24 dc.]",
    ],
)
def test_a_count_at_a_rounds_end(check: Check, count: str) -> None:
    round_2 = "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch."
    round_3 = f"Rnd 3: {PLAIN} [N sc]"
    clear = tube(f"{round_2} [24 dc]", round_3, foundation="24")
    report = alike(check, tube(f"{round_2} {count}", round_3, foundation="24"), clear)
    assert counts(report, 24, "Cuff", "Rnd 2")["dc"] == 24
    wrong = check(tube(f"{round_2} {count.replace('24', '23')}", round_3, foundation="24"))
    assert wrong["proved"] is False
    assert [found["kind"] for found in wrong["findings"] if found["severity"] == "error"] == ["count"]


def test_counts_of_the_sizes_in_order(check: Check) -> None:
    round_2 = "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch."
    sizes = "20 (22, 24)"
    report = alike(
        check,
        tube(f"{round_2} (20, 22, 24 dc)", foundation=sizes),
        tube(f"{round_2} [20 (22, 24) dc]", foundation=sizes),
    )
    assert [counts(report, n, "Cuff", "Rnd 2")["dc"] for n in (20, 22, 24)] == [20, 22, 24]
    wrong = check(tube(f"{round_2} (20, 22, 23 dc)", foundation=sizes))
    assert wrong["proved"] is False
    assert [found["foundations"] for found in wrong["findings"] if found["severity"] == "error"] == [[24]]


@pytest.mark.parametrize("numbers", ["5 (6, 7)", "5, (6, 7)", "5 [6, 7]", "5 (6) (7)", "5 (6,7)", "5(6, 7)"])
def test_a_size_list(check: Check, numbers: str) -> None:
    def text(numbers: str) -> str:
        return tube(
            f"Rnd 2: Ch 1, sc in same st, 2 sc in each of next {numbers} sts, sc in each st around; "
            f"join with sl st in first sc.",
            foundation="24 (28, 32), multiple of 4",
        )

    report = alike(check, text(numbers), text("5 (6, 7)"))
    # N + 5 (6, 7)
    assert [counts(report, n, "Cuff", "Rnd 2")["sc"] for n in (24, 28, 32)] == [29, 34, 39]


@pytest.mark.parametrize(
    "chain",
    [
        "Ch 2 (this counts as your first dc of this round)",
        "Ch 3 (= 1 dc)",
        "Ch 3 (first dc made)",
        "Ch 3 (counts as first dc)",
        "Ch 3 (counts as 1 dc)",
        "ch 3 (counts as a dc)",
        "Chain 3 (counts as double crochet)",
    ],
)
def test_a_chain_that_counts(check: Check, chain: str) -> None:
    def text(chain: str) -> str:
        return tube(
            f"Rnd 2: {chain}, dc in same st, dc in each st around; "
            f"join with sl st in top of beg ch. [N + 1 dc]"
        )

    report = alike(check, text(chain), text("Ch 3 (counts as dc)"))
    assert counts(report, 24, "Cuff", "Rnd 2")["dc"] == 25


@pytest.mark.parametrize(
    "chain",
    [
        "Ch 3 (not a st)",
        "Ch 3 (does not count as a st)",
        "Ch 3 (does not count as a stitch)",
        "Ch 3 (does not count as st)",
        "Ch 3 (doesn't count as a st)",
        "Ch 3 (not counted as a st)",
    ],
)
def test_a_chain_that_does_not_count(check: Check, chain: str) -> None:
    def text(chain: str) -> str:
        return tube(
            f"Rnd 2: {chain}, dc in same st, dc in each st around; join with sl st in first dc. [N dc]"
        )

    report = alike(check, text(chain), text("Ch 3 (does not count as a st)"))
    assert counts(report, 24, "Cuff", "Rnd 2")["dc"] == 24


@pytest.mark.parametrize(
    "repeat",
    [
        "{sc in next st, ch 1, sk next st} around",
        "[sc in next st, ch 1, sk next st] around",
        "(sc in next st, ch 1, sk next st) around",
        "*sc in next st, ch 1, sk next st* around",
        "*sc in next st, ch 1, sk next st*, rep from * to * around",
        "*sc in next st, ch 1, sk next st*; repeat from * to * around",
        "**sc in next st, ch 1, sk next st* repeat from ** to * around",
        "*sc in next st, ch 1, sk next st; rep to end",
        "*sc in next st, ch 1, sk next st; repeat around",
        "*sc in next st, ch 1, sk next st; rep from * to end of rnd",
        "*sc in next st, ch 1, sk next st, rep from * around",
        "*sc in next st, ch 1, sk next st. Repeat from * around",
        "*sc in next st, ch 1, sk next st; repeat from * 8 more times",
        "*sc in next st, ch 1, sk next st; repeat from * 8 times more",
        "[sc in next st, ch 1, sk next st] x 9",
        "(sc in next st, ch 1, sk next st) 9 times",
        "[sc in next st, ch 1, sk next st] nine times",
    ],
)
def test_repeats(check: Check, repeat: str) -> None:
    def text(repeat: str) -> str:
        return tube(
            f"Rnd 2: Ch 1, sc in same st, ch 1, sk next st, {repeat}; "
            f"join with sl st in first sc. [10 sc, 10 ch-1 sps]",
            f"Rnd 3: {PLAIN}",
            foundation="20",
        )

    report = alike(check, text(repeat), text("*sc in next st, ch 1, sk next st; rep from * around"))
    # 20 sts: the first pair, and nine more
    assert counts(report, 20, "Cuff", "Rnd 2").items() >= {"sc": 10, "ch-1 sp": 10}.items()
    assert counts(report, 20, "Cuff", "Rnd 3")["sc"] == 10


@pytest.mark.parametrize(
    ("written", "clear", "sc"),
    [
        ("Ch 1, 1 sc in each st", "Ch 1, sc in each st around", 16),
        ("Ch 1, 1 sc in each st around", "Ch 1, sc in each st around", 16),
        ("Ch 1, sc 16", "Ch 1, sc in each st around", 16),
        ("Ch 1, work 2 sc in each sc around", "Ch 1, 2 sc in each sc around", 32),
        (
            "Ch 1, 2sc in same st, 2sc in next sc, sc in each st around",
            "Ch 1, 2 sc in same st, 2 sc in next sc, sc in each st around",
            18,
        ),
        (
            "Ch 1, 2 sc in same st, sc in 2 sts, 2 sc in next st, sc in each st around",
            "Ch 1, 2 sc in same st, sc in next 2 sts, 2 sc in next st, sc in each st around",
            18,
        ),
        (
            "Ch 1, 5 sc in same st, sc in each st around",
            "Ch 1, sc in same st, 4 sc in same st, sc in each st around",
            20,
        ),
        (
            "Ch 1, sc in same st, sc 5 times in next st, sc in each st around",
            "Ch 1, sc in same st, 5 sc in next st, sc in each st around",
            20,
        ),
        ("Ch 1, single crochet in each stitch around", "Ch 1, sc in each st around", 16),
        ("Ch 1, sc into each st around", "Ch 1, sc in each st around", 16),
        ("Ch 1, sc in every st around", "Ch 1, sc in each st around", 16),
    ],
)
def test_several(check: Check, written: str, clear: str, sc: int) -> None:
    def text(words: str) -> str:
        return tube(f"Rnd 2: {words}; join with sl st in first sc.", f"Rnd 3: {PLAIN}", foundation="16")

    report = alike(check, text(written), text(clear))
    assert counts(report, 16, "Cuff", "Rnd 2")["sc"] == sc
    assert counts(report, 16, "Cuff", "Rnd 3")["sc"] == sc


def test_work_2_hdc_in_each_hdc_around(check: Check) -> None:
    report = check(
        spiral("Rnd 2: Hdc in each sc around.", "Rnd 3: Work 2 hdc in each hdc around. [2N hdc]"),
    )
    proved(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["hdc"] == 48


@pytest.mark.parametrize(
    "five",
    [
        "5 dc in next st",
        "dc 5 times in next st",
        "work 5 dc in next st",
        "5dc in next st",
        "shell in next st",
    ],
)
def test_five_in_one(check: Check, five: str) -> None:
    def text(five: str) -> str:
        return tube(
            f"Rnd 2: Ch 1, sc in same st, sk 2 sts, {five}, sk 2 sts, *sc in next st, sk 2 sts, {five}, "
            f"sk 2 sts;",
            "  rep from * around; join with sl st in first sc. [3 sc, 3 shells]",
            foundation="18",
        )

    report = alike(check, text(five), text("5 dc in next st"))
    assert counts(report, 18, "Cuff", "Rnd 2").items() >= {"sc": 3, "shell": 3, "dc": 15}.items()


def test_sc_across_a_row(check: Check) -> None:
    def text(words: str) -> str:
        return flat(
            "Row 1: Sc in 2nd ch from hook, sc in each ch across; turn. [N - 1 sc]",
            f"Row 2: Ch 1, {words}; turn.",
        )

    report = alike(check, text("sc across"), text("sc in each st across"))
    assert counts(report, 24, "Panel", "Row 2")["sc"] == 23


def test_prose_and_lists_before_the_first_round_are_notes(report: Report) -> None:
    """Title: Squall Cuff
    Foundation: 24, multiple of 4
    Hook: 5 mm

    This cuff was made in one evening of rain. Please read the whole of it before you begin.

    You will need:
    60 g of medium yarn
    a 5 mm hook
    scissors, and a needle for the ends

    Abbreviations
    ch - chain
    sc - single crochet
    sl st - slip stitch

    # Cuff
    Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]
    """
    proved(report)
    assert labels(report, 24, "Cuff") == ["Foundation rnd", "Rnd 1"]
    assert counts(report, 24, "Cuff", "Rnd 1")["sc"] == 24


def test_a_posted_pattern_in_loose_spelling(report: Report) -> None:
    """Title: Slack Tide Cowl
    Foundation: 60
    Pieces: one

    # Cowl
    Foundation rnd: Chain 60, join with a slip stitch to the first chain to form a ring.
    Round 1: Chain 1, 1 sc in each ch around. Join with a slip stitch to the first sc. (60)
    Round 2: Ch 4 (counts as 1 dc, ch 1), skip next st, [dc in next st, ch 1,
      skip next st] around. Sl st in 3rd ch
    of beginning ch-4 to join. (30 dc, 30 ch-1 spaces)
    Rounds 3-4: Sl st in next ch-1 space, ch 4 (counts as dc, ch 1), {dc in next ch-1 space, ch 1} around;
    join with ss in 3rd ch of beg ch-4. 30 dc.
    Rd 5. Ch 1, sc in same st, sc in each st and ch-1 space around, join. = 60 sc
    Fasten off.
    """
    proved(report)
    assert counts(report, 60, "Cowl", "Foundation rnd")["ch"] == 60
    sts = [row["counts"]["sts"] for row in report["rounds"]["60"][1:]]
    assert sts == [60, 30, 30, 30, 60]
