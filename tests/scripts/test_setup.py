"""scripts/setup.sh finds a Python that is new enough and whole, or names in one line what to install."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FAKE = """#!/bin/sh
case "$2" in
*version_info\\[:2\\]*) echo {version} ;;
*"sys.exit"*) exit {too_old} ;;
*ensurepip*) exit {bare} ;;
esac
"""


def find(folder: Path, **pythons: tuple[str, int, int]) -> subprocess.CompletedProcess[str]:
    """What is said with only these Pythons in reach: name = (version, is it too old, does it lack venv)."""
    for name, (version, too_old, bare) in pythons.items():
        fake = folder / name.replace("_", ".")
        fake.write_text(FAKE.format(version=version, too_old=too_old, bare=bare))
        fake.chmod(0o755)
    for tool in ("sh", "dirname", "basename"):
        (folder / tool).symlink_to(Path("/bin") / tool)
    return subprocess.run(
        ["/bin/sh", "scripts/setup.sh", "python"],
        cwd=ROOT, env={"PATH": str(folder)}, capture_output=True, text=True,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("pythons", "chosen"),
    [
        ({"python3": ("3.11", 0, 0)}, "python3"),
        ({"python3_12": ("3.12", 0, 0)}, "python3.12"),
        ({"python3": ("3.9", 1, 0), "python3_13": ("3.13", 0, 0)}, "python3.13"),
        ({"python3": ("3.11", 0, 1), "python3_14": ("3.14", 0, 0)}, "python3.14"),
    ],
)
def test_found(tmp_path: Path, pythons: dict[str, tuple[str, int, int]], chosen: str) -> None:
    done = find(tmp_path, **pythons)
    assert (done.returncode, done.stdout, done.stderr) == (0, f"{chosen}\n", "")


@pytest.mark.parametrize(
    ("pythons", "says"),
    [
        ({}, "apt-get install python3 python3-venv"),
        ({"python3": ("3.10", 1, 0)}, "python3 is 3.10, and Python 3.11 or newer is needed"),
        ({"python3": ("3.11", 0, 1)}, "apt-get install python3-venv"),
        ({"python3": ("3.10", 1, 0), "python3_12": ("3.12", 0, 1)}, "apt-get install python3.12-venv"),
    ],
)
def test_missing(tmp_path: Path, pythons: dict[str, tuple[str, int, int]], says: str) -> None:
    done = find(tmp_path, **pythons)
    assert done.returncode == 1
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert says in done.stderr
