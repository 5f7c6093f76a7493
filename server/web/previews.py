"""The picture that goes with a link to an along when it is passed on (Open Graph): 1200 by 630, a PNG.

Its title is set in our own face; letters that the face does not have are left out.
"""

from __future__ import annotations

import io
from functools import lru_cache

from fontTools.ttLib import TTFont
from PIL import Image, ImageDraw, ImageFont

from server.web.pages import STATIC

WIDTH, HEIGHT = 1200, 630
FINER = 2  # drawn larger and made smaller, for even lines
GROUND, SHEET, INK, QUIET, LINE, ACCENT = "#f2ecdf", "#fbf8f1", "#26221b", "#5a5346", "#867b66", "#e9ad3c"
FACES = ("atkinson-next-latin.woff2", "atkinson-next-latin-ext.woff2")
TITLE_LINES = 3
TITLE_SIZES = (92, 76, 62)  # px; the first at which the title goes into its lines
LEFT, TEXT_WIDTH = 80, 600


@lru_cache(maxsize=4)
def _face(name: str) -> tuple[bytes, frozenset[int]]:
    """A face as Pillow reads it, and the characters it has."""
    font = TTFont(STATIC / "fonts" / name)
    font.flavor = None
    out = io.BytesIO()
    font.save(out)
    return out.getvalue(), frozenset(font.getBestCmap())


@lru_cache(maxsize=32)
def _font(name: str, size: int, weight: int) -> ImageFont.FreeTypeFont:
    font = ImageFont.truetype(io.BytesIO(_face(name)[0]), size * FINER)
    font.set_variation_by_axes([weight])
    return font


def _runs(text: str) -> list[tuple[str, str]]:
    """(face, letters) in order; letters that no face has are left out."""
    runs: list[tuple[str, str]] = []
    for letter in text:
        name = next((name for name in FACES if ord(letter) in _face(name)[1]), None)
        if name is None:
            continue
        if runs and runs[-1][0] == name:
            runs[-1] = (name, runs[-1][1] + letter)
        else:
            runs.append((name, letter))
    return runs


def _width(text: str, size: int, weight: int) -> float:
    return sum(_font(name, size, weight).getlength(letters) for name, letters in _runs(text)) / FINER


def _lines(text: str, size: int, weight: int) -> list[str]:
    """The words of a text in lines of the text's width; a word that is too long for one is cut."""
    lines: list[str] = []
    for word in text.split():
        while len(word) > 1 and _width(word, size, weight) > TEXT_WIDTH:
            word = word[:-2] + "…" if word.endswith("…") else word[:-1] + "…"
        if lines and _width(f"{lines[-1]} {word}", size, weight) <= TEXT_WIDTH:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def _write(
    draw: ImageDraw.ImageDraw, at: tuple[float, float], text: str, size: int, weight: int, ink: str
) -> None:
    x, y = at[0] * FINER, at[1] * FINER
    for name, letters in _runs(text):
        font = _font(name, size, weight)
        draw.text((x, y), letters, font=font, fill=ink, anchor="ls")
        x += font.getlength(letters)


def _mitt(draw: ImageDraw.ImageDraw, left: float, top: float, side: int) -> None:
    """One of two that are alike: a cuff, rows of stitches, a thumb at its `side` (-1 left, 1 right)."""
    wide, high, pen = 150.0, 330.0, 5 * FINER

    def at(x: float, y: float) -> tuple[float, float]:
        return ((left + x) * FINER, (top + y) * FINER)

    middle = wide / 2
    thumb = [at(middle + side * 50, 226), at(middle + side * 112, 138)]
    for ink, width in ((INK, 64), (SHEET, 54)):
        draw.line(thumb, fill=ink, width=width * FINER)
        x, y = thumb[1]
        r = width * FINER / 2
        draw.ellipse((x - r, y - r, x + r, y + r), fill=ink)
    corners = (True, True, False, False)
    body = (*at(0, 0), *at(wide, high))
    draw.rounded_rectangle(body, 68 * FINER, fill=SHEET, outline=INK, width=pen, corners=corners)
    draw.rectangle((*at(0, high - 92), *at(wide, high - 84)), fill=ACCENT)
    for row in (62.0, 106.0, 150.0, 194.0):
        points = [at(14 + step * 15.25, row + (18 if step % 2 else 0)) for step in range(9)]
        draw.line(points, fill=LINE, width=4 * FINER, joint="curve")
    for rib in range(6):
        x = 22 + rib * 21.2
        draw.line([at(x, high - 70), at(x, high - 20)], fill=LINE, width=4 * FINER)


@lru_cache(maxsize=64)
def picture(title: str, below: str) -> bytes:
    """The picture of an along: its title, a quiet line below it, and a pair that is alike."""
    image = Image.new("RGB", (WIDTH * FINER, HEIGHT * FINER), GROUND)
    draw = ImageDraw.Draw(image)
    size, lines = _fitted(title)
    step = size * 1.16
    top = (HEIGHT - step * (len(lines) - 1) - 70) / 2 + size * 0.35
    for at, line in enumerate(lines):
        _write(draw, (LEFT, top + at * step), line, size, 700, INK)
    under = _lines(below, 36, 400)[:1]
    for line in under:
        _write(draw, (LEFT, top + (len(lines) - 1) * step + 72), line, 36, 400, QUIET)
    _write(draw, (LEFT, HEIGHT - 62), "Evenhand", 32, 700, QUIET)
    draw.line(
        [(0, (HEIGHT - 26) * FINER), (WIDTH * FINER, (HEIGHT - 26) * FINER)], fill=ACCENT, width=8 * FINER
    )
    _mitt(draw, 795, 130, -1)
    _mitt(draw, 965, 130, 1)
    out = io.BytesIO()
    image.resize((WIDTH, HEIGHT), Image.Resampling.LANCZOS).quantize(96).save(out, "PNG", optimize=True)
    return out.getvalue()


def _fitted(title: str) -> tuple[int, list[str]]:
    for size in TITLE_SIZES:
        lines = _lines(title, size, 700)
        if len(lines) <= TITLE_LINES:
            return size, lines
    lines = _lines(title, TITLE_SIZES[-1], 700)[:TITLE_LINES]
    return TITLE_SIZES[-1], [*lines[:-1], lines[-1].rstrip("….,;:") + " …"]
