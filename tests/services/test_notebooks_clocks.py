"""A device's clock may be days or years off: nothing it logged is lost, and nothing changes its order."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlmodel import Session

from server.services import notebooks
from server.services.errors import Refusal
from server.services.notebooks import DeviceEntry, NewEntry
from server.services.notebooks.clocks import iso, later, moment_of, skew
from tests.services.story import NOW, Maker, make_along

FAR_OFF = [timedelta(days=-9000), timedelta(days=-400), timedelta(hours=-11), timedelta(hours=3),
           timedelta(days=800), timedelta(days=36_000)]  # fmt: skip


@pytest.fixture
def ida(session: Session) -> Maker:
    """Ida, with her number settled."""
    maker = Maker(session, make_along(session)[1])
    maker.settle(28, "medium")
    return maker


@pytest.mark.parametrize("off", FAR_OFF, ids=str)
def test_rounds_and_a_taking_out_keep_their_order(ida: Maker, off: timedelta) -> None:
    """A device with no network works three rounds, takes the last one out, and sends it all in the end."""
    last = ida.desk.log[-1].entry
    begun = ida.now + timedelta(hours=1)
    sent = []
    after, at = last.id, last.at
    doings = [("worked", "0.0.1"), ("worked", "0.1.1"), ("worked", "0.2.1"), ("taken_out", "0.2.1")]
    for number, (kind, spot) in enumerate(doings):
        at = max(iso(begun + timedelta(minutes=number) + off), later(at, 1))
        new = NewEntry(f"offline-{number}", 1, kind, {"spot": spot})
        sent.append(DeviceEntry(new, at, number, after))
        after = new.id
    now = begun + timedelta(minutes=30)
    received = notebooks.receive(
        ida.session, ida.notebook_id, ida.part_id, sent[::-1], device="phone", now=now, clock=iso(now + off)
    )
    assert received.refused == ()
    piece = ida.desk.making.pieces[1]
    assert piece.worked == ("0.0.1", "0.1.1")
    assert piece.taken_out == (("0.2.1", 1),)
    moments = [logged.entry.at for logged in ida.desk.log]
    assert [logged.entry.id for logged in ida.desk.log[1:]] == [one.new.id for one in sent]
    assert len(set(moments)) == len(moments)
    assert moments[-1] <= iso(now + timedelta(milliseconds=len(sent)))


def test_a_clock_a_little_off_is_left_alone() -> None:
    now = NOW
    assert skew(iso(now - timedelta(seconds=100)), now) == timedelta()
    assert skew(iso(now - timedelta(days=2)), now) == timedelta(days=2)
    assert skew(None, now) == timedelta()


def test_a_moment_to_come_is_now_and_one_before_all_clocks_too() -> None:
    for at in ("2031-01-01T00:00:00.000Z", "1970-01-01T00:00:07.000Z", "0001-01-01T00:00:00+00:00"):
        assert moment_of(at, timedelta(), NOW, None) == iso(NOW)


@pytest.mark.parametrize("at", ["yesterday", "2026-11-05T20:00:00", "", "0001-01-01T00:00:00+14:00"])
def test_no_moment_is_said_so(at: str) -> None:
    with pytest.raises(Refusal):
        moment_of(at, timedelta(), NOW, None)


MOMENTS = st.integers(-62_135_000_000, 253_402_000_000).map(
    lambda s: datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=s)
)


@given(
    MOMENTS,
    MOMENTS,
    st.none() | st.integers(-(10**9), 0).map(lambda ms: iso(NOW + timedelta(milliseconds=ms))),
)
def test_always_after_what_was_seen_and_never_to_come(
    made: datetime, clock: datetime, after: str | None
) -> None:
    at = moment_of(iso(made), skew(iso(clock), NOW), NOW, after)
    assert at <= max(iso(NOW), later(after, 1) if after else "")
    assert after is None or at > after
