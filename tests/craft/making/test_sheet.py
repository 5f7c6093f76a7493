"""The sheet of a pattern for all sizes, in the published form; expectations written by hand."""

from __future__ import annotations

import pytest

from server.craft.making import CustomRule, Fact, Sheet, SheetLine, sheet, sheet_text
from server.craft.text import read
from server.craft.text.tree import Terms
from tests.craft.making.slipway import TEXT


def printed(text: str, terms: Terms = "US") -> Sheet:
    return sheet(read(text).pattern, terms)


def lines(made: Sheet, section: int) -> list[str]:
    """Each line of a section as `label | text | count`."""
    return [f"{line.label} | {line.text} | {line.count}" for line in made.sections[section].lines]


def test_a_pair_in_three_sizes_in_uk_terms() -> None:
    """24, 28 and 32 chains: a fourth of them Perches; the gap takes one; N where the host wrote N."""
    assert (
        sheet_text(printed(TEXT, "UK"))
        == """\
Title: Slipway Wristers
Terms: UK
Sizes: small (medium, large)
Foundation: 24 (28, 32), multiple of 4
Worked: joined rounds
Pieces: pair
Tension: 14 sts and 9 rnds = 10 cm
Fits: 18 (21, 24) cm hand
Yarn: 4 medium, 74 (84, 96) m, 100 g = 170 m
Hook: 5 mm
Special stitch: Perch = (2 tr, ch 1, 2 tr) in one place

beg = beginning
ch = chain
dc = double crochet
rep = repeat
rnd = round
sl st = slip stitch
sp = space
st = stitch
tr = treble

A count of your own may be any multiple of 4; those from 12 to 64 are proved. N is your count.
Where numbers go by size and N is not named, take those of the next smaller size.
In Cuff, foundation rnd: N ch.
In Cuff, rnd 1: N dc.
In Cuff, rnd 2: N tr, N/4 ch-1 sps.
In Cuff, rnds 3 to 6 (6, 7): N/4 Perches.
In Thumb gap, rnd 1: N/4 - 1 Perches, 1 ch-7 sp.
In Hand, rnd 1: N/4 Perches.
In Hand, rnds 2 to 4 (4, 5): N/4 Perches.
In Top edging, rnd 1: N dc.
In Bottom edging, beginning: N dc.

# Cuff - to the base of the thumb
Foundation rnd: Ch 24 (28, 32); join with sl st in first ch to form a ring. [24 (28, 32) ch]
Rnd 1: Ch 1, dc in same ch, dc in each ch around; join with sl st in first dc. [24 (28, 32) dc]
Rnd 2: Ch 3 (counts as tr), (tr, ch 1, 2 tr) in same st, *miss next 3 sts, Perch in next st; \
rep from * around; join with sl st in top of beg ch. [24 (28, 32) tr, 6 (7, 8) ch-1 sps]
Rnds 3 to 6 (6, 7), or to the base of the thumb: Sl st in next tr, sl st in next ch-1 sp, \
ch 3 (counts as tr), (tr, ch 1, 2 tr) in same sp, *Perch in next ch-1 sp; rep from * around; \
join with sl st in top of beg ch. [6 (7, 8) Perches]

# Thumb gap
Rnd 1: Sl st in next tr, sl st in next ch-1 sp, ch 3 (counts as tr), (tr, ch 1, 2 tr) in same sp, ch 7, \
miss next Perch, *Perch in next Perch; rep from * around; join with sl st in top of beg ch. \
[5 (6, 7) Perches, 1 ch-7 sp]

# Hand - to the knuckles
Rnd 1: Sl st in next tr, sl st in next ch-1 sp, ch 3 (counts as tr), (tr, ch 1, 2 tr) in same sp, \
Perch in 4th ch of next ch-7, *Perch in next Perch; rep from * around; join with sl st in top of beg ch. \
[6 (7, 8) Perches]
Rnds 2 to 4 (4, 5), or to the knuckles: Rep rnd 3 of Cuff. [6 (7, 8) Perches]

# Top edging
Rnd 1: Ch 1, dc in same st, dc in next tr, miss next ch-1 sp, *dc in next 4 tr, miss next ch-1 sp; \
rep from * to last 2 sts, dc in last 2 sts; join with sl st in first dc. [24 (28, 32) dc]
Fasten off.

# Bottom edging - in the foundation
Join yarn with dc in any foundation ch, dc in each foundation ch around; join with sl st in first dc. \
[24 (28, 32) dc]
Fasten off.

# Thumb - around the gap
Rnd 1: Join yarn with sl st in missed Perch, ch 3 (counts as tr), tr in same sp, 2 tr in side of next tr, \
tr in underside of next 7 ch, 2 tr in side of next tr; join with sl st in top of beg ch. [13 tr]
Rnd 2: Ch 1, dc in same st, dc in each tr around; join with sl st in first dc. [13 dc]
Fasten off.
"""
    )


