"""Entries: sections and rounds, numbers, counts."""

from __future__ import annotations

from server.craft.text.language.entries import FIRST, GAP, RING, Entry, flat, own, tube

SIZED = "Sizes: small (medium, large)"
STEADY = "Rnd 2: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]"
PLAIN = "Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]"
WITH_THUMB = "\n".join(
    (
        "Foundation: 24, multiple of 4",
        "",
        "# Cuff",
        RING,
        FIRST,
        GAP,
        "# Hand",
        "Rnd 1: Ch 1, sc in same st, sc in each st and ch around; join with sl st in first sc. [N sc]",
        "Fasten off.",
        "# Thumb - around the gap",
        "Join yarn with sc in first skipped st, sc in next 4 skipped sts, sc in side of next sc, "
        "sc in underside of next 5 ch, sc in side of next sc; join with sl st in first sc. [12 "
        "sc]",
        "Fasten off.",
        "",
    )
)
WITH_EDGE = "\n".join(
    (
        "Foundation: 24, multiple of 4",
        "",
        "# Cuff",
        RING,
        FIRST,
        "Fasten off.",
        "# Bottom edging - in the foundation",
        "Join yarn with sc in any foundation ch, sc in each foundation ch around; join with sl "
        "st in first sc. [N sc]",
        "Fasten off.",
        "",
    )
)

