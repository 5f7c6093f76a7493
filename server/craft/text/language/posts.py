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
