"""The working page in her hands: keys and a pedal, ticks, the long list, undo, settings, rest, the screen
awake; with no server, in a frame, within its bytes."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, Route, expect
from sqlalchemy import Engine

from server.storage.sessions import writing
from tests.browser.conftest import DESK, PHONE, OpenPage, Site
from tests.services.story import Maker, make_along

BYTES_MOST = 100_000
BOUNCE_MS = 350  # the page takes two taps within 0.3 s for one
SETTLED_MS = 600  # buttons that have just come take no press for half a second
NARROW, ENLARGED, LANDSCAPE = (320, 700), (640, 450), (844, 390)
AtWork = Callable[..., Page]


def in_cuff(maker: Maker) -> None:
    """The foundation and four rounds of glove one: round 5 is next."""
    maker.settle(28, "medium")
    maker.send("hook", 1, hook_mm=5)
    maker.work(1, 5)


@pytest.fixture
def at_work(open_page: OpenPage, engine: Engine) -> AtWork:
    """Ida's page at round 5 of the cuff, alive: going by the device's store."""
    with writing(engine) as session:
        _, part_id = make_along(session)
        maker = Maker(session, part_id)
        in_cuff(maker)
        secret = maker.secret

    def open_one(
        size: tuple[int, int] = PHONE,
        *,
        dark: bool = False,
        scripts: bool = True,
        alive: bool = True,
        asleep: bool = False,
        before: Callable[[Page], None] | None = None,
    ) -> Page:
        page = open_page(size, dark=dark, scripts=scripts)
        page.goto(f"/n/{secret}")
        if before:
            before(page)
        page.goto(f"/notebook/{part_id}/piece/1", wait_until="commit" if asleep else "load")
        if scripts and not asleep:
            expect(page.locator("#work")).to_have_attribute("data-alive", "yes" if alive else "no")
        return page

    return open_one


def at_round(page: Page, number: int) -> None:
    expect(page.locator("h1")).to_have_text(f"Rnd {number}")


def press(page: Page, key: str) -> None:
    """Press a key, as a person does: not twice within a third of a second."""
    page.wait_for_timeout(BOUNCE_MS)
    page.keyboard.press(key)


def sheet(page: Page, name: str) -> None:
    page.locator(f"[popovertarget=sheet-{name}]").first.click()
    expect(page.locator(f"#sheet-{name}")).to_be_visible()


# --- taps ---


def twice(page: Page, css: str) -> None:
    """A double tap: at one place, the second within a tenth of a second, wherever that lands."""
    page.wait_for_timeout(SETTLED_MS)
    box = page.locator(css).first.bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    for pause_ms in (80, BOUNCE_MS):
        page.mouse.click(x, y)
        page.wait_for_timeout(pause_ms)


def test_a_double_tap_takes_back_one_thing(at_work: AtWork) -> None:
    page = at_work()
    twice(page, ".button--undo")
    at_round(page, 4)
    expect(page.locator("#work-said")).to_contain_text("Taken back: Cuff, Rnd 4 logged.")


def test_the_second_half_of_a_double_tap_logs_no_round_of_the_next_part(at_work: AtWork) -> None:
    """Once the section is ended, the button that logs lies where the one that ended it was."""
    page = at_work()
    twice(page, ".button--end")
    expect(page.locator(".work-saved")).to_contain_text("ended after Cuff, Rnd 4")
    expect(page.locator("#work-place")).to_contain_text("Thumb gap")
    expect(page.locator(".work-after")).to_contain_text("4 rounds done")


def test_two_taps_meant_for_two_rounds_log_two(at_work: AtWork) -> None:
    """A third of a second apart, as a quick hand does it: the button of the round that came takes a tap."""
    page = at_work()
    page.wait_for_timeout(SETTLED_MS)
    logged_within = page.evaluate(
        """async (pauseMs) => {
          const at = document.querySelector(".button--log").getBoundingClientRect();
          const under = () => document.elementFromPoint(at.x + at.width / 2, at.y + at.height / 2);
          const one = { detail: 1, bubbles: true, cancelable: true };
          const tap = () => under().dispatchEvent(new MouseEvent("click", one));
          tap();
          await new Promise((resolve) => setTimeout(resolve, pauseMs));
          const lies = under().className;
          tap();
          return lies;
        }""",
        BOUNCE_MS,
    )
    assert "button--log" in logged_within
    at_round(page, 7)
    expect(page.locator("#work-said")).not_to_contain_text("count as one")


def test_the_second_half_of_a_double_tap_says_that_it_did_nothing(at_work: AtWork) -> None:
    """Where the page lay further down, it comes up to its top between the two: no step is ticked there."""
    page = at_work()
    page.wait_for_timeout(SETTLED_MS)
    page.evaluate("() => scrollTo({ top: 300, behavior: 'instant' })")
    box = page.locator(".button--log").bounding_box()
    assert box
    page.mouse.dblclick(box["x"] + box["width"] / 2, box["y"] + 10)
    expect(page.locator("#work-said")).to_contain_text("Two taps at once count as one.")
    at_round(page, 6)
    expect(page.locator(".step :checked")).to_have_count(0)
    page.wait_for_timeout(BOUNCE_MS)
    page.locator(".button--log").click()
    at_round(page, 7)
    expect(page.locator("#work-said")).not_to_contain_text("count as one")


def test_a_tap_beside_so_soon_is_another(at_work: AtWork) -> None:
    """Two thumbs: the one logs the round, the other opens a sheet within the same moment."""
    page = at_work()
    page.wait_for_timeout(SETTLED_MS)
    for css in (".button--log", "[popovertarget=sheet-note]"):
        box = page.locator(css).first.bounding_box()
        assert box
        page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    expect(page.locator("#sheet-note")).to_be_visible()
    at_round(page, 6)


PEDAL = """async ([key, pauseMs]) => {
  const pressed = () => new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true });
  const first = pressed(), bounced = pauseMs ? null : pressed();
  document.body.dispatchEvent(first);
  if (!bounced) await new Promise((resolve) => setTimeout(resolve, pauseMs));
  document.body.dispatchEvent(bounced ?? pressed());
}"""


@pytest.mark.parametrize("key", ["PageDown", " "], ids=["page down", "space"])
def test_a_pedal_pressed_twice_in_a_quarter_of_a_second_logs_two_rounds(at_work: AtWork, key: str) -> None:
    """A contact that bounces presses twice within the same hundredths: that is one."""
    page = at_work()
    page.evaluate(PEDAL, [key, 150])
    at_round(page, 7)
    page.wait_for_timeout(BOUNCE_MS)
    page.evaluate(PEDAL, [key, 0])
    at_round(page, 8)


def test_what_another_page_logs_is_not_taken_back_by_a_press_that_was_under_way(at_work: AtWork) -> None:
    """Undo becomes another round's under her finger: for half a second it takes no press."""
    page = at_work()
    page.evaluate(
        """() => {
          window.seen = [];
          new MutationObserver(() => {
            const undo = document.querySelector(".button--undo");
            window.seen.push([undo.textContent, getComputedStyle(undo).pointerEvents]);
          }).observe(document.getElementById("work-bar"), { childList: true, subtree: true });
        }"""
    )
    other = page.context.new_page()
    other.goto(page.url)
    expect(other.locator("#work")).to_have_attribute("data-alive", "yes")
    other.locator(".button--log").click()
    at_round(page, 6)
    assert page.evaluate("() => window.seen[0]") == ["Undo: Cuff, Rnd 5 logged", "none"]
    page.locator(".button--undo").click()
    at_round(page, 5)


