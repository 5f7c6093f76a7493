"""Pages beside the working page that a maker has with no network though she never opened them: when they are
fetched, how often, and what they say."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

import pytest
from fastapi import FastAPI
from playwright.sync_api import expect
from starlette.types import Receive, Scope, Send

from tests.browser.conftest import OpenPage, Site
from tests.browser.test_offline_page import (
    ALL_SAVED,
    KEPT,
    Held,
    Notebook,
    OpenDevice,
    controlled,
    device,
    keeps,
    log_rounds,
    notebook,
)

__all__ = ["device", "notebook"]  # fixtures
AHEAD = ("pair", "numbers", "card", "fit", "yarn")
HOUR_MS = 60 * 60_000


class Asked:
    """An application, and how often each address was asked for."""

    def __init__(self, app: FastAPI) -> None:
        self.app = app
        self.times: Counter[str] = Counter()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        self.times[scope["path"]] += 1
        await self.app(scope, receive, send)


@pytest.fixture
def asked(app: FastAPI) -> Asked:
    return Asked(app)


@pytest.fixture
def counting(asked: Asked) -> Iterator[Site]:
    """The same site, counting."""
    site = Site(asked)
    yield site
    site.stop()


def test_the_card_and_the_numbers_open_with_no_network(
    device: OpenDevice, notebook: Notebook, site: Site
) -> None:
    """She has opened neither. The card has its style sheet and its QR; the PDF says why it is not there."""
    page, part = device(), f"/notebook/{notebook.part_id}"
    keeps(page, *(f"{part}/{name}" for name in AHEAD))
    site.stop()
    page.goto(f"{part}/numbers")
    expect(page.get_by_role("heading", level=1)).to_have_text("Your numbers")
    expect(page.get_by_text("this page is as it was a moment ago.")).to_be_visible()
    page.goto(f"{part}/card")
    expect(page.get_by_role("heading", level=1)).to_have_text("Slipway Wristers")
    expect(page.get_by_text("this page is as it was a moment ago.")).to_be_visible()
    expect(page.get_by_role("img", name="QR code of the notebook")).to_be_visible()
    sheets = "() => [...document.styleSheets].filter((each) => each.cssRules.length).map((each) => each.href)"
    assert any("/card.css" in address for address in page.evaluate(sheets))
    page.get_by_role("link", name="PDF, A4").click()
    expect(page.get_by_text("A PDF is made by the server, so there is none just now.")).to_be_visible()
    page.wait_for_load_state()
    page.go_back()
    expect(page).to_have_url(re.compile(r"/card$"))
    expect(page.get_by_role("heading", level=1)).to_have_text("Slipway Wristers")
    page.context.set_offline(True)
    page.reload()
    expect(page.get_by_text("this page is as it was")).to_be_visible()
    page.goto(f"{part}/version")
    expect(page.get_by_text("This page is not on this device.")).to_be_visible()
    expect(page.get_by_text("A PDF is made by the server")).to_be_hidden()


def test_they_come_once_and_again_an_hour_later(
    open_page: OpenPage, notebook: Notebook, asked: Asked, counting: Site
) -> None:
    """Not to who only looks round; then once each, however often the working page is opened or goes on; once
    more when what is kept is an hour old."""
    page, part = open_page(), f"/notebook/{notebook.part_id}"
    page.goto(f"{counting.url}/n/{notebook.secret}")
    page.goto(counting.url + notebook.page)
    keeps(page, notebook.page)
    page.wait_for_timeout(1000)
    assert not any(asked.times[f"{part}/{name}"] for name in AHEAD)
    log_rounds(page, 1)
    keeps(page, *(f"{part}/{name}" for name in AHEAD), f"{part}/piece/2")
    for _ in range(2):
        page.reload()
        log_rounds(page, 1)
        expect(page.locator(ALL_SAVED)).to_be_visible()
    page.wait_for_timeout(1000)
    assert [asked.times[f"{part}/{name}"] for name in AHEAD] == [1] * len(AHEAD)
    assert "Rnd 8" not in page.evaluate(KEPT)[f"{counting.url}{part}/card"]
    page.evaluate(
        """(ms) => Object.keys(localStorage).filter((name) => name.startsWith("evenhand-ahead-"))
          .forEach((name) => localStorage.setItem(name, String(Date.now() - ms)))""",
        HOUR_MS + 1000,
    )
    log_rounds(page, 1)
    for _ in range(100):
        if asked.times[f"{part}/{AHEAD[-1]}"] == 2:
            break
        page.wait_for_timeout(100)
    assert [asked.times[f"{part}/{name}"] for name in AHEAD] == [2] * len(AHEAD)


def test_what_is_on_its_way_is_not_kept_for_the_next_maker(
    open_page: OpenPage, notebook: Notebook, app: FastAPI, site: Site
) -> None:
    """Her card is asked for, and comes after her notebook was taken off the device."""
    site.stop()
    held = Held(app, "/card")
    slow = Site(held)
    page = open_page()
    page.goto(f"{slow.url}/n/{notebook.secret}")
    page.goto(slow.url + notebook.page)
    controlled(page)
    held.held.set()
    log_rounds(page, 1)
    assert held.asked.wait(10)
    expect(page.locator(ALL_SAVED)).to_be_visible()
    page.goto(f"{slow.url}/notebook/put-away")
    page.get_by_role("button", name="I have the link: take it off").click()
    expect(page).to_have_url(re.compile("/notebook$"))
    held.held.clear()
    page.wait_for_timeout(1500)
    assert [address for address in page.evaluate(KEPT) if re.search(r"/notebook/\d", address)] == []
    slow.stop()
