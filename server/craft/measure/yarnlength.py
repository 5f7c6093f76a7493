"""Metres of yarn in a fabric, stitch by stitch.

Each kind of stitch has a length in worsted yarn with a 5 mm hook (`data/stitch_yarn.csv`: published
measurements of one worker, inches of yarn in a row of 5 in, at about 3.25 stitches to the inch). With
another hook and yarn all of them grow with hook + thickness (see `gauge`: loops around a hook). A piece
is the sum over the stitches that the fabric has; an area is never asked, and no mean stitch is assumed,
since per area sc, hdc and dc take the same yarn within 2 % and per stitch they differ by half.

What is not measured is put together from what is: n together = n legs, closed once; a cluster in the same
way from the legs the pattern gives it; foundation single crochet = sc and the chain under it; a post
stitch as the stitch. These and the sources marked memory or derived count as unmeasured and widen the
range.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from server.craft.fabric import Fabric
from server.craft.fabric.values import Node, WorkedRound
from server.craft.measure.lengths import MM_PER_INCH
from server.craft.measure.yarntable import YarnCategory, category_for_hook, yarn_category
from server.craft.text.tree import Header, JoinYarn, SpecialStitch
from server.craft.text.vocabulary import BY_US, CLOSED, POST, legs, plain_stitch

ROW_IN, STITCHES_PER_IN = 5.0, 3.25  # the row measured; the gauge it is derived with (reference, section 7)
REFERENCE_HOOK_MM, REFERENCE_CATEGORY = 5.0, 4
CLOSED_LEGS = {"cluster": 3, "puff": 3, "popcorn": 5, "bobble": 5}  # common practice, no source
CLOSED_LEG = {"cluster": "dc", "puff": "hdc", "popcorn": "dc", "bobble": "dc"}
ASSUMED_GAUGE, OWN_INCONSISTENCY, OTHER_HANDS, MODEL = 0.07, 0.06, 0.07, 0.05
UNMEASURED = 0.15
"""Spreads, as shares. The assumed gauge: 11 to 14 sc in 4 in of medium yarn is ±12 %, any as likely, so 7
%. The
source's two figures for chain differ by 6 %. Other hands as in `gauge`; the hook model and stitches that were
not measured: judgement."""


@dataclass(frozen=True, slots=True)
class Setting:
    """Hook in mm and yarn thickness in mm that a piece is worked with, and whether either is a guess."""

    hook_mm: float
    thickness_mm: float
    guessed: bool = False

    @property
    def scale(self) -> float:
        """How much longer stitches are than in worsted with 5 mm: (hook + thickness) over theirs."""
        reference = REFERENCE_HOOK_MM + yarn_category(REFERENCE_CATEGORY).thickness_mm
        return (self.hook_mm + self.thickness_mm) / reference


@dataclass(frozen=True, slots=True)
class RoundYarn:
    """Yarn of one round at the model's middle, m, and how much of it is in stitches that were not
    measured.
    """

    spot: str
    section: int
    label: str
    metres: float
    unmeasured_m: float
    joins_yarn: bool


@dataclass(frozen=True, slots=True)
class PieceYarn:
    """Yarn of one piece round by round, without tails."""

    rounds: tuple[RoundYarn, ...]

    @property
    def metres(self) -> float:
        """All rounds, m."""
        return math.fsum(each.metres for each in self.rounds)

    @property
    def unmeasured(self) -> float:
        """Share of the yarn in stitches that were not measured, 0 to 1."""
        return math.fsum(each.unmeasured_m for each in self.rounds) / self.metres if self.metres else 0.0

    @property
    def yarn_ends(self) -> int:
        """Ends of yarn: two for the piece, two more each time that yarn is joined."""
        return 2 + 2 * sum(each.joins_yarn for each in self.rounds) if self.rounds else 0

    def part(self, spots: Iterable[str]) -> PieceYarn:
        """Only these rounds."""
        wanted = frozenset(spots)
        return PieceYarn(tuple(each for each in self.rounds if each.spot in wanted))


def setting(hook_mm: float | None = None, category: YarnCategory | None = None) -> Setting:
    """The setting from what is known: the yarn's usual hook where no hook is given, the yarn that the hook is
    for where no yarn is, medium yarn with 5 mm where neither. ValueError for a hook that is not above 0.
    """
    if hook_mm is not None and not 0 < hook_mm < math.inf:
        raise ValueError(f"a hook is above 0 mm, not {hook_mm:g}")
    guessed = hook_mm is None or category is None
    if category is None and hook_mm is None:
        return Setting(REFERENCE_HOOK_MM, yarn_category(REFERENCE_CATEGORY).thickness_mm, guessed)
    if category is None:
        assert hook_mm is not None
        category = category_for_hook(hook_mm)
    return Setting(hook_mm if hook_mm is not None else category.usual_hook_mm, category.thickness_mm, guessed)


@cache
def stitch_lengths_mm() -> Mapping[str, float]:
    """Millimetres of yarn in one stitch, by US name: worsted, 5 mm hook."""
    return {row[0]: row[1] for row in _table()}


@cache
def measured_stitches() -> frozenset[str]:
    """US names of the stitches that were measured; all others are derived or remembered."""
    return frozenset(name for name, _, confidence in _table() if confidence == "seen")


def stitch_mm(name: str, specials: Mapping[str, SpecialStitch] | None = None) -> float:
    """Millimetres of yarn in one stitch of that US name; one that has no length of its own as a dc."""
    known = stitch_lengths_mm()
    if name in known:
        return known[name]
    if post := POST.match(name):
        return stitch_mm(post[2], specials)
    if legs(name) > 1:
        return closed_mm([plain_stitch(name)] * legs(name))
    special = (specials or {}).get(name)
    own = [item for item in special.items if isinstance(item, str)] if special is not None else []
    if own and special is not None and special.one_stitch:
        return closed_mm(own)
    if name in CLOSED:
        return closed_mm([CLOSED_LEG[name]] * CLOSED_LEGS[name])
    return known["dc"]


def closed_mm(legs_of: list[str]) -> float:
    """Several legs closed together: each leg but its last loop, and one loop (a chain) that closes them."""
    known = stitch_lengths_mm()
    return math.fsum(known.get(leg, known["dc"]) - known["ch"] for leg in legs_of) + known["ch"]


def node_mm(node: Node, specials: Mapping[str, SpecialStitch] | None = None) -> float:
    """Millimetres of yarn in one thing of the fabric: worsted, 5 mm hook."""
    known = stitch_lengths_mm()
    if node.kind in ("chain", "begin"):
        return known["ch"] * node.size
    if node.kind == "slip":
        return known["sl st"]
    if node.kind == "picot":
        return known["ch"] * node.size + known["sl st"]
    if node.kind == "ring":
        return known["ch"]
    own = stitch_mm(node.name, specials)
    bare = not node.base and node.into in ("none", "foundation") and node.name in BY_US
    return own + known["ch"] if bare else own


def piece_yarn(fabric: Fabric, header: Header, by: Setting) -> PieceYarn:
    """The yarn of a piece, round by round."""
    specials = {one.name: one for one in header.special}
    return PieceYarn(
        tuple(
            _round(round_, section.index, specials, by.scale)
            for section in fabric.sections
            for round_ in section.rounds
        )
    )


def prior_spread(unmeasured: float) -> float:
    """How far the model may be off before anything was weighed or measured, as a share: about 13 %."""
    return math.hypot(ASSUMED_GAUGE, OWN_INCONSISTENCY, OTHER_HANDS, MODEL, UNMEASURED * unmeasured)


def _round(
    round_: WorkedRound, section: int, specials: Mapping[str, SpecialStitch], scale: float
) -> RoundYarn:
    measured = measured_stitches()
    total = unmeasured = 0.0
    for node in round_.path:
        length = node_mm(node, specials)
        total += length
        if node.kind in ("slip", "ring", "picot") or (node.kind == "stitch" and node.name not in measured):
            unmeasured += length
    joins = any(isinstance(did, JoinYarn) for did in _instructions(round_))
    return RoundYarn(
        round_.spot, section, round_.label, total * scale / 1000, unmeasured * scale / 1000, joins
    )


def _instructions(round_: WorkedRound) -> Iterable[object]:
    return (doing.instruction for doing in round_.doings if hasattr(doing, "instruction"))


@cache
def _table() -> tuple[tuple[str, float, str], ...]:
    text = (files("server.craft.measure") / "data" / "stitch_yarn.csv").read_text(encoding="utf-8")
    per_stitch = MM_PER_INCH / (ROW_IN * STITCHES_PER_IN)
    return tuple(
        (row["stitch"], float(row["inches_per_5in_row"]) * per_stitch, row["confidence"])
        for row in csv.DictReader(text.splitlines())
    )
