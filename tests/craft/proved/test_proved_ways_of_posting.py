"""Ways in which posts label their rounds, begin, and make a band into a tube. Counts worked by hand."""

import pytest

from tests.craft.expect import Check, counts, labels, only_finding, proved_clean, tube

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


def test_an_edge_of_rounds_is_no_row_end(check: Check) -> None:
    """Nothing was worked in rows: the words name no place."""
    report = check(tube("Rnd 2: Ch 1, 26 sc evenly around the top edge; join with sl st in first sc."))
    assert report["proved"] is False
