"""Reading a notebook in from its file, in one transaction: all of it or nothing.

Entries are known by their ids, so a file read in twice brings nothing twice, and a file of a notebook that is
on this device adds what is missing to that one. A file never writes into a notebook whose key the device does
not have: where its entries belong to such a one, it becomes a copy with ids of its own (made from the old
ones, so that the copy too is made once).

Patterns are matched by their whole text. With the along's code the notebook takes its place there; without
it the along comes with it: a private copy with the patterns as the file has them, in which she can go on as
before.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from hashlib import sha256

from sqlmodel import Session, col, func, select

from server.craft import making as craft
from server.craft.making.spots import is_fit, is_spot
from server.services.errors import NotFound, Refusal
from server.services.notebooks import places
from server.services.notebooks.desk import open_desk, read_pattern
from server.services.notebooks.fileform import FileEntry, FileProject, NotebookFile
from server.services.notebooks.shapes import NewEntry, checked
from server.storage import tables
from server.storage.keys import new_secret, secret_hash

COPIES_MOST = 20
AHEAD_MOST = timedelta(days=1)
ID_CHARACTERS = 32
NO_HASH = "-"  # no password has it
TOO_MUCH = "more than one piece can have: too many rounds, or too many stitches in them. Nothing was read in."


@dataclass(frozen=True)
class Brought:
    """What came of a file.

    secret    of the notebook it made; None where it went into one that was on the device already
    added     entries that were not there before; known: those that were
    differing  known ones that the file tells differently; the log is never changed, so they stay
    is_copy   the entries have new ids, since the notebook they come from is on this server still
    private   the along came with it
    """

    notebook_id: int
    secret: str | None
    added: int
    known: int
    differing: int
    is_copy: bool
    private: bool


def fitting(file: NotebookFile, now: datetime) -> NotebookFile:
    """The file once every entry could be true of the pattern that stands beside it; Refusal with the place
    where one could not. Slow: asked before the turn to write.
    """
    return replace(file, projects=tuple(_fitting_project(project, now) for project in file.projects))


def _fitting_project(project: FileProject, now: datetime) -> FileProject:
    pattern = read_pattern(project.text)
    if not pattern.sections:
        raise Refusal(f"{project.where}: its pattern has no rounds. Nothing was read in.", "file")
    entries = tuple(_fitting_entry(project, entry, now) for entry in project.entries)
    making = craft.fold(_folded(entry) for entry in entries)
    for number, piece in making.pieces.items():
        standing = {"worked": piece.worked, "hook": tuple(spot for spot, _ in piece.hook_changes)}
        for spots in standing.values():
            for spot in spots:
                # An entry of an earlier version may name a round that this one does not have, but none that
                # stands may.
                checked(NewEntry("round-that-stands", number, "worked", {"spot": spot}), pattern)
        if making.settled is not None and (number == 1 or pattern.header.pieces == "pair"):
            try:
                craft.piece_plan(pattern, making, number)
            except ValueError:
                raise Refusal(f"{project.where}: {TOO_MUCH}", "file") from None
    return replace(project, entries=entries)


def _fitting_entry(project: FileProject, entry: FileEntry, now: datetime) -> FileEntry:
    if datetime.fromisoformat(entry.at) > now + AHEAD_MOST:
        raise Refusal(f"{entry.where}, at: this moment is still to come. Nothing was read in.", "file")
    try:
        clean = checked(NewEntry(entry.id, entry.piece, entry.kind, entry.values), read_pattern(project.text))
    except Refusal as refusal:
        if refusal.field in ("spot", "fit") and _is_address(entry):
            return entry  # a round of an earlier version; see above
        raise Refusal(
            f"{entry.where}, {entry.kind}: {refusal.message} Nothing was read in.", "file"
        ) from None
    return replace(entry, values=dict(clean.values))


def _is_address(entry: FileEntry) -> bool:
    """Whether the values are an address of the right form, and short texts and numbers besides."""
    spot, fit = entry.values.get("spot"), entry.values.get("fit")
    return (is_spot(spot) or is_fit(fit)) and all(
        isinstance(value, str | int | float) and len(str(value)) <= 1000 for value in entry.values.values()
    )


def _folded(entry: FileEntry) -> craft.Entry:
    return craft.Entry(entry.id, entry.piece, entry.kind, entry.values, entry.at, entry.device, entry.order)


def bring_in(
    session: Session,
    file: NotebookFile,
    *,
    on_device: Sequence[int],
    along_id: int | None,
    nickname: str,
    now: datetime,
) -> Brought:
    """Read the file (from `fitting`) in; the caller rolls back where it raises.

    on_device  notebooks that the device has the keys of; a file goes into no others
    along_id   the along whose code was given, or None
    nickname   as shown there
    """
    for copy in range(COPIES_MOST):
        numbered = _with_ids(file, copy)
        owners = _owners(session, numbered)
        if not owners:
            return _make(session, numbered, along_id, nickname, copy > 0, now)
        if len(owners) == 1 and owners <= set(on_device):
            return _merge(session, numbered, owners.pop(), copy > 0, now)
    raise Refusal("There are many copies of this notebook on this server. Open one of them instead.", "file")


def _with_ids(file: NotebookFile, copy: int) -> NotebookFile:
    """The file with the ids of its n-th copy; undos name the copy's entries."""
    if copy == 0:
        return file
    ids = {
        entry.id: sha256(f"copy {copy} of {entry.id}".encode()).hexdigest()[:ID_CHARACTERS]
        for project in file.projects
        for entry in project.entries
    }

    def renamed(entry: FileEntry) -> FileEntry:
        values = entry.values
        if entry.kind == "undo":
            values = values | {"entry": ids.get(str(values.get("entry")), values.get("entry"))}
        return replace(entry, id=ids[entry.id], values=values)

    return replace(
        file,
        projects=tuple(
            replace(project, entries=tuple(renamed(entry) for entry in project.entries))
            for project in file.projects
        ),
    )


