"""Group commit: one thread writes, and what waits for it is committed together.

A COMMIT waits for the disk, and for little else. So the members of a group run one after another in the one
transaction, each in a SAVEPOINT of its own (one that fails is rolled back alone), and are told together once
the COMMIT of all is on the disk. A group ends when nobody waits any more or it is full. Where the COMMIT
fails, or the database gave the whole transaction up on the way, every member is told so: what one of them
read may have been written by another.
"""

from __future__ import annotations

import logging
import sqlite3
import threading
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from queue import Empty, SimpleQueue

from sqlalchemy import Connection, Engine
from sqlmodel import Session

from server.storage.kept import KEPT, Kept
from server.storage.savepoints import send
from server.storage.statements import IN_HAND

log = logging.getLogger(__name__)

MEMBERS_MOST = 256
SAVEPOINT = "member"  # SQLAlchemy's own, within it, have other names
AT_THE_END = "at the end of the group"  # key in a session's info: what the group does once, before its COMMIT
Closing = Callable[[Session], object]


class GroupLost(Exception):
    """The database gave up the transaction that this member was in; nothing of it was written."""


class Closed(Exception):
    """The writer has stopped; nothing was written."""


@dataclass(eq=False)
class Member:
    """One writer's part in a group.

    work      runs in the writer's thread, in a SAVEPOINT that an exception rolls back
    result    what work gave, once the group has ended
    failure   why nothing of it is written: its own exception, or the whole group's
    """

    work: Callable[[Session], object]
    result: object = None
    failure: BaseException | None = None


Deliver = Callable[[Sequence[Member]], None]


def at_the_end(session: Session, key: Hashable, alone: Closing, several: Closing) -> bool:
    """Has something done once for its key before the group's COMMIT: `alone` where this member was the only
    one to ask for it, `several` where others did too. False where the session is in no group: the caller does
    it then and there.
    """
    asked: dict[Hashable, tuple[Closing, Closing]] | None = session.info.get(AT_THE_END)
    if asked is None:
        return False
    asked[key] = (several if key in asked else alone, several)
    return True


class Writer:
    """The thread that writes for a process. `deliver` is called in it with the members of a group that has
    ended, each with its result or failure.
    """

    def __init__(self, engine: Engine, deliver: Deliver) -> None:
        self._engine = engine.execution_options(writing=True)
        self._deliver = deliver
        self._kept = Kept()
        self._held: Connection | None = None
        self._waiting: SimpleQueue[Member | None] = SimpleQueue()
        self._starting = threading.Lock()
        self._thread: threading.Thread | None = None
        self._closed = False

    def submit(self, member: Member) -> None:
        """Lines a member up; Closed where the writer has stopped."""
        with self._starting:  # with `close`: whoever is in line is before the end of it
            if self._closed:
                raise Closed
            if self._thread is None:
                self._thread = threading.Thread(target=self._run, name="writer", daemon=True)
                self._thread.start()
            self._waiting.put(member)

    def close(self) -> None:
        """Comes back once all who are in line have been told."""
        with self._starting:
            self._closed = True
            self._waiting.put(None)
        if self._thread is not None:
            self._thread.join()

    def _run(self) -> None:
        while (first := self._waiting.get()) is not None:
            members = [first]
            try:
                self._group(members)
            except BaseException as error:
                self._kept.clear()  # some of it may be of what is not written now
                self._give_back()
                for member in members:
                    member.failure = error
            self._deliver(members)
        self._give_back()

    def _group(self, members: list[Member]) -> None:
        """One transaction; `members` has the first, and grows by those who come to be in it."""
        connection = self._connection()
        try:
            transaction = connection.begin()
        except Exception:
            # They have waited as long; one after another would be for ever.
            members += self._all_waiting()
            raise
        group = _Group(connection, self._kept)
        done = 0
        while done < len(members):
            group.take_part(members[done])
            done += 1
            if done < MEMBERS_MOST and done == len(members):
                members += self._next()
        group.close()
        transaction.commit()

    def _connection(self) -> Connection:
        """The same for all groups: what it sees of others' writes tells whether what is kept still holds."""
        if self._held is None:
            self._held = self._engine.connect()
        return self._held

    def _give_back(self) -> None:
        """Ends whatever transaction is still open; the next group takes another connection."""
        held, self._held = self._held, None
        try:
            if held is not None:
                held.close()
        except Exception:  # it was broken before, which those concerned have been told
            log.warning("a connection that could not be given back", exc_info=True)

    def _next(self) -> list[Member]:
        try:
            member = self._waiting.get_nowait()
        except Empty:
            return []
        if member is None:
            self._waiting.put(None)  # the end; this group is committed first
            return []
        return [member]

    def _all_waiting(self) -> list[Member]:
        waiting: list[Member] = []
        while more := self._next():
            waiting += more
        return waiting


