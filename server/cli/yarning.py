"""`evenhand yarn FILE`: metres, grams and balls from the fabric, and whether what is left will last."""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, cast

from server.cli import typed
from server.cli.checking import count_refused, text_of
from server.craft.fabric import Numbers, prove, work
from server.craft.making.twinwords import piece_noun
from server.craft.measure.calibrating import CountedLength, Fact, SwatchUsed, Weighed, calibrated
from server.craft.measure.counts import AllowedCounts
from server.craft.measure.fitting import FitRequest, recommend
from server.craft.measure.gauge import any_gauge
from server.craft.measure.hands import guessed_hand, measured_hand
from server.craft.measure.lasting import YarnAtHand, will_it_last
from server.craft.measure.lengths import Units
from server.craft.measure.needing import YarnNeed, tails_m, yarn_need
from server.craft.measure.putup import PutUp, read_put_up
from server.craft.measure.quantities import yards
from server.craft.measure.splitting import split_cake
from server.craft.measure.stated_yarn import (
    StatedYarn,
    check_stated,
    header_gauge,
    hook_at,
    hook_for,
    read_yarn,
)
from server.craft.measure.substituting import substituted
from server.craft.measure.yarnlength import PieceYarn, Setting, piece_yarn, setting, stitch_lengths_mm
from server.craft.measure.yarntable import YarnCategory, yarn_category
from server.craft.text.tree import Pattern

PAIR_ONLY = ("glove", "part", "left", "instead", "foundation")


@dataclass(frozen=True, slots=True)
class _Made:
    """One count of the pattern, worked, with its yarn."""

    name: str
    numbers: Numbers
    by: Setting
    piece: PieceYarn


@dataclass(frozen=True, slots=True)
class _Yarn:
    """The yarn that is reckoned with: hers where she says so, else the pattern's."""

    category: YarnCategory | None
    put_up: PutUp | None
    stated: StatedYarn


def yarn(options: argparse.Namespace) -> int:
    """0 with the answer; 1 where the stated yarn cannot do or what is left is not enough; 2 where a file is
    not read, not proved, or a number is none.
    """
    patterns = [_proved(file, options.foundation) for file in options.file]
    if any(pattern is None for pattern in patterns):
        return 2
    try:
        told, words, fine = _answer([pattern for pattern in patterns if pattern is not None], options)
    except (ValueError, argparse.ArgumentTypeError) as error:
        print(error, file=sys.stderr)
        return 2
    if options.json:
        print(json.dumps(told, ensure_ascii=False, indent=1))
    else:
        print(*words, sep="\n")
    return 0 if fine else 1


def _proved(file: Path, foundation: int | None) -> Pattern | None:
    text = text_of(file)
    if text is None:
        return None
    proof = prove(text, () if foundation is None else (foundation,))
    if not proof.proved:
        print(f"{file} is not proved; `evenhand check {file}` says why.", file=sys.stderr)
        return None
    if foundation is not None and not proof.allowed(foundation):
        print(count_refused(proof, foundation), file=sys.stderr)
        return None
    return proof.pattern


def _answer(patterns: list[Pattern], options: argparse.Namespace) -> tuple[dict[str, Any], list[str], bool]:
    if options.cake is not None:
        return _split(patterns, options)
    if len(patterns) > 1:
        raise ValueError("Several patterns go with --cake, to split one cake over them.")
    (pattern,) = patterns
    known = _yarn(pattern, options)
    told: dict[str, Any] = {"title": pattern.header.title, "sizes": []}
    words: list[str] = []
    for made in _counts(pattern, known, options):
        need = _need(pattern, made, known, options)
        told["sizes"].append(_plain(made, need))
        words += [*([""] if words else []), f"{made.name}:", *need.says]
    checks = check_stated(pattern, options.units)
    told["stated"] = [
        {"size": one.size, "stated_m": one.stated_m, "verdict": one.verdict, "says": one.says}
        for one in checks
    ]
    words += ["", "As the pattern states it:", *(one.says for one in checks)] if checks else []
    fine = not any(one.verdict == "cannot" for one in checks)
    if options.left is not None:
        lasting, said, lasts = _lasting(pattern, known, options)
        told["lasting"], fine = lasting, fine and lasts
        words += ["", *said]
    if options.instead is not None:
        instead, said = _instead(pattern, known, options)
        told["instead"] = instead
        words += ["", *said]
    return told, words, fine


