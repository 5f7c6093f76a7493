"""Trees of instructions at random, such as a text can say: for tests that print them and read them again."""

from dataclasses import replace
from fractions import Fraction
from typing import Literal

from hypothesis import strategies as st

from server.craft.text.tree import (
    Chain,
    CountLine,
    CountsAs,
    Formula,
    Header,
    Inline,
    Instruction,
    Join,
    JoinYarn,
    Label,
    Loop,
    Noun,
    Number,
    Part,
    PartKind,
    Pattern,
    Place,
    Plain,
    Repeat,
    RoundLine,
    Section,
    SizeList,
    Skip,
    SpecialStitch,
    StatedCount,
    Which,
    Work,
)

PERCH = SpecialStitch("Perch", ("dc", "dc", 1, "dc", "dc"))
HEADER = Header(
    "Brackwater Mitts",
    sizes=("small", "medium", "large"),
    foundations=(24, 30, 36),
    multiple=6,
    special=(PERCH,),
)
STITCHES = ("sl st", "sc", "hdc", "dc", "tr", "dtr", "FPdc", "BPtr", "cluster", "puff")
DECREASES = ("sc2tog", "dc3tog", "hdc2tog")
GROUPS = ("V-st", "shell", "Perch")

plains = st.builds(Plain, st.integers(1, 40))
several = st.builds(Plain, st.integers(2, 40))
sized = st.builds(SizeList, st.tuples(*[st.integers(1, 40)] * 3))
slopes = st.fractions(Fraction(1, 6), 3, max_denominator=6)
formulas = st.builds(Formula, slopes, st.integers(-3, 3).map(Fraction))
numbers: st.SearchStrategy[Number] = st.one_of(plains, sized, formulas)
many: st.SearchStrategy[Number] = st.one_of(several, sized, formulas)

stitch_nouns = st.builds(Noun, st.just("stitch"), st.sampled_from(STITCHES[1:]))
group_nouns = st.builds(Noun, st.just("group"), st.sampled_from(GROUPS))
spaces = st.builds(Noun, st.just("sp"), length=st.one_of(st.none(), st.integers(1, 12)))
nouns = st.one_of(
    st.just(Noun("st")),
    st.just(Noun("ch")),
    st.just(Noun("foundation ch")),
    stitch_nouns,
    group_nouns,
    spaces,
)
beginnings = st.builds(Noun, st.just("beg ch"), length=st.one_of(st.none(), st.integers(1, 6)))
LOOPS: tuple[Loop | None, ...] = (None, None, "back", "front")
WHICH: tuple[Which, ...] = ("next", "same", "first", "last", "each", "any", "kth", "skipped", "from hook")
WHOLE: tuple[Which, ...] = ("next", "same", "first", "last")
PARTS: tuple[PartKind, ...] = ("kth", "center", "last", "top")
EDGES: tuple[Literal["side", "underside"], ...] = ("side", "underside")


def _each(names: tuple[Noun, ...], step: int, until: Number | None) -> Place:
    return Place("each", names, step=step, until=until)


@st.composite
def plain_places(draw: st.DrawFn) -> Place:
    """A place without parts: `next 3 sts`, `each dc and ch-1 sp around`, `2nd ch from hook`."""
    which = draw(st.sampled_from(WHICH))
    noun = draw(nouns)
    if which == "from hook":
        return Place("from hook", (Noun("ch"),), ordinal=draw(st.integers(1, 6)))
    if which == "kth":
        return Place("kth", (noun,), ordinal=draw(st.integers(2, 25)), skipped=draw(st.booleans()))
    if which == "each":
        names = tuple(draw(st.lists(nouns, min_size=1, max_size=2, unique=True)))
        return _each(names, draw(st.integers(1, 4)), draw(st.one_of(st.none(), numbers)))
    if which == "skipped":
        return Place("skipped", (noun,), draw(st.one_of(st.none(), many)), skipped=True)
    if which in ("next", "last"):
        return Place(which, (noun,), draw(st.one_of(st.none(), many)), skipped=draw(st.booleans()))
    return Place(which, (noun,))


@st.composite
def partly(draw: st.DrawFn) -> Place:
    """A part of a place: `3rd ch of next ch-5 sp`, `center dc of each shell around`, `top of beg ch`."""
    kind = draw(st.sampled_from(PARTS))
    if kind == "top":
        return Place("beg", (draw(beginnings),), part=Part("top"))
    if kind == "kth" and draw(st.booleans()):
        return Place("beg", (draw(beginnings),), part=Part("kth", draw(st.integers(1, 6)), Noun("ch")))
    whole = Place(draw(st.sampled_from(WHOLE)), (draw(st.one_of(group_nouns, spaces)),))
    inside = draw(st.one_of(st.just(Noun("ch")), stitch_nouns))
    return replace(whole, part=Part(kind, draw(st.integers(1, 9)) if kind == "kth" else 0, inside))


