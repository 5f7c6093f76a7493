"""What a beginning chain counts as, once it is said, holds for the rounds after it that say nothing else.

Designers say it once: in round 1, or in a note above the pattern. What is said later wins from there on.
Only the words decide: no stated count is looked at, so that the proof does not lean on what it proves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from server.craft.text import rules
from server.craft.text.cursor import Context
from server.craft.text.endings import begins_from_hook
from server.craft.text.lexer import Token, tokens
from server.craft.text.tree import (
    Chain,
    CountsAs,
    Inline,
    Instruction,
    Join,
    JoinYarn,
    Line,
    Note,
    Plain,
    Repeat,
    RingStart,
    RoundLine,
    Section,
    Turn,
    Work,
)
from server.craft.text.vocabulary import plain_stitch

MOST_CHAINS = 5
"""The longest chain that `beginning chains do not count` speaks of: longer ones are loops."""
COUNTING = ("count", "counts", "counted", "counting")
NEGATIVE = ("not", "doesn't", "doesnt", "dont", "never", "don't", "isn't", "isnt", "no")
GENERAL = ("beg", "turn", "tch", "first", "each", "rnd", "throughout", "the", "initial")


@dataclass(slots=True)
class _Said:
    """By number of chains: what they count as, and the stitch that they began a round of where it was said.

    any_chain   what holds for chains that no number is said of
    """

    by_chains: dict[int, tuple[CountsAs, str | None]] = field(default_factory=dict)
    any_chain: CountsAs | None = None

    def hear(self, numbers: Sequence[int], counts: CountsAs, first: str | None) -> None:
        """Notes what is said of so many chains; of all, where no number is named."""
        if not numbers:
            self.any_chain = counts
            self.by_chains.clear()
        for many in numbers:
            self.by_chains[many] = (counts, first)

    def of(self, many: int, first: Work | None, name: str | None) -> CountsAs | None:
        """What holds for a chain that says nothing itself, before that stitch; None: the usual rule."""
        counts, said_of = self.by_chains.get(many, (self.any_chain if many <= MOST_CHAINS else None, None))
        if counts is None or not counts.stitches:
            return counts
        wanted = said_of if counts.stitches[0] == "st" else counts.stitches[0]
        if name is None or (wanted is not None and plain_stitch(wanted) != name):
            return None  # it was said of another stitch
        place = first.place if first is not None else None
        if many == 1 and place is not None and place.which in ("same", "first"):
            return None  # the first stitch goes where the chain would stand
        return counts


def with_standing(
    sections: Sequence[Section], prose: Sequence[Note], context: Context
) -> tuple[Section, ...]:
    """The sections, each bare beginning chain with what was said of it before."""
    said = _Said()
    for note in prose:
        _hear_note(note, said, context)
    return tuple(
        replace(section, lines=tuple(_line(line, said, context) for line in section.lines))
        for section in sections
    )


def _line(line: Line, said: _Said, context: Context) -> Line:
    if isinstance(line, Note):
        _hear_note(line, said, context)
    if not isinstance(line, RoundLine) or (line.label is not None and line.label.foundation):
        return line
    at = _beginning(line.body)
    if at is None:
        return line
    item, following = line.body[at], line.body[at + 1 :]
    if isinstance(item, Chain):
        made: Instruction = _chain(item, following, said, context)
    else:
        assert isinstance(item, Work)
        assert isinstance(item.stitch, Inline)
        inside = item.stitch
        head = inside.items[0]
        assert isinstance(head, Chain)
        chain = _chain(head, inside.items[1:], said, context)
        made = (
            item if chain is head else replace(item, stitch=replace(inside, items=(chain, *inside.items[1:])))
        )
    if made is item:
        return line
    return replace(line, body=(*line.body[:at], made, *following))


def _beginning(items: Sequence[Instruction]) -> int | None:
    """Index of the beginning chain, or of the group that it stands in; None where the round has none."""
    for at, item in enumerate(items):
        if isinstance(item, Chain):
            behind = items[at + 1] if at + 1 < len(items) else None
            if isinstance(behind, Join):
                continue  # `ch 4, join to form a ring`
            if begins_from_hook(tuple(items[at + 1 :])):
                return None
            return at if behind is not None else None
        if isinstance(item, Work) and isinstance(item.stitch, Inline):
            return at if isinstance(item.stitch.items[0], Chain) else None
        if isinstance(item, Join | RingStart | Turn | JoinYarn) or (
            isinstance(item, Work) and item.stitch == "sl st"
        ):
            continue
        return None
    return None


def _chain(item: Chain, following: Sequence[Instruction], said: _Said, context: Context) -> Chain:
    if not isinstance(item.number, Plain):
        return item
    first = _first(following)
    name = _name(first, context)
    if item.counts is not None:
        said.hear((item.number.value,), item.counts, name)
        return item
    counts = said.of(item.number.value, first, name)
    taken = context.counting.get(item.span)
    if counts is not None and taken is not None and taken != bool(counts.stitches):
        expected = (
            "`(counts as dc)` or `(does not count)` behind the chain, as the round's beginning goes by it"
        )
        context.findings.append(rules.UNREAD.at(context.source, item.span, expected=expected, near=""))
    return item if counts is None else replace(item, counts=replace(counts, span=item.span))


def _first(items: Sequence[Instruction]) -> Work | None:
    """The first that is worked of these."""
    for item in items:
        if isinstance(item, Repeat):
            return _first(item.body)
        if isinstance(item, Work):
            if isinstance(item.stitch, Inline):
                inner = _first(item.stitch.items)
                return None if inner is None else replace(inner, place=item.place)
            return item
        if isinstance(item, Join):
            return None
    return None


def _name(first: Work | None, context: Context) -> str | None:
    """The stitch that is worked first; of a group, the first of its stitches."""
    if first is None or not isinstance(first.stitch, str):
        return None
    group = context.groups.get(first.stitch)
    name = first.stitch
    if group is not None and not group.one_stitch:
        name = next((part for part in group.items if isinstance(part, str)), name)
    return plain_stitch(name).removeprefix("FP").removeprefix("BP")


# --- notes --------------------------------------------------------------------------------------------------


def _hear_note(note: Note, said: _Said, context: Context) -> None:
    """`Ch 2 at the beginning of a round does not count as a stitch`, `the turning chain counts as a dc`."""
    if "count" not in note.text.lower() and "count" not in context.source.slice(note.span).lower():
        return
    for clause in _clauses(tokens(context.source.text, note.span, context.lexicon)):
        _hear_clause(clause, said)


def _clauses(found: Sequence[Token]) -> Iterator[list[Token]]:
    """The clauses: up to a full stop, a semicolon, a line's bullet, or `but`."""
    clause: list[Token] = []
    for token in found:
        if token.value in (".", ";", "!", "?", "*", "but", "•"):
            yield clause
            clause = []
        else:
            clause.append(token)
    yield clause


