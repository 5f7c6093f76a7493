"""The sheet of a part: of the draft and of a version, in both terms, as a page and as plain text."""

from __future__ import annotations

import io
from typing import Any

import pypdf
import pypdfium2
import pytest
from starlette.testclient import TestClient

from server.craft.text import read
from tests.services.test_patterns import BROKEN, TUBE
from tests.web.conftest import SignedIn
from tests.web.shown import Element, shown
from tests.web.test_host_patterns import sent
from tests.web.test_maker_card import elements

# N V-sts are a third of the chains; the gap takes one of them (by hand).
MITTS = """Title: Møwe & Tern
Terms: US
Sizes: small (large)
Foundation: 24 (30), multiple of 3
Gauge: 14 sts and 8 rnds = 10 cm
Hook: 5 mm
Special stitch: V-st = (dc, ch 1, dc) in one place

# Cuff - to the thumb
Foundation rnd: Ch 24 (30); join with sl st in first ch to form a ring. [24 (30) ch]
Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk next 2 ch,
  V-st in next ch; rep from * around; join with sl st in 3rd ch of beg ch-4. [8 (10) V-sts]
Note: Count them.
Fasten off.
"""


@pytest.fixture
def part(marit: TestClient) -> str:
    """The address of a part of hers, with a pattern that is proved and published."""
    along = marit.post("/host/alongs", data={"title": "Harbour hands"}).headers["location"]
    address = marit.post(f"{along}/parts", data={"part_title": "Mitts"}).headers["location"]
    status, _ = sent(marit, f"{address}/publish", MITTS)
    assert status == 303
    return address


def page_at(client: TestClient, address: str) -> Element:
    answer = client.get(address)
    assert answer.status_code == 200
    return shown(answer.text)


def links(page: Element) -> list[str]:
    return [a.attributes.get("href", "") for a in page.all("a")]


def test_the_pattern_page_and_the_version_lead_to_their_sheets(marit: TestClient, part: str) -> None:
    assert f"{part}/sheet" in links(page_at(marit, part))
    assert f"{part}/versions/1/sheet" in links(page_at(marit, f"{part}/versions/1"))


def test_the_sheet_reads_as_a_printed_pattern(marit: TestClient, part: str) -> None:
    page = page_at(marit, f"{part}/versions/1/sheet").one("article")
    assert page.one("h1").text == "Møwe & Tern"
    assert [h.text for h in page.all("h2")] == [
        "Materials", "Abbreviations", "Special stitch", "A count of your own", "Cuff to the thumb",
        "Care", "Measures", "Chart and key, size small",
    ]  # fmt: skip
    assert "14 sts and 8 rnds = 10 cm" in page.all("dl")[0].text
    assert page.all("dl")[1].text == "Hook5 mm"
    rounds = [round_.text for round_ in page.all("div", css="sheet-round")]
    assert rounds[1].startswith("Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk next 2 ch")
    assert "[8 (10) V-sts]" in rounds[1]
    assert rounds[1].endswith("At N chains: N/3 V-sts.")
    assert "any multiple of 3" in page.text
    assert "Smallest size first" in page.text


def test_the_other_terms_come_from_the_tree(marit: TestClient, part: str) -> None:
    """dc is tr in UK terms, skip is miss; the host's note stays as she wrote it, and that is said."""
    page = page_at(marit, f"{part}/versions/1/sheet?terms=UK").one("article")
    assert "V-st = (tr, ch 1, tr) in one place" in page.text
    assert "*miss next 2 ch" in page.text
    assert "Tension" in page.text
    assert "in US terms" in page.text
    words = page.one("dl", css="sheet-abbreviations")
    short = dict(zip([dt.text for dt in words.all("dt")], [dd.text for dd in words.all("dd")], strict=True))
    assert short["tr"] == "treble"
    assert "dc" not in short


def test_charts_are_linked_for_each_size_in_the_same_terms(marit: TestClient, part: str) -> None:
    page = page_at(marit, f"{part}/versions/1/sheet?terms=UK")
    charts = [link for link in links(page) if "/versions/1/chart?" in link]
    assert len(charts) == 2
    for chart in charts:
        assert "tr: treble" in marit.get(chart).text.replace("</text><text", " ")


def test_measures_and_care_stand_on_it(marit: TestClient, part: str) -> None:
    """14 stitches are 10 cm: 24 of them lie 24 / 14 * 5 = 8.57 cm flat, 30 10.71; around it is twice that.
    One round of V-stitches, 8 to 10 cm: 1.25 cm. All to half a centimetre."""
    page = page_at(marit, f"{part}/versions/1/sheet").one("article")
    rows = [[cell.text for cell in (*row.all("td"), *row.all("th"))] for row in page.one("table").all("tr")]
    assert ["A", "8.5 (10.5)", "3.25 (4.25)", "Lower edge, laid flat"] in rows
    assert ["2 × A", "17 (21.5)", "6.75 (8.5)", "Lower edge, around"] in rows
    assert ["B", "1.5", "0.5", "Length, edge to edge"] in rows
    assert page.one("svg", css="schematic").one("desc").text.startswith("In outline, drawn at large.")
    assert "Stop where it hurts; pain that stays is for a health professional." in page.text
    assert page.one("section", css="sheet-chart").one("svg", css="chart").attributes["role"] == "img"


def test_the_hosts_own_cautions_stand_on_it(marit: TestClient, part: str) -> None:
    along = next(link for link in links(page_at(marit, part)) if link.startswith("/host/alongs/"))
    sent_ = marit.post(
        f"{along}/page", data={"cautions": "Mind the kettle.\n\nNo wool for Per.", "skill": "-"}
    )
    assert sent_.status_code == 303
    care = page_at(marit, f"{part}/versions/1/sheet").one("section", css="sheet-care")
    assert [each.text for each in care.all("li")] == ["Mind the kettle.", "No wool for Per."]


