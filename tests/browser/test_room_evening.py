"""An evening is played: a host, two makers on different counts, the screen; steps, a hand, an answer, a tab
more, a dropped connection, a restart of the server."""

from __future__ import annotations

import asyncio
import re
from dataclasses import dataclass

import pytest
from axe_playwright_python.sync_playwright import Axe
from fastapi import FastAPI
from playwright.sync_api import Page, expect
from sqlalchemy import Engine
from sqlmodel import select

from server.broadcast import Hub, Listener
from server.services import accounts, demo
from server.storage.sessions import writing
from server.storage.tables import Host
from server.web.maker.device import NOTEBOOKS
from server.web.moments import now
from server.web.signing import COOKIE
from tests.browser.conftest import DESK, PHONE, OpenPage, Site

EVENING = 2  # of the demo: the next one
SCREEN = (1920, 1080)


@dataclass(frozen=True)
class Keys:
    """The ways in: the host's cookie, and the makers' secrets by nickname."""

    host: str
    makers: dict[str, str]


@pytest.fixture
def keys(engine: Engine) -> Keys:
    with writing(engine) as session:
        loaded = demo.load(session, now())
        host = session.exec(select(Host.id).where(Host.sign_in_name == demo.SIGN_IN_NAME)).one() or 0
        token = accounts.sign_in(session, host, now())
    return Keys(token, {each.nickname: each.secret for each in loaded.makers})


def with_cookie(page: Page, site: Site, name: str, value: str) -> Page:
    page.context.add_cookies([{"name": name, "value": value, "url": site.url}])
    return page


def is_at(page: Page, words: str) -> None:
    """The step that is lit on a maker's page."""
    expect(page.locator("#step [aria-current=step]")).to_have_text(words, timeout=20_000)


def press(page: Page, name: str | re.Pattern[str]) -> None:
    page.get_by_role("button", name=name, exact=isinstance(name, str)).first.click()


def drop(hub: Hub, member: bool) -> None:
    """Ends the streams of makers (or of the others) as a network does that goes away for a moment."""
    beating = hub._beating
    assert beating is not None

    async def end() -> None:
        for room in list(hub._rooms.values()):
            for listener in list(room.listeners):
                if (listener.member is not None) == member:
                    await _ended(listener)

    asyncio.run_coroutine_threadsafe(end(), beating.get_loop()).result(10)


async def _ended(listener: Listener) -> None:
    await listener.send({"type": "http.response.body", "body": b"", "more_body": False})


def test_an_evening(app: FastAPI, site: Site, open_page: OpenPage, keys: Keys) -> None:
    host = with_cookie(open_page(DESK), site, COOKIE, keys.host)
    noor = with_cookie(
        open_page(PHONE), site, NOTEBOOKS, keys.makers["Noor"]
    )  # 36 chains, a count of her own
    mina = with_cookie(open_page((320, 640), dark=True), site, NOTEBOOKS, keys.makers["Mina"])  # small, 27
    for maker in (noor, mina):
        maker.goto(f"/notebook/evening/{EVENING}")
        expect(maker.get_by_text("The room is not open yet")).to_be_visible()

    # It opens, and everybody who waited sees it.
    host.goto(f"/host/evenings/{EVENING}/room")
    press(host, "Open the room")
    for maker, chains in ((noor, "Ch 36"), (mina, "Ch 27")):
        expect(maker.locator("#step")).to_contain_text(chains, timeout=20_000)
    screen = open_page(SCREEN)
    screen.goto(host.locator("#screen-link").input_value())
    expect(screen.locator("#screen-matter")).to_contain_text("27 (30, 33) ch")

    # Steps by key, in everybody's own numbers.
    for _ in range(11):  # foundation 2 steps, rnd 1 with 4, rnd 2 to its 3rd
        host.keyboard.press("ArrowRight")
    expect(host.locator(".desk-now")).to_have_text(
        "8 (9, 10) times: sk 2 sts, V-st in next st", timeout=20_000
    )
    is_at(noor, "11 times: sk 2 sts, V-st in next st")
    is_at(mina, "8 times: sk 2 sts, V-st in next st")
    expect(screen.locator(".screen-now")).to_have_text("8 (9, 10) times: sk 2 sts, V-st in next st")
    expect(noor.locator("[data-apart]")).to_have_text("4 rounds ahead of your host")
    for page in (host, noor, mina, screen):
        found = Axe().run(page).response["violations"]
        assert found == [], [(one["id"], one["nodes"][0]["html"]) for one in found]
        assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")

    # A hand, an answer for all, a quiet "done".
    noor.get_by_label("A word or two").fill("Which loop?")
    press(noor, "Put your hand up")
    expect(noor.locator("#hand")).to_contain_text("Your hand is up")
    expect(host.locator("#hands")).to_contain_text("“Which loop?”")
    expect(host.locator("#hands")).to_contain_text("Cuff, Rnd 6")
    press(mina, "Done with this")
    expect(mina.get_by_text("Done. Your host sees it.")).to_be_visible()
    expect(host.locator("#desk-heads div", has_text="done with this").locator("dd")).to_have_text("1")
    host.get_by_label("Answer to Noor").fill("Both loops.")
    press(host, re.compile("^Answer all"))
    for maker in (noor, mina):
        expect(maker.locator("#room-said")).to_contain_text("“Which loop?” Solveig Brandt: Both loops.")
    expect(noor.locator("#hand")).to_contain_text("Ask your host", timeout=20_000)
    expect(host.get_by_text("No hands up")).to_be_visible()

    # A timer, on every screen.
    press(host, "Start")
    for page in (host, noor, screen):
        expect(page.locator(".room-timer-left")).to_have_text(re.compile(r"^(5:00|4:\d\d)$"))

    # A second tab shares the first one's stream.
    hub: Hub = app.state.hub
    before = hub.listeners
    tab = noor.context.new_page()
    tab.goto(f"/notebook/evening/{EVENING}")
    is_at(tab, "11 times: sk 2 sts, V-st in next st")
    host.keyboard.press("ArrowRight")
    for page in (noor, tab, mina):
        is_at(page, "Join with sl st in 3rd ch of beg ch-4")
    assert hub.listeners == before
    tab.close()

    # A connection that drops: what happened meanwhile is there when it is back.
    drop(hub, member=True)
    host.keyboard.press("Shift+ArrowRight")
    for maker in (noor, mina):
        expect(maker.locator("#step-heading")).to_have_text("Cuff, Rnd 3", timeout=20_000)

    # The server goes and comes back; nobody does anything, and all go on.
    site.stop()
    expect(noor.locator("[data-standing]")).to_have_text(re.compile("No connection just now"))
    site.start()
    expect(noor.locator("[data-standing]")).to_have_text("The room is open.", timeout=20_000)
    host.keyboard.press("Shift+ArrowRight")
    for maker in (noor, mina):
        expect(maker.locator("#step-heading")).to_have_text("Cuff, Rnd 4", timeout=20_000)
    expect(screen.locator("#screen-matter h1")).to_have_text(re.compile("Rnd 4"), timeout=20_000)

    press(host, "Close the room")
    expect(noor.get_by_text("The room is closed.")).to_be_visible(timeout=20_000)


