"""Moving to another device, taking the notebook along and reading it in, shutting out, erasing: as a person
does it, with forms alone.
"""

from __future__ import annotations

import csv
import io
import json
import sqlite3
from collections.abc import Callable, Iterator
from datetime import UTC, datetime

import pytest
from fastapi import FastAPI
from httpx2 import Response
from sqlalchemy import Engine, event
from sqlmodel import select
from starlette.testclient import TestClient

from server.services.notebooks import fileform
from server.settings import Settings
from server.storage.sessions import reading, writing
from server.storage.tables import Entry, Notebook
from server.web import throttles
from tests.services.story import Maker, make_along
from tests.web.sending import go_on, look, send
from tests.web.shown import Element, shown

NewDevice = Callable[[], TestClient]


@pytest.fixture
def new_device(app: FastAPI) -> Iterator[NewDevice]:
    """Browsers with no cookies."""
    opened: list[TestClient] = []

    def make() -> TestClient:
        browser = TestClient(
            app,
            base_url="http://evenhand.test",
            headers={"Origin": "http://evenhand.test", "Accept": "text/html"},
            follow_redirects=False,
        )
        opened.append(browser)
        return browser

    yield make
    for browser in opened:
        browser.close()


@pytest.fixture
def ida(engine: Engine) -> Maker:
    """Ida, three rounds into her first glove. Her session is closed; tests go by pages."""
    with writing(engine) as session:
        maker = Maker(session, make_along(session)[1])
        maker.settle(24, "small")
        maker.work(1, 3)
        return maker


@pytest.fixture
def phone(client: TestClient, ida: Maker) -> TestClient:
    """The phone that has her notebook."""
    assert client.get(f"/n/{ida.secret}").status_code == 303
    return client


def offered(phone: TestClient) -> Element:
    """The page with the picture and the words."""
    answer = send(phone, look(phone, "/notebook/keep"), "Show the picture")
    assert answer.status_code == 200
    assert answer.headers["cache-control"] == "no-store"
    return shown(answer.text)


def words_on(page: Element) -> str:
    """The six words."""
    return " ".join(each.text for each in page.one("ol", css="six-words").all("li"))


def heading(page: Element) -> str:
    """The page's heading."""
    return page.one("h1").text


def test_by_six_words(phone: TestClient, new_device: NewDevice, ida: Maker) -> None:
    words = words_on(offered(phone))
    tablet = new_device()
    page = look(tablet, "/notebook")
    assert "/move" in [link.attributes["href"] for link in page.all("a") if "href" in link.attributes]
    there = go_on(tablet, send(tablet, look(tablet, "/move"), "Bring it here", words=words.upper()))
    assert heading(there) == "Ida’s notebook"
    assert "The notebook is on this device now" in there.text
    assert f"/n/{ida.secret}" not in there.text  # a key of its own
    assert heading(look(phone, "/notebook")) == "Ida’s notebook"
    again = send(new_device(), look(tablet, "/move"), "Bring it here", words=words)
    assert again.status_code == 422
    assert "These words open nothing" in shown(again.text).says_at("words")


def test_by_the_link_in_the_picture(phone: TestClient, new_device: NewDevice) -> None:
    page = offered(phone)
    link = next(each.text for each in page.one(css="long-link").all("a"))
    tablet = new_device()
    path = link.removeprefix("http://evenhand.test")
    look(new_device(), path)  # somebody's preview looks at it
    before = tablet.get(path)
    assert before.headers["referrer-policy"] == "no-referrer"
    assert before.headers["cache-control"] == "no-store"
    assert heading(go_on(tablet, send(tablet, shown(before.text), "Bring it here"))) == "Ida’s notebook"
    assert new_device().get(path).status_code == 404


def test_a_word_that_is_not_on_the_list_is_named_and_nothing_typed_is_lost(new_device: NewDevice) -> None:
    tablet = new_device()
    typed = "abacus abdomen abide abilty zoom zebra"
    answer = send(tablet, look(tablet, "/move"), "Bring it here", words=typed)
    assert answer.status_code == 422
    page = shown(answer.text)
    assert "“abilty” is not one of the words used here. Did you mean “ability”" in page.says_at("words")
    assert page.value("words") == typed