def _owners(session: Session, file: NotebookFile) -> set[int]:
    """The notebooks that have entries of these ids."""
    owners: set[int] = set()
    for ids in _batches([entry.id for project in file.projects for entry in project.entries]):
        owners.update(
            session.exec(
                select(tables.Project.notebook_id)
                .join(tables.Entry, col(tables.Entry.project_id) == tables.Project.id)
                .where(col(tables.Entry.id).in_(ids))
                .distinct()
            ).all()
        )
    return owners


# --- a notebook of its own ---------------------------------------------------------------------------------


def _make(
    session: Session, file: NotebookFile, along_id: int | None, nickname: str, is_copy: bool, now: datetime
) -> Brought:
    private = along_id is None
    along = _private_along(session, file, now) if along_id is None else along_id
    taken = session.exec(
        select(tables.Notebook.id).where(
            tables.Notebook.along_id == along, func.lower(col(tables.Notebook.nickname)) == nickname.lower()
        )
    ).first()
    if taken is not None:
        raise Refusal(
            f"Someone in this along is already called {nickname}. Write another nickname.", "nickname"
        )
    secret = new_secret()
    notebook = tables.Notebook(
        along_id=along,
        secret_hash=secret_hash(secret),
        nickname=nickname,
        terms=file.terms,
        units=file.units,
        wording=file.wording,
        joined_at=file.joined_at,
        last_seen_at=now,
    )
    session.add(notebook)
    session.flush()
    assert notebook.id is not None
    for project in file.projects:
        project_id = _begin(session, notebook.id, along, project)
        _insert(session, project_id, project.entries)
    _refresh(session, notebook.id, now)
    return Brought(notebook.id, secret, file.entries, 0, 0, is_copy, private)


def _private_along(session: Session, file: NotebookFile, now: datetime) -> int:
    """An along of her own, with the parts and patterns of the file."""
    host = session.exec(select(tables.Host).where(tables.Host.sign_in_name == tables.FILES_HOST)).first()
    if host is None:
        host = tables.Host(
            sign_in_name=tables.FILES_HOST, shown_name="From a file", password_hash=NO_HASH, created_at=now
        )
        session.add(host)
        session.flush()
    assert host.id is not None
    along = tables.Along(
        host_id=host.id,
        title=file.along_title,
        welcome=file.along_welcome,
        # Codes are read in capitals, so nobody can type this one.
        join_code=f"file-{new_secret()}".lower(),
        created_at=now,
        kept_from=file.along_host,
    )
    session.add(along)
    session.flush()
    assert along.id is not None
    for project in file.projects:
        _private_part(session, along.id, project)
    return along.id


def _private_part(session: Session, along_id: int, project: FileProject) -> None:
    part = tables.Part(along_id=along_id, position=project.part_position, title=project.part_title)
    session.add(part)
    session.flush()
    assert part.id is not None
    session.add(
        tables.PatternVersion(
            part_id=part.id,
            number=project.number,
            text=project.text,
            title=project.title,
            published_at=project.published_at,
        )
    )
    session.flush()


