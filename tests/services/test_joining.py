"""Joining: codes as people type them, gentle nickname rules, secrets that are never stored."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from sqlmodel import Session, select

from server.services import joining
from server.services.errors import NotFound, Refusal
from server.storage.tables import Along, Host, Notebook

NOW = datetime(2026, 11, 5, 20, 0, tzinfo=UTC)


@pytest.fixture
def along(session: Session) -> Along:
    """An along that can be joined with KAJ-947."""
    host = Host(sign_in_name="marit", shown_name="Marit Hollow", password_hash="-")
    session.add(host)
    session.flush()
    assert host.id is not None
    along = Along(host_id=host.id, title="Lamp evenings", welcome="Bring wool.", join_code="KAJ947")
    session.add(along)
    session.flush()
    return along


def join(session: Session, nickname: str, secret: str = "") -> joining.Joined:
    return joining.join(session, "KAJ947", nickname, secret or joining.new_secret(), NOW)


@pytest.mark.parametrize("typed", ["KAJ947", "kaj947", " kaj 947 ", "KAJ-947", "k.a.j–947"])
def test_a_code_is_read_as_people_type_it(session: Session, along: Along, typed: str) -> None:
    found = joining.welcome(session, typed)
    assert (found.title, found.host_name, found.code) == ("Lamp evenings", "Marit Hollow", "KAJ947")


@pytest.mark.parametrize("typed", ["KAJ948", "", "KAJ9477", "%", "KAJ94_"])
def test_an_unknown_code_opens_nothing(session: Session, along: Along, typed: str) -> None:
    with pytest.raises(NotFound):
        joining.welcome(session, typed)


def test_the_secret_opens_the_notebook_and_is_not_stored(session: Session, along: Along) -> None:
    joined = join(session, "Ida")
    row = session.exec(select(Notebook)).one()
    assert joined.secret not in repr(row.model_dump())
    kept = joining.notebook_at(session, joined.secret)
    assert (kept.notebook_id, kept.nickname, kept.along_title) == (row.id, "Ida", "Lamp evenings")
    for other in (joined.secret[:-1], joined.secret.swapcase(), row.secret_hash, ""):
        with pytest.raises(NotFound):
            joining.notebook_at(session, other)


def test_the_same_form_sent_twice_makes_one_notebook(session: Session, along: Along) -> None:
    secret = joining.new_secret()
    first = join(session, "Ida", secret)
    second = join(session, " Ida ", secret)
    assert (first.notebook_id, first.secret) == (second.notebook_id, second.secret)
    assert (first.is_new, second.is_new) == (True, False)
    assert len(session.exec(select(Notebook)).all()) == 1


def test_another_nickname_on_the_same_form_is_someone_else(session: Session, along: Along) -> None:
    """Two at one tablet: the second comes back to the page with the back button."""
    secret = joining.new_secret()
    ida, nils = join(session, "Ida", secret), join(session, "Nils", secret)
    assert ida.notebook_id != nils.notebook_id
    assert ida.secret != nils.secret


def test_a_weak_secret_is_not_taken(session: Session, along: Along) -> None:
    for weak in ("1234", "a" * 42, "a" * 44, "ä" * 43, "a" * 42 + "."):
        joined = join(session, f"Ida {weak[:3]}{len(weak)}", weak)
        assert joined.secret != weak
        assert joining.SECRET_SHAPE.fullmatch(joined.secret)


def test_a_nickname_is_used_once_in_an_along(session: Session, along: Along) -> None:
    join(session, "Ida")
    with pytest.raises(Refusal, match="already called ida") as refused:
        join(session, "ida")
    assert refused.value.field == "nickname"


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("  Ida   B. ", "Ida B."),
        ("Åse\u0301", "Åsé"),
        ("李 梅", "李 梅"),
        ("Ida\u202e\u0000\n2", "Ida 2"),
        ("👩\u200d🌾", "👩\u200d🌾"),
        ("7", "7"),
        ("a" * 30, "a" * 30),
    ],
)
def test_nicknames_are_tidied_gently(typed: str, shown: str) -> None:
    assert joining.tidy_nickname(typed) == shown


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "at least one letter"),
        ("   ", "at least one letter"),
        ("\u200d\u202e", "at least one letter"),
        ("...", "at least one letter"),
        ("a" * 31, "30 or fewer"),
        ("ida@home.example", "not an address"),
        ("www.ida.example", "not an address"),
        ("https://x", "not an address"),
    ],
)
def test_what_cannot_be_a_nickname_is_told_why(typed: str, says: str) -> None:
    with pytest.raises(Refusal, match=says) as refused:
        joining.tidy_nickname(typed)
    assert refused.value.field == "nickname"


def test_a_device_with_several_notebooks_gets_them_in_its_order(session: Session, along: Along) -> None:
    ida, nils = join(session, "Ida"), join(session, "Nils")
    kept = joining.notebooks_at(session, [nils.secret, "nothing", joining.new_secret(), ida.secret])
    assert [each.nickname for each in kept] == ["Nils", "Ida"]
    assert joining.notebooks_at(session, []) == ()
