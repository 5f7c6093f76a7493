"""Several gaps: two in one round, and two in sections of their own, each worked around by its name."""

from collections.abc import Callable
from typing import Any

from tests.craft.expect import counts, only_finding, proved_clean

Check = Callable[..., dict[str, Any]]

TWO_IN_ONE_ROUND = """\
Title: Cleat Bracers
Foundation: 24, multiple of 4
Custom: 20 to 40

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]

# Finger gaps
Rnd 1: Ch 1, sc in same st, sc in next 2 sts, ch 6, sk next 3 sts, sc in next 3 sts, ch 6, sk next 3 sts,
  sc in each st around; join with sl st in first sc. [N - 6 sc, 2 ch-6 sps]
Fasten off.

# Thumb - around the first gap
Rnd 1: Join yarn with sc in first skipped st, sc in next 2 skipped sts, sc in side of next sc,
  sc in underside of next 6 ch, sc in side of next sc; join with sl st in first sc. [11 sc]
Fasten off.

# Finger - around the 2nd gap
Rnd 1: Join yarn with sc in first skipped st, sc in next 2 skipped sts, 2 sc in side of next sc,
  sc in underside of next 6 ch, 2 sc in side of next sc; join with sl st in first sc. [13 sc]
Fasten off.
"""


def test_two_gaps_in_one_round(check: Check) -> None:
    report = check(TWO_IN_ONE_ROUND)
    proved_clean(report)
    # 24 sc less twice 3 skipped
    assert counts(report, 24, "Finger gaps", "Rnd 1") == {"sc": 18, "ch-6 sp": 2, "sts": 18}
    # 3 below, a side, 6 under the chains, a side: 11; with two in each side 13
    assert counts(report, 24, "Thumb", "Rnd 1")["sc"] == 11
    assert counts(report, 24, "Finger", "Rnd 1")["sc"] == 13


def test_a_third_gap_is_not_there(check: Check) -> None:
    finding = only_finding(check(TWO_IN_ONE_ROUND.replace("around the 2nd gap", "around the 3rd gap")))
    assert (finding["kind"], finding["words"]) == ("place", "# Finger - around the 3rd gap")


def test_two_gaps_in_sections_of_their_own(check: Check) -> None:
    report = check("""\
Title: Bollard Mitts
Foundation: 24, multiple of 4
Custom: 20 to 40

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]

# Wrist gap
Rnd 1: Ch 1, sc in same st, sc in next 2 sts, ch 4, sk next 4 sts, sc in each st around;
  join with sl st in first sc.

# Hand
Rnd 1: Ch 1, sc in same st, sc in each st and ch around; join with sl st in first sc. [N sc]

# Thumb gap
Rnd 1: Ch 1, sc in same st, sc in next 6 sts, ch 5, sk next 5 sts, sc in each st around;
  join with sl st in first sc.
Fasten off.

# Thumb - around the thumb gap
Rnd 1: Join yarn with sc in first skipped st, sc in next 4 skipped sts, sc in side of next sc,
  sc in underside of next 5 ch, sc in side of next sc; join with sl st in first sc. [12 sc]
Fasten off.

# Flap - around the wrist gap
Rnd 1: Join yarn with sc in first skipped st, sc in next 3 skipped sts, sc in side of next sc,
  sc in underside of next 4 ch, sc in side of next sc; join with sl st in first sc. [10 sc]
Fasten off.
""")
    proved_clean(report)
    # 5 below, a side, 5 chains, a side: 12; 4 below, a side, 4 chains, a side: 10
    assert counts(report, 24, "Thumb", "Rnd 1")["sc"] == 12
    assert counts(report, 24, "Flap", "Rnd 1")["sc"] == 10