@st.composite
def at_a_gap(draw: st.DrawFn) -> Place:
    """An edge of a gap: `side of next dc`, `underside of next 6 ch`."""
    edge = draw(st.sampled_from(EDGES))
    noun = draw(stitch_nouns) if edge == "side" else Noun("ch")
    return Place("next", (noun,), draw(st.one_of(st.none(), many)), edge=edge)


@st.composite
def places(draw: st.DrawFn) -> Place:
    """Any place, also in one loop or around the post."""
    place = draw(st.one_of(plain_places(), partly(), at_a_gap()))
    if place.edge is None and place.part is None and place.which != "from hook":
        return replace(place, loop=draw(st.sampled_from(LOOPS)))
    return place


chains = st.builds(Chain, numbers)
inline_work = st.builds(Work, st.sampled_from(STITCHES[1:]), plains)
inlines = st.lists(st.one_of(inline_work, st.builds(Chain, plains)), min_size=2, max_size=4).map(
    lambda items: Inline(tuple(items))
)


@st.composite
def works(draw: st.DrawFn) -> Work:
    """A stitch, group or `(…)` into a place."""
    if draw(st.integers(0, 4)) == 0:
        return Work(draw(inlines), Plain(1), draw(places()))
    name = draw(st.sampled_from((*STITCHES, *DECREASES, *GROUPS)))
    if name.startswith(("FP", "BP")):
        around = draw(plain_places().filter(lambda place: place.which not in ("from hook", "skipped")))
        return Work(name, draw(numbers), replace(around, post=True))
    place = draw(places())
    times = Plain(1) if name in DECREASES else draw(numbers)
    return Work(name, times, place)


skips = st.builds(Skip, plain_places().filter(lambda place: place.which not in ("from hook", "each")))
simple: st.SearchStrategy[Instruction] = st.one_of(chains, works(), skips)


@st.composite
def repeats(draw: st.DrawFn, inside: st.SearchStrategy[Instruction]) -> Repeat:
    """A repeated text: by number, around, to the last stitches, omitting something."""
    body = tuple(draw(st.lists(inside, min_size=1, max_size=3)))
    how = draw(st.sampled_from(("times", "around", "to last")))
    if how == "times":
        return Repeat(body, times=draw(many))
    left = draw(st.one_of(st.just(()), st.just((Work("sc", Plain(1)),)), st.just((Chain(Plain(2)),))))
    if how == "around":
        return Repeat(body, around=True, omitting=left)
    return Repeat(body, to_last=Place("last", (draw(nouns),), draw(numbers)))


instructions = st.one_of(simple, repeats(simple), repeats(st.one_of(simple, repeats(simple))))
counting = st.builds(CountsAs, st.sampled_from(((), ("dc",), ("st",))), st.just(0)) | st.builds(
    CountsAs, st.just(("tr",)), st.integers(1, 4)
)
beginning_chains = st.builds(Chain, numbers, counting)
joins = st.builds(
    Join, st.one_of(st.none(), st.builds(Place, st.just("first"), nouns.map(lambda noun: (noun,))), partly())
)
yarns = st.builds(JoinYarn, st.sampled_from(("sl st", "sc", "dc")), st.one_of(st.none(), plain_places()))
counts = st.lists(
    st.builds(
        StatedCount,
        numbers,
        st.one_of(st.just(Noun("st")), st.just(Noun("ch")), stitch_nouns, group_nouns, spaces),
    ),
    min_size=1,
    max_size=3,
).map(lambda items: CountLine(tuple(items)))


@st.composite
def round_bodies(draw: st.DrawFn) -> tuple[Instruction, ...]:
    """A round: its beginning, some instructions, its join."""
    head = draw(st.lists(st.one_of(beginning_chains, yarns), max_size=1))
    middle = draw(st.lists(instructions, min_size=1, max_size=4))
    last = middle[-1]
    # a slip stitch at a round's end is its join, however it is written
    least = 1 if isinstance(last, Work) and last.stitch == "sl st" else 0
    tail = draw(st.lists(joins, min_size=least, max_size=1))
    return (*head, *middle, *tail)


@st.composite
def patterns(draw: st.DrawFn) -> Pattern:
    """A pattern of a foundation and some rounds at random."""
    foundation = RoundLine(
        Label("Rnd", Plain(0), foundation=True),
        (Chain(SizeList((24, 30, 36))), Join(Place("first", (Noun("ch"),)), True)),
    )
    bodies = draw(st.lists(round_bodies(), min_size=1, max_size=3))
    rounds = [
        RoundLine(Label("Rnd", Plain(number)), body, stated=draw(st.one_of(st.none(), counts)))
        for number, body in enumerate(bodies, 1)
    ]
    return Pattern(HEADER, (Section("Cuff", "", "body", (foundation, *rounds)),))
