"""Fixtures of the engine's tests: a test's docstring is the pattern under test."""

import inspect
from collections.abc import Callable
from typing import Any

import pytest

from server.craft.fabric import report as reporting


@pytest.fixture
def pattern(request: pytest.FixtureRequest) -> str:
    """The pattern that stands in the test's docstring."""
    return inspect.cleandoc(request.function.__doc__ or "")


@pytest.fixture
def check() -> Callable[..., dict[str, Any]]:
    """The engine's public report of a text: the value that `evenhand check --json` prints."""
    return reporting.check


@pytest.fixture
def report(pattern: str) -> dict[str, Any]:
    """The public report of the test's own pattern."""
    return reporting.check(pattern)
