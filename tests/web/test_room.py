"""The pages of a room as they are read and sent without scripts: the desk, a maker's evening, the screen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from fastapi import FastAPI
from sqlalchemy import Engine
from sqlmodel import select
from starlette.testclient import TestClient

from server.services import accounts, demo
from server.storage.sessions import writing
from server.storage.tables import Host
from server.web.maker.device import NOTEBOOKS
from server.web.moments import now
from server.web.signing import COOKIE
from tests.web.conftest import SignedIn
from tests.web.sending import form_with, go_on, look, send
from tests.web.shown import Element, shown

EVENING = 2  # of the demo: the next one
DESK = f"/host/evenings/{EVENING}/room"
PAGE = f"/notebook/evening/{EVENING}"


@dataclass(frozen=True)
class People:
    """The demo's host, and its makers by nickname, each in a browser of her own."""

    host: TestClient
    makers: dict[str, TestClient]

    def desk(self) -> Element:
        return look(self.host, DESK)

    def press(self, button: str, **typed: str) -> Element:
        return go_on(self.host, send(self.host, self.desk(), button, **typed))

    def page(self, nickname: str) -> Element:
        return look(self.makers[nickname], PAGE)


def a_browser(app: FastAPI, cookies: dict[str, str]) -> TestClient:
    return TestClient(
        app, base_url="http://evenhand.test", follow_redirects=False, cookies=cookies,
        headers={"Origin": "http://evenhand.test", "Accept": "text/html"},
    )  # fmt: skip


@pytest.fixture
def people(app: FastAPI, engine: Engine) -> Iterator[People]:
    with writing(engine) as session:
        loaded = demo.load(session, now())
        host_id = session.exec(select(Host.id).where(Host.sign_in_name == demo.SIGN_IN_NAME)).one()
        token = accounts.sign_in(session, host_id or 0, now())
    host = a_browser(app, {COOKIE: token})
    makers = {each.nickname: a_browser(app, {NOTEBOOKS: each.secret}) for each in loaded.makers}
    yield People(host, makers)
    for browser in (host, *makers.values()):
        browser.close()


def step(page: Element) -> str:
    return page.one(id="step").text


def test_the_desk_opens_goes_on_and_closes(people: People) -> None:
    assert "Open the room, and everybody" in people.desk().text
    desk = people.press("Open the room")
    assert desk.one("h1").text == "Foundation rnd"
    assert "27 (30, 33) ch" in desk.one(id="desk-step").text
    desk = people.press("Next")
    assert [li.text for li in desk.all("li", aria_current="step")] == ["Ch 27 (30, 33)"]
    desk = people.press("Next round")
    assert desk.one("h1").text == "Rnd 1"
    desk = people.press("Go there", round="1:5.1.2")
    assert (desk.one("h1").text, "Thumb" in desk.text) == ("Rnd 3", True)
    assert "The room is closed" in people.press("Close the room").text


def test_a_press_from_a_page_that_is_out_of_date_moves_nothing(people: People) -> None:
    old = people.press("Open the room")
    people.press("Next round")
    go_on(people.host, send(people.host, old, "Next"))
    assert people.desk().one("h1").text == "Rnd 1"


def test_each_maker_reads_the_step_in_her_own_numbers(people: People) -> None:
    people.press("Open the room")
    people.press("Go there", round="1:0.2.1")
    people.press("Next")
    people.press("Next")
    people.press("Next")
    noor, mina, tilly = (people.page(name) for name in ("Noor", "Mina", "Tilly"))
    assert "11 times: sk 2 sts" in noor.one("li", aria_current="step").text  # 36 chains: 12 V-sts
    assert "8 times: sk 2 sts" in mina.one("li", aria_current="step").text  # small: 9
    assert "8 (9, 10) times" in tilly.one("li", aria_current="step").text
    assert "Choose yours" in tilly.text
    assert "4 rounds ahead of your host" in noor.text
    assert "Glove one: Cuff, Rnd 6" in noor.text


def test_the_shelf_leads_to_the_evening(people: People) -> None:
    noor = people.makers["Noor"]
    assert look(noor, "/notebook").one(id="evening-heading").text in ("The next evening", "Your evening")
    people.press("Open the room")
    shelf = look(noor, "/notebook")
    assert shelf.one(id="evening-heading").text == "The room is open"
    assert [a for a in shelf.all("a") if a.attributes["href"] == PAGE]


def test_before_it_opens_the_page_says_when_and_what_to_have_ready(people: People) -> None:
    page = people.page("Noor")
    assert "The room is not open yet" in page.text
    assert "Have the cuff done" in page.text