def test_what_the_values_hold() -> None:
    made = printed(TEXT)
    assert (made.title, made.terms, made.written_in) == ("Slipway Wristers", "US", "US")
    assert made.materials == (
        Fact("Yarn", "4 medium, 74 (84, 96) m, 100 g = 170 m"),
        Fact("Hook", "5 mm"),
    )
    assert [fact.label for fact in made.facts] == ["Sizes", "Foundation", "Worked", "Pieces", "Gauge", "Fits"]
    assert made.special == ("Perch = (2 dc, ch 1, 2 dc) in one place",)
    assert made.custom == CustomRule("any multiple of 4", (12, 64), by_size=True)
    section = made.sections[2]
    assert (section.title, section.purpose, section.kind) == ("Hand", "to the knuckles", "body")
    assert section.lines[1] == SheetLine(
        "round",
        "Rnds 2 to 4 (4, 5), or to the knuckles",
        "Rep rnd 3 of Cuff",
        "6 (7, 8) Perches",
        "N/4 Perches",
    )
    assert made.sections[3].lines[1] == SheetLine("end", "", "Fasten off.")


def test_counts_come_from_the_fabric_where_the_host_states_none(pattern: str) -> None:
    """
    Title: Shingle Cuffs
    Sizes: small (large)
    Foundation: 26 (30), multiple of 2
    Custom: 22 to 34

    # Cuff
    Foundation rnd: Ch 26 (30); join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, sc in same ch, ch 1, sk next 1 ch, *sc in next ch, ch 1, sk next ch; rep from * around;
      join with sl st in first sc.
    Rnd 2: Ch 1, sc in same st, sc in each st and ch-1 sp around; join with sl st in first sc.
    Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc.
    Rnd 4: Ch 1, sc in same st, sc in next st, sc2tog, sc in each st to last 2 sts, sc2tog; join.
    Rnds 5 to 8: rep rnds 3 and 4.
    Rnd 9: rep rnd 3. [N - 6 sc]
    """
    made = printed(pattern)
    assert lines(made, 0) == [
        "Foundation rnd | Ch 26 (30); join with sl st in first ch to form a ring | 26 (30) ch",
        "Rnd 1 | Ch 1, sc in same ch, ch 1, sk next ch, *sc in next ch, ch 1, sk next ch; rep from * around; "
        "join with sl st in first sc | 13 (15) sc, 13 (15) ch-1 sps",
        "Rnd 2 | Ch 1, sc in same st, sc in each st and ch-1 sp around; join with sl st in first sc | "
        "26 (30) sc",
        # 26 and 24, then 24, 22, 22, 20: no one count serves a round and those that repeat it
        "Rnd 3 | Ch 1, sc in same st, sc in each st around; join with sl st in first sc | ",
        "Rnd 4 | Ch 1, sc in same st, sc in next st, sc2tog, sc in each st to last 2 sts, sc2tog; join | ",
        "Rnds 5 to 8 | Rep rnds 3 and 4 | ",
        "Rnd 9 | Rep rnd 3 | 20 (24) sc",  # with a count of its own
    ]
    customs = [line.custom for line in made.sections[0].lines]
    assert customs == ["N ch", "N/2 sc, N/2 ch-1 sps", "N sc", "", "", "", "N - 6 sc"]
    assert made.custom == CustomRule("any multiple of 2", (22, 34), by_size=False)


