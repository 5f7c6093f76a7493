"""What was really made of a part: from many logs through the fold, in cells of five at least."""

from __future__ import annotations

import csv
import io
from datetime import UTC, datetime

import pytest
from sqlmodel import Session, select

from server.services.errors import NotFound
from server.services.recap import summaries
from server.services.recap.made import Made, made
from server.services.recap.madetable import table
from server.services.recap.suggesting import foundation_line, suggestions
from server.storage.tables import Evening, Host, Notebook, Project, RoomEvent
from tests.services.recap.makers import log, maker, version_of, worked
from tests.services.story import make_along, publish

# Ours, short: 4 chains are 2 cm; one round to the thumb of so many as she likes; the gap is one round.
TUBE = """Title: Ferry =Cuff
Terms: US
Sizes: small (large)
Foundation: 20 (24), multiple of 4
Custom: 12 to 40
Yarn: 3 light, 40 (48) m, 50 g = 125 m
Hook: 4 mm
Gauge: 20 sts and 10 rnds = 10 cm

# Cuff
Foundation rnd: Ch 20 (24); join with sl st in first ch to form a ring. [20 (24) ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [20 (24) sc]
Rnds 2 to 5, or to the thumb: Ch 1, sc in same st, sc in each sc around; join with sl st in first sc.
  [20 (24) sc]

# Edge
Rnd 1: Ch 1, sc in same st, sc in each sc around; join with sl st in first sc. [20 (24) sc]
Fasten off.
"""
CUFF = ("0.0.1", "0.1.1", "0.2.1", "0.2.2")


@pytest.fixture
def part_id(session: Session) -> int:
    _, part_id = make_along(session, TUBE)
    return part_id


def of(session: Session, part_id: int, number: int | None = None) -> Made:
    host = session.exec(select(Host)).one()
    return made(session, host.id or 0, part_id, number)


def bars(found: Made) -> list[tuple[str, int]]:
    assert found.counts is not None
    return [(bar.label, bar.people) for bar in found.counts.bars]


def test_four_are_too_few_for_anything(session: Session, part_id: int) -> None:
    for _ in range(4):
        maker(session, part_id, 20, "small", ("hook", 1, {"hook_mm": 4.0, "spot": None}))
    found = of(session, part_id)
    assert (found.people, found.counts, found.hooks, found.stages) == (0, None, None, None)
    assert (found.fits, found.spreads, found.troubles) == ((), (), ())
    assert table(found).count("\r\n") == 1
    assert suggestions(found) == ()


def test_counts_stand_with_their_sizes_and_small_ones_together(session: Session, part_id: int) -> None:
    """8 on 20, 6 on 24, 1 on 28: the one stands with 24, and how far up the cell goes is not told."""
    for foundation, size, many in ((20, "small", 8), (24, "large", 6), (28, None, 1)):
        for _ in range(many):
            maker(session, part_id, foundation, size)
    found = of(session, part_id)
    assert bars(found) == [("20 ch (small)", 8), ("24 ch or more (large)", 7)]
    maker(session, part_id, 36, None)  # the sixteenth is not counted before the twentieth comes
    assert bars(of(session, part_id)) == bars(found)


def test_who_has_only_tried_on_is_not_counted(session: Session, part_id: int) -> None:
    for _ in range(5):
        maker(session, part_id, 20, "small")
    project = session.exec(select(Project)).all()[0]
    tried = Project(
        notebook_id=_notebook(session, project),
        part_id=part_id,
        pattern_version_id=project.pattern_version_id,
    )
    session.add(tried)
    session.flush()
    log(session, tried.id or 0, ("tried", 0, {"foundation": 20, "verdict": "fits"}))
    assert of(session, part_id).people == 5


def _notebook(session: Session, project: Project) -> int:
    along_id = session.get_one(Notebook, project.notebook_id).along_id
    notebook = Notebook(along_id=along_id, secret_hash="other", nickname="Other")
    session.add(notebook)
    session.flush()
    return notebook.id or 0


