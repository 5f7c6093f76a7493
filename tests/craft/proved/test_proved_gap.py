"""The gap, the round over it, its edge, edgings on top and in the foundation."""

from tests.craft.expect import Check, Report, counts, formula, proved_clean, section, tube

SC_GAP = (
    "",
    "# Thumb gap",
    "Rnd 1: Ch 1, sc in same st, sc in next 3 sts, ch 5, sk next 5 sts, sc in each st around; "
    "join with sl st in first sc.",
    "  [N - 5 sc, 1 ch-5 sp]",
)
SC_OVER = (
    "",
    "# Hand",
    "Rnd 1: Ch 1, sc in same st, sc in next 3 sts, sc in next 5 ch, sc in each st around; "
    "join with sl st in first sc. [N sc]",
    "Fasten off.",
)


def test_a_gap_in_single_crochet(check: Check) -> None:
    report = check(tube(*SC_GAP, *SC_OVER))
    proved_clean(report)
    # a gap that no section works is left open
    assert counts(report, 24, "Thumb gap", "Rnd 1").items() >= {"sc": 19, "ch-5 sp": 1, "sts": 19}.items()
    assert counts(report, 24, "Hand", "Rnd 1")["sc"] == 24
    assert formula(report, "Thumb gap", "Rnd 1")["sc"] == "N - 5"


def test_the_round_over_the_gap_works_its_space(check: Check) -> None:
    over = (
        "",
        "# Hand",
        "Rnd 1: Ch 1, sc in same st, sc in next 3 sts, 4 sc in next ch-5 sp, sc in each st around; "
        "join with sl st in first sc.",
        "  [N - 1 sc]",
    )
    report = check(tube(*SC_GAP, *over))
    proved_clean(report)
    # 4 + 4 + (N - 9)
    assert counts(report, 24, "Hand", "Rnd 1")["sc"] == 23


def test_the_whole_edge_of_the_gap(check: Check) -> None:
    thumb = (
        "",
        "# Thumb - around the gap",
        "Rnd 1: Join yarn with sl st in first skipped st, ch 1, sc in same st, sc in next 4 skipped sts, "
        "sc in side of next sc,",
        "  sc in underside of next 5 ch, sc in side of next sc; join with sl st in first sc. [12 sc]",
        "Rnds 2 to 4: Ch 1, sc in same st, sc in each sc around; join with sl st in first sc. [12 sc]",
        "Fasten off.",
    )
    report = check(tube(*SC_GAP, *SC_OVER, *thumb))
    proved_clean(report)
    # 5 skipped sts, a side, 5 chains, a side, whatever N is
    for label in ("Rnd 1", "Rnd 4"):
        assert counts(report, 24, "Thumb", label).items() >= {"sc": 12, "sts": 12}.items()
        assert formula(report, "Thumb", label)["sc"] == "12"


def test_the_thumb_may_join_with_its_first_stitch(check: Check) -> None:
    thumb = (
        "",
        "# Thumb - around the gap",
        "Rnd 1: Join yarn with sc in first skipped st, sc in next 4 skipped sts, 2 sc in side of next sc,",
        "  sc in underside of next 5 ch, 2 sc in side of next sc; join with sl st in first sc. [14 sc]",
    )
    report = check(tube(*SC_GAP, *SC_OVER, *thumb))
    proved_clean(report)
    assert counts(report, 24, "Thumb", "Rnd 1")["sc"] == 14


def test_a_section_around_the_gap_may_pass_the_rest_of_each_part(check: Check) -> None:
    thumb = (
        "",
        "# Thumb - around the gap",
        # one place of each of the four: the skipped V-st, a side, the middle chain, a side
        "Rnd 1: Join yarn with sl st in skipped V-st, ch 4 (counts as dc, ch 1), dc in same sp, "
        "V-st in side of next dc,",
        "  V-st in underside of 3rd ch of ch-5, V-st in side of next dc; "
        "join with sl st in 3rd ch of beg ch-4. [4 V-sts]",
        "Rnd 2: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, *V-st in next V-st; "
        "rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [4 V-sts]",
    )
    gap = (
        "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, *sk 2 sts, V-st in next st; rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
        "",
        "# Thumb gap",
        "Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, V-st in next V-st, "
        "ch 5, sk next V-st,",
        "  *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4. [N/3 - 1 V-sts, "
        "1 ch-5 sp]",
        "",
        "# Hand",
        "Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, V-st in next V-st, "
        "V-st in 3rd ch of next ch-5,",
        "  *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
        "Fasten off.",
    )
    report = check(tube(*gap, *thumb, foundation="24 (27, 30), multiple of 3", header=["Custom: 18 to 45"]))
    proved_clean(report)
    assert counts(report, 27, "Thumb gap", "Rnd 1").items() >= {"V-st": 8, "ch-5 sp": 1, "ch-1 sp": 8}.items()
    assert counts(report, 27, "Hand", "Rnd 1")["V-st"] == 9
    for label in ("Rnd 1", "Rnd 2"):
        assert counts(report, 27, "Thumb", label).items() >= {"V-st": 4, "dc": 8}.items()
    assert formula(report, "Thumb gap", "Rnd 1")["V-st"] == "N/3 - 1"


