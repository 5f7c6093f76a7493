"""The card's page and its PDF: tagged, half a page, its QR read back by a decoder."""

from __future__ import annotations

import io
import subprocess
import sys
from collections.abc import Iterator
from importlib import import_module
from types import ModuleType
from typing import Any

import pypdf
import pypdfium2
import pytest
import zxingcpp
from PIL.Image import Image
from PIL.Image import new as new_picture
from sqlalchemy import Engine
from sqlmodel import select
from starlette.testclient import TestClient

from server.storage.sessions import reading, writing
from server.storage.tables import NotebookKey
from server.web import pdfs
from server.web.qr import qr
from tests.services.story import Maker, make_along
from tests.web.sending import form_with, look, send
from tests.web.shown import Element, shown

MM_PER_POINT = 25.4 / 72  # a point is a 72nd of an inch (PDF, ISO 32000-1, 8.3.2.3)
HALF_MM = {"a4": 297 / 2, "letter": 279.4 / 2}  # ISO 216; ANSI/ASME Y14.1


@pytest.fixture
def ida(client: TestClient, engine: Engine) -> Maker:
    """Ida, glove one finished, her notebook on this device."""
    with writing(engine) as session:
        maker = Maker(session, make_along(session)[1])
        maker.settle(28, "medium")
        maker.make(1, 6, 4)
        maker.send("note", 1, spot="0.3.2", text="second ball")
    assert client.get(f"/n/{maker.secret}").status_code == 303
    return maker


def read_codes(picture: Image) -> list[str]:
    """What the QR codes in a picture say."""
    return [found.text for found in zxingcpp.read_barcodes(picture)]


def picture_of(pdf: bytes) -> Image:
    """The first page at 150 dots an inch."""
    page = pypdfium2.PdfDocument(pdf)[0]
    found: Image = page.render(scale=150 / 72).to_pil()
    return found


def lowest_ink_mm(picture: Image, page_mm: float, *, above_mm: float) -> float:
    """How far down the page anything is printed, above the fold's dashes."""
    grey = picture.convert("L").crop((0, 0, picture.width, int(picture.height * above_mm / page_mm)))
    box = grey.point([255 if value < 240 else 0 for value in range(256)]).getbbox()
    assert box is not None
    return box[3] / picture.height * page_mm


def elements(pdf: pypdf.PdfReader) -> Iterator[dict[str, Any]]:
    """The structure elements of a tagged PDF, in reading order."""
    root: Any = pdf.trailer["/Root"]
    waiting: list[Any] = [root["/StructTreeRoot"]]
    while waiting:
        one = waiting.pop(0)
        one = one.get_object() if hasattr(one, "get_object") else one
        if isinstance(one, list):
            waiting = [*one, *waiting]
        elif isinstance(one, dict):
            if "/S" in one:
                yield one
            if "/K" in one:
                waiting = [one["/K"], *waiting]


@pytest.mark.parametrize("size", ["a4", "letter"])
def test_the_pdf_is_tagged_and_half_a_page(client: TestClient, ida: Maker, size: str) -> None:
    answer = client.get(f"/notebook/{ida.part_id}/card.pdf", params={"paper": size})
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/pdf"
    pdf = pypdf.PdfReader(io.BytesIO(answer.content))
    root: Any = pdf.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert b'pdfuaid:part="1"' in root["/Metadata"].get_object().get_data()
    tags = [one["/S"] for one in elements(pdf)]
    assert tags.count("/H1") == 1
    assert tags.count("/Table") == 1
    assert tags.count("/TH") >= 8
    figure = next(one for one in elements(pdf) if one["/S"] == "/Figure")
    assert "QR code" in figure["/Alt"]
    assert len(pdf.pages) == 1
    page_mm = float(pdf.pages[0].mediabox.height) * MM_PER_POINT
    assert page_mm == pytest.approx(2 * HALF_MM[size], abs=0.1)
    picture = picture_of(answer.content)
    # The dashes of the fold are the last ink on the page, at half of it; the card ends above them.
    assert lowest_ink_mm(picture, page_mm, above_mm=page_mm) == pytest.approx(HALF_MM[size], abs=1)
    assert lowest_ink_mm(picture, page_mm, above_mm=HALF_MM[size] - 1) < HALF_MM[size] - 4


