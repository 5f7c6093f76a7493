"""Will it last: what is left on the scale against what both gloves still take, and the answer that saves
the pair.

Both gloves get the same rounds. What they take in all is worked out from the fabric in those numbers (the
pattern is worked again with fewer rounds, so that edgings and thumbs stay in it); what stands already is
taken off. Rounds can only be saved in lines to fit ("or to the knuckles"). Where they are, each such line
keeps its share of the rounds, as near as whole rounds go, so that the proportions stay.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from server.craft.fabric import Fabric, Numbers, work
from server.craft.measure.beliefs import Range
from server.craft.measure.calibrating import Calibration
from server.craft.measure.needing import plus, tails_m
from server.craft.measure.quantities import grams_text
from server.craft.measure.yarnlength import PieceYarn, Setting, piece_yarn
from server.craft.text.tree import Pattern

OTHER_GLOVE = 0.02  # judgement: two gloves of one hand differ by about so much
MORE_ROUNDS = 40  # how many more rounds than planned are tried
NOTHING_G = 0.05  # less is no yarn on any scale
SOON = 2  # rounds ahead of the middle of the yarn at which it is said once more

Verdict = Literal["enough", "enough if", "not enough"]


@dataclass(frozen=True, slots=True)
class YarnAtHand:
    """A pair under way. Nothing need be worked, and left_g may be the whole cake.

    numbers       the numbers both gloves are to have (glove one's, with its own rounds to fit)
    left_g        grams on the scale, without the gloves
    worked_one, worked_two   spots of the rounds that stand
    pieces        2, or 1 for a hat
    noun          what one of a pair is called
    """

    pattern: Pattern
    numbers: Numbers
    by: Setting
    calibration: Calibration
    left_g: float
    worked_one: frozenset[str] = frozenset()
    worked_two: frozenset[str] = frozenset()
    pieces: int = 2
    noun: str = "glove"


@dataclass(frozen=True, slots=True)
class Line:
    """A line to fit in the answer: rounds planned and rounds advised, and what to take out of what stands."""

    fit: str
    section: str
    until: str
    planned: int
    rounds: int
    take_out_one: int = 0
    take_out_two: int = 0


@dataclass(frozen=True, slots=True)
class Rounds:
    """The most rounds to fit, equal on both gloves, that the yarn allows nine times in ten and more."""

    lines: tuple[Line, ...]
    need_g: Range
    numbers: Numbers

    @property
    def changed(self) -> tuple[Line, ...]:
        """The lines that have another number than planned."""
        return tuple(line for line in self.lines if line.rounds != line.planned)


@dataclass(frozen=True, slots=True)
class Half:
    """Glove one takes more than half: the round it reaches half at, its grams, and how many rounds ahead."""

    spot: str
    label: str
    section: str
    glove_g: float
    ahead: int
    says: str


@dataclass(frozen=True, slots=True)
class Lasting:
    """The answer. over_g: what is left over at the middle (below 0: what is short).

    most   None where not even the fewest rounds can be made, or there is no line to fit
    """

    verdict: Verdict
    need_g: Range
    left_g: float
    over_g: float
    most: Rounds | None
    half: Half | None
    says: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MadePiece:
    """A piece in some numbers, as far as its yarn asks: its rounds with their yarn, its lines to fit, and the
    titles of its sections by index.
    """

    yarn: PieceYarn
    lines: tuple[Line, ...]
    titles: tuple[tuple[int, str], ...]


Made = Callable[[Numbers], MadePiece]
"""Makes a piece; give one that remembers where the same is asked often."""


def made_piece(pattern: Pattern, numbers: Numbers, by: Setting) -> MadePiece:
    """The piece worked once. ValueError where it cannot be, as `work`."""
    fabric = work(pattern, numbers)
    titles = tuple((section.index, section.title) for section in fabric.sections)
    return MadePiece(piece_yarn(fabric, pattern.header, by), tuple(_lines_to_fit(fabric)), titles)


def will_it_last(at_hand: YarnAtHand, made: Made | None = None) -> Lasting:
    """Whether the yarn is enough for both gloves as planned. ValueError for a weight below 0.

    "enough": even at the upper end of nine cases in ten; "enough if": at the middle, not at the upper end;
    else "not enough".
    """
    reckoning = _reckoned(at_hand, made)
    need = reckoning.need(reckoning.planned)
    over = at_hand.left_g - need.middle
    verdict = verdict_on(need, at_hand.left_g)
    most = reckoning.most()
    half = reckoning.half()
    to_fit = bool(reckoning.lines)
    says = tuple(_says(at_hand, verdict, need, over, most, half, to_fit=to_fit))
    return Lasting(verdict, need, at_hand.left_g, over, most, half, says)


@dataclass(frozen=True, slots=True)
class Glance:
    """What a line beside a round has room for: grams still needed, the verdict on what is left, and where
    glove one passes half.
    """

    need_g: Range
    verdict: Verdict
    half: Half | None


def at_a_glance(at_hand: YarnAtHand, made: Made | None = None) -> Glance:
    """The same answer without the rounds that would save the pair, which take the most working out."""
    reckoning = _reckoned(at_hand, made)
    need = reckoning.need(reckoning.planned)
    return Glance(need, verdict_on(need, at_hand.left_g), reckoning.half())


def verdict_on(need: Range, left_g: float) -> Verdict:
    """What is left against what is needed, g."""
    if need.high <= left_g:
        return "enough"
    return "enough if" if need.middle <= left_g else "not enough"


def _reckoned(at_hand: YarnAtHand, made: Made | None) -> _Reckoning:
    if not 0 <= at_hand.left_g < math.inf:
        raise ValueError(f"what is left weighs 0 g or more, not {at_hand.left_g:g}")
    if at_hand.pieces not in (1, 2):
        raise ValueError(f"one piece or a pair, not {at_hand.pieces}")
    return _Reckoning(at_hand, made)


class _Reckoning:
    """The fabric in several numbers of rounds, and what each still takes."""

    def __init__(self, at_hand: YarnAtHand, made: Made | None) -> None:
        self.at_hand = at_hand
        self.made = made or (lambda numbers: made_piece(at_hand.pattern, numbers, at_hand.by))
        piece = self.made(at_hand.numbers)
        self.known, self.lines, self.titles = piece.yarn, piece.lines, dict(piece.titles)
        self.planned: dict[str, int] = {line.fit: line.planned for line in self.lines}
        # Rounds that stand beyond the plan are yarn too: worked out with as many rounds as stand.
        self.stands = self._yarn({fit: max(n, self._standing(fit)) for fit, n in self.planned.items()})

    def need(self, rounds: Mapping[str, int]) -> Range:
        """Grams still to be worked for all pieces with these rounds. Rounds taken out give their yarn
        back.
        """
        return self._need(self._yarn(rounds))

    def most(self) -> Rounds | None:
        """The most rounds that the upper end of the range allows."""
        total = sum(self.planned.values())
        if not self.lines:
            return None
        best: Rounds | None = None
        low, high = len(self.lines), total + MORE_ROUNDS
        while low <= high:  # more rounds never take less yarn, so halving finds the most
            middle = (low + high) // 2
            shares = shared_out(self.planned, middle)
            need = self._need_or_none(shares)
            if need is not None and need.high <= self.at_hand.left_g:
                best, low = self._rounds(shares, need), middle + 1
            else:
                high = middle - 1
        return best

    def _need_or_none(self, rounds: Mapping[str, int]) -> Range | None:
        try:
            return self.need(rounds)
        except ValueError:  # more than one piece can have
            return None

    def half(self) -> Half | None:
        """Where glove one passes half of all the yarn, if it does at the middle of the range."""
        hand = self.at_hand
        if hand.pieces != 2:
            return None
        cake = hand.left_g + self._worked_g(self.stands)
        per_m = hand.calibration.belief.middle(1, 1)
        whole = self.known.metres * per_m + hand.calibration.weight(tails_m(self.known))
        if cake <= 0 or whole <= cake / 2 or hand.worked_two:  # no yarn at all has no half
            return None
        grown, to_go = 0.0, 0
        for each in self.known.rounds:
            grown += each.metres * per_m
            to_go += each.spot not in hand.worked_one
            if grown > cake / 2:
                break
        title = self.titles[each.section]
        label = each.label or "the first round"
        more = "more than there is" if whole > cake else "more than half"
        says = (
            f"{hand.noun.capitalize()} one would take {grams_text(whole)} of {grams_text(cake)}, {more}. "
            f"Half is gone at {label} of the {title}"
        )
        if to_go == 0:
            says += ", which stands."
        elif to_go <= SOON:
            says += f": {'the next round' if to_go == 1 else f'{to_go} rounds from here'}. Stop and weigh."
        else:
            says += f", {to_go} rounds from here."
        return Half(each.spot, label, title, whole, to_go, says)

    def _yarn(self, rounds: Mapping[str, int]) -> PieceYarn:
        if all(self.planned[fit] == number for fit, number in rounds.items()):
            return self.known
        return self.made(self._numbers(rounds)).yarn

    def _numbers(self, rounds: Mapping[str, int]) -> Numbers:
        numbers = self.at_hand.numbers
        fits = {**dict(numbers.fits), **rounds}
        return Numbers(numbers.foundation, numbers.size, tuple(sorted(fits.items())))

    def _need(self, piece: PieceYarn) -> Range:
        hand = self.at_hand
        gloves = (hand.worked_one, hand.worked_two)[: hand.pieces]
        spots = {each.spot for each in piece.rounds}
        stand = [each for worked in gloves for each in self.stands.rounds if each.spot in worked]
        keeps = math.fsum(each.metres for each in stand if each.spot in spots)
        back = math.fsum(each.metres for each in stand if each.spot not in spots)
        model = max(piece.metres * hand.pieces - keeps, 0.0)
        tails = tails_m(piece) * sum(not spots <= worked for worked in gloves)
        need = hand.calibration.grams(model, OTHER_GLOVE)
        given_back = hand.calibration.belief.middle(1, 1) * back
        return plus(need, hand.calibration.weight(tails) - given_back)

    def _worked_g(self, piece: PieceYarn) -> float:
        both = (self.at_hand.worked_one, self.at_hand.worked_two)
        metres = math.fsum(piece.part(standing).metres for standing in both)
        return metres * self.at_hand.calibration.belief.middle(1, 1)

    def _standing(self, fit: str) -> int:
        both = self.at_hand.worked_one | self.at_hand.worked_two
        return max((_turn(spot) for spot in both if _fit(spot) == fit), default=0)

    def _rounds(self, rounds: Mapping[str, int], need: Range) -> Rounds:
        def beyond(fit: str, standing: frozenset[str]) -> int:
            return sum(1 for spot in standing if _fit(spot) == fit and _turn(spot) > rounds[fit])

        lines = tuple(
            Line(
                each.fit, each.section, each.until, each.planned, rounds[each.fit],
                beyond(each.fit, self.at_hand.worked_one), beyond(each.fit, self.at_hand.worked_two),
            )
            for each in self.lines
        )  # fmt: skip
        return Rounds(lines, need, self._numbers(rounds))


def shared_out(planned: Mapping[str, int], total: int) -> dict[str, int]:
    """So many rounds over the lines in proportion to the plan, at least one each; what is over goes to
    the lines that are furthest behind. Growing the total never takes a round from any line.
    """
    shares = dict.fromkeys(planned, 1)
    for _ in range(max(total - len(planned), 0) if shares else 0):
        # The line that is furthest behind its share of one round more.
        to = min(shares, key=lambda fit: ((shares[fit] + 0.5) / planned[fit], -planned[fit]))
        shares[to] += 1
    return shares


def _lines_to_fit(fabric: Fabric) -> Iterator[Line]:
    rounds: dict[str, int] = {}
    said: dict[str, tuple[str, str]] = {}
    for section in fabric.sections:
        for each in section.rounds:
            if each.source.label is not None and each.source.label.until is not None:
                fit = _fit(each.spot)
                rounds[fit] = rounds.get(fit, 0) + 1
                said[fit] = section.title, each.source.label.until
    for fit, number in rounds.items():
        yield Line(fit, *said[fit], number, number)


def _fit(spot: str) -> str:
    return spot.rpartition(".")[0]


def _turn(spot: str) -> int:
    return int(spot.rpartition(".")[2])


def _says(
    at_hand: YarnAtHand,
    verdict: Verdict,
    need: Range,
    over: float,
    most: Rounds | None,
    half: Half | None,
    *,
    to_fit: bool,
) -> Iterator[str]:
    both = f"both {at_hand.noun}s" if at_hand.pieces == 2 else "the piece"
    takes = f"{both} still take{'' if at_hand.pieces == 2 else 's'} about {grams_text(max(need.middle, 0.0))}"
    if need.high < NOTHING_G:
        made = f"Both {at_hand.noun}s are made" if at_hand.pieces == 2 else "The piece is made"
        yield f"{made}: {grams_text(at_hand.left_g)} are over."
        return
    if verdict == "enough":
        yield f"Enough for {both}: about {grams_text(over)} over."
    elif verdict == "enough if":
        yield (
            f"Enough if it goes as expected: {takes}, and at most about {grams_text(need.high)}; "
            f"{grams_text(at_hand.left_g)} are left."
        )
    else:
        yield f"Not enough: {takes}, {grams_text(at_hand.left_g)} are left, {grams_text(-over)} short."
    if verdict != "enough":
        yield from _saves(most, to_fit, at_hand)
    elif most is not None and (more := sum(line.rounds - line.planned for line in most.lines)) > 0:
        each = f" in each {at_hand.noun}" if at_hand.pieces == 2 else ""
        beyond = " and over" if more >= MORE_ROUNDS else ""
        yield f"There is yarn for {more} more round{'' if more == 1 else 's'}{beyond}{each}."
    if half is not None:
        yield half.says


def _saves(most: Rounds | None, to_fit: bool, at_hand: YarnAtHand) -> Iterator[str]:
    if most is None and to_fit:
        yield "It is not surely enough for even one round in each line to fit: more yarn is needed."
        return
    if most is None:
        yield "There are no rounds to save: more yarn is needed."
        return
    pair = at_hand.pieces == 2
    equal = f", the same in both {at_hand.noun}s" if pair else ""
    lines = [
        f"{line.section}: {line.rounds} round{'' if line.rounds == 1 else 's'} instead of {line.planned}"
        for line in most.changed
    ]
    if lines:
        yield f"It is surely enough with {'; '.join(lines)}{equal}."
    for name, outs in (
        (
            f" in {at_hand.noun} one" if pair else "",
            [(line.section, line.take_out_one) for line in most.lines if line.take_out_one],
        ),
        (
            f" in {at_hand.noun} two",
            [(line.section, line.take_out_two) for line in most.lines if line.take_out_two],
        ),
    ):
        if outs:
            what = " and ".join(f"{n} round{'' if n == 1 else 's'} of the {where}" for where, n in outs)
            yield f"Take out {what}{name}, and what stands above."
