"""A host's wall clock. When clocks change is the IANA time zone database's: European Union, last Sundays of
March and October at 01:00 UTC (tzdata, europe); United States, second Sunday of March (northamerica)."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.services.errors import Refusal
from server.services.series.wallclock import (
    Twice,
    WallTime,
    day_typed,
    offset_words,
    time_typed,
    wall_time,
    zone_named,
    zones,
)


def at(text: str) -> datetime:
    return datetime.fromisoformat(text)


def test_the_same_wall_time_is_another_moment_after_the_change() -> None:
    summer = wall_time(at("2026-10-22T19:30"), "Europe/Oslo")
    winter = wall_time(at("2026-10-29T19:30"), "Europe/Oslo")
    assert summer.moment == datetime(2026, 10, 22, 17, 30, tzinfo=UTC)
    assert winter.moment == datetime(2026, 10, 29, 18, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("local", "zone", "says"),
    [
        ("2027-03-28T02:30", "Europe/Oslo", "from 02:00 to 03:00"),
        ("2027-03-28T02:00", "Europe/Oslo", "from 02:00 to 03:00"),
        ("2027-03-28T02:59", "Europe/Oslo", "from 02:00 to 03:00"),
        ("2027-03-14T02:15", "America/New_York", "from 02:00 to 03:00"),
        ("2026-10-04T02:10", "Australia/Lord_Howe", "from 02:00 to 02:30"),  # half an hour there
    ],
)
def test_an_hour_that_is_skipped_is_not_to_be_had(local: str, zone: str, says: str) -> None:
    with pytest.raises(Refusal, match=says) as refused:
        wall_time(at(local), zone)
    assert refused.value.field == "time"


def test_the_edges_of_the_skipped_hour_are_there() -> None:
    assert wall_time(at("2027-03-28T01:59"), "Europe/Oslo").moment == datetime(2027, 3, 28, 0, 59, tzinfo=UTC)
    assert wall_time(at("2027-03-28T03:00"), "Europe/Oslo").moment == datetime(2027, 3, 28, 1, 0, tzinfo=UTC)


def test_an_hour_that_comes_twice_is_asked_about() -> None:
    with pytest.raises(Twice) as asked:
        wall_time(at("2026-10-25T02:30"), "Europe/Oslo")
    assert asked.value.field == "which"
    assert asked.value.choices == (("first", "the first, UTC+2"), ("second", "the second, UTC+1"))
    first = wall_time(at("2026-10-25T02:30"), "Europe/Oslo", "first")
    second = wall_time(at("2026-10-25T02:30"), "Europe/Oslo", "second")
    assert first.moment == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    assert second.moment - first.moment == timedelta(hours=1)
    assert (first.which, second.which) == ("first", "second")


def test_a_fold_of_the_time_itself_says_nothing() -> None:
    skipped = at("2024-03-10T02:00").replace(fold=1)
    with pytest.raises(Refusal, match="from 02:00 to 03:00"):
        wall_time(skipped, "America/St_Johns", "first")


def test_which_of_two_says_nothing_where_there_is_but_one() -> None:
    plain = wall_time(at("2026-12-03T19:30"), "Europe/Oslo", "second")
    assert plain == WallTime(at("2026-12-03T19:30"), "Europe/Oslo", 0)
    assert plain.which == ""


@given(
    st.datetimes(at("2024-01-01T00:00"), at("2030-12-31T23:59")).map(
        lambda d: d.replace(second=0, microsecond=0)
    ),
    st.sampled_from(
        ("Europe/Oslo", "America/St_Johns", "Australia/Lord_Howe", "Africa/Casablanca", "Asia/Kathmandu")
    ),
    st.sampled_from(("first", "second")),
)
def test_a_wall_time_is_read_off_that_clock_at_its_moment(local: datetime, zone: str, which: str) -> None:
    try:
        wall = wall_time(local, zone, "second" if which == "second" else "first")
    except Refusal:
        shown = {m.astimezone(WallTime(local, zone).here.tzinfo).replace(tzinfo=None) for m in around(local)}
        assert local not in shown
    else:
        assert wall.moment.astimezone(wall.here.tzinfo).replace(tzinfo=None) == local


def around(local: datetime) -> list[datetime]:
    """Every quarter of an hour near it, in UTC, so that any clock shows that time at one of them."""
    minute = timedelta(minutes=local.minute % 15)
    start = (local - minute).replace(tzinfo=UTC) - timedelta(hours=15)
    return [start + timedelta(minutes=15) * n + minute for n in range(120)]


def test_zones_are_named_by_city_or_in_full() -> None:
    assert zone_named("oslo") == "Europe/Oslo"
    assert zone_named(" america/new york ") == "America/New_York"
    assert zone_named("utc") == "UTC"
    assert "Europe/Oslo" in zones()
    with pytest.raises(Refusal, match="Perhaps Europe/London"):
        zone_named("Europe/Lundon")
    with pytest.raises(Refusal, match="in which time zone"):
        zone_named(" ")


@pytest.mark.parametrize(
    ("typed", "read"),
    [("19:30", (19, 30)), ("19.30", (19, 30)), ("7:30 pm", (19, 30)), ("12:05 am", (0, 5)), ("7pm", (19, 0)),
     ("19:30:00", (19, 30))],
)  # fmt: skip
def test_times_are_read_as_people_write_them(typed: str, read: tuple[int, int]) -> None:
    assert time_typed(typed) == read


@pytest.mark.parametrize("typed", ["", "25:00", "19:60", "7", "13:00 pm", "0:10 am", "soon"])
def test_what_is_no_time_is_asked_for_again(typed: str) -> None:
    with pytest.raises(Refusal, match=r"19:30") as refused:
        time_typed(typed)
    assert refused.value.field == "time"


@pytest.mark.parametrize("typed", ["", "3.12.2026", "2026-02-30", "1999-12-31", "2032-01-01"])
def test_what_is_no_day_within_reach_is_asked_for_again(typed: str) -> None:
    with pytest.raises(Refusal) as refused:
        day_typed(typed, date(2026, 11, 2))
    assert refused.value.field == "day"


def test_offsets_in_words() -> None:
    assert offset_words(timedelta(0)) == "UTC"
    assert offset_words(timedelta(hours=1)) == "UTC+1"
    assert offset_words(-timedelta(hours=3, minutes=30)) == "UTC−3:30"
