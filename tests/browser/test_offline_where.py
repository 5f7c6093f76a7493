"""Where am I, with no network: she counts what she holds, the device finds her place by its own log, and what
it writes down goes to the server later."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenPage, Site
from tests.browser.test_offline_page import (
    ALL_SAVED,
    BOUNCE_MS,
    Notebook,
    OpenDevice,
    device,
    keeps,
    log_rounds,
    notebook,
)

__all__ = ["device", "notebook"]  # fixtures
BELOW, ABOVE = "Rounds below the gap", "Rounds above the gap"
BY_THIS_DEVICE = "No network just now: this goes by the log on this device."


def where(notebook: Notebook, piece: int = 1) -> str:
    """The page of a glove's questions."""
    return f"/notebook/{notebook.part_id}/piece/{piece}/where"


def cut_off(page: Page, notebook: Notebook, site: Site) -> None:
    """The questions are on the device, though she never opened them; then network and server go."""
    keeps(page, where(notebook, 1), where(notebook, 2))
    site.stop()
    page.context.set_offline(True)


def back(page: Page, site: Site) -> None:
    site.start()
    page.context.set_offline(False)
    page.reload()
    expect(page.locator(ALL_SAVED)).to_be_visible(timeout=20_000)


def test_her_place_is_found_and_written_down_with_no_network(
    device: OpenDevice, notebook: Notebook, site: Site
) -> None:
    """Five rounds are logged, one more with no network; she holds seven below the gap. It goes by what the
    device has, is there after a reload, shown at once, and on the server once there is a network."""
    page = device()
    log_rounds(page, 1)
    expect(page.locator(ALL_SAVED)).to_be_visible()
    cut_off(page, notebook, site)
    log_rounds(page, 1)
    page.get_by_role("link", name="Where am I?").click()
    expect(page.get_by_text(BY_THIS_DEVICE)).to_be_visible()
    expect(page.get_by_label(BELOW)).to_have_value("6")
    page.get_by_label(BELOW).fill("8")
    page.get_by_role("button", name="Find my place").click()
    found = page.locator("#found")
    expect(found.locator(".notice-title")).to_have_text("You are at Cuff, Rnd 9: 8 rounds below the gap.")
    expect(found).to_contain_text("The log has 6 rounds below the gap; you count 8, 2 more.")
    page.reload()
    expect(page.get_by_label(BELOW)).to_have_value("8")
    page.get_by_role("button", name="Write that down").click()
    expect(page.locator("h1")).to_have_text("Rnd 9")
    expect(page.locator(".work-saved")).to_contain_text("on this device")
    assert len(notebook.worked) == 6, "the server has not heard of it"
    back(page, site)
    expect(page.locator("h1")).to_have_text("Rnd 9")
    assert len(notebook.worked) == 9
    assert len(notebook.ids) == len(set(notebook.ids)) == 2 + 5 + 2 + 1


def test_rounds_she_does_not_hold_come_out(device: OpenDevice, notebook: Notebook, site: Site) -> None:
    page = device()
    cut_off(page, notebook, site)
    page.goto(where(notebook))
    page.get_by_label(BELOW).fill("2")
    page.get_by_role("button", name="Find my place").click()
    page.get_by_role("button", name="Write that down").dblclick()
    expect(page.locator("h1")).to_have_text("Rnd 3")
    back(page, site)
    assert len(notebook.worked) == 3
    assert len(notebook.ids) == 2 + 5 + 1


def test_a_glove_made_without_a_log_is_counted_in_on_a_train(
    device: OpenDevice, notebook: Notebook, site: Site
) -> None:
    """Glove two, of which the log has nothing. What cannot be, or is no number, is said first, and stays."""
    page = device()
    cut_off(page, notebook, site)
    page.goto(f"/notebook/{notebook.part_id}/piece/2")
    page.get_by_role("link", name="Made already? Count it in").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Made already? Count it in")
    page.get_by_label(BELOW).fill("seven")
    page.get_by_role("button", name="Count it in").click()
    expect(page.get_by_text("Write how many rounds below the gap you count")).to_be_visible()
    expect(page.get_by_label(BELOW)).to_have_value("seven")
    expect(page.get_by_label(BELOW)).to_be_focused()
    page.get_by_label(BELOW).fill("0")
    page.get_by_label(ABOVE).fill("3")
    page.get_by_role("button", name="Count it in").click()
    expect(page.locator("#found")).to_contain_text("That does not come out:")
    expect(page.get_by_role("button", name="Write that down")).to_have_count(0)
    page.get_by_label(BELOW).fill("7")
    page.get_by_label("The thumb gap").select_option("1")
    page.get_by_role("button", name="Count it in").click()
    expect(page.locator("#found .notice-title")).to_contain_text("You are at Hand, Rnd 4")
    page.get_by_role("button", name="Write that down").press("Enter")
    expect(page.locator("h1")).to_have_text("Rnd 4")
    expect(page.locator("#work-place")).to_contain_text("Glove two")
    back(page, site)
    expect(page.locator("h1")).to_have_text("Rnd 4")
    page.wait_for_timeout(BOUNCE_MS)
    page.locator(".button--undo").click()
    expect(page.locator("h1")).to_contain_text("Foundation")


