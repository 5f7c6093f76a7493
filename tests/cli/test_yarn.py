"""`evenhand yarn`: amounts, her facts, whether it lasts, another yarn, one cake; exit codes and JSON."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from server.cli.commands import main
from tests.craft.measure.mitts import QUAY


@pytest.fixture
def mitts(tmp_path: Path) -> str:
    file = tmp_path / "mitts.txt"
    file.write_text(QUAY, encoding="utf-8")
    return str(file)


def _json(capsys: pytest.CaptureFixture[str], *arguments: str, code: int = 0) -> dict[str, Any]:
    assert main([*arguments, "--json"]) == code
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    return told


def test_every_size_in_metres_yards_grams_and_balls(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    told = _json(capsys, "yarn", mitts)
    assert [size["foundation"] for size in told["sizes"]] == [21, 24]
    assert [size["hook_mm"] for size in told["sizes"]] == [4.25, 5.5]
    for size in told["sizes"]:
        assert size["metres"]["low"] < size["metres"]["middle"] < size["metres"]["high"]
        assert size["yards"]["middle"] == pytest.approx(size["metres"]["middle"] / 0.9144)
        assert size["grams"]["middle"] == pytest.approx(size["metres"]["middle"] * 100 / 170)
        assert size["balls"] == {"surely": 1, "likely": 1}
    assert [one["verdict"] for one in told["stated"]] == ["enough", "enough"]


def test_a_label_in_ounces_and_yards_is_said_without_stray_digits(
    mitts: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["yarn", mitts, "--put-up", "3.5 oz = 200 yd", "--units", "in"]) == 0
    assert "By the label 99.2 g are 200 yd." in capsys.readouterr().out


def test_in_words(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["yarn", mitts, "--units", "in"]) == 0
    said = capsys.readouterr().out
    assert "adult, 24 chains:\nThe pair takes about 86 yd (78 m), 46 g." in said
    assert "child: 77 yd is enough" in said


def test_a_pattern_that_asks_for_too_little_ends_with_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "short.txt"
    file.write_text(QUAY.replace("70 (90) m", "30 (40) m"), encoding="utf-8")
    assert main(["yarn", str(file)]) == 1
    assert "will hardly do" in capsys.readouterr().out


def test_her_facts_narrow_it(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    def factor(*arguments: str) -> tuple[float, str | None]:
        (size,) = _json(capsys, "yarn", mitts, "--foundation", "24", *arguments)["sizes"]
        return size["grams"]["high"] / size["grams"]["low"], size["calibrated_by"]

    plain, counted = factor(), factor("--counted", "dc", "20", "340 cm")
    swatch, part = factor("--swatch", "dc", "160", "16 g"), factor("--part", "7", "12 g")
    glove, unravelled = factor("--glove", "23 g"), factor("--swatch", "dc", "100", "17 m")
    assert [one[1] for one in (plain, counted, swatch, part, glove, unravelled)] == [
        None, "stitches", "swatch weighed", "part", "glove", "swatch unravelled",
    ]  # fmt: skip
    assert glove[0] < part[0] < swatch[0] < counted[0] < plain[0]


def test_what_is_left_lasts_or_not(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    after_one = ("yarn", mitts, "--foundation", "24", "--glove", "23 g", "--worked-one", "14", "--left")
    assert _json(capsys, *after_one, "30 g")["lasting"]["verdict"] == "enough"
    short = _json(capsys, *after_one, "19 g", code=1)["lasting"]
    assert short["verdict"] == "not enough"
    assert sum(line["take_out_one"] for line in short["most"]) > 0
    assert "more than half" in short["says"][-1]


def test_another_yarn(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    told = _json(
        capsys, "yarn", mitts, "--foundation", "24", "--hook", "5.5", "--hand", "19 cm", "--instead", "3",
        "--instead-put-up", "50 g = 125 m",
    )["instead"]  # fmt: skip
    assert told["hook_mm"] == 4.5  # 5.5 · 5 / 6, the two categories' usual hooks
    assert told["recommended"]["foundation"] % 3 == 0
    assert told["balls"]["surely"] >= 1


def test_one_cake_over_several_patterns(
    mitts: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cowl = tmp_path / "cowl.txt"
    cowl.write_text(QUAY.replace("Quayside Mitts", "Quayside Pair Two"), encoding="utf-8")
    told = _json(capsys, "yarn", mitts, str(cowl), "--cake", "140 g")
    assert [share["name"] for share in told["shares"]] == ["Quayside Mitts", "Quayside Pair Two"]
    assert sum(share["set_aside_g"] for share in told["shares"]) <= 140
    assert _json(capsys, "yarn", mitts, str(cowl), "--cake", "60 g", code=1)["over_g"] < 0


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--foundation", "25"], "Nearest that work: 24 or 27"),
        (["--glove", "23"], "--foundation"),
        (["--left", "30"], "--foundation"),
        (["--foundation", "24", "--left", "30", "--worked-one", "99"], "has 14 rounds"),
        (["--put-up", "much"], "no label"),
        (["--swatch", "knot", "20", "3 g"], "no length of its own"),
        (["--counted", "sc", "20", "0"], "a length is"),
        (["--yarn", "rope"], "no yarn category"),
        (["--instead", "rope"], "no yarn category"),
        (["--cake", "50", "--glove", "20"], "for one pattern"),
    ],
)
def test_what_cannot_be_is_said(
    mitts: str, capsys: pytest.CaptureFixture[str], arguments: list[str], says: str
) -> None:
    assert main(["yarn", mitts, *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert says in err


def test_several_patterns_want_a_cake(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["yarn", mitts, mitts]) == 2
    assert "--cake" in capsys.readouterr().err


def test_a_pattern_that_is_not_proved_is_not_reckoned(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "wrong.txt"
    file.write_text(QUAY.replace("[7 (8) V-sts]", "[9 (9) V-sts]"), encoding="utf-8")
    assert main(["yarn", str(file)]) == 2
    assert "is not proved" in capsys.readouterr().err