PAGE_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_pdf_is_tagged_and_of_its_page(marit: TestClient, part: str, paper: str) -> None:
    """One file with all of it: the text, the table of measures, two drawings with their words."""
    answer = marit.get(f"{part}/versions/1/sheet.pdf?paper={paper}")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/pdf"
    assert "M%C3%B8we-Tern-US.pdf" in answer.headers["content-disposition"]
    pdf = pypdf.PdfReader(io.BytesIO(answer.content))
    root: Any = pdf.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    for page in pdf.pages:
        box = page.mediabox
        found = tuple(float(each) * 25.4 / 72 for each in (box.width, box.height))
        assert found == pytest.approx(PAGE_MM[paper], abs=0.1)
    tags = [one["/S"] for one in elements(pdf)]
    assert tags.count("/H1") == 1
    assert tags.count("/H2") == 8
    assert tags.count("/Table") == 1
    drawn = [one["/Alt"] for one in elements(pdf) if one["/S"] == "/Figure"]
    assert len(drawn) == 2
    assert any("laid flat" in words for words in drawn)
    text = " ".join(" ".join(page.extract_text() for page in pdf.pages).split())
    for words in (
        "Møwe & Tern",
        "[24 (30) ch]",
        "Lower edge, around",
        "little hands",
        f"1 of {len(pdf.pages)}",
    ):
        assert words in text


def test_nothing_runs_off_the_paper(marit: TestClient, part: str) -> None:
    """The margin of 15 mm is white on all pages, but for the foot, which stands within the lower one."""
    content = marit.get(f"{part}/versions/1/sheet.pdf").content
    for page in pypdfium2.PdfDocument(content):
        picture = page.render(scale=1, grayscale=True).to_pil()  # 1 px is 1 pt
        edge = round(14 * 72 / 25.4)
        sides = [
            picture.crop((0, 0, edge, picture.height)),
            picture.crop((picture.width - edge, 0, picture.width, picture.height)),
            picture.crop((0, 0, picture.width, edge)),
        ]
        assert [side.getextrema()[0] for side in sides] == [255, 255, 255]


def test_a_chart_that_nobody_could_read_is_not_drawn(marit: TestClient, part: str) -> None:
    """200 stitches in 30 rounds are 6000; without a gauge there are no measures either, and both are said."""
    wide = TUBE_OF.format(rounds=30)
    assert sent(marit, f"{part}/publish", wide)[0] == 303
    page = page_at(marit, f"{part}/sheet").one("article")
    assert "too many stitches for a chart" in page.one("section", css="sheet-chart").text
    assert "The pattern states no gauge" in page.text
    assert page.all("svg") == []


TUBE_OF = """Title: Wide
Terms: US
Sizes: one size
Foundation: 200, multiple of 4
Custom: none

# Body
Foundation rnd: Ch 200; join with sl st in first ch to form a ring. [200 ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [200 sc]
Rnds 2 to {rounds}: Ch 1, sc in same st, sc in each sc around; join with sl st in first sc. [200 sc]
Fasten off.
"""


def test_a_draft_that_is_not_proved_has_no_pdf(marit: TestClient, part: str) -> None:
    sent(marit, f"{part}/check", BROKEN)
    assert marit.get(f"{part}/sheet.pdf").status_code == 404


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_plain_text_is_saved_and_reads_again(marit: TestClient, part: str, terms: str) -> None:
    answer = marit.get(f"{part}/versions/1/sheet.txt?terms={terms}")
    assert answer.status_code == 200
    assert answer.headers["content-type"].startswith("text/plain")
    assert answer.headers["content-disposition"] == (
        f"attachment; filename=\"Mwe-Tern-{terms}.txt\"; filename*=UTF-8''M%C3%B8we-Tern-{terms}.txt"
    )
    again = read(answer.text).pattern
    assert again.header.terms == terms
    assert [section.title for section in again.sections] == ["Cuff"]


def test_the_draft_has_a_sheet_of_its_own(marit: TestClient, part: str) -> None:
    """A version stays as it was published; the draft's sheet is of the draft."""
    sent(marit, f"{part}/check", TUBE)
    assert page_at(marit, f"{part}/sheet").one("article").one("h1").text == "Pier Band"
    assert page_at(marit, f"{part}/versions/1/sheet").one("article").one("h1").text == "Møwe & Tern"


def test_a_draft_that_is_not_proved_says_so(marit: TestClient, part: str) -> None:
    sent(marit, f"{part}/check", BROKEN)
    page = page_at(marit, f"{part}/sheet")
    assert "once the pattern is proved" in page.text
    assert f"{part}#understood" in links(page)
    assert marit.get(f"{part}/sheet.txt").status_code == 404


def test_nobody_else_sees_it(signed_in: SignedIn, part: str) -> None:
    other = signed_in("jorid")
    for page in (
        "sheet", "sheet.txt", "sheet.pdf", "versions/1/sheet", "versions/1/sheet.txt", "versions/1/sheet.pdf",
        "versions/1/chart",
    ):  # fmt: skip
        assert other.get(f"{part}/{page}").status_code == 404


def test_terms_that_there_are_not(marit: TestClient, part: str) -> None:
    assert marit.get(f"{part}/sheet?terms=FR").status_code in (400, 404, 422)
    assert marit.get(f"{part}/versions/7/sheet").status_code == 404
