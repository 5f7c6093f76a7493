"""The notebook where there is no network: its working page opens at the exact place, takes rounds, and tells
whether all is on the server; nothing secret is kept for it; it can be installed, updated, and put away."""

from __future__ import annotations

import asyncio
import html
import re
import threading
from collections.abc import Callable

import pytest
from fastapi import FastAPI
from playwright.sync_api import Page, expect
from sqlalchemy import Engine
from sqlmodel import select
from starlette.types import Receive, Scope, Send

from server.services import joining
from server.storage.sessions import reading, writing
from server.storage.tables import Along, Entry
from server.web import modules
from server.web.pages import build
from tests.browser.conftest import OpenPage, Site
from tests.services.story import NOW, SLIPWAY, Maker, make_along, publish

BOUNCE_MS = 600  # the page takes no second press sooner
ALL_SAVED = ".work-saved .state--good"  # not to be seen before the device's own log is open
KEPT = """async () => {
  const kept = {};
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) kept[request.url] = await (await cache.match(request)).text();
  }
  return kept;
}"""
ROWS = """() => new Promise((resolve) => {
  const opening = indexedDB.open("evenhand", 1);
  opening.onsuccess = () => {
    const all = opening.result.transaction(["parts", "entries"]);
    const counts = ["parts", "entries"].map((name) => all.objectStore(name).count());
    all.oncomplete = () => { opening.result.close(); resolve(counts.map((each) => each.result)); };
  };
})"""


class Notebook:
    """Ida's notebook, five rounds into glove one."""

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        with writing(engine) as session:
            _, self.part_id = make_along(session)
            maker = Maker(session, self.part_id)
            maker.settle(28, "medium")
            maker.send("hook", 1, hook_mm=5)
            maker.work(1, 5)
            self.notebook_id, self.secret = maker.notebook_id, maker.secret
        self.page = f"/notebook/{self.part_id}/piece/1"

    def goes_on(self, doing: Callable[[Maker], object]) -> None:
        """Do something on another device."""
        with writing(self.engine) as session:
            doing(Maker.at(session, self.part_id, self.notebook_id))

    @property
    def worked(self) -> tuple[str, ...]:
        """The rounds of glove one that stand on the server."""
        with reading(self.engine) as session:
            return Maker.at(session, self.part_id, self.notebook_id).desk.making.pieces[1].worked

    @property
    def ids(self) -> list[str]:
        """Ids of all that the server has."""
        with reading(self.engine) as session:
            return list(session.exec(select(Entry.id)).all())


@pytest.fixture
def notebook(engine: Engine) -> Notebook:
    """Her notebook in the middle of the cuff."""
    return Notebook(engine)


OpenDevice = Callable[[], Page]


@pytest.fixture
def device(open_page: OpenPage, notebook: Notebook) -> OpenDevice:
    """A device with her working page open, all that it needs with no network on it."""

    def open_one() -> Page:
        page = open_page()
        page.goto(f"/n/{notebook.secret}")
        page.goto(notebook.page)
        controlled(page)
        page.reload()  # a first visit keeps the page at hand only
        keeps(page, f"/notebook/{notebook.part_id}/pair")
        return page

    return open_one


def keeps(page: Page, *paths: str) -> None:
    """Wait until the worker has these pages."""
    controlled(page)
    for path in paths:
        for _ in range(200):
            if page.evaluate("async (path) => Boolean(await caches.match(path))", path):
                break
            page.wait_for_timeout(100)
        else:
            pytest.fail(f"{path} is not on the device")


def controlled(page: Page) -> None:
    """Wait until the worker answers for the page."""
    page.wait_for_function("() => navigator.serviceWorker?.controller")


def log_rounds(page: Page, rounds: int) -> None:
    for _ in range(rounds):
        page.wait_for_timeout(BOUNCE_MS)
        page.locator(".button--log").click()


