"""A round in words: steps and one line, US and UK, from what was done."""

from __future__ import annotations

import pytest

from server.craft.fabric.values import Did, Doing
from server.craft.making.wording import line, steps
from server.craft.text.tree import (
    CountsAs,
    FastenOff,
    FoundationStitches,
    JoinYarn,
    NoJoin,
    Noun,
    Part,
    Plain,
    RingStart,
    Turn,
)
from tests.craft.making.doings import (
    CH,
    ST,
    ch,
    group,
    inline,
    join,
    place,
    rep,
    simple,
    skip,
    sp,
    stitch,
    tongue,
    work,
)

TOP = place("beg", Noun("beg ch"), part=Part("top"))
RING = join(place("first", CH), to_ring=True)
FIRST_SC = join(place("first", stitch("sc")))


def test_foundation() -> None:
    doings = [ch(24), RING]
    assert steps(doings, tongue()) == ("Ch 24", "Join with sl st in first ch to form a ring")
    assert line(doings, tongue(the=False)) == "Ch 24; join with sl st in first ch to form a ring."


def test_sc_round() -> None:
    doings = [ch(1, ("", 0)), work("sc", place("same", CH)), work("sc", place("each", CH), 23), FIRST_SC]
    assert steps(doings, tongue()) == (
        "Ch 1",
        "Sc in same ch",
        "Sc in each of the next 23 ch",
        "Join with sl st in first sc",
    )
    assert line(doings, tongue(the=False)) == (
        "Ch 1, sc in same ch, sc in each of next 23 ch; join with sl st in first sc."
    )


def test_group_round_from_its_repeat() -> None:
    perch = inline("dc", 1, (2, "dc"))
    doings: list[Doing] = [
        ch(3, ("dc", 0)),
        work(perch, place("same", ST)),
        rep(5, skip(3, ST), work("Perch", place("next", ST))),
        join(TOP),
    ]
    assert steps(doings, tongue()) == (
        "Ch 3 (counts as dc)",
        "(dc, ch 1, 2 dc) in same st",
        "5 times: sk 3 sts, Perch in next st",
        "Join with sl st in top of beg ch",
    )
    assert line(doings, tongue(the=False)) == (
        "Ch 3 (counts as dc), (dc, ch 1, 2 dc) in same st, [sk 3 sts, Perch in next st] 5 times; "
        "join with sl st in top of beg ch."
    )


def test_uk_terms_come_from_the_tree() -> None:
    """US sc, dc and tr are UK dc, tr and dtr: said in one go, nothing shifts twice."""
    doings: list[Doing] = [
        ch(3, ("dc", 0)),
        work(inline("dc", 1, (2, "tr")), place("same", ST)),
        rep(5, skip(3, ST), work("sc2tog", place("next", ST), reached=2)),
        work("FPdc", place("next", stitch("dc"), post=True)),
        FIRST_SC,
    ]
    assert steps(doings, tongue("UK")) == (
        "Ch 3 (counts as tr)",
        "(tr, ch 1, 2 dtr) in same st",
        "5 times: miss 3 sts, dc2tog over next 2 sts",
        "FPtr around next tr",
        "Join with sl st in first dc",
    )


def test_travelling_slip_stitches_are_one_step() -> None:
    doings = [
        work("sl st", place("next", stitch("dc"))),
        work("sl st", place("next", sp(1))),
        ch(4, ("dc", 1)),
        work("dc", place("same", sp(1))),
    ]
    assert steps(doings, tongue()) == (
        "Sl st in next dc, sl st in next ch-1 sp",
        "Ch 4 (counts as dc, ch 1)",
        "Dc in same sp".replace("sp", "ch-1 sp"),
    )


def test_a_repeat_of_one_stitch_is_that_stitch_in_each() -> None:
    assert steps([rep(6, work("V-st", place("next", group("V-st"))))], tongue()) == (
        "V-st in each of the next 6 V-sts",
    )
    assert steps([rep(1, work("V-st", place("next", group("V-st"))))], tongue()) == ("V-st in next V-st",)
    assert steps([rep(6, work("dc", place("next", ST), times=2))], tongue()) == (
        "2 dc in each of the next 6 sts",
    )
    assert steps([rep(6, work("dc", None, noun=ST))], tongue()) == ("Dc in each of the next 6 sts",)
    center = place("next", group("shell"), part=Part("center", noun=stitch("dc")))
    assert steps([rep(4, work("sc", center))], tongue()) == ("Sc in center dc of each of the next 4 shells",)


def test_a_repeat_of_a_decrease_stays_a_repeat() -> None:
    assert steps([rep(6, work("sc2tog", None, reached=2, noun=ST))], tongue()) == (
        "6 times: sc2tog over next 2 sts",
    )


