"""Entries: what is done in a round."""

from __future__ import annotations

from server.craft.text.language.entries import VS, Entry, crown, flat, own, tube

JOIN = "join with sl st in first sc."
TOP = "join with sl st in top of beg ch."

CHAINS = (
    Entry(
        "Chains",
        ("ch 4", "ch N/4"),
        "That many chains. A run of them between stitches leaves a space.",
        tube(
            "Rnd 2: Ch 1, sc in same st, ch 3, sk next 3 sts, *sc in next st, ch 3, sk next 3 sts; "
            f"rep from * around; {JOIN} [N/4 sc, N/4 ch-3 sps]"
        ),
    ),
    Entry(
        "A beginning chain that counts",
        ("ch 3 (counts as dc)", "ch 4 (counts as dc, ch 1)"),
        "It stands as that stitch, and with more chains as that stitch and a space.",
        tube(
            "Rnd 2: Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; rep "
            "from * around; join with sl st in 3rd ch of beg ch-4. [N/2 dc, N/2 ch-1 sps]"
        ),
    ),
    Entry(
        "A beginning chain that does not count",
        ("ch 1 (does not count as a st)",),
        "It is height only; the first stitch goes into the place where the hook stands.",
        tube(
            "Rnd 2: Ch 2 (does not count as a st), dc in same st, dc in each st around; join with sl "
            "st in first dc. [N dc]"
        ),
    ),
    Entry(
        "A bare beginning chain",
        ("ch 1", "ch 2", "ch 3", "ch 4"),
        "Without a word `ch 1` never counts. As long as the first stitch is tall (2 for hdc, 3 "
        "for dc, 4 for tr) it counts as that stitch; longer, as that stitch and a space of the "
        "rest.",
        tube(f"Rnd 2: Ch 3, dc in next st and in each st around; {TOP} [N dc]"),
    ),
    Entry(
        "A bare beginning chain of another length",
        ("ch 2, dc in …",),
        "Shorter than the stitch behind it, it is not counted, and you are asked to say what it is.",
        tube("Rnd 2: Ch 2, dc in same st, dc in each st around; join with sl st in first dc. [N dc]"),
        ("bare-chain",),
    ),
)

