"""The whole job once through, as two people do it: a host publishes, a maker at her phone makes a pair."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect
from sqlalchemy import Engine

from server.services import accounts
from server.storage.sessions import writing
from server.web.host_patterns import EXAMPLE
from server.web.moments import now
from tests.browser.conftest import DESK, OpenPage

BOUNCE_MS = 320  # what is pressed sooner after another press is taken for the second half of a double tap


def press(page: Page, name: str | re.Pattern[str]) -> None:
    """Press the button of that name."""
    page.get_by_role("button", name=name, exact=isinstance(name, str)).click()


def tap(page: Page, name: str) -> None:
    """The same on the working page, as a finger does: not so soon that it is half of a double tap."""
    page.wait_for_timeout(BOUNCE_MS)
    press(page, name)


def headline(page: Page, words: str) -> None:
    """The page is the one with this heading."""
    expect(page.get_by_role("heading", level=1)).to_have_text(re.compile(rf"^\s*{re.escape(words)}\s*$"))


def log_one(page: Page) -> None:
    """Log the round at hand; what is shown next comes at once.

    With the keyboard: a finger would have to wait for half a second, see test_maker_pages.py.
    """
    page.wait_for_timeout(BOUNCE_MS)
    button = page.get_by_role("button", name=re.compile(r"^Log ")).first
    before = page.locator("#work-round").inner_text()
    button.press("Enter")
    expect(page.locator("#work-round")).not_to_have_text(before)
    expect(page.locator(".work-saved")).to_contain_text("logged")
    page.wait_for_timeout(BOUNCE_MS)


def log_to(page: Page, words: str) -> None:
    """Log rounds until that one is at hand."""
    for _ in range(40):
        if " ".join(page.get_by_role("heading", level=1).inner_text().split()) == words:
            return
        log_one(page)
    raise AssertionError(f"{words} did not come")


def host_publishes(page: Page, engine: Engine) -> str:
    """From the one-time link to a published part; the along's code."""
    with writing(engine) as session:
        token = accounts.invite(session, now())
    page.goto(f"/host/new/{token}")
    page.get_by_label("Name that makers see").fill("Marit Hollow")
    page.get_by_label("Sign-in name").fill("marit")
    page.get_by_label("Password").fill("three old lamps")
    press(page, "Make the account")
    page.get_by_label("Title").fill("Lamp evenings")
    page.get_by_label("Welcome").fill("Three evenings, one pair.")
    press(page, "Make the along")
    page.get_by_label("Title of a new part").fill("Slipway Wristers")
    press(page, "Add the part")
    if not page.get_by_label("Pattern text").count():
        page.get_by_role("link", name=re.compile("^Slipway Wristers")).first.click()
    page.get_by_label("Pattern text").fill(EXAMPLE)
    expect(page.locator(".understood-sum")).to_contain_text("Proved at")
    press(page, "Publish as version 1")
    expect(page.get_by_text("Version 1 is published.")).to_be_visible()
    page.get_by_role("link", name="How they join").click()
    return page.locator("#code").inner_text()


def maker_joins(page: Page, code: str) -> None:
    """By the code as it is shown, with its gap."""
    page.goto("/")
    page.locator("input[name=code]").fill(code.lower())
    page.locator("input[name=code]").press("Enter")
    headline(page, "Lamp evenings")
    page.get_by_label("Nickname").fill("Ida")
    press(page, "Join and get a notebook")
    headline(page, "Ida’s notebook")
    expect(page.get_by_label("Your link")).to_have_value(re.compile(r"/n/[A-Za-z0-9_-]{43}$"))


def maker_settles(page: Page) -> None:
    """A count that is not allowed, then the ring tried on: 32 too long, 28 fits; her hook."""
    page.get_by_role("link", name=re.compile("^Slipway Wristers")).click()
    page.get_by_label("my own count", exact=False).first.check()
    page.get_by_label("My own count, in chains").fill("33")
    press(page, "Try this ring on")
    expect(page.get_by_text("33 is not a multiple of 4. Nearest that work: 32 or 36.")).to_be_visible()
    expect(page.get_by_label("My own count, in chains")).to_have_value("33")
    page.get_by_label("My own count, in chains").fill("32")
    press(page, "Try this ring on")
    headline(page, "Chain 32, join, and try the ring on")
    press(page, re.compile("^Too long"))
    headline(page, "Chain 28, join, and try the ring on")
    press(page, "It fits: write 28 down")
    headline(page, "Your numbers")
    expect(page.locator(".tries")).to_have_text(re.compile(r"32 ch too long\s*28 ch it fits"))
    page.get_by_label("Hook", exact=True).select_option("5")
    press(page, "Write this hook down")
    page.get_by_role("link", name="Begin glove one").click()


