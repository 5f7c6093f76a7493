"""Evenings as iCalendar (RFC 5545): the whole along to follow, or one evening as a file.

The same rows give the same bytes: DTSTAMP is when an evening was last changed (RFC 5545, 3.8.7.2: without a
METHOD, the moment of the last revision).
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, timedelta

from icalendar import Calendar, Event

from server.services.series.evenings import Set

PRODID = "-//Evenhand//Evenings//EN"
LOOK_AGAIN = timedelta(hours=6)


def calendar(along_title: str, evenings: Sequence[Set], page_url: str = "") -> bytes:
    """The calendar of these evenings. page_url: the along's page, where it is shown."""
    made = Calendar()
    made.add("PRODID", PRODID)
    made.add("VERSION", "2.0")
    made.add("NAME", along_title)  # RFC 7986, 5.1
    made.add("X-WR-CALNAME", along_title)  # what programs read that are older than it
    made.add("REFRESH-INTERVAL", LOOK_AGAIN, parameters={"VALUE": "DURATION"})  # RFC 7986, 5.7
    for evening in evenings:
        made.add_component(_event(along_title, evening, page_url))
    if evenings:
        first = min(e.wall.local for e in evenings).date() - timedelta(days=366)
        last = max(e.wall.local for e in evenings).date() + timedelta(days=366)
        made.add_missing_timezones(first_date=first, last_date=last)
    return bytes(made.to_ical())


def _event(along_title: str, evening: Set, page_url: str) -> Event:
    event = Event()
    event.add("UID", evening.uid)
    event.add("DTSTAMP", evening.changed_at.astimezone(UTC))
    event.add("CREATED", evening.made_at.astimezone(UTC))
    event.add("LAST-MODIFIED", evening.changed_at.astimezone(UTC))
    event.add("SEQUENCE", evening.sequence)
    # A local time that comes twice means the first of the two (RFC 5545, 3.3.5): the second is told in UTC.
    event.add("DTSTART", evening.wall.moment if evening.wall.fold else evening.wall.here)
    event.add("DURATION", timedelta(minutes=evening.minutes))
    event.add("SUMMARY", f"{along_title}: {evening.title}")
    said = (evening.part_title and f"Part: {evening.part_title}", evening.note)
    description = "\n\n".join(text for text in said if text)
    if description:
        event.add("DESCRIPTION", description)
    if evening.place:
        event.add("LOCATION", evening.place)
    if page_url:
        event.add("URL", page_url)
    event.add("STATUS", "CANCELLED" if evening.is_cancelled else "CONFIRMED")
    event.add("TRANSP", "TRANSPARENT" if evening.is_cancelled else "OPAQUE")
    return event
