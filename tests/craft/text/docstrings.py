"""The patterns that stand in the tests: every docstring under tests/craft that is a pattern."""

import ast
import inspect
from collections.abc import Iterator
from pathlib import Path

HERE = Path(__file__).parent.parent


def docstring_patterns() -> dict[str, str]:
    """Each pattern's text, by the test that it stands in; none with braces to be filled."""
    found: dict[str, str] = {}
    for path in sorted(HERE.rglob("test_*.py")):
        for name, text in _docstrings(ast.parse(path.read_text(encoding="utf-8"))):
            if _is_pattern(text):
                found[f"{path.name}::{name}"] = inspect.cleandoc(text)
    return found


def _docstrings(module: ast.Module) -> Iterator[tuple[str, str]]:
    for node in ast.walk(module):
        if isinstance(node, ast.FunctionDef) and (text := ast.get_docstring(node, clean=False)):
            yield node.name, text


def _is_pattern(text: str) -> bool:
    return "Title:" in text and "Foundation" in text and "{" not in text
