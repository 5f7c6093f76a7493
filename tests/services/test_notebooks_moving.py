"""Moving to another device by link or six words: for a short time, once; a lost device is shut out."""

from __future__ import annotations

import hashlib
from datetime import timedelta

import pytest
from sqlalchemy import text
from sqlmodel import Session, select

from server.services import joining
from server.services.errors import Gone, NotFound, Refusal
from server.services.notebooks import moving, ways, words
from server.services.notebooks.words import LIST
from server.storage.tables import NotebookKey, NotebookMove
from tests.services.story import NOW, Maker, make_along

SOON = NOW + timedelta(minutes=14)
LATE = NOW + timedelta(minutes=15)


@pytest.fixture
def ida(session: Session) -> Maker:
    """Ida, with a notebook."""
    return Maker(session, make_along(session)[1])


def test_the_list_is_the_published_one() -> None:
    """The Electronic Frontier Foundation's large list, unchanged: 7776 lines, the hash in data/README.md."""
    raw = LIST.read_bytes()
    stated = (LIST.parent / "README.md").read_text()
    assert hashlib.sha256(raw).hexdigest() in stated
    lines = raw.decode("ascii").splitlines()
    assert len(lines) == 7776 == len({line.split("\t")[1] for line in lines})
    # A die shows 1 to 6, five of them in turn: 11111 to 66666.
    assert [line.split("\t")[0] for line in (lines[0], lines[-1])] == ["11111", "66666"]
    assert len(words.word_list()) == 7772


def test_six_words_have_77_bits() -> None:
    assert len(words.word_list()) ** words.WORDS >= 2**77


def test_words_are_drawn_from_the_whole_list() -> None:
    """Of 6000 words drawn, more than 4000 differ (expected: 7772 (1 - e^(-6000/7772)) = 4180)."""
    drawn = {word for _ in range(1000) for word in words.draw()}
    assert drawn <= set(words.word_list())
    assert len(drawn) > 4000


@pytest.mark.parametrize(
    "typed",
    [
        "abacus abdomen abide ability zoom zebra",
        "  Abacus ABDOMEN\nabide, ability; zoom zebra. ",
        "abacus-abdomen-abide-ability-zoom-zebra",
        "1. abacus 2. abdomen 3. abide 4. ability 5. zoom 6. zebra",
        "ａｂａｃｕｓ abdomen abide ability zoom zebra",
    ],
)
def test_as_people_type_them(typed: str) -> None:
    assert words.read(typed) == ("abacus", "abdomen", "abide", "ability", "zoom", "zebra")


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "No word is written here; there are 6"),
        ("abacus", "1 word is written here"),
        ("abacus abdomen abide ability zoom", "5 words are written here"),
        ("abacus abdomen abide ability zoom zebra zero", "7 words are written here"),
        ("abacus abdomen abide abilty zoom zebra", "“abilty” is not one of the words used here. Did you"),
        ("abacus abdomen xqxqxq ability zoom zebra", "“xqxqxq” is not one of the words used here. Look at"),
        ("yo-yo abdomen abide ability zoom zebra", "“yo” is not one of the words"),
        ("x" * 5000, "is not one of the words used here"),
    ],
)  # fmt: skip
def test_what_is_not_six_words_of_the_list(typed: str, says: str) -> None:
    with pytest.raises(Refusal) as refused:
        words.read(typed)
    assert says in refused.value.message
    assert refused.value.field == "words"
    assert len(refused.value.message) < 200


def test_by_words_once(session: Session, ida: Maker) -> None:
    made = moving.offer(session, ida.notebook_id, NOW)
    taken = moving.take_by_words(session, words.read(" ".join(made.words).title()), SOON)
    assert taken.notebook_id == ida.notebook_id
    assert taken.secret != ida.secret
    assert joining.notebook_at(session, taken.secret).notebook_id == ida.notebook_id
    assert joining.notebook_at(session, ida.secret).notebook_id == ida.notebook_id
    with pytest.raises(Refusal, match="open nothing"):
        moving.take_by_words(session, made.words, SOON)
    with pytest.raises(NotFound):
        moving.take_by_link(session, made.link_secret, SOON)


