"""Keeping a notebook, as people do it: two devices, a file, a receipt; with scripts and without."""

from __future__ import annotations

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect
from sqlalchemy import Engine

from server.settings import Settings
from server.storage.sessions import writing
from tests.browser.conftest import DESK, PHONE, OpenPage
from tests.services.story import Maker, make_along

NARROW, ENLARGED = (320, 700), (640, 450)
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
SCRIPTS = pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no scripts"])
KEPT_HERE = """() => new Promise((resolve, reject) => {
  const opening = indexedDB.open("evenhand");
  opening.onerror = () => reject(opening.error);
  opening.onsuccess = () => {
    const stores = [...opening.result.objectStoreNames];
    if (!stores.includes("entries")) { opening.result.close(); resolve(0); return; }
    const asking = opening.result.transaction(["entries"]).objectStore("entries").count();
    asking.onsuccess = () => { opening.result.close(); resolve(asking.result); };
  };
})"""


@pytest.fixture
def ida(engine: Engine) -> Maker:
    """Ida, both gloves made."""
    with writing(engine) as session:
        maker = Maker(session, make_along(session)[1])
        maker.settle(28, "medium")
        maker.make(1, 6, 4)
        maker.send("note", 1, spot="0.3.2", text="kittiwakeunderthepier")
        maker.make(2, 7, 4)
        return maker


def opened(open_page: OpenPage, ida: Maker, size: tuple[int, int] = PHONE, *, scripts: bool = True) -> Page:
    """A device on which her notebook was opened by its link."""
    page = open_page(size, scripts=scripts)
    page.goto(f"/n/{ida.secret}")
    expect(page.get_by_role("heading", level=1)).to_have_text("Ida’s notebook")
    return page


def offer(phone: Page) -> str:
    """Shows the picture and the words; the words."""
    phone.get_by_role("link", name="Move it to another phone").click()
    phone.get_by_role("button", name="Show the picture and the words").click()
    expect(phone.locator("svg.qr")).to_be_visible()
    return " ".join(phone.locator(".six-words li").all_inner_texts())


@SCRIPTS
def test_to_another_phone_by_six_words(open_page: OpenPage, ida: Maker, scripts: bool) -> None:
    phone = opened(open_page, ida, scripts=scripts)
    words = offer(phone)
    other = open_page(PHONE, scripts=scripts)
    other.goto("/notebook")
    other.get_by_role("link", name="bring it here with six words").click()
    other.get_by_label("The six words").fill(words.replace(" ", ", ").upper())
    other.get_by_role("button", name="Bring it here").click()
    expect(other.get_by_role("heading", level=1)).to_have_text("Ida’s notebook")
    expect(other.get_by_text("The notebook is on this device now")).to_be_visible()
    phone.goto("/notebook/keep")
    phone.get_by_role("button", name="Shut out: A device it was moved to").click()
    other.reload()
    expect(other.get_by_text("This device was shut out of it")).to_be_visible()
    other.get_by_role("button", name="I have read it").click()
    expect(other.get_by_text("This device was shut out of it")).to_be_hidden()


@SCRIPTS
def test_to_another_phone_by_the_link(open_page: OpenPage, ida: Maker, scripts: bool) -> None:
    phone = opened(open_page, ida, scripts=scripts)
    offer(phone)
    phone.get_by_text("The link that is in the picture").click()
    link = phone.locator(".long-link a").get_attribute("href")
    assert link is not None
    other = open_page(PHONE, scripts=scripts)
    other.goto(link)
    expect(other.get_by_role("heading", level=1)).to_have_text("Bring Ida’s notebook to this device")
    other.get_by_role("button", name="Bring it here").click()
    expect(other.get_by_role("heading", level=1)).to_have_text("Ida’s notebook")
    third = open_page(PHONE, scripts=scripts)
    answer = third.goto(link)
    assert answer is not None
    assert answer.status == 404


