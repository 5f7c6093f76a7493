"""How long a round takes her."""

from __future__ import annotations

from server.craft.making import Entry, Pace, pace


def worked(number: int, clock: str, piece: int = 1, kind: str = "worked") -> Entry:
    at = f"2026-11-03T{clock}.000Z"
    return Entry(f"e{number}", piece, kind, {"spot": f"0.3.{number}"}, at, "phone", number)


def test_the_median_of_what_rounds_took() -> None:
    """300 s, 240 s, 900 s (a phone call): the median is 300 s."""
    rounds = [worked(1, "19:00:00"), worked(2, "19:05:00"), worked(3, "19:09:00"), worked(4, "19:24:00")]
    assert pace(rounds, 1) == Pace(300.0, "2026-11-03T19:24:00.000Z")


def test_two_times_are_enough_and_one_is_not() -> None:
    two = [worked(1, "19:00:00"), worked(2, "19:05:00"), worked(3, "19:09:00")]
    assert pace(two, 1).seconds_per_round == 270.0  # between 240 and 300
    assert pace(two[:2], 1) == Pace(None, "2026-11-03T19:05:00.000Z")
    assert pace([], 1) == Pace(None, None)


def test_more_than_an_hour_is_a_pause() -> None:
    rounds = [worked(1, "19:00:00"), worked(2, "19:05:00"), worked(3, "20:05:00"), worked(4, "21:05:01")]
    assert pace(rounds, 1).seconds_per_round == 1950.0  # (300 + 3600) / 2; 3601 s is left out
    assert pace([rounds[0], rounds[1], rounds[3]], 1).seconds_per_round is None


def test_only_rounds_of_that_piece_that_are_in_force() -> None:
    rounds = [
        worked(1, "19:00:00"),
        worked(2, "19:01:00", piece=2),
        worked(3, "19:02:00", kind="note"),
        worked(4, "19:03:00"),
        worked(5, "19:05:00"),
        worked(6, "19:06:00"),
        Entry("u", 1, "undo", {"entry": "e5"}, "2026-11-03T19:07:00.000Z", "phone", 7),
    ]
    assert pace(rounds, 1) == Pace(180.0, "2026-11-03T19:06:00.000Z")
    assert pace(rounds, 2) == Pace(None, "2026-11-03T19:01:00.000Z")


def test_any_order_of_arrival_and_a_moment_that_does_not_read() -> None:
    rounds = [worked(3, "19:10:00"), worked(1, "19:00:00"), worked(2, "19:04:00")]
    strange = [
        Entry("x", 1, "worked", {"spot": "0.3.9"}, "soon", "phone", 9),
        Entry("y", 1, "worked", {"spot": "0.3.9"}, "2026-11-03T19:02:00", "phone", 9),
    ]
    assert pace([*rounds, *strange], 1) == Pace(300.0, "2026-11-03T19:10:00.000Z")