def _yarn(pattern: Pattern, options: argparse.Namespace) -> _Yarn:
    stated = read_yarn(pattern.header.yarn)
    category = yarn_category(options.yarn) if options.yarn is not None else stated.category
    return _Yarn(category, _label(options.put_up) or stated.put_up, stated)


def _label(text: str | None) -> PutUp | None:
    if text is None:
        return None
    put_up = read_put_up(text)
    if put_up is None:
        raise ValueError(f"{text!r} is no label. It reads as “100 g = 170 m” or “50 g / 125 yd”.")
    return put_up


def _counts(pattern: Pattern, known: _Yarn, options: argparse.Namespace) -> list[_Made]:
    """The count asked for, else every size."""
    header = pattern.header
    if options.foundation is not None:
        hook_mm = options.hook or hook_at(header, options.foundation)
        numbers = Numbers(options.foundation)
        return [_made(pattern, f"{options.foundation} chains", numbers, setting(hook_mm, known.category))]
    made = []
    for at, size in enumerate(header.sizes):
        foundation = header.foundations[at] if header.foundations else None
        name = f"{size}, {foundation} chains" if foundation is not None else size
        by = setting(options.hook or hook_for(header, at), known.category)
        made.append(_made(pattern, name, Numbers(foundation, size), by))
    return made


def _made(pattern: Pattern, name: str, numbers: Numbers, by: Setting) -> _Made:
    fabric = work(pattern, numbers)
    return _Made(name, numbers, by, piece_yarn(fabric, pattern.header, by))


def _need(pattern: Pattern, made: _Made, known: _Yarn, options: argparse.Namespace) -> YarnNeed:
    calibration = calibrated(
        made.by,
        unmeasured=made.piece.unmeasured,
        put_up=known.put_up,
        category=known.category,
        facts=_facts(made, options),
        units=options.units,
        noun=piece_noun(pattern) if pattern.header.pieces == "pair" else "piece",
    )
    return yarn_need(
        made.piece,
        calibration,
        made.by,
        pieces=2 if pattern.header.pieces == "pair" else 1,
        put_up=known.put_up,
        swatch_kept=options.swatch_kept,
        units=options.units,
    )


def _facts(made: _Made, options: argparse.Namespace) -> list[Fact]:
    whole = made.piece.metres + tails_m(made.piece)
    facts: list[Fact] = []
    if (options.glove is not None or options.part is not None) and options.foundation is None:
        raise ValueError("Which count was weighed? Say --foundation N.")
    if options.glove is not None:
        facts.append(Weighed(options.glove, whole))
    if options.part is not None:
        first = typed.count(options.part[0])
        metres = sum(each.metres for each in made.piece.rounds[:first])
        facts.append(Weighed(typed.weight_g(options.part[1]), metres, min(metres / made.piece.metres, 1.0)))
    for stitch, count, amount in options.swatch:
        facts.append(_swatch(_stitch(stitch), typed.count(count), amount, options.units))
    for stitch, count, amount in options.counted:
        length = typed.length(amount).mm(options.units)
        facts.append(CountedLength(_stitch(stitch), typed.count(count), length))
    return facts


def _swatch(stitch: str, count: int, amount: str, units: str) -> SwatchUsed:
    try:
        return SwatchUsed(stitch, count, grams=typed.weight_g(amount))
    except argparse.ArgumentTypeError:
        return SwatchUsed(
            stitch, count, metres=typed.length(amount).mm("yd" if units == "in" else "m") / 1000
        )


def _stitch(name: str) -> str:
    known = stitch_lengths_mm()
    if name not in known:
        raise ValueError(f"{name!r} has no length of its own. There are {', '.join(known)} (US terms).")
    return name


