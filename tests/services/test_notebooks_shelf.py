"""The shelf: her parts with where she is, her terms and units."""

from __future__ import annotations

import pytest
from sqlmodel import Session

from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.storage.tables import Part
from tests.services.story import SLIPWAY, Maker, make_along, publish


@pytest.fixture
def ida(session: Session) -> Maker:
    """Ida, in an along with a published part and one that is not published."""
    along_id, part_id = make_along(session)
    session.add(Part(along_id=along_id, position=2, title="Lantern Hat"))
    session.flush()
    return Maker(session, part_id)


def test_every_part_with_where_she_is(ida: Maker) -> None:
    def stages() -> list[tuple[str, str, str, str]]:
        ida.session.flush()
        ida.session.expire_all()
        shelf = notebooks.open_shelf(ida.session, ida.notebook_id)
        return [(part.title, part.stage, part.section_title, part.round_label) for part in shelf.parts]

    hat = ("Lantern Hat", "not published", "", "")
    assert stages() == [("Slipway Wristers", "not begun", "", ""), hat]
    ida.send("tried", 0, foundation=32, verdict="too long")
    assert stages() == [("Slipway Wristers", "trying on", "trying on", ""), hat]
    ida.settle(28, "medium")
    ida.work(1, 4)
    assert stages() == [("Slipway Wristers", "working", "Cuff", "Rnd 4"), hat]
    ida.make(1, 4, 3)
    ida.make(2, 4, 3)
    assert stages() == [("Slipway Wristers", "finished", "finished", ""), hat]


def test_the_shelf_says_that_a_newer_version_is_out(ida: Maker) -> None:
    ida.settle(28, "medium")
    publish(ida.session, ida.part_id, SLIPWAY + "\n", 2)
    shelf = notebooks.open_shelf(ida.session, ida.notebook_id)
    assert [part.newer for part in shelf.parts] == [2, None]


def test_terms_and_units(ida: Maker) -> None:
    notebooks.choose(ida.session, ida.notebook_id, terms="UK", units="in")
    shelf = notebooks.open_shelf(ida.session, ida.notebook_id)
    assert (shelf.terms, shelf.units) == ("UK", "in")
    for terms, units, field in (("EU", "in", "terms"), ("UK", "ells", "units")):
        with pytest.raises(Refusal) as refused:
            notebooks.choose(ida.session, ida.notebook_id, terms=terms, units=units)
        assert refused.value.field == field
    assert notebooks.open_shelf(ida.session, ida.notebook_id).terms == "UK"


def test_uk_terms_reach_the_steps(ida: Maker) -> None:
    ida.settle(28, "medium")
    ida.work(1)
    us = ida.desk.plan(1).rounds[1].line
    notebooks.choose(ida.session, ida.notebook_id, terms="UK", units="cm")
    uk = ida.desk.plan(1).rounds[1].line
    assert "sc in" in us
    assert "sc" not in uk
    assert "dc in" in uk


def test_the_steps_and_the_count_in_full_words(ida: Maker) -> None:
    ida.settle(28, "medium")
    ida.work(1)
    short = notebooks.working(ida.desk, 1)
    assert short.steps[1] == "Sc in same ch"
    assert short.count == "28 sc"
    notebooks.choose(ida.session, ida.notebook_id, terms="UK", units="cm", wording="full")
    assert notebooks.open_shelf(ida.session, ida.notebook_id).wording == "full"
    full = notebooks.working(ida.desk, 1)
    assert full.steps[1:3] == (
        "Double crochet in the same chain",
        "Double crochet in each of the next 27 chains, to the end of the round",
    )
    assert full.count == "28 double crochets"
    notebooks.choose(ida.session, ida.notebook_id, terms="US", units="cm")  # an older form does not say
    assert ida.desk.wording == "full"
    with pytest.raises(Refusal) as refused:
        notebooks.choose(ida.session, ida.notebook_id, terms="US", units="cm", wording="loud")
    assert refused.value.field == "wording"
    assert ida.desk.wording == "full"


def test_a_notebook_that_was_erased(ida: Maker) -> None:
    with pytest.raises(NotFound):
        notebooks.open_shelf(ida.session, ida.notebook_id + 1)
    with pytest.raises(NotFound):
        notebooks.choose(ida.session, ida.notebook_id + 1, terms="US", units="cm")
