"""A part's pattern: the draft kept as typed, checked as often as one likes, published when it is proved.

A published version never changes. Publishing a mended text makes the next version; makers who have started
stay on the version they are on until they choose to move, because a project names its version.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from hashlib import sha256
from threading import Lock
from typing import NamedTuple

from sqlalchemy import func
from sqlmodel import Session, col, select

from server.craft.fabric import Cache, Caches, Proof, prove
from server.craft.measure.stated_yarn import StatedCheck, check_stated, own_units
from server.craft.text.findings import Finding
from server.services.errors import NotFound, Refusal
from server.storage import hosting
from server.storage.tables import Along, Part, PatternVersion, Project

TEXT_MOST = 60_000  # characters; a printed pattern of twenty pages has about 40 000
# Proving is all processor time: one text after the other is as fast for everyone, and leaves room for short
# requests.
_PROVING = Lock()
_CACHES = Caches()  # only under that lock
UNKNOWN = "There is nothing of yours at this address."
EMPTY = "There is no pattern text yet. Paste or write the pattern, then publish it."


class TypedIn(NamedTuple):
    """Where a text is typed: whose page of which part. Two hosts who are in one part are two."""

    host_id: int
    part_id: int


@dataclass(frozen=True)
class Checked:
    """A text and what the engine made of it. Only `check` makes one: the proof is of this very text."""

    text: str
    proof: Proof


@dataclass(frozen=True)
class VersionLine:
    """A published version in its part's list; makers: how many projects are on it."""

    number: int
    title: str
    published_at: datetime
    makers: int


@dataclass(frozen=True)
class Draft:
    """A part's pattern as its host finds it; versions are newest first.

    mark          what `save_draft` knows the kept text by
    is_published  whether the latest version is this same text: then there is nothing new to publish
    """

    part_id: int
    part_title: str
    along_id: int
    along_title: str
    text: str
    mark: str
    saved_at: datetime | None
    is_published: bool
    versions: tuple[VersionLine, ...]


@dataclass(frozen=True)
class Version:
    """One published version."""

    part_id: int
    part_title: str
    along_id: int
    number: int
    title: str
    text: str
    published_at: datetime


class Elsewhere(Refusal):
    """The kept draft was changed on another page or device since this one was opened, or by another host
    (`saved_by`); `text` is what is kept there."""

    def __init__(self, text: str, saved_at: datetime | None, saved_by: str = "") -> None:
        by = f"by {saved_by}" if saved_by else "on another page or device"
        super().__init__(
            f"This pattern was changed {by} since you opened it here. What you typed is "
            "still in the field, and is not saved yet.",
            "text",
        )
        self.text = text
        self.saved_at = saved_at


class NotProved(Refusal):
    """It cannot be published: `missing` says what stands in the way, in the order of the text."""

    def __init__(self, missing: tuple[str, ...]) -> None:
        super().__init__("Not published: " + missing[0], "text")
        self.missing = missing


def tidy_text(typed: str) -> str:
    """The text as typed, with one kind of line end: browsers send two characters where one was typed."""
    return typed.replace("\r\n", "\n").replace("\r", "\n").replace("\x00", "")


def mark_of(text: str) -> str:
    """A short mark of a text, equal for equal texts."""
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:16]


def open_part(session: Session, host_id: int, part_id: int) -> Draft:
    """The pattern of a part of hers, with its versions, newest first; NotFound where it is not hers."""
    part, along = _own_part(session, host_id, part_id)
    makers = dict(
        session.exec(
            select(Project.pattern_version_id, func.count())
            .where(Project.part_id == part_id)
            .group_by(col(Project.pattern_version_id))
        ).all()
    )
    rows = session.exec(
        select(PatternVersion)
        .where(PatternVersion.part_id == part_id)
        .order_by(col(PatternVersion.number).desc())
    ).all()
    assert along.id is not None
    return Draft(
        part_id=part_id,
        part_title=part.title,
        along_id=along.id,
        along_title=along.title,
        text=part.draft_text,
        mark=mark_of(part.draft_text),
        saved_at=part.draft_saved_at,
        is_published=bool(rows) and rows[0].text == part.draft_text,
        versions=tuple(
            VersionLine(row.number, row.title, row.published_at, makers.get(row.id or 0, 0)) for row in rows
        ),
    )


def save_draft(
    session: Session, host_id: int, part_id: int, text: str, mark: str | None, now: datetime
) -> datetime | None:
    """Keep the text as typed; gives when it was last saved.

    `mark` is that of the text the page was opened with: where something else is kept by now, Elsewhere is
    raised and nothing is written. None saves in any case. Refusal where the text is too long to be kept.
    """
    part, _ = _own_part(session, host_id, part_id)
    _keep(session, host_id, part, text, mark, now)
    session.add(part)
    return part.draft_saved_at


def _keep(session: Session, host_id: int, part: Part, text: str, mark: str | None, now: datetime) -> None:
    refuse_too_long(text)
    if part.draft_text == text:
        return
    who = hosting.shown_name(session, host_id)
    if mark is not None and mark != mark_of(part.draft_text):
        other = part.draft_saved_by if part.draft_saved_by not in (None, who) else ""
        raise Elsewhere(part.draft_text, part.draft_saved_at, other or "")
    part.draft_text, part.draft_saved_at, part.draft_saved_by = text, now, who


