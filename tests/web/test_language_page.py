"""The pattern language page is held to the engine: its tables, its tree, and what its samples come to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any, get_args

import pytest
from starlette.testclient import TestClient

from server.craft.fabric import prove
from server.craft.text import header, language, lexer, read, rules, special, tree, vocabulary
from server.craft.text.language import Entry
from server.craft.text.language import words as said
from server.craft.text.rules import Rule
from server.craft.text.vocabulary import Rung
from server.web import language_tables
from tests.web.shown import Element, shown

ENTRIES = tuple(one for chapter in language.chapters() for one in chapter.entries)
IN_PLACE = {"HX-Request": "true", "HX-Request-Type": "partial"}


@pytest.fixture
def visitor(app: Any) -> Iterator[TestClient]:
    """A browser in which nobody is signed in."""
    with TestClient(app, base_url="http://evenhand.test", follow_redirects=False) as client:
        client.headers.update({"Origin": "http://evenhand.test", "Accept": "text/html"})
        yield client


@pytest.fixture
def page(visitor: TestClient) -> Element:
    answer = visitor.get("/language")
    assert answer.status_code == 200
    return shown(answer.text)


# --- the samples --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.key)
def test_a_sample_is_proved_or_has_exactly_the_findings_that_it_shows(entry: Entry) -> None:
    proof = prove(entry.sample)
    assert sorted(one.code for one in proof.findings) == sorted(entry.finds), [
        (one.line, one.message) for one in proof.findings
    ]
    assert len(proof.rows) >= 1
    assert all(proof.stitches.values())


def test_every_entry_has_an_address_of_its_own() -> None:
    assert len({one.key for one in ENTRIES}) == len(ENTRIES) == len({one.name for one in ENTRIES})


# --- held to the tables -------------------------------------------------------------------------------------


def lacking_words() -> dict[str, set[str]]:
    """What the engine's tables have and the page has no words for, by table."""
    codes = {rule.code for rule in vars(rules).values() if isinstance(rule, Rule)}
    lacking: dict[str, set[str]] = {
        "stitches": {rung.us for rung in vocabulary.LADDER} - said.STITCHES.keys(),
        "closed stitches": {*vocabulary.CLOSED, *lexer.CLOSED_SPELLINGS.values()} - said.CLOSED.keys(),
        "words": set(lexer.PHRASES.values()) - said.WORDS.keys(),
        "findings": codes - said.FINDINGS.keys(),
        "header keys": set(header.KEYS) - {form.split(":")[0] for one in ENTRIES for form in one.written},
        "special stitches": {one.name for one in special.DEFAULTS}
        - {form for one in ENTRIES for form in one.written},
    }
    return {table: missing for table, missing in lacking.items() if missing}


def test_everything_in_the_tables_has_words() -> None:
    assert lacking_words() == {}


def test_nothing_has_words_that_is_not_in_the_tables() -> None:
    codes = {rule.code for rule in vars(rules).values() if isinstance(rule, Rule)}
    assert set(said.STITCHES) <= {rung.us for rung in vocabulary.LADDER}
    assert set(said.CLOSED) <= {*vocabulary.CLOSED, *lexer.CLOSED_SPELLINGS.values()}
    assert set(said.WORDS) <= set(lexer.PHRASES.values())
    assert set(said.FINDINGS) <= codes


def test_a_stitch_that_is_added_to_the_tables_without_words_is_missed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    added = Rung(**{**{f.name: getattr(vocabulary.LADDER[-1], f.name) for f in fields(Rung)}, "us": "qdtr"})
    monkeypatch.setattr(vocabulary, "LADDER", (*vocabulary.LADDER, added))
    assert lacking_words() == {"stitches": {"qdtr"}}
    assert language_tables.stitches()[-1].us == "qdtr", "it stands on the page all the same"


def test_a_spelling_or_finding_that_is_added_without_words_is_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(lexer.PHRASES, "flounce", "frill")
    monkeypatch.setattr(rules, "NEW", Rule("new-one", "count", "error", "x"), raising=False)
    assert lacking_words() == {"words": {"frill"}, "findings": {"new-one"}}


# --- held to the tree: every kind of phrase is in some sample -----------------------------------------------


