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

log = logging.getLogger(__name__)

MEMBERS_MOST = 256
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
                for member in members:
                    member.failure = error
            self._deliver(members)

    def _group(self, members: list[Member]) -> None:
        """One transaction; `members` has the first, and grows by those who come to be in it."""
        with self._engine.connect() as connection:
            try:
                transaction = connection.begin()
            except Exception:
                # They have waited as long; one after another would be for ever.
                members += self._all_waiting()
                raise
            closings: dict[Hashable, Closing] = {}
            done = 0
            while done < len(members):
                _take_part(connection, members[done], closings)
                done += 1
                if done < MEMBERS_MOST and done == len(members):
                    members += self._next()
            _close(connection, list(closings.values()))
            transaction.commit()

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


def _take_part(connection: Connection, member: Member, closings: dict[Hashable, Closing]) -> None:
    """One member in a SAVEPOINT; `closings` gets what it asks for, where it stays. GroupLost where the whole
    transaction is gone after it.

    SQLite rolls a transaction back on its own for some errors (a full disk is one). What came after would
    then be committed by itself, and what came before be told as written.
    """
    asked: dict[Hashable, tuple[Closing, Closing]] = {}
    try:
        with Session(connection, join_transaction_mode="create_savepoint", expire_on_commit=False) as session:
            session.info[AT_THE_END] = asked
            member.result = member.work(session)
            session.commit()
        for key, (alone, several) in asked.items():
            closings[key] = several if key in closings else alone
    except BaseException as error:  # a request that was cancelled among them: its own affair
        member.failure = error
    if not _in_transaction(connection):
        raise GroupLost from member.failure


def _close(connection: Connection, closings: Sequence[Closing]) -> None:
    """What is done once for the group; one that fails is left out, and takes nobody with it."""

    def all_of_them(session: Session) -> None:
        for closing in closings:
            closing(session)

    together = Member(all_of_them)
    _take_part(connection, together, {})
    if together.failure is None:
        return
    for closing in closings:
        by_itself = Member(closing)
        _take_part(connection, by_itself, {})
        if by_itself.failure is not None:
            log.error("the end of a group of writers", exc_info=by_itself.failure)


def _in_transaction(connection: Connection) -> bool:
    ours = connection.connection.driver_connection
    return isinstance(ours, sqlite3.Connection) and ours.in_transaction
