"""The page says the same whether the server drew it or the device: word for word, in every state."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect
from sqlalchemy import Engine

from server.storage.sessions import writing
from tests.browser.conftest import OpenPage
from tests.services.story import CROWN, SLIPWAY, Maker, make_along

REGIONS = (
    "work-place",
    "work-said",
    "work-news",
    "work-round",
    "work-matter",
    "work-bar",
    "work-asides",
    "work-tools",
)
SHEETS = ("out", "note", "count", "place", "hook", "several", "measure")


def begun(maker: Maker) -> None:
    maker.settle(28, "medium")


def in_cuff(maker: Maker) -> None:
    begun(maker)
    maker.send("hook", 1, hook_mm=5)
    maker.work(1, 5)
    maker.send("note", 1, spot="0.3.3", text="looser <here>\nand there")
    maker.send("counted", 1, spot="0.3.2", name="Perch", count=7)
    maker.send("place", 1, spot="0.3.3", text="after step 2 of 5", step=1, repeat=None)


def miscounted(maker: Maker) -> None:
    in_cuff(maker)
    maker.send("counted", 1, spot="0.3.2", name="Perch", count=6)


def at_the_gap(maker: Maker) -> None:
    in_cuff(maker)
    maker.work(1, 2)
    maker.end_fit(1)


def all_worked(maker: Maker) -> None:
    begun(maker)
    wanted = [4, 2]
    while (place := maker.desk.place(1)).kind == "round":
        if place.can_end is not None and place.in_fit == wanted[0]:
            maker.end_fit(1)
            wanted.pop(0)
        else:
            maker.work(1)


def one_to_go(maker: Maker) -> None:
    begun(maker)
    maker.make_to_last(1, 4, 2)


def finished(maker: Maker) -> None:
    all_worked(maker)
    maker.send("finished", 1)


def two_begun(maker: Maker) -> None:
    finished(maker)
    maker.send("hook", 1, hook_mm=5)
    maker.work(2, 2)


def two_stopped(maker: Maker) -> None:
    two_begun(maker)
    maker.send("hook", 2, hook_mm=4.5)
    maker.work(2, 5)


def two_departed(maker: Maker) -> None:
    two_stopped(maker)
    maker.work(2, 1)
    maker.send("counted", 2, spot="0.3.5", name="Perch", count=6)


def two_meant(maker: Maker) -> None:
    two_departed(maker)
    for difference in maker.desk.verdict.differences:
        maker.send("accepted", 0, difference=difference.key)


def taken_back_of_two(maker: Maker) -> None:
    in_cuff(maker)
    maker.work(1)
    maker.work_elsewhere(1, "0.3.3")
    maker.send("undo", 1, entry=maker.desk.log[-1].entry.id)


def taken_back(maker: Maker) -> None:
    in_cuff(maker)
    last = maker.desk.log[-1].entry.id
    maker.send("undo", 1, entry=last)


def words(page: Page) -> dict[str, str]:
    """What each region says, with what stands in its fields; blanks between elements do not count."""
    said = {}
    for region in (*REGIONS, *(f"sheet-{name}" for name in SHEETS)):
        text = page.locator(f"#{region}").evaluate("each => each.textContent")
        said[region] = "".join(text.split())
    said["ticked"] = str([box.is_checked() for box in page.locator("ol.steps input").all()])
    said["fields"] = str(
        page.locator(".sheet input[name=spot], .sheet input[name=kind]").evaluate_all(
            "each => each.map((one) => `${one.name}=${one.value}`)"
        )
    )
    # What an undo takes back is told with how long ago it was, by two clocks.
    said["work-place"] = re.sub(r"\d+(second|minute|hour)s?ago|justnow", "AGO", said["work-place"])
    return said


@pytest.mark.parametrize(
    ("doing", "piece"),
    [
        (begun, 1), (in_cuff, 1), (miscounted, 1), (at_the_gap, 1), (all_worked, 1), (finished, 1),
        (two_begun, 2), (two_stopped, 2), (two_departed, 2), (two_meant, 2), (taken_back, 1), (one_to_go, 1),
        (taken_back_of_two, 1),
    ],
    ids=lambda value: value.__name__ if callable(value) else "",
)  # fmt: skip
@pytest.mark.parametrize("wording", ["short", "full"])
def test_the_device_says_what_the_server_says(
    open_page: OpenPage, engine: Engine, doing: Callable[[Maker], None], piece: int, wording: str
) -> None:
    check(open_page, engine, SLIPWAY, doing, piece, wording)


def one_piece(maker: Maker) -> None:
    maker.settle(None, "large")
    maker.work(1, 2)


def test_a_piece_without_a_twin(open_page: OpenPage, engine: Engine) -> None:
    check(open_page, engine, CROWN, one_piece, 1, "short")


def check(
    open_page: OpenPage,
    engine: Engine,
    pattern: str,
    doing: Callable[[Maker], None],
    piece: int,
    wording: str,
) -> None:
    with writing(engine) as session:
        _, part_id = make_along(session, pattern)
        maker = Maker(session, part_id)
        doing(maker)
        secret = maker.secret
    page = open_page(scripts=False)
    page.goto(f"/n/{secret}")
    page.locator(f"[name=wording][value={wording}]").check()
    page.get_by_role("button", name="Save").first.click()
    page.goto(f"/notebook/{part_id}/piece/{piece}")
    by_server, slips = words(page), page.locator(".slips").count()
    page = open_page()
    page.goto(f"/n/{secret}")
    page.goto(f"/notebook/{part_id}/piece/{piece}")
    expect(page.locator("#work")).to_have_attribute("data-alive", "yes")
    expect(page.locator(".slips")).to_have_count(slips)  # the server is asked for them
    assert words(page) == by_server
