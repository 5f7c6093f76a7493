"""The key: every symbol that was drawn, and no other, beside its words."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from server.craft.fabric.chart import measures
from server.craft.fabric.chart.canvas import LETTER, Canvas, wrapped
from server.craft.fabric.chart.marks import Mark, Shape
from server.craft.fabric.chart.measures import CHAIN, CLOSED_LEGS, Specials
from server.craft.fabric.chart.names import full_words
from server.craft.fabric.chart.pen import Projection
from server.craft.text.tree import Terms
from server.craft.text.vocabulary import BY_US, TOGETHER, name_in

GLYPH_ROOM = 34.0
GLYPH_LETTERS = 2.9  # at least so many letters of room for a symbol, where the text is large
COLUMN_LETTERS = 17  # a column of the key is at least so many letters wide
LOOP_WORDS = {
    "back": "in the back loop only",
    "front": "in the front loop only",
    "third": "in the third loop",
}
KIND_ORDER = ("ring", "ch", "slip", "begin", "passed", "stitch", "picot", "loop")


@dataclass(frozen=True, slots=True)
class Entry:
    """A symbol with its words."""

    symbol: str
    words: str
    sample: Mark


def token(symbol: str) -> str:
    """A symbol as a class name."""
    return re.sub(r"[^A-Za-z0-9]+", "-", symbol).strip("-")


def entries(marks: Iterable[Mark], terms: Terms, specials: Specials) -> tuple[Entry, ...]:
    """The key's entries for these marks."""
    symbols: dict[str, Mark] = {}
    for mark in marks:
        symbols.setdefault(mark.symbol, mark)
        if mark.loop:
            symbols.setdefault(f"loop:{mark.loop}", mark)
    ordered = sorted(symbols, key=lambda symbol: _order(symbol, specials))
    return tuple(
        Entry(
            symbol,
            words_of(symbol, symbols[symbol], terms, specials),
            _sample(symbol, symbols[symbol], specials),
        )
        for symbol in ordered
    )


def _order(symbol: str, specials: Specials) -> tuple[int, float, str]:
    kind = symbol.partition(":")[0]
    if kind not in KIND_ORDER:
        return (
            KIND_ORDER.index("stitch"),
            measures.height(symbol, specials) + 100 * bool(symbol not in BY_US),
            symbol,
        )
    return KIND_ORDER.index(kind), 0.0, symbol


def words_of(symbol: str, mark: Mark, terms: Terms, specials: Specials) -> str:
    """What a symbol stands for."""
    kind, _, rest = symbol.partition(":")
    if kind == "ring":
        return "adjustable ring to begin in"
    if kind == "ch":
        return "ch: chain"
    if kind == "slip":
        return f"{name_in('sl st', terms)}: slip stitch"
    if kind in ("begin", "passed"):
        size, _, name = rest.partition(":")
        counts = f"counts as {name_in(name, terms)}" if name else "does not count as a stitch"
        if kind == "passed":
            plural = "chains passed, count" if size != "1" else "chain passed, counts"
            return f"{size} {plural} as {name_in(name, terms)}" if name else f"{size} ch passed, not a stitch"
        return f"ch {size} to begin, {counts}"
    if kind == "picot":
        return f"picot: ring of ch {rest}, closed"
    if kind == "loop":
        return LOOP_WORDS[rest]
    return _stitch_words(symbol, terms, specials)


def _stitch_words(name: str, terms: Terms, specials: Specials) -> str:
    short = name_in(name, terms)
    special = specials.get(name)
    if special is not None and special.items:
        stitches = [item for item in special.items if isinstance(item, str)]
        if stitches:
            return f"{name}: {len(stitches)} {name_in(stitches[0], terms)} closed together"
    words = full_words(name, terms)
    if name in CLOSED_LEGS:
        return f"{words or short}: several legs closed to one"
    return f"{short}: {words}" if words and words != short else short


# --- samples -------------------------------------------------------------------------------------------


SHAPES: dict[str, Shape] = {"ring": "ring", "ch": "oval", "slip": "dot", "picot": "loop"}


