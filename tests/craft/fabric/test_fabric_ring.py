"""The ring of places: what is found in it, from which side, and where a group has its center."""

import pytest

from server.craft.fabric.ring import Atom, Found, Ring, Stretch
from server.craft.text.tree import Noun

ST, CH, SP = Noun("st"), Noun("ch"), Noun("sp")
DC, SC = Noun("stitch", "dc"), Noun("stitch", "sc")
VEE, SHELL, PAIR = Noun("group", "V-st"), Noun("group", "shell"), Noun("group", "pair")


def stitches(*names: str) -> tuple[Atom, ...]:
    """Places by name; "ch" is a chain."""
    return tuple(Atom("chain" if name == "ch" else "stitch", name) for name in names)


# two V-sts (dc, ch 1, dc), a sc, three chains: places 0 to 9
RING = Ring(
    stitches("dc", "ch", "dc", "dc", "ch", "dc", "sc", "ch", "ch", "ch"),
    spaces=(Stretch(1, 1), Stretch(4, 1), Stretch(7, 3)),
    groups=(Stretch(0, 3, "V-st"), Stretch(3, 3, "V-st")),
)


@pytest.mark.parametrize(
    ("nouns", "first", "noun", "found"),
    [
        ((ST,), 0, ST, Found(0, 0, 0, 0)),
        ((ST,), 1, ST, Found(2, 2, 2, 2)),
        ((SC,), 0, SC, Found(6, 6, 6, 6)),
        ((CH,), 2, CH, Found(4, 4, 4, 4)),
        ((SP,), 0, SP, Found(1, 1, 1, 1)),
        ((Noun("sp", length=3),), 0, Noun("sp", length=3), Found(7, 9, 7, 9)),
        # a group is passed whole, and worked into its space
        ((VEE,), 0, VEE, Found(0, 2, 1, 1)),
        ((VEE,), 1, VEE, Found(3, 5, 4, 4)),
        # once around: positions count on past the end
        ((SC,), 7, SC, Found(16, 16, 16, 16)),
        ((VEE,), 4, VEE, Found(10, 12, 11, 11)),
        # of several names whichever comes first
        ((SC, SP), 5, SC, Found(6, 6, 6, 6)),
        ((SC, SP), 7, SP, Found(7, 9, 7, 9)),
    ],
)
def test_find(nouns: tuple[Noun, ...], first: int, noun: Noun, found: Found) -> None:
    assert RING.find(nouns, first, first + len(RING) - 1) == (noun, found)


def test_find_ends_at_its_last_position() -> None:
    assert RING.find((SC,), 0, 5) is None
    assert RING.find((SC,), 0, 6) is not None
    assert RING.find((Noun("sp", length=2),), 0, 30) is None
    assert RING.find((Noun("stitch", "tr"),), 0, 30) is None


def test_a_decrease_is_found_as_the_stitch_it_is() -> None:
    ring = Ring(stitches("dc", "sc2tog", "sc"))
    assert ring.find((SC,), 0, 2) == (SC, Found(1, 1, 1, 1))
    assert ring.find((Noun("stitch", "sc2tog"),), 0, 2) == (Noun("stitch", "sc2tog"), Found(1, 1, 1, 1))


def test_post_stitches_have_their_own_name_only() -> None:
    ring = Ring(stitches("FPdc", "dc"))
    assert ring.find((DC,), 0, 1) == (DC, Found(1, 1, 1, 1))


def test_positions_are_all_places_of_a_name() -> None:
    assert list(RING.positions(DC, 0, 9)) == [0, 2, 3, 5]
    assert list(RING.positions(SP, 0, 9)) == [1, 4, 7]
    assert list(RING.positions(VEE, 0, 19)) == [0, 3, 10, 13]
    assert list(RING.positions(SC, 7, 15)) == []


