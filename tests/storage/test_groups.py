"""Writers that are committed together: each stands for itself, and all are told the truth."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable, Iterator, Sequence

import pytest
from sqlalchemy import Engine, event, text
from sqlalchemy.exc import DatabaseError, IntegrityError, OperationalError
from sqlmodel import Session, select

from server.settings import Settings
from server.storage import groups, sessions
from server.storage.groups import Closed, GroupLost, Member, Writer, at_the_end
from server.storage.sessions import open_engine, reading, writing
from server.storage.tables import Host, Notebook

WITHIN_S = 20.0


class Line:
    """A writer, and a way to have a crowd in one group: nobody is let through before all are in line."""

    def __init__(self, engine: Engine) -> None:
        self.told: dict[int, Member] = {}
        self.one_more = threading.Condition()
        self.groups: list[int] = []
        self.writer = Writer(engine, self._deliver)

    def _deliver(self, members: Sequence[Member]) -> None:
        with self.one_more:
            self.groups.append(len(members))
            self.told |= {id(member): member for member in members}
            self.one_more.notify_all()

    def wait(self, members: Sequence[Member]) -> None:
        """Until all of them have been told."""
        with self.one_more:
            everyone = {id(member) for member in members}
            assert self.one_more.wait_for(lambda: everyone <= set(self.told), WITHIN_S)

    def together(self, *works: Callable[[Session], object]) -> list[Member]:
        """Their members, told."""
        all_here = threading.Event()
        door = Member(lambda _: all_here.wait(WITHIN_S))
        members = [Member(work) for work in works]
        for member in (door, *members):
            self.writer.submit(member)
        all_here.set()
        self.wait(members)
        return members


@pytest.fixture
def line(engine: Engine) -> Iterator[Line]:
    line = Line(engine)
    yield line
    line.writer.close()


def adds(name: str) -> Callable[[Session], str]:
    def work(session: Session) -> str:
        session.add(Host(sign_in_name=name, shown_name=name, password_hash="-"))
        session.flush()
        return name

    return work


def hosts(engine: Engine) -> set[str]:
    with reading(engine) as session:
        return set(session.exec(select(Host.sign_in_name)).all())


def test_128_at_once_and_one_that_cannot_be(engine: Engine, line: Line) -> None:
    commits = []
    event.listen(engine, "commit", lambda _: commits.append(1))
    works = [adds(f"host {n}") for n in range(127)]
    works.insert(64, adds("host 3"))
    members = line.together(*works)
    assert isinstance(members[64].failure, IntegrityError)
    others = members[:64] + members[65:]
    assert [member.failure for member in others] == [None] * 127
    assert {member.result for member in others} == hosts(engine) == {f"host {n}" for n in range(127)}
    assert len(commits) == 1
    assert line.groups == [129]


def test_many_threads_lose_nothing(engine: Engine, line: Line) -> None:
    everyone: list[Member] = []

    def log(writer: int) -> None:
        for n in range(8):
            member = Member(adds(f"{writer}-{n}"))
            everyone.append(member)
            line.writer.submit(member)
            line.wait([member])
            assert f"{writer}-{n}" in hosts(engine), "told before it was written"

    threads = [threading.Thread(target=log, args=(n,)) for n in range(16)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(WITHIN_S * 3)
    assert [member.failure for member in everyone] == [None] * 128
    assert len(hosts(engine)) == 128


def test_a_group_has_an_end(engine: Engine, line: Line, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(groups, "MEMBERS_MOST", 10)
    members = line.together(*(adds(f"host {n}") for n in range(25)))
    assert all(member.failure is None for member in members)
    assert line.groups == [10, 10, 6]


def test_a_member_takes_back_what_it_did_and_goes_on(engine: Engine, line: Line) -> None:
    """As a form does that is refused: rolled back, and its page then made in the same session."""

    def second_thoughts(session: Session) -> int:
        adds("regretted")(session)
        session.rollback()
        adds("kept")(session)
        return len(session.exec(select(Host)).all())

    members = line.together(adds("before"), second_thoughts, adds("after"))
    assert [member.result for member in members] == ["before", 2, "after"]
    assert hosts(engine) == {"before", "kept", "after"}


def test_a_commit_that_fails_is_told_to_everybody(engine: Engine, line: Line) -> None:
    def orphan(session: Session) -> None:
        session.connection().exec_driver_sql("PRAGMA defer_foreign_keys=ON")
        session.add(Notebook(along_id=99, secret_hash="-", nickname="Fern"))

    members = line.together(adds("a"), orphan, adds("b"))
    assert all(isinstance(member.failure, IntegrityError) for member in members)
    assert hosts(engine) == set()
    assert line.together(adds("c"))[0].failure is None
    assert hosts(engine) == {"c"}


def test_a_full_disk_is_told_to_whom_it_concerns(engine: Engine, line: Line) -> None:
    """Nothing that was told as written is missing, and nothing that was not is there."""
    limit = {"pages": 0}

    def set_limit(connection: sqlite3.Connection, *_: object) -> None:
        if limit["pages"]:
            connection.execute(f"PRAGMA max_page_count={limit['pages']}")

    engine.dispose()
    event.listen(engine, "checkout", set_limit)
    with reading(engine) as session:
        pages = int(session.connection().execute(text("PRAGMA page_count")).scalar_one())
    limit["pages"] = pages + 6
    members = line.together(*(adds(f"{n}:" + "x" * 3000) for n in range(12)))
    failed = [member for member in members if member.failure is not None]
    assert failed
    assert all(isinstance(member.failure, DatabaseError | GroupLost) for member in failed)
    assert hosts(engine) == {str(member.result) for member in members if member.failure is None}
    limit["pages"] = pages + 1000
    assert line.together(adds("when there is room"))[0].failure is None
    assert "when there is room" in hosts(engine)


def test_a_transaction_that_sqlite_gave_up_is_told_to_everybody(engine: Engine, line: Line) -> None:
    """What comes after must not be written by itself, nor what came before be told as written."""

    def give_up(session: Session) -> None:
        connection = session.connection().connection.driver_connection
        assert isinstance(connection, sqlite3.Connection)
        connection.execute("ROLLBACK")

    members = line.together(adds("a"), give_up, adds("b"))
    assert isinstance(members[0].failure, GroupLost)
    assert isinstance(members[1].failure, GroupLost)
    written = {str(member.result) for member in members if member.failure is None}
    assert hosts(engine) == written
    assert "a" not in written


def test_another_process_that_writes_too_long_hangs_nobody(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sessions, "BUSY_MS", 300)
    engine = open_engine(settings.database)
    line = Line(engine)
    other = sqlite3.connect(settings.database, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    members = [Member(adds(f"host {n}")) for n in range(50)]
    for member in members:
        line.writer.submit(member)
    line.wait(members)
    assert all(isinstance(member.failure, OperationalError) for member in members)
    assert len(line.groups) <= 3, "they waited together"
    other.execute("ROLLBACK")
    assert line.together(adds("after"))[0].failure is None
    line.writer.close()
    other.close()
    assert hosts(engine) == {"after"}
    engine.dispose()


def test_what_is_done_at_the_end_is_done_once(engine: Engine, line: Line) -> None:
    def counts_up(session: Session) -> None:
        adds(f"host {len(session.exec(select(Host)).all())}")(session)
        assert at_the_end(
            session, "sum", adds("of one"), lambda last: adds(f"of {len(hosts_in(last))}")(last)
        )

    def hosts_in(session: Session) -> Sequence[Host]:
        return session.exec(select(Host)).all()

    members = line.together(counts_up, counts_up, counts_up)
    assert all(member.failure is None for member in members)
    assert hosts(engine) == {"host 0", "host 1", "host 2", "of 3"}
    with writing(engine) as session:
        assert not at_the_end(session, "sum", adds("never"), adds("never")), "it is in no group"


def test_who_takes_it_all_back_asks_for_nothing(engine: Engine, line: Line) -> None:
    def stays(session: Session) -> None:
        at_the_end(session, "end", adds("alone"), adds("several"))

    def goes(session: Session) -> None:
        stays(session)
        raise ZeroDivisionError

    def thinks_again(session: Session) -> None:
        stays(session)
        session.rollback()

    line.together(goes, stays, goes, thinks_again)
    assert hosts(engine) == {"alone"}


def test_an_end_that_fails_takes_nobody_with_it(
    engine: Engine, line: Line, caplog: pytest.LogCaptureFixture
) -> None:
    def bad_end(session: Session) -> None:
        adds("a")(session)
        at_the_end(session, "end", adds("a"), adds("a"))

    def good_end(session: Session) -> None:
        at_the_end(session, "good", adds("b"), adds("c"))

    assert [member.failure for member in line.together(bad_end, good_end)] == [None, None]
    assert hosts(engine) == {"a", "b"}
    assert "the end of a group" in caplog.text


def test_closing_lets_those_in_line_through(engine: Engine) -> None:
    line = Line(engine)
    all_here = threading.Event()
    members = [Member(lambda _: all_here.wait(WITHIN_S)), *(Member(adds(f"host {n}")) for n in range(20))]
    for member in members:
        line.writer.submit(member)
    closing = threading.Thread(target=line.writer.close)
    closing.start()
    all_here.set()
    closing.join(WITHIN_S)
    assert not closing.is_alive()
    assert all(member.failure is None for member in members)
    assert len(hosts(engine)) == 20
    with pytest.raises(Closed):
        line.writer.submit(Member(adds("late")))