@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no scripts"])
def test_a_tap_beside_an_open_sheet_closes_it_and_presses_nothing(at_work: AtWork, scripts: bool) -> None:
    page = at_work(scripts=scripts)
    page.wait_for_timeout(SETTLED_MS)
    for css in (".button--undo", ".button--log"):
        box = page.locator(css).bounding_box()
        assert box
        sheet(page, "out")
        top = page.locator("#sheet-out").bounding_box()
        assert top
        assert top["y"] > box["y"] + 20, "it lies in the dimmed part"
        page.mouse.click(box["x"] + 30, box["y"] + 15)
        expect(page.locator("#sheet-out")).to_be_hidden()
        page.wait_for_timeout(BOUNCE_MS)
        at_round(page, 5)
    page.locator(".button--log").click()
    at_round(page, 6)


def test_a_note_being_typed_is_there_after_a_reload_until_it_is_kept(at_work: AtWork) -> None:
    page = at_work()
    sheet(page, "note")
    page.locator("#note-text").fill("looser from here")
    page.reload()
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    sheet(page, "note")
    expect(page.locator("#note-text")).to_have_value("looser from here")
    page.get_by_role("button", name="Keep the note").click()
    expect(page.locator("#work-matter")).to_contain_text("looser from here")
    page.reload()
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    sheet(page, "note")
    expect(page.locator("#note-text")).to_have_value("")