@pytest.mark.parametrize(
    ("ring", "center"),
    [
        # the middle space where there are spaces, else the middle stitch; else none
        (Ring(stitches("dc", "ch", "dc"), (Stretch(1, 1),), (Stretch(0, 3, "V-st"),)), (1, 1)),
        (Ring(stitches("dc", "ch", "ch", "dc"), (Stretch(1, 2),), (Stretch(0, 4, "V-st"),)), (1, 2)),
        (Ring(stitches(*["dc"] * 5), (), (Stretch(0, 5, "shell"),)), (2, 2)),
        (Ring(stitches("dc", "dc"), (), (Stretch(0, 2, "pair"),)), None),
        (
            Ring(
                stitches("dc", "ch", "dc", "ch", "dc"), (Stretch(1, 1), Stretch(3, 1)), (Stretch(0, 5, "W"),)
            ),
            None,
        ),
        (
            Ring(
                stitches("dc", "ch", "dc", "ch", "ch", "dc", "ch", "dc"),
                (Stretch(1, 1), Stretch(3, 2), Stretch(6, 1)),
                (Stretch(0, 8, "crown"),),
            ),
            (3, 4),
        ),
        # across the round's beginning
        (Ring(stitches("ch", "dc", "sc", "dc"), (Stretch(0, 1),), (Stretch(3, 3, "V-st"),)), (1, 1)),
    ],
    ids=[
        "one space",
        "a long space",
        "middle stitch",
        "even stitches",
        "two spaces",
        "three spaces",
        "wrapped",
    ],
)
def test_center(ring: Ring, center: tuple[int, int] | None) -> None:
    assert ring.center(ring.groups[0]) == center


def test_a_group_without_a_center_is_found_with_no_place_in_it() -> None:
    ring = Ring(stitches("dc", "dc", "sc"), (), (Stretch(0, 2, "pair"),))
    hit = ring.find((PAIR,), 0, 2)
    assert hit is not None
    assert (hit[1].start, hit[1].end) == (0, 1)
    assert hit[1].base_end < hit[1].base_start


def test_turned_meets_the_same_places_from_the_other_side() -> None:
    row = Ring(
        stitches("dc", "ch", "dc", "sc", "ch", "ch"),
        (Stretch(1, 1), Stretch(4, 2)),
        (Stretch(0, 3, "V-st"),),
        circular=False,
        hook=4,
        hook_length=2,
    )
    back = row.turned()
    assert [atom.name for atom in back.atoms] == ["ch", "ch", "sc", "dc", "ch", "dc"]
    assert back.spaces == (Stretch(0, 2), Stretch(4, 1))
    assert back.groups == (Stretch(3, 3, "V-st"),)
    assert (back.hook, back.hook_length) == (0, 2)


@pytest.mark.parametrize("ring", [RING, Ring(stitches("sc", "dc", "ch"), (Stretch(2, 1),), hook=1)])
def test_turned_twice_is_the_same_again(ring: Ring) -> None:
    assert ring.turned().turned() == ring
    assert ring.turned() != ring


def test_turned_across_the_beginning() -> None:
    ring = Ring(stitches("ch", "dc", "sc", "dc"), (Stretch(0, 1),), (Stretch(3, 3, "V-st"),))
    back = ring.turned()
    (group,) = back.groups
    assert [back.atoms[(group.start + step) % 4].name for step in range(3)] == ["dc", "ch", "dc"]


def test_the_ends_of_nothing() -> None:
    empty = Ring(())
    assert len(empty) == 0
    assert empty.turned() == empty
    assert empty.begin_at is None


def test_the_edge_of_a_gap_is_found_by_its_parts() -> None:
    edge = Ring(
        (Atom("stitch", "dc"), Atom("side", "dc"), Atom("underside", "ch", 2), Atom("underside", "ch", 1)),
        gap=True,
        below=1,
    )
    assert edge.find((DC,), 0, 3, "side") == (DC, Found(1, 1, 1, 1))
    assert edge.find((CH,), 0, 3, "underside") == (CH, Found(2, 2, 2, 2))
    # a plain name means the places below only
    assert edge.find((DC,), 1, 3) is None
    assert edge.find((CH,), 0, 3) is None


def test_equal_rings_are_equal_keys() -> None:
    again = Ring(RING.atoms, RING.spaces, RING.groups)
    assert again == RING
    assert hash(again) == hash(RING)
    assert {RING: 1}[again] == 1
    assert Ring(RING.atoms, RING.spaces) != RING
