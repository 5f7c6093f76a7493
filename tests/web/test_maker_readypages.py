"""Pages that are kept ready: what is served is always what would be made now."""

from __future__ import annotations

import re
import sqlite3
import subprocess
import sys
import zlib
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace

import pytest
from fastapi import FastAPI
from httpx2 import Response
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import Engine, event
from sqlmodel import select
from starlette.testclient import TestClient

from server.app import create_app
from server.settings import Settings
from server.storage.sessions import reading, writing
from server.storage.stamps import COVERED, DRAFT
from server.storage.tables import Notebook, NotebookKey, Project
from server.web import moments, pages
from server.web.maker import readypages
from server.web.maker.readypages import ReadyPage, ReadyPages
from server.web.serving import FOR_EVER, noticed
from tests.services.story import SLIPWAY, Maker, make_along, publish
from tests.web.sending import go_on, look, send
from tests.web.shown import shown

FORM_ID = re.compile(r'name="id" value="([^"]+)"')
HEADERS = {"Origin": "http://evenhand.test", "Accept": "text/html"}


@pytest.fixture
def part_id(engine: Engine) -> int:
    with writing(engine) as session:
        return make_along(session)[1]


@pytest.fixture
def ida(client: TestClient, engine: Engine, part_id: int) -> TestClient:
    """Ida's phone: glove one made, glove two begun."""
    go_on(client, send(client, look(client, "/join/KAJ947"), "Join", nickname="Ida"))
    with writing(engine) as session:
        notebook = session.exec(select(Notebook.id)).one()
        assert notebook is not None
        maker = Maker.at(session, part_id, notebook)
        maker.settle(28, "medium")
        maker.make(1, 3, 4, 2)
        maker.work(2, 3)
    return client


@pytest.fixture
def fresh(settings: Settings) -> Iterator[Callable[[TestClient, str], Response]]:
    """The page as an application that keeps nothing yet makes it, for the same device."""
    others: list[TestClient] = []

    def asked(device: TestClient, path: str) -> Response:
        other = TestClient(
            create_app(settings), base_url="http://evenhand.test", headers=HEADERS, follow_redirects=False
        )
        others.append(other)
        other.cookies = device.cookies
        return other.get(path)

    yield asked
    for other in others:
        other.close()


def without_ids(answer: Response) -> str:
    return FORM_ID.sub('name="id" value="-"', answer.text)


def paths(part_id: int) -> list[str]:
    return [f"/notebook/{part_id}/piece/1", f"/notebook/{part_id}/piece/2", f"/notebook/{part_id}/pair"]


def test_two_servings_share_no_id(ida: TestClient, part_id: int) -> None:
    """Two tabs in the same state send two notes, not one twice."""
    for path in paths(part_id)[:2]:
        answers = [ida.get(path) for _ in range(3)]
        ids = [one for answer in answers for one in FORM_ID.findall(answer.text)]
        assert len(ids) > 3
        assert len(set(ids)) == len(ids)
        assert all(re.fullmatch(r"[A-Za-z0-9_-]{20}", one) for one in ids)
        assert len({without_ids(answer) for answer in answers}) == 1
        shown(answers[-1].text)