def test_rounds_to_the_thumb_and_stages(session: Session, part_id: int) -> None:
    """4 are written. Five made 6 of them and finished the first; five are in the cuff."""
    longer = [
        *worked(*CUFF, "0.2.3", "0.2.4", "0.2.5", "0.2.6"),
        ("fit_ended", 1, {"fit": "0.2", "rounds": 6}),
    ]
    for _ in range(5):
        maker(session, part_id, 20, "small", *longer, *worked("1.0.1"), ("finished", 1, {}))
    for _ in range(5):
        maker(session, part_id, 24, "large", *worked(*CUFF))
    found = of(session, part_id)
    (fit,) = found.fits
    assert (fit.title, fit.written) == ("Cuff, to the thumb", "4")
    assert [(bar.label, bar.people) for bar in fit.bars] == [("6 rounds", 5)]
    assert found.stages is not None
    assert [(bar.label, bar.people) for bar in found.stages.bars] == [
        ("one under way", 5),
        ("one finished", 5),
    ]
    assert [each.change for each in suggestions(found)] == ["Write 2 rounds more in “Cuff, to the thumb”."]


def test_where_they_went_back_and_asked(session: Session, part_id: int) -> None:
    """9 of 20 took the edge out; 4 took round 1 out, which is not told; 6 put a hand up in the cuff."""
    people = []
    for at in range(20):
        out = [("taken_out", 1, {"spot": "1.0.1"})] if at < 9 else []
        first = [("taken_out", 1, {"spot": "0.1.1"})] if at >= 16 else []
        people.append(maker(session, part_id, 20, "small", *worked(*CUFF, "1.0.1"), *out, *first))
    _hands(session, part_id, people[:6])
    found = of(session, part_id)
    told = [(each.where, each.took_out, each.asked) for each in found.troubles]
    assert told == [
        ("Edge, Rnd 1", "9 of 20", "fewer than 5 of 20"),
        ("Cuff, Rnds 2 to 5", "fewer than 5 of 20", "6 of 20"),
    ]


def _hands(session: Session, part_id: int, people: list[int]) -> None:
    evening = Evening(
        along_id=session.get_one(Notebook, people[0]).along_id, part_id=part_id, title="One",
        local_start="2026-11-05T19:30", zone="Europe/Oslo", minutes=60, uid="u", changed_by="Marit",
    )  # fmt: skip
    session.add(evening)
    session.flush()
    for notebook_id in people * 2:  # whoever asks twice is one
        session.add(
            RoomEvent(
                evening_id=evening.id or 0, kind="hand", part_id=part_id, section=0, round=2, turn=1,
                version_id=version_of(session, part_id).id, notebook_id=notebook_id, words="How?",
                at=datetime(2026, 11, 5, 20, tzinfo=UTC),
            )
        )  # fmt: skip
    session.flush()


def test_gauge_and_yarn_against_the_pattern(session: Session, part_id: int) -> None:
    """20 chains at 20 sts to 10 cm lie 50 mm flat. Five measured 55 mm: 20 / 1.1 = 18.2 sts to 10 cm. 40 m
    are 16 g; a pair of two pieces of 9 g is 112.5 % of that."""
    last = "1.0.1"
    for _ in range(5):
        rounds = [*worked(*CUFF), ("fit_ended", 1, {"fit": "0.2", "rounds": 2}), *worked(last)]
        told = [
            *rounds, ("finished", 1, {}), ("measured", 1, {"what": "width", "mm": 55.0, "spot": "0.1.1"}),
            ("weighed", 1, {"grams": 9.0, "spot": last}),
        ]  # fmt: skip
        maker(session, part_id, 20, "small", *told)
    gauge, yarn = of(session, part_id).spreads
    assert (gauge.stated, round(gauge.found.middle, 2), gauge.found.of) == (20.0, 18.18, 5)
    assert (yarn.stated, round(yarn.found.middle, 1)) == (100.0, 112.5)
    changes = [each.change for each in suggestions(of(session, part_id))]
    assert changes == [
        "Write 2 rounds fewer in “Cuff, to the thumb”.",
        "Ask for a smaller hook, or state 18.2 sts to 10 cm.",
        "State more yarn.",
    ]


def test_a_count_that_many_took_is_suggested_as_a_size(session: Session, part_id: int) -> None:
    for foundation, many in ((20, 10), (28, 8), (24, 7)):
        for _ in range(many):
            maker(session, part_id, foundation, None)
    found = of(session, part_id)
    first = suggestions(found)[0]
    assert first.change == "A size over 28 chains."
    assert first.reason == "8 of 25 settled on 28, which is a count of their own now."
    assert (
        foundation_line(summaries.pattern_of(TUBE).header, found) == "Foundation: 20 (24, 28), multiple of 4"
    )


