"""The maker's pages as they are used: by thumb, by keyboard, without scripts, narrow, enlarged, in the dark,
on two devices at once."""

from __future__ import annotations

import re
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from secrets import token_urlsafe

import httpx2
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect
from sqlalchemy import Engine
from sqlmodel import select

from server.storage.sessions import reading, writing
from server.storage.tables import Entry
from tests.browser.conftest import DESK, PHONE, OpenPage, Site
from tests.services.story import SLIPWAY, Maker, make_along, publish

NARROW, ENLARGED = (320, 700), (640, 450)


@dataclass(frozen=True)
class Notebook:
    """Ida's notebook, and how she goes on in it between pages."""

    engine: Engine
    part_id: int
    notebook_id: int
    secret: str

    def goes_on(self, doing: Callable[[Maker], None]) -> None:
        """Do something on another device."""
        with writing(self.engine) as session:
            doing(Maker.at(session, self.part_id, self.notebook_id))

    def entries(self, kind: str) -> int:
        """How many entries of that kind the log has."""
        with reading(self.engine) as session:
            return len(session.exec(select(Entry).where(Entry.kind == kind)).all())


@pytest.fixture
def notebook(engine: Engine) -> Notebook:
    """Ida's notebook, nothing begun."""
    with writing(engine) as session:
        _, part_id = make_along(session)
        maker = Maker(session, part_id)
        return Notebook(engine, part_id, maker.notebook_id, maker.secret)


MakeOpen = Callable[..., Page]


@pytest.fixture
def opened(open_page: OpenPage, notebook: Notebook) -> MakeOpen:
    """A device on which her notebook was opened by its link."""

    def open_one(size: tuple[int, int] = PHONE, *, dark: bool = False, scripts: bool = True) -> Page:
        page = open_page(size, dark=dark, scripts=scripts)
        page.goto(f"/n/{notebook.secret}")
        expect(page.get_by_role("heading", level=1)).to_have_text("Ida’s notebook")
        return page

    return open_one


def settled(maker: Maker) -> None:
    maker.settle(28, "medium")
    maker.send("hook", 1, hook_mm=5)


def in_cuff(maker: Maker) -> None:
    settled(maker)
    maker.work(1, 5)


def departed(maker: Maker) -> None:
    """Glove two a round past where glove one's cuff ended."""
    settled(maker)
    maker.work(1, 4)
    maker.send("note", 1, spot="0.3.1", text="after the film")
    maker.make(1, 2, 2)
    maker.send("hook", 2, hook_mm=5)
    maker.work(2, 3 + 3)


def test_every_page_looked_at_by_axe(opened: MakeOpen, notebook: Notebook) -> None:
    """WCAG 2.2 A and AA, on every page of hers, in the states that have the most on them."""
    axe = Axe()
    pages = {size: opened(size, dark=dark) for size, dark in ((PHONE, True), (DESK, False))}
    part = f"/notebook/{notebook.part_id}"

    def clean(*paths: str) -> None:
        for size, page in pages.items():
            for path in paths:
                page.goto(path)
                tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
                results = axe.run(page, options={"runOnly": tags})
                assert results.violations_count == 0, f"{path} {size}: {results.generate_report()}"

    clean("/join", "/join?code=xyz", "/join/KAJ947", "/notebook?joined=1", "/notebook", "/notebook/put-away",
          f"{part}/numbers", f"{part}/numbers?size=medium", f"{part}/numbers?size=own&own=37")  # fmt: skip
    notebook.goes_on(departed)
    with writing(notebook.engine) as session:
        publish(session, notebook.part_id, SLIPWAY.replace("4 (4, 5), or", "5 (5, 6), or"), 2)
    clean(
        "/notebook",
        f"{part}/numbers",
        f"{part}/piece/1",
        f"{part}/piece/2",
        f"{part}/pair",
        f"{part}/version",
    )


