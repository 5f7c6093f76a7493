"""The strip of a round for the page where it is worked: a few neighbours, what the other piece has behind it,
and no more of it than is shown."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from server.craft.fabric.chart import Hand, strip_of_round
from tests.craft.chart.charted import PATTERNS, SVG, fabric, parsed, stitches

WIDE_PX = 360
NAMES = sorted(PATTERNS)
HANDS: tuple[Hand, ...] = ("right", "left")


def rounds_of(root: ET.Element) -> dict[str, ET.Element]:
    return {part.attrib["data-spot"]: part for part in root.iter(f"{SVG}g") if "data-spot" in part.attrib}


def classes(part: ET.Element) -> set[str]:
    return set(part.get("class", "").split())


def bands(part: ET.Element) -> list[ET.Element]:
    return [path for path in part.iter(f"{SVG}path") if path.get("class") == "band"]


def strand_of(name: str) -> list[str]:
    """Spots of the first section with at least four rounds above its first."""
    section = next(s for s in fabric(name).sections if len(s.rounds) > 4)
    return [one.spot for one in section.rounds]


TALL = [name for name in NAMES if any(len(section.rounds) > 4 for section in fabric(name).sections)]


def test_there_are_tall_sections_to_look_at() -> None:
    assert len(TALL) >= 3


@pytest.mark.parametrize("name", TALL)
def test_neighbours_and_what_the_other_piece_has(name: str) -> None:
    """The other piece has the rounds up to the third; the fourth is one more than it has."""
    spots = strand_of(name)
    other = spots[:3]
    root = parsed(strip_of_round(fabric(name), spots[3], terms="US", below=2, above=1, other=other))
    drawn = rounds_of(root)
    assert {"round", "lit"} <= classes(drawn[spots[3]])
    assert bands(drawn[spots[3]]) == []
    for spot in spots[1:3]:
        assert "below" in classes(drawn[spot])
        assert len(bands(drawn[spot])) == 1
        assert bands(drawn[spot])[0].get("stroke-dasharray")  # a shape, not a tone alone
    assert "above" in classes(drawn[spots[4]])
    assert bands(drawn[spots[4]]) == []
    description = root.findtext(f"{SVG}desc") or ""
    assert "The other piece has no such round." in description
    words = " ".join("".join(each.itertext()) for each in root.iter(f"{SVG}text"))
    assert "the other piece has it" in words.replace("piecehas", "piece has")
    third = parsed(strip_of_round(fabric(name), spots[2], terms="US", other=other))
    assert "The other piece has this round too." in (third.findtext(f"{SVG}desc") or "")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("hand", HANDS)
def test_a_window_shows_the_start_of_the_round_and_no_more_than_its_width(name: str, hand: Hand) -> None:
    for section in fabric(name).sections:
        for one in section.rounds:
            whole = parsed(strip_of_round(fabric(name), one.spot, terms="US", hand=hand, key=False))
            svg = strip_of_round(
                fabric(name),
                one.spot,
                terms="US",
                hand=hand,
                key=False,
                window=True,
                width_px=WIDE_PX,
            )
            root = parsed(svg)
            assert float(root.attrib["width"]) <= WIDE_PX + 1
            assert len(svg) < 18_000
            own = {each.id for each in stitches(root)}
            stem = f"s-{one.spot.replace('.', '-')}-"
            every = {each.id for each in stitches(whole) if each.id.startswith(stem)}
            assert own <= every  # neighbours have no ids
            cut = [part for part in root.iter(f"{SVG}g") if "cut" in classes(part)]
            assert bool(cut) == (own != every)
            if cut:
                at = sorted(int(re.sub(r".*-", "", each)) for each in own)
                assert at[0] == 0  # from where it starts
                assert len(at) >= 8
