"""What people really made of a part: their counts, hooks and gauges, the rounds to fit, the yarn, and where
they went back or asked. Only what holds of five or more (`cells`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from sqlmodel import Session, col, select

from server.craft.fabric.values import Numbers
from server.craft.making.sizemeasures import size_numbers
from server.craft.measure.stated_yarn import read_yarn
from server.craft.text.tree import Header
from server.services.errors import NotFound
from server.services.recap.byhand import HandRow, by_hand
from server.services.recap.cells import FEWEST, Quartiles, cells, in_fives, quartiles, share
from server.services.recap.summaries import Summary, lines_of, pattern_of, plan_of, summaries
from server.storage import hosting
from server.storage.tables import Along, Part, PatternVersion, RoomEvent

UNKNOWN = "There is nothing of yours at this address."
ROUNDS_MOST = 12
STAGES = ("one under way", "one finished", "the pair finished")
ALONE = ("under way", "finished")


@dataclass(frozen=True)
class Bar:
    """A cell: what it is called, how many people, the answers in it, and the sizes that lie within it."""

    label: str
    people: int
    keys: tuple[object, ...]
    sizes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Picture:
    """A question with its cells in order.

    of       all who are in them
    written  what the pattern has, in words
    beside   of rounds to fit: how many more than written at their own numbers
    """

    title: str
    of: int
    bars: tuple[Bar, ...]
    written: str = ""
    beside: Quartiles | None = None


@dataclass(frozen=True)
class Spread:
    """A measure as half of them have it. unit: after the numbers; stated: the pattern's own, or None."""

    title: str
    found: Quartiles
    unit: str
    stated: float | None
    note: str


@dataclass(frozen=True)
class Trouble:
    """A round with how many went back to it and asked at it, in words. back: for the bar, 0 for too few."""

    where: str
    took_out: str
    asked: str
    back: int
    hands: int


@dataclass(frozen=True)
class Made:
    """What was made of one version of a part.

    people    who has settled on numbers and is counted here; 0 where they are fewer than five
    fits      one picture for each line to fit
    hands     middle counts by hand
    rare      sizes that fewer than five of them took
    troubles  those with the most first; of `people`, not all of whom have come to every round
    """

    part_id: int
    part_title: str
    along_id: int
    version: int
    versions: tuple[int, ...]
    text: str
    people: int
    counts: Picture | None
    rare: tuple[str, ...]
    hands: tuple[HandRow, ...]
    stages: Picture | None
    hooks: Picture | None
    fits: tuple[Picture, ...]
    spreads: tuple[Spread, ...]
    troubles: tuple[Trouble, ...]


def made(session: Session, host_id: int, part_id: int, number: int | None = None) -> Made:
    """Of a part of hers, of that version (None: the newest); NotFound where there is none."""
    found = session.exec(
        select(Part, Along).where(
            Part.id == part_id, Part.along_id == Along.id, hosting.is_hosted_by(host_id)
        )
    ).first()
    if found is None:
        raise NotFound(UNKNOWN)
    part, along = found
    rows = session.exec(
        select(PatternVersion).where(PatternVersion.part_id == part_id).order_by(col(PatternVersion.number))
    ).all()
    version = next((row for row in reversed(rows) if number in (None, row.number)), None)
    if version is None or version.id is None or along.id is None:
        raise NotFound(UNKNOWN)
    every = in_fives(summaries(session, part_id, version.id, version.text))
    header = pattern_of(version.text).header
    return Made(
        part_id=part_id,
        part_title=part.title,
        along_id=along.id,
        version=version.number,
        versions=tuple(row.number for row in rows),
        text=version.text,
        people=len(every),
        counts=_counts(header, every),
        rare=_rare(header, every),
        hands=by_hand(every),
        stages=_stages(header, every),
        hooks=_hooks(header, every),
        fits=tuple(_fits(version.text, every)),
        spreads=tuple(_spreads(header, every)),
        troubles=tuple(_troubles(version.text, every, _hands(session, version.id))),
    )


