"""The waiting list, and the along once more for the next season."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from sqlmodel import Session

from server.services import alongs, joining, patterns, rosters
from server.services.errors import NotFound, Refusal
from server.services.series import (
    EveningForm,
    PageForm,
    SeasonForm,
    announcing,
    cohosts,
    evenings,
    seasons,
    waiting,
)
from tests.services.series.conftest import NOW, Begun, a_host
from tests.services.test_patterns import TUBE

EVENING = EveningForm("The cuff", "2026-10-22", "19:30", "120", "Europe/Oslo", place="Quay 4", note="A hook")
NEXT = SeasonForm("Harbour evenings II", "move", "10", "0")


def order(session: Session, begun: Begun) -> list[str]:
    return [part.title for part in waiting.waiting(session, begun.host_id, begun.along_id)]


def test_drafts_wait_in_an_order_that_can_be_changed(session: Session, begun: Begun) -> None:
    cowl = alongs.add_part(session, begun.host_id, begun.along_id, "Cowl")
    assert order(session, begun) == ["Mitts", "Hat", "Cowl"]
    # a published part between them stays where it is, and is stepped over
    patterns.publish(session, begun.host_id, begun.hat, patterns.check(TUBE), None, NOW)
    assert order(session, begun) == ["Mitts", "Cowl"]
    assert waiting.move(session, begun.host_id, cowl, "earlier") == begun.along_id
    assert order(session, begun) == ["Cowl", "Mitts"]
    titles = [part.title for part in alongs.one(session, begun.host_id, begun.along_id).parts]
    assert titles == ["Cowl", "Hat", "Mitts"]
    waiting.move(session, begun.host_id, cowl, "earlier")  # it is the first already
    waiting.move(session, begun.host_id, cowl, "later")
    assert order(session, begun) == ["Mitts", "Cowl"]
    with pytest.raises(NotFound, match="is published"):
        waiting.move(session, begun.host_id, begun.hat, "later")
    with pytest.raises(NotFound):
        waiting.move(session, a_host(session, "oda"), cowl, "later")


def test_the_list_says_what_is_written_and_where_it_ends(session: Session, begun: Begun) -> None:
    patterns.save_draft(session, begun.host_id, begun.hat, "Title: Hat", None, NOW)
    mitts, hat = waiting.waiting(session, begun.host_id, begun.along_id)
    assert (mitts.has_text, mitts.is_first, mitts.is_last) == (False, True, False)
    assert (hat.has_text, hat.is_first, hat.is_last) == (True, False, True)


def test_the_next_season_has_all_but_the_people(session: Session, begun: Begun) -> None:
    patterns.publish(session, begun.host_id, begun.cuff, patterns.check(TUBE), None, NOW)
    patterns.save_draft(session, begun.host_id, begun.hat, "Title: Hat", None, NOW)
    evenings.add(session, begun.host_id, begun.along_id, replace(EVENING, part=str(begun.cuff)), NOW)
    off = evenings.add(session, begun.host_id, begun.along_id, replace(EVENING, title="Off"), NOW)
    evenings.cancel(session, begun.host_id, off, NOW)
    announcing.save(
        session, begun.host_id, begun.along_id, PageForm(is_shown=True, skill="Chains"), None, NOW
    )
    code = alongs.one(session, begun.host_id, begun.along_id).join_code
    joining.join(session, code, "Tilly", joining.new_secret(), NOW)
    cohosts.accept(
        session, a_host(session, "oda"), cohosts.invite(session, begun.host_id, begun.along_id, NOW), NOW
    )

    later = NOW + timedelta(days=300)
    new_id = seasons.copy(session, begun.host_id, begun.along_id, NEXT, later)

    new = alongs.one(session, begun.host_id, new_id)
    assert (new.title, new.welcome, new.makers) == ("Harbour evenings II", "Thursdays", 0)
    assert new.join_code != code
    assert [(part.title, part.version, part.changed) for part in new.parts] == [
        ("Mitts", None, True),
        ("Hat", None, True),
    ]
    assert patterns.open_part(session, begun.host_id, new.parts[0].id).text == TUBE
    assert rosters.roster(session, begun.host_id, new_id).lines == ()
    assert cohosts.hosts(session, begun.host_id, new_id, later).others == ()
    page = announcing.settings(session, begun.host_id, new_id)
    assert (page.form.is_shown, page.form.skill) == (False, "Chains")
    assert (
        page.address.rpartition("-")[2]
        not in announcing.settings(session, begun.host_id, begun.along_id).address
    )
    (evening,) = evenings.of_along(session, new_id)
    (old, _) = evenings.of_along(session, begun.along_id)
    assert (evening.title, evening.part_title, evening.place, evening.note) == (
        "The cuff",
        "Mitts",
        "Quay 4",
        "A hook",
    )
    assert evening.part_id == new.parts[0].id
    # ten weeks on, over the end of daylight saving, at the same time of the clock
    assert evening.wall.local == old.wall.local + timedelta(weeks=10)
    assert evening.wall.moment == old.wall.moment + timedelta(weeks=10, hours=1)
    assert (evening.sequence, evening.uid != old.uid) == (0, True)
    assert alongs.one(session, begun.host_id, begun.along_id).makers == 1  # the old one is as it was


def test_evenings_can_be_left_out(session: Session, begun: Begun) -> None:
    evenings.add(session, begun.host_id, begun.along_id, EVENING, NOW)
    new_id = seasons.copy(
        session, begun.host_id, begun.along_id, replace(NEXT, evenings="leave", weeks=""), NOW
    )
    assert evenings.of_along(session, new_id) == ()


@pytest.mark.parametrize(
    ("change", "field", "says"),
    [
        ({"title": " "}, "title", "Give the along a title"),
        ({"evenings": "keep"}, "evenings", "Choose whether"),
        ({"weeks": "some"}, "weeks", "whole number of weeks"),
        ({"days": "-1"}, "days", "whole number of days"),
        ({"weeks": "0"}, "weeks", "52 weeks is the same weekday"),
        ({"weeks": "9999"}, "weeks", "up to 5 years"),
    ],
)
def test_what_does_not_work_out_is_said_at_its_field(
    session: Session, begun: Begun, change: dict[str, str], field: str, says: str
) -> None:
    with pytest.raises(Refusal, match=says) as refused:
        seasons.copy(session, begun.host_id, begun.along_id, replace(NEXT, **change), NOW)
    assert refused.value.field == field
    assert len(alongs.of_host(session, begun.host_id)) == 1


def test_an_evening_that_would_come_to_a_skipped_hour_is_named(session: Session, begun: Begun) -> None:
    night = replace(EVENING, title="Night watch", day="2027-03-21", time="02:30")
    evenings.add(session, begun.host_id, begun.along_id, night, NOW)
    with pytest.raises(Refusal, match=r"“Night watch” would not come out.*from 02:00 to 03:00") as refused:
        seasons.copy(session, begun.host_id, begun.along_id, replace(NEXT, weeks="1"), NOW)
    assert refused.value.field == "weeks"
    assert len(alongs.of_host(session, begun.host_id)) == 1


def test_a_cohosts_copy_is_her_own_along(session: Session, begun: Begun) -> None:
    oda = a_host(session, "oda")
    cohosts.accept(session, oda, cohosts.invite(session, begun.host_id, begun.along_id, NOW), NOW)
    new_id = seasons.copy(session, oda, begun.along_id, replace(NEXT, evenings="leave"), NOW)
    assert alongs.own_along(session, oda, new_id).host_id == oda
    with pytest.raises(NotFound):
        alongs.own_along(session, begun.host_id, new_id)
