"""The pattern page: the text kept as typed, findings and mends, publication, versions; whole pages and
fragments."""

from __future__ import annotations

import threading

import pytest
from sqlalchemy import Engine
from sqlmodel import select
from starlette.testclient import TestClient

from server.services import patterns
from server.storage.sessions import reading, writing
from server.storage.tables import Part, PatternVersion
from server.web.host_patterns import EXAMPLE
from tests.services.test_patterns import BROKEN, TUBE
from tests.web.conftest import SignedIn
from tests.web.shown import Element, shown

IN_PLACE = {"HX-Request": "true", "HX-Request-Type": "partial"}


@pytest.fixture
def part(marit: TestClient) -> str:
    """The address of a part of hers, without a pattern."""
    along = marit.post("/host/alongs", data={"title": "Harbour hands"}).headers["location"]
    return marit.post(f"{along}/parts", data={"part_title": "Band"}).headers["location"]


def page_at(client: TestClient, address: str) -> Element:
    answer = client.get(address)
    assert answer.status_code == 200
    return shown(answer.text)


def sent(client: TestClient, address: str, text: str, **more: str) -> tuple[int, Element]:
    """What a form answers as a page; `mark` as it stands in the page, where it is not given."""
    part = address.rpartition("/")[0]
    data = {"text": text.replace("\n", "\r\n"), "mark": page_at(client, part).value("mark"), **more}
    answer = client.post(address, data=data)
    return answer.status_code, shown(answer.text) if answer.text else Element("", {})


def kept_text(engine: Engine) -> str:
    with reading(engine) as session:
        return session.exec(select(Part.draft_text)).one()


def versions(engine: Engine) -> list[tuple[int, str]]:
    with reading(engine) as session:
        return [(v.number, v.text) for v in session.exec(select(PatternVersion))]


def test_an_empty_page_says_how_a_pattern_is_written_and_offers_the_example(
    marit: TestClient, part: str
) -> None:
    page = page_at(marit, part)
    assert page.one("h1").text == "Band"
    assert page.value("text") == ""
    assert "Nothing to read yet." in page.one(id="understood").text
    status, page = sent(marit, f"{part}/check", "", example="1")
    assert (status, page.value("text")) == (200, EXAMPLE)


def test_the_example_is_proved_without_a_finding(marit: TestClient, part: str, engine: Engine) -> None:
    status, page = sent(marit, f"{part}/check", EXAMPLE)
    assert status == 200
    assert page.all(css="finding") == []
    assert page.one(id="understood").one(css="state--good").text.startswith("Proved at ")
    assert kept_text(engine) == EXAMPLE


def test_the_example_never_replaces_what_was_typed(marit: TestClient, part: str) -> None:
    _, page = sent(marit, f"{part}/check", "Title: mine", example="1")
    assert page.value("text") == "Title: mine"


def test_the_table_shows_each_round_at_each_size_and_at_any_count(marit: TestClient, part: str) -> None:
    _, page = sent(marit, f"{part}/check", TUBE)
    table = page.one(id="counts")
    head = [cell.text for cell in table.one("thead").all("th")]
    assert head == ["Round", "Has", "small20 ch", "large24 ch", "anyN ch"]
    rows = [[c.text for c in r.inside if c.tag in ("th", "td")] for r in table.one("tbody").all("tr")]
    assert rows[0] == ["Band"]
    assert ["Foundation rnd", "ch", "20", "24", "N"] in rows
    assert ["Rnd 1", "sc", "20", "24", "N"] in rows
    assert table.one("caption").text.endswith("N is any multiple of 2")


