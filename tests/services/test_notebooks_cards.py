"""The card: the numbers of both gloves as made, not as the pattern says."""

from __future__ import annotations

import pytest
from sqlmodel import Session

from server.craft.measure.lengths import length_text
from server.services import notebooks
from server.services.notebooks.cards import Card, card
from server.storage.tables import Notebook
from tests.services.story import CROWN, Maker, make_along


@pytest.fixture
def ida(session: Session) -> Maker:
    """Ida, both gloves over 28 chains: one with 6 rounds to fit in the cuff (8 rounds with the two before
    them) and 4 in the hand (5 with the first), the other with 7 and 4.
    """
    maker = Maker(session, make_along(session)[1])
    maker.settle(28, "medium")
    maker.send("hook", 1, hook_mm=5, spot=None)
    maker.send("hook", 2, hook_mm=5, spot=None)
    maker.make(1, 6, 4)
    maker.make(2, 7, 4)
    return maker


def rows(found: Card) -> dict[str, tuple[str, ...]]:
    """How each section was made."""
    return {row.title: row.made for row in found.rows}


def facts(found: Card) -> dict[str, str]:
    """The numbers by name."""
    return {fact.label: fact.text for fact in found.facts}


def test_rounds_of_every_section_as_made(ida: Maker) -> None:
    found = card(ida.desk)
    assert found.pieces == ("Glove one", "Glove two")
    assert rows(found) == {
        "Cuff": ("8 rounds", "9 rounds"),
        "Below the Thumb gap": ("8 rounds", "9 rounds"),
        "Thumb gap": ("1 round", "1 round"),
        "Hand": ("5 rounds", "5 rounds"),
        "Top edging": ("1 round", "1 round"),
        "Bottom edging": ("1 round", "1 round"),
        "Thumb": ("2 rounds", "2 rounds"),
    }
    assert [row.title for row in found.rows if row.differs] == ["Cuff", "Below the Thumb gap"]
    # 28 chains are 7 repeats of 4: 7 Perches; the gap takes one of them; the edging has 28 (28 = 7 times 4).
    ends = {row.title: row.at_end for row in found.rows}
    assert (ends["Cuff"], ends["Thumb gap"], ends["Top edging"]) == (
        "7 Perches",
        "6 Perches, 1 ch-7 sp",
        "28 sc",
    )
    assert found.differences == (
        "Cuff, repeated to the base of the thumb: Glove one 6 rounds, Glove two 7 rounds",
    )


def test_a_difference_that_is_meant(ida: Maker) -> None:
    ida.send("accepted", 0, difference=ida.desk.verdict.differences[0].key)
    assert card(ida.desk).differences == (
        "Cuff, repeated to the base of the thumb: Glove one 6 rounds, Glove two 7 rounds, meant",
    )


def test_the_numbers_of_her_size(ida: Maker) -> None:
    """The example pattern: yarn 130 (150, 196) m, fits 18 (21, 24) cm; medium is the second."""
    found = card(ida.desk)
    assert facts(found) == {
        "Foundation": "28 chains, medium",
        "Hook": "5 mm (US H-8)",
        "Yarn": "4 medium, 150 m, 100 g = 170 m",
        "Gauge": "14 sts and 9 rnds = 10 cm",
        "Fits": "21 cm hand",
    }
    assert (found.version, found.begun, found.finished) == (1, "5 November 2026", "6 November 2026")


def test_a_hook_that_changed_is_told_by_round_and_glove(ida: Maker) -> None:
    ida.send("hook", 2, hook_mm=4.5, spot="2.0.1")
    assert facts(card(ida.desk))["Hook"] == (
        "Glove one: 5 mm (US H-8); Glove two: 5 mm (US H-8), 4.5 mm (US 7) from Rnd 1 of the Hand on"
    )


