"""The chart of a part: at each size, for either hand, as a page and as a file."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from starlette.testclient import TestClient

from tests.services.test_patterns import BROKEN, TUBE
from tests.web.shown import shown
from tests.web.test_host_patterns import sent


@pytest.fixture
def part(marit: TestClient) -> str:
    """The address of a part of hers, with a pattern that is proved."""
    along = marit.post("/host/alongs", data={"title": "Harbour hands"}).headers["location"]
    address = marit.post(f"{along}/parts", data={"part_title": "Band"}).headers["location"]
    sent(marit, f"{address}/check", TUBE)
    return address


def test_the_pattern_page_leads_to_the_chart(marit: TestClient, part: str) -> None:
    assert f"{part}/chart" in marit.get(part).text


def test_the_chart_is_drawn_at_each_size(marit: TestClient, part: str) -> None:
    first = marit.get(f"{part}/chart")
    assert first.status_code == 200
    addresses = [a.attributes.get("href", "") for a in shown(first.text).all("a")]
    links = {address for address in addresses if "/chart?" in address}
    drawings = {marit.get(link.replace("chart?", "chart.svg?")).text for link in links}
    assert len(links) >= 2
    assert len(drawings) == len(links)
    for drawing in drawings:
        assert ElementTree.fromstring(drawing).tag.endswith("svg")


def test_a_count_that_is_none_of_the_patterns_has_no_chart(marit: TestClient, part: str) -> None:
    for count in ("7", "999999", "%00", "small)", "٣"):
        assert marit.get(f"{part}/chart?count={count}").status_code == 404
        assert marit.get(f"{part}/chart.svg?count={count}").status_code == 404


def test_what_is_not_proved_says_why_there_is_no_chart(marit: TestClient, part: str) -> None:
    sent(marit, f"{part}/check", BROKEN)
    page = marit.get(f"{part}/chart")
    assert page.status_code == 200
    assert "once the pattern is proved" in page.text
    assert marit.get(f"{part}/chart.svg").status_code == 404


def test_nobody_else_sees_it(client: TestClient, part: str) -> None:
    client.cookies.clear()
    assert client.get(f"{part}/chart.svg").status_code in (303, 404)
