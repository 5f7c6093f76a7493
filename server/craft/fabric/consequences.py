"""One fault, one finding: leaves out what only follows from an earlier fault, at the same counts or at
others.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from server.craft.fabric.faults import Found, Order
from server.craft.fabric.numbering import Count
from server.craft.text import rules

Group = list[Found]
"""One fault of a round, at all the counts where it was met."""


def without_consequences(groups: Iterable[Group], counts: Sequence[Count]) -> list[Group]:
    """The groups that are faults of their own; `counts` are all that were tried."""
    kept = list(groups)
    if any(_rule(group) is rules.TOO_LARGE for group in kept):
        kept = [group for group in kept if _rule(group) is not rules.COUNT_WRONG]
    with_errors = {one.section for group in kept for one in group if _is_error(group)}
    kept = [
        group for group in kept if not (_rule(group) is rules.OFF_LINE and group[0].section in with_errors)
    ]
    own = {(group[0].fault.rule.code, group[0].fault.span) for group in kept}
    # `rep rnd 3` has the faults of round 3 again: they are that round's
    kept = [group for group in kept if (group[0].fault.rule.code, group[0].fault.origin) not in own]
    kept = _one_for_each_round(kept)
    return _not_following(kept, {count for count in counts if count.size is not None})


def _rule(group: Group) -> object:
    return group[0].fault.rule


def _is_error(group: Group) -> bool:
    return group[0].fault.rule.severity == "error"


def _is_grave(group: Group) -> bool:
    """Whether the fabric itself, or its count, is not what the text says."""
    return _is_error(group) and group[0].fault.rule.kind != "join" and group[0].placed.strand != ""


def _one_for_each_round(groups: list[Group]) -> list[Group]:
    """Of a round's own faults the first that holds at a size: a wrong instruction spoils its counts as well.

    Places passed without `sk` are one warning a round, and none where the round has a fault.
    """
    first: dict[tuple[Order, bool], Group] = {}
    for group in groups:
        grave, passing = _is_grave(group), _rule(group) in (rules.PASSED, rules.OTHER_LENGTH)
        if not (grave or passing):
            continue
        key = (group[0].placed.order, grave)
        if key not in first or _weight(group) < _weight(first[key]):
            first[key] = group
    kept: list[Group] = []
    for group in groups:
        order = group[0].placed.order
        if _rule(group) is rules.JOIN_NOWHERE and _other_stitch(first.get((order, True))):
            continue  # the round is worked in another stitch than its join and its count name
        if _is_grave(group) and first[(order, True)] is not group:
            continue
        if _rule(group) in (rules.PASSED, rules.OTHER_LENGTH) and (
            (order, True) in first or first[(order, False)] is not group
        ):
            continue
        kept.append(group)
    return kept


def _other_stitch(group: Group | None) -> bool:
    """Whether a stated count is wrong because none of its stitch is worked."""
    if group is None or _rule(group) is not rules.COUNT_WRONG:
        return False
    return all((one.fault.worked or "").startswith("0 ") for one in group)


def _weight(group: Group) -> tuple[bool, bool, int]:
    """Which of a round's faults comes first: at sizes before custom counts, instructions before counts, then
    the text.
    """
    no_size = all(one.count.size is None for one in group)
    return no_size, _rule(group) in (rules.COUNT_WRONG, rules.NOT_WHOLE), group[0].fault.span.start


def _not_following(groups: list[Group], sizes: set[Count]) -> list[Group]:
    """Without later faults of a strand at counts where no stated count agreed since the strand's first fault.

    That first fault may not show at those counts in its own round (the repeat happens to close, nothing
    is stated);
    what goes wrong afterwards is its doing all the same. A stated count that is wrong at some sizes only
    is a slip of its
    own there, and says nothing of other counts.
    """
    kept: list[Group] = []
    for group in groups:
        earlier = [
            other
            for other in groups
            if other is not group and _comes_before(other, group) and _spreads(other, sizes)
        ]
        left = [one for one in group if not any(_follows(one, other[0].placed.order) for other in earlier)]
        if left:
            kept.append(left)
    return kept


def _comes_before(other: Group, group: Group) -> bool:
    here, there = group[0].placed, other[0].placed
    if not (_is_grave(other) and _is_grave(group)) or there.order >= here.order:
        return False
    if here.strand == "foundation" and there.strand == "main":
        return there.foundation
    return there.strand == here.strand or (here.strand == "gap" and there.strand == "main")


def _spreads(group: Group, sizes: set[Count]) -> bool:
    return _rule(group) is not rules.COUNT_WRONG or sizes <= {one.count for one in group}


def _follows(one: Found, first: Order) -> bool:
    checked = one.placed.checked
    return checked is None or checked < first