def take_along(page: Page, to: Path) -> Path:
    """Downloads the whole notebook."""
    page.goto("/notebook/keep")
    with page.expect_download() as going:
        page.get_by_role("link", name="The whole notebook").click()
    file = to / going.value.suggested_filename
    going.value.save_as(file)
    return file


@SCRIPTS
def test_taken_along_erased_and_read_in(
    open_page: OpenPage, ida: Maker, tmp_path: Path, settings: Settings, scripts: bool
) -> None:
    page = opened(open_page, ida, scripts=scripts)
    file = take_along(page, tmp_path)
    assert file.name.startswith("Ida-notebook-")
    page.get_by_role("link", name="What will go, and how").click()
    page.get_by_label("Write Ida to go on").fill("Una")
    page.get_by_role("button", name="Erase it for good").click()
    expect(page.get_by_text("Write Ida here, then this notebook is erased")).to_be_visible()
    page.get_by_label("Write Ida to go on").fill("ida")
    page.get_by_role("button", name="Erase it for good").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("The notebook is erased")
    database = b"".join(each.read_bytes() for each in settings.database.parent.glob("evenhand.db*"))
    assert b"kittiwakeunderthepier" not in database
    with page.expect_download() as going:
        page.get_by_role("link", name="Keep the receipt").click()
    assert "Receipt: a notebook was erased for good" in Path(going.value.path()).read_text()
    page.goto("/notebook/import")
    page.get_by_label("The file").set_input_files(file)
    page.get_by_role("button", name="Read it in").click()
    expect(page.get_by_text("The notebook has been read in, whole.")).to_be_visible()
    expect(page.get_by_role("link", name="Slipway Wristers finished")).to_be_visible()
    again = take_along(page, tmp_path / "again")
    assert again.read_text().splitlines()[4:] == file.read_text().splitlines()[4:]


def test_a_page_of_a_notebook_erased_elsewhere_says_so_and_shows_nothing(
    open_page: OpenPage, ida: Maker
) -> None:
    """With what was on this device only, and nothing to press that would be for nobody."""
    page, other = opened(open_page, ida), opened(open_page, ida)
    page.goto(f"/notebook/{ida.part_id}/piece/1")
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    page.context.set_offline(True)
    page.locator("[popovertarget=sheet-note]").first.click()
    page.locator("#note-text").fill("by lamp light")
    page.get_by_role("button", name="Keep the note").click()
    expect(page.locator(".work-saved")).to_contain_text("on this device")
    other.goto("/notebook/erase")
    other.get_by_label("Write Ida to go on").fill("Ida")
    other.get_by_role("button", name="Erase it for good").click()
    expect(other.get_by_role("heading", level=1)).to_have_text("The notebook is erased")
    page.context.set_offline(False)
    expect(page.locator("#work-news")).to_contain_text("erased", timeout=20_000)
    expect(page.locator("#work-news")).to_contain_text("1 entry was on this device only.")
    page.wait_for_timeout(1000)  # in which a second answer of the same would come
    expect(page.locator("#work-news")).to_contain_text("1 entry was on this device only.")
    expect(page.get_by_role("heading", level=1)).to_have_text("This notebook is not here any more")
    expect(page.locator(".button--log, .step")).to_have_count(0)


def test_an_erased_notebook_goes_from_the_device_too(open_page: OpenPage, ida: Maker, engine: Engine) -> None:
    """What the working page keeps to go on without a network is gone after the receipt."""
    page = opened(open_page, ida)
    page.goto(f"/notebook/{ida.part_id}/piece/1")
    page.wait_for_function(f"async () => (await ({KEPT_HERE})()) > 0")
    page.goto("/notebook/erase")
    page.get_by_label("Write Ida to go on").fill("Ida")
    page.get_by_role("button", name="Erase it for good").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("The notebook is erased")
    page.wait_for_function(f"async () => (await ({KEPT_HERE})()) === 0")