LINES = (
    Entry(
        "A section",
        ("# Cuff", "# Cuff - to the base of the thumb", "# Hand - to the knuckles"),
        "A line that begins with # opens a section; behind a dash stands what it is for.",
        tube(STEADY),
    ),
    Entry(
        "A gap",
        ("# Thumb gap",),
        "A section that is called a gap leaves one: its longest chains over skipped places. Its "
        "edge can be worked later, and a gap that no section works stays open.",
        "\n".join(("Foundation: 24, multiple of 4", "", "# Cuff", RING, FIRST, GAP, "Fasten off.", "")),
    ),
    Entry(
        "Around a gap",
        ("# Thumb - around the gap",),
        "Works the edge of the gap: the skipped places, the side of the stitch behind it, the "
        "underside of its chains, the side of the stitch before it. Each of the four needs a "
        "stitch.",
        WITH_THUMB,
    ),
    Entry(
        "In the foundation",
        ("# Bottom edging - in the foundation",),
        "Works the free side of the foundation chain.",
        WITH_EDGE,
    ),
    Entry(
        "The other side of the foundation",
        (
            "Join yarn in other side of foundation ch, …",
            "… in each ch along the opposite side of the foundation chain",
        ),
        "The same edge in other words; it needs no section that says so.",
        own(
            RING,
            FIRST,
            "Fasten off.",
            "",
            "Join yarn with sl st in other side of foundation chain, ch 1, sc in same ch, sc in each ch "
            "along the opposite side of the foundation chain; join with sl st in first sc. [N sc]",
        ),
    ),
    Entry(
        "Both sides of the foundation",
        (
            "… 3 sc in last ch, working along the other side of the foundation ch, …",
            "sc in next 6 ch along the opposite side of the chain",
        ),
        "An oval, as a sole or a toe begins: the round goes on in the chain's free side, from beside its "
        "last chain back to the one begun in. The chain is not joined.",
        own(
            "Foundation rnd: Ch 24. [24 ch]",
            "Rnd 1: Sc in 2nd ch from hook, sc in each ch to last ch, 3 sc in last ch, working along the "
            "other side of the foundation ch, sc in each ch around; join with sl st in first sc. [2N - 1 sc]",
        ),
    ),
    Entry(
        "The ends of rows",
        ("# Edging - along the row ends", "sc in side of each row", "sc evenly along row ends"),
        "Each row has one end on this side, the foundation none. Work that goes on without new yarn turns "
        "to that side.",
        flat(
            "Rows 2 to 10: Ch 1, sc in each st across; turn. [N - 1 sc]",
            "# Edging",
            "Row 1: Ch 1, 15 sc evenly along row ends; turn. [15 sc]",
            "Row 2: Ch 1, sc in each st across. [15 sc]",
            "# Other edging",
            "Row 1: Join yarn with sl st in side of first row, ch 1, sc in side of each row across. [10 sc]",
        ),
    ),
    Entry(
        "The foundation",
        (
            "Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]",
            "Foundation row: Ch 13.",
        ),
        "The chain that everything begins with, and in rounds its join to a ring. In a piece of "
        "one size its number reads as N.",
        own(
            "Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]",
            "Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]",
        ),
    ),
    Entry(
        "A round",
        ("Rnd 1: … [24 sc]", "Row 1: …"),
        "Its label, what is worked, its count. It may run over several lines; a label, a section "
        "or a blank line ends it.",
        tube("Rnd 2: Ch 1, sc in same st,\n  sc in each st around;\n  join with sl st in first sc. [N sc]"),
    ),
    Entry(
        "Several rounds alike",
        ("Rnds 2 to 5: …", "Rnds 2 to 5 (5, 6): …"),
        "The same text in each of them; the last one may go by size.",
        tube(f"Rnds 2 to 5 (5, 6): {PLAIN}", foundation="24 (28, 32), multiple of 4", head=SIZED),
    ),
    Entry(
        "Rounds to fit",
        ("Rnds 2 to 5, or to the base of the thumb: …",),
        "The maker may stop earlier or go on, and her number is kept for the second piece. It is "
        "proved with the first round only, as written, and with one more.",
        tube(f"Rnds 2 to 5, or to the base of the thumb: {PLAIN}", f"Rnd 6: {PLAIN}"),
    ),
    Entry(
        "A round again",
        ("Rnd 3: rep rnd 2.", "Rnds 3 and 4: rep rnd 2.", "Rnds 4 to 9: rep rnds 2 and 3."),
        "The text of another round; of several, in turn. Its count holds too, unless a new one is given.",
        tube(
            STEADY,
            "Rnd 3: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
            "Rnds 4 to 9: rep rnds 2 and 3.",
        ),
    ),
    Entry(
        "As another round",
        ("Rnd 3: as rnd 2", "Rep last 2 rnds twice.", "Work even for 4 rnds."),
        "The same in other words. `Work even` is one stitch in each, of the kind that the round before "
        "ends with; a line without a label takes the next numbers.",
        tube(
            STEADY, "Rnd 3: As rnd 2.", "Work even for 4 rnds.", f"Rnd 8: {PLAIN} Rep this rnd 3 more times."
        ),
    ),
    Entry(
        "Rounds until something is reached",
        ("Rep rnds 2 and 3 until piece measures 15 cm.", "Rnd 3: …; rep this rnd to the base of the thumb."),
        "Rounds to fit. One of each is taken as written, and you are asked how many they were.",
        tube(
            STEADY,
            "Rnd 3: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. [N dc]",
            "Rep rnds 2 and 3 until piece measures 15 cm.",
        ),
        ("fit-unsaid",),
    ),
    Entry(
        "Odd and even rounds",
        ("Odd rnds 3-9: …", "Rnds 2, 4 and 6: …", "Rnd 2 and all even rnds: …"),
        "Each stands in its own place; between them stand the others.",
        tube(
            f"Odd rnds 3-7: {PLAIN}",
            "Even rnds 2-8: Ch 3 (counts as dc), dc in each st around; join with sl st in top of beg ch. "
            "[N dc]",
        ),
    ),
    Entry(
        "Rounds for some sizes",
        ("Rnd 3 (large only): …", "Large only:", "All sizes:", "(large only) 2 sc in next st"),
        "Worked at these sizes and left out at the others. At a custom count what the nearest "
        "smaller size has holds.",
        tube(
            f"Rnd 2 (large only): {PLAIN}",
            "Medium and large only:",
            f"Rnd 3: {PLAIN}",
            "All sizes:",
            "Rnd 4: Ch 1, sc in same st, (large only) 2 sc in next st, sc in each st around; join with sl "
            "st in first sc. [24 (28, 33) sc]",
            foundation="24 (28, 32)",
            head=SIZED,
        ),
    ),
    Entry(
        "A round of another section",
        ("Rnd 1: rep rnd 2 of Band",),
        "Name the section that it stands in.",
        tube(STEADY, "# Top", "Rnd 1: rep rnd 2 of Band."),
    ),
    Entry(
        "A round without a label",
        ("Join yarn with sc in any st, sc in each st around; …",),
        "A line that begins with `Join yarn` is a round of its own. One that does no more than "
        "join yarn sets the hook for the next round.",
        WITH_EDGE,
    ),
    Entry("Fasten off", ("Fasten off.",), "An end. What follows it on the line is for the maker.", tube()),
    Entry(
        "A note",
        ("Note: try it on here.",),
        "Words for the maker; nothing of it is worked. Any line can be made one.",
        tube("Note: try it on here, the cuff should slide over your knuckles.", STEADY),
    ),
)