STITCHES = (
    Entry(
        "One stitch",
        ("sc in next st", "dc in next ch-1 sp"),
        "A stitch, and the place that it goes into.",
        tube(f"Rnd 2: Ch 1, sc in same st, [sc in next st] N - 1 times; {JOIN} [N sc]"),
    ),
    Entry(
        "Several places",
        ("dc in next 3 sts", "dc in each of next 3 sts"),
        "One in each of them.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in next 3 sts, *dc in each of next 3 sts, sc in next st; "
            f"rep from * around; {JOIN}"
        ),
    ),
    Entry(
        "Several in one place",
        ("2 dc in next st", "5 dc in next ch", "11 dc in ring"),
        "All of them into it.",
        crown(
            f"Rnd 2: Ch 1, 2 sc in each st around; {JOIN} [12 sc]",
            "Rnd 3: Ch 1, sc in same st, 2 sc in next st, *sc in next st, 2 sc in next st; rep from "
            f"* around; {JOIN} [18 sc]",
        ),
    ),
    Entry(
        "All around",
        ("sc in each st around", "sc in each st and ch-1 sp around"),
        "One in each such place until the round is back at its beginning.",
        tube(
            "Rnd 2: Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; rep "
            "from * around; join with sl st in 3rd ch of beg ch-4. [N/2 dc, N/2 ch-1 sps]",
            f"Rnd 3: Ch 1, sc in same st, sc in each ch-1 sp and dc around; {JOIN} [N sc]",
        ),
    ),
    Entry(
        "Every other",
        ("sc in every other st around",),
        "Every second place; those between are passed over.",
        tube(
            f"Rnd 2: Ch 1, sc in every other st around; {JOIN} [(N + 1)/2 sc]",
            foundation="25, multiple of 2 + 1",
        ),
    ),
    Entry(
        "Two together",
        ("sc2tog", "dc2tog over next 2 sts", "dc3tog"),
        "The next two places, or three, closed to one stitch.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in next st, sc2tog, *sc in next 2 sts, sc2tog over next "
            f"2 sts; rep from * around; {JOIN} [3N/4 sc]"
        ),
    ),
    Entry(
        "Post stitches",
        ("FPdc around next dc", "BPdc around next dc", "FPtr"),
        "Worked around the stitch, from the front or from the back. They are named and counted "
        "by their own names.",
        tube(
            f"Rnd 2: Ch 3 (counts as dc), dc in each st around; {TOP} [N dc]",
            "Rnd 3: Ch 3 (counts as dc), FPdc around next dc, *BPdc around next dc, FPdc around next "
            f"dc; rep from * around; {TOP} [N/2 FPdc]",
        ),
    ),
    Entry(
        "Back and front loop",
        ("sc in BLO of next st", "sc in FLO of each st around", "in back loop of next st"),
        "Only that loop of the stitch below.",
        tube(
            f"Rnd 2: Ch 1, sc in BLO of same st, sc in BLO of each st around; {JOIN} [N sc]",
            f"Rnd 3: Ch 1, sc in FLO of same st, sc in FLO of each st around; {JOIN} [N sc]",
        ),
    ),
    Entry(
        "A group in one place",
        ("(dc, ch 1, dc) in next ch", "(ch 3, dc, ch 1, 2 dc) in same sp", "V-st in next V-st"),
        "All of the bracket goes into it. A named group goes into the space of a group below, or "
        "into its center stitch.",
        tube(
            VS,
            "Rnd 3: Sl st in next ch-1 sp, (ch 3, dc, ch 1, 2 dc) in same sp, *(2 dc, ch 1, 2 dc) in "
            f"next V-st; rep from * around; {TOP} [4N/3 dc]",
            foundation="24, multiple of 3",
        ),
    ),
    Entry(
        "A group without one center",
        ("(4 dc) in …",),
        "Where the middle of a group is no one place, name the stitch: `in 2nd dc of next Tuft`.",
        tube(
            "Rnd 2: Ch 1, sc in same st, *Tuft in next st, sk next 2 sts, sc in next st; rep from * "
            f"around, omitting last sc; {JOIN}",
            "Rnd 3: Ch 1, sc in same st, *Tuft in next Tuft, sc in next sc; rep from * around, "
            f"omitting last sc; {JOIN}",
            head="Special stitch: Tuft = 4 dc in one place",
        ),
        ("no-center",),
    ),
    Entry(
        "Skips",
        ("sk 2 ch", "sk next V-st", "miss next tr"),
        "What is passed over without being worked is skipped in words; `miss` says the same.",
        tube(
            "Rnd 2: Ch 1, sc in same st, ch 1, sk next st, *sc in next st, ch 1, sk next st; rep "
            f"from * around; {JOIN} [N/2 sc, N/2 ch-1 sps]"
        ),
    ),
    Entry(
        "Crossed stitches",
        ("sk next st, dc in next st, dc in skipped st",),
        "`in skipped st` is the place just skipped, and does not move the hook on.",
        tube(
            "Rnd 2: Ch 3 (counts as dc), dc in next st, *sk next st, dc in next st, dc in skipped "
            f"st; rep from * around; {TOP} [N dc]"
        ),
    ),
    Entry(
        "Something passed without a skip",
        ("sc in next sc …",),
        "A stitch that is passed on the way is told as a thing to look at: a skip, or a slip.",
        tube(
            "Rnd 2: Ch 1, sc in same st, dc in next st, *sc in next st, dc in next st; rep from * "
            f"around; {JOIN} [N/2 sc, N/2 dc]",
            f"Rnd 3: Ch 1, sc in same st, *sc in next sc; rep from * around; {JOIN} [N/2 sc]",
        ),
        ("passed",),
    ),
)