def test_a_hand_goes_up_is_answered_for_all_and_comes_down(people: People) -> None:
    people.press("Open the room")
    noor = people.makers["Noor"]
    page = go_on(noor, send(noor, people.page("Noor"), "Put your hand up", words="Which loop?"))
    assert "Your hand is up" in page.text
    desk = people.desk()
    hand = desk.one(id="hands").one("li")
    assert ("Noor" in hand.text, "Cuff, Rnd 6" in hand.text, "“Which loop?”" in hand.text) == (
        True,
        True,
        True,
    )
    answered = go_on(people.host, send(people.host, desk, "Answer all", words="Both loops."))
    assert "No hands up" in answered.text
    page = people.page("Noor")
    assert "Ask your host" in page.text
    assert "Both loops." in page.one(id="since").text
    assert "“Which loop?” Solveig Brandt: Both loops." in people.page("Mina").one(id="tonight-list").text


def test_an_answer_to_her_alone_is_on_no_other_page(people: People) -> None:
    people.press("Open the room")
    noor = people.makers["Noor"]
    send(noor, people.page("Noor"), "Put your hand up", words="Am I too loose?")
    desk = people.desk()
    go_on(people.host, send(people.host, desk, "Only Noor", words="A little."))
    assert "A little." in people.page("Noor").text
    for nickname in ("Mina", "Tilly"):
        assert "A little." not in people.page(nickname).text
        assert "too loose" not in people.page(nickname).text


def test_what_is_too_long_stays_in_its_field(people: People) -> None:
    people.press("Open the room")
    noor = people.makers["Noor"]
    answer = send(noor, people.page("Noor"), "Put your hand up", words="x" * 200)
    page = shown(answer.text)
    assert answer.status_code == 422
    assert page.value("words") == "x" * 200
    assert "200 characters; 140" in page.says_at("words")
    desk = shown(send(people.host, people.desk(), "Say it", words="y" * 300).text)
    assert desk.value_of("say") == "y" * 300
    assert "300 characters; 280" in desk.one(id="say-error").text
    desk = shown(send(people.host, people.desk(), "Start", minutes="99").text)
    assert "from 1 to 60" in desk.one(id="minutes-error").text
    assert desk.value("minutes") == "99"


def test_who_is_here_and_done_is_counted(people: People) -> None:
    people.press("Open the room")
    assert "0 here" in people.desk().text
    mina = people.makers["Mina"]
    go_on(mina, send(mina, people.page("Mina"), "Done with this"))
    people.page("Noor")
    desk = people.desk()
    assert desk.one(id="heads-heading").text == "2 here"
    numbers = [(dd.text, dt.text) for dd, dt in zip(desk.all("dd"), desk.all("dt"), strict=True)]
    assert ("1", "done with this") in numbers
    assert "On 36: 36 ch" in desk.one(id="desk-heads").text
    assert "Not yet after all" in people.page("Mina").text


def test_following_is_a_choice_that_is_kept(people: People) -> None:
    people.press("Open the room")
    noor = people.makers["Noor"]
    page = go_on(noor, send(noor, people.page("Noor"), "Go at your own pace"))
    assert page.all(css="room--own")
    assert "Follow your host’s steps" in people.page("Noor").text


def test_one_look_shows_what_was_done_since(people: People) -> None:
    people.press("Open the room")
    assert not people.page("Noor").one(id="since").all("li")
    people.press("Next round")
    people.press("Next round")
    people.press("Say it", words="Tea at nine.")
    since = people.page("Noor").one(id="since")
    assert [li.text for li in since.all("li")] == [
        "just now Cuff, Rnd 1: 36 sc",
        "just now Cuff, Rnd 2: 12 V-sts",
        "just now Solveig Brandt: Tea at nine.",
    ]
    assert not people.page("Noor").one(id="since").all("li")


def test_the_screen_has_all_sizes_the_rule_and_the_way_in(people: People) -> None:
    people.press("Open the room")
    people.press("Go there", round="1:0.2.1")
    address = people.desk().value_of("screen-link").removeprefix("http://evenhand.test")
    screen = look(people.host, address)
    assert "Cuff" in screen.one("h1").text
    assert "9 (10, 11) V-sts" in screen.text
    assert "N, any multiple of 3 N/3 V-sts" in screen.text
    code = screen.one(css="screen-join").one("strong")
    assert screen.one("svg", css="qr").one("title").exact.endswith(f"/join/{code.text}")
    assert not screen.all("nav")
    assert look(people.host, f"{address}?background=none").all("body", css="screen--clear")
    people.press("Close the room")
    assert "Thank you" in look(people.host, address).text