# --- keys ---


@pytest.mark.parametrize("key", ["Space", "Enter", "ArrowRight", "ArrowDown", "PageDown"])
def test_a_key_logs_the_round(at_work: AtWork, key: str) -> None:
    page = at_work()
    press(page, key)
    at_round(page, 6)
    press(page, key)
    at_round(page, 7)


@pytest.mark.parametrize("key", ["ArrowLeft", "ArrowUp", "PageUp"])
def test_a_key_takes_the_last_thing_back_and_that_can_be_undone(at_work: AtWork, key: str) -> None:
    page = at_work()
    press(page, key)
    at_round(page, 4)
    expect(page.locator("#work-said")).to_contain_text("Taken back: Cuff, Rnd 4 logged.")
    page.get_by_role("button", name="Put it back").click()
    at_round(page, 5)
    expect(page.locator("#work-said")).to_contain_text("Put back: Cuff, Rnd 4 logged.")


def test_the_keys_do_the_same_without_the_store(at_work: AtWork) -> None:
    """Where the store cannot be opened, the keys send the page's own forms."""
    page = at_work(alive=False, before=lambda page: page.route("**/carry*", lambda route: route.abort()))
    for key, number in (("PageDown", 6), ("ArrowLeft", 5)):
        with page.expect_navigation():
            press(page, key)
        at_round(page, number)
    expect(page.locator("#work-said")).to_contain_text("Taken back: Cuff, Rnd 5 logged.")


def test_keys_are_left_alone_while_she_types(at_work: AtWork) -> None:
    page = at_work()
    sheet(page, "note")
    note = page.locator("#note-text")
    note.focus()
    for key in ("Space", "Enter", "ArrowRight", "ArrowDown", "PageDown", "ArrowLeft", "PageUp"):
        press(page, key)
    at_round(page, 5)
    page.locator("#sheet-note h2").click()  # out of the field, the sheet still open
    press(page, "PageDown")
    at_round(page, 5)
    page.keyboard.press("Escape")
    press(page, "PageDown")
    at_round(page, 6)


def test_a_key_held_down_logs_once(at_work: AtWork) -> None:
    page = at_work()
    page.wait_for_timeout(BOUNCE_MS)
    for _ in range(5):
        page.keyboard.down("PageDown")  # the second and later are repeats
        page.wait_for_timeout(BOUNCE_MS)
    page.keyboard.up("PageDown")
    at_round(page, 6)
    page.locator(".button--log").focus()
    for _ in range(4):
        page.keyboard.down("Enter")
        page.wait_for_timeout(BOUNCE_MS)
    page.keyboard.up("Enter")
    at_round(page, 7)


def test_with_modifiers_keys_stay_the_browsers(at_work: AtWork) -> None:
    page = at_work()
    for key in ("Shift+Space", "Control+ArrowRight", "Alt+PageDown"):
        press(page, key)
    at_round(page, 5)


def test_a_pedal_works_while_a_step_or_undo_has_the_focus(at_work: AtWork) -> None:
    page = at_work()
    page.locator(".step").first.click()
    press(page, "PageDown")
    at_round(page, 6)
    page.locator(".button--undo").focus()
    press(page, "Space")  # presses what has the focus
    at_round(page, 5)


def test_keys_can_be_switched_off(at_work: AtWork) -> None:
    page = at_work()
    sheet(page, "settings")
    box = page.get_by_role("checkbox", name=re.compile("^Keys and foot pedal"))
    box.uncheck()
    page.keyboard.press("Escape")
    for key in ("PageDown", "Space", "ArrowLeft"):
        page.evaluate("() => document.activeElement.blur()")
        press(page, key)
    at_round(page, 5)
    page.locator(".button--log").press("Enter")  # a button stays a button
    at_round(page, 6)
    page.reload()
    expect(page.locator("#settings [name=keys]")).not_to_be_checked()


# --- ticks, list, place, count ---


