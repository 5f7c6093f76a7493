"""Makes the font of the first visit lighter. `python -m scripts.fonts FILE`, FILE being the latin subset as
it comes in its package (static/fonts/README.md says which), writes static/fonts/atkinson-next-latin.woff2
with the weights that our style sheets use and no others. The same FILE gives the same bytes.
"""

from __future__ import annotations

import sys
from hashlib import sha256
from pathlib import Path

from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

WEIGHTS = (400, 700)  # regular to bold
MADE = Path(__file__).resolve().parent.parent / "static" / "fonts" / "atkinson-next-latin.woff2"


def main() -> None:
    """Write the font with fewer weights, and print what to note in the README."""
    font = TTFont(sys.argv[1], recalcTimestamp=False)
    narrowed = instancer.instantiateVariableFont(font, {"wght": WEIGHTS})
    narrowed.flavor = "woff2"
    narrowed.save(MADE)
    made = MADE.read_bytes()
    print(f"{len(made)} bytes, SHA-256 {sha256(made).hexdigest()}")


if __name__ == "__main__":
    main()