def test_no_key_no_screen(people: People, client: TestClient) -> None:
    people.press("Open the room")
    address = people.desk().value_of("screen-link").removeprefix("http://evenhand.test")
    assert client.get(address).status_code == 200
    wrong = address[:-1] + ("2" if address[-1] != "2" else "3")
    assert client.get(wrong).status_code == client.get("/screen/99/" + "2" * 16).status_code == 404


def test_another_host_and_another_maker_find_nothing(
    people: People, signed_in: SignedIn, client: TestClient
) -> None:
    people.press("Open the room")
    oda = signed_in("oda")
    assert oda.get(DESK).status_code == oda.post(f"{DESK}/move", data={"how": "on"}).status_code == 404
    assert client.get(PAGE).status_code == client.post(f"{PAGE}/hand", data={"words": "x"}).status_code == 404
    assert people.makers["Noor"].get("/notebook/evening/99").status_code == 404


def test_a_cancelled_evening_does_not_open(people: People) -> None:
    people.host.post(f"/host/evenings/{EVENING}/cancel")
    answer = send(people.host, people.desk(), "Open the room")
    assert answer.status_code == 422
    assert "This evening is cancelled" in shown(answer.text).text
    assert "This evening is cancelled" in people.page("Noor").text


def test_hidden_words_stay_on_the_desk_alone(people: People) -> None:
    people.press("Open the room")
    noor = people.makers["Noor"]
    send(noor, people.page("Noor"), "Put your hand up", words="Something unkind")
    desk = people.press("Hide the words")
    assert "hidden from the others" in desk.text
    go_on(people.host, send(people.host, desk, "Answer all", words="Let us be kind."))
    page = people.page("Mina").text
    assert "Let us be kind." in page
    assert "unkind" not in page


def test_a_round_that_is_none_is_said_at_its_field(people: People) -> None:
    desk = people.press("Open the room")
    form = form_with(desk, "Go there")
    answer = people.host.post(form.attributes["action"], data={"round": "1:9.9.9"})
    assert answer.status_code == 422
    assert "not in this pattern" in shown(answer.text).says_at("round")


def test_a_hand_says_its_round_where_she_fits_more_than_any_size_has(people: People) -> None:
    people.press("Open the room")
    aurel = people.makers["Aurel"]
    assert "Glove two: Cuff, Rnd 9" in people.page("Aurel").text  # the sizes have 7 or 8 rounds of cuff
    send(aurel, people.page("Aurel"), "Put your hand up", words="One more?")
    assert "Cuff, Rnd 9" in people.desk().one(id="hands").one("li").text
    people.press("Answer all", words="As many as you need.")
    assert "Cuff, Rnd 9" in people.page("Mina").one(id="tonight-list").text


def test_an_answer_that_comes_too_late_is_said_and_kept(people: People) -> None:
    people.press("Open the room")
    noor = people.makers["Noor"]
    send(noor, people.page("Noor"), "Put your hand up", words="Which loop?")
    old = people.desk()
    people.press("Answer all", words="Both.")
    answer = send(people.host, old, "Answer all", words="The back one.")
    assert answer.status_code == 422
    assert "That hand is down already. You wrote: “The back one.”" in shown(answer.text).text


def test_what_was_said_can_be_taken_off_the_screens(people: People) -> None:
    people.press("Open the room")
    assert not people.desk().one(id="say-nothing").all("button")
    people.press("Say it", words="A stretch for the hands.")
    people.press("Take it off the screens")
    assert "A stretch" not in people.desk().one(id="desk-said").text


def test_a_maker_reads_that_her_name_is_hidden(people: People) -> None:
    people.press("Open the room")
    assert "with your nickname" in people.page("Noor").one(id="hand").text
    words = look(people.host, "/host/alongs/1/words")
    name = next(each for each in words.one(id="names").all("li") if "Noor" in each.text)
    go_on(people.host, send(people.host, name, "Hide"))
    assert "Your host has hidden your nickname" in people.page("Noor").one(id="hand").text
    assert "with your nickname" in people.page("Mina").one(id="hand").text


def test_a_room_that_was_closed_before_its_hour_has_its_recap_in_the_list(people: People) -> None:
    def recaps() -> list[str]:
        links = [a.attributes["href"] for a in look(people.host, "/host/alongs/1/evenings").all("a")]
        return [href for href in links if href.endswith("/recap")]

    people.press("Open the room")
    assert recaps() == ["/host/evenings/1/recap"]
    people.press("Close the room")
    assert recaps() == ["/host/evenings/1/recap", f"/host/evenings/{EVENING}/recap"]