def test_thirty_rounds_with_no_network_and_the_server_killed(
    device: OpenDevice, notebook: Notebook, site: Site
) -> None:
    """In the middle of a glove the network goes and the server is killed. 30 rounds are logged, the page is
    loaded again in between, a second device logs too. When all is back: exactly these rounds."""
    phone, tablet = device(), device()
    site.stop()
    phone.context.set_offline(True)
    log_rounds(phone, 12)
    expect(phone.get_by_role("heading", level=1)).to_have_text("Rnd 17")
    phone.reload()
    expect(phone.get_by_role("heading", level=1)).to_have_text("Rnd 17")
    log_rounds(phone, 18)
    expect(phone.locator(".work-saved")).to_contain_text("on this device")
    log_rounds(tablet, 2)
    expect(tablet.get_by_role("heading", level=1)).to_have_text("Rnd 7")
    phone.reload()
    expect(phone.get_by_role("heading", level=1)).to_have_text("Rnd 35")
    assert len(notebook.worked) == 5
    site.start()
    tablet.reload()
    phone.context.set_offline(False)
    phone.reload()
    for page in (tablet, phone):
        expect(page.locator(ALL_SAVED)).to_be_visible(timeout=20_000)
    assert len(notebook.worked) == 35
    assert len(notebook.ids) == len(set(notebook.ids)) == 2 + 5 + 30 + 2
    tablet.reload()
    for page in (tablet, phone):
        expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 35")


def test_a_first_visit_keeps_the_page_at_hand_and_an_entry_brings_the_rest(
    open_page: OpenPage, notebook: Notebook, site: Site
) -> None:
    """Who only looks round is not sent all that a maker may need; she who logs has it in time."""
    page, pair = open_page(), f"/notebook/{notebook.part_id}/pair"
    page.goto(f"/n/{notebook.secret}")
    page.goto(notebook.page)
    keeps(page, notebook.page)
    assert not any(address.endswith(pair) for address in page.evaluate(KEPT))
    site.stop()
    page.reload()
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 5")
    site.start()
    looking = open_page()
    looking.goto(f"/n/{notebook.secret}")
    looking.goto(notebook.page)
    keeps(looking, notebook.page)
    log_rounds(looking, 1)
    keeps(looking, pair)
    site.stop()
    looking.goto(f"/notebook/{notebook.part_id}/piece/2")
    expect(looking.get_by_role("heading", level=1)).to_contain_text("Foundation")


class Held:
    """An application whose working pages (or others) do not answer while they are held."""

    def __init__(self, app: FastAPI, pages: str = "/piece/") -> None:
        self.app, self.pages = app, pages
        self.held = threading.Event()
        self.asked = threading.Event()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http" and self.pages in scope["path"]:
            self.asked.set()
            while self.held.is_set():
                await asyncio.sleep(0.02)
        await self.app(scope, receive, send)


def test_a_later_visit_is_shown_at_once_and_brought_up_to_date(
    open_page: OpenPage, notebook: Notebook, app: FastAPI, site: Site
) -> None:
    """The round of now, from the device, while the network is slow; then what only the server could know."""
    site.stop()
    held = Held(app)
    slow = Site(held)
    page = open_page()
    page.goto(f"{slow.url}/n/{notebook.secret}")
    page.goto(slow.url + notebook.page)
    keeps(page, notebook.page)
    log_rounds(page, 2)
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 7")
    expect(page.locator(".work-saved .state--good")).to_contain_text("saved")
    with writing(notebook.engine) as session:
        publish(session, notebook.part_id, SLIPWAY, number=2)
    page.goto("about:blank")
    held.asked.clear()
    held.held.set()
    page.goto(slow.url + notebook.page)
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 7")
    assert held.asked.wait(5), "the page is asked for meanwhile"
    log_rounds(page, 1)
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 8")
    expect(page.locator("#work-newer")).to_have_count(0)
    held.held.clear()
    expect(page.locator("#work-newer")).to_contain_text("Version 2 of the pattern is out.")
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 8")
    slow.stop()


