"""An oval for the chart: a round along both sides of the foundation, laid out as the one edge that it is."""

from __future__ import annotations

from dataclasses import replace

from server.craft.fabric.values import Did, WorkedRound
from server.craft.text.tree import OtherSide


def unfolded(worked: WorkedRound, chains: int) -> tuple[WorkedRound, int] | None:
    """The round with a place of its own for each side of a chain, and how many places that makes.

    The free side's places follow those of the first side, back to the chain begun in. None for another round.
    """
    turn = next(
        (
            did.nodes[0]
            for did in worked.doings
            if isinstance(did, Did) and isinstance(did.instruction, OtherSide)
        ),
        None,
    )
    if turn is None or not chains or worked.below == "foundation":
        return None
    first = next((node.base[0] for node in worked.path if node.kind == "stitch" and node.base), 0)
    path = tuple(
        replace(node, base=tuple(2 * (chains - 1) - at for at in node.base))
        if index >= turn and node.kind == "stitch"
        else node
        for index, node in enumerate(worked.path)
    )
    return replace(worked, path=path), 2 * (chains - 1) - first + 1
