"""A proof for every multiple is held against counts that were never worked to make it."""

from __future__ import annotations

from pathlib import Path

import pytest

from server.craft.fabric import prove
from server.craft.fabric.induction import _shorter_way

CASES = sorted((Path(__file__).parents[2] / "cases" / "proved").glob("*.txt"))
TUBE = """\
Title: Fender Cuff
Foundation: {foundation}
Custom: {custom}

# Cuff
Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]
Rnd 2: Ch 3, dc in next st, {rnd}; join with sl st in top of beg ch.
"""
RIB = "*FPdc around next st, dc in next st; rep from * around"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_beyond_the_counts_worked_it_comes_out_too(case: Path) -> None:
    text = case.read_text(encoding="utf-8")
    proof = prove(text)
    every = proof.every_multiple
    if every is None or proof.multiple is None:
        return
    beyond = tuple(every.upto + more * proof.multiple for more in (1, 2, 3, 5, 7, 12))
    further = prove(text, beyond)
    assert set(beyond) <= set(further.counts_tried)
    assert [finding.message for finding in further.findings if finding.is_error] == []
    linear = {(row.section, row.label): row.formulas for row in proof.rows}
    # what was a line in N over the range is that line beyond it
    assert {key: linear[key] for key in linear} == {
        (row.section, row.label): row.formulas for row in further.rows
    }


def test_most_proved_cases_with_custom_counts_have_the_proof() -> None:
    texts = [case.read_text(encoding="utf-8") for case in CASES]
    proofs = [proof for proof in map(prove, texts) if proof.multiple is not None]
    assert len(proofs) >= 15
    assert sum(proof.every_multiple is not None for proof in proofs) >= len(proofs) * 0.8


def test_a_size_far_from_the_range_says_nothing_of_the_counts_between() -> None:
    proof = prove(TUBE.format(foundation="20 (60), multiple of 2", custom="50 to 70", rnd=RIB))
    assert proof.proved
    assert proof.every_multiple is not None
    assert (proof.every_multiple.least, proof.every_multiple.upto) == (50, 70)


def test_two_counts_are_no_induction() -> None:
    proof = prove(TUBE.format(foundation="20, multiple of 2", custom="20 to 22", rnd=RIB))
    assert proof.proved
    assert proof.every_multiple is None


@pytest.mark.parametrize(
    ("step", "places", "way"),
    [
        (1, 24, 1),
        (-23, 24, 1),
        (-2, 24, -2),
        (22, 24, -2),
        (12, 24, 12),
        (-12, 24, 12),
        (-60, None, -60),
        (0, 1, 0),
    ],
)
def test_a_step_over_the_beginning_is_a_step_like_any_other(step: int, places: int | None, way: int) -> None:
    assert _shorter_way(step, places) == way
