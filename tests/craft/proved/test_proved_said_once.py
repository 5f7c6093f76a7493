"""What a beginning chain counts as is said once: in round 1 or in a note. Counts worked by hand.

A chain that does not count leaves N stitches where N are worked; one that counts stands for the first.
"""

import pytest

from tests.craft.expect import Check, counts, crown, flat, only_finding, proved_clean, tube

HDC = "hdc in each st around; join with sl st in first hdc."
ONCE = f"Rnd 2: Ch 2 (does not count as a st), {HDC} [N hdc]"
INTO_HDC = "join with sl st in first hdc."


def test_said_in_the_first_round_it_holds_for_the_next(check: Check) -> None:
    report = check(tube(ONCE, f"Rnd 3: Ch 2, 2 hdc in each st around; {INTO_HDC} [2N hdc]"))
    proved_clean(report)
    # the chain is no stitch: 2 in each of 24
    assert counts(report, 24, "Cuff", "Rnd 3")["hdc"] == 48


def test_without_a_word_the_usual_rule_stands(check: Check) -> None:
    report = check(tube("Rnd 2: Ch 2, 2 hdc in each st around; join with sl st in top of beg ch."))
    proved_clean(report)
    # the chain stands in the first place: 2 in each of the other 23, and itself
    assert counts(report, 24, "Cuff", "Rnd 2")["hdc"] == 47


def test_of_a_ring_too(check: Check) -> None:
    report = check(
        crown(
            "Rnd 1: Magic ring, ch 2 (does not count), 10 hdc in ring; join. [10 hdc]",
            "Rnd 2: Ch 2, 2 hdc in each st around; join. [20 hdc]",
            "Rnds 3 and 4: Ch 2, hdc in each st around; join. [20 hdc]",
        )
    )
    proved_clean(report)
    assert counts(report, "adult", "Crown", "Rnd 4")["hdc"] == 20


def test_it_goes_by_the_number_of_chains(check: Check) -> None:
    report = check(tube(ONCE, "Rnd 3: Ch 3, dc in each st around; join with sl st in top of beg ch. [N dc]"))
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["dc"] == 24


def test_another_word_later_wins_from_there_on(check: Check) -> None:
    report = check(
        tube(
            ONCE,
            "Rnd 3: Ch 2 (counts as hdc), 2 hdc in each st around; join with sl st in top of beg ch. "
            "[2N - 1 hdc]",
            "Rnd 4: Ch 2, hdc in each st around; join with sl st in top of beg ch.",
        )
    )
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 4")["hdc"] == 47


def test_what_counts_as_one_stitch_says_nothing_of_another(check: Check) -> None:
    """`Ch 3 (counts as dc)` before a tr is asked about as ever."""
    report = check(
        tube(
            "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
            "Rnd 3: Ch 3, tr in each st around; join with sl st in first tr.",
        )
    )
    assert only_finding(report)["code"] == "bare-chain"


def test_a_short_chain_that_counts_counts_throughout(check: Check) -> None:
    report = check(
        tube(
            "Rnd 2: Ch 2 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
            "Rnd 3: Ch 2, *FPdc around next st, BPdc around next st; rep from * to last st, FPdc around "
            "last st; join with sl st in top of beg ch. [N sts]",
        )
    )
    proved_clean(report)
    # the chain, 11 times front and back over 22, one front: 24
    assert counts(report, 24, "Cuff", "Rnd 3") == {"dc": 1, "FPdc": 12, "BPdc": 11, "sts": 24}


@pytest.mark.parametrize(
    "note",
    [
        "Ch 2 at the beginning of a round does not count as a stitch.",
        "- Ch 1 and ch 2 at the beginning of rounds do not count as stitches.",
        "* Ch 1/ch 2 at beg of each rnd doesn't count as a st!",
        "Beginning chains never count as a stitch.",
        "The ch-2 at the start of each round does not count as a stitch. Counts stand at the end.",
        "Worked in US terms. The beginning ch does not count.",
        "Note: beg ch 2 is not counted as a stitch.",
        "Ch 3 counts as a dc; ch 2 does not count as a stitch.",
    ],
)
def test_a_note_above_the_rounds_says_it(check: Check, note: str) -> None:
    text = tube(f"Rnd 2: Ch 2, 2 hdc in each st around; {INTO_HDC} [2N hdc]")
    head, body = text.split("# Cuff", 1)
    report = check(f"{head}{note}\n\n# Cuff{body}")
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["hdc"] == 48


@pytest.mark.parametrize(
    "note",
    ["Stitch counts stand at the end of the ch 2 rounds.", "Ch 4 counts as dc, ch 1.", "Chain 2 loosely."],
)
def test_other_notes_say_nothing_of_it(check: Check, note: str) -> None:
    text = tube("Rnd 2: Ch 2, 2 hdc in each st around; join with sl st in top of beg ch. [2N - 1 hdc]")
    head, body = text.split("# Cuff", 1)
    proved_clean(check(f"{head}Note: {note}\n\n# Cuff{body}"))


def test_the_stated_count_decides_nothing(check: Check) -> None:
    """A count that would agree if the chain did not count is still a wrong count."""
    report = check(tube("Rnd 2: Ch 2, 2 hdc in each st around; join with sl st in top of beg ch. [2N hdc]"))
    assert only_finding(report)["code"] == "count-wrong"


def test_in_rows_as_well(check: Check) -> None:
    report = check(
        flat(
            "Row 1: Hdc in 2nd ch from hook and in each ch across; turn. [N - 1 hdc]",
            "Row 2: Ch 2 (does not count), hdc in each st across; turn. [N - 1 hdc]",
            "Row 3: Ch 2, 2 hdc in each st across. [2N - 2 hdc]",
        )
    )
    proved_clean(report)