def test_ticked_steps_are_still_ticked_when_she_comes_back(at_work: AtWork) -> None:
    page = at_work()
    steps = page.locator("ol.steps input")
    steps.nth(0).check()
    steps.nth(1).check()
    page.reload()
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    assert [box.is_checked() for box in page.locator("ol.steps input").all()][:3] == [True, True, False]
    press(page, "PageDown")
    at_round(page, 6)
    assert not any(box.is_checked() for box in page.locator("ol.steps input").all())


def test_three_rounds_by_the_long_list_and_back_by_one_tap(at_work: AtWork) -> None:
    page = at_work()
    sheet(page, "several")
    boxes = page.locator("#several-list input")
    expect(boxes).to_have_count(2)  # rounds 5 and 6: from there on she says when the cuff is long enough
    boxes.nth(1).check()
    expect(boxes.nth(0)).to_be_checked()  # rounds are made one after another
    boxes.nth(0).uncheck()
    expect(boxes.nth(1)).not_to_be_checked()
    page.get_by_role("button", name="Log them all").click()
    expect(page.get_by_text("Tick the rounds that you have made, up to the last one.")).to_be_visible()
    boxes.nth(1).check()
    page.get_by_role("button", name="Log them all").click()
    expect(page.locator("#sheet-several")).to_be_hidden()
    at_round(page, 7)
    page.wait_for_timeout(600)
    page.locator(".button--undo").click()
    at_round(page, 5)


def test_the_place_within_a_round_is_there_after_a_reload(at_work: AtWork) -> None:
    page = at_work()
    sheet(page, "place")
    page.locator("#place-at").select_option(index=1)
    page.get_by_role("button", name="Keep the place").click()
    expect(page.locator(".work-mid")).to_contain_text("You stopped here after step 2 of")
    assert [box.is_checked() for box in page.locator("ol.steps input").all()][:3] == [True, True, False]
    page.reload()
    expect(page.locator(".work-mid")).to_contain_text("You stopped here after step 2 of")


def test_a_count_is_confirmed_and_a_wrong_one_names_the_miss(at_work: AtWork) -> None:
    page = at_work()
    sheet(page, "count")
    page.locator("#count-spot").select_option(index=1)
    page.locator("#sheet-count").get_by_label("How many").fill("8")
    page.get_by_role("button", name="Check").click()
    news = page.locator("#work-news")
    expect(news).to_contain_text("Rnd 4: You counted 8 Perches; there should be 7: 1 too many.")
    expect(news.locator(".slips li").first).to_be_visible()
    sheet(page, "count")
    page.locator("#count-spot").select_option(index=1)
    page.locator("#sheet-count").get_by_label("How many").fill("7")
    page.get_by_role("button", name="Check").click()
    expect(page.locator(".work-counted")).to_have_text("Rnd 4: You counted 7 Perches: as it should be.")
    expect(news).to_be_empty()


def test_what_cannot_be_is_said_at_its_field_and_nothing_is_lost(at_work: AtWork) -> None:
    page = at_work()
    sheet(page, "count")
    field = page.locator("#sheet-count").get_by_label("How many")
    field.fill("lots")
    page.get_by_role("button", name="Check").click()
    expect(page.get_by_text("A count is a number from 0 to 5000.")).to_be_visible()
    expect(field).to_have_value("lots")
    expect(field).to_be_focused()


def test_finished_by_mistake_is_one_tap_back(at_work: AtWork, engine: Engine) -> None:
    page = at_work()
    with writing(engine) as session:
        maker = Maker.at(session, 1, 1)
        maker.make(1, 3, 2)
    page.reload()
    # What the worker kept may say so before the device's own log has heard of it.
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    expect(page.locator("h1")).to_have_text("Glove one is finished")
    page.locator(".button--undo").click()
    expect(page.locator("h1")).to_have_text("Every round is worked")
    expect(page.locator(".button--log")).to_have_text("Glove one is finished")


# --- settings, rest, the screen ---


def test_the_left_hand_and_large_type_hold_at_once_and_stay(at_work: AtWork) -> None:
    page = at_work()
    tools = page.locator("#work-tools button")
    expect(tools.first).to_have_text("Take out")
    size = page.locator(".step").first.evaluate("step => parseFloat(getComputedStyle(step).fontSize)")
    sheet(page, "settings")
    page.get_by_role("checkbox", name=re.compile("^Left-handed")).check()
    page.get_by_role("checkbox", name=re.compile("^Large type")).check()
    expect(tools.first).to_have_text("Place")
    assert (
        page.locator(".step").first.evaluate("step => parseFloat(getComputedStyle(step).fontSize)")
        > size * 1.2
    )
    expect(page.locator("#strip-chart svg.hand-left")).to_have_count(1)
    page.keyboard.press("Escape")
    page.reload()
    expect(tools.first).to_have_text("Place")
    expect(page.locator("#strip-chart svg.hand-left")).to_have_count(1)


