"""A part made through its pages: numbers and try-on, rounds logged, glove two's departure, the pair."""

from __future__ import annotations

import json
from datetime import timedelta

import pytest
from fastapi import FastAPI
from sqlalchemy import Engine
from sqlmodel import select
from starlette.testclient import TestClient

from server.storage.sessions import reading, writing
from server.storage.tables import Entry, Notebook, ProjectPlace
from tests.services.story import CROWN, NOW, SLIPWAY, make_along, publish
from tests.web.sending import fields_of, form_with, go_on, look, send
from tests.web.shown import Element, shown


@pytest.fixture
def part_id(engine: Engine) -> int:
    """A published part in the along KAJ947."""
    with writing(engine) as session:
        return make_along(session)[1]


@pytest.fixture
def ida(client: TestClient, part_id: int) -> TestClient:
    """Ida's phone, with her notebook."""
    go_on(client, send(client, look(client, "/join/KAJ947"), "Join", nickname="Ida"))
    return client


def begin(ida: TestClient, part_id: int, size: str = "medium") -> Element:
    """Settle without trying; glove one's page."""
    go_on(ida, send(ida, look(ida, f"/notebook/{part_id}/numbers"), "Take", size=size))
    return look(ida, f"/notebook/{part_id}/piece/1")


def log_rounds(ida: TestClient, page: Element, rounds: int) -> Element:
    """Press the big button so many times."""
    for _ in range(rounds):
        page = go_on(ida, send(ida, page, "Log"))
    return page


def make(ida: TestClient, page: Element, *fits: int) -> Element:
    """Make the piece to its end by its pages, with so many rounds in each section to fit."""
    wanted, here = list(fits), 0
    while True:
        buttons = [one.text for one in page.all("button")]
        ends = [words for words in buttons if words.startswith(("Long enough", "End "))]
        last = [words for words in buttons if words.endswith("is finished")]
        here = here + 1 if ends else 0
        if ends and here == wanted[0]:
            page = go_on(ida, send(ida, page, ends[0]))
            wanted.pop(0)
            here = 0
        elif last:
            return go_on(ida, send(ida, page, last[0]))
        else:
            page = go_on(ida, send(ida, page, "Log"))


def headline(page: Element) -> str:
    return page.one("h1").text


def notices(page: Element) -> list[str]:
    return [one.text for one in page.all("p", css="notice-title")]


def test_the_round_in_full_words(ida: TestClient, part_id: int) -> None:
    """28 chains: the first one is worked into before the other 27."""
    page = log_rounds(ida, begin(ida, part_id), 1)
    short = [step.text for step in page.all("label", css="step")]
    assert short == [
        "Ch 1", "Sc in same ch", "Sc in each of the next 27 ch", "Join with sl st in first sc",
    ]  # fmt: skip
    send(ida, look(ida, "/notebook"), "Save", wording="full")
    page = look(ida, f"/notebook/{part_id}/piece/1")
    assert [step.text for step in page.all("label", css="step")] == [
        "Chain 1",
        "Single crochet in the same chain",
        "Single crochet in each of the next 27 chains, to the end of the round",
        "Join with a slip stitch in the first single crochet",
    ]
    assert page.one("p", css="work-count").text.split() == ["At", "its", "end", "28", "single", "crochets"]


def test_a_count_that_is_not_allowed_stays_in_its_field(ida: TestClient, part_id: int) -> None:
    page = look(ida, f"/notebook/{part_id}/numbers")
    for button in ("Try this ring on", "Take it without trying"):
        answer = send(ida, page, button, size="own", own="37")
        refused = shown(answer.text)
        assert answer.status_code == 422
        assert refused.value("own") == "37"
        assert refused.says_at("own") == "37 is not a multiple of 4. Nearest that work: 36 or 40."
        chosen = [one for one in refused.all("input", type="radio") if "checked" in one.attributes]
        assert [one.attributes["value"] for one in chosen] == ["own"]


