"""Writes a pattern's tree as text: `read(write(pattern))` gives the same tree again.

Stitches are named from the tree in US or UK terms, never by replacing words in the text.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from server.craft.text.for_sizes import listed_names
from server.craft.text.labels import until_words
from server.craft.text.numbers import ordinal, plus, written
from server.craft.text.tree import (
    Chain,
    CountLine,
    CountsAs,
    Ending,
    FastenOff,
    FoundationStitches,
    Gauge,
    Header,
    Inline,
    Instruction,
    Join,
    JoinYarn,
    Label,
    Line,
    NoJoin,
    Note,
    Noun,
    Number,
    OtherSide,
    Part,
    Pattern,
    Place,
    Plain,
    Repeat,
    RepeatRounds,
    RingStart,
    RoundLine,
    Section,
    Skip,
    SpecialStitch,
    Terms,
    Turn,
    Work,
)
from server.craft.text.vocabulary import name_in, plural

LOOP_WORDS = {"back": "back loop of ", "front": "front loop of ", "third": "3rd loop of "}
ONE = Plain(1)


def write(pattern: Pattern, terms: Terms | None = None) -> str:
    """The pattern as text, in its own terms or in those asked for."""
    return _Printer(pattern, terms or pattern.header.terms).text()


def header_lines(header: Header, terms: Terms) -> tuple[str, ...]:
    """The header's lines, `Key: value` each."""
    return tuple(_Printer(Pattern(header, ()), terms).header(header).split("\n"))


@dataclass(frozen=True, slots=True)
class RoundWords:
    """A round line in words: `Rnds 3 to 6 (6, 7)`, `Sl st in next dc, …`, `6 (7, 8) Perches`; "" for none."""

    label: str
    instructions: str
    count: str


def round_words(pattern: Pattern, line: RoundLine, terms: Terms) -> RoundWords:
    """The parts of a round line. An unsound one is as it was written, all of it in `instructions`."""
    return _Printer(pattern, terms).round(line)


def decimal(value: Fraction | float) -> str:
    """A number with as many decimals as it has."""
    return f"{float(value):.6f}".rstrip("0").rstrip(".")


