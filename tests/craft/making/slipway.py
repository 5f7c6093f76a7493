"""The pattern that the plan's tests are made in: a pair with rounds to fit, a gap, edgings and a thumb."""

TEXT = """\
Title: Slipway Wristers
Terms: US
Sizes: small (medium, large)
Foundation: 24 (28, 32), multiple of 4
Yarn: 4 medium, 74 (84, 96) m, 100 g = 170 m
Hook: 5 mm
Gauge: 14 sts and 9 rnds = 10 cm
Fits: 18 (21, 24) cm hand
Special stitch: Perch = (2 dc, ch 1, 2 dc) in one place

# Cuff - to the base of the thumb
Foundation rnd: Ch 24 (28, 32); join with sl st in first ch to form a ring. [24 (28, 32) ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (28, 32) sc]
Rnd 2: Ch 3 (counts as dc), (dc, ch 1, 2 dc) in same st, *sk 3 sts, Perch in next st; rep from * around;
  join with sl st in top of beg ch. [24 (28, 32) dc, 6 (7, 8) ch-1 sps]
Rnds 3 to 6 (6, 7), or to the base of the thumb: Sl st in next dc, sl st in next ch-1 sp, ch 3 (counts as dc),
  (dc, ch 1, 2 dc) in same sp, *Perch in next ch-1 sp; rep from * around; join with sl st in top of beg ch.
  [6 (7, 8) Perches]

# Thumb gap
Rnd 1: Sl st in next dc, sl st in next ch-1 sp, ch 3 (counts as dc), (dc, ch 1, 2 dc) in same sp, ch 7,
  sk next Perch, *Perch in next Perch; rep from * around; join with sl st in top of beg ch.
  [5 (6, 7) Perches, 1 ch-7 sp]

# Hand - to the knuckles
Rnd 1: Sl st in next dc, sl st in next ch-1 sp, ch 3 (counts as dc), (dc, ch 1, 2 dc) in same sp,
  Perch in 4th ch of next ch-7, *Perch in next Perch; rep from * around; join with sl st in top of beg ch.
  [6 (7, 8) Perches]
Rnds 2 to 4 (4, 5), or to the knuckles: rep rnd 3 of Cuff.

# Top edging
Rnd 1: Ch 1, sc in same st, sc in next dc, sk next ch-1 sp, *sc in next 4 dc, sk next ch-1 sp; rep from *
  to last 2 sts, sc in last 2 sts; join with sl st in first sc. [N sc]
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