@pytest.mark.parametrize(
    "text",
    [
        "  indented\n\n\n",
        "\nfirst line empty",
        "tab\there",
        "é – “quoted” 😀 \u202e",
        "</textarea><b>",
        "&amp; &lt;",
        "# only a section",
        "Rnd",
        "[" * 500,
        "*" * 300,
        "Foundation: 0",
        "Foundation: 99999999999999999999 multiple of 1",
    ],
)
def test_what_is_typed_stays_to_the_letter_and_is_kept(
    marit: TestClient, part: str, engine: Engine, text: str
) -> None:
    status, page = sent(marit, f"{part}/check", text)
    assert status == 200
    assert page.value("text") == text
    assert kept_text(engine) == text
    assert page_at(marit, part).value("text") == text


def test_a_finding_stands_in_the_list_and_at_its_line(marit: TestClient, part: str) -> None:
    status, page = sent(marit, f"{part}/check", BROKEN)
    assert status == 200
    (finding,) = page.all(css="finding")
    assert finding.attributes["data-line"] == "7"
    assert "to mend" in finding.text
    facts = finding.one("dl").text
    assert "Stated" in facts
    assert "Came out" in facts
    line = page.one(id="line-7")
    assert line.one("mark").text in "[N + 1 sc]"
    assert line.one("a").attributes["href"] == f"#{finding.attributes['id']}"
    assert finding.all("a", href="#line-7")


def test_a_mend_is_applied_without_scripts(marit: TestClient, part: str, engine: Engine) -> None:
    broken = TUBE.replace("[N sc]", "[19 (24) sc]")
    _, page = sent(marit, f"{part}/check", broken)
    button = page.one("button", name="mend")
    status, page = sent(marit, f"{part}/check", broken, mend=button.attributes["value"])
    assert status == 200
    assert page.all(css="finding") == []
    assert kept_text(engine) == page.value("text") != broken


def test_a_mend_for_words_that_are_gone_changes_nothing(marit: TestClient, part: str) -> None:
    status, page = sent(marit, f"{part}/check", TUBE, mend="7:5:count:3")
    assert (status, page.value("text")) == (422, TUBE)
    assert "The text has changed there." in page.one(id="understood").text


def test_htmx_gets_what_is_understood_and_never_the_field(
    marit: TestClient, part: str, engine: Engine
) -> None:
    mark = page_at(marit, part).value("mark")
    answer = marit.post(f"{part}/check", data={"text": TUBE, "mark": mark}, headers=IN_PLACE)
    fragment = shown(answer.text)
    assert fragment.inside[0].attributes["id"] == "understood"
    assert not fragment.all("textarea")
    assert not fragment.all("html")
    assert fragment.value("mark") == patterns.mark_of(TUBE) != mark
    assert kept_text(engine) == TUBE


def test_a_draft_changed_elsewhere_is_not_overwritten(marit: TestClient, part: str, engine: Engine) -> None:
    mark = page_at(marit, part).value("mark")
    marit.post(f"{part}/check", data={"text": "from the phone", "mark": mark})
    for headers in ({}, IN_PLACE):
        answer = marit.post(f"{part}/check", data={"text": "from the desk", "mark": mark}, headers=headers)
        page = shown(answer.text)
        said = page.one(id="understood")
        assert "was changed on another page or device" in said.text
        assert said.one("pre").text == "from the phone"
        assert page.value("mark") == mark, "the next keystroke is not kept either"
        assert kept_text(engine) == "from the phone"
    status, page = sent(marit, f"{part}/check", "from the desk", mark=mark, keep="1")
    assert (status, kept_text(engine)) == (200, "from the desk")


def test_a_text_that_is_too_long_stays_in_the_field(marit: TestClient, part: str, engine: Engine) -> None:
    sent(marit, f"{part}/check", TUBE)
    long = "x" * (patterns.TEXT_MOST + 1)
    for action in ("check", "publish"):
        status, page = sent(marit, f"{part}/{action}", long)
        assert (status, page.value("text")) == (422, long)
        assert "60,001 characters; 60,000 can be kept" in page.one(id="understood").text
    assert kept_text(engine) == TUBE


