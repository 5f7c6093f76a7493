"""The tables. A row class is only a row: forms have classes of their own, and services check before they
make one.

Names are singular and lower case. Times are aware UTC datetimes. Secrets are kept as SHA-256 only. What the
database itself refuses (a published version that changes, a logged entry that changes or goes) is in the
triggers of the migrations.
"""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, MetaData, Text, UniqueConstraint
from sqlmodel import Column, Field, SQLModel

from server.storage.columns import UtcDateTime

# Every constraint has a name, so that a later migration can name what it drops.
SQLModel.metadata.naming_convention = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}


def now() -> datetime:
    """This moment, in UTC."""
    return datetime.now(UTC)


FILES_HOST = "(files)"  # nobody: alongs that came with a maker's file are under it. No sign-in name looks so.


class Host(SQLModel, table=True):
    """Someone who leads alongs and signs in with a name and a password."""

    __tablename__ = "host"

    id: int | None = Field(default=None, primary_key=True)
    sign_in_name: str = Field(unique=True)
    shown_name: str
    password_hash: str
    created_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)


class HostInvite(SQLModel, table=True):
    """A one-time link that makes one host account."""

    __tablename__ = "host_invite"

    id: int | None = Field(default=None, primary_key=True)
    token_hash: str = Field(unique=True)
    created_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)
    expires_at: datetime = Field(sa_type=UtcDateTime)
    used_at: datetime | None = Field(default=None, sa_type=UtcDateTime)


class HostSession(SQLModel, table=True):
    """A host signed in on one device."""

    __tablename__ = "host_session"

    id: int | None = Field(default=None, primary_key=True)
    token_hash: str = Field(unique=True)
    host_id: int = Field(foreign_key="host.id", ondelete="CASCADE", index=True)
    created_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)
    last_seen_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)


class Along(SQLModel, table=True):
    """A series of parts made together.

    `kept_from` is the host's name as a maker's file has it, where the along is a private copy that came with
    that file: it has one notebook, nobody can join it, and it goes with that notebook. Else None.
    """

    __tablename__ = "along"

    id: int | None = Field(default=None, primary_key=True)
    host_id: int = Field(foreign_key="host.id", index=True)
    title: str
    welcome: str = Field(default="", sa_type=Text)
    join_code: str = Field(unique=True)
    created_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)
    kept_from: str | None = None
    changed_by: str | None = None  # the shown name of who last changed title or welcome


class AlongHost(SQLModel, table=True):
    """A host besides the along's own: she may change all of it, and not remove it."""

    __tablename__ = "along_host"

    along_id: int = Field(
        sa_column=Column(ForeignKey("along.id", ondelete="CASCADE"), primary_key=True, autoincrement=False)
    )
    host_id: int = Field(
        sa_column=Column(
            ForeignKey("host.id", ondelete="CASCADE"), primary_key=True, autoincrement=False, index=True
        )
    )
    since: datetime = Field(default_factory=now, sa_type=UtcDateTime)


class AlongHostInvite(SQLModel, table=True):
    """A one-time link that makes a host one of an along's hosts. Gone once it was used or taken back."""

    __tablename__ = "along_host_invite"

    id: int | None = Field(default=None, primary_key=True)
    along_id: int = Field(foreign_key="along.id", ondelete="CASCADE", index=True)
    token_hash: str = Field(unique=True)
    expires_at: datetime = Field(sa_type=UtcDateTime)


class AlongPage(SQLModel, table=True):
    """What everyone may read of an along, under an address with a key in it that nobody can guess.

    is_shown       whether the page and the calendar are there at all
    is_findable    whether search engines may list it
    lets_join      whether the way to join stands on it
    names_waiting  whether it names the parts that are not published yet
    changed_by     the shown name of the host who last changed it
    """

    __tablename__ = "along_page"

    along_id: int = Field(
        sa_column=Column(ForeignKey("along.id", ondelete="CASCADE"), primary_key=True, autoincrement=False)
    )
    key: str = Field(unique=True)
    is_shown: bool = False
    is_findable: bool = False
    lets_join: bool = True
    names_waiting: bool = True
    skill: str = Field(default="", sa_type=Text)
    materials: str = Field(default="", sa_type=Text)
    cautions: str = Field(default="", sa_type=Text)
    changed_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)
    changed_by: str = ""


