"""The device's store against the real server: what is logged with no network, with answers lost, on two
devices and in two pages at once, by wrong clocks and with a full server, is on both sides in the end, each
entry once.
"""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from typing import Any

import pytest
from playwright.sync_api import Page, Route
from sqlalchemy import Engine
from sqlmodel import select

from server.services.notebooks import erasing
from server.settings import Settings
from server.storage.sessions import reading, writing
from server.storage.tables import Entry
from server.web.modules import module
from tests.browser.conftest import OpenPage, Site
from tests.services.story import NOW, Maker, make_along

OPEN = """async ([address, part, notebook]) => {
  window.store = await (await import(address)).openStore(part, notebook);
  return window.store !== null;
}"""
WORKED = (
    "() => [1, 2].flatMap((piece) => store.making.pieces[piece].worked.map((spot) => `${piece}:${spot}`))"
)
LOG_ROUNDS = """async (rounds) => {
  for (let n = 0; n < rounds; n++) store.log(1, "worked", { spot: store.view(1).spot });
  await store.written;
  return store.saved;
}"""


@dataclass(frozen=True)
class Notebook:
    """Ida's notebook, her number settled and three rounds worked."""

    engine: Engine
    part_id: int
    notebook_id: int
    secret: str

    def goes_on(self, doing: Callable[[Maker], object]) -> None:
        """Do something on another device, by its pages."""
        with writing(self.engine) as session:
            doing(Maker.at(session, self.part_id, self.notebook_id))

    @property
    def log(self) -> list[Entry]:
        """All that the server has."""
        with reading(self.engine) as session:
            return list(session.exec(select(Entry).order_by(Entry.at)).all())

    @property
    def worked(self) -> list[str]:
        """The rounds that stand, by the server's own fold."""
        with reading(self.engine) as session:
            pieces = Maker.at(session, self.part_id, self.notebook_id).desk.making.pieces
            return [f"{number}:{spot}" for number in (1, 2) for spot in pieces[number].worked]


def three_rounds(maker: Maker) -> None:
    maker.settle(28, "medium")
    maker.send("hook", 1, hook_mm=5)
    maker.work(1, 3)


@pytest.fixture
def notebook(engine: Engine) -> Notebook:
    """Her notebook in the middle of the cuff."""
    with writing(engine) as session:
        _, part_id = make_along(session)
        maker = Maker(session, part_id)
        three_rounds(maker)
        return Notebook(engine, part_id, maker.notebook_id, maker.secret)


OpenDevice = Callable[..., Page]


@pytest.fixture
def device(open_page: OpenPage, notebook: Notebook) -> OpenDevice:
    """A device with her notebook and its store open as `window.store`."""

    def open_one(like: Page | None = None) -> Page:
        page = open_page(like=like)
        page.goto(f"/n/{notebook.secret}")
        page.goto(f"/notebook/{notebook.part_id}/pair")
        assert open_store(page, notebook)
        return page

    return open_one


def open_store(page: Page, notebook: Notebook) -> bool:
    opened: bool = page.evaluate(OPEN, [module("notebook/store.js"), notebook.part_id, notebook.notebook_id])
    return opened


def saved(page: Page, state: str) -> None:
    """Wait until the store says so."""
    page.wait_for_function("(state) => store.saved === state", arg=state, timeout=15_000)


def refresh(page: Page) -> None:
    page.evaluate("() => store.refresh()")


def test_what_is_logged_goes_to_the_server_at_once(device: OpenDevice, notebook: Notebook) -> None:
    page = device()
    assert page.evaluate("() => store.view(1).label") == "Rnd 3"
    page.evaluate(LOG_ROUNDS, 2)
    assert page.evaluate("() => store.view(1).label") == "Rnd 5"
    saved(page, "server")
    assert notebook.worked == page.evaluate(WORKED)
    assert len(notebook.worked) == 5


