"""A text in UK terms works exactly as its US twin; only the names differ."""

from tests.craft.expect import Check, counts, proved, proved_clean, tally

TO_US = {
    "ss": "sl st",
    "dc": "sc",
    "htr": "hdc",
    "tr": "dc",
    "dtr": "tr",
    "ttr": "dtr",
    "fdc": "fsc",
    "dc2tog": "sc2tog",
    "htr2tog": "hdc2tog",
    "tr2tog": "dc2tog",
    "tr3tog": "dc3tog",
    "FPtr": "FPdc",
    "BPtr": "BPdc",
    "FPdc": "FPsc",
}

HEADER = "Title: Twin Cuff\nTerms: {terms}\nFoundation: 24 (30), multiple of 6\n\n# Cuff\n"


def twins(check: Check, us: str, uk: str) -> None:
    """Both are proved without a finding, and count the same once the UK names are put in US terms."""
    american, british = check(HEADER.format(terms="US") + us), check(HEADER.format(terms="UK") + uk)
    proved_clean(american)
    proved_clean(british)
    assert any(any(row.values()) for rows in tally(american).values() for row in rows)
    assert tally(british, TO_US) == tally(american)


def test_single_crochet_and_its_decrease(check: Check) -> None:
    us = """Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]
Rnd 2: Ch 1, sc in same st, sc2tog, *sc in next st, sc2tog; rep from * around;
  join with sl st in first sc. [2N/3 sc]
"""
    uk = """Foundation rnd: Ch N; join with ss in first ch to form a ring. [N ch]
Rnd 1: Ch 1, dc in same ch, dc in each ch around; join with ss in first dc. [N dc]
Rnd 2: Ch 1, dc in same st, dc2tog, *dc in next st, dc2tog; rep from * around;
  join with ss in first dc. [2N/3 dc]
"""
    twins(check, us, uk)
    worked = counts(check(HEADER.format(terms="UK") + uk), 30, "Cuff", "Rnd 2")
    # 3 sts become 2; the names are the text's own
    assert worked.items() >= {"dc": 20, "dc2tog": 10, "sts": 20}.items()
    assert worked.get("sc", 0) == 0


def test_v_stitches(check: Check) -> None:
    us = """Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk 2 ch, V-st in next ch; rep from * around;
  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts, 2N/3 dc]
Rnd 2: Sl st in next ch-1 sp, ch 4, dc in same sp, *V-st in next V-st; rep from * around;
  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]
"""
    uk = """Foundation rnd: Ch N; join with ss in first ch to form a ring. [N ch]
Rnd 1: Ch 4 (counts as tr, ch 1), tr in same ch, *miss 2 ch, V-st in next ch; rep from * around;
  join with ss in 3rd ch of beg ch-4. [N/3 V-sts, 2N/3 tr]
Rnd 2: Ss in next ch-1 sp, ch 4, tr in same sp, *V-st in next V-st; rep from * around;
  join with ss in 3rd ch of beg ch-4. [N/3 V-sts]
"""
    twins(check, us, uk)
    worked = counts(check(HEADER.format(terms="UK") + uk), 24, "Cuff", "Rnd 2")
    # the V-st of a UK text is tr, ch 1, tr
    assert worked.items() >= {"V-st": 8, "tr": 16, "ch-1 sp": 8}.items()


def test_bare_chains_count_by_the_same_heights(check: Check) -> None:
    us = """Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 2, hdc in same ch, hdc in each ch around; join with sl st in top of beg ch. [N + 1 hdc]
Rnd 2: Ch 3, dc in same st, dc in each st around; join with sl st in top of beg ch. [N + 2 dc]
Rnd 3: Ch 4, tr in same st, tr in each st around; join with sl st in top of beg ch. [N + 3 tr]
Rnd 4: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N + 3 sc]
"""
    uk = """Foundation rnd: Ch N; join with ss in first ch to form a ring. [N ch]
Rnd 1: Ch 2, htr in same ch, htr in each ch around; join with ss in top of beg ch. [N + 1 htr]
Rnd 2: Ch 3, tr in same st, tr in each st around; join with ss in top of beg ch. [N + 2 tr]
Rnd 3: Ch 4, dtr in same st, dtr in each st around; join with ss in top of beg ch. [N + 3 dtr]
Rnd 4: Ch 1, dc in same st, dc in each st around; join with ss in first dc. [N + 3 dc]
"""
    twins(check, us, uk)


def test_shells_of_treble(check: Check) -> None:
    us = """Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 1, sc in same ch, sk 2 ch, shell in next ch, sk 2 ch, *sc in next ch, sk 2 ch, 5 dc in next ch,
  sk 2 ch;
  rep from * around; join with sl st in first sc. [N/6 sc, N/6 shells]
"""
    uk = """Foundation rnd: Ch N; join with ss in first ch to form a ring. [N ch]
Rnd 1: Ch 1, dc in same ch, miss 2 ch, shell in next ch, miss 2 ch, *dc in next ch, miss 2 ch,
  5 tr in next ch, miss 2 ch;
  rep from * around; join with ss in first dc. [N/6 dc, N/6 shells]
"""
    twins(check, us, uk)
    assert (
        counts(check(HEADER.format(terms="UK") + uk), 24, "Cuff", "Rnd 1").items()
        >= {"shell": 4, "tr": 20, "dc": 4}.items()
    )