def all_nodes(value: object) -> Iterator[object]:
    """A value of the tree and all that is in it."""
    if isinstance(value, tuple):
        for one in value:
            yield from all_nodes(one)
    elif is_dataclass(value) and not isinstance(value, type):
        yield value
        for field in fields(value):
            yield from all_nodes(getattr(value, field.name))


NODES = tuple(node for entry in ENTRIES for node in all_nodes(read(entry.sample).pattern))


@pytest.mark.parametrize(
    "kind", [*get_args(tree.Instruction), *get_args(tree.Number), tree.Inline, tree.CountsAs]
)
def test_every_kind_of_instruction_is_in_a_sample(kind: type) -> None:
    assert any(isinstance(node, kind) for node in NODES)


@pytest.mark.parametrize(
    ("of", "name", "kinds"),
    [
        (tree.Place, "which", get_args(tree.Which)),
        (tree.Place, "loop", get_args(tree.Loop)),
        (tree.Place, "edge", ("side", "underside", "between")),
        (tree.Place, "evenly", (True,)),
        (tree.Place, "post", (True,)),
        (tree.Place, "skipped", (True,)),
        (tree.Part, "kind", get_args(tree.PartKind)),
        (tree.Noun, "kind", get_args(tree.NounKind)),
        (tree.Section, "kind", get_args(tree.SectionKind)),
        (tree.Label, "word", ("Rnd", "Row")),
        (tree.Header, "worked", get_args(tree.Worked)),
        (tree.Header, "pieces", get_args(tree.Pieces)),
        (tree.Header, "terms", get_args(tree.Terms)),
        (tree.Repeat, "style", ("star", "bracket")),
        (tree.Repeat, "around", (True,)),
    ],
)
def test_every_way_to_say_it_is_in_a_sample(of: type, name: str, kinds: tuple[object, ...]) -> None:
    assert {getattr(node, name) for node in NODES if isinstance(node, of)} >= set(kinds)


# --- the page -----------------------------------------------------------------------------------------------


def test_every_entry_stands_on_the_page_with_its_forms_and_its_sample(page: Element) -> None:
    for entry in ENTRIES:
        (article,) = page.all("article", id=entry.key)
        assert article.one("h3").text == entry.name
        assert [one.text for one in article.one("ul", css="written").all("li")] == [
            " ".join(form.split()) for form in entry.written
        ]
        assert article.one("pre").exact == entry.sample


def test_every_spelling_of_the_tables_stands_on_the_page(page: Element) -> None:
    names, forms = page.one("table", id="stitch-names"), page.one("table", id="word-forms")
    for spelling in {**vocabulary.US_SPELLINGS, **vocabulary.UK_SPELLINGS, **dict.fromkeys(lexer.SLIPS)}:
        assert spelling in names.text
    written = {one.text for one in (*forms.all("code"), *forms.all("th"))}
    for table in (lexer.PHRASES, lexer.CLOSED_SPELLINGS, lexer.ORDINAL_WORDS, header.OTHER_KEYS):
        assert set(map(str.lower, table)) <= set(map(str.lower, written))
    rungs = [
        [c.text for c in row.inside if c.tag in ("th", "td")][:3] for row in names.one("tbody").all("tr")
    ]
    assert rungs == [[r.us, r.uk, f"{r.height_ch} ch"] for r in vocabulary.LADDER]
    header_chapter = page.one("section", id="chapter-header")
    assert set(header.KEYS) <= {one.text for one in header_chapter.all("code")}


def test_every_finding_stands_on_the_page(page: Element) -> None:
    table = page.one("table", id="finding-kinds")
    for words in said.FINDINGS.values():
        assert words in table.text
    for link in table.all("a"):
        page.one("article", id=link.attributes["href"].removeprefix("#"))


def test_every_link_within_the_page_leads_somewhere(page: Element) -> None:
    ids = {one.attributes["id"] for one in page.inside if "id" in one.attributes}
    links = {a.attributes["href"] for a in page.all("a") if a.attributes["href"].startswith("#")}
    assert {link.removeprefix("#") for link in links} <= ids


