"""Pages for evenings: set, asked about, moved, cancelled."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine
from starlette.testclient import TestClient

from server.storage.sessions import writing
from server.storage.tables import RoomEvent
from tests.web.conftest import SignedIn
from tests.web.shown import Element, shown

FORM = {
    "title": "The cuff", "day": "2026-12-03", "time": "19:30", "minutes": "120", "zone": "oslo",
    "place": "Quay 4", "note": "A 4 mm hook",
}  # fmt: skip


@pytest.fixture
def along(marit: TestClient) -> str:
    """The address of an along of hers."""
    return marit.post("/host/alongs", data={"title": "Harbour hands"}).headers["location"]


def page_at(client: TestClient, address: str) -> Element:
    answer = client.get(address)
    assert answer.status_code == 200
    return shown(answer.text)


def test_an_evening_is_set_and_shown_by_its_hosts_clock(marit: TestClient, along: str) -> None:
    assert page_at(marit, along).one("a", href=f"{along}/evenings").text == "Evenings"
    assert "None yet" in page_at(marit, f"{along}/evenings").text
    assert marit.post(f"{along}/evenings", data=FORM).status_code == 303
    page = page_at(marit, f"{along}/evenings")
    (line,) = page.all("li", css="evening")
    assert "The cuff" in line.text
    assert line.one("time").attributes["datetime"] == "2026-12-03T18:30Z"
    assert "Thursday 3 December 2026, 19:30 to 21:30 Oslo time, UTC+1" in line.text
    assert (page.value("day"), page.value("time"), page.value("zone")) == (
        "2026-12-10",
        "19:30",
        "Europe/Oslo",
    )


def test_nothing_typed_is_lost(marit: TestClient, along: str) -> None:
    answer = marit.post(f"{along}/evenings", data=FORM | {"zone": "Osllo", "minutes": "90"})
    page = shown(answer.text)
    assert answer.status_code == 422
    assert "Perhaps Europe/Oslo" in page.says_at("zone")
    assert [page.value(name) for name in ("title", "day", "time", "minutes", "zone", "place", "note")] == [
        "The cuff", "2026-12-03", "19:30", "90", "Osllo", "Quay 4", "A 4 mm hook",
    ]  # fmt: skip


def test_an_hour_that_comes_twice_is_asked_about(marit: TestClient, along: str) -> None:
    night = FORM | {"day": "2026-10-25", "time": "02:30"}
    page = shown(marit.post(f"{along}/evenings", data=night).text)
    assert "show 02:30 twice" in page.text
    choices = [one.attributes["value"] for one in page.all("input", name="which")]
    assert choices == ["first", "second"]
    assert marit.post(f"{along}/evenings", data=night | {"which": "second"}).status_code == 303
    page = page_at(marit, f"{along}/evenings")
    assert page.one("li", css="evening").one("time").attributes["datetime"] == "2026-10-25T01:30Z"
    link = page.one("li", css="evening").all("a")[-1].attributes["href"]
    form = page_at(marit, link)  # it says which of the two it is
    assert [o.attributes["value"] for o in form.all("input", name="which") if "checked" in o.attributes] == [
        "second"
    ]


def test_an_evening_is_moved_cancelled_and_taken_up_again(marit: TestClient, along: str) -> None:
    marit.post(f"{along}/evenings", data=FORM)
    link = page_at(marit, f"{along}/evenings").one("li", css="evening").all("a")[-1].attributes["href"]
    form = page_at(marit, link)
    assert form.value("title") == "The cuff"
    data = FORM | {"day": "2026-12-04", "mark": form.value("mark")}
    assert marit.post(link, data=data).headers["location"] == f"{along}/evenings"
    refused = marit.post(link, data=data | {"day": "2026-12-05"})  # with the mark of before
    assert refused.status_code == 422
    assert "Marit changed this evening" in shown(refused.text).says_at("title")
    assert marit.post(f"{link}/cancel").headers["location"] == f"{along}/evenings"
    line = page_at(marit, f"{along}/evenings").one("li", css="evening")
    assert "cancelled" in line.text
    assert "Friday 4 December 2026" in line.text
    marit.post(page_at(marit, link).one("form", action=f"{link}/again").attributes["action"])
    assert "cancelled" not in page_at(marit, f"{along}/evenings").one("li", css="evening").text


def test_an_evening_with_its_room_open_is_not_cancelled(
    marit: TestClient, along: str, engine: Engine
) -> None:
    """Whoever sits in it would be left there; it says what to do first, and then it can be."""
    marit.post(f"{along}/evenings", data=FORM)
    link = page_at(marit, f"{along}/evenings").one("li", css="evening").all("a")[-1].attributes["href"]
    evening_id = int(link.rpartition("/")[2])
    with writing(engine) as session:
        session.add(RoomEvent(evening_id=evening_id, kind="opened", said_by="Marit"))
    refused = marit.post(f"{link}/cancel")
    assert refused.status_code == 409
    page = shown(refused.text)
    assert "Its room is open. Close the room first, then cancel the evening." in page.text
    assert f"{link}/room" in [a.attributes.get("href") for a in page.all("a")]
    assert marit.post(f"{link}/room/close").status_code == 303
    assert marit.post(f"{link}/cancel").status_code == 303
    assert "cancelled" in page_at(marit, f"{along}/evenings").one("li", css="evening").text


def test_another_host_finds_nothing(marit: TestClient, along: str, signed_in: SignedIn) -> None:
    marit.post(f"{along}/evenings", data=FORM)
    link = page_at(marit, f"{along}/evenings").one("li", css="evening").all("a")[-1].attributes["href"]
    oda = signed_in("oda")
    answers = [
        oda.get(f"{along}/evenings"), oda.post(f"{along}/evenings", data=FORM), oda.get(link),
        oda.post(link, data=FORM), oda.post(f"{link}/cancel"), oda.post(f"{link}/again"),
    ]  # fmt: skip
    assert [answer.status_code for answer in answers] == [404] * 6