def test_a_proved_pattern_is_published_and_says_so(marit: TestClient, part: str, engine: Engine) -> None:
    answer = marit.post(f"{part}/publish", data={"text": TUBE, "mark": page_at(marit, part).value("mark")})
    assert (answer.status_code, answer.headers["location"]) == (303, f"{part}?published=1#understood")
    assert versions(engine) == [(1, TUBE)]
    page = page_at(marit, answer.headers["location"])
    assert page.one(css="notice--good").text.startswith("Version 1 is published.")
    page = page_at(marit, part)
    assert page.one(id="version-1").text.startswith("Version 1 just now, 0 makers on it")
    assert not page.all("button", formaction=f"{part}/publish")
    assert "Version 1 is this text, word for word." in page.one(id="understood").text
    assert not page_at(marit, f"{part}?published=2").all(css="notice--good")


def test_an_unproved_pattern_is_refused_in_place_and_kept(
    marit: TestClient, part: str, engine: Engine
) -> None:
    status, page = sent(marit, f"{part}/publish", BROKEN)
    assert (status, page.value("text")) == (422, BROKEN)
    notice = page.one(id="understood").one(css="notice--differs")
    assert notice.text.startswith("Not published yet. This is missing: Line 7: ")
    assert (versions(engine), kept_text(engine)) == ([], BROKEN)


@pytest.mark.parametrize("text", ["", "  ", "Title: x", "nothing of a pattern"])
def test_no_pattern_at_all_is_refused_in_words(
    marit: TestClient, part: str, text: str, engine: Engine
) -> None:
    status, page = sent(marit, f"{part}/publish", text)
    assert status == 422
    assert "Not published yet." in page.one(id="understood").text
    assert versions(engine) == []


def test_htmx_is_sent_on_when_it_is_published_and_told_in_place_when_not(
    marit: TestClient, part: str
) -> None:
    mark = page_at(marit, part).value("mark")
    refused = marit.post(f"{part}/publish", data={"text": BROKEN, "mark": mark}, headers=IN_PLACE)
    assert refused.status_code == 200, "an answer from 400 up replaces nothing"
    fragment = shown(refused.text)
    assert "Not published yet." in fragment.text
    data = {"text": TUBE, "mark": fragment.value("mark")}
    done = marit.post(f"{part}/publish", data=data, headers=IN_PLACE)
    assert (done.status_code, done.headers["hx-redirect"]) == (204, f"{part}?published=1#understood")


def test_the_same_text_is_not_published_again(marit: TestClient, part: str, engine: Engine) -> None:
    for _ in range(2):
        status, page = sent(marit, f"{part}/publish", TUBE)
    assert status == 422
    assert "Version 1 is this same text" in page.one(id="understood").text
    assert len(versions(engine)) == 1


def test_a_published_version_stays_as_it_is(marit: TestClient, part: str) -> None:
    sent(marit, f"{part}/publish", TUBE)
    sent(marit, f"{part}/publish", TUBE.replace("Pier", "Quay"))
    page = page_at(marit, f"{part}/versions/1")
    assert page.one("h1").text == "Version 1: Pier Band"
    text = [line.one("span").exact for line in page.one(css="marked").all("li")]
    assert "\n".join(text) == TUBE
    assert "Rnd 1" in page.one(id="counts").text
    assert marit.get(f"{part}/versions/3").status_code == 404
    assert marit.get(f"{part}/versions/0").status_code == 404


def test_a_page_that_answered_a_form_can_be_loaded_anew(marit: TestClient, part: str) -> None:
    for action in ("check", "publish"):
        assert marit.get(f"{part}/{action}").headers["location"] == part


def test_another_host_finds_nothing_and_changes_nothing(
    marit: TestClient, part: str, signed_in: SignedIn, engine: Engine
) -> None:
    sent(marit, f"{part}/publish", TUBE)
    oda = signed_in("oda")
    answers = [
        oda.get(part), oda.get(f"{part}/versions/1"), oda.post(f"{part}/check", data={"text": "mine"}),
        oda.post(f"{part}/publish", data={"text": TUBE.replace("Pier", "Quay")}),
        oda.post(f"{part}/check", data={"text": "mine", "keep": "1"}, headers=IN_PLACE),
    ]  # fmt: skip
    assert {a.status_code for a in answers} == {404}
    assert kept_text(engine) == TUBE
    assert len(versions(engine)) == 1