def _plain(made: _Made, need: YarnNeed) -> dict[str, Any]:
    return {
        "name": made.name,
        "foundation": made.numbers.foundation,
        "pieces": need.pieces,
        "hook_mm": made.by.hook_mm,
        "metres": asdict(need.metres),
        "yards": {name: yards(value) for name, value in asdict(need.metres).items()},
        "grams": asdict(need.grams),
        "balls": asdict(need.balls) if need.balls is not None else None,
        "extras_m": need.extras_m,
        "calibrated_by": need.calibration.best,
        "rounds": [{"spot": one.spot, "label": one.label, "metres": one.metres} for one in made.piece.rounds],
        "says": need.says,
    }


def _lasting(
    pattern: Pattern, known: _Yarn, options: argparse.Namespace
) -> tuple[dict[str, Any], list[str], bool]:
    made = _counts(pattern, known, options)
    if len(made) > 1:
        raise ValueError("Which count is being made? Say --foundation N.")
    (one,) = made
    spots = [each.spot for each in one.piece.rounds]
    for name, number in (("--worked-one", options.worked_one), ("--worked-two", options.worked_two)):
        if number > len(spots):
            raise ValueError(f"{name} {number}: the piece has {len(spots)} rounds.")
    need = _need(pattern, one, known, options)
    answer = will_it_last(
        YarnAtHand(
            pattern,
            one.numbers,
            one.by,
            need.calibration,
            options.left,
            frozenset(spots[: options.worked_one]),
            frozenset(spots[: options.worked_two]),
            need.pieces,
            piece_noun(pattern),
        )
    )
    told = {
        "verdict": answer.verdict,
        "left_g": answer.left_g,
        "need_g": asdict(answer.need_g),
        "over_g": answer.over_g,
        "most": [asdict(line) for line in answer.most.lines] if answer.most is not None else None,
        "half": asdict(answer.half) if answer.half is not None else None,
        "says": answer.says,
    }
    return told, list(answer.says), answer.verdict != "not enough"


def _instead(pattern: Pattern, known: _Yarn, options: argparse.Namespace) -> tuple[dict[str, Any], list[str]]:
    counts = AllowedCounts.of(pattern.header)
    if counts is None:
        raise ValueError("This pattern begins in a ring: its sizes keep their counts in any yarn.")
    old = known.category if known.category is not None else yarn_category(4)
    hand = measured_hand(options.hand.mm(options.units)) if options.hand is not None else guessed_hand()
    gauge = any_gauge(None, header_gauge(pattern.header), old, options.hook)
    request = FitRequest(counts, hand, gauge, units=cast(Units, options.units))
    hook_mm = options.hook or hook_at(pattern.header, recommend(request).recommended.foundation)
    new = substituted(
        pattern, request, old, yarn_category(options.instead),
        hook_mm=hook_mm, put_up=_label(options.instead_put_up), units=request.units,
    )  # fmt: skip
    told = {
        "hook_mm": new.hook_mm,
        "gauge": asdict(new.gauge),
        "recommended": asdict(new.fit.recommended),
        "rounds": dict(new.rounds),
        "metres": asdict(new.need.metres),
        "grams": asdict(new.need.grams),
        "balls": asdict(new.need.balls) if new.need.balls is not None else None,
        "says": new.says,
    }
    return told, list(new.says)


def _split(patterns: list[Pattern], options: argparse.Namespace) -> tuple[dict[str, Any], list[str], bool]:
    said = [name for name in PAIR_ONLY if getattr(options, name) is not None]
    if said:
        raise ValueError(f"--{said[0]} is for one pattern; --cake splits yarn over the largest size of each.")
    parts = []
    for pattern in patterns:
        known = _yarn(pattern, options)
        largest = _counts(pattern, known, options)[-1]
        parts.append((pattern.header.title, _need(pattern, largest, known, options).grams))
    split = split_cake(parts, options.cake)
    return asdict(split), list(split.says), split.over_g >= 0