def test_no_network_and_the_browser_closed_in_between(
    device: OpenDevice, notebook: Notebook, site: Site
) -> None:
    """The server is killed, 30 rounds are logged, the page is loaded again, another device goes on meanwhile;
    when the server is back, both have exactly these rounds."""
    phone, tablet = device(), device()
    phone.wait_for_function("() => navigator.serviceWorker.controller !== null")
    site.stop()
    assert phone.evaluate(LOG_ROUNDS, 30) == "here"
    for page in (phone, tablet):
        page.wait_for_timeout(100)
    tablet.evaluate(
        """async () => {
          store.log(1, "worked", { spot: store.view(1).spot });
          store.log(1, "note", { spot: store.view(1).spot, text: "blue from here" });
          store.log(1, "worked", { spot: store.view(1).spot });
          await store.written;
        }"""
    )
    phone.reload()
    assert open_store(phone, notebook), "opened from the device, with no server"
    assert phone.evaluate("() => store.making.pieces[1].worked.length") == 33
    assert phone.evaluate("() => store.saved") == "here"
    site.start()
    refresh(tablet)
    saved(tablet, "server")
    refresh(phone)
    saved(phone, "server")
    refresh(tablet)
    assert len(notebook.worked) == 33
    assert phone.evaluate(WORKED) == tablet.evaluate(WORKED) == notebook.worked
    logged = notebook.log
    assert len(logged) == 2 + 3 + 30 + 3
    assert len({each.id for each in logged}) == len(logged)
    assert sum(each.kind == "note" for each in logged) == 1


def test_an_answer_that_is_lost_makes_nothing_twice(device: OpenDevice, notebook: Notebook) -> None:
    """The server takes it in, and the answer never comes: sent again, it is the same entry."""
    page = device()
    lost: list[int] = []

    def lose(route: Route) -> None:
        lost.append(route.fetch().status)
        route.abort()

    page.route("**/entries/batch", lose, times=2)
    page.evaluate(LOG_ROUNDS, 1)
    page.wait_for_function("() => store.saved === 'server'", timeout=20_000)
    assert lost == [200, 200]
    assert [each.kind for each in notebook.log].count("worked") == 4
    assert page.evaluate(WORKED) == notebook.worked


@pytest.mark.parametrize("status", [429, 500, 503, 507])
def test_a_server_that_is_full_or_busy_gets_it_later(
    device: OpenDevice, notebook: Notebook, status: int
) -> None:
    page = device()
    page.route("**/entries/batch", lambda route: route.fulfill(status=status, body="{}"), times=2)
    assert page.evaluate(LOG_ROUNDS, 2) == "here"
    saved(page, "server")
    assert page.evaluate(WORKED) == notebook.worked
    assert len(notebook.worked) == 5


@pytest.mark.parametrize("off_days", [-9000, -2, 3, 900])
def test_a_clock_that_is_off_changes_no_order(
    device: OpenDevice, notebook: Notebook, site: Site, off_days: int
) -> None:
    """The device's clock jumps; with no network she works two rounds, takes one out, and works it again."""
    page = device()
    site.stop()
    page.evaluate(
        "(ms) => { const now = Date.now.bind(Date); Date.now = () => now() + ms; }", off_days * 86_400_000
    )
    page.evaluate(LOG_ROUNDS, 2)
    page.evaluate(
        """async () => {
          store.log(1, "taken_out", { spot: store.making.pieces[1].worked.at(-1) });
          store.log(1, "note", { spot: null, text: "again" });
          await store.written;
        }"""
    )
    before = page.evaluate(WORKED)
    assert len(before) == 4
    site.start()
    refresh(page)
    saved(page, "server")
    assert page.evaluate(WORKED) == before == notebook.worked
    moments = [each.at for each in notebook.log]
    assert [each.kind for each in notebook.log][-4:] == ["worked", "worked", "taken_out", "note"]
    assert len(set(moments)) == len(moments)
    notebook.goes_on(lambda maker: maker.work(1, 1))
    refresh(page)
    assert page.evaluate(WORKED) == notebook.worked
    assert len(notebook.worked) == 5


def test_two_pages_of_one_device_show_the_same_and_send_once(device: OpenDevice, notebook: Notebook) -> None:
    one = device()
    two = one.context.new_page()
    two.goto(f"/notebook/{notebook.part_id}/pair")
    assert open_store(two, notebook)
    sent: list[Any] = []
    one.context.on(
        "request", lambda asked: sent.append(asked.post_data_json) if asked.method == "POST" else None
    )
    one.evaluate(LOG_ROUNDS, 1)
    two.wait_for_function("() => store.making.pieces[1].worked.length === 4")
    two.evaluate(LOG_ROUNDS, 1)
    one.wait_for_function("() => store.making.pieces[1].worked.length === 5")
    for page in (one, two):
        saved(page, "server")
    ids = [entry["id"] for batch in sent for entry in batch["entries"]]
    assert len(ids) == len(set(ids)) == 2
    assert one.evaluate(WORKED) == two.evaluate(WORKED) == notebook.worked