NUMBERS = (
    Entry(
        "N",
        ("N", "N/3", "2N/3 + 1", "N/3 - 1"),
        "The foundation count, and lines in it. They may stand wherever a number may, and are "
        "right at every size and custom count.",
        tube(
            "Rnd 2: Ch 4 (counts as dc, ch 1), sk next st, [dc in next st, ch 1, sk next st] N/2 - 1 "
            "times; join with sl st in 3rd ch of beg ch-4. [N/2 dc, N/2 ch-1 sps]"
        ),
    ),
    Entry(
        "N that does not divide",
        ("N/3",),
        "Where it is no whole number at some count, that is an error there: multiples of 4 are "
        "not all multiples of 3.",
        tube(
            "Rnd 2: Ch 1, sc in same st, 2 sc in next N/3 sts, sc in each st around; join with sl st "
            "in first sc.",
        ),
        ("not-whole",),
    ),
    Entry(
        "A number for each size",
        ("24 (28, 32)", "6 (7, 8)"),
        "Smallest first. A list that lies on one line in N is read so at custom counts.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in next 23 (27, 31) sts; join with sl st in first sc. "
            "[24 (28, 32) sc]",
            foundation="24 (28, 32), multiple of 4",
            head=SIZED,
        ),
    ),
    Entry(
        "A size that has none of it",
        ("2 (-, 4)", "Rnds 4 to 6 (-, 8): …"),
        "A dash: that size leaves it out, the rounds too.",
        tube(
            "Rnd 2: Ch 1, sc in same st, 2 sc in next 2 (-, 4) sts, sc in each st around; join with sl "
            "st in first sc. [26 (28, 36) sc]",
            foundation="24 (28, 32)",
            head=SIZED,
        ),
    ),
    Entry(
        "A list on no line",
        ("5 (6, 9)",),
        "At custom counts the next smaller size’s number is taken, and you are told.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in next 5 (6, 9) sts, sc in each st around; join with sl "
            "st in first sc.",
            foundation="24 (28, 32), multiple of 4",
            head=SIZED,
        ),
        ("off-line",),
    ),
)

COUNTS = (
    Entry(
        "A count in a sentence",
        ("You should have 24 sc.", "Total: 24 sts.", "(8 groups of 3 dc)"),
        "Said at a round’s end, it is its count and is checked.",
        tube(f"{STEADY.removesuffix(' [N sc]')} You should have N sc."),
    ),
    Entry(
        "A count",
        ("[24 sc]", "[6 (7, 8) V-sts, 12 dc]"),
        "Stands in square brackets at the end of a round. It may name stitches, spaces, chains "
        "and groups; what it leaves out is not checked.",
        tube(
            "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, sk next 2 sts, *V-st in next st, sk "
            "next 2 sts; rep from * around; join with sl st in 3rd ch of beg ch-4. [N/3 V-sts, 2N/3 "
            "dc, N/3 ch-1 sps]",
            foundation="24, multiple of 3",
        ),
    ),
    Entry(
        "Sts in a count",
        ("[24 sts]",),
        "All stitches, and beginning chains that count; never chains, spaces or picots.",
        tube(
            "Rnd 2: Ch 3 (counts as dc), *sc in next st, dc in next st; rep from * around, omitting "
            "last dc; join with sl st in top of beg ch. [N sts]"
        ),
    ),
    Entry(
        "A count that is wrong",
        ("[25 sc]",),
        "What the round has at each count is worked, and what it should say is offered.",
        tube(STEADY.replace("[N sc]", "[N + 1 sc]")),
        ("count-wrong",),
    ),
    Entry(
        "Decreases in a count",
        ("[18 sc]", "[6 sc2tog, 12 sc]"),
        "`sc2tog` is an sc wherever an sc is named or counted, unless the same count lists it apart.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in next st, sc2tog, *sc in next 2 sts, sc2tog; rep from "
            "* around; join with sl st in first sc. [N/4 sc2tog, N/2 sc]",
            "Rnd 3: Ch 1, sc in same st, sc in each sc around; join with sl st in first sc. [3N/4 sc]",
        ),
    ),
    Entry(
        "Counts in rows",
        ("[23 sc]",),
        "A row has its count at its end too.",
        flat("Row 2: Ch 1, sc in each st across; turn. [N - 1 sc]"),
    ),
)