def test_a_second_serving_makes_nothing(
    ida: TestClient, part_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = ida.get(f"/notebook/{part_id}/piece/2")
    monkeypatch.setattr(pages, "text_of", None)
    assert without_ids(ida.get(f"/notebook/{part_id}/piece/2")) == without_ids(first)


def logs(piece: int, kind: str, **values: object) -> Callable[[Engine, int], None]:
    def change(engine: Engine, part_id: int) -> None:
        with writing(engine) as session:
            notebook = session.exec(select(Notebook.id)).one()
            assert notebook is not None
            maker = Maker.at(session, part_id, notebook)
            given = {"spot": maker.next_spot(piece)} if kind == "worked" else values
            maker.send(kind, piece, **given)

    return change


def chooses(**values: str) -> Callable[[Engine, int], None]:
    def change(engine: Engine, part_id: int) -> None:
        with writing(engine) as session:
            notebook = session.exec(select(Notebook)).one()
            for name, value in values.items():
                setattr(notebook, name, value)

    return change


def new_version(engine: Engine, part_id: int) -> None:
    with writing(engine) as session:
        publish(session, part_id, SLIPWAY.replace("Slipway", "Slip-way"), 2)


def moves(engine: Engine, part_id: int) -> None:
    new_version(engine, part_id)
    with writing(engine) as session:
        session.exec(select(Project)).one().pattern_version_id += 1


@pytest.mark.parametrize(
    ("change", "where"),
    [
        (logs(2, "worked"), (1, 2)),
        (logs(2, "note", spot="0.0.1", text="tight here"), (1, 2)),
        (logs(1, "taken_out", spot="1.0.1"), (0, 1, 2)),
        (logs(1, "hook", hook_mm="6", spot=None), (0, 1, 2)),
        (logs(0, "note", spot=None, text="for the winter"), ()),
        (chooses(terms="UK"), (0, 1)),
        (chooses(wording="full"), (1,)),
        (chooses(units="in"), (0, 1)),
        (new_version, (0, 1)),
        (moves, ()),
    ],
    ids=["worked", "note", "taken-out", "hook", "both", "terms", "wording", "units", "version", "moved"],
)
def test_a_change_shows_at_once(
    ida: TestClient,
    part_id: int,
    engine: Engine,
    fresh: Callable[[TestClient, str], Response],
    change: Callable[[Engine, int], None],
    where: tuple[int, ...],
) -> None:
    """On the pages of `where`, on an engine of its own; nowhere is anything served that is not true now."""
    before = [without_ids(ida.get(path)) for path in paths(part_id)]
    change(engine, part_id)
    after = [without_ids(ida.get(path)) for path in paths(part_id)]
    assert after == [without_ids(fresh(ida, path)) for path in paths(part_id)]
    for place in where:
        assert after[place] != before[place], paths(part_id)[place]


def test_a_change_by_another_process_shows_at_once(
    ida: TestClient, part_id: int, settings: Settings, fresh: Callable[[TestClient, str], Response]
) -> None:
    path = f"/notebook/{part_id}/piece/2"
    before = ida.get(path).text
    script = (
        "import sqlite3, sys\n"
        "with sqlite3.connect(sys.argv[1]) as database:\n"
        "    database.execute(\"UPDATE part SET title = 'Other Wristers'\")\n"
        "    database.execute(\"UPDATE notebook SET terms = 'UK'\")\n"
    )
    subprocess.run([sys.executable, "-c", script, str(settings.database)], check=True)
    after = ida.get(path)
    assert without_ids(after) == without_ids(fresh(ida, path))
    assert after.text != before


def test_a_device_sees_its_own_settings(
    ida: TestClient, part_id: int, fresh: Callable[[TestClient, str], Response]
) -> None:
    path = f"/notebook/{part_id}/piece/2"
    assert "at-work--large" not in ida.get(path).text
    ida.cookies.set("evenhand_work", "large.awake.rest45", domain="evenhand.test", path="/")
    assert "at-work--large" in ida.get(path).text
    assert without_ids(ida.get(path)) == without_ids(fresh(ida, path))


def test_a_template_or_static_file_that_changed_makes_it_anew(
    ida: TestClient, part_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = f"/notebook/{part_id}/piece/2"
    ida.get(path)
    monkeypatch.setattr(readypages, "build", lambda: (1, 1))
    monkeypatch.setattr(pages, "text_of", lambda *_: "made anew")
    assert ida.get(path).text == "made anew"


def test_what_is_on_disk_is_looked_at_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pages, "STATIC", tmp_path)
    monkeypatch.setattr(pages, "LOOK_EVERY_S", -1.0)
    (tmp_path / "a.css").write_text("a {}")
    first = pages.static("a.css")
    assert pages.static("a.css") == first
    (tmp_path / "a.css").write_text("b {}")
    assert pages.static("a.css") != first


def test_only_who_has_the_secret_is_served(
    app: FastAPI, ida: TestClient, part_id: int, engine: Engine
) -> None:
    path = f"/notebook/{part_id}/piece/2"
    assert ida.get(path).status_code == 200
    stranger = TestClient(app, base_url="http://evenhand.test", headers=HEADERS)
    assert stranger.get(path).status_code == 404
    with writing(engine) as session:
        notebook = session.exec(select(Notebook)).one()
        assert notebook.id is not None
        session.add(NotebookKey(notebook_id=notebook.id, secret_hash=notebook.secret_hash, how="device"))
        notebook.secret_hash = "-"
    assert ida.get(path).status_code == 200
    with writing(engine) as session:
        session.exec(select(NotebookKey)).one().shut_out_at = datetime.now(UTC)
    assert ida.get(path).status_code in (404, 410)


def test_a_serving_is_a_visit(ida: TestClient, part_id: int, engine: Engine) -> None:
    path = f"/notebook/{part_id}/piece/2"
    ida.get(path)
    long_ago = datetime(2026, 1, 1, tzinfo=UTC)
    with writing(engine) as session:
        session.exec(select(Notebook)).one().last_seen_at = long_ago
    ida.get(path)
    with reading(engine) as session:
        assert session.exec(select(Notebook.last_seen_at)).one() > long_ago


def test_all_that_a_page_reads_is_in_its_stamp(app: FastAPI, ida: TestClient, part_id: int) -> None:
    read: set[tuple[str, str]] = set()

    def watch(connection: sqlite3.Connection, _: object) -> None:
        def allow(action: int, table: str | None, column: str | None, *_: object) -> int:
            if action == sqlite3.SQLITE_READ and table and not table.startswith("sqlite_"):
                read.add((table, column or ""))
            return sqlite3.SQLITE_OK

        connection.set_authorizer(allow)

    engine: Engine = app.state.database.engine
    engine.dispose()
    event.listen(engine, "connect", watch)
    for path in paths(part_id):
        assert ida.get(path).status_code == 200
    assert {("entry", "values_json"), ("pattern_version", "text")} <= read, "it was made, not served"
    assert {table for table, _ in read} <= set(COVERED)
    assert not {column for table, column in read if table == "part"} & set(DRAFT)


@pytest.mark.parametrize(
    ("accepted", "compressed"),
    [("gzip, deflate, br", True), ("gzip;q=0.5", True), ("GZIP", True), ("br, gzip;q=0", False), ("", False)],
)
def test_compressed_where_that_is_understood(
    ida: TestClient, part_id: int, accepted: str, compressed: bool
) -> None:
    path = f"/notebook/{part_id}/piece/2"
    for _ in range(2):  # made, and served
        answer = ida.get(path, headers={"Accept-Encoding": accepted})
        assert (answer.headers.get("content-encoding") == "gzip") is compressed
        assert "Accept-Encoding" in answer.headers["vary"]
        shown(answer.text)
        if compressed:
            assert int(answer.headers["content-length"]) < len(answer.content) / 3
    plain = ida.get(path, headers={"Accept-Encoding": "identity"})
    assert without_ids(answer) == without_ids(plain)


@pytest.mark.parametrize("path", ["/notebook", "/notebook/put-away", "/join"])
def test_pages_that_may_show_a_secret_are_not_compressed(ida: TestClient, path: str) -> None:
    answer = ida.get(path, headers={"Accept-Encoding": "gzip"})
    assert answer.status_code == 200
    assert "content-encoding" not in answer.headers


@given(st.lists(st.text("ab<>\n é", max_size=60), min_size=1, max_size=9), st.lists(st.integers(0, 2)))
def test_the_compressed_page_is_the_page(texts: list[str], order: list[int]) -> None:
    ids = [f"id-{number}-of-the-making--"[:20] for number in range(3)]
    text = texts[0]
    used = [order[n % len(order)] if order else 0 for n in range(len(texts) - 1)]
    for number, piece in zip(used, texts[1:], strict=True):
        text += ids[number] + piece
    page = ReadyPage.of((), FOR_EVER, text, ids)
    for _ in range(3):
        served = zlib.decompress(page.served_compressed(), wbits=zlib.MAX_WBITS | 16).decode()
        pattern = re.escape(text)
        for number, one in enumerate(ids):
            first, *others = pattern.split(re.escape(one))
            if others:
                pattern = first + f"(?P<i{number}>[A-Za-z0-9_-]{{20}})" + f"(?P=i{number})".join(others)
        assert re.fullmatch(pattern, served, re.DOTALL), served
        assert not any(one in served for one in ids)


def test_no_more_pages_are_kept_than_stated() -> None:
    kept = ReadyPages()
    page = ReadyPage.of((1,), FOR_EVER, "page", ())
    now = datetime.now(UTC)
    for number in range(readypages.PAGES_MOST + 10):
        kept.put((number,), page)
        kept.get((0,), (1,), now)
    assert kept.get((0,), (1,), now) is page
    assert kept.get((1,), (1,), now) is None
    assert kept.get((0,), (2,), now) is None


NOW = datetime(2026, 11, 5, 20, 0, tzinfo=UTC)


@given(st.integers(-200, 8 * 86_400))
def test_words_of_a_moment_hold_until_they_change(seconds: int) -> None:
    at = NOW - timedelta(seconds=seconds)
    with noticed() as serving:
        words = moments.moment(at, NOW).words
    assert serving.until > NOW
    if serving.until == FOR_EVER:
        assert words == moments.moment(at, NOW + timedelta(days=400)).words
    else:
        assert words == moments.moment(at, serving.until - timedelta(milliseconds=1)).words
        assert words != moments.moment(at, serving.until).words


def test_words_that_no_longer_hold_end_its_time(
    ida: TestClient, part_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = f"/notebook/{part_id}/piece/2"
    go_on(ida, send(ida, look(ida, path), "Log"))
    assert "just now" in ida.get(path).text

    later = SimpleNamespace(now=lambda _: datetime.now(UTC) + timedelta(days=3))
    monkeypatch.setattr(readypages, "datetime", later)
    monkeypatch.setattr(pages, "text_of", lambda *_: "made anew")
    assert ida.get(path).text == "made anew"


def test_a_page_that_reads_the_clock_without_telling_is_not_kept() -> None:
    with noticed() as serving:
        moments.now()
    assert not serving.may_be_kept
    with noticed() as serving:
        moments.moment(NOW, moments.now())
    assert serving.may_be_kept