def test_someone_signed_out_has_no_text_proved(
    client: TestClient, part: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    proved: list[str] = []
    monkeypatch.setattr(patterns, "check", proved.append)
    for headers in ({}, IN_PLACE):
        answer = client.post(f"{part}/check", data={"text": TUBE}, headers=headers)
        assert answer.status_code == 401
    assert proved == []
    page = shown(client.post(f"{part}/publish", data={"text": TUBE}).text)
    assert page.one("textarea").exact == TUBE


def test_nobody_waits_for_the_database_while_a_text_is_proved(
    marit: TestClient, part: str, engine: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    proving, go_on = threading.Event(), threading.Event()
    really = patterns.check

    def slowly(text: str, typed_in: patterns.TypedIn | None = None) -> patterns.Checked:
        proving.set()
        assert go_on.wait(10)
        return really(text, typed_in)

    monkeypatch.setattr(patterns, "check", slowly)
    answers: list[int] = []
    asking = threading.Thread(
        target=lambda: answers.append(
            marit.post(f"{part}/check", data={"text": TUBE, "keep": "1"}).status_code
        )
    )
    asking.start()
    assert proving.wait(10)
    with writing(engine) as session:  # would wait for ten seconds and give up, were the right to write taken
        session.exec(select(Part)).one().title = "Meanwhile"
    go_on.set()
    asking.join(10)
    assert answers == [200]
    assert kept_text(engine) == TUBE


def test_the_page_says_which_proof_it_is(marit: TestClient, part: str) -> None:
    _, page = sent(marit, f"{part}/check", TUBE)
    assert "every multiple of 2" in page.one(css="understood-sum").text
    assert page.one(id="reach").text.startswith("Worked at ")


def test_a_line_is_made_a_note_by_the_plain_form(marit: TestClient, part: str, engine: Engine) -> None:
    text = TUBE.replace("Fasten off.", "Rnd 2: flounce in each sc around.\nFasten off.")
    _, page = sent(marit, f"{part}/check", text)
    (button,) = [one for one in page.all("button", name="note") if one.text.endswith("line 8")]
    assert button.attributes["formaction"] == f"{part}/check"
    _, page = sent(marit, f"{part}/check", text, note=button.attributes["value"])
    assert page.value("text") == text.replace("Rnd 2: flounce", "Note: Rnd 2: flounce")
    assert kept_text(engine) == page.value("text")
    assert page.one(css="understood-sum").all(css="state--good")


def test_an_offered_header_line_is_put_in_by_the_plain_form(
    marit: TestClient, part: str, engine: Engine
) -> None:
    text = TUBE.replace("# Band", "I used a 5 mm hook.\n\n# Band")
    _, page = sent(marit, f"{part}/check", text)
    (button,) = [one for one in page.all("button", name="line") if one.attributes["value"] == "Hook"]
    _, page = sent(marit, f"{part}/check", text, line="Hook")
    assert "Hook: 5 mm" in page.value("text").split("\n")
    assert kept_text(engine) == page.value("text")
    assert all(one.attributes["value"] != "Hook" for one in page.all("button", name="line"))
    assert button.attributes["formaction"] == f"{part}/check"


@pytest.mark.parametrize("change", [{"note": "1:1:unread:3"}, {"line": "Gauge"}])
def test_a_change_for_what_is_not_there_any_more_says_so_and_changes_nothing(
    marit: TestClient, part: str, engine: Engine, change: dict[str, str]
) -> None:
    status, page = sent(marit, f"{part}/check", TUBE, **change)
    assert status == 422
    assert "The text has changed there." in page.one(id="understood").text
    assert kept_text(engine) == TUBE
