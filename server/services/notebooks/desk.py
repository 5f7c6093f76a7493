"""A maker's table for one part: her version of the pattern, her log folded, her plan. Everything else
reads this.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Literal

from sqlmodel import Session, select

from server.craft import making as craft
from server.craft import text as craft_text
from server.craft.fabric import Proof, prove
from server.craft.fabric.values import Numbers
from server.craft.making.twinwords import piece_noun
from server.craft.text.tree import Pattern
from server.services.errors import NotFound
from server.services.notebooks.logs import Log, Logged, keep_log, log_of
from server.storage import statements, tables
from server.storage.kept import kept_in

Terms = Literal["US", "UK"]
Units = Literal["cm", "in"]
Wording = Literal["short", "full"]
KIND = "desk"  # with the ids of notebook and part, its key among what the writer keeps
WEIGHS = 10  # there, besides the log
NOT_HERE = "This part is not in your notebook."


@dataclass(frozen=True)
class Version:
    """A published version of a part's pattern."""

    id: int
    number: int
    text: str


@dataclass(frozen=True)
class Desk:
    """One maker at one part. `project_id` is None until her first entry."""

    notebook_id: int
    nickname: str
    terms: Terms
    units: Units
    wording: Wording
    along_title: str
    part_id: int
    part_title: str
    version: Version
    newest: Version
    project_id: int | None
    written: Log

    @cached_property
    def pattern(self) -> Pattern:
        """Her version's pattern as read."""
        return read_pattern(self.version.text)

    @property
    def log(self) -> tuple[Logged, ...]:
        """Her log, in the order that the fold works it."""
        return self.written.entries

    @property
    def making(self) -> craft.Making:
        """Her log, folded."""
        return self.written.folding.making

    @cached_property
    def is_pair(self) -> bool:
        """False for `Pieces: one`."""
        return self.pattern.header.pieces == "pair"

    @property
    def pieces(self) -> tuple[int, ...]:
        """Numbers of the pieces to make."""
        return (1, 2) if self.is_pair else (1,)

    def plan(self, piece: int) -> craft.Plan:
        """Her plan of that piece, in her numbers and terms. Her numbers must be settled."""
        plans: dict[int, craft.Plan] = self.__dict__.setdefault("_plans", {})
        if piece not in plans:
            plans[piece] = craft.piece_plan(self.pattern, self.making, piece, self.terms, planned)
        return plans[piece]

    def place(self, piece: int) -> craft.Place:
        """Where she is in that piece."""
        return craft.place(self.plan(piece), self.making, piece)

    @cached_property
    def verdict(self) -> craft.Verdict:
        """Glove two against glove one."""
        return craft.verdict(self.pattern, self.making, self.terms, planned, self.units)

    @property
    def verdict_state(self) -> craft.VerdictState:
        """The verdict in a word. Her numbers must be settled."""
        return craft.verdict_state(self.pattern, self.making, self.terms, self.plan)

    def as_made(self, spot: str) -> craft.AsMade:
        """What glove one did at a round."""
        return craft.as_made(self.pattern, self.making, spot, self.terms, planned, self.units)

    def verdict_at(self, spot: str) -> craft.RoundVerdict:
        """Glove two against glove one while she is at a round."""
        return craft.verdict_at(
            self.pattern, self.making, spot, self.terms, planned, self.units, self.verdict
        )

    def with_entries(self, rows: Sequence[statements.EntryRow], project_id: int | None) -> Desk:
        """The desk as it is with these entries in the log too, which are not there yet."""
        desk = replace(self, project_id=project_id, written=self.written.with_rows(rows))
        desk.__dict__["_plans"] = self._still_planned(desk)
        return desk

    def _still_planned(self, grown: Desk) -> dict[int, craft.Plan]:
        """The plans that still hold where a log has grown out of this desk's: a piece's goes by what stands
        of it, glove two's by glove one too.
        """
        plans: dict[int, craft.Plan] = self.__dict__.get("_plans", {})
        if not plans or self.making.settled is not grown.making.settled:
            return {}
        same = [piece for piece, made in self.making.pieces.items() if made is grown.making.pieces[piece]]
        return {piece: plan for piece, plan in plans.items() if piece in same and (piece == 1 or 1 in same)}

    @property
    def state(self) -> int:
        """How many entries the log has. It only grows, so two pages with the same state have seen the same
        log.
        """
        return len(self.log)


