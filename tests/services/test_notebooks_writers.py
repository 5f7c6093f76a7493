"""Two workers' writers on one database: what they keep of a notebook is never other than what is written.

Whatever comes in between, a write is answered from, and the roster told by, what the log says when it is read
anew.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import timedelta
from itertools import count
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine
from sqlmodel import Session, select

from server.craft.making import Entry
from server.services import joining, notebooks
from server.services.notebooks import Desk, DeviceEntry, NewEntry, erasing
from server.services.notebooks.clocks import iso
from server.settings import Settings
from server.storage.sessions import open_engine, reading, writing
from server.storage.tables import ProjectPlace
from tests.services.story import NOW, SLIPWAY, make_along, publish
from tests.storage.test_groups import Line

Work = Callable[[Session], object]
SPOTS = ["0.0.1", "0.1.1", "0.2.1", "0.3.1", "0.3.2", "1.0.1"]
CLOCK = timedelta(minutes=1)
makers = count(1)


@st.composite
def batches(draw: st.DrawFn, known: list[str]) -> list[DeviceEntry]:
    """What a device may send: mostly sensible, its moments not always in order."""
    made = []
    for number in range(len(known), len(known) + draw(st.integers(1, 4))):
        kind = draw(st.sampled_from(["worked", "worked", "note", "hook", "taken_out", "finished", "undo"]))
        spot = draw(st.sampled_from(SPOTS))
        by_kind: dict[str, dict[str, Any]] = {
            "worked": {"spot": spot},
            "note": {"spot": None, "text": f"note {number}"},
            "hook": {"hook_mm": draw(st.sampled_from([4.5, 5.0])), "spot": None},
            "taken_out": {"spot": spot},
            "finished": {},
            "undo": {"entry": known[-draw(st.integers(1, len(known)))]},
        }
        piece = draw(st.sampled_from([1, 1, 2]))
        at = iso(NOW + CLOCK * (number if draw(st.booleans()) else draw(st.integers(0, number))))
        after = (["", *known[-3:]])[draw(st.integers(0, min(len(known), 3)))]
        entry = NewEntry(f"{known[0]}-{number:04}", piece, kind, by_kind[kind])
        made.append(DeviceEntry(entry, at, number, after))
        known.append(made[-1].new.id)
    return made


@dataclass
class World:
    """Two workers, and a maker at a part."""

    engine: Engine
    workers: list[Line]
    part_id: int
    notebook_id: int = 0
    nickname: str = ""
    known: list[str] = field(default_factory=list)  # ids that were sent

    def join(self, session: Session) -> None:
        """The maker comes, or comes again after she erased her notebook, and settles."""
        joined = joining.join(session, "KAJ947", self.nickname, joining.new_secret(), NOW)
        self.notebook_id = joined.notebook_id
        self.known[:] = [f"maker-{next(makers):06}"]
        settled = NewEntry(self.known[0], 0, "settled", {"foundation": 28, "size": None})
        self.receives([DeviceEntry(settled, iso(NOW), 0)], "phone")(session)

    def receives(self, sent: list[DeviceEntry], device: str) -> Work:
        """A device's entries come in."""

        def work(session: Session) -> Desk:
            now = NOW + CLOCK * (len(self.known) + 10)
            return notebooks.receive(
                session, self.notebook_id, self.part_id, sent, device=device, now=now
            ).desk

        return work

    def check(self) -> None:
        """Both workers see what is written, and the roster has what comes of it."""
        with reading(self.engine) as session:
            written = notebooks.open_desk(session, self.notebook_id, self.part_id)
        for worker in self.workers:
            (member,) = worker.together(
                lambda session: notebooks.open_desk(session, self.notebook_id, self.part_id)
            )
            seen = member.result
            assert isinstance(seen, Desk)
            assert seen.log == written.log
            assert seen.making == written.making
            assert replace(seen, written=written.written) == written
            if written.making.settled is not None:
                assert [seen.plan(piece) for piece in (1, 2)] == [written.plan(piece) for piece in (1, 2)]
        with writing(self.engine) as session:
            place = select(ProjectPlace).where(ProjectPlace.project_id == written.project_id)
            told = session.exec(place).one().model_dump(exclude={"updated_at"})
            notebooks.refresh(session, written, NOW)
            session.expire_all()
            assert session.exec(place).one().model_dump(exclude={"updated_at"}) == told
            session.rollback()