def test_a_sample_is_run_by_a_plain_form_and_shown_beside_it(visitor: TestClient, page: Element) -> None:
    form = page.one("article", id="a-count").one("form")
    assert form.attributes["method"] == "post"
    address, _, anchor = form.attributes["action"].partition("#")
    assert anchor == "a-count"
    answer = visitor.post(address)
    assert answer.status_code == 200
    article = shown(answer.text).one("article", id="a-count")
    assert "open" in article.one("details").attributes
    proved = article.one(id="a-count-proved")
    assert proved.one(css="state--good").text.startswith("Proved at every multiple of 3")
    rows = [[c.text for c in row.inside if c.tag in ("th", "td")] for row in proved.one("table").all("tr")]
    # 24 chains: 8 V-stitches of 2 dc and 1 space each.
    assert ["V-st", "8", "N/3"] in rows or ["Rnd 2", "V-st", "8", "N/3"] in rows
    assert sum(1 for one in shown(answer.text).all("details") if "open" in one.attributes) == 1


def test_a_sample_of_a_mistake_shows_what_is_found(visitor: TestClient) -> None:
    answer = visitor.post("/language/a-count-that-is-wrong", headers=IN_PLACE)
    part = shown(answer.text)
    assert part.one(css="state--differs").text == "1 thing to mend."
    assert "24 sc" in part.one(css="finding").text
    assert part.all("html") == []


@pytest.mark.parametrize("way", ["get", "post"])
def test_a_sample_that_is_not_there(visitor: TestClient, way: str) -> None:
    assert visitor.request(way, "/language/no-such-thing").status_code == 404
    assert visitor.request(way, "/language/Nö").status_code in (404, 422)


def test_a_page_that_is_loaded_anew_goes_to_the_entry(visitor: TestClient) -> None:
    assert visitor.get("/language/a-count").headers["location"] == "/language#a-count"


def test_the_page_is_linked_from_the_first_page_and_from_the_pattern_page(
    visitor: TestClient, marit: TestClient
) -> None:
    assert shown(visitor.get("/").text).all("a", href="/language")
    along = marit.post("/host/alongs", data={"title": "Harbour hands"}).headers["location"]
    part = marit.post(f"{along}/parts", data={"part_title": "Band"}).headers["location"]
    assert shown(marit.get(part).text).all("a", href="/language")


# --- taken over into a draft --------------------------------------------------------------------------------


def test_a_sample_is_taken_into_a_new_part(marit: TestClient) -> None:
    assert "none yet" in shown(marit.get("/host/samples/v-st").text).one("main").text
    along = marit.post("/host/alongs", data={"title": "Harbour hands"}).headers["location"]
    page = shown(marit.get("/host/samples/v-st").text)
    chosen = next(one for one in page.all("input", name="along_id") if "checked" in one.attributes)
    assert along.endswith(f"/{chosen.attributes['value']}")
    data = {"along_id": chosen.attributes["value"], "title": page.value("title")}
    answer = marit.post("/host/samples/v-st", data=data)
    assert answer.status_code == 303
    draft = shown(marit.get(answer.headers["location"]).text)
    entry = language.entry("v-st")
    assert entry is not None
    assert draft.value("text") == entry.sample
    assert draft.one("h1").text == "Sample: V-st"


def test_a_part_without_a_title_is_asked_for_one(marit: TestClient) -> None:
    along = marit.post("/host/alongs", data={"title": "Harbour hands"}).headers["location"].rpartition("/")[2]
    answer = marit.post("/host/samples/v-st", data={"along_id": along, "title": " "})
    assert answer.status_code == 422
    assert "title" in shown(answer.text).says_at("title")


def test_another_hosts_along_gets_no_part(signed_in: Any) -> None:
    along = signed_in("marit").post("/host/alongs", data={"title": "Mine"}).headers["location"]
    answer = signed_in("oda").post(
        "/host/samples/v-st", data={"along_id": along.rpartition("/")[2], "title": "Taken"}
    )
    assert answer.status_code == 404


def test_whoever_is_not_signed_in_signs_in_first_and_comes_back(visitor: TestClient) -> None:
    answer = visitor.get("/host/samples/v-st")
    assert (answer.status_code, answer.headers["location"]) == (303, "/host/sign-in?next=/host/samples/v-st")
