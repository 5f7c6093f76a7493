"""Stitches by name: US and UK abbreviations, how they are spelled, their heights.

The ladder of names is one step apart: a US single crochet is a UK double crochet, and so on up. Source for
names and for the heights as turning chains: the conversion charts and the turning chain table named in
`tests/craft/outside` (crochetforall.com; Crochet Guild of America lessons as quoted there).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from server.craft.text.tree import Terms


@dataclass(frozen=True, slots=True)
class Rung:
    """One stitch of the ladder: its height in chains and its names."""

    us: str
    uk: str
    us_words: str
    uk_words: str
    height_ch: int


LADDER: tuple[Rung, ...] = (
    Rung("sl st", "sl st", "slip stitch", "slip stitch", 0),
    Rung("sc", "dc", "single crochet", "double crochet", 1),
    Rung("hdc", "htr", "half double crochet", "half treble", 2),
    Rung("dc", "tr", "double crochet", "treble", 3),
    Rung("tr", "dtr", "treble crochet", "double treble", 4),
    Rung("dtr", "ttr", "double treble", "triple treble", 5),
    Rung("trtr", "qtr", "triple treble", "quadruple treble", 6),
)
BY_US = {rung.us: rung for rung in LADDER}
BY_UK = {rung.uk: rung for rung in LADDER}

CLOSED = ("cluster", "puff", "popcorn", "bobble")
"""Stitches of several legs closed together: one stitch each, of that name."""

# common practice, no source: these are worked from double crochet legs unless a pattern says else
CLOSED_HEIGHT_CH = 3

POST = re.compile(r"^(FP|BP)(.+)$")
TOGETHER = re.compile(r"^(.+?)(\d+)tog$")

US_SPELLINGS = {
    "sc": "sc", "single crochet": "sc", "single": "sc",
    "hdc": "hdc", "half double crochet": "hdc", "half double": "hdc",
    "dc": "dc", "double crochet": "dc",
    "tr": "tr", "trc": "tr", "tc": "tr", "treble crochet": "tr", "treble": "tr", "triple crochet": "tr",
    "dtr": "dtr", "double treble crochet": "dtr", "double treble": "dtr",
    "trtr": "trtr", "triple treble": "trtr", "triple treble crochet": "trtr",
}  # fmt: skip
UK_SPELLINGS = {
    "dc": "sc", "double crochet": "sc",
    "htr": "hdc", "half treble": "hdc", "half treble crochet": "hdc",
    "tr": "dc", "treble": "dc", "treble crochet": "dc",
    "dtr": "tr", "double treble": "tr", "double treble crochet": "tr",
    "ttr": "dtr", "trtr": "dtr", "triple treble": "dtr", "triple treble crochet": "dtr",
    "qtr": "trtr", "quad tr": "trtr", "quadruple treble": "trtr", "quadtr": "trtr",
}  # fmt: skip
ONLY_US = {
    name: us for name, us in US_SPELLINGS.items() if name not in UK_SPELLINGS and name not in ("trc", "tc")
}
ONLY_UK = {name: us for name, us in UK_SPELLINGS.items() if name not in US_SPELLINGS}


def spellings(terms: Terms) -> dict[str, str]:
    """Every spelling of a ladder stitch in these terms, to its US abbreviation."""
    return US_SPELLINGS if terms == "US" else UK_SPELLINGS


def alien_spellings(terms: Terms) -> dict[str, str]:
    """Spellings that only the other terms have, to the US abbreviation that is meant there."""
    return ONLY_UK if terms == "US" else ONLY_US


@lru_cache(maxsize=1024)
def name_in(name: str, terms: Terms) -> str:
    """A stitch's abbreviation in US or UK terms; a name that is no ladder stitch stays as it is."""
    if terms == "US" or name in CLOSED:
        return name
    if (post := POST.match(name)) and post[2] in BY_US:
        return post[1] + BY_US[post[2]].uk
    if (together := TOGETHER.match(name)) and together[1] in BY_US:
        return f"{BY_US[together[1]].uk}{together[2]}tog"
    if name.startswith("f") and name[1:] in BY_US:
        return "f" + BY_US[name[1:]].uk
    return BY_US[name].uk if name in BY_US else name


def full_words(name: str, terms: Terms) -> str:
    """A stitch's name in full words, singular: "front post double crochet", "treble 2 together"."""

    def rung_words(us: str) -> str:
        return BY_US[us].us_words if terms == "US" else BY_US[us].uk_words

    if name in BY_US:
        return rung_words(name)
    if (post := POST.match(name)) and post[2] in BY_US:
        return ("front post " if post[1] == "FP" else "back post ") + rung_words(post[2])
    if (together := TOGETHER.match(name)) and together[1] in BY_US:
        return f"{rung_words(together[1])} {together[2]} together"
    return {"ch": "chain", "puff": "puff stitch"}.get(name, name)


def height_ch(name: str) -> int:
    """How tall a stitch stands, in chains: the turning chain that reaches its top."""
    if name in BY_US:
        return BY_US[name].height_ch
    if (post := POST.match(name)) and post[2] in BY_US:
        return BY_US[post[2]].height_ch
    if (together := TOGETHER.match(name)) and together[1] in BY_US:
        return BY_US[together[1]].height_ch
    return CLOSED_HEIGHT_CH if name in CLOSED else 1


@lru_cache(maxsize=512)
def plain_stitch(name: str) -> str:
    """The stitch that a decrease is wherever such a stitch is named: "sc2tog" is an "sc"."""
    together = TOGETHER.match(name)
    return together[1] if together and together[1] in BY_US else name


@lru_cache(maxsize=512)
def legs(name: str) -> int:
    """How many places a stitch takes: 2 for "sc2tog", else 1."""
    together = TOGETHER.match(name)
    return int(together[2]) if together and together[1] in BY_US else 1


def plural(name: str) -> str:
    """The plural of a stitch's or group's name as patterns write it: "V-sts", "Perches", "dc"."""
    low = name.lower()
    if (
        name in BY_US
        or name in BY_UK
        or POST.match(name)
        or TOGETHER.match(name)
        or low in ("ch", "foundation ch")
    ):
        return name + "s" if low.endswith(" st") else name
    if re.search(r"(s|x|z|ch|sh)$", low):
        return name + "es"
    if re.search(r"[^aeiou]y$", low):
        return name[:-1] + "ies"
    return name + "s"


def plurals_read(name: str) -> tuple[str, ...]:
    """Every form of a name that is read as that name: singular and plural, "-st" also as "-stitch"."""
    forms = {name, plural(name), name + "s"}
    if name.lower().endswith(("-st", " st")):
        stem = name[:-2]
        forms |= {stem + "stitch", stem + "stitches", stem + "sts"}
    return tuple(sorted(forms, key=lambda form: (-len(form), form)))
