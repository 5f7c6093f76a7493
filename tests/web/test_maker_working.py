"""The working page without scripts: several rounds at once, the place within a round, an undo undone,
measuring, the settings of a device."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine
from starlette.testclient import TestClient

from server.services import notebooks
from server.storage.sessions import writing
from tests.services.story import Maker, make_along
from tests.web.sending import fields_of, form_with, go_on, look, send
from tests.web.shown import Element, shown


@pytest.fixture
def part_id(engine: Engine) -> int:
    """A published part in the along KAJ947."""
    with writing(engine) as session:
        return make_along(session)[1]


@pytest.fixture
def ida(client: TestClient, part_id: int) -> TestClient:
    """Ida's phone, at the beginning of glove one over 28 chains."""
    go_on(client, send(client, look(client, "/join/KAJ947"), "Join", nickname="Ida"))
    go_on(client, send(client, look(client, f"/notebook/{part_id}/numbers"), "Take", size="medium"))
    return client


def at_work(ida: TestClient, part_id: int, rounds: int = 0) -> Element:
    """Glove one's page with so many rounds logged."""
    page = look(ida, f"/notebook/{part_id}/piece/1")
    for _ in range(rounds):
        page = go_on(ida, send(ida, page, "Log"))
    return page


def headline(page: Element) -> str:
    return page.one("h1").text


def tick(ida: TestClient, page: Element, *spots: str) -> Element:
    """Send the long list with these rounds ticked."""
    form = page.one(id="several")
    answer = ida.post(form.attributes["action"], data={**fields_of(form), "spot": list(spots)})
    return go_on(ida, answer)


def test_three_rounds_at_once_are_one_entry(ida: TestClient, part_id: int) -> None:
    page = at_work(ida, part_id, 1)
    offered = [one.text for one in page.one(id="several").all("span", css="switch-name")]
    assert offered[:3] == ["Cuff, Rnd 1", "Cuff, Rnd 2", "Cuff, Rnd 3"]
    page = tick(ida, page, "0.1.1", "0.2.1", "0.3.1")
    assert headline(page) == "Rnd 4"
    page = go_on(ida, send(ida, page, "Undo: rounds counted in"))
    assert headline(page) == "Rnd 1"


def test_the_list_goes_as_far_as_she_can_log_without_another_answer(ida: TestClient, part_id: int) -> None:
    """The rounds to fit are Rnds 3 to 6 at medium; the gap lies beyond her own end of them."""
    page = at_work(ida, part_id)
    offered = [one.text for one in page.one(id="several").all("span", css="switch-name")]
    assert offered == [
        "Cuff, Foundation rnd", "Cuff, Rnd 1", "Cuff, Rnd 2", "Cuff, Rnd 3", "Cuff, Rnd 4", "Cuff, Rnd 5",
        "Cuff, Rnd 6",
    ]  # fmt: skip


def test_only_the_last_ticked_matters(ida: TestClient, part_id: int) -> None:
    assert headline(tick(ida, at_work(ida, part_id), "0.1.1")) == "Rnd 2"


def test_a_list_without_a_tick_says_what_to_do(ida: TestClient, part_id: int) -> None:
    page = at_work(ida, part_id)
    form = page.one(id="several")
    answer = ida.post(form.attributes["action"], data=fields_of(form))
    assert answer.status_code == 422
    assert "Tick the rounds that you have made, up to the last one." in shown(answer.text).text


def test_a_list_that_another_device_overtook_logs_nothing(ida: TestClient, part_id: int) -> None:
    old = at_work(ida, part_id)
    at_work(ida, part_id, 2)
    form = old.one(id="several")
    answer = ida.post(
        form.attributes["action"], data={**fields_of(form), "spot": ["0.0.1", "0.1.1", "0.2.1"]}
    )
    assert answer.status_code == 409
    assert headline(shown(answer.text)) == "Rnd 2"


def test_the_list_sent_twice_is_logged_once(ida: TestClient, part_id: int) -> None:
    form = at_work(ida, part_id).one(id="several")
    for _ in range(2):
        data = {**fields_of(form), "spot": ["0.0.1", "0.1.1"]}
        assert ida.post(form.attributes["action"], data=data).status_code == 303
    assert headline(at_work(ida, part_id)) == "Rnd 2"


def test_an_undo_can_be_undone(ida: TestClient, part_id: int) -> None:
    page = at_work(ida, part_id, 3)
    page = go_on(ida, send(ida, page, "Undo"))
    assert headline(page) == "Rnd 2"
    assert "Taken back: Cuff, Rnd 2 logged." in page.text
    page = go_on(ida, send(ida, page, "Put it back"))
    assert headline(page) == "Rnd 3"
    assert "Taken back" not in page.text


def test_the_place_within_a_round(ida: TestClient, part_id: int) -> None:
    page = at_work(ida, part_id, 1)
    form = form_with(page, "Keep the place")
    offered = [one.text for one in form.all("option")]
    assert offered[1] == "after step 2 of 4: Sc in same ch"
    page = go_on(ida, send(ida, page, "Keep the place", at="1//after step 2 of 4"))
    assert page.one("p", css="work-mid").text == "You stopped here after step 2 of 4"
    ticked = ["checked" in one.attributes for one in page.one("ol", css="steps").all("input")]
    assert ticked == [True, True, False, False]
    page = go_on(ida, send(ida, page, "Keep the place", text="at the marker"))
    assert page.one("p", css="work-mid").text == "You stopped here at the marker"
    page = go_on(ida, send(ida, page, "Log"))
    assert page.all("p", css="work-mid") == []


