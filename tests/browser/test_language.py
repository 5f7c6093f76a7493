"""The pattern language page and what the pattern page offers, as they are used: samples that run, a line
made a note, header lines put in; in place, and without scripts."""

from __future__ import annotations

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect
from sqlalchemy import Engine
from sqlmodel import select

from server.craft.text import language
from server.services import accounts, alongs
from server.services.accounts import NewAccount
from server.storage.sessions import reading, writing
from server.storage.tables import Part
from server.web.moments import now
from tests.browser.conftest import DESK, PHONE, OpenPage
from tests.services.test_patterns import TUBE

PASSWORD = "three old lamps"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
UNREAD = TUBE.replace("Fasten off.", "  Flounce in each sc around.\nFasten off.")
POSTED = TUBE.replace("# Band", "I used a 5 mm hook and waited for the ferry.\n\n# Band")


@pytest.fixture
def part(engine: Engine) -> str:
    """The address of a part without a pattern, of a host who can sign in."""
    with writing(engine) as session:
        form = NewAccount("marit", "Marit Hollow", PASSWORD)
        host_id = accounts.make_account(session, accounts.invite(session, now()), form, now())
        along_id = alongs.make(session, host_id, "Harbour hands", "", now())
        return f"/host/parts/{alongs.add_part(session, host_id, along_id, 'Band')}"


def sign_in(page: Page) -> None:
    page.goto("/host/sign-in")
    page.get_by_label("Sign-in name").fill("marit")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Your alongs")).to_be_visible()


def kept(engine: Engine) -> str:
    with reading(engine) as session:
        return session.exec(select(Part.draft_text)).one()


def field(page: Page) -> str:
    return page.get_by_label("Pattern text").input_value()


def told(button: str, which: str) -> re.Pattern[str]:
    """The name of a button that says to those who hear it which of several it is."""
    return re.compile(rf"^{button}\s*[:,]\s*{which}$")


def open_sample(page: Page, key: str) -> None:
    page.locator(f"#{key} summary").focus()
    page.keyboard.press("Enter")


def test_a_sample_runs_in_place(open_page: OpenPage) -> None:
    page = open_page(DESK)
    page.goto("/language")
    button = page.get_by_role("button", name=told("Prove it", "V-st"))
    expect(button).to_be_hidden()
    open_sample(page, "v-st")
    button.click()
    proved = page.locator("#v-st-proved")
    expect(proved).to_contain_text("Proved at every multiple of 3")
    expect(proved.get_by_role("table")).to_contain_text("N/3")
    assert page.url.endswith("/language")
    open_sample(page, "a-count-that-is-wrong")
    page.get_by_role("button", name=told("Prove it", "A count that is wrong")).click()
    expect(page.locator("#a-count-that-is-wrong-proved")).to_contain_text("1 thing to mend")
    expect(proved).to_be_visible()


def test_a_sample_runs_without_scripts(open_page: OpenPage) -> None:
    page = open_page(PHONE, scripts=False)
    page.goto("/language")
    open_sample(page, "v-st")
    page.get_by_role("button", name=told("Prove it", "V-st")).click()
    expect(page.locator("#v-st-proved")).to_contain_text("Proved at every multiple of 3")
    expect(page.locator("#v-st")).to_be_in_viewport()
    page.reload()
    expect(page.locator("#v-st")).to_be_in_viewport()


def test_a_sample_is_taken_into_a_draft(open_page: OpenPage, part: str, engine: Engine) -> None:
    page = open_page(DESK)
    sign_in(page)
    page.goto("/language")
    open_sample(page, "v-st")
    page.get_by_role("link", name=told("Take it into a draft", "V-st")).click()
    page.get_by_role("button", name="Make the part").click()
    expect(page.locator(".understood-sum")).to_contain_text("Proved at every multiple of 3")
    entry = language.entry("v-st")
    assert entry is not None
    assert field(page) == entry.sample


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_axe_finds_nothing_on_the_language_page(
    open_page: OpenPage, size: tuple[int, int], dark: bool
) -> None:
    page = open_page(size, dark=dark)
    page.goto("/language")
    for key in ("v-st", "a-count-that-is-wrong"):
        open_sample(page, key)
        page.locator(f"#{key}").get_by_role("button").click()
        expect(page.locator(f"#{key}-proved table")).to_be_visible()
    results = Axe().run(page, options={"runOnly": RULES})
    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize("size", [(320, 700), (640, 450)], ids=["320 px", "desk at 200 %"])
def test_the_language_page_does_not_scroll_sideways(open_page: OpenPage, size: tuple[int, int]) -> None:
    page = open_page(size)
    page.goto("/language")
    page.evaluate("() => document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    page.locator("#sizes").get_by_role("button").click()
    expect(page.locator("#sizes-proved table")).to_be_visible()
    assert page.evaluate("() => document.documentElement.scrollWidth - window.innerWidth") <= 0


def test_a_line_is_made_a_note_and_undo_takes_it_back(open_page: OpenPage, part: str, engine: Engine) -> None:
    page = open_page(DESK)
    sign_in(page)
    page.goto(part)
    page.get_by_label("Pattern text").fill(UNREAD)
    page.get_by_role("button", name=told("Make it a note", "line 8")).click()
    noted = UNREAD.replace("  Flounce", "  Note: Flounce")
    assert field(page) == noted
    expect(page.locator(".understood-sum")).to_contain_text("Proved at")
    assert kept(engine) == noted
    page.keyboard.press("Control+z")
    assert field(page) == UNREAD


def test_an_offered_header_line_is_put_in_and_undo_takes_it_back(
    open_page: OpenPage, part: str, engine: Engine
) -> None:
    page = open_page(DESK)
    sign_in(page)
    page.goto(part)
    page.get_by_label("Pattern text").fill(POSTED)
    offers = page.locator("#offered")
    expect(offers).to_contain_text("Hook: 5 mm")
    if not offers.evaluate("(one) => one.open"):
        offers.locator("summary").click()
    page.get_by_role("button", name=told("Put it in", "Hook")).click()
    assert "Hook: 5 mm\n" in field(page)
    expect(page.get_by_role("button", name=told("Put it in", "Hook"))).to_have_count(0)
    assert kept(engine) == field(page)
    page.keyboard.press("Control+z")
    assert field(page) == POSTED


def test_both_work_without_scripts(open_page: OpenPage, part: str, engine: Engine) -> None:
    page = open_page(PHONE, scripts=False)
    sign_in(page)
    page.goto(part)
    page.get_by_label("Pattern text").fill(UNREAD.replace("# Band", "I used a 5 mm hook.\n\n# Band"))
    page.get_by_role("button", name="Check and keep").click()
    page.get_by_role("button", name=told("Make it a note", "line 10")).click()
    assert "  Note: Flounce" in field(page)
    if not page.locator("#offered[open]").count():
        page.locator("#offered summary").click()
    page.get_by_role("button", name=told("Put it in", "Hook")).click()
    assert "Hook: 5 mm\n" in field(page)
    assert kept(engine) == field(page)


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_axe_finds_nothing_where_lines_are_offered(
    open_page: OpenPage, part: str, size: tuple[int, int]
) -> None:
    page = open_page(size)
    sign_in(page)
    page.goto(part)
    page.get_by_label("Pattern text").fill(UNREAD.replace("# Band", "I used a 5 mm hook.\n\n# Band"))
    expect(page.locator("#offered")).to_be_visible()
    results = Axe().run(page, options={"runOnly": RULES})
    assert results.violations_count == 0, results.generate_report()