def test_guessing_words_is_slowed_down(new_device: NewDevice) -> None:
    tablet = new_device()
    tries = throttles.ALLOWANCES["move"].address.tries
    guess = "abacus abdomen abide ability zoom zebra"
    answers = [tablet.post("/move", data={"words": guess}).status_code for _ in range(tries + 1)]
    assert answers == [422] * tries + [429]
    waiting = shown(tablet.post("/move", data={"words": guess}).text)
    assert "Wait" in waiting.says_at("words")
    assert waiting.value("words") == guess


def test_guessing_join_codes_is_slowed_down_and_right_ones_do_not_count(
    phone: TestClient, new_device: NewDevice
) -> None:
    tablet = new_device()
    tries = throttles.ALLOWANCES["join code"].address.tries
    for _ in range(tries + 5):
        assert tablet.get("/join/KAJ947").status_code == 200
        assert tablet.get("/join", params={"code": "kaj-947"}).status_code == 303
    wrong = [tablet.get("/join", params={"code": f"WR{n:04}"}).status_code for n in range(tries)]
    assert wrong == [404] * tries
    for answer in (tablet.get("/join", params={"code": "WRONG1"}), tablet.get("/join/WRONG1")):
        assert answer.status_code == 429
    assert int(tablet.get("/join/KAJ947").headers["retry-after"]) <= 10
    assert tablet.post("/join/KAJ947", data={"nickname": "Una"}).status_code == 429


def test_a_lost_phone_is_shut_out_and_told(phone: TestClient, new_device: NewDevice, ida: Maker) -> None:
    tablet = new_device()
    send(tablet, look(tablet, "/move"), "Bring it here", words=words_on(offered(phone)))
    page = look(phone, "/notebook/keep")
    assert "A device it was moved to" in page.text
    go_on(phone, send(phone, page, "Shut out"))
    told = look(tablet, "/notebook")
    assert "This device was shut out" in told.text
    for path in (f"/notebook/{ida.part_id}", f"/notebook/{ida.part_id}/piece/1"):
        assert tablet.get(path).status_code == 410
    gone = tablet.get(f"/notebook/{ida.part_id}/piece/1", headers={"Accept": "application/json"})
    assert gone.status_code == 410
    assert "shut out" in gone.json()["message"]
    after = go_on(tablet, send(tablet, told, "I have read it"))
    assert "shut out" not in after.text
    assert "Shut out" not in [each.text for each in look(phone, "/notebook/keep").all("button")]


def test_a_new_link_and_this_device_stays_in(phone: TestClient, new_device: NewDevice, ida: Maker) -> None:
    answer = send(phone, look(phone, "/notebook/keep"), "Make a new link")
    assert answer.status_code == 200
    link = shown(answer.text).one("input", id="secret-link").attributes["value"]
    assert heading(look(phone, "/notebook")) == "Ida’s notebook"
    assert new_device().get(f"/n/{ida.secret}").status_code == 410
    assert new_device().get(link).status_code == 303


def exported(phone: TestClient) -> Response:
    """Her file."""
    answer = phone.get("/notebook/export.json")
    assert answer.status_code == 200
    assert "attachment" in answer.headers["content-disposition"]
    return answer


def upload(device: TestClient, content: bytes, **typed: str) -> Response:
    """Read a file in by the form."""
    form = look(device, "/notebook/import").one("form")
    assert form.attributes["enctype"] == "multipart/form-data"
    return device.post(
        form.attributes["action"], files={"file": ("n.json", content, "application/json")}, data=typed
    )


def erase(device: TestClient) -> Element:
    """Erase the current notebook; the receipt's page."""
    return go_on(device, send(device, look(device, "/notebook/erase"), "Erase it for good", nickname="ida"))


def test_out_erased_and_in_again(phone: TestClient, new_device: NewDevice, ida: Maker) -> None:
    before = exported(phone).content
    erase(phone)
    tablet = new_device()
    page = go_on(tablet, upload(tablet, before, code="kaj 947"))
    assert heading(page) == "Ida’s notebook"
    assert "has been read in, whole" in page.text
    assert exported(tablet).content.splitlines()[4:] == before.splitlines()[4:]
    assert "Glove one, Cuff, Rnd 3" in page.text
    assert heading(look(tablet, f"/notebook/{ida.part_id}/piece/1")) != ""