class MemberSession(Session):
    """A member's session. All of it stands in one SAVEPOINT that is not the session's own: SQLAlchemy's costs
    as much as ten rows, and most members need none. It begins one within where it is used as an ORM.
    """

    def __init__(self, connection: Connection, ours: sqlite3.Connection, kept: Kept) -> None:
        super().__init__(connection, join_transaction_mode="create_savepoint", expire_on_commit=False)
        self._ours = ours
        self._kept = kept

    def begin_turn(self) -> dict[Hashable, tuple[Closing, Closing]]:
        """Begins as a new session does; gives what the member asks for at the end of the group."""
        asked: dict[Hashable, tuple[Closing, Closing]] = {}
        self.info.clear()
        self.info |= {IN_HAND: self._ours, KEPT: self._kept, AT_THE_END: asked}
        return asked

    def rollback(self) -> None:
        """Takes back all that the member did and asked for; it may go on."""
        super().rollback()
        self.info[AT_THE_END].clear()
        self._kept.take_back()
        send(self._ours, f"ROLLBACK TO SAVEPOINT {SAVEPOINT}")

    def end_turn(self) -> None:
        """Writes down what is still held back."""
        if self.in_transaction():
            self.commit()

    @property
    def is_as_new(self) -> bool:
        """Whether the next member may have it, since it was not used as an ORM."""
        return not (self.in_transaction() or self.identity_map or self.new)


class _Group:
    """A transaction that has begun, and what its members asked for at its end."""

    def __init__(self, connection: Connection, kept: Kept) -> None:
        self._connection = connection
        ours = connection.connection.driver_connection
        assert isinstance(ours, sqlite3.Connection)
        self._ours = ours
        self._kept = kept
        self._closings: dict[Hashable, Closing] = {}
        self._session: MemberSession | None = None
        kept.begin_group(ours)

    def take_part(self, member: Member) -> None:
        """One member in a SAVEPOINT; what it asks for counts where it stays. GroupLost where the whole
        transaction is gone after it.

        SQLite rolls a transaction back on its own for some errors (a full disk is one). What came after
        would then be committed by itself, and what came before be told as written.
        """
        session = self._session or MemberSession(self._connection, self._ours, self._kept)
        self._session = None
        asked = session.begin_turn()
        self._kept.begin()
        try:
            send(self._ours, f"SAVEPOINT {SAVEPOINT}")
            member.result = member.work(session)
            session.end_turn()
            if session.is_as_new:
                self._session = session
            else:
                session.close()
            send(self._ours, f"RELEASE SAVEPOINT {SAVEPOINT}")
            self._kept.end()
            for key, (alone, several) in asked.items():
                self._closings[key] = several if key in self._closings else alone
        except BaseException as error:  # a request that was cancelled among them: its own affair
            member.failure = error
            self._take_back(session)
        if not self._ours.in_transaction:
            raise GroupLost from member.failure

    def _take_back(self, session: Session) -> None:
        self._kept.take_back()
        session.close()
        if self._ours.in_transaction:
            send(self._ours, f"ROLLBACK TO SAVEPOINT {SAVEPOINT}")
            send(self._ours, f"RELEASE SAVEPOINT {SAVEPOINT}")

    def close(self) -> None:
        """What is done once for the group; one that fails is left out, and takes nobody with it."""
        closings = list(self._closings.values())
        if not closings:
            return

        def all_of_them(session: Session) -> None:
            for closing in closings:
                closing(session)

        together = Member(all_of_them)
        self.take_part(together)
        if together.failure is None:
            return
        for closing in closings:
            by_itself = Member(closing)
            self.take_part(by_itself)
            if by_itself.failure is not None:
                log.error("the end of a group of writers", exc_info=by_itself.failure)
