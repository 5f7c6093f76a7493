"""Requests that write at once: each gets its own answer, once what it says is on the disk."""

from __future__ import annotations

import asyncio
import json
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest
from fastapi import FastAPI
from httpx2 import Response
from sqlalchemy import Engine
from sqlmodel import Session, select
from starlette.testclient import TestClient

from server.services import joining, notebooks
from server.services.errors import Refusal
from server.services.notebooks import NewEntry
from server.storage import groups
from server.storage.sessions import reading, writing
from server.storage.tables import Entry, Host, Notebook, ProjectPlace
from server.web.security import HEADERS
from server.web.sessions import Database
from tests.services.story import NOW, make_along

AT = "2026-11-20T19:30:00.000Z"
Makers = dict[int, str]  # secrets by notebook


@pytest.fixture
def part_id(engine: Engine) -> int:
    with writing(engine) as session:
        return make_along(session)[1]


@pytest.fixture
def makers(engine: Engine, part_id: int) -> Makers:
    with writing(engine) as session:
        joined = [joining.join(session, "KAJ947", f"Maker {n}", joining.new_secret(), NOW) for n in range(16)]
    return {one.notebook_id: one.secret for one in joined}


def note(client: TestClient, part_id: int, notebook: int, secret: str, name: str, order: int = 1) -> Response:
    entry = {
        "id": name, "piece": 1, "kind": "note", "values": {"spot": None, "text": "still here"}, "at": AT,
        "order": order,
    }  # fmt: skip
    return client.post(
        f"/notebook/{part_id}/entries/batch",
        json={"notebook": notebook, "entries": [entry]},
        headers={"Cookie": f"evenhand_notebooks={secret}", "Accept": "application/json"},
    )


def names(engine: Engine) -> set[str]:
    with reading(engine) as session:
        return set(session.exec(select(Entry.id)).all())


def test_128_notes_at_once_with_bad_ones_among_them(
    client: TestClient, engine: Engine, part_id: int, makers: Makers
) -> None:
    everyone = list(makers.items())

    def send(n: int) -> Response:
        notebook, secret = everyone[n % len(everyone)]
        if n % 32 == 7:  # a notebook that this device does not have
            secret = "x" * 43
        return note(client, part_id, notebook, secret, "short" if n % 32 == 9 else f"note-{n:05}", n)

    with ThreadPoolExecutor(32) as pool:
        answers = list(pool.map(send, range(128)))
    told = set()
    for n, answer in enumerate(answers):
        if n % 32 == 7:
            assert answer.status_code == 404
        elif n % 32 == 9:
            assert list(answer.json()["refused"]) == ["short"]
        else:
            assert answer.json()["kept"] == [f"note-{n:05}"]
            told.add(f"note-{n:05}")
    assert names(engine) == told
    with reading(engine) as session:  # each project's place, worked out once for all of its group
        assert len(session.exec(select(ProjectPlace)).all()) == len(makers)


def test_the_same_entry_twice_at_once(
    client: TestClient, engine: Engine, part_id: int, makers: Makers
) -> None:
    """Both are told that it is kept; it is in the log once."""
    (notebook, secret), *_ = makers.items()
    with ThreadPoolExecutor(8) as pool:
        answers = list(pool.map(lambda n: note(client, part_id, notebook, secret, "the-same-one"), range(8)))
    assert [answer.json()["kept"] for answer in answers] == [["the-same-one"]] * 8
    assert {answer.json()["state"] for answer in answers} == {1}
    assert names(engine) == {"the-same-one"}


@pytest.fixture
def database(engine: Engine) -> Database:
    return Database(engine)


def adds(name: str) -> Callable[[Session], str]:
    def job(session: Session) -> str:
        session.add(Host(sign_in_name=name, shown_name=name, password_hash="-"))
        return name

    return job


def hosts(engine: Engine) -> set[str]:
    with reading(engine) as session:
        return set(session.exec(select(Host.sign_in_name)).all())


async def hold(database: Database, until: threading.Event) -> asyncio.Task[bool]:
    """Keeps the writer busy, so that what comes next waits in line."""
    begun = threading.Event()

    def job(_: Session) -> bool:
        begun.set()
        return until.wait(20)

    task = asyncio.create_task(database.write(job))
    while not begun.is_set():
        await asyncio.sleep(0.001)
    return task


