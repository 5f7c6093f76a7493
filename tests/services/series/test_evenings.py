"""Evenings: set, moved, cancelled; and their calendar, read back by the library."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar
from sqlmodel import Session

from server.services.errors import NotFound, Refusal
from server.services.series import EveningForm, Set, calendar, evenings
from tests.services.series.conftest import NOW, Begun, a_host

FORM = EveningForm(
    "The cuff", "2026-12-03", "19:30", "120", "Europe/Oslo", place="Quay 4", note="A 4 mm hook"
)
LATER = NOW + timedelta(days=1)


def only(session: Session, begun: Begun) -> Set:
    (one,) = evenings.of_along(session, begun.along_id)
    return one


def calendar_read(data: bytes) -> Any:
    """The calendar as the library reads it: a property's type depends on its name."""
    return Calendar.from_ical(data)


def events(data: bytes) -> list[Any]:
    return list(calendar_read(data).events)


def test_an_evening_is_kept_as_it_was_said(session: Session, begun: Begun) -> None:
    evenings.add(session, begun.host_id, begun.along_id, replace(FORM, part=str(begun.cuff)), NOW)
    one = only(session, begun)
    assert (one.title, one.part_title, one.place, one.note, one.minutes) == (
        "The cuff", "Mitts", "Quay 4", "A 4 mm hook", 120,
    )  # fmt: skip
    assert one.wall.local.isoformat() == "2026-12-03T19:30:00"
    assert one.wall.moment == datetime(2026, 12, 3, 18, 30, tzinfo=UTC)
    assert one.changed_by == "Marit"
    assert evenings.form_of(one) == replace(FORM, part=str(begun.cuff))


def test_evenings_stand_in_the_order_they_come(session: Session, begun: Begun) -> None:
    for title, day, zone in (("b", "2026-12-03", "Europe/Oslo"), ("a", "2026-12-03", "Asia/Tokyo")):
        form = replace(FORM, title=title, day=day, zone=zone)
        evenings.add(session, begun.host_id, begun.along_id, form, NOW)
    assert [one.title for one in evenings.of_along(session, begun.along_id)] == ["a", "b"]


def test_the_next_form_begins_a_week_later_at_the_same_time(session: Session, begun: Begun) -> None:
    assert evenings.usual(session, begun.host_id, begun.along_id) == EveningForm()
    form = replace(FORM, day="2026-10-22")
    evenings.add(session, begun.host_id, begun.along_id, form, NOW)
    usual = evenings.usual(session, begun.host_id, begun.along_id)  # the clocks change in between
    assert (usual.day, usual.time, usual.zone, usual.title) == ("2026-10-29", "19:30", "Europe/Oslo", "")


@pytest.mark.parametrize(
    ("change", "field", "says"),
    [
        ({"title": "?"}, "title", "Give the evening a title"),
        ({"title": "x" * 81}, "title", "81 characters"),
        ({"minutes": "5"}, "minutes", "from 10 to 1440"),
        ({"minutes": "two"}, "minutes", "120 is two hours"),
        ({"part": "99"}, "part", "one of the along's parts"),
        ({"place": "x" * 201}, "place", "201 characters"),
        ({"note": "x" * 2001}, "note", "2001 characters"),
        ({"day": "2027-03-28", "time": "02:30"}, "time", "02:00 to 03:00"),
        ({"day": "2026-10-25", "time": "02:30"}, "which", "Which one"),
    ],
)
def test_what_does_not_work_out_is_said_at_its_field(
    session: Session, begun: Begun, change: dict[str, str], field: str, says: str
) -> None:
    with pytest.raises(Refusal, match=says) as refused:
        evenings.add(session, begun.host_id, begun.along_id, replace(FORM, **change), NOW)
    assert refused.value.field == field
    session.flush()
    assert evenings.of_along(session, begun.along_id) == ()


def test_moving_raises_the_sequence_and_keeps_the_uid(session: Session, begun: Begun) -> None:
    evening_id = evenings.add(session, begun.host_id, begun.along_id, FORM, NOW)
    before = only(session, begun)
    evenings.change(session, begun.host_id, evening_id, replace(FORM, note="Bring a needle"), None, LATER)
    renoted = only(session, begun)
    assert (renoted.sequence, renoted.changed_at) == (0, LATER)
    evenings.change(session, begun.host_id, evening_id, replace(FORM, day="2026-12-04"), None, LATER)
    after = only(session, begun)
    assert (after.uid, after.sequence) == (before.uid, 1)
    evenings.change(
        session, begun.host_id, evening_id, replace(FORM, day="2026-12-04", zone="Asia/Tokyo"), None, LATER
    )
    assert only(session, begun).sequence == 2


def test_what_was_not_changed_is_not_told_as_changed(session: Session, begun: Begun) -> None:
    evening_id = evenings.add(session, begun.host_id, begun.along_id, FORM, NOW)
    evenings.change(session, begun.host_id, evening_id, FORM, None, LATER)
    assert only(session, begun).changed_at == NOW


def test_a_form_that_another_host_overtook_says_who(session: Session, begun: Begun) -> None:
    evening_id = evenings.add(session, begun.host_id, begun.along_id, FORM, NOW)
    mark = only(session, begun).mark
    evenings.change(session, begun.host_id, evening_id, replace(FORM, time="20:00"), mark, LATER)
    with pytest.raises(Refusal, match=r"Marit changed this evening .*3 December 2026 at 20:00"):
        evenings.change(session, begun.host_id, evening_id, replace(FORM, time="19:00"), mark, LATER)
    evenings.change(
        session, begun.host_id, evening_id, replace(FORM, time="19:00"), only(session, begun).mark, LATER
    )
    assert only(session, begun).wall.local.hour == 19


