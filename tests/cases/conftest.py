"""`pytest tests/cases --update-snapshots` writes the reports anew; look at the difference before it is kept.
`pytest tests/cases --unused-snapshots` lists those that no pattern has any more, runs nothing, and fails if
there are some.

The option is only there where this folder is named on the command line: pytest takes options from the
conftest files that it reads before it collects.
"""

import sys

import pytest

from tests.cases.hand import CASES
from tests.cases.snapshots import unused_snapshots


def pytest_addoption(parser: pytest.Parser) -> None:
    """The flags of these tests."""
    parser.addoption(
        "--update-snapshots",
        action="store_true",
        default=False,
        help="write the snapshots of tests/cases anew, and take away those that no pattern has",
    )
    parser.addoption(
        "--unused-snapshots",
        action="store_true",
        default=False,
        help="list the snapshots of tests/cases that no pattern has, and fail if there are some",
    )


def pytest_collection(session: pytest.Session) -> bool | None:
    """With `--unused-snapshots` nothing is collected: the list is all that was asked for."""
    if not session.config.getoption("--unused-snapshots", default=False):
        return None
    for path in (found := unused_snapshots()):
        sys.stdout.write(f"{path.relative_to(CASES).as_posix()}\n")
    words = f"unused snapshots: {len(found)}"
    pytest.exit(words, returncode=pytest.ExitCode.TESTS_FAILED if found else pytest.ExitCode.OK)


@pytest.fixture
def update_snapshots(request: pytest.FixtureRequest) -> bool:
    """Whether snapshots are to be written instead of compared."""
    return bool(request.config.getoption("--update-snapshots", default=False))
