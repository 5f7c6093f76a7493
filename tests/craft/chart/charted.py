"""Patterns that charts are drawn of, one for each kind of fabric, and plain readings of what was drawn."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from functools import cache

from server.craft.fabric import Fabric, Numbers, work
from server.craft.fabric.chart.measures import Specials
from server.craft.text import read
from server.craft.text.reader import special_stitches

SVG = "{http://www.w3.org/2000/svg}"

PERCHES = """
Title: Slipway Wristers
Sizes: small (medium)
Foundation: 24 (28), multiple of 4
Special stitch: Perch = (2 dc, ch 1, 2 dc) in one place

# Cuff
Foundation rnd: Ch 24 (28); join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]
Rnd 2: Ch 3 (counts as dc), (dc, ch 1, 2 dc) in same st, *sk 3 sts, Perch in next st; rep from * around;
  join with sl st in top of beg ch.
Rnds 3 and 4: Sl st in next dc, sl st in next ch-1 sp, ch 3 (counts as dc), (dc, ch 1, 2 dc) in same sp,
  *Perch in next ch-1 sp; rep from * around; join with sl st in top of beg ch.

# Thumb gap
Rnd 1: Sl st in next dc, sl st in next ch-1 sp, ch 3 (counts as dc), (dc, ch 1, 2 dc) in same sp, ch 7,
  sk next Perch, *Perch in next Perch; rep from * around; join with sl st in top of beg ch.

# Hand
Rnd 1: Sl st in next dc, sl st in next ch-1 sp, ch 3 (counts as dc), (dc, ch 1, 2 dc) in same sp,
  Perch in 4th ch of next ch-7, *Perch in next Perch; rep from * around; join with sl st in top of beg ch.
Fasten off.

# Bottom edging - in the foundation
Join yarn with sc in any foundation ch, sc in each foundation ch around; join with sl st in first sc. [N sc]
Fasten off.

# Thumb - around the gap
Rnd 1: Join yarn with sl st in skipped Perch, ch 3 (counts as dc), dc in same sp, 2 dc in side of next dc,
  dc in underside of next 7 ch, 2 dc in side of next dc; join with sl st in top of beg ch. [13 dc]
Rnd 2: Ch 1, sc in same st, sc in each dc around; join with sl st in first sc. [13 sc]
Fasten off.
"""

V_TUBE = """
Title: Reedbed Mitts
Foundation: 24, multiple of 3

# Cuff
Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk 2 ch, V-st in next ch; rep from * around;
  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]
Rnd 2: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, *V-st in next V-st; rep from * around;
  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]

# Thumb gap
Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, ch 5, sk next 2 V-sts,
  *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4. [N/3 - 2 V-sts]
"""

SHELLS = """
Title: Cockle Cowl
Foundation: 36, multiple of 6
Pieces: one

# Body
Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]
Rnd 2: Ch 1, sc in same st, *sk 2 sts, 5 dc in next st, sk 2 sts, sc in next st; rep from * around,
  omitting last sc; join with sl st in first sc.
Rnd 3: Ch 3 (counts as dc), 2 dc in same st, *sk 2 dc, sc in next dc, sk 2 dc, 5 dc in next sc; rep from *
  around, omitting last 5 dc; 2 dc in same st as beg ch; join with sl st in top of beg ch.
"""

CROWN = """
Title: Harbour Cap
Sizes: child (adult)
Foundation: none
Pieces: one

# Crown
Rnd 1: Magic ring, ch 3 (counts as dc), 11 dc in ring; join with sl st in top of beg ch. [12 dc]
Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each dc around; join with sl st in top of beg ch. [24 dc]
Rnd 3: Ch 3 (counts as dc), 2 dc in next dc, *dc in next dc, 2 dc in next dc; rep from * around;
  join with sl st in top of beg ch. [36 dc]

# Side
Rnds 1 to 5: Ch 3 (counts as dc), dc in each dc around; join with sl st in top of beg ch. [36 dc]
"""

SQUARE = """
Title: Quayside Square
Sizes: one
Foundation: none
Pieces: one

# Motif
Rnd 1: Ch 4; join with sl st to form a ring, ch 3 (counts as dc), 2 dc in ring, ch 2, [3 dc in ring, ch 2]
  3 times; join with sl st in top of beg ch. [12 dc, 4 ch-2 sps]
