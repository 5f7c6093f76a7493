"""The chart as SVG: the fabric drawn in the published symbols, with a key in words.

Colours are the page's own (`currentColor`), shapes carry the sense, and nothing needs a style attribute:
classes are for a page's style sheet, presentation attributes for a file by itself. The same input gives
the same bytes.
"""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections.abc import Collection, Sequence
from typing import Literal

from server.craft.fabric.chart.canvas import clean
from server.craft.fabric.chart.manner import Manner, Sheet
from server.craft.fabric.chart.measures import Specials
from server.craft.fabric.chart.panels import Layout, Panel, panels, round_panel, sections_of
from server.craft.fabric.chart.sheet import Draft
from server.craft.fabric.chart.words import Hand, description, title_of
from server.craft.fabric.values import Fabric, WorkedSection
from server.craft.text.tree import Terms

FONT = "Atkinson Next, Atkinson Hyperlegible Next, system-ui, sans-serif"
PEN_WIDTH = "1.5"


def chart(
    piece: Fabric | Sequence[WorkedSection],
    *,
    terms: Terms,
    layout: Layout | None = None,
    hand: Hand = "right",
    width_px: int | None = None,
    page: Literal["A4"] | None = None,
    highlight: str | None = None,
    steps: tuple[int, int] | None = None,
    only: Collection[int] | None = None,
    special: Specials | None = None,
    title: str = "",
    prefix: str = "",
    key: bool = True,
    key_px: int | None = None,
) -> str:
    """The chart of a piece, or of the sections whose index is in `only`, as an SVG document.

    terms       of the words in the key
    layout      "strip": rounds unrolled; "round": from the center; "rows"; None: what suits each part
    hand        "left" mirrors the drawing, not its words
    width_px    CSS pixels to fit; a wider drawing keeps a readable size and is to be scrolled
    page        "A4": as wide as a page's text, a wide strip cut into pieces one above another
    highlight   spot of a round to mark; `steps` a half-open range of its nodes to mark within it
    special     the pattern's special stitches by name, for the legs of closed stitches
    prefix      before every id, where a page has several charts
    key_px      CSS pixels that the key may take: it then stands under the rounds' start, where a phone that
                scrolls a wide strip shows it first
    """
    sheet = Sheet(width_px, page)
    manner = Manner(terms, hand, sheet, highlight, steps, special or {}, prefix, key, key_px=key_px)
    drawn = panels(sections_of(piece), layout=layout, only=only, specials=manner.specials)
    return _document(drawn, title, manner)


def strip_of_round(
    piece: Fabric | Sequence[WorkedSection],
    spot: str,
    *,
    terms: Terms,
    hand: Hand = "right",
    width_px: int | None = 360,
    below: int = 1,
    above: int = 0,
    other: Collection[str] | None = None,
    window: bool = False,
    steps: tuple[int, int] | None = None,
    special: Specials | None = None,
    title: str = "",
    prefix: str = "",
    key: bool = True,
) -> str:
    """One round as a strip, lit, among its neighbours: what a page shows while it is worked.

    below   so many rounds that it stands on, in a lighter line
    above   so many rounds that come next, lighter still: in glove two those that glove one has
    other   spots of the rounds that the other piece has: a dashed band lies behind them, so that a round
            beyond them is seen to be one too many. Glove one's log gives them (`making.pieces[1].worked`)
    window  leave out what `width_px` does not show, from where the round starts; dots say that it goes on.
            A strip is then about as small however long the round: 360 px with two rounds below and one
            above are 6 to 17 kB, 2 to 5 kB compressed
    steps   a half-open range of the round's nodes to mark. Ids like "s-1-3-2-17" (spot and node, after the
            prefix) let a page mark progress by itself; in a window, neighbours have no ids of stitches

    For the working page: `strip_of_round(fabric, spot, terms=terms, below=2, above=1, other=glove_one,
    window=True, key=False, prefix="strip-")`. Classes: "round lit", "round below", "round above", "band"
    for what lies behind a round, "cut" for the dots. A spot that the piece does not have draws nothing. The
    other options are those of `chart`.
    """
    sheet = Sheet(width_px, None)
    manner = Manner(terms, hand, sheet, spot, steps, special or {}, prefix, key, other, window)
    panel = round_panel(sections_of(piece), spot, below=below, above=above, specials=manner.specials)
    return _document((panel,) if panel is not None else (), title, manner)


def _document(drawn: Sequence[Panel], title: str, manner: Manner) -> str:
    body = ET.Element("g")
    draft = Draft(body, drawn, manner)
    draft.draw()
    box = draft.canvas.box
    if not math.isfinite(box.left):
        box.take_in(0.0, 0.0, 10.0, 10.0)
    margin = 4.0
    left, top = math.floor(box.left - margin), math.floor(box.top - margin)
    wide, high = math.ceil(box.right + margin) - left, math.ceil(box.bottom + margin) - top
    width, height = manner.sheet.shown(wide, high, draft.scale)
    ids = f"{manner.prefix}chart-title", f"{manner.prefix}chart-desc"
    root = ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg", "class": f"chart hand-{manner.hand}", "role": "img",
            "viewBox": f"{left} {top} {wide} {high}", "width": width, "height": height,
            "aria-labelledby": " ".join(ids), "fill": "none", "stroke": "currentColor",
            "stroke-width": PEN_WIDTH, "stroke-linecap": "round", "stroke-linejoin": "round",
            "font-family": FONT,
        },
    )  # fmt: skip
    ET.SubElement(root, "title", {"id": ids[0]}).text = clean(title_of(title, drawn))
    ET.SubElement(root, "desc", {"id": ids[1]}).text = clean(
        description(drawn, manner.hand, draft.lit, manner.other)
    )
    root.extend(body)
    return ET.tostring(root, encoding="unicode") + "\n"