def test_the_last_repeat_where_it_differs() -> None:
    body = (work("dc", place("next", ST)), ch(1), skip(1, ST))
    doings: list[Doing] = [rep(6, *body, last=(body[0],)), join(TOP)]
    assert steps(doings, tongue()) == (
        "5 times: dc in next st, ch 1, sk next st",
        "Dc in next st",
        "Join with sl st in top of beg ch",
    )
    assert line(doings, tongue(the=False)) == (
        "[Dc in next st, ch 1, sk next st] 5 times, dc in next st; join with sl st in top of beg ch."
    )
    assert steps([rep(2, *body, last=(body[0],))], tongue()) == (
        "Dc in next st",
        "Ch 1, sk next st",
        "Dc in next st",
    )
    assert steps([rep(1, *body, last=(body[0],))], tongue()) == ("Dc in next st",)
    assert line([rep(1, *body, last=(body[0],))], tongue(the=False)) == "Dc in next st."


def test_once_is_not_a_repeat() -> None:
    doings = [rep(1, skip(3, ST), work("Perch", place("next", ST)))]
    assert steps(doings, tongue()) == ("Sk 3 sts, Perch in next st",)
    assert line(doings, tongue(the=False)) == "Sk 3 sts, Perch in next st."


def test_a_nested_repeat() -> None:
    doings: list[Doing] = [
        rep(3, work("dc", place("next", ST)), rep(2, ch(1), work("dc", place("same", ST))), ch(2))
    ]
    assert steps(doings, tongue()) == ("3 times: dc in next st, [ch 1, dc in same st] 2 times, ch 2",)


def test_the_gap_is_one_step() -> None:
    perches = rep(5, work("Perch", place("next", group("Perch"))))
    doings: list[Doing] = [ch(7), skip(1, group("Perch")), perches, join(TOP)]
    assert steps(doings, tongue()) == (
        "Ch 7, sk next Perch",
        "Perch in each of the next 5 Perches",
        "Join with sl st in top of beg ch",
    )


def test_chains_and_skips_lead_to_their_stitch() -> None:
    doings = [ch(1), skip(1, stitch("sc")), work("dc", place("next", stitch("sc"))), ch(2), join(TOP)]
    assert steps(doings, tongue()) == (
        "Ch 1, sk next sc, dc in next sc",
        "Ch 2",
        "Join with sl st in top of beg ch",
    )


@pytest.mark.parametrize(
    ("done", "us"),
    [
        (work("Perch", place("next", sp(7, loop_form=True), part=Part("kth", 4, CH))),
         "Perch in 4th ch of next ch-7"),
        (work("dc", place("beg", Noun("beg ch", length=4), part=Part("kth", 3, CH))),
         "Dc in 3rd ch of beg ch-4"),
        (work("sc", place("next", group("shell"), part=Part("kth", 1, stitch("dc")))),
         "Sc in first dc of next shell"),
        (work("sc", place("next", group("shell"), part=Part("last", 0, stitch("dc")))),
         "Sc in last dc of next shell"),
        (work("sc", place("next", stitch("dc"), part=Part("top"))), "Sc in top of next dc"),
        (work("dc", place("next", stitch("dc"), edge="side"), times=2), "2 dc in side of next dc"),
        (work("dc", place("next", CH, edge="underside"), 7), "Dc in underside of each of the next 7 ch"),
        (work("dc", place("plain", sp(7, loop_form=True), part=Part("kth", 4, CH), edge="underside")),
         "Dc in underside of 4th ch of ch-7"),
        (work("dc", place("skipped", group("Perch"))), "Dc in skipped Perch"),
        (work("dc", place("first", ST, skipped=True)), "Dc in first skipped st"),
        (work("dc", place("next", ST, skipped=True), 5), "Dc in each of the next 5 skipped sts"),
        (work("sc", place("any", Noun("foundation ch"))), "Sc in any foundation ch"),
        (work("sc", place("each", Noun("foundation ch")), 23), "Sc in each of the 23 foundation ch"),
        (work("dc", place("from hook", CH, ordinal=4)), "Dc in 4th ch from hook"),
        (work("dc", place("plain", Noun("ring")), times=11), "11 dc in ring"),
        (work("sc", place("each", ST, sp(1)), 48), "Sc in each of the 48 sts and ch-1 sps"),
        (work("sc", place("last", ST), 2), "Sc in each of the last 2 sts"),
        (work("sc", place("last", ST)), "Sc in last st"),
        (work("sc", place("kth", ST, ordinal=3)), "Sc in 3rd st"),
        (work("hdc", place("next", ST, loop="back"), 6), "Hdc in back loop of each of the next 6 sts"),
        (work("hdc", place("plain", ST, loop="third")), "Hdc in third loop of next st"),
        (work("FPdc", place("next", stitch("dc"), post=True), 4), "FPdc around each of the next 4 dc"),
        (work("sc", place("each", ST, step=2), 12), "Sc in every other st, 12 times"),
        (work("sc", place("each", ST, step=3), 8), "Sc in every 3rd st, 8 times"),
        (work("sc", None, 16, noun=ST), "Sc in each of the next 16 sts"),
        (work("dc2tog", place("next", ST), 2), "Dc2tog over next 2 sts"),
        (work("puff", place("next", sp(2)), 6), "Puff in each of the next 6 ch-2 sps"),
        (work("cluster", place("next", stitch("bobble")), 2), "Cluster in each of the next 2 bobbles"),
        (work("shell", place("next", stitch("sc")), 1, times=2), "2 shells in next sc"),
        (work("dc", place("next", Noun("sp")), 3), "Dc in each of the next 3 sps"),
        (work("sc", place("next", sp(5, loop_form=True)), 3), "Sc in each of the next 3 ch-5 sps"),
        (work(inline("dc", 1, "dc"), place("next", CH), 3), "(dc, ch 1, dc) in each of the next 3 ch"),
        (skip(1, group("V-st")), "Sk next V-st"),
        (skip(2, group("V-st")), "Sk 2 V-sts"),
        (skip(1, sp(1)), "Sk next ch-1 sp"),
        (ch(1, ("", 0), CountsAs()), "Ch 1 (does not count as a st)"),
        (ch(2, ("", 0)), "Ch 2 (does not count as a st)"),
        (ch(2, ("hdc", 0)), "Ch 2 (counts as hdc)"),
        (ch(5, ("dc", 2)), "Ch 5 (counts as dc, ch 2)"),
        (simple(Turn()), "Turn"),
        (simple(NoJoin()), "Do not join"),
        (simple(FastenOff()), "Fasten off"),
        (simple(RingStart()), "Make an adjustable ring"),
        (simple(FoundationStitches("sc", Plain(28))), "Fsc 28"),
        (simple(JoinYarn("sc", place("any", Noun("foundation ch")))),
         "Join yarn with sc in any foundation ch"),
        (simple(JoinYarn("sl st", place("skipped", group("Perch")))),
         "Join yarn with sl st in skipped Perch"),
        (simple(JoinYarn()), "Join yarn with sl st"),
        (work("picot", None, 0), "Picot"),
        (join(None), "Join with sl st in first st"),
        (join(None, to_ring=True), "Join with sl st in first ch to form a ring"),
    ],
)  # fmt: skip
def test_one_thing_done(done: Did, us: str) -> None:
    assert steps([done], tongue()) == (us,)