@pytest.mark.parametrize("sheet", ["out", "note", "count", "place", "several", "measure", "hook", "settings"])
def test_a_sheet_looked_at_by_axe(opened: MakeOpen, notebook: Notebook, sheet: str) -> None:
    notebook.goes_on(in_cuff)
    page = opened()
    page.goto(f"/notebook/{notebook.part_id}/piece/1")
    page.locator(f"[popovertarget=sheet-{sheet}]").first.click()
    expect(page.locator(f"#sheet-{sheet}")).to_be_visible()
    results = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]})
    assert results.violations_count == 0, results.generate_report()
    page.keyboard.press("Escape")
    expect(page.locator(f"#sheet-{sheet}")).to_be_hidden()


@pytest.mark.parametrize(
    "size",
    [NARROW, ENLARGED, (195, 422), (844, 390)],
    ids=["320 px", "200 %", "a phone at 200 %", "landscape"],
)
def test_nothing_scrolls_sideways(opened: MakeOpen, notebook: Notebook, size: tuple[int, int]) -> None:
    part = f"/notebook/{notebook.part_id}"
    page = opened(size)

    def fits(*paths: str) -> None:
        for path in paths:
            page.goto(path)
            wide = page.evaluate("() => document.documentElement.scrollWidth - window.innerWidth")
            assert wide <= 0, path

    fits("/join/KAJ947", "/notebook?joined=1", f"{part}/numbers", f"{part}/numbers?size=large")
    notebook.goes_on(departed)
    fits("/notebook", f"{part}/numbers", f"{part}/piece/1", f"{part}/piece/2", f"{part}/pair", f"{part}/card")


def test_targets_are_large_enough_for_a_thumb(opened: MakeOpen, notebook: Notebook) -> None:
    """44 px for all that is pressed at work; the round's own button far more, low on the screen."""
    notebook.goes_on(in_cuff)
    page = opened()
    page.goto(f"/notebook/{notebook.part_id}/piece/1")
    for one in page.locator("button:visible, .part-nav a, .step").all():
        box = one.bounding_box()
        assert box is not None
        assert box["height"] >= 44, one.inner_text()
        assert box["width"] >= 44, one.inner_text()
    box = page.locator(".button--log").bounding_box()
    assert box is not None
    assert box["height"] >= 72
    assert box["y"] > 844 / 2
    assert box["y"] + box["height"] <= 844


def holds(condition: Callable[[], bool]) -> None:
    """Waits until it does: what a page logs goes to the server a moment after it is shown."""
    until = time.monotonic() + 10
    while not condition():
        assert time.monotonic() < until
        time.sleep(0.02)


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_the_second_half_of_a_double_tap_hits_nothing(
    opened: MakeOpen, notebook: Notebook, scripts: bool
) -> None:
    """The next round is there before the finger is: its button takes no second half of a double tap, and on a
    page that has just come none at all for half a second."""
    notebook.goes_on(in_cuff)
    page = opened(scripts=scripts)
    page.goto(f"/notebook/{notebook.part_id}/piece/1")
    if scripts:
        expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    page.wait_for_timeout(700)
    box = page.locator(".button--log").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    if scripts:
        page.mouse.dblclick(x, y)
    else:
        page.mouse.click(x, y)
        expect(page.locator("h1")).to_have_text("Rnd 6")
        page.mouse.click(x, y)
    page.wait_for_timeout(600)
    expect(page.locator("h1")).to_have_text("Rnd 6")
    holds(lambda: notebook.entries("worked") == 6)
    page.mouse.click(x, y)
    expect(page.locator("h1")).to_have_text("Rnd 7")
    holds(lambda: notebook.entries("worked") == 7)


def test_two_presses_at_once_log_one_round(opened: MakeOpen, notebook: Notebook) -> None:
    notebook.goes_on(in_cuff)
    page = opened()
    page.goto(f"/notebook/{notebook.part_id}/piece/1")
    page.wait_for_timeout(700)
    page.locator(".button--log").dblclick(no_wait_after=True)
    expect(page.get_by_role("heading", level=1)).to_contain_text("6")
    page.wait_for_timeout(600)
    assert notebook.entries("worked") == 6


