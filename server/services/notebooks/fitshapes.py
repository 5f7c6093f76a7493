"""What the entries of fit and yarn may hold. No round depends on them: the fold keeps them and says nothing
(rule 18); `measuring` reads them. Lengths are in mm, yarn in m, weights in g, whatever they were typed in.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any, get_args

from server.craft.measure.gauge import Source
from server.craft.measure.hands import aged_hand, sized_hand
from server.craft.measure.handtables import child_ages
from server.craft.measure.hooks import hook_text
from server.craft.measure.lengths import length_text
from server.craft.measure.quantities import yarn_text
from server.craft.measure.updating import EASE_FROM
from server.craft.measure.yarnlength import stitch_lengths_mm
from server.craft.measure.yarntable import yarn_categories
from server.craft.text.tree import Pattern
from server.services.errors import Refusal
from server.services.notebooks.figures import Values, decimal, hook_mm, whole

GROUPS = ("women", "men", "adults", "child")
AROUND_MOST_MM, ALONG_MOST_MM = 600.0, 600.0
OVER_MOST_MM = 2000.0
STITCHES_MOST = 1000.0
WEIGHT_MOST_G, METRES_MOST = 5000.0, 20_000.0
CHAINS_MOST = 1000
SAMPLED = ("weighed", "unravelled", "counted")
EASE_MOST_PERCENT = round(-EASE_FROM * 100)
FELT = ("too loose", "too tight", "right")


def by_how_much(values: Values) -> float | None:
    """How much a ring was too long or short, mm; None where it was not said."""
    return _figure(values, "by_mm", AROUND_MOST_MM, "How much it is off", "12 cm or 4 3/4 in")


def _figure(values: Values, key: str, most: float, what: str, example: str) -> float | None:
    """A number above 0 and at most `most`; None where nothing was given."""
    given = values.get(key)
    if given is None or given == "":
        return None
    number = decimal(given)
    if number is not None and number > most:
        raise Refusal(f"{what} is at most {_most(key, most)}. Did you mean another unit?", key)
    if not number:
        raise Refusal(f"{what} is a number above 0, such as {example}.", key)
    return number


def _most(key: str, most: float) -> str:
    if key.endswith("_mm"):
        return f"{most / 10:g} cm, {length_text(most, 'in')}"
    if key == "metres":
        return f"{most:g} m, {yarn_text(most, 'in')}"
    return f"{most:g} g" if key == "grams" else f"{most:g}"


def _needed(values: Values, key: str, most: float, what: str, example: str) -> float:
    number = _figure(values, key, most, what, example)
    if number is None:
        raise Refusal(f"{what} is missing. Write it in digits, such as {example}.", key)
    return number


def _hand(values: Values, pattern: Pattern) -> Values:
    known, group = values.get("known"), values.get("group") or None
    if known not in ("measured", "size", "age", "group"):
        raise Refusal("Say how the hand is known: measured, by size, or by age.", "known")
    if group is not None and group not in GROUPS:
        raise Refusal("Say whose hand it is.", "group")
    kept: dict[str, Any] = dict.fromkeys(("around_mm", "size", "age_years"))
    try:
        if known == "measured":
            kept["around_mm"] = _needed(
                values, "around_mm", AROUND_MOST_MM, "The way around the knuckles", "18.5 cm or 7 1/4 in"
            )
        if known == "size":
            kept["size"] = " ".join(str(values.get("size", "")).split())[:20]
            sized_hand(kept["size"])
        if known == "age" or (group == "child" and values.get("age_years") not in (None, "")):
            kept["age_years"] = _age(values)
    except ValueError as error:
        raise Refusal(str(error), "size" if known == "size" else "age_years") from None
    if known == "group" and group in (None, "child"):
        raise Refusal("Say whose hand it is.", "group")
    along = {
        key: _figure(values, key, ALONG_MOST_MM, what, "9.5 cm or 3 3/4 in")
        for key, what in (
            ("wrist_mm", "The way around the wrist"),
            ("to_thumb_mm", "From the wrist to the thumb"),
            ("to_end_mm", "From the wrist to the end"),
        )
    }
    return {"known": known, "group": group, **kept, **along}


def _age(values: Values) -> int:
    """Completed years; ValueError for those that nothing is published for."""
    ages = child_ages()
    typed = str(values.get("age_years", "")).strip()
    if re.fullmatch(r"\d{1,3}", typed, re.ASCII) is None:
        raise ValueError(f"Write the age in whole years, from {ages[0]} to {ages[-1]}.")
    aged_hand(int(typed))
    return int(typed)


def _gauge(values: Values, pattern: Pattern) -> Values:
    source = values.get("source")
    if source not in get_args(Source):
        raise Refusal("Say which gauge: your swatch, the pattern's, or the yarn's.", "source")
    kept: dict[str, Any] = dict.fromkeys(("stitches", "over_mm", "rounds", "rounds_over_mm"))
    if source == "swatch":
        kept["stitches"] = _needed(values, "stitches", STITCHES_MOST, "The number of stitches", "18")
        kept["over_mm"] = _needed(
            values, "over_mm", OVER_MOST_MM, "The length you counted them over", "10 cm or 4 in"
        )
        kept["rounds"] = _figure(values, "rounds", STITCHES_MOST, "The number of rounds", "9")
        if kept["rounds"] is not None:
            over = "The length you counted the rounds over"
            along = _figure(values, "rounds_over_mm", OVER_MOST_MM, over, "10 cm or 4 in")
            kept["rounds_over_mm"] = kept["over_mm"] if along is None else along
    category = values.get("category")
    numbers = [each.number for each in yarn_categories()]
    kept["category"] = None
    if category not in (None, ""):
        kept["category"] = whole(values, "category", numbers[0], numbers[-1], "A yarn category")
    elif source == "category":
        raise Refusal("Choose the yarn's category: it is on most labels.", "category")
    hook = values.get("hook_mm")
    return {"source": source, **kept, "hook_mm": None if hook in (None, "") else hook_mm(hook)}


def _yarn(values: Values, pattern: Pattern) -> Values:
    category, numbers = values.get("category"), [each.number for each in yarn_categories()]
    kept = {
        "category": None
        if category in (None, "")
        else whole(values, "category", numbers[0], numbers[-1], "A yarn category"),
        "grams": _figure(values, "grams", WEIGHT_MOST_G, "The weight of a ball", "50 g"),
        "metres": _figure(values, "metres", METRES_MOST, "The length of a ball", "125 m or 136 yd"),
    }
    if (kept["grams"] is None) != (kept["metres"] is None):
        missing = "metres" if kept["metres"] is None else "grams"
        raise Refusal("A label has both: so many grams are so many metres.", missing)
    if kept["category"] is None and kept["grams"] is None:
        raise Refusal("Choose the yarn's category, or write what the label says.", "category")
    return kept


def _left(values: Values, pattern: Pattern) -> Values:
    grams = decimal(values.get("grams", ""))
    if grams is None or grams > WEIGHT_MOST_G:
        raise Refusal(f"Write what is left in grams, such as 32; at most {WEIGHT_MOST_G:g} g.", "grams")
    return {"grams": grams}


def _sampled(values: Values, pattern: Pattern) -> Values:
    what, stitch = values.get("what"), values.get("stitch")
    if what not in SAMPLED:
        raise Refusal("Say whether you weighed it, unravelled it, or counted stitches.", "what")
    if stitch not in stitch_lengths_mm():
        raise Refusal("Choose the stitch it was worked in.", "stitch")
    count = whole(values, "count", 1, 100_000, "The number of stitches")
    grams = metres = None
    if what == "weighed":
        grams = _needed(values, "grams", WEIGHT_MOST_G, "The swatch's weight", "6 g")
    else:
        metres = _needed(values, "metres", METRES_MOST, "The length of the yarn", "2.4 m or 95 in")
    return {"what": what, "stitch": stitch, "count": count, "grams": grams, "metres": metres}


def _felt(values: Values, pattern: Pattern) -> Values:
    verdict = values.get("verdict")
    if verdict not in FELT:
        raise Refusal("Say whether round one is too loose, too tight, or right.", "verdict")
    chains = whole(values, "foundation", 1, CHAINS_MOST, "The foundation chain")
    by_mm = None if verdict == "right" else by_how_much(values)
    hook = values.get("hook_mm")
    in_hand = None if hook in (None, "") else hook_mm(hook)
    return {"foundation": chains, "verdict": verdict, "by_mm": by_mm, "hook_mm": in_hand}


def _ease(values: Values, pattern: Pattern) -> Values:
    smaller = whole(
        values, "smaller_percent", 0, EASE_MOST_PERCENT, "How many per cent smaller than the hand"
    )
    return {"smaller_percent": smaller}


RULES: Mapping[str, Callable[[Values, Pattern], Values]] = {
    "hand": _hand,
    "gauge": _gauge,
    "yarn": _yarn,
    "left": _left,
    "sampled": _sampled,
    "felt": _felt,
    "ease": _ease,
}


def words(kind: str, values: Values) -> str:
    """An entry of these kinds in a few words, such as "yarn left: 32 g"."""
    if kind == "left":
        return f"yarn left: {float(values.get('grams') or 0):g} g"
    if kind == "gauge" and values.get("hook_mm"):
        return f"gauge with a hook of {hook_text(float(values['hook_mm']))}"
    said = {
        "hand": "your hand",
        "gauge": "your gauge",
        "yarn": "your yarn",
        "sampled": "yarn of a swatch or of stitches",
        "felt": "how round one fits",
        "ease": "how close it shall fit",
        "tried": "a ring tried on",
    }
    return said.get(kind, kind)