def test_what_the_server_does_not_take_is_shown_until_it_is_dismissed(
    device: OpenDevice, notebook: Notebook
) -> None:
    """The round is none of this pattern: told with the reason, and it keeps back nothing else."""
    page = device()
    page.evaluate(
        """async () => {
          store.log(1, "worked", { spot: "7.0.1" });
          store.log(1, "worked", { spot: store.view(1).spot });
          await store.written;
        }"""
    )
    saved(page, "server")
    (refused,) = page.evaluate("() => store.refused")
    assert "no such round" in refused["reason"]
    assert refused["words"] == "a round that is out logged"
    page.reload()
    assert open_store(page, notebook)
    assert len(page.evaluate("() => store.refused")) == 1
    page.evaluate("(id) => store.dismiss(id)", refused["id"])
    page.wait_for_timeout(200)
    page.reload()
    assert open_store(page, notebook)
    assert page.evaluate("() => store.refused") == []
    assert page.evaluate(WORKED) == notebook.worked
    assert len(notebook.worked) == 4


def test_one_that_cannot_be_read_keeps_back_no_other(device: OpenDevice, notebook: Notebook) -> None:
    page = device()
    page.evaluate(
        """async () => {
          for (let n = 0; n < 4; n++) {
            store.log(1, "worked", n === 2 ? ["no mapping"] : { spot: store.view(1).spot });
          }
          await store.written;
        }"""
    )
    saved(page, "server")
    assert len(page.evaluate("() => store.refused")) == 1
    assert len(notebook.worked) == 6


def test_a_device_that_cannot_write_says_so(device: OpenDevice, notebook: Notebook, site: Site) -> None:
    """Its disk is full and there is no network: what is logged is only on the page, and the page says so."""
    page = device()
    site.stop()
    page.evaluate(
        """() => {
          const put = IDBObjectStore.prototype.put;
          IDBObjectStore.prototype.put = function (...args) {
            if (window.full) throw new DOMException("full", "QuotaExceededError");
            return put.apply(this, args);
          };
          window.full = true;
        }"""
    )
    assert page.evaluate(LOG_ROUNDS, 1) == "not"
    assert page.evaluate("() => store.making.pieces[1].worked.length") == 4
    site.start()
    refresh(page)
    saved(page, "server")
    assert len(notebook.worked) == 4


def test_no_indexed_db_no_store(open_page: OpenPage, notebook: Notebook) -> None:
    """The page then goes on by its forms."""
    page = open_page()
    page.add_init_script("Object.defineProperty(window, 'indexedDB', { value: undefined })")
    page.goto(f"/n/{notebook.secret}")
    page.goto(f"/notebook/{notebook.part_id}/pair")
    assert not open_store(page, notebook)


def test_a_server_put_back_to_an_older_state_gets_it_again(
    device: OpenDevice, notebook: Notebook, settings: Settings
) -> None:
    """After a backup is put back, what the device has and the server has no more is sent again."""
    page = device()
    page.evaluate(LOG_ROUNDS, 3)
    saved(page, "server")
    last = "SELECT id FROM entry ORDER BY at DESC LIMIT 2"
    with closing(sqlite3.connect(settings.database)) as older:  # as an older file is: without the last rounds
        older.execute("DROP TRIGGER entry_stays")
        older.execute(f"DELETE FROM entry WHERE id IN ({last})")
        older.commit()
    assert len(notebook.worked) == 4
    refresh(page)
    saved(page, "server")
    assert len(notebook.worked) == 6
    assert page.evaluate(WORKED) == notebook.worked


def test_settings_of_the_device_are_kept_on_it(device: OpenDevice, notebook: Notebook) -> None:
    page = device()
    page.evaluate("() => store.setSetting('large', true)")
    page.wait_for_timeout(200)
    page.reload()
    assert open_store(page, notebook)
    assert page.evaluate("() => store.settings.large") is True


