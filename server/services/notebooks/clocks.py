"""When an entry that a device made on its own was made, whatever the device's clock says.

The fold sorts by this moment, so two things have to hold: an entry comes after all that its device had seen
when it was made, and no clock that is days or years off sends it to the wrong end of the log.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from server.services.errors import Refusal

EARLIEST = datetime(2000, 1, 1, tzinfo=UTC)  # a clock that was never set begins in 1970
SKEW_LEAST = timedelta(minutes=2)  # less than this may be the way through the network


def iso(moment: datetime) -> str:
    """ISO 8601 in UTC with milliseconds, the form entries carry: "2026-03-01T19:04:05.678Z"."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def later(seen: str, milliseconds: int) -> str:
    """So many milliseconds after a moment of an entry."""
    return iso(datetime.fromisoformat(seen) + timedelta(milliseconds=milliseconds))


def skew(clock: str | None, now: datetime) -> timedelta:
    """What has to be added to a device's moments, from what its clock said when it sent them."""
    if clock is None:
        return timedelta()
    off = now - _read(clock, "clock")
    return off if abs(off) > SKEW_LEAST else timedelta()


def moment_of(at: str, off: timedelta, now: datetime, after: str | None) -> str:
    """The moment of an entry: the device's own, put right by its skew, never later than now, and after
    `after`, the moment of the last entry that the device had seen (None for an empty log).

    Refusal where `at` is no moment in UTC.
    """
    moment = _read(at, "at")
    try:
        moment += off
    except OverflowError:
        moment = now
    if not EARLIEST <= moment <= now:
        moment = now
    made = iso(moment)
    return later(after, 1) if after is not None and made <= after else made


def _read(at: str, field: str) -> datetime:
    try:
        moment = datetime.fromisoformat(at)
        if moment.tzinfo is not None:
            return moment.astimezone(UTC)
    except (ValueError, OverflowError):
        raise Refusal("The moment of an entry reads like 2026-03-01T19:04:05.678Z.", field) from None
    raise Refusal("The moment of an entry is in UTC and says so with a Z.", field)