Rnd 2: Sl st in next 2 dc, sl st in next ch-2 sp, ch 3 (counts as dc), (2 dc, ch 2, 3 dc) in same sp, ch 1,
  *(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1; rep from * around; join with sl st in top of beg ch.
"""

MOSS = """
Title: Lichen Scarf
Foundation: 16, multiple of 2
Worked: rows
Pieces: one

# Scarf
Foundation row: Ch N. [N ch]
Row 1: Sc in 2nd ch from hook, *ch 1, sk 1 ch, sc in next ch; rep from * across; turn.
Row 2: Ch 1, sc in first sc, sc in next ch-1 sp, *ch 1, sk next sc, sc in next ch-1 sp; rep from * to last sc,
  sc in last sc; turn.
Row 3: Ch 1, sc in first sc, *ch 1, sk next sc, sc in next ch-1 sp; rep from * to last 2 sc, ch 1, sk next sc,
  sc in last sc; turn.
"""

RIBS = """
Title: Breakwater Cuffs
Foundation: 24, multiple of 2

# Cuff
Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 3 (counts as dc), dc in each ch around; join with sl st in top of beg ch. [N dc]
Rnds 2 and 3: Ch 3 (counts as dc), BPdc around next st, *FPdc around next st, BPdc around next st; rep from *
  around; join with sl st in top of beg ch.
Rnd 4: Ch 1, sc in BLO of same st, sc in BLO of each st around; join with sl st in first sc. [N sc]
"""

MESH = """
Title: Netloft Panel
Foundation: 24, multiple of 2
Worked: rows
Pieces: one

# Panel
Foundation row: Ch N. [N ch]
Row 1: Dc in 6th ch from hook, *ch 1, sk 1 ch, dc in next ch; rep from * across; turn.
Row 2: Ch 4 (counts as dc, ch 1), *dc in next dc, ch 1; rep from * across, omitting last ch 1; turn.
Row 3: Ch 1, sc in first st, *ch 3, sc in next dc; rep from * across; turn.
"""

HAT = """
Title: Buoy Hat
Foundation: 48, multiple of 8
Pieces: one

# Brim
Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 2 (counts as hdc), hdc in each ch around; join with sl st in top of beg ch. [N hdc]

# Crown
Rnd 1: Ch 1, sc in same st, sc in next 5 sts, sc2tog, *sc in next 6 sts, sc2tog; rep from * around;
  join with sl st in first sc.
Rnd 2: Ch 1, sc in same st, sc in next 4 sts, sc2tog, *sc in next 5 sts, sc2tog; rep from * around;
  join with sl st in first sc.
"""

SAMPLER = """
Title: Tidepool Band
Foundation: 32, multiple of 8
Pieces: one
Special stitch: puff = 3 hdc closed together

# Band
Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 3 (counts as dc), dc in each ch around; join with sl st in top of beg ch. [N dc]
Rnd 2: Ch 1, sc in same st, *puff in next st, popcorn in next st, bobble in next st, cluster in next st,
  tr in next st, hdc in FLO of next st, dtr in next st, sc in next st; rep from * to last 7 sts,
  sc in last 7 sts; join with sl st in first sc.
Rnd 3: Ch 1, sc in same st, picot, *ch 5, sk 3 sts, sc in next st, picot; rep from * to last 3 sts, ch 5,
  sk last 3 sts; join with sl st in first sc.
Rnd 4: Sl st in next ch-5 sp, ch 3 (counts as dc), 2 dc in same sp, ch 2, *3 dc in next ch-5 sp, ch 2;
  rep from * around; join with sl st in top of beg ch.
Rnd 5: Ch 1, sc in same st, *ch 3, sl st in 3rd ch from hook, sc in next ch-2 sp; rep from * around;
  join with sl st in first sc.
"""

SPIRAL = """
Title: Eddy Mitts
Foundation: 20, multiple of 4
Worked: spiral

# Cuff
Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Sc in each ch around. [N sc]
Rnd 2: *Sk next st, dc in next st, dc in skipped st, sc in next 2 sts; rep from * around.
"""

PATTERNS: dict[str, tuple[str, Numbers]] = {
    "perches": (PERCHES, Numbers(24)),
    "v-tube": (V_TUBE, Numbers(24)),
    "shells": (SHELLS, Numbers(36)),
    "crown": (CROWN, Numbers(None, "child")),
    "square": (SQUARE, Numbers(None, "one")),
    "moss": (MOSS, Numbers(16)),
    "ribs": (RIBS, Numbers(24)),
    "mesh": (MESH, Numbers(24)),
    "hat": (HAT, Numbers(48)),
    "sampler": (SAMPLER, Numbers(32)),
    "spiral": (SPIRAL, Numbers(20)),
}


@cache
def fabric(name: str) -> Fabric:
    """The fabric of one of the patterns, in its numbers."""
    text, numbers = PATTERNS[name]
    return work(read(text.strip()).pattern, numbers)


@cache
def specials(name: str) -> Specials:
    """The special stitches of one of the patterns."""
    return special_stitches(read(PATTERNS[name][0].strip()).pattern)


# --- what was drawn ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Stitch:
    """A stitch as drawn: its id, class names and points (all that its path goes through)."""

    id: str
    classes: tuple[str, ...]
    points: tuple[tuple[float, float], ...]

    @property
    def symbol(self) -> str:
        """Its entry of the key, as a class name."""
        return self.classes[1]

    @property
    def middle(self) -> float:
        """x of its middle."""
        xs = [x for x, _ in self.points]
        return (min(xs) + max(xs)) / 2


def parsed(svg: str) -> ET.Element:
    """The document's root."""
    return ET.fromstring(svg)


def points(path: str) -> tuple[tuple[float, float], ...]:
    """All points of a path's data, in order."""
    numbers = [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", path)]
    return tuple(zip(numbers[::2], numbers[1::2], strict=True))


def stitches(root: ET.Element) -> list[Stitch]:
    """Every symbol with an id that is a stitch of the fabric."""
    return [
        Stitch(path.attrib["id"], tuple(path.attrib["class"].split()), points(path.attrib["d"]))
        for path in root.iter(f"{SVG}path")
        if path.get("class", "").startswith("st ") and "id" in path.attrib
    ]


def texts(root: ET.Element, name: str | None = None) -> list[str]:
    """The words of all text elements (with a class)."""
    return [one.text or "" for one in root.iter(f"{SVG}text") if name in (None, one.get("class"))]


def of_class(root: ET.Element, name: str) -> list[ET.Element]:
    """Every element with a class name."""
    return [one for one in root.iter() if name in one.get("class", "").split()]