def test_a_measure_in_her_units(ida: TestClient, part_id: int) -> None:
    page = at_work(ida, part_id, 2)
    answer = send(ida, page, "Write the measure down", measure="wide")
    assert answer.status_code == 422
    assert shown(answer.text).says_at("measure") == "Write what you measured in digits, such as 9.5."
    page = go_on(ida, send(ida, page, "Write the measure down", measure="9,5"))
    assert "measured at Cuff, Rnd 1" in page.one("p", css="work-saved").text
    page = go_on(ida, send(ida, page, "Write the weight down", grams="12"))
    assert "weighed at Cuff, Rnd 1" in page.one("p", css="work-saved").text


def test_how_long_a_round_takes_is_said_once_it_is_known(ida: TestClient, part_id: int) -> None:
    page = at_work(ida, part_id, 2)
    assert "A round takes" not in page.one(id="work-pace").text
    page = at_work(ida, part_id, 1)
    # Sent within seconds: both times come to a minute, which is said once.
    assert page.one(id="work-pace").text.endswith("to go. About 1 min of work to go.")


def test_the_time_of_a_round_and_of_all_that_is_left(
    engine: Engine, client: TestClient, part_id: int
) -> None:
    """Five minutes a round; at the last one both are the same, and said once."""
    with writing(engine) as session:
        maker = Maker(session, part_id)
        maker.settle(28, "medium")
        maker.work(1, 5)
        to_go = notebooks.working(maker.desk, 1).to_go
    client.cookies.set("evenhand_notebooks", maker.secret)
    minutes = 5 * to_go
    hours = f"{minutes // 60} h {minutes % 60} min" if minutes % 60 else f"{minutes // 60} h"
    said = look(client, f"/notebook/{part_id}/piece/1").one(id="work-pace").text
    left = hours if minutes >= 60 else f"{minutes} min"
    assert said.endswith(f"to go. A round takes you about 5 min: about {left} of work to go.")
    with writing(engine) as session:
        maker = Maker.at(session, part_id, maker.notebook_id)
        maker.make_to_last(1, 4, 2)
    said = look(client, f"/notebook/{part_id}/piece/1").one(id="work-pace").text
    assert said.endswith("about 1 to go. A round takes you about 5 min.")


def test_settings_stay_on_the_device(ida: TestClient, part_id: int) -> None:
    page = at_work(ida, part_id)
    page = go_on(ida, send(ida, page, "Keep these settings", large="on", left="on", rest_minutes="20"))
    assert page.one("body").attributes["class"] == "at-work at-work--large at-work--left"
    tools = [one.text for one in page.one(id="work-tools").all("button")]
    assert tools == ["Place", "Count", "Note", "Take out"]
    form = page.one(id="settings")
    on = [one.attributes["name"] for one in form.all("input", type="checkbox") if "checked" in one.attributes]
    assert on == ["large", "left", "awake", "keys", "rest"]
    assert form.value("rest_minutes") == "20"


def test_the_reminder_is_off_for_good(ida: TestClient, part_id: int) -> None:
    page = at_work(ida, part_id)
    assert "Rest your hands" in page.one(id="work-after").text
    form = page.one(id="settings")
    fields = {name: value for name, value in fields_of(form).items() if name != "rest"}
    page = go_on(ida, ida.post(form.attributes["action"], data=fields))
    assert "Rest your hands" not in page.one(id="work-after").text


@pytest.mark.parametrize("typed", ["", "soon", "0", "4", "181", "٣٠"])
def test_minutes_that_are_none(ida: TestClient, part_id: int, typed: str) -> None:
    answer = send(ida, at_work(ida, part_id), "Keep these settings", rest_minutes=typed, left="on")
    page = shown(answer.text)
    assert answer.status_code == 422
    assert page.says_at("rest_minutes") == "Write the minutes in digits, from 5 to 180."
    assert page.value("rest_minutes") == typed
    assert "checked" in page.one("input", name="left").attributes


@pytest.mark.parametrize("kept", ["", "large", "rest999.large", "rest30.unheard.left", "\\x00", "rest3٠"])
def test_a_settings_cookie_that_cannot_be_read_is_no_harm(ida: TestClient, part_id: int, kept: str) -> None:
    ida.cookies.set("evenhand_work", kept.encode("ascii", "replace").decode())
    assert headline(at_work(ida, part_id)) == "Foundation rnd"


def test_rounds_to_fit_are_called_so_where_the_section_has_more(
    engine: Engine, client: TestClient, part_id: int
) -> None:
    """The cuff has two rounds before those to fit: five are worked, three of them to fit."""
    with writing(engine) as session:
        maker = Maker(session, part_id)
        maker.settle(28, "medium")
        maker.make(1, 3, 2)
        maker.work(2, 6)
    client.cookies.set("evenhand_notebooks", maker.secret)
    page = look(client, f"/notebook/{part_id}/piece/2")
    assert page.one("h1").text == "3 rounds to fit, as in glove one"
    assert "5 rounds of Cuff worked" in page.text
