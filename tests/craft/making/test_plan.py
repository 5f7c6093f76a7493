"""The plan of a real pattern, worked by the engine: words, numbers, addresses, notes, endings."""

from __future__ import annotations

import json

import pytest

from server.craft.making import Numbers, Plan, plan, plan_to_dict
from server.craft.text import read
from server.craft.text.tree import Pattern, Terms
from tests.craft.making.slipway import TEXT


@pytest.fixture(scope="module")
def slipway() -> Pattern:
    return read(TEXT).pattern


def planned(pattern: Pattern, foundation: int, terms: Terms = "US", **fits: int) -> Plan:
    own = tuple((line.replace("_", ".").removeprefix("at"), rounds) for line, rounds in fits.items())
    return plan(pattern, Numbers(foundation, None, own), terms)


def steps_at(made: Plan, spot: str) -> tuple[str, ...]:
    found = made.round_at(spot)
    assert found is not None
    return found.steps


def test_the_small_size_step_by_step(slipway: Pattern) -> None:
    """24 chains: 24 / 4 = 6 Perches, one of them begun with the chain; the gap takes one."""
    made = planned(slipway, 24)
    opening = ("Ch 3 (counts as dc)", "(dc, ch 1, 2 dc) in same sp")
    travel = "Sl st in next dc, sl st in next ch-1 sp"
    top = "Join with sl st in top of beg ch"
    assert [(each.spot, each.label, each.steps, each.count_text) for each in made.rounds] == [
        ("0.0.1", "Foundation rnd", ("Ch 24", "Join with sl st in first ch to form a ring"), "24 ch"),
        ("0.1.1", "Rnd 1",
         ("Ch 1", "Sc in same ch", "Sc in each of the next 23 ch", "Join with sl st in first sc"), "24 sc"),
        ("0.2.1", "Rnd 2",
         ("Ch 3 (counts as dc)", "(dc, ch 1, 2 dc) in same st", "5 times: sk 3 sts, Perch in next st", top),
         "24 dc, 6 ch-1 sps"),
        *[
            (f"0.3.{turn}", f"Rnd {turn + 2}",
             (travel, *opening, "Perch in each of the next 5 ch-1 sps", top), "6 Perches")
            for turn in (1, 2, 3, 4)
        ],
        ("1.0.1", "Rnd 1",
         (travel, *opening, "Ch 7, sk next Perch", "Perch in each of the next 4 Perches", top),
         "5 Perches, 1 ch-7 sp"),
        ("2.0.1", "Rnd 1",
         (travel, *opening, "Perch in 4th ch of next ch-7", "Perch in each of the next 4 Perches", top),
         "6 Perches"),
        *[
            (f"2.1.{turn}", f"Rnd {turn + 1}",
             (travel, *opening, "Perch in each of the next 5 ch-1 sps", top), "6 Perches")
            for turn in (1, 2, 3)
        ],
        ("3.0.1", "Rnd 1",
         ("Ch 1", "Sc in same st", "Sc in next dc", "Sk next ch-1 sp",
          "5 times: sc in each of the next 4 dc, sk next ch-1 sp", "Sc in each of the last 2 sts",
          "Join with sl st in first sc"), "24 sc"),
        ("4.0.1", "Rnd 1",
         ("Join yarn with sc in any foundation ch", "Sc in each of the next 23 foundation ch",
          "Join with sl st in first sc"), "24 sc"),
        ("5.0.1", "Rnd 1",
         ("Join yarn with sl st in skipped Perch", "Ch 3 (counts as dc)", "Dc in same sp",
          "2 dc in side of next dc", "Dc in underside of each of the next 7 ch",
          "2 dc in side of next dc", top), "13 dc"),
        ("5.1.1", "Rnd 2",
         ("Ch 1", "Sc in same st", "Sc in each of the next 12 dc", "Join with sl st in first sc"), "13 sc"),
    ]  # fmt: skip


def test_in_one_line(slipway: Pattern) -> None:
    made = planned(slipway, 32)
    assert [made.rounds[at].line for at in (1, 2, 3)] == [
        "Ch 1, sc in same ch, sc in each of next 31 ch; join with sl st in first sc.",
        "Ch 3 (counts as dc), (dc, ch 1, 2 dc) in same st, [sk 3 sts, Perch in next st] 7 times; "
        "join with sl st in top of beg ch.",
        "Sl st in next dc, sl st in next ch-1 sp, ch 3 (counts as dc), (dc, ch 1, 2 dc) in same sp, "
        "Perch in each of next 7 ch-1 sps; join with sl st in top of beg ch.",
    ]


def test_the_hosts_own_line_stands_beside_it(slipway: Pattern) -> None:
    found = planned(slipway, 24).round_at("0.1.1")
    assert found is not None
    assert found.host_line.startswith("Rnd 1: Ch 1, sc in same ch, sc in each ch around;")
    assert found.host_line.endswith("[24 (28, 32) sc]")


