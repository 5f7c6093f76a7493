"""The page of an along for everyone, its calendar and its picture, as a visitor's browser and calendar
ask."""

from __future__ import annotations

import io
from typing import Any

import pytest
from fastapi import FastAPI
from icalendar import Calendar
from PIL import Image
from starlette.testclient import TestClient

from server.services import demo
from server.settings import Settings
from server.web import previews
from server.web.moments import now
from tests.web.conftest import SignedIn
from tests.web.shown import Element, shown

EVENING = {"title": "The cuff", "time": "19:30", "minutes": "120", "zone": "oslo"}
SETTINGS = {"is_shown": "yes", "lets_join": "yes", "names_waiting": "yes", "skill": "Chains",
            "materials": "A needle", "cautions": "Rest your hands.\r\n\r\nTrim ends."}  # fmt: skip

SAID = (
    "A make-along with Marit", "Thursdays, “at eight”", "The cuff", "19:30 to 21:30 Oslo time, UTC+1",
    "3 light, 100 (116, 134) m", "Still to come: Hat", "Chains", "A needle", "Trim ends.",
)  # fmt: skip


@pytest.fixture
def evening() -> dict[str, str]:
    """An evening that is not over for a long time: within the years that can be set."""
    return EVENING | {"day": f"{now().year + 4}-12-04"}


@pytest.fixture
def along(marit: TestClient, evening: dict[str, str]) -> str:
    """The address of an along of hers with a published part, one that waits, and an evening."""
    address = marit.post(
        "/host/alongs", data={"title": "Harbour <hands>", "welcome": "Thursdays,\r\n“at eight”"}
    )
    along = address.headers["location"]
    for title in ("Mitts", "Hat"):
        part = marit.post(f"{along}/parts", data={"part_title": title}).headers["location"]
        if title == "Mitts":
            text = demo.PATTERN.read_text(encoding="utf-8")
            mark = shown(marit.get(part).text).value("mark")
            assert marit.post(f"{part}/publish", data={"text": text, "mark": mark}).status_code == 303
    assert marit.post(f"{along}/evenings", data=evening).status_code == 303
    return along


def page_link(marit: TestClient, along: str, **settings: str) -> str:
    """The path of the page, once it is saved with these settings."""
    assert (
        marit.post(f"{along}/page", data=SETTINGS | settings).headers["location"] == f"{along}/page?saved=1"
    )
    link = shown(marit.get(f"{along}/page").text).value_of("page-link")
    assert link.startswith("http://evenhand.test/along/")
    return link.removeprefix("http://evenhand.test")


def meta(page: Element, name: str) -> str:
    return page.one("meta", property=name).attributes["content"]


def test_everyone_reads_what_when_and_how(marit: TestClient, along: str, client: TestClient) -> None:
    answer = client.get(page_link(marit, along))
    assert answer.status_code == 200
    assert answer.headers["x-robots-tag"] == "noindex, nofollow"
    page = shown(answer.text)
    assert page.one("h1").text == "Harbour <hands>"
    for words in SAID:
        assert words in page.text
    assert page.one("a", css="button--do").attributes["href"].startswith("/join/")
    assert len(page.one("ul", css="cautions").all("li")) == 2
    assert not [s for s in page.all("script") if "src" not in s.attributes]


def test_a_link_to_it_has_a_preview(marit: TestClient, along: str, client: TestClient) -> None:
    path = page_link(marit, along)
    page = shown(client.get(path).text)
    # ogp.me: the four required properties, and absolute addresses
    assert meta(page, "og:type") == "website"
    assert meta(page, "og:title") == "Harbour <hands>"
    assert meta(page, "og:url") == f"http://evenhand.test{path}"
    assert meta(page, "og:image") == f"http://evenhand.test{path}/picture.png"
    assert meta(page, "og:description") == "Thursdays, “at eight”"
    picture = client.get(f"{path}/picture.png")
    assert picture.headers["content-type"] == "image/png"
    image = Image.open(io.BytesIO(picture.content))
    assert image.size == (1200, 630)
    assert (meta(page, "og:image:width"), meta(page, "og:image:height")) == ("1200", "630")
    assert len(picture.content) < 100_000


def test_its_addresses_are_the_servers_public_ones(
    marit: TestClient, along: str, client: TestClient, app: FastAPI, settings: Settings
) -> None:
    path = page_link(marit, along)
    app.state.settings = settings.model_copy(update={"public_url": "https://along.example/"})
    page = shown(client.get(path).text)
    assert meta(page, "og:image") == f"https://along.example{path}/picture.png"
    assert page.one("link", rel="canonical").attributes["href"] == f"https://along.example{path}"
    follow = page.one("a", css="tall-link").attributes["href"]
    assert follow == f"webcal://along.example{path}/evenings.ics"
    (event,) = read(client.get(f"{path}/evenings.ics").content).events
    assert str(event["URL"]) == f"https://along.example{path}"


