"""What holds for every page: health, headers, same origin, size, commit before answer, errors as pages."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import Annotated

import pytest
from fastapi import FastAPI, Form, Request
from sqlalchemy import Engine
from sqlmodel import select
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.testclient import TestClient

from server import __version__
from server.services.errors import NotAllowed, NotFound, Refusal
from server.storage.sessions import reading, writing
from server.storage.tables import Host, Notebook
from server.web.cookies import forget, keep
from server.web.sessions import ReadSession, WriteSession

HERE = "http://evenhand.test"


def test_health(client: TestClient) -> None:
    answer = client.get("/healthz")
    assert (answer.status_code, answer.json()) == (200, {"status": "ok", "version": __version__})


def test_files_have_the_headers_that_files_need(client: TestClient) -> None:
    page = client.get("/").headers
    style = client.get("/static/css/roles.css").headers
    picture = client.get("/static/img/icon.svg").headers  # opened by itself, it is a document
    assert style["x-content-type-options"] == "nosniff"
    assert "content-security-policy" not in style
    for name in ("content-security-policy", "x-frame-options", "referrer-policy"):
        assert picture[name] == page[name]
        assert client.get("/static/none.css").headers[name] == page[name]


def test_nothing_but_ours_is_loaded_or_framed(client: TestClient) -> None:
    headers = client.get("/healthz").headers
    policy = dict(part.strip().split(" ", 1) for part in headers["content-security-policy"].split(";"))
    assert policy["default-src"] == "'self'"
    assert policy["frame-ancestors"] == "'none'"
    assert policy["form-action"] == "'self'"
    assert "unsafe" not in headers["content-security-policy"]
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"


@pytest.fixture
def tried(app: FastAPI) -> Iterator[TestClient]:
    """A client of the application with a few endpoints that misbehave."""

    @app.post("/try/post")
    async def post(request: Request) -> HTMLResponse:
        return HTMLResponse(f"got {len(await request.body())}")

    @app.post("/try/form")
    def form(pattern: Annotated[str, Form()]) -> HTMLResponse:
        return HTMLResponse(f"got {len(pattern)}")

    @app.get("/n/try/secret")
    def secret() -> RedirectResponse:
        return RedirectResponse("/", 303)

    @app.get("/try/number/{number}")
    def number(number: int) -> HTMLResponse:
        return HTMLResponse(str(number))

    @app.get("/try/raise/{what}")
    def fail(what: str) -> HTMLResponse:
        raise {
            "refusal": Refusal("36 is not a multiple of 5.", "foundation"),
            "not-found": NotFound("the along of somebody else"),
            "not-allowed": NotAllowed("This along is another host's."),
            "broken": RuntimeError("secret detail"),
        }[what]

    @app.post("/try/host/{name}")
    def add(name: str, session: WriteSession) -> HTMLResponse:
        session.add(Host(sign_in_name=name, shown_name=name, password_hash="-"))
        session.flush()
        if name == "raises":
            raise Refusal("no")
        return HTMLResponse("saved")

    @app.post("/try/orphan")
    def orphan(session: WriteSession) -> HTMLResponse:
        # Only the commit will find out that there is no such along.
        session.connection().exec_driver_sql("PRAGMA defer_foreign_keys=ON")
        session.add(Notebook(along_id=99, secret_hash="-", nickname="Fern"))
        session.flush()
        return HTMLResponse("saved")

    @app.post("/try/count-up")
    def count_up(session: WriteSession) -> HTMLResponse:
        row = session.exec(select(Host)).one()
        row.shown_name = str(int(row.shown_name) + 1)
        return HTMLResponse(row.shown_name)

    @app.get("/try/writes-in-a-reading-session")
    def cheat(session: ReadSession) -> HTMLResponse:
        session.add(Host(sign_in_name="x", shown_name="x", password_hash="-"))
        session.commit()
        return HTMLResponse("saved")

    @app.get("/try/keep")
    def keep_cookie(request: Request) -> Response:
        answer = HTMLResponse("")
        keep(answer, request, "notebook", "secret", days=400)
        return answer

    @app.get("/try/forget")
    def forget_cookie(request: Request) -> Response:
        answer = HTMLResponse("")
        forget(answer, request, "notebook")
        return answer

    with TestClient(app, base_url=HERE, follow_redirects=False, raise_server_exceptions=False) as client:
        yield client


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"Sec-Fetch-Site": "same-origin", "Origin": HERE}, 200),
        ({"Sec-Fetch-Site": "same-origin", "Origin": "null"}, 200),
        ({"Sec-Fetch-Site": "none"}, 200),
        ({"Sec-Fetch-Site": "cross-site", "Origin": "http://elsewhere.test"}, 403),
        ({"Sec-Fetch-Site": "same-site", "Origin": "http://other.evenhand.test"}, 403),
        ({"Sec-Fetch-Site": "cross-site"}, 403),
        ({"Origin": HERE}, 200),
        ({"Origin": "http://elsewhere.test"}, 403),
        ({"Origin": "http://evenhand.test.elsewhere.test"}, 403),
        ({"Origin": "http://evenhand.test:81"}, 403),
        ({"Origin": "null"}, 403),
        ({}, 200),
    ],
)
def test_only_our_own_pages_change_anything(tried: TestClient, headers: dict[str, str], status: int) -> None:
    assert tried.post("/try/post", headers=headers).status_code == status


def test_reading_from_elsewhere_is_a_link_like_any_other(tried: TestClient) -> None:
    assert tried.get("/healthz", headers={"Sec-Fetch-Site": "cross-site"}).status_code == 200


def test_secret_links_do_not_leak(tried: TestClient) -> None:
    headers = tried.get("/n/try/secret").headers
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["cache-control"] == "no-store"
    assert "noindex" in headers["x-robots-tag"]
    # A page with a form on it, under the same address, has to keep its origin.
    assert tried.get("/n/none/such").headers["referrer-policy"] == "same-origin"


@pytest.mark.parametrize("stated", [True, False], ids=["stated", "in chunks"])
def test_a_request_that_is_too_large_gets_a_page(tried: TestClient, stated: bool) -> None:
    most = 1_000_000
    chunk = b"x" * 50_000

    def send(size: int) -> Response:
        body = chunk * (size // len(chunk)) + b"x" * (size % len(chunk))
        content = body if stated else iter([body[i : i + 50_000] for i in range(0, size, 50_000)])
        return tried.post("/try/post", content=content)  # type: ignore[return-value]

    assert send(most).status_code == 200
    answer = send(most + 1)
    assert answer.status_code == 413
    assert "too much at once" in answer.text  # type: ignore[attr-defined]
    assert "content-security-policy" in answer.headers


def test_what_is_stated_counts_only_where_the_server_holds_to_it(tried: TestClient) -> None:
    """RFC 9112, 6.3: beside Transfer-Encoding a Content-Length says nothing."""
    chunks = iter([b"x" * 50_000 for _ in range(30)])
    headers = {"Content-Length": "5", "Transfer-Encoding": "chunked"}
    assert tried.post("/try/post", content=chunks, headers=headers).status_code == 413


def test_a_form_that_is_too_large_gets_a_page(tried: TestClient) -> None:
    def chunks() -> Iterator[bytes]:
        yield b"pattern="
        for _ in range(30):
            yield b"x" * 50_000

    headers = {"Content-Type": "application/x-www-form-urlencoded"}
    answer = tried.post("/try/form", content=chunks(), headers=headers)
    assert answer.status_code == 413
    assert "too much at once" in answer.text


@pytest.mark.parametrize(
    ("path", "status", "says"),
    [
        ("/try/raise/refusal", 422, "36 is not a multiple of 5."),
        ("/try/raise/not-found", 404, "There is nothing at this address"),
        ("/try/raise/not-allowed", 403, "This along is another host"),
        ("/try/raise/broken", 500, "Something here is broken"),
        ("/try/number/none", 404, "There is nothing at this address"),
        ("/no/such/page", 404, "There is nothing at this address"),
        ("/try/post", 405, "There is nothing at this address"),
    ],
)
def test_errors_are_pages(tried: TestClient, path: str, status: int, says: str) -> None:
    answer = tried.get(path, headers={"Accept": "text/html"})
    assert answer.status_code == status
    assert says in answer.text
    assert answer.headers["content-type"].startswith("text/html")
    assert "content-security-policy" in answer.headers
    for word in ("secret detail", "somebody else", "Traceback", "oops", "nvalid"):
        assert word not in answer.text


def test_errors_are_json_for_a_program(tried: TestClient) -> None:
    answer = tried.get("/try/raise/refusal", headers={"Accept": "application/json"})
    assert answer.json()["message"] == "36 is not a multiple of 5."


def test_what_is_not_there_reads_the_same_everywhere(tried: TestClient) -> None:
    pages = {tried.get(path).text for path in ("/n/one", "/join/ZZZZZZ", "/try/raise/not-found")}
    assert len(pages) == 1


def test_saved_means_committed(tried: TestClient, engine: Engine) -> None:
    assert tried.post("/try/host/a").text == "saved"
    assert tried.post("/try/host/raises").status_code == 422
    with reading(engine) as session:
        assert [h.sign_in_name for h in session.exec(select(Host)).all()] == ["a"]


def test_a_commit_that_fails_is_not_told_as_saved(tried: TestClient, engine: Engine) -> None:
    answer = tried.post("/try/orphan")
    assert answer.status_code == 500
    assert "saved" not in answer.text.replace("was saved before", "")
    with reading(engine) as session:
        assert session.exec(select(Notebook)).all() == []
    assert tried.post("/try/host/a").text == "saved"  # the turn to write has been given back


def test_a_page_that_only_reads_cannot_write(tried: TestClient, engine: Engine) -> None:
    assert tried.get("/try/writes-in-a-reading-session").status_code == 500
    with reading(engine) as session:
        assert session.exec(select(Host)).all() == []


def test_more_writers_than_threads_all_get_their_turn(tried: TestClient, engine: Engine) -> None:
    """80 at once on 40 worker threads: those who wait for the turn may not keep its holder from ending."""
    with writing(engine) as session:
        session.add(Host(sign_in_name="a", shown_name="0", password_hash="-"))
    start = threading.Barrier(80)

    def once() -> int:
        start.wait()
        return tried.post("/try/count-up").status_code

    with ThreadPoolExecutor(80) as pool:
        statuses = [done.result() for done in [pool.submit(once) for _ in range(80)]]
    assert statuses == [200] * 80
    with reading(engine) as session:
        assert session.exec(select(Host)).one().shown_name == "80"


def test_cookies_are_kept_from_scripts_and_other_sites(tried: TestClient) -> None:
    kept = tried.get("/try/keep").headers["set-cookie"]
    assert "HttpOnly" in kept
    assert "SameSite=lax" in kept
    assert "Max-Age=34560000" in kept
    assert "Secure" not in kept
    assert "Max-Age=0" in tried.get("/try/forget").headers["set-cookie"]


def test_cookies_go_over_https_only_where_we_are_on_it(app: FastAPI) -> None:
    @app.get("/try/keep")
    def keep_cookie(request: Request) -> Response:
        answer = HTMLResponse("")
        keep(answer, request, "notebook", "secret", days=1)
        return answer

    with TestClient(app, base_url="https://evenhand.test") as client:
        assert "Secure" in client.get("/try/keep").headers["set-cookie"]
