"""Steps in full words for patterns of different structures; a test's docstring is the pattern.

What is expected is written by hand from the pattern; the numbers of repeats are worked out beside it.
"""

from __future__ import annotations

from server.craft.fabric import prove
from server.craft.making import Numbers, Plan, plan
from server.craft.text.tree import Terms


def made(pattern: str, foundation: int | None, terms: Terms = "US", size: str | None = None) -> Plan:
    proof = prove(pattern)
    assert [finding.message for finding in proof.findings] == []
    assert foundation is None or str(foundation) in [str(count) for count in proof.counts_tried]
    return plan(proof.pattern, Numbers(foundation, size), terms)


def steps(plan_: Plan, spot: str) -> tuple[str, ...]:
    found = plan_.round_at(spot)
    assert found is not None
    return found.full_steps


TOP = "Join with a slip stitch in the top of the beginning chain"
FIRST_SC = "Join with a slip stitch in the first single crochet"
IN_CHAIN_4 = "Join with a slip stitch in the 3rd chain of the beginning chain-4"


def test_v_stitches_and_a_gap(pattern: str) -> None:
    """
    Title: Plover Mitts
    Foundation: 24, multiple of 3
    Custom: 15 to 60

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk 2 ch, V-st in next ch; rep from * around;
      join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]
    Rnd 2: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, *V-st in next V-st; rep from *
      around;
      join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]

    # Thumb gap
    Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, V-st in next 2 V-sts, ch 5,
      sk next V-st, *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4.
      [N/3 - 1 V-sts, 1 ch-5 sp]

    # Hand
    Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, V-st in next 2 V-sts,
      V-st in 3rd ch of next ch-5, *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg
      ch-4.
      [N/3 V-sts]
    Fasten off.
    """
    here = made(pattern, 24)
    opening = (
        "Slip stitch in the next chain-1 space",
        "Chain 4; it counts as a double crochet and a chain-1 space",
        "Double crochet in the same space",
    )
    assert steps(here, "0.0.1") == ("Chain 24", "Join with a slip stitch in the first chain to form a ring")
    assert steps(here, "0.1.1") == (  # 24 / 3 = 8, one of them begun with the chain
        "Chain 4; it counts as a double crochet and a chain-1 space",
        "Double crochet in the same chain",
        "7 times, to the end of the round: skip the next 2 chains, V-stitch in the next chain",
        IN_CHAIN_4,
    )
    assert steps(here, "0.2.1") == (
        *opening, "V-stitch in each of the next 7 V-stitches, to the end of the round", IN_CHAIN_4,
    )  # fmt: skip
    assert steps(here, "1.0.1") == (  # 8 - 1 begun - 2 - 1 skipped = 4
        *opening,
        "V-stitch in each of the next 2 V-stitches",
        "Make the gap: chain 5, skip the next V-stitch",
        "V-stitch in each of the next 4 V-stitches, to the end of the round",
        IN_CHAIN_4,
    )
    assert steps(here, "2.0.1") == (
        *opening,
        "V-stitch in each of the next 2 V-stitches, up to the gap",
        "V-stitch in the 3rd chain of the next chain-5",
        "V-stitch in each of the next 4 V-stitches, to the end of the round",
        IN_CHAIN_4,
    )
    counted = [each.full_count for each in here.rounds]
    assert counted == [
        "24 chains",
        "8 V-stitches",
        "8 V-stitches",
        "7 V-stitches, 1 chain-5 space",
        "8 V-stitches",
    ]
    assert steps(made(pattern, 24, "UK"), "2.0.1")[1:3] == (
        "Chain 4; it counts as a treble and a chain-1 space",
        "Treble in the same space",
    )
    assert steps(made(pattern, 15), "1.0.1")[5] == "V-stitch in the next V-stitch"  # 5 - 1 - 2 - 1 = 1