def _begin(session: Session, notebook_id: int, along_id: int, project: FileProject) -> int:
    """A project of the notebook on the file's version of the pattern, found by its text."""
    begun = select(tables.Project.part_id).where(tables.Project.notebook_id == notebook_id)
    version = session.exec(
        select(tables.PatternVersion)
        .join(tables.Part, col(tables.Part.id) == tables.PatternVersion.part_id)
        .where(
            tables.Part.along_id == along_id,
            tables.PatternVersion.text == project.text,
            col(tables.Part.id).not_in(begun),
        )
        .order_by(
            col(tables.Part.position) != project.part_position, col(tables.PatternVersion.number).desc()
        )
        .limit(1)
    ).first()
    if version is None or version.id is None:
        raise Refusal(
            f"“{project.part_title}”, version {project.number}: this along has no pattern of the same words. "
            "Leave the code empty, and the notebook keeps the pattern of its file.",
            "code",
        )
    row = tables.Project(
        notebook_id=notebook_id,
        part_id=version.part_id,
        pattern_version_id=version.id,
        started_at=project.started_at,
    )
    session.add(row)
    session.flush()
    assert row.id is not None
    return row.id


# --- into the notebook that it came from -------------------------------------------------------------------


def _merge(session: Session, file: NotebookFile, notebook_id: int, is_copy: bool, now: datetime) -> Brought:
    notebook = session.get(tables.Notebook, notebook_id)
    if notebook is None:
        raise NotFound("This notebook is not here any more.")
    along = session.get(tables.Along, notebook.along_id)
    assert along is not None
    added = known = differing = 0
    for project in file.projects:
        there = _there(session, project)
        projects = {row.project_id for row in there.values()}
        if len(projects) > 1:
            raise Refusal(
                f"{project.where}: its entries belong to several parts here. Nothing was read in.", "file"
            )
        if not projects:
            if along.kept_from is not None:
                _private_part(session, notebook.along_id, project)
            projects = {_begin(session, notebook_id, notebook.along_id, project)}
        news = [entry for entry in project.entries if entry.id not in there]
        _insert(session, projects.pop(), news)
        added += len(news)
        known += len(there)
        differing += sum(
            1 for entry in project.entries if entry.id in there and _differs(entry, there[entry.id])
        )
    _refresh(session, notebook_id, now)
    return Brought(notebook_id, None, added, known, differing, is_copy, along.kept_from is not None)


def _there(session: Session, project: FileProject) -> dict[str, tables.Entry]:
    """The project's entries that are in the log already, by id."""
    there: dict[str, tables.Entry] = {}
    for ids in _batches([entry.id for entry in project.entries]):
        for row in session.exec(select(tables.Entry).where(col(tables.Entry.id).in_(ids))).all():
            there[row.id] = row
    return there


def _differs(entry: FileEntry, row: tables.Entry) -> bool:
    mine = (row.piece, row.kind, json.loads(row.values_json), row.at, row.device, row.device_order)
    return mine != (entry.piece, entry.kind, entry.values, entry.at, entry.device, entry.order)


# --- both --------------------------------------------------------------------------------------------------


def _insert(session: Session, project_id: int, entries: Iterable[FileEntry]) -> None:
    session.add_all(
        tables.Entry(
            id=entry.id,
            project_id=project_id,
            piece=entry.piece,
            kind=entry.kind,
            values_json=json.dumps(entry.values, ensure_ascii=False, sort_keys=True),
            at=entry.at,
            device=entry.device,
            device_order=entry.order,
            received_at=entry.received_at,
        )
        for entry in entries
    )
    session.flush()


def _refresh(session: Session, notebook_id: int, now: datetime) -> None:
    """Where she is, for the shelf and the roster; Refusal where a piece cannot be drawn up with what came."""
    parts = session.exec(
        select(tables.Project.part_id).where(tables.Project.notebook_id == notebook_id)
    ).all()
    for part_id in parts:
        desk = open_desk(session, notebook_id, part_id)
        if desk.making.settled is not None:
            try:
                for piece in desk.pieces:
                    desk.plan(piece)
            except ValueError:
                raise Refusal(f"“{desk.part_title}” has {TOO_MUCH}", "file") from None
        places.refresh(session, desk, now)


def _batches(ids: list[str], size: int = 500) -> Iterable[list[str]]:
    for start in range(0, len(ids), size):
        yield ids[start : start + size]
