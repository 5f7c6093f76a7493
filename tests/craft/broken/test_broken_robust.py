"""Whatever is pasted, the engine answers with findings; it neither hangs nor raises."""

import json
from typing import Any

import pytest

from server.craft.fabric.report import check
from tests.craft.broken.expect_broken import brief, clean, only_fault, sound, whole
from tests.craft.broken.guarded import guarded


def answer(text: str) -> dict[str, Any]:
    """The report, which must come and be fit for JSON."""
    with guarded():
        report: dict[str, Any] = check(text)
    assert json.loads(json.dumps(report)) == report
    whole(report)
    return report


HEAD = """Title: Bittern Cuff
Foundation: 24, multiple of 6
Custom: none

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
"""
NINES = "9" * 5000


@pytest.mark.parametrize(
    "rnd",
    [
        "Ch 1000000000, sc in each st around; join with sl st in first sc.",
        f"Ch {NINES}, sc in each st around; join with sl st in first sc.",
        "Ch 1, 1000000000 sc in same st, sc in each st around; join with sl st in first sc. [24 sc]",
        "Ch 1, sc in same st, sc in next 1000000000 sts; join with sl st in first sc.",
        f"Ch 1, sc in same st, sc in next {NINES} sts; join with sl st in first sc.",
        "Ch 1, sc in same st, sk 1000000000 sts, sc in next st; join with sl st in first sc.",
        "Ch 1, [sc in same st] 1000000000 times; join with sl st in first sc.",
        "Ch 1, [[sc in same st] 100000 times] 100000 times; join with sl st in first sc.",
        "Ch 1, sc in same st, [ch 1, [ch 1] 100000 times] 100000 times; join with sl st in first sc.",
        "Ch 1, sc in same st, *[ch 1, sk 1 st] 100000 times; rep from * 100000 times more.",
        "Ch 1, sc in same st, sc in 1000000000th ch of next ch-3; join with sl st in first sc.",
        "Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [1000000000 sc]",
        f"Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [{NINES} sc]",
        "Ch 1, sc in same st, sc in next 1000000000N sts; join with sl st in first sc.",
        "Ch 1, sc in same st, sc in next N/0 sts; join with sl st in first sc.",
        "Ch 1, sc in same st, sc in next N - 1000 sts, sc in each st around; join with sl st in first sc.",
        "Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N/0 sc]",
    ],
    ids=lambda rnd: rnd[:60],
)  # fmt: skip
def test_huge_and_impossible_numbers(rnd: str) -> None:
    report = answer(f"{HEAD}Rnd 2: {rnd}\n")
    assert report["proved"] is False


@pytest.mark.parametrize(
    ("rnd", "words"),
    [
        ("Ch 1, sc in 0th st, sc in each st around; join with sl st in first sc.", "0th"),
        ("Ch 1, sc in same st, sk 0th st, sc in each st around; join with sl st in first sc.", "0th"),
        ("Ch 1, sc in each 0th st around; join with sl st in first sc.", "0th"),
        ("Ch 1, sc in same st, sc in 00th skipped st, sc in each st around; join.", "00th"),
        ("Ch 1, sc in same st, sc in each st around; join with sl st in 0th st.", "0th"),
        ("Ch 1, sc in same st, sc in 0th ch of beg ch-3; join with sl st in first sc.", "0th"),
    ],
)
def test_no_place_stands_before_the_first(rnd: str, words: str) -> None:
    report = answer(f"{HEAD}Rnd 2: {rnd}\n")
    (found,) = [one for one in report["findings"] if one["severity"] == "error"]
    assert (found["kind"], found["words"]) == ("syntax", words)


@pytest.mark.parametrize(
    "rnd",
    [
        "Ch 1, sc in same st, *ch 3; rep from * around; join with sl st in first sc.",
        "Ch 1, *sc in same st; rep from * around; join with sl st in first sc.",
        "Ch 1, sc in same st, [ch 1] around; join with sl st in first sc.",
        "Ch 1, sc in same st, *ch 1; rep from * to last 2 sts, sc in last 2 sts; join with sl st in first sc",
        "Ch 1, sc in same st, *sk 0 sts; rep from * around; join with sl st in first sc.",
        "Ch 1, sc in same st, *[sk 1 st] 0 times, ch 1; rep from * around; join with sl st in first sc.",
    ],
)
def test_a_repeat_that_never_moves_on(rnd: str) -> None:
    report = answer(f"{HEAD}Rnd 2: {rnd}\n")
    assert report["proved"] is False