def test_by_link_once(session: Session, ida: Maker) -> None:
    made = moving.offer(session, ida.notebook_id, NOW)
    for _ in range(2):  # looking at it uses nothing up
        assert moving.offered(session, made.link_secret, SOON).nickname == "Ida"
    moving.take_by_link(session, made.link_secret, SOON)
    for again in (moving.offered, moving.take_by_link):
        with pytest.raises(NotFound):
            again(session, made.link_secret, SOON)
    with pytest.raises(Refusal):
        moving.take_by_words(session, made.words, SOON)


def test_after_a_quarter_of_an_hour_it_holds_no_more(session: Session, ida: Maker) -> None:
    made = moving.offer(session, ida.notebook_id, NOW)
    with pytest.raises(NotFound):
        moving.offered(session, made.link_secret, LATE)
    with pytest.raises(Refusal):
        moving.take_by_words(session, made.words, LATE)


def test_a_new_offer_takes_the_place_of_the_one_before(session: Session, ida: Maker) -> None:
    first = moving.offer(session, ida.notebook_id, NOW)
    second = moving.offer(session, ida.notebook_id, NOW)
    with pytest.raises(Refusal):
        moving.take_by_words(session, first.words, SOON)
    assert moving.take_by_words(session, second.words, SOON).notebook_id == ida.notebook_id
    assert session.exec(select(NotebookMove)).all() == []


def test_nothing_that_opens_is_kept_as_it_is(session: Session, ida: Maker) -> None:
    made = moving.offer(session, ida.notebook_id, NOW)
    kept = str(session.connection().execute(text("SELECT * FROM notebook_move")).all())
    assert made.link_secret not in kept
    assert all(word not in kept for word in made.words)


def test_a_lost_device_is_shut_out_and_told(session: Session, ida: Maker) -> None:
    phone = moving.take_by_words(session, moving.offer(session, ida.notebook_id, NOW).words, NOW)
    card = ways.add_key(session, ida.notebook_id, "card", NOW)
    open_ways = ways.ways_in(session, ida.notebook_id, ida.secret)
    assert [(way.how, way.here) for way in open_ways] == [("link", True), ("device", False), ("card", False)]
    key_id = open_ways[1].key_id
    assert key_id is not None
    for _ in range(2):
        ways.shut_out(session, ida.notebook_id, key_id, ida.secret, SOON)
    with pytest.raises(Gone, match="shut out of it on 5 November 2026"):
        joining.notebook_at(session, phone.secret)
    assert joining.notebook_at(session, card).notebook_id == ida.notebook_id
    assert joining.notebook_at(session, ida.secret).notebook_id == ida.notebook_id


def test_the_device_at_hand_is_not_shut_out(session: Session, ida: Maker) -> None:
    phone = moving.take_by_words(session, moving.offer(session, ida.notebook_id, NOW).words, NOW)
    key_id = ways.ways_in(session, ida.notebook_id, phone.secret)[1].key_id
    assert key_id is not None
    with pytest.raises(Refusal, match="Take the notebook off it"):
        ways.shut_out(session, ida.notebook_id, key_id, phone.secret, NOW)


def test_nobody_shuts_out_of_another_notebook(session: Session, ida: Maker) -> None:
    other = Maker(session, ida.part_id, nickname="Una")
    ways.add_key(session, ida.notebook_id, "device", NOW)
    key_id = session.exec(select(NotebookKey.id)).one()
    assert key_id is not None
    with pytest.raises(NotFound):
        ways.shut_out(session, other.notebook_id, key_id, other.secret, NOW)


def test_a_new_link_in_the_place_of_the_old(session: Session, ida: Maker) -> None:
    phone = moving.take_by_words(session, moving.offer(session, ida.notebook_id, NOW).words, NOW)
    renewed = ways.renew_link(session, ida.notebook_id, ida.secret, SOON)
    assert renewed.exchange
    with pytest.raises(Gone):
        joining.notebook_at(session, ida.secret)
    for secret in (renewed.secret, phone.secret):
        assert joining.notebook_at(session, secret).notebook_id == ida.notebook_id
    assert not ways.renew_link(session, ida.notebook_id, phone.secret, SOON).exchange


def test_as_many_ways_as_can_be_overseen(session: Session, ida: Maker) -> None:
    for _ in range(ways.WAYS_MOST):
        ways.add_key(session, ida.notebook_id, "card", NOW)
    with pytest.raises(Refusal, match="Shut out those you no longer use"):
        ways.add_key(session, ida.notebook_id, "card", NOW)
