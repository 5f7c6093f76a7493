"""Rounds of the same text, rounds to fit, and rounds that repeat others."""

import pytest

from tests.craft.expect import Check, Report, counts, labels, proved_clean, same_work, tube

MESH = (
    "Rnd 2: Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; rep from * around;",
    "  join with sl st in 3rd ch of beg ch-4. [N/2 dc, N/2 ch-1 sps]",
    "Rnd 3: Ch 1, sc in same st, sc in each st and ch-1 sp around; join with sl st in first sc. [N sc]",
)


def test_rounds_of_the_same_text(check: Check) -> None:
    report = check(
        tube("Rnds 2 to 5: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]")
    )
    proved_clean(report)
    assert labels(report, 24, "Cuff") == ["Foundation rnd", "Rnd 1", "Rnd 2", "Rnd 3", "Rnd 4", "Rnd 5"]
    assert all(counts(report, 24, "Cuff", f"Rnd {k}")["sc"] == 24 for k in range(1, 6))


def test_rounds_to_fit_are_worked_as_written(report: Report) -> None:
    """Title: Capstan Mitts
    Sizes: small (medium, large)
    Foundation: 24 (27, 30), multiple of 3

    # Cuff - to the base of the thumb
    Foundation rnd: Ch 24 (27, 30); join with sl st in first ch to form a ring. [24 (27, 30) ch]
    Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk 2 ch, V-st in next ch; rep from * around;
      join with sl st in 3rd ch of beg ch-4. [8 (9, 10) V-sts]
    Rnds 2 to 4 (4, 5), or to the base of the thumb: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1),
      dc in same sp,
      *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4. [8 (9, 10) V-sts]

    # Hand - to the knuckles
    Rnds 1 to 2 (3, 3), or to the knuckles: rep rnd 2 of Cuff.

    # Top edging
    Rnd 1: Ch 1, sc in same st, sc in each st and ch-1 sp around; join with sl st in first sc. [24 (27,
      30) sc]
    Fasten off.
    """
    proved_clean(report)
    assert labels(report, 24, "Cuff") == ["Foundation rnd", "Rnd 1", "Rnd 2", "Rnd 3", "Rnd 4"]
    assert labels(report, 30, "Cuff")[-1] == "Rnd 5"
    assert labels(report, 24, "Hand") == ["Rnd 1", "Rnd 2"]
    assert labels(report, 27, "Hand") == ["Rnd 1", "Rnd 2", "Rnd 3"]
    assert counts(report, 27, "Hand", "Rnd 3")["V-st"] == 9
    assert counts(report, 27, "Top edging", "Rnd 1")["sc"] == 27


def test_rounds_to_fit_in_a_section_that_goes_on(check: Check) -> None:
    text = tube(
        "Rnds 2 to 4, or to the base of the thumb: Ch 1, sc in same st, sc in each st around; "
        "join with sl st in first sc. [N sc]",
        "",
        "# Top edging",
        "Rnd 1: Ch 1, sc in same st, ch 1, sk next st, *sc in next st, ch 1, sk next st; rep from * around;",
        "  join with sl st in first sc. [N/2 sc, N/2 ch-1 sps]",
    )
    report = check(text)
    proved_clean(report)
    assert labels(report, 24, "Cuff")[-1] == "Rnd 4"
    assert counts(report, 24, "Top edging", "Rnd 1")["ch-1 sp"] == 12


@pytest.mark.parametrize("words", ["rep rnd 2.", "Rep rnd 2.", "repeat rnd 2.", "Repeat round 2."])
def test_rep_rnd(check: Check, words: str) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
        f"Rnds 3 and 4: {words}",
    )
    report = check(text)
    proved_clean(report)
    assert labels(report, 24, "Cuff")[-2:] == ["Rnd 3", "Rnd 4"]
    assert counts(report, 24, "Cuff", "Rnd 3")["dc"] == 24
    assert counts(report, 24, "Cuff", "Rnd 4")["dc"] == 24


def test_rep_rnds_in_turn(check: Check) -> None:
    report = check(tube(*MESH, "Rnds 4 to 9: rep rnds 2 and 3."))
    proved_clean(report)
    assert labels(report, 24, "Cuff")[-1] == "Rnd 9"
    for k in (4, 6, 8):
        assert counts(report, 24, "Cuff", f"Rnd {k}").items() >= {"dc": 12, "ch-1 sp": 12}.items()
    for k in (5, 7, 9):
        assert counts(report, 24, "Cuff", f"Rnd {k}")["sc"] == 24


def test_rep_rnds_is_the_text_written_again(check: Check) -> None:
    again = tuple(line.replace("Rnd 2", "Rnd 4").replace("Rnd 3", "Rnd 5") for line in MESH)
    same_work(check(tube(*MESH, "Rnds 4 and 5: rep rnds 2 and 3.")), check(tube(*MESH, *again)))


def test_rep_rnd_of_another_section(check: Check) -> None:
    report = check(tube(*MESH, "", "# Hand", "Rnd 1: rep rnd 2 of Cuff.", "Rnd 2: rep rnd 3 of Cuff."))
    proved_clean(report)
    assert counts(report, 24, "Hand", "Rnd 1").items() >= {"dc": 12, "ch-1 sp": 12}.items()
    assert counts(report, 24, "Hand", "Rnd 2")["sc"] == 24


def test_a_new_count_stands_in_place_of_the_old(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, sc in next 2 sts, 2 sc in next st, *sc in next 3 sts, "
        "2 sc in next st; rep from * around;",
        "  join with sl st in first sc. [5N/4 sc]",
        # 16 to 20 to 25
        "Rnd 3: rep rnd 2. [25N/16 sc]",
        foundation="16 (32), multiple of 16",
    )
    report = check(text, foundations=(48,))
    proved_clean(report)
    assert [counts(report, n, "Cuff", "Rnd 3")["sc"] for n in (16, 32, 48)] == [25, 50, 75]


def test_rounds_to_fit_may_repeat_a_round(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
        "",
        "# Hand - to the knuckles",
        "Rnds 1 to 3 (4), or to the knuckles: rep rnd 2 of Cuff.",
        "",
        "# Top edging",
        "Rnd 1: Ch 1, sc in each dc around; join with sl st in first sc. [N sc]",
        foundation="24 (28), multiple of 4",
    )
    report = check(text)
    proved_clean(report)
    assert labels(report, 24, "Hand") == ["Rnd 1", "Rnd 2", "Rnd 3"]
    assert labels(report, 28, "Hand") == ["Rnd 1", "Rnd 2", "Rnd 3", "Rnd 4"]
    assert counts(report, 28, "Top edging", "Rnd 1")["sc"] == 28
