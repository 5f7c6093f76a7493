"""Pages for several hosts of one along, the waiting list and the next season."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from tests.web.conftest import SignedIn
from tests.web.shown import Element, shown


@pytest.fixture
def along(marit: TestClient) -> str:
    """The address of an along of hers, with two parts that wait."""
    along = marit.post("/host/alongs", data={"title": "Harbour hands"}).headers["location"]
    for title in ("Mitts", "Hat"):
        marit.post(f"{along}/parts", data={"part_title": title})
    return along


def page_at(client: TestClient, address: str) -> Element:
    answer = client.get(address)
    assert answer.status_code == 200
    return shown(answer.text)


def a_link(marit: TestClient, along: str) -> str:
    """The path of a link that lets one host in."""
    answer = marit.post(f"{along}/hosts/invite")
    assert (answer.status_code, answer.headers["cache-control"]) == (200, "no-store")
    link = shown(answer.text).value_of("cohost-link")
    assert link.startswith("http://evenhand.test/host/cohost/")
    return link.removeprefix("http://evenhand.test")


def test_a_second_host_is_let_in_and_leaves(marit: TestClient, along: str, signed_in: SignedIn) -> None:
    link = a_link(marit, along)
    assert "cohost-link" not in marit.get(f"{along}/hosts").text  # it is shown once
    oda = signed_in("oda")
    assert oda.get(along).status_code == 404
    assert page_at(oda, link).one("h1").text == "Host “Harbour hands” with Marit"
    assert oda.post(link).headers["location"] == along
    assert oda.get(link).status_code == 404
    assert page_at(oda, along).one("h1").text == "Harbour hands"
    assert "Marit’s along" in page_at(oda, "/host").one("a", href=along).text
    hers = page_at(oda, f"{along}/hosts")
    assert "Remove the along" not in hers.text
    assert [b.text for b in hers.all("button") if "Leave" in b.text or "Let go" in b.text] == ["Leave: Oda"]
    (form,) = [f for f in hers.all("form") if f.attributes["action"].endswith("/leave")]
    assert oda.post(form.attributes["action"]).headers["location"] == "/host"
    assert oda.get(along).status_code == 404


def test_whoever_is_not_signed_in_comes_back_to_the_link(
    marit: TestClient, along: str, client: TestClient
) -> None:
    answer = client.get(a_link(marit, along))
    assert answer.status_code == 303
    assert "/host/sign-in?next=/host/cohost/" in answer.headers["location"]


def test_only_its_own_host_may(marit: TestClient, along: str, signed_in: SignedIn) -> None:
    oda = signed_in("oda")
    oda.post(a_link(marit, along))
    answers = [
        oda.post(f"{along}/hosts/invite"),
        oda.post(f"{along}/hosts/take-back"),
        oda.post(f"{along}/remove"),
    ]
    assert [answer.status_code for answer in answers] == [403] * 3
    assert "Only Marit" in answers[0].text


def test_an_along_that_nobody_needs_is_removed(marit: TestClient, along: str) -> None:
    assert "for good" in page_at(marit, f"{along}/hosts").text
    assert marit.post(f"{along}/remove").headers["location"] == "/host"
    assert marit.get(along).status_code == 404


def test_another_hosts_title_is_not_overwritten_unseen(
    marit: TestClient, along: str, signed_in: SignedIn
) -> None:
    oda = signed_in("oda")
    oda.post(a_link(marit, along))
    mark = page_at(marit, along).value("mark")
    oda.post(along, data={"title": "Quay hands", "welcome": "", "mark": mark})
    answer = marit.post(along, data={"title": "Pier hands", "welcome": "", "mark": mark})
    page = shown(answer.text)
    assert answer.status_code == 422
    assert page.says_at("title").startswith("Oda changed title or welcome")
    assert (page.value("title"), page.one("h1").text) == ("Pier hands", "Quay hands")
    again = {"title": "Pier hands", "welcome": "", "mark": page.value("mark")}
    assert marit.post(along, data=again).status_code == 303


def test_the_waiting_list_is_put_in_order_by_plain_forms(marit: TestClient, along: str) -> None:
    page = page_at(marit, f"{along}/waiting")
    assert [a.text for a in page.all("a", css="line-link")] == [
        "Mittsnothing written yet",
        "Hatnothing written yet",
    ]
    forms = page.all("form", css="part-tools")
    assert [[b.text for b in form.all("button")] for form in forms] == [["Later: Mitts"], ["Earlier: Hat"]]
    action = forms[1].attributes["action"]
    assert (
        marit.post(action, data={"way": "earlier"}).headers["location"].startswith(f"{along}/waiting#part-")
    )
    page = page_at(marit, f"{along}/waiting")
    assert page.all("a", css="line-link")[0].text.startswith("Hat")
    assert marit.post(action, data={"way": "up"}).status_code == 422


def test_the_next_season_is_made_from_a_form(marit: TestClient, along: str, signed_in: SignedIn) -> None:
    evening = {"title": "The cuff", "day": "2026-12-03", "time": "19:30", "minutes": "120", "zone": "oslo"}
    marit.post(f"{along}/evenings", data=evening)
    form = page_at(marit, f"{along}/season")
    assert (form.value("title"), form.value("weeks"), form.value("days")) == ("Harbour hands", "52", "0")
    typed = {"title": "Harbour hands II", "evenings": "move", "weeks": "a year", "days": "1"}
    answer = marit.post(f"{along}/season", data=typed)
    refused = shown(answer.text)
    assert answer.status_code == 422
    assert refused.says_at("weeks") == "Write a whole number of weeks, 0 or more."
    assert (refused.value("title"), refused.value("weeks")) == ("Harbour hands II", "a year")
    new = marit.post(f"{along}/season", data=typed | {"weeks": "52"}).headers["location"]
    assert new != along
    assert page_at(marit, new).one("h1").text == "Harbour hands II"
    line = page_at(marit, f"{new}/evenings").one("li", css="evening")
    assert "Friday 3 December 2027, 19:30 to 21:30" in line.text
    assert signed_in("oda").get(f"{along}/season").status_code == 404
