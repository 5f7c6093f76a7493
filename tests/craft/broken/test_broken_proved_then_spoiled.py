"""Proved patterns with one stated number spoiled: always found, wherever it stands."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.craft.fabric.report import check
from tests.craft.broken.expect_broken import clean, mended, only_fault

BASES = {
    # 24 (30, 36): rnd 2 three dc in every third place; rnd 5 six places give 4 sc and a decrease
    "sizes": """Title: Estuary Wristers
Sizes: small (medium, large)
Foundation: 24 (30, 36), multiple of 6
Custom: none

# Cuff
Foundation rnd: Ch 24 (30, 36); join with sl st in first ch to form a ring. [24 (30, 36) ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (30, 36) sc]
Rnd 2: Ch 3 (counts as dc), 2 dc in same st, *sk 2 sts, 3 dc in next st; rep from * around;
  join with sl st in top of beg ch. [24 (30, 36) dc]
Rnds 3 and 4: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [24 (30, 36) sts]
Rnd 5: Ch 1, sc in same st, sc in next 3 sts, sc2tog, *sc in next 4 sts, sc2tog; rep from * around;
  join with sl st in first sc. [16 (20, 24) sc, 4 (5, 6) sc2tog]
""",
    # 24 / 3 = 8 spaces, 3 sc in each; rnd 3 again
    "mesh": """Title: Estuary Mesh
Foundation: 24, multiple of 3
Custom: none

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 1, sc in same ch, ch 3, sk 2 ch, *sc in next ch, ch 3, sk 2 ch; rep from * around;
  join with sl st in first sc. [8 sc, 8 ch-3 sps]
Rnd 2: Sl st in next ch-3 sp, ch 1, 3 sc in same sp, *3 sc in next ch-3 sp; rep from * around;
  join with sl st in first sc. [24 sc]
Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [24 sc]
Rnd 4: rep rnd 3.
""",
    # 12 (14) dc, twice as many
    "crown": """Title: Estuary Crown
Sizes: child (grown)
Foundation: none
Pieces: one

# Crown
Rnd 1: Ch 3 (counts as dc), 11 (13) dc in ring; join with sl st in top of beg ch. [12 (14) dc]
Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around;
  join with sl st in top of beg ch. [24 (28) dc]
""",
    # 4 places give 5 sc
    "spiral": """Title: Estuary Tube
Foundation: 24, multiple of 4
Custom: none
Worked: spiral

# Tube
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Sc in each ch around. [24 sc]
Rnd 2: *Sc in next 3 sts, 2 sc in next st; rep from * around. [30 sc]
Rnd 3: Sc in each st around. [30 sc]
""",
    # 14 chains: three passed count as a dc, 11 are worked
    "rows": """Title: Estuary Strip
Foundation: 14
Worked: rows

# Strip
Foundation row: Ch 14.
Row 1: Dc in 4th ch from hook, dc in each ch across, turn. [12 dc]
Row 2: Ch 1, sc in each st across, turn. [12 sc]
""",
}


def stated_numbers(text: str) -> list[tuple[int, int]]:
    """Where each number of a stated count begins and ends; the length of a `ch-3 sp` is none."""
    return [
        (bracket.start() + number.start(), bracket.start() + number.end())
        for bracket in re.finditer(r"\[\d[^\]]*\]", text)
        for number in re.finditer(r"(?<![-\w])\d+\b", bracket.group())
    ]


def test_the_numbers_are_found() -> None:
    # sizes: 5 lists of three and two more in rnd 5; mesh 1 + 2 + 1 + 1; crown 2 + 2; spiral 4; rows 2
    assert {name: len(stated_numbers(text)) for name, text in BASES.items()} == {
        "sizes": 18, "mesh": 5, "crown": 4, "spiral": 4, "rows": 2,
    }  # fmt: skip


@pytest.mark.parametrize("name", sorted(BASES))
def test_the_patterns_themselves_are_right(name: str) -> None:
    clean(check, BASES[name])


SPOTS = [(name, begin, end) for name in sorted(BASES) for begin, end in stated_numbers(BASES[name])]


@settings(max_examples=60, deadline=None)
@given(spot=st.sampled_from(SPOTS), by=st.integers(-1, 6).filter(bool))
def test_a_spoiled_count_is_always_found(spot: tuple[str, int, int], by: int) -> None:
    name, begin, end = spot
    base = BASES[name]
    wrong = str(int(base[begin:end]) + by)
    text = base[:begin] + wrong + base[end:]
    found = only_fault(check, text, "count", words=wrong)
    assert found["line"] == text.count("\n", 0, begin) + 1
    assert len(found["foundations"]) == 1
    assert wrong in found["stated"]
    assert found["mend"] is not None
    clean(check, mended(text, found))