class _Printer:
    def __init__(self, pattern: Pattern, terms: Terms) -> None:
        self.pattern = pattern
        self.terms: Terms = terms
        self._skipped = "skipped" if terms == "US" else "missed"
        self._around = "across" if pattern.header.worked == "rows" else "around"

    def text(self) -> str:
        parts = [self.header(self.pattern.header), "\n".join(note.text for note in self.pattern.prose)]
        parts += [self._section(section) for section in self.pattern.sections]
        return "\n\n".join(part for part in parts if part) + "\n"

    # --- header ---------------------------------------------------------------------------------------------

    def header(self, header: Header) -> str:
        """All lines of the header."""
        lines = [f"Title: {header.title}"] if header.title else []
        lines += [f"Terms: {self.terms}", f"Sizes: {_listed(header.sizes)}"]
        if header.foundations or not header.lines or header.line("Foundation") is not None:
            lines.append(f"Foundation: {_foundation(header)}")
        if header.custom is not None:
            low, high = header.custom
            lines.append("Custom: none" if low > high else f"Custom: {low} to {high}")
        lines += [f"Worked: {header.worked}", f"Pieces: {header.pieces}"]
        if header.yarn:
            lines.append(f"Yarn: {header.yarn}")
        if header.hook_mm:
            lines.append(f"Hook: {_listed([decimal(mm) for mm in header.hook_mm])} mm")
        if header.gauge:
            lines.append(f"Gauge: {_gauge(header.gauge, 'rows' if header.worked == 'rows' else 'rnds')}")
        if header.fits_cm:
            lines.append(f"Fits: {_listed([decimal(cm) for cm in header.fits_cm])} cm")
        lines += [f"Special stitch: {self._special(special)}" for special in header.special]
        return "\n".join(lines)

    def _special(self, special: SpecialStitch) -> str:
        parts: list[str] = []
        index = 0
        while index < len(special.items):
            item = special.items[index]
            if isinstance(item, int):
                parts.append(f"ch {item}")
                index += 1
                continue
            many = 1
            while index + many < len(special.items) and special.items[index + many] == item:
                many += 1
            parts.append(f"{many} {self._name(item)}" if many > 1 else self._name(item))
            index += many
        if special.name == "picot":
            return f"picot = {parts[0]}, sl st in first ch"
        inside = f"({', '.join(parts)})" if parts else ""
        ending = "closed together" if special.one_stitch else "in one place"
        return f"{special.name} = {inside} {ending}".replace("  ", " ")

    # --- sections and rounds --------------------------------------------------------------------------------

    def _section(self, section: Section) -> str:
        head = f"# {section.title} - {section.purpose}" if section.purpose else f"# {section.title}"
        lines = [head] if section.title else []
        for line in section.lines:
            if isinstance(line, RoundLine) and line.label is None and not _says_so(line):
                lines.append("")
            if isinstance(line, RoundLine) and line.label is None and line.only is not None:
                lines += [self._only(line).strip(" ()") + ":", self._line(line), "All sizes:"]
                continue
            lines.append(self._line(line))
        return "\n".join(lines)

    def _line(self, line: Line) -> str:
        if isinstance(line, Note):
            return f"Note: {line.text}"
        if isinstance(line, Ending):
            return line.text
        words = self.round(line)
        label = f"{words.label}: " if words.label else ""
        count = f" [{words.count}]" if words.count else ""
        stop = "." if line.sound else ""
        return f"{label}{words.instructions}{stop}{count}"

    def round(self, line: RoundLine) -> RoundWords:
        """The parts of a round line, without the stop and the brackets between them."""
        if not line.sound:
            return RoundWords("", self.pattern.source[line.span.start : line.span.end], "")
        word = "row" if self.pattern.header.worked == "rows" else "rnd"
        body = _repeat_rounds(line.repeats, word) if line.repeats is not None else self.sequence(line.body)
        return RoundWords(
            _label(line.label) + self._only(line) if line.label is not None else "",
            f"{body[:1].upper()}{body[1:]}",
            self._count(line.stated) if line.stated is not None else "",
        )

    def _only(self, line: RoundLine) -> str:
        """ " (large only)", for a line that is for some sizes."""
        return f" ({listed_names(line.only, self.pattern.header.sizes)})" if line.only is not None else ""

    def _count(self, stated: CountLine) -> str:
        parts = []
        for item in stated.items:
            number = written(item.number)
            parts.append(number if item.noun is None else f"{number} {self.noun(item.noun, item.number)}")
        return ", ".join(parts)

    # --- instructions ---------------------------------------------------------------------------------------

    def sequence(self, items: Sequence[Instruction], *, inside: bool = False) -> str:
        """Instructions in order, parted as patterns part them."""
        words = ""
        for item in items:
            said = self.instruction(item, inside=inside)
            if not words:
                words = said
            else:
                words += ("; " if isinstance(item, Join | Turn | NoJoin) and not inside else ", ") + said
        return words

    def instruction(self, item: Instruction, *, inside: bool = False) -> str:
        """One instruction."""
        if isinstance(item, Chain):
            return f"ch {written(item.number)}{self._counts_as(item.counts)}"
        if isinstance(item, Work):
            return self._work(item)
        if isinstance(item, Skip):
            return f"{'sk' if self.terms == 'US' else 'miss'} {self.place(item.place)}"
        if isinstance(item, Repeat):
            return self._repeat(item, inside=inside)
        if isinstance(item, Join):
            return self._join(item)
        if isinstance(item, JoinYarn):
            place = f" in {self.place(item.place)}" if item.place is not None else ""
            return f"join yarn with {self._name(item.stitch)}{place}"
        if isinstance(item, FoundationStitches):
            return f"f{self._name(item.stitch)} {written(item.number)}"
        return _PLAIN_WORDS[type(item)]

    def _counts_as(self, counts: CountsAs | None) -> str:
        if counts is None:
            return ""
        if not counts.stitches:
            return " (does not count as a st)"
        names = ["a st" if name == "st" else self._name(name) for name in counts.stitches]
        if counts.chains:
            names.append(f"ch {counts.chains}")
        return f" (counts as {', '.join(names)})"

    def _work(self, item: Work) -> str:
        stitch = (
            f"({self._inline(item.stitch)})" if isinstance(item.stitch, Inline) else self._name(item.stitch)
        )
        head = stitch if item.times == ONE else f"{written(item.times)} {stitch}"
        if item.place is None:
            return head
        if item.place.nouns[:1] == (Noun("edge"),):
            return f"{head} evenly around the edge" if item.place.evenly else f"{head} around the edge"
        where = self.place(item.place)
        head += " evenly" if item.place.evenly else ""
        return f"{head} {'around' if item.place.post else 'in'} {where}"

    def _inline(self, inline: Inline) -> str:
        return ", ".join(self.instruction(part) for part in inline.items)

    def _repeat(self, item: Repeat, *, inside: bool) -> str:
        body = self.sequence(item.body, inside=True)
        left = f", omitting last {self._omitted(item)}" if item.omitting else ""
        star = item.style == "star" and not inside and item.times != ONE
        how = self._how_often(item, star=star)
        return f"*{body}; rep from * {how}{left}" if star else f"[{body}] {how}{left}"

    def _how_often(self, item: Repeat, *, star: bool) -> str:
        if item.to_last is not None:
            last = item.to_last
            return f"to {self.place(replace(last, count=None) if last.count == ONE else last)}"
        if item.times is None:
            return self._around
        return f"{written(plus(item.times, -1))} times more" if star else f"{written(item.times)} times"

    def _omitted(self, item: Repeat) -> str:
        return " and ".join(self.instruction(one) for one in item.omitting)

    def _join(self, item: Join) -> str:
        ring = " to form a ring" if item.to_ring else ""
        if item.place is not None:
            return f"join with sl st in {self.place(item.place)}{ring}"
        return f"join with sl st{ring}" if item.to_ring else "join"

    # --- places ---------------------------------------------------------------------------------------------

    def place(self, place: Place) -> str:
        """A place, behind its `in` or `around`."""
        if place.edge == "between":
            return self._between(place)
        loop = LOOP_WORDS[place.loop] if place.loop else ""
        edge = f"{place.edge} of " if place.edge else ""
        return loop + edge + self._part(place.part) + self._which(place)

    def _between(self, place: Place) -> str:
        """`sp between next 2 dc`, `each sp between groups around`."""
        names = self.noun(place.nouns[0], Plain(2))
        if place.which == "each":
            return f"each sp between {names} {self._around}"
        if place.which == "last":
            return f"last sp between {names}"
        if place.pairs:
            return f"sp between next pair of {names}"
        return f"next sp between {names}" if place.which == "plain" else f"sp between {place.which} 2 {names}"

    def _part(self, part: Part | None) -> str:
        if part is None:
            return ""
        if part.kind == "top":
            return "top of "
        name = f" {self.noun(part.noun, ONE)}" if part.noun is not None else ""
        if part.kind == "kth":
            return f"{ordinal(part.ordinal)}{name} of "
        kind = "centre" if part.kind == "center" and self.terms == "UK" else part.kind
        return f"{kind}{name} of "

    def _which(self, place: Place) -> str:
        many = written(place.count) + " " if place.count is not None else ""
        skipped = f"{self._skipped} " if place.skipped and place.which != "skipped" else ""
        names = " and ".join(self.noun(noun, place.count or ONE) for noun in place.nouns)
        if place.which in ("kth", "from hook"):
            tail = " from hook" if place.which == "from hook" else ""
            tail += self._counts_as(place.passed).replace("(", f"({self._skipped} ch ", 1)
            return f"{ordinal(place.ordinal)} {skipped}{names}{tail}"
        if place.nouns == (Noun("row"),) and place.which == "each":
            return "each row"
        if place.which in ("beg", "plain"):
            return f"{skipped}{names}"
        step = f"{ordinal(place.step)} " if place.step > 1 else ""
        if place.which == "each":
            tail = f" {self._around}"
            if place.until is not None:
                tail = f" to {self._last(place.until)}"
            elif place.before is not None:
                tail = f" to {self.noun(place.before, ONE)}"
            return f"each {step}{skipped}{names}{tail}"
        which = self._skipped if place.which == "skipped" else place.which
        head = f"each {step}of {which}" if step else which
        tail = " as beg ch" if place.at_beginning else ""
        return f"{head} {many}{skipped}{names}{tail}"

    @staticmethod
    def _last(left: Number) -> str:
        """ "last 2 sts", "last st"."""
        return "last st" if left == ONE else f"last {written(left)} sts"

    def noun(self, noun: Noun, number: Number) -> str:
        """A place's name, singular or plural as its number asks."""
        one = number == ONE
        if noun.kind == "st":
            return "st" if one else "sts"
        if noun.kind == "sp":
            if noun.loop_form and one:
                return f"ch-{noun.length}"
            head = f"ch-{noun.length} " if noun.length is not None else ""
            return head + ("sp" if one else "sps")
        if noun.kind in ("stitch", "group"):
            name = self._name(noun.name) or "group"
            return name if one else plural(name)
        if noun.kind == "beg ch":
            return f"beg ch-{noun.length}" if noun.length is not None else "beg ch"
        return noun.kind

    def _name(self, name: str) -> str:
        return name_in(name, self.terms)


