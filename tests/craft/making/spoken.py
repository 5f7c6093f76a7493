"""Does what steps in full words say, and counts what was made: a check of the words against the fabric.

It knows nothing of doings or trees; it reads the words as a maker does.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from server.craft.text.tree import SpecialStitch

UPTO = re.compile(r", (?:to the end of the (?:round|row)|up to the (?:(?:first |\d+\w+ )?gap|last [^:,]+))")
GAP = re.compile(r"^make the (?:first |\d+\w+ )?gap: ")
TIMES = re.compile(r"^(\d+) times: (.*)$")
BRACKET = re.compile(r"^\[(.*)\] (\d+) times$")
INSIDE = re.compile(r"^work \((.*)\)(?: (\d+) times)? (in|around) (.*)$")
PLACES = re.compile(r"\beach of the (?:first |next |last )?(\d+) ")
EVERY = re.compile(r", (\d+) times$")
TOGETHER = re.compile(r"^.+ (\d+) together(?: (\d+) times)? over the (?:next|first|last) (\d+) ")
NOTHING = re.compile(
    r"^(?:skip|miss|join with a slip stitch|turn$|do not join$|fasten off$|slip stitch|then in|make a[n]? "
    r"|go on along the other side|make \d+ picots|join the yarn with a slip stitch)"
)


@dataclass(frozen=True, slots=True)
class Made:
    """Stitches (slip stitches left out) and chains."""

    stitches: int = 0
    chains: int = 0

    def __add__(self, other: Made) -> Made:
        return Made(self.stitches + other.stitches, self.chains + other.chains)

    def times(self, many: int) -> Made:
        return Made(self.stitches * many, self.chains * many)


def made_by(steps: tuple[str, ...], groups: Mapping[str, SpecialStitch]) -> Made:
    """All that these steps make; `groups` by their full names in small letters, singular and plural."""
    total = Made()
    for step in steps:
        words = UPTO.sub("", step.split("; ")[0])
        words = words[:1].lower() + words[1:]
        if passed := re.search(r"; the (\d+) chains before it count", step):
            total += Made(0, int(passed[1]))
        total += _line(words, groups)
    return total


def _line(words: str, groups: Mapping[str, SpecialStitch]) -> Made:
    many = 1
    if repeated := TIMES.match(words):
        many, words = int(repeated[1]), repeated[2]
    total = Made()
    for phrase in _phrases(words):
        total += _phrase(GAP.sub("", phrase), groups)
    return total.times(many)


def _phrases(words: str) -> Iterator[str]:
    """Parts between commas outside of brackets; ", 12 times" belongs to the part before it."""
    depth, start = 0, 0
    for at, character in enumerate(words):
        depth += (character in "([") - (character in ")]")
        if depth == 0 and words.startswith(", ", at) and not re.match(r", \d+ times(?:,|$)", words[at:]):
            yield words[start:at]
            start = at + 2
    yield words[start:]


def _phrase(phrase: str, groups: Mapping[str, SpecialStitch]) -> Made:
    if bracket := BRACKET.match(phrase):
        return _line(bracket[1], groups).times(int(bracket[2]))
    if inside := INSIDE.match(phrase):
        once = Made()
        for each in _phrases(inside[1]):
            once += _thing(each, groups)
        return once.times(int(inside[2] or 1) * _places(inside[4]))
    if chain := re.match(r"^chain (\d+)$", phrase):
        return Made(0, int(chain[1]))
    if made := re.match(r"^make (\d+) foundation ", phrase):
        return Made(int(made[1]), 0)
    if NOTHING.match(phrase):
        return Made()
    if phrase.startswith("join the yarn with a"):
        return Made(1, 0)
    if together := TOGETHER.match(phrase):
        assert int(together[1]) * int(together[2] or 1) == int(together[3]), phrase
        return Made(int(together[2] or 1), 0)
    thing, where = re.split(r" (?=(?:in|around) )", phrase, maxsplit=1)
    return _thing(thing, groups).times(_places(where))


def _places(where: str) -> int:
    found = PLACES.search(where) or EVERY.search(where)
    return int(found[1]) if found else 1


def _thing(words: str, groups: Mapping[str, SpecialStitch]) -> Made:
    """ "2 double crochets", "chain 1", "V-stitch"."""
    if chain := re.match(r"^chain (\d+)$", words):
        return Made(0, int(chain[1]))
    counted = re.match(r"^(\d+) (.*)$", words)
    many, name = (int(counted[1]), counted[2]) if counted else (1, words)
    group = groups.get(name.lower())
    if name.startswith("picot"):
        return Made()
    if group is None or group.one_stitch:
        assert name.lower().startswith(KNOWN) or group is not None, words
        return Made(many, 0)
    stitches = sum(isinstance(item, str) for item in group.items)
    return Made(stitches, sum(item for item in group.items if isinstance(item, int))).times(many)


KNOWN = (
    "single crochet", "half double crochet", "double crochet", "treble", "double treble", "triple treble",
    "quadruple treble", "half treble", "front post", "back post", "cluster", "puff", "popcorn", "bobble",
)  # fmt: skip
