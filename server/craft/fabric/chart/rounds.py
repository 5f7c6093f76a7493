"""Lays one round out upon the places below it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from server.craft.fabric.chart import measures, spacing
from server.craft.fabric.chart.bodies import Body, Sorted, same_space
from server.craft.fabric.chart.marks import Flat, Level, Mark, Shape, Standing
from server.craft.fabric.chart.measures import BESIDE, CHAIN, CHAIN_THICK, SPACE_FOOT, Specials
from server.craft.fabric.chart.runs import Field, arc_for, lay_picot, lay_run
from server.craft.fabric.chart.strands import StrandRound
from server.craft.fabric.values import Node

MOST_RAISED = 14.0  # by how much a stem is drawn longer, at most, to keep a round together
BACK = (
    0.34  # of a turn that a stitch may lie behind the one before it (crossed stitches, a place worked again)
)
DOT = 3.0
MOST_STRETCH = 1.06
PICOT_ASIDE = 5.0
DRIFT = 0.3  # of a strip's width: how far a round may lie to one side before it is drawn leaning back
MOST_LEAN = 8.0  # by how much it leans, at most


@dataclass(frozen=True, slots=True)
class Ground:
    """The places below a round, in the order in which it meets them. `floor`: y where there are none."""

    places: Sequence[Standing]
    floor: float


class RoundLayout:
    """The layout of one round. In here `v` is u as the round runs: it rises from one stitch to the next."""

    def __init__(
        self,
        standing: StrandRound,
        parts: Sorted,
        ground: Ground,
        field: Field,
        width: float,
        specials: Specials,
    ) -> None:
        self.standing, self.parts, self.ground, self.field, self.specials = (
            standing,
            parts,
            ground,
            field,
            specials,
        )
        self.width = width
        self.sign = standing.direction
        self.marks: dict[int, Mark] = {}
        self.places: dict[int, Standing] = {}
        self.ties: list[Mark] = []
        self.feet: list[list[Flat]] = []  # (v, y) of each body's feet
        self.at: list[float] = []  # v of each body's top
        self.tops: list[float] = []  # y of each body's top

    def lay(self) -> Level:
        """Places everything."""
        self._ring()
        if self.parts.bodies:
            self._find_feet()
            self._find_tops()
            self._spread()
            self._center()
            self._bodies()
        self._beside()
        self._runs()
        self._slips()
        marks = tuple(self.marks[index] for index in sorted(self.marks))
        return Level(self.standing, marks, self.places, self._start(), tuple(self.ties))

    # --- feet ------------------------------------------------------------------------------------------

    def _v(self, index: int) -> float:
        return self.sign * self.ground.places[index].u

    def _near(self, v: float, before: float) -> float:
        """The same place once around or more, at or after (or not far before) a position."""
        if not self.standing.circular:
            return v
        step = (v - before) % self.width
        return before + (step - self.width if step > (1 - BACK) * self.width else step)

    def _find_feet(self) -> None:
        before: float | None = None
        for body in self.parts.bodies:
            feet = self._feet_of(body, before)
            self.feet.append(feet)
            if feet:
                before = sum(v for v, _ in feet) / len(feet)
        groups = same_space(self.parts.bodies, circular=self.standing.circular)
        for group in groups:
            places = [self.ground.places[index] for index in self.parts.bodies[group[0]].node.base]
            room = max((len(places) - 0.6) * CHAIN * 0.8, 9.0)
            step = min(SPACE_FOOT, room / len(group))
            for order, at in enumerate(group):
                shift = self.field.along((order - (len(group) - 1) / 2) * step, self.feet[at][0][1])
                self.feet[at] = [(v + shift, y) for v, y in self.feet[at]]

    def _feet_of(self, body: Body, before: float | None) -> list[Flat]:
        base = [index for index in body.node.base if index < len(self.ground.places)]
        if not base:
            return []
        if body.passes:
            base = base[-1:]
        many = body.node.size if body.node.kind == "stitch" else 1
        share = len(base) // many if many > 1 and len(base) % many == 0 else len(base)
        feet: list[Flat] = []
        for start in range(0, len(base), share):
            leg = []
            for index in base[start : start + share]:
                v = self._v(index)
                before = v if before is None else self._near(v, before)
                leg.append((before, self.ground.places[index].y))
            high = max(y for _, y in leg)
            feet.append((sum(v for v, _ in leg) / len(leg), high))
        return feet

    # --- tops ------------------------------------------------------------------------------------------

    def _find_tops(self) -> None:
        floor = self.ground.floor
        for body, feet in zip(self.parts.bodies, self.feet, strict=True):
            low = max((y for _, y in feet), default=floor)
            self.tops.append(low + self._height(body.node))
        self._level()
        if self.field.from_center:
            needed = self._demand() / self.width
            lift = needed - sum(self.tops) / len(self.tops)
            if lift > 0:
                self.tops = [top + lift for top in self.tops]

    def _height(self, node: Node) -> float:
        return measures.height(node.name, self.specials)

    def _level(self) -> None:
        """Keeps the round together: a stitch may lie as far below the tallest as it would on level ground.

        Else a column of short stitches would fall behind its neighbours, round after round, and what stands
        on a bow of chains would stay above them for good.
        """
        heights = [self._height(body.node) for body in self.parts.bodies]
        tallest, highest = max(heights), max(self.tops)
        for at, (top, tall) in enumerate(zip(self.tops, heights, strict=True)):
            behind = highest - top - (tallest - tall)
            self.tops[at] = top + min(max(behind, 0.0), MOST_RAISED)

    def _closing(self) -> float:
        return self.parts.closing(measures.NUMBER_SLOT if self.field.from_center else 0.0)

    def _demand(self) -> float:
        return sum(self.parts.apart()) + self._closing()

    # --- along -----------------------------------------------------------------------------------------

    def _spread(self) -> None:
        y = sum(self.tops) / len(self.tops)
        apart = [self.field.along(units, y) for units in self.parts.apart()]
        closing = self.field.along(self._closing(), y)
        standing = sum(1 for feet in self.feet if feet)
        if 2 * standing <= len(self.feet):
            self.feet = [[] for _ in self.feet]
            whole = sum(apart) + closing
            stretch = self.width / whole if whole else 1.0
            self.at = [closing * stretch / 2]
            for gap in apart:
                self.at.append(self.at[-1] + gap * stretch)
            return
        wished = self._wishes()
        if self.standing.circular:
            self.at = spacing.spread_around(wished, [*apart, closing], self.width)
        else:
            self.at = spacing.spread(wished, apart, *self._row_ends(sum(apart)))

    def _row_ends(self, needed: float) -> tuple[float, float]:
        """Between which centers a row lies: it grows past the row below only where it needs the room."""
        vs = [self._v(index) for index in range(len(self.ground.places))]
        low, high = min(vs), max(vs)
        more = max(0.0, needed - (high - low)) / 2
        return low - more, high + more

    def _wishes(self) -> list[float]:
        """Over the feet; a stitch without any goes by its neighbour's."""
        wished: list[float] = []
        for feet in self.feet:
            if feet:
                wished.append(sum(v for v, _ in feet) / len(feet))
            else:
                wished.append(wished[-1] if wished else 0.0)
        return self._closed_up(wished) if self.field.from_center and self.standing.circular else wished

    def _closed_up(self, wished: list[float]) -> list[float]:
        """From the center the room between end and start grows outward; some of it goes to the stitches."""
        span = wished[-1] - wished[0]
        room = self.width - self.field.along(self._closing(), sum(self.tops) / len(self.tops))
        if span <= 0 or room <= span:
            return wished
        stretch = min(room / span, MOST_STRETCH)
        middle = (wished[0] + wished[-1]) / 2
        return [middle + (v - middle) * stretch for v in wished]

    def _center(self) -> None:
        """Whole turns are taken out, so that the round lies over the one below; a drift is leaned against.

        Where each round begins a little farther on than the one below, a strip would run away sideways.
        """
        if not self.standing.circular:
            return
        home = self.sign * self.width / 2
        if self.ground.places:
            vs = [self._v(index) for index in range(len(self.ground.places))]
            home = (min(vs) + max(vs)) / 2
        middle = (self.at[0] + self.at[-1]) / 2
        shift = -self.width * round((middle - home) / self.width)
        self.feet = [[(v + shift, y) for v, y in feet] for feet in self.feet]
        if not self.field.from_center:
            drift = middle + shift - self.sign * self.width / 2
            over = max(abs(drift) - DRIFT * self.width, 0.0)
            shift -= min(over, MOST_LEAN) * (1 if drift > 0 else -1)
        self.at = [v + shift for v in self.at]

    # --- marks -----------------------------------------------------------------------------------------

    def _mark(self, mark: Mark) -> None:
        if mark.node < 0:
            self.ties.append(mark)
            return
        self.marks[mark.node] = mark
        if mark.shape == "oval" and mark.name == "ch" and mark.node not in self.places:
            middle = (mark.feet[0][0] + mark.top[0]) / 2, (mark.feet[0][1] + mark.top[1]) / 2
            self.places[mark.node] = Standing(middle[0], middle[1] + CHAIN_THICK / 2, True)

    def _bodies(self) -> None:
        travelled = {node.base for _, node in self.parts.travels}
        for place, body in enumerate(self.parts.bodies):
            node, top = body.node, self.tops[place]
            feet = self.feet[place] or [(self.at[place], self.ground.floor)]
            lift = 2 * DOT if node.base in travelled and node.kind == "begin" else 0.0
            spots = tuple((self.sign * v, y + lift) for v, y in feet)
            spot = self.sign * self.at[place], top
            self.marks[body.index] = Mark(
                body.index, _shape(body), symbol_of(node), node.name, spots, spot, node.size, node.loop
            )
            self.places[body.index] = Standing(spot[0], spot[1])

    def _beside(self) -> None:
        if not self.parts.beside:
            return
        index, node = self.parts.beside[0]
        first = self.parts.bodies[0] if self.parts.bodies else None
        foot = (
            min((y for _, y in self.feet[0]), default=self.ground.floor) if self.feet else self.ground.floor
        )
        y = self.tops[0] if self.tops else foot
        v = (self.at[0] if self.at else 0.0) - self.field.along(
            ((first.width if first else 0.0) + BESIDE) / 2, y
        )
        for index, node in self.parts.beside:
            shape: Shape = "rail" if node.base else "column"
            tall = node.size * min(CHAIN, 12.0)
            self.marks[index] = Mark(
                index,
                shape,
                symbol_of(node),
                "",
                ((self.sign * v, foot),),
                (self.sign * v, foot + tall),
                node.size,
            )

    def _runs(self) -> None:
        for place, run in enumerate(self.parts.runs):
            if not run.chains and not run.picots:
                continue
            start, end = self._run_ends(place)
            for picot in run.picots:
                if picot.after == 0 or not run.chains:
                    v, y = (self.at[place - 1], self.tops[place - 1]) if place and self.at else start
                    lay_picot(picot, (self.sign * v, y + 1.0), self.field, self._mark)
            if not run.chains:
                continue
            arc = arc_for(start, end, len(run.chains), self._passed(place), self.field)
            lay_run(run, arc, self.sign, self.field, self._mark)

    def _run_ends(self, place: int) -> tuple[Flat, Flat]:
        """From beside the top before to beside the top after, (v, y)."""
        bodies, run = self.parts.bodies, self.parts.runs[place]
        free = len(run.chains) * CHAIN
        if not bodies:
            return (0.0, self.ground.floor), (self.field.along(free, self.ground.floor), self.ground.floor)
        after = self._beside_top(place, -1) if place < len(bodies) else None
        adorned = any(picot.after == 0 for picot in run.picots)
        before = self._beside_top(place - 1, +1, PICOT_ASIDE if adorned else 0.0) if place else None
        if after is None and self.standing.circular and before is not None:
            v, y = self._beside_top(0, -1)
            after = v + self.width - self.field.along(measures.JOIN_SLOT if self.parts.joins else 0.0, y), y
        if before is None and after is not None:
            before = after[0] - self.field.along(free, after[1]), after[1]
        assert before is not None
        if after is None:
            after = before[0] + self.field.along(free, before[1]), before[1]
        return before, after

    def _beside_top(self, place: int, side: int, aside: float = 0.0) -> Flat:
        node = self.parts.bodies[place].node
        reach = (2.5 if node.kind == "begin" else 4.0) + aside
        return self.at[place] + side * self.field.along(reach, self.tops[place]), self.tops[place]

    def _passed(self, place: int) -> list[Flat]:
        """Tops, (v, y), of the places that the run before body `place` passes over."""
        bodies, size = self.parts.bodies, len(self.ground.places)
        around = place == len(bodies)
        if not place or not size or (around and not self.standing.circular):
            return []
        before, after = bodies[place - 1].node.base, bodies[place % len(bodies)].node.base
        if not before or not after:
            return []
        many = (after[0] - before[-1] - 1) % size
        if 2 * many > size and not self.standing.circular:
            return []
        passed = [(before[-1] + 1 + step) % size for step in range(many)]
        left = self.at[place - 1]
        return [(self._near(self._v(index), left), self.ground.places[index].y) for index in passed]

    def _slips(self) -> None:
        for index, node in self.parts.travels:
            places = [self.ground.places[at] for at in node.base]
            u = sum(place.u for place in places) / len(places)
            y = max(place.y for place in places)
            self.marks[index] = Mark(index, "dot", "slip", "sl st", (), (u, y + DOT + 0.6))
        for index in self.parts.joins:
            v, y = self._join_at()
            self.marks[index] = Mark(index, "dot", "slip", "sl st", (), (self.sign * v, y - DOT))

    def _join_at(self) -> Flat:
        if not self.parts.bodies:
            return self.width, self.ground.floor
        closing = self.parts.runs[-1].chains or self.field.from_center
        if closing and self.standing.circular:
            v, y = self._beside_top(0, -1)
            return v + self.width - self.field.along(5.0, y), y
        last = len(self.parts.bodies) - 1
        room = self.parts.bodies[last].width / 2 + 4.0 + (self.parts.runs[-1].width if not closing else 0.0)
        return self.at[last] + self.field.along(room, self.tops[last]), self.tops[last]

    def _ring(self) -> None:
        """Chains joined to a ring that this round itself is worked into."""
        many = len(self.parts.ring_chains)
        y = self.ground.floor - CHAIN_THICK / 2
        for place, index in enumerate(self.parts.ring_chains):
            u = (place + 0.5) * self.width / many
            half = self.field.along(CHAIN * 0.44, y)
            self.marks[index] = Mark(index, "oval", "ch", "ch", ((u - half, y),), (u + half, y))
        if self.parts.ring_slip is not None:
            self.marks[self.parts.ring_slip] = Mark(
                self.parts.ring_slip, "dot", "slip", "sl st", (), (0.0, y)
            )

    def _start(self) -> tuple[float, float, float]:
        if not self.parts.bodies:
            return 0.0, self.ground.floor, self.ground.floor
        first = self.parts.bodies[0]
        out = first.width / 2 + (BESIDE if self.parts.beside else 0.0)
        foot = min((y for _, y in self.feet[0]), default=self.ground.floor)
        return self.sign * (self.at[0] - self.field.along(out, self.tops[0])), foot, self.tops[0]


def _shape(body: Body) -> Shape:
    if body.passes:
        return "rail"
    if body.node.kind == "begin":
        return "column"
    return "dot" if body.node.name == "sl st" else "post"


def symbol_of(node: Node) -> str:
    """Which entry of the key a node belongs to."""
    if node.kind == "begin":
        kind = (
            "passed"
            if node.base and (node.into == "none" or (node.into == "foundation" and len(node.base) > 1))
            else "begin"
        )
        return f"{kind}:{node.size}:{node.name}"
    return "slip" if node.name == "sl st" else node.name