def test_on_a_slow_network_a_page_as_it_was_is_never_shown_for_another(
    open_page: OpenPage, notebook: Notebook, app: FastAPI, site: Site
) -> None:
    """Her numbers, as kept, are not the page to choose others, nor the answer to what she wrote down."""
    site.stop()
    held = Held(app, "/numbers")
    slow = Site(held)
    page, numbers = open_page(), f"{slow.url}/notebook/{notebook.part_id}/numbers"
    page.goto(f"{slow.url}/n/{notebook.secret}")
    page.goto(slow.url + notebook.page)
    controlled(page)
    page.goto(numbers)
    keeps(page, f"/notebook/{notebook.part_id}/numbers")

    def slowly() -> None:
        held.held.set()
        threading.Timer(1.5, held.held.clear).start()

    slowly()
    page.goto(numbers)
    expect(
        page.get_by_text("The network is slow just now: this page is as it was a moment ago.")
    ).to_be_visible()
    page.wait_for_timeout(1500)
    slowly()
    page.goto(f"{numbers}?change=1")
    expect(page.get_by_text("this page is as it was")).to_have_count(0)
    expect(page.get_by_role("link", name="Leave it as it is")).to_be_visible()
    page.goto(numbers)
    page.get_by_label("Another size in mm").fill("4.25")
    slowly()
    page.get_by_role("button", name="Write this hook down").click()
    expect(page.get_by_text("Written down: 4.25 mm")).to_be_visible()
    expect(page.get_by_text("this page is as it was")).to_have_count(0)
    slow.stop()


def test_a_kept_page_is_not_shown_where_the_device_has_no_log(
    open_page: OpenPage, notebook: Notebook
) -> None:
    """Its forms are the server's then, and what stands on it has to be of now."""
    page = open_page()
    page.goto(f"/n/{notebook.secret}")
    page.goto(notebook.page)
    keeps(page, notebook.page)
    page.add_init_script("Object.defineProperty(window, 'indexedDB', { value: undefined })")
    notebook.goes_on(lambda maker: maker.work(1, 2))
    page.goto(notebook.page)
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 7")
    page.locator(".button--log").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 8")


def test_an_old_offer_to_put_back_is_not_made_again(device: OpenDevice, notebook: Notebook) -> None:
    """The page was kept while a round could be put back; three rounds later it cannot."""
    page = device()
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    page.locator(".button--undo").click()
    expect(page.get_by_role("button", name="Put it back")).to_be_visible()
    expect(page.locator(ALL_SAVED)).to_be_visible()
    with page.expect_event("requestfinished", lambda request: request.url.endswith(notebook.page)):
        page.reload()
    expect(page.get_by_role("button", name="Put it back")).to_be_visible()
    page.wait_for_timeout(500)
    assert "Put it back" in page.evaluate(KEPT)[f"{page.url}"]
    log_rounds(page, 3)
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 7")
    page.reload()
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 7")
    expect(page.get_by_role("button", name="Put it back")).to_have_count(0)


