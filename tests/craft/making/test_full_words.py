"""Steps in full words, one instruction at a time, from doings built by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from server.craft.fabric.values import Did, Doing
from server.craft.making.counting import item
from server.craft.making.fullnames import full_name, with_article
from server.craft.making.fullwords import full_count
from server.craft.making.surroundings import Surroundings, Upto
from server.craft.making.wording import full_steps, line
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
    Terms,
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

BEG_CH_4 = place("beg", Noun("beg ch", length=4), part=Part("kth", 3, CH))


@pytest.mark.parametrize(
    ("done", "us", "uk"),
    [
        (work("sc", place("next", ST)),
         "Single crochet in the next stitch", "Double crochet in the next stitch"),
        (work("dc", place("next", ST), 6),
         "Double crochet in each of the next 6 stitches", "Treble in each of the next 6 stitches"),
        (work("hdc", place("next", stitch("hdc")), 2),
         "Half double crochet in each of the next 2 half double crochets",
         "Half treble in each of the next 2 half trebles"),
        (work("tr", place("next", stitch("dtr")), 3, times=2),
         "2 treble crochets in each of the next 3 double trebles",
         "2 double trebles in each of the next 3 triple trebles"),
        (work("V-st", place("next", group("V-st")), 6),
         "V-stitch in each of the next 6 V-stitches", "V-stitch in each of the next 6 V-stitches"),
        (work("V-st", place("next", group("V-st"))),
         "V-stitch in the next V-stitch", "V-stitch in the next V-stitch"),
        (work("Perch", place("next", sp(7, loop_form=True), part=Part("kth", 4, CH))),
         "Perch in the 4th chain of the next chain-7", "Perch in the 4th chain of the next chain-7"),
        (work("dc", BEG_CH_4),
         "Double crochet in the 3rd chain of the beginning chain-4",
         "Treble in the 3rd chain of the beginning chain-4"),
        (work("sc", place("next", group("shell"), part=Part("center", 0, stitch("dc"))), 4),
         "Single crochet in the center double crochet of each of the next 4 shells",
         "Double crochet in the centre treble of each of the next 4 shells"),
        (work("sc", place("next", group("shell"), part=Part("kth", 1, stitch("dc")))),
         "Single crochet in the first double crochet of the next shell",
         "Double crochet in the first treble of the next shell"),
        (work("sc", place("next", group("shell"), part=Part("last", 0, stitch("dc")))),
         "Single crochet in the last double crochet of the next shell",
         "Double crochet in the last treble of the next shell"),
        (work("dc", place("next", stitch("dc"), edge="side"), times=2),
         "2 double crochets in the side of the next double crochet",
         "2 trebles in the side of the next treble"),
        (work("dc", place("next", CH, edge="underside"), 7),
         "Double crochet in the underside of each of the next 7 chains",
         "Treble in the underside of each of the next 7 chains"),
        (work("dc", place("skipped", group("Perch"))),
         "Double crochet in the skipped Perch", "Treble in the missed Perch"),
        (work("dc", place("first", ST, skipped=True)),
         "Double crochet in the first skipped stitch", "Treble in the first missed stitch"),
        (work("dc", place("next", ST, skipped=True), 5),
         "Double crochet in each of the next 5 skipped stitches",
         "Treble in each of the next 5 missed stitches"),
        (work("sc", place("any", Noun("foundation ch"))),
         "Single crochet in any foundation chain", "Double crochet in any foundation chain"),
        (work("sc", place("each", Noun("foundation ch")), 23),
         "Single crochet in each of the 23 foundation chains",
         "Double crochet in each of the 23 foundation chains"),
        (work("sc", place("each", ST, until=Plain(2)), 22),
         "Single crochet in each of the first 22 stitches",
         "Double crochet in each of the first 22 stitches"),
        (work("dc", place("from hook", CH, ordinal=4)),
         "Double crochet in the 4th chain from the hook", "Treble in the 4th chain from the hook"),
        (work("dc", place("plain", Noun("ring")), times=11),
         "11 double crochets in the ring", "11 trebles in the ring"),
        (work("sc", place("each", ST, sp(1)), 48),
         "Single crochet in each of the 48 stitches and chain-1 spaces",
         "Double crochet in each of the 48 stitches and chain-1 spaces"),
        (work("sc", place("last", ST), 2),
         "Single crochet in each of the last 2 stitches", "Double crochet in each of the last 2 stitches"),
        (work("sc", place("last", ST)),
         "Single crochet in the last stitch", "Double crochet in the last stitch"),
        (work("sc", place("kth", ST, ordinal=21)),
         "Single crochet in the 21st stitch", "Double crochet in the 21st stitch"),
        (work("sc", place("same", ST, at_beginning=True)),
         "Single crochet in the same stitch as the beginning chain",
         "Double crochet in the same stitch as the beginning chain"),
        (work("hdc", place("next", ST, loop="back"), 6),
         "Half double crochet in the back loop of each of the next 6 stitches",
         "Half treble in the back loop of each of the next 6 stitches"),
        (work("hdc", place("plain", ST, loop="third")),
         "Half double crochet in the 3rd loop of the next stitch",
         "Half treble in the 3rd loop of the next stitch"),
        (work("FPdc", place("next", stitch("dc"), post=True), 4),
         "Front post double crochet around each of the next 4 double crochets",
         "Front post treble around each of the next 4 trebles"),
        (work("BPdc", place("next", stitch("BPdc"), post=True)),
         "Back post double crochet around the next back post double crochet",
         "Back post treble around the next back post treble"),
        (work("sc", place("each", ST, step=2), 12),
         "Single crochet in every other stitch, 12 times", "Double crochet in every other stitch, 12 times"),
        (work("sc2tog", None, 2, noun=ST),
         "Single crochet 2 together over the next 2 stitches",
         "Double crochet 2 together over the next 2 stitches"),
        (work("dc3tog", place("next", stitch("dc")), 3),
         "Double crochet 3 together over the next 3 double crochets",
         "Treble 3 together over the next 3 trebles"),
        (work("sc2tog", place("last", ST), 2),
         "Single crochet 2 together over the last 2 stitches",
         "Double crochet 2 together over the last 2 stitches"),
        (work("sc2tog", place("each", ST), 24),
         "Single crochet 2 together 12 times over the next 24 stitches",
         "Double crochet 2 together 12 times over the next 24 stitches"),
        (work("sc", place("next", stitch("sc2tog")), 6),
         "Single crochet in each of the next 6 single crochet decreases",
         "Double crochet in each of the next 6 double crochet decreases"),
        (work("puff", place("next", sp(2)), 6),
         "Puff stitch in each of the next 6 chain-2 spaces",
         "Puff stitch in each of the next 6 chain-2 spaces"),
        (work("cluster", place("next", stitch("bobble")), 2),
         "Cluster in each of the next 2 bobbles", "Cluster in each of the next 2 bobbles"),
        (work("shell", place("next", stitch("sc")), 1, times=2),
         "2 shells in the next single crochet", "2 shells in the next double crochet"),
        (work("dc", place("next", Noun("sp")), 3),
         "Double crochet in each of the next 3 spaces", "Treble in each of the next 3 spaces"),
        (work(inline("dc", 1, (2, "dc")), place("same", sp(1))),
         "Work (double crochet, chain 1, 2 double crochets) in the same chain-1 space",
         "Work (treble, chain 1, 2 trebles) in the same chain-1 space"),
        (work("picot", None, 0), "Make a picot", "Make a picot"),
        (work("sl st", place("from hook", CH, ordinal=3), 0),
         "Slip stitch in the 3rd chain from the hook", "Slip stitch in the 3rd chain from the hook"),
        (work("sl st", place("first", CH), 0),
         "Slip stitch in the first of these chains", "Slip stitch in the first of these chains"),
        (skip(1, group("V-st")), "Skip the next V-stitch", "Miss the next V-stitch"),
        (skip(3, ST), "Skip the next 3 stitches", "Miss the next 3 stitches"),
        (skip(1, sp(1)), "Skip the next chain-1 space", "Miss the next chain-1 space"),
        (skip(2, CH), "Skip the next 2 chains", "Miss the next 2 chains"),
        (ch(1, ("", 0)), "Chain 1", "Chain 1"),
        (ch(1, ("", 0), CountsAs()),
         "Chain 1; it does not count as a stitch", "Chain 1; it does not count as a stitch"),
        (ch(2, ("", 0)), "Chain 2; it does not count as a stitch", "Chain 2; it does not count as a stitch"),
        (ch(2, ("hdc", 0)),
         "Chain 2; it counts as a half double crochet", "Chain 2; it counts as a half treble"),
        (ch(4, ("dc", 1)),
         "Chain 4; it counts as a double crochet and a chain-1 space",
         "Chain 4; it counts as a treble and a chain-1 space"),
        (ch(5), "Chain 5", "Chain 5"),
        (join(BEG_CH_4),
         "Join with a slip stitch in the 3rd chain of the beginning chain-4",
         "Join with a slip stitch in the 3rd chain of the beginning chain-4"),
        (join(place("beg", Noun("beg ch"), part=Part("top"))),
         "Join with a slip stitch in the top of the beginning chain",
         "Join with a slip stitch in the top of the beginning chain"),
        (join(place("first", stitch("sc"))),
         "Join with a slip stitch in the first single crochet",
         "Join with a slip stitch in the first double crochet"),
        (join(None, to_ring=True),
         "Join with a slip stitch in the first chain to form a ring",
         "Join with a slip stitch in the first chain to form a ring"),
        (simple(JoinYarn("sc", place("any", Noun("foundation ch")))),
         "Join the yarn with a single crochet in any foundation chain",
         "Join the yarn with a double crochet in any foundation chain"),
        (simple(JoinYarn()), "Join the yarn with a slip stitch", "Join the yarn with a slip stitch"),
        (simple(FoundationStitches("sc", Plain(28))),
         "Make 28 foundation single crochets", "Make 28 foundation double crochets"),
        (simple(RingStart()), "Make an adjustable ring", "Make an adjustable ring"),
        (simple(Turn()), "Turn", "Turn"),
        (simple(NoJoin()), "Do not join", "Do not join"),
        (simple(FastenOff()), "Fasten off", "Fasten off"),
    ],
)  # fmt: skip
def test_one_thing_done(done: Did, us: str, uk: str) -> None:
    assert full_steps([done], tongue(the=False)) == (us,)
    assert full_steps([done], tongue("UK", the=False)) == (uk,)


def said(*doings: Doing, terms: Terms = "US", **around: object) -> tuple[str, ...]:
    return full_steps(doings, tongue(terms, the=False), Surroundings(**around))  # type: ignore[arg-type]


def test_how_far_a_run_and_a_repeat_go() -> None:
    run = work("V-st", place("next", group("V-st")), 6)
    assert said(run, upto={0: Upto("gap")}) == ("V-stitch in each of the next 6 V-stitches, up to the gap",)
    assert said(run, upto={0: Upto("round end")}) == (
        "V-stitch in each of the next 6 V-stitches, to the end of the round",
    )
    assert said(run, upto={0: Upto("row end")})[0].endswith("6 V-stitches, to the end of the row")
    assert said(run, upto={0: Upto("last", 2, (ST,))})[0].endswith("6 V-stitches, up to the last 2 stitches")
    assert said(run, upto={0: Upto("last", 1, (stitch("dc"),))}, terms="UK")[0].endswith(
        "6 V-stitches, up to the last treble"
    )
    repeat = rep(5, work("sc", place("next", stitch("dc")), 4), skip(1, sp(1)))
    assert said(repeat, upto={0: Upto("last", 2, (ST,))}) == (
        "5 times, up to the last 2 stitches: single crochet in each of the next 4 double crochets, "
        "skip the next chain-1 space",
    )


def test_the_gap_is_a_step_of_its_own() -> None:
    doings = (
        work("hdc", place("next", ST), 5),
        ch(6),
        skip(6, ST),
        work("hdc", place("each", ST), 16),
    )
    assert said(*doings, gaps={1: 0}) == (
        "Half double crochet in each of the next 5 stitches",
        "Make the gap: chain 6, skip the next 6 stitches",
        "Half double crochet in each of the next 16 stitches",
    )


def test_gaps_are_numbered_where_there_are_several() -> None:
    run = work("sc", place("next", ST), 3)
    assert (
        said(run, ch(6), skip(3, ST), gaps={1: 2})[1] == "Make the 2nd gap: chain 6, skip the next 3 stitches"
    )
    assert said(run, ch(6), skip(3, ST), gaps={1: 1})[1].startswith("Make the first gap: chain 6, ")
    assert said(run, upto={0: Upto("gap", 2)})[0].endswith(" 3 stitches, up to the 2nd gap")


def test_slip_stitches_on_the_way_are_one_step() -> None:
    way = (work("sl st", place("next", stitch("dc")), 2), work("sl st", place("next", sp(1))), ch(1, ("", 0)))
    assert said(*way) == (
        "Slip stitch in each of the next 2 double crochets, then in the next chain-1 space",
        "Chain 1",
    )


def test_what_a_beginning_within_a_stitch_counts_as() -> None:
    opening = work(inline(3, "dc", 1, (2, "dc")), place("same", sp(1)))
    assert said(opening, begun={0: ("dc", 0)}) == (
        "Work (chain 3, double crochet, chain 1, 2 double crochets) in the same chain-1 space; "
        "the chain 3 counts as a double crochet",
    )
    from_hook = work("dc", place("from hook", CH, ordinal=4))
    assert said(from_hook, begun={0: ("dc", 0)}) == (
        "Double crochet in the 4th chain from the hook; the 3 chains before it count as a double crochet",
    )
    assert said(replace(from_hook), begun={0: ("", 0)}) == (
        "Double crochet in the 4th chain from the hook; the 3 chains before it do not count as a stitch",
    )
    second = work("sc", place("from hook", CH, ordinal=2))
    assert said(second, begun={0: ("", 0)}) == ("Single crochet in the 2nd chain from the hook",)


def test_a_ring_that_the_text_takes_for_granted() -> None:
    assert said(work("sc", place("plain", Noun("ring")), times=6), ring=True) == (
        "Make an adjustable ring",
        "6 single crochets in the ring",
    )


def test_an_each_that_the_round_begins_with_is_all_of_them() -> None:
    each = work("sc", place("each", ST), 24)
    assert said(each, upto={0: Upto("round end")}) == ("Single crochet in each of the 24 stitches",)
    first = work("sc", place("same", ST))
    assert said(first, each, upto={1: Upto("round end")})[1] == (
        "Single crochet in each of the next 24 stitches, to the end of the round"
    )
    most = work("sc", place("each", ST, until=Plain(2)), 22)
    assert said(most, upto={0: Upto("last", 2, (ST,))}) == (
        "Single crochet in each of the first 22 stitches, up to the last 2 stitches",
    )
    assert line([most], tongue(the=False)) == "Sc in each of the first 22 sts."


def test_repeats() -> None:
    inner = rep(2, work("sc2tog", None, 2, noun=ST))
    outer = rep(7, work("dc", place("next", ST), 3), inner)
    assert said(outer) == (
        "7 times: double crochet in each of the next 3 stitches, "
        "[single crochet 2 together over the next 2 stitches] 2 times",
    )
    body = (work("dc", place("next", ST)), ch(1), skip(1, ST))
    assert said(rep(6, *body, last=(body[0],))) == (
        "5 times: double crochet in the next stitch, chain 1, skip the next stitch",
        "Double crochet in the next stitch",
    )
    assert said(rep(1, *body)) == ("Double crochet in the next stitch", "Chain 1, skip the next stitch")


@pytest.mark.parametrize(
    ("name", "one", "more"),
    [
        ("sl st", "slip stitch", "slip stitches"),
        ("sc", "single crochet", "single crochets"),
        ("V-st", "V-stitch", "V-stitches"),
        ("Fan st", "Fan stitch", "Fan stitches"),
        ("puff", "puff stitch", "puff stitches"),
        ("Perch", "Perch", "Perches"),
        ("Daisy", "Daisy", "Daisies"),
        ("Box", "Box", "Boxes"),
        ("picot", "picot", "picots"),
        ("FPtr", "front post treble crochet", "front post treble crochets"),
    ],
)
def test_one_and_more(name: str, one: str, more: str) -> None:
    assert full_name(name, 1, "US") == one
    assert full_name(name, 2, "US") == more


def test_articles() -> None:
    names = ("double crochet", "Anchor", "X-stitch", "V-stitch", "U-stitch")
    articles = ("a", "an", "an", "a", "a")
    assert [with_article(name) for name in names] == [
        f"{article} {name}" for article, name in zip(articles, names, strict=True)
    ]


def test_counts_in_full_words() -> None:
    items = [
        item(*each, "US") for each in (("V-st", 8), ("dc", 1), ("ch-1 sp", 8), ("sps", 1), ("sc2tog", 2))
    ]
    assert full_count(items, "US") == (
        "8 V-stitches, 1 double crochet, 8 chain-1 spaces, 1 space, 2 single crochet decreases"
    )
    assert full_count(items[:2], "UK") == "8 V-stitches, 1 treble"
    assert full_count([item("ch", 1, "US"), item("sts", 24, "US"), item("sc3tog", 1, "US")], "US") == (
        "1 chain, 24 stitches, 1 single crochet 3-together decrease"
    )