def test_the_back_button_shows_the_round_at_hand(opened: MakeOpen, notebook: Notebook) -> None:
    """Not the older round that the page had shown: pressing there would log another one than it says."""
    notebook.goes_on(in_cuff)
    page = opened()
    page.goto(f"/notebook/{notebook.part_id}/piece/1")
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    page.locator(".button--log").press("Enter")
    expect(page.locator("h1")).to_have_text("Rnd 6")
    page.get_by_role("link", name="Pair", exact=True).click()
    page.wait_for_url("**/pair")  # it goes there once what was logged is on the server
    notebook.goes_on(lambda maker: maker.work(1, 1))
    page.go_back()
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    expect(page.locator("h1")).to_have_text("Rnd 7")
    page.locator(".button--log").press("Enter")
    expect(page.locator("h1")).to_have_text("Rnd 8")
    holds(lambda: notebook.entries("worked") == 8)


def test_a_note_stays_at_the_round_it_was_begun_at(opened: MakeOpen, notebook: Notebook) -> None:
    """Another device logs the round while she writes."""
    notebook.goes_on(in_cuff)
    page = opened()
    page.goto(f"/notebook/{notebook.part_id}/piece/1")
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    page.locator("[popovertarget=sheet-note]").first.click()
    page.locator("#note-text").fill("by lamp light")
    notebook.goes_on(lambda maker: maker.work(1, 1))
    page.evaluate("() => dispatchEvent(new Event('online'))")
    expect(page.locator("h1")).to_have_text("Rnd 6")
    expect(page.locator("#sheet-note-name")).to_have_text("Note at Rnd 5")
    page.get_by_role("button", name="Keep the note").click()
    expect(page.locator(".work-saved")).to_contain_text("note at Cuff, Rnd 5")
    expect(page.locator("#sheet-note-name")).to_have_text("Note at Rnd 6")


def test_another_device_went_on_meanwhile(opened: MakeOpen, notebook: Notebook) -> None:
    notebook.goes_on(in_cuff)
    page = opened(scripts=False)
    page.goto(f"/notebook/{notebook.part_id}/piece/1")
    notebook.goes_on(lambda maker: maker.work(1, 1))
    page.locator(".button--log").press("Enter")
    says = "Cuff, Rnd 5 was logged already, on another device or page."
    expect(page.get_by_role("status").filter(has_text=says)).to_be_visible()
    expect(page.locator("h1")).to_contain_text("6")
    assert notebook.entries("worked") == 6


def test_two_devices_that_log_the_same_round_have_it_once(opened: MakeOpen, notebook: Notebook) -> None:
    """Both stand at round 5; each has its own store, and neither waits for the other."""
    notebook.goes_on(in_cuff)
    page = opened()
    page.goto(f"/notebook/{notebook.part_id}/piece/1")
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    notebook.goes_on(lambda maker: maker.work(1, 1))
    page.locator(".button--log").press("Enter")
    holds(lambda: notebook.entries("worked") == 7)
    page.reload()
    expect(page.locator("h1")).to_have_text("Rnd 6")


def test_all_of_it_without_scripts(opened: MakeOpen, notebook: Notebook) -> None:
    page = opened(scripts=False)
    page.get_by_role("link", name=re.compile("^Slipway Wristers")).click()
    page.get_by_role("radio", name=re.compile("large")).check()
    page.get_by_role("button", name="Try this ring on").click()
    page.get_by_role("button", name=re.compile("^Too long")).click()
    page.get_by_role("button", name="It fits: write 28 down").click()
    page.get_by_role("button", name="Write this hook down").click()
    page.get_by_role("link", name="Begin glove one").click()
    page.get_by_role("button", name="Log this round").click()
    expect(page.locator("h1")).to_contain_text("1")
    page.locator("[popovertarget=sheet-note]").first.click()
    page.locator("#note-text").fill("by lamp light")
    page.get_by_role("button", name="Keep the note").click()
    expect(page.get_by_text("by lamp light")).to_be_visible()
    page.locator("[popovertarget=sheet-out]").first.click()
    page.locator("#sheet-out").get_by_role("button", name="Take out").click()
    expect(page.locator("h1")).to_contain_text("Foundation rnd")


