"""Further ways in which crafters post a pattern, each read as it is meant; counts by hand."""

import pytest

from server.craft.text.proposing import propose
from tests.craft.expect import Check, counts, only_finding, proved, proved_clean, spiral, told, tube

J = "join with sl st in first sc."
PLAIN = f"Ch 1, sc in each st around; {J}"

ONE_ROUND = [
    # British `round` for `around`
    ("Ch 1, sc in each st round, sl st in first sc. (24 sc)", {"sc": 24}),
    (f"Ch 1, *sc in next st, ch 1, sk next st; rep from * round; {J}", {"sc": 12, "ch-1 sp": 12}),
    # all the way around
    (f"Ch 1, *sc in next st, ch 1, sk next st* all the way around, {J}", {"sc": 12, "ch-1 sp": 12}),
    # brackets and clauses that only say something again
    (f"Ch 1, sc in each st around (1 in each of the stitches); {J}", {"sc": 24}),
    (f"Ch 1, sc in next st (the one with the marker), sc in each st around; {J}", {"sc": 24}),
    (f"Ch 1, *sc in next 3 sts, ch 1, sk next st; rep from * one more time, sc in each st around; {J}",
     {"sc": 22, "ch-1 sp": 2}),
    # a picot on the stitch just made leaves no place
    (f"Ch 1, *sc in next 3 sts, ch 3, sl st in last sc made; rep from * around; {J}", {"sc": 24}),
    # a bare number behind the round is its count
    (f"Ch 1, sc in each st around, {J} 24", {"sc": 24}),
    # a first post stitch around the place that the chain would stand in
    ("Ch 2, FPdc around same st, FPdc around each of next 23 sts; join in first FPdc.", {"FPdc": 24}),
]  # fmt: skip


@pytest.mark.parametrize(("rnd", "hand"), ONE_ROUND, ids=[rnd for rnd, _ in ONE_ROUND])
def test_a_round(check: Check, rnd: str, hand: dict[str, int]) -> None:
    report = check(tube(f"Rnd 2: {rnd}", foundation="24"))
    proved_clean(report)
    assert {name: counts(report, 24, "Cuff", "Rnd 2").get(name) for name in hand} == hand


def test_a_bare_number_that_is_wrong_is_found(check: Check) -> None:
    found = only_finding(check(tube(f"Rnd 2: Ch 1, sc in each st around, {J} 25", foundation="24")))
    assert (found["code"], found["words"]) == ("count-wrong", "25")


def test_a_space_named_by_its_chains_first(check: Check) -> None:
    mesh = f"Rnd 2: Ch 1, *sc in next st, ch 2, sk 2 sts; rep from * around; {J} [8 sc, 8 2-ch sps]"
    # 3 in each of 8
    fill = f"Rnd 3: Ch 1, 3 sc in each 2-ch sp around; {J} [24 sc]"
    report = check(tube(mesh, fill, foundation="24"))
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["ch-2 sp"] == 8


def test_two_chains_of_one_gap(check: Check) -> None:
    """`same ch-5` is the space that the last stitch went into a chain of: 24 - 5, and 2 in the chains."""
    gap = f"Rnd 2: Ch 1, sc in first 10 sts, ch 5, sk 5 sts, sc in last 9 sts; {J} [19 sc, 1 ch-5 sp]"
    over = "sc in next 10 sc, sc in 2nd ch of ch-5, sc in 4th ch of same ch-5, sc in next 9 sc"
    report = check(tube(gap, f"Rnd 3: {over.replace('next 10', 'first 10')}; {J} [21 sc]", foundation="24"))
    proved_clean(report)


@pytest.mark.parametrize(
    "end",
    [
        "Sl st in next st, fasten off.",
        "sl st to next st and fasten off. Weave in ends.",
        "Cut the yarn, weave in the ends.",
    ],
)
def test_how_a_spiral_ends(check: Check, end: str) -> None:
    report = check(spiral("Rnds 2-4: Sc in each st around. [24 sc]", end, foundation="24"))
    proved_clean(report)
    assert [row["counts"]["sc"] for row in report["rounds"]["24"][1:]] == [24] * 4