# --- at random ---------------------------------------------------------------------------------------------

DOINGS = """async ([seed, doings]) => {
  let state = seed;
  const draw = (most) => {
    state = (state * 69069 + 1) % 4294967296;
    return Math.floor(state / 65536) % most;
  };
  for (let n = 0; n < doings; n++) {
    const view = store.view(1), worked = store.making.pieces[1].worked, what = draw(12);
    if (what < 6 && view.spot) store.log(1, "worked", { spot: view.spot });
    else if (what === 6 && worked.length) store.log(1, "taken_out", { spot: worked[draw(worked.length)] });
    else if (what === 7) store.log(1, "note", { spot: view.spot, text: `note ${seed} ${n}` });
    else if (what === 8 && view.undo) store.log(1, "undo", { entry: view.undo.id });
    else if (what === 9 && view.fit) {
      store.log(1, "fit_ended", { fit: view.fit.fit, rounds: view.fit.done + 1 });
    }
    else if (what === 10) store.log(1, "hook", { hook_mm: 4 + draw(3), spot: view.spot });
    else if (view.spot) store.log(1, "counted", { spot: view.spot, name: "sts", count: draw(40) });
  }
  await store.written;
  return store.entries.map(({ id }) => id);
}"""
ORDER = """() => store.inOrder.map(({ id, at, device, order, values }) =>
  [id, at, device, order, JSON.stringify(values)])"""


class Weather:
    """What the network does to a sending: nothing, or it is lost on the way there or back, or the server has
    no room for it."""

    def __init__(self, draw: random.Random) -> None:
        self.draw = draw
        self.calm = False

    def __call__(self, route: Route) -> None:
        kind = "calm" if self.calm else self.draw.choice(("calm", "there", "back", "back", "full", "twice"))
        if kind == "there":
            route.abort()
        elif kind == "back":
            route.fetch()
            route.abort()
        elif kind == "full":
            route.fulfill(status=507, body="{}")
        elif kind == "twice":
            route.fetch()
            route.continue_()
        else:
            route.continue_()


@pytest.mark.parametrize("seed", range(4))
def test_whatever_happens_all_come_to_the_same(device: OpenDevice, notebook: Notebook, seed: int) -> None:
    """Two devices, one with a clock that is off, do this and that while the network loses one sending or the
    other; when it is calm, both and the server have the same, and all that anybody logged is in it."""
    draw = random.Random(seed)
    pages = [device(), device()]
    weather = Weather(draw)
    off_ms = draw.choice((-86_400_000 * 500, 86_400_000 * 3, 0))
    pages[1].evaluate("(ms) => { const now = Date.now.bind(Date); Date.now = () => now() + ms; }", off_ms)
    for page in pages:
        page.route("**/entries/batch", weather)
        page.route("**/carry*", weather)
    logged: set[str] = set()
    for turn in range(6):
        page = draw.choice(pages)
        logged |= set(page.evaluate(DOINGS, [seed * 100 + turn + 1, draw.randrange(1, 9)]))
        if draw.random() < 0.3:
            page.reload()
            assert open_store(page, notebook), "from the device, whatever the network does"
            pages[1].evaluate(
                "(ms) => { const now = Date.now.bind(Date); Date.now = () => now() + ms; }", off_ms
            )
    weather.calm = True
    for page in (*pages, *pages):
        refresh(page)
        saved(page, "server")
    refresh(pages[0])
    there = {each.id for each in notebook.log}
    assert logged <= there
    assert [page.evaluate("() => store.refused.length") for page in pages] == [0, 0]
    one, two = (page.evaluate(ORDER) for page in pages)
    assert one == two
    assert len(one) == len(there)
    assert pages[0].evaluate(WORKED) == pages[1].evaluate(WORKED) == notebook.worked


def test_a_notebook_that_was_erased_leaves_the_device(
    device: OpenDevice, notebook: Notebook, engine: Engine
) -> None:
    """The server says that it is gone for good: nothing of it stays here, and the page has the reason."""
    page = device()
    with writing(engine) as session:
        erasing.erase(session, notebook.notebook_id, "Ida", NOW)
    refresh(page)
    assert "erased" in page.evaluate("() => store.gone")
    assert page.evaluate("() => store.view(1)") is None
    page.reload()
    assert not open_store(page, notebook)
