"""What an entry of the pattern language page is, and the small pieces that its samples are worked on."""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that can be written, in our words, with a sample that shows it.

    name     what it is called on the page; unique
    written  how it is written, each form on its own
    means    what it means; terms as they are typed stand between backticks
    body     the sample without its title line
    finds    codes of the findings that the sample is there to show; none: it is proved without one
    """

    name: str
    written: tuple[str, ...]
    means: str
    body: str
    finds: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """Its address on the page: small letters, digits and hyphens."""
        return re.sub(r"[^a-z0-9]+", "-", self.name.lower()).strip("-")

    @property
    def sample(self) -> str:
        """A whole pattern text."""
        return f"Title: {self.name}\n{self.body}"


@dataclass(frozen=True, slots=True)
class Chapter:
    """Entries that belong together; `key` is the chapter's address on the page."""

    key: str
    title: str
    words: str
    entries: tuple[Entry, ...]


RING = "Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]"
FIRST = "Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]"


def tube(*rounds: str, foundation: str = "24, multiple of 4", head: str = "") -> str:
    """A tube: a ring of chains, a round of single crochet, and the rounds given from `Rnd 2` on."""
    lines = (f"Foundation: {foundation}", *head.splitlines(), "", "# Band", RING, FIRST, *rounds)
    return "\n".join((*lines, "Fasten off.", ""))


def own(*lines: str, foundation: str = "24, multiple of 4", head: str = "") -> str:
    """A piece whose lines are all its own, below one section."""
    return "\n".join(
        (f"Foundation: {foundation}", *head.splitlines(), "", "# Band", *lines, "Fasten off.", "")
    )


def crown(*rounds: str, head: str = "") -> str:
    """A piece from an adjustable ring: `Rnd 1` of 6 single crochet, and the rounds given from `Rnd 2` on."""
    first = "Rnd 1: Magic ring, ch 1, 6 sc in ring; join with sl st in first sc. [6 sc]"
    top = ("Foundation: none", *head.splitlines(), "", "# Crown", first)
    return "\n".join((*top, *rounds, "Fasten off.", ""))


def flat(*rows: str, foundation: str = "12, multiple of 2", head: str = "") -> str:
    """A flat piece: a chain, `Row 1` of single crochet, and the rows given from `Row 2` on."""
    first = "Row 1: Sc in 2nd ch from hook, sc in each ch across; turn. [N - 1 sc]"
    top = (f"Foundation: {foundation}", "Worked: rows", *head.splitlines())
    lines = (*top, "", "# Strip", "Foundation row: Ch N.", first, *rows)
    return "\n".join((*lines, "Fasten off.", ""))


VS = (
    "Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, sk next 2 sts, *V-st in next st, sk next 2 sts; "
    "rep from * around; join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]"
)
"""A round of V-stitches over a multiple of 3."""
GAP = (
    "# Thumb gap\n"
    "Rnd 1: Ch 1, sc in same st, sc in next 5 sts, ch 5, sk next 5 sts, sc in each st around; "
    "join with sl st in first sc. [N - 5 sc, 1 ch-5 sp]"
)
"""A section that leaves a gap of 5 chains over 5 stitches."""