def test_a_cancelled_evening_stays_and_can_come_back(session: Session, begun: Begun) -> None:
    evening_id = evenings.add(session, begun.host_id, begun.along_id, FORM, NOW)
    evenings.cancel(session, begun.host_id, evening_id, LATER)
    evenings.cancel(session, begun.host_id, evening_id, LATER)  # pressed twice
    one = only(session, begun)
    (event,) = events(calendar("Harbour evenings", (one,)))
    assert (event["STATUS"], event["SEQUENCE"]) == ("CANCELLED", 1)
    evenings.cancel(session, begun.host_id, evening_id, LATER, cancelled=False)
    (event,) = events(calendar("Harbour evenings", (only(session, begun),)))
    assert (event["STATUS"], event["SEQUENCE"], str(event["UID"])) == ("CONFIRMED", 2, one.uid)


def test_others_find_nothing(session: Session, begun: Begun) -> None:
    evening_id = evenings.add(session, begun.host_id, begun.along_id, FORM, NOW)
    oda = a_host(session, "oda")
    with pytest.raises(NotFound):
        evenings.add(session, oda, begun.along_id, FORM, NOW)
    with pytest.raises(NotFound):
        evenings.change(session, oda, evening_id, FORM, None, NOW)
    with pytest.raises(NotFound):
        evenings.cancel(session, oda, evening_id, NOW)


def test_the_calendar_reads_back_as_it_was(session: Session, begun: Begun) -> None:
    note = "Yarn, 75 m; hook \\ 4 mm\nand ø æ å " + "long words about a long cuff, " * 8
    evenings.add(session, begun.host_id, begun.along_id, replace(FORM, note=note, part=str(begun.cuff)), NOW)
    one = only(session, begun)
    data = calendar("Harbour, evenings; 2026", (one,), "https://evenhand.test/along/harbour-x")
    # RFC 5545, 3.1: lines end with CRLF and have no more than 75 octets; 3.3.11: text is escaped
    lines = data.split(b"\r\n")
    assert data.endswith(b"\r\n")
    assert all(len(line) <= 75 and b"\n" not in line for line in lines)
    assert b"Harbour\\, evenings\\; 2026" in data
    read = calendar_read(data)
    assert (str(read["VERSION"]), str(read["PRODID"])) == ("2.0", "-//Evenhand//Evenings//EN")
    (event,) = read.events
    # RFC 5545, 3.6.1: UID and DTSTAMP once each
    assert (str(event["UID"]), event["DTSTAMP"].dt) == (one.uid, NOW)
    assert str(event["SUMMARY"]) == "Harbour, evenings; 2026: The cuff"
    assert str(event["DESCRIPTION"]) == "Part: Mitts\n\n" + note.strip()
    assert str(event["LOCATION"]) == "Quay 4"
    assert str(event["URL"]) == "https://evenhand.test/along/harbour-x"
    assert event["DTSTART"].params["TZID"] == "Europe/Oslo"
    assert event["DTSTART"].dt.replace(tzinfo=None) == one.wall.local
    assert event["DURATION"].dt == timedelta(hours=2)
    assert "DTEND" not in event


@pytest.mark.parametrize("zone", ["Europe/Oslo", "America/St_Johns", "Australia/Lord_Howe", "Asia/Kathmandu"])
def test_the_time_zone_in_the_file_is_the_clock_of_that_zone(
    session: Session, begun: Begun, zone: str
) -> None:
    for day in ("2026-07-02", "2026-12-03", "2027-04-01"):
        evenings.add(session, begun.host_id, begun.along_id, replace(FORM, day=day, zone=zone), NOW)
    read = calendar_read(calendar("Harbour", evenings.of_along(session, begun.along_id)))
    (in_file,) = read.timezones
    assert str(in_file["TZID"]) == zone
    rules = in_file.to_tz(lookup_tzid=False)  # from the file alone
    for later in range(330):
        local = datetime.fromisoformat("2026-07-01T12:00") + timedelta(days=later)
        assert local.replace(tzinfo=rules).utcoffset() == local.replace(tzinfo=ZoneInfo(zone)).utcoffset()


def test_the_second_of_two_equal_times_is_told_in_utc(session: Session, begun: Begun) -> None:
    # RFC 5545, 3.3.5: a local time that occurs more than once refers to the first of them
    night = replace(FORM, day="2026-10-25", time="02:30")
    for which in ("first", "second"):
        evenings.add(session, begun.host_id, begun.along_id, replace(night, which=which), NOW)
    first, second = events(calendar("Harbour", evenings.of_along(session, begun.along_id)))
    assert first["DTSTART"].params["TZID"] == "Europe/Oslo"
    assert second["DTSTART"].to_ical() == b"20261025T013000Z"


def test_the_same_evenings_are_the_same_bytes(session: Session, begun: Begun) -> None:
    evenings.add(session, begun.host_id, begun.along_id, FORM, NOW)
    assert calendar("Harbour", (only(session, begun),)) == calendar("Harbour", (only(session, begun),))
    assert events(calendar("Harbour", ())) == []
