"""The roster of an along: who is in it, with which numbers, where each one is, and when she was last seen.

It reads the places that the notebooks keep beside their logs; it works nothing out by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func
from sqlmodel import Session, col, select

from server.services.errors import NotFound
from server.storage import hosting
from server.storage.hidden import HIDDEN_NAME, hidden_among
from server.storage.tables import Notebook, Part, PatternVersion, Project, ProjectPlace

MAKERS_A_PAGE = 100
UNKNOWN = "There is nothing of yours at this address."


@dataclass(frozen=True)
class Whereabouts:
    """Where a maker is in one part.

    size, foundation   the named size or her own count of foundation chains; both None while she is trying on
    section, round     as her notebook keeps them; round may be empty
    version, latest    number of the version she is on, and whether it is the newest
    """

    part_title: str
    size: str | None
    foundation: int | None
    piece: int
    section: str
    round: str
    verdict: str
    version: int
    latest: bool


@dataclass(frozen=True)
class MakerLine:
    """A maker in the roster, by her nickname unless that is hidden; places: one for each part that she has
    started."""

    nickname: str
    last_seen_at: datetime
    places: tuple[Whereabouts, ...]


@dataclass(frozen=True)
class Roster:
    """A page of the makers of an along, those seen last first. makers: how many there are in all."""

    along_id: int
    along_title: str
    makers: int
    lines: tuple[MakerLine, ...]
    page: int
    pages: int


def roster(session: Session, host_id: int, along_id: int, page: int = 1) -> Roster:
    """The roster of an along of hers, `page` from 1; NotFound where the along is not hers."""
    along = hosting.along_hosted_by(session, host_id, along_id)
    if along is None:
        raise NotFound(UNKNOWN)
    makers = session.exec(
        select(func.count()).select_from(Notebook).where(Notebook.along_id == along_id)
    ).one()
    pages = max(1, -(-makers // MAKERS_A_PAGE))
    page = min(max(page, 1), pages)
    notebooks = session.exec(
        select(Notebook)
        .where(Notebook.along_id == along_id)
        .order_by(col(Notebook.last_seen_at).desc(), col(Notebook.id))
        .offset((page - 1) * MAKERS_A_PAGE)
        .limit(MAKERS_A_PAGE)
    ).all()
    places = _places(session, [notebook.id for notebook in notebooks if notebook.id is not None])
    hidden = hidden_among(session, [notebook.id for notebook in notebooks if notebook.id is not None])
    lines = tuple(
        MakerLine(
            HIDDEN_NAME if n.id in hidden else n.nickname, n.last_seen_at, tuple(places.get(n.id or 0, ()))
        )
        for n in notebooks
    )
    return Roster(along_id, along.title, makers, lines, page, pages)


def _places(session: Session, notebook_ids: list[int]) -> dict[int, list[Whereabouts]]:
    rows = session.exec(
        select(Project, Part, PatternVersion, ProjectPlace)
        .where(col(Project.notebook_id).in_(notebook_ids))
        .join(Part, col(Project.part_id) == Part.id)
        .join(PatternVersion, col(Project.pattern_version_id) == PatternVersion.id)
        .outerjoin(ProjectPlace, col(ProjectPlace.project_id) == Project.id)
        .order_by(col(Part.position), col(Part.id))
    ).all()
    part_ids = {part.id for _, part, _, _ in rows}
    newest = dict(
        session.exec(
            select(PatternVersion.part_id, func.max(PatternVersion.number))
            .where(col(PatternVersion.part_id).in_(part_ids))
            .group_by(col(PatternVersion.part_id))
        ).all()
    )
    places: dict[int, list[Whereabouts]] = {}
    for project, part, version, place in rows:
        line = _whereabouts(part, version.number, version.number == newest[project.part_id], place)
        places.setdefault(project.notebook_id, []).append(line)
    return places


def _whereabouts(part: Part, version: int, latest: bool, place: ProjectPlace | None) -> Whereabouts:
    if place is None:  # started, and nothing logged so far
        return Whereabouts(part.title, None, None, 1, "", "", "", version, latest)
    return Whereabouts(
        part.title, place.size, place.foundation, place.piece, place.section_title, place.round_label,
        place.verdict, version, latest,
    )  # fmt: skip