def test_a_custom_count(slipway: Pattern) -> None:
    """40 chains: 40 / 4 = 10 Perches."""
    made = planned(slipway, 40)
    assert steps_at(made, "0.2.1")[2] == "9 times: sk 3 sts, Perch in next st"
    assert [made.rounds[at].count_text for at in (0, 1, 2, 3)] == [
        "40 ch",
        "40 sc",
        "40 dc, 10 ch-1 sps",
        "10 Perches",
    ]
    assert steps_at(made, "4.0.1")[1] == "Sc in each of the next 39 foundation ch"


def test_uk_terms(slipway: Pattern) -> None:
    """US dc is UK tr and US sc is UK dc; the name of the group stays."""
    made = planned(slipway, 24, "UK")
    assert steps_at(made, "0.1.1") == (
        "Ch 1", "Dc in same ch", "Dc in each of the next 23 ch", "Join with sl st in first dc",
    )  # fmt: skip
    assert steps_at(made, "0.2.1")[:3] == (
        "Ch 3 (counts as tr)",
        "(tr, ch 1, 2 tr) in same st",
        "5 times: miss 3 sts, Perch in next st",
    )
    second = made.round_at("0.2.1")
    assert second is not None
    assert second.count_text == "24 tr, 6 ch-1 sps"
    assert second.counts["dc"] == 24  # counts are kept by US names
    assert "sc" not in " ".join(word for each in made.rounds for step in each.steps for word in step.split())


def test_sections_fits_and_ends(slipway: Pattern) -> None:
    made = planned(slipway, 24)
    assert [(each.title, each.purpose, each.kind) for each in made.sections] == [
        ("Cuff", "to the base of the thumb", "body"),
        ("Thumb gap", "", "gap"),
        ("Hand", "to the knuckles", "body"),
        ("Top edging", "", "body"),
        ("Bottom edging", "in the foundation", "foundation edge"),
        ("Thumb", "around the gap", "gap edge"),
    ]
    assert [(fit.fit, fit.until, fit.least, fit.written, fit.rounds) for fit in made.fits] == [
        ("0.3", "the base of the thumb", 1, 4, 4),
        ("2.1", "the knuckles", 1, 3, 3),
    ]
    assert [each.fit for each in made.sections[0].rounds] == [None, None, None, "0.3", "0.3", "0.3", "0.3"]
    assert [each.ends for each in made.sections] == [
        (),
        (),
        (),
        ("Fasten off.",),
        ("Fasten off.",),
        ("Fasten off.",),
    ]
    assert (made.title, made.pieces) == ("Slipway Wristers", "pair")


def test_written_rounds_go_by_size(slipway: Pattern) -> None:
    """Rnds 3 to 6 (6, 7) are 4, 4, 5; Rnds 2 to 4 (4, 5) are 3, 3, 4. 36 goes by the size below, 32."""
    for foundation, cuff, hand in ((24, 4, 3), (28, 4, 3), (32, 5, 4), (36, 5, 4)):
        assert [fit.written for fit in planned(slipway, foundation).fits] == [cuff, hand]


def test_her_own_number_of_rounds(slipway: Pattern) -> None:
    made = planned(slipway, 24, at0_3=6, at2_1=1)
    assert [fit.rounds for fit in made.fits] == [6, 1]
    assert [fit.written for fit in made.fits] == [4, 3]
    assert [each.spot for each in made.rounds if each.fit] == [
        *(f"0.3.{turn}" for turn in range(1, 7)),
        "2.1.1",
    ]
    last = made.round_at("0.3.6")
    assert last is not None
    assert last.label == "Rnd 8"
    assert last.steps == steps_at(made, "0.3.1")
    assert steps_at(made, "1.0.1") == steps_at(planned(slipway, 24), "1.0.1")


def test_notes_stand_with_the_section_or_the_round_they_follow() -> None:
    text = TEXT.replace("Foundation rnd:", "Note: leave a long end.\n\nFoundation rnd:").replace(
        "# Thumb gap", "Note: try it on,\n  with the thumb out.\n\n# Thumb gap"
    )
    cuff = planned(read(text).pattern, 24).sections[0]
    assert cuff.notes == ("leave a long end.",)
    assert [(each.label, each.notes) for each in cuff.rounds if each.notes] == [
        ("Rnd 6", ("try it on, with the thumb out.",))
    ]


