"""The host's pages as they are used: typing and reading what is understood, mending, publishing; with a
keyboard, on a phone, in the dark, without scripts, with the server gone for a while."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, Route, expect
from sqlalchemy import Engine
from sqlmodel import select

from server.services import accounts, alongs
from server.services.accounts import NewAccount
from server.storage.sessions import reading, writing
from server.storage.tables import Part, PatternVersion
from server.web.host_patterns import EXAMPLE
from server.web.moments import now
from tests.browser.conftest import DESK, PHONE, OpenPage, Site
from tests.services.test_patterns import TUBE

PASSWORD = "three old lamps"
BROKEN = TUBE.replace("[N sc]", "[19 (24) sc]")


@dataclass(frozen=True)
class Along:
    """What the tests begin with: a host, an along, a part without a pattern."""

    address: str
    part: str


@pytest.fixture
def along(engine: Engine) -> Along:
    """An along of a host who can sign in."""
    with writing(engine) as session:
        form = NewAccount("marit", "Marit Hollow", PASSWORD)
        host_id = accounts.make_account(session, accounts.invite(session, now()), form, now())
        along_id = alongs.make(session, host_id, "Harbour hands", "Thursdays at eight", now())
        part_id = alongs.add_part(session, host_id, along_id, "Band")
    return Along(f"/host/alongs/{along_id}", f"/host/parts/{part_id}")


SignedIn = Callable[..., Page]


@pytest.fixture
def signed_in(open_page: OpenPage, along: Along) -> SignedIn:
    """A page whose host has signed in through the form."""

    def sign_in(size: tuple[int, int] = DESK, *, dark: bool = False, scripts: bool = True) -> Page:
        page = open_page(size, dark=dark, scripts=scripts)
        page.goto("/host/sign-in")
        page.get_by_label("Sign-in name").fill("marit")
        page.get_by_label("Password").fill(PASSWORD)
        page.get_by_role("button", name="Sign in").click()
        expect(page.get_by_role("heading", name="Your alongs")).to_be_visible()
        return page

    return sign_in


def draft(engine: Engine) -> str:
    with reading(engine) as session:
        return session.exec(select(Part.draft_text)).one()


def understood(page: Page) -> str:
    return page.locator(".understood-sum").inner_text()


def field(page: Page) -> str:
    return page.get_by_label("Pattern text").input_value()


def selected(page: Page) -> str:
    return str(
        page.evaluate(
            """() => {
                const field = document.getElementById('text');
                return field.value.slice(field.selectionStart, field.selectionEnd);
            }"""
        )
    )


def test_what_is_typed_is_understood_and_kept_as_one_types(
    signed_in: SignedIn, along: Along, engine: Engine
) -> None:
    page = signed_in()
    page.goto(along.part)
    text = page.get_by_label("Pattern text")
    text.fill(BROKEN)
    expect(page.locator(".understood-sum")).to_contain_text("to mend")
    finding = page.locator(".finding").first
    expect(finding.get_by_role("link", name="Line 7")).to_be_visible()
    assert draft(engine) == BROKEN
    assert field(page) == BROKEN
    expect(page.locator(".paper-marks mark").first).to_have_text(re.compile("sc|19"))
    expect(page.get_by_role("status").filter(has_text="to mend")).to_have_count(1)


def test_a_finding_leads_to_its_words_and_the_button_mends_them(
    signed_in: SignedIn, along: Along, engine: Engine
) -> None:
    page = signed_in()
    page.goto(along.part)
    page.get_by_label("Pattern text").fill(BROKEN)
    finding = page.locator(".finding").first
    words = finding.locator("q").inner_text().strip("“”")
    finding.get_by_role("link", name="Line 7").click()
    assert selected(page) == words
    finding.get_by_role("button", name="Mend line 7").click()
    expect(page.locator(".understood-sum")).to_contain_text("Proved at")
    expect(page.locator(".finding")).to_have_count(0)
    expect(page.locator(".paper-marks mark")).to_have_count(0)
    mended = field(page)
    assert mended != BROKEN
    assert draft(engine) == mended
    page.keyboard.press("Control+z")
    assert field(page) == BROKEN, "the browser's own undo takes a mend back"


def test_marks_lie_on_the_words_whatever_wraps(signed_in: SignedIn, along: Along) -> None:
    """The marked copy has the same height as the text in the field, and no line of it is elsewhere."""
    for size in (PHONE, DESK, (320, 700)):
        page = signed_in(size)
        page.goto(along.part)
        page.get_by_label("Pattern text").fill(
            EXAMPLE + "\n" + "long" * 60 + "\n\ttab and  double  spaces   \n"
        )
        heights = page.evaluate(
            """() => {
                const field = document.getElementById('text'), marks = document.querySelector('.paper-marks');
                const copy = field.cloneNode(); copy.value = field.value; copy.style.height = '0';
                copy.style.minHeight = '0'; copy.style.position = 'absolute'; copy.style.width =
                field.offsetWidth + 'px'; field.parentNode.append(copy); const height = copy.scrollHeight;
                copy.remove(); return [height, marks.scrollHeight];
            }"""
        )
        assert abs(heights[0] - heights[1]) <= 1, f"{size}: {heights}"


def test_typing_goes_on_while_an_answer_is_under_way(
    signed_in: SignedIn, along: Along, engine: Engine
) -> None:
    page = signed_in()
    page.goto(along.part)

    def slowly(route: Route) -> None:
        page.wait_for_timeout(700)
        route.continue_()

    page.route("**/check", slowly)
    text = page.get_by_label("Pattern text")
    text.press_sequentially("Title: Pier", delay=20)
    page.wait_for_timeout(650)  # the first request is under way now
    text.press_sequentially(" Band, and more to come", delay=60)
    expected = "Title: Pier Band, and more to come"
    assert field(page) == expected
    expect(page.locator("[data-kept]")).to_contain_text("kept")
    page.wait_for_timeout(2500)
    assert draft(engine) == expected
    assert field(page) == expected
    assert "another page" not in page.locator("#understood").inner_text()


def test_with_the_server_gone_nothing_typed_is_lost(
    signed_in: SignedIn, along: Along, site: Site, engine: Engine
) -> None:
    page = signed_in()
    page.goto(along.part)
    site.stop()
    page.get_by_label("Pattern text").fill(TUBE)
    expect(page.get_by_role("alert")).to_contain_text("The server does not answer.")
    assert field(page) == TUBE
    site.start()
    page.get_by_role("button", name="Check and keep").click()
    expect(page.locator(".understood-sum")).to_contain_text("Proved at")
    expect(page.locator("#not-reached")).to_be_hidden()
    assert draft(engine) == TUBE


def test_signed_out_elsewhere_it_is_said_and_signing_in_again_goes_on(
    signed_in: SignedIn, along: Along, engine: Engine
) -> None:
    page = signed_in()
    page.goto(along.part)
    page.context.clear_cookies()
    page.get_by_label("Pattern text").fill(TUBE)
    alert = page.get_by_role("alert")
    expect(alert).to_contain_text("You are signed out")
    with page.context.expect_page() as opened:
        alert.get_by_role("link", name="Sign in on a new page").click()
    other = opened.value
    other.get_by_label("Sign-in name").fill("marit")
    other.get_by_label("Password").fill(PASSWORD)
    other.get_by_role("button", name="Sign in").click()
    expect(other.get_by_role("heading", name="Your alongs")).to_be_visible()
    page.get_by_role("button", name="Check and keep").click()
    expect(page.locator(".understood-sum")).to_contain_text("Proved at")
    assert draft(engine) == TUBE


def test_two_pages_at_once_lose_nothing(signed_in: SignedIn, along: Along, engine: Engine) -> None:
    page = signed_in()
    page.goto(along.part)
    other = page.context.new_page()
    other.goto(along.part)
    other.get_by_label("Pattern text").fill("from the other page")
    expect(other.locator("[data-kept]")).to_contain_text("kept")
    page.get_by_label("Pattern text").fill(TUBE)
    expect(page.locator("#understood")).to_contain_text("was changed on another page or device")
    assert (draft(engine), field(page)) == ("from the other page", TUBE)
    page.get_by_role("button", name="Keep what is here").click()
    expect(page.locator(".understood-sum")).to_contain_text("Proved at")
    assert draft(engine) == TUBE


def test_an_unproved_pattern_is_refused_in_place_and_a_proved_one_published(
    signed_in: SignedIn, along: Along, engine: Engine
) -> None:
    page = signed_in(PHONE)
    page.goto(along.part)
    page.get_by_label("Pattern text").fill(BROKEN)
    expect(page.locator(".finding").first).to_be_visible()
    page.get_by_role("button", name="Publish as version 1").click()
    expect(page.locator("#understood .notice")).to_contain_text("Not published yet. This is missing:")
    assert field(page) == BROKEN
    page.get_by_label("Pattern text").fill(TUBE)
    expect(page.locator(".understood-sum")).to_contain_text("Proved at")
    page.get_by_role("button", name="Publish as version 1").click()
    expect(page.locator("#understood .notice")).to_contain_text("Version 1 is published.")
    expect(page.locator("#version-1")).to_contain_text("0 makers on it")
    with reading(engine) as session:
        assert session.exec(select(PatternVersion.text)).one() == TUBE


def test_everything_works_without_scripts(signed_in: SignedIn, along: Along, engine: Engine) -> None:
    page = signed_in(PHONE, scripts=False)
    page.goto(along.part)
    page.get_by_role("button", name="Begin with the example").click()
    assert field(page) == EXAMPLE
    page.get_by_label("Pattern text").fill(BROKEN)
    page.get_by_role("button", name="Check and keep").click()
    assert "to mend" in understood(page)
    page.get_by_text("The text line by line, with its findings").click()
    expect(page.locator("#line-7 mark").first).to_be_visible()
    page.get_by_role("button", name="Publish as version 1").click()
    expect(page.locator("#understood .notice")).to_contain_text("Not published yet.")
    page.get_by_role("button", name="Mend line 7").first.click()
    assert "Proved at" in understood(page)
    page.get_by_role("button", name="Publish as version 1").click()
    expect(page.locator("#version-1")).to_be_visible()
    with reading(engine) as session:
        assert session.exec(select(PatternVersion.number)).all() == [1]


def test_the_join_link_is_copied_at_one_press(signed_in: SignedIn, along: Along) -> None:
    page = signed_in(PHONE)
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.goto(along.address)
    page.get_by_role("button", name="Copy Join link").click()
    expect(page.get_by_role("status").filter(has_text="Copied.")).to_be_visible()
    assert (
        page.evaluate("() => navigator.clipboard.readText()") == page.get_by_label("Join link").input_value()
    )


def test_a_keyboard_reaches_the_matter_the_text_and_the_button(signed_in: SignedIn, along: Along) -> None:
    page = signed_in()
    page.goto(along.part)
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Go to the matter of the page")).to_be_focused()
    page.keyboard.press("Enter")
    for _ in range(8):
        page.keyboard.press("Tab")
        if page.evaluate("() => document.activeElement.id") == "text":
            break
    page.keyboard.insert_text(BROKEN)
    expect(page.locator(".finding").first).to_be_visible()
    for _ in range(20):
        page.keyboard.press("Tab")
        if (page.evaluate("() => document.activeElement.textContent") or "").startswith("Mend line 7"):
            break
    page.keyboard.press("Enter")
    expect(page.locator(".understood-sum")).to_contain_text("Proved at")
    assert page.evaluate("() => document.activeElement.id") == "text"


PAGES = (
    "front",
    "sign in",
    "alongs",
    "along",
    "empty pattern",
    "pattern",
    "version",
    "sizes",
    "roster",
    "nothing here",
)


def address_of(name: str, along: Along) -> str:
    return {
        "front": "/", "sign in": "/host/sign-in", "alongs": "/host", "along": along.address,
        "empty pattern": along.part, "pattern": along.part, "version": f"{along.part}/versions/1",
        "sizes": f"{along.part}/versions/1/sizes", "roster": f"{along.address}/roster",
        "nothing here": "/nowhere",
    }[name]  # fmt: skip


def prepared(page: Page, name: str, along: Along) -> None:
    """Opens that page in the state that has most in it."""
    if name == "version":
        page.goto(along.part)
        page.get_by_label("Pattern text").fill(TUBE)
        expect(page.locator(".understood-sum")).to_contain_text("Proved at")
        page.get_by_role("button", name="Publish as version 1").click()
        expect(page.locator("#version-1")).to_be_visible()
    page.goto(address_of(name, along))
    if name == "pattern":
        page.get_by_label("Pattern text").fill(
            BROKEN.replace("sc in each ch around", "sc in each ch arround")
        )
        expect(page.locator(".finding").first).to_be_visible()
        page.get_by_role("button", name="Publish as version").click()
        expect(page.locator("#understood .notice")).to_be_visible()
        page.get_by_text("How a pattern is written").first.click()
        page.get_by_text("The text line by line, with its findings").click()
    if name == "along":
        page.get_by_text("Change title and welcome").click()


@pytest.mark.parametrize(("size", "dark"), [(PHONE, True), (DESK, False)], ids=["phone, dark", "desk, light"])
def test_axe_finds_nothing(signed_in: SignedIn, along: Along, size: tuple[int, int], dark: bool) -> None:
    page = signed_in(size, dark=dark)
    axe = Axe()
    for name in PAGES:
        prepared(page, name, along)
        results = axe.run(
            page,
            options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]},
        )
        assert results.violations_count == 0, f"{name}: {results.generate_report()}"


@pytest.mark.parametrize("size", [(320, 700), (640, 450)], ids=["320 px", "desk at 200 %"])
def test_nothing_scrolls_sideways_but_tables_in_themselves(
    signed_in: SignedIn, along: Along, size: tuple[int, int]
) -> None:
    page = signed_in(size)
    for name in PAGES:
        prepared(page, name, along)
        wide = page.evaluate("() => document.documentElement.scrollWidth - window.innerWidth")
        assert wide <= 0, name


PRESSED = ", ".join(
    ("button", "summary", "input:not([type=hidden])", ".page-nav a", ".mark", ".line-link", ".finding-head a")
)


def test_what_is_pressed_is_large_enough_for_a_thumb(signed_in: SignedIn, along: Along) -> None:
    """44 by 44 CSS px, apart from links in running words and in the rows of the table."""
    page = signed_in(PHONE)
    for name in PAGES:
        prepared(page, name, along)
        small = page.evaluate(
            """(pressed) => [...document.querySelectorAll(pressed)]
                .filter((e) => e.offsetParent)
                .map((e) => [e.outerHTML.slice(0, 80), e.getBoundingClientRect()])
                .filter(([, box]) => box.height < 44 || box.width < 44)""",
            PRESSED,
        )
        assert small == [], name