def test_the_ring_is_tried_on_until_it_fits(ida: TestClient, part_id: int) -> None:
    page = shown(send(ida, look(ida, f"/notebook/{part_id}/numbers"), "Try", size="large").text)
    assert headline(page) == "Chain 32, join, and try the ring on"
    assert [one.text for one in page.all("button", css="answer-button")] == [
        "Too long 1 repeat out 28",
        "Too short 1 repeat in 36",
    ]
    page = go_on(ida, send(ida, page, "Too long"))
    assert headline(page) == "Chain 28, join, and try the ring on"
    page = go_on(ida, send(ida, page, "It fits"))
    assert headline(page) == "Your numbers"
    assert "28 chains, medium" in page.text
    assert [one.text for one in page.one("ol", css="tries").all("li")] == ["32 ch too long", "28 ch it fits"]


def test_trying_goes_on_where_it_was_left(ida: TestClient, part_id: int) -> None:
    page = shown(send(ida, look(ida, f"/notebook/{part_id}/numbers"), "Try", size="own", own="36").text)
    go_on(ida, send(ida, page, "Too long"))
    assert headline(look(ida, f"/notebook/{part_id}")) == "Chain 32, join, and try the ring on"
    page = look(ida, f"/notebook/{part_id}/numbers")
    assert "Go on trying with 32 chains" in page.text


def test_the_hook_is_written_down_with_its_us_name(ida: TestClient, part_id: int) -> None:
    go_on(ida, send(ida, look(ida, f"/notebook/{part_id}/numbers"), "Take", size="small"))
    page = look(ida, f"/notebook/{part_id}/numbers")
    answer = send(ida, page, "Write this hook down", hook_other="H")
    refused = shown(answer.text)
    assert answer.status_code == 422
    assert refused.value("hook_other") == "H"
    assert refused.says_at("hook_other") == "Write the hook in mm, such as 4.5."
    page = go_on(ida, send(ida, refused, "Write this hook down", hook_other="4,5"))
    assert "Written down: 4.5 mm (US 7)." in page.text


def test_rounds_are_logged_one_by_one_in_her_numbers(ida: TestClient, part_id: int) -> None:
    page = begin(ida, part_id)
    assert headline(page) == "Foundation rnd"
    page = log_rounds(ida, page, 3)
    assert headline(page) == "Rnd 3"
    steps = " / ".join(one.text for one in page.one("ol", css="steps").all("li"))
    assert "rep from" not in steps
    assert "6" in steps  # the first Perch begins the round; the other 6 of 7 are worked after it
    assert page.one("p", css="work-count").text == "At its end 7 Perches"


def test_a_double_tap_logs_once(ida: TestClient, part_id: int) -> None:
    page = begin(ida, part_id)
    answers = [send(ida, page, "Log") for _ in range(2)]
    assert [answer.status_code for answer in answers] == [303, 303]
    assert headline(look(ida, f"/notebook/{part_id}/piece/1")) == "Rnd 1"


def test_a_page_that_another_device_overtook(ida: TestClient, part_id: int) -> None:
    old = begin(ida, part_id)
    log_rounds(ida, look(ida, f"/notebook/{part_id}/piece/1"), 2)
    answer = send(ida, old, "Log")
    page = shown(answer.text)
    assert answer.status_code == 409
    assert notices(page) == [
        "Cuff, Foundation rnd was logged already, on another device or page. Nothing was logged twice; "
        "this is the next."
    ]
    assert headline(page) == "Rnd 2"
    assert headline(go_on(ida, send(ida, page, "Log"))) == "Rnd 3"
    again = ida.get(f"/notebook/{part_id}/entries")  # the answer's own address, loaded again
    assert again.headers["location"] == f"/notebook/{part_id}/piece/1"


