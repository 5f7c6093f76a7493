"""Entries: the lines at the top of a pattern, and special stitches."""

from __future__ import annotations

from server.craft.text.language.entries import Entry, crown, flat, own, tube

SPIRAL = (
    "Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]",
    "Rnd 1: Sc in each ch around; do not join. [N sc]",
    "Rnds 2 to 4: Sc in each st around. [N sc]",
)
SIZED = "Sizes: small (medium, large)"
STEADY = "Rnd 2: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]"

HEAD = (
    Entry(
        "Title",
        ("Title: Slipway Wristers",),
        "What the pattern is called. Every pattern has one.",
        tube(),
    ),
    Entry(
        "Terms",
        ("Terms: US", "Terms: UK"),
        "The terms that the text is written in; US where nothing is said. Each maker reads it in "
        "hers. A name that only the other terms have is told as a thing to mend.",
        own(
            "Foundation rnd: Ch N; join with sl st in first ch to form a ring.",
            "Rnd 1: Ch 1, dc in same ch, dc in each ch around; join with sl st in first dc. [N dc]",
            "Rnd 2: Ch 2 (counts as htr), htr in each st around; join with sl st in top of beg ch. [N htr]",
            head="Terms: UK",
        ),
    ),
    Entry(
        "Terms that are mixed",
        ("Terms: UK … htr", "Terms: US … hdc"),
        "A single name of the other terms is found and its own name offered: here `htr` stands "
        "in a text in US terms.",
        tube("Rnd 2: Ch 2 (counts as hdc), htr in each st around; join with sl st in top of beg ch. [N hdc]"),
        ("other-terms",),
    ),
    Entry(
        "Sizes",
        ("Sizes: small (medium, large)",),
        "Their names, smallest first. They fix how many numbers each size list has.",
        tube(STEADY, foundation="24 (28, 32), multiple of 4", head=SIZED),
    ),
    Entry(
        "Foundation with a multiple",
        ("Foundation: 24 (28, 32), multiple of 4", "Foundation: 30, multiple of 6"),
        "Chains for each size, and which other counts a maker may take. All of them in range are "
        "worked and proved.",
        tube(STEADY, foundation="24 (28, 32), multiple of 4", head=SIZED),
    ),
    Entry(
        "Foundation of a multiple and more",
        ("Foundation: 25, multiple of 4 + 1",),
        "The part behind the plus is chained once, whatever the number of repeats.",
        flat(
            "Row 2: Ch 3 (counts as dc), *sk next st, (dc, ch 1, dc) in next st; rep from * to last "
            "st, dc in last st; turn. [N - 1 dc, (N - 3)/2 ch-1 sps]",
            foundation="23, multiple of 2 + 1",
        ),
    ),
    Entry(
        "Foundation without a multiple",
        ("Foundation: 24 (28, 32)",),
        "Only these sizes can be made; nothing else is allowed and nothing else is proved.",
        tube(STEADY, foundation="24 (28, 32)", head=SIZED),
    ),
    Entry(
        "Foundation: none",
        ("Foundation: none",),
        "The piece starts from a ring, as crowns do. There is no N and no custom count; numbers go by size.",
        crown(
            "Rnd 2: Ch 1, 2 sc in each st around; join with sl st in first sc. [12 sc]",
        ),
    ),
    Entry(
        "Custom",
        ("Custom: 16 to 60", "Custom: none"),
        "Which custom counts are proved and offered. Left out, it is four repeats below the "
        "smallest size to eight above the largest, and never fewer than three repeats. Sizes are "
        "always worked.",
        tube(STEADY, head="Custom: 16 to 60"),
    ),
    Entry(
        "Worked in joined rounds",
        ("Worked: joined rounds",),
        "Each round closes with a join. It is so where nothing is said.",
        tube(STEADY, head="Worked: joined rounds"),
    ),
    Entry(
        "Worked in a spiral",
        ("Worked: spiral",),
        "Rounds run on without a join: the next one begins in the first stitch of the one before.",
        own(*SPIRAL, head="Worked: spiral"),
    ),
    Entry(
        "Worked in rows",
        ("Worked: rows",),
        "Back and forth: after `turn` the work runs back over the row below.",
        flat("Row 2: Ch 1, sc in each st across; turn. [N - 1 sc]"),
    ),
    Entry(
        "Pieces",
        ("Pieces: pair", "Pieces: one"),
        "A pair has a second one that is to be the twin of the first; `one` has none.",
        tube(STEADY, head="Pieces: one"),
    ),
    Entry(
        "Yarn",
        ("Yarn: 4 medium, 74 (84, 96) m, 100 g = 170 m",),
        "Category, what the piece takes, and what a ball has. An amount by size has a number for each.",
        tube(STEADY, foundation="24 (28, 32), multiple of 4", head=f"{SIZED}\nYarn: 4 medium, 74 (84, 96) m"),
    ),
    Entry(
        "Hook",
        ("Hook: 4.5 (5, 5.5) mm", "Hook: 5 mm"),
        "In millimetres, one for all sizes or one for each.",
        tube(STEADY, head="Hook: 5 mm"),
    ),
    Entry(
        "Gauge",
        ("Gauge: 14 sts and 8 rnds = 10 cm",),
        "Stitches are those of the foundation count.",
        tube(STEADY, head="Gauge: 14 sts and 8 rnds = 10 cm"),
    ),
    Entry(
        "Fits",
        ("Fits: 16 (18, 20) cm hand",),
        "Around the widest part, the thumb left out.",
        tube(STEADY, head="Fits: 18 cm hand"),
    ),
)

