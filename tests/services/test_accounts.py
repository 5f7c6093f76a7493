"""Host accounts: one-time links, names and passwords, sessions."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from sqlmodel import Session, select

from server.services import accounts
from server.services.accounts import NewAccount, account_problems
from server.services.errors import NotFound, Refusal
from server.storage.tables import Host, HostInvite, HostSession

NOW = datetime(2026, 11, 5, 20, 0, tzinfo=UTC)
FORM = NewAccount("Marit.H", "Marit  Hollow", "three old lamps")


@pytest.fixture
def host_id(session: Session) -> int:
    """Marit's account."""
    return accounts.make_account(session, accounts.invite(session, NOW), FORM, NOW)


def test_a_link_makes_one_account_with_tidy_names(session: Session) -> None:
    token = accounts.invite(session, NOW)
    host_id = accounts.make_account(session, token, FORM, NOW + timedelta(days=6))
    host = session.get_one(Host, host_id)
    assert (host.sign_in_name, host.shown_name) == ("marit.h", "Marit Hollow")
    with pytest.raises(NotFound):
        accounts.make_account(session, token, NewAccount("other", "Other", "three old lamps"), NOW)


def test_a_link_ends_after_its_days(session: Session) -> None:
    token = accounts.invite(session, NOW)
    late = NOW + timedelta(days=accounts.INVITE_DAYS)
    assert accounts.open_invite(session, token, late - timedelta(seconds=1)).used_at is None
    with pytest.raises(NotFound):
        accounts.open_invite(session, token, late)


def test_neither_tokens_nor_passwords_are_kept(session: Session, host_id: int) -> None:
    token = accounts.sign_in(session, host_id, NOW)
    host = session.get_one(Host, host_id)
    assert host.password_hash.startswith("$argon2id$")
    assert FORM.password not in host.password_hash
    kept = [row.token_hash for row in session.exec(select(HostSession))]
    assert len(kept) == 1
    assert token not in kept
    assert all(len(row.token_hash) == 64 for row in session.exec(select(HostInvite)))


@pytest.mark.parametrize(
    ("form", "field", "says"),
    [
        (NewAccount("ma", "Marit", "three old lamps"), "sign_in_name", "3 to 40"),
        (NewAccount("marit@home", "Marit", "three old lamps"), "sign_in_name", "letters a to z"),
        (NewAccount(".marit", "Marit", "three old lamps"), "sign_in_name", "between them"),
        (NewAccount("m" * 41, "Marit", "three old lamps"), "sign_in_name", "3 to 40"),
        (NewAccount("marit", "", "three old lamps"), "shown_name", "at least one letter"),
        (NewAccount("marit", "\u202e\u200b ", "three old lamps"), "shown_name", "at least one letter"),
        (NewAccount("marit", "M" * 61, "three old lamps"), "shown_name", "61 characters"),
        (NewAccount("marit", "Marit", "lamps"), "password", "5 characters"),
        (NewAccount("marit", "Marit", "x" * 201), "password", "201 characters"),
        (NewAccount("marit.hollow", "Marit", "Marit.Hollow"), "password", "not your name"),
    ],
)
def test_what_is_to_be_put_right_stands_at_its_field(form: NewAccount, field: str, says: str) -> None:
    problems = account_problems(form)
    assert list(problems) == [field]
    assert says in problems[field]


def test_all_fields_are_looked_at_together() -> None:
    assert set(account_problems(NewAccount("", "", ""))) == {"sign_in_name", "shown_name", "password"}


def test_a_taken_name_is_refused_in_any_spelling_and_the_link_stays(session: Session, host_id: int) -> None:
    token = accounts.invite(session, NOW)
    with pytest.raises(Refusal) as refused:
        accounts.make_account(session, token, NewAccount(" MARIT.h ", "Marit", "another old lamp"), NOW)
    assert refused.value.field == "sign_in_name"
    assert accounts.open_invite(session, token, NOW).used_at is None


def test_name_and_password_belong_together(session: Session, host_id: int) -> None:
    assert accounts.check_password(session, " Marit.H", "three old lamps") == host_id


@pytest.mark.parametrize(
    ("name", "password"),
    [
        ("marit.h", "Three old lamps"),
        ("marit.h", "three old lamps "),
        ("nobody", "three old lamps"),
        ("marit.h", ""),
        ("marit.h", "three old lamps" + "x" * 100_000),
        ("marit.h\x00", "three old lamps"),
    ],
)
def test_every_wrong_pair_is_refused_in_the_same_words(
    session: Session, host_id: int, name: str, password: str
) -> None:
    with pytest.raises(Refusal) as refused:
        accounts.check_password(session, name, password)
    assert refused.value.message == accounts.WRONG


def test_a_session_lasts_until_nobody_has_come_for_long(session: Session, host_id: int) -> None:
    token = accounts.sign_in(session, host_id, NOW)
    assert accounts.signed_in(session, token, NOW) == (accounts.SignedIn(host_id, "Marit Hollow"), False)
    later = NOW + timedelta(days=accounts.SESSION_DAYS - 1)
    found = accounts.signed_in(session, token, later)
    assert found is not None
    assert found[1], "it is due to be written down that she came"
    accounts.seen(session, token, later)
    assert accounts.signed_in(session, token, NOW + timedelta(days=accounts.SESSION_DAYS)) is not None
    assert accounts.signed_in(session, token, later + timedelta(days=accounts.SESSION_DAYS)) is None


def test_signing_out_closes_this_session_only(session: Session, host_id: int) -> None:
    phone, desk = accounts.sign_in(session, host_id, NOW), accounts.sign_in(session, host_id, NOW)
    accounts.sign_out(session, phone)
    accounts.sign_out(session, phone)
    assert accounts.signed_in(session, phone, NOW) is None
    assert accounts.signed_in(session, desk, NOW) is not None


def test_old_sessions_are_cleared_away_at_the_next_sign_in(session: Session, host_id: int) -> None:
    accounts.sign_in(session, host_id, NOW)
    accounts.sign_in(session, host_id, NOW + timedelta(days=accounts.SESSION_DAYS + 1))
    assert len(session.exec(select(HostSession)).all()) == 1


def test_any_host(session: Session) -> None:
    assert not accounts.any_host(session)
    accounts.make_account(session, accounts.invite(session, NOW), FORM, NOW)
    assert accounts.any_host(session)
