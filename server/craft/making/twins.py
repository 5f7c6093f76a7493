"""The twin rules: glove two against glove one as it was made."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from server.craft.making.log import Making
from server.craft.making.placing import Planner
from server.craft.text.tree import Pattern, Terms


@dataclass(frozen=True, slots=True)
class Difference:
    """One difference between the gloves.

    key            what it is, with both values: the same difference has the same key, a greater one another
    kind           "foundation", "hook", "rounds", "count"
    spot           the round it shows at; None for the whole glove
    section_title  where: a section's title, or "Foundation"
    what           in a sentence: "Glove one had 6 rounds here; this is the 7th. Take it out, or note that
                   it is meant."
    one, two       both values in words
    mend           what to do to glove two; where glove one changed after glove two began, to either
    accepted       she said that it is meant; it stays visible
    """

    key: str
    kind: Literal["foundation", "hook", "rounds", "count"]
    spot: str | None
    section_title: str
    what: str
    one: str
    two: str
    mend: str
    accepted: bool = False


@dataclass(frozen=True, slots=True)
class TwinRow:
    """A section, or the foundation, hook or thumb gap's place, of both gloves side by side.

    state  "same"; "differs"; "so far" while one of the gloves is not through it, without a difference yet
    """

    section_title: str
    one: str
    two: str
    state: Literal["same", "differs", "so far"]

    @property
    def same(self) -> bool:
        """True where nothing differs, or not yet."""
        return self.state != "differs"


@dataclass(frozen=True, slots=True)
class Verdict:
    """The verdict on a pair.

    changed  sentences on what changed in glove one after glove two began; both gloves' pages say them
    """

    state: Literal["twin so far", "differs", "twins", "no second piece yet"]
    differences: tuple[Difference, ...] = ()
    sections: tuple[TwinRow, ...] = ()
    changed: tuple[str, ...] = ()

    def at(self, spot: str) -> tuple[Difference, ...]:
        """The differences that show at a round."""
        return tuple(each for each in self.differences if each.spot == spot)


@dataclass(frozen=True, slots=True)
class AsMade:
    """What glove one did at a round, to be shown at glove two.

    worked      glove one has this round
    hook_mm     the hook it was made with; hook_new: it was changed at this round
    counted     what she counted there, by US name
    notes       her notes at this round
    says        all of it in sentences
    """

    worked: bool
    hook_mm: float | None
    hook_new: bool
    counted: dict[str, int]
    notes: tuple[str, ...]
    says: tuple[str, ...]


def verdict(pattern: Pattern, making: Making, terms: Terms = "US", planner: Planner | None = None) -> Verdict:
    """Glove two held against glove one as made."""
    raise NotImplementedError


def as_made(pattern: Pattern, making: Making, spot: str, terms: Terms = "US") -> AsMade:
    """What glove one did at a round."""
    raise NotImplementedError