def test_shells(pattern: str) -> None:
    """
    Title: Whelk Cuffs
    Foundation: 24, multiple of 6

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, sc in same ch, *sk 2 ch, shell in next ch, sk 2 ch, sc in next ch; rep from * to last 5 ch,
      sk 2 ch, shell in next ch, sk 2 ch; join with sl st in first sc. [N/6 sc, N/6 shells]
    Rnd 2: Ch 3 (counts as dc), 2 dc in same st, *sc in center dc of next shell, sk next 2 dc, shell in
      next sc;
      rep from * to last shell,
      sc in center dc of next shell, sk next 2 dc, 2 dc in same st as beg ch; join with sl st in top of beg
      ch. [N/6 sc]
    """
    here = made(pattern, 24)
    assert steps(here, "0.1.1") == (  # 24 / 6 = 4, the last one written out
        "Chain 1",
        "Single crochet in the same chain",
        "3 times, up to the last 5 chains: skip the next 2 chains, shell in the next chain, "
        "skip the next 2 chains, single crochet in the next chain",
        "Skip the next 2 chains, shell in the next chain",
        "Skip the next 2 chains",
        FIRST_SC,
    )
    assert steps(here, "0.2.1") == (
        "Chain 3; it counts as a double crochet",
        "2 double crochets in the same stitch",
        "3 times, up to the last shell: single crochet in the center double crochet of the next shell, "
        "skip the next 2 double crochets, shell in the next single crochet",
        "Single crochet in the center double crochet of the next shell",
        "Skip the next 2 double crochets, 2 double crochets in the same stitch as the beginning chain",
        TOP,
    )
    assert (
        steps(made(pattern, 24, "UK"), "0.2.1")[3] == "Double crochet in the centre treble of the next shell"
    )


def test_moss(pattern: str) -> None:
    """
    Title: Lichen Band
    Foundation: 20, multiple of 2

    # Band
    Foundation rnd: Ch 20; join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, sc in same ch, ch 1, sk next ch, *sc in next ch, ch 1, sk next ch; rep from * around;
      join with sl st in first sc. [N/2 sc, N/2 ch-1 sps]
    Rnd 2: Sl st in next ch-1 sp, ch 1, sc in same sp, ch 1, *sc in next ch-1 sp, ch 1; rep from * around;
      join with sl st in first sc. [N/2 sc, N/2 ch-1 sps]
    """
    here = made(pattern, 20)
    assert steps(here, "0.1.1") == (
        "Chain 1",
        "Single crochet in the same chain",
        "Chain 1, skip the next chain",
        "9 times, to the end of the round: single crochet in the next chain, chain 1, skip the next chain",
        FIRST_SC,
    )
    assert steps(here, "0.2.1") == (
        "Slip stitch in the next chain-1 space",
        "Chain 1",
        "Single crochet in the same space",
        "Chain 1",
        "9 times, to the end of the round: single crochet in the next chain-1 space, chain 1",
        FIRST_SC,
    )


def test_post_rib(pattern: str) -> None:
    """
    Title: Breakwater Cuffs
    Foundation: 28, multiple of 2

    # Cuff
    Foundation rnd: Ch 28; join with sl st in first ch to form a ring.
    Rnd 1: Ch 3 (counts as dc), dc in each ch around; join with sl st in top of beg ch. [N dc]
    Rnd 2: Ch 2 (does not count as a st), FPdc around same st, BPdc around next dc,
      *FPdc around next dc, BPdc around next dc; rep from * around; join with sl st in first FPdc.
      [N/2 FPdc, N/2 BPdc]
    """
    here = made(pattern, 28)
    assert steps(here, "0.1.1") == (
        "Chain 3; it counts as a double crochet",
        "Double crochet in each of the next 27 chains, to the end of the round",
        TOP,
    )
    assert steps(here, "0.2.1") == (
        "Chain 2; it does not count as a stitch",
        "Front post double crochet around the same stitch",
        "Back post double crochet around the next double crochet",
        "13 times, to the end of the round: front post double crochet around the next double crochet, "
        "back post double crochet around the next double crochet",
        "Join with a slip stitch in the first front post double crochet",
    )
    assert here.rounds[2].full_count == "14 front post double crochets, 14 back post double crochets"