def test_the_pdf_holds_the_numbers_and_the_steps(client: TestClient, ida: Maker) -> None:
    answer = client.get(f"/notebook/{ida.part_id}/card.pdf")
    text = " ".join(pypdf.PdfReader(io.BytesIO(answer.content)).pages[0].extract_text().split())
    for says in (
        "28 chains, medium",
        "Cuff to the base of the thumb 8 rounds 7 Perches",
        "Below the Thumb gap 8 rounds",
        "Hand to the knuckles 5 rounds",
        "14 sts and 9 rnds = 10 cm",
        "second ball",
        "Rnds 3 to 8:",
        "Fasten off.",
    ):
        assert says in text
    fonts = {font for font in _fonts(answer.content) if "Atkinson" in font}
    assert fonts


def _fonts(pdf: bytes) -> set[str]:
    page: Any = pypdf.PdfReader(io.BytesIO(pdf)).pages[0]
    return {font.get_object()["/BaseFont"] for font in page["/Resources"]["/Font"].values()}


def test_a_card_with_far_too_much_still_has_half_a_page(
    client: TestClient, ida: Maker, engine: Engine
) -> None:
    with writing(engine) as session:
        maker = Maker.at(session, ida.part_id, ida.notebook_id)
        maker.now = ida.now
        for number in range(25):
            maker.send("note", 1, spot="0.3.2", text=f"note {number} " + "and so on with it " * 50)
            maker.send("counted", 1, spot=f"0.3.{1 + number % 6}", name=f"kind {number}", count=number)
    answer = client.get(f"/notebook/{ida.part_id}/card.pdf", params={"paper": "letter"})
    pdf = pypdf.PdfReader(io.BytesIO(answer.content))
    assert len(pdf.pages) == 1
    text = " ".join(pdf.pages[0].extract_text().split())
    assert "The steps, and more notes and counts, are in the notebook." in text
    assert "Below the Thumb gap 8 rounds" in text
    picture = picture_of(answer.content)
    assert lowest_ink_mm(picture, 279.4, above_mm=HALF_MM["letter"] - 1) < HALF_MM["letter"] - 4


def test_the_qr_in_the_pdf_leads_to_the_part_and_holds_no_secret(client: TestClient, ida: Maker) -> None:
    answer = client.get(f"/notebook/{ida.part_id}/card.pdf")
    assert read_codes(picture_of(answer.content)) == [f"http://evenhand.test/notebook/of/{ida.part_id}"]
    assert ida.secret.encode() not in answer.content
    assert client.get(f"/notebook/of/{ida.part_id}").headers["location"] == f"/notebook/{ida.part_id}"
    client.cookies.clear()
    assert client.get(f"/notebook/of/{ida.part_id}").headers["location"] == "/notebook"


def drawn(page: Element, title: str) -> Image:
    """A QR of a page as a picture, from the path that the page draws: 6 dots a module."""
    svg = next(each for each in page.all("svg", css="qr"))
    assert title in "".join(svg.one("title").words)
    size = int(svg.attributes["viewbox"].split()[2])
    dark = svg.all("path")[1].attributes["d"]
    picture = new_picture("L", (size * 6, size * 6), 255)
    for run in dark.split("M")[1:]:
        place, _, length = run.partition("h")
        x, y = (int(part) for part in place.split())
        width = int(length.split("v")[0])
        picture.paste(0, (x * 6, y * 6, (x + width) * 6, (y + 1) * 6))
    return picture


