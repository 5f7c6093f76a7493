"""`pytest tests/cases --update-snapshots` writes the reports anew; look at the difference before it is kept.

The option is only there where this folder is named on the command line: pytest takes options from the
conftest files that it reads before it collects.
"""

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    """The one flag of these tests."""
    parser.addoption(
        "--update-snapshots",
        action="store_true",
        default=False,
        help="write the snapshots of tests/cases anew, and take away those that no pattern has",
    )


@pytest.fixture
def update_snapshots(request: pytest.FixtureRequest) -> bool:
    """Whether snapshots are to be written instead of compared."""
    return bool(request.config.getoption("--update-snapshots", default=False))