def test_waffle_in_turned_rounds(pattern: str) -> None:
    """
    Title: Griddle Band
    Foundation: 30, multiple of 3
    Pieces: one

    # Band
    Foundation rnd: Ch 30; join with sl st in first ch to form a ring.
    Rnd 1: Ch 3 (counts as dc), dc in each ch around; join with sl st in top of beg ch; turn. [N dc]
    Rnd 2: Ch 3 (counts as dc), dc in next dc, FPdc around next dc, *dc in next 2 dc, FPdc around next dc;
      rep from * around; join with sl st in top of beg ch; turn. [2N/3 dc, N/3 FPdc]
    Rnd 3: Ch 3 (counts as dc), dc in next FPdc, *FPdc around next 2 dc, dc in next FPdc; rep from * to
      last dc,
      FPdc around last dc; join with sl st in top of beg ch; turn. [N/3 + 1 dc, 2N/3 - 1 FPdc]
    """
    here = made(pattern, 30)
    assert steps(here, "0.2.1") == (  # 30 / 3 = 10, the first one written out
        "Chain 3; it counts as a double crochet",
        "Double crochet in the next double crochet",
        "Front post double crochet around the next double crochet",
        "9 times, to the end of the round: double crochet in each of the next 2 double crochets, "
        "front post double crochet around the next double crochet",
        TOP,
        "Turn",
    )
    assert steps(here, "0.3.1")[2:4] == (
        "9 times, up to the last double crochet: front post double crochet around each of the next "
        "2 double crochets, double crochet in the next front post double crochet",
        "Front post double crochet around the last double crochet",
    )


def test_a_crown_from_a_ring(pattern: str) -> None:
    """
    Title: Puffin Cap
    Sizes: child (adult)
    Foundation: none
    Pieces: one

    # Crown
    Rnd 1: Ch 3 (counts as dc), 11 dc in ring; join with sl st in top of beg ch. [12 dc]
    Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each dc around; join with sl st in top of beg ch.
      [24 dc]
    Rnd 3: Ch 3 (counts as dc), 2 dc in next dc, *dc in next dc, 2 dc in next dc; rep from * around;
      join with sl st in top of beg ch. [36 dc]
    """
    here = made(pattern, None, size="adult")
    assert steps(here, "0.0.1") == (
        "Make an adjustable ring",
        "Chain 3; it counts as a double crochet",
        "11 double crochets in the ring",
        TOP,
    )
    assert steps(here, "0.1.1") == (
        "Chain 3; it counts as a double crochet",
        "Double crochet in the same stitch",
        "2 double crochets in each of the next 11 double crochets, to the end of the round",
        TOP,
    )
    assert steps(here, "0.2.1")[1:3] == (
        "2 double crochets in the next double crochet",
        "11 times, to the end of the round: double crochet in the next double crochet, "
        "2 double crochets in the next double crochet",
    )


def test_a_ring_of_chains(pattern: str) -> None:
    """
    Title: Capstan Square
    Foundation: none
    Pieces: one

    # Square
    Rnd 1: Ch 4, join with sl st in first ch to form a ring, ch 3 (counts as dc), 2 dc in ring, ch 2,
      [3 dc in ring, ch 2] 3 times; join with sl st in top of beg ch. [12 dc, 4 ch-2 sps]
    Rnd 2: Sl st in next 2 dc, sl st in next ch-2 sp, (ch 3, 2 dc, ch 2, 3 dc) in same sp, ch 1,
      *(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1; rep from * around; join with sl st in top of beg ch. [24 dc]
    """
    here = made(pattern, None)
    assert steps(here, "0.0.1") == (
        "Chain 4",
        "Join with a slip stitch in the first chain to form a ring",
        "Chain 3; it counts as a double crochet",
        "2 double crochets in the ring",
        "Chain 2",
        "3 times: 3 double crochets in the ring, chain 2",
        TOP,
    )
    assert steps(here, "0.1.1") == (
        "Slip stitch in each of the next 2 double crochets, then in the next chain-2 space",
        "Work (chain 3, 2 double crochets, chain 2, 3 double crochets) in the same space; "
        "the chain 3 counts as a double crochet",
        "Chain 1",
        "3 times, to the end of the round: work (3 double crochets, chain 2, 3 double crochets) "
        "in the next chain-2 space, chain 1",
        TOP,
    )


