"""A pattern as a crafter posts it: chatter, plain headings, no header. Our own invention throughout."""

from collections.abc import Callable
from typing import Any

from server.craft.fabric import prove
from server.craft.text.proposing import propose, with_proposed

Check = Callable[..., dict[str, Any]]

POSTED = """\
Lighthouse Keeper's Wristers!

Hello all! I made a first pair of these on the night ferry & a second because the first went overboard.

Materials:
- about 90 yards of worsted weight yarn
- 5.5 mm hook (US I-9)
- yarn needle, scissors

Gauge: 12 sts and 8 rows = 4 inches.
Size: small (medium). Any multiple of 4 will work.

ch = chain, sc = single crochet, dc = double crochet, sl st = slip stitch

CUFF
Ch 24 (28), join with a slip stitch to form a ring. Be careful not to twist!
Rnd 1: Ch 1, sc in each ch around. Join. (24, 28 sc)
Round 2 – 6: Ch 1, sc in each st around, join with sl st to first sc.

HAND
Round 7: Ch 3 (counts as first dc), dc in each st around, join to top of ch 3. (24, 28 dc)
Round 8: ch 1, sc in the same st, *sk 1 st, 3 dc in next st, sk 1 st, sc in next st, repeat from * around,
omitting last sc. Join.
Fasten off & weave in ends.
"""


def test_what_the_text_says_is_proposed_for_the_header() -> None:
    proposed = {one.key: one.value for one in propose(POSTED)}
    assert proposed["Title"] == "Lighthouse Keeper's Wristers!"
    assert proposed["Terms"] == "US"
    assert proposed["Foundation"] == "24 (28), multiple of 4"
    assert proposed["Hook"] == "5.5 mm"
    assert "worsted" in proposed["Yarn"]
    # gauge and sizes stand in the text as header lines already
    assert not {"Gauge", "Sizes"} & proposed.keys()


def test_a_posted_text_with_its_proposed_header_proves() -> None:
    proof = prove(with_proposed(POSTED, propose(POSTED)))
    assert [finding.message for finding in proof.findings] == []
    assert dict(proof.sizes) == {"small": 24, "medium": 28}
    by_label = {(row.section, row.label): row.counts for row in proof.rows}
    assert by_label["CUFF", "Rnd 6"]["24"]["sc"] == 24
    # sc, then over 4 sts: sk 1, 3 dc in one, sk 1, sc in one: 24/4 = 6 of each, the last sc left out
    assert by_label["HAND", "Rnd 8"]["24"] == {"sc": 6, "dc": 18, "sts": 24}


def test_a_header_that_has_all_is_left_alone(check: Check) -> None:
    whole = with_proposed(POSTED, propose(POSTED))
    assert not {one.key for one in propose(whole)} & {"Title", "Terms", "Foundation", "Hook", "Yarn"}


def test_nothing_is_proposed_from_nothing() -> None:
    assert propose("") == ()
    assert with_proposed("Rnd 1: sc.", ()) == "Rnd 1: sc."


def test_a_ring_to_start_from_is_no_foundation() -> None:
    text = "Gannet Hat\n\nRnd 1: Magic ring, ch 1, 6 sc in ring; join with sl st in first sc. (6 sc)\n"
    proposed = {one.key: one.value for one in propose(text)}
    assert (proposed["Foundation"], proposed["Pieces"]) == ("none", "one")