def test_undo_take_out_note_hook_and_count(ida: TestClient, part_id: int) -> None:
    page = log_rounds(ida, begin(ida, part_id), 4)
    assert headline(page) == "Rnd 4"
    page = go_on(ida, send(ida, page, "Undo: Cuff, Rnd 3 logged"))
    assert headline(page) == "Rnd 3"
    page = go_on(ida, send(ida, page, "Take out", spot="0.1.1"))
    assert headline(page) == "Rnd 1"
    page = go_on(ida, send(ida, page, "Keep the note", text="tight <here>\r\nand there"))
    assert "tight <here> and there" in page.text
    page = go_on(ida, send(ida, page, "Write it down", hook="5"))
    assert "Hook: 5 mm (US H-8)" in page.text
    page = go_on(ida, send(ida, page, "Check", name="sc", count="27"))
    assert notices(page) == ["Rnd 1: You counted 27 sc; there should be 28: 1 missing."]
    page = go_on(ida, send(ida, page, "Check", name="sc", count="28"))
    assert notices(page) == []
    assert "Rnd 1: You counted 28 sc: as it should be." in page.text


def test_what_was_typed_into_a_sheet_stays(ida: TestClient, part_id: int) -> None:
    page = log_rounds(ida, begin(ida, part_id), 1)
    for button, name, typed, says in (
        ("Keep the note", "text", "a" * 1001, "1001 characters"),
        ("Write it down", "hook_other", "big", "Write the hook in mm"),
        ("Check", "count", "lots", "A count is a number from 0 to 5000."),
    ):
        answer = send(ida, page, button, **{name: typed})
        refused = shown(answer.text)
        assert answer.status_code == 422
        field = form_with(refused, button)
        assert field.value(name) == typed
        assert says in refused.text
        sheet = next(one for one in refused.all("section", css="sheet") if field in one.inside)
        assert "popover" not in sheet.attributes  # it stands open in the page
    assert headline(look(ida, f"/notebook/{part_id}/piece/1")) == "Rnd 1"


def test_the_whole_pair(ida: TestClient, engine: Engine, part_id: int) -> None:
    page = make(ida, begin(ida, part_id), 5, 3)
    assert headline(page) == "Glove one is finished"
    page = look(ida, page.one("a", css="button--do").attributes["href"])
    assert page.one("div", css="glove-one").text.startswith("Glove one here")
    page = log_rounds(ida, page, 3 + 5)
    assert headline(page) == "5 rounds to fit, as in glove one"
    assert any(one.text == "End here, as glove one" for one in page.all("button"))
    page = go_on(ida, send(ida, page, "Log Rnd 8, a departure"))
    assert notices(page) == [
        "Glove one had 5 rounds here; this is the 6th. Take it out, or note that it is meant."
    ]
    pair = look(ida, f"/notebook/{part_id}/pair")
    assert headline(pair) == "Glove two differs"
    assert notices(pair) == notices(page)
    assert [mark.text for mark in pair.all("span", css="pair-mark")] == ["1Marked 1 in the drawing"]
    assert [mark.text for mark in pair.one("g", css="marks").all("text")] == ["1"]
    assert [row.one("th").text for row in pair.all("tr", css="pair-row--differs")] == ["Cuff differs"]
    page = go_on(ida, send(ida, page, "Take out 1 round"))
    assert notices(page) == []
    assert headline(page) == "5 rounds to fit, as in glove one"
    page = go_on(ida, send(ida, page, "End here, as glove one"))
    pair = make(ida, page, 3)
    assert headline(pair) == "Twins"
    assert pair.all("tr", css="pair-row--differs") == []
    with reading(engine) as session:
        place = session.exec(select(ProjectPlace)).one()
        assert (place.section_title, place.verdict) == ("finished", "twins")
    lines = [line.text for line in look(ida, "/notebook").all("a", css="line-link")]
    assert lines[0] == "Slipway Wristers finished: twins"


