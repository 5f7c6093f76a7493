"""A pattern and a planner made by hand, so that places and twin rules are tested apart from the engine.

The pair: Cuff (foundation, 2 rounds, then 4 to fit), Thumb gap (1), Hand (1, then 3 to fit), Top edging (1),
Thumb around the gap (2).
"""

from __future__ import annotations

from typing import Literal

from server.craft.fabric.values import Numbers
from server.craft.making import CountItem, Fit, Plan, PlanRound, PlanSection
from server.craft.text.tree import Header, Pattern, SectionKind, Terms

PATTERN = Pattern(Header(title="Slipway Wristers", foundations=(24, 28), sizes=("small", "large")), ())
ONE_PIECE = Pattern(Header(title="Slipway Cap", foundations=(24,), pieces="one"), ())
SOCKS = Pattern(Header(title="Slipway Socks", foundations=(24,)), ())

# section: title, kind, lines; a line is its rounds' first label and how many, with a place for rounds to fit
Line = tuple[str, int, str | None]
SECTIONS: tuple[tuple[str, SectionKind, tuple[Line, ...]], ...] = (
    ("Cuff", "body", (("Foundation rnd", 1, None), ("1", 2, None), ("3", 4, "the base of the thumb"))),
    ("Thumb gap", "gap", (("1", 1, None),)),
    ("Hand", "body", (("1", 1, None), ("2", 3, "the knuckles"))),
    ("Top edging", "body", (("1", 1, None),)),
    ("Thumb", "gap edge", (("1", 2, None),)),
)


def planner(pattern: Pattern, numbers: Numbers, terms: Terms) -> Plan:
    """The plan of PATTERN (or its like) in these numbers: 24 chains make 8 V-sts a round, 28 make 9."""
    fits = dict(numbers.fits)
    sections = []
    for index, (title, kind, lines) in enumerate(SECTIONS):
        rounds: list[PlanRound] = []
        to_fit: list[Fit] = []
        for at, (label, written, until) in enumerate(lines):
            line = f"{index}.{at}"
            many = fits.get(line, written) if until else written
            if until:
                to_fit.append(Fit(line, until, 1, written, many))
            for turn in range(1, many + 1):
                name = label if label.startswith("Foundation") else f"Rnd {int(label) + turn - 1}"
                rounds.append(_round(f"{line}.{turn}", index, title, name, numbers, line if until else None))
        sections.append(PlanSection(index, title, "", kind, tuple(rounds), tuple(to_fit), (), ()))
    pieces: Literal["pair", "one"] = pattern.header.pieces
    return Plan(pattern.header.title, pieces, numbers, terms, tuple(sections))


def _round(spot: str, section: int, title: str, label: str, numbers: Numbers, fit: str | None) -> PlanRound:
    groups = (numbers.foundation or 24) // 3
    item = CountItem("V-st", groups, f"{groups} V-sts")
    return PlanRound(
        spot=spot,
        section=section,
        section_title=title,
        label=label,
        host_line="",
        line="",
        steps=("V-st in each",),
        counts={"V-st": groups, "dc": 2 * groups, "sts": 2 * groups},
        count_text=item.words,
        to_count=(item,),
        stitches=3 * groups,
        fit=fit,
    )


def spots(*upto: str, fits: dict[str, int] | None = None) -> list[str]:
    """Every spot of the pair in working order, up to and with the one named; all of them without one."""
    numbers = Numbers(24, None, tuple((fits or {}).items()))
    every = [each.spot for each in planner(PATTERN, numbers, "US").rounds]
    return every[: every.index(upto[0]) + 1] if upto else every