FIT_IN_THE_MIDDLE = """\
Title: Tideline Cuffs
Foundation: 24, multiple of 2

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring.
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
Rnds 2 to 4, or to the wrist: Ch 1, sc in same st, sc in each sc around; join with sl st in first sc. [24 sc]
Rnd 5: Ch 3, dc in each sc around; join with sl st in top of beg ch. [24 dc]

# Hand
Rnd 1: Ch 1, sc in same st, sc in each dc around; join with sl st in first sc. [24 sc]
Fasten off.
"""


@pytest.mark.parametrize(
    ("rounds", "labels"),
    [
        (3, ["Foundation rnd", "Rnd 1", "Rnd 2", "Rnd 3", "Rnd 4", "Rnd 5", "Rnd 1"]),
        (1, ["Foundation rnd", "Rnd 1", "Rnd 2", "Rnd 3", "Rnd 1"]),
        (5, ["Foundation rnd", "Rnd 1", "Rnd 2", "Rnd 3", "Rnd 4", "Rnd 5", "Rnd 6", "Rnd 7", "Rnd 1"]),
    ],
)
def test_labels_are_numbered_on_behind_rounds_to_fit(rounds: int, labels: list[str]) -> None:
    """Host's Rnd 5 comes after 3 rounds to fit; with 5 of them it is her Rnd 7, and its spot stays."""
    made = planned(read(FIT_IN_THE_MIDDLE).pattern, 24, at0_2=rounds)
    assert [each.label for each in made.rounds] == labels
    after = made.round_at("0.3.1")
    assert after is not None
    assert after.counts["dc"] == 24


def test_the_plan_as_plain_values(slipway: Pattern) -> None:
    made = planned(slipway, 24)
    plain = plan_to_dict(made)
    assert json.loads(json.dumps(plain)) == plain
    assert plain["numbers"] == {"foundation": 24, "size": None, "fits": []}
    assert plain["sections"][0]["rounds"][0]["steps"] == [
        "Ch 24",
        "Join with sl st in first ch to form a ring",
    ]
    assert plain["sections"][0]["fits"][0]["until"] == "the base of the thumb"


def test_no_step_leaves_her_to_count(slipway: Pattern) -> None:
    for terms in ("US", "UK"):
        for foundation in (24, 28, 32, 44):
            for each in planned(slipway, foundation, terms).rounds:
                for said in (*each.steps, each.line):
                    assert "*" not in said
                    assert "rep " not in said
                    assert " around" not in said
                    assert "(28" not in said
                    assert "N" not in said


def test_a_crown_by_size_from_a_ring() -> None:
    """12 dc, then two in each: 24. Without a foundation chain the size is what there is to choose."""
    text = """\
Title: Skylight Cap
Sizes: child (adult)
Foundation: none
Pieces: one

# Crown
Rnd 1: Ch 3, 11 dc in ring; join with sl st in top of beg ch. [12 dc]
Rnd 2: Ch 3, dc in same st, 2 dc in each dc around; join with sl st in top of beg ch. [24 dc]
Fasten off.
"""
    made = plan(read(text).pattern, Numbers(None, "adult"))
    assert made.pieces == "one"
    assert made.rounds[0].steps == (
        "Ch 3 (counts as dc)",
        "11 dc in ring",
        "Join with sl st in top of beg ch",
    )
    assert made.rounds[1].steps == (
        "Ch 3 (counts as dc)",
        "Dc in same st",
        "2 dc in each of the next 11 dc",
        "Join with sl st in top of beg ch",
    )
    assert [each.count_text for each in made.rounds] == ["12 dc", "24 dc"]


def test_rounds_without_a_label_get_a_name() -> None:
    """The thumb's first round has no label here, the ones after it have."""
    text = TEXT.replace("# Thumb - around the gap\nRnd 1: ", "# Thumb - around the gap\n").replace(
        "Rnd 2: Ch 1, sc in same st, sc in each dc", "Rnd 1: Ch 1, sc in same st, sc in each dc"
    )
    made = planned(read(text).pattern, 24)
    assert [each.label for each in made.sections[4].rounds] == ["Rnd 1"]  # the only one of its section
    assert [each.label for each in made.sections[5].rounds] == ["Beginning", "Rnd 1"]


def test_numbers_that_the_pattern_does_not_allow(slipway: Pattern) -> None:
    with pytest.raises(ValueError, match="26 chains are not allowed"):
        planned(slipway, 26)


def test_a_named_size_without_a_count_and_a_count_that_is_no_longer_the_sizes(slipway: Pattern) -> None:
    """The medium size is 28; the small one with 32 chains is worked as the 32 that it is."""
    by_name = plan(slipway, Numbers(None, "medium"))
    assert by_name.rounds[0].count_text == "28 ch"
    assert by_name.fits[0].written == 4
    other = plan(slipway, Numbers(32, "small"))
    assert other.rounds[0].count_text == "32 ch"
    assert other.fits[0].written == len([each for each in other.rounds if each.fit == other.fits[0].fit]) == 5
