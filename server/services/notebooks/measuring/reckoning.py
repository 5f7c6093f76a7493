"""A part's yarn as far as her notebook knows it: her numbers, the yarn, what was weighed, what is left."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache

from server.craft import making as craft
from server.craft.fabric import Numbers
from server.craft.making.spots import fit_of, order
from server.craft.measure.calibrating import Calibration, Fact, Weighed, calibrated
from server.craft.measure.counts import AllowedCounts
from server.craft.measure.fitting import recommend
from server.craft.measure.lasting import MadePiece, YarnAtHand, made_piece
from server.craft.measure.needing import tails_m
from server.craft.measure.putup import PutUp
from server.craft.measure.yarnlength import PieceYarn, Setting, setting
from server.craft.measure.yarntable import YarnCategory
from server.craft.text.tree import Header
from server.services.notebooks.desk import Desk, noun, read_pattern
from server.services.notebooks.fitshapes import CHAINS_MOST
from server.services.notebooks.measuring.facts import (
    Told,
    category_of,
    is_for_a_hand,
    put_up_of,
    request_of,
    yarn_facts,
)
from server.services.notebooks.measuring.fitcard import hook_in_hand

MADE_MOST = 256


@dataclass(frozen=True)
class Reckoned:
    """A part's yarn as far as it is known: the numbers gone by, the model's metres and her calibration.

    numbers_say   whose numbers those are, in words
    left_g        grams on the scale as they should be now; None where she never weighed what is left
    """

    numbers: Numbers
    numbers_say: str
    by: Setting
    piece: PieceYarn
    calibration: Calibration
    pieces: int
    category: YarnCategory | None
    put_up: PutUp | None
    worked: tuple[frozenset[str], frozenset[str]]
    left_g: float | None


def reckoned(desk: Desk, told: Told) -> Reckoned:
    """All that the yarn's answers go by; never None: without her own number the pattern's serve."""
    header = desk.pattern.header
    category, put_up = category_of(told, header), put_up_of(told, header)
    by = setting(hook_in_hand(desk), category)
    numbers, says, piece = _piece(desk, told, by)
    pieces = desk.making.pieces
    worked = (frozenset(pieces[1].worked), frozenset(pieces[2].worked if desk.is_pair else ()))
    facts = (*_weighings(desk, piece), *yarn_facts(told))
    calibration = calibrated(
        by, unmeasured=piece.unmeasured, put_up=put_up, category=category, facts=facts, units=desk.units,
        noun=noun(desk) if desk.is_pair else "piece",
    )  # fmt: skip
    left = _left_now(desk, told, piece, calibration, worked)
    return Reckoned(numbers, says, by, piece, calibration, len(desk.pieces), category, put_up, worked, left)


def at_hand(desk: Desk, state: Reckoned, left_g: float) -> YarnAtHand:
    """The pair under way with so much yarn left."""
    one, two = state.worked
    return YarnAtHand(
        desk.pattern, state.numbers, state.by, state.calibration, left_g, one, two, state.pieces, noun(desk)
    )


@lru_cache(maxsize=MADE_MOST)
def _made(text: str, numbers: Numbers, by: Setting) -> MadePiece:
    return made_piece(read_pattern(text), numbers, by)


def made(text: str, by: Setting) -> Callable[[Numbers], MadePiece]:
    """The pieces of a published text with hook and yarn, each worked once: texts are few and never change."""
    return lambda numbers: _made(text, numbers, by)


def _piece(desk: Desk, told: Told, by: Setting) -> tuple[Numbers, str, PieceYarn]:
    """Whose numbers, in words, and the piece in them; in the middle size where hers cannot be worked."""
    make = made(desk.version.text, by)
    numbers, says = _numbers(desk, told)
    try:
        return numbers, says, make(numbers).yarn
    except ValueError:  # an odd measure asks for more stitches than a piece can have
        numbers, says = middle_size(desk.pattern.header)
        return numbers, says, make(numbers).yarn


def _numbers(desk: Desk, told: Told) -> tuple[Numbers, str]:
    """Her numbers with her rounds to fit; before she settled, the recommended count or the middle size."""
    if desk.making.settled is not None:
        return desk.plan(1).numbers, "In your numbers."
    header = desk.pattern.header
    request = request_of(desk, told, hook_in_hand(desk)) if is_for_a_hand(desk) else None
    if request is not None and (told.hand or told.gauge):
        count = recommend(request).recommended.foundation
        if count <= CHAINS_MOST:
            says = f"For {count} chains, as your measures say. You have not settled yet."
            return numbers_at(header, count), says
    return middle_size(header)


def numbers_at(header: Header, foundation: int) -> Numbers:
    """A count with the name of the size that has it."""
    named = dict(zip(header.foundations, header.sizes, strict=False))
    return Numbers(foundation, named.get(foundation))


def middle_size(header: Header) -> tuple[Numbers, str]:
    """The pattern's middle size, where nothing better is known."""
    at = len(header.sizes) // 2
    size = header.sizes[at] if header.sizes else None
    counts = AllowedCounts.of(header)
    foundation = header.foundations[min(at, len(header.foundations) - 1)] if header.foundations else None
    if foundation is None and counts is not None:
        foundation = counts.nearest(0)
    return Numbers(foundation, size), f"For the size {size or 'as written'}. You have not settled yet."


def _weighings(desk: Desk, piece: PieceYarn) -> list[Fact]:
    """Gloves and parts of them on the scale, the rounds up to the spot that each was weighed with."""
    whole = piece.metres + tails_m(piece)
    facts: list[Fact] = []
    for number in desk.pieces:
        own = desk.making.pieces[number]
        for spot, grams in own.weights.items():
            standing = [one for one in own.worked if order(one) <= order(spot)]
            if own.finished and standing == list(own.worked):
                facts.append(Weighed(grams, whole, 1.0, number))
                continue
            metres = metres_of(piece, standing)
            if metres > 0 and piece.metres > 0:
                facts.append(Weighed(grams, metres, min(metres / piece.metres, 0.99), number))
    return facts


def metres_of(piece: PieceYarn, spots: Iterable[str]) -> float:
    """Metres of these rounds; one of a line to fit beyond those planned as the last that is planned."""
    by_spot = {each.spot: each.metres for each in piece.rounds}
    by_fit = {fit_of(each.spot): each.metres for each in piece.rounds}
    return sum(by_spot.get(spot, by_fit.get(fit_of(spot), 0.0)) for spot in spots)


def _left_now(
    desk: Desk,
    told: Told,
    piece: PieceYarn,
    calibration: Calibration,
    worked: tuple[frozenset[str], frozenset[str]],
) -> float | None:
    """What should be left: as weighed, less what was worked since, and what was taken out since more."""
    if told.left is None:
        return None
    until: list[craft.Entry] = []
    for entry in craft.in_force(one.entry for one in desk.log):
        until.append(entry)
        if entry.id == told.left.id:
            break
    then = craft.fold(until).pieces
    since = sum(
        metres_of(piece, worked[number - 1] - set(then[number].worked))
        - metres_of(piece, set(then[number].worked) - worked[number - 1])
        for number in desk.pieces
    )
    grams: float = told.left.values["grams"] - calibration.belief.middle(1, 1) * since
    return max(grams, 0.0)
