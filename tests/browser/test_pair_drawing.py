"""The pair's drawing in a browser: letters of a size to read on a phone, and marks that are seen in light and
dark."""

from __future__ import annotations

import pytest

from tests.browser.conftest import DESK, PHONE
from tests.browser.test_maker_pages import MakeOpen, Notebook, departed, notebook, opened

__all__ = ["notebook", "opened"]  # fixtures, shared
LEAST_TEXT_PX = 12.0


@pytest.mark.browser
@pytest.mark.parametrize("size", [PHONE, DESK])
def test_letters_can_be_read_and_marks_are_seen(
    opened: MakeOpen, notebook: Notebook, size: tuple[int, int]
) -> None:
    notebook.goes_on(departed)
    page = opened(size)
    page.goto(f"/notebook/{notebook.part_id}/pair")
    sizes = page.locator(".pair-drawing .sections text, .pair-drawing .names text").evaluate_all(
        "all => all.map(e => parseFloat(getComputedStyle(e).fontSize)"
        " * e.ownerSVGElement.getBoundingClientRect().width / e.ownerSVGElement.viewBox.baseVal.width)"
    )
    assert len(sizes) > 10
    assert min(sizes) >= LEAST_TEXT_PX
    mark = page.locator(".pair-drawing .marks .lozenge").first.bounding_box()
    assert mark is not None
    assert min(mark["width"], mark["height"]) >= 16
    made = page.locator(".pair-drawing .band.made").first.evaluate("e => getComputedStyle(e).fill")
    to_come = page.locator(".pair-drawing .band.to-come").first
    assert to_come.evaluate("e => getComputedStyle(e).strokeDasharray") != "none"
    assert made != to_come.evaluate("e => getComputedStyle(e).fill")
