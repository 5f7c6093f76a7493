"""The shelf: what a maker's notebook holds, and how she reads it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from sqlmodel import Session, col, func, select

from server.craft.making.twinwords import piece_noun
from server.services.errors import NotFound, Refusal
from server.services.notebooks import places
from server.services.notebooks.desk import (
    Terms,
    Units,
    Wording,
    as_terms,
    as_units,
    as_wording,
    read_pattern,
)
from server.storage import tables

Stage = Literal["not published", "not begun", "measuring", "trying on", "working", "finished"]


@dataclass(frozen=True)
class ShelfPart:
    """One part of the along, and where she is in it.

    newer   the number of a version newer than hers, where there is one
    """

    part_id: int
    position: int
    title: str
    stage: Stage
    is_pair: bool
    noun: str
    piece: int
    section_title: str
    round_label: str
    foundation: int | None
    size: str | None
    verdict: str
    newer: int | None


@dataclass(frozen=True)
class Shelf:
    """A maker's notebook as it lies open. `from_file`: its along came with a file and is hers alone."""

    notebook_id: int
    nickname: str
    along_title: str
    host_name: str
    from_file: bool
    welcome: str
    terms: Terms
    units: Units
    wording: Wording
    parts: tuple[ShelfPart, ...]


def open_shelf(session: Session, notebook_id: int) -> Shelf:
    """The shelf of a notebook; NotFound where it was erased."""
    row = session.exec(
        select(tables.Notebook, tables.Along, tables.Host).where(
            tables.Notebook.id == notebook_id,
            tables.Along.id == tables.Notebook.along_id,
            tables.Host.id == tables.Along.host_id,
        )
    ).first()
    if row is None:
        raise NotFound("This notebook is not here any more.")
    notebook, along, host = row
    return Shelf(
        notebook_id=notebook_id,
        nickname=notebook.nickname,
        along_title=along.title,
        host_name=host.shown_name if along.kept_from is None else along.kept_from,
        from_file=along.kept_from is not None,
        welcome=along.welcome,
        terms=as_terms(notebook.terms),
        units=as_units(notebook.units),
        wording=as_wording(notebook.wording),
        parts=_parts(session, notebook),
    )


def _parts(session: Session, notebook: tables.Notebook) -> tuple[ShelfPart, ...]:
    parts = session.exec(
        select(tables.Part)
        .where(tables.Part.along_id == notebook.along_id)
        .order_by(col(tables.Part.position), col(tables.Part.id))
    ).all()
    part_ids = [part.id for part in parts]
    newest = dict(
        session.exec(
            select(tables.PatternVersion.part_id, func.max(tables.PatternVersion.number))
            .where(col(tables.PatternVersion.part_id).in_(part_ids))
            .group_by(col(tables.PatternVersion.part_id))
        ).all()
    )
    rows = session.exec(
        select(tables.Project, tables.PatternVersion, tables.ProjectPlace)
        .join(tables.PatternVersion, col(tables.PatternVersion.id) == tables.Project.pattern_version_id)
        .outerjoin(tables.ProjectPlace, col(tables.ProjectPlace.project_id) == tables.Project.id)
        .where(tables.Project.notebook_id == notebook.id)
    ).all()
    mine = {project.part_id: (version, place) for project, version, place in rows}
    return tuple(_shelf_part(part, newest.get(part.id or 0), mine.get(part.id or 0)) for part in parts)


def _shelf_part(
    part: tables.Part,
    newest: int | None,
    mine: tuple[tables.PatternVersion, tables.ProjectPlace | None] | None,
) -> ShelfPart:
    version, place = mine if mine else (None, None)
    stage: Stage = "not published" if newest is None else "not begun"
    if place is not None:
        settled = place.foundation is not None or place.size is not None or place.spot is not None
        stage = "finished" if place.section_title == places.FINISHED else "working"
        if not settled:
            stage = "measuring" if place.section_title == places.MEASURING else "trying on"
    return ShelfPart(
        part_id=part.id or 0,
        position=part.position,
        title=part.title,
        stage=stage,
        is_pair=version is None or read_pattern(version.text).header.pieces == "pair",
        noun=piece_noun(read_pattern(version.text)) if version else "",
        piece=place.piece if place else 1,
        section_title=place.section_title if place else "",
        round_label=place.round_label if place else "",
        foundation=place.foundation if place else None,
        size=place.size if place else None,
        verdict=place.verdict if place else "",
        newer=newest if version is not None and newest is not None and newest > version.number else None,
    )


def choose(session: Session, notebook_id: int, *, terms: str, units: str, wording: str | None = None) -> None:
    """Set the terms and units she reads in, and how the steps are said (None: as before); Refusal where they
    are none that we know.
    """
    if terms not in get_args(Terms):
        raise Refusal("Terms are US or UK.", "terms")
    if units not in get_args(Units):
        raise Refusal("Lengths are in cm or in inches.", "units")
    if wording is not None and wording not in get_args(Wording):
        raise Refusal("Steps are abbreviated or in full words.", "wording")
    notebook = session.get(tables.Notebook, notebook_id)
    if notebook is None:
        raise NotFound("This notebook is not here any more.")
    notebook.terms = as_terms(terms)
    notebook.units = as_units(units)
    notebook.wording = as_wording(wording or notebook.wording)
    session.add(notebook)
