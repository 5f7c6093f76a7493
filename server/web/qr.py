"""QR codes (ISO/IEC 18004) as values that a template draws (`_pieces/qr.html`): error level M."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

import segno

QUIET = 4  # modules of quiet zone around the code, as the standard asks for


@dataclass(frozen=True)
class Qr:
    """A code to draw.

    size   modules along a side, quiet zone included
    path   the dark modules as an SVG path in module units
    words  what it is, for those who do not see it
    """

    size: int
    path: str
    words: str


def qr(content: str, words: str) -> Qr:
    """The code of a text."""
    matrix = segno.make(content, error="m", micro=False).matrix
    runs = []
    for y, row in enumerate(matrix, start=QUIET):
        x = QUIET
        for dark, group in groupby(row):
            length = len(list(group))
            if dark:
                runs.append(f"M{x} {y}h{length}v1h-{length}z")
            x += length
    return Qr(len(matrix) + 2 * QUIET, "".join(runs), words)