def _hear_clause(clause: Sequence[Token], said: _Said) -> None:
    at = next((index for index, token in enumerate(clause) if token.value in COUNTING), None)
    if at is None:
        return
    before, after = clause[:at], clause[at + 1 :]
    if not any(token.value in ("ch", "tch") for token in before):
        return
    numbers = _chains_named(before)
    if not numbers and not any(token.value in GENERAL for token in before):
        return
    if any(token.value in NEGATIVE for token in before):
        said.hear(numbers, CountsAs(), None)
        return
    if not after or after[0].value not in ("as", "for"):
        return  # `ch 3 count: 12`
    stitches = [token.value for token in after if token.kind == "stitch"]
    chains = sum(
        token.number
        for token, last in zip(after[1:], after, strict=False)
        if token.kind == "num" and last.value in ("ch", "-")
    )
    if len(stitches) > 1 or not (stitches or any(token.value == "st" for token in after)):
        return  # `ch 2 and ch 3 count as hdc and dc`: each as the usual rule has it
    said.hear(numbers, CountsAs((stitches[0] if stitches else "st",), chains), None)


def _chains_named(part: Sequence[Token]) -> tuple[int, ...]:
    """The numbers of `ch 1/ch 2`, `ch-3`, `2ch`, `ch 1 or 2`."""
    numbers: list[int] = []
    for index, token in enumerate(part):
        if token.kind != "num" or not 1 <= token.number <= 12:
            continue
        back = index - 1
        while (back >= 0 and part[back].value in ("-", "/", ",", "&", "or", "and")) or (
            back >= 0 and part[back].kind == "num"
        ):
            back -= 1
        behind = part[index + 1].value if index + 1 < len(part) else ""
        if (back >= 0 and part[back].value in ("ch", "tch")) or behind in ("ch", "tch"):
            numbers.append(token.number)
    return tuple(dict.fromkeys(numbers))
