"""A chart is a well-formed picture of exactly the fabric: a symbol for each node, each symbol in the key."""

from __future__ import annotations

import os
import subprocess
import sys
import xml.etree.ElementTree as ET
from functools import cache
from itertools import product
from pathlib import Path
from typing import Any

import pytest

from server.craft.fabric import prove
from server.craft.fabric.chart import chart, strip_of_round
from tests.craft.chart.charted import (
    PATTERNS,
    SVG,
    fabric,
    of_class,
    parsed,
    specials,
    stitches,
    texts,
)

NAMES = sorted(PATTERNS)
MANNERS: list[dict[str, Any]] = [
    {"width_px": 360},
    {"page": "A4"},
    {"hand": "left"},
    {"layout": "strip"},
    {"layout": "round", "page": "A4"},
]


@cache
def drawn(name: str, **manner: Any) -> ET.Element:
    return parsed(chart(fabric(name), terms="US", special=specials(name), **manner))


def node_ids(name: str) -> list[str]:
    return [
        f"s-{one.spot.replace('.', '-')}-{at}"
        for section in fabric(name).sections
        for one in section.rounds
        for at in range(len(one.path))
    ]


@pytest.mark.parametrize("name", NAMES)
def test_the_patterns_are_proved(name: str) -> None:
    assert prove(PATTERNS[name][0].strip()).proved


@pytest.mark.parametrize(("name", "manner"), list(product(NAMES, MANNERS)))
def test_one_symbol_for_each_node(name: str, manner: dict[str, Any]) -> None:
    root = drawn(name, **manner)
    assert sorted(one.id for one in stitches(root)) == sorted(node_ids(name))


@pytest.mark.parametrize(("name", "manner"), list(product(NAMES, MANNERS)))
def test_ids_are_unique(name: str, manner: dict[str, Any]) -> None:
    ids = [one.attrib["id"] for one in drawn(name, **manner).iter() if "id" in one.attrib]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize(("name", "manner"), list(product(NAMES, MANNERS)))
def test_the_key_has_exactly_the_symbols_used(name: str, manner: dict[str, Any]) -> None:
    root = drawn(name, **manner)
    used = {one.symbol for one in stitches(root)}
    used |= {one.attrib["class"].split()[1] for one in of_class(root, "place")}
    loops = {node.loop for part in fabric(name).sections for one in part.rounds for node in one.path}
    used |= {f"loop-{loop}" for loop in loops if loop}
    keyed = [one.attrib["data-symbol"] for one in of_class(root, "key-entry")]
    assert len(keyed) == len(set(keyed))
    assert set(keyed) - {"start", "below"} == used
    lighter = bool(of_class(root, "below"))
    assert ("below" in keyed) == lighter


@pytest.mark.parametrize("name", NAMES)
def test_every_key_entry_has_a_sign_and_words(name: str) -> None:
    for entry in of_class(drawn(name), "key-entry"):
        assert entry.findall(f"{SVG}path"), entry.attrib
        assert "".join(texts(entry)).strip(), entry.attrib


@pytest.mark.parametrize("name", NAMES)
def test_the_same_input_gives_the_same_bytes(name: str) -> None:
    once = chart(fabric(name), terms="US", special=specials(name), width_px=360)
    assert once == chart(fabric(name), terms="US", special=specials(name), width_px=360)


def test_the_same_bytes_in_another_process() -> None:
    """Sets and hashes have another order there."""
    program = (
        "from tests.craft.chart.charted import fabric, specials\n"
        "from server.craft.fabric.chart import chart\n"
        "print(chart(fabric('sampler'), terms='US', special=specials('sampler')), end='')"
    )
    here = chart(fabric("sampler"), terms="US", special=specials("sampler"))
    for seed in ("1", "2"):
        done = subprocess.run(
            [sys.executable, "-c", program], capture_output=True, text=True, check=True,
            env={**os.environ, "PYTHONHASHSEED": seed}, cwd=Path(__file__).parents[3],
        )  # fmt: skip
        assert done.stdout == here


@pytest.mark.parametrize("name", NAMES)
def test_a_page_with_a_strict_policy_can_show_it(name: str) -> None:
    """No style attribute or element, no script, nothing from elsewhere; colours are the page's own."""
    root = drawn(name, page="A4")
    allowed = {f"{SVG}{tag}" for tag in ("svg", "g", "path", "text", "title", "desc")}
    for one in root.iter():
        assert one.tag in allowed
        assert not [key for key in one.attrib if key == "style" or key.startswith("on") or "href" in key]
        assert one.get("fill") in (None, "none", "currentColor")
        assert one.get("stroke") in (None, "none", "currentColor")


@pytest.mark.parametrize("name", NAMES)
def test_words_for_someone_who_does_not_see_it(name: str) -> None:
    root = drawn(name)
    assert root.get("role") == "img"
    named = {one.get("id"): one.text for one in root if one.tag in (f"{SVG}title", f"{SVG}desc")}
    assert root.attrib["aria-labelledby"].split() == list(named)
    assert all(named.values())
    for section in fabric(name).sections:
        assert section.title in (named["chart-title"] or "")