FAN = (
    "Rnd 2: Ch 3 (counts as dc), (dc, ch 1, 2 dc) in same st, *sk 3 sts, Fan in next st; rep "
    "from * around; join with sl st in top of beg ch. [N/4 Fans]"
)

SPECIAL = (
    Entry(
        "Special stitch: your own",
        ("Special stitch: Fan = (2 dc, ch 1, 2 dc) in one place",),
        "Names a group. Its stitches count too, and it can be counted and worked into as a whole.",
        tube(FAN, head="Special stitch: Fan = (2 dc, ch 1, 2 dc) in one place"),
    ),
    Entry(
        "V-st",
        ("V-st", "Special stitch: V-st = (hdc, ch 1, hdc) in one place"),
        "Needs no line: dc, ch 1, dc in one place. A line of your own makes it another.",
        tube(
            "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, sk next 2 sts, *V-st in next st, sk "
            "next 2 sts; rep from * around; join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
            "Rnd 3: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, *V-st in next "
            "V-st; rep from * around; join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]",
            foundation="24, multiple of 3",
        ),
    ),
    Entry(
        "Shell",
        ("shell",),
        "Needs no line: 5 dc in one place, and each of them counts.",
        tube(
            "Rnd 2: Ch 1, sc in same st, *sk next 2 sts, shell in next st, sk next 2 sts, sc in next "
            "st; rep from * around, omitting last sc; join with sl st in first sc. [N/6 shells, N/6 "
            "sc]",
            foundation="24, multiple of 6",
        ),
    ),
    Entry(
        "Cluster, puff, popcorn, bobble",
        ("cluster", "puff", "popcorn", "bobble"),
        "Several legs closed together: one stitch of that name, standing as tall as a dc.",
        tube(
            "Rnd 2: Ch 1, sc in same st, sc in next st, *puff in next st, sc in next st; rep from * "
            "around; join with sl st in first sc.",
            foundation="24, multiple of 2",
        ),
    ),
    Entry(
        "Picot",
        ("picot", "Special stitch: picot = ch 4, sl st in first ch"),
        "Chains closed on themselves, 3 where nothing is said. Nothing stands on it: it is no "
        "stitch and no place.",
        tube(
            "Rnd 2: Ch 1, sc in same st, picot, sc in next st, *sc in next st, picot, sc in next st; "
            "rep from * around; join with sl st in first sc. [N sc]",
            foundation="24, multiple of 2",
        ),
    ),
)
