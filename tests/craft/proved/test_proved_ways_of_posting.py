"""Ways in which posts label their rounds, begin, and make a band into a tube. Counts worked by hand."""

import pytest

from tests.craft.expect import Check, counts, flat, labels, only_finding, proved_clean, tube

PLAIN = "Ch 1, sc in each st around; join with sl st in first sc."
DC = "Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch."


@pytest.mark.parametrize(
    "label",
    [
        "Rnd 2)",
        "Round 2 -",
        "R2.",
        "R2)",
        "R2 ;",
        "R2;",
        "Rd 2:",
        "2nd round:",
        "2nd rnd.",
        "2nd round.-",
        "2nd Round -",
    ],
)
def test_a_label(check: Check, label: str) -> None:
    report = check(tube(f"{label} {DC}", f"Rnd 3: {PLAIN}"))
    proved_clean(report)
    assert labels(report, 24, "Cuff")[1:] == ["Rnd 1", "Rnd 2", "Rnd 3"]
    assert counts(report, 24, "Cuff", "Rnd 2")["dc"] == 24


@pytest.mark.parametrize(
    "label", ["Rnds 2-4)", "Rounds 2 - 4:", "2nd to 4th rounds:", "2nd-4th rnds -", "2nd to 4th rounds.-"]
)
def test_a_label_of_several(check: Check, label: str) -> None:
    report = check(tube(f"{label} {DC}"))
    proved_clean(report)
    assert labels(report, 24, "Cuff")[2:] == ["Rnd 2", "Rnd 3", "Rnd 4"]


def test_a_number_of_rounds_that_is_none(check: Check) -> None:
    assert only_finding(check(tube(f"5th to 2nd rounds: {DC}")))["code"] == "rounds-backward"


@pytest.mark.parametrize(
    "again",
    ["Repeat rnds 2 and 3, 3 times.", "Rep rnds 2 and 3 three times.", "Repeat Rnds 2-3, three more times."],
)
def test_so_often_behind_a_comma(check: Check, again: str) -> None:
    report = check(tube(f"Rnd 2: {PLAIN}", f"Rnd 3: {DC}", f"Rnds 4-9) {again}"))
    proved_clean(report)
    assert [next(iter(row["counts"])) for row in report["rounds"]["24"][4:]] == ["sc", "dc"] * 3


@pytest.mark.parametrize("count", ["96 sc", "96 sc.", "— 96 sts", "= 96 sc", "(= 96 sts)", "96sc", "(96sc)"])
def test_a_count_without_brackets(check: Check, count: str) -> None:
    text = tube(f"Rnd 2: Ch 1, 4 sc in each st around, sl st to first sc. {count}", foundation="24")
    proved_clean(check(text))
    found = only_finding(check(text.replace("96", "95")))
    assert found["code"] == "count-wrong"


@pytest.mark.parametrize(
    "chain",
    [
        "To begin: Chain 24. Join with a slip stitch to form a ring.",
        "COMMENCE with 24 ch., join with a s.s. to form a ring.",
        "Begin by making 24 ch, join to form a ring.",
        "Using a 5.5 mm hook, make 24 ch, ss to first ch to form a ring.",
        "With MC, make ch 24, join to form ring.",
        "Start with 24 ch, join to form a ring, work in the round.",
    ],
)
def test_the_chain_that_everything_begins_with(check: Check, chain: str) -> None:
    head = "Title: Spit\nFoundation: 24\nCustom: none\n"
    text = f"{head}\n{chain}\nRnd 1: Ch 1, sc in each ch around; join. [24 sc]\n"
    report = check(text)
    proved_clean(report)
    assert [row["counts"] for row in report["rounds"]["24"]] == [{"ch": 24}, {"sc": 24, "sts": 24}]


def test_its_number_goes_with_the_foundation(check: Check) -> None:
    head = "Title: Spit\nFoundation: 24, multiple of 4\n\nCh 24, join to form a ring.\n"
    report = check(f"{head}Rnd 1: Ch 1, sc in each ch around; join. [24 sc]\n", (28,))
    proved_clean(report)
    assert [row["counts"].get("sc") for row in report["rounds"]["28"]] == [None, 28]