def test_a_difference_that_is_meant_stays_visible(ida: TestClient, part_id: int) -> None:
    make(ida, begin(ida, part_id), 4, 2)
    page = log_rounds(ida, look(ida, f"/notebook/{part_id}/piece/2"), 3 + 4)
    page = go_on(ida, send(ida, page, "Log Rnd 7, a departure"))
    pair = go_on(ida, send(ida, look(ida, f"/notebook/{part_id}/pair"), "It is meant"))
    assert headline(pair) == "Twin so far"
    assert pair.one("p", css="meant").text == "Meant: Cuff, 4 rounds in glove one, 5 rounds in glove two"
    assert pair.all("tr", css="pair-row--differs") == []
    assert [row.one("th").text for row in pair.all("tr", css="pair-row--meant")] == ["Cuff differs, as meant"]
    assert "An empty mark: a difference that is meant." in pair.one("figcaption").text
    page = look(ida, f"/notebook/{part_id}/piece/2")
    assert notices(page) == []
    assert len(page.all("p", css="meant")) == 1
    pair = make(ida, page, 1, 2)
    assert headline(pair) == "Twins"
    assert pair.one("p", css="lead").text == (
        "Alike in every section, in hook and in count, but for what you meant."
    )


def test_one_piece_has_no_talk_of_a_pair(client: TestClient, engine: Engine) -> None:
    with writing(engine) as session:
        part_id = make_along(session, CROWN)[1]
    go_on(client, send(client, look(client, "/join/KAJ947"), "Join", nickname="Ida"))
    page = look(client, f"/notebook/{part_id}/numbers")
    assert "own count" not in page.text
    assert "Try" not in page.text
    page = begin(client, part_id, "large")
    page = log_rounds(client, page, 4)
    page = go_on(client, send(client, page, "Slipway Wristers is finished"))
    for page_name in ("piece/1", "pair", "numbers"):
        text = look(client, f"/notebook/{part_id}/{page_name}").text.lower()
        assert "glove" not in text
        assert "pair" not in text
        assert "twin" not in text
    assert client.get(f"/notebook/{part_id}/piece/2").status_code == 404


def test_a_tab_of_another_notebook_logs_into_its_own(ida: TestClient, engine: Engine, part_id: int) -> None:
    """Ida's page is still open when Nils opens his notebook on the same tablet."""
    hers = begin(ida, part_id)
    go_on(ida, send(ida, look(ida, "/join/KAJ947"), "Join", nickname="Nils"))
    assert send(ida, hers, "Log").status_code == 303
    with reading(engine) as session:
        worked = session.exec(select(Entry).where(Entry.kind == "worked")).all()
        names = dict(session.exec(select(Notebook.nickname, Notebook.id)).all())
    assert len(worked) == 1
    assert names["Nils"] != names["Ida"]
    assert headline(look(ida, f"/notebook/{part_id}/numbers")) == "Choose your number"  # Nils has not begun


def test_nobody_logs_into_a_notebook_that_is_not_on_her_device(
    ida: TestClient, app: FastAPI, part_id: int
) -> None:
    page = begin(ida, part_id)
    with TestClient(app, base_url="http://evenhand.test", headers={"Accept": "text/html"}) as stranger:
        form = form_with(page, "Log")
        answer = stranger.post(form.attributes["action"], data=fields_of(form))
        assert answer.status_code == 404
    assert headline(look(ida, f"/notebook/{part_id}/piece/1")) == "Foundation rnd"


def test_another_sites_page_logs_nothing(ida: TestClient, part_id: int) -> None:
    form = form_with(begin(ida, part_id), "Log")
    answer = ida.post(
        form.attributes["action"], data=fields_of(form), headers={"Origin": "http://elsewhere.test"}
    )
    assert answer.status_code == 403
    assert headline(look(ida, f"/notebook/{part_id}/piece/1")) == "Foundation rnd"


def batch(part_id: int, entries: list[dict[str, object]], notebook: int = 1) -> tuple[str, dict[str, object]]:
    return f"/notebook/{part_id}/entries/batch", {"notebook": notebook, "entries": entries}


def sent(number: int, spot: str) -> dict[str, object]:
    at = (NOW + timedelta(minutes=number)).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    return {"id": f"from-device-{number}", "piece": 1, "kind": "worked", "values": {"spot": spot}, "at": at,
            "order": number}  # fmt: skip


