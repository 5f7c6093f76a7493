"""Entries: how crafters write in posts, and what is read from it."""

from __future__ import annotations

from server.craft.text.language.entries import Entry, own, tube

JOIN = "join with sl st in first sc."
POSTED = (
    Entry(
        "Said once of a beginning chain",
        (
            "Rnd 1: Ch 2 (does not count as a st), …",
            "Ch 2 at the beginning of a round does not count as a stitch.",
            "The turning chain counts as a dc.",
        ),
        "What is said in a round, or in a note above, holds for every later round that begins with as many "
        "chains and says nothing else; of a chain that counts as a stitch, where the round goes on with that "
        "stitch. What is said later wins from there on.",
        tube(
            "Rnd 2: Ch 2 (does not count as a st), hdc in each st around; join with sl st in first hdc. "
            "[N hdc]",
            "Rnd 3: Ch 2, 2 hdc in each st around; join with sl st in first hdc. [2N hdc]",
        ),
    ),
    Entry(
        "Labels as posts have them",
        ("Rnd 2)", "R3.", "Round 4 -", "5th round.", "6th and 7th rounds:", "Rnds 8-11)"),
        "A round’s number before or behind the word, and any sign that ends a label.",
        tube(
            f"Rnd 2) Ch 1, sc in each st around; {JOIN} N sc",
            f"3rd round.- Ch 1, sc in each st around; {JOIN} = N sc",
            "4th to 7th rounds: Repeat rnds 2 and 3, 2 times.",
        ),
    ),
    Entry(
        "The chain that everything begins with",
        ("To begin: Chain 24. Join …", "Commence with 24 ch., …", "Using a 5 mm hook, make 24 ch, …"),
        "The foundation without a label, with the words that lead up to it.",
        own(
            "To begin: Chain 24. Join with a slip stitch to form a ring.",
            "Rnd 1: Ch 1, sc in each ch around; join. [N sc]",
        ),
    ),
    Entry(
        "The next round",
        ("Next rnd: …", "Last round. …", "Next 3 rnds: …"),
        "Takes the number that follows.",
        tube(
            f"Next 3 rnds: Ch 1, sc in each st around; {JOIN} [N sc]",
            f"Last round. Ch 1, 2 sc in each st around; {JOIN} [2N sc]",
        ),
    ),
    Entry(
        "Marks for looks",
        ("**Rnd 2:** …", "**Cuff**", "| Rnd 2 | … | 24 sc |", "3. Row 2: …", "<24>"),
        "Bold labels and headings, the bars of a table with its counts in the last cell, a list’s numbers "
        "before labels, a count in angles. Stars that a repeat needs are left.",
        own(
            "**Ch 24, join to form a ring.**",
            "| Rnd 1 | Ch 1, sc in each ch around; join. | 24 sc |",
            "**Rnd 2:** Ch 1, *sc in next st, ch 1, sk next st* around; join. <12 sc>",
            foundation="24",
        ),
    ),
    Entry(
        "Old leaflets",
        ("2nd round.- 3 ch. (to count as 1 tr.), 1 tr. in each d.c., s.s. to top of 3 ch.", "As 2nd round."),
        "Stops behind every short word, rounds by their ordinal.",
        own(
            "COMMENCE with 24 ch., join with a s.s. to form a ring.",
            "1st round.- 1 ch., 1 d.c. in each ch., s.s. to first d.c. (24 d.c.)",
            "2nd round.- 3 ch. (to count as 1 tr.), 1 tr. in each st. to end, s.s. to top of 3 ch. (24 tr.)",
            "3rd and 4th rounds.- As 2nd round.",
            foundation="24",
            head="Terms: UK",
        ),
    ),
    Entry(
        "What is left of a round",
        ("sc to end of rnd", "sc to the end", "sc to last 2 sts", "sc in rem 4"),
        "One in each stitch that is left, up to where the words say; a number must be as many as are left.",
        tube(
            f"Rnd 2: Ch 1, sc in first 4 sts, 2 sc in next st, sc to end of rnd; {JOIN} [N + 1 sc]",
            f"Rnd 3: Ch 1, sc in first 4 sts, sc2tog, sc to last 2 sts, sc in rem 2; {JOIN} [N sc]",
        ),
    ),
    Entry(
        "The round over a gap",
        (
            "sc in each st around, working 6 sc in the ch-6 sp",
            "sc in each sc to ch-6 sp, 6 sc in ch-6 sp, sc in each sc around",
            "sc in each st around (including the chs)",
        ),
        "Each stitch up to the space, so many in it, and those behind it; or one in each of its chains.",
        tube(
            f"Rnd 2: Ch 1, sc in first 5 sts, ch 6, sk 6 sts, sc in each st around; {JOIN} "
            "[N - 6 sc, 1 ch-6 sp]",
            f"Rnd 3: Ch 1, sc in each st around, working 6 sc in the ch-6 sp; {JOIN} [N sc]",
            foundation="24",
        ),
    ),
    Entry(
        "Where the first stitch goes",
        (
            "hdc in 3rd ch from hook (the skipped chs count as a hdc)",
            "hdc in each st around, starting in the second st",
        ),
        "What the chains passed over count as, where it is said. Behind a beginning chain that counts the "
        "first stitch is left to it.",
        tube(
            "Rnd 2: Ch 2 (counts as hdc), hdc in each st around, starting in the second st; join with "
            "sl st in top of beg ch. [N hdc]",
        ),
    ),
    Entry(
        "A heading before its round",
        ("Edging: Join yarn in any st. …", "Work 6 rnds even.", "6 rnds even."),
        "The heading begins a section, the text behind it is its first round; rounds even have the "
        "stitch of the round before.",
        tube(
            "Edging: Join yarn with sc in any st, 2 sc in next st, sc in each st around; join. [N + 1 sc] "
            "Work 3 rnds even.",
        ),
    ),
    Entry(
        "Gaps between groups",
        ("Join B in any gap between groups, 3 ch, 2 tr in same gap, *3 tr in next gap* rep around",),
        "The places between stitches that stand together.",
        tube(
            "Rnd 2: Ch 3 (counts as dc), 2 dc in same st, *sk 2 sts, 3 dc in next st; rep from * to last 2 "
            "sts, sk 2 sts; join. (8 groups)",
            "Rnd 3: Join B in any gap between groups, ch 3, 2 dc in same gap, *3 dc in next gap* rep around, "
            "join. (8 groups)",
            foundation="24",
        ),
    ),
    Entry(
        "A band made into a tube",
        (
            "Sl st the short ends together to form a tube.",
            "Slip stitch the foundation row to the last row.",
            "Rnd 1: Ch 1, work 26 sc evenly around the top edge, join.",
        ),
        "A seam is words for the maker. The round behind it is worked along the ends of the rows, so many "
        "over all of them.",
        own(
            "Row 1: Ch 9, sc in 2nd ch from hook and in each ch across. (8)",
            "Rows 2-20: Ch 1, turn, sc in BLO of each st across. (8)",
            "Sl st the short ends together to form a tube. Don’t fasten off.",
            "# Hand",
            "Rnd 1: Ch 1, work 26 sc evenly around the top edge of the band, join. (26)",
            "Rnd 2: Ch 1, sc in each st around, join. (26)",
            foundation="9",
        ),
    ),
)
