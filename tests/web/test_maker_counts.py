"""What is drawn and what is likely, as a device asks for them; and a wrong count on the page."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine
from starlette.testclient import TestClient

from server.storage.sessions import writing
from tests.services.story import Maker, make_along
from tests.web.sending import go_on, look, send


@pytest.fixture
def part_id(engine: Engine) -> int:
    """A published part in the along KAJ947."""
    with writing(engine) as session:
        return make_along(session)[1]


@pytest.fixture
def ida(client: TestClient, part_id: int) -> TestClient:
    """Ida's phone, glove one over 28 chains, its foundation and two rounds logged."""
    go_on(client, send(client, look(client, "/join/KAJ947"), "Join", nickname="Ida"))
    go_on(client, send(client, look(client, f"/notebook/{part_id}/numbers"), "Take", size="medium"))
    page = look(client, f"/notebook/{part_id}/piece/1")
    for _ in range(3):
        page = go_on(client, send(client, page, "Log"))
    return client


def test_a_wrong_count_names_the_likely_slip(ida: TestClient, part_id: int) -> None:
    """Round 1 is 28 sc: with 29, the join was taken for one, say, or a place was worked twice."""
    page = look(ida, f"/notebook/{part_id}/piece/1")
    page = go_on(ida, send(ida, page, "Check", spot="0.1.1", name="sc", count="29"))
    assert page.all("div", css="notice--differs") == []  # round 1 is neither at hand nor the one before
    page = go_on(ida, send(ida, page, "Take out", spot="0.2.1"))
    notice = page.one("div", css="notice--differs")
    assert "Rnd 1: You counted 29 sc; there should be 28: 1 too many." in notice.text
    assert len(notice.one("ol", css="slips").all("li")) >= 1
    assert all(one.text for one in notice.one("ol", css="slips").all("li"))


def test_a_right_count_names_none(ida: TestClient, part_id: int) -> None:
    page = look(ida, f"/notebook/{part_id}/piece/1")
    page = go_on(ida, send(ida, page, "Check", spot="0.2.1", name="Perch", count="7"))
    assert "Rnd 2: You counted 7 Perches: as it should be." in page.text
    assert page.all("ol", css="slips") == []


def test_the_likely_slips_as_a_device_carries_them(ida: TestClient, part_id: int) -> None:
    """What a page says of 27 sc is what the device finds under 1 missing of the 28 of round 1."""
    got = ida.get(f"/notebook/{part_id}/slips").json()
    carried = ida.get(f"/notebook/{part_id}/carry").json()
    assert got["plan"] == carried["plan"]
    (one,) = got["sets"]
    assert one["numbers"] == {"foundation": 28, "size": "medium"}
    should, again, by_difference = one["counts"][one["rounds"]["0.1.1"]]["sc"]
    assert should == 28
    assert len(again) == 4
    said = [one["texts"][at] for at in by_difference["-1"]]

    page = look(ida, f"/notebook/{part_id}/piece/1")
    page = go_on(ida, send(ida, page, "Take out", spot="0.2.1"))
    page = go_on(ida, send(ida, page, "Check", spot="0.1.1", name="sc", count="27"))
    shown = page.one("ol", css="slips").all("li")
    assert [each.text for each in shown] == [f"{says} {where}" for says, where in said]


def test_slips_of_both_gloves_where_their_numbers_differ(
    client: TestClient, engine: Engine, part_id: int
) -> None:
    """Glove one is begun over 28 chains, glove two over 32."""
    with writing(engine) as session:
        maker = Maker(session, part_id)
        maker.settle(28, "medium")
        maker.work(1, 2)
        maker.send("settled", 0, foundation=32, size="large", fits=False)
    client.cookies.set("evenhand_notebooks", maker.secret)
    sets = client.get(f"/notebook/{part_id}/slips").json()["sets"]
    assert [each["numbers"]["foundation"] for each in sets] == [28, 32]
    assert [each["counts"][each["rounds"]["0.1.1"]]["sc"][0] for each in sets] == [28, 32]


def test_no_slips_before_there_are_numbers(client: TestClient, part_id: int) -> None:
    go_on(client, send(client, look(client, "/join/KAJ947"), "Join", nickname="Ida"))
    assert client.get(f"/notebook/{part_id}/slips").status_code == 404


def test_the_next_rounds_drawn(ida: TestClient, part_id: int) -> None:
    got = ida.get(f"/notebook/{part_id}/piece/1/strips").json()
    assert list(got["strips"])[:2] == ["0.3.1", "0.3.2"]
    assert len(got["strips"]) == 3
    assert all(svg.startswith("<svg") for svg in got["strips"].values())
    later = ida.get(f"/notebook/{part_id}/piece/1/strips", params={"after": "0.3.2"}).json()
    assert next(iter(later["strips"])) == "0.3.3"
    assert later["sign"] == got["sign"]


def test_the_hand_changes_the_drawings(ida: TestClient, part_id: int) -> None:
    right = ida.get(f"/notebook/{part_id}/piece/1/strips").json()
    page = look(ida, f"/notebook/{part_id}/piece/1")
    assert "hand-right" in page.one(id="strip-chart").one("svg").attributes["class"]
    page = go_on(ida, send(ida, page, "Keep these settings", left="on"))
    assert "hand-left" in page.one(id="strip-chart").one("svg").attributes["class"]
    left = ida.get(f"/notebook/{part_id}/piece/1/strips").json()
    assert left["sign"] != right["sign"]
    assert left["strips"]["0.3.1"] != right["strips"]["0.3.1"]


@pytest.mark.parametrize("page", ["strips", "likely?spot=0.1.1&name=sc&count=1"])
def test_nobody_else_is_told(ida: TestClient, part_id: int, page: str) -> None:
    ida.cookies.clear()
    assert ida.get(f"/notebook/{part_id}/piece/1/{page}").status_code == 404
