"""Where am I: she counts what she holds; a glove made without a log is counted in."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine
from starlette.testclient import TestClient

from server.storage.sessions import writing
from tests.services.story import make_along
from tests.web.sending import go_on, look, send
from tests.web.shown import Element, shown


@pytest.fixture
def part_id(engine: Engine) -> int:
    """A published part in the along KAJ947."""
    with writing(engine) as session:
        return make_along(session)[1]


@pytest.fixture
def ida(client: TestClient, part_id: int) -> TestClient:
    """Ida's phone, over 28 chains, nothing logged."""
    go_on(client, send(client, look(client, "/join/KAJ947"), "Join", nickname="Ida"))
    go_on(client, send(client, look(client, f"/notebook/{part_id}/numbers"), "Take", size="medium"))
    return client


def logged(ida: TestClient, part_id: int, rounds: int) -> None:
    page = look(ida, f"/notebook/{part_id}/piece/1")
    for _ in range(rounds):
        page = go_on(ida, send(ida, page, "Log"))


def ask(ida: TestClient, part_id: int, button: str = "Find my place", **counted: str) -> Element:
    """Answer the questions whose labels begin so ("rounds below the gap" is `rounds_below`)."""
    page = look(ida, f"/notebook/{part_id}/piece/1/where")
    labels = {one.text: one.attributes["for"] for one in page.all("label")}
    typed = {}
    for begins, answer in counted.items():
        words = begins.replace("_", " ")
        field = next(at for label, at in labels.items() if label.lower().startswith(words))
        typed[page.one(id=field).attributes["name"]] = answer
    return shown(send(ida, page, button, **typed).text)


def test_the_log_says_the_same(ida: TestClient, part_id: int) -> None:
    logged(ida, part_id, 4)
    page = ask(ida, part_id)
    assert "The log says the same." in page.text
    assert page.one("a", css="button--do").text == "Go on from there"


def test_she_forgot_to_log_two_rounds(ida: TestClient, part_id: int) -> None:
    """The foundation round and 3 rounds are logged; she counts 5 below the gap, so round 6 is next."""
    logged(ida, part_id, 4)
    page = ask(ida, part_id, rounds_below="5")
    assert page.one("p", css="notice-title").text.startswith("You are at Cuff, Rnd 6")
    page = go_on(ida, send(ida, page, "Write that down"))
    assert page.one("h1").text == "Rnd 6"
    page = go_on(ida, send(ida, page, "Undo"))
    assert page.one("h1").text == "Rnd 4"


def test_she_logged_one_too_many(ida: TestClient, part_id: int) -> None:
    logged(ida, part_id, 6)
    page = ask(ida, part_id, rounds_below="4")
    page = go_on(ida, send(ida, page, "Write that down"))
    assert page.one("h1").text == "Rnd 5"


def test_a_glove_made_without_a_log_is_counted_in(ida: TestClient, part_id: int) -> None:
    page = look(ida, f"/notebook/{part_id}/piece/1")
    assert "Made already? Count it in" in page.text
    page = ask(ida, part_id, "Count it in", rounds_below="7", the_thumb_gap="1", rounds_above="3")
    assert page.one("p", css="notice-title").text.startswith("You are at Hand, Rnd 4")
    page = go_on(ida, send(ida, page, "Write that down"))
    assert page.one("h1").text == "Rnd 4"


def test_what_cannot_be_is_said_and_nothing_is_logged(ida: TestClient, part_id: int) -> None:
    """Rounds above the gap, and none below it."""
    page = ask(ida, part_id, "Count it in", rounds_above="3")
    assert "That does not come out:" in page.text
    assert not any(one.text.startswith("Write that down") for one in page.all("button"))
    assert look(ida, f"/notebook/{part_id}/piece/1").one("h1").text == "Foundation rnd"


@pytest.mark.parametrize("typed", ["many", "-1", "1.5", "٣"])
def test_an_answer_that_is_no_number(ida: TestClient, part_id: int, typed: str) -> None:
    page = ask(ida, part_id, "Count it in", rounds_below=typed)
    wrong = [one for one in page.all("input") if one.attributes.get("aria-invalid") == "true"]
    assert [one.attributes["value"] for one in wrong] == [typed]
    assert "a number from 0 to" in page.text


def test_the_answer_sent_twice_is_logged_once(ida: TestClient, part_id: int) -> None:
    page = ask(ida, part_id, "Count it in", rounds_below="5")
    assert [send(ida, page, "Write that down").status_code for _ in range(2)] == [303, 303]
    assert look(ida, f"/notebook/{part_id}/piece/1").one("h1").text == "Rnd 6"


def test_another_device_overtook_the_answer(ida: TestClient, part_id: int) -> None:
    page = ask(ida, part_id, "Count it in", rounds_below="5")
    logged(ida, part_id, 1)
    answer = send(ida, page, "Write that down")
    assert answer.status_code == 409
    assert look(ida, f"/notebook/{part_id}/piece/1").one("h1").text == "Rnd 1"


def test_no_such_piece(ida: TestClient, part_id: int) -> None:
    assert ida.get(f"/notebook/{part_id}/piece/3/where").status_code == 404
    ida.cookies.clear()
    assert ida.get(f"/notebook/{part_id}/piece/1/where").status_code == 404