def band(seam: str, first: str, *, heading: str = "# Hand") -> str:
    """A band of 10 rows over 8 stitches, made into a tube, and a round along its edge."""
    return (
        "Title: Ness\nFoundation: 9\nGauge: 14 sts = 10 cm\nFits: 19 cm\n\n# Cuff\n"
        "Row 1: Ch 9, sc in 2nd ch from hook and in each ch across. (8)\n"
        "Row 2: Ch 1, turn, sc BLO in each st across. (8)\n"
        f"Rows 3-10: Repeat row 2. (8)\n{seam}\n\n{heading}\n"
        f"Rnd 1: Ch 1, {first}, join with a sl st to the first sc. (26)\n"
        "Rnd 2: Ch 1, hdc in each st around, join. (26)\n"
    )


EDGE = "work 26 sc evenly around the edge of the cuff"


@pytest.mark.parametrize(
    "seam",
    [
        "Sl st the short ends together to form a tube. Don't fasten off.",
        "Slip stitch the foundation row to the last row.",
        "Sew the short ends together.",
        "Whipstitch the two ends together to make a tube.",
        "Fold in half and slip stitch the ends together.",
        "Now ss the short ends together.",
        "Sc the first and last rows together.",
        "Join the short edges with a mattress stitch to form a tube.",
        "With a needle, sew the sides together.",
    ],
)
def test_a_band_is_seamed_to_a_tube(check: Check, seam: str) -> None:
    report = check(band(seam, EDGE))
    proved_clean(report)
    # 26 over the ends of 10 rows, and one in each of them
    assert [counts(report, 9, "Hand", label)["sts"] for label in ("Rnd 1", "Rnd 2")] == [26, 26]


@pytest.mark.parametrize(
    "first",
    [
        "26 sc evenly around the top edge",
        "work 26 sc evenly along the side of the ribbing",
        "sc 26 evenly around the edge of the band",
        "evenly work 26 sc around the top edge of the cuff",
        "work 26 sc evenly along the row ends",
        "26 sc evenly spaced along the side edge",
        "26 sc around the edge",
    ],
)
def test_a_round_along_the_ends_of_rows(check: Check, first: str) -> None:
    report = check(band("Sew the short ends together.", first))
    proved_clean(report)
    assert counts(report, 9, "Hand", "Rnd 1")["sc"] == 26


def test_a_sideways_band_is_measured_by_its_round(check: Check) -> None:
    """14 sts to 10 cm: 26 are 18.6 cm for a hand of 19; 40 would be 28.6 cm; the 9 chains say nothing."""
    wide = band("Sew the short ends together.", EDGE).replace("26", "40")
    assert only_finding(check(wide))["code"] == "gauge-and-fit"
    rows_only = band("Sew the short ends together.", EDGE).split("# Hand")[0]
    proved_clean(check(rows_only))


def test_a_joined_foundation_is_measured_as_ever(check: Check) -> None:
    text = tube(f"Rnd 2: {PLAIN}", header=("Gauge: 14 sts = 10 cm", "Fits: 30 cm"))
    assert only_finding(check(text))["code"] == "gauge-and-fit"


def test_an_edge_of_rounds_is_the_round_below(check: Check) -> None:
    """Nothing was worked in rows: the edge is that of the 24 stitches below, and 26 go over them."""
    report = check(
        tube("Rnd 2: Ch 1, 26 sc evenly around the top edge; join with sl st in first sc.", foundation="24")
    )
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2") == {"sc": 26, "sts": 26}


def test_the_ends_of_rows_are_none_where_no_rows_are(check: Check) -> None:
    report = check(tube("Rnd 2: Ch 1, 26 sc evenly along the row ends; join with sl st in first sc."))
    assert report["proved"] is False


def test_a_chain_by_size_before_its_word(check: Check) -> None:
    head = (
        "Title: Spit\nTerms: UK\nSizes: S (M)\nFoundation: 24 (28)\n\nMake 24 [28] ch, join to form a ring.\n"
    )
    report = check(f"{head}Rnd 1: 1 ch, 1 dc in each ch to end, ss to first dc. [24, 28 dc]\n")
    proved_clean(report)
    assert [report["rounds"][key][-1]["counts"]["dc"] for key in ("24", "28")] == [24, 28]


def test_a_foundation_of_stitches_without_a_label(check: Check) -> None:
    head = "Title: Spit\nFoundation: 24\n\n"
    report = check(f"{head}Fdc 24, join with a sl st to form a ring. (24)\nRound 1: {PLAIN} (24)\n")
    proved_clean(report)


