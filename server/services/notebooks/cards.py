"""A glove's card: every number that one needs to make the lost glove again, next winter."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from server.craft import making as craft
from server.craft.making.spots import fit_of, order, section_of
from server.craft.making.standing import is_foundation
from server.craft.making.twinwords import at_words, foundation_words, hook_words, shown
from server.craft.measure.lengths import length_text
from server.craft.measure.stated_yarn import gauge_in, yarn_in
from server.craft.text.printer import header_lines
from server.services.notebooks.desk import Desk, Units, piece_name
from server.services.notebooks.numbers import CM_PER_INCH, hand_length

FROM_HEADER = ("Yarn", "Gauge", "Fits")
ONE_LENGTH = re.compile(r"(\d+(?:\.\d+)?) ?(cm|in)\b(.*)")
BY_SIZE = re.compile(r"([\d.]+) \(([\d., ]+)\)")


@dataclass(frozen=True)
class CardFact:
    """A number with its name: "Foundation", "24 chains, small"."""

    label: str
    text: str


@dataclass(frozen=True)
class CardRow:
    """A section, or the gap's place, as each piece was made.

    purpose   the host's words for it: "to the base of the thumb"
    made      as each piece of `Card.pieces` was made: "6 rounds"
    at_end    the count at the end of its last round, in piece one
    """

    title: str
    purpose: str
    made: tuple[str, ...]
    at_end: str
    differs: bool


@dataclass(frozen=True)
class CardSteps:
    """The steps of a section: pairs of "Rnds 3 to 6" and what is done there."""

    title: str
    lines: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Card:
    """The card's matter, in her terms and units. Lists are empty where nothing was logged.

    pieces   names of the pieces that were begun, one at least
    facts    size, foundation, hook, yarn, gauge, fit
    notes    with where they stand, first
    special  groups that the steps use: "Perch = (2 dc, ch 1, 2 dc) in one place"
    begun, finished  days in words; empty while that has not come
    """

    nickname: str
    title: str
    part_title: str
    along_title: str
    version: int
    begun: str
    finished: str
    pieces: tuple[str, ...]
    facts: tuple[CardFact, ...]
    rows: tuple[CardRow, ...]
    differences: tuple[str, ...]
    counted: tuple[str, ...]
    measured: tuple[str, ...]
    notes: tuple[tuple[str, str], ...]
    special: tuple[str, ...]
    steps: tuple[CardSteps, ...]


def card(desk: Desk) -> Card:
    """The card of a part; her numbers must be settled."""
    numbers = _begun(desk)
    header = {
        label: text
        for label, _, text in (line.partition(": ") for line in header_lines(desk.pattern.header, desk.terms))
    }
    return Card(
        nickname=desk.nickname,
        title=desk.pattern.header.title,
        part_title=desk.part_title,
        along_title=desk.along_title,
        version=desk.version.number,
        begun=_day(min((one.entry.at for one in desk.log), default="")),
        finished=_finished(desk, numbers),
        pieces=tuple(piece_name(desk, number) for number in numbers),
        facts=tuple(_facts(desk, numbers, header)),
        rows=tuple(_rows(desk, numbers)),
        differences=tuple(_differences(desk)),
        counted=tuple(_counted(desk, numbers)),
        measured=tuple(_measured(desk, numbers)),
        notes=tuple(_notes(desk, numbers)),
        special=tuple(_special(desk)),
        steps=tuple(_steps(desk)),
    )


def _begun(desk: Desk) -> tuple[int, ...]:
    """The pieces with rounds; piece one in any case."""
    return tuple(number for number in desk.pieces if number == 1 or desk.making.pieces[number].started)


def _day(moment: str) -> str:
    if not moment:
        return ""
    day = datetime.fromisoformat(moment)
    return f"{day.day} {day:%B %Y}"


def _finished(desk: Desk, numbers: Sequence[int]) -> str:
    """The day that the last piece was finished, once all that are to be made are."""
    if not all(desk.making.pieces[number].finished for number in desk.pieces):
        return ""
    holding = craft.in_force(logged.entry for logged in desk.log)
    return _day(max((entry.at for entry in holding if entry.kind == "finished"), default=""))


def _facts(desk: Desk, numbers: Sequence[int], header: dict[str, str]) -> Iterator[CardFact]:
    own = {number: desk.making.pieces[number].numbers or desk.making.settled for number in numbers}
    words = []
    for number in numbers:
        settled = own[number]
        size = settled.size if settled and settled.foundation is not None else None
        words.append(foundation_words(settled) + (f", {size}" if size else ""))
    label = "Foundation" if desk.pattern.header.foundations else "Size"
    yield CardFact(label, _both(desk, numbers, words))
    hooks = [hook_words(desk.making.pieces[number], desk.plan(number)) for number in numbers]
    yield CardFact("Hook", _both(desk, numbers, hooks))
    for name in FROM_HEADER:
        line = desk.pattern.header.line(name)
        text = header.get(name, "") if name == "Gauge" or line is None else _of_size(desk, line.value)
        if name == "Fits":
            text = _in_her_units(text, desk.units)
        elif name == "Yarn":
            text = yarn_in(text, desk.units)
        elif text:
            text += gauge_in(desk.pattern.header, desk.units)
        if text:
            yield CardFact("Tension" if name == "Gauge" and desk.terms == "UK" else name, text)


def _in_her_units(fits: str, units: Units) -> str:
    """ "18 cm hand" is "7 in hand" to who reads inches; more than one length stays as it is written."""
    if (found := ONE_LENGTH.fullmatch(fits)) is None or (found[2] == "cm") == (units == "cm"):
        return fits
    length_cm = float(found[1]) if found[2] == "cm" else round(float(found[1]) * CM_PER_INCH, 1)
    return f"{hand_length(length_cm, units)}{found[3]}"


def _of_size(desk: Desk, text: str) -> str:
    """What the header says for her size: "84 m" of "74 (84, 96) m"; all of it for a count of her own."""
    header, settled = desk.pattern.header, desk.making.settled
    sizes = header.sizes
    if settled is None:
        return text
    if settled.size in sizes:
        index = sizes.index(settled.size)
    elif settled.foundation in header.foundations:
        index = header.foundations.index(settled.foundation)
    else:
        return text

    def chosen(found: re.Match[str]) -> str:
        each = [found[1], *(part.strip() for part in found[2].split(","))]
        return each[index] if len(each) == len(sizes) else found[0]

    return BY_SIZE.sub(chosen, text)


def _both(desk: Desk, numbers: Sequence[int], words: Sequence[str]) -> str:
    """One text where it is the same for every piece, else each with its piece."""
    if len(set(words)) == 1:
        return words[0]
    pairs = zip(numbers, words, strict=True)
    return "; ".join(f"{piece_name(desk, number)}: {text}" for number, text in pairs)


def _rows(desk: Desk, numbers: Sequence[int]) -> Iterator[CardRow]:
    for section in desk.plan(numbers[0]).sections:
        if not section.rounds:
            continue
        if section.kind == "gap":
            places = tuple(_gap_place(desk, number, section.index) for number in numbers)
            yield CardRow(f"Below the {section.title}", "", places, "", _differ(places))
        made = tuple(_rounds(desk, number, section.index) for number in numbers)
        yield CardRow(section.title, section.purpose, made, _at_end(desk, section), _differ(made))


def _differ(made: Sequence[str]) -> bool:
    done = [each for each in made if not each.endswith("so far") and each != "not yet"]
    return len(done) == len(made) and len(set(done)) > 1


def _rounds(desk: Desk, number: int, index: int) -> str:
    piece = desk.making.pieces[number]
    section = next(each for each in desk.plan(number).sections if each.index == index)
    planned = [each for each in section.rounds if not is_foundation(each)]
    stand = sum(1 for each in planned if each.spot in piece.worked)
    open_fit = any(fit.fit not in piece.fits_ended for fit in section.fits)
    if not stand:
        return "none" if piece.finished else "not yet"
    words = "1 round" if stand == 1 else f"{stand} rounds"
    later = any(section_of(spot) > index for spot in piece.worked)
    through = piece.finished or later or (stand == len(planned) and not open_fit)
    return words if through else f"{words} so far"


def _gap_place(desk: Desk, number: int, gap: int) -> str:
    """How many rounds stand below the gap, once it stands."""
    piece = desk.making.pieces[number]
    if not any(section_of(spot) == gap for spot in piece.worked):
        return "not yet"
    foundation = {each.spot for each in desk.plan(number).rounds if is_foundation(each)}
    below = sum(1 for spot in piece.worked if section_of(spot) < gap and spot not in foundation)
    return f"{below} round{'' if below == 1 else 's'}"


def _at_end(desk: Desk, section: craft.PlanSection) -> str:
    stand = [each for each in section.rounds if each.spot in desk.making.pieces[1].worked]
    return stand[-1].count_text if stand else ""


def _differences(desk: Desk) -> Iterator[str]:
    for each in desk.verdict.differences:
        one, two = piece_name(desk, 1), piece_name(desk, 2)
        meant = ", meant" if each.accepted else ""
        where = each.section_title
        fit = desk.plan(2).fit_at(fit_of(each.spot)) if each.kind == "rounds" and each.spot else None
        if fit is not None:  # the section above counts its other rounds too
            where += f", repeated to {fit.until}"
        yield f"{where}: {one} {each.one}, {two} {each.two}{meant}"


def _counted(desk: Desk, numbers: Sequence[int]) -> Iterator[str]:
    for number in numbers:
        who = f"{piece_name(desk, number)}, " if len(numbers) > 1 else ""
        for spot, counts in desk.making.pieces[number].counted.items():
            words = ", ".join(shown(name, count, desk.terms) for name, count in sorted(counts.items()))
            yield f"{who}{at_words(desk.plan(number), spot)}: {words}"


def _measured(desk: Desk, numbers: Sequence[int]) -> Iterator[str]:
    for number in numbers:
        piece, name = desk.making.pieces[number], piece_name(desk, number)
        for (what, spot), mm in sorted(
            piece.measures.items(), key=lambda each: (order(each[0][1]), each[0][0])
        ):
            across = "wide" if what == "width" else "long"
            yield f"{name} {length_text(mm, desk.units)} {across} at {at_words(desk.plan(number), spot)}"
        for spot in sorted(piece.weights, key=order)[-1:]:
            yield f"{name} {piece.weights[spot]:g} g"


def _notes(desk: Desk, numbers: Sequence[int]) -> Iterator[tuple[str, str]]:
    for note in desk.making.notes:
        yield "", note.text
    for number in numbers:
        name = piece_name(desk, number)
        for note in desk.making.pieces[number].notes:
            where = f", {at_words(desk.plan(number), note.spot)}" if note.spot else ""
            yield f"{name}{where}", note.text


def _special(desk: Desk) -> Iterator[str]:
    for line in header_lines(desk.pattern.header, desk.terms):
        label, _, text = line.partition(": ")
        if label == "Special stitch":
            yield text


def _steps(desk: Desk) -> Iterator[CardSteps]:
    """As piece one was made; sections that it has not come to, as they are planned."""
    worked = set(desk.making.pieces[1].worked)
    for section in desk.plan(1).sections:
        stand = [each for each in section.rounds if each.spot in worked] or list(section.rounds)
        if stand:
            ends = [("", each) for each in section.ends]
            yield CardSteps(section.title, (*_lines(stand), *ends))


def _lines(rounds: Sequence[craft.PlanRound]) -> Iterator[tuple[str, str]]:
    """Equal rounds in a row in one line: "Rnds 3 to 6"."""
    first = last = rounds[0]
    for each in [*rounds[1:], replace(rounds[-1], line="")]:
        if each.line == last.line:
            last = each
            continue
        yield _label(first.label, last.label), _with_count(first.line, last.count_text)
        first = last = each


def _label(first: str, last: str) -> str:
    word, _, number = last.rpartition(" ")
    return first if first == last or not word else f"{word}s {first.rpartition(' ')[2]} to {number}"


def _with_count(line: str, count: str) -> str:
    return f"{line} [{count}]" if count else line