def test_a_request_that_is_gone_before_its_turn_leaves_nothing(engine: Engine, database: Database) -> None:
    async def story() -> None:
        go_on = threading.Event()
        held = await hold(database, go_on)
        gone = asyncio.create_task(database.write(adds("gone")))
        turn = asyncio.create_task(in_turn(database, "gone too"))
        stays = asyncio.create_task(database.write(adds("stays")))
        await asyncio.sleep(0.01)
        gone.cancel()
        turn.cancel()
        go_on.set()
        assert await asyncio.wait_for(stays, 20) == "stays"
        await held
        assert {type(one) for one in await asyncio.gather(gone, turn, return_exceptions=True)} == {
            asyncio.CancelledError
        }
        await database.close()

    asyncio.run(story())
    assert hosts(engine) == {"stays"}


async def in_turn(
    database: Database, name: str, *, then: BaseException | None = None, stay_s: float = 0
) -> None:
    async with database.turn() as session:
        adds(name)(session)
        session.flush()
        await asyncio.sleep(stay_s)
        if then is not None:
            raise then


def test_a_request_that_is_cut_off_in_its_turn_writes_nothing(engine: Engine, database: Database) -> None:
    async def story() -> None:
        turn = asyncio.create_task(in_turn(database, "cut off", stay_s=20))
        await asyncio.sleep(0.1)
        turn.cancel()
        with pytest.raises(asyncio.CancelledError):
            await turn
        with pytest.raises(TimeoutError):
            await asyncio.wait_for(in_turn(database, "too slow", stay_s=20), 0.1)
        assert await asyncio.wait_for(database.write(adds("after")), 20) == "after"
        await database.close()

    asyncio.run(story())
    assert hosts(engine) == {"after"}


def test_turns_and_jobs_share_a_group(engine: Engine, database: Database) -> None:
    async def story() -> list[object]:
        go_on = threading.Event()
        held = await hold(database, go_on)
        tasks: list[asyncio.Task[object]] = []
        for n in range(20):
            tasks.append(asyncio.create_task(in_turn(database, f"turn {n}")))
            tasks.append(asyncio.create_task(database.write(adds(f"job {n}"))))
        tasks.append(asyncio.create_task(in_turn(database, "refused", then=Refusal("no"))))
        await asyncio.sleep(0.01)
        go_on.set()
        answers = await asyncio.wait_for(asyncio.gather(*tasks, return_exceptions=True), 20)
        await held
        await database.close()
        return list(answers)

    *done, refused = asyncio.run(story())
    assert isinstance(refused, Refusal)
    assert not any(isinstance(one, BaseException) for one in done)
    assert hosts(engine) == {f"{what} {n}" for what in ("turn", "job") for n in range(20)}


def test_a_refusal_is_told_after_the_commit_too(engine: Engine, database: Database) -> None:
    """It may have read what another of its group wrote, and that is not there where the COMMIT fails."""

    def orphan(session: Session) -> None:
        session.connection().exec_driver_sql("PRAGMA defer_foreign_keys=ON")
        session.add(Notebook(along_id=99, secret_hash="-", nickname="Fern"))

    async def story() -> list[object]:
        go_on = threading.Event()
        held = await hold(database, go_on)
        tasks: list[asyncio.Task[object]] = [
            asyncio.create_task(database.write(orphan)),
            asyncio.create_task(in_turn(database, "refused", then=Refusal("was there already"))),
            asyncio.create_task(in_turn(database, "a turn")),
        ]
        await asyncio.sleep(0.01)
        go_on.set()
        answers = await asyncio.wait_for(asyncio.gather(held, *tasks, return_exceptions=True), 20)
        await database.close()
        return list(answers)

    answers = asyncio.run(story())
    assert {type(one).__name__ for one in answers} == {"IntegrityError"}
    assert hosts(engine) == set()


