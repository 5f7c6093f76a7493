"""What the next version of a part might have, from what was really made; each with its reason.

It reads only what the page shows (`made`), so that a reason cannot tell more than that. The bounds are
judgement, and are named.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from server.craft.text.tree import Header
from server.services.recap.cells import share
from server.services.recap.made import Made, Picture
from server.services.recap.summaries import pattern_of

MANY_ENOUGH = 0.1  # of all, for a size of its own: a tenth
RARE_AMONG = 20  # makers, before a size that hardly anybody took is worth a word
GAUGE_OFF = 0.04  # of the gauge: two thirds of a stitch in eighteen, which is seen in a mitt
YARN_OVER, YARN_UNDER = 100.0, 75.0  # per cent of what is stated, of the quarter that took most


@dataclass(frozen=True)
class Suggestion:
    """What to change, and why."""

    change: str
    reason: str


def suggestions(found: Made) -> tuple[Suggestion, ...]:
    """For the next version; none where too few have made it, or where it all fits."""
    header = pattern_of(found.text).header
    return (*_sizes(header, found), *_rounds(found), *_spreads(found))


def foundation_line(header: Header, found: Made) -> str:
    """The pattern's line with the sizes that are suggested: "Foundation: 27 (30, 33, 36), multiple of 3"; ""
    where none are."""
    wanted = [count for count, _ in _wanted(header, found.counts)]
    if not wanted:
        return ""
    first, *others = sorted({*header.foundations, *wanted})
    plus = f" + {header.plus}" if header.plus else ""
    return f"Foundation: {first} ({', '.join(map(str, others))}), multiple of {header.multiple}{plus}"


def _wanted(header: Header, counts: Picture | None) -> Iterator[tuple[int, int]]:
    """(chains, people) of counts that are no size, that one cell is of alone, and that a tenth took."""
    if counts is None or not header.foundations or not header.multiple:
        return
    for bar in counts.bars:
        keys = [int(str(key)) for key in bar.keys]
        if len(keys) == 1 and keys[0] not in header.foundations and bar.people >= counts.of * MANY_ENOUGH:
            yield keys[0], bar.people


def _sizes(header: Header, found: Made) -> Iterator[Suggestion]:
    for chains, people in _wanted(header, found.counts):
        yield Suggestion(
            f"A size over {chains} chains.",
            f"{share(people, found.people)} settled on {chains}, which is a count of their own now.",
        )
    for bar in found.counts.bars if found.counts and header.foundations else ():
        if len(bar.keys) > 1 and not bar.sizes and bar.people >= found.people * MANY_ENOUGH:
            yield Suggestion(
                f"A size among {bar.label}.",
                f"{share(bar.people, found.people)} settled on a count there, and none of them is a size.",
            )
    if found.people < RARE_AMONG:
        return
    for name in found.rare:
        yield Suggestion(
            f"Think about the size {name}.",
            f"{share(0, found.people)} took it. It may still be the one that fits somebody.".capitalize(),
        )


def _rounds(found: Made) -> Iterator[Suggestion]:
    for fit in found.fits:
        beside = fit.beside
        if beside is None or abs(beside.middle) < 1:
            continue
        more = round(abs(beside.middle))
        words = f"{more} round{'' if more == 1 else 's'} {'more' if beside.middle > 0 else 'fewer'}"
        yield Suggestion(
            f"Write {words} in “{fit.title}”.",
            f"At least half of {beside.of} made {words} than is written at their size.",
        )


def _spreads(found: Made) -> Iterator[Suggestion]:
    for each in found.spreads:
        if each.stated is None:
            continue
        q, stated = each.found, each.stated
        if each.title == "Gauge" and abs(q.middle / stated - 1) > GAUGE_OFF:
            looser = q.middle < stated
            yield Suggestion(
                f"Ask for a {'smaller' if looser else 'larger'} hook, or state {q.middle:.1f} sts to 10 cm.",
                f"Half of {q.of} came out at {q.middle:.1f} or {'fewer' if looser else 'more'}; the pattern "
                f"says {stated:g}.",
            )
        elif each.title == "Yarn used" and q.high > YARN_OVER:
            yield Suggestion(
                "State more yarn.",
                f"A quarter of {q.of} used {q.high:.0f} % of what is stated, or more.",
            )
        elif each.title == "Yarn used" and q.high < YARN_UNDER:
            yield Suggestion(
                "State less yarn.",
                f"Three in four of {q.of} used {q.high:.0f} % of what is stated, or less.",
            )
