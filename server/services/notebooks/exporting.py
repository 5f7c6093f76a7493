"""Taking a notebook along: the whole of it as JSON that can be read in again, and as two tables (CSV)."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence
from datetime import datetime

from sqlmodel import Session, col, select

from server.craft import making as craft
from server.craft.making.standing import is_foundation
from server.services.errors import NotFound
from server.services.notebooks.desk import Desk, open_desk, piece_name
from server.services.notebooks.fileform import (
    FORM,
    VERSION,
    FileEntry,
    FileProject,
    NotebookFile,
    exact,
)
from server.services.notebooks.logs import Logged, read_log
from server.services.notebooks.ways import NOT_HERE
from server.storage import tables

ENTRY_COLUMNS = (
    "along", "part", "pattern_version", "entry", "in_force", "piece", "kind", "spot", "at_utc", "device",
    "order", "received_at_utc", "values",
)  # fmt: skip
ROUND_COLUMNS = (
    "along", "part", "pattern_version", "foundation_chains", "size", "piece", "section", "round", "spot",
    "hook_mm", "stitches", "counted", "width_mm", "length_mm", "weight_g", "notes",
)  # fmt: skip
FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")


def whole(session: Session, notebook_id: int) -> NotebookFile:
    """All that is kept of a notebook; NotFound where it is not here."""
    row = session.exec(
        select(tables.Notebook, tables.Along, tables.Host).where(
            tables.Notebook.id == notebook_id,
            tables.Along.id == tables.Notebook.along_id,
            tables.Host.id == tables.Along.host_id,
        )
    ).first()
    if row is None:
        raise NotFound(NOT_HERE)
    notebook, along, host = row
    return NotebookFile(
        nickname=notebook.nickname,
        terms=notebook.terms,
        units=notebook.units,
        wording=notebook.wording,
        joined_at=notebook.joined_at,
        along_title=along.title,
        along_host=host.shown_name if along.kept_from is None else along.kept_from,
        along_welcome=along.welcome,
        projects=tuple(_project(session, *each) for each in _projects(session, notebook_id)),
    )


def _projects(
    session: Session, notebook_id: int
) -> Sequence[tuple[tables.Project, tables.Part, tables.PatternVersion]]:
    rows = session.exec(
        select(tables.Project, tables.Part, tables.PatternVersion)
        .where(
            tables.Project.notebook_id == notebook_id,
            tables.Part.id == tables.Project.part_id,
            tables.PatternVersion.id == tables.Project.pattern_version_id,
        )
        .order_by(col(tables.Part.position), col(tables.Part.id))
    ).all()
    return [(project, part, version) for project, part, version in rows]


def _project(
    session: Session, project: tables.Project, part: tables.Part, version: tables.PatternVersion
) -> FileProject:
    assert project.id is not None
    return FileProject(
        part_title=part.title,
        part_position=part.position,
        number=version.number,
        title=version.title,
        published_at=version.published_at,
        text=version.text,
        started_at=project.started_at,
        entries=tuple(_entry(logged) for logged in read_log(session, project.id)),
    )


def _entry(logged: Logged) -> FileEntry:
    entry = logged.entry
    return FileEntry(
        entry.id, entry.piece, entry.kind, dict(entry.values), entry.at, entry.device, entry.order,
        logged.received_at,
    )  # fmt: skip


def as_json(file: NotebookFile, now: datetime) -> str:
    """The file: the same notebook gives the same bytes, apart from `exported_at`."""
    content = {
        "form": FORM,
        "version": VERSION,
        "exported_at": exact(now),
        "notebook": {
            "nickname": file.nickname,
            "terms": file.terms,
            "units": file.units,
            "wording": file.wording,
            "joined_at": exact(file.joined_at),
        },
        "along": {"title": file.along_title, "host": file.along_host, "welcome": file.along_welcome},
        "projects": [
            {
                "part": {"title": project.part_title, "position": project.part_position},
                "pattern": {
                    "number": project.number,
                    "title": project.title,
                    "published_at": exact(project.published_at),
                    "text": project.text,
                },
                "started_at": exact(project.started_at),
                "entries": [
                    {
                        "id": entry.id,
                        "piece": entry.piece,
                        "kind": entry.kind,
                        "values": dict(sorted(entry.values.items())),
                        "at": entry.at,
                        "device": entry.device,
                        "order": entry.order,
                        "received_at": exact(entry.received_at),
                    }
                    for entry in project.entries
                ],
            }
            for project in file.projects
        ],
    }
    return json.dumps(content, ensure_ascii=False, indent=1) + "\n"


# --- tables ------------------------------------------------------------------------------------------------


def desks(session: Session, notebook_id: int) -> tuple[Desk, ...]:
    """Every part that she has begun, in the along's order."""
    parts = [part.id for _, part, _ in _projects(session, notebook_id)]
    return tuple(open_desk(session, notebook_id, part) for part in parts if part is not None)


