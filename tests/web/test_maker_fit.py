"""The fit card through its pages: measuring when joining, asked again and accepted, try-ons, units."""

from __future__ import annotations

import pytest
from sqlalchemy import Engine
from starlette.testclient import TestClient

from server.storage.sessions import writing
from tests.services.story import CROWN, make_along
from tests.web.sending import go_on, look, send
from tests.web.shown import Element, shown


@pytest.fixture
def part_id(engine: Engine) -> int:
    with writing(engine) as session:
        return make_along(session)[1]


@pytest.fixture
def ida(client: TestClient, part_id: int) -> TestClient:
    go_on(client, send(client, look(client, "/join/KAJ947"), "Join", nickname="Ida"))
    return client


def answer(page: Element) -> str:
    """The count that is recommended."""
    return page.one(css="fit-answer").one(css="count-number").text


def measure(ida: TestClient, part_id: int, **typed: str) -> Element:
    form = look(ida, f"/notebook/{part_id}/fit/hand")
    return go_on(ida, send(ida, form, "Write the hand down", **{"known": "measured", **typed}))


def test_joining_leads_to_measuring_and_past_it(client: TestClient, part_id: int) -> None:
    joined = go_on(client, send(client, look(client, "/join/KAJ947"), "Join", nickname="Ida"))
    links = {link.text: link.attributes["href"] for link in joined.all("a")}
    assert links["Measure a hand"] == f"/notebook/{part_id}/fit/hand"
    assert links["Skip this: choose a size"] == f"/notebook/{part_id}/numbers"
    assert "Measure a hand" not in look(client, "/notebook").text


def test_the_card_is_there_with_nothing_filled_in(ida: TestClient, part_id: int) -> None:
    page = look(ida, f"/notebook/{part_id}/fit")
    assert "A guess" in page.text
    assert "US Army" in page.text
    assert "no medical advice" in page.text
    assert int(answer(page)) % 4 == 0


def test_the_ease_is_chosen_on_the_card(ida: TestClient, part_id: int) -> None:
    page = measure(ida, part_id, around="20")
    assert "5 % smaller than the hand." in page.text
    assert answer(page) == "28"
    page = go_on(ida, send(ida, page, "Fit it so", smaller_percent="10"))
    assert "10 % smaller than the hand." in page.text
    assert answer(page) == "24"
    page = go_on(ida, send(ida, page, "Take back: how close it shall fit"))
    assert answer(page) == "28"


def test_a_hand_is_measured_and_the_answer_follows(ida: TestClient, part_id: int) -> None:
    page = measure(ida, part_id, around="18", to_thumb="8", to_end="15")
    assert answer(page) == "24"
    assert "About 7 rounds to the base of the thumb (8 cm), or to fit" in page.text
    assert "18 cm around the knuckles, measured." in page.text
    rows = [[cell.text for cell in row.all("td")] for row in page.one("tbody").all("tr")]
    assert [row[2] for row in rows] == ["snug", "right", "loose"]
    form = look(ida, f"/notebook/{part_id}/fit/hand")
    assert form.value("around") == "18"


def test_the_pictures_say_in_words_where_the_tape_goes(ida: TestClient, part_id: int) -> None:
    page = look(ida, f"/notebook/{part_id}/fit/hand")
    drawings = page.all("svg", role="img")
    assert len(drawings) == 4
    for drawing in drawings:
        title, desc = drawing.attributes["aria-labelledby"], drawing.attributes["aria-describedby"]
        assert page.one("title", id=title).tag == "title"
        assert len(page.one("desc", id=desc).text) > 30


