"""Several stitches, groups, skips and named places."""

from tests.craft.expect import Check, counts, formula, proved, proved_clean, tube


def test_in_next_3_and_in_each_of_next_3(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, sc in next 2 sts, 2 sc in next st, *sc in next 3 sts, "
        "2 sc in next st; rep from * around;",
        "  join with sl st in first sc. [5N/4 sc]",
        "Rnd 3: Ch 1, sc in same st, sc in each of next 4 sts, *sc in each of next 5 sts; rep from * around;",
        "  join with sl st in first sc. [5N/4 sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 30
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 30


def test_in_each_st_and_space(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, *sk 2 sts, V-st in next st; rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
        "Rnd 3: Ch 1, sc in same st, sc in each st and ch-1 sp around; join with sl st in first sc. [N sc]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    # a V-st has a dc, a space, a dc: 3 over 3
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


def test_each_st_passes_chain_spaces(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, *sk 2 sts, V-st in next st; rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
        "Rnd 3: Ch 1, sc in each st around; join with sl st in first sc. [2N/3 sc]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 16


def test_each_space_passes_stitches(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/2 dc, N/2 ch-1 sps]",
        "Rnd 3: Sl st in next ch-1 sp, ch 1, 2 sc in same sp, 2 sc in each ch-1 sp around; "
        "join with sl st in first sc. [N sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


def test_shells_in_the_foundation(check: Check) -> None:
    text = (
        "Title: Scallop Cuff\nFoundation: 24, multiple of 6\n\n# Cuff\n"
        "Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]\n"
        "Rnd 1: Ch 1, sc in same ch, sk 2 ch, 5 dc in next ch, sk 2 ch, *sc in next ch, sk 2 ch, "
        "5 dc in next ch, sk 2 ch;\n"
        "  rep from * around; join with sl st in first sc. [N/6 sc, N/6 shells, 5N/6 dc, N sts]\n"
    )
    report = check(text)
    proved_clean(report)
    # five dc in one place spell a shell
    assert counts(report, 24, "Cuff", "Rnd 1").items() >= {"sc": 4, "shell": 4, "dc": 20, "sts": 24}.items()
    assert formula(report, "Cuff", "Rnd 1").items() >= {"shell": "N/6", "dc": "5N/6", "sts": "N"}.items()


def test_shell_in_next_shell_is_its_middle_stitch(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), 4 dc in same st, *sk 5 sts, shell in next st; rep from * around;",
        "  join with sl st in top of beg ch. [N/6 shells]",
        "Rnd 3: Sl st in next 2 dc, ch 3 (counts as dc), 4 dc in same st, *shell in next shell; "
        "rep from * around;",
        "  join with sl st in top of beg ch. [N/6 shells]",
        foundation="24, multiple of 6",
    )
    report = check(text)
    proved(report)
    assert counts(report, 24, "Cuff", "Rnd 3").items() >= {"shell": 4, "dc": 20}.items()


def test_center_stitch_of_a_shell(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, sk 2 sts, shell in next st, sk 2 sts, *sc in next st, sk 2 sts, "
        "shell in next st, sk 2 sts;",
        "  rep from * around; join with sl st in first sc. [N/6 sc, N/6 shells]",
        "Rnd 3: Ch 3 (counts as dc), 4 dc in same st, sc in center dc of next shell, *sk 2 dc, "
        "shell in next sc,",
        "  sc in center dc of next shell; rep from * around; "
        "join with sl st in top of beg ch. [N/6 shells, N/6 sc]",
        foundation="24, multiple of 6",
    )
    report = check(text)
    proved(report)
    # a shell in each sc, an sc in each shell
    assert counts(report, 24, "Cuff", "Rnd 3").items() >= {"shell": 4, "sc": 4, "dc": 20, "sts": 24}.items()


def test_a_group_of_different_stitches_in_one_place(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, (sc, hdc, dc) in same st, *sk 2 sts, (sc, hdc, dc) in next st; rep from * around;",
        "  join with sl st in first sc. [N/3 sc, N/3 hdc, N/3 dc, N sts]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 8, "hdc": 8, "dc": 8, "sts": 24}.items()


def test_the_beginning_chain_may_stand_in_the_group(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 3 (counts as dc), (dc, ch 1, 2 dc) in same st, *sk 3 sts, (2 dc, ch 1, "
        "2 dc) in next st; rep from * around;",
        "  join with sl st in top of beg ch. [N/4 Dunes, N dc]",
        "Rnd 3: Sl st in next dc, sl st in next ch-1 sp, (ch 3, dc, ch 1, 2 dc) in same sp, "
        "*Dune in next ch-1 sp;",
        "  rep from * around; join with sl st in top of beg ch. [N/4 Dunes]",
        header=["Special stitch: Dune = (2 dc, ch 1, 2 dc) in one place"],
    )
    report = check(text)
    proved_clean(report)
    # a Dune is counted where its stitches spell it, the chain as the dc that it counts as
    assert counts(report, 24, "Cuff", "Rnd 2")["Dune"] == 6
    assert counts(report, 24, "Cuff", "Rnd 3").items() >= {"Dune": 6, "dc": 24, "ch-1 sp": 6}.items()


def test_a_v_st_spelled_out_is_a_v_st(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, *sk 2 sts, (dc, ch 1, dc) in next st; "
        "rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["V-st"] == 8


def test_a_group_skipped_as_a_whole_is_behind_the_hook(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, *sk 2 sts, V-st in next st; rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
        # the skip at the head of the repeat is the last V-st too
        "Rnd 3: Sl st in next ch-1 sp, ch 3 (counts as dc), (dc, ch 1, 2 dc) in same sp, *sk next V-st,",
        "  (2 dc, ch 1, 2 dc) in next V-st; rep from * around; "
        "join with sl st in top of beg ch. [2N/3 dc, N/6 ch-1 sps]",
        foundation="24, multiple of 6",
    )
    report = check(text)
    proved_clean(report)
    # 8 V-sts, every second one worked, with 4 dc
    assert counts(report, 24, "Cuff", "Rnd 3").items() >= {"dc": 16, "ch-1 sp": 4}.items()


def test_same_is_the_place_last_worked_into(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, dc in same st, sk 2 sts, *sc in next st, dc in same st, sk 2 sts; "
        "rep from * around;",
        "  join with sl st in first sc. [N/3 sc, N/3 dc]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 8, "dc": 8, "sts": 16}.items()


def test_a_skipped_space(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, *sk 2 sts, V-st in next st; rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
        "Rnd 3: Ch 1, sc in same st, sk next ch-1 sp, sc in next dc, *sc in next dc, sk next ch-1 sp, "
        "sc in next dc;",
        "  rep from * around; join with sl st in first sc. [2N/3 sc]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 16


def test_crossed_stitches_come_back_to_the_skipped_place(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 2 (does not count as a st), sk first st, dc in next st, dc in skipped st,",
        "  *sk next st, dc in next st, dc in skipped st; rep from * around; "
        "join with sl st in first dc. [N dc]",
        "Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["dc"] == 24
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


def test_crossed_stitches_after_a_chain_that_counts(check: Check) -> None:
    text = tube(
        # places 1 and 2 plain, then N/2 - 1 pairs; the head of the next repeat would come back to place 1
        "Rnd 2: Ch 3 (counts as dc), dc in next st, *sk next st, dc in next st, dc in skipped st; "
        "rep from * around;",
        "  join with sl st in top of beg ch. [N dc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["dc"] == 24


def test_arches_worked_into_arches(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, *ch 3, sk 2 sts, sc in next st; rep from * around, omitting last sc;",
        "  join with sl st in first sc. [N/3 sc, N/3 ch-3 sps]",
        "Rnd 3: Sl st in next ch-3 sp, ch 1, sc in same sp, *ch 4, sc in next ch-3 sp; "
        "rep from * around, ch 4;",
        "  join with sl st in first sc. [N/3 sc, N/3 ch-4 sps]",
        foundation="24, multiple of 3",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 8, "ch-3 sp": 8}.items()
    assert counts(report, 24, "Cuff", "Rnd 3").items() >= {"sc": 8, "ch-4 sp": 8}.items()


def test_chains_are_places_too(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, ch 3, sk 3 sts, *sc in next st, ch 3, sk 3 sts; rep from * around;",
        "  join with sl st in first sc. [N/4 sc, N/4 ch-3 sps]",
        "Rnd 3: Ch 1, sc in same st, sc in next 3 ch, *sc in next sc, sc in next 3 ch; rep from * around;",
        "  join with sl st in first sc. [N sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


def test_a_chain_named_by_its_number(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 1, sc in same st, sc in next 3 sts, ch 5, sk next 5 sts, sc in each st around; "
        "join with sl st in first sc.",
        "  [N - 5 sc, 1 ch-5 sp]",
        "Rnd 3: Ch 1, sc in same st, sc in next 3 sts, 5 sc in 3rd ch of next ch-5, sc in each st around;",
        "  join with sl st in first sc. [N sc]",
    )
    report = check(text)
    proved(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


def test_new_yarn_at_any_stitch(check: Check) -> None:
    text = tube(
        "Fasten off.",
        "",
        "# Rim",
        "Join yarn with sl st in any st, ch 1, sc in same st, sc in each st around; "
        "join with sl st in first sc. [N sc]",
        "Fasten off.",
        "",
        "# Second rim",
        "Join yarn with dc in any st, dc in each st around; join with sl st in first dc. [N dc]",
        "Fasten off.",
        "",
        "# Third rim",
        "Join yarn with sl st in any dc.",
        "Rnd 1: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Rim", "")["sc"] == 24
    assert counts(report, 24, "Second rim", "")["dc"] == 24
    assert counts(report, 24, "Third rim", "Rnd 1")["sc"] == 24


def test_new_yarn_in_a_space(check: Check) -> None:
    text = tube(
        "Rnd 2: Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; rep from * around;",
        "  join with sl st in 3rd ch of beg ch-4. [N/2 ch-1 sps]",
        "Fasten off.",
        "",
        "# Rim",
        "Join yarn with sl st in any ch-1 sp, ch 1, 2 sc in same sp, 2 sc in each ch-1 sp around; "
        "join with sl st in first sc. [N sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Rim", "")["sc"] == 24


def test_notes_and_line_breaks_are_not_worked(check: Check) -> None:
    text = tube(
        "Note: the next round is the one that curls; sc in every st loosely.",
        "Rnd 2: Ch 3 (counts as dc),",
        "  dc in each st",
        "  around;",
        "  join with sl st in top of beg ch.",
        "  [N dc]",
        "",
        "Note: try it on.",
        "Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc; fasten off. [N sc]",
    )
    report = check(text)
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2")["dc"] == 24
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24
