"""Where a row begins: `next st` is its first stitch, unless a beginning chain that counts stands there."""

from __future__ import annotations

from typing import Any

import pytest

from server.craft.fabric.report import check

BAND = """Title: Lane Band
Terms: US
Foundation: {chains}
Pieces: one
Worked: rows

# Band
Foundation: Ch {chains}.
Row 1: {first}; turn. [{count}]
Row 2: {row}; turn. [{count}]
"""
SC = "Sc in 2nd ch from hook and in each ch across"
DC = "Dc in 4th ch from hook (skipped ch count as dc) and in each ch across"


def findings(row: str, first: str = SC, chains: int = 15, count: str = "14 sts") -> list[dict[str, Any]]:
    text = BAND.format(row=row, first=first, chains=chains, count=count)
    found: list[dict[str, Any]] = check(text)["findings"]
    return found


@pytest.mark.parametrize(
    "row",
    [
        "Ch 1, *sc in next st, hdc in next st; rep from * across",
        "Ch 1, *sc in FLO of next st, sc in BLO of next st; rep from * across",
        "Ch 1, sc in next 14 sts",
        "Ch 1, sc in next st, sc in each st across",
        "Ch 2 (does not count as a st), *dc in next st, sc in next st; rep from * across",
    ],
)
def test_next_at_the_head_is_the_first_stitch(row: str) -> None:
    assert findings(row) == []


def test_behind_a_chain_that_counts_it_is_the_second() -> None:
    """Worked by hand: 14 chains and the three that count make 15 places, the beginning chain one of them."""
    assert findings("Ch 3 (counts as dc), dc in next 14 sts", DC, 17, "15 dc") == []
    (over,) = findings("Ch 3 (counts as dc), dc in next 15 sts", DC, 17, "15 dc")
    assert over["severity"] == "error"


def test_one_too_many_from_the_head_on_is_found() -> None:
    (over,) = findings("Ch 1, sc in next 15 sts")
    assert over["severity"] == "error"


@pytest.mark.parametrize("many", [2, 12])
def test_few_or_many_begin_at_the_same_stitch(many: int) -> None:
    """What is left of the 14 is behind them and closes the row."""
    assert findings(f"Ch 1, sc in next {many} sts, hdc in next {14 - many} sts") == []
