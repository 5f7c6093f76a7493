"""A pattern's yarn line, and whether the pattern can be made from what it asks for."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from server.craft.fabric import Numbers, work
from server.craft.fabric.keeping import Cache
from server.craft.measure.calibrating import calibrated
from server.craft.measure.gauge import Gauge, pattern_gauge
from server.craft.measure.lengths import Units, gauge_text
from server.craft.measure.needing import YarnNeed, yarn_need
from server.craft.measure.putup import LENGTH, NUMBER, WEIGHT, PutUp, grams_of, metres_of, read_put_up
from server.craft.measure.quantities import label_text, yarn_text
from server.craft.measure.yarnlength import piece_yarn, setting
from server.craft.measure.yarntable import YarnCategory, yarn_categories, yarn_category
from server.craft.text.tree import Header, Pattern

INCHES = re.compile(r"\d\s*(?:in\b|inch|[\"”″])", re.IGNORECASE)
BY_SIZE = rf"{NUMBER}((?:[\s,]*[(\[][\d.,\s]+[)\]])*)\s*"
LENGTH_LIST = re.compile(BY_SIZE + r"(m|metres?|meters?|yds?|yards?)\b", re.IGNORECASE)
WEIGHT_LIST = re.compile(BY_SIZE + r"(g|gr|grams?|oz|ounces?)\b", re.IGNORECASE)
PUT_UP = re.compile(
    rf"(?:{WEIGHT}[\s.,]*(?:=|/|per|to|is|:|-|–|\()[\s.]*{LENGTH}|"
    rf"{LENGTH}[\s.,]*(?:=|/|per|to|is|:|-|–|\()[\s.]*{WEIGHT})",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class StatedYarn:
    """A yarn line as far as it reads: category, metres or grams asked for (one, or one per size), the
    put-up.
    """

    category: YarnCategory | None = None
    metres: tuple[float, ...] = ()
    grams: tuple[float, ...] = ()
    put_up: PutUp | None = None

    def metres_for(self, size: int) -> float | None:
        """Metres asked for at the size of that index; of grams by the put-up. None where nothing is
        stated.
        """
        if self.metres:
            return self.metres[min(size, len(self.metres) - 1)]
        if self.grams and self.put_up is not None:
            return self.grams[min(size, len(self.grams) - 1)] / self.put_up.g_per_m
        return None


@dataclass(frozen=True, slots=True)
class StatedCheck:
    """What one size asks for against what its fabric takes, m.

    verdict   "cannot" under the lower end of nine cases in ten, "short" under the middle, "enough", or
              "too much" over twice the upper end
    """

    size: str
    stated_m: float
    need: YarnNeed
    verdict: Literal["cannot", "short", "enough", "too much"]
    says: str

    @property
    def warns(self) -> bool:
        """Whether a host should look at it."""
        return self.verdict in ("cannot", "short")


def read_yarn(line: str) -> StatedYarn:
    """Reads a `Yarn:` line: "4 medium, 74 (84, 96) m, 100 g = 170 m". What does not read is left out."""
    put_up = read_put_up(line)
    rest = PUT_UP.sub(" ", line)
    return StatedYarn(
        _category(rest),
        tuple(_by_size(LENGTH_LIST, rest, metres_of)),
        tuple(_by_size(WEIGHT_LIST, rest, grams_of)),
        put_up,
    )


def gauge_in(header: Header, units: Units) -> str:
    """The stated gauge in hers, to stand behind the pattern's own: " (18.3 stitches in 4 in)"; empty where
    the pattern has it so.
    """
    line, gauge = header.line("Gauge"), header_gauge(header)
    if line is None or gauge is None or bool(INCHES.search(line.value)) == (units == "in"):
        return ""
    return f" ({gauge_text(gauge.stitches, units)})"


def yarn_in(text: str, units: Units) -> str:
    """A yarn line with each length in hers behind it, where it is in the other: "50 g = 125 m (136.7 yd)"."""

    def both(found: re.Match[str]) -> str:
        yards = found[2].lower().startswith("y")
        if yards == (units == "in"):
            return found[0]
        return f"{found[0]} ({label_text(metres_of(found[1], found[2]), units)})"

    return re.sub(LENGTH, both, text, flags=re.IGNORECASE)


def own_units(header: Header) -> Units:
    """Inches and yards for a pattern whose yarn is in yards."""
    return "in" if re.search(r"[\d)\]]\s*(?:yds?|yards?)\b", header.yarn, re.IGNORECASE) else "cm"


def check_stated(
    pattern: Pattern, units: Units = "cm", cache: Cache | None = None
) -> tuple[StatedCheck, ...]:
    """Each size's stated yarn against its fabric, in the pattern's own hook and yarn; none where none is
    stated. `cache` has what was worked before, as in `prove`.

    The pattern has to be proved: what does not work raises as `work` does.
    """
    header = pattern.header
    stated = read_yarn(header.yarn)
    checks = []
    for index, size in enumerate(header.sizes):
        asked = stated.metres_for(index)
        if asked is None:
            continue
        foundation = header.foundations[index] if header.foundations else None
        need = stated_need(pattern, Numbers(foundation, size), stated, index, units, cache)
        checks.append(_check(size, asked, need, units))
    return tuple(checks)


def stated_need(
    pattern: Pattern,
    numbers: Numbers,
    stated: StatedYarn,
    size: int = 0,
    units: Units = "cm",
    cache: Cache | None = None,
) -> YarnNeed:
    """What the pattern takes in these numbers with its own hook, yarn and put-up."""
    header = pattern.header
    by = setting(hook_for(header, size), stated.category)
    piece = piece_yarn(work(pattern, numbers, cache), header, by)
    calibration = calibrated(
        by, unmeasured=piece.unmeasured, put_up=stated.put_up, category=stated.category, units=units
    )
    pieces = 2 if header.pieces == "pair" else 1
    return yarn_need(piece, calibration, by, pieces=pieces, put_up=stated.put_up, units=units)


def hook_for(header: Header, size: int) -> float | None:
    """The pattern's hook at the size of that index, mm; None where it names none."""
    return header.hook_mm[min(size, len(header.hook_mm) - 1)] if header.hook_mm else None


