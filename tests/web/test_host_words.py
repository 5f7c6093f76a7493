"""Names and words that a host hides, where they were shown, and shows again."""

from __future__ import annotations

from sqlalchemy import Engine
from sqlmodel import select
from starlette.testclient import TestClient

from server.services import room
from server.storage.sessions import reading, writing
from server.storage.tables import Notebook
from tests.web.conftest import SignedIn
from tests.web.sending import look, send
from tests.web.test_recap import Told, told

__all__ = ["told"]  # the fixture: an evening that was, with two hands of Ida's


def page_of(told: Told) -> str:
    return f"{along_of(told)}/words"


def along_of(told: Told) -> str:
    """The address of the evening's along."""
    page = look(told.host, f"/host/evenings/{told.evening_id}")
    return next(
        href.removesuffix("/evenings")
        for a in page.all("a")
        if (href := a.attributes.get("href", "")).endswith("/evenings")
    )


def test_the_along_leads_to_them(told: Told) -> None:
    page = look(told.host, along_of(told))
    assert page_of(told) in [a.attributes.get("href") for a in page.all("a")]


def test_words_are_hidden_from_makers_and_shown_again(client: TestClient, told: Told) -> None:
    where = page_of(told)
    recap = f"/notebook/evening/{told.evening_id}/recap"
    assert "In which chain?" in look(client, recap).text
    answer = send(told.host, look(told.host, where), "Hide: In which chain?")
    assert answer.status_code == 303
    page = look(told.host, where)
    assert "“In which chain?” hidden by Marit" in page.text
    assert "In which chain?" not in look(client, recap).text
    send(told.host, page, "Show again: In which chain?")
    assert "In which chain?" in look(client, recap).text


def test_a_hidden_name_is_in_no_list(told: Told, engine: Engine) -> None:
    where, along = page_of(told), along_of(told)
    send(told.host, look(told.host, where), "Hide: Ida")
    assert "Ida hidden by Marit" in look(told.host, where).text
    for page in (along, f"{along}/roster"):
        text = look(told.host, page).text
        assert "Ida" not in text
        assert "a maker" in text
    with writing(engine) as session:
        room.open_room(session, 1, told.evening_id, told.ida.now)
        room.raise_hand(session, told.ida.notebook_id, told.evening_id, "Again", None, told.ida.now)
    with reading(engine) as session:
        (hand,) = (each for each in room.hands_up(session, told.evening_id)[1] if each.words == "Again")
        assert hand.nickname == "a maker"
    send(told.host, look(told.host, where), "Show again: Ida")
    assert "Ida" in look(told.host, along).text


def test_what_is_hidden_stays_with_its_maker(client: TestClient, told: Told, engine: Engine) -> None:
    """Her notebook keeps its name, and goes with what was hidden when she leaves."""
    send(told.host, look(told.host, page_of(told)), "Hide: Ida")
    assert "Ida’s notebook" in look(client, "/notebook").text
    answer = client.post("/notebook/erase", data={"notebook": str(told.ida.notebook_id), "nickname": "Ida"})
    assert answer.status_code == 303
    with reading(engine) as session:
        assert session.exec(select(Notebook)).all() == []
    page = look(told.host, page_of(told))
    assert "Ida" not in page.text
    assert "In which chain?" not in page.text


def test_another_host_hides_nothing(signed_in: SignedIn, told: Told) -> None:
    other, where = signed_in("jorid"), page_of(told)
    assert other.get(where).status_code == 404
    for to, number in ((where, told.questions[0]), (f"{where}/names", told.ida.notebook_id)):
        assert other.post(to, data={"id": str(number), "hidden": "yes"}).status_code == 404
    along = other.post("/host/alongs", data={"title": "Mine"}).headers["location"]
    for to, number in (("words", told.questions[0]), ("words/names", told.ida.notebook_id)):
        assert other.post(f"{along}/{to}", data={"id": str(number), "hidden": "yes"}).status_code == 404
    assert "hidden by" not in look(told.host, where).text


def test_leaving_is_found_from_the_shelf(client: TestClient, told: Told) -> None:
    shelf = look(client, "/notebook")
    (way,) = (a for a in shelf.all("a") if a.text.startswith("Leave: take it along, or erase it"))
    keep = look(client, way.attributes["href"])
    ways = [a.attributes.get("href") for a in keep.all("a")]
    assert "/notebook/export.json" in ways
    assert "/notebook/erase" in ways


def test_nothing_personal_is_asked_to_join(client: TestClient, told: Told) -> None:
    """A nickname and nothing else: no field for an e-mail, a name, an age or a picture."""
    client.cookies.clear()
    page = look(client, "/join/KAJ947")
    fields = {
        one.attributes["name"]
        for one in page.inside
        if one.tag in ("input", "textarea", "select") and one.attributes.get("type") != "hidden"
    }
    assert fields == {"nickname"}
    assert "no e-mail, no age" in page.text


def test_what_a_host_said_is_hidden_from_room_and_recap(
    client: TestClient, told: Told, engine: Engine
) -> None:
    with writing(engine) as session:
        room.open_room(session, 1, told.evening_id, told.ida.now)
        room.announce(session, 1, told.evening_id, "Said in haste.", told.ida.now)
    where, evening = page_of(told), f"/notebook/evening/{told.evening_id}"
    for page in (evening, f"{evening}/recap"):
        assert "Said in haste." in look(client, page).text
    assert "Marit, " in look(told.host, where).one(id="said").text
    send(told.host, look(told.host, where), "Hide: Said in haste.")
    for page in (evening, f"{evening}/recap", f"/host/evenings/{told.evening_id}/room"):
        assert "Said in haste." not in look(client if "notebook" in page else told.host, page).text
    send(told.host, look(told.host, where), "Show again: Said in haste.")
    assert "Said in haste." in look(client, f"{evening}/recap").text


def test_an_announcement_that_is_hidden_goes_from_every_screen(told: Told, engine: Engine) -> None:
    """All who listen are told that nothing is said; one that another has followed stays as it is."""
    with writing(engine) as session:
        room.open_room(session, 1, told.evening_id, told.ida.now)
        room.announce(session, 1, told.evening_id, "Said in haste.", told.ida.now)
        before = room.present(session, told.evening_id)
    send(told.host, look(told.host, page_of(told)), "Hide: Said in haste.")
    with reading(engine) as session:
        after = room.present(session, told.evening_id)
    assert after.number > before.number
    assert b"Said in haste" in before.whole
    assert b'"say":null' in after.whole
    with writing(engine) as session:
        room.announce(session, 1, told.evening_id, "The first.", told.ida.now)
        room.announce(session, 1, told.evening_id, "The second.", told.ida.now)
    send(told.host, look(told.host, page_of(told)), "Hide: The first.")
    with reading(engine) as session:
        assert b"The second." in room.present(session, told.evening_id).whole