def test_a_ring_begun_without_a_label(check: Check) -> None:
    head = "Title: Spit\nFoundation: none\nWorked: spiral\n\n"
    start = "Start: 6 sc into a magic ring. Do not join, work in continuous rounds."
    report = check(
        f"{head}{start}\nRnd 1 - 2 sc in each st (12)\nFinish: sl st in next 2 sts, cut the yarn.\n"
    )
    proved_clean(report)
    assert [row["counts"]["sc"] for row in report["rounds"]["one size"]] == [6, 12]


LOOKS = [
    "**Rnd 2:** {0}",
    "- **Rnd 2:** {0}",
    "*Rnd 2:* {0}",
    "__Rnd 2__: {0}",
    "***Round 2.*** {0}",
    "2 | {0} | 24",
    "| Rnd 2 | {0} | 24 sc |",
    "Rnd 2 | {0}",
    "Rnd 2: {0} <24>",
    "Rnd 2: {0} <24 sc>",
    "Next Rnd: {0}",
    "Next round (increase round) - {0}",
    "Last rnd. {0}",
]


@pytest.mark.parametrize("line", LOOKS)
def test_looks(check: Check, line: str) -> None:
    """Bold labels, tables, counts in angles, rounds without a number: one plain round more."""
    text = tube(line.format("Ch 1, sc in each st around; join with sl st in first sc."), foundation="24")
    if line.startswith("2 |"):
        text = text.replace("Rnd 1:", "1 |").replace("Foundation rnd: Ch N", "0 | Ch 24")
        text = text.replace("0 | Ch 24; join", "Ch 24; join").replace(" [N ch]", "").replace("[N sc]", "| 24")
        text = text.rstrip("\n") + "\n3 | Ch 1, sc in each st around; join | 24\n"
    report = check(text)
    proved_clean(report)
    assert [row["counts"].get("sc") for row in report["rounds"]["24"]][1:3] == [24, 24]


def test_next_rounds_are_counted_on(check: Check) -> None:
    report = check(tube(f"Next 3 rnds: {PLAIN}", f"Next rnd: {DC}", f"Final round: {PLAIN}"))
    proved_clean(report)
    assert labels(report, 24, "Cuff")[2:] == ["Rnd 2", "Rnd 3", "Rnd 4", "Rnd 5", "Rnd 6"]
    assert counts(report, 24, "Cuff", "Rnd 5")["dc"] == 24


def test_stars_of_a_repeat_are_no_looks(check: Check) -> None:
    """12 times one, and a space over the other: stars, glued and open, at a line's beginning too."""
    for text in (
        "*sc in next st, ch 1, sk next st* around",
        "**sc in next st, ch 1, sk next st** rep from ** to ** around",
        "\n*sc in next st, ch 1, sk next st*; repeat between * * around",
        "*sc in next st, ch 1, sk next st; repeat from * around",
    ):
        report = check(tube(f"Rnd 2: Ch 1, {text}; join."))
        proved_clean(report)
        assert counts(report, 24, "Cuff", "Rnd 2") == {"sc": 12, "ch-1 sp": 12, "sts": 12}


DOTS = "3 ch. (to count as 1 tr.), 1 tr. in each st. to end, s.s. to top of 3 ch. (24 tr.)"


def test_a_leaflet(check: Check) -> None:
    text = (
        "Title: SPIT\nTerms: UK\nFoundation: 24\n\nCOMMENCE with 24 ch., join with a s.s. to form a ring.\n"
        "1st round.- 1 ch., 1 d.c. in each ch., s.s. to first d.c. (24 d.c.)\n"
        f"2nd round.- {DOTS}\n"
        "3rd round.- 4 ch. (to count as 1 tr. and 1 ch.), miss 1 tr., *1 tr. in next tr., 1 ch., miss 1 tr.; "
        "rep. from * to end, s.s. to 3rd of 4 ch. (12 tr., 12 ch. sps.)\n"
        "4th round.- 1 ch., 1 d.c. in each tr. and each 1 ch. sp. to end, s.s. to first d.c. (24 d.c.)\n"
        "5th and 6th rounds.- As 2nd round.\n7th and 8th rounds.- Rep. 3rd and 4th rounds.\nFASTEN OFF.\n"
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "", "Rnd 7") == {"tr": 12, "ch-1 sp": 12, "sts": 12}
    assert counts(report, 24, "", "Rnd 8")["dc"] == 24