def test_the_last_ones_in_line_are_let_through_before_it_stops(engine: Engine, database: Database) -> None:
    async def story() -> None:
        go_on = threading.Event()
        held = await hold(database, go_on)
        jobs = [asyncio.create_task(database.write(adds(f"job {n}"))) for n in range(30)]
        await asyncio.sleep(0.01)
        closing = asyncio.create_task(database.close())
        await asyncio.sleep(0.01)
        go_on.set()
        await asyncio.wait_for(asyncio.gather(held, closing, *jobs), 20)
        with pytest.raises(groups.Closed):
            await database.write(adds("late"))

    asyncio.run(story())
    assert len(hosts(engine)) == 30


def test_the_log_service_in_a_session_of_its_own(engine: Engine, part_id: int, makers: Makers) -> None:
    """Outside a group the place is worked out at once, as before."""
    notebook = next(iter(makers))
    with writing(engine) as session:
        entry = NewEntry("a-note-of-mine", 1, "note", {"spot": None, "text": "here"})
        notebooks.log(session, notebook, part_id, [entry], state=0, device="phone", now=NOW)
        assert len(session.exec(select(ProjectPlace)).all()) == 1


@pytest.mark.parametrize(
    ("content_type", "body"),
    [
        ("text/plain", '{"notebook": 1, "entries": []}'),
        ("application/json", "{"),
        ("application/json", '{"notebook": 1}'),
        ("application/json", '{"notebook": 1, "entries": [{"id": 5}]}'),
    ],
)
def test_a_batch_that_cannot_be_read_is_told(
    client: TestClient, part_id: int, content_type: str, body: str
) -> None:
    headers = {"Content-Type": content_type, "Accept": "application/json"}
    answer = client.post(f"/notebook/{part_id}/entries/batch", content=body, headers=headers)
    assert answer.status_code == 400
    assert answer.json()["title"] == "This could not be read"


@pytest.mark.parametrize("part", ["0", str(2**63), "1" + "0" * 40, "one", "-1"])
def test_a_part_that_cannot_be_is_nowhere(client: TestClient, part: str) -> None:
    assert client.get(f"/notebook/{part}/piece/1").status_code == 404
    sent = client.post(f"/notebook/{part}/entries/batch", json={"notebook": 1, "entries": []})
    assert sent.status_code == 404
    assert client.post(f"/notebook/{part}/piece/1").status_code in (404, 405)


def test_a_batch_is_answered_behind_the_same_security_as_every_page(
    client: TestClient, app: FastAPI, part_id: int, makers: Makers
) -> None:
    """It is answered before the framework's own layers, and past none of ours."""
    (notebook, secret), *_ = makers.items()
    address = f"/notebook/{part_id}/entries/batch"
    taken = note(client, part_id, notebook, secret, "taken-in-well")
    assert taken.json()["kept"] == ["taken-in-well"]
    page = client.get("/notebook/none").headers
    for name in HEADERS:
        assert taken.headers[name] == page[name]
    assert taken.headers["x-robots-tag"] == page["x-robots-tag"]
    elsewhere = {"Origin": "http://elsewhere.test", "Cookie": f"evenhand_notebooks={secret}"}
    body = {"notebook": notebook, "entries": []}
    assert client.post(address, json=body, headers=elsewhere).status_code == 403
    assert client.post(address, json=body, headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403
    too_long = json.dumps(body).rstrip("}") + " " * app.state.settings.most_request_bytes + "}"
    sent = client.post(address, content=too_long, headers={"Content-Type": "application/json"})
    assert sent.status_code == 413
    for method in ("GET", "PUT", "DELETE"):
        answer = client.request(method, address)
        assert (answer.status_code, answer.headers["allow"]) == (405, "POST")
        assert "There is nothing at this address" in answer.text


def test_a_fault_of_ours_is_told_as_such(
    client: TestClient, engine: Engine, part_id: int, makers: Makers, monkeypatch: pytest.MonkeyPatch
) -> None:
    def breaks(*_: object, **__: object) -> None:
        raise ZeroDivisionError("no secret of hers")

    (notebook, secret), *_ = makers.items()
    with monkeypatch.context() as broken:
        broken.setattr("server.services.notebooks.receive", breaks)
        answer = note(client, part_id, notebook, secret, "meets-a-fault")
    assert answer.status_code == 500
    assert "Something here is broken" in answer.text
    assert "no secret of hers" not in answer.text
    assert names(engine) == set()
    assert note(client, part_id, notebook, secret, "meets-a-fault").json()["kept"] == ["meets-a-fault"]