def test_a_card_that_opens_the_notebook_has_a_key_of_its_own(
    client: TestClient, ida: Maker, engine: Engine
) -> None:
    page = look(client, f"/notebook/{ida.part_id}/card")
    assert read_codes(drawn(page, "opens on your own devices")) == [
        f"http://evenhand.test/notebook/of/{ida.part_id}"
    ]
    assert "whoever has the card has the notebook" in page.text
    answer = send(client, page, "Show it")
    assert answer.status_code == 200
    assert answer.headers["cache-control"] == "no-store"
    opening = shown(answer.text)
    assert "Whoever has the card can open the notebook" in opening.text
    (link,) = read_codes(drawn(opening, "opens the notebook"))
    assert link.startswith("http://evenhand.test/n/")
    assert ida.secret not in link
    client.cookies.clear()
    assert client.get(link.removeprefix("http://evenhand.test")).status_code == 303
    assert look(client, "/notebook").one("h1").text == "Ida’s notebook"
    with reading(engine) as session:
        assert [key.how for key in session.exec(select(NotebookKey)).all()] == ["card"]


def test_the_pdf_of_a_card_that_opens_the_notebook(client: TestClient, ida: Maker) -> None:
    form = form_with(look(client, f"/notebook/{ida.part_id}/card"), "PDF, A4")
    answer = client.post(form.attributes["action"], data={"notebook": ida.notebook_id, "kind": "a4"})
    (link,) = read_codes(picture_of(answer.content))
    client.cookies.clear()
    assert client.get(link.removeprefix("http://evenhand.test")).status_code == 303


@pytest.fixture
def no_pango(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A machine on which the package is there and the system's library is not."""

    def without(name: str) -> ModuleType:
        if name.startswith("weasyprint"):
            raise OSError("cannot load library 'libpango-1.0-0'")
        return import_module(name)

    monkeypatch.setattr(pdfs, "import_module", without)
    pdfs._weasyprint.cache_clear()
    yield
    pdfs._weasyprint.cache_clear()


@pytest.mark.usefixtures("no_pango")
def test_without_pango_the_page_says_what_does_as_well(client: TestClient, ida: Maker) -> None:
    page = look(client, f"/notebook/{ida.part_id}/card")
    assert "This server cannot make PDFs" in page.text
    assert "Your browser’s print does as well" in page.text
    assert [link for link in page.all("a") if "card.pdf" in link.attributes.get("href", "")] == []
    answer = client.get(f"/notebook/{ida.part_id}/card.pdf")
    assert answer.status_code == 501
    assert "libpango-1.0-0" in shown(answer.text).text
    opening = client.post(f"/notebook/{ida.part_id}/card", data={"notebook": ida.notebook_id, "kind": "a4"})
    assert opening.status_code == 501


def test_the_server_starts_without_it() -> None:
    """Nothing imports it before a card is asked for."""
    told = subprocess.run(
        [sys.executable, "-c", "import sys, server.app; print('weasyprint' in sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert told.stdout.strip() == "False"


def test_before_a_number_is_settled_there_is_no_card(client: TestClient, engine: Engine) -> None:
    with writing(engine) as session:
        maker = Maker(session, make_along(session)[1])
    client.get(f"/n/{maker.secret}")
    for path in ("card", "card.pdf"):
        answer = client.get(f"/notebook/{maker.part_id}/{path}")
        assert answer.headers["location"] == f"/notebook/{maker.part_id}/numbers"


@pytest.mark.parametrize("length", [1, 60, 200])
def test_every_code_is_read_back(length: int) -> None:
    said = "http://evenhand.test/n/" + "aZ9_-" * (length // 5 + 1)
    code = qr(said, "QR code")
    page = shown(
        f'<svg class="qr" viewbox="0 0 {code.size} {code.size}"><title>{code.words}</title>'
        f'<path d=""/><path d="{code.path}"/></svg>'
    )
    assert read_codes(drawn(page, "QR code")) == [said]
