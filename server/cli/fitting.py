"""`evenhand fit FILE`: chains for a hand at a gauge. Only the trade is needed for it."""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import asdict
from typing import Any, cast

from server.cli import typed
from server.cli.checking import text_of
from server.craft.making import worn
from server.craft.measure.counts import AllowedCounts
from server.craft.measure.fitting import FitAnswer, FitRequest, recommend
from server.craft.measure.gauge import Gauge, any_gauge, swatch
from server.craft.measure.hands import (
    Group,
    Hand,
    aged_hand,
    ask_again,
    guessed_hand,
    measured_hand,
    sized_hand,
)
from server.craft.measure.lengths import Units
from server.craft.measure.namedsizes import NamedSize, size_for
from server.craft.measure.roundone import RoundOne, after_round_one
from server.craft.measure.sizetables import SizeTable, population, proposed_sizes, size_table
from server.craft.measure.stated_yarn import header_gauge, hook_at, read_yarn
from server.craft.measure.updating import EASE, MeasuredWidth, Observation, TriedOn, Verdict
from server.craft.measure.yarntable import YarnCategory, yarn_category
from server.craft.text.reader import read
from server.craft.text.tree import Header, Pattern

NOT_ON_A_HAND = (
    "This is not worn on a hand, and a hand is all that is measured here: its sizes say whom they fit."
)
ROWS_AROUND = (
    "This is worked sideways: its chain is how long it is, and its rows go around. Lay it around the hand to "
    "see how many."
)
TRIED, ROUND_ONE = ("too long", "too short", "fits"), ("too loose", "too tight", "right")


def fit(options: argparse.Namespace) -> int:
    """0 with the answer; 2 for a file not read, a number that is none, or a pattern without counts."""
    text = text_of(options.file)
    if text is None:
        return 2
    reading = read(text)
    errors = [each for each in reading.findings if each.is_error and each.kind == "header"]
    if errors:
        print(*(f"Line {each.line}: {each.message}" for each in errors), sep="\n", file=sys.stderr)
        return 2
    try:
        answer = _answer(reading.pattern, options)
    except (ValueError, argparse.ArgumentTypeError) as error:
        print(error, file=sys.stderr)
        return 2
    if options.json:
        print(json.dumps(answer[0], ensure_ascii=False, indent=1))
    else:
        print(*answer[1], sep="\n")
    return 0


def hand_from(options: argparse.Namespace) -> Hand:
    """The hand that the options say; a guess where they say none."""
    group: Group | None = "child" if options.age is not None else options.who
    if options.hand is not None:
        hand = measured_hand(options.hand.mm(options.units), group, options.age)
    elif options.size is not None:
        hand = sized_hand(options.size)
    elif options.age is not None:
        hand = aged_hand(options.age)
    else:
        hand = guessed_hand(options.who or "adults")

    def given(length: typed.Length | None) -> float | None:
        return length.mm(options.units) if length is not None else None

    return hand.with_lengths(
        wrist_mm=given(options.wrist),
        wrist_to_thumb_mm=given(options.to_thumb),
        wrist_to_end_mm=given(options.to_end),
    )


def _answer(pattern: Pattern, options: argparse.Namespace) -> tuple[dict[str, Any], list[str]]:
    header, hand, units = pattern.header, hand_from(options), cast(Units, options.units)
    if not worn.is_for_a_hand(pattern):
        return _without_chains(header, hand, NOT_ON_A_HAND)
    if worn.chain_goes_along(pattern):
        return _without_chains(header, hand, ROWS_AROUND)
    stated = read_yarn(header.yarn).category
    category = yarn_category(options.yarn) if options.yarn is not None else stated
    gauge = any_gauge(_swatch(options), header_gauge(header), category, options.hook)
    counts = AllowedCounts.of(header)
    if counts is None:
        named = size_for(header.sizes, header.fits_cm, hand, units)
        return _from_a_ring(header, named, hand, units)
    ease = options.ease if options.ease is not None else EASE
    below = options.below_wrist.mm(units) if options.below_wrist is not None else 0.0
    answer = recommend(FitRequest(counts, hand, gauge, ease, _seen(options), below, units))
    told = {"recommended": asdict(answer.recommended), **_rest(answer)}
    words = [*answer.questions, *answer.says]
    if options.round_one is not None:
        after = _round_one(options, counts, answer, category, header, ease)
        told["round_one"] = asdict(after)
        words += ["", after.says]
    if options.table is not None:
        people = population(options.table)
        own = size_table(counts.sizes, answer.known.gauge, people, units) if counts.sizes else None
        proposed = proposed_sizes(counts, answer.known.gauge, people, units)
        told["tables"] = {"pattern": _table(own), "proposed": _table(proposed)}
        words += ["", "The pattern's own sizes:", *own.says] if own is not None else []
        words += ["", "Sizes to offer:", *proposed.says]
    return told, words


