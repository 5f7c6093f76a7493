"""`evenhand check`: what it prints, its exit codes, and that it needs neither pages nor database."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from pathlib import Path

import pytest

from server.cli.commands import main
from server.craft.fabric import report

# Ours. 20 ch / 5 = 4 fans of 3 dc. 5 allowed custom counts at least: Custom 15 to 45.
RIM = """Title: Plain Rim
Terms: US
Sizes: small (large)
Foundation: 20 (25), multiple of 5
Custom: 15 to 45
Special stitch: Fan = 3 dc in one place

# Rim
Foundation rnd: Ch 20 (25); join with sl st in first ch to form a ring. [20 (25) ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [20 (25) sc]
Rnds 2 and 3: Ch 1, sc in same st, sc in each sc around; join with sl st in first sc. [N sc]
"""


LOADED_BY_CHECK = """
import sys
from server.cli.commands import main

assert main(["check", sys.argv[1]]) == 0
unwanted = {
    "fastapi", "starlette", "sqlalchemy", "sqlmodel", "pydantic", "jinja2", "alembic", "sqlite3", "uvicorn",
    "server.settings", "server.web", "server.storage", "server.services",
}
print(*sorted(unwanted & set(sys.modules)), file=sys.stderr)
"""


@pytest.fixture
def rim(tmp_path: Path) -> Path:
    file = tmp_path / "rim.txt"
    file.write_text(RIM)
    return file


def test_proved(rim: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(rim)]) == 0
    out = capsys.readouterr().out
    assert out.startswith(
        "Plain Rim\nsmall 20, large 25; any multiple of 5\nProved at 7 counts from 15 to 45.\n"
    )
    table = [line.split() for line in out.splitlines()]
    assert ["20", "25", "N"] in table
    assert ["Rnd", "1", "sc", "20", "25", "N"] in table
    assert ["Rnds", "2", "to", "3", "sc", "20", "25", "N"] in table
    # 20 ch, then three rounds of 20 sc, and what the joins and beginning chains add: at least 80.
    stitches = next(line for line in table if line[:5] == ["One", "piece", "in", "all", "stitches"])
    assert int(stitches[5]) >= 80


def test_json_is_the_public_report(rim: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(rim), "--foundation", "30", "--foundation", "35", "40", "--json"]) == 0
    printed = json.loads(capsys.readouterr().out)
    assert printed == json.loads(json.dumps(report.check(RIM, (30, 35, 40))))
    assert list(printed["rounds"]) == ["20", "25", "30", "35", "40"]
    assert printed["proved"] is True


def test_not_proved_names_line_words_and_mend(rim: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rim.write_text(RIM.replace("sl st in first sc. [20 (25) sc]", "sl st in first sc. [21 (25) sc]"))
    assert main(["check", str(rim)]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert "Not proved: 1 error." in lines
    at = next(i for i, line in enumerate(lines) if line.startswith("Line 10, column "))
    assert "error (count, " in lines[at]
    # The words at fault are underlined exactly.
    marked = "".join(c for c, m in zip(lines[at + 1], lines[at + 2], strict=False) if m == "^")
    assert "21 (25)" in marked
    assert any("20" in line for line in lines[at + 3 : at + 6])


def test_the_middle_of_a_long_line_is_shown(rim: Path, capsys: pytest.CaptureFixture[str]) -> None:
    long = (
        "Rnd 4: Ch 1, sc in same st, "
        + "sc in next sc, " * 20
        + "frob in next sc; join with sl st in first sc."
    )
    rim.write_text(RIM + long + "\n")
    assert main(["check", str(rim)]) == 1
    lines = capsys.readouterr().out.splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("Line 12, column "))
    marked = "".join(c for c, m in zip(lines[at + 1], lines[at + 2], strict=False) if m == "^")
    assert "frob" in marked
    assert len(lines[at + 1]) < 120


@pytest.mark.parametrize(
    ("count", "says"),
    [("36", "35 or 40"), ("33", "30 or 35"), ("101", "100 or 105")],
)
def test_a_count_that_is_not_allowed(
    rim: Path, capsys: pytest.CaptureFixture[str], count: str, says: str
) -> None:
    assert main(["check", str(rim), "--foundation", "30", count]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.count("\n") == 1
    assert captured.err.startswith(f"{count} is ")
    assert says in captured.err


def test_without_a_multiple_only_the_sizes(rim: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rim.write_text(RIM.replace(", multiple of 5", "").replace("Custom: 15 to 45\n", ""))
    assert main(["check", str(rim)]) == 0
    capsys.readouterr()
    assert main(["check", str(rim), "--foundation", "30"]) == 2
    assert "its own sizes only" in capsys.readouterr().err


def test_a_header_that_does_not_read_is_told_before_the_count(
    rim: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rim.write_text(RIM.replace("20 (25), multiple of 5", "twenty"))
    assert main(["check", str(rim), "--foundation", "30"]) == 1
    assert "header" in capsys.readouterr().out


@pytest.mark.parametrize("arguments", [["check"], ["check", "x", "--foundation", "many"], ["chekc"], []])
def test_bad_arguments(arguments: list[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert left.value.code == 2


def test_files_that_cannot_be_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "latin.txt").write_bytes(b"Title: Caf\xe9\n")
    for name, why in [
        ("none.txt", "no such file"),
        (".", "folder"),
        ("latin.txt", "not UTF-8 text (byte 11 of 12)"),
    ]:
        assert main(["check", str(tmp_path / name)]) == 2
        assert why in capsys.readouterr().err


def test_a_byte_order_mark_and_windows_lines_read(rim: Path) -> None:
    rim.write_bytes(b"\xef\xbb\xbf" + RIM.replace("\n", "\r\n").encode())
    assert main(["check", str(rim)]) == 0


def test_standard_input(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(RIM.encode())))
    assert main(["check", "-"]) == 0
    assert "Plain Rim" in capsys.readouterr().out


def test_neither_pages_nor_database_are_loaded(rim: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", LOADED_BY_CHECK, str(rim)], capture_output=True, text=True, check=True
    )
    assert done.stderr.strip() == ""
    assert "Proved" in done.stdout


def test_as_a_module_with_its_exit_code(rim: Path) -> None:
    rim.write_text(RIM.replace("[N sc]", "[N dc]"))
    done = subprocess.run([sys.executable, "-m", "server", "check", str(rim)], capture_output=True, text=True)
    assert done.returncode == 1
    assert "Not proved" in done.stdout
