"""Joining and the shelf as pages: codes, nicknames, secret links, several notebooks on one device."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from fastapi import FastAPI
from sqlalchemy import Engine
from sqlmodel import select
from starlette.testclient import TestClient

from server.storage.sessions import reading, writing
from server.storage.tables import Notebook
from server.web.maker.device import KEPT_MOST, NOTEBOOKS
from tests.services.story import make_along
from tests.web.sending import go_on, look, send
from tests.web.shown import shown

NewDevice = Callable[[], TestClient]


@pytest.fixture
def part_id(engine: Engine) -> int:
    """A published part in the along KAJ947."""
    with writing(engine) as session:
        return make_along(session)[1]


@pytest.fixture
def new_device(app: FastAPI) -> Iterator[NewDevice]:
    """Further browsers, each with its own cookies."""
    clients: list[TestClient] = []

    def make() -> TestClient:
        client = TestClient(
            app,
            base_url="http://evenhand.test",
            headers={"Origin": "http://evenhand.test", "Accept": "text/html"},
            follow_redirects=False,
        )
        clients.append(client)
        return client

    yield make
    for client in clients:
        client.close()


def join(client: TestClient, nickname: str, code: str = "KAJ947") -> str:
    """Join; the secret link."""
    page = go_on(client, send(client, look(client, f"/join/{code}"), "Join", nickname=nickname))
    return page.one(id="secret-link").attributes["value"]


def test_the_code_leads_to_the_along(client: TestClient, part_id: int) -> None:
    answer = client.get("/join", params={"code": " kaj-947"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/join/KAJ947")
    page = look(client, "/join/KAJ947")
    assert page.one("h1").text == "Lamp evenings"
    assert "with Marit Hollow" in page.text


def test_a_code_that_opens_nothing_stays_in_its_field(client: TestClient, part_id: int) -> None:
    answer = client.get("/join", params={"code": "kaj948"})
    page = shown(answer.text)
    assert answer.status_code == 404
    assert page.value("code") == "kaj948"
    assert "letter by letter" in page.says_at("code")


def test_joining_makes_a_notebook_and_keeps_it_on_this_device(client: TestClient, part_id: int) -> None:
    answer = send(client, look(client, "/join/KAJ947"), "Join", nickname="Ida")
    cookie = answer.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=lax" in cookie
    assert "Path=/" in cookie
    page = go_on(client, answer)
    assert page.one("h1").text == "Ida’s notebook"
    assert page.one(id="secret-link").attributes["value"].startswith("http://evenhand.test/n/")
    assert "Keep it" in page.text


def test_the_secret_link_opens_it_elsewhere(client: TestClient, new_device: NewDevice, part_id: int) -> None:
    link = join(client, "Ida")
    tablet = new_device()
    answer = tablet.get(link)
    assert (answer.status_code, answer.headers["location"]) == (303, "/notebook")
    assert answer.headers["referrer-policy"] == "no-referrer"
    assert look(tablet, "/notebook").one("h1").text == "Ida’s notebook"
    assert link in [one.attributes["value"] for one in look(tablet, "/notebook").all(id="secret-link")]


def test_a_nickname_that_is_refused_stays_in_its_field(client: TestClient, part_id: int) -> None:
    answer = send(client, look(client, "/join/KAJ947"), "Join", nickname="ida@home.example")
    page = shown(answer.text)
    assert answer.status_code == 422
    assert page.value("nickname") == "ida@home.example"
    assert "not an address" in page.says_at("nickname")
    assert NOTEBOOKS not in client.cookies


def test_a_double_tap_on_join_makes_one_notebook(client: TestClient, engine: Engine, part_id: int) -> None:
    page = look(client, "/join/KAJ947")
    answers = [send(client, page, "Join", nickname="Ida") for _ in range(2)]
    assert [answer.status_code for answer in answers] == [303, 303]
    with reading(engine) as session:
        assert len(session.exec(select(Notebook)).all()) == 1


def test_two_at_one_device(client: TestClient, part_id: int) -> None:
    """Each has a notebook; the one opened last is the one on the table."""
    join(client, "Ida")
    page = look(client, "/join/KAJ947")
    assert "Open the notebook of Ida" in page.text
    join(client, "Nils")
    shelf = look(client, "/notebook")
    assert shelf.one("h1").text == "Nils’s notebook"
    assert go_on(client, send(client, shelf, "Open")).one("h1").text == "Ida’s notebook"


def test_a_device_keeps_no_more_secrets_than_a_cookie_holds(client: TestClient, part_id: int) -> None:
    for number in range(KEPT_MOST + 2):
        join(client, f"Maker {number}")
    assert len(client.cookies[NOTEBOOKS]) < 4096
    assert look(client, "/notebook").one("h1").text == f"Maker {KEPT_MOST + 1}’s notebook"


@pytest.mark.parametrize(
    "cookie", ["", ".", "x", "x" * 4000, "a.b.c", "ä" * 3, "%00", "'; DROP TABLE notebook"]
)
def test_a_cookie_that_means_nothing(new_device: NewDevice, part_id: int, cookie: str) -> None:
    client = new_device()
    answer = client.get("/notebook", headers=[(b"cookie", f"{NOTEBOOKS}={cookie}".encode())])
    assert answer.status_code == 200
    assert shown(answer.text).one("h1").text == "No notebook is open on this device"


def test_taking_it_off_the_device_shows_the_link_first(client: TestClient, part_id: int) -> None:
    link = join(client, "Ida")
    page = look(client, "/notebook/put-away")
    assert page.one(id="secret-link").attributes["value"] == link
    assert go_on(client, send(client, page, "I have the link")).one("h1").text.startswith("No notebook")
    client.get(link)
    assert look(client, "/notebook").one("h1").text == "Ida’s notebook"


def test_terms_and_units_are_kept(client: TestClient, part_id: int) -> None:
    join(client, "Ida")
    page = go_on(client, send(client, look(client, "/notebook"), "Save", terms="UK", units="in"))
    radios = page.all("input", type="radio")
    checked = [one.attributes["value"] for one in radios if "checked" in one.attributes]
    assert checked == ["UK", "short", "in"]
    refused = send(client, page, "Save", terms="EU")
    assert refused.status_code == 422
    assert "Terms are US or UK" in shown(refused.text).text


def test_steps_in_full_words(client: TestClient, part_id: int) -> None:
    join(client, "Ida")
    page = go_on(client, send(client, look(client, "/notebook"), "Save", wording="full"))
    radios = page.all("input", type="radio")
    assert [one.attributes["value"] for one in radios if "checked" in one.attributes] == ["US", "full", "cm"]
    refused = send(client, page, "Save", wording="loud")
    assert refused.status_code == 422
    assert "Steps are abbreviated or in full words" in shown(refused.text).text


UNKNOWN = (
    "/join/XXXXXX", "/n/nothing", "/n/" + "a" * 43, "/notebook/1", "/notebook/1/pair", "/notebook/1/piece/1",
    "/notebook/1/numbers", "/notebook/77/numbers", "/notebook/1/version", "/notebook/x/numbers",
    "/notebook/-1", "/notebook/" + "9" * 30, "/join/" + "a" * 300,
)  # fmt: skip


@pytest.mark.parametrize("path", UNKNOWN)
def test_unknown_links_read_the_same_whatever_exists(new_device: NewDevice, part_id: int, path: str) -> None:
    assert part_id == 1
    stranger = new_device()
    answer = stranger.get(path)
    assert answer.status_code == 404
    assert answer.text == stranger.get("/n/unknown").text


def test_another_ones_part_reads_as_nothing(client: TestClient, engine: Engine, part_id: int) -> None:
    with writing(engine) as session:
        _, other = make_along(session, code="XXX347")
    join(client, "Ida")
    unknown = client.get("/n/unknown").text
    for path in (f"/notebook/{other}/numbers", f"/notebook/{other}", "/notebook/999"):
        answer = client.get(path)
        assert (answer.status_code, answer.text) == (404, unknown)


def test_the_shelf_lists_parts_and_leads_to_them(client: TestClient, part_id: int) -> None:
    join(client, "Ida")
    line, *others = look(client, "/notebook").all("a", css="line-link")
    assert line.text == "Slipway Wristers not begun: choose your number"
    assert all(
        "/notebook/keep" in each.attributes["href"] or each.attributes["href"] == "/notebook/again"
        for each in others
    )
    answer = client.get(line.attributes["href"])
    assert answer.headers["location"] == f"/notebook/{part_id}/numbers"
