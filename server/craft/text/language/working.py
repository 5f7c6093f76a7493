"""Entries: how a pattern is worked when it is proved, in plain words."""

from __future__ import annotations

from server.craft.text.language.entries import VS, Entry, crown, tube

JOIN = "join with sl st in first sc."
TOP = "join with sl st in top of beg ch."
MESH = (
    "Rnd 2: Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; rep "
    "from * around; join with sl st in 3rd ch of beg ch-4. [N/2 dc, N/2 ch-1 sps]"
)

WORKING = (
    Entry(
        "What a round leaves",
        ("[N/2 dc, N/2 ch-1 sps]",),
        "A ring of places in working order: each stitch its top, each run of chains between "
        "stitches its chains and one space, a beginning chain what it counts as. Slip stitches "
        "before the beginning chain only travel, and the join only joins: neither leaves a place.",
        tube(
            MESH,
            "Rnd 3: Sl st in next ch-1 sp, ch 1, 2 sc in same sp, *2 sc in next ch-1 sp; rep from * "
            f"around; {JOIN} [N sc]",
        ),
    ),
    Entry(
        "Where the hook stands",
        ("same st", "first st", "next st"),
        "After a join, on the place joined into; a beginning chain that counts stands there. "
        "Where nothing stands there yet, `each` and `first` begin with it, and `next` is the "
        "place after it; a row that begins with `next` begins with its first place.",
        tube(
            f"Rnd 2: Ch 1, sc in each st around; {JOIN} [N sc]",
            f"Rnd 3: Ch 3 (counts as dc), dc in each st around; {TOP} [N dc]",
        ),
    ),
    Entry(
        "When a round is closed",
        ("rep from * around",),
        "When the next stitch of the repeat would fall exactly on the place where the round "
        "began. Skips at the head of a repeat are counted there and need not be written once "
        "more at its end.",
        tube(VS, foundation="24, multiple of 3"),
    ),
    Entry(
        "What is left over",
        ("… left unworked",),
        "Places between the last stitch and the beginning that are neither worked nor skipped: "
        "in rounds a thing to mend, in rows one to look at.",
        tube(f"Rnd 2: Ch 1, sc in same st, sc in next 20 sts; {JOIN}", foundation="24"),
        ("left-over",),
    ),
    Entry(
        "A group or space as a whole",
        ("sk next V-st", "in next V-st"),
        "Worked or skipped as a whole, it is behind the hook with all that it has.",
        tube(
            VS,
            "Rnd 3: Ch 1, sc in same st, ch 1, sc in next V-st, *ch 2, sc in next V-st; rep from * "
            f"to last V-st, ch 2, sc in last V-st; {JOIN}",
            foundation="24, multiple of 3",
        ),
    ),
    Entry(
        "Groups spelled out",
        ("(dc, ch 1, dc) in next st",),
        "Stitches in one place that spell a named group are that group, the beginning chain as "
        "what it counts as.",
        tube(
            "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, sk next 2 sts, *(dc, ch 1, dc) in next "
            "st, sk next 2 sts; rep from * around; join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
            foundation="24, multiple of 3",
        ),
    ),
    Entry(
        "A repeat works at least once",
        ("*…; rep from * around",),
        "So a round that has no room for it at some count is told there.",
        crown(
            f"Rnd 2: Ch 1, sc in same st, sc in next 5 sts, *sc in next st; rep from * around; {JOIN} [7 sc]"
        ),
        ("not-closing",),
    ),
)