@SCRIPTS
def test_another_pair_beside_the_first(open_page: OpenPage, ida: Maker, scripts: bool) -> None:
    page = opened(open_page, ida, scripts=scripts)
    page.get_by_role("link", name="Begin another pair").click()
    page.get_by_label("What shall it be called").fill("Ida, for Una")
    page.get_by_role("button", name="Begin it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Ida, for Una’s notebook")
    expect(page.get_by_text("not begun: choose your number")).to_be_visible()
    page.get_by_role("button", name="Open the notebook of Ida in Lamp evenings").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Ida’s notebook")


def paths(ida: Maker) -> tuple[str, ...]:
    """Every page of keeping that has an address of its own."""
    return (
        "/notebook", "/notebook/keep", "/notebook/again", "/notebook/erase", "/notebook/import",
        "/notebook/file-form", "/move", f"/notebook/{ida.part_id}/card",
    )  # fmt: skip


@pytest.mark.parametrize(("size", "dark"), [(PHONE, True), (DESK, False)], ids=["phone", "desk"])
def test_looked_at_by_axe(open_page: OpenPage, ida: Maker, size: tuple[int, int], dark: bool) -> None:
    """WCAG 2.2 A and AA."""
    page = open_page(size, dark=dark)
    page.goto(f"/n/{ida.secret}")
    axe = Axe()

    def clean() -> None:
        results = axe.run(page, options={"runOnly": RULES})
        assert results.violations_count == 0, f"{page.url} {results.generate_report()}"

    for path in paths(ida):
        page.goto(path)
        clean()
    page.goto(f"/notebook/{ida.part_id}/card")
    page.get_by_role("button", name="Show it").click()
    clean()
    page.goto("/notebook")
    offer(page)
    clean()
    page.goto("/notebook/keep")
    page.get_by_role("button", name="Make a new link").click()
    clean()
    page.goto("/notebook/erase")
    page.get_by_label("Write Ida to go on").fill("Ida")
    page.get_by_role("button", name="Erase it for good").click()
    clean()


@pytest.mark.parametrize("size", [NARROW, ENLARGED], ids=["320 px", "200 %"])
def test_nothing_scrolls_sideways_and_thumbs_find_their_place(
    open_page: OpenPage, ida: Maker, size: tuple[int, int]
) -> None:
    page = opened(open_page, ida, size)

    def fits() -> None:
        wide = page.evaluate("() => document.documentElement.scrollWidth - window.innerWidth")
        assert wide <= 0, page.url
        for one in page.locator("main button, main input:not([type=hidden]), main summary").all():
            box = one.bounding_box()
            if box is not None and one.get_attribute("type") not in ("radio", "checkbox"):
                assert box["height"] >= 44, (page.url, one.inner_text())

    for path in paths(ida):
        page.goto(path)
        fits()
    page.goto("/notebook")
    offer(page)
    page.locator("summary").click()
    fits()


def test_printed_it_is_black_on_white_and_the_card_alone(open_page: OpenPage, ida: Maker) -> None:
    page = open_page(DESK, dark=True)
    page.goto(f"/n/{ida.secret}")
    page.goto(f"/notebook/{ida.part_id}/card")
    page.emulate_media(media="print", color_scheme="dark")
    # A4 without its margins of 9 mm: 192 mm wide; half of it is 139.5 mm high. 96 CSS pixels are 25.4 mm.
    page.set_viewport_size({"width": round(192 / 25.4 * 96), "height": 900})
    card = page.locator(".card").bounding_box()
    assert card is not None
    assert card["height"] <= 139.5 / 25.4 * 96
    ink, ground = page.evaluate(
        "() => [getComputedStyle(document.querySelector('.card')).color,"
        " getComputedStyle(document.documentElement).backgroundColor]"
    )
    assert ink == "rgb(0, 0, 0)"
    assert ground in ("rgb(255, 255, 255)", "rgba(0, 0, 0, 0)")  # or the paper itself
    expect(page.get_by_text("On paper")).to_be_hidden()
