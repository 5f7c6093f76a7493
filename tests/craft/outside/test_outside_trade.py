"""Facts of the trade that no page was cited for: common practice, no source."""

import pytest

from tests.craft.expect import Check, counts, formula, proved_clean

HEADER = "Title: Vee Mitts\nFoundation: {foundation}, multiple of 3\nCustom: 18 to 60\n\n"
CUFF = """# Cuff
Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk 2 ch, V-st in next ch; rep from * around;
  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]
Rnds 2 and 3: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, *V-st in next V-st;
  rep from * around;
  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]
"""
GAP = """
# Thumb gap
Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, V-st in next V-st, ch 5, sk next V-st,
  *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4. [N/3 - 1 V-sts, 1 ch-5 sp]

# Hand
Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, V-st in next V-st,
  V-st in 3rd ch of next ch-5,
  *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]
"""
EDGINGS = """
# Top edging
Rnd 1: Ch 1, sc in same st, sc in each st and ch-1 sp around; join with sl st in first sc. [N sc]
Fasten off.

# Bottom edging - in the foundation
Join yarn with sc in any foundation ch, sc in each foundation ch around; join with sl st in first sc. [N sc]
Fasten off.
"""
THUMB = """
# Thumb - around the gap
Rnd 1: Join yarn with sl st in skipped V-st, ch 4 (counts as dc, ch 1), dc in same sp,
  V-st in side of next dc,
  V-st in underside of 3rd ch of ch-5, V-st in side of next dc;
  join with sl st in 3rd ch of beg ch-4. [4 V-sts]
Rnd 2: Ch 1, sc in same st, sc in each st and ch-1 sp around; join with sl st in first sc. [12 sc]
Fasten off.
"""


# Common practice, no source: V-stitches fit around any multiple of three chains, one for each three
@pytest.mark.parametrize(("chains", "v_stitches"), [(21, 7), (24, 8), (27, 9), (60, 20)])
def test_a_third_as_many_v_stitches_as_chains(check: Check, chains: int, v_stitches: int) -> None:
    report = check(HEADER.format(foundation=chains) + CUFF)
    proved_clean(report)
    for label in ("Rnd 1", "Rnd 2", "Rnd 3"):
        assert counts(report, chains, "Cuff", label)["V-st"] == v_stitches
        assert formula(report, "Cuff", label)["V-st"] == "N/3"
    assert report["counts_tried"] == list(range(18, 61, 3))


# Common practice, no source: four chains at the beginning of a round of V-stitches stand for a dc and a chain
@pytest.mark.parametrize("chain", ["Ch 4", "Ch 4 (counts as dc, ch 1)"])
def test_four_chains_are_a_dc_and_a_chain(check: Check, chain: str) -> None:
    report = check(HEADER.format(foundation=24) + CUFF.replace("Ch 4 (counts as dc, ch 1)", chain))
    proved_clean(report)
    # 8 V-sts of 2 dc and a space, the first half of the first one chains
    assert (
        counts(report, 24, "Cuff", "Rnd 1").items() >= {"V-st": 8, "dc": 16, "ch-1 sp": 8, "sts": 16}.items()
    )


# Common practice, no source: five chains over one skipped V-stitch make a gap that takes one V-stitch from
# its round, and a V-stitch in the middle one of the five gives it back in the next
@pytest.mark.parametrize(("chains", "v_stitches"), [(21, 7), (24, 8)])
def test_the_gap_takes_one_and_the_next_round_gives_it_back(
    check: Check, chains: int, v_stitches: int
) -> None:
    report = check(HEADER.format(foundation=chains) + CUFF + GAP)
    proved_clean(report)
    assert (
        counts(report, chains, "Thumb gap", "Rnd 1").items() >= {"V-st": v_stitches - 1, "ch-5 sp": 1}.items()
    )
    assert counts(report, chains, "Hand", "Rnd 1")["V-st"] == v_stitches
    assert formula(report, "Thumb gap", "Rnd 1")["V-st"] == "N/3 - 1"


# Common practice, no source: edgings of single crochet at both ends have one stitch for each foundation chain
@pytest.mark.parametrize("chains", [21, 24])
def test_edgings_have_as_many_stitches_as_the_foundation_has_chains(check: Check, chains: int) -> None:
    report = check(HEADER.format(foundation=chains) + CUFF + GAP + EDGINGS)
    proved_clean(report)
    assert counts(report, chains, "Top edging", "Rnd 1")["sc"] == chains
    assert counts(report, chains, "Bottom edging", "")["sc"] == chains
    assert formula(report, "Top edging", "Rnd 1")["sc"] == "N"
    assert formula(report, "Bottom edging", "")["sc"] == "N"


# Common practice, no source: four V-stitches around the gap take an edging of twelve single crochet
@pytest.mark.parametrize("chains", [21, 24])
def test_a_thumb_of_four_v_stitches_is_edged_by_twelve(check: Check, chains: int) -> None:
    report = check(HEADER.format(foundation=chains) + CUFF + GAP + EDGINGS + THUMB)
    proved_clean(report)
    assert counts(report, chains, "Thumb", "Rnd 1").items() >= {"V-st": 4, "dc": 8, "ch-1 sp": 4}.items()
    assert counts(report, chains, "Thumb", "Rnd 2")["sc"] == 12
    assert formula(report, "Thumb", "Rnd 2")["sc"] == "12"