def as_terms(kept: str) -> Terms:
    """The terms of a notebook's row; the database lets in no others than these two."""
    return "UK" if kept == "UK" else "US"


def as_units(kept: str) -> Units:
    """The units of a notebook's row; the database lets in no others than these two."""
    return "in" if kept == "in" else "cm"


def as_wording(kept: str) -> Wording:
    """How the steps are said in a notebook's row; the database lets in no others than these two."""
    return "full" if kept == "full" else "short"


@lru_cache(maxsize=128)
def read_pattern(text: str) -> Pattern:
    """The pattern of a published text. Texts are few and never change; reading one again would cost every
    page.
    """
    return craft_text.read(text).pattern


@lru_cache(maxsize=512)
def _planned(text: str, numbers: Numbers, terms: Terms) -> craft.Plan:
    return craft.plan(read_pattern(text), numbers, terms)


def planned(pattern: Pattern, numbers: Numbers, terms: Terms) -> craft.Plan:
    """The plan of a published pattern in these numbers. Kept by its text: hashing the whole tree would
    cost more.
    """
    return _planned(pattern.source, numbers, terms)


@lru_cache(maxsize=32)
def proof_of(text: str, foundation: int | None = None) -> Proof:
    """The proof of a published text, tried at one more foundation count where asked."""
    return prove(text, () if foundation is None else (foundation,))


def piece_name(desk: Desk, piece: int) -> str:
    """What a piece is called: "Glove one" ("Sock one"), or the part's own title where there is only one."""
    return f"{noun(desk).capitalize()} {('one', 'two')[piece - 1]}" if desk.is_pair else desk.part_title


def noun(desk: Desk) -> str:
    """What one piece of the pair is called within a sentence: "glove"."""
    return piece_noun(desk.pattern)


def open_desk(session: Session, notebook_id: int, part_id: int) -> Desk:
    """The maker's desk for a part; NotFound unless the part is published and of her along. The writer has it
    as it was left, where nothing else has been written since.
    """
    kept = kept_in(session)
    key = (KIND, notebook_id, part_id)
    desk = None if kept is None else kept.get(key)
    if not isinstance(desk, Desk):
        desk = _read_desk(session, notebook_id, part_id)
        if kept is not None:
            kept.put(key, desk, WEIGHS)
    return desk


def keep_desk(session: Session, desk: Desk) -> None:
    """Leaves a desk for the writer's next turn, once all that is in its log has been written down."""
    kept = kept_in(session)
    if kept is not None and desk.project_id is not None and desk.written.mark is not None:
        keep_log(kept, desk.project_id, desk.written)
        kept.put((KIND, desk.notebook_id, desk.part_id), desk, WEIGHS)


def _read_desk(session: Session, notebook_id: int, part_id: int) -> Desk:
    row = statements.desk_row(session, notebook_id, part_id)
    if row is None:
        raise NotFound(NOT_HERE)
    newest = _version(row.newest_id, row.newest_number, row.newest_text)
    version = newest
    if row.own_id is not None and row.own_id != newest.id:
        assert row.own_number is not None
        assert row.own_text is not None
        version = _version(row.own_id, row.own_number, row.own_text)
    return Desk(
        notebook_id=notebook_id,
        nickname=row.nickname,
        terms=as_terms(row.terms),
        units=as_units(row.units),
        wording=as_wording(row.wording),
        along_title=row.along_title,
        part_id=part_id,
        part_title=row.part_title,
        version=version,
        newest=newest,
        project_id=row.project_id,
        written=Log() if row.project_id is None else log_of(session, row.project_id),
    )


@lru_cache(maxsize=128)
def _version(id_: int, number: int, text: str) -> Version:
    """One value for all the desks that have it: its text is long."""
    return Version(id_, number, text)


def along_of(session: Session, part_id: int) -> int | None:
    """Id of the along that a part belongs to; None where there is no such part."""
    return session.exec(select(tables.Part.along_id).where(tables.Part.id == part_id)).first()