def test_a_device_sends_what_it_logged_on_its_own(ida: TestClient, part_id: int) -> None:
    begin(ida, part_id)
    json_only = {"Accept": "application/json"}
    address, body = batch(part_id, [sent(2, "0.1.1"), sent(1, "0.0.1"), sent(3, "5.5.5")])
    for _ in range(2):
        answer = ida.post(address, json=body, headers=json_only)
        assert answer.status_code == 200
        got = answer.json()
        assert sorted(got["kept"]) == ["from-device-1", "from-device-2"]
        assert list(got["refused"]) == ["from-device-3"]
        assert got["state"] == 3
    assert headline(look(ida, f"/notebook/{part_id}/piece/1")) == "Rnd 2"
    assert ida.post(address, content=b"{", headers=json_only).status_code == 400
    assert ida.post(address, json=body | {"notebook": 99}, headers=json_only).status_code == 404
    many = batch(part_id, [sent(n, "0.0.1") for n in range(501)])[1]
    assert ida.post(address, json=many, headers=json_only).status_code == 400


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"kind": "worked"},
        {"kind": "worked", "piece": "1", "spot": "0.0.1"},
        {"kind": "explode", "id": "a-fresh-id-1", "piece": "1"},
        {"kind": "worked", "id": "a-fresh-id-2", "piece": "7", "spot": "0.0.1"},
        {"kind": "accepted", "id": "a-fresh-id-3", "piece": "0", "difference": "'; DROP TABLE entry"},
        {"kind": "note", "id": "a-fresh-id-4", "piece": "1", "spot": "0.0.1", "text": "\x00"},
        {"kind": "undo", "id": "a-fresh-id-5", "piece": "1", "entry": "nothing-there"},
    ],
)
def test_forms_that_no_page_of_ours_sent(
    ida: TestClient, engine: Engine, part_id: int, fields: dict[str, str]
) -> None:
    begin(ida, part_id)
    answer = ida.post(f"/notebook/{part_id}/entries", data={"notebook": "1"} | fields)
    assert answer.status_code in (409, 422, 303)
    if answer.status_code != 303:
        assert headline(shown(answer.text)) == "Foundation rnd"
    with reading(engine) as session:
        rows = session.exec(select(Entry)).all()
    assert {row.kind for row in rows} <= {"settled", "note"}
    assert all(json.loads(row.values_json) is not None for row in rows)


@pytest.mark.parametrize(
    "fields", [{"notebook": "x"}, {"notebook": "1", "state": "x"}, {"notebook": "1", "piece": "x"}]
)
def test_numbers_that_are_none(ida: TestClient, part_id: int, fields: dict[str, str]) -> None:
    begin(ida, part_id)
    answer = ida.post(f"/notebook/{part_id}/entries", data=fields)
    assert answer.status_code == 400
    assert "could not be read" in shown(answer.text).text


def test_a_newer_version_only_when_she_chooses(ida: TestClient, engine: Engine, part_id: int) -> None:
    page = log_rounds(ida, begin(ida, part_id), 2)
    assert "is out" not in page.text
    with writing(engine) as session:
        publish(session, part_id, SLIPWAY.replace("4 (4, 5), or", "5 (5, 6), or"), 2)
    page = look(ida, f"/notebook/{part_id}/piece/1")
    assert "Version 2 of the pattern is out. You stay on version 1 until you choose." in page.text
    page = look(ida, f"/notebook/{part_id}/version")
    assert "Rnds 2 to 4 (4, 5)" in page.one("del").text
    assert "Rnds 2 to 5 (5, 6)" in page.one("ins").text
    page = go_on(ida, send(ida, page, "Move to version 2"))
    assert headline(page) == "Rnd 2"
    assert "is out" not in page.text
    assert headline(look(ida, f"/notebook/{part_id}/version")) == "You have the newest version"


def test_a_visit_is_put_on_record(ida: TestClient, engine: Engine, part_id: int) -> None:
    long_ago = NOW - timedelta(days=3)
    with writing(engine) as session:
        notebook = session.exec(select(Notebook)).one()
        notebook.last_seen_at = long_ago
        session.add(notebook)
    look(ida, "/notebook")
    with reading(engine) as session:
        assert session.exec(select(Notebook.last_seen_at)).one() > long_ago
