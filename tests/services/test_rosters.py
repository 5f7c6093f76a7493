"""The roster of an along."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from sqlmodel import Session

from server.services import rosters
from server.services.errors import NotFound
from server.storage.tables import Along, Host, Notebook, Part, PatternVersion, Project, ProjectPlace

NOW = datetime(2026, 11, 5, 20, 0, tzinfo=UTC)


@pytest.fixture
def along(session: Session) -> int:
    """An along of host 1 with two parts, each with versions 1 and 2 (ids 1 and 2, 3 and 4)."""
    session.add(Host(id=1, sign_in_name="marit", shown_name="Marit", password_hash="x"))
    session.add(Host(id=2, sign_in_name="other", shown_name="Other", password_hash="x"))
    session.flush()
    session.add(Along(id=1, host_id=1, title="Harbour hands", join_code="TXT4WP"))
    session.add(Along(id=2, host_id=1, title="Other hands", join_code="TXT4WQ"))
    session.flush()
    for part_id, position in ((1, 2), (2, 1)):
        session.add(Part(id=part_id, along_id=1, position=position, title=f"Part {part_id}"))
        session.flush()
        for number in (1, 2):
            session.add(
                PatternVersion(
                    id=(part_id - 1) * 2 + number, part_id=part_id, number=number, text="x", title="x"
                )
            )
    session.flush()
    return 1


def joins(session: Session, nickname: str, minutes_ago: int, along: int = 1) -> int:
    notebook = Notebook(
        along_id=along,
        secret_hash=nickname,
        nickname=nickname,
        last_seen_at=NOW - timedelta(minutes=minutes_ago),
    )
    session.add(notebook)
    session.flush()
    assert notebook.id is not None
    return notebook.id


def test_makers_stand_in_the_order_they_were_last_seen(session: Session, along: int) -> None:
    joins(session, "Ana", 9)
    joins(session, "Bo", 1)
    joins(session, "Elsewhere", 0, along=2)
    roster = rosters.roster(session, 1, along)
    assert [line.nickname for line in roster.lines] == ["Bo", "Ana"]
    assert roster.lines[1].last_seen_at == NOW - timedelta(minutes=9)
    assert (roster.makers, roster.pages) == (2, 1)


def test_each_part_of_a_maker_has_a_line_in_the_order_of_the_parts(session: Session, along: int) -> None:
    ana = joins(session, "Ana", 9)
    session.add(Project(id=1, notebook_id=ana, part_id=1, pattern_version_id=1))
    session.add(Project(id=2, notebook_id=ana, part_id=2, pattern_version_id=4))
    session.flush()
    session.add(
        ProjectPlace(
            project_id=1, piece=2, section_title="Cuff", round_label="Rnd 4", foundation=36, verdict="differs"
        )
    )
    session.flush()
    (line,) = rosters.roster(session, 1, along).lines
    second, first = line.places
    assert (first.part_title, first.piece, first.section, first.round) == ("Part 1", 2, "Cuff", "Rnd 4")
    assert (first.foundation, first.size, first.verdict) == (36, None, "differs")
    assert (first.version, first.latest) == (1, False)
    assert (second.part_title, second.version, second.latest) == ("Part 2", 2, True)
    assert (second.section, second.verdict) == ("", ""), "started, and nothing logged so far"


def test_a_long_roster_is_read_in_pages(session: Session, along: int) -> None:
    for number in range(rosters.MAKERS_A_PAGE + 1):
        joins(session, f"M{number}", number)
    pages = [rosters.roster(session, 1, along, page) for page in (0, 1, 2, 3)]
    assert [(r.page, len(r.lines), r.pages) for r in pages] == [
        (1, 100, 2),
        (1, 100, 2),
        (2, 1, 2),
        (2, 1, 2),
    ]
    assert pages[2].lines[0].nickname == "M100"


def test_another_hosts_along_has_no_roster(session: Session, along: int) -> None:
    for host, which in ((2, along), (1, 99)):
        with pytest.raises(NotFound):
            rosters.roster(session, host, which)
