"""Alongs and their parts: made, named and put in order by their host; handed out by a code, a link and a QR
picture."""

from __future__ import annotations

import io
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from typing import Literal

import segno
from sqlalchemy import func
from sqlmodel import Session, col, select

from server.services.errors import NotFound, Refusal
from server.storage import hosting
from server.storage.tables import Along, Host, Notebook, Part, PatternVersion

TITLE_MOST = 80
WELCOME_MOST = 2000
PARTS_MOST = 60
ALONGS_MOST = 200
UNKNOWN = "There is nothing of yours at this address."


@dataclass(frozen=True)
class AlongLine:
    """An along in a host's list. owner: whose it is, where she only helps to host it, else ""."""

    id: int
    title: str
    parts: int
    makers: int
    owner: str = ""


@dataclass(frozen=True)
class PartLine:
    """A part in its along. version: the latest published one, None before the first; changed: the draft
    differs from it."""

    id: int
    title: str
    version: int | None
    changed: bool
    is_first: bool
    is_last: bool


@dataclass(frozen=True)
class AlongView:
    """One along with its parts in order."""

    id: int
    title: str
    welcome: str
    join_code: str
    makers: int
    parts: tuple[PartLine, ...]


def _tidy_line(typed: str) -> str:
    text = unicodedata.normalize("NFC", typed)
    kept = "".join(c for c in text if c == "\u200d" or c.isspace() or unicodedata.category(c)[0] != "C")
    return " ".join(kept.split())


def _title(typed: str, of: str) -> str:
    title = _tidy_line(typed)
    if not any(unicodedata.category(c)[0] in "LN" for c in title):
        raise Refusal(f"Give the {of} a title, with at least one letter or digit.", "title")
    if len(title) > TITLE_MOST:
        raise Refusal(f"That is {len(title)} characters. {TITLE_MOST} or fewer fit on a page.", "title")
    return title


def _welcome(typed: str) -> str:
    text = typed.replace("\r\n", "\n").replace("\r", "\n").replace("\x00", "").strip()
    if len(text) > WELCOME_MOST:
        raise Refusal(f"That is {len(text)} characters. {WELCOME_MOST} or fewer can be kept.", "welcome")
    return text


def make(session: Session, host_id: int, title: str, welcome: str, now: datetime) -> int:
    """Make an along with a join code of its own; gives its id."""
    along = Along(
        host_id=host_id,
        title=_title(title, "along"),
        welcome=_welcome(welcome),
        join_code=hosting.new_join_code(session),
        created_at=now,
    )
    if len(of_host(session, host_id)) >= ALONGS_MOST:
        raise Refusal(f"You have {ALONGS_MOST} alongs, which is as many as there can be.", "title")
    session.add(along)
    session.flush()
    assert along.id is not None
    return along.id


def mark_of(title: str, welcome: str) -> str:
    """A short mark of a title and a welcome, equal for equal ones."""
    return sha256(f"{title}\0{welcome}".encode("utf-8", "surrogatepass")).hexdigest()[:16]


def rename(
    session: Session, host_id: int, along_id: int, title: str, welcome: str, mark: str | None = None
) -> None:
    """Give an along of hers another title and welcome.

    `mark` is that of what the form was opened with: where somebody has changed it since, Refusal says who.
    """
    along = own_along(session, host_id, along_id)
    tidy = _title(title, "along"), _welcome(welcome)
    if mark not in (None, mark_of(along.title, along.welcome)) and tidy != (along.title, along.welcome):
        who = along.changed_by or "Somebody"
        raise Refusal(
            f"{who} changed title or welcome since you opened this form. Now it is “{along.title}”. What you "
            "typed is still here; save again to put it in place of that.",
            "title",
        )
    along.title, along.welcome = tidy
    along.changed_by = hosting.shown_name(session, host_id)
    session.add(along)


def own_along(session: Session, host_id: int, along_id: int) -> Along:
    """The row of an along that she hosts; NotFound where there is none, or where only others host it."""
    along = hosting.along_hosted_by(session, host_id, along_id)
    if along is None:
        raise NotFound(UNKNOWN)
    return along