def test_what_is_hardly_plausible_is_asked_once_and_then_taken(ida: TestClient, part_id: int) -> None:
    form = look(ida, f"/notebook/{part_id}/fit/hand")
    refused = send(ida, form, "Write the hand down", known="measured", around="31", group="women")
    assert refused.status_code == 422
    page = shown(refused.text)
    assert "31 cm around the knuckles is unusual for a woman" in page.text
    assert page.value("around") == "31"
    # Another odd number is another question.
    again = send(ida, page, "It is so", around="32")
    assert again.status_code == 422
    taken = go_on(ida, send(ida, shown(again.text), "It is so"))
    assert "32 cm around the knuckles, measured." in taken.text
    assert int(answer(taken)) >= 36


def test_a_size_an_age_and_a_wrong_one(ida: TestClient, part_id: int) -> None:
    form = look(ida, f"/notebook/{part_id}/fit/hand")
    by_size = go_on(ida, send(ida, form, "Write the hand down", known="size", size="dress 7"))
    assert "French inches" in by_size.text
    by_age = go_on(ida, send(ida, form, "Write the hand down", known="age", age="8", id="another-id-1"))
    assert "aged 8" in by_age.text
    wrong = send(ida, form, "Write the hand down", known="size", size="enormous", id="another-id-2")
    assert wrong.status_code == 422
    page = shown(wrong.text)
    assert "no glove size" in page.text
    assert page.value("size") == "enormous"


def test_what_is_no_number_stays_and_says_what_would_be_right(ida: TestClient, part_id: int) -> None:
    form = look(ida, f"/notebook/{part_id}/fit/hand")
    refused = send(ida, form, "Write the hand down", known="measured", around="about 18")
    assert refused.status_code == 422
    page = shown(refused.text)
    assert page.value("around") == "about 18"
    assert "18.5" in page.one(id="around-error").text


@pytest.mark.parametrize("around_cm", ["16.51", "18.034", "21.59"])
def test_units_never_change_the_answer(ida: TestClient, part_id: int, around_cm: str) -> None:
    """The same hand and swatch typed in cm and in inches, and read in either."""

    def told(around: str, over: str) -> str:
        measure(ida, part_id, around=around)
        form = look(ida, f"/notebook/{part_id}/fit/gauge")
        page = go_on(
            ida, send(ida, form, "Write the gauge down", source="swatch", stitches="15", over=over, hook="5")
        )
        return answer(page)

    in_cm = told(around_cm, "10.16")
    chances = [row.all("td")[-1].text for row in look(ida, f"/notebook/{part_id}/fit").one("tbody").all("tr")]
    send(ida, look(ida, "/notebook"), "Save", units="in")
    page = look(ida, f"/notebook/{part_id}/fit")
    assert answer(page) == in_cm
    assert [row.all("td")[-1].text for row in page.one("tbody").all("tr")] == chances
    assert " in around" in page.one(css="fit-answer").text
    assert told(f"{float(around_cm) / 2.54:g}", "4") == in_cm
    page = look(ida, f"/notebook/{part_id}/fit")
    assert [row.all("td")[-1].text for row in page.one("tbody").all("tr")] == chances


def test_a_try_on_and_round_one_re_estimate_it(ida: TestClient, part_id: int) -> None:
    measure(ida, part_id, around="20")
    page = look(ida, f"/notebook/{part_id}/fit")
    assert answer(page) == "28"
    page = go_on(
        ida, send(ida, page, "Write the try-on down", foundation="28", verdict="too long", by="6 cm")
    )
    assert answer(page) == "24"
    assert "28 chains were 6 cm too long" in page.text
    page = go_on(ida, send(ida, page, "Take back"))
    assert answer(page) == "28"
    go_on(ida, send(ida, look(ida, f"/notebook/{part_id}/numbers"), "Take", size="own", own="28"))
    page = look(ida, f"/notebook/{part_id}/fit")
    page = go_on(ida, send(ida, page, "Say what to do", verdict="too tight", by="3"))
    assert "Round one is 3 cm too tight" in page.text
    assert "Why not the other" in page.text


