"""A maker's own numbers: sizes, her own count, the ring tried on, the number written down."""

from __future__ import annotations

import pytest
from sqlmodel import Session

from server.services import notebooks
from server.services.errors import Refusal
from server.services.notebooks import Overtaken
from server.storage.tables import ProjectPlace
from tests.services.story import CROWN, NOW, SLIPWAY, Maker, make_along


@pytest.fixture
def ida(session: Session) -> Maker:
    """Ida, at a part over a multiple of 4 (24, 28 and 32 chains)."""
    return Maker(session, make_along(session)[1])


def test_named_sizes_in_her_units(ida: Maker) -> None:
    sizes = notebooks.sizes(ida.desk)
    assert [(size.name, size.foundation, size.hook_mm) for size in sizes] == [
        ("small", 24, 5.0),
        ("medium", 28, 5.0),
        ("large", 32, 5.0),
    ]
    assert [size.fits for size in sizes] == ["18 cm", "21 cm", "24 cm"]
    notebooks.choose(ida.session, ida.notebook_id, terms="UK", units="in")
    # 18 cm / 2.54 = 7.09, 21 / 2.54 = 8.27, 24 / 2.54 = 9.45: to the nearest quarter inch
    assert [size.fits for size in notebooks.sizes(ida.desk)] == ["7 in", "8 1/4 in", "9 1/2 in"]
    assert ida.desk.terms == "UK"


@pytest.mark.parametrize(("typed", "count"), [("36", 36), (" 24 ", 24), ("32 ch", 32), ("12 chains", 12)])
def test_a_count_of_her_own_is_read(ida: Maker, typed: str, count: int) -> None:
    assert notebooks.count_of_her_own(ida.desk, typed) == count


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("37", r"37 is not a multiple of 4\. Nearest that work: 36 or 40\."),
        ("27", r"27 is not a multiple of 4\. Nearest that work: 24 or 28\."),
        ("8", r"8 chains is under three repeats\. The fewest that work: 12\."),  # 3 * 4
        ("7", "The fewest that work: 12"),
        ("13", "Nearest that work: 12 or 16"),
        ("", "in digits, such as 28"),
        ("many", "in digits"),
        ("-28", "in digits"),
        ("28.5", "in digits"),
        ("0", "in digits"),
        ("4000", "1000 at most"),
    ],
)
def test_a_count_that_is_not_allowed_is_refused_with_what_works(ida: Maker, typed: str, says: str) -> None:
    with pytest.raises(Refusal, match=says) as refused:
        notebooks.count_of_her_own(ida.desk, typed)
    assert refused.value.field == "foundation"


def test_the_ring_goes_down_and_up_by_one_repeat(ida: Maker) -> None:
    ring = notebooks.trial(ida.desk, 28)
    assert (ring.foundation, ring.size, ring.shorter, ring.longer) == (28, "medium", 24, 32)
    assert notebooks.trial(ida.desk, 36).size is None
    assert notebooks.trial(ida.desk, 12).shorter is None


def test_without_a_multiple_the_ring_goes_by_sizes(session: Session) -> None:
    text = SLIPWAY.replace(", multiple of 4", "")
    maker = Maker(session, make_along(session, text)[1])
    assert notebooks.custom_words(maker.desk) == ""
    ring = notebooks.trial(maker.desk, 28, "medium")
    assert (ring.shorter, ring.longer) == (24, 32)
    assert notebooks.trial(maker.desk, 32, "large").longer is None
    with pytest.raises(Refusal, match="made for 24, 28 or 32 chains only"):
        notebooks.count_of_her_own(maker.desk, "36")


