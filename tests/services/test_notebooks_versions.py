"""Moving to a newer version: by choice, with what changed said, and only where her log carries over."""

from __future__ import annotations

import pytest
from sqlmodel import Session

from server.services import notebooks
from server.services.errors import Refusal
from server.services.notebooks import Overtaken
from server.services.notebooks.versions import changed_text
from tests.services.story import SLIPWAY, Maker, make_along, publish

LONGER = SLIPWAY.replace("Rnds 2 to 4 (4, 5), or", "Rnds 2 to 5 (5, 6), or")
REWORDED = SLIPWAY.replace(
    "Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (28, 32) sc]",
    "Rnd 1: Ch 2 (counts as hdc), hdc in each ch around; join with sl st in top of beg ch. [24 (28, 32) hdc]",
)
INSERTED = SLIPWAY.replace("Rnd 2: Ch 3 (counts", "Rnd 2: Ch 1, sc in same st, sc in each sc around; "
                           "join with sl st in first sc. [N sc]\nRnd 3: Ch 3 (counts").replace(
    "Rnds 3 to 6 (6, 7), or to the base", "Rnds 4 to 7 (7, 8), or to the base").replace(
    "rep rnd 3 of Cuff", "rep rnd 4 of Cuff")  # fmt: skip
EIGHTS = SLIPWAY.replace("24 (28, 32), multiple of 4", "24 (32, 40), multiple of 8")


@pytest.fixture
def ida(session: Session) -> Maker:
    """Ida, three rounds into glove one over 28 chains."""
    maker = Maker(session, make_along(session)[1])
    maker.settle(28, "medium")
    maker.work(1, 3)
    return maker


def move(ida: Maker, to: int, state: int | None = None) -> None:
    notebooks.move(ida.session, ida.notebook_id, ida.part_id, to_number=to, state=state, now=ida.now)


def test_she_stays_on_her_version_until_she_chooses(ida: Maker) -> None:
    assert notebooks.newer(ida.desk) is None
    publish(ida.session, ida.part_id, LONGER, 2)
    assert ida.desk.version.number == 1
    ida.work(1)
    assert ida.desk.version.number == 1
    news = notebooks.newer(ida.desk)
    assert news is not None
    assert (news.mine, news.newest, news.worked, news.hindered) == (1, 2, (), "")
    assert [(change.was, change.now) for change in news.changes] == [
        (
            ("Rnds 2 to 4 (4, 5), or to the knuckles: rep rnd 3 of Cuff.",),
            ("Rnds 2 to 5 (5, 6), or to the knuckles: rep rnd 3 of Cuff.",),
        )
    ]
    before = ida.desk.making.pieces[1].worked
    move(ida, 2)
    assert ida.desk.version.number == 2
    assert ida.desk.making.pieces[1].worked == before
    move(ida, 2)  # sent twice


def test_a_maker_who_has_not_begun_gets_the_newest(ida: Maker) -> None:
    publish(ida.session, ida.part_id, LONGER, 2)
    assert Maker(ida.session, ida.part_id, "Nils").desk.version.number == 2


def test_rounds_worked_that_read_differently_are_named(ida: Maker) -> None:
    publish(ida.session, ida.part_id, REWORDED, 2)
    news = notebooks.newer(ida.desk)
    assert news is not None
    assert (news.worked, news.hindered) == (("Cuff, Rnd 1",), "")


def test_other_rounds_where_she_has_worked_keep_her_on_hers(ida: Maker) -> None:
    """A round is put in before where she is: there her Rnd 3 would no longer be one of those to fit."""
    publish(ida.session, ida.part_id, INSERTED, 2)
    news = notebooks.newer(ida.desk)
    assert news is not None
    assert (news.worked, news.hindered) == (("Cuff, Rnd 2",), "")
    ida.work(1)
    news = notebooks.newer(ida.desk)
    assert news is not None
    assert "where you have worked Cuff, Rnd 3" in news.hindered
    with pytest.raises(Refusal, match="stays with this version"):
        move(ida, 2)


@pytest.mark.parametrize(
    ("text", "foundation", "size", "says"),
    [
        (EIGHTS, 28, "medium", "Size medium has another number of chains"),
        (EIGHTS, 36, None, "cannot be made over 36 chains"),
        (SLIPWAY.replace("small (medium, large)", "one (two, three)"), 28, "medium", "no size medium"),
        (SLIPWAY, 28, "medium", ""),
        (SLIPWAY.replace("Hook: 5 mm", "Hook: 5 mm\nPieces: one"), 28, "medium", "another number of pieces"),
    ],
)
def test_numbers_that_the_new_version_does_not_have(
    session: Session, text: str, foundation: int, size: str | None, says: str
) -> None:
    nils = Maker(session, make_along(session)[1])
    nils.settle(foundation, size)
    nils.work(1, 3)
    publish(session, nils.part_id, text, 2)
    news = notebooks.newer(nils.desk)
    assert news is not None
    assert says in news.hindered
    assert bool(news.hindered) is bool(says)
    if says:
        with pytest.raises(Refusal, match=says):
            move(nils, 2)
        assert nils.desk.version.number == 1


def test_a_version_published_while_she_read_the_one_before(ida: Maker) -> None:
    publish(ida.session, ida.part_id, LONGER, 2)
    state = ida.desk.state
    publish(ida.session, ida.part_id, LONGER + "\n", 3)
    with pytest.raises(Overtaken):
        move(ida, 2, state)
    ida.work(1)
    with pytest.raises(Overtaken):
        move(ida, 3, state)
    assert ida.desk.version.number == 1


def test_changes_are_told_line_by_line() -> None:
    changes = changed_text("a\nb\nc\n", "a\n\nB\n  c\nd")
    assert [(change.was, change.now) for change in changes] == [(("b",), ("B",)), ((), ("d",))]
    assert changed_text("a\n b", "a\nb\n") == ()