def test_a_wrong_length_of_a_try_on_stays_in_its_field(ida: TestClient, part_id: int) -> None:
    page = look(ida, f"/notebook/{part_id}/fit")
    refused = send(ida, page, "Write the try-on down", foundation="28", verdict="too long", by="a bit")
    assert refused.status_code == 422
    page = shown(refused.text)
    assert page.value_of("tried-by") == "a bit"
    assert "open" in form_details(page)


def form_details(page: Element) -> dict[str, str]:
    """Attributes of the details that has the try-on's form."""
    return next(one for one in page.all("details") if "A ring was tried on" in one.text).attributes


def test_a_piece_for_no_hand_says_so(client: TestClient, engine: Engine) -> None:
    with writing(engine) as session:
        part_id = make_along(session, CROWN, code="HAT222")[1]
    joined = go_on(client, send(client, look(client, "/join/HAT222"), "Join", nickname="Ida"))
    assert "Measure a hand" not in joined.text
    assert "not worn on a hand" in look(client, f"/notebook/{part_id}/fit").text
    assert "Measure a hand" not in look(client, f"/notebook/{part_id}/numbers").text


def test_another_notebooks_card_is_not_shown(client: TestClient, part_id: int) -> None:
    assert client.get(f"/notebook/{part_id}/fit").status_code == 404
    assert client.get(f"/notebook/{part_id}/fit/hand").status_code == 404


@pytest.mark.parametrize(
    ("path", "wrong"),
    [
        ("fit", {"kind": "tried", "foundation": "many", "verdict": "fits"}),
        ("yarn", {"kind": "left", "grams": "much"}),
    ],
)
def test_the_card_is_compressed_and_an_answer_to_what_was_sent_is_not(
    ida: TestClient, part_id: int, path: str, wrong: dict[str, str]
) -> None:
    card = ida.get(f"/notebook/{part_id}/{path}")
    assert card.headers["content-encoding"] == "gzip"
    fields = [each.attributes for each in shown(card.text).all("input")]
    notebook = next(each["value"] for each in fields if each.get("name") == "notebook")
    answer = ida.post(f"/notebook/{part_id}/{path}", data={"notebook": notebook, **wrong})
    assert answer.status_code == 422
    assert "content-encoding" not in answer.headers


def test_a_try_on_that_is_hardly_plausible_is_asked_about_and_taken(ida: TestClient, part_id: int) -> None:
    """A slip of the finger: 280 for 28. The panel is open, nothing typed is lost, and a yes takes it."""
    page = measure(ida, part_id, around="19")
    asked = send(ida, page, "Write the try-on down", foundation="280", verdict="too short", by="")
    assert asked.status_code == 422
    page = shown(asked.text)
    assert "280 chains would be about 200 cm around, for a hand of 19 cm. Is the number right?" in page.text
    fields = {each.attributes.get("id"): each.attributes.get("value") for each in page.all("input")}
    assert fields["tried-foundation"] == "280"
    mended = go_on(ida, send(ida, page, "Write the try-on down", foundation="28"))
    assert "28 chains were too short" in mended.text
    again = send(ida, mended, "Write the try-on down", foundation="280", verdict="too short", by="")
    assert "280 chains were too short" in go_on(ida, send(ida, shown(again.text), "It is so")).text


def test_a_swatch_in_the_other_unit_is_asked_about(ida: TestClient, part_id: int) -> None:
    """14 stitches in 4 in, written as 4 cm: 35 in 10 cm, and the pattern has 14."""
    form = look(ida, f"/notebook/{part_id}/fit/gauge")
    asked = send(ida, form, "Write the gauge down", source="swatch", stitches="14", over="4")
    assert asked.status_code == 422
    page = shown(asked.text)
    assert "14 stitches in 4 cm would be 35.0 stitches in 10 cm; about 14.0 are usual here." in page.text
    assert "If it was 4 in, write 4 in." in page.text
    mended = go_on(ida, send(ida, page, "Write the gauge down", over="4 in"))
    assert "Your swatch: 14 stitches in 10.2 cm" in mended.text