def test_a_gap_by_size(check: Check) -> None:
    text = tube(
        "",
        "# Thumb gap",
        # 5 (6, 7) is N/4 - 1
        "Rnd 1: Ch 1, sc in same st, sc in next 3 sts, ch 5 (6, 7), sk next 5 (6, 7) sts, "
        "sc in each st around;",
        "  join with sl st in first sc. [19 (22, 25) sc]",
        "",
        "# Hand",
        "Rnd 1: Ch 1, sc in same st, sc in next 3 sts, sc in next 5 (6, 7) ch, sc in each st around;",
        "  join with sl st in first sc. [24 (28, 32) sc]",
        "Fasten off.",
        "",
        "# Thumb - around the gap",
        "Rnd 1: Join yarn with sc in first skipped st, sc in next 4 (5, 6) skipped sts, "
        "sc in side of next sc,",
        "  sc in underside of next 5 (6, 7) ch, sc in side of next sc; "
        "join with sl st in first sc. [12 (14, 16) sc]",
        foundation="24 (28, 32), multiple of 4",
    )
    report = check(text, foundations=(40,))
    proved_clean(report)
    assert counts(report, 28, "Thumb gap", "Rnd 1").items() >= {"sc": 22, "ch-6 sp": 1}.items()
    # twice N/4 - 1, and two sides: N/2
    assert [counts(report, n, "Thumb", "Rnd 1")["sc"] for n in (24, 28, 32, 40)] == [12, 14, 16, 20]
    assert formula(report, "Thumb", "Rnd 1")["sc"] == "N/2"


def test_the_gap_is_the_longest_chain_over_skipped_places(check: Check) -> None:
    text = tube(
        "",
        "# Thumb gap",
        # at 24: dc in 1, 3, 5, 7, 9, the gap over 10-14, dc in 15, 17 … 23
        "Rnd 1: Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; "
        "rep from * 2 times more, dc in next st,",
        "  ch 6, sk next 5 sts, *dc in next st, ch 1, sk next st; rep from * around; "
        "join with sl st in 3rd ch of beg ch-4.",
        "  [N/2 - 2 dc, N/2 - 3 ch-1 sps, 1 ch-6 sp]",
        "Fasten off.",
        "",
        "# Thumb - around the gap",
        "Rnd 1: Join yarn with sl st in first skipped st, ch 1, sc in same st, sc in next 4 skipped sts, "
        "sc in side of next dc,",
        "  sc in underside of next 6 ch, sc in side of next dc; join with sl st in first sc. [13 sc]",
        foundation="24 (28), multiple of 2",
        header=["Custom: 20 to 36"],
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Thumb gap", "Rnd 1").items() >= {"dc": 10, "ch-1 sp": 9, "ch-6 sp": 1}.items()
    assert counts(report, 28, "Thumb", "Rnd 1")["sc"] == 13


def test_edging_in_the_foundation(check: Check) -> None:
    text = tube(
        "Fasten off.",
        "",
        "# Bottom edging - in the foundation",
        "Rnd 1: Join yarn with sl st in any foundation ch, ch 1, sc in same ch, "
        "sc in each foundation ch around;",
        "  join with sl st in first sc. [N sc]",
        "Rnd 2: Ch 1, sc in same st, sc in each sc around; join with sl st in first sc. [N sc]",
        "Fasten off.",
    )
    report = check(text)
    proved_clean(report)
    assert [row["counts"]["sc"] for row in section(report, 24, "Bottom edging")] == [24, 24]


def test_a_mesh_edging_in_the_foundation(check: Check) -> None:
    text = tube(
        "Fasten off.",
        "",
        "# Bottom edging - in the foundation",
        "Join yarn with sc in any foundation ch, ch 1, sk next foundation ch, *sc in next foundation ch, "
        "ch 1,",
        "  sk next foundation ch; rep from * around; join with sl st in first sc. [N/2 sc, N/2 ch-1 sps]",
        "Fasten off.",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Bottom edging", "").items() >= {"sc": 12, "ch-1 sp": 12}.items()


def test_the_foundation_after_a_top_edging(report: Report) -> None:
    """Title: Winch Cuff
    Foundation: 24 (30), multiple of 6

    # Cuff
    Foundation rnd: Ch 24 (30); join with sl st in first ch to form a ring. [24 (30) ch]
    Rnd 1: Ch 1, sc in same ch, sk 2 ch, shell in next ch, sk 2 ch, *sc in next ch, sk 2 ch, shell in next ch,
      sk 2 ch;
      rep from * around; join with sl st in first sc. [4 (5) shells, 4 (5) sc]

    # Top edging
    Rnd 1: Ch 1, sc in same st, sc in next 5 dc, *sc in next sc, sc in next 5 dc; rep from * around;
      join with sl st in first sc. [24 (30) sc]
    Fasten off.

    # Bottom edging - in the foundation
    Join yarn with sc in any foundation ch, sc in each foundation ch around;
      join with sl st in first sc. [24 (30) sc]
    Fasten off.
    """
    proved_clean(report)
    # an sc and 5 dc over 6
    assert counts(report, 30, "Top edging", "Rnd 1")["sc"] == 30
    assert counts(report, 30, "Bottom edging", "")["sc"] == 30


def test_a_picot_edging_on_top(check: Check) -> None:
    text = tube(
        "",
        "# Top edging",
        "Rnd 1: Ch 1, sc in same st, sc in next 3 sts, picot, *sc in next 4 sts, picot; rep from * around;",
        "  join with sl st in first sc. [N sc]",
        "Fasten off.",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Top edging", "Rnd 1").items() >= {"sc": 24, "sts": 24}.items()


def test_a_section_is_read_from_its_words(check: Check) -> None:
    # the part after " - " is what it is for, and is no part of the section's name
    text = tube(
        "",
        "# Wrist band - to the palm",
        "Rnd 1: Ch 1, sc in each st around; join with sl st in first sc. [N sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Wrist band", "Rnd 1")["sc"] == 24
