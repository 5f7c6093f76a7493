"""Several hosts of one along: what they may do, and what only its own host may."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlmodel import Session, select

from server.services import alongs, joining, patterns, rosters
from server.services.errors import NotAllowed, NotFound, Refusal
from server.services.patterns import Elsewhere
from server.services.series import EveningForm, PageForm, announcing, cohosts, evenings
from server.storage.tables import Along, AlongHostInvite, AlongPage, Evening, Part
from tests.services.series.conftest import NOW, Begun, a_host
from tests.services.test_patterns import TUBE

EVENING = EveningForm("The cuff", "2026-12-03", "19:30", "120", "Europe/Oslo")


@pytest.fixture
def oda(session: Session, begun: Begun) -> int:
    """A second host, let in by a link."""
    oda = a_host(session, "oda")
    token = cohosts.invite(session, begun.host_id, begun.along_id, NOW)
    assert cohosts.invitation(session, token, NOW) == cohosts.Invitation("Harbour evenings", "Marit")
    assert cohosts.accept(session, oda, token, NOW) == begun.along_id
    return oda


def test_a_link_lets_one_in_once(session: Session, begun: Begun) -> None:
    token = cohosts.invite(session, begun.host_id, begun.along_id, NOW)
    oda, pia = a_host(session, "oda"), a_host(session, "pia")
    with pytest.raises(Refusal, match="your own along"):
        cohosts.accept(session, begun.host_id, token, NOW)
    cohosts.accept(session, oda, token, NOW)
    with pytest.raises(NotFound, match="once"):
        cohosts.accept(session, pia, token, NOW)
    with pytest.raises(NotFound):
        alongs.own_along(session, pia, begun.along_id)


def test_a_link_ends_after_a_week_or_with_the_next_or_when_it_is_taken_back(
    session: Session, begun: Begun
) -> None:
    oda = a_host(session, "oda")
    first = cohosts.invite(session, begun.host_id, begun.along_id, NOW)
    second = cohosts.invite(session, begun.host_id, begun.along_id, NOW)
    week = NOW + timedelta(days=7)
    assert cohosts.hosts(session, begun.host_id, begun.along_id, NOW).invite_until == week
    assert cohosts.hosts(session, begun.host_id, begun.along_id, week).invite_until is None
    for token, at in ((first, NOW), (second, week), ("x", NOW), ("\ud800", NOW)):
        with pytest.raises(NotFound):
            cohosts.accept(session, oda, token, at)
    cohosts.take_back(session, begun.host_id, begun.along_id)
    with pytest.raises(NotFound):
        cohosts.accept(session, oda, second, NOW)


def test_the_link_itself_is_not_kept(session: Session, begun: Begun) -> None:
    token = cohosts.invite(session, begun.host_id, begun.along_id, NOW)
    (row,) = session.exec(select(AlongHostInvite)).all()
    assert token not in repr(row)


def test_she_may_change_all_of_it(session: Session, begun: Begun, oda: int) -> None:
    alongs.rename(session, oda, begun.along_id, "Quay evenings", "")
    part_id = alongs.add_part(session, oda, begun.along_id, "Cowl")
    alongs.move_part(session, oda, part_id, "earlier")
    patterns.publish(session, oda, begun.cuff, patterns.check(TUBE), None, NOW)
    evenings.add(session, oda, begun.along_id, EVENING, NOW)
    announcing.save(session, oda, begun.along_id, PageForm(is_shown=True), None, NOW)
    assert rosters.roster(session, oda, begun.along_id).along_title == "Quay evenings"
    assert [part.title for part in alongs.one(session, begun.host_id, begun.along_id).parts] == [
        "Mitts",
        "Cowl",
        "Hat",
    ]
    (evening,) = evenings.of_along(session, begun.along_id)
    assert evening.changed_by == "Oda"
    address = announcing.settings(session, begun.host_id, begun.along_id).address
    assert announcing.announced(session, address).hosts == ("Marit", "Oda")
    (line,) = alongs.of_host(session, oda)
    assert (line.title, line.owner) == ("Quay evenings", "Marit")
    (line,) = alongs.of_host(session, begun.host_id)
    assert line.owner == ""


def test_only_the_owner_lets_people_in_and_removes_the_along(
    session: Session, begun: Begun, oda: int
) -> None:
    for job in (cohosts.take_back, cohosts.remove_along):
        with pytest.raises(NotAllowed, match="Only Marit"):
            job(session, oda, begun.along_id)
    with pytest.raises(NotAllowed):
        cohosts.invite(session, oda, begun.along_id, NOW)
    with pytest.raises(NotAllowed, match="leave yourself"):
        cohosts.let_go(session, oda, begun.along_id, begun.host_id)
    with pytest.raises(NotFound):
        cohosts.hosts(session, a_host(session, "pia"), begun.along_id, NOW)


@pytest.mark.parametrize("by_herself", [True, False])
def test_who_hosts_no_more_finds_nothing(session: Session, begun: Begun, oda: int, by_herself: bool) -> None:
    cohosts.let_go(session, oda if by_herself else begun.host_id, begun.along_id, oda)
    assert cohosts.hosts(session, begun.host_id, begun.along_id, NOW).others == ()
    with pytest.raises(NotFound):
        patterns.open_part(session, oda, begun.cuff)
    assert alongs.of_host(session, oda) == ()


def test_two_who_write_at_once_are_told_who_was_first(session: Session, begun: Begun, oda: int) -> None:
    mark = patterns.open_part(session, begun.host_id, begun.cuff).mark
    patterns.save_draft(session, oda, begun.cuff, "Oda wrote", mark, NOW)
    with pytest.raises(Elsewhere, match="changed by Oda since you opened it") as elsewhere:
        patterns.save_draft(session, begun.host_id, begun.cuff, "Marit wrote", mark, NOW)
    assert elsewhere.value.text == "Oda wrote"
    # her own other device is not a stranger
    mark = patterns.open_part(session, oda, begun.cuff).mark
    patterns.save_draft(session, oda, begun.cuff, "Oda wrote more", mark, NOW)
    with pytest.raises(Elsewhere, match="on another page or device"):
        patterns.save_draft(session, oda, begun.cuff, "Oda elsewhere", mark, NOW)


def test_two_who_rename_at_once_are_told_who_was_first(session: Session, begun: Begun, oda: int) -> None:
    mark = alongs.mark_of("Harbour evenings", "Thursdays")
    alongs.rename(session, oda, begun.along_id, "Quay evenings", "Thursdays", mark)
    with pytest.raises(Refusal, match=r"Oda changed title or welcome .*“Quay evenings”"):
        alongs.rename(session, begun.host_id, begun.along_id, "Pier evenings", "Thursdays", mark)
    mark = alongs.mark_of("Quay evenings", "Thursdays")
    alongs.rename(session, begun.host_id, begun.along_id, "Pier evenings", "Thursdays", mark)
    assert alongs.own_along(session, oda, begun.along_id).title == "Pier evenings"


def test_an_along_goes_with_all_that_is_its_own(session: Session, begun: Begun, oda: int) -> None:
    evenings.add(session, oda, begun.along_id, EVENING, NOW)
    announcing.save(session, oda, begun.along_id, PageForm(), None, NOW)
    cohosts.remove_along(session, begun.host_id, begun.along_id)
    for table in (Along, Part, Evening, AlongPage):
        assert session.exec(select(table)).all() == []
    assert alongs.of_host(session, oda) == ()


def test_an_along_with_makers_or_a_published_pattern_stays(session: Session, begun: Begun) -> None:
    code = alongs.one(session, begun.host_id, begun.along_id).join_code
    patterns.publish(session, begun.host_id, begun.cuff, patterns.check(TUBE), None, NOW)
    with pytest.raises(Refusal, match="a published version never goes"):
        cohosts.remove_along(session, begun.host_id, begun.along_id)
    joining.join(session, code, "Tilly", joining.new_secret(), NOW)
    with pytest.raises(Refusal, match="1 maker has a notebook in it"):
        cohosts.remove_along(session, begun.host_id, begun.along_id)