def _hands(session: Session, version_id: int) -> dict[str, set[int]]:
    """Line -> the notebooks that had a hand up there."""
    rows = session.exec(
        select(RoomEvent.section, RoomEvent.round, RoomEvent.notebook_id)
        .where(
            RoomEvent.version_id == version_id,
            RoomEvent.kind == "hand",
            col(RoomEvent.round).is_not(None),
            col(RoomEvent.notebook_id).is_not(None),
        )
        .distinct()
    ).all()
    found: dict[str, set[int]] = {}
    for section, line, notebook_id in rows:
        found.setdefault(f"{section}.{line}", set()).add(notebook_id or 0)
    return found


def _picture(
    title: str,
    found: Sequence[object],
    order: Sequence[object],
    label: Callable[[tuple[object, ...]], str],
    written: str = "",
) -> Picture | None:
    counted = in_fives(found)
    bars = tuple(Bar(label(keys), people, keys) for keys, people in cells(counted, order))
    return Picture(title, len(counted), bars, written) if bars else None


def _numbered(title: str, found: Sequence[float], unit: str, written: str = "") -> Picture | None:
    """Of numbers, in order. A first or last cell of several is open: how far it goes is one person's."""
    picture = _picture(title, found, sorted(set(found)), str, written)
    if picture is None:
        return None
    bars = tuple(replace(bar, label=_ranged(bar, unit, picture)) for bar in picture.bars)
    return replace(picture, bars=bars)


def _ranged(bar: Bar, unit: str, picture: Picture) -> str:
    first, last = (f"{float(str(bar.keys[at])):g}" for at in (0, -1))
    if len(bar.keys) == 1:
        return "1 round" if (first, unit) == ("1", "rounds") else f"{first} {unit}"
    if len(picture.bars) == 1:
        return "all of them"
    if bar is picture.bars[0]:
        return f"{last} {unit} or {'smaller' if unit == 'mm' else 'fewer'}"
    if bar is picture.bars[-1]:
        return f"{first} {unit} or {'larger' if unit == 'mm' else 'more'}"
    return f"{first} to {last} {unit}"


def _counts(header: Header, every: Sequence[Summary]) -> Picture | None:
    """Sizes stand beside their chains, all of them within a cell: which of them nobody took is not told."""
    sizes = header.sizes
    if not header.foundations:
        found: list[object] = [each.size for each in every if each.size is not None]
        return _picture("Sizes", found, list(sizes), _listed, written=", ".join(sizes))
    chains = [each.foundation for each in every if each.foundation is not None]
    picture = _numbered("Foundation chains", chains, "ch")
    if picture is None:
        return None
    named = [(bar, _sizes_within(header, bar, picture)) for bar in picture.bars]
    bars = tuple(
        replace(bar, label=f"{bar.label} ({', '.join(names)})" if names else bar.label, sizes=names)
        for bar, names in named
    )
    written = ", ".join(f"{name} {count}" for name, count in zip(sizes, header.foundations, strict=True))
    return replace(picture, bars=bars, written=written)


def _sizes_within(header: Header, bar: Bar, picture: Picture) -> tuple[str, ...]:
    low, high = (float(str(bar.keys[at])) for at in (0, -1))
    if len(bar.keys) > 1 and bar is picture.bars[0]:
        low = 0.0
    if len(bar.keys) > 1 and bar is picture.bars[-1]:
        high = float("inf")
    pairs = zip(header.sizes, header.foundations, strict=True)
    return tuple(name for name, chains in pairs if low <= chains <= high)


def _rare(header: Header, every: Sequence[Summary]) -> tuple[str, ...]:
    if len(every) < FEWEST:
        return ()
    foundations = header.foundations or (None,) * len(header.sizes)
    return tuple(
        name
        for name, chains in zip(header.sizes, foundations, strict=True)
        if sum((chains and each.foundation == chains) or each.size == name for each in every) < FEWEST
    )


def _stages(header: Header, every: Sequence[Summary]) -> Picture | None:
    """Each person stands in one cell: totals that hold each other would tell of those between."""
    if header.pieces == "one":
        found: list[object] = [ALONE[min(each.finished, 1)] for each in every]
        return _picture("How far they are", found, ALONE, _listed)
    found = [STAGES[min(each.finished, 2)] for each in every]
    return _picture("How far they are", found, STAGES, _listed)


