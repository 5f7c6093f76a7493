"""A piece has limits: what a few words could unroll without end is a finding, at once."""

from __future__ import annotations

from typing import Any

import pytest

from server.craft.fabric import doing, prove
from server.craft.fabric.working import Working
from server.craft.text.findings import Finding
from server.craft.text.proposing import propose
from server.craft.text.tree import Instruction

HEAD = """\
Title: Whole Ocean
Sizes: small (large)
Foundation: 24 (28), multiple of 4

# Cuff
Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
"""


def the_error(text: str) -> Finding:
    """The one error of a text."""
    (found,) = (one for one in prove(text).findings if one.is_error)
    return found


@pytest.mark.parametrize(
    ("round_text", "code"),
    [
        ("Ch 999999999, sc in next st; join.", "too-large"),
        ("Ch 1, [[ch 1] 9999 times] 9999 times; join.", "too-large"),
        ("Ch 1, [[picot] 9999 times, sc in same st] 9999 times; join.", "too-large"),
        ("Ch 1, 9999 dc in each st around; join.", "too-large"),
        ("Ch 1, sc in next 99999999999 (999999999999) sts; join.", "too-large"),
        ("Ch " + "9" * 4000 + "; join.", "too-large"),
        ("Ch 1, [[sc in next st, ch 1] 9999 times] 9999 times; join.", "too-much"),
    ],
)
def test_a_number_without_end_is_a_finding_of_its_round(round_text: str, code: str) -> None:
    found = the_error(f"{HEAD}Rnd 1: {round_text}")
    assert (found.code, found.line) == (code, 7)


def test_rounds_without_end_are_a_finding() -> None:
    once = "Rnd 1: Ch 1, sc in same st, sc in each st around; join."
    assert the_error(f"{HEAD}{once}\nRnds 2 to 999999999: rep rnd 1.").code == "too-large"


@pytest.mark.parametrize(
    ("key", "line"),
    [
        ("Custom", "Custom: 1 to 1000000"),
        ("Custom", "Custom: 999999999999 to 9999999999999"),
        ("Foundation", "Foundation: 24 (999999999999), multiple of 4"),
        ("Foundation", "Foundation: " + "9" * 4000),
    ],
)
def test_counts_without_end_are_a_finding_of_their_line(key: str, line: str) -> None:
    text = HEAD.replace("Foundation: 24 (28), multiple of 4", line) if key == "Foundation" else HEAD
    text = text if key == "Foundation" else text.replace("\n\n", f"\n{line}\n\n", 1)
    assert any(one.code == "unread-value" and one.line in (3, 4) for one in prove(text).findings)


@pytest.mark.parametrize("pair", ["[]", "()", "{}"])
def test_brackets_deep_in_one_another_are_a_finding(pair: str) -> None:
    """Also so many that no reader that calls itself would come to the end of them."""
    for deep in (13, 15_000):
        text = f"{HEAD}Rnd 1: Ch 1, {pair[0] * deep}sc in next st{pair[1] * deep} 2 times; join."
        found = the_error(text)
        assert (found.code, found.line) == ("unread", 7)
        assert "at most 12 deep" in found.message


def test_twelve_deep_still_reads() -> None:
    text = f"{HEAD}Rnd 1: Ch 1, {'[' * 12}sc in next st{'] 1 times' * 12}, sc in each st around; join. [N sc]"
    assert "at most 12 deep" not in " ".join(one.message for one in prove(text).findings)


def test_more_sections_than_a_piece_has_are_one_finding() -> None:
    sections = "".join(f"# Part {n}\nRnd 1: Ch 1, sc in each st around; join.\n" for n in range(300))
    found = the_error(HEAD + sections)
    assert (found.code, found.words) == ("too-many-sections", "# Part 99")


def test_rounds_that_are_nowhere_are_sought_in_the_first_lines_only() -> None:
    sections = "".join(f"# Part {n}\nRnd 2: rep rnd 9 of Cuff.\n" for n in range(90))
    codes = [one.code for one in prove(HEAD + sections).findings]
    assert codes == ["no-such-round"] * 90


def test_more_special_stitches_than_a_pattern_has_are_one_finding() -> None:
    lines = "".join(f"Special stitch: Fan{n} = (dc, ch 1, dc) in one place\n" for n in range(300))
    found = the_error(HEAD.replace("\n\n", f"\n{lines}\n", 1))
    assert (found.code, found.line) == ("too-many-specials", 64)


def test_long_lines_are_read_to_their_beginning_for_a_header() -> None:
    """The words for a yarn that stand at a line's head are found; those far behind it are not sought."""
    yarn = "Yarn - 60 g of worsted weight wool"
    assert any(one.key == "Yarn" for one in propose(f"{yarn}, {'and so on ' * 6000}"))
    assert not any(one.key == "Yarn" for one in propose(f"{'and so on ' * 6000}, {yarn}"))


@pytest.mark.parametrize(
    "turns",
    [
        "[sc in same st as beg ch] 9999 times",
        "[[sc in same st] 99 times] 99 times",
        "[sl st in first sc] 9999 times",
        "[ch 1, sc in first st] 9000 times",
        "[FPdc around same st, ch 1] 9000 times",
        "*ch 2, sc in same st; rep from * 6000 times more",
        "[picot] 9999 times",
        "6000 V-st in same st",
    ],
)
def test_turns_that_do_not_move_the_hook_are_not_carried_out_one_by_one(
    turns: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At a hundred counts there are a hundred thousand of them and more before the limit is reached."""
    carried_out: list[object] = []
    one = doing._one

    def noted(work: Working, item: Instruction, *others: Any, **more: Any) -> None:
        carried_out.append(item)
        one(work, item, *others, **more)

    monkeypatch.setattr(doing, "_one", noted)
    head = HEAD.replace("multiple of 4\n", "multiple of 4\nCustom: 12 to 400\n")
    rounds = ("sc in each ch around; join.", f"sc in same st, {turns}, sc in each st around; join.")
    text = head + "\n".join(f"Rnd {at}: Ch 1, {words}" for at, words in enumerate(rounds, 1))
    assert "too-large" in {one.code for one in prove(text).findings}
    assert len(carried_out) < 4000