def test_the_words_before_the_key_do_not_count(marit: TestClient, along: str, client: TestClient) -> None:
    path = page_link(marit, along)
    key = path.rpartition("-")[2]
    answer = client.get(f"/along/old-title-{key}")
    assert (answer.status_code, answer.headers["location"]) == (302, path)


def test_what_is_not_shown_is_not_there(marit: TestClient, along: str, client: TestClient) -> None:
    path = page_link(marit, along)
    marit.post(f"{along}/page", data={"skill": "Chains"})  # no box ticked
    for below in ("", "/evenings.ics", "/picture.png", "/evenings/1.ics"):
        assert client.get(path + below).status_code == 404
    assert client.get("/along/harbour-hands").status_code == 404


def test_search_engines_and_joining_are_the_hosts_choice(
    marit: TestClient, along: str, client: TestClient
) -> None:
    path = page_link(marit, along, is_findable="yes", lets_join="")
    answer = client.get(path)
    assert answer.headers["x-robots-tag"] == "all"
    assert "/join/" not in answer.text


def read(data: bytes) -> Any:
    return Calendar.from_ical(data)


def test_the_calendar_is_followed(marit: TestClient, along: str, client: TestClient) -> None:
    path = page_link(marit, along)
    answer = client.get(f"{path}/evenings.ics")
    assert answer.headers["content-type"] == "text/calendar; charset=utf-8"
    (event,) = read(answer.content).events
    assert str(event["SUMMARY"]) == "Harbour <hands>: The cuff"
    assert str(event["URL"]) == f"http://evenhand.test{path}"
    again = client.get(f"{path}/evenings.ics", headers={"If-None-Match": answer.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    head = client.head(f"{path}/evenings.ics")
    assert (head.status_code, head.headers["etag"]) == (200, answer.headers["etag"])


def test_a_moved_and_a_cancelled_evening_reach_who_follows(
    marit: TestClient, along: str, client: TestClient, evening: dict[str, str]
) -> None:
    path = page_link(marit, along)
    before = client.get(f"{path}/evenings.ics")
    link = shown(marit.get(f"{along}/evenings").text).one("li", css="evening").all("a")[-1].attributes["href"]
    marit.post(link, data=evening | {"time": "20:00"})
    moved = client.get(f"{path}/evenings.ics", headers={"If-None-Match": before.headers["etag"]})
    assert moved.status_code == 200
    (event,) = read(moved.content).events
    assert (event["SEQUENCE"], event["DTSTART"].dt.hour) == (1, 20)
    marit.post(f"{link}/cancel")
    (event,) = read(client.get(f"{path}/evenings.ics").content).events
    assert (event["SEQUENCE"], str(event["STATUS"])) == (2, "CANCELLED")
    assert "cancelled" in shown(client.get(path).text).one("li", css="evening--cancelled").text


def test_one_evening_is_a_file(
    marit: TestClient, along: str, client: TestClient, evening: dict[str, str]
) -> None:
    marit.post(f"{along}/evenings", data=evening | {"title": "The hand"})
    path = page_link(marit, along)
    links = [
        a.attributes["href"]
        for a in shown(client.get(path).text).all("a")
        if "/evenings/" in a.attributes["href"]
    ]
    assert len(links) == 2
    answer = client.get(links[0])
    assert answer.headers["content-disposition"].startswith("attachment")
    assert len(read(answer.content).events) == 1
    assert client.get(f"{path}/evenings/999.ics").status_code == 404


def test_its_settings_keep_what_was_typed(marit: TestClient, along: str) -> None:
    answer = marit.post(f"{along}/page", data=SETTINGS | {"skill": "x" * 2001})
    page = shown(answer.text)
    assert answer.status_code == 422
    assert page.says_at("skill") == "That is 2001 characters. 2000 or fewer can be kept."
    assert page.value("materials") == "A needle"
    assert "checked" in page.one("input", name="is_shown").attributes
    assert "checked" not in page.one("input", name="is_findable").attributes


def test_only_its_hosts_reach_the_settings(marit: TestClient, along: str, signed_in: SignedIn) -> None:
    oda = signed_in("oda")
    answers = [
        oda.get(f"{along}/page"),
        oda.post(f"{along}/page", data=SETTINGS),
        oda.post(f"{along}/page/address"),
    ]
    assert [answer.status_code for answer in answers] == [404] * 3


@pytest.mark.parametrize("title", ["手袋", "Łódź, long and longer " * 4, "x" * 80, "a"])
def test_every_title_makes_a_picture(title: str) -> None:
    image = Image.open(io.BytesIO(previews.picture(title, "with Marit")))
    assert (image.format, image.size) == ("PNG", (1200, 630))