def test_decreases_by_size(pattern: str) -> None:
    """
    Title: Foghorn Tip
    Sizes: small (large)
    Foundation: 24 (32), multiple of 8

    # Tip
    Foundation rnd: Ch 24 (32); join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 (32) sc]
    Rnd 2: Ch 1, sc in same st, sc in next 5 sts, sc2tog, *sc in next 6 sts, sc2tog; rep from * around;
      join with sl st in first sc. [21 (28) sc]
    Rnd 3: Ch 1, sc in same st, sc in next 3 sts, sc2tog over next 2 sts, sc in each st to last 2 sts, sc2tog;
      join with sl st in first sc. [19 (26) sc]
    """
    small, large = made(pattern, 24), made(pattern, 32)
    for here, times in ((small, 2), (large, 3)):
        assert steps(here, "0.2.1") == (
            "Chain 1",
            "Single crochet in the same stitch",
            "Single crochet in each of the next 5 stitches",
            "Single crochet 2 together over the next 2 stitches",
            f"{times} times, to the end of the round: single crochet in each of the next 6 stitches, "
            "single crochet 2 together over the next 2 stitches",
            FIRST_SC,
        )
    assert steps(small, "0.3.1")[3:6] == (  # 21 - 1 - 3 - 2 - 2 = 13
        "Single crochet 2 together over the next 2 stitches",
        "Single crochet in each of the next 13 stitches, up to the last 2 stitches",
        "Single crochet 2 together over the next 2 stitches",
    )
    assert steps(large, "0.3.1")[4] == (  # 28 - 8 = 20
        "Single crochet in each of the next 20 stitches, up to the last 2 stitches"
    )
    assert steps(made(pattern, 24, "UK"), "0.3.1")[3] == "Double crochet 2 together over the next 2 stitches"


def test_rows(pattern: str) -> None:
    """
    Title: Groyne Panel
    Foundation: 15, multiple of 2 + 1
    Worked: rows
    Pieces: one

    # Panel
    Foundation row: Ch 15. [15 ch]
    Row 1: Dc in 4th ch from hook, dc in each ch across; turn. [N - 2 dc]
    Row 2: Ch 1, sc in BLO of each dc across; turn. [N - 2 sc]
    Row 3: Ch 3 (counts as dc), *sk next st, dc in next st, dc in skipped st; rep from * across; turn. [N -
      2 dc]
    """
    here = made(pattern, 15)
    assert steps(here, "0.0.1") == ("Chain 15",)
    assert steps(here, "0.1.1") == (  # 15 - 3 passed - 1 = 11
        "Double crochet in the 4th chain from the hook; the 3 chains before it count as a double crochet",
        "Double crochet in each of the next 11 chains, to the end of the row",
        "Turn",
    )
    assert steps(here, "0.2.1") == (
        "Chain 1",
        "Single crochet in the back loop of each of the 13 double crochets",
        "Turn",
    )
    assert steps(here, "0.3.1")[1] == (  # 13 - 1 = 12, two at a time
        "6 times, to the end of the row: skip the next stitch, double crochet in the next stitch, "
        "double crochet in the skipped stitch"
    )