def glove_one(page: Page) -> None:
    """Five rounds to the thumb where the pattern has four; a round of the hand taken out and made again."""
    headline(page, "Foundation rnd")
    expect(page.locator(".work-count")).to_have_text("At its end 28 ch")
    log_to(page, "Rnd 4")
    expect(page.locator(".steps")).to_contain_text("Perch in each of the next 6 ch-1 sps")
    expect(page.locator(".steps")).not_to_contain_text("rep")
    log_to(page, "Rnd 8")
    tap(page, "Long enough: end after Rnd 7")
    expect(page.locator(".work-where")).to_contain_text("Thumb gap")
    log_to(page, "Rnd 1")  # the gap
    tap(page, "Log Rnd 1")
    expect(page.locator(".work-where")).to_contain_text("Hand")
    log_to(page, "Rnd 3")
    page.locator(".work-tools").get_by_role("button", name="Take out").click()
    page.get_by_label("How many, and back to where").select_option(label="1 round: back to Hand, Rnd 1")
    page.locator("#sheet-out").get_by_role("button", name="Take out").click()
    headline(page, "Rnd 2")
    page.locator(".work-tools").get_by_role("button", name="Note").click()
    page.get_by_label("Note", exact=False).last.fill("looser than the cuff")
    press(page, "Keep the note")
    expect(page.get_by_text("looser than the cuff")).to_be_visible()
    log_to(page, "Rnd 4")
    tap(page, "Long enough: end after Rnd 3")
    finish(page, "Glove one is finished")
    headline(page, "Glove one is finished")


def finish(page: Page, last: str) -> None:
    """Edgings and thumb to the end."""
    for _ in range(12):
        if page.get_by_role("button", name=last).count():
            tap(page, last)
            return
        log_one(page)
    raise AssertionError("the end did not come")


def glove_two(page: Page) -> None:
    """Stopped where glove one's cuff ended; one round on, named at once, and taken out again."""
    page.get_by_role("link", name="On to glove two").click()
    expect(page.locator(".glove-one")).to_contain_text("begun with a hook of 5 mm")
    tap(page, "The same: 5 mm (US H-8)")
    log_to(page, "5 rounds to fit, as in glove one")
    page.get_by_text("Work one more all the same").click()
    tap(page, "Log Rnd 8, a departure")
    says = "Glove one had 5 rounds here; this is the 6th. Take it out, or note that it is meant."
    expect(page.locator("#work-news .notice-title")).to_have_text(says)
    expect(page.locator("#work-said")).to_contain_text(says)  # and is read out
    page.get_by_role("link", name="Pair").click()
    headline(page, "Glove two differs")
    # The cuff's rounds in all: 1 and 2, then 5 (6) to fit.
    expect(page.locator(".pair-row--differs")).to_have_text(
        re.compile(r"Cuff.*differs.*7 rounds.*8 rounds so far", re.S)
    )
    page.get_by_role("link", name="Glove two", exact=True).click()
    tap(page, "Take out 1 round")
    expect(page.locator("#work-news .notice-title")).to_have_count(0)
    tap(page, "End here, as glove one")
    log_to(page, "Rnd 2")
    expect(page.locator(".glove-one")).to_contain_text("looser than the cuff")
    log_to(page, "2 rounds to fit, as in glove one")
    tap(page, "End here, as glove one")
    finish(page, "Glove two is finished")
    page.get_by_role("link", name="See the pair").click()


def test_the_whole_story(open_page: OpenPage, engine: Engine) -> None:
    """Publish, join, try on, glove one, glove two, pair; and the host sees it."""
    host = open_page(DESK)
    code = host_publishes(host, engine)
    maker = open_page()
    maker_joins(maker, code)
    maker_settles(maker)
    glove_one(maker)
    glove_two(maker)
    headline(maker, "Twins")
    expect(maker.locator(".pair-row--differs")).to_have_count(0)
    expect(maker.locator(".pair-row--same")).to_have_count(maker.locator(".pair-row").count())
    host.reload()
    expect(host.get_by_text("Ida").first).to_be_visible()
    expect(host.get_by_text("finished").first).to_be_visible()
