"""`evenhand fit`: what it takes, what it says, exit codes, JSON; only the trade is needed."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from server.cli.commands import main
from tests.craft.measure.mitts import QUAY

CASES = Path(__file__).parents[1] / "cases" / "proved"
RING = (
    "Title: Tips\nSizes: small (large)\nFoundation: none\nFits: 16 (19) cm hand\n\n"
    "# Tip\nRnd 1: 6 sc in ring."
)


@pytest.fixture
def mitts(tmp_path: Path) -> str:
    file = tmp_path / "mitts.txt"
    file.write_text(QUAY, encoding="utf-8")
    return str(file)


def _json(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert main([*arguments, "--json"]) == 0
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    return told


def test_nothing_filled_in_is_a_guess_and_says_so(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", mitts]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Chain ")
    assert "A guess: the middle of 6068 women and men" in said


def test_a_hand_and_a_swatch(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    """19 cm less 5 % is 180.5 mm; at 13 in 10 cm 23.5 chains: 24. 6 cm at 7 rounds in 10 cm are 4.2."""
    told = _json(
        capsys, "fit", mitts, "--hand", "19cm", "--swatch", "13", "10", "--swatch-rounds", "7", "10",
        "--to-thumb", "6",
    )  # fmt: skip
    assert told["recommended"]["foundation"] == 24
    assert told["recommended"]["around_mm"] == pytest.approx(24 / 13 * 100)
    assert (told["down"]["foundation"], told["up"]["foundation"]) == (21, 27)
    assert told["gauge"]["source"] == "swatch"
    assert [each["rounds"] for each in told["rounds"]] == [4]
    assert told["says"][0] == "Chain 24 (a multiple of 3)."


def test_inches_are_the_same_hand(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    cm = _json(capsys, "fit", mitts, "--hand", "19.05", "--swatch", "13", "10.16")
    inch = _json(capsys, "fit", mitts, "--hand", "7.5", "--swatch", "13", "4", "--units", "in")
    assert inch["recommended"]["around_mm"] == pytest.approx(cm["recommended"]["around_mm"])
    assert inch["recommended"]["chance_right"] == pytest.approx(cm["recommended"]["chance_right"])


def test_sizes_and_ages(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    """EN 420: size 7 is 178 mm (granberg.no); a dress 7 is 189 mm. AnthroKids: 8 years, 156 mm."""
    assert _json(capsys, "fit", mitts, "--size", "7")["hand"]["around_mm"] == 178
    assert _json(capsys, "fit", mitts, "--size", "dress 7")["hand"]["around_mm"] == 189
    child = _json(capsys, "fit", mitts, "--age", "8")
    assert child["hand"]["around_mm"] == pytest.approx(156, abs=0.1)
    assert child["hand"]["group"] == "child"


def test_a_try_on_and_a_width_move_the_gauge(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    hand = ("fit", mitts, "--hand", "19")
    before = _json(capsys, *hand)
    tried = _json(capsys, *hand, "--tried", "27", "6 cm too long")
    wide = _json(capsys, *hand, "--width", "24", "11 cm")
    assert tried["gauge"]["stitches"] < before["gauge"]["stitches"]
    assert wide["gauge"]["stitches"] == pytest.approx(24 / 22 * 10, rel=0.02)
    assert wide["gauge"]["spread"] < tried["gauge"]["spread"] < before["gauge"]["spread"]


def test_after_round_one(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    told = _json(capsys, "fit", mitts, "--hand", "19", "--round-one", "24", "too loose", "--hook", "5")
    assert told["round_one"]["advice"]["hook_mm"] == 4.5
    assert "one repeat out (21 chains)" in told["round_one"]["says"]


def test_a_host_s_table(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    told = _json(capsys, "fit", mitts, "--table", "women")
    own = told["tables"]["pattern"]
    assert [row["foundation"] for row in own["rows"]] == [21, 24]
    assert own["covered"] + own["below"] + own["above"] + sum(gap["share"] for gap in own["gaps"]) == (
        pytest.approx(1)
    )
    assert told["tables"]["proposed"]["covered"] >= own["covered"] - 1e-9


def test_an_unlikely_hand_is_asked_about_and_taken(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    told = _json(capsys, "fit", mitts, "--hand", "30", "--who", "women")
    assert told["hand"]["around_mm"] == 300
    assert "thumb" in told["questions"][0]


def test_a_piece_from_a_ring_goes_by_size(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "cap.txt"
    file.write_text(RING, encoding="utf-8")
    told = _json(capsys, "fit", str(file), "--hand", "18cm")
    assert told["recommended"] is None
    assert told["size"]["name"] == "large"


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("crossing-cowl", "not worn on a hand"),
        ("drizzle-crown-beanie", "not worn on a hand"),
        ("rowan-bobble-boot-cuffs", "not worn on a hand"),
        ("corded-row-cuffs", "its rows go around"),
    ],
)
def test_no_chains_are_told_where_none_go_around_a_hand(
    name: str, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """A cowl was "too loose: it turns on the hand", and a chain as long as a cuff taken to go around it."""
    file = str(CASES / f"{name}.txt")
    assert main(["fit", file, "--hand", "19cm"]) == 0
    said = capsys.readouterr().out
    assert says in said
    assert "Chain " not in said
    assert _json(capsys, "fit", file)["recommended"] is None


def test_one_chain_is_in_the_singular(mitts: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", mitts, "--tried", "1", "too long"]) == 0
    said = capsys.readouterr().out
    assert "1 chain was too long" in said
    assert "1 chains" not in said


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--size", "99"], "no glove size"),
        (["--age", "1"], "Nothing usable is published for 1 year;"),
        (["--yarn", "rope"], "no yarn category"),
        (["--table", "dogs"], "no population"),
        (["--tried", "24", "odd"], "too long, too short, fits"),
        (["--tried", "x", "fits"], "whole number"),
        (["--swatch", "0", "10"], "above 0"),
        (["--swatch-rounds", "9", "10"], "--swatch"),
        (["--ease", "-80"], "−50"),
    ],
)
def test_what_cannot_be_is_said(
    mitts: str, capsys: pytest.CaptureFixture[str], arguments: list[str], says: str
) -> None:
    assert main(["fit", mitts, *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert says in err


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--hand", "foo"], "a length is"),
        (["--hook", "99"], "a hook is"),
        (["--ease", "tight"], "an ease is"),
    ],
)
def test_what_does_not_read_is_said_at_its_option(
    mitts: str, capsys: pytest.CaptureFixture[str], arguments: list[str], says: str
) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["fit", mitts, *arguments])
    assert stopped.value.code == 2
    assert says in capsys.readouterr().err


def test_a_file_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fit", str(tmp_path / "none.txt")]) == 2
    assert "there is no such file" in capsys.readouterr().err


def test_only_the_trade_is_loaded(mitts: str) -> None:
    loaded = (
        "import sys\nfrom server.cli.commands import main\n"
        "assert main(['fit', sys.argv[1]]) == 0 and main(['yarn', sys.argv[1]]) == 0\n"
        "unwanted = {'fastapi', 'sqlmodel', 'sqlalchemy', 'jinja2', 'sqlite3', 'server.web'}\n"
        "sys.exit(', '.join(unwanted & set(sys.modules)) or 0)\n"
    )
    ran = subprocess.run([sys.executable, "-c", loaded, mitts], capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, "")
