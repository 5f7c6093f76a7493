"""A round along both sides of the foundation chain: the oval that a sole or a toe begins with."""

from __future__ import annotations

from dataclasses import replace

from server.craft.fabric.faults import Stuck, fault, several
from server.craft.fabric.ring import Ring
from server.craft.fabric.values import Did, Node
from server.craft.fabric.working import Working
from server.craft.text import rules
from server.craft.text.tree import OtherSide


def along_other_side(work: Working, item: OtherSide) -> None:
    """Goes on along the chains' free side, back to the chain that the round began in.

    The places of the free side follow those of the first: the chain worked last is at the turn, and has no
    second place. Elsewhere (a section in the foundation) the words only repeat what the section says.
    """
    at = len(work.nodes)
    work.doings.append(Did(item, 0, None, (at, at)))
    ring = work.ring
    if work.chain_places or not work.size or ring.circular or work.begun is None:
        return
    if any(atom.kind != "foundation" for atom in ring.atoms):
        return
    left = work.size - 1 - work.position
    if left > 0:
        are = f"{several(left, 'foundation ch')} {'is' if left == 1 else 'are'}"
        raise Stuck(fault(rules.LEFT_ON_SIDE, item.span, left=are))
    first = work.begun.base_start
    work.chain_places = work.size
    work.ring = Ring(ring.atoms + ring.atoms[first : work.size - 1], circular=False, hook=ring.hook)
    work.size = len(work.ring)


def on_chains(work: Working) -> tuple[Node, ...]:
    """The round's path, in which the places of the free side are the chains that they belong to."""
    chains = work.chain_places
    if not chains:
        return tuple(work.nodes)
    return tuple(
        replace(node, base=tuple(at if at < chains else 2 * (chains - 1) - at for at in node.base))
        if node.base and node.base[-1] >= chains
        else node
        for node in work.nodes
    )