def test_settings_hold_with_no_server(at_work: AtWork, site: Site) -> None:
    page = at_work()
    site.stop()
    sheet(page, "settings")
    page.get_by_role("checkbox", name=re.compile("^Left-handed")).check()
    page.keyboard.press("Escape")
    expect(page.locator("#work-tools button").first).to_have_text("Place")
    press(page, "PageDown")
    at_round(page, 6)
    expect(page.locator("#work-tools button").first).to_have_text("Place")


def test_the_reminder_is_a_quiet_line_and_off_for_good(at_work: AtWork) -> None:
    page = at_work(before=lambda page: page.clock.install())
    line = page.locator("#work-rest")
    for _ in range(2):  # a touch now and then: she is working
        page.clock.run_for("14:00")
        page.locator(".step").first.click()
    expect(line).to_be_empty()
    page.clock.run_for("02:30")
    expect(line).to_contain_text("You have worked for 30 minutes.")
    assert page.evaluate("() => document.activeElement.closest('#work-rest')") is None
    line.get_by_role("button", name="Later").click()
    expect(line).to_be_empty()
    page.clock.run_for("10:30")
    expect(line).to_contain_text("You have worked for 4")
    line.get_by_role("button", name="Off for good").click()
    expect(line).to_be_empty()
    page.clock.run_for("15:00")
    page.locator(".step").first.click()
    page.clock.run_for("15:00")
    expect(line).to_be_empty()
    expect(page.locator("#settings [name=rest]")).not_to_be_checked()


def test_a_long_pause_was_a_rest(at_work: AtWork) -> None:
    page = at_work(before=lambda page: page.clock.install())
    page.clock.run_for("25:00")  # nothing touched for longer than a round takes
    page.locator(".step").first.click()
    page.clock.run_for("10:00")
    expect(page.locator("#work-rest")).to_be_empty()


WAKE_LOCKS = """() => {
  window.asked = [];
  Object.defineProperty(navigator, "wakeLock", { value: { request: async (kind) => {
    const lock = { released: false, release: async () => { lock.released = true; } };
    window.asked.push(lock);
    return lock;
  } } });
}"""


def test_the_screen_stays_awake_with_a_switch(at_work: AtWork) -> None:
    """The browser lets go of the lock when the page is hidden: it is asked for again when it is back."""
    page = at_work(before=lambda page: page.add_init_script(f"({WAKE_LOCKS})()"))
    switch = page.get_by_role("switch", name="Awake")
    expect(switch).to_have_attribute("aria-checked", "true")
    held = "() => window.asked.filter((lock) => !lock.released).length"
    assert page.evaluate(held) == 1
    page.evaluate("() => { window.asked.at(-1).released = true; }")
    page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    page.wait_for_function("() => window.asked.length === 2")
    switch.click()
    expect(switch).to_have_attribute("aria-checked", "false")
    assert page.evaluate(held) == 0
    page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    page.reload()
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    expect(page.get_by_role("switch", name="Awake")).to_have_attribute("aria-checked", "false")
    assert page.evaluate(held) == 0


def test_a_device_that_cannot_stay_awake_has_no_switch(at_work: AtWork) -> None:
    gone = "delete Navigator.prototype.wakeLock"
    page = at_work(before=lambda page: page.add_init_script(gone))
    expect(page.locator("#awake")).to_be_hidden()


SAYS = """() => {
  window.said = []; window.felt = [];
  speechSynthesis.speak = (utterance) => window.said.push(utterance.text);
  navigator.vibrate = (pattern) => window.felt.push(pattern);
}"""


def test_the_next_round_is_said_and_felt_where_she_asked_for_it(at_work: AtWork) -> None:
    page = at_work(before=lambda page: page.add_init_script(f"({SAYS})()"))
    press(page, "PageDown")
    at_round(page, 6)
    assert page.evaluate("() => [said, felt]") == [[], []]
    sheet(page, "settings")
    page.get_by_role("checkbox", name=re.compile("^Say the next round")).check()
    page.get_by_role("checkbox", name=re.compile("^Buzz")).check()
    page.keyboard.press("Escape")
    press(page, "PageDown")
    at_round(page, 7)
    assert page.evaluate("() => said") == ["round 7. At its end 7 Perches."]
    assert page.evaluate("() => felt.length") == 1