def test_what_was_pressed_and_typed_in_vain_stays(site: Site, open_page: OpenPage, keys: Keys) -> None:
    desk, other = (with_cookie(open_page(size), site, COOKIE, keys.host) for size in (DESK, PHONE))
    noor = with_cookie(open_page(PHONE), site, NOTEBOOKS, keys.makers["Noor"])
    for page in (desk, other):
        page.goto(f"/host/evenings/{EVENING}/room")
    noor.goto(f"/notebook/evening/{EVENING}")
    press(desk, "Open the room")
    expect(other.get_by_role("button", name="Next", exact=True)).to_be_visible(timeout=20_000)

    # With no server there: the pages stay, say so, and have what was typed.
    word = noor.get_by_label("A word or two")
    word.fill("Which loop?")
    site.stop()
    press(noor, "Put your hand up")
    expect(noor.get_by_role("alert")).to_contain_text("No answer just now")
    desk.keyboard.press("ArrowRight")
    expect(desk.get_by_role("alert")).to_contain_text("No answer just now")
    site.start()
    expect(noor.locator("[data-standing]")).to_have_text("The room is open.", timeout=20_000)
    expect(word).to_have_value("Which loop?")
    press(noor, "Put your hand up")
    expect(noor.locator("#hand")).to_contain_text("Your hand is up")
    expect(noor.get_by_role("alert")).to_have_count(0)

    # Two hosts answer one hand: the second is told, and her words stay. What was said can be taken off.
    other.get_by_label("Answer to Noor").fill("The back one.", timeout=20_000)
    desk.get_by_label("Answer to Noor").fill("Both loops.", timeout=20_000)
    press(desk, re.compile("^Answer all"))
    expect(other.get_by_role("heading", name="No hands up")).to_be_visible(timeout=20_000)
    press(other, re.compile("^Answer all"))
    expect(other.locator("#hands-problem")).to_contain_text("That hand is down already")
    expect(other.get_by_label("Answer to Noor")).to_have_value("The back one.")
    desk.get_by_label("What everybody reads").fill("A stretch for the hands.")
    press(desk, "Say it")
    expect(noor.locator("#room-said")).to_contain_text("A stretch for the hands.")
    press(desk, "Take it off the screens")
    expect(noor.locator("#room-said")).not_to_contain_text("A stretch for the hands.")

    # On to another part: what she is typing comes along. A room that is closed is closed on every desk.
    word.fill("And the")
    desk.locator("#jump").select_option(label="Upper edge, Rnd 1")
    press(desk, "Go there")
    expect(noor.locator("#step-heading")).to_have_text("Upper edge, Rnd 1", timeout=20_000)
    expect(word).to_have_value("And the")
    press(desk, "Close the room")
    expect(other.get_by_role("button", name="Open the room again")).to_be_visible(timeout=20_000)


def test_with_another_address_makers_go_on_and_the_old_screen_is_dark(
    site: Site, open_page: OpenPage, keys: Keys
) -> None:
    host = with_cookie(open_page(DESK), site, COOKIE, keys.host)
    host.goto(f"/host/evenings/{EVENING}/room")
    press(host, "Open the room")
    old = host.locator("#screen-link").input_value()
    screen = open_page(SCREEN)
    screen.goto(old)
    noor = open_page(PHONE)
    noor.goto(f"/n/{keys.makers['Noor']}")
    noor.goto(f"/notebook/evening/{EVENING}")
    noor.locator("#words").fill("Which chain")
    stream = noor.locator("[data-room]").get_attribute("data-stream")
    host.get_by_text("Another address for it").click()
    press(host, "Make another address")
    expect(host.locator("#screen-link")).not_to_have_value(old)
    expect(screen.get_by_text("There is nothing at this address")).to_be_visible(timeout=20_000)
    expect(noor.locator("[data-room]")).not_to_have_attribute("data-stream", stream or "", timeout=20_000)
    expect(noor.locator("#words")).to_have_value("Which chain")
    press(host, "Next")
    is_at(noor, "Ch 36")  # in her own numbers