def test_counts_of_few_each_are_suggested_together(session: Session, part_id: int) -> None:
    for foundation, many in ((20, 8), (24, 7), (28, 3), (32, 2)):
        for _ in range(many):
            maker(session, part_id, foundation, None)
    assert suggestions(of(session, part_id))[0].change == "A size among 28 ch or more."


def test_hands_have_the_middle_of_their_counts(session: Session, part_id: int) -> None:
    """Six hands of 17 cm (20, 20, 20, 20, 24, 24) and four of 19 (24) are one cell, as the four are too few;
    five more of 21 cm (28) make it two."""
    for around, foundation, many in ((175.0, 20, 4), (178.0, 24, 2), (190.0, 24, 4)):
        for _ in range(many):
            hand = ("hand", 0, {"known": "measured", "around_mm": around, "size": None})
            maker(session, part_id, foundation, None, hand)
    (row,) = of(session, part_id).hands
    assert (row.label, row.people, row.chains) == ("all hands", 10, 24)
    for _ in range(5):
        maker(session, part_id, 28, None, ("hand", 0, {"known": "measured", "around_mm": 211.0}))
    rows = [(row.label, row.people, row.chains) for row in of(session, part_id).hands]
    assert rows == [("under 18 cm", 6, 20), ("19 cm and more", 9, 28)]
    maker(session, part_id, 20, None, ("hand", 0, {"known": "age", "age_years": 9}))
    assert [(row.label, row.people, row.chains) for row in of(session, part_id).hands] == rows


def test_swatches_stand_beside_the_gauge(session: Session, part_id: int) -> None:
    """9 stitches over 50 mm are 18 to 10 cm."""
    for _ in range(5):
        swatch = ("gauge", 0, {"source": "swatch", "stitches": 9.0, "over_mm": 50.0})
        maker(session, part_id, 20, "small", swatch)
    (spread,) = of(session, part_id).spreads
    assert (spread.title, spread.found.middle, spread.stated) == ("Swatches", 18.0, 20.0)


def test_each_version_has_its_own(session: Session, part_id: int) -> None:
    for _ in range(5):
        maker(session, part_id, 20, "small")
    publish(session, part_id, TUBE.replace("Ferry", "Pier"), number=2)
    assert of(session, part_id).people == 0
    assert of(session, part_id, 1).people == 5
    assert of(session, part_id).versions == (1, 2)
    with pytest.raises(NotFound):
        of(session, part_id, 3)


def test_the_table_has_the_cells_of_the_page_and_no_formula(session: Session, part_id: int) -> None:
    publish(session, part_id, TUBE.replace("# Edge", "# =Edge"), number=2)
    for _ in range(5):
        maker(session, part_id, 20, "small", *worked(*CUFF, "1.0.1"), ("taken_out", 1, {"spot": "1.0.1"}))
    found = of(session, part_id)
    lines = list(csv.DictReader(io.StringIO(table(found))))
    assert [(each["question"], each["people"], each["of_people"]) for each in lines] == [
        ("Foundation chains", "5", "5"), ("How far they are", "5", "5"),
        ("Went back to it", "nearly all of 5", "5"), ("Asked at it", "fewer than 5 of 5", "5"),
    ]  # fmt: skip
    assert lines[2]["answer"] == "'=Edge, Rnd 1"


def test_a_log_is_folded_once(session: Session, part_id: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """A second look folds only the log that has grown."""
    for _ in range(6):
        maker(session, part_id, 20, "small", *worked(*CUFF))
    of(session, part_id)
    folded: list[int] = []
    real = summaries.summary_of

    def counted(*given: object) -> object:
        folded.append(1)
        return real(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(summaries, "summary_of", counted)
    of(session, part_id)
    assert folded == []
    project = session.exec(select(Project)).all()[0]
    log(session, project.id or 0, *worked("0.2.3"))
    of(session, part_id)
    assert folded == [1]


def test_another_host_sees_nothing(session: Session, part_id: int) -> None:
    with pytest.raises(NotFound):
        made(session, 99, part_id)
