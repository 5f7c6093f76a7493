"""Sizes and yarn of a part, as its host reads them."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from tests.services.story import CROWN, SLIPWAY
from tests.web.conftest import SignedIn
from tests.web.shown import Element, shown
from tests.web.test_host_patterns import sent

SHORT = SLIPWAY.replace("130 (150, 196) m", "74 (84, 96) m")


@pytest.fixture
def part(marit: TestClient) -> str:
    along = marit.post("/host/alongs", data={"title": "Harbour hands"}).headers["location"]
    return marit.post(f"{along}/parts", data={"part_title": "Mitts"}).headers["location"]


def page_at(client: TestClient, address: str, status: int = 200) -> Element:
    answer = client.get(address)
    assert answer.status_code == status
    return shown(answer.text)


def test_yarn_that_cannot_do_is_warned_of_beside_the_text(marit: TestClient, part: str) -> None:
    _, page = sent(marit, f"{part}/check", SHORT)
    assert "medium: 84 m will hardly do" in page.text
    assert "medium: 84 m will hardly do" in page_at(marit, part).text
    _, page = sent(marit, f"{part}/check", SLIPWAY, mark=page_at(marit, part).value("mark"))
    assert "will hardly do" not in page.text
    # A warning stands in nobody's way.
    status, _ = sent(marit, f"{part}/publish", SHORT, mark=page_at(marit, part).value("mark"))
    assert status == 303


def test_sizes_are_shown_with_shares_for_a_chosen_population(marit: TestClient, part: str) -> None:
    sent(marit, f"{part}/publish", SLIPWAY)
    page = page_at(marit, f"{part}/sizes")
    own, offered = page.all("tbody")
    assert [row.one("th").text for row in own.all("tr")] == ["24", "28", "32"]
    assert len(offered.all("tr")) >= 2
    assert "half and half. A guess for anyone else" in page.text
    assert "lies a gap" in page.text
    assert "medium: 150 m is enough" in page.text
    women = page_at(marit, f"{part}/sizes?people=women&units=in")
    assert "women of the US Army (ANSUR II)" in women.text
    assert women.one("select", name="people").one("option", value="women", selected="").text == "women"
    assert women.one(id="table-1").one("tbody").all("td")[0].text.endswith(" in")
    shares = [row.all("td")[1].text for row in women.one(id="table-1").one("tbody").all("tr")]
    in_cm = page_at(marit, f"{part}/sizes?people=women&units=cm")
    assert shares == [row.all("td")[1].text for row in in_cm.one(id="table-1").one("tbody").all("tr")]


def test_drafts_and_versions_have_their_own_and_nobody_is_said(marit: TestClient, part: str) -> None:
    sent(marit, f"{part}/publish", SLIPWAY)
    assert f"{part}/sizes" in [a.attributes.get("href") for a in page_at(marit, part).all("a")]
    version = page_at(marit, f"{part}/versions/1")
    assert f"{part}/versions/1/sizes" in [a.attributes.get("href") for a in version.all("a")]
    assert "The pattern’s own sizes" in page_at(marit, f"{part}/versions/1/sizes").text
    nobody = page_at(marit, f"{part}/sizes?people=giants", 422)
    assert "Choose whose hands" in nobody.text
    assert "medium: 150 m is enough" in nobody.text


def test_what_is_not_proved_or_no_glove_says_so(marit: TestClient, part: str) -> None:
    sent(marit, f"{part}/check", "Title: Half\n")
    assert "once the pattern is proved" in page_at(marit, f"{part}/sizes").text
    sent(marit, f"{part}/check", CROWN, mark=page_at(marit, part).value("mark"))
    page = page_at(marit, f"{part}/sizes")
    assert "not worn on a hand" in page.text
    assert "states no amount by size" in page.text


def test_another_host_sees_nothing(signed_in: SignedIn, marit: TestClient, part: str) -> None:
    sent(marit, f"{part}/publish", SLIPWAY)
    other = signed_in("other")
    assert other.get(f"{part}/sizes").status_code == 404
    assert other.get(f"{part}/versions/1/sizes").status_code == 404