@pytest.mark.parametrize(
    "rounds",
    [
        "Rnds 2 to 1000000000: Ch 1, sc in same st, sc in each st around; join with sl st in first sc.\n",
        f"Rnds 2 to {NINES}: Ch 1, sc in same st, sc in each st around; join with sl st in first sc.\n",
        # twice as many each round: 24 x 2^58 in the last
        "Rnds 2 to 60: Ch 1, 2 sc in same st, 2 sc in each st around; join with sl st in first sc.\n",
        "Rnd 2: rep rnd 3.\nRnd 3: rep rnd 2.\n",
        "Rnds 2 and 3: rep rnds 2 and 3.\n",
        "Rnds 2 to 1: Ch 1, sc in same st, sc in each st around; join with sl st in first sc.\n",
    ],
    ids=lambda rounds: rounds[:40],
)
def test_rounds_without_end(rounds: str) -> None:
    report = answer(HEAD + rounds)
    assert report["proved"] is False


@pytest.mark.parametrize("mark", ["[", "(", "{", "*", "**", "]", ")", "[(", "(*"])
def test_brackets_thousands_deep(mark: str) -> None:
    report = answer(f"{HEAD}Rnd 2: Ch 1, {mark * 3000}sc in next st; join with sl st in first sc.\n")
    assert report["proved"] is False


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("Foundation: 24, multiple of 6", "Foundation: 1000000000, multiple of 4"),
        ("Foundation: 24, multiple of 6", f"Foundation: {NINES}, multiple of 6"),
        ("Foundation: 24, multiple of 6", f"Foundation: 24, multiple of {NINES}"),
        ("Custom: none", "Custom: 6 to 1000000000"),
        ("Custom: none", f"Custom: 6 to {NINES}"),
        ("multiple of 6\nCustom: none", "multiple of 1\nCustom: 1 to 1000000000"),
    ],
    ids=lambda text: text[:60],
)  # fmt: skip
def test_huge_headers(old: str, new: str) -> None:
    text = HEAD.replace(old, new).replace("Ch 24;", "Ch N;").replace("[24 ", "[N ")
    report = answer(text)
    assert report["proved"] is False


@pytest.mark.parametrize(
    "specials",
    [
        "Special stitch: Sprawl = 1000000000 dc in one place\n",
        "Special stitch: Sprawl = (Sprawl, ch 1, Sprawl) in one place\n",
        "Special stitch: Sprawl = (Heap, Heap) in one place\n"
        "Special stitch: Heap = (Sprawl, Sprawl) in one place\n",
        "Special stitch: Sprawl = (dc, dc) in one place\n" * 2000,
    ],
    ids=["huge", "itself", "each other", "often"],
)
def test_special_stitches_without_end(specials: str) -> None:
    text = HEAD.replace("Custom: none\n", f"Custom: none\n{specials}")
    report = answer(text + "Rnd 2: Ch 1, sc in same st, *Sprawl in next st; rep from * around. [24 sts]\n")
    assert report["proved"] is False


def test_special_stitches_built_of_each_other_forty_times() -> None:
    # each twice the one before: 2^40 dc
    lines = ["Special stitch: Heap0 = (dc, dc) in one place"]
    lines += [f"Special stitch: Heap{n} = (Heap{n - 1}, Heap{n - 1}) in one place" for n in range(1, 41)]
    text = HEAD.replace("Custom: none\n", "Custom: none\n" + "\n".join(lines) + "\n")
    report = answer(text + "Rnd 2: Ch 1, sc in same st, Heap40 in next st, sc in each st around. [24 sts]\n")
    assert report["proved"] is False


def test_a_wide_and_long_piece_is_worked_all_the_same() -> None:
    # no limit may stand in the way of a real shawl collar: 400 sts, 60 rounds
    text = HEAD.replace("24", "402") + (
        "Rnds 2 to 60: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [402 sc]\n"
    )
    clean(check, text)


