"""Pages for a host's account, and what being signed in opens."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine
from sqlmodel import select
from starlette.testclient import TestClient

from server.services import accounts
from server.storage.sessions import reading, writing
from server.storage.tables import Host, HostSession
from server.web.moments import now
from server.web.signing import COOKIE, NAME_ALLOWANCE, safe_next
from tests.web.conftest import PASSWORD, SignedIn
from tests.web.shown import shown

FORM = {"sign_in_name": "marit", "shown_name": "Marit Hollow", "password": PASSWORD}


@pytest.fixture
def link(engine: Engine) -> str:
    """A one-time link that works."""
    with writing(engine) as session:
        return "/host/new/" + accounts.invite(session, now())


def test_a_one_time_link_makes_an_account_and_signs_in(client: TestClient, link: str) -> None:
    assert shown(client.get(link).text).one("h1").text == "Make your host account"
    answer = client.post(link, data=FORM)
    assert (answer.status_code, answer.headers["location"]) == (303, "/host")
    cookie = answer.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=lax" in cookie
    assert shown(client.get("/host").text).one("h1").text == "Your alongs"
    assert client.get(link).status_code == 404
    assert client.post(link, data=FORM).status_code == 404


def test_what_is_wrong_stands_at_each_field_and_what_was_typed_stays(client: TestClient, link: str) -> None:
    answer = client.post(link, data={"sign_in_name": "m@rit", "shown_name": "Marit <b>", "password": "short"})
    page = shown(answer.text)
    assert answer.status_code == 422
    assert page.says_at("sign_in_name").startswith("A sign-in name has 3 to 40 characters")
    assert page.says_at("password").startswith("That is 5 characters")
    assert page.says_at("shown_name") == ""
    assert (page.value("sign_in_name"), page.value("shown_name")) == ("m@rit", "Marit <b>")
    assert page.value("password") == "", "a password never comes back in a page"
    assert client.post(link, data=FORM).status_code == 303, "the link is not used up by a refused form"


def test_a_taken_name_is_said_at_its_field(client: TestClient, link: str, signed_in: SignedIn) -> None:
    signed_in("marit")
    page = shown(client.post(link, data=FORM).text)
    assert "already a host called marit" in page.says_at("sign_in_name")


@pytest.mark.parametrize("data", [{}, {"sign_in_name": "x"}, {"sign_in_name": ["a", "b"], "unknown": "1"}])
def test_a_form_with_fields_missing_is_answered_like_an_empty_one(
    client: TestClient, link: str, data: dict[str, str]
) -> None:
    answer = client.post(link, data=data)
    assert answer.status_code == 422
    assert shown(answer.text).says_at("password")


def test_signing_in_goes_on_to_where_one_was_going(client: TestClient, signed_in: SignedIn) -> None:
    signed_in("marit")
    sent_away = client.get("/host/alongs/7")
    assert (sent_away.status_code, sent_away.headers["location"]) == (
        303,
        "/host/sign-in?next=/host/alongs/7",
    )
    page = shown(client.get(sent_away.headers["location"]).text)
    data = {"sign_in_name": " MARIT ", "password": PASSWORD, "next": page.value("next")}
    answer = client.post("/host/sign-in", data=data)
    assert (answer.status_code, answer.headers["location"]) == (303, "/host/alongs/7")


@pytest.mark.parametrize(
    "path",
    [
        "https://elsewhere.test/host", "//elsewhere.test", "/\\elsewhere.test", "/host\\@elsewhere.test",
        "/host/new/abc", "/host\r\nSet-Cookie: a=b", "javascript:alert(1)", "/notebook", "", "host",
    ],
)  # fmt: skip
def test_signing_in_never_leads_elsewhere(path: str) -> None:
    assert safe_next(path) == "/host"


def test_a_wrong_password_is_refused_in_place(client: TestClient, signed_in: SignedIn) -> None:
    signed_in("marit")
    answer = client.post("/host/sign-in", data={"sign_in_name": "marit", "password": "not it at all"})
    page = shown(answer.text)
    assert answer.status_code == 422
    assert page.says_at("password") == accounts.WRONG
    assert page.value("sign_in_name") == "marit"
    assert COOKIE not in answer.cookies
    unknown = shown(client.post("/host/sign-in", data={"sign_in_name": "nobody", "password": "x"}).text)
    assert unknown.says_at("password") == accounts.WRONG, "whether a name exists is not told"


def test_after_several_wrong_tries_one_waits_a_little(client: TestClient, signed_in: SignedIn) -> None:
    signed_in("marit")
    wrong, right = (
        {"sign_in_name": "marit", "password": "wrong one"},
        {"sign_in_name": "marit", "password": PASSWORD},
    )
    statuses = [client.post("/host/sign-in", data=wrong).status_code for _ in range(NAME_ALLOWANCE.tries + 1)]
    assert statuses == [422] * NAME_ALLOWANCE.tries + [429]
    refused = client.post("/host/sign-in", data=right)
    assert refused.status_code == 429
    assert "Wait" in shown(refused.text).says_at("password")
    assert client.post("/host/sign-in", data={**wrong, "sign_in_name": "oda"}).status_code == 422


def test_right_tries_are_not_counted(client: TestClient, signed_in: SignedIn) -> None:
    signed_in("marit")
    right = {"sign_in_name": "marit", "password": PASSWORD}
    assert {
        client.post("/host/sign-in", data=right).status_code for _ in range(NAME_ALLOWANCE.tries * 2)
    } == {303}


def test_signing_out_ends_the_session_on_the_server_too(marit: TestClient, engine: Engine) -> None:
    token = marit.cookies[COOKIE]
    answer = marit.post("/host/sign-out")
    assert (answer.status_code, answer.headers["location"]) == (303, "/host/sign-in?out=1")
    assert "You are signed out on this device." in shown(marit.get(answer.headers["location"]).text).text
    marit.cookies.set(COOKIE, token)
    assert marit.get("/host").status_code == 303
    with reading(engine) as session:
        assert session.exec(select(HostSession)).all() == []


@pytest.mark.parametrize("cookie", ["", "x", "a" * 5000, "%00", '"; Path=/'])
def test_a_made_up_cookie_is_nobodys(client: TestClient, cookie: str) -> None:
    answer = client.get("/host", headers={"Cookie": f"{COOKIE}={cookie}"})
    assert answer.headers["location"] == "/host/sign-in?next=/host"


def test_a_form_sent_when_signed_out_keeps_its_text(client: TestClient) -> None:
    answer = client.post("/host/alongs", data={"title": "Harbour hands", "text": "Rnd 1: <sc> & more"})
    page = shown(answer.text)
    assert answer.status_code == 401
    assert page.one("textarea").exact == "Rnd 1: <sc> & more\n".removesuffix("\n")
    assert page.all("a", href="/host/sign-in")


def test_another_site_cannot_send_forms_in_her_name(marit: TestClient, engine: Engine) -> None:
    for headers in ({"Origin": "https://elsewhere.test"}, {"Sec-Fetch-Site": "cross-site"}):
        assert marit.post("/host/sign-out", headers=headers).status_code == 403
    with reading(engine) as session:
        assert len(session.exec(select(HostSession)).all()) == 1
        assert len(session.exec(select(Host)).all()) == 1


def test_the_first_page_leads_everywhere(client: TestClient, marit: TestClient) -> None:
    page = shown(client.get("/").text)
    assert page.one("form", action="/join").one("input").attributes["name"] == "code"
    assert page.all("a", href="/host/sign-in")
    assert page.all("a", href="/notebook")
    assert shown(marit.get("/").text).all("a", href="/host")


def test_an_unknown_address_reads_the_same_whatever_exists(client: TestClient, marit: TestClient) -> None:
    pages = {
        client.get("/nowhere").text,
        client.get("/host/new/unknown").text,
        marit.get("/host/alongs/99").text,
        marit.get("/host/alongs/none").text,
        marit.get("/host/alongs/0").text,
        marit.get(f"/host/alongs/{2**70}").text,
    }
    assert len(pages) == 1
    page = shown(pages.pop())
    assert page.one("h1").text == "There is nothing at this address"
    assert {a.attributes["href"] for a in page.one("main").all("a")} == {"/", "/join", "/host"}
