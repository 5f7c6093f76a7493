"""Chapters of an evening: where they begin in the video, as lines, and as WebVTT read back by its grammar."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.services.errors import Refusal
from server.services.recap.chapters import (
    LEAST_S,
    Chapter,
    Shown,
    as_lines,
    as_webvtt,
    chapters,
    offset_typed,
    offset_words,
    one_line,
)

OPENED = datetime(2026, 11, 26, 18, 30, tzinfo=UTC)


def shown(*at: tuple[float, str]) -> tuple[Shown, ...]:
    return tuple(Shown(OPENED + timedelta(seconds=seconds), title) for seconds, title in at)


def cut(opened_s: int, ended_s: float | None, *at: tuple[float, str]) -> list[tuple[float, float, str]]:
    ended = OPENED + timedelta(seconds=ended_s) if ended_s is not None else None
    return [(c.start_s, c.end_s, c.title) for c in chapters(OPENED, shown(*at), ended, opened_s)]


def test_the_first_is_at_the_very_beginning() -> None:
    """The room was opened at 4:30 of the video, the first round was shown at once."""
    assert cut(270, 1200, (0, "Foundation"), (600, "Rnd 1")) == [
        (0, 270, "Welcome"), (270, 870, "Foundation"), (870, 1470, "Rnd 1"),
    ]  # fmt: skip


def test_a_video_that_began_later_begins_with_what_was_shown_then() -> None:
    assert cut(-700, 1200, (0, "Foundation"), (600, "Rnd 1"), (900, "Rnd 2")) == [
        (0, 200, "Rnd 1"), (200, 500, "Rnd 2"),
    ]  # fmt: skip


def test_what_was_passed_over_quickly_has_none() -> None:
    """Rounds 1 and 2 are tapped through in six seconds, on the way to 3."""
    found = cut(0, 1000, (0, "Foundation"), (300, "Rnd 1"), (304, "Rnd 2"), (306, "Rnd 3"))
    assert found == [(0, 306, "Foundation"), (306, 1000, "Rnd 3")]


def test_the_same_round_again_is_one_chapter() -> None:
    assert cut(0, 500, (0, "Rnd 1"), (100, "Rnd 1"), (200, "Rnd 2")) == [
        (0, 200, "Rnd 1"),
        (200, 500, "Rnd 2"),
    ]


def test_an_open_room_ends_somewhere_all_the_same() -> None:
    assert cut(0, None, (0, "Rnd 1"), (100, "Rnd 2")) == [(0, 100, "Rnd 1"), (100, 160, "Rnd 2")]


def test_nothing_in_the_video_has_no_chapters() -> None:
    assert cut(-9000, 1200, (0, "Rnd 1")) == []
    assert cut(0, 1200) == []


def test_lines_are_as_descriptions_have_them() -> None:
    found = (Chapter(0, 59, "Welcome"), Chapter(59, 3661, "Cuff,\nRnd 1"), Chapter(3661, 3700, "Cuff, Rnd 2"))
    assert as_lines(found) == "00:00 Welcome\n00:59 Cuff, Rnd 1\n1:01:01 Cuff, Rnd 2"


@pytest.mark.parametrize(
    ("typed", "seconds"),
    [
        ("", 0),
        ("4:30", 270),
        ("1:04:30", 3870),
        ("-0:45", -45),
        ("−0:45", -45),
        ("270", 270),
        (" 90:00 ", 5400),
    ],
)
def test_times_as_people_write_them(typed: str, seconds: int) -> None:
    assert offset_typed(typed) == seconds
    assert offset_typed(offset_words(seconds)) == seconds


@pytest.mark.parametrize("typed", ["soon", "4.30", "4:75", "1:75:00", "99:00:00", "--3", "٤:٣٠x", "4:30:"])
def test_what_is_no_time_is_said(typed: str) -> None:
    with pytest.raises(Refusal) as refused:
        offset_typed(typed)
    assert refused.value.field == "at"


TIMES = st.lists(st.tuples(st.integers(0, 9000), st.text(max_size=30)), max_size=30).map(
    lambda found: sorted(found, key=lambda each: each[0])
)


@given(TIMES, st.integers(-9000, 9000), st.none() | st.integers(0, 12_000))
def test_chapters_follow_one_another_from_the_beginning(
    at: list[tuple[int, str]], opened_s: int, ended_s: int | None
) -> None:
    found = cut(opened_s, ended_s, *at)
    if not found:
        return
    assert found[0][0] == 0
    assert [stop for _, stop, _ in found[:-1]] == [start for start, _, _ in found[1:]]
    assert all(stop - start >= LEAST_S for start, stop, _ in found)


# --- WebVTT, read by the grammar of the W3C's "WebVTT: The Web Video Text Tracks Format" -------------------

STAMP = r"(?:(?P<{0}h>\d{{2,}}):)?(?P<{0}m>[0-5]\d):(?P<{0}s>[0-5]\d)\.(?P<{0}f>\d{{3}})"
TIMINGS = re.compile(STAMP.format("a") + r"[ \t]+-->[ \t]+" + STAMP.format("b") + r"(?:[ \t]+\S.*)?")


def read_webvtt(text: str) -> list[tuple[float, float, str]]:
    """(start, end, title) of each cue; AssertionError where the file is not well formed."""
    assert "\0" not in text
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    assert re.fullmatch(r"WEBVTT(?:[ \t].*)?", lines[0])
    assert lines[1] == "", "an empty line follows the header"
    blocks = [block.split("\n") for block in re.split(r"\n{2,}", "\n".join(lines[2:]).strip("\n")) if block]
    cues = []
    for block in blocks:
        if "-->" not in block[0]:
            block = block[1:]  # the cue's identifier
        found = TIMINGS.fullmatch(block[0])
        assert found, block[0]
        start, end = (_seconds(found, each) for each in "ab")
        assert start < end
        payload = block[1:]
        assert len(payload) == 1, "the title of a chapter is one line"
        assert "-->" not in payload[0]
        assert "<" not in payload[0]
        assert re.fullmatch(r"(?:[^&]|&(?:amp|lt|gt|lrm|rlm|nbsp);)*", payload[0])
        for entity, letter in (("&lt;", "<"), ("&gt;", ">"), ("&amp;", "&")):
            payload[0] = payload[0].replace(entity, letter)
        cues.append((start, end, payload[0]))
    assert [start for start, _, _ in cues] == sorted(start for start, _, _ in cues)
    return cues


def _seconds(found: re.Match[str], which: str) -> float:
    h, m, s, f = (int(found[which + each] or 0) for each in "hmsf")
    return h * 3600 + m * 60 + s + f / 1000


def test_webvtt_says_the_same_chapters() -> None:
    found = (
        Chapter(0, 59, "A & B"),
        Chapter(59, 3661, "<b> --> c"),
        Chapter(3661.5, 360_000, "Cuff,\nRnd 2"),
    )
    text = as_webvtt(found)
    assert text.startswith("WEBVTT\n\n1\n00:00:00.000 --> 00:00:59.000\nA &amp; B\n\n2\n")
    assert read_webvtt(text) == [(0, 59, "A & B"), (59, 3661, "<b> --> c"), (3661.5, 360_000, "Cuff, Rnd 2")]


@given(TIMES, st.integers(-900, 9000))
def test_webvtt_of_any_evening_reads_back(at: list[tuple[int, str]], opened_s: int) -> None:
    found = chapters(OPENED, shown(*((s, f"Rnd {t}") for s, t in at)), None, opened_s)
    assert read_webvtt(as_webvtt(found)) == [
        (each.start_s, each.end_s, one_line(each.title)) for each in found
    ]
