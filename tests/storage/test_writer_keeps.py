"""What the writer keeps is as good as read: it goes with what is rolled back, and with any write at all."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable

import pytest
from sqlalchemy import Engine
from sqlmodel import Session, select

from server.settings import Settings
from server.storage import kept as keeping
from server.storage import statements
from server.storage.groups import MemberSession
from server.storage.kept import Kept, kept_in
from server.storage.sessions import reading, writing
from server.storage.statements import PlaceRow
from server.storage.tables import Host, Notebook
from tests.storage.rows import Rows, fill
from tests.storage.test_groups import Line, adds
from tests.storage.test_groups import line as line

KEY = "a key"
Work = Callable[[Session], object]


@pytest.fixture
def rows(engine: Engine) -> Rows:
    with writing(engine) as session:
        return fill(session)


def of(session: Session) -> Kept:
    kept = kept_in(session)
    assert kept is not None
    return kept


def puts(value: object) -> Work:
    return lambda session: of(session).put(KEY, value)


def gets(session: Session) -> object:
    return of(session).get(KEY)


def test_it_is_kept_for_the_next_member_and_the_next_group(line: Line) -> None:
    _, first = line.together(puts("it"), gets)
    (second,) = line.together(gets)
    assert (first.result, second.result) == ("it", "it")
    assert line.groups == [3, 2]


def test_no_other_session_has_anything_kept(engine: Engine) -> None:
    with writing(engine) as one, reading(engine) as another:
        assert kept_in(one) is None
        assert kept_in(another) is None


def puts_and_fails(session: Session) -> None:
    of(session).put(KEY, "never written")
    raise ZeroDivisionError


def puts_and_takes_back(session: Session) -> object:
    of(session).put(KEY, "never written")
    session.rollback()
    return gets(session)


def test_it_goes_with_the_member_that_is_rolled_back(line: Line) -> None:
    assert line.together(puts("before"), puts_and_fails, gets)[2].result is None
    assert line.together(puts("before"), puts_and_takes_back, gets)[2].result is None
    assert line.together(puts_and_takes_back)[0].result is None


def test_what_a_failing_member_did_not_touch_stays(line: Line) -> None:
    def fails(_: Session) -> None:
        raise ZeroDivisionError

    assert line.together(puts("it"), fails, gets)[2].result == "it"


def test_it_goes_with_the_group_that_cannot_be_committed(line: Line) -> None:
    def orphan(session: Session) -> None:
        session.connection().exec_driver_sql("PRAGMA defer_foreign_keys=ON")
        session.add(Notebook(along_id=99, secret_hash="-", nickname="Fern"))

    def same_value_is_there(session: Session) -> object:
        return of(session).outdated(KEY)

    assert all(member.failure for member in line.together(orphan, puts("never written")))
    assert line.together(same_value_is_there)[0].result is None


def writes(name: str) -> Work:
    def work(session: Session) -> object:
        adds(name)(session)
        return gets(session)

    return work


def holds_back(session: Session) -> object:
    """Something that the session has not sent yet is a write too."""
    session.add(Host(sign_in_name="held back", shown_name="H", password_hash="-"))
    return gets(session)


@pytest.mark.parametrize("write", [writes("a"), holds_back])
def test_any_write_outdates_it_at_once(line: Line, write: Work) -> None:
    _, wrote, after = line.together(puts("old"), write, gets)
    assert (wrote.failure, wrote.result, after.result) == (None, None, None)
    (before,) = line.together(lambda session: of(session).outdated(KEY))
    assert before.result == "old", "it may still be compared"


def test_a_write_that_was_taken_back_outdates_it_only_to_be_safe(engine: Engine, line: Line) -> None:
    def regrets(session: Session) -> None:
        adds("regretted")(session)
        session.rollback()
        of(session).put(KEY, "read after it")

    assert line.together(puts("old"), regrets, gets)[2].result == "read after it"
    with reading(engine) as session:
        assert session.exec(select(Host)).all() == []


def test_another_connection_of_this_process_outdates_it(engine: Engine, line: Line) -> None:
    line.together(puts("old"))
    with writing(engine) as session:
        adds("by hand")(session)
    assert line.together(gets)[0].result is None


def test_another_process_outdates_it(settings: Settings, line: Line) -> None:
    line.together(puts("old"))
    other = sqlite3.connect(settings.database, isolation_level=None)
    other.execute(
        "INSERT INTO host (sign_in_name, shown_name, password_hash, created_at) VALUES (1, 2, 3, 4)"
    )
    other.close()
    assert line.together(gets)[0].result is None


def test_reading_outdates_nothing(engine: Engine, line: Line) -> None:
    line.together(puts("it"))
    with reading(engine) as session:
        session.exec(select(Host)).all()
    assert line.together(lambda session: session.exec(select(Host)).all(), gets)[1].result == "it"


def test_the_writes_of_every_tap_outdate_nothing_but_what_they_change(line: Line, rows: Rows) -> None:
    def tap(session: Session) -> None:
        entry = statements.EntryRow(
            "of-a-tap", 1, "note", "{}", "2026-11-20", "phone", 1, "2026-11-20 19:30:00"
        )
        statements.insert_entries(session, rows.project, [entry])
        statements.put_place(
            session, PlaceRow(rows.project, 1, None, "", "", None, None, "", "2026-11-20 19:30:00")
        )
        statements.put_seen(session, rows.notebook, statements.moment_kept("2026-11-20 19:30:00"))

    def tap_and_more(session: Session) -> None:
        statements.put_seen(session, 999, statements.moment_kept("2026-11-20 19:30:00"))  # there is none
        adds("besides")(session)

    _, tapped, after = line.together(puts("it"), tap, gets)
    assert (tapped.failure, after.result) == (None, "it")
    assert line.together(tap_and_more, gets)[1].result is None


def test_what_is_used_last_stays(line: Line, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(keeping, "WEIGHT_MOST", 10)

    def work(session: Session) -> list[object]:
        kept = of(session)
        for name in "abc":
            kept.put(name, name.upper(), 3)
        kept.get("a")
        kept.put("d", "D", 4)  # too heavy by 3: the one that was used longest ago goes
        kept.put("d", "D", 4)  # in its own place it weighs nothing more
        return [kept.get(name) for name in "abcd"]

    assert line.together(work)[0].result == ["A", None, "C", "D"]


def test_a_session_is_handed_on_only_as_good_as_new(line: Line) -> None:
    seen: list[Session] = []
    loaded: list[Host] = []

    def looks(session: Session) -> None:
        seen.append(session)

    def loads(session: Session) -> object:
        looks(session)
        loaded.append(session.exec(select(Host)).one())
        return loaded[-1].shown_name

    def renames(session: Session) -> None:
        looks(session)
        statements.rows(session, "UPDATE host SET shown_name = 'Renamed'", ())

    members = line.together(adds("a"), looks, looks, loads, renames, loads)
    assert [member.failure for member in members] == [None] * 6
    assert [member.result for member in members] == ["a", None, None, "a", None, "Renamed"]
    assert seen[0] is seen[1] is seen[2]
    assert seen[3] is not seen[2], "it has a host in hand, who may be another one by now"
    assert all(isinstance(each, MemberSession) for each in seen)


def test_nothing_of_one_turn_is_told_to_the_next(line: Line) -> None:
    def leaves(session: Session) -> None:
        session.info["mine"] = "not yours"

    assert line.together(leaves, lambda session: session.info.get("mine"))[1].result is None


def test_plain_statements_and_the_orm_are_rolled_back_together(engine: Engine, line: Line) -> None:
    """The plain ones come first, where SQLAlchemy has begun nothing yet."""

    def both(session: Session) -> None:
        statements.rows(
            session,
            "INSERT INTO host (sign_in_name, shown_name, password_hash, created_at) "
            "VALUES ('plain', 'P', '-', '2026-11-20 19:30:00')",
            (),
        )
        adds("orm")(session)

    def both_and_fails(session: Session) -> None:
        both(session)
        raise ZeroDivisionError

    def both_and_takes_back(session: Session) -> int:
        both(session)
        session.rollback()
        return len(session.exec(select(Host)).all())

    assert line.together(both_and_fails, both_and_takes_back)[1].result == 0
    with reading(engine) as session:
        assert session.exec(select(Host)).all() == []
    line.together(both)
    with reading(engine) as session:
        assert set(session.exec(select(Host.sign_in_name)).all()) == {"plain", "orm"}