def test_lists_that_lie_on_a_line_in_n(pattern: str) -> None:
    """
    Title: Bollard Cuffs
    Sizes: small (medium, large)
    Foundation: 24 (28, 32), multiple of 4

    # Cuff
    Foundation rnd: Ch 24 (28, 32); join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, sc in same ch, sc in next N/4 ch, 2 sc in next ch, sc in next 3 (3, 3) ch,
      sc in each ch around; join with sl st in first sc. [N + 1 sc]
    Rnd 2: Ch 1, sc in same st, sc in next 5 (6, 7) sts, sc2tog, sc in each st around;
      join with sl st in first sc. [24 (28, 32) sc]
    """
    made = printed(pattern)
    assert lines(made, 0)[1:] == [
        "Rnd 1 | Ch 1, sc in same ch, sc in next 6 (7, 8) ch, 2 sc in next ch, sc in next 3 ch, "
        "sc in each ch around; join with sl st in first sc | 25 (29, 33) sc",
        "Rnd 2 | Ch 1, sc in same st, sc in next 5 (6, 7) sts, sc2tog, sc in each st around; "
        "join with sl st in first sc | 24 (28, 32) sc",
    ]
    assert [line.custom for line in made.sections[0].lines] == [
        "N ch",
        "N + 1 sc; for 6 (7, 8) take N/4",
        "N sc; for 5 (6, 7) take N/4 - 1",
    ]


def test_one_size_and_counts_of_ones_own(pattern: str) -> None:
    """
    Title: Lantern Band
    Foundation: 30, multiple of 6
    Custom: 24 to 48

    # Band
    Foundation rnd: Ch N; join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc.
    Rnd 2: Ch 1, sc in same st, ch 2, sk 2 sts, *sc in next st, ch 2, sk 2 sts; rep from * around; join.
    """
    made = printed(pattern)
    assert lines(made, 0) == [
        "Foundation rnd | Ch 30; join with sl st in first ch to form a ring | 30 ch",
        "Rnd 1 | Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc | 30 sc",
        "Rnd 2 | Ch 1, sc in same st, ch 2, sk next 2 sts, *sc in next st, ch 2, sk next 2 sts; "
        "rep from * around; join | N/3 sc, N/3 ch-2 sps",  # 10 would be wrong at 24, 36, 42 and 48
    ]
    assert made.facts[0] == Fact("Foundation", "30, multiple of 6")
    assert made.custom == CustomRule("any multiple of 6", (24, 48), by_size=False)


def test_one_size_and_no_other(pattern: str) -> None:
    """
    Title: Lantern Band
    Foundation: 30
    Pieces: one

    # Band
    Foundation rnd: Ch N; join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, sc in same ch, ch 2, sk 2 ch, [sc in next ch, ch 2, sk 2 ch] N/3 - 1 times; join.
    """
    made = printed(pattern, "UK")
    assert lines(made, 0) == [
        "Foundation rnd | Ch 30; join with sl st in first ch to form a ring | 30 ch",
        "Rnd 1 | Ch 1, dc in same ch, ch 2, miss next 2 ch, [dc in next ch, ch 2, miss next 2 ch] 9 times; "
        "join | 10 dc, 10 ch-2 sps",
    ]
    assert made.custom is None
    assert [line.custom for line in made.sections[0].lines] == ["", ""]


def test_a_crown_by_size(pattern: str) -> None:
    """
    Title: Skylight Cap
    Sizes: child (adult, large)
    Foundation: none
    Pieces: one
    Yarn: 3 light, 90 (110, 120) m, 50 g = 125 m
    Hook: 4 (4.5, 4.5) mm

    # Crown
    Rnd 1: Ch 3 (counts as dc), 11 dc in ring; join with sl st in top of beg ch.
    Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each dc around; join with sl st in top of beg ch.
    Rnd 3: Ch 3 (counts as dc), dc in next 1 (3, 3) dc, 2 dc in each dc around;
      join with sl st in top of beg ch.
    """
    made = printed(pattern)
    assert lines(made, 0) == [
        "Rnd 1 | Ch 3 (counts as dc), 11 dc in ring; join with sl st in top of beg ch | 12 dc",
        "Rnd 2 | Ch 3 (counts as dc), dc in same st, 2 dc in each dc around; "
        "join with sl st in top of beg ch | 24 dc",
        # 24 - 1 - 1 = 22 doubled, and 2; 24 - 1 - 3 = 20 doubled, and 4
        "Rnd 3 | Ch 3 (counts as dc), dc in next 1 (3, 3) dc, 2 dc in each dc around; "
        "join with sl st in top of beg ch | 46 (44, 44) dc",
    ]
    assert Fact("Hook", "4 (4.5, 4.5) mm") in made.materials
    assert made.custom is None


