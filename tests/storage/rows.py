"""Rows for the storage tests: one along with a published part, and a maker with a log."""

from __future__ import annotations

from dataclasses import dataclass

from sqlmodel import Session

from server.storage.tables import Along, Entry, Host, Notebook, Part, PatternVersion, Project, ProjectPlace


@dataclass(frozen=True)
class Rows:
    """The ids of what `fill` made."""

    notebook: int
    project: int
    version: int


def entry(project_id: int, name: str, order: int = 0) -> Entry:
    """A logged round."""
    return Entry(
        id=name,
        project_id=project_id,
        piece=1,
        kind="worked",
        values_json='{"spot": "0.0.1"}',
        at="2026-11-20T19:30:00.000Z",
        device="phone",
        device_order=order,
    )


def fill(session: Session) -> Rows:
    """A host, an along, a part, its first version, a notebook, a project with two entries and a place."""
    host = Host(sign_in_name="orla", shown_name="Orla", password_hash="-")
    session.add(host)
    session.flush()
    assert host.id is not None
    along = Along(host_id=host.id, title="Two winters", join_code="ABC234")
    session.add(along)
    session.flush()
    assert along.id is not None
    part = Part(along_id=along.id, position=1, title="Wristers")
    session.add(part)
    session.flush()
    assert part.id is not None
    version = PatternVersion(part_id=part.id, number=1, text="Title: Wristers", title="Wristers")
    notebook = Notebook(along_id=along.id, secret_hash="-", nickname="Fern")
    session.add_all([version, notebook])
    session.flush()
    assert version.id is not None
    assert notebook.id is not None
    project = Project(notebook_id=notebook.id, part_id=part.id, pattern_version_id=version.id)
    session.add(project)
    session.flush()
    assert project.id is not None
    place = ProjectPlace(
        project_id=project.id,
        piece=1,
        section_title="Cuff",
        round_label="Rnd 1",
        verdict="no second piece yet",
    )
    session.add_all([entry(project.id, "a"), entry(project.id, "b", 1), place])
    session.flush()
    return Rows(notebook=notebook.id, project=project.id, version=version.id)