def test_a_thumb_around_the_gap(pattern: str) -> None:
    """
    Title: Jetty Mitts
    Terms: UK
    Foundation: 26, multiple of 2

    # Cuff
    Foundation rnd: Ch 26; join with ss in first ch to form a ring.
    Rnd 1: Ch 2 (counts as htr), htr in each ch around; join with ss in top of beg ch. [N htr]

    # Thumb gap
    Rnd 1: Ch 2 (counts as htr), htr in next 3 sts, ch 5, miss next 5 sts, htr in each st around;
      join with ss in top of beg ch. [N - 5 htr, 1 ch-5 sp]

    # Hand
    Rnd 1: Ch 2 (counts as htr), htr in next 3 sts, htr in next 5 ch, htr in each st around;
      join with ss in top of beg ch. [N htr]
    Fasten off.

    # Bottom edging - in the foundation
    Join yarn with dc in any foundation ch, ch 3, miss next foundation ch,
      *dc in next foundation ch, ch 3, miss next foundation ch; rep from * around; join with ss in first dc.
    Fasten off.

    # Thumb - around the gap
    Rnd 1: Join yarn with dc in first missed st, dc in next 4 missed sts, dc in side of next htr,
      dc in underside of next 5 ch, dc in side of next htr; join with ss in first dc. [12 dc]
    Fasten off.
    """
    here = made(pattern, 26, "UK")
    assert steps(here, "1.0.1")[1:4] == (  # 26 - 1 - 3 - 5 = 17
        "Half treble in each of the next 3 stitches",
        "Make the gap: chain 5, miss the next 5 stitches",
        "Half treble in each of the next 17 stitches, to the end of the round",
    )
    assert steps(here, "2.0.1")[1:4] == (
        "Half treble in each of the next 3 stitches, up to the gap",
        "Half treble in each of the next 5 chains",
        "Half treble in each of the next 17 stitches, to the end of the round",
    )
    assert steps(here, "3.0.1") == (
        "Join the yarn with a double crochet in any foundation chain",
        "Chain 3, miss the next foundation chain",
        "12 times, to the end of the round: double crochet in the next foundation chain, chain 3, "
        "miss the next foundation chain",
        "Join with a slip stitch in the first double crochet",
    )
    assert steps(here, "4.0.1") == (
        "Join the yarn with a double crochet in the first missed stitch",
        "Double crochet in each of the next 4 missed stitches",
        "Double crochet in the side of the next half treble",
        "Double crochet in the underside of each of the next 5 chains",
        "Double crochet in the side of the next half treble",
        "Join with a slip stitch in the first double crochet",
    )
    us = made(pattern, 26)
    assert steps(us, "4.0.1")[:3] == (
        "Join the yarn with a single crochet in the first skipped stitch",
        "Single crochet in each of the next 4 skipped stitches",
        "Single crochet in the side of the next half double crochet",
    )
    found = us.round_at("4.0.1")
    assert found is not None
    assert found.line.startswith("Join yarn with sc in first skipped st, sc in each of next 4 skipped sts, ")
    found = here.round_at("4.0.1")
    assert found is not None
    assert found.line.startswith("Join yarn with dc in first missed st, dc in each of next 4 missed sts, ")


def test_picots(pattern: str) -> None:
    """
    Title: Fretwork Edge
    Foundation: 24, multiple of 4
    Special stitch: picot = ch 3, sl st in first ch

    # Edge
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring.
    Rnd 1: Ch 1, sc in same ch, sc in next 3 ch, picot, *sc in next 4 ch, picot; rep from * around;
      join with sl st in first sc. [N sc]
    Rnd 2: Ch 1, sc in same st, ch 4, sl st in 4th ch from hook, sc in each st around; join with sl st in
      first sc. [N sc]
    """
    here = made(pattern, 24)
    assert steps(here, "0.1.1") == (
        "Chain 1",
        "Single crochet in the same chain",
        "Single crochet in each of the next 3 chains",
        "Make a picot",
        "5 times, to the end of the round: single crochet in each of the next 4 chains, make a picot",
        FIRST_SC,
    )
    assert steps(here, "0.2.1")[2:4] == (
        "Chain 4, slip stitch in the 4th chain from the hook",
        "Single crochet in each of the next 23 stitches, to the end of the round",
    )


def test_a_spiral_and_its_gap(pattern: str) -> None:
    """
    Title: Eddy Mittens
    Sizes: small (large)
    Foundation: none
    Worked: spiral

    # Tip
    Rnd 1: 6 (7) sc in magic ring. [6 (7) sc]
    Rnd 2: 2 sc in each sc around. [12 (14) sc]
    Rnd 3: *Sc in next sc, 2 sc in next sc; rep from * around. [18 (21) sc]

    # Thumb gap
    Rnd 1: Sc in next 3 sc, ch 4, sk next 4 sc, sc in each sc around. [14 (17) sc, 1 ch-4 sp]
    Rnd 2: Sc in next 3 sc, 4 sc in next ch-4 sp, sc in each sc around. [18 (21) sc]
    """
    here = made(pattern, None, size="large")
    assert steps(here, "0.0.1") == ("Make an adjustable ring", "7 single crochets in the ring")
    assert steps(here, "0.1.1") == ("2 single crochets in each of the 7 single crochets",)
    assert steps(here, "0.2.1") == (
        "7 times, to the end of the round: single crochet in the next single crochet, "
        "2 single crochets in the next single crochet",
    )
    assert steps(here, "1.0.1") == (  # 21 - 3 - 4 = 14
        "Single crochet in each of the next 3 single crochets",
        "Make the gap: chain 4, skip the next 4 single crochets",
        "Single crochet in each of the next 14 single crochets, to the end of the round",
    )
    assert steps(here, "1.1.1") == (
        "Single crochet in each of the next 3 single crochets, up to the gap",
        "4 single crochets in the next chain-4 space",
        "Single crochet in each of the next 14 single crochets, to the end of the round",
    )


