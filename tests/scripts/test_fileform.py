"""docs/notebook-file.md says what the server reads and writes."""

from __future__ import annotations

from scripts.fileform import PAGE, text


def test_the_page_is_up_to_date() -> None:
    """Made anew by `.venv/bin/python -m scripts.fileform`."""
    assert PAGE.read_text(encoding="utf-8") == text()