_PLAIN_WORDS: dict[type[Instruction], str] = {
    Turn: "turn",
    NoJoin: "do not join",
    OtherSide: "working along the other side of the foundation ch",
    FastenOff: "fasten off",
    RingStart: "magic ring",
}


def _says_so(line: RoundLine) -> bool:
    """Whether a line without a label is known as one by its first words."""
    return bool(line.body) and isinstance(line.body[0], JoinYarn)


def _listed(names: Sequence[object]) -> str:
    head, *rest = map(str, names)
    return f"{head} ({', '.join(rest)})" if rest else head


def _foundation(header: Header) -> str:
    if not header.foundations:
        return "none"
    multiple = f", multiple of {header.multiple}" if header.multiple is not None else ""
    return _listed(header.foundations) + multiple + (f" + {header.plus}" if header.plus else "")


def _gauge(gauge: Gauge, word: str) -> str:
    rounds = f" and {decimal(gauge.rounds)} {word}" if gauge.rounds is not None else ""
    length = gauge.length_cm if gauge.unit == "cm" else gauge.length_cm / Fraction(254, 100)
    return f"{decimal(gauge.stitches)} sts{rounds} = {decimal(length)} {gauge.unit}"


def _label(label: Label) -> str:
    if label.foundation:
        return f"Foundation {label.word.lower()}"
    if label.last is None:
        head = f"{label.word} {written(label.first)}"
    else:
        pair = isinstance(label.first, Plain) and label.last == Plain(label.first.value + 1)
        upto = "and" if pair else "to"
        head = f"{label.word}s {written(label.first)} {upto} {written(label.last)}"
    if label.until is None:
        return head
    return f"{head}, or {until_words(label.until)}"


def _repeat_rounds(repeats: RepeatRounds, word: str) -> str:
    *head, last = repeats.rounds
    if not head:
        words = f"{word} {last}"
    elif len(head) > 1 and repeats.rounds == tuple(range(head[0], last + 1)):
        words = f"{word}s {head[0]} to {last}"
    else:
        words = f"{word}s {', '.join(map(str, head))} and {last}"
    return f"rep {words}" + (f" of {repeats.section}" if repeats.section is not None else "")
