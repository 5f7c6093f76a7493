"""Headers: every key, with and without sizes, and the counts that each one sets out to prove."""

from tests.craft.expect import Check, Report, counts, proved, proved_clean, tube


def test_every_key_by_size(report: Report) -> None:
    """Title: Ferry Mitts
    Terms: US
    Sizes: small (medium, large)
    Foundation: 24 (30, 36), multiple of 6
    Custom: 18 to 48
    Worked: joined rounds
    Pieces: pair
    Yarn: 4 medium, 70 (82, 95) m, 100 g = 170 m
    Hook: 4.5 (5, 5.5) mm
    Gauge: 14 sts and 9 rnds = 10 cm
    Fits: 18 (22.5, 27) cm hand
    Special stitch: Gull = (2 dc, ch 1, 2 dc) in one place

    # Cuff
    Foundation rnd: Ch 24 (30, 36); join with sl st in first ch to form a ring. [24 (30, 36) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (30, 36) sc]
    Rnd 2: Ch 3 (counts as dc), (dc, ch 1, 2 dc) in same st, *sk 5 sts, Gull in next st; rep from * around;
      join with sl st in top of beg ch. [4 (5, 6) Gulls]
    Fasten off.
    """
    proved_clean(report)
    assert report["title"] == "Ferry Mitts"
    assert (report["multiple"], report["plus"]) == (6, 0)
    assert report["sizes"] == {"small": 24, "medium": 30, "large": 36}
    assert report["counts_tried"] == [18, 24, 30, 36, 42, 48]
    # a Gull every 6 sts, 4 dc each
    for n in (24, 30, 36):
        assert counts(report, n, "Cuff", "Rnd 2").items() >= {"Gull": n // 6, "dc": 4 * n // 6}.items()


def test_single_values_for_one_size(report: Report) -> None:
    """Title: Pontoon Cowl
    Terms: US
    Sizes: one
    Foundation: 84, multiple of 6
    Custom: 72 to 96
    Pieces: one
    Yarn: 3 light, 140 m, 50 g = 130 m
    Hook: 4 mm
    Gauge: 16 sts and 12 rnds = 10 cm

    # Body
    Foundation rnd: Ch 84; join with sl st in first ch to form a ring. [84 ch]
    Rnd 1: Ch 1, sc in each ch around; join with sl st in first sc. [84 sc]
    """
    proved_clean(report)
    assert report["sizes"] == {"one": 84}
    assert report["counts_tried"] == [72, 78, 84, 90, 96]


def test_title_and_foundation_alone(report: Report) -> None:
    """Title: Plain Band
    Foundation: 30

    # Band
    Foundation rnd: Ch 30; join with sl st in first ch to form a ring. [30 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [30 sc]
    """
    proved_clean(report)
    assert report["counts_tried"] == [30]
    assert list(report["rounds"]) == ["30"]
    assert counts(report, 30, "Band", "Foundation rnd")["ch"] == 30


def test_sizes_without_names(report: Report) -> None:
    """Title: Three Bands
    Foundation: 22 (25, 31)

    # Band
    Foundation rnd: Ch 22 (25, 31); join with sl st in first ch to form a ring. [22 (25, 31) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [22 (25, 31) sc]
    """
    proved_clean(report)
    # without a multiple only the sizes are worked
    assert report["counts_tried"] == [22, 25, 31]
    assert set(report["rounds"]) == {"22", "25", "31"}


def test_four_sizes_with_names_of_two_words(report: Report) -> None:
    """Title: Four Bands
    Sizes: extra small (small, medium, large)
    Foundation: 20 (24, 28, 32), multiple of 4
    Custom: none

    # Band
    Foundation rnd: Ch 20 (24, 28, 32); join with sl st in first ch to form a ring. [20 (24, 28, 32) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [20 (24, 28, 32) sc]
    """
    proved_clean(report)
    assert report["sizes"] == {"extra small": 20, "small": 24, "medium": 28, "large": 32}
    assert report["counts_tried"] == [20, 24, 28, 32]


def test_the_keys_may_stand_in_another_order(report: Report) -> None:
    """Foundation: 24 (28), multiple of 4
    Hook: 5 mm
    Title: Turned About
    Sizes: narrow (wide)
    Terms: US

    # Band
    Foundation rnd: Ch 24 (28); join with sl st in first ch to form a ring. [24 (28) ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (28) sc]
    """
    proved_clean(report)
    assert report["title"] == "Turned About"
    assert report["sizes"] == {"narrow": 24, "wide": 28}


def test_custom_left_out_stops_at_three_repeats_below(check: Check) -> None:
    report = check(tube(foundation="24 (28, 32), multiple of 4"))
    proved_clean(report)
    # 24 - 4 x 4 = 8 is under three repeats (12); 32 + 8 x 4 = 64
    assert report["counts_tried"] == list(range(12, 65, 4))


def test_custom_left_out_goes_four_repeats_below(check: Check) -> None:
    report = check(tube(foundation="40 (44), multiple of 4"))
    proved_clean(report)
    # 40 - 16 = 24; 44 + 32 = 76
    assert report["counts_tried"] == list(range(24, 77, 4))


def test_custom_left_out_with_a_plus(check: Check) -> None:
    report = check(tube(foundation="32, multiple of 6 + 2"))
    proved_clean(report)
    assert (report["multiple"], report["plus"]) == (6, 2)
    # 32 - 24 = 8 is under three repeats and the plus (20); 32 + 48 = 80
    assert report["counts_tried"] == [20, 26, 32, 38, 44, 50, 56, 62, 68, 74, 80]


def test_a_size_under_three_repeats_is_tried(check: Check) -> None:
    report = check(tube(foundation="8, multiple of 4"))
    proved_clean(report)
    # customs from three repeats (12) to 8 + 32 = 40, and the size itself
    assert report["counts_tried"] == [8, 12, 16, 20, 24, 28, 32, 36, 40]


def test_custom_none_proves_the_sizes(check: Check) -> None:
    report = check(tube(foundation="24 (32), multiple of 4", header=["Custom: none"]))
    proved_clean(report)
    assert report["multiple"] == 4
    assert report["counts_tried"] == [24, 32]


def test_sizes_outside_the_custom_range_are_tried(check: Check) -> None:
    report = check(tube(foundation="12 (32), multiple of 4", header=["Custom: 16 to 24"]))
    proved_clean(report)
    assert report["counts_tried"] == [12, 16, 20, 24, 32]


def test_a_custom_range_takes_the_allowed_counts_in_it(check: Check) -> None:
    report = check(tube(foundation="24, multiple of 4", header=["Custom: 7 to 27"]))
    proved_clean(report)
    # a stated range may go below three repeats: 8 is the first multiple of 4 in it
    assert report["counts_tried"] == [8, 12, 16, 20, 24]


def test_a_custom_range_with_a_plus(check: Check) -> None:
    report = check(tube(foundation="21, multiple of 4 + 1", header=["Custom: 12 to 30"]))
    proved_clean(report)
    assert report["counts_tried"] == [13, 17, 21, 25, 29]


def test_foundations_asked_for_are_worked(check: Check) -> None:
    report = check(tube(foundation="24 (28), multiple of 4"), foundations=(40, 20))
    proved_clean(report)
    assert set(report["rounds"]) == {"20", "24", "28", "40"}
    assert counts(report, 40, "Cuff", "Rnd 1")["sc"] == 40
    assert counts(report, 20, "Cuff", "Foundation rnd")["ch"] == 20


def test_foundation_none_goes_by_the_sizes_names(report: Report) -> None:
    """Title: Buoy Cap
    Sizes: child (adult)
    Foundation: none
    Pieces: one

    # Crown
    Rnd 1: Ch 3 (counts as dc), 9 (11) dc in ring; join with sl st in top of beg ch. [10 (12) dc]
    Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around;
      join with sl st in top of beg ch. [20 (24) dc]
    """
    proved_clean(report)
    assert set(report["rounds"]) == {"child", "adult"}
    # the chain and 9 (11) dc; then every one doubled
    assert counts(report, "child", "Crown", "Rnd 1")["dc"] == 10
    assert counts(report, "adult", "Crown", "Rnd 1")["dc"] == 12
    assert counts(report, "child", "Crown", "Rnd 2")["dc"] == 20
    assert counts(report, "adult", "Crown", "Rnd 2")["dc"] == 24


def test_special_stitches_change_the_defaults(report: Report) -> None:
    """Title: Kelp Cuff
    Foundation: 24 (32), multiple of 8
    Special stitch: shell = 7 dc in one place
    Special stitch: V-st = (dc, ch 3, dc) in one place

    # Cuff
    Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
    Rnd 1: Ch 1, sc in same ch, sk 3 ch, shell in next ch, sk 3 ch, *sc in next ch, sk 3 ch, shell in next ch,
      sk 3 ch;
      rep from * around; join with sl st in first sc. [N/8 sc, N/8 shells, 7N/8 dc]
    Rnd 2: Ch 6 (counts as dc, ch 3), dc in same st, sk 3 dc, sc in next dc, sk 3 dc, *V-st in next sc,
      sk 3 dc,
      sc in next dc, sk 3 dc; rep from * around; join with sl st in 3rd ch of beg ch-6. [N/8 V-sts,
      N/8 ch-3 sps, N/8 sc]
    """
    proved_clean(report)
    # at 32: 4 times (sc, 7 dc) over 8 chains; then 4 times (V-st in the sc, sc in the shell's 4th dc)
    assert counts(report, 32, "Cuff", "Rnd 1").items() >= {"sc": 4, "shell": 4, "dc": 28, "sts": 32}.items()
    assert (
        counts(report, 32, "Cuff", "Rnd 2").items()
        >= {"V-st": 4, "ch-3 sp": 4, "dc": 8, "sc": 4, "sts": 12}.items()
    )


def test_two_groups_of_the_hosts_own(report: Report) -> None:
    """Title: Reed Cuff
    Foundation: 24 (30), multiple of 6
    Special stitch: Reed = (tr, ch 2, tr) in one place
    Special stitch: Oar = (hdc, dc, hdc) in one place

    # Cuff
    Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
    Rnd 1: Ch 2 (counts as hdc), (dc, hdc) in same ch, sk 2 ch, Reed in next ch, sk 2 ch,
      *Oar in next ch, sk 2 ch, Reed in next ch, sk 2 ch; rep from * around; join with sl st in top of beg ch.
      [N/6 Oars, N/6 Reeds]
    """
    proved_clean(report)
    # at 30: 5 Oars (2 hdc and 1 dc each, the first with the chain) and 5 Reeds (2 tr, a ch-2 sp each)
    expected = {"Oar": 5, "Reed": 5, "hdc": 10, "dc": 5, "tr": 10, "ch-2 sp": 5, "sts": 25}
    assert counts(report, 30, "Cuff", "Rnd 1").items() >= expected.items()


def test_words_between_the_header_and_the_first_round_are_notes(report: Report) -> None:
    """Title: Harbor Band
    Foundation: 24, multiple of 4

    I wrote this one on a slow ferry, with the window open and two gulls for company.

    Materials: 40 g of any medium yarn, a 5 mm hook, a blunt needle for the ends.
    Abbreviations: ch = chain, sc = single crochet, sl st = slip stitch.

    # Band
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    """
    proved(report)
    assert counts(report, 24, "Band", "Rnd 1")["sc"] == 24
