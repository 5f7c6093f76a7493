"""Every proved pattern that the engine's tests have: in their docstrings, and as files beside them."""

from __future__ import annotations

import ast
import inspect
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from server.craft.fabric import prove
from tests.craft.making.slipway import TEXT as SLIPWAY

TESTS = Path(__file__).parents[2]


@cache
def proved_patterns() -> tuple[tuple[str, str], ...]:
    """Where each stands, and its text; only those in which no error is found."""
    texts = {text: where for where, text in _texts()}
    return tuple((where, text) for text, where in texts.items() if prove(text).proved)


def _texts() -> Iterator[tuple[str, str]]:
    yield "slipway", SLIPWAY
    for path in sorted((TESTS / "craft").rglob("test_*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.FunctionDef):
                continue
            words = ast.get_docstring(node, clean=False)
            if words and "Foundation:" in words:
                yield f"{path.stem}:{node.name}", inspect.cleandoc(words)
    for path in sorted((TESTS / "cases" / "proved").glob("*.txt")):
        yield path.stem, path.read_text(encoding="utf-8")
