"""Makers by the dozen: rows of a log put straight into the database, as devices would have sent them."""

from __future__ import annotations

import json
from itertools import count
from typing import Any

from sqlmodel import Session, select

from server.storage.tables import Entry, Notebook, Part, PatternVersion, Project

Told = tuple[str, int, dict[str, Any]]
_NUMBERS = count(1)


def version_of(session: Session, part_id: int) -> PatternVersion:
    """The part's newest version."""
    rows = session.exec(select(PatternVersion).where(PatternVersion.part_id == part_id)).all()
    return max(rows, key=lambda row: row.number)


def maker(session: Session, part_id: int, foundation: int | None, size: str | None, *told: Told) -> int:
    """A maker on the newest version who settled on these numbers and logged that; id of her notebook."""
    part = session.get_one(Part, part_id)
    number = next(_NUMBERS)
    notebook = Notebook(along_id=part.along_id, secret_hash=f"hash-{number}", nickname=f"Maker {number}")
    session.add(notebook)
    session.flush()
    assert notebook.id is not None
    project = Project(
        notebook_id=notebook.id, part_id=part_id, pattern_version_id=version_of(session, part_id).id or 0
    )
    session.add(project)
    session.flush()
    assert project.id is not None
    log(session, project.id, ("settled", 0, {"foundation": foundation, "size": size}), *told)
    return notebook.id


def log(session: Session, project_id: int, *told: Told) -> None:
    """Entries at the end of a project's log."""
    for kind, piece, values in told:
        number = next(_NUMBERS)
        session.add(
            Entry(
                id=f"entry-{number:08}", project_id=project_id, piece=piece, kind=kind,
                values_json=json.dumps(values),
                at=f"2026-11-05T20:{number // 60 % 60:02}:{number % 60:02}.000Z",
                device="phone", device_order=number,
            )
        )  # fmt: skip
    session.flush()


def worked(*spots: str, piece: int = 1) -> list[Told]:
    """Rounds that were logged."""
    return [("worked", piece, {"spot": spot}) for spot in spots]