def test_a_join_on_a_line_of_its_own_is_the_rounds(check: Check) -> None:
    lines = (
        f"Rnds 2 and 3: {PLAIN}",
        f"Rnd 4: {PLAIN}",
        f"Rnd 5: {PLAIN}",
        "Rnd 6: Ch 1, sc in each st around.",
    )
    proved_clean(check(tube(*lines, "Sl st in first sc, fasten off.", foundation="24")))


def test_rounds_for_so_many(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, hdc in each st around for 3 (4) rounds. [24 (28) hdc]",
        foundation="24 (28)",
        header=("Sizes: S (M)", "Worked: spiral"),
    )
    report = check(text.replace("; join with sl st in first sc. [", ". ["))
    assert [row["label"] for row in report["rounds"]["28"]][-4:] == ["Rnd 2", "Rnd 3", "Rnd 4", "Rnd 5"], (
        told(report)
    )
    assert [row["label"] for row in report["rounds"]["24"]][-3:] == ["Rnd 2", "Rnd 3", "Rnd 4"]


ROWS = (
    "Title: Spit\nFoundation: 13\n\nCh 13.\n"
    "Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12 sc)\n"
    "Rows 2-28: Ch 1, sc in BLO of each st across, turn. (12 sc)\n"
    "Sl st the last row to the first to form a tube. Do not fasten off.\n"
)


@pytest.mark.parametrize("first", [1, 29])
@pytest.mark.parametrize(
    "words", ["sc in each row end around", "work 28 sc evenly around the top", "28 sc around the top edge"]
)
def test_rounds_behind_rows_without_a_heading(check: Check, first: int, words: str) -> None:
    """One in the end of each of 28 rows; the rounds may count on from the rows or begin anew."""
    text = f"{ROWS}Round {first}: Ch 1, {words}, {J} (28 sc)\nRound {first + 1}: {PLAIN} (28 sc)\n"
    report = check(text)
    proved_clean(report)
    assert [row["counts"]["sc"] for row in report["rounds"]["13"][-2:]] == [28, 28]


def test_joins_left_out_among_joined_rounds(check: Check) -> None:
    """Rounds 1 and 3 join: 2, between them, has lost its join, and then 4 has too."""
    text = tube(
        "Rnd 2: Ch 1, sc in each st around. [24 sc]",
        f"Rnd 3: {PLAIN} [24 sc]",
        "Rnd 4: Ch 3, dc in each st around. [24 dc]",
        foundation="24",
    )
    report = check(text)
    assert [(one["code"], one["line"]) for one in report["findings"]] == [
        ("join-unsaid", 7),
        ("join-unsaid", 9),
    ]
    for one in report["findings"]:
        text = text.replace(f"{one['words']}.", f"{one['mend']}.")
    proved_clean(check(text))


@pytest.mark.parametrize(
    ("line", "key", "value"),
    [
        ("Don't join too tightly.", "Worked", None),
        ("Do not join, mark the first stitch.", "Worked", "spiral"),
        ("Work 60 sc around the edge (1 in each row end).", "Fits", None),
        ("Fits a head 21 in around.", "Fits", "21 in"),
        ("You need 70 yds worsted, I-9 / 5.5 mm hook.", "Yarn", "You need 70 yds worsted"),
        (
            "A light lacy cowl for spring yarn.\nYarn - 4-ply / fingering, 75g",
            "Yarn",
            "4-ply / fingering, 75g",
        ),
    ],
)
def test_what_is_proposed(line: str, key: str, value: str | None) -> None:
    text = f"Curlew Cowl\n\n{line}\n\nCh 30, join.\nRnd 1: Ch 1, sc in each ch around; join.\n"
    assert {one.key: one.value for one in propose(text)}.get(key) == value


def test_rows_are_proposed_where_ends_are_joined_afterwards() -> None:
    text = f"Reed Scarf\n\nChain 25.\n{ROWS.split('Ch 13.', 1)[1].split('Sl st')[0]}Join the short ends.\n"
    assert {one.key: one.value for one in propose(text)}["Worked"] == "rows"


OVER = (
    "Ch 3 (counts as dc), 2 dc in same st, *sc in center dc of next shell, 5 dc in next sc; "
    "rep from * to last shell, sc in center dc of last shell, 2 dc in same st as beg ch-3, "
    "join to top of ch-3."
)
BACK = (
    "Ch 1, sc in same st, *5 dc in next sc, sc in center dc of next shell; rep from * around, "
    f"ending 5 dc in last sc, {J}"
)