def test_rows_the_hosts_words_and_standing_groups(pattern: str) -> None:
    """
    Title: Groyne Panel
    Terms: UK
    Foundation: 14 (17), multiple of 3 + 2
    Worked: rows
    Pieces: one

    I made this on a windy week. It wants
    a soft yarn.

    # Panel
    Foundation row: Ch 14 (17).
    Row 1: Dc in 2nd ch from hook, dc in each ch across; turn.
    Row 2: Ch 3 (counts as tr), *miss 2 sts, V-st in next st; rep from * to last 3 sts,
      miss 2 sts, tr in last st; turn.
    Note: Block it damp.
    Rows 3 to 5, or until it is as long as you like: Ch 3 (counts as tr), V-st in each V-st across,
      tr in top of beg ch; turn.
    Fasten off, leaving a long end.
    """
    made = printed(pattern)
    assert lines(made, 0) == [
        "Foundation row | Ch 14 (17) | 14 (17) ch",
        "Row 1 | Sc in 2nd ch from hook, sc in each ch across; turn | 13 (16) sc",
        "Row 2 | Ch 3 (counts as dc), *sk next 2 sts, V-st in next st; rep from * to last 3 sts, "
        "sk next 2 sts, dc in last st; turn | 3 (4) V-sts, 8 (10) dc, 3 (4) ch-1 sps",
        " | Block it damp. | ",
        "Rows 3 to 5, or until it is as long as you like | Ch 3 (counts as dc), V-st in each V-st across, "
        "dc in top of beg ch; turn | 3 (4) V-sts, 8 (10) dc, 3 (4) ch-1 sps",
        " | Fasten off, leaving a long end. | ",
    ]
    assert [line.kind for line in made.sections[0].lines] == [
        "round",
        "round",
        "round",
        "note",
        "round",
        "end",
    ]
    assert made.special == ("V-st = (dc, ch 1, dc) in one place",)
    assert made.notes == ("I made this on a windy week. It wants", "a soft yarn.")
    assert "\n\nThe host’s own words, in UK terms.\nI made this on a windy week." in sheet_text(made)
    assert "own words" not in sheet_text(printed(pattern, "UK"))
    assert made.sections[0].lines[2].custom == "(N - 5)/3 V-sts, (2N - 4)/3 dc, (N - 5)/3 ch-1 sps"


def test_abbreviations_are_those_that_the_sheet_uses(pattern: str) -> None:
    """
    Title: Cleat Cap
    Foundation: none
    Pieces: one
    Special stitch: Cleat = (FPdc, ch 1, dc2tog) in one place

    # Crown
    Rnd 1: 8 hdc in ring; join with sl st in first hdc.
    Rnd 2: Ch 1, FPdc around same st, FPdc around each hdc around; join with sl st in first FPdc.
    """
    made = printed(pattern, "UK")
    assert made.abbreviations == (
        Fact("ch", "chain"), Fact("FPtr", "front post treble"), Fact("htr", "half treble"),
        Fact("rnd", "round"), Fact("sl st", "slip stitch"), Fact("st", "stitch"),
        Fact("tr2tog", "treble 2 stitches together"),
    )  # fmt: skip


def test_a_stitch_of_several_legs_that_the_host_left_to_her_makers_is_explained(pattern: str) -> None:
    """
    Title: Pebble Band
    Foundation: 20

    # Band
    Foundation rnd: Ch 20; join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, sc in same ch, bobble in next ch, *sc in next ch, bobble in next ch;
      rep from * around; join with sl st in first sc.
    """
    made = {fact.label: fact.text for fact in printed(pattern).abbreviations}
    assert made["bobble"] == "several legs in one place, closed together at the top: one stitch"
    own = printed(
        pattern.replace("Foundation: 20", "Foundation: 20\nSpecial stitch: bobble = (5 dc) closed together")
    )
    assert "bobble" not in {fact.label for fact in own.abbreviations}
    assert own.special == ("bobble = (5 dc) closed together",)


def test_a_gauge_over_rows_says_rows(pattern: str) -> None:
    """
    Title: Plank Scarf
    Foundation: 21
    Worked: rows
    Gauge: 14 sts and 7 rows = 10 cm

    # Scarf
    Foundation row: Ch 21.
    Row 1: Sc in 2nd ch from hook, sc in each ch across; turn. [20 sc]
    """
    assert Fact("Gauge", "14 sts and 7 rows = 10 cm") in printed(pattern).facts


def test_a_line_that_did_not_read() -> None:
    text = "Title: Odd\nFoundation: 24\n\n# Cuff\nRnd 1: Ch 24, wibble 3 of them.\n"
    with pytest.raises(ValueError, match="did not read"):
        printed(text)
