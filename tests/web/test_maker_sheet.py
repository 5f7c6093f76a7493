"""The whole pattern for a maker: of the version that she is on, in her terms and units, and as a PDF."""

from __future__ import annotations

import io

import pypdf
import pytest
from sqlalchemy import Engine
from starlette.testclient import TestClient

from server.storage.sessions import writing
from tests.services.story import SLIPWAY, Maker, make_along, publish
from tests.web.sending import look


@pytest.fixture
def ida(client: TestClient, engine: Engine) -> Maker:
    """Ida, joined and on this device, working on version 1; version 2 came after."""
    with writing(engine) as session:
        _, part_id = make_along(session)
        maker = Maker(session, part_id)
        maker.settle(36)
        maker.work(1)
        publish(session, part_id, SLIPWAY.replace("Slipway Wristers", "Slipway Anew"), number=2)
    client.get(f"/n/{maker.secret}")
    return maker


def test_it_is_her_own_version_in_her_terms(client: TestClient, ida: Maker) -> None:
    shelf = look(client, "/notebook")
    (link,) = (a for a in shelf.all("a") if a.attributes.get("href") == f"/notebook/{ida.part_id}/sheet")
    assert link.text == "The whole pattern, to print: Slipway Wristers"
    page = look(client, f"/notebook/{ida.part_id}/sheet").one("article")
    assert page.one("h1").text == "Slipway Wristers"
    assert "Version 1. US terms." in page.text
    chosen = {"notebook": str(ida.notebook_id), "terms": "UK", "units": "in"}
    assert client.post("/notebook/choices", data=chosen).status_code == 303
    page = look(client, f"/notebook/{ida.part_id}/sheet").one("article")
    assert "Version 1. UK terms." in page.text
    assert page.one("svg", css="schematic").one("desc").text.count(" in;") >= 2


def test_the_pdf_is_hers_too(client: TestClient, ida: Maker) -> None:
    answer = client.get(f"/notebook/{ida.part_id}/sheet.pdf?paper=letter")
    assert answer.headers["content-type"] == "application/pdf"
    pdf = pypdf.PdfReader(io.BytesIO(answer.content))
    assert "Slipway Wristers, version 1" in pdf.pages[0].extract_text()
    assert float(pdf.pages[0].mediabox.width) == 612


def test_without_a_notebook_there_is_none(client: TestClient, ida: Maker) -> None:
    client.cookies.clear()
    for page in ("sheet", "sheet.pdf"):
        assert client.get(f"/notebook/{ida.part_id}/{page}", follow_redirects=False).status_code in (303, 404)