def test_only_the_round_above_the_gap_comes_up_to_it(pattern: str) -> None:
    """
    Title: Sluice Mitts
    Foundation: 24, multiple of 2

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring.
    Rnd 1: Ch 4 (counts as dc, ch 1), sk next ch, *dc in next ch, ch 1, sk next ch; rep from * around;
      join with sl st in 3rd ch of beg ch-4. [N/2 dc, N/2 ch-1 sps]

    # Thumb gap
    Rnd 1: Ch 4 (counts as dc, ch 1), [dc in next dc, ch 1] 2 times, dc in next dc, ch 5, sk next 2 dc,
      *dc in next dc, ch 1; rep from * around; join with sl st in 3rd ch of beg ch-4.
    Rnd 2: Ch 1, sc in same st, sc in next ch-1 sp, sc in next dc, sc in next ch-1 sp, sc in next dc, sc in
      next ch-1 sp,
      sc in next dc, 3 sc in next ch-5 sp, *sc in next dc, sc in next ch-1 sp; rep from * around;
      join with sl st in first sc.
    Rnd 3: Ch 1, sc in same st, sc in next 6 sts, sc in next 3 sts, sc in each st around; join with sl st
      in first sc.
    """
    here = made(pattern, 24)
    gap = steps(here, "1.0.1")
    assert gap[1:4] == (  # the chain-1 spaces beside it are no gaps
        "2 times: double crochet in the next double crochet, chain 1",
        "Double crochet in the next double crochet",
        "Make the gap: chain 5, skip the next 2 double crochets",
    )
    assert not [step for step in (*steps(here, "0.1.1"), *steps(here, "1.2.1")) if "gap" in step]
    assert steps(here, "1.2.1")[2:5] == (
        "Single crochet in each of the next 6 stitches",
        "Single crochet in each of the next 3 stitches",
        "Single crochet in each of the next 12 stitches, to the end of the round",  # 6 dc and 6 ch-1 sps
    )


def test_two_gaps(pattern: str) -> None:
    """
    Title: Cleat Bracers
    Foundation: 24, multiple of 4
    Custom: 20 to 40

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]

    # Finger gaps
    Rnd 1: Ch 1, sc in same st, sc in next 2 sts, ch 6, sk next 3 sts, sc in next 3 sts, ch 6, sk next 3 sts,
      sc in each st around; join with sl st in first sc. [N - 6 sc, 2 ch-6 sps]

    # Hand
    Rnd 1: Ch 1, sc in same st, sc in next 2 sts, 3 sc in next ch-6 sp, sc in next 3 sts,
      3 sc in next ch-6 sp, sc in each st around; join with sl st in first sc. [N sc]
    """
    here = made(pattern, 24)
    assert steps(here, "1.0.1")[2:7] == (
        "Single crochet in each of the next 2 stitches",
        "Make the first gap: chain 6, skip the next 3 stitches",
        "Single crochet in each of the next 3 stitches",
        "Make the 2nd gap: chain 6, skip the next 3 stitches",
        "Single crochet in each of the next 12 stitches, to the end of the round",  # 24 - 3 - 3 - 3 - 3
    )
    assert steps(here, "2.0.1")[2:7] == (
        "Single crochet in each of the next 2 stitches, up to the first gap",
        "3 single crochets in the next chain-6 space",
        "Single crochet in each of the next 3 stitches, up to the 2nd gap",
        "3 single crochets in the next chain-6 space",
        "Single crochet in each of the next 12 stitches, to the end of the round",
    )