REPEATS = (
    Entry(
        "Repeat around",
        ("*…; rep from * around", "*…; rep from * across"),
        "Until it comes out even at the place where the round began; in rows, at the last place.",
        tube(
            "Rnd 2: Ch 1, sc in same st, dc in next st, *sc in next st, dc in next st; rep from * "
            f"around; {JOIN} [N/2 sc, N/2 dc]"
        ),
    ),
    Entry(
        "A repeat that does not come out",
        ("*…; rep from * around",),
        "You see by how many places it is over or short, and which counts would close.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in next 2 sts, *dc in next st, sc in next 2 sts; rep "
            f"from * around; {JOIN}",
            foundation="25",
        ),
        ("not-closing",),
    ),
    Entry(
        "Repeat a number of times",
        ("*…; rep from * 5 times more", "[…] 6 times"),
        "`5 times more` is six in all; a bracket with `6 times` is six.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in next 3 sts, *dc in next 2 sts, sc in next 2 sts; rep "
            f"from * N/4 - 2 times more; {JOIN} [N/2 + 2 sc, N/2 - 2 dc]"
        ),
    ),
    Entry(
        "Repeat so many times, more or in all",
        ("rep from * 5 times",),
        "Read as 5 more after the first, and you are asked to say so.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in next 3 sts, *dc in next 2 sts, sc in next 2 sts; rep "
            f"from * 4 times; {JOIN}",
            foundation="24",
        ),
        ("repeat-more",),
    ),
    Entry(
        "Repeat to the last",
        ("rep from * to last 2 sts, …",),
        "Leaves those places to what is written behind it.",
        tube(
            "Rnd 2: Ch 3 (counts as dc), dc in next st, *sc in next 2 sts; rep from * to last 2 sts, "
            f"dc in last 2 sts; {TOP} [4 dc, N - 4 sc]"
        ),
    ),
    Entry(
        "Repeat, leaving out the last",
        ("rep from * around, omitting last sc",),
        "The last repeat ends before it; what follows is worked in its place, or the round is "
        "back at its beginning.",
        tube(
            "Rnd 2: Ch 1, sc in same st, *ch 3, sk next 3 sts, sc in next st; rep from * around, "
            f"omitting last sc; {JOIN} [N/4 sc, N/4 ch-3 sps]"
        ),
    ),
    Entry(
        "A bracket",
        ("[…] around", "[sc in next 2 sts, ch 1] 6 times"),
        "The same repeat, written around its text.",
        tube(
            "Rnd 2: Ch 1, sc in same st, dc in next st, [sc in next st, dc in next st] around; "
            f"{JOIN} [N/2 sc, N/2 dc]"
        ),
    ),
    Entry(
        "A repeat within a repeat",
        ("*… [dc in next st, ch 1] twice …; rep from * around",),
        "Once within another.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in next st, [dc in next st] twice, *sc in next 2 sts, "
            f"[dc in next st] twice; rep from * around; {JOIN} [N/2 sc, N/2 dc]"
        ),
    ),
)

ENDS = (
    Entry(
        "The join",
        (
            "join with sl st in first sc",
            "join with sl st in top of beg ch",
            "join with sl st in 3rd ch of beg ch-4",
        ),
        "Closes a round in its first place. A place that is not there is told, and so is one further on.",
        tube(f"Rnd 2: Ch 3 (counts as dc), dc in each st around; {TOP} [N dc]"),
    ),
    Entry(
        "A join with nothing there",
        ("join with sl st in 3rd ch of beg ch-4",),
        "The round began with `ch 3`; there is no such chain.",
        tube(
            "Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in 4th ch of beg ch-4. [N dc]"
        ),
        ("join-nowhere",),
    ),
    Entry(
        "A join further on",
        ("join with sl st in 2nd sc",),
        "The place is there, but the round did not begin in it.",
        tube("Rnd 2: Ch 1, sc in same st, sc in each st around; join with sl st in 2nd sc. [N sc]"),
        ("join-elsewhere",),
    ),
    Entry(
        "No join",
        ("do not join",),
        "The round runs on into the next one.",
        own(
            "Foundation rnd: Ch N; join with sl st in first ch to form a ring.",
            "Rnd 1: Sc in each ch around; do not join. [N sc]",
            "Rnds 2 and 3: Sc in each st around. [N sc]",
            head="Worked: spiral",
        ),
    ),
    Entry(
        "Turn",
        ("turn",),
        "The work runs back over what was just made; in rows, and in rounds that are turned.",
        flat("Row 2: Ch 1, sc in each st across; turn. [N - 1 sc]"),
    ),
    Entry(
        "Fasten off within a round",
        ("…; fasten off",),
        "As good as on a line of its own.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in each st around; join with sl st in first sc; fasten "
            "off. [N sc]"
        ),
    ),
    Entry(
        "Join yarn",
        ("join yarn with sl st in any st", "join yarn with sc in …", "join yarn with dc in …"),
        "A new beginning. With a stitch, that is the round’s first; with a slip stitch only the "
        "yarn is there.",
        tube(
            "Fasten off.",
            "# Edging",
            "Rnd 1: Join yarn with sl st in any st, ch 1, sc in same st, sc in each st around; "
            f"{JOIN} [N sc]",
        ),
    ),
    Entry(
        "A ring to begin from",
        ("magic ring", "ch 4, join with sl st in first ch to form a ring", "6 sc in ring"),
        "An adjustable ring, or a few chains closed to one; the first round goes into it.",
        "\n".join(
            (
                "Foundation: none",
                "",
                "# Crown",
                "Rnd 1: Ch 4, join with sl st in first ch to form a ring, ch 3 (counts as dc), 11 dc in "
                f"ring; {TOP} [12 dc]",
                f"Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around; {TOP} [24 dc]",
                "Fasten off.",
                "",
            )
        ),
    ),
    Entry(
        "Foundation stitches",
        ("fsc 28", "fdc 28"),
        "The chain and the first round in one.",
        own(
            "Rnd 1: Fsc N; join with sl st in first sc. [N sc]",
            f"Rnd 2: Ch 1, sc in same st, sc in each st around; {JOIN} [N sc]",
        ),
    ),
)
