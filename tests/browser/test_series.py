"""Evenings and the page for everyone in a browser: one's own clock beside the host's, without scripts too, on
a phone, in the dark, on paper."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from sqlalchemy import Engine

from server.services import accounts, alongs, demo, patterns
from server.services.accounts import NewAccount
from server.services.series import EveningForm, PageForm, announcing, evenings
from server.storage.sessions import writing
from server.web.moments import now
from tests.browser.conftest import DESK, PHONE, OpenPage, Site

PASSWORD = "three old lamps"


@dataclass(frozen=True)
class Shown:
    """An along with its page, and the day of its evening."""

    along: str
    page: str


@pytest.fixture
def shown(engine: Engine) -> Shown:
    """An along with an evening in a winter to come, shown to everyone."""
    with writing(engine) as session:
        form = NewAccount("marit", "Marit Hollow", PASSWORD)
        host_id = accounts.make_account(session, accounts.invite(session, now()), form, now())
        along_id = alongs.make(session, host_id, "Harbour hands", "Thursdays at eight", now())
        part_id = alongs.add_part(session, host_id, along_id, "Mitts")
        checked = patterns.check(demo.PATTERN.read_text(encoding="utf-8"))
        patterns.publish(session, host_id, part_id, checked, None, now())
        alongs.add_part(session, host_id, along_id, "Hat")
        day = f"{now().year + 2}-12-14"
        evening = EveningForm("The cuff", day, "19:30", "120", "Europe/Oslo")
        evenings.add(session, host_id, along_id, evening, now())
        off = evenings.add(session, host_id, along_id, evening, now())
        evenings.cancel(session, host_id, off, now() + timedelta(seconds=1))
        announcing.save(session, host_id, along_id, PageForm(is_shown=True), None, now())
        address = announcing.settings(session, host_id, along_id).address
    return Shown(f"/host/alongs/{along_id}", f"/along/{address}")


def in_zone(browser: Browser, site: Site, zone: str, path: str) -> list[str]:
    """What evenings say of a visitor's own clock, in that zone."""
    context = browser.new_context(base_url=site.url, timezone_id=zone)
    page = context.new_page()
    page.goto(path)
    expect(page.locator("[data-own]").first).to_be_visible()
    said = [one.inner_text() for one in page.locator("[data-own]:visible").all()]
    context.close()
    return said


@pytest.mark.parametrize(
    ("zone", "says"),
    [
        # half past seven in Oslo in winter is 18:30 UTC (UTC+1)
        ("America/Toronto", "13:30 to 15:30, Toronto time"),  # UTC-5
        ("Asia/Kolkata", "00:00 to 02:00, Kolkata time"),  # UTC+5:30: the next day there
        ("Pacific/Auckland", "07:30 to 09:30, Auckland time"),  # UTC+13, daylight saving
    ],
)
def test_a_visitor_reads_it_by_her_own_clock(
    browser: Browser, site: Site, shown: Shown, zone: str, says: str
) -> None:
    (said,) = in_zone(browser, site, zone, shown.page)  # the cancelled one needs no clock
    assert said.startswith("By your clock: ")
    assert said.endswith(says)
    day = "14 December" if zone == "America/Toronto" else "15 December"
    assert day in said


def test_who_has_the_same_clock_is_told_so(browser: Browser, site: Site, shown: Shown) -> None:
    assert in_zone(browser, site, "Europe/Paris", shown.page) == ["The same by your clock."]


def test_without_scripts_the_hosts_clock_is_named(open_page: OpenPage, shown: Shown) -> None:
    page = open_page(PHONE, scripts=False)
    page.goto(shown.page)
    expect(page.get_by_text("19:30 to 21:30").first).to_be_visible()
    expect(page.get_by_text("Oslo time, UTC+1").first).to_be_visible()
    expect(page.get_by_role("button", name="Print")).to_have_count(0)
    page.get_by_role("link", name="Join in").click()
    expect(page.get_by_label("Nickname")).to_be_visible()


def sign_in(page: Page) -> None:
    page.goto("/host/sign-in")
    page.get_by_label("Sign-in name").fill("marit")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Your alongs")).to_be_visible()


def test_a_host_sets_an_evening_with_the_keyboard(open_page: OpenPage, shown: Shown) -> None:
    page = open_page(DESK, scripts=False)
    sign_in(page)
    page.goto(f"{shown.along}/evenings")
    page.get_by_label("Title").focus()
    page.keyboard.type("The hand")
    page.keyboard.press("Enter")
    expect(page.locator(".evening-title", has_text="The hand")).to_be_visible()


def test_the_time_zone_begins_as_the_devices_own(browser: Browser, site: Site, engine: Engine) -> None:
    with writing(engine) as session:
        form = NewAccount("marit", "Marit Hollow", PASSWORD)
        host_id = accounts.make_account(session, accounts.invite(session, now()), form, now())
        along_id = alongs.make(session, host_id, "Harbour hands", "", now())
    context = browser.new_context(base_url=site.url, timezone_id="America/St_Johns")
    page = context.new_page()
    sign_in(page)
    page.goto(f"/host/alongs/{along_id}/evenings")
    expect(page.get_by_label("Time zone of this clock")).to_have_value("America/St_Johns")
    context.close()


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("size", [(320, 700), PHONE, DESK])
def test_its_pages_hold_on_every_screen(
    open_page: OpenPage, shown: Shown, size: tuple[int, int], dark: bool
) -> None:
    page = open_page(size, dark=dark)
    sign_in(page)
    paths = [
        shown.page,
        *(f"{shown.along}{below}" for below in ("", "/evenings", "/page", "/waiting", "/hosts", "/season")),
    ]
    for path in paths:
        page.goto(path)
        assert page.evaluate("() => document.documentElement.scrollWidth") <= size[0], path
        found = Axe().run(page)
        assert found.response["violations"] == [], (path, found.generate_report())


def test_on_paper_it_is_the_matter_alone(open_page: OpenPage, shown: Shown) -> None:
    page = open_page(DESK)
    page.goto(shown.page)
    page.emulate_media(media="print")
    for gone in (
        page.get_by_role("button", name="Print"),
        page.locator(".page-head"),
        page.get_by_label("Address of the calendar"),
    ):
        expect(gone).to_be_hidden()
    for there in ("Harbour hands", "19:30 to 21:30", "What we make", "Rest your hands"):
        expect(page.get_by_text(there).first).to_be_visible()
    assert page.locator("body").evaluate("b => getComputedStyle(b).color") == "rgb(0, 0, 0)"
