"""`python -m scripts.tracked`: no file in git names a package index's host or a path of one machine.

A lock file that names an index works only where that index is; a path works only where it was written.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
# Put together from pieces, so that this file does not name them either.
HOSTS = (
    "py" + "pi.org",
    "python" + "hosted.org",
    "npm" + "js.org",
    "npm" + "js.com",
    "yarn" + "pkg.com",
    "debian" + ".org",
)
FOLDERS = ("work", "root", "home", "opt", "Users", "mnt", "tmp")
NAMED = re.compile(
    "|".join(re.escape(host) for host in HOSTS) + r"|(?<![\w.$}/~-])/(?:" + "|".join(FOLDERS) + r")/[\w.-]"
)
LOCKS = re.compile(r"requirements.*\.txt|.*lock.*\.(json|toml|ya?ml)|uv\.lock")
URL = re.compile(r"\b(?:https?|git\+\w+|file)://")


def tracked() -> Iterator[Path]:
    """The files that are in git, as they are on the disk now."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True)
    for name in listed.stdout.decode().split("\0"):
        path = ROOT / name
        if name and path.is_file():
            yield path


def problems(name: str, raw: bytes) -> Iterator[str]:
    """What a file names that it should not, as `line: what`."""
    if b"\0" in raw:
        return
    for number, line in enumerate(raw.decode("utf-8", "replace").splitlines(), 1):
        for match in NAMED.finditer(line):
            yield f"{number}: {match[0]!r} is one machine's or one index's own"
        if LOCKS.fullmatch(Path(name).name) and URL.search(line):
            yield f"{number}: a lock file names no address"


def main() -> int:
    """Prints what was found; 1 if there is anything."""
    any_found = False
    for path in tracked():
        name = str(path.relative_to(ROOT))
        for problem in problems(name, path.read_bytes()):
            any_found = True
            print(f"{name}:{problem}")
    return 1 if any_found else 0


if __name__ == "__main__":
    sys.exit(main())