def _without_chains(header: Header, hand: Hand, says: str) -> tuple[dict[str, Any], list[str]]:
    told = {"recommended": None, "size": None, "hand": asdict(hand), "sizes": header.sizes}
    return {**told, "says": [says], "questions": ()}, [says]


def _from_a_ring(
    header: Header, named: NamedSize | None, hand: Hand, units: Units
) -> tuple[dict[str, Any], list[str]]:
    words = ["This pattern begins in a ring: it goes by its sizes, not by chains."]
    words.append(named.says if named is not None else "It does not say whom they fit (a line `Fits: …`).")
    questions = ask_again(hand, units)
    told = {"recommended": None, "size": asdict(named) if named is not None else None, "hand": asdict(hand)}
    return {**told, "sizes": header.sizes, "says": words, "questions": questions}, [*questions, *words]


def _rest(answer: FitAnswer) -> dict[str, Any]:
    known = answer.known
    return {
        "down": asdict(answer.down) if answer.down is not None else None,
        "up": asdict(answer.up) if answer.up is not None else None,
        "sure": answer.sure,
        "rounds": [asdict(each) for each in answer.rounds],
        "gauge": asdict(known.gauge),
        "hand": asdict(known.hand),
        "says": answer.says,
        "questions": answer.questions,
    }


def _table(table: SizeTable | None) -> dict[str, Any] | None:
    return asdict(table) if table is not None else None


def _swatch(options: argparse.Namespace) -> Gauge | None:
    if options.swatch is None:
        if options.swatch_rounds is not None:
            raise ValueError("--swatch-rounds goes with --swatch: the stitches come first.")
        return None
    stitches, over = typed.number(options.swatch[0]), typed.length(options.swatch[1]).mm(options.units)
    if options.swatch_rounds is None:
        return swatch(stitches, over, hook_mm=options.hook, units=options.units)
    rounds, along = options.swatch_rounds
    along_mm = typed.length(along).mm(options.units)
    return swatch(stitches, over, typed.number(rounds), along_mm, hook_mm=options.hook, units=options.units)


def _seen(options: argparse.Namespace) -> tuple[Observation, ...]:
    seen: list[Observation] = []
    for chains, how in options.tried:
        felt = typed.felt(how, TRIED)
        by = felt.by.mm(options.units) if felt.by is not None else None
        seen.append(TriedOn(typed.count(chains), cast(Verdict, felt.verdict), by))
    for stitches, width in options.width:
        seen.append(MeasuredWidth(typed.count(stitches), typed.length(width).mm(options.units)))
    return tuple(seen)


def _round_one(
    options: argparse.Namespace,
    counts: AllowedCounts,
    answer: FitAnswer,
    category: YarnCategory | None,
    header: Header,
    ease: float,
) -> RoundOne:
    chains, how = options.round_one
    foundation, felt = typed.count(chains), typed.felt(how, ROUND_ONE)
    return after_round_one(
        counts,
        foundation,
        answer.known.hand.around_mm,
        cast(Any, felt.verdict),
        by_mm=felt.by.mm(options.units) if felt.by is not None else None,
        hook_mm=options.hook or hook_at(header, foundation),
        thickness_mm=category.thickness_mm if category is not None else None,
        ease=ease,
        units=options.units,
    )
