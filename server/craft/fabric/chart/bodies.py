"""A round's path sorted for laying out: what stands, the chains between, and what only travels, joins or
adorns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from server.craft.fabric.chart import measures
from server.craft.fabric.chart.strands import StrandRound, begins_ring
from server.craft.fabric.values import Node


@dataclass(frozen=True, slots=True)
class Body:
    """A stitch, or a beginning chain that counts: it stands on something. `index` in the path."""

    index: int
    node: Node

    @property
    def width(self) -> float:
        """Its room along the round."""
        return measures.width(self.node.name)

    @property
    def passes(self) -> bool:
        """Whether it is chains of the foundation that were passed and count as a stitch."""
        return self.node.kind == "begin" and self.node.into == "foundation" and len(self.node.base) > 1


@dataclass(frozen=True, slots=True)
class Picot:
    """A closed ring of chains.

    after    how many chains of its run come before it
    chains   the nodes that are its own chains
    """

    index: int
    size: int
    after: int
    chains: tuple[int, ...]


@dataclass(slots=True)
class Run:
    """Chains and picots between two bodies."""

    chains: list[int] = field(default_factory=list)
    picots: list[Picot] = field(default_factory=list)

    @property
    def width(self) -> float:
        """Its room along the round."""
        return measures.run_width(len(self.chains), len(self.picots))


@dataclass(slots=True)
class Sorted:
    """A round's path, sorted.

    runs      one before each body and one after the last
    beside    beginning chains that do not count
    """

    bodies: list[Body] = field(default_factory=list)
    runs: list[Run] = field(default_factory=lambda: [Run()])
    beside: list[tuple[int, Node]] = field(default_factory=list)
    travels: list[tuple[int, Node]] = field(default_factory=list)
    joins: list[int] = field(default_factory=list)
    ring_chains: list[int] = field(default_factory=list)
    ring_slip: int | None = None

    @property
    def before(self) -> float:
        """Room before the first body for what stands beside it."""
        return measures.BESIDE if self.beside else 0.0

    @property
    def after(self) -> float:
        """Room after the last body for the join."""
        return measures.JOIN_SLOT if self.joins else 0.0

    def closing(self, extra: float) -> float:
        """Room from the center of the last body to that of the first, once around."""
        if not self.bodies:
            return extra
        lead = self.runs[0].width + self.runs[-1].width
        ends = (self.bodies[0].width + self.bodies[-1].width) / 2
        return ends + self.before + self.after + lead + extra

    def apart(self) -> list[float]:
        """Room between the centers of neighbouring bodies."""
        return [
            (one.width + two.width) / 2 + run.width
            for one, two, run in zip(self.bodies, self.bodies[1:], self.runs[1:], strict=False)
        ]

    def demand(self) -> float:
        """Room for the whole round on a strip."""
        if not self.bodies:
            return sum(measures.CHAIN + 0.6 for run in self.runs for _ in run.chains)
        return sum(self.apart()) + self.closing(0.0)


def sort(standing: StrandRound) -> Sorted:
    """Sorts a round's path."""
    done = Sorted()
    path = standing.worked.path
    for index, node in enumerate(path):
        run = done.runs[-1]
        if begins_ring(path, index):
            done.ring_chains, done.ring_slip = list(run.chains), index
            run.chains.clear()
        elif node.kind == "slip":
            if node.base:
                done.travels.append((index, node))
            else:
                done.joins.append(index)
        elif node.kind == "begin" and not node.name:
            done.beside.append((index, node))
        elif node.kind == "chain":
            run.chains.append(index)
        elif node.kind == "picot":
            own = 0 if node.name == "picot" else min(node.size, len(run.chains))
            chains = tuple(run.chains[len(run.chains) - own :])
            del run.chains[len(run.chains) - own :]
            run.picots.append(Picot(index, node.size, len(run.chains), chains))
        elif node.kind in ("stitch", "begin"):
            done.bodies.append(Body(index, node))
            done.runs.append(Run())
    return done


def same_space(bodies: Sequence[Body], *, circular: bool) -> list[tuple[int, ...]]:
    """Bodies that go side by side into one chain space, in order; across the round's beginning too."""
    groups: list[list[int]] = []
    for at, body in enumerate(bodies):
        if body.node.into != "space" or body.passes:
            continue
        last = groups[-1] if groups else None
        if last is not None and last[-1] == at - 1 and bodies[last[-1]].node.base == body.node.base:
            last.append(at)
        else:
            groups.append([at])
    if circular and len(groups) > 1 and groups[0][0] == 0 and groups[-1][-1] == len(bodies) - 1:
        first, last = groups[0], groups[-1]
        if bodies[first[0]].node.base == bodies[last[0]].node.base:
            groups = [*groups[1:-1], [*last, *first]]
    return [tuple(group) for group in groups]