def refuse_too_long(text: str) -> None:
    """Refusal where the text is longer than a pattern can be."""
    if len(text) > TEXT_MOST:
        raise Refusal(
            f"This is {len(text):,} characters; {TEXT_MOST:,} can be kept and read. Take out what is not the "
            "pattern, or make a part of its own for each piece.",
            "text",
        )


def missing(checked: Checked) -> tuple[str, ...]:
    """What stands between this text and its publication, in the order of the text; empty where nothing
    does."""
    proof = checked.proof
    if not checked.text.strip():
        return (EMPTY,)
    errors = sorted((f for f in proof.findings if f.is_error), key=lambda f: (f.line, f.column))
    lines = tuple(_missing_line(finding) for finding in errors)
    if not proof.proved and not lines:
        return ("The pattern could not be worked to its end.",)
    return lines


def _missing_line(finding: Finding) -> str:
    return f"Line {finding.line}: {finding.message}"


def check(typed: str, typed_in: TypedIn | None = None) -> Checked:
    """Read, work and prove a text. It takes processor time and no database: call it before a session is in
    use.

    `typed_in` is where somebody types it: what was worked for the text as it stood there before is at hand,
    so that a changed word costs little. It changes nothing of the result. Refusal where the text is too long
    to be read.
    """
    text = tidy_text(typed)
    refuse_too_long(text)
    return _checked(text, typed_in)


@lru_cache(maxsize=64)  # a page that is opened, checked and published has the same text three times
def _checked(text: str, typed_in: TypedIn | None) -> Checked:
    with _PROVING:
        cache = _CACHES.of(typed_in) if typed_in is not None else Cache()
        proof = prove(text, cache=cache)
        others = tuple(count for count in proof.counts_tried if isinstance(count, int))
        if proof.multiple is not None and _has_count_on_no_line(proof):
            proof = prove(text, others, cache)  # so that its numbers can be shown one by one
        return Checked(text, proof)


def stated_yarn(checked: Checked, typed_in: TypedIn | None = None) -> tuple[StatedCheck, ...]:
    """Each size's stated yarn against the stitches of a proved text; none while it is not proved. `typed_in`
    as in `check`: what was worked for the proof is at hand.
    """
    return _stated(checked.text, typed_in) if checked.text.strip() and not missing(checked) else ()


@lru_cache(maxsize=64)
def _stated(text: str, typed_in: TypedIn | None) -> tuple[StatedCheck, ...]:
    pattern = _checked(text, typed_in).proof.pattern
    with _PROVING:
        cache = _CACHES.of(typed_in) if typed_in is not None else Cache()
        return check_stated(pattern, own_units(pattern.header), cache)


def _has_count_on_no_line(proof: Proof) -> bool:
    """Whether the number of something in some round is neither a line in N nor lines by remainder."""
    return any(
        name not in row.formulas and name not in row.piecewise
        for row in proof.rows
        for counts in row.counts.values()
        for name in counts
    )


def publish(
    session: Session, host_id: int, part_id: int, checked: Checked, mark: str | None, now: datetime
) -> int:
    """Freeze a proved text as the next version; gives its number.

    NotProved where something is missing, Refusal where nothing changed since the last version, Elsewhere as
    `save_draft`.
    """
    part, _ = _own_part(session, host_id, part_id)
    text = checked.text
    lacking = missing(checked)
    if lacking:
        raise NotProved(lacking)
    _keep(session, host_id, part, text, mark, now)
    latest = session.exec(
        select(PatternVersion)
        .where(PatternVersion.part_id == part_id)
        .order_by(col(PatternVersion.number).desc())
        .limit(1)
    ).first()
    if latest is not None and latest.text == text:
        raise Refusal(
            f"Version {latest.number} is this same text, word for word. Nothing new to publish.", "text"
        )
    number = latest.number + 1 if latest else 1
    title = checked.proof.title or part.title
    session.add(part)
    session.add(PatternVersion(part_id=part_id, number=number, text=text, title=title, published_at=now))
    session.flush()
    return number


def version(session: Session, host_id: int, part_id: int, number: int) -> Version:
    """One published version of a part of hers; NotFound where there is none."""
    part, along = _own_part(session, host_id, part_id)
    row = session.exec(
        select(PatternVersion).where(PatternVersion.part_id == part_id, PatternVersion.number == number)
    ).first()
    if row is None:
        raise NotFound(UNKNOWN)
    assert along.id is not None
    return Version(part_id, part.title, along.id, row.number, row.title, row.text, row.published_at)


def _own_part(session: Session, host_id: int, part_id: int) -> tuple[Part, Along]:
    found = session.exec(
        select(Part, Along).where(
            Part.id == part_id, Part.along_id == Along.id, hosting.is_hosted_by(host_id)
        )
    ).first()
    if found is None:
        raise NotFound(UNKNOWN)
    return found