# --- at once, and small ---


def test_a_tap_is_shown_within_its_own_task_with_no_server(at_work: AtWork, site: Site) -> None:
    """The page has changed when the event's own listeners are done: the next frame shows it."""
    page = at_work()
    page.wait_for_timeout(600)
    site.stop()
    shown = page.evaluate("""() => {
      const button = document.querySelector(".button--log");
      button.form.requestSubmit(button);
      return document.querySelector("h1").textContent;
    }""")
    assert shown == "Rnd 6"
    expect(page.locator(".work-saved")).to_contain_text("saved on this device")
    site.start()
    page.evaluate("() => dispatchEvent(new Event('online'))")
    expect(page.locator(".work-saved")).to_contain_text(re.compile("^\\s*saved "))


def test_nothing_is_said_to_be_saved_before_the_device_is_asked(at_work: AtWork, site: Site) -> None:
    """The server's page knows nothing of an outbox: until the store is open, it does not say "saved"."""
    page = at_work()
    page.wait_for_timeout(600)
    page.route("**/entries/batch", lambda route: route.fulfill(status=503, body="{}"))
    page.locator(".button--log").click()
    at_round(page, 6)
    page.evaluate("async () => (await navigator.serviceWorker.ready).unregister()")
    held: list[Route] = []
    page.route("**/page.js", lambda route: held.append(route))
    page.reload(wait_until="commit")
    expect(page.locator(".work-saved")).to_contain_text("saved")
    expect(page.locator(".work-saved .state")).to_be_hidden()
    until_held(page, held)
    held[0].continue_()
    expect(page.locator(".work-saved .state")).to_have_text("saved on this device")
    expect(page.locator(".work-saved .state")).to_be_visible()


def until_held(page: Page, held: list[Route]) -> None:
    while not held:
        page.wait_for_timeout(20)


def test_the_number_of_the_drawn_round_stands_beside_its_mark(at_work: AtWork) -> None:
    """The strip scrolls from the right; its words are read from the left all the same."""
    page = at_work()
    mark, number = (
        page.locator(f"#strip-chart .round-number .{css}").bounding_box() for css in ("start", "number")
    )
    assert mark is not None
    assert number is not None
    assert number["x"] >= mark["x"] + mark["width"]


# --- an answer that comes while she is at something else ---


def test_the_page_coming_alive_leaves_the_focus_where_it_is(at_work: AtWork) -> None:
    held: list[Route] = []
    page = at_work(
        asleep=True, before=lambda page: page.route("**/page.js", lambda route: held.append(route))
    )
    third = page.locator(".step input").nth(2)
    third.focus()
    until_held(page, held)
    held[0].continue_()
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    expect(third).to_be_focused()


def test_an_answer_of_the_server_disturbs_nothing(at_work: AtWork) -> None:
    """What did not change stays the same element: a press under way, the focus, a choice in an open sheet."""
    page = at_work()
    held: list[Route] = []
    page.route("**/entries/batch", lambda route: held.append(route))
    sheet(page, "note")
    page.locator("#note-text").fill("by lamp light")
    page.get_by_role("button", name="Keep the note").click()
    expect(page.locator(".work-saved .state")).to_have_text("saved on this device")
    page.locator(".step input").nth(2).focus()
    page.evaluate("() => { window.logging = document.querySelector('.button--log'); }")
    until_held(page, held)
    held[0].continue_()
    expect(page.locator(".work-saved .state")).to_have_text("saved")
    expect(page.locator(".step input").nth(2)).to_be_focused()
    assert page.evaluate("() => window.logging === document.querySelector('.button--log')")