def _sample(symbol: str, mark: Mark, specials: Specials) -> Mark:
    """A mark of that symbol by itself, standing at height 0."""
    kind, _, rest = symbol.partition(":")
    if kind == "loop":
        name = mark.name if measures.ladder_name(mark.name) else "dc"
        return Mark(-1, "post", symbol, name, ((0.0, 0.0),), (0.0, measures.height(name, specials)), 1, rest)
    shape = SHAPES.get(kind, mark.shape)
    if shape == "oval":
        return Mark(-1, shape, symbol, "ch", ((CHAIN / 2, 6.0),), (-CHAIN / 2, 6.0))
    if shape in ("dot", "ring"):
        return Mark(-1, shape, symbol, mark.name, (), (0.0, 6.0), 6 if shape == "ring" else 1)
    if shape == "loop":
        return Mark(-1, shape, symbol, "picot", ((0.0, 0.0),), (0.0, 14.0), mark.size)
    if shape in ("column", "rail"):
        name = symbol.split(":")[2]
        tall = measures.height(name, specials) if name else mark.size * 11.0
        return Mark(
            -1,
            shape,
            symbol,
            name,
            ((0.0 if shape == "column" else measures.WIDTH / 2, 0.0),),
            (0.0 if shape == "column" else measures.WIDTH / 2, tall),
            mark.size,
        )
    tall = measures.height(mark.name, specials)
    legs = len(mark.feet) if TOGETHER.match(mark.name) else 1
    feet = tuple(((place - (legs - 1) / 2) * 13.0, 0.0) for place in range(legs))
    return Mark(-1, "post", symbol, mark.name, feet, (0.0, tall), mark.size)


# --- drawing -------------------------------------------------------------------------------------------


def draw_key(
    canvas: Canvas,
    parent: ET.Element,
    lines: Sequence[Entry],
    notes: Sequence[tuple[str, str]],
    wide: float,
    top: float,
) -> None:
    """Draws the key below `top`, in as many columns as `wide` has room for.

    notes   further signs: "start" or "below", with their words
    """
    holder = canvas.group(parent, class_="key")
    size = canvas.size
    canvas.text(holder, (0.0, top + size), "Key", anchor="start", font_weight="bold")
    everything = [entry.words for entry in lines] + [words for _, words in notes]
    room = max(GLYPH_ROOM, GLYPH_LETTERS * size)
    columns = max(1, int(wide // (room + COLUMN_LETTERS * size * LETTER)))
    column = wide / columns
    y = top + size * 1.6
    rows = [everything[start : start + columns] for start in range(0, len(everything), columns)]
    at = 0
    for row in rows:
        texts = [wrapped(words, column - room - 6.0, size) for words in row]
        tall = [
            entry_height(lines[at + place].sample) if at + place < len(lines) else 12.0
            for place in range(len(row))
        ]
        high = max(max(tall), max(len(text) for text in texts) * size * 1.15) + 8.0
        for place, text in enumerate(texts):
            left, index = place * column, at + place
            symbol = lines[index].symbol if index < len(lines) else notes[index - len(lines)][0]
            one = canvas.group(holder, class_="key-entry", data_symbol=token(symbol))
            center = y + high / 2
            if index < len(lines):
                _draw_sample(canvas, one, lines[index].sample, left + room / 2, center)
            else:
                _draw_note(canvas, one, symbol, left + room / 2, center)
            for line, words in enumerate(text):
                base = center + (line - (len(text) - 1) / 2) * size * 1.15 + size * 0.36
                canvas.text(one, (left + room, base), words, anchor="start")
        y += high
        at += len(row)


def entry_height(sample: Mark) -> float:
    """How tall a sample is drawn."""
    return max(12.0, sample.top[1] + 4.0)


def _draw_sample(canvas: Canvas, parent: ET.Element, sample: Mark, x: float, y: float) -> None:
    """A sample with its middle at a point of the page."""
    low = y + entry_height(sample) / 2 - 2.0
    moved = Mark(
        sample.node, sample.shape, sample.symbol, sample.name,
        tuple((-x + u, -low + v) for u, v in sample.feet), (-x + sample.top[0], -low + sample.top[1]),
        sample.size, sample.loop,
    )  # fmt: skip
    canvas.mark(parent, moved, Projection(False), {"class": "sample"})


def _draw_note(canvas: Canvas, parent: ET.Element, kind: str, x: float, y: float) -> None:
    if kind == "start":
        pen = canvas.pen()
        pen.line((x - 9.0, y), (x - 3.0, y - 3.6), (x - 3.0, y + 3.6))
        pen.close()
        canvas.path(parent, pen, class_="start", fill="currentColor", stroke="none")
        canvas.text(parent, (x + 1.0, y + canvas.size * 0.36), "2", anchor="start")
        return
    if kind == "other":
        pen = canvas.pen()
        pen.line((x - 11.0, y - 6.0), (x + 11.0, y - 6.0), (x + 11.0, y + 6.0), (x - 11.0, y + 6.0))
        pen.close()
        canvas.path(
            parent, pen, class_="band", fill="currentColor", fill_opacity="0.08", stroke_width="0.8",
            stroke_dasharray="3 2.5",
        )  # fmt: skip
        return
    tall = measures.HEIGHTS["dc"]
    sample = Mark(-1, "post", kind, "dc", ((-x, -y - tall / 2),), (-x, -y + tall / 2))
    canvas.mark(parent, sample, Projection(False), {"class": "sample", "opacity": "0.5"})
