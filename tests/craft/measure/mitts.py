"""Patterns to measure: our own."""

from __future__ import annotations

from server.craft.fabric import Fabric, Numbers, work
from server.craft.text.reader import read
from server.craft.text.tree import Pattern

QUAY = """Title: Quayside Mitts
Terms: US
Sizes: child (adult)
Foundation: 21 (24), multiple of 3
Yarn: 4 medium, 70 (90) m, 100 g = 170 m
Hook: 4.25 (5.5) mm
Gauge: 12 sts and 6.5 rnds = 10 cm
Fits: 16 (19) cm hand

# Cuff - to the base of the thumb
Foundation rnd: Ch 21 (24); join with sl st in first ch to form a ring. [21 (24) ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [21 (24) sc]
Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, *sk 2 sts, V-st in next st; rep from * around;
  join with sl st in 3rd ch of beg ch-4. [7 (8) V-sts]
Rnds 3 to 6 (6), or to the base of the thumb: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp,
  *V-st in next ch-1 sp; rep from * around; join with sl st in 3rd ch of beg ch-4. [7 (8) V-sts]

# Thumb gap
Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, ch 3, sk next V-st,
  *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4. [6 (7) V-sts, 1 ch-3 sp]

# Hand - to the knuckles
Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, V-st in 2nd ch of next ch-3,
  *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4. [7 (8) V-sts]
Rnds 2 to 3 (4), or to the knuckles: rep rnd 3 of Cuff.

# Top edging
Rnd 1: Ch 1, sc in same st, sc in next ch-1 sp, sc in next dc, *sc in next dc, sc in next ch-1 sp,
  sc in next dc; rep from * around; join with sl st in first sc. [N sc]
Fasten off.

# Bottom edging - in the foundation
Join yarn with sc in any foundation ch, sc in each foundation ch around; join with sl st in first sc. [N sc]
Fasten off.
"""


def tube(stitch: str, stitches: int, rounds: int, header: str = "") -> tuple[Pattern, Fabric]:
    """A plain tube of one stitch ("sc", "hdc" or "dc"), `stitches` around and `rounds` high."""
    height = {"sc": 1, "hdc": 2, "dc": 3}[stitch]
    begin = f"Ch {height} (does not count as a st)"
    text = (
        f"Title: Tube\nSizes: one\nFoundation: {stitches}, multiple of 1\n{header}\n\n# Tube\n"
        f"Foundation rnd: Ch {stitches}; join with sl st in first ch to form a ring.\n"
        f"Rnds 1 to {rounds}, or to fit: {begin}, {stitch} in same st, {stitch} in each st around; "
        f"join with sl st in first {stitch}.\n"
    )
    pattern = read(text).pattern
    return pattern, work(pattern, Numbers(stitches, "one"))


def quay(foundation: int = 24) -> tuple[Pattern, Fabric]:
    """The Quayside Mitts at a count."""
    pattern = read(QUAY).pattern
    return pattern, work(pattern, Numbers(foundation))


def spots(fabric: Fabric) -> list[str]:
    """All rounds in working order."""
    return [each.spot for section in fabric.sections for each in section.rounds]