def test_without_a_code_it_goes_on_by_its_own_pattern(phone: TestClient, new_device: NewDevice) -> None:
    before = exported(phone).content
    erase(phone)
    tablet = new_device()
    page = go_on(tablet, upload(tablet, before))
    assert "came with your file and is yours alone" in page.text
    part = next(link for link in page.all("a", css="line-link") if "Slipway" in link.text)
    working = look(tablet, part.attributes["href"])
    assert "Rnd 3" in working.text


def test_the_same_file_twice(phone: TestClient) -> None:
    file = exported(phone).content
    page = shown(upload(phone, file).text)
    assert "entries of the file are in your notebook already. Nothing was added." in page.text


def test_a_file_of_a_notebook_that_is_elsewhere_becomes_a_copy(
    phone: TestClient, new_device: NewDevice
) -> None:
    file = exported(phone).content
    stranger = new_device()
    page = shown(upload(stranger, file).text)
    assert heading(page) == "Read in as a copy"
    assert exported(phone).content.splitlines()[4:] == file.splitlines()[4:]
    assert heading(look(stranger, "/notebook")) == "Ida’s notebook"


@pytest.mark.parametrize(
    ("content", "typed", "field", "says"),
    [
        (b"", {}, "file", "Choose the file first"),
        (b"{}", {}, "file", "not a notebook’s file".replace("’", "'")),
        (None, {"code": "NOSUCH"}, "code", "No along has this code"),
        (None, {"code": "KAJ947"}, "nickname", "already called Ida"),
    ],
)
def test_what_cannot_be_read_in(
    phone: TestClient,
    new_device: NewDevice,
    engine: Engine,
    content: bytes | None,
    typed: dict[str, str],
    field: str,
    says: str,
) -> None:
    answer = upload(new_device(), exported(phone).content if content is None else content, **typed)
    assert answer.status_code == 422
    page = shown(answer.text)
    assert says in page.says_at(field)
    assert page.value("code") == typed.get("code", "")
    with reading(engine) as session:
        assert len(session.exec(select(Notebook)).all()) == 1


def test_nothing_half(phone: TestClient, new_device: NewDevice, engine: Engine) -> None:
    told = json.loads(exported(phone).content)
    told["projects"][0]["entries"][-1]["order"] = "x"
    answer = upload(new_device(), json.dumps(told).encode())
    assert "Project 1, entry 4, order: a whole number should stand here." in shown(answer.text).says_at(
        "file"
    )
    with reading(engine) as session:
        assert len(session.exec(select(Entry)).all()) == 4


def test_a_file_may_be_larger_than_a_form_and_not_without_end(phone: TestClient, app: FastAPI) -> None:
    most = app.state.settings.most_file_bytes
    padded = exported(phone).content + b" " * (app.state.settings.most_request_bytes + 1)
    assert upload(phone, padded).status_code == 200
    answer = upload(phone, b" " * (most + 1))
    assert answer.status_code == 413
    assert "8 MB" in answer.text


def test_tables(phone: TestClient) -> None:
    rounds = phone.get("/notebook/rounds.csv")
    assert rounds.headers["content-type"] == "text/csv; charset=utf-8"
    assert rounds.content.startswith("﻿".encode())
    lines = list(csv.DictReader(io.StringIO(rounds.content.decode("utf-8-sig"), newline="")))
    assert [line["round"] for line in lines] == ["Foundation", "Rnd 1", "Rnd 2"]
    entries = phone.get("/notebook/entries.csv").content.decode("utf-8-sig")
    assert len(list(csv.DictReader(io.StringIO(entries, newline="")))) == 4


def test_every_field_of_the_file_is_explained(phone: TestClient) -> None:
    """The page and docs/notebook-file.md name exactly the fields that a file has."""

    def paths(value: object, path: str = "") -> set[str]:
        if isinstance(value, dict) and not path.endswith(".values"):
            found = set()
            for name, each in value.items():
                found |= paths(each, f"{path}.{name}" if path else name)
            return found
        if isinstance(value, list):
            return {path}.union(*(paths(each, f"{path}[]") for each in value))
        return {path}

    stated = {each.path for each in fileform.FIELDS}
    assert paths(json.loads(exported(phone).content)) == stated
    page = look(phone, "/notebook/file-form")
    for each in (*fileform.FIELDS, *fileform.KINDS):
        assert each.means in page.text


