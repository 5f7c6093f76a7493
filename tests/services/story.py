"""A maker's doings through the services, for tests: an along with one published part, and her notebook."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from secrets import token_urlsafe
from typing import Any

from sqlmodel import Session, select

from server.services import joining, notebooks
from server.services.notebooks import Desk, DeviceEntry, NewEntry
from server.services.notebooks.clocks import iso
from server.storage.tables import Along, Host, Part, PatternVersion, Project

NOW = datetime(2026, 11, 5, 20, 0, tzinfo=UTC)
SLIPWAY = (Path(__file__).parents[2] / "templates" / "host" / "example_pattern.txt").read_text()
# Ours: from a ring, one piece, no custom counts. Round 1: 11 hdc in the ring and the beginning chain that
# counts make 12; round 2: two in each of 12 make 24; round 3: one in each of 24, large has it twice.
CROWN = """Title: Lantern Crown
Terms: US
Sizes: small (large)
Foundation: none
Pieces: one
Hook: 5 (5.5) mm

# Crown
Rnd 1: Ch 2 (counts as hdc), 11 hdc in ring; join with sl st in top of beg ch. [12 hdc]
Rnd 2: Ch 2 (counts as hdc), hdc in same st, 2 hdc in each hdc around; join with sl st in top of beg ch.
  [24 hdc]
Rnds 3 to 3 (4): Ch 2 (counts as hdc), hdc in each hdc around; join with sl st in top of beg ch. [24 hdc]
Fasten off.
"""


def publish(session: Session, part_id: int, text: str, number: int = 1) -> int:
    """The text as the part's version of that number; its id."""
    version = PatternVersion(part_id=part_id, number=number, text=text, title="Slipway Wristers")
    session.add(version)
    session.flush()
    assert version.id is not None
    return version.id


def make_along(session: Session, text: str | None = SLIPWAY, code: str = "KAJ947") -> tuple[int, int]:
    """An along with one part, published unless `text` is None: ids of both."""
    host = session.exec(select(Host)).first()
    if host is None:
        host = Host(sign_in_name="marit", shown_name="Marit Hollow", password_hash="-")
        session.add(host)
        session.flush()
    assert host.id is not None
    along = Along(host_id=host.id, title="Lamp evenings", welcome="Bring wool.", join_code=code)
    session.add(along)
    session.flush()
    assert along.id is not None
    part = Part(along_id=along.id, position=1, title="Slipway Wristers")
    session.add(part)
    session.flush()
    assert part.id is not None
    if text is not None:
        publish(session, part.id, text)
    return along.id, part.id


class Maker:
    """Ida at one part. Each doing is one form sent from a page made just before."""

    def __init__(self, session: Session, part_id: int, nickname: str = "Ida", code: str = "KAJ947") -> None:
        joined = joining.join(session, code, nickname, joining.new_secret(), NOW)
        self.secret = joined.secret
        self._sit_down(session, part_id, joined.notebook_id)

    @classmethod
    def at(cls, session: Session, part_id: int, notebook_id: int) -> Maker:
        """A maker who has joined before, at another device."""
        maker = cls.__new__(cls)
        maker._sit_down(session, part_id, notebook_id)
        return maker

    def _sit_down(self, session: Session, part_id: int, notebook_id: int) -> None:
        self.session, self.part_id, self.notebook_id = session, part_id, notebook_id
        self.now = NOW
        self.device = "phone"
        self._ids = (f"{notebook_id}-{token_urlsafe(6)}-{n:04}" for n in count(1))

    @property
    def desk(self) -> Desk:
        """Her desk as it is now."""
        self.session.flush()
        self.session.expire_all()
        return notebooks.open_desk(self.session, self.notebook_id, self.part_id)

    @property
    def project_id(self) -> int:
        """Her project's id."""
        project = self.session.exec(select(Project).where(Project.notebook_id == self.notebook_id)).one()
        assert project.id is not None
        return project.id

    def fresh_id(self) -> str:
        """An id for a form."""
        return next(self._ids)

    def send(self, kind: str, piece: int, *, id: str = "", state: int | None = None, **values: Any) -> str:
        """Send one form; its entry's id."""
        entry_id = id or self.fresh_id()
        self.now += timedelta(minutes=5)
        notebooks.log(
            self.session,
            self.notebook_id,
            self.part_id,
            [NewEntry(entry_id, piece, kind, values)],
            state=self.desk.state if state is None else state,
            device=self.device,
            now=self.now,
        )
        return entry_id

    def settle(self, foundation: int | None, size: str | None = None, *, fits: bool = False) -> None:
        """Write her number down."""
        self.now += timedelta(minutes=5)
        notebooks.settle(
            self.session,
            self.notebook_id,
            self.part_id,
            entry_id=self.fresh_id(),
            foundation=foundation,
            size=size,
            fits=fits,
            state=self.desk.state,
            device=self.device,
            now=self.now,
        )

    def next_spot(self, piece: int) -> str:
        """The spot of the round at hand."""
        round_ = self.desk.place(piece).round
        assert round_ is not None
        return round_.spot

    def work(self, piece: int, rounds: int = 1) -> None:
        """Log so many rounds, one after another."""
        for _ in range(rounds):
            self.send("worked", piece, spot=self.next_spot(piece))

    def work_elsewhere(self, piece: int, spot: str) -> None:
        """Log a round on a device that had no network, a minute after all that is logged here."""
        self.now += timedelta(minutes=1)
        last = self.desk.log[-1].entry
        entry = DeviceEntry(
            NewEntry(self.fresh_id(), piece, "worked", {"spot": spot}), iso(self.now), 1, last.id
        )
        notebooks.receive(
            self.session, self.notebook_id, self.part_id, [entry], device="tablet", now=self.now
        )

    def end_fit(self, piece: int) -> int:
        """End the rounds to fit at hand; how many they were."""
        place = self.desk.place(piece)
        assert place.can_end is not None
        self.send("fit_ended", piece, fit=place.can_end.fit, rounds=place.in_fit)
        return place.in_fit

    def make(self, piece: int, *fits: int) -> None:
        """Make the piece to its end, with so many rounds in each of its sections to fit, in order."""
        self._work_until(piece, list(fits), 0)
        self.send("finished", piece)

    def make_to_last(self, piece: int, *fits: int) -> None:
        """The same, up to before its last round."""
        self._work_until(piece, list(fits), 1)

    def _work_until(self, piece: int, wanted: list[int], left: int) -> None:
        while (place := self.desk.place(piece)).kind in ("round", "end fit"):
            if left and place.to_go <= left:
                return
            if place.can_end is not None and place.in_fit == wanted[0]:
                self.end_fit(piece)
                wanted.pop(0)
            else:
                self.work(piece)