@pytest.mark.parametrize(
    ("first", "where"),
    [
        (ch(3, ("dc", 0)), "top of beg ch"),
        (ch(4, ("dc", 1)), "3rd ch of beg ch-4"),
        (ch(6, ("tr", 2)), "4th ch of beg ch-6"),
        (simple(JoinYarn("hdc", place("any", Noun("foundation ch")))), "first hdc"),
        (rep(6, work("sc", place("next", ST), times=2)), "first sc"),
        (work(inline("dc", 1, "dc"), place("next", ST)), "first st"),
    ],
)
def test_a_bare_join_is_said_in_full(first: Doing, where: str) -> None:
    travel = work("sl st", place("next", ST))
    done = [travel, first, work("dc", place("next", ST)), join(None)]
    assert steps(done, tongue())[-1] == f"Join with sl st in {where}"
    assert line(done, tongue(the=False)).endswith(f"; join with sl st in {where}.")


def test_an_each_that_the_round_begins_with_is_all_of_them() -> None:
    """It takes in the place where the hook stands; after a stitch, or a chain that counts, not."""
    each = work("sc", place("each", ST), 24)
    assert steps([ch(1, ("", 0)), each], tongue()) == ("Ch 1", "Sc in each of the 24 sts")
    assert line([ch(1, ("", 0)), each], tongue(the=False)) == "Ch 1, sc in each of the 24 sts."
    assert steps([work("sl st", place("next", ST)), each], tongue())[1] == "Sc in each of the 24 sts"
    for first in (ch(3, ("dc", 0)), work("sc", place("same", ST)), simple(JoinYarn("sc", place("any", ST)))):
        assert steps([first, each], tongue())[1] == "Sc in each of the next 24 sts"
    assert steps([work("FPdc", place("each", stitch("dc"), post=True), 24)], tongue()) == (
        "FPdc around each of the 24 dc",
    )


def test_a_turn_closes_the_line() -> None:
    done = [work("sc", place("each", ST), 10), simple(Turn())]
    assert line(done, tongue(the=False)) == "Sc in each of the 10 sts; turn."


def test_a_bare_join_behind_a_chain_that_does_not_count() -> None:
    done = [ch(1, ("", 0)), work("sc", place("same", ST)), join(None)]
    assert steps(done, tongue("UK"))[-1] == "Join with sl st in first dc"


def test_no_words_that_leave_her_to_count() -> None:
    """No asterisks and no "around" without a number: whatever repeats is said with how often."""
    doings: list[Doing] = [
        rep(7, skip(3, ST), work("Perch", place("next", ST))),
        work("sc", place("each", ST), 23),
        rep(
            4,
            work("sc", place("next", ST)),
            work("dc", place("next", ST)),
            last=(work("sc", place("next", ST)),),
        ),
    ]
    for said in (*steps(doings, tongue()), line(doings, tongue(the=False))):
        assert "*" not in said
        assert "rep" not in said
        assert "around" not in said