def test_the_description_says_what_there_is() -> None:
    root = drawn("perches")
    said = root.findtext(f"{SVG}desc") or ""
    assert "24 foundation chains at the bottom and 6 rounds above" in said
    assert "each read from right to left" in said
    assert "Thumb gap: 7 chains over an opening." in said
    assert "worked around the gap" in said
    left = drawn("perches", hand="left").findtext(f"{SVG}desc") or ""
    assert "each read from left to right" in left
    rows = drawn("moss").findtext(f"{SVG}desc") or ""
    assert "worked to and fro; the first row is read from right to left" in rows
    crown = drawn("crown").findtext(f"{SVG}desc") or ""
    assert "3 rounds worked from the center, anticlockwise" in crown


@pytest.mark.parametrize("name", NAMES)
def test_every_round_has_its_number(name: str) -> None:
    shown = texts(drawn(name), "number")
    for section in fabric(name).sections:
        for one in section.rounds:
            if one.label and not one.label.startswith("Foundation"):
                assert one.label.split()[-1] in shown


def test_the_foundation_says_how_many_chains() -> None:
    assert "24 ch" in texts(drawn("perches"), "number")


def test_uk_words_in_the_key() -> None:
    root = parsed(chart(fabric("perches"), terms="UK"))
    words = " ".join(texts(root))
    assert "tr: treble" in words
    assert "dc: double crochet" in words
    assert "single" not in words


def test_a_marked_round_and_step() -> None:
    svg = chart(fabric("perches"), terms="US", highlight="1.0.1", steps=(3, 7))
    root = parsed(svg)
    lit = of_class(root, "lit")
    assert [
        one.get("id") for one in lit if one.tag == f"{SVG}g" and "round" in one.attrib["class"].split()
    ] == ["r-1-0-1"]
    assert [one.get("id") for one in lit if one.tag == f"{SVG}path"] == [
        f"s-1-0-1-{at}" for at in range(3, 7)
    ]
    assert "Rnd 1 of Thumb gap is marked." in (root.findtext(f"{SVG}desc") or "")
    assert not of_class(parsed(chart(fabric("perches"), terms="US")), "lit")


def test_only_some_sections() -> None:
    root = parsed(chart(fabric("perches"), terms="US", only=(1,)))
    spots = {one.attrib["data-spot"] for one in of_class(root, "round") if "data-spot" in one.attrib}
    assert spots == {"0.3.2", "1.0.1"}, "the round of the section, upon the round below it"
    assert [one.attrib["data-spot"] for one in of_class(root, "below")] == ["0.3.2"]
    assert "Cuff" not in (root.findtext(f"{SVG}title") or "")


def test_a_prefix_for_every_id() -> None:
    root = parsed(chart(fabric("perches"), terms="US", prefix="one-"))
    assert all(one.attrib["id"].startswith("one-") for one in root.iter() if "id" in one.attrib)


def test_without_a_key() -> None:
    root = parsed(chart(fabric("perches"), terms="US", key=False))
    assert not of_class(root, "key")
    assert len(stitches(root)) == len(node_ids("perches"))


def test_the_title_is_the_pattern_s() -> None:
    root = parsed(chart(fabric("hat"), terms="US", title="Buoy <Hat> & \x01more"))
    assert root.findtext(f"{SVG}title") == "Chart of Buoy <Hat> & more: Brim and Crown"


def test_nothing_to_draw_is_still_a_picture() -> None:
    root = parsed(chart((), terms="US"))
    assert root.findtext(f"{SVG}desc") == "There is nothing to draw."
    assert not stitches(root)


@pytest.mark.parametrize("name", NAMES)
def test_the_strip_of_each_round(name: str) -> None:
    for section in fabric(name).sections:
        for one in section.rounds:
            root = parsed(strip_of_round(fabric(name), one.spot, terms="US"))
            groups = {
                part.attrib["data-spot"]: part
                for part in of_class(root, "round")
                if "data-spot" in part.attrib
            }
            assert "lit" in groups[one.spot].attrib["class"].split()
            own = [part for part in stitches(root) if part.id.startswith(f"s-{one.spot.replace('.', '-')}-")]
            assert len(own) == len(one.path)
            if one.below not in ("", "foundation", "gap"):
                assert "below" in groups[one.below].attrib["class"].split()


def test_the_strip_of_a_round_that_is_not_there() -> None:
    assert not stitches(parsed(strip_of_round(fabric("perches"), "9.9.9", terms="US")))


def test_the_thumb_s_edge_is_drawn_and_named() -> None:
    """A Perch was passed (5 places) and the halves of its neighbours that the work did not stand in (2 each);
    then the sides of two dc, with seven chains between.
    """
    root = drawn("perches")
    places = [one.attrib["class"].split()[1] for one in of_class(root, "place")]
    assert len(places) == 24 + (2 + 5 + 2) + 2 + 7
    assert places.count("dc") == 8 + 2
    assert {"side", "passed", "under"} <= set(" ".join(texts(root, "edge")).split())
