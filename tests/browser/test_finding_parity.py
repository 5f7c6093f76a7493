"""The browser finds her place as the server does: the same questions, the same words and the same entries,
for random logs and random counts, of every pattern of the fold's own test."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest
from playwright.sync_api import Page

from server.services import notebooks
from server.services.errors import Refusal
from server.services.notebooks import Desk
from server.services.notebooks.carrying import carried, entry_values
from tests.browser.conftest import OpenPage
from tests.browser.test_offline_parity import PATTERNS, desks
from tests.services.story import SLIPWAY

COUNTS_EACH = 8
ODD = ("many", "-1", "1.5", "٣", "301", "300")
JS = """async ([carried, entries, asking]) => {
  const { fold } = await import("/static/js/notebook/fold.js");
  const { asked, found, NoNumber } = await import("/static/js/work/finding.js");
  const making = fold(entries);
  return asking.map(({ piece, all }) => ({
    asked: asked(carried, making, piece),
    found: all.map((typed) => {
      try {
        return found(carried, making, piece, typed);
      } catch (refusal) {
        if (!(refusal instanceof NoNumber)) throw refusal;
        return { wrong: refusal.message, key: refusal.key };
      }
    }),
  }));
}"""


def typed_at_random(asked: tuple[notebooks.Asked, ...], draw: random.Random) -> dict[str, str]:
    """What she may count: as logged, one off, all of it, nothing, any number, and now and then none."""
    typed = {}
    for each in asked:
        near = (each.in_log, each.in_log + 1, max(each.in_log - 1, 0), each.all or draw.randint(1, 12), 0)
        answers = (*map(str, near), str(draw.randint(0, 9)), "", str(each.in_log))
        odd = draw.random() < 0.02
        typed[each.key] = draw.choice(ODD if odd else answers)
    return typed


def here(desk: Desk, piece: int, typed: dict[str, str]) -> dict[str, Any]:
    """The server's answer, as the browser has it."""
    try:
        found = notebooks.found(desk, piece, typed)
    except Refusal as wrong:
        return {"wrong": wrong.message, "key": wrong.field}
    return {
        "says": found.says,
        "cannot": list(found.cannot),
        "off": list(found.off),
        "entries": [
            {"kind": each.kind, "values": json.loads(json.dumps(each.values))} for each in found.entries
        ],
        "keep": found.keep,
        "agrees": found.agrees,
    }


def alike(page: Page, desk: Desk, draw: random.Random) -> set[str]:
    """Compares both sides; what came out."""
    counts = {
        piece: [typed_at_random(notebooks.asked(desk, piece), draw) for _ in range(COUNTS_EACH)]
        for piece in desk.pieces
    }
    told = json.loads(json.dumps(carried(desk).values))
    entries = [entry_values(each.entry) for each in desk.log]
    asking = [{"piece": piece, "all": counts[piece]} for piece in desk.pieces]
    there = page.evaluate(JS, [told, entries, asking])
    came: set[str] = set()
    for piece, answer in zip(desk.pieces, there, strict=True):
        assert answer["asked"] == [
            {"key": each.key, "asks": each.asks, "inLog": each.in_log, "all": each.all}
            for each in notebooks.asked(desk, piece)
        ]
        for typed, found in zip(counts[piece], answer["found"], strict=True):
            expected = here(desk, piece, typed)
            assert found == expected, typed
            came |= {key for key, value in expected.items() if value} | {
                each["kind"] for each in expected.get("entries", ())
            }
    return came


@pytest.mark.parametrize("name", PATTERNS)
def test_the_same_place_from_the_same_counts(open_page: OpenPage, name: str) -> None:
    page = open_page()
    page.goto("/join")
    draw, came = random.Random(f"counts {name}"), set[str]()
    for desk in desks(PATTERNS[name], f"finding {name}"):
        if desk.making.settled is not None:
            came |= alike(page, desk, draw)
    assert came >= {"says", "off", "keep", "agrees", "taken_out", "counted_in"}
    if PATTERNS[name] == SLIPWAY:  # where there is something that cannot be
        assert came >= {"cannot", "wrong", "key"}
