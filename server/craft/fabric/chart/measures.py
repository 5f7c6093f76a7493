"""Sizes of the drawing, in units that are CSS pixels at full size.

Heights rise with the stitch, as on every published chart, though by less than the turning chains do, so
that a round of tall stitches does not run off a phone.
"""

from __future__ import annotations

from collections.abc import Mapping

from server.craft.text.tree import SpecialStitch
from server.craft.text.vocabulary import BY_US, CLOSED, POST, TOGETHER

HEIGHTS = {"sl st": 7.0, "sc": 18.0, "hdc": 24.0, "dc": 31.0, "tr": 40.0, "dtr": 49.0, "trtr": 58.0}
WIDTHS = {"sl st": 11.0, "sc": 15.0}
WIDTH = 16.0
CLOSED_WIDTHS = {"puff": 17.0, "cluster": 18.0, "bobble": 20.0, "popcorn": 22.0}
CLOSED_LEGS = {
    "puff": 3,
    "cluster": 3,
    "bobble": 5,
    "popcorn": 5,
}  # common practice, no source; a pattern may say else
POST_WIDTH = 18.0

CHAIN = 12.5  # length of a chain's oval
CHAIN_THICK = 6.4
FOOT_PAD = 3.2  # between what stands below and the foot of a stem
SPACE_FOOT = 14.0  # between feet in one chain space, at most
JOIN_SLOT = 11.0  # room for the dot of the join
PICOT_WIDTH = 9.0
BESIDE = 12.0  # a beginning chain that does not count stands this far beside the first stitch
NUMBER_SLOT = 22.0  # room for a round's number in a chart worked from the center
RING_RADIUS = 8.0

Specials = Mapping[str, SpecialStitch]


def ladder_name(name: str) -> str:
    """The stitch of the ladder that a stitch is made of: "dc" for "FPdc", "dc2tog"; "" for none."""
    if post := POST.match(name):
        name = post[2]
    if together := TOGETHER.match(name):
        name = together[1]
    return name if name in BY_US else ""


def legs_of(name: str, specials: Specials) -> tuple[str, int]:
    """Of a stitch closed from several legs: what the legs are, and how many."""
    special = specials.get(name)
    stitches = [item for item in special.items if isinstance(item, str)] if special else []
    if stitches:
        return ladder_name(stitches[0]) or "dc", max(2, len(stitches))
    return "dc", CLOSED_LEGS.get(name, 3)


def height(name: str, specials: Specials) -> float:
    """How tall a stitch is drawn."""
    rung = ladder_name(name)
    return HEIGHTS[rung] if rung else HEIGHTS[legs_of(name, specials)[0]]


def width(name: str) -> float:
    """How much room a stitch takes along the round."""
    if POST.match(name):
        return POST_WIDTH
    if name in CLOSED:
        return CLOSED_WIDTHS[name]
    return WIDTHS.get(ladder_name(name), WIDTH)


def run_width(chains: int, picots: int) -> float:
    """How much room a run of chains asks for: a long one may bow upward and takes less than its length."""
    straight = min(chains, 2)
    return straight * CHAIN + max(0, chains - straight) * CHAIN * 0.62 + picots * PICOT_WIDTH