class Evening(SQLModel, table=True):
    """A live evening of an along. Once made it stays: one that does not take place is cancelled.

    local_start, zone, fold  the wall clock of the host ("2026-12-03T19:30"), her IANA time zone, and which of
                             the two where the clock shows that hour twice (0 the first): rules of daylight
                             saving may change, what was said does not
    uid, sequence            as RFC 5545 has them: who it is, and how often it was moved or cancelled
    """

    __tablename__ = "evening"
    __table_args__ = (
        CheckConstraint("fold IN (0, 1)", name="fold"),
        CheckConstraint("minutes > 0", name="minutes"),
    )

    id: int | None = Field(default=None, primary_key=True)
    along_id: int = Field(foreign_key="along.id", ondelete="CASCADE", index=True)
    part_id: int | None = Field(default=None, foreign_key="part.id", ondelete="SET NULL", index=True)
    title: str
    note: str = Field(default="", sa_type=Text)
    place: str = ""
    local_start: str
    zone: str
    fold: int = 0
    minutes: int
    is_cancelled: bool = False
    uid: str = Field(unique=True)
    sequence: int = 0
    made_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)
    changed_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)
    changed_by: str


class Part(SQLModel, table=True):
    """One thing of an along, with the pattern text that its host is working on."""

    __tablename__ = "part"
    __table_args__ = (Index(None, "along_id", "position"),)

    id: int | None = Field(default=None, primary_key=True)
    along_id: int = Field(foreign_key="along.id")
    position: int
    title: str
    draft_text: str = Field(default="", sa_type=Text)
    draft_saved_at: datetime | None = Field(default=None, sa_type=UtcDateTime)
    draft_saved_by: str | None = None  # the shown name of the host who saved it


class PatternVersion(SQLModel, table=True):
    """A published pattern. Its row never changes and never goes: the database refuses both."""

    __tablename__ = "pattern_version"
    __table_args__ = (UniqueConstraint("part_id", "number"),)

    id: int | None = Field(default=None, primary_key=True)
    part_id: int = Field(foreign_key="part.id")
    number: int
    text: str = Field(sa_type=Text)
    title: str
    published_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)


class Notebook(SQLModel, table=True):
    """A maker's own place in one along. Whoever has its secret link has the notebook.

    `wording` is how she reads the steps of a round: with abbreviations or in full words.
    """

    __tablename__ = "notebook"
    __table_args__ = (
        CheckConstraint("terms IN ('US', 'UK')", name="terms"),
        CheckConstraint("units IN ('cm', 'in')", name="units"),
        CheckConstraint("wording IN ('short', 'full')", name="wording"),
    )

    id: int | None = Field(default=None, primary_key=True)
    along_id: int = Field(foreign_key="along.id", index=True)
    secret_hash: str = Field(unique=True)
    nickname: str
    terms: str = Field(default="US")
    units: str = Field(default="cm")
    wording: str = Field(default="short", sa_column_kwargs={"server_default": "short"})
    joined_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)
    last_seen_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)


class NotebookKey(SQLModel, table=True):
    """A further secret of a notebook, so that a lost phone or card can be shut out by itself.

    `how`: a "device" it was moved to, a "card" with a QR that opens it, or a "link" that was replaced by a
    new one. A key that was shut out stays, so that its device can be told.
    """

    __tablename__ = "notebook_key"
    __table_args__ = (CheckConstraint("how IN ('link', 'device', 'card')", name="how"),)

    id: int | None = Field(default=None, primary_key=True)
    notebook_id: int = Field(foreign_key="notebook.id", ondelete="CASCADE", index=True)
    secret_hash: str = Field(unique=True)
    how: str
    made_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)
    shut_out_at: datetime | None = Field(default=None, sa_type=UtcDateTime)


class NotebookMove(SQLModel, table=True):
    """A notebook held out to another device, by a link or by six words: for a short time, and once."""

    __tablename__ = "notebook_move"

    notebook_id: int = Field(
        sa_column=Column(ForeignKey("notebook.id", ondelete="CASCADE"), primary_key=True, autoincrement=False)
    )
    link_hash: str = Field(unique=True)
    words_hash: str = Field(unique=True)
    expires_at: datetime = Field(sa_type=UtcDateTime)


class Erasure(SQLModel, table=True):
    """The receipt of a notebook that was erased: how much went, and when. Nothing of whose it was."""

    __tablename__ = "erasure"

    number: str = Field(primary_key=True)
    erased_at: datetime = Field(sa_type=UtcDateTime)
    projects: int
    entries: int
    keys: int


class ErasedKey(SQLModel, table=True):
    """SHA-256 of a secret that opened an erased notebook, so that a device that still has it can be told."""

    __tablename__ = "erased_key"

    secret_hash: str = Field(primary_key=True)
    erasure_number: str = Field(foreign_key="erasure.number", ondelete="CASCADE", index=True)


