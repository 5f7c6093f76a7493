"""Entries: what places are called."""

from __future__ import annotations

from server.craft.text.language.entries import FIRST, GAP, RING, VS, Entry, tube

JOIN = "join with sl st in first sc."
TOP = "join with sl st in top of beg ch."
LOOPS = (
    "Rnd 2: Ch 1, sc in same st, ch 5, sk next 3 sts, *sc in next st, ch 5, sk next 3 sts; "
    f"rep from * around; {JOIN} [N/4 sc, N/4 ch-5 sps]"
)


def around_gap(round_text: str) -> str:
    """A tube with a gap of 5 chains over 5 stitches, and a section that works its edge."""
    return "\n".join(
        (
            "Foundation: 24, multiple of 4",
            "",
            "# Cuff",
            RING,
            FIRST,
            GAP,
            "Fasten off.",
            "# Thumb - around the gap",
            round_text,
            "Fasten off.",
            "",
        )
    )


PLACES = (
    Entry(
        "Next",
        ("next st", "next 3 sts", "next ch-1 sp", "next V-st"),
        "The first such place ahead of the hook. A named stitch passes spaces on the way, a "
        "named space passes stitches.",
        tube(
            VS,
            "Rnd 3: Ch 1, sc in same st, sc in next ch-1 sp, sc in next dc, *sc in next dc, sc in "
            f"next ch-1 sp, sc in next dc; rep from * around; {JOIN} [N sc]",
            foundation="24, multiple of 3",
        ),
    ),
    Entry(
        "Same",
        ("same st", "same ch", "same sp"),
        "The place last worked into; at the beginning of a round, the one where the hook stands.",
        tube(
            "Rnd 2: Ch 1, 2 sc in same st, sc in next st, *2 sc in next st, sc in next st; rep from "
            f"* around; {JOIN} [3N/2 sc]"
        ),
    ),
    Entry(
        "First, last and each",
        ("first st", "last 2 sts", "each st around", "any st"),
        "`each` and `first` begin in the hook’s own place where nothing stands in it yet.",
        tube(
            f"Rnd 2: Ch 1, sc in first st, sc in each st to last 2 sts, dc in last 2 sts; {JOIN} [N - "
            "2 sc, 2 dc]"
        ),
    ),
    Entry(
        "A place by its number",
        ("3rd ch of beg ch-4", "2nd dc of next V-st", "3rd ch of next ch-5"),
        "Counted within what it is part of, in the order of working.",
        tube(
            LOOPS,
            "Rnd 3: Sl st in next 3 ch, ch 1, sc in same ch, *ch 3, sc in 3rd ch of next ch-5; rep "
            f"from * around, omitting last sc; {JOIN} [N/4 sc, N/4 ch-3 sps]",
        ),
    ),
    Entry(
        "The top of the beginning chain",
        ("top of beg ch", "top of ch-3"),
        "Where the stitch that it counts as has its top.",
        tube("Rnd 2: Ch 3 (counts as dc), dc in each st around; join with sl st in top of ch-3. [N dc]"),
    ),
    Entry(
        "The center of a group",
        ("center dc of next shell",),
        "One stitch of it; then the hook stands on that stitch.",
        tube(
            "Rnd 2: Ch 1, sc in same st, *sk next 2 sts, shell in next st, sk next 2 sts, sc in next "
            f"st; rep from * around, omitting last sc; {JOIN} [N/6 shells, N/6 sc]",
            "Rnd 3: Ch 1, sc in same st, *ch 3, sc in center dc of next shell, ch 3, sk next 2 dc, "
            f"sc in next sc; rep from * around, omitting last sc; {JOIN} [N/3 sc, N/3 ch-3 sps]",
            foundation="24, multiple of 6",
        ),
    ),
    Entry(
        "A stitch of a group",
        ("first dc of next shell", "2nd dc of next shell", "last dc of next shell"),
        "Named by where it stands in the group; what is before it in the group is passed.",
        tube(
            "Rnd 2: Ch 1, sc in same st, *sk next 2 sts, shell in next st, sk next 2 sts, sc in next st; "
            f"rep from * around, omitting last sc; {JOIN} [N/6 shells, N/6 sc]",
            "Rnd 3: Ch 1, sc in same st, *ch 4, sc in last dc of next shell, sc in next sc; rep from * "
            f"around, omitting last sc; {JOIN} [N/3 sc, N/6 ch-4 sps]",
            foundation="24, multiple of 6",
        ),
    ),
    Entry(
        "Spaces and chains",
        ("next ch-1 sp", "next sp", "next ch", "next ch-5"),
        "A run of chains is one space, and each of its chains is a place as well.",
        tube(
            LOOPS,
            "Rnd 3: Sl st in next ch-5 sp, ch 1, 4 sc in same sp, *4 sc in next ch-5 sp; rep from * "
            f"around; {JOIN} [N sc]",
        ),
    ),
    Entry(
        "A space of another length",
        ("next ch-1 sp",),
        "Passing over a longer space on the way to a short one wants a skip in words.",
        tube(
            "Rnd 2: Ch 1, sc in same st, ch 3, sk next st, sc in next st, ch 1, sk next st, *sc in "
            f"next st, ch 3, sk next st, sc in next st, ch 1, sk next st; rep from * around; {JOIN}",
            "Rnd 3: Ch 1, sc in same st, 2 sc in next ch-1 sp, *2 sc in next ch-1 sp; rep from * "
            f"around; {JOIN}",
        ),
        ("other-length",),
    ),
    Entry(
        "Between",
        ("sp between next 2 dc", "next sp between groups", "each sp between sts around", "between V-sts"),
        "Into the gap between two neighbours, and not into either. Groups are two and more stitches in "
        "one place, whether they have a name or not.",
        tube(
            "Rnd 2: Ch 3 (counts as dc), 2 dc in same st, sk next 2 sts, *3 dc in next st, sk next 2 sts; "
            f"rep from * around; {TOP} [N dc]",
            "Rnd 3: Sl st in next 2 dc, sl st in sp between groups, ch 3 (counts as dc), 2 dc in same sp, "
            f"*3 dc in next sp between groups; rep from * around; {TOP} [N dc]",
            foundation="24, multiple of 3",
        ),
    ),
    Entry(
        "Around an edge",
        (
            "26 sc evenly around the edge",
            "sc evenly around the top edge",
            "sc evenly around the thumb opening",
        ),
        "Each place of the edge: of the round below, of the gap that the section is worked around. So many "
        "stitches go over all of them; where the words have no number, the round's count has it.",
        tube(
            f"Rnd 2: Ch 1, sc in first 9 sts, ch 6, sk 6 sts, sc in last 9 sts; {JOIN} [18 sc, 1 ch-6 sp]",
            f"Rnd 3: Ch 1, sc in each st and ch around; {JOIN} [24 sc]",
            f"Rnd 4: Ch 1, 20 sc evenly around the top edge; {JOIN} [20 sc]",
            "Fasten off.\n\n# Thumb",
            f"Rnd 1: Join yarn at thumb opening, ch 1, sc evenly around the thumb opening; {JOIN} [14 sc]",
            foundation="24",
        ),
    ),
    Entry(
        "Between the two of a pair",
        ("2 dc between next 2 dc", "2 dc between next pair of dc"),
        "Two and more stitches go between the two of a pair, then between those of the pair after it; one "
        "stitch goes in every gap.",
        tube(
            f"Rnd 2: Ch 3 (counts as dc), dc in each st around; {TOP} [N dc]",
            "Rnd 3: Sl st in sp between beg ch and next dc, ch 3 (counts as dc), dc in same sp, "
            f"*2 dc between next 2 dc; rep from * around; {TOP} [N dc]",
        ),
    ),
    Entry(
        "From the hook",
        ("2nd ch from hook", "4th ch from hook"),
        "Passes the chains before it; as tall as the stitch, they count as one where a bare "
        "beginning chain would.",
        "\n".join(
            (
                "Foundation: 14, multiple of 2",
                "Worked: rows",
                "",
                "# Strip",
                "Foundation row: Ch N.",
                "Row 1: Dc in 4th ch from hook, dc in each ch across; turn. [N - 2 dc]",
                "Row 2: Ch 3 (counts as dc), dc in next st, dc in each st across; turn. [N - 2 dc]",
                "Fasten off.",
                "",
            )
        ),
    ),
    Entry(
        "Foundation chains",
        ("next foundation ch", "each foundation ch around"),
        "In a section in the foundation: the free side of the chain.",
        "\n".join(
            (
                "Foundation: 24, multiple of 4",
                "",
                "# Cuff",
                RING,
                FIRST,
                "Fasten off.",
                "# Bottom edging - in the foundation",
                "Rnd 1: Join yarn with sl st in any foundation ch, ch 1, sc in same ch, sc in next "
                f"foundation ch, sc in each foundation ch around; {JOIN} [N sc]",
                "Fasten off.",
                "",
            )
        ),
    ),
    Entry(
        "A place that is not there",
        ("next tr",),
        "What is named and does not stand below is told where it is named.",
        tube(f"Rnd 2: Ch 1, sc in same st, sc in next tr, sc in each st around; {JOIN}"),
        ("no-place",),
    ),
    Entry(
        "Skipped places at a gap",
        ("skipped st", "first skipped st", "next 5 skipped sts"),
        "What the gap’s chains pass over, met in working order.",
        around_gap(
            "Join yarn with sc in first skipped st, sc in next 4 skipped sts, sc in side of next sc, "
            f"sc in underside of next 5 ch, sc in side of next sc; {JOIN} [12 sc]"
        ),
    ),
    Entry(
        "Sides and undersides",
        ("side of next dc", "underside of 3rd ch of ch-5", "underside of next 6 ch"),
        "The stitches at both ends of the gap’s chains have a side; the chains have an "
        "underside, met last first.",
        around_gap(
            "Rnd 1: Join yarn with sl st in first skipped st, ch 1, sc in same st, sc in next 4 "
            "skipped sts, 2 sc in side of next sc, sc in underside of next 5 ch, 2 sc in side of "
            f"next sc; {JOIN} [14 sc]"
        ),
    ),
    Entry(
        "A gap that is not worked around",
        ("around the gap",),
        "Every part of the edge needs a stitch, or it stays open where nobody meant it.",
        around_gap(
            "Join yarn with sc in first skipped st, sc in next 4 skipped sts, sc in underside of "
            f"next 5 ch; {JOIN}"
        ),
        ("gap-part",),
    ),
)