def test_all_of_it_by_keyboard(opened: MakeOpen, notebook: Notebook) -> None:
    """From the ways between pages through the steps to the round's button; a sheet and out of it again."""
    notebook.goes_on(in_cuff)
    page = opened()
    page.goto(f"/notebook/{notebook.part_id}/piece/1")
    order = []
    for _ in range(40):
        page.keyboard.press("Tab")
        order.append(page.evaluate("() => document.activeElement.innerText || document.activeElement.type"))
        if order[-1] == "Log Rnd 5":
            break
    assert order[-1] == "Log Rnd 5", order
    assert order[0] == "Go to the matter of the page"
    assert order.count("checkbox") == page.locator(".step").count()
    expect(page.locator(".button--log")).to_be_in_viewport(ratio=1)
    page.locator("[popovertarget=sheet-count]").first.focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.closest('#sheet-count') !== null")
    page.keyboard.press("Escape")
    assert page.evaluate("() => document.activeElement.getAttribute('popovertarget')") == "sheet-count"
    page.locator(".button--log").focus()
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_contain_text("6")
    assert page.evaluate("() => document.activeElement.innerText") == "Log Rnd 6"


def test_a_sheet_to_mend_stands_open_where_she_sees_it(opened: MakeOpen, notebook: Notebook) -> None:
    notebook.goes_on(in_cuff)
    page = opened()
    page.goto(f"/notebook/{notebook.part_id}/piece/1")
    page.locator("[popovertarget=sheet-hook]").first.click()
    page.get_by_label("Another size in mm").fill("thick")
    page.locator("#sheet-hook").get_by_role("button", name="Write it down").click()
    expect(page.get_by_text("Write the hook in mm, such as 4.5.")).to_be_in_viewport()
    expect(page.get_by_label("Another size in mm")).to_have_value("thick")
    expect(page.get_by_label("Another size in mm")).to_be_focused()


def test_many_devices_at_once_log_each_round_once(site: Site, notebook: Notebook) -> None:
    """Twelve devices press the same rounds at the same time, and all bring one and the same note."""
    notebook.goes_on(settled)
    answers: list[tuple[str, int]] = []

    def device() -> None:
        with httpx2.Client(base_url=site.url, headers={"Accept": "text/html"}) as client:
            client.get(f"/n/{notebook.secret}")
            about = {"notebook": str(notebook.notebook_id), "piece": "1"}
            address = f"/notebook/{notebook.part_id}/entries"
            for spot in ("0.0.1", "0.1.1", "0.2.1"):
                form = about | {"id": token_urlsafe(12), "kind": "worked", "spot": spot}
                answers.append((spot, client.post(address, data=form).status_code))
            form = about | {"id": "the-same-note", "kind": "note", "spot": "0.0.1", "text": "blue"}
            answers.append(("note", client.post(address, data=form).status_code))

    threads = [threading.Thread(target=device) for _ in range(12)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(set(answers)) == [
        ("0.0.1", 303), ("0.0.1", 409), ("0.1.1", 303), ("0.1.1", 409), ("0.2.1", 303), ("0.2.1", 409),
        ("note", 303),
    ]  # fmt: skip
    assert [answers.count((spot, 303)) for spot in ("0.0.1", "0.1.1", "0.2.1")] == [1, 1, 1]
    assert (notebook.entries("worked"), notebook.entries("note")) == (3, 1)