def test_it_says_what_the_server_says(device: OpenDevice, notebook: Notebook, site: Site) -> None:
    """The page by the server and by the device, before anything is asked and after, word for word."""
    page, asked = device(), {}
    keeps(page, where(notebook, 1), where(notebook, 2))
    counts: tuple[dict[str, str], ...] = (
        {},
        {BELOW: "4"},
        {BELOW: "9"},
        {BELOW: "2"},
        {ABOVE: "3"},
        {BELOW: "77"},
    )

    def words(by_this_device: int) -> list[list[str]]:
        told = []
        for piece in (1, 2):
            for typed in counts:
                page.goto(where(notebook, piece))
                expect(page.get_by_text(BY_THIS_DEVICE)).to_have_count(by_this_device)
                for label, count in typed.items():
                    page.get_by_label(label).fill(count)
                if typed:
                    page.locator("#questions .button").click()
                    expect(page.locator("#found")).to_be_visible()
                shown = [page.locator(css) for css in ("h1", "#where-how", "#found", "#questions")]
                told.append([each.inner_text() if each.count() else "" for each in shown])
                kind = "each => [each.className, each.textContent.trim()]"
                buttons = page.locator("#where .button").all()
                told.append([str(each.evaluate(kind)) for each in buttons])
        return told

    asked["server"] = words(0)
    cut_off(page, notebook, site)
    asked["device"] = words(1)
    assert asked["device"] == asked["server"]


def test_the_network_goes_while_the_questions_are_open(
    device: OpenDevice, notebook: Notebook, site: Site
) -> None:
    """An answer of the server is written down here, one found here is sent by itself later."""
    page = device()
    page.goto(where(notebook))
    page.get_by_label(BELOW).fill("6")
    page.get_by_role("button", name="Find my place").click()
    expect(page).to_have_url(re.compile("held-"))
    expect(page.get_by_text("You are at Cuff, Rnd 7")).to_be_visible()
    expect(page.get_by_text(BY_THIS_DEVICE)).to_have_count(0)
    site.stop()
    page.get_by_label(BELOW).fill("8")
    page.get_by_role("button", name="Find my place").click()
    expect(page.get_by_text("You are at Cuff, Rnd 9")).to_be_visible()
    expect(page.get_by_text(BY_THIS_DEVICE)).to_be_visible()
    site.start()
    page.goto(where(notebook))
    page.get_by_label(BELOW).fill("6")
    page.get_by_role("button", name="Find my place").click()
    expect(page.get_by_text("You are at Cuff, Rnd 7")).to_be_visible()
    site.stop()
    page.get_by_role("button", name="Write that down").click()
    expect(page.locator("h1")).to_have_text("Rnd 7")
    back(page, site)
    assert len(notebook.worked) == 7


def test_a_device_without_the_log_says_that_only_the_server_can(
    open_page: OpenPage, notebook: Notebook, site: Site
) -> None:
    page = open_page()
    page.add_init_script("Object.defineProperty(window, 'indexedDB', { value: undefined })")
    page.goto(f"/n/{notebook.secret}")
    page.goto(where(notebook))
    site.stop()
    page.get_by_label(BELOW).fill("8")
    page.get_by_role("button", name="Find my place").click()
    expect(page.get_by_text("only the server can find your place")).to_be_visible()
    expect(page.get_by_label(BELOW)).to_have_value("8")
    site.start()
    page.get_by_role("button", name="Find my place").click()
    expect(page.get_by_text("You are at Cuff, Rnd 9")).to_be_visible()