ONE_MORE = [
    # words that tell a maker what a gap is for
    ("Ch 1, sc in first 2 sts, ch 2, sk next 4 sts for the thumb, sc in each st around; join.", {"sc": 20}),
    ("Ch 1, sc in first 2 sts, ch 4, sk 4 sts for thumb hole, sc in the rest of the sts; join. (20 sc, ch4)",
     {"sc": 20, "ch-4 sp": 1}),
    # three in every third, a group of 3 each
    ("Ch 3 (counts as dc), 2 dc in same st, *sk 2 sts, 3 dc in next st; rep from * to last 2 sts, sk 2 sts; "
     "join. (8 groups)", {"dc": 24}),
    ("Ch 3 (counts as dc), dc in each st around, join in 3rd ch. (24 dc)", {"dc": 24}),
    ("Ch 3 (counts as dc), dc in each st around, join w/ sl st in 3rd ch.", {"dc": 24}),
    # every stitch doubled, six times, and 18 plain ones
    ("Ch 1, inc x6, sc in each st around; join.", {"sc": 30}),
    ("Ch 1, inc x 6, sc in each st around; join. Fasten off, weave in.", {"sc": 30}),
    ("Join B in any sc, ch 1, sc in each st around; join.", {"sc": 24}),
    ("Ch 3 (doesnt count), dc in each st around; join.", {"dc": 24}),
    # the last 20 behind 4 are worked as 5 times 4 less one each
    ("Ch 1, sc in first 4 sts, *sc in next 2 sts, sc2tog* x5, join (19sc)", {"sc": 19, "sc2tog": 5}),
]  # fmt: skip


@pytest.mark.parametrize(("words", "hand"), ONE_MORE)
def test_one_more_round(check: Check, words: str, hand: dict[str, int]) -> None:
    report = check(tube(f"Rnd 2: {words}", foundation="24"))
    proved_clean(report)
    worked = counts(report, 24, "Cuff", "Rnd 2")
    assert {name: worked[name] for name in hand} == hand


def test_each_of_one_kind_and_the_same_in_each_of_another(check: Check) -> None:
    gap = "Rnd 2: Ch 1, sc in first 2 sts, ch 6, sk 6 sts, sc in each st around; join. (18sc, ch6)"
    report = check(tube(gap, "Rnd 3: Ch 1, sc in each sc and 1 sc in each ch, join (24sc)", foundation="24"))
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


@pytest.mark.parametrize("ring", ["In a magic circle work ch 1, 8 sc; join.", "Ch 1, 8 sc in MR, join."])
def test_into_a_ring(check: Check, ring: str) -> None:
    head = "Title: Spit\nFoundation: none\n\n"
    report = check(f"{head}Rnd 1: {ring} (8 sc)\nRnd 2: Ch 1, 2 sc in each st around; join. (16 sc)\n")
    proved_clean(report)


@pytest.mark.parametrize(
    "again", ["Same as R2", "As 2nd round.", "With A as R2.", "Using B, rep rnd 2.", "repeat R2 (24)"]
)
def test_another_rounds_text(check: Check, again: str) -> None:
    report = check(tube(f"R2: {DC}", f"R3 to R5. {again}", foundation="24"))
    proved_clean(report)
    assert [row["counts"].get("dc") for row in report["rounds"]["24"]][2:] == [24] * 4


def test_rounds_in_a_list(check: Check) -> None:
    report = check(tube(f"R2: {DC}", "R3,4,5. repeat R2 (24)", foundation="24"))
    proved_clean(report)
    assert labels(report, 24, "Cuff")[2:] == ["Rnd 2", "Rnd 3", "Rnd 4", "Rnd 5"]


def test_gaps_between_groups(check: Check) -> None:
    """8 groups of 3 over 24, and as many gaps, whatever the yarn."""
    first = "Ch 3 (counts as dc), 2 dc in same st, *sk 2 sts, 3 dc in next st; rep from * to last 2 sts, "
    again = "Join B in any gap between groups, ch 3, 2 dc in same gap, *3 dc in next gap* rep around, join."
    report = check(
        tube(f"Rnd 2: {first}sk 2 sts; join. (8 groups)", f"Rnd 3: {again} (8 groups)", foundation="24")
    )
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["dc"] == 24