def test_counts_notes_measures_and_grams(ida: Maker) -> None:
    ida.send("counted", 1, spot="0.2.1", name="dc", count=28)
    ida.send("note", 1, spot="0.3.2", text="second ball")
    ida.send("note", 0, spot=None, text="for Una")
    ida.send("measured", 1, what="width", mm=92, spot="0.3.2")
    ida.send("measured", 2, what="length", mm=180, spot="0.3.2")
    ida.send("weighed", 1, grams=21.5, spot="2.1.3")
    found = card(ida.desk)
    assert found.counted == ("Glove one, Rnd 2 of the Cuff: 28 dc",)
    assert found.notes == (("", "for Una"), ("Glove one, Rnd 4 of the Cuff", "second ball"))
    assert found.measured == (
        "Glove one 9.2 cm wide at Rnd 4 of the Cuff",
        "Glove one 21.5 g",
        "Glove two 18 cm long at Rnd 4 of the Cuff",
    )


def test_lengths_in_her_unit(ida: Maker, session: Session) -> None:
    """25.4 mm are an inch by definition (international yard and pound agreement, 1959). The medium size fits
    21 cm, 8.27 in, on the card as where a size is chosen; 3 5/8 in across are 92 mm.
    """
    ida.send("measured", 1, what="width", mm=92, spot="0.3.2")
    assert {fact.label: fact.text for fact in card(ida.desk).facts}["Fits"] == "21 cm hand"
    notebook = session.get(Notebook, ida.notebook_id)
    assert notebook is not None
    notebook.units = "in"
    session.add(notebook)
    found = card(ida.desk)
    facts = {fact.label: fact.text for fact in found.facts}
    assert facts["Fits"] == "8 1/4 in hand"
    assert facts["Gauge"] == "14 sts and 9 rnds = 10 cm (14.2 stitches in 4 in)"
    assert facts["Yarn"] == "4 medium, 150 m (164 yd), 100 g = 170 m (185.9 yd)"
    assert found.measured == ("Glove one 3.6 in wide at Rnd 4 of the Cuff",)
    assert (length_text(92, "cm"), length_text(184.15, "in"), length_text(254, "in")) == (
        "9.2 cm", "7.25 in", "10 in",
    )  # fmt: skip


def test_steps_with_equal_rounds_in_one_line(ida: Maker) -> None:
    steps = {each.title: each.lines for each in card(ida.desk).steps}
    assert [label for label, _ in steps["Cuff"]] == ["Foundation rnd", "Rnd 1", "Rnd 2", "Rnds 3 to 8"]
    assert steps["Cuff"][0][1] == "Ch 28; join with sl st in first ch to form a ring. [28 ch]"
    assert steps["Top edging"][-1] == ("", "Fasten off.")
    assert card(ida.desk).special == ("Perch = (2 dc, ch 1, 2 dc) in one place",)


def test_in_the_middle_of_glove_one(session: Session) -> None:
    ida = Maker(session, make_along(session)[1])
    ida.settle(28)
    ida.work(1, 5)
    found = card(ida.desk)
    assert found.pieces == ("Glove one",)
    assert rows(found)["Cuff"] == ("4 rounds so far",)
    assert rows(found)["Hand"] == ("not yet",)
    assert (found.finished, found.differences, found.measured) == ("", (), ())
    assert facts(found)["Yarn"] == "4 medium, 150 m, 100 g = 170 m"
    assert facts(found)["Hook"] == "not written down"


def test_in_one_piece_from_a_ring(session: Session) -> None:
    maker = Maker(session, make_along(session, CROWN)[1])
    maker.settle(None, "large")
    maker.work(1, 2)
    found = card(maker.desk)
    assert facts(found)["Size"] == "large"
    assert found.pieces == ("Slipway Wristers",)  # the part's own title
    assert rows(found) == {"Crown": ("2 rounds so far",)}


def test_in_uk_terms(ida: Maker, session: Session) -> None:
    notebook = session.get(Notebook, ida.notebook_id)
    assert notebook is not None
    notebooks.choose(session, ida.notebook_id, terms="UK", units="in")
    found = card(ida.desk)
    assert "Tension" in facts(found)
    assert {row.title: row.at_end for row in found.rows}["Top edging"] == "28 dc"