def test_nothing_of_a_kept_page_is_pressed_before_the_log_is_open(
    device: OpenDevice, notebook: Notebook
) -> None:
    """The page was kept at round 5, with a round to put back; the device is at round 7, and slow."""
    page = device()
    page.locator(".button--undo").click()
    expect(page.locator(ALL_SAVED)).to_be_visible()
    page.reload()
    page.wait_for_timeout(500)
    log_rounds(page, 3)
    expect(page.locator(ALL_SAVED)).to_be_visible()
    before = len(notebook.ids)
    page.add_init_script(
        """{
          const open = IDBFactory.prototype.open, late = [];
          setTimeout(() => late.forEach((one) => one()), 1500);
          IDBFactory.prototype.open = function (...of) {
            const shown = {}, real = () => {
              const request = open.apply(this, of);
              for (const name of ["onupgradeneeded", "onerror", "onblocked", "onsuccess"]) {
                request[name] = shown[name];
              }
              Object.defineProperty(shown, "result", { get: () => request.result });
            };
            late.push(real);
            return shown;
          };
        }"""
    )
    page.reload()
    page.wait_for_timeout(300)
    assert page.locator("#work").get_attribute("data-alive") is None
    assert page.locator("#work-bar").count() == 1
    buttons = page.locator(".work form button").all()
    assert [each.inner_text() for each in buttons if each.is_visible()] == []
    for key in ("PageDown", "PageUp", "Space"):
        page.keyboard.press(key)
        page.wait_for_timeout(BOUNCE_MS // 3)
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes", timeout=10_000)
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 7")
    assert len(notebook.ids) == before


def test_the_shelf_with_no_network_leads_to_the_work(
    device: OpenDevice, notebook: Notebook, site: Site
) -> None:
    page = device()
    site.stop()
    page.goto("/notebook")
    expect(page.get_by_role("heading", level=1)).to_have_text("No network just now")
    expect(page.get_by_text("What you sent has not arrived.")).to_be_hidden()
    link = page.get_by_role("link", name=re.compile("^Slipway Wristers"))
    expect(link).to_contain_text("Glove one, Rnd 5")
    link.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 5")
    page.goto(f"/notebook/{notebook.part_id}")
    expect(page).to_have_url(re.compile(notebook.page))
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 5")
    page.goto(f"/notebook/{notebook.part_id}/piece/2")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Foundation")


def test_a_wrong_count_names_its_slips_with_no_network(
    device: OpenDevice, notebook: Notebook, site: Site
) -> None:
    """One short, three rounds after the network went: where to look, in the words of the server."""
    page = device()
    page.wait_for_function("part => localStorage.getItem(`evenhand-slips-${part}`)", arg=notebook.part_id)
    site.stop()
    page.context.set_offline(True)
    page.reload()
    log_rounds(page, 3)
    page.get_by_role("button", name="Count", exact=True).click()
    page.locator("#count-spot").select_option(index=1)
    name, count = page.locator("#count-name").input_value(), page.locator("#count-spot option").nth(1)
    should = re.search(r": (\d+) ", count.inner_text())
    assert should, count.inner_text()
    page.locator("#sheet-count").get_by_label("How many").fill(str(int(should[1]) - 1))
    page.get_by_role("button", name="Check").click()
    said = page.locator("#work-news .slips li")
    expect(page.locator("#work-news")).to_contain_text("1 missing.")
    offline = said.all_inner_texts()
    assert len(offline) >= 2, name

    site.start()
    page.context.set_offline(False)
    expect(page.locator(ALL_SAVED)).to_be_visible()
    without = page.context.request.get(f"{site.url}{notebook.page}")
    on_server = re.findall(r"<li>([^<]*) <span class=\"quiet\">([^<]*)</span></li>", without.text())
    assert [html.unescape(f"{says} {where}") for says, where in on_server] == offline


def test_a_visit_that_looks_round_fetches_no_slips(
    open_page: OpenPage, notebook: Notebook, site: Site
) -> None:
    page = open_page()
    page.goto(f"/n/{notebook.secret}")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(notebook.page)
    controlled(page)
    page.wait_for_timeout(500)
    assert not [each for each in asked if each.endswith("/slips")]
    with page.expect_response("**/slips"):
        log_rounds(page, 1)


def test_other_pages_say_that_they_are_as_they_were_and_that_nothing_was_sent(
    device: OpenDevice, notebook: Notebook, site: Site
) -> None:
    page = device()
    page.goto(f"/notebook/{notebook.part_id}/numbers?size=large")
    site.stop()
    page.get_by_label("Another size in mm").fill("4.25")
    page.get_by_role("button", name="Write this hook down").click()
    expect(page.get_by_text("No network just now, so nothing was sent.")).to_be_visible()
    expect(page.get_by_label("Another size in mm")).to_have_value("4.25")
    page.goto(f"/notebook/{notebook.part_id}/pair")
    expect(page.get_by_text("No network just now: this page is as it was a moment ago.")).to_be_visible()
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    site.start()
    page.goto(f"/notebook/{notebook.part_id}/pair")
    expect(page.get_by_text("this page is as it was")).to_have_count(0)


def test_fit_and_yarn_open_with_no_network_and_keep_what_was_typed(
    device: OpenDevice, notebook: Notebook, site: Site
) -> None:
    """She has opened neither: they come along with her first entry. What she weighs is not sent, is kept
    through a reload, and sent when there is a network again."""
    page, part = device(), f"/notebook/{notebook.part_id}"
    log_rounds(page, 1)
    keeps(page, f"{part}/fit", f"{part}/yarn")
    expect(page.locator(ALL_SAVED)).to_be_visible()
    before = len(notebook.ids)
    site.stop()
    for path, title in (("fit", "How many chains"), ("yarn", "Is there enough yarn")):
        page.goto(f"{part}/{path}")
        expect(page.get_by_role("heading", level=1)).to_have_text(title)
        expect(page.get_by_text("this page is as it was a moment ago.")).to_be_visible()
        assert page.evaluate("() => document.querySelector('.stack.narrow').getBoundingClientRect().left") > 0
        assert page.evaluate("() => [...document.styleSheets].some((each) => each.href.includes('/fit.css'))")
    page.get_by_label("What is left, in grams").fill("41")
    page.get_by_role("button", name="Will it last").click()
    expect(page.get_by_text("No network just now, so nothing was sent.")).to_be_visible()
    expect(page.get_by_label("What is left, in grams")).to_have_value("41")
    page.reload()
    expect(page.get_by_label("What is left, in grams")).to_have_value("41")
    expect(page.get_by_text("This was not sent: there was no network.")).to_be_visible()
    site.start()
    page.get_by_role("button", name="Will it last").click()
    expect(page.get_by_text("This was not sent")).to_have_count(0)
    expect(page.get_by_text("this page is as it was")).to_have_count(0)
    assert len(notebook.ids) == before + 1
    page.reload()
    expect(page.get_by_label("What is left, in grams")).to_have_value("")
    assert page.evaluate("() => Object.keys(localStorage).filter((name) => name.includes('typed'))") == []


def test_what_was_typed_is_not_another_s(
    device: OpenDevice, notebook: Notebook, site: Site, engine: Engine
) -> None:
    """Ida's hand, typed with no network, is not in the form of the maker who opens her notebook here next."""
    page, hand = device(), f"/notebook/{notebook.part_id}/fit/hand"
    page.goto(hand)
    site.stop()
    page.locator("#around").fill("19")
    page.get_by_role("button", name="Write the hand down").click()
    expect(page.get_by_text("No network just now, so nothing was sent.")).to_be_visible()
    site.start()
    with writing(engine) as session:
        code = session.exec(select(Along.join_code)).one()
        other = joining.join(session, code, "Bo", joining.new_secret(), NOW)
    page.goto(f"/n/{other.secret}")
    page.goto(hand)
    expect(page.locator("#around")).to_have_value("")
    expect(page.get_by_text("This was not sent")).to_have_count(0)
    page.goto(f"/n/{notebook.secret}")
    page.goto(hand)
    expect(page.locator("#around")).to_have_value("19")


def test_two_notes_from_one_kept_page_are_two(device: OpenDevice, notebook: Notebook, site: Site) -> None:
    """The page that was kept has a form's id from then; shown twice, it makes two entries all the same."""
    page = device()
    site.stop()
    for text in ("by lamp light", "and by day"):
        page.reload()
        page.wait_for_timeout(500)
        page.locator("[popovertarget=sheet-note]").first.click()
        page.locator("#note-text").fill(text)
        page.get_by_role("button", name="Keep the note").click()
        expect(page.locator("#work-matter")).to_contain_text(text)
    ids = page.evaluate("() => [...document.querySelectorAll('[name=id]')].map((each) => each.value)")
    page.reload()
    again = page.evaluate("() => [...document.querySelectorAll('[name=id]')].map((each) => each.value)")
    assert not set(ids) & set(again)
    site.start()
    page.reload()
    expect(page.locator(ALL_SAVED)).to_be_visible(timeout=20_000)
    assert len(notebook.ids) == 2 + 5 + 2
    for text in ("by lamp light", "and by day"):
        expect(page.locator("#work-matter")).to_contain_text(text)


def test_no_secret_and_nothing_of_others_is_kept(
    device: OpenDevice, notebook: Notebook, engine: Engine
) -> None:
    page = device()
    names = ("numbers", "card", "fit", "fit/hand", "yarn", "piece/1/where")
    beside = [f"/notebook/{notebook.part_id}/{name}" for name in names]
    for path in ("/notebook", "/notebook/put-away", "/host", "/", *beside):
        page.goto(path)
    kept = page.evaluate(KEPT)
    assert any(address.endswith(notebook.page) for address in kept)
    for address, text in kept.items():
        assert notebook.secret not in text, address
        assert re.search(
            r"/(notebook/\d+/(piece/[12](/where)?|pair|numbers|card|fit|fit/hand|yarn)|static/.*|js/.*|offline\?.*)$",
            address,
        ), address
    with writing(engine) as session:
        code = session.exec(select(Along.join_code)).one()
        other = joining.join(session, code, "Bo", joining.new_secret(), NOW)
    page.goto(f"/n/{other.secret}")
    expect(page.get_by_role("heading", level=1)).to_have_text("Bo’s notebook")
    assert not any("/piece/" in address for address in page.evaluate(KEPT)), "Ida's pages are gone"


def test_it_can_be_installed(device: OpenDevice) -> None:
    page = device()
    session = page.context.new_cdp_session(page)
    found = session.send("Page.getInstallabilityErrors")
    errors = [each["errorId"] for each in found["installabilityErrors"]]
    assert [each for each in errors if each != "in-incognito"] == []  # a test's window is a private one
    told = session.send("Page.getAppManifest")
    assert told["errors"] == []
    assert told["url"].endswith("/manifest.webmanifest")


def test_a_new_version_while_an_old_page_is_open(
    device: OpenDevice, notebook: Notebook, site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The old page goes on; the next one is all of the new version; both open with no network."""
    page = device()
    names, old = modules._scripts(build())
    new = "0123456789ab"
    monkeypatch.setattr(modules, "_scripts", lambda build: (names, new))
    page.evaluate("async () => (await navigator.serviceWorker.getRegistration()).update()")
    keeps(page, f"/js/{new}/work/page.js")
    log_rounds(page, 1)
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 6")
    loaded: list[str] = []
    fresh = page.context.new_page()
    fresh.on("request", lambda asked: loaded.append(asked.url))
    fresh.goto(notebook.page)
    expect(fresh.get_by_role("heading", level=1)).to_have_text("Rnd 6")
    scripts = [each for each in loaded if "/js/" in each and "/static/" not in each]
    assert len(scripts) == 1  # the page's own, with all that it imports
    assert all(f"/js/{new}/" in each for each in scripts)
    site.stop()
    log_rounds(page, 1)
    expect(page.get_by_role("heading", level=1)).to_have_text("Rnd 7")
    expect(fresh.get_by_role("heading", level=1)).to_have_text("Rnd 7")
    fresh.reload()
    expect(fresh.get_by_role("heading", level=1)).to_have_text("Rnd 7")
    assert old not in fresh.content()


def test_taken_off_the_device_it_leaves_nothing(device: OpenDevice, notebook: Notebook, site: Site) -> None:
    """After a warning, where something is on this device only."""
    page = device()
    page.route("**/entries/batch", lambda route: route.fulfill(status=503, body="{}"))
    log_rounds(page, 1)
    expect(page.locator(".work-saved")).to_contain_text("on this device")
    page.goto("/notebook/put-away")
    expect(page.get_by_text("1 entry is on this device only.")).to_be_visible()
    page.get_by_role("button", name="I have the link: take it off").click()
    expect(page).to_have_url(re.compile("put-away"))
    page.get_by_label("Take it off all the same").check()
    page.get_by_role("button", name="I have the link: take it off").click()
    expect(page).to_have_url(re.compile("/notebook$"))
    assert page.evaluate(ROWS) == [0, 0]
    assert not any("/piece/" in address for address in page.evaluate(KEPT))
    assert (
        page.evaluate("() => Object.keys(localStorage).filter((name) => name.startsWith('evenhand-'))") == []
    )


def test_put_away_without_scripts(open_page: OpenPage, notebook: Notebook) -> None:
    page = open_page(scripts=False)
    page.goto(f"/n/{notebook.secret}")
    page.goto("/notebook/put-away")
    page.get_by_role("button", name="I have the link: take it off").click()
    expect(page).to_have_url(re.compile("/notebook$"))
