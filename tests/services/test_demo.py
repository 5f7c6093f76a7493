"""The demo: its pattern is proved without a word of complaint, and its makers are where it says."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import Engine
from sqlmodel import col, select

from server.craft.fabric import report
from server.services import accounts, demo, joining, notebooks, room, rosters, series
from server.services.demo import Demo
from server.storage.sessions import reading, writing
from server.storage.tables import Along, Entry, Part, PatternVersion, now


@pytest.fixture
def loaded(engine: Engine) -> Demo:
    with writing(engine) as session:
        assert not demo.is_loaded(session)
        return demo.load(session, now())


def test_its_pattern_has_nothing_to_mend() -> None:
    found = report.check(demo.PATTERN.read_text(encoding="utf-8"))
    assert found["findings"] == []
    assert found["proved"]
    assert found["sizes"] == {"small": 27, "medium": 30, "large": 33}
    # 27 chains with two of three skipped: 9 V-sts; two of them skipped at the gap, two made in its chains.
    small = {(row["section"], row["label"]): row["counts"] for row in found["rounds"]["27"]}
    assert small["Cuff", "Rnd 2"]["V-st"] == 9
    assert small["Thumb gap", "Rnd 1"]["V-st"] == 7
    assert small["Hand", "Rnd 1"]["V-st"] == 9
    # 3 + 3 in the skipped V-sts, 2 + 2 in the sides, 6 under the chains.
    assert small["Thumb", "Rnd 1"]["sc"] == 16


def test_its_second_pattern_has_nothing_to_mend() -> None:
    found = report.check(demo.COWL.read_text(encoding="utf-8"))
    assert found["findings"] == []
    assert found["proved"]
    # 84 chains, a V-st in every third: 28; at the upper edge one sc in each of its 2 dc and its space: 84
    small = {(row["section"], row["label"]): row["counts"] for row in found["rounds"]["84"]}
    assert small["Body", "Rnd 14"]["V-st"] == 28
    assert small["Upper edge", "Rnd 1"]["sc"] == 84


def test_its_host_signs_in(engine: Engine, loaded: Demo) -> None:
    with reading(engine) as session:
        assert accounts.check_password(session, loaded.sign_in_name, loaded.password) > 0
        assert demo.is_loaded(session)
        assert not demo.has_other_hosts(session)
    with writing(engine) as session:
        token = accounts.invite(session, now())
        accounts.make_account(session, token, accounts.NewAccount("marit", "Marit", "three old lamps"), now())
        assert demo.has_other_hosts(session)


def test_its_first_evening_can_be_told_again(engine: Engine, loaded: Demo) -> None:
    """Seven rounds of the cuff, what was said at the end, and the room is closed."""
    with reading(engine) as session:
        along_id = session.exec(select(Along.id)).one() or 0
        (over, *_) = series.evenings.of_along(session, along_id)
        things = room.passed(session, over.id, 0)
        assert [each.kind for each in things if each.kind != "answer"] == ["step"] * 7 + ["announce"]
        assert not room.state(session, over.id).is_open
        assert all(each.at <= over.ends for each in things)


def test_its_makers_are_in_different_places(engine: Engine, loaded: Demo) -> None:
    with reading(engine) as session:
        part_id = session.exec(select(Part.id).where(Part.title == demo.PART)).one()
        assert part_id is not None
        desks = {}
        for maker in loaded.makers:
            kept = joining.notebook_at(session, maker.secret)
            assert kept.nickname == maker.nickname
            desks[maker.nickname] = notebooks.open_desk(session, kept.notebook_id, part_id)

    tilly = desks["Tilly"].making
    assert tilly.settled is None
    assert [(one.foundation, one.verdict) for one in tilly.tries] == [(33, "too long"), (30, "too long")]

    noor = desks["Noor"]
    assert noor.making.settled is not None
    assert noor.making.settled.foundation == 36
    at_hand = noor.place(1).round
    assert at_hand is not None
    assert (at_hand.section_title, noor.place(1).done) == ("Cuff", 6)

    aurel = desks["Aurel"]
    assert aurel.making.pieces[1].finished
    assert aurel.verdict.state == "differs"
    assert [(one.one, one.two) for one in aurel.verdict.differences] == [("5 rounds", "6 rounds")]

    mina = desks["Mina"]
    assert mina.verdict.state == "twins"
    assert mina.making.pieces[1].finished
    assert mina.making.pieces[2].finished


def test_its_roster_reads_from_the_past(engine: Engine, loaded: Demo) -> None:
    with reading(engine) as session:
        host_id = accounts.check_password(session, loaded.sign_in_name, loaded.password)
        along_id = session.exec(select(Along.id)).one() or 0
        assert along_id is not None
        roster = rosters.roster(session, host_id, along_id)
        assert {maker.nickname for maker in roster.lines} == {"Tilly", "Noor", "Aurel", "Mina"}
        latest = max(session.exec(select(Entry.at)).all())
        assert latest < now().isoformat()
        published = session.exec(select(PatternVersion.published_at).order_by(col(PatternVersion.id))).first()
        assert published is not None
        assert now() - published > timedelta(days=7)


@pytest.mark.parametrize("day", range(7))
def test_one_evening_is_over_and_two_are_to_come_on_any_day(engine: Engine, day: int) -> None:
    at = datetime(2026, 11, 23 + day, 23, 50, tzinfo=UTC)
    with writing(engine) as session:
        demo.load(session, at)
        (along_id,) = session.exec(select(Along.id)).all()
        assert along_id is not None
        over = [one.is_over(at) for one in series.evenings.of_along(session, along_id)]
    assert over == [True, False, False]


def test_its_evenings_are_thursdays_and_its_page_is_there(engine: Engine, loaded: Demo) -> None:
    with reading(engine) as session:
        host_id = accounts.check_password(session, loaded.sign_in_name, loaded.password)
        along_id = session.exec(select(Along.id)).one() or 0
        assert along_id is not None
        page = series.announcing.settings(session, host_id, along_id)
        along = series.announcing.announced(session, page.address)
        assert [one.wall.local.strftime("%A %H:%M") for one in along.evenings] == ["Thursday 19:30"] * 3
        assert [one.is_over(now()) for one in along.evenings] == [True, False, False]
        assert [part.title for part in along.parts] == ["Ferry Mitts", "Ferry Cowl"]
        assert along.waiting == ("Ferry Hat",)
        # 100 + 140, 116 + 160, 134 + 180 m of the same yarn, 125 m a ball
        assert along.for_all is not None
        assert [(one.metres, one.balls) for one in along.for_all.totals] == [(240, 2), (276, 3), (314, 3)]