def _hooks(header: Header, every: Sequence[Summary]) -> Picture | None:
    found = [each.hook_mm for each in every if each.hook_mm is not None]
    written = ", ".join(f"{each:g}" for each in dict.fromkeys(header.hook_mm))
    picture = _numbered("Hooks", found, "mm")
    return replace(picture, written=f"{written} mm" if written else "") if picture else None


def _fits(text: str, every: Sequence[Summary]) -> Iterator[Picture]:
    for line, written in lines_of(text).items():
        if written.until is None:
            continue
        found = [each.fits[line] for each in every if line in each.fits]
        title = f"{written.section or 'Rounds'}, to {written.until}"
        picture = _numbered(title, found, "rounds", _written_rounds(text, line))
        if picture is not None:
            yield replace(picture, beside=quartiles(list(_beside(text, line, every))))


def _beside(text: str, line: str, every: Sequence[Summary]) -> Iterator[float]:
    for each in every:
        fit = plan_of(text, Numbers(each.foundation, each.size)).fit_at(line)
        if fit is not None and line in each.fits:
            yield float(each.fits[line] - fit.written)


def _written_rounds(text: str, line: str) -> str:
    """ "small 5, medium 6" """
    said = []
    for numbers in size_numbers(pattern_of(text).header):
        fit = plan_of(text, numbers).fit_at(line)
        if fit is not None:
            said.append((numbers.size or "", fit.written))
    if len({rounds for _, rounds in said}) == 1:
        return f"{said[0][1]}"
    return ", ".join(f"{size} {rounds}" for size, rounds in said)


def _spreads(header: Header, every: Sequence[Summary]) -> Iterator[Spread]:
    gauge = header.gauge
    if gauge is not None:
        per_10_cm = float(gauge.stitches / gauge.length_cm * 10)
        widths = quartiles([per_10_cm / each.wider for each in every if each.wider])
        if widths is not None:
            yield Spread(
                "Gauge", widths, "sts to 10 cm", per_10_cm,
                "From widths as they were measured in the round, laid flat, against the counts.",
            )  # fmt: skip
        swatches = quartiles([each.swatch for each in every if each.swatch])
        if swatches is not None:
            yield Spread("Swatches", swatches, "sts to 10 cm", per_10_cm, "As makers wrote them down.")
    used = quartiles([part for each in every if (part := yarn_part(header, each)) is not None])
    if used is not None:
        yield Spread(
            "Yarn used", used, "% of what is stated", 100.0,
            "By weight, of finished pieces. At a count of one’s own, what is stated for the nearest size, in "
            "proportion to the chains.",
        )  # fmt: skip


def yarn_part(header: Header, each: Summary) -> float | None:
    """Per cent of the stated yarn; None where nothing was weighed, or nothing is stated."""
    stated = read_yarn(header.yarn)
    if each.grams is None or stated.put_up is None:
        return None
    size, by = _nearest_size(header, each)
    metres = stated.metres_for(size)
    return each.grams / (metres * stated.put_up.g_per_m * by) * 100 if metres else None


def _nearest_size(header: Header, each: Summary) -> tuple[int, float]:
    """(index of a size, her chains over that size's)"""
    if each.size in header.sizes:
        return header.sizes.index(each.size or ""), 1.0
    if each.foundation is None or not header.foundations:
        return 0, 1.0
    own = each.foundation
    at = min(range(len(header.foundations)), key=lambda n: abs(header.foundations[n] - own))
    return at, own / header.foundations[at]


def _troubles(text: str, every: Sequence[Summary], hands: dict[str, set[int]]) -> Iterator[Trouble]:
    of = len(every)
    here = {each.notebook_id for each in every}
    found = []
    for line, written in lines_of(text).items():
        back = sum(line in each.went_back for each in every)
        asked = len(hands.get(line, set()) & here)
        if of >= FEWEST and max(back, asked) >= FEWEST:
            where = ", ".join(each for each in (written.section, written.label) if each) or "A round"
            told = [(many if many >= FEWEST else 0) for many in (back, asked)]
            found.append(Trouble(where, share(back, of), share(asked, of), *told))
    found.sort(key=lambda each: -max(each.back, each.hands))
    yield from found[:ROUNDS_MOST]


def _listed(keys: tuple[object, ...]) -> str:
    words = [str(each) for each in keys]
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + f" or {words[-1]}"
