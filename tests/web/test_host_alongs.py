"""Pages for a host's alongs: made, renamed, parts, ways to join, the roster."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import Engine
from starlette.testclient import TestClient

from server.storage.sessions import writing
from server.storage.tables import Notebook, PatternVersion, Project, ProjectPlace
from server.web.moments import moment, now
from tests.web.conftest import SignedIn
from tests.web.shown import Element, shown

IN_PLACE = {"HX-Request": "true", "HX-Request-Type": "partial"}


@pytest.fixture
def along(marit: TestClient) -> str:
    """The address of an along of hers."""
    answer = marit.post("/host/alongs", data={"title": "Harbour hands", "welcome": "Thursdays\r\nat eight"})
    assert answer.status_code == 303
    return answer.headers["location"]


def page_at(client: TestClient, address: str) -> Element:
    answer = client.get(address)
    assert answer.status_code == 200
    return shown(answer.text)


def test_an_along_is_made_and_listed(marit: TestClient, along: str) -> None:
    page = page_at(marit, along)
    assert page.one("h1").text == "Harbour hands"
    assert page.value("welcome") == "Thursdays\nat eight"
    line = page_at(marit, "/host").one("a", href=along)
    assert line.text == "Harbour hands 0 parts, 0 makers"


def test_a_title_that_is_missing_is_asked_for_in_place(marit: TestClient) -> None:
    answer = marit.post("/host/alongs", data={"title": " ", "welcome": "Thursdays"})
    page = shown(answer.text)
    assert answer.status_code == 422
    assert page.says_at("title") == "Give the along a title, with at least one letter or digit."
    assert page.value("welcome") == "Thursdays"


def test_an_along_is_renamed_and_a_refused_name_changes_nothing(marit: TestClient, along: str) -> None:
    refused = marit.post(along, data={"title": "x" * 81, "welcome": "New words"})
    page = shown(refused.text)
    assert refused.status_code == 422
    assert page.says_at("title") == "That is 81 characters. 80 or fewer fit on a page."
    assert page.value("welcome") == "New words"
    assert page.one("h1").text == "Harbour hands"
    assert marit.post(along, data={"title": "Harbour feet", "welcome": ""}).status_code == 303
    assert page_at(marit, along).one("h1").text == "Harbour feet"


def test_what_a_host_writes_is_text_and_nothing_else(marit: TestClient) -> None:
    nasty = '"><script>alert(1)</script>'
    answer = marit.post(
        "/host/alongs", data={"title": nasty, "welcome": "</textarea><img src=x onerror=alert(1)>"}
    )
    page = page_at(marit, answer.headers["location"])
    assert page.one("h1").text == nasty
    assert page.value("title") == nasty
    assert not [s for s in page.all("script") if "src" not in s.attributes]
    assert [i.attributes["src"] for i in page.all("img")] == [answer.headers["location"] + "/qr.svg"]


def test_makers_join_by_code_link_and_picture(marit: TestClient, along: str) -> None:
    page = page_at(marit, along)
    code = page.one(id="code").text.replace(" ", "")
    assert len(code) == 6
    assert page.one(id="join-link").attributes["value"] == f"http://evenhand.test/join/{code}"
    picture = marit.get(page.one("img").attributes["src"])
    assert picture.headers["content-type"] == "image/svg+xml"
    assert picture.headers["content-security-policy"]
    assert page.one("a", download=f"join-{code}.svg").text == "Save the picture"


def test_parts_are_added_renamed_and_moved(marit: TestClient, along: str) -> None:
    refused = marit.post(f"{along}/parts", data={"part_title": "?"})
    assert refused.status_code == 422
    assert shown(refused.text).says_at("part_title").startswith("Give the part a title")
    assert shown(refused.text).value("part_title") == "?"
    hrefs = []
    for title in ("Wristers", "Hat"):
        answer = marit.post(f"{along}/parts", data={"part_title": title})
        hrefs.append(answer.headers["location"])

    def titles() -> list[str]:
        parts = page_at(marit, along).one(id="parts")
        return [a.text for a in parts.all("a", css="line-link")]

    assert titles() == ["Wristers no pattern yet", "Hat no pattern yet"]
    assert marit.post(f"{hrefs[1]}/move", data={"way": "earlier"}).headers["location"] == f"{along}#parts"
    assert titles() == ["Hat no pattern yet", "Wristers no pattern yet"]
    assert page_at(marit, f"{hrefs[0]}/title").value("title") == "Wristers"
    refused = marit.post(f"{hrefs[0]}/title", data={"title": ""})
    assert (refused.status_code, shown(refused.text).value("title")) == (422, "")
    assert marit.post(f"{hrefs[0]}/title", data={"title": "Mitts"}).headers["location"] == along
    assert titles() == ["Hat no pattern yet", "Mitts no pattern yet"]


def test_a_part_moves_earlier_or_later_only(marit: TestClient, along: str) -> None:
    part = marit.post(f"{along}/parts", data={"part_title": "Hat"}).headers["location"]
    assert marit.post(f"{part}/move", data={"way": "away"}).status_code == 422
    assert marit.post(f"{part}/move").status_code == 422


def test_another_host_finds_nothing_at_all(marit: TestClient, along: str, signed_in: SignedIn) -> None:
    part = marit.post(f"{along}/parts", data={"part_title": "Hat"}).headers["location"]
    oda = signed_in("oda")
    answers = [
        oda.get(along), oda.get(f"{along}/roster"), oda.get(f"{along}/qr.svg"), oda.get(f"{part}/title"),
        oda.post(along, data={"title": "Mine"}), oda.post(f"{along}/parts", data={"part_title": "Mine"}),
        oda.post(f"{part}/title", data={"title": "Mine"}), oda.post(f"{part}/move", data={"way": "later"}),
    ]  # fmt: skip
    assert {answer.status_code for answer in answers} == {404}
    assert page_at(marit, along).one("h1").text == "Harbour hands"


@pytest.fixture
def makers(marit: TestClient, along: str, engine: Engine) -> str:
    """An along with four makers: just joined, trying on, in piece one on an old version, with a pair."""
    part_id = int(
        marit.post(f"{along}/parts", data={"part_title": "Wristers"}).headers["location"].split("/")[-1]
    )
    along_id = int(along.split("/")[-1])
    with writing(engine) as session:
        old = PatternVersion(part_id=part_id, number=1, text="a", title="a")
        new = PatternVersion(part_id=part_id, number=2, text="b", title="b")
        session.add_all((old, new))
        session.flush()
        for minutes, (name, version) in enumerate((("Ana", None), ("Bo", new), ("Cy", old), ("Di", new))):
            seen = now() - timedelta(minutes=minutes * 5)
            notebook = Notebook(along_id=along_id, secret_hash=name, nickname=name, last_seen_at=seen)
            session.add(notebook)
            session.flush()
            if version is None:
                continue
            assert notebook.id is not None
            assert version.id is not None
            project = Project(notebook_id=notebook.id, part_id=part_id, pattern_version_id=version.id)
            session.add(project)
            session.flush()
            assert project.id is not None
            place = ProjectPlace(
                project_id=project.id,
                piece=1,
                section_title="trying on",
                round_label="",
                verdict="no second piece yet",
            )
            if name == "Cy":
                place.foundation, place.section_title, place.round_label = 36, "Cuff", "Rnd 4"
            if name == "Di":
                place.piece, place.size, place.foundation, place.section_title = 2, "medium", 28, "finished"
                place.verdict = "twins"
            session.add(place)
    return along


def rows(page: Element) -> list[list[str]]:
    return [
        [cell.text for cell in row.inside if cell.tag in ("th", "td")]
        for row in page.one(id="makers").all("tr")[1:]
    ]


def test_the_roster_says_who_is_where(marit: TestClient, makers: str) -> None:
    expected = [
        ["Ana", "joined, no part begun", "seen just now"],
        [
            "Bo",
            "Wristers",
            "size not chosen yet",
            "first piece: trying on",
            "no second piece yet",
            "seen 5 minutes ago",
        ],
        [
            "Cy",
            "Wristers (on version 1)",
            "own count: 36 ch",
            "first piece: Cuff, Rnd 4",
            "no second piece yet",
            "seen 10 minutes ago",
        ],
        ["Di", "Wristers", "medium (28 ch)", "second piece: finished", "twins", "seen 15 minutes ago"],
    ]
    assert rows(page_at(marit, makers)) == expected
    assert rows(page_at(marit, f"{makers}/roster")) == expected


def test_the_roster_comes_as_a_fragment_for_htmx(marit: TestClient, makers: str) -> None:
    answer = marit.get(f"{makers}/roster", headers=IN_PLACE)
    fragment = shown(answer.text)
    assert fragment.inside[0].attributes["id"] == "roster"
    assert not fragment.all("html")
    assert len(rows(fragment)) == 4
    assert "HX-Request" in answer.headers["vary"]
    assert shown(marit.get(f"{makers}/roster").text).all("html")


def test_a_fragment_for_someone_signed_out_replaces_nothing(client: TestClient, makers: str) -> None:
    answer = client.get(f"{makers}/roster", headers=IN_PLACE)
    assert (answer.status_code, answer.text, answer.headers["hx-reswap"]) == (401, "", "none")


def test_a_long_roster_comes_in_pages(marit: TestClient, along: str, engine: Engine) -> None:
    with writing(engine) as session:
        for number in range(205):
            seen = now() - timedelta(hours=number)
            session.add(
                Notebook(
                    along_id=int(along.split("/")[-1]),
                    secret_hash=str(number),
                    nickname=f"M{number}",
                    last_seen_at=seen,
                )
            )
    first, last = page_at(marit, f"{along}/roster"), page_at(marit, f"{along}/roster?page=3")
    assert (len(rows(first)), len(rows(last))) == (100, 5)
    assert "205 makers" in first.one(id="roster").text
    assert [a.attributes["href"] for a in last.one("nav", aria_label="Pages of the roster").all("a")] == [
        f"{along}/roster?page=2"
    ]
    assert rows(page_at(marit, f"{along}/roster?page=99")) == rows(last)
    assert marit.get(f"{along}/roster?page=0").status_code == 400


@pytest.mark.parametrize(
    ("ago", "words"),
    [
        (timedelta(seconds=-5), "just now"),
        (timedelta(seconds=59), "just now"),
        (timedelta(seconds=60), "1 minute ago"),
        (timedelta(minutes=59), "59 minutes ago"),
        (timedelta(hours=1), "1 hour ago"),
        (timedelta(hours=25), "1 day ago"),
        (timedelta(days=6, hours=23), "6 days ago"),
    ],
)
def test_a_near_moment_is_told_by_how_long_ago_it_was(ago: timedelta, words: str) -> None:
    here = now()
    assert moment(here - ago, here).words == words


def test_a_far_moment_is_told_by_its_date() -> None:
    at = now().replace(year=2026, month=3, day=9, hour=7, minute=5, second=0, microsecond=0)
    told = moment(at, at + timedelta(days=7))
    assert (told.words, told.exact, told.full) == (
        "9 March 2026",
        "2026-03-09T07:05:00Z",
        "9 March 2026, 07:05 UTC",
    )
