"""A host's table of sizes: shares of the population, gaps, and the fewest counts that do."""

from __future__ import annotations

import pytest

from server.craft.measure.counts import AllowedCounts
from server.craft.measure.gauge import swatch
from server.craft.measure.handtables import glove_sizes
from server.craft.measure.sizetables import population, proposed_sizes, size_table

FOURS = AllowedCounts((24, 28, 32), 4)


# Share of each group nearest to an EN size (derived from the ANSUR II rows, reference page, section 3.2).
NEAREST = [
    ("women", 6, 0.009), ("women", 7, 0.679), ("women", 8, 0.313),
    ("men", 7, 0.015), ("men", 8, 0.647), ("men", 9, 0.335), ("men", 10, 0.003),
]  # fmt: skip


@pytest.mark.parametrize(("who", "size", "share"), NEAREST)
def test_shares_of_en_sizes_are_those_of_the_raw_rows(who: str, size: int, share: float) -> None:
    """A normal made of mean and SD gives what counting the measured people gives, within 3 in 100."""
    sizes = {each.number: each.around_mm for each in glove_sizes()}
    low, high = (sizes[size - 1] + sizes[size]) / 2, (sizes[size] + sizes[size + 1]) / 2
    assert population(who).share(low, high) == pytest.approx(share, abs=0.03)


def test_a_table_worked_by_hand() -> None:
    """At 14 in 10 cm 24 chains are 171.4 mm: right for hands to 190.5; 28: 200 to 222.2. Women: mean 186.55,
    SD 8.82: z = −1.72 and 0.45 hold 63.0 %, 1.525 and 4.04 hold 6.4 %; between lie 0.45 to 1.525, 26.3 %.
    """
    table = size_table([28, 24], swatch(14, 100), population("women"))
    assert [row.foundation for row in table.rows] == [24, 28]
    assert table.rows[0].share == pytest.approx(0.630, abs=0.002)
    assert table.rows[1].share == pytest.approx(0.064, abs=0.002)
    (gap,) = table.gaps
    assert (gap.after, gap.before) == (24, 28)
    assert gap.from_mm == pytest.approx(190.48, abs=0.01)
    assert gap.to_mm == pytest.approx(200.0)
    assert gap.share == pytest.approx(0.263, abs=0.002)
    assert "fit neither" in " ".join(table.says)


@pytest.mark.parametrize("who", ["women", "men", "adults", "children", "child 8", "children 6 to 9"])
@pytest.mark.parametrize("multiple", [1, 2, 3, 4, 6])
def test_shares_add_up(who: str, multiple: int) -> None:
    counts = AllowedCounts((), multiple)
    table = proposed_sizes(counts, swatch(15, 100), population(who))
    total = table.covered + table.below + table.above + sum(gap.share for gap in table.gaps)
    assert total == pytest.approx(1)
    assert all(counts.allows(row.foundation) for row in table.rows)
    assert all(row.only <= row.share + 1e-12 for row in table.rows)
    # No row is idle: each is right for somebody that no other in the table is right for.
    assert all(row.only > 0.001 for row in table.rows)


def test_a_fine_multiple_leaves_no_gap_and_a_coarse_one_says_where() -> None:
    fine = proposed_sizes(AllowedCounts((), 1), swatch(16, 100), population("women"))
    assert fine.gaps == ()
    assert fine.covered > 0.94
    coarse = proposed_sizes(AllowedCounts((), 6), swatch(14, 100), population("women"))
    assert coarse.gaps
    assert coarse.covered < fine.covered


def test_quantiles_are_those_of_the_population() -> None:
    people = population("adults")
    for share in (0.025, 0.5, 0.975):
        assert people.share(0, people.quantile(share)) == pytest.approx(share, abs=0.001)


@pytest.mark.parametrize("who", ["", "dogs", "child", "child 30", "children 9 to 6", "children 1 to 4"])
def test_another_population_says_what_there_is(who: str) -> None:
    with pytest.raises(ValueError, match="children 6 to 9"):
        population(who)