def test_post_stitches(check: Check) -> None:
    us = """Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 3 (counts as dc), dc in each ch around; join with sl st in top of beg ch. [N dc]
Rnd 2: Ch 3 (counts as dc), FPdc around next dc, *BPdc around next dc, FPdc around next dc; rep from * around;
  join with sl st in top of beg ch. [N/2 FPdc, N/2 - 1 BPdc]
"""
    uk = """Foundation rnd: Ch N; join with ss in first ch to form a ring. [N ch]
Rnd 1: Ch 3 (counts as tr), tr in each ch around; join with ss in top of beg ch. [N tr]
Rnd 2: Ch 3 (counts as tr), FPtr around next tr, *BPtr around next tr, FPtr around next tr; rep from * around;
  join with ss in top of beg ch. [N/2 FPtr, N/2 - 1 BPtr]
"""
    twins(check, us, uk)


def test_a_gap_and_its_thumb(check: Check) -> None:
    us = """Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]

# Thumb gap
Rnd 1: Ch 3 (counts as dc), dc in next 3 sts, ch 5, sk next 5 sts, dc in each st around;
  join with sl st in top of beg ch.
  [N - 5 dc, 1 ch-5 sp]

# Hand
Rnd 1: Ch 1, sc in same st, sc in next 3 sts, sc in next 5 ch, sc in each st around;
  join with sl st in first sc. [N sc]
Fasten off.

# Bottom edging - in the foundation
Join yarn with sc in any foundation ch, sc in each foundation ch around; join with sl st in first sc. [N sc]
Fasten off.

# Thumb - around the gap
Rnd 1: Join yarn with sc in first skipped st, sc in next 4 skipped sts, 2 sc in side of next dc,
  sc in underside of next 5 ch,
  2 sc in side of next dc; join with sl st in first sc. [14 sc]
"""
    uk = """Foundation rnd: Ch N; join with ss in first ch to form a ring. [N ch]
Rnd 1: Ch 1, dc in same ch, dc in each ch around; join with ss in first dc. [N dc]

# Thumb gap
Rnd 1: Ch 3 (counts as tr), tr in next 3 sts, ch 5, miss next 5 sts, tr in each st around;
  join with ss in top of beg ch.
  [N - 5 tr, 1 ch-5 sp]

# Hand
Rnd 1: Ch 1, dc in same st, dc in next 3 sts, dc in next 5 ch, dc in each st around;
  join with ss in first dc. [N dc]
Fasten off.

# Bottom edging - in the foundation
Join yarn with dc in any foundation ch, dc in each foundation ch around; join with ss in first dc. [N dc]
Fasten off.

# Thumb - around the gap
Rnd 1: Join yarn with dc in first skipped st, dc in next 4 skipped sts, 2 dc in side of next tr,
  dc in underside of next 5 ch,
  2 dc in side of next tr; join with ss in first dc. [14 dc]
"""
    twins(check, us, uk)
    assert counts(check(HEADER.format(terms="UK") + uk), 24, "Thumb", "Rnd 1")["dc"] == 14


def test_a_group_of_the_hosts_own(check: Check) -> None:
    us = """Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 2 (counts as hdc), (dc, ch 2, hdc) in same ch, *sk 2 ch, Wake in next ch; rep from * around;
  join with sl st in top of beg ch. [N/3 Wakes, N/3 dc, 2N/3 hdc]
"""
    uk = """Foundation rnd: Ch N; join with ss in first ch to form a ring. [N ch]
Rnd 1: Ch 2 (counts as htr), (tr, ch 2, htr) in same ch, *miss 2 ch, Wake in next ch; rep from * around;
  join with ss in top of beg ch. [N/3 Wakes, N/3 tr, 2N/3 htr]
"""
    header = (
        "Title: Wake Cuff\nTerms: {}\nFoundation: 24 (30), "
        "multiple of 6\nSpecial stitch: Wake = {}\n\n# Cuff\n"
    )
    american = check(header.format("US", "(hdc, dc, ch 2, hdc) in one place") + us)
    british = check(header.format("UK", "(htr, tr, ch 2, htr) in one place") + uk)
    proved_clean(american)
    proved_clean(british)
    assert tally(british, TO_US) == tally(american)
    assert counts(american, 24, "Cuff", "Rnd 1").items() >= {"Wake": 8, "dc": 8, "hdc": 16}.items()


def test_foundation_dc_in_uk_terms(check: Check) -> None:
    def text(terms: str, start: str, stitch: str, join: str) -> str:
        return (
            f"Title: No Chain\nTerms: {terms}\nFoundation: 28\n\n# Cuff\n"
            f"Foundation rnd: {start} 28; join with {join} in first {stitch} to form a ring.\n"
            f"Rnd 1: Ch 1, {stitch} in same st, {stitch} in each {stitch} around; "
            f"join with {join} in first {stitch}. [28 {stitch}]\n"
        )

    british = check(text("UK", "Fdc", "dc", "ss"))
    assert counts(british, 28, "Cuff", "Rnd 1")["dc"] == 28
    american = check(text("US", "Fsc", "sc", "sl st"))
    proved(american)
    proved(british)
    assert tally(british, TO_US) == tally(american)
