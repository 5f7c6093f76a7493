"""The yarn card through its pages: weighing, the verdict, another yarn, a cake; and the line at a round."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine
from sqlmodel import select
from starlette.testclient import TestClient

from server.storage.sessions import writing
from server.storage.tables import Notebook
from tests.services.story import Maker, make_along
from tests.web.sending import go_on, look, send
from tests.web.shown import shown


@pytest.fixture
def part_id(engine: Engine) -> int:
    with writing(engine) as session:
        return make_along(session)[1]


@pytest.fixture
def ida(client: TestClient, part_id: int) -> TestClient:
    go_on(client, send(client, look(client, "/join/KAJ947"), "Join", nickname="Ida"))
    return client


@pytest.fixture
def at_work(ida: TestClient, engine: Engine, part_id: int) -> TestClient:
    """Ida with glove one made."""
    with writing(engine) as session:
        notebook = session.exec(select(Notebook.id)).one()
        assert notebook is not None
        maker = Maker.at(session, part_id, notebook)
        maker.settle(28, "medium")
        maker.make(1, 4, 4, 2)
    return ida


def test_the_page_is_there_with_nothing_filled_in(ida: TestClient, part_id: int) -> None:
    page = look(ida, f"/notebook/{part_id}/yarn")
    assert "The pair takes about" in page.text
    assert "A guess: nine times in ten" in page.text
    assert "You have not settled yet" in page.text


def test_weighing_gives_the_verdict_and_where_to_stop(at_work: TestClient, part_id: int) -> None:
    page = look(at_work, f"/notebook/{part_id}/yarn")
    page = go_on(at_work, send(at_work, page, "Will it last", grams="60"))
    assert "Enough for both gloves" in page.text
    page = go_on(at_work, send(at_work, page, "Write the weight down", grams="27"))
    assert "Glove one weighs 27 g." in page.text
    page = go_on(at_work, send(at_work, page, "Will it last", grams="0.7 oz"))
    assert "Not enough" in page.text
    assert "surely enough with" in page.text
    rows = [
        [cell.text for cell in row.inside if cell.tag in ("th", "td")] for row in page.one("tbody").all("tr")
    ]
    assert rows[0][0] == "Cuff, to the base of the thumb"
    assert any(int(row[2]) < int(row[1]) for row in rows)
    page = go_on(at_work, send(at_work, page, "Take back"))
    assert "60 g on the scale" in page.text


def test_the_line_stands_at_every_round_and_is_asked_for(at_work: TestClient, part_id: int) -> None:
    page = look(at_work, f"/notebook/{part_id}/piece/2")
    line = page.one(id="work-yarn")
    assert line.text.startswith("Before the first round: about ")
    assert line.one("a").attributes["href"] == f"/notebook/{part_id}/yarn"
    go_on(at_work, send(at_work, look(at_work, f"/notebook/{part_id}/yarn"), "Will it last", grams="80"))
    page = look(at_work, f"/notebook/{part_id}/piece/2")
    words = page.one(id="work-yarn").one("span").text
    assert words.startswith("Before the first round: about 80 g of yarn left")
    assert words.endswith("Enough.")
    asked = at_work.get(f"/notebook/{part_id}/piece/2/yarn-line")
    assert asked.text == words
    assert "no-store" in asked.headers["cache-control"]
    assert at_work.get(f"/notebook/{part_id}/piece/3/yarn-line").status_code == 404


@pytest.mark.parametrize(
    ("button", "typed", "says"),
    [
        ("Will it last", {"grams": "half"}, "Write the weight in grams"),
        ("Will it last", {"grams": ""}, "Write the weight in grams"),
        ("Write the weight down", {"grams": "0"}, "Write what it weighs"),
        ("Write it down", {"what": "weighed", "count": "20"}, "missing"),
        ("Write it down", {"what": "counted", "count": "none", "metres": "1"}, "is a number from 1"),
        ("Write the yarn down", {"grams": "50"}, "A label has both"),
        ("Write the yarn down", {}, "Choose the yarn’s category"),
    ],
)
def test_what_is_wrong_is_said_in_place(
    at_work: TestClient, part_id: int, button: str, typed: dict[str, str], says: str
) -> None:
    answer = send(at_work, look(at_work, f"/notebook/{part_id}/yarn"), button, **typed)
    assert answer.status_code == 422
    page = shown(answer.text)
    assert says.replace("’", "'") in page.one(css="field-error").text.replace("’", "'")
    for name, value in typed.items():
        if name in ("grams", "metres", "count") and value:
            assert value in [one.attributes.get("value") for one in page.all("input", name=name)]


def test_a_swatch_and_her_own_yarn(at_work: TestClient, part_id: int) -> None:
    page = look(at_work, f"/notebook/{part_id}/yarn")
    page = go_on(
        at_work,
        send(at_work, page, "Write it down", what="unravelled", stitch="dc", count="40", metres="6.1"),
    )
    assert "swatch of 40 double crochet took 6.1 m" in page.text
    page = go_on(
        at_work, send(at_work, page, "Write the yarn down", category="3", grams="50", metres="136 yd")
    )
    assert "3 light, 50 g = 124.4 m" in page.text  # 136 yd of 0.9144 m


def test_another_yarn_is_answered_and_kept_nowhere(at_work: TestClient, part_id: int) -> None:
    page = look(at_work, f"/notebook/{part_id}/yarn/instead")
    answer = send(at_work, page, "What changes", category="1", ball_g="50", ball_m="210")
    page = shown(answer.text)
    assert "1 super fine instead of 4 medium" in page.text
    assert "Begin with" in page.text
    assert "To buy:" in page.text
    wrong = send(at_work, page, "What changes", category="", ball_g="50", ball_m="")
    assert wrong.status_code == 422
    half = send(at_work, page, "What changes", category="1", ball_g="50", ball_m="")
    assert half.status_code == 422
    assert "A label has both" in shown(half.text).text
    assert "Yarn4 medium, 100 g = 170 m" in look(at_work, f"/notebook/{part_id}/yarn").one("dl").text


def test_a_cake_is_split(at_work: TestClient, part_id: int) -> None:
    page = look(at_work, f"/notebook/{part_id}/yarn/split")
    page = shown(send(at_work, page, "Split it", cake="150 g").text)
    assert "Slipway Wristers: set" in page.text
    assert "Enough: " in page.text  # there is but one part
    assert page.value("cake") == "150 g"
    refused = at_work.get(f"/notebook/{part_id}/yarn/split?cake=150")
    assert refused.status_code == 422
    assert "Tick the parts" in shown(refused.text).text
    assert at_work.get(f"/notebook/{part_id}/yarn/split?cake=150&parts=999").status_code == 404


@pytest.mark.parametrize(
    ("hand", "swatch"),
    [("60", ("1000", "0.2")), ("0.1", ("0.1", "200")), ("60", ("0.01", "0.1")), ("0.01", ("1000", "200"))],
)
def test_odd_measures_break_no_page(
    ida: TestClient, part_id: int, hand: str, swatch: tuple[str, str]
) -> None:
    """What nobody has is asked about, taken, and reckoned with as far as a piece can have stitches."""
    form = look(ida, f"/notebook/{part_id}/fit/hand")
    asked = send(ida, form, "Write the hand down", known="measured", around=hand, to_end=hand)
    go_on(ida, send(ida, shown(asked.text), "It is so"))
    form = look(ida, f"/notebook/{part_id}/fit/gauge")
    stitches, over = swatch
    typed = {"source": "swatch", "stitches": stitches, "over": over, "rounds": "1000", "rounds_over": "0.1"}
    asked = send(ida, form, "Write the gauge down", **typed)
    go_on(ida, send(ida, shown(asked.text), "It is so"))
    page = look(ida, f"/notebook/{part_id}/fit")
    tried = send(ida, page, "Write the try-on down", foundation="1000", verdict="too short", by="0.1")
    if tried.status_code == 422:  # beside such a hand and swatch it may be right
        tried = send(ida, shown(tried.text), "It is so")
    go_on(ida, tried)
    page = look(ida, f"/notebook/{part_id}/yarn")
    go_on(ida, send(ida, page, "Will it last", grams="0"))
    go_on(ida, send(ida, page, "Will it last", grams="5000", id="another-id-3"))
    look(ida, f"/notebook/{part_id}/yarn")
    assert ida.get(f"/notebook/{part_id}/yarn/instead?category=7").status_code in (200, 422)
    assert ida.get(f"/notebook/{part_id}/yarn/split?cake=5000&parts={part_id}").status_code == 200


def test_a_notebook_with_measures_comes_back_from_its_file(
    at_work: TestClient, engine: Engine, part_id: int
) -> None:
    """What was told of hand and yarn goes with the notebook, and is erased with it."""
    from server.services.notebooks import exporting, importing
    from server.services.notebooks.reading import read_file
    from server.storage.tables import Entry
    from server.web.moments import now

    form = look(at_work, f"/notebook/{part_id}/fit/hand")
    go_on(at_work, send(at_work, form, "Write the hand down", known="measured", around="20", to_end="15"))
    go_on(at_work, send(at_work, look(at_work, f"/notebook/{part_id}/yarn"), "Will it last", grams="80"))
    with writing(engine) as session:
        notebook_id = session.exec(select(Notebook.id)).one()
        assert notebook_id is not None
        text = exporting.as_json(exporting.whole(session, notebook_id), now())
        file = importing.fitting(read_file(text.encode()), now())
        kinds = [entry.kind for project in file.projects for entry in project.entries]
        assert {"hand", "left"} <= set(kinds)
        session.delete(session.get(Notebook, notebook_id))
        session.flush()
        assert session.exec(select(Entry)).all() == []
        brought = importing.bring_in(session, file, on_device=(), along_id=None, nickname="Ida", now=now())
        again = exporting.whole(session, brought.notebook_id)
        assert [entry.values for entry in again.projects[0].entries] == [
            entry.values for entry in file.projects[0].entries
        ]
