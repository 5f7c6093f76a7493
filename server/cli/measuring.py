"""What `evenhand fit` and `evenhand yarn` take."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from server.cli import typed

FILE_HELP = "the pattern's text; - reads standard input"


def add_fit(commands: Any) -> None:
    """`evenhand fit`."""
    fit = commands.add_parser("fit", help="how many chains for a hand, and whom a pattern's sizes fit")
    fit.add_argument("file", type=Path, metavar="FILE", help=FILE_HELP)
    hand = fit.add_mutually_exclusive_group()
    hand.add_argument(
        "--hand", type=typed.length, metavar="LENGTH", help="around the knuckles, thumb left out"
    )
    hand.add_argument("--size", metavar="NAME", help="a glove size instead: 7, M, or “dress 7”")
    fit.add_argument("--age", type=int, metavar="YEARS", help="a child's age in completed years")
    fit.add_argument("--who", choices=("women", "men", "adults"), help="whose hand it is like")
    _lengths(
        fit,
        ("--wrist", "around the wrist"),
        ("--to-thumb", "from the wrist to the base of the thumb"),
        ("--to-end", "from the wrist to where the glove shall end"),
        ("--below-wrist", "how far it reaches below the wrist"),
    )
    _pairs(fit, "--swatch", ("STITCHES", "LENGTH"), "your own swatch in the pattern stitch")
    _pairs(fit, "--swatch-rounds", ("ROUNDS", "LENGTH"), "rounds of that swatch")
    fit.add_argument("--hook", type=typed.hook_mm, metavar="MM", help="your hook (the pattern's)")
    fit.add_argument("--yarn", metavar="CATEGORY", help="your yarn's category, 0 to 7 or by name")
    fit.add_argument("--ease", type=typed.ease, metavar="PER_CENT", help="wanted ease, as --ease=-5 (−5)")
    _pairs(fit, "--tried", ("CHAINS", "HOW"), "a ring tried on: 32 “12 cm too long”", many=True)
    _pairs(fit, "--width", ("STITCHES", "LENGTH"), "a width laid flat, stitches all around", many=True)
    _pairs(fit, "--round-one", ("CHAINS", "HOW"), "after round one: 28 “3 cm too loose”")
    fit.add_argument(
        "--table", metavar="WHO", help="sizes for women, men, adults, children, “children 6 to 9”"
    )
    _common(fit, "fitting:fit")


def add_yarn(commands: Any) -> None:
    """`evenhand yarn`."""
    yarn = commands.add_parser("yarn", help="how much yarn a pattern takes, and whether it will last")
    yarn.add_argument("file", type=Path, metavar="FILE", nargs="+", help=f"{FILE_HELP}; several with --cake")
    yarn.add_argument("--foundation", type=typed.count, metavar="N", help="a count (every size)")
    yarn.add_argument("--hook", type=typed.hook_mm, metavar="MM", help="your hook (the pattern's)")
    yarn.add_argument("--yarn", metavar="CATEGORY", help="your yarn's category (the pattern's)")
    yarn.add_argument("--put-up", metavar="LABEL", help="your ball: “100 g = 170 m” (the pattern's)")
    yarn.add_argument("--swatch-kept", action="store_true", help="count a swatch that is not unravelled")
    yarn.add_argument("--glove", type=typed.weight_g, metavar="WEIGHT", help="what glove one weighs")
    _pairs(yarn, "--part", ("ROUNDS", "WEIGHT"), "what its first rounds weigh")
    yarn.add_argument(
        "--swatch", nargs=3, metavar=("STITCH", "COUNT", "WEIGHT_OR_LENGTH"), action="append", default=[],
        help="a swatch weighed (“12 g”) or unravelled (“20 m”)",
    )  # fmt: skip
    yarn.add_argument(
        "--counted", nargs=3, metavar=("STITCH", "COUNT", "LENGTH"), action="append", default=[],
        help="so many stitches took so much yarn: dc 20 “3.3 m”",
    )  # fmt: skip
    yarn.add_argument(
        "--left", type=typed.weight_g, metavar="WEIGHT", help="on the scale, without the gloves"
    )
    yarn.add_argument("--worked-one", type=typed.rounds, metavar="ROUNDS", default=0, help="of glove one (0)")
    yarn.add_argument("--worked-two", type=typed.rounds, metavar="ROUNDS", default=0, help="of glove two (0)")
    yarn.add_argument("--cake", type=typed.weight_g, metavar="WEIGHT", help="split one cake over all FILEs")
    yarn.add_argument("--instead", metavar="CATEGORY", help="another yarn: hook, chains and metres to expect")
    yarn.add_argument("--instead-put-up", metavar="LABEL", help="its ball")
    yarn.add_argument("--hand", type=typed.length, metavar="LENGTH", help="the hand to fit with --instead")
    _common(yarn, "yarning:yarn")


def _lengths(parser: argparse.ArgumentParser, *named: tuple[str, str]) -> None:
    for name, words in named:
        parser.add_argument(name, type=typed.length, metavar="LENGTH", help=words)


def _pairs(
    parser: argparse.ArgumentParser, name: str, metavar: tuple[str, str], words: str, *, many: bool = False
) -> None:
    if many:
        parser.add_argument(name, nargs=2, metavar=metavar, help=words, action="append", default=[])
    else:
        parser.add_argument(name, nargs=2, metavar=metavar, help=words)


def _common(parser: argparse.ArgumentParser, run: str) -> None:
    parser.add_argument("--units", choices=("cm", "in"), default="cm", help="also of bare numbers (cm)")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    parser.set_defaults(run=run)
