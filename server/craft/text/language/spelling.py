"""Entries: spellings that patterns use, and what they read as."""

from __future__ import annotations

from server.craft.text.language.entries import RING, Entry, crown, flat, own, tube

JOIN = "join with sl st in first sc."
TOP = "join with sl st in top of beg ch."
SIZED = "Sizes: small (medium, large)"
BODY = f"Ch 1, sc in same st, sc in each st around; {JOIN}"
PAIRS = "sc in next st, dc in next st"
DCS = f"Rnd 2: Ch 3 (counts as dc), dc in each st around; {TOP} [N dc]"

SPELLINGS = (
    Entry(
        "Other labels",
        ("Round 3:", "R3:", "Rd 3.", "Rnd. 3 -", "Rounds 2-10:", "Rnds 2–10:", "Row 3"),
        "All of them read as `Rnd 3:` or `Rnds 2 to 10:`; so does `Row 3` in a piece worked in "
        "joined rounds.",
        tube(
            f"Round 2: {BODY} [N sc]",
            f"R3: {BODY} [N sc]",
            f"Rd 4. {BODY} [N sc]",
            f"Rnd. 5 - {BODY} [N sc]",
            f"Rounds 6-8: {BODY} [N sc]",
            f"Rnds 9–10: {BODY} [N sc]",
            f"Row 11: {BODY} [N sc]",
        ),
    ),
    Entry(
        "Counts in other marks",
        ("(24)", "(24 sc.)", "= 24 sc", "24 sts.", "— 24 sc", "(24, 28, 32 sc)"),
        "A count at a round’s end, whatever holds it; sizes in order.",
        tube(
            f"Rnd 2: {BODY} (24, 28, 32 sc)",
            f"Rnd 3: {BODY} = 24 (28, 32) sc",
            f"Rnd 4: {BODY} 24 (28, 32) sts.",
            f"Rnd 5: {BODY} — N sc",
            f"Rnd 6: {BODY} (N)",
            foundation="24 (28, 32), multiple of 4",
            head=SIZED,
        ),
    ),
    Entry(
        "Size lists in other marks",
        ("9 (10, 11)", "9, (10, 11)", "9 [10, 11]", "9 (10) (11)"),
        "One number for each size, smallest first.",
        tube(
            f"Rnd 2: {BODY} [24 [28, 32] sc]",
            f"Rnd 3: {BODY} [24, (28, 32) sc]",
            f"Rnd 4: {BODY} [24 (28) (32) sc]",
            foundation="24 (28, 32), multiple of 4",
            head=SIZED,
        ),
    ),
    Entry(
        "What a beginning chain is",
        (
            "ch 3 (this counts as your first dc of this round)",
            "ch 3 (= 1 dc)",
            "ch 3 (first dc made)",
            "ch 1 (not a st)",
        ),
        "Each says that it counts, or that it does not.",
        tube(
            f"Rnd 2: Ch 3 (this counts as your first dc of this round), dc in each st around; {TOP} [N dc]",
            f"Rnd 3: Ch 3 (= 1 dc), dc in each st around; {TOP} [N dc]",
            f"Rnd 4: Ch 3 (first dc made), dc in each st around; {TOP} [N dc]",
            f"Rnd 5: Ch 1 (not a st), {BODY.removeprefix('Ch 1, ')} [N sc]",
        ),
    ),
    Entry(
        "Repeats in other marks",
        (
            "{…} around",
            "(…) around",
            "*…* around",
            "*…*, rep from * to * around",
            "**… repeat from ** around",
            "rep to end",
            "repeat around",
            "rep from * to end of rnd",
        ),
        "The same repeat, in curly or round brackets, between two asterisks, with two asterisks.",
        tube(
            *(
                f"Rnd {number}: Ch 1, sc in same st, dc in next st, {text}; {JOIN} [N/2 sc, N/2 dc]"
                for number, text in enumerate(
                    (
                        f"{{{PAIRS}}} around",
                        f"({PAIRS}) around",
                        f"*{PAIRS}* around",
                        f"*{PAIRS}*, rep from * to * around",
                        f"**{PAIRS}; repeat from ** around",
                        f"*{PAIRS}; rep to end",
                        f"*{PAIRS}; repeat around",
                        f"*{PAIRS}; rep from * to end of rnd",
                    ),
                    2,
                )
            )
        ),
    ),
    Entry(
        "Repeats by number",
        ("repeat from * 8 more times", "[…] x 8"),
        "Eight more; eight in all.",
        tube(
            f"Rnd 2: Ch 1, sc in same st, dc in next st, *{PAIRS}; repeat from * 10 more times; {JOIN}",
            f"Rnd 3: Ch 1, sc in same st, dc in next st, [{PAIRS}] x 11; {JOIN}",
            foundation="24",
        ),
    ),
    Entry(
        "Several in other words",
        (
            "1 sc in each st",
            "work 2 hdc in each hdc around",
            "2sc in next sc",
            "sc 16",
            "sc in 2 sts",
            "sc across",
            "5 dc in same st",
            "dc 5 times in next st",
        ),
        "A number before the stitch or behind it, with a space or without.",
        crown(
            f"Rnd 2: Ch 1, 2sc in same st, 2sc in next 5 sts; {JOIN} [12 sc]",
            f"Rnd 3: Ch 1, sc 12; {JOIN} [12 sc]",
            f"Rnd 4: Ch 1, 1 sc in each st; {JOIN} [12 sc]",
            "Rnd 5: Ch 2 (does not count as a st), work 2 hdc in each sc around; join with sl st in "
            "first hdc. [24 hdc]",
            "Rnd 6: Ch 1, sc in same st, sc in 2 sts, dc 5 times in next st, sc in each st around; "
            f"{JOIN} [23 sc, 5 dc]",
        ),
    ),
    Entry(
        "Sc across",
        ("sc across", "sc to end"),
        "In rows: one in each stitch to the end.",
        flat("Row 2: Ch 1, sc across; turn. [N - 1 sc]"),
    ),
    Entry(
        "The ring in other words",
        ("magic ring", "magic circle", "adjustable ring", "MR", "ch 4, join to form a ring"),
        "A ring to begin from.",
        "\n".join(
            (
                "Foundation: none",
                "",
                "# Crown",
                f"Rnd 1: Ch 4, join to form a ring, ch 1, 8 sc in ring; {JOIN} [8 sc]",
                "Fasten off.",
                "",
            )
        ),
    ),
    Entry(
        "The join in other words",
        ("join", "join to first sc", "sl st to join", "slip stitch in top of ch-3", "join with ss"),
        "A join that names no place goes into the first place of the round.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in each st around; join. [N sc]",
            "Rnd 3: Ch 1, sc in same st, sc in each st around; join to first sc. [N sc]",
            "Rnd 4: Ch 1, sc in same st, sc in each st around; sl st to join. [N sc]",
            "Rnd 5: Ch 3 (counts as dc), dc in each st around; slip stitch in top of ch-3. [N dc]",
            "Rnd 6: Ch 1, sc in same st, sc in each st around; join with ss. [N sc]",
        ),
    ),
    Entry(
        "A chain before the turn",
        ("…, ch 1, turn",),
        "At a row’s end: the chain begins the next row.",
        flat(
            "Row 2: Ch 1, sc in each st across, ch 1, turn.", "Row 3: Sc in each st across; turn. [N - 1 sc]"
        ),
    ),
    Entry(
        "Loops in other words",
        ("tbl", "tfl", "blo", "in the back loop only", "in the 3rd loop"),
        "Back, front, or the third loop, which hdc has behind the other two.",
        tube(
            "Rnd 2: Ch 2 (does not count as a st), hdc in same st, hdc in each st around; join with "
            "sl st in first hdc. [N hdc]",
            "Rnd 3: Ch 1, sc in the 3rd loop of same st, sc in the 3rd loop of each st around; "
            f"{JOIN} [N sc]",
            f"Rnd 4: Ch 1, sc tbl in same st, sc tbl in each st around; {JOIN} [N sc]",
            f"Rnd 5: Ch 1, sc in same st, sc in each st around in the back loop only; {JOIN} [N sc]",
            f"Rnd 6: Ch 1, sc tfl in same st, sc tfl in each st around; {JOIN} [N sc]",
        ),
    ),
    Entry(
        "Increases and decreases",
        ("inc", "dec", "sc dec", "2sctog", "sc2tog over next 2 sts", "invisible decrease"),
        "Two in one place; two places in one.",
        crown(
            f"Rnd 2: Ch 1, [inc] 6 times; {JOIN} [12 sc]",
            f"Rnd 3: Ch 1, *sc in next st, inc; rep from * around; {JOIN} [18 sc]",
            f"Rnd 4: Ch 1, *sc in next st, dec; rep from * around; {JOIN} [12 sc]",
            f"Rnd 5: Ch 1, [2sctog] 6 times; {JOIN} [6 sc]",
        ),
    ),
    Entry(
        "Foundation stitches in words",
        ("fsc 28 (foundation single crochet)", "foundation single crochet 28"),
        "The chain and the first round in one.",
        own(f"Rnd 1: Foundation single crochet N; {JOIN} [N sc]", f"Rnd 2: {BODY} [N sc]"),
    ),
    Entry(
        "Full words",
        ("slip stitch", "chain 1", "skip next stitch", "repeat from * around", "single crochet"),
        "Any abbreviation may be written out; every form that is read stands in the tables below.",
        own(
            RING,
            "Round 1: Chain 1, single crochet in same chain, single crochet in each chain around; "
            "join with slip stitch in first single crochet. [N single crochet]",
            "Round 2: Chain 1, single crochet in same stitch, chain 1, skip next stitch, *single "
            "crochet in next stitch, chain 1, skip next stitch; repeat from * around; join with slip "
            "stitch in first single crochet. [N/2 single crochet, N/2 chain-1 spaces]",
        ),
    ),
    Entry(
        "Words within a round",
        ("with CC, ch 1", "change to color B", "place marker", "move marker up", "ch 1 loosely"),
        "Colours, markers and the manner of working tell a maker something, and nothing of them is "
        "worked. The same is true of a sentence that names no stitch.",
        tube(
            f"Rnd 2: With CC, ch 1 loosely, sc in same st, place marker, sc in each st around; {JOIN} [N sc]",
            f"Rnd 3: Change to MC. Ch 1, sc in each st around. It lies quite flat by now. {JOIN} [N sc]",
        ),
    ),
    Entry(
        "Legs named",
        ("3-dc cluster", "4dc-bobble", "puff st of 3 hdc", "5-dc shell"),
        "How many legs a stitch has may stand before its name.",
        tube(
            "Rnd 2: Ch 1, sc in same st, *3-dc cluster in next st, sc in next st; rep from * to last st, "
            f"3-dc cluster in last st; {JOIN} [N/2 clusters, N/2 sc]"
        ),
    ),
    Entry(
        "Chains of a picot",
        ("ch-4 picot", "5-ch picot", "picot of 4 chains", "picot (ch 4, sl st in 4th ch from hook)"),
        "How many chains a picot has may be said where it is made.",
        tube(
            "Rnd 2: Ch 1, sc in same st, ch-4 picot, sc in next st, *sc in next st, ch-4 picot, "
            f"sc in next st; rep from * around; {JOIN} [N sc]"
        ),
    ),
    Entry(
        "A numbered list",
        ("1. Ch 24, join.", "2. Ch 1, sc in each ch around, join."),
        "Where no line has a label, three steps and more numbered from 1 on are rounds.",
        "\n".join(
            (
                "Foundation: 24",
                "",
                "1. Ch 24, join with sl st in first ch to form a ring.",
                "2. Ch 1, sc in each ch around, join. (24)",
                "3. Ch 1, sc in each st around, join. (24)",
                "4. Repeat round 3 twice.",
                "",
            )
        ),
    ),
    Entry(
        "Words between",
        ("a story, the materials, a list of abbreviations",),
        "Between the header and the first round they are notes for the maker. What begins like a "
        "round is read as one.",
        "\n".join(
            (
                "Foundation: 24, multiple of 4",
                "",
                "I made these on the night boat and wore them home.",
                "",
                "# Band",
                RING,
                "Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]",
                "Fasten off.",
                "",
            )
        ),
    ),
    Entry(
        "A word that does not read",
        ("dc in next stich",),
        "You see the words, what was expected there and, where one is near, what would read.",
        tube(f"Rnd 2: Ch 1, sc in same st, sc in eech st around; {JOIN} [N sc]"),
        ("unread",),
    ),
)