def of_host(session: Session, host_id: int) -> tuple[AlongLine, ...]:
    """Her alongs, newest first."""
    mine = session.exec(
        select(Along)
        .where(hosting.is_hosted_by(host_id))
        .order_by(col(Along.created_at).desc(), col(Along.id).desc())
    ).all()
    ids = [along.id for along in mine]
    per_part = (
        select(Part.along_id, func.count()).where(col(Part.along_id).in_(ids)).group_by(col(Part.along_id))
    )
    per_maker = (
        select(Notebook.along_id, func.count())
        .where(col(Notebook.along_id).in_(ids))
        .group_by(col(Notebook.along_id))
    )
    parts, makers = dict(session.exec(per_part).all()), dict(session.exec(per_maker).all())
    owners = dict(
        session.exec(
            select(Host.id, Host.shown_name).where(
                col(Host.id).in_([a.host_id for a in mine]), Host.id != host_id
            )
        ).all()
    )
    return tuple(
        AlongLine(a.id, a.title, parts.get(a.id, 0), makers.get(a.id, 0), owners.get(a.host_id, ""))
        for a in mine
        if a.id is not None
    )


def one(session: Session, host_id: int, along_id: int) -> AlongView:
    """An along of hers with its parts."""
    along = own_along(session, host_id, along_id)
    makers = session.exec(
        select(func.count()).select_from(Notebook).where(Notebook.along_id == along_id)
    ).one()
    rows = _parts(session, along_id)
    latest = _latest_versions(session, [part.id for part in rows if part.id is not None])
    lines = tuple(_part_line(part, latest, at, len(rows)) for at, part in enumerate(rows))
    return AlongView(along_id, along.title, along.welcome, along.join_code, makers, lines)


def _parts(session: Session, along_id: int) -> Sequence[Part]:
    return session.exec(
        select(Part).where(Part.along_id == along_id).order_by(col(Part.position), col(Part.id))
    ).all()


def _part_line(part: Part, latest: dict[int, PatternVersion], at: int, of: int) -> PartLine:
    assert part.id is not None
    version = latest.get(part.id)
    changed = bool(part.draft_text) and (version is None or version.text != part.draft_text)
    return PartLine(part.id, part.title, version.number if version else None, changed, at == 0, at == of - 1)


def _latest_versions(session: Session, part_ids: list[int]) -> dict[int, PatternVersion]:
    rows = session.exec(
        select(PatternVersion)
        .where(col(PatternVersion.part_id).in_(part_ids))
        .order_by(col(PatternVersion.number))
    ).all()
    return {row.part_id: row for row in rows}


def add_part(session: Session, host_id: int, along_id: int, title: str) -> int:
    """Add a part at the end of an along of hers; gives its id."""
    own_along(session, host_id, along_id)
    tidy = _title(title, "part")
    rows = _parts(session, along_id)
    if len(rows) >= PARTS_MOST:
        raise Refusal(f"An along has {PARTS_MOST} parts at most, and this one has them.", "title")
    position = max((part.position for part in rows), default=0) + 1
    part = Part(along_id=along_id, position=position, title=tidy)
    session.add(part)
    session.flush()
    assert part.id is not None
    return part.id


def own_part(session: Session, host_id: int, part_id: int) -> tuple[Part, Along]:
    """The rows of a part of hers and its along; NotFound where there is none, or where it is another
    host's."""
    part = session.get(Part, part_id)
    if part is None:
        raise NotFound(UNKNOWN)
    return part, own_along(session, host_id, part.along_id)


def rename_part(session: Session, host_id: int, part_id: int, title: str) -> int:
    """Give a part of hers another title; gives its along's id."""
    part, _ = own_part(session, host_id, part_id)
    part.title = _title(title, "part")
    session.add(part)
    return part.along_id


def move_part(session: Session, host_id: int, part_id: int, way: Literal["earlier", "later"]) -> int:
    """Swap a part of hers with its neighbour, if there is one; gives its along's id."""
    part, along = own_part(session, host_id, part_id)
    assert along.id is not None
    rows = list(_parts(session, along.id))
    at = next(i for i, row in enumerate(rows) if row.id == part_id)
    other = at - 1 if way == "earlier" else at + 1
    if 0 <= other < len(rows):
        rows[at], rows[other] = rows[other], rows[at]
    for position, row in enumerate(rows, 1):
        row.position = position
        session.add(row)
    return part.along_id


def qr_picture(link: str) -> bytes:
    """The link as a QR code (ISO/IEC 18004), an SVG file of its own: dark on light with the quiet zone, error
    level M."""
    out = io.BytesIO()
    segno.make(link, error="m", micro=False).save(
        out, kind="svg", scale=8, border=4, dark="#000", light="#fff", title="QR code of the join link"
    )
    return out.getvalue()
