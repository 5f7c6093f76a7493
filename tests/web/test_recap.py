"""The recap of an evening: the host's with chapters, a maker's in her own numbers."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from sqlalchemy import Engine
from sqlmodel import Session, select
from starlette.testclient import TestClient

from server.storage.sessions import writing
from server.storage.tables import Along, Evening, Host, PatternVersion, RoomEvent, RoomHidden
from tests.services.recap.test_chapters import read_webvtt
from tests.services.story import Maker, make_along
from tests.web.conftest import SignedIn
from tests.web.sending import look
from tests.web.shown import Element

OPENED = datetime(2026, 11, 5, 18, 30, tzinfo=UTC)


@dataclass
class Told:
    """An evening that was, and who was there."""

    evening_id: int
    part_id: int
    host: TestClient
    ida: Maker
    questions: list[int]


class Room:
    """Writes down what there was in a room, so many seconds after it was opened."""

    def __init__(self, session: Session, evening_id: int, part_id: int) -> None:
        self.session, self.evening_id, self.part_id = session, evening_id, part_id
        self.version_id = session.exec(
            select(PatternVersion.id).where(PatternVersion.part_id == part_id)
        ).one()

    def tell(self, after_s: int, kind: str, address: str = "", **more: Any) -> int:
        place: dict[str, Any] = {}
        if address:
            section, line, turn = map(int, address.split("."))
            place = {
                "part_id": self.part_id, "version_id": self.version_id,
                "section": section, "round": line, "turn": turn,
            }  # fmt: skip
        event = RoomEvent(
            evening_id=self.evening_id, kind=kind, at=OPENED + timedelta(seconds=after_s), **{**place, **more}
        )
        self.session.add(event)
        self.session.flush()
        assert event.id is not None
        return event.id


@pytest.fixture
def told(signed_in: SignedIn, engine: Engine, client: TestClient) -> Told:
    """Slipway Wristers: foundation at once, rounds 1 and 2 of the cuff, back to 1, and what was said."""
    host = signed_in("marit")
    with writing(engine) as session:
        along_id, part_id = make_along(session)
        row = session.get_one(Along, along_id)
        row.host_id = session.exec(select(Host.id).where(Host.sign_in_name == "marit")).one() or 0
        evening = Evening(
            along_id=along_id, part_id=part_id, title="The cuff", note="Have the ring joined.",
            local_start="2026-11-05T19:30", zone="Europe/Oslo", minutes=120, uid="one", changed_by="Marit",
        )  # fmt: skip
        later = Evening(
            along_id=along_id, title="The thumb", note="Scissors & a needle.", local_start="2036-11-12T19:30",
            zone="Europe/Oslo", minutes=120, uid="two", changed_by="Marit",
        )  # fmt: skip
        session.add_all((evening, later))
        session.flush()
        ida = Maker(session, part_id)
        ida.settle(36)
        ida.work(1, 2)
        room = Room(session, evening.id or 0, part_id)
        room.tell(0, "opened")
        room.tell(0, "step", "0.0.1")
        room.tell(5, "announce", "0.0.1", words="Count them <twice>.", said_by="Marit")
        room.tell(300, "step", "0.1.1", step=0)
        room.tell(320, "step", "0.1.1", step=1)
        hand = room.tell(330, "hand", "0.1.1", words="In which chain?", notebook_id=ida.notebook_id)
        room.tell(900, "step", "0.2.1")
        room.tell(910, "answer", "0.1.1", words="In the same.", said_by="Marit", about_id=hand)
        mine = room.tell(920, "hand", "0.2.1", words="Mine is tight", notebook_id=ida.notebook_id)
        room.tell(
            930, "answer", "0.2.1", words="A larger hook.", said_by="Marit", about_id=mine,
            notebook_id=ida.notebook_id,
        )  # fmt: skip
        room.tell(950, "timer", "0.2.1", seconds=300, words="for this round")
        room.tell(1800, "closed")
    client.get(f"/n/{ida.secret}")
    return Told(evening.id or 0, part_id, host, ida, [hand, mine])


def blocks(page: Element) -> list[str]:
    return [each.text for each in page.all("li", css="recap-round")]


def test_the_hosts_recap_has_chapters_to_copy(told: Told) -> None:
    page = look(told.host, f"/host/evenings/{told.evening_id}/recap?at=2:00")
    assert page.one("textarea", id="chapters").exact.strip() == (
        "00:00 Welcome\n02:00 Cuff, Foundation rnd\n07:00 Cuff, Rnd 1\n17:00 Cuff, Rnd 2"
    )
    (text,) = (a.attributes["href"] for a in page.all("a") if "chapters.txt" in a.attributes["href"])
    assert told.host.get(text).text.splitlines()[1] == "02:00 Cuff, Foundation rnd"


def test_the_track_of_chapters_reads_back(told: Told) -> None:
    answer = told.host.get(f"/host/evenings/{told.evening_id}/chapters.vtt?at=-5:00&detail=steps")
    assert answer.headers["content-type"] == "text/vtt; charset=utf-8"
    cues = read_webvtt(answer.text)
    assert [(start, end) for start, end, _ in cues] == [(0, 20), (20, 600), (600, 1500)]
    assert [title for *_, title in cues] == [
        "Cuff, Rnd 1: Ch 1", "Cuff, Rnd 1: Sc in same ch", "Cuff, Rnd 2",
    ]  # fmt: skip


def test_a_time_that_is_none_is_said_at_its_field(told: Told) -> None:
    page = look(told.host, f"/host/evenings/{told.evening_id}/recap?at=soon", 422)
    assert page.says_at("at").startswith("Write it as minutes and seconds, such as 4:30")
    assert page.value("at") == "soon"
    assert told.host.get(f"/host/evenings/{told.evening_id}/chapters.vtt?at=soon").status_code in (400, 422)
    assert told.host.get(f"/host/evenings/{told.evening_id}/chapters.txt?at=-9:00:00").status_code == 404


def test_what_was_said_stands_at_its_round(told: Told) -> None:
    """The answer came while round 2 was shown: it stands at round 1, where it was asked. Hers alone is not
    here."""
    rounds = blocks(look(told.host, f"/host/evenings/{told.evening_id}/recap"))
    assert len(rounds) == 3
    assert "Count them <twice>." in rounds[0]
    assert "Asked: “In which chain?”" in rounds[1]
    assert "In the same." in rounds[1]
    assert "5 minutes for this round" in rounds[2]
    assert "larger hook" not in " ".join(rounds)


def test_words_for_those_who_missed_it(told: Told) -> None:
    page = look(told.host, f"/host/evenings/{told.evening_id}/recap")
    assert page.one("textarea", id="missed").exact.strip() == (
        "The cuff, Thursday 5 November 2026\n\nWe made: Cuff, Foundation rnd to Cuff, Rnd 2.\n\n"
        "Said:\n- Cuff, Foundation rnd: Count them <twice>.\n\n"
        "Asked:\n- Cuff, Rnd 1: In which chain? – In the same.\n\n"
        "Next: The thumb, Wednesday 12 November 2036, 19:30 to 21:30 (Oslo time, UTC+1).\n"
        "Scissors & a needle."
    )


def test_a_makers_recap_is_in_her_numbers(client: TestClient, told: Told) -> None:
    """36 chains are 9 Perches; she has logged the foundation and round 1, so that one is left."""
    page = look(client, f"/notebook/evening/{told.evening_id}/recap")
    rounds = blocks(page)
    assert "[36 ch]" in rounds[0]
    assert "[36 sc]" in rounds[1]
    assert "You asked: “Mine is tight”" in rounds[2]
    assert "A larger hook." in rounds[2]
    assert "that is 1 round that you have not logged in the first piece, from Cuff, Rnd 2 on" in page.text
    assert "Next: The thumb" in page.text
    assert "Scissors & a needle." in page.text


def test_a_maker_without_numbers_has_all_sizes(client: TestClient, told: Told, engine: Engine) -> None:
    with writing(engine) as session:
        noor = Maker(session, told.part_id, "Noor")
    client.cookies.clear()
    client.get(f"/n/{noor.secret}")
    page = look(client, f"/notebook/evening/{told.evening_id}/recap")
    assert "[24 (28, 32) ch]" in blocks(page)[0]
    assert "Find your number first" in page.text
    assert "larger hook" not in page.text


def test_what_is_hidden_is_hidden_there_too(client: TestClient, told: Told, engine: Engine) -> None:
    with writing(engine) as session:
        session.add(RoomHidden(event_id=told.questions[0], hidden_by="Marit"))
    for page in (
        look(told.host, f"/host/evenings/{told.evening_id}/recap"),
        look(client, f"/notebook/evening/{told.evening_id}/recap"),
    ):
        assert "In which chain?" not in page.text
        assert "In the same." in page.text


def test_before_the_room_was_opened_it_says_so(told: Told, client: TestClient) -> None:
    later = told.evening_id + 1
    assert "was not opened" in look(told.host, f"/host/evenings/{later}/recap").text
    assert "nothing to tell again" in look(client, f"/notebook/evening/{later}/recap").text
    assert told.host.get(f"/host/evenings/{later}/chapters.vtt").status_code == 404


def test_nobody_else_has_it(signed_in: SignedIn, told: Told, engine: Engine, client: TestClient) -> None:
    other = signed_in("jorid")
    for page in ("recap", "chapters.txt", "chapters.vtt"):
        assert other.get(f"/host/evenings/{told.evening_id}/{page}").status_code == 404
    with writing(engine) as session:
        _, part_id = make_along(session, code="ELSE77")
        eve = Maker(session, part_id, "Eve", code="ELSE77")
    client.cookies.clear()
    assert client.get(f"/notebook/evening/{told.evening_id}/recap").status_code == 404
    client.get(f"/n/{eve.secret}")
    assert client.get(f"/notebook/evening/{told.evening_id}/recap").status_code == 404


def test_the_shelf_leads_to_evenings_that_were(client: TestClient, told: Told, engine: Engine) -> None:
    """Once the room is closed; while it is open again, the evening itself is there."""
    here = f"/notebook/evening/{told.evening_id}/recap"
    (way,) = (a for a in look(client, "/notebook").all("a") if a.attributes.get("href") == here)
    assert way.text == "The cuff: recap Thursday 5 November 2026"
    assert here in [a.attributes.get("href") for a in look(client, here.removesuffix("/recap")).all("a")]
    with writing(engine) as session:
        session.add(RoomEvent(evening_id=told.evening_id, kind="opened"))
    assert here not in [a.attributes.get("href") for a in look(client, "/notebook").all("a")]


def test_the_shelf_leads_to_the_along_s_page_where_it_is_shown(client: TestClient, told: Told) -> None:
    def ways() -> list[str]:
        found = [a.attributes.get("href", "") for a in look(client, "/notebook").all("a")]
        return [href for href in found if href.startswith("/along/")]

    assert ways() == []
    evening = look(told.host, f"/host/evenings/{told.evening_id}")
    along = next(h for a in evening.all("a") if (h := a.attributes.get("href", "")).endswith("/evenings"))
    address = along.removesuffix("/evenings")
    assert told.host.post(f"{address}/page", data={"is_shown": "on", "skill": "-"}).status_code == 303
    (way,) = ways()
    assert client.get(way).status_code == 200
