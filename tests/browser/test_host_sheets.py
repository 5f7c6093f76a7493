"""The sheet page in a browser: on the screen within its width, for all; on paper nothing but the pattern."""

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
PAPER_WIDTHS_PX = (673, 695)  # A4 and Letter without margins of 16 mm, at 96 px to the inch


@pytest.mark.browser
@pytest.mark.parametrize(("size", "dark"), [(PHONE, True), (NARROW, False), (DESK, False)])
def test_the_sheet_on_the_screen_and_on_paper(
    open_page: OpenPage, engine: Engine, part: str, size: tuple[int, int], dark: bool
) -> None:
    with writing(engine) as session:
        session.exec(select(Part)).one().draft_text = TUBE
    page = open_page(size=size, dark=dark)
    sign_in(page)
    page.goto(f"{part}/sheet")
    assert page.evaluate("() => document.documentElement.scrollWidth") <= size[0]
    for link in page.locator(".sheet-ways a, [data-print]").all():
        box = link.bounding_box()
        assert box is not None
        assert box["height"] >= 44
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": RULES}})
    assert found.violations_count == 0, found.generate_report()
    page.emulate_media(media="print", color_scheme="dark" if dark else "light")
    for chrome in (".page-head", ".where", ".sheet-ways", "[data-print]", "#charts-heading"):
        assert not page.locator(chrome).first.is_visible(), chrome
    assert page.locator(".pattern-sheet h1").is_visible()
    ink = page.locator(".pattern-sheet").evaluate("e => getComputedStyle(e).color")
    assert ink == "rgb(0, 0, 0)"
    for width in PAPER_WIDTHS_PX:
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("() => document.documentElement.scrollWidth") <= width
