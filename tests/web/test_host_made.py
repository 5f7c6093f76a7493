"""What was really made: the page and its table, for the part's own hosts."""

from __future__ import annotations

import csv
import io

import pytest
from sqlalchemy import Engine
from starlette.testclient import TestClient

from server.storage.sessions import writing
from tests.services.recap.makers import maker, worked
from tests.services.recap.test_made import CUFF, TUBE
from tests.web.conftest import SignedIn
from tests.web.sending import look
from tests.web.test_host_patterns import sent


@pytest.fixture
def part(marit: TestClient) -> str:
    """The address of a part of hers with a published pattern."""
    along = marit.post("/host/alongs", data={"title": "Harbour hands"}).headers["location"]
    address = marit.post(f"{along}/parts", data={"part_title": "Cuffs"}).headers["location"]
    assert sent(marit, f"{address}/publish", TUBE)[0] == 303
    return address


def people(engine: Engine, part: str, many: int, foundation: int = 20) -> None:
    with writing(engine) as session:
        for _ in range(many):
            told = [*worked(*CUFF, "1.0.1"), ("taken_out", 1, {"spot": "1.0.1"})]
            maker(session, int(part.rpartition("/")[2]), foundation, None, *told)


def test_before_there_are_five_nothing_is_shown(marit: TestClient, engine: Engine, part: str) -> None:
    people(engine, part, 4)
    page = look(marit, f"{part}/made")
    assert "Fewer than 5 makers have settled on their numbers in version 1." in page.text
    assert page.all("table") == []
    assert not [a for a in page.all("a") if "made.csv" in a.attributes["href"]]


def test_cells_stand_in_words_beside_their_bars(marit: TestClient, engine: Engine, part: str) -> None:
    people(engine, part, 8)
    people(engine, part, 12, foundation=28)
    page = look(marit, f"{part}/made")
    counts = page.one("table", id="picture-1")
    assert [row.text for row in counts.all("tr")][1:] == ["20 ch (small)8", "28 ch12"]
    assert [bar.attributes["width"] for bar in counts.all("rect")] == ["66.7", "100.0"]
    assert page.one("table", id="troubles").all("tr")[1].text == (
        "Edge, Rnd 1nearly all of 20fewer than 5 of 20"
    )
    assert "A size over 28 chains." in page.text
    assert page.one("code").text == "Foundation: 20 (24, 28), multiple of 4"


def test_hands_and_gauges_stand_in_words(marit: TestClient, engine: Engine, part: str) -> None:
    """18 stitches to 10 cm on every swatch: the box, its middle and the pattern's 20 lie on one line."""
    with writing(engine) as session:
        for around in (171.0, 172.0, 173.0, 174.0, 175.0, 190.0, 191.0, 192.0, 193.0, 194.0):
            told = (
                ("hand", 0, {"known": "measured", "around_mm": around}),
                ("gauge", 0, {"source": "swatch", "stitches": 9, "over_mm": 50.0}),
            )
            maker(session, int(part.rpartition("/")[2]), 20 if around < 180 else 24, None, *told)
    page = look(marit, f"{part}/made")
    rows = [
        [cell.text for cell in (*row.all("th"), *row.all("td"))] for row in page.one(id="hands").all("tr")
    ]
    assert rows[1:] == [["under 18 cm", "5", "20"], ["19 cm and more", "5", "24"]]
    assert "Half of them lie between 18.0 and 18.0 (the box), half are up to 18.0 sts to 10 cm" in page.text
    assert "The pattern has 20 (the dashed line)." in page.text
    assert (
        "Ask for a smaller hook, or state 18.0 sts to 10 cm." not in page.text
    )  # swatches are not the piece


def test_the_table_can_be_kept(marit: TestClient, engine: Engine, part: str) -> None:
    people(engine, part, 5)
    (link,) = (
        a.attributes["href"] for a in look(marit, f"{part}/made").all("a") if ".csv" in a.attributes["href"]
    )
    answer = marit.get(link)
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    assert "Cuffs-1-as-made.csv" in answer.headers["content-disposition"]
    first = next(csv.DictReader(io.StringIO(answer.text)))
    assert (first["answer"], first["people"]) == ("20 ch (small)", "5")


def test_another_host_gets_none_of_it(signed_in: SignedIn, engine: Engine, part: str) -> None:
    people(engine, part, 5)
    other = signed_in("jorid")
    for page in ("made", "made.csv", "made?version=1"):
        assert other.get(f"{part}/{page}").status_code == 404


def test_a_part_without_a_version(marit: TestClient) -> None:
    along = marit.post("/host/alongs", data={"title": "Harbour hands"}).headers["location"]
    address = marit.post(f"{along}/parts", data={"part_title": "Cuffs"}).headers["location"]
    assert marit.get(f"{address}/made").status_code == 404