@pytest.mark.parametrize(
    "text", ["", "\n", " \t\n\n  ", "\ufeff", "#", "# Cuff", ":", "Title", "Title: Bittern Cuff"]
)
def test_next_to_nothing(text: str) -> None:
    report = answer(text)
    assert report["proved"] is False
    assert "header" in {found["kind"] for found in report["findings"]}, brief(report)


def test_a_header_and_nothing_more() -> None:
    answer(HEAD[: HEAD.index("# Cuff")])


PROSE = (
    "This cuff grew on a ferry between two islands, with salt on the windows and a thermos that leaked. "
    "The wool is from a neighbour, who keeps nine grey sheep and knows each by name. It was meant for a "
    "cousin who fishes in February, and it went to her in the end, after one lost pair and a long letter.\n\n"
)


def test_prose_alone() -> None:
    text = PROSE * (20_000 // len(PROSE) + 1)
    assert len(text) > 20_000
    report = answer(text)
    assert report["proved"] is False
    assert "header" in {found["kind"] for found in report["findings"]}, brief(report)


def test_prose_before_the_first_section_is_a_note() -> None:
    text = HEAD.replace("# Cuff", PROSE * (20_000 // len(PROSE) + 1) + "# Cuff")
    report = answer(text)
    assert report["proved"] is True, brief(report)
    assert not report["findings"], brief(report)


def test_prose_in_a_round() -> None:
    report = answer(f"{HEAD}Rnd 2: {PROSE.replace(chr(10), ' ') * 70}\n")
    assert report["proved"] is False


BROKEN = f"{HEAD}Rnd 2: Ch 1, sc in same st, sc in each st around;\n  join with sl st in first sc. [25 sc]\n"


def test_line_ends_of_another_system() -> None:
    clean(check, HEAD.replace("\n", "\r\n"))
    text = BROKEN.replace("\n", "\r\n")
    plain = only_fault(check, BROKEN, "count", on="[25 sc]", words="25")
    found = only_fault(check, text, "count", on="[25 sc]", words="25")
    assert (found["line"], found["column"], found["words"]) == (
        plain["line"],
        plain["column"],
        plain["words"],
    )
    assert "\r" not in found["words"]


def test_tabs_are_blanks() -> None:
    clean(check, HEAD.replace(", ", ",\t"))
    text = BROKEN.replace(", ", ",\t").replace("\n  join", "\n\tjoin")
    only_fault(check, text, "count", on="[25 sc]", words="25")


@pytest.mark.parametrize(
    "rnd",
    [
        "Ch 1, sc in next ² sts; join with sl st in first sc.",
        "Ch 1, sc in next ٣ sts; join with sl st in first sc.",
        "Ch 1, sc in next Ⅻ sts; join with sl st in first sc.",
        "Häkle 🧶 in jede Masche ringsum.",
        "鎖編み1目、細編みを24目。",
        "Ch 1, sc in each st around \x00; join with sl st in first sc. [24\x00 sc]",
        "Ch 1, ſc in each st around; join with ﬁrst sc. İ",
        "\u202eCh 1, sc in each st around; join with sl st in first sc.",
    ],
)
def test_signs_from_everywhere(rnd: str) -> None:
    text = f"{HEAD}Rnd 2: {rnd}\n"
    report = answer(text)
    sound(report, text)


def test_the_foundations_asked_for_may_be_anything() -> None:
    for foundations in ((), (0,), (-6,), (25,), (24, 24), (10**9,)):
        with guarded():
            report = check(HEAD, foundations)
        assert "24" in report["rounds"], foundations


MISSPELT = "Ch 1, scc in saame st, sc in eaach st aroound; joinn with sl st in firrst sc."


def test_hundreds_of_words_that_do_not_read() -> None:
    report = answer(HEAD + "".join(f"Rnd {number}: {MISSPELT}\n" for number in range(2, 230)))
    lines = {found["line"] for found in report["findings"] if found["code"] == "unread"}
    assert len(lines) == 228


def test_a_misspelt_word_far_down_a_long_text_has_its_nearest() -> None:
    text = HEAD + "".join(
        f"Rnd {number}: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [24 sc]\n"
        for number in range(2, 330)
    )
    assert len(text) > 20_000
    last = "Rnd 330: Ch 1, sc in same st, sc in each st aroun; join with sl st in first sc. [24 sc]\n"
    found = only_fault(check, text + last, "syntax", on="Rnd 330", words="aroun")
    assert found["mend"] == "around"