def shells(*lines: str) -> str:
    over = "sk 2 sts, 5 dc in next st, sk 2 sts"
    first = f"R2: Ch 1, sc in first st, {over}, *sc in next st, {over}; rep from * around; {J}"
    return tube(first, *lines, foundation="24")


def test_shells_over_shells(check: Check) -> None:
    """24/6 shells: what is left of one behind its center is passed, also where the round begins in it."""
    lines = (f"R3: {OVER} [4 shells, 4 sc]", f"R4: {BACK} [4 shells, 4 sc]", "R5-R8: Rep R3 and R4.")
    report = check(shells(*lines))
    proved(report)
    # that nothing says `sk` is asked, once a round
    assert [(one["code"], one["line"]) for one in report["findings"]] == [("passed", 8), ("passed", 9)]
    # in turn, and not round 3 six times
    assert [row["counts"]["dc"] for row in report["rounds"]["24"][2:]] == [20] * 7


def test_an_ending_that_is_another_is_left_as_it_was(check: Check) -> None:
    report = check(shells(f"R3: {OVER}", f"R4: {BACK.replace('ending 5 dc', 'ending 4 dc')}"))
    assert report["proved"] is False


def test_a_round_to_repeat_that_would_be_lost_is_found(check: Check) -> None:
    text = tube(
        f"Rnd 2: {PLAIN}", f"Rnd 3: {PLAIN}", "Rnds 4-7: Rep rnd 2 then perhaps rnd 3.", foundation="24"
    )
    assert check(text)["proved"] is False


def test_sizes_by_slashes(check: Check) -> None:
    text = tube(
        f"Rnd 2: Ch 1, 10/12/14 sc, sc in each st around; {J} 24/28/32 sc.",
        foundation="24 (28, 32)",
        header=("Sizes: S/M/L",),
    )
    report = check(text.replace("Ch 24 (28, 32)", "Ch 24/28/32"))
    proved_clean(report)
    assert dict(report["sizes"]) == {"S": 24, "M": 28, "L": 32}


def test_two_sizes_with_slashed_names(check: Check) -> None:
    report = check(tube(f"Rnd 2: {PLAIN}", foundation="24 (28)", header=("Sizes: Women's S/M (L/XL)",)))
    proved_clean(report)
    assert dict(report["sizes"]) == {"Women's S/M": 24, "L/XL": 28}


def test_next_rounds_by_size(check: Check) -> None:
    lines = (f"Rnd 2: {PLAIN}", f"Next 2 (3) rnds: {PLAIN}")
    report = check(tube(*lines, foundation="24 (28)", header=("Sizes: S (M)",)))
    proved_clean(report)
    assert [len(report["rounds"][key]) for key in ("24", "28")] == [5, 6]


def test_chains_worked_in_their_back_bumps(check: Check) -> None:
    text = (
        "Title: Spit\nFoundation: 13\nWorked: rows\n\nCh 13.\n"
        "Row 1: Working in the back bumps of the chain, sc in 2nd ch from hook and each ch across. (12 sc)\n"
    )
    report = check(text)
    proved_clean(report)
    assert report["rounds"]["13"][-1]["counts"]["sc"] == 12


def test_a_thumbhole_in_one_word(check: Check) -> None:
    gap = f"Rnd 2: Ch 1, sc in first 10 sts, ch 4, sk 4 sts, sc in last 10 sts; {J} [20 sc]"
    thumb = f"Attach yarn at base of thumbhole. Ch 1, sc evenly around thumbhole (12 sc). {J.capitalize()}"
    report = check(tube(gap, "Fasten off.", "", "# Thumb", thumb, foundation="24"))
    proved_clean(report)
    assert report["rounds"]["24"][-1]["counts"]["sc"] == 12


def test_uk_terms_in_any_case() -> None:
    text = "Dormouse Cuffs\n\nUk terms.\n\nCh 36, join.\nRnd 1: 1 ch, 1 dc in each ch; join.\n"
    assert {one.key: one.value for one in propose(text)}["Terms"] == "UK"
