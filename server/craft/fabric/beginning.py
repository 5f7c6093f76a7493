"""The beginning of a round: travelling slip stitches, and what the beginning chain counts as."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from server.craft.fabric.faults import fault
from server.craft.fabric.ring import Found
from server.craft.fabric.stock import Element
from server.craft.fabric.values import Node
from server.craft.fabric.working import Target, Working
from server.craft.text import rules
from server.craft.text.tree import (
    Chain,
    CountsAs,
    FoundationStitches,
    Inline,
    Instruction,
    Join,
    JoinYarn,
    Noun,
    Repeat,
    SpecialStitch,
    Turn,
    Work,
)
from server.craft.text.vocabulary import height_ch, name_in, plain_stitch

Specials = Mapping[str, SpecialStitch]


def travels(items: Sequence[Instruction], index: int) -> bool:
    """Whether the slip stitch at `index` comes before the round's beginning chain."""
    item = items[index]
    if not (isinstance(item, Work) and item.stitch == "sl st"):
        return False
    if not all(_leads_on(before) for before in items[:index]):
        return False
    for after in items[index + 1 :]:
        if isinstance(after, Chain) or _begins_inside(after):
            return True
        if not _leads_on(after):
            return False
    return False


def _begins_inside(item: Instruction) -> bool:
    """`(ch 3, dc, ch 1, 2 dc) in same sp`: the beginning chain stands in the group."""
    inside = item.stitch if isinstance(item, Work) else None
    return isinstance(inside, Inline) and isinstance(inside.items[0], Chain)


def _leads_on(item: Instruction) -> bool:
    return isinstance(item, Turn | JoinYarn) or (isinstance(item, Work) and item.stitch == "sl st")


def first_stitch(items: Sequence[Instruction], specials: Specials) -> str | None:
    """The US name of the first stitch that these instructions make."""
    for item in items:
        if isinstance(item, Work):
            return _first_of(item.stitch, specials)
        if isinstance(item, Repeat):
            found = first_stitch(item.body, specials)
            if found is not None:
                return found
        if isinstance(item, FoundationStitches):
            return item.stitch
        if isinstance(item, Join):
            return None
    return None


def _first_of(stitch: str | Inline, specials: Specials) -> str | None:
    if isinstance(stitch, Inline):
        return next((_first_of(one.stitch, specials) for one in stitch.items if isinstance(one, Work)), None)
    special = specials.get(stitch)
    if special is not None and not special.one_stitch and stitch != "picot":
        return next((part for part in special.items if isinstance(part, str)), None)
    return stitch


def bare_counts(many: int, first: str | None) -> tuple[str, int] | None:
    """What a beginning chain of so many counts as, where the text does not say: (stitch, chains left over).

    ("", 0) where it does not count; None where that is not clear and a warning asks.
    """
    if many == 1 or first is None:
        return "", 0
    height = height_ch(first)
    if height == 0:
        return "", 0
    if many >= height:
        return plain_stitch(first).removeprefix("FP").removeprefix("BP"), many - height
    return None


def begin_chain(work: Working, item: Chain, many: int, following: Sequence[Instruction]) -> tuple[str, int]:
    """The beginning chain: it stands in the hook's place if it counts. Answers what it counts as."""
    first = first_stitch(following, work.setting.specials)
    written = item.counts
    if written is None:
        counted = bare_counts(many, first)
        if counted is None and _post_in_its_place(following):
            counted = "", 0
        if counted is None:
            _warn_bare(work, item, many, first or "st")
            counted = ("", 0)
    else:
        counted = _as_written(written, many, first)
    work.begin_length = many
    stitch, spare = counted
    terms = work.setting.header.terms
    work.began_with = f"ch {many}" + (
        f" that counts as {name_in(stitch, terms)}" if stitch else " that does not count"
    )
    if not stitch:
        work.make(Node("begin", "", many, (), "none"), None, item.span)
        return counted
    work.begin_counts = True
    work.begin_height = many - spare
    _stand(work, stitch, many, spare, item)
    return counted


def _post_in_its_place(following: Sequence[Instruction]) -> bool:
    """`Ch 2, FPdc around same st`: the first stitch is worked where the chain would stand."""
    first = next((item for item in following if isinstance(item, Work | Repeat)), None)
    return (
        isinstance(first, Work)
        and isinstance(first.stitch, str)
        and first.stitch.startswith(("FP", "BP"))
        and first.place is not None
        and first.place.which in ("same", "first")
    )


def _as_written(written: CountsAs, many: int, first: str | None) -> tuple[str, int]:
    """What so many chains count as by the text: (stitch, chains left over), ("", 0) for nothing."""
    if not written.stitches:
        return "", 0
    stitch = written.stitches[0] if written.stitches[0] != "st" else plain_stitch(first or "sc")
    return stitch, min(written.chains, many - 1)


def _stand(work: Working, stitch: str, many: int, spare: int, item: Chain) -> None:
    """A counting chain stands in the hook's place."""
    target = work.last or Target(Found(0, 0, 0, -1), Noun("ring"), "ring")
    found = target.found
    size = work.size or 1
    base = tuple(at % size for at in range(found.base_start, found.base_end + 1)) if work.size else ()
    work.begin_at(target)
    into = target.into
    key = (into, *base) if into != "ring" else None
    made = Element("stitch", stitch, key, many, work.setting.stock.atom(stitch, many))
    work.make(Node("begin", stitch, many - spare, base, into), made, item.span)
    work.position = max(work.position, found.end)
    work.stood = True
    work.last = target
    if target.noun.kind == "sp" and work.size and found.base_start % work.size in work.ring.space_at:
        work.spaces_worked.add(work.ring.space_at[found.base_start % work.size].length)
    work.chains(spare, item.span)


def _warn_bare(work: Working, item: Chain, many: int, first: str) -> None:
    terms = work.setting.header.terms
    name = name_in(plain_stitch(first), terms)
    words = f"ch {many} (counts as {name})"
    work.report(fault(rules.BARE_CHAIN, item.span, first=name, mend_words=words, mend=words))


def pass_from_hook(work: Working, first: str, span_item: Work) -> None:
    """Rows: the chains passed before `dc in 4th ch from hook` count where a bare beginning chain would."""
    many = work.begin_from_hook
    work.begin_from_hook = 0
    if many == 0 or work.elements:
        return
    written = span_item.place.passed if span_item.place is not None else None
    if written is None:
        stitch, spare = bare_counts(many, first) or ("", 0)
    else:
        stitch, spare = _as_written(written, many, first)
    work.begin_length, work.begin_height = many, many - spare
    work.began_with = f"{many} chains passed"
    start = max(work.stand, 0)
    base = tuple(range(start, start + many))
    if not stitch:
        work.make(Node("begin", "", many, base, "none"), None, span_item.span)
        return
    work.begin_counts = True
    atom = work.setting.stock.atom(stitch, many)
    made = Element("stitch", stitch, ("foundation", *base), many, atom)
    work.make(Node("begin", stitch, many - spare, base, "foundation"), made, span_item.span)
    work.chains(spare, span_item.span)
