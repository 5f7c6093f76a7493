"""The edge of a gap: places passed, the side after, the underside, the side before (rule 7)."""

from server.craft.fabric.gaps import gap_ring
from server.craft.fabric.ring import Atom, Ring, Stretch
from server.craft.fabric.working import Gap


def stitches(*names: str) -> tuple[Atom, ...]:
    """Places by name; "ch" is a chain."""
    return tuple(Atom("chain" if name == "ch" else "stitch", name) for name in names)


BELOW = Ring(
    stitches("sc", "dc", "ch", "dc", "sc", "sc"), spaces=(Stretch(2, 1),), groups=(Stretch(1, 3, "V-st"),)
)


def test_an_edge_in_working_order() -> None:
    # hdc in place 0, ch 4 over the V-st at 1 to 3, tr in place 4
    made = Ring(stitches("hdc", "ch", "ch", "ch", "ch", "tr"), spaces=(Stretch(1, 4),))
    edge = gap_ring(Gap(chains=4, element=1, before=0, after=4), BELOW, made)
    assert edge is not None
    assert [(atom.kind, atom.name, atom.number) for atom in edge.atoms] == [
        ("stitch", "dc", 0),
        ("chain", "ch", 0),
        ("stitch", "dc", 0),
        ("side", "tr", 0),
        ("underside", "ch", 4),
        ("underside", "ch", 3),
        ("underside", "ch", 2),
        ("underside", "ch", 1),
        ("side", "hdc", 0),
    ]
    assert edge.below == 3
    assert edge.gap
    assert edge.circular
    assert edge.groups == (Stretch(0, 3, "V-st"),)
    assert edge.spaces == (Stretch(1, 1),)


def test_a_group_passed_in_part_is_no_group_of_the_edge() -> None:
    made = Ring(stitches("hdc", "ch", "ch", "tr"))
    edge = gap_ring(Gap(chains=2, element=1, before=0, after=3), BELOW, made)
    assert edge is not None
    assert [atom.name for atom in edge.atoms[: edge.below]] == ["dc", "ch"]
    assert edge.groups == ()
    assert edge.spaces == (Stretch(1, 1),)


def test_a_gap_that_ends_the_round_has_the_rounds_first_stitch_after_it() -> None:
    # the chains end the round: what stands after them is the round's first stitch
    made = Ring(stitches("tr", "hdc", "ch", "ch"))
    edge = gap_ring(Gap(chains=2, element=2, before=3, after=6), BELOW, made)
    assert edge is not None
    assert [atom.name for atom in edge.atoms if atom.kind == "side"] == ["tr", "hdc"]
    assert [atom.name for atom in edge.atoms[: edge.below]] == ["sc", "sc"]


def test_a_beginning_chain_below_is_a_stitch_of_the_edge() -> None:
    below = Ring((Atom("stitch", "dc", begin=3), *stitches("dc", "dc")))
    made = Ring(stitches("sc", "ch", "sc"))
    edge = gap_ring(Gap(chains=1, element=1, before=2, after=4), below, made)
    assert edge is not None
    assert edge.begin_at is None


def test_without_a_neighbour_there_is_no_edge() -> None:
    made = Ring(stitches("ch", "ch", "tr"))
    assert gap_ring(Gap(chains=2, element=0, before=0, after=3), BELOW, made) is None
    assert gap_ring(Gap(chains=2, element=1, before=0, after=3), Ring(()), made) is None
