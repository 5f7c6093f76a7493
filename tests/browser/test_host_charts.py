"""The chart page in a browser: it scrolls in itself and keeps a size that can be read; axe; thumbs."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from sqlalchemy import Engine
from sqlmodel import select

from server.storage.sessions import writing
from server.storage.tables import Part
from tests.browser.conftest import DESK, PHONE, OpenPage
from tests.browser.test_language import RULES, part, sign_in
from tests.services.test_patterns import TUBE

__all__ = ["part"]  # the fixture, shared
NARROW = (320, 640)


@pytest.mark.browser
@pytest.mark.parametrize(("size", "dark"), [(PHONE, True), (NARROW, False), (DESK, False)])
def test_a_chart_keeps_its_size_and_scrolls_in_itself(
    open_page: OpenPage, engine: Engine, part: str, size: tuple[int, int], dark: bool
) -> None:
    with writing(engine) as session:
        session.exec(select(Part)).one().draft_text = TUBE
    page = open_page(size=size, dark=dark)
    sign_in(page)
    page.goto(f"{part}/chart")
    drawing = page.locator(".chart svg").bounding_box()
    assert drawing is not None
    assert drawing["width"] == pytest.approx(
        float(page.locator(".chart svg").get_attribute("width") or 0), abs=1
    )
    assert drawing["width"] > PHONE[0]
    assert page.evaluate("() => document.documentElement.scrollWidth") <= size[0]
    assert page.locator(".chart-choices a[aria-current]").count() == 1
    for link in page.locator(".chart-choices a").all():
        box = link.bounding_box()
        assert box is not None
        assert box["height"] >= 44
    start = page.locator(".chart svg .round-number").first.bounding_box()
    key = page.locator(".chart svg .key").bounding_box()
    for seen in (start, key):  # where the rounds start, and the key, without scrolling
        assert seen is not None
        assert seen["x"] >= 0
        assert seen["x"] + seen["width"] <= size[0]
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}})
    assert found.violations_count == 0, found.generate_report()