def entries_csv(open_desks: Iterable[Desk]) -> str:
    """One line for every entry of the log; `in_force` is "no" for an undo and for what was undone."""
    lines = []
    for desk in open_desks:
        holding = {entry.id for entry in craft.in_force(logged.entry for logged in desk.log)}
        for logged in desk.log:
            entry = logged.entry
            lines.append(
                (
                    desk.along_title,
                    desk.part_title,
                    desk.version.number,
                    entry.id,
                    "yes" if entry.id in holding else "no",
                    entry.piece,
                    entry.kind,
                    entry.values.get("spot") or "",
                    entry.at,
                    entry.device,
                    entry.order,
                    exact(logged.received_at),
                    json.dumps(dict(entry.values), ensure_ascii=False, sort_keys=True),
                )
            )
    return _csv(ENTRY_COLUMNS, lines)


def rounds_csv(open_desks: Iterable[Desk]) -> str:
    """One line for every round that stands, the foundation included, in the order of making."""
    lines = [
        line
        for desk in open_desks
        if desk.making.settled is not None
        for piece in desk.pieces
        for line in _round_lines(desk, piece)
    ]
    return _csv(ROUND_COLUMNS, lines)


def _round_lines(desk: Desk, piece: int) -> list[tuple[object, ...]]:
    own = desk.making.pieces[piece]
    numbers = own.numbers or desk.making.settled
    hook_mm, changes = own.hook_mm, dict(own.hook_changes)
    lines: list[tuple[object, ...]] = []
    for planned in desk.plan(piece).rounds:
        hook_mm = changes.get(planned.spot, hook_mm)
        if planned.spot not in own.worked:
            continue
        counted = own.counted.get(planned.spot, {})
        lines.append(
            (
                desk.along_title,
                desk.part_title,
                desk.version.number,
                numbers.foundation if numbers and numbers.foundation is not None else "",
                numbers.size if numbers and numbers.size is not None else "",
                piece_name(desk, piece),
                planned.section_title,
                "Foundation" if is_foundation(planned) else planned.label,
                planned.spot,
                "" if hook_mm is None else f"{hook_mm:g}",
                planned.count_text,
                "; ".join(f"{count} {name}" for name, count in sorted(counted.items())),
                _number(own.measures.get(("width", planned.spot))),
                _number(own.measures.get(("length", planned.spot))),
                _number(own.weights.get(planned.spot)),
                " / ".join(note.text for note in own.notes if note.spot == planned.spot),
            )
        )
    return lines


def _number(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


def _csv(columns: Sequence[str], lines: Iterable[Sequence[object]]) -> str:
    """RFC 4180. A cell that a spreadsheet would take for a formula gets an apostrophe before it."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([_cell(value) for value in line] for line in lines)
    return out.getvalue()


def _cell(value: object) -> str:
    text = str(value)
    return f"'{text}" if text.startswith(FORMULA_SIGNS) else text