def test_a_list_that_numbers_the_labels(check: Check) -> None:
    text = (
        "Title: Spit\nFoundation: 9\n\n1. Chain 9.\n"
        "2. Row 1: sc in 2nd ch from hook and in each ch across (8 sc)\n"
        "3. Row 2: ch 1, turn, sc in back loop only in each st across (8 sc)\n"
        "4. Rows 3 to 10: repeat Row 2 (8 sc)\n"
        "5. Slip stitch the last row to the foundation row. Do not fasten off.\n"
        "6. Round 1: ch 1, sc in each row end around, sl st in first sc (10 sc)\n"
        "7. Round 2: ch 1, sc in each sc around, sl st in first sc (10 sc). Fasten off.\n"
    )
    report = check(text)
    # the rounds are no second Row 1 and 2: they are a section of their own, along the rows' ends
    proved_clean(report)
    assert [row["section"] for row in report["rounds"]["9"]][-2:] == ["Edge", "Edge"]


LEFT = [
    # 24 below: 4, and the 20 that are left
    ("sc in first 4 sts, sc to end of rnd", {"sc": 24}),
    ("sc in first 4 sts, sc to the end of the round", {"sc": 24}),
    ("sc in first 4 sts, sc to end", {"sc": 24}),
    ("sc in first 20 sts, sc in rem 4", {"sc": 24}),
    ("sc in first 20 sts, sc in rem 4 sts", {"sc": 24}),
    ("sc in first 20 sts, sc in remaining 4", {"sc": 24}),
    ("sc in first 20 sts, sc in remaining sts", {"sc": 24}),
    # 22 once, and the last 2 doubled
    ("sc in first 4 sts, sc to last 2 sts, 2 sc in each of last 2 sts", {"sc": 26}),
    # the last 4 closed two by two
    ("sc in first 20 sts, sc2tog to end", {"sc": 22, "sc2tog": 2}),
    ("sc in first 20 sts, sc2tog to last 2 sts, sc in each of last 2 sts", {"sc": 23, "sc2tog": 1}),
]


@pytest.mark.parametrize(("words", "hand"), LEFT)
def test_what_is_left_of_a_round(check: Check, words: str, hand: dict[str, int]) -> None:
    report = check(tube(f"Rnd 2: Ch 1, {words}; join.", foundation="24"))
    proved_clean(report)
    worked = counts(report, 24, "Cuff", "Rnd 2")
    assert {name: worked[name] for name in hand} == hand


def test_as_many_as_are_not_left(check: Check) -> None:
    found = only_finding(check(tube("Rnd 2: Ch 1, sc in first 20 sts, sc in rem 3; join.", foundation="24")))
    assert found["code"] == "left-over"


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("One size, to fit an average lady's hand (approx 18 cm around)", ["One size"]),
        ("One size (approx. 18 cm around)", ["One size"]),
        ("Medium (fits most women)", ["Medium"]),
        ("Average woman's hand (about 7.5 inches around)", ["Average woman's hand"]),
        ("S (fits 16 cm), M (fits 18 cm)", ["S", "M"]),
        ("S (M)", ["S", "M"]),
        ("16 cm (18 cm)", ["16 cm", "18 cm"]),
    ],
)
def test_a_size_with_words_beside_it(check: Check, said: str, names: list[str]) -> None:
    foundation = "24" if len(names) == 1 else "24 (28)"
    report = check(tube(f"Rnd 2: {PLAIN}", foundation=foundation, header=(f"Size: {said}",)))
    proved_clean(report)
    assert list(report["sizes"]) == names


PASSED = [
    # of 24 chains 2 are passed, and one goes in each of the other 22
    ("Hdc in 3rd chain from hook (the skipped chs count as a hdc) and in each ch across.", "US", {"hdc": 23}),
    ("Hdc in 3rd ch from hook (skipped 2 chs count as first hdc) and in each ch across.", "US", {"hdc": 23}),
    ("Hdc in 3rd ch from hook (skipped chs do not count as a st) and in each ch across.", "US", {"hdc": 22}),
    ("Htr in 3rd ch from hook (the 2 missed ch count as 1 htr) and in each ch across.", "UK", {"htr": 23}),
    # 1 passed, which counts only as it says so; 4 passed, a dc and a chain, and the other 20
    ("Sc in 2nd ch from hook (the skipped ch counts as a sc) and in each ch across.", "US", {"sc": 24}),
    ("Dc in 5th ch from hook (skipped 4 chs count as dc and ch 1), dc in each ch across.", "US", {"dc": 21}),
]