def hook_at(header: Header, foundation: int) -> float | None:
    """The pattern's hook at a count, mm: the size's, of a custom count the nearest smaller size's."""
    smaller = [at for at, chains in enumerate(header.foundations) if chains <= foundation]
    return hook_for(header, max(smaller, key=lambda at: header.foundations[at], default=0))


def gauge_hook(header: Header) -> float | None:
    """The hook that the pattern's gauge is worked with, mm; None where sizes have hooks of their own."""
    return header.hook_mm[0] if len(set(header.hook_mm)) == 1 else None


def header_gauge(header: Header) -> Gauge | None:
    """The pattern's gauge with its hook; None where it states none."""
    stated = header.gauge
    if stated is None:
        return None
    rounds = float(stated.rounds) if stated.rounds is not None else None
    return pattern_gauge(float(stated.stitches), rounds, float(stated.length_cm) * 10, gauge_hook(header))


def _check(size: str, asked: float, need: YarnNeed, units: Units) -> StatedCheck:
    about, asks = yarn_text(need.metres.middle, units), yarn_text(asked, units)
    if asked < need.metres.low:
        verdict: Literal["cannot", "short", "enough", "too much"] = "cannot"
        says = (
            f"{size}: {asks} will hardly do. The stitches take about {about}, at least {_low(need, units)}."
        )
    elif asked < need.metres.middle:
        verdict = "short"
        says = f"{size}: {asks} may run short. The stitches take about {about}."
    elif asked > 2 * need.metres.high:
        verdict = "too much"
        says = f"{size}: {asks} is over twice what the stitches take (about {about})."
    else:
        verdict = "enough"
        says = f"{size}: {asks} is enough; the stitches take about {about}."
    return StatedCheck(size, asked, need, verdict, says)


def _low(need: YarnNeed, units: Units) -> str:
    return yarn_text(need.metres.low, units)


def _category(text: str) -> YarnCategory | None:
    if match := re.match(r"\s*(?:category\s*|cat\.?\s*|#)?([0-7])(?![\d.])\s*([a-z ]*)", text, re.IGNORECASE):
        rest = match[2].strip().lower()
        if not rest.startswith(("m", "g", "y", "o", "ball", "skein")) or rest.startswith("medium"):
            return yarn_category(int(match[1]))
    low = f" {text.lower()} "
    for each in sorted(yarn_categories(), key=lambda one: -len(one.name)):
        if re.search(rf"\b{each.name.lower()}\b", low):
            return each
    for word in ("worsted", "aran", "dk", "sport", "fingering", "chunky", "light worsted"):
        if re.search(rf"\b{word}\b", low):
            return yarn_category("light worsted" if "light worsted" in low else word)
    return None


def _by_size(pattern: re.Pattern[str], text: str, convert: object) -> Iterator[float]:
    assert callable(convert)
    match = pattern.search(text)
    if match is None:
        return
    numbers: Sequence[str] = [match[1], *re.findall(r"\d+(?:\.\d+)?", match[2])]
    for number in numbers:
        yield float(convert(number, match[3]))
