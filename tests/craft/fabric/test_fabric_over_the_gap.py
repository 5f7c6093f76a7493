"""The round over a thumb gap, in the ways it is written: each stitch, so many in the space of its chains."""

from __future__ import annotations

from typing import Any

import pytest

from server.craft.fabric.report import check
from server.craft.fabric.values import Numbers
from server.craft.making import plan, sheet
from server.craft.text import read
from server.craft.text.printer import write

MITT = """Title: Quay Mitt
Terms: US
Sizes: small (medium)
Foundation: 30 (36), multiple of 6

# Hand
Foundation rnd: Ch 30 (36); join with sl st in first ch to form a ring. [30 (36) ch]
Rnd 1: Ch 1, sc in each ch around; join with sl st in first sc. [30 (36) sc]
Rnd 2: Ch 1, {gap}; join with sl st in first sc. [24 (30) sc, 1 ch-6 sp]
Rnd 3: Ch 1, {over}; join with sl st in first sc. [{count}]
"""
IN_THE_MIDDLE = "sc in next 5 sts, ch 6, sk next 6 sts, sc in each st around"
AT_THE_END = "sc in each st to last 6 sts, ch 6, sk last 6 sts"
IN_THE_SPACE = [
    "sc in each sc around, working 6 sc in the ch-6 sp",
    "sc in each sc around and 6 sc in ch-6 sp",
    "sc in each sc, and 6 sc in the ch-6 sp, around",
    "sc in each st around, working 6 sc into the ch-6 space",
    "sc in each st around, with 6 sc in the thumb gap",
    "sc evenly around, working 6 sc in ch-6 sp",
    "sc in each sc around, making 6 sc over the ch-6",
    "sc in each st around; work 6 sc in the ch-6 sp",
    "sc in each st around, working 6 sc evenly across the ch-6 sp",
    "sc in each st around, working 6 sc into ch-6 sp of thumb gap",
    "sc in each st and 6 sc into the thumb loop around",
]
WRITTEN_OUT = [
    "sc in each st to ch-6 sp, 6 sc in ch-6 sp, sc in each st around",
    "sc in each sc until you reach the ch-6 sp, 6 sc in ch-6 sp, sc in each rem sc",
    "sc to the ch sp, work 6 sc in ch sp, sc to end",
]
IN_THE_CHAINS = [
    "sc in each sc and each of the 6 ch around",
    "sc around, working 1 sc in each ch of the thumb gap",
    "sc in each st around (including the chs)",
    "sc in ea st around, working 1 sc in ea ch",
    "sc around, working into each ch of the gap",
    "sc in each st around, including the 6 ch over the thumb gap",
]


def mitt(over: str, gap: str = IN_THE_MIDDLE, count: str = "30 (36) sc") -> str:
    return MITT.format(over=over, gap=gap, count=count)


def findings(text: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = check(text)["findings"]
    return found


@pytest.mark.parametrize("over", [*IN_THE_SPACE, *IN_THE_CHAINS])
@pytest.mark.parametrize("gap", [IN_THE_MIDDLE, AT_THE_END], ids=["in the middle", "at the end"])
def test_it_proves_wherever_the_gap_is(over: str, gap: str) -> None:
    assert findings(mitt(over, gap)) == []


@pytest.mark.parametrize("over", WRITTEN_OUT)
@pytest.mark.parametrize("gap", [IN_THE_MIDDLE, AT_THE_END], ids=["in the middle", "at the end"])
def test_it_proves_written_out_up_to_the_space_and_on(over: str, gap: str) -> None:
    assert findings(mitt(over, gap)) == []


def test_where_no_space_was_gone_up_to_each_must_have_something_left() -> None:
    (only,) = findings(mitt("sc in each st and ch around, sc in each st around"))
    assert only["severity"] == "error"


@pytest.mark.parametrize("gap", [IN_THE_MIDDLE, AT_THE_END], ids=["in the middle", "at the end"])
def test_what_is_printed_of_it_proves(gap: str) -> None:
    text = mitt("sc in each sc around, working 6 sc in the ch-6 sp", gap)
    assert findings(write(read(text).pattern)) == []


@pytest.mark.parametrize("over", [*IN_THE_SPACE, *WRITTEN_OUT])
def test_one_too_few_in_the_space_is_found(over: str) -> None:
    wrong = over.replace("6 sc", "5 sc")
    assert wrong != over
    (only,) = findings(mitt(wrong))
    assert only["code"] == "count-wrong"
    assert findings(mitt(wrong, count="29 (35) sc")) == []


def test_a_space_that_is_not_there_is_told_by_its_name() -> None:
    (only,) = findings(mitt("sc in each sc around, working 6 sc in the ch-4 sp"))
    assert "ch-4 sp" in only["message"]


def test_the_maker_reads_how_many_there_are_on_either_side() -> None:
    pattern = read(mitt("sc in each sc around, working 6 sc in the ch-6 sp")).pattern
    assert plan(pattern, Numbers(36, "medium"), "US").rounds[-1].steps == (
        "Ch 1", "Sc in each of the first 5 sc", "6 sc in next ch-6 sp", "Sc in each of the next 25 sc",
        "Join with sl st in first sc",
    )  # fmt: skip
    in_uk = plan(pattern, Numbers(30, "small"), "UK").rounds[-1]
    assert in_uk.steps[1:4] == (
        "Dc in each of the first 5 dc", "6 dc in next ch-6 sp", "Dc in each of the next 19 dc"
    )  # fmt: skip


def test_it_is_printed_written_out_and_reads_as_that() -> None:
    text = mitt("sc in each sc around, working 6 sc in the ch-6 sp")
    printed = sheet(read(text).pattern, "US").sections[0].lines[-1].text
    assert printed.startswith("Ch 1, sc in each sc to ch-6 sp, 6 sc in next ch-6 sp, sc in each sc around")
    assert findings(mitt(printed.removeprefix("Ch 1, ").partition(";")[0])) == []