@pytest.mark.parametrize(("words", "terms", "hand"), PASSED)
def test_what_the_chains_passed_count_as(check: Check, words: str, terms: str, hand: dict[str, int]) -> None:
    text = flat(f"Row 1: {words}", foundation="24")
    report = check(text.replace("Worked:", f"Terms: {terms}\nWorked:"))
    proved_clean(report)
    worked = counts(report, 24, "Panel", "Row 1")
    assert {name: worked[name] for name in hand} == hand


FROM_ON = [
    # the chain over the first of 24, or none
    ("Ch 2 (counts as hdc), hdc in each st around, starting in the second st", {"hdc": 24}),
    ("Ch 2 (counts as hdc), hdc in each st around, beginning in the 2nd st", {"hdc": 24}),
    ("Ch 2 (counts as hdc), hdc in each st around starting with next st", {"hdc": 24}),
    ("Ch 2, hdc in each st around, starting in the second st", {"hdc": 24}),
    ("Ch 1, sc in each st around, starting in same st", {"sc": 24}),
    ("Ch 1, sc in each st around, beginning in the first st", {"sc": 24}),
    ("Ch 2 (counts as hdc), hdc in each st to last 2 sts, starting in next st, hdc in rem 2", {"hdc": 24}),
]


@pytest.mark.parametrize(("words", "hand"), FROM_ON)
def test_the_stitch_that_a_round_begins_in(check: Check, words: str, hand: dict[str, int]) -> None:
    report = check(tube(f"Rnd 2: {words}; join.", foundation="24"))
    proved_clean(report)
    worked = counts(report, 24, "Cuff", "Rnd 2")
    assert {name: worked[name] for name in hand} == hand


@pytest.mark.parametrize("chain", ["Ch 1", "Ch 2 (does not count as a st)"])
def test_nothing_stands_over_the_first(check: Check, chain: str) -> None:
    """Whether the first stitch is meant to be passed over, nobody can tell."""
    words = f"Rnd 2: {chain}, hdc in each st around, starting in the second st; join."
    assert only_finding(check(tube(words, foundation="24")))["code"] == "unread"


def test_a_beginning_that_what_was_said_gainsays(check: Check) -> None:
    """By its height the chain would count, and it was said that none does."""
    words = "Rnd 2: Ch 2, hdc in each st around, starting in the second st; join."
    said = "Note: Ch 2 at the beginning of a round does not count as a stitch."
    found = only_finding(check(tube(said, words, foundation="24")))
    assert found["code"] == "unread"
    assert "counts as" in found["message"]


@pytest.mark.parametrize("even", ["Work 3 rnds even.", "3 rnds even.", "Work even for 3 rnds."])
@pytest.mark.parametrize("apart", [" ", "\n"])
def test_a_heading_before_its_round(check: Check, even: str, apart: str) -> None:
    first = "Join yarn with sc in any st, 2 sc in next st, sc in each st around; join. 25 sts."
    report = check(tube(f"Rnd 2: {PLAIN}", f"Edging: {first}{apart}{even}", foundation="24"))
    proved_clean(report)
    assert labels(report, 24, "Edging") == ["Rnd 1", "Rnd 2", "Rnd 3", "Rnd 4"]
    assert [counts(report, 24, "Edging", f"Rnd {number}")["sc"] for number in (1, 2, 4)] == [25, 25, 25]


def test_chains_counted_behind_their_word(check: Check) -> None:
    """12 of 20 in sc, a gap of 8 chains over the other 8: the mend of a wrong number is that number's."""
    rounds = "Rnd 2: Sc in next 12 sts, ch 8, sk next 8 sts. <{} sc + ch 8>"
    text = (
        "Title: T\nPieces: one\nTerms: US\nWorked: spiral\nFoundation: 20\nCustom: none\n\n# Body\n"
        "Foundation rnd: Ch 20; join with sl st in first ch to form a ring.\n"
        "Rnd 1: Sc in each ch around. [20 sc]\n"
    )
    assert check(text + rounds.format(12))["findings"] == []
    (found,) = check(text + rounds.format(13))["findings"]
    assert (found["code"], found["mend"]) == ("count-wrong", "12 sc")