def test_each_attempt_is_recorded_until_it_fits(ida: Maker) -> None:
    ida.send("tried", 0, foundation=32, verdict="too long")
    upcoming = notebooks.next_trial(ida.desk)
    assert upcoming is not None
    assert upcoming.foundation == 28
    ida.send("tried", 0, foundation=28, verdict="too long")
    ida.send("tried", 0, foundation=24, verdict="too short")
    ida.settle(28, "medium", fits=True)
    making = ida.desk.making
    assert [(each.foundation, each.verdict) for each in making.tries] == [
        (32, "too long"),
        (28, "too long"),
        (24, "too short"),
        (28, "fits"),
    ]
    assert making.settled is not None
    assert (making.settled.foundation, making.settled.size) == (28, "medium")
    place = ida.session.get_one(ProjectPlace, ida.project_id)
    assert (place.foundation, place.size, place.section_title) == (28, "medium", "Cuff")


def test_the_roster_says_that_she_is_trying_on(ida: Maker) -> None:
    ida.send("tried", 0, foundation=32, verdict="too long")
    place = ida.session.get_one(ProjectPlace, ida.project_id)
    assert (place.section_title, place.foundation) == ("trying on", None)


def test_a_number_sent_twice_is_written_once(ida: Maker) -> None:
    for expected in (True, False):
        done = notebooks.settle(
            ida.session, ida.notebook_id, ida.part_id, entry_id="one-form-sent-twice", foundation=28,
            size="medium", fits=True, state=0, device="phone", now=NOW,
        )  # fmt: skip
        assert done is expected
    assert ida.desk.state == 2  # the try and the number


def test_the_number_stands_while_rounds_are_worked_over_it(ida: Maker) -> None:
    ida.settle(28, "medium")
    ida.work(1, 2)
    with pytest.raises(Refusal, match="Glove one stands over its own number"):
        ida.settle(32, "large")
    ida.settle(28, "medium")  # the same again changes nothing and is no trouble
    ida.send("taken_out", 1, spot="0.0.1")
    ida.settle(32, "large")
    settled = ida.desk.making.settled
    assert settled is not None
    assert settled.foundation == 32


def test_another_device_settled_meanwhile(ida: Maker) -> None:
    ida.settle(28, "medium")
    with pytest.raises(Overtaken):
        ida.send("tried", 0, state=0, foundation=32, verdict="too long")
    assert ida.desk.state == 1


def test_from_a_ring_there_is_only_the_size(session: Session) -> None:
    maker = Maker(session, make_along(session, CROWN)[1])
    assert [(size.name, size.foundation, size.hook_mm) for size in notebooks.sizes(maker.desk)] == [
        ("small", None, 5.0),
        ("large", None, 5.5),
    ]
    with pytest.raises(Refusal, match="Choose one of the sizes"):
        maker.settle(None)
    maker.settle(None, "large")
    assert notebooks.suggested_hook_mm(maker.desk) == 5.5
    assert maker.desk.pieces == (1,)
    assert len(maker.desk.plan(1).rounds) == 4


@pytest.mark.parametrize(
    ("chosen", "other", "size_mm"),
    [("5", "", 5.0), ("5", "4.25", 4.25), ("5", "4,5 mm", 4.5), ("", "0.6", 0.6), ("5", " 6 ", 6.0)],
)
def test_a_hook_from_the_list_or_written(chosen: str, other: str, size_mm: float) -> None:
    assert notebooks.typed_hook_mm(chosen, other) == size_mm


@pytest.mark.parametrize("other", ["H", "-5", "0.1", "99", "5.123", "nan", "1e1", "5 6"])
def test_what_is_no_hook_size_is_told(other: str) -> None:
    with pytest.raises(Refusal, match="mm") as refused:
        notebooks.typed_hook_mm("5", other)
    assert refused.value.field == "hook_mm"


def test_the_suggested_hook_goes_by_the_nearest_smaller_size(session: Session) -> None:
    text = SLIPWAY.replace("Hook: 5 mm", "Hook: 4.5 (5, 5.5) mm")
    maker = Maker(session, make_along(session, text)[1])
    maker.settle(28, "medium")
    assert notebooks.suggested_hook_mm(maker.desk) == 5.0
    maker.settle(36)
    assert notebooks.suggested_hook_mm(maker.desk) == 5.5
    maker.settle(20)
    assert notebooks.suggested_hook_mm(maker.desk) == 4.5