class Project(SQLModel, table=True):
    """A part as one maker makes it, on the version of the pattern that she is on. Goes with its notebook."""

    __tablename__ = "project"
    __table_args__ = (UniqueConstraint("notebook_id", "part_id"),)

    id: int | None = Field(default=None, primary_key=True)
    notebook_id: int = Field(foreign_key="notebook.id", ondelete="CASCADE")
    part_id: int = Field(foreign_key="part.id", index=True)
    pattern_version_id: int = Field(foreign_key="pattern_version.id", index=True)
    started_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)


class Entry(SQLModel, table=True):
    """One thing logged. The log only grows: the database refuses to change an entry or to take one out.

    `id` is made on the device, so that an entry sent twice is kept once. `at` is the device's moment as it
    wrote it (ISO-8601 UTC with milliseconds), `received_at` the server's. `piece` is 0 for the whole
    notebook, 1 or 2.
    """

    __tablename__ = "entry"
    __table_args__ = (CheckConstraint("piece IN (0, 1, 2)", name="piece"),)

    id: str = Field(primary_key=True)
    project_id: int = Field(foreign_key="project.id", ondelete="CASCADE", index=True)
    piece: int
    kind: str
    values_json: str = Field(sa_type=Text)
    at: str
    device: str
    device_order: int
    received_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)


class ProjectPlace(SQLModel, table=True):
    """Where a maker is, for the roster. A cache: rebuilt from her entries at any time."""

    __tablename__ = "project_place"

    project_id: int = Field(
        sa_column=Column(ForeignKey("project.id", ondelete="CASCADE"), primary_key=True, autoincrement=False)
    )
    piece: int
    spot: str | None = None
    section_title: str
    round_label: str
    foundation: int | None = None
    size: str | None = None
    verdict: str
    updated_at: datetime = Field(default_factory=now, sa_type=UtcDateTime)


class RoomEvent(SQLModel, table=True):
    """One thing that happened in the live room of an evening. The log only grows: the database refuses to
    change an event; one of a maker's goes with her notebook, all go with the evening.

    kind                  "opened", "closed" (the room); "step" (the host is there now), "announce", "timer",
                          "answer" (the host's); "hand", "lowered", "done", "undone" (a maker's)
    part_id, version_id   the pattern that the place is in; None for what has no place
    section, round, turn  the place as the plan's spots have it, "section.round.turn": the section, its line
                          (from 0, not what the round is called) and which round of that line (from 1);
                          round None: the whole section, turn None: all rounds of the line
    step                  the step of the round, from 0; None: the whole round
    seconds               a timer's length; 0: the timer was put away
    notebook_id           whose hand, or whose "done"; of an answer: the one maker it is for, None: for all
    about_id              the hand that is answered or lowered
    said_by               the shown name of the host; "" for a maker's
    """

    __tablename__ = "room_event"
    __table_args__ = (
        CheckConstraint(
            "kind IN ('opened', 'closed', 'step', 'announce', 'timer', 'hand', 'lowered', 'answer', 'done', "
            "'undone')",
            name="kind",
        ),
        CheckConstraint("length(words) <= 500", name="words"),
        Index(None, "evening_id", "kind"),
        Index(None, "notebook_id", "evening_id", "kind"),
        {"sqlite_autoincrement": True},  # an id that was seen never comes again: streams resume by it
    )

    id: int | None = Field(default=None, primary_key=True)
    evening_id: int = Field(foreign_key="evening.id", ondelete="CASCADE")
    at: datetime = Field(default_factory=now, sa_type=UtcDateTime)
    kind: str
    part_id: int | None = Field(default=None, foreign_key="part.id")
    version_id: int | None = Field(default=None, foreign_key="pattern_version.id")
    section: int | None = None
    round: int | None = None
    turn: int | None = None
    step: int | None = None
    words: str = Field(default="", sa_type=Text)
    seconds: int | None = None
    notebook_id: int | None = Field(default=None, foreign_key="notebook.id", ondelete="CASCADE")
    about_id: int | None = Field(default=None, foreign_key="room_event.id", ondelete="SET NULL", index=True)
    said_by: str = ""


class RoomHidden(SQLModel, table=True):
    """What somebody said in a room and a host has hidden: shown to hosts only. Unhidden, the row goes."""

    __tablename__ = "room_hidden"

    event_id: int = Field(
        sa_column=Column(
            ForeignKey("room_event.id", ondelete="CASCADE"), primary_key=True, autoincrement=False
        )
    )
    at: datetime = Field(default_factory=now, sa_type=UtcDateTime)
    hidden_by: str


from server.storage.hidden import NotebookHidden as NotebookHidden  # noqa: E402  # after the convention

METADATA: MetaData = SQLModel.metadata
