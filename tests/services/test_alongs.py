"""Alongs and their parts: made, named, put in order, handed out."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from datetime import UTC, datetime

import pytest
from sqlmodel import Session

from server.services import alongs
from server.services.errors import NotFound, Refusal
from server.storage.tables import Host, Notebook, Part, PatternVersion

NOW = datetime(2026, 11, 5, 20, 0, tzinfo=UTC)


def a_host(session: Session, name: str) -> int:
    host = Host(sign_in_name=name, shown_name=name.title(), password_hash="x")
    session.add(host)
    session.flush()
    assert host.id is not None
    return host.id


@pytest.fixture
def marit(session: Session) -> int:
    """A host."""
    return a_host(session, "marit")


@pytest.fixture
def other(session: Session) -> int:
    """Another host."""
    return a_host(session, "other")


def test_an_along_as_it_is_made(session: Session, marit: int) -> None:
    along_id = alongs.make(session, marit, "  Harbour\thands ", "Thursdays\r\nat eight\n", NOW)
    view = alongs.one(session, marit, along_id)
    assert (view.title, view.welcome, view.makers, view.parts) == (
        "Harbour hands", "Thursdays\nat eight", 0, (),
    )  # fmt: skip


def test_codes_have_six_letters_that_cannot_be_mistaken(session: Session, marit: int) -> None:
    codes = {
        alongs.one(session, marit, alongs.make(session, marit, f"A{n}", "", NOW)).join_code for n in range(60)
    }
    assert len(codes) == 60
    assert {len(code) for code in codes} == {6}
    assert set("".join(codes)).isdisjoint("0O1IL2Z5S8BUV")
    assert "".join(codes) == "".join(codes).upper()


@pytest.mark.parametrize(
    ("title", "says"),
    [("", "Give the along a title"), (" \u200b!", "Give the along a title"), ("x" * 81, "81 characters")],
)
def test_a_title_that_cannot_be_is_refused_at_its_field(
    session: Session, marit: int, title: str, says: str
) -> None:
    with pytest.raises(Refusal, match=says) as refused:
        alongs.make(session, marit, title, "", NOW)
    assert refused.value.field == "title"


def test_a_welcome_that_is_too_long_changes_nothing(session: Session, marit: int) -> None:
    along_id = alongs.make(session, marit, "Harbour hands", "Hello", NOW)
    with pytest.raises(Refusal) as refused:
        alongs.rename(session, marit, along_id, "Other", "x" * 2001)
    assert refused.value.field == "welcome"
    assert alongs.one(session, marit, along_id).title == "Harbour hands"


def test_renaming(session: Session, marit: int) -> None:
    along_id = alongs.make(session, marit, "Harbour hands", "Hello", NOW)
    code = alongs.one(session, marit, along_id).join_code
    alongs.rename(session, marit, along_id, "Harbour feet", "")
    view = alongs.one(session, marit, along_id)
    assert (view.title, view.welcome, view.join_code) == ("Harbour feet", "", code)


def test_another_hosts_along_reads_as_if_there_were_none(session: Session, marit: int, other: int) -> None:
    along_id = alongs.make(session, marit, "Harbour hands", "", NOW)
    part_id = alongs.add_part(session, marit, along_id, "Wristers")
    said = set()
    for asked in (
        lambda: alongs.one(session, other, along_id),
        lambda: alongs.one(session, other, along_id + 100),
        lambda: alongs.rename(session, other, along_id, "Mine", ""),
        lambda: alongs.add_part(session, other, along_id, "Mine"),
        lambda: alongs.rename_part(session, other, part_id, "Mine"),
        lambda: alongs.move_part(session, other, part_id, "later"),
        lambda: alongs.own_part(session, other, part_id + 100),
    ):
        with pytest.raises(NotFound) as refused:
            asked()
        said.add(refused.value.message)
    assert len(said) == 1
    assert alongs.of_host(session, other) == ()


def test_her_list_is_newest_first_with_parts_and_makers(session: Session, marit: int, other: int) -> None:
    first = alongs.make(session, marit, "First", "", NOW)
    second = alongs.make(session, marit, "Second", "", NOW)
    foreign = alongs.make(session, other, "Foreign", "", NOW)
    alongs.add_part(session, marit, first, "Wristers")
    alongs.add_part(session, marit, first, "Hat")
    alongs.add_part(session, other, foreign, "Socks")
    session.add(Notebook(along_id=first, secret_hash="s", nickname="Oda"))
    session.flush()
    lines = [(line.title, line.parts, line.makers) for line in alongs.of_host(session, marit)]
    assert lines == [("Second", 0, 0), ("First", 2, 1)]
    assert second != first


def test_parts_move_among_each_other_and_no_further(session: Session, marit: int) -> None:
    along_id = alongs.make(session, marit, "Harbour hands", "", NOW)
    a, b, c = (alongs.add_part(session, marit, along_id, title) for title in "abc")

    def order() -> str:
        return "".join(part.title for part in alongs.one(session, marit, along_id).parts)

    assert order() == "abc"
    alongs.move_part(session, marit, c, "earlier")
    assert order() == "acb"
    alongs.move_part(session, marit, a, "earlier")
    alongs.move_part(session, marit, b, "later")
    assert order() == "acb"
    alongs.move_part(session, marit, a, "later")
    assert order() == "cab"
    parts = alongs.one(session, marit, along_id).parts
    assert [(part.is_first, part.is_last) for part in parts] == [(True, False), (False, False), (False, True)]


def test_a_part_says_whether_its_draft_is_published(session: Session, marit: int) -> None:
    along_id = alongs.make(session, marit, "Harbour hands", "", NOW)
    part_id = alongs.add_part(session, marit, along_id, "Wristers")

    def line() -> tuple[int | None, bool]:
        part = alongs.one(session, marit, along_id).parts[0]
        return part.version, part.changed

    assert line() == (None, False)
    part = session.get_one(Part, part_id)
    part.draft_text = "Title: x"
    assert line() == (None, True)
    for number in (1, 2):
        session.add(PatternVersion(part_id=part_id, number=number, text="Title: x", title="x"))
    session.flush()
    assert line() == (2, False)
    part.draft_text = "Title: y"
    assert line() == (2, True)


def test_an_along_has_a_bounded_number_of_parts(session: Session, marit: int) -> None:
    along_id = alongs.make(session, marit, "Harbour hands", "", NOW)
    for number in range(alongs.PARTS_MOST):
        alongs.add_part(session, marit, along_id, f"Part {number}")
    with pytest.raises(Refusal, match="60 parts at most"):
        alongs.add_part(session, marit, along_id, "One more")


def test_the_qr_picture_is_a_dark_code_on_light_with_its_quiet_zone() -> None:
    picture = ET.fromstring(alongs.qr_picture("https://evenhand.test/join/TXT4WP"))
    svg = "{http://www.w3.org/2000/svg}"
    assert picture.tag == svg + "svg"
    # Version 3 (29 modules, 53 bytes at level L, 42 at M by ISO/IEC 18004 table 7) holds the 33 bytes; 4
    # modules of quiet zone on each side; 8 units a module.
    assert picture.get("width") == str((29 + 2 * 4) * 8)
    light, dark = picture.iter(svg + "path")
    assert (light.get("fill"), dark.get("stroke")) == ("#fff", "#000")
    assert alongs.qr_picture("https://evenhand.test/join/TXT4WQ") != alongs.qr_picture(
        "https://evenhand.test/join/TXT4WP"
    )