@pytest.fixture
def world(settings: Settings) -> Iterator[World]:
    """Each worker has an engine of its own, as each has a process of its own."""
    engines = [open_engine(settings.database) for _ in range(3)]
    with writing(engines[0]) as session:
        part_id = make_along(session)[1]
    workers = [Line(engine) for engine in engines[1:]]
    yield World(engines[0], workers, part_id)
    for worker in workers:
        worker.writer.close()
    for engine in engines:
        engine.dispose()


def fails(work: Work) -> Work:
    def then_fails(session: Session) -> None:
        work(session)
        raise ZeroDivisionError

    return then_fails


def thinks_again(first: Work, second: Work) -> Work:
    def work(session: Session) -> None:
        first(session)
        session.rollback()
        second(session)

    return work


STEPS = (
    "batch", "batch", "batch", "together", "fails", "thinks again", "by hand", "choose", "version", "erase",
)  # fmt: skip


@given(st.data())
@settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_comes_in_between(world: World, data: st.DataObject) -> None:
    draw = data.draw
    world.nickname = f"Ida {next(makers)}"
    with writing(world.engine) as session:
        world.join(session)
    for _ in range(draw(st.integers(1, 10))):
        worker = world.workers[draw(st.integers(0, 1))]
        device = draw(st.sampled_from(["phone", "tablet"]))

        def batch(device: str = device) -> Work:
            return world.receives(draw(batches(world.known)), device)

        step = draw(st.sampled_from(STEPS))
        if step == "batch":
            assert worker.together(batch())[0].failure is None
        elif step == "together":
            works = [batch(), fails(batch()), batch(), batch()]
            assert [member.failure is None for member in worker.together(*works)] == [True, False, True, True]
        elif step == "fails":
            assert isinstance(worker.together(fails(batch()))[0].failure, ZeroDivisionError)
        elif step == "thinks again":
            assert worker.together(thinks_again(batch(), batch()))[0].failure is None
        elif step == "by hand":
            with writing(world.engine) as session:
                batch()(session)
        elif step == "choose":
            assert worker.together(chooses(world, draw(st.sampled_from(["US", "UK"]))))[0].failure is None
        elif step == "version":
            assert worker.together(moves(world))[0].failure is None
        else:
            assert worker.together(erases_and_comes_again(world))[0].failure is None
        world.check()


def chooses(world: World, terms: str) -> Work:
    """She changes her terms, and her desk is looked at in the same turn."""

    def work(session: Session) -> None:
        notebooks.open_desk(session, world.notebook_id, world.part_id)
        notebooks.choose(session, world.notebook_id, terms=terms, units="cm", wording="short")
        assert notebooks.open_desk(session, world.notebook_id, world.part_id).terms == terms

    return work


def moves(world: World) -> Work:
    """The host publishes another version, which she moves to."""

    def work(session: Session) -> None:
        desk = notebooks.open_desk(session, world.notebook_id, world.part_id)
        number = desk.newest.number + 1
        publish(session, world.part_id, f"{SLIPWAY}\nNote: version {number}.\n", number)
        notebooks.move(session, world.notebook_id, world.part_id, to_number=number, state=desk.state, now=NOW)
        desk = notebooks.open_desk(session, world.notebook_id, world.part_id)
        assert desk.version.number == desk.newest.number == number

    return work


def erases_and_comes_again(world: World) -> Work:
    """Her notebook goes, and a new one may get its number."""

    def work(session: Session) -> None:
        erasing.erase(session, world.notebook_id, world.nickname, NOW)
        world.join(session)

    return work


def test_an_erased_log_is_in_nobodys_memory(world: World) -> None:
    world.nickname = "Ida"
    with writing(world.engine) as session:
        world.join(session)
    worker = world.workers[0]
    note = NewEntry("a-note-of-hers", 1, "note", {"spot": None, "text": "My ring is snug"})
    worker.together(world.receives([DeviceEntry(note, iso(NOW + CLOCK), 1)], "phone"))

    def remembered() -> list[str]:
        gc.collect()
        entries = [each for each in gc.get_objects() if isinstance(each, Entry)]
        return [each.id for each in entries if "snug" in str(each.values)]

    assert remembered() == ["a-note-of-hers"]
    worker.together(lambda session: erasing.erase(session, world.notebook_id, "Ida", NOW))
    worker.told.clear()  # the test's own memory of what came of it
    assert remembered() == []