def test_an_open_sheet_keeps_its_choice_and_a_closed_one_goes_by_the_round(at_work: AtWork) -> None:
    page = at_work()
    held: list[Route] = []
    page.route("**/entries/batch", lambda route: held.append(route))
    press(page, "Enter")
    at_round(page, 6)
    sheet(page, "out")
    page.locator("#out-spot").select_option(index=2)
    until_held(page, held)
    held[0].continue_()
    expect(page.locator(".work-saved .state")).to_have_text("saved")
    assert page.locator("#out-spot").evaluate("(list) => list.selectedIndex") == 2
    page.keyboard.press("Escape")
    sheet(page, "count")
    expect(page.locator("#count-spot option:checked")).to_contain_text("Cuff, Rnd 6")
    page.keyboard.press("Escape")
    page.unroute("**/entries/batch")
    press(page, "PageDown")
    at_round(page, 7)
    expect(page.locator("#out-spot option:checked")).to_contain_text("1 round")
    expect(page.locator("#count-spot option:checked")).to_contain_text("Cuff, Rnd 7")


def test_a_first_visit_is_at_most_100_kb_over_the_wire(at_work: AtWork) -> None:
    """All of it: the page, its styles, scripts, font, drawings, and what the device carries away."""
    came: dict[str, float] = {}
    urls: dict[str, str] = {}

    def measure(page: Page) -> None:
        page.goto("about:blank")
        wire = page.context.new_cdp_session(page)
        wire.send("Network.enable")
        wire.send("Network.clearBrowserCache")
        wire.on(
            "Network.responseReceived",
            lambda event: urls.update({event["requestId"]: event["response"]["url"]}),
        )
        wire.on(
            "Network.loadingFinished",
            lambda event: came.update({event["requestId"]: event["encodedDataLength"]}),
        )

    page = at_work(before=measure)
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(500)
    each = {urls.get(request, request): size for request, size in came.items()}
    assert len(each) > 10, each
    print("\n".join(f"{size:8} {url}" for url, size in sorted(each.items(), key=lambda one: -one[1])))
    assert sum(came.values()) <= BYTES_MOST


# --- for everyone ---


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, LANDSCAPE, DESK], ids=["phone", "landscape", "desk"])
def test_looked_at_by_axe(at_work: AtWork, size: tuple[int, int], dark: bool) -> None:
    page = at_work(size, dark=dark)
    page.locator(".step").first.click()
    press(page, "ArrowLeft")
    at_round(page, 4)
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    results = Axe().run(page, options={"runOnly": tags})
    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize("large", [False, True], ids=["usual type", "large type"])
@pytest.mark.parametrize(
    "size", [NARROW, ENLARGED, LANDSCAPE, DESK], ids=["320 px", "200 %", "landscape", "desk"]
)
def test_nothing_scrolls_sideways(at_work: AtWork, size: tuple[int, int], large: bool) -> None:
    page = at_work(size)
    if large:
        page.evaluate("() => document.body.classList.add('at-work--large')")
    assert page.evaluate("() => document.documentElement.scrollWidth - window.innerWidth") <= 0


@pytest.mark.parametrize("size", [PHONE, LANDSCAPE], ids=["phone", "landscape"])
def test_the_lower_half_logs_the_round(at_work: AtWork, size: tuple[int, int]) -> None:
    """The button takes what the small tools and what it should have leave of the lower half."""
    page = at_work(size)
    hand, button = page.locator(".work-hand").bounding_box(), page.locator(".button--log").bounding_box()
    assert hand is not None
    assert button is not None
    assert abs(hand["height"] - size[1] / 2) <= 2
    assert button["height"] >= 72
    assert button["width"] >= size[0] * 0.6
    for tool in page.locator("#work-tools button").all():
        box = tool.bounding_box()
        assert box is not None
        assert box["height"] >= 44
        assert box["y"] + box["height"] <= size[1]


@pytest.mark.parametrize("size", [PHONE, (320, 640), (320, 480), (640, 422), LANDSCAPE], ids=str)
def test_no_button_lies_over_another_in_large_type(at_work: AtWork, size: tuple[int, int]) -> None:
    page = at_work(size)
    page.evaluate("() => document.body.classList.add('at-work--large')")
    buttons = page.locator(".work-hand button").all()
    boxes = [(each.inner_text(), box) for each in buttons if (box := each.bounding_box())]
    assert len(boxes) >= 6
    for at, (name, one) in enumerate(boxes):
        for other_name, other in boxes[at + 1 :]:
            beside = one["x"] + one["width"] <= other["x"] + 1 or other["x"] + other["width"] <= one["x"] + 1
            apart = one["y"] + one["height"] <= other["y"] + 1 or other["y"] + other["height"] <= one["y"] + 1
            assert beside or apart, (name, other_name)
