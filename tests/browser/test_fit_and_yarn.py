"""Fit and yarn in a browser: by axe, narrow, by keyboard; the yarn line of a page that goes on by itself."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect
from sqlalchemy import Engine

from server.storage.sessions import writing
from tests.browser.conftest import DESK, PHONE, OpenPage
from tests.services.story import Maker, make_along

NARROW = (320, 700)


@dataclass(frozen=True)
class Notebook:
    """Ida's notebook, her part in it, and a device that has it."""

    part: str
    opened: Callable[..., Page]


@pytest.fixture
def notebook(open_page: OpenPage, engine: Engine) -> Notebook:
    """Glove one begun over 28 chains; a hand, a try-on that went wrong, and too little yarn."""
    with writing(engine) as session:
        _, part_id = make_along(session)
        maker = Maker(session, part_id)
        maker.send("hand", 0, known="measured", around_mm=200, to_thumb_mm=80, to_end_mm=150)
        maker.send("tried", 0, foundation=32, verdict="too long", by_mm=30)
        maker.settle(28, "medium")
        maker.send("hook", 1, hook_mm=5)
        maker.work(1, 3)
        maker.send("felt", 0, foundation=28, verdict="too loose", by_mm=12, hook_mm=5)
        maker.send("left", 0, grams=40)
        secret = maker.secret

    def opened(size: tuple[int, int] = PHONE, *, dark: bool = False, scripts: bool = True) -> Page:
        page = open_page(size, dark=dark, scripts=scripts)
        page.goto(f"/n/{secret}")
        return page

    return Notebook(f"/notebook/{part_id}", opened)


def test_axe_finds_nothing_and_nothing_scrolls_sideways(notebook: Notebook) -> None:
    axe = Axe()
    paths = (
        "fit", "fit/hand", "fit/gauge", "yarn", "yarn/instead?category=1", "yarn/instead?category=99",
        "yarn/split?cake=60&parts=" + notebook.part.rpartition("/")[2],
    )  # fmt: skip
    for size, dark in ((NARROW, True), (DESK, False)):
        page = notebook.opened(size, dark=dark)

        def clean(page: Page, what: str) -> None:
            tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
            results = axe.run(page, options={"runOnly": tags})
            assert results.violations_count == 0, f"{what}: {results.generate_report()}"
            wide = page.evaluate("() => document.documentElement.scrollWidth - window.innerWidth")
            assert wide <= 0, what

        for path in paths:
            page.goto(f"{notebook.part}/{path}")
            for more in page.locator("summary").all():
                more.click()
            clean(page, path)
        page.goto(f"{notebook.part}/fit/hand")
        page.get_by_role("textbox", name="Around the knuckles").fill("33")
        page.get_by_role("button", name="Write the hand down").click()
        expect(page.get_by_role("button", name="It is so")).to_be_visible()
        clean(page, "asked again")


def test_the_yarn_line_goes_on_with_the_rounds_and_stays_true_without_a_network(notebook: Notebook) -> None:
    page = notebook.opened()
    page.goto(f"{notebook.part}/piece/1")
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    line = page.locator("#work-yarn span")
    expect(line).to_contain_text("After Rnd 2 of the Cuff: about 40 g of yarn left")
    page.locator(".button--log").click()
    expect(line).to_contain_text("After Rnd 3 of the Cuff: about ", timeout=15_000)
    expect(line).not_to_contain_text("about 40 g")
    before = line.inner_text()
    page.context.set_offline(True)
    page.locator(".button--log").click()
    expect(page.locator("h1")).to_have_text("Rnd 5")
    expect(page.locator("#work-place")).to_contain_text("saved on this device")
    expect(line).to_have_text(before)
    page.context.set_offline(False)
    expect(line).to_contain_text("After Rnd 4 of the Cuff: about ", timeout=15_000)


def test_a_hand_by_keyboard_alone_and_without_scripts(notebook: Notebook) -> None:
    """Arrows choose how the hand is known, and only what belongs to it is asked."""
    page = notebook.opened(scripts=False)
    page.goto(f"{notebook.part}/fit/hand")
    around = page.get_by_role("textbox", name="Around the knuckles")
    size = page.get_by_role("textbox", name="Size", exact=True)
    expect(around).to_be_visible()
    expect(size).to_be_hidden()
    page.get_by_label("I measured it").focus()
    page.keyboard.press("ArrowDown")
    expect(around).to_be_hidden()
    expect(size).to_be_visible()
    page.keyboard.press("Tab")
    page.keyboard.type("7 (S)")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("How many chains")
    expect(page.locator(".fit-by")).to_contain_text("Glove size 7 (S)")


def test_what_is_asked_or_refused_in_a_form_far_down_is_in_sight(notebook: Notebook) -> None:
    """The page comes back at the form that was sent, not at its top; without scripts, too."""
    page = notebook.opened(scripts=False)
    for path, form, field, typed, button, to in (
        ("fit", "A ring was tried on", "#tried-by", "banana", "Write the try-on down", "#tried-by"),
        ("fit", "How round one feels", "#felt-by", "19", "Say what to do", "text=It is so: write it down"),
        (
            "yarn",
            "Glove one on the scale",
            "#weighed-1",
            "900",
            "Write the weight down",
            "text=It is so: write",
        ),
        ("yarn", "Your yarn, where it is not", "#ball-grams", "50", "Write the yarn down", "#ball-metres"),
    ):
        page.goto(f"{notebook.part}/{path}")
        page.locator("summary", has_text=form).click()
        for verdict in page.locator("details[open]").get_by_label("too long").all():
            verdict.check()
        for verdict in page.locator("details[open]").get_by_label("too tight").all():
            verdict.check()
        page.locator(field).fill(typed)
        page.get_by_role("button", name=button).click()
        expect(page.locator(to)).to_be_focused()
        expect(page.locator(to)).to_be_in_viewport()
        expect(page.locator(field)).to_have_value(typed)