def test_erased_with_a_receipt(phone: TestClient, new_device: NewDevice, engine: Engine, ida: Maker) -> None:
    tablet = new_device()
    tablet.get(f"/n/{ida.secret}")
    wrong = send(phone, look(phone, "/notebook/erase"), "Erase it for good", nickname="Una")
    assert wrong.status_code == 422
    assert "Write Ida here" in shown(wrong.text).says_at("nickname")
    page = erase(phone)
    says = ("1 begun part, 4 entries of the log, 1 way in", "backups", f"{datetime.now(UTC).year}")
    link = next(each for each in page.all("a") if each.text == "Keep the receipt")
    file = phone.get(link.attributes["href"])
    for words in says:
        assert words in page.text
        assert words in " ".join(file.text.split())
    assert "attachment" in file.headers["content-disposition"]
    with reading(engine) as session:
        assert session.exec(select(Notebook)).all() == []
        assert session.exec(select(Entry)).all() == []
    assert "No notebook is open" in heading(look(phone, "/notebook"))
    told = look(tablet, "/notebook")
    number = link.attributes["href"].split("/")[2]
    assert f"The receipt has the number {number}" in told.text
    assert tablet.get(f"/notebook/{ida.part_id}/piece/1").status_code == 410
    assert new_device().get("/erased/2222-2222-2222-2222").status_code == 404


def test_a_receipt_says_gone_only_when_the_files_are_clean(
    phone: TestClient, ida: Maker, app: FastAPI, settings: Settings
) -> None:
    """Somebody reads for longer than anybody waits: the write-ahead log cannot be emptied meanwhile."""
    engine = app.state.database.engine
    event.listen(engine, "checkout", lambda connection, *_: connection.execute("PRAGMA busy_timeout=20"))
    other = sqlite3.connect(settings.database, isolation_level=None)
    other.execute("BEGIN")
    other.execute("SELECT count(*) FROM entry").fetchone()
    page = erase(phone)
    assert "Traces of it may still be in the database’s files" in page.text
    assert "Nothing of the notebook is left" not in page.text
    other.close()
    link = next(each for each in page.all("a") if each.text == "Keep the receipt")
    kept = " ".join(phone.get(link.attributes["href"]).text.split())
    assert "Nothing of the notebook is left in the database or its files." in kept
    assert "Traces" not in kept


def test_another_pair_of_the_same_parts(phone: TestClient, ida: Maker) -> None:
    page = look(phone, "/notebook/again")
    taken = send(phone, page, "Begin it", nickname="Ida")
    assert taken.status_code == 422
    shelf = go_on(phone, send(phone, page, "Begin it", nickname="Ida, for Una"))
    assert heading(shelf) == "Ida, for Una’s notebook"
    assert "not begun: choose your number" in shelf.text
    assert "Ida, in Lamp evenings" in shelf.text
    back = go_on(phone, send(phone, shelf, "Open"))
    assert "Glove one, Cuff, Rnd 3" in back.text


def test_nobody_else_gets_at_it(phone: TestClient, new_device: NewDevice, ida: Maker) -> None:
    stranger = new_device()
    for path in ("/notebook/export.json", "/notebook/entries.csv", "/notebook/rounds.csv"):
        assert stranger.get(path).status_code == 404
    for path in ("/notebook/move", "/notebook/erase", "/notebook/new-link", "/notebook/keys/1/shut-out"):
        answer = stranger.post(path, data={"notebook": ida.notebook_id, "nickname": "Ida"})
        assert answer.status_code == 404
    assert heading(look(phone, "/notebook")) == "Ida’s notebook"


def test_what_opens_a_notebook_comes_from_our_own_pages_only(phone: TestClient, ida: Maker) -> None:
    for path in ("/notebook/move", "/notebook/erase", "/notebook/new-link", "/move", "/notebook/import"):
        answer = phone.post(
            path, data={"notebook": ida.notebook_id}, headers={"Origin": "http://elsewhere.test"}
        )
        assert answer.status_code == 403
