"""The proof against merely making as many stitches; how it grows; and checking again after one changed word.

One proof reads a text, works it at every size and custom count, and joins what it found. Its floor is to
allocate that fabric's stitches and nothing else: every size and count once, as it is written, each stitch and
chain as an object of the fabric's own class with its own place. Lines to fit are proved with other numbers of
rounds too; the floor has nothing of that. Times are of the processor, so that other work does not count.
"""

from __future__ import annotations

import gc
import time
import tracemalloc
from collections.abc import Callable
from functools import partial

from server.craft.fabric import Cache, Numbers, Proof, prove, work
from server.craft.fabric.values import Node
from tests.craft.making.slipway import TEXT as WRISTERS

REPEATS = 5  # of each measurement; the fastest one is the one least disturbed

HEAD = """\
Title: Thirty Rounds
Sizes: small (medium, large, extra large)
Foundation: {small} ({medium}, {large}, {extra}), multiple of 4
Custom: {low} to {high}
Special stitch: Perch = (2 dc, ch 1, 2 dc) in one place

# Cuff
Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]
"""
TRAVEL = "Sl st in next dc, sl st in next ch-1 sp, ch 3 (counts as dc), (dc, ch 1, 2 dc) in same sp"
ALIKE = (
    "Ch 3 (counts as dc), (dc, ch 1, 2 dc) in same st, *sk 3 sts, Perch in next st; rep from * around;"
    " join with sl st in top of beg ch. [N dc, N/4 ch-1 sps]",
    f"{TRAVEL}, *Perch in next ch-1 sp; rep from * around; join with sl st in top of beg ch. [N/4 Perches]",
    f"{TRAVEL}, *Perch in next Perch; rep from * around; join with sl st in top of beg ch. [N/4 Perches]",
    "Ch 1, sc in same st, sc in next dc, sk next ch-1 sp, *sc in next 4 dc, sk next ch-1 sp;"
    " rep from * to last 2 sts, sc in last 2 sts; join with sl st in first sc. [N sc]",
)
"""A pattern's usual way: a few rounds, again and again."""

PAIR = """\
Title: Sixty Rounds for Two Hands
Sizes: small (medium, large, extra large)
Foundation: {small} ({medium}, {large}, {extra}), multiple of {multiple}
Custom: {low} to {high}
Pieces: pair
Special stitch: Perch = (2 dc, ch 1, 2 dc) in one place

# Cuff - to the base of the thumb
Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [N sc]
{cuff}

# Thumb gap
Rnd 1: Ch 1, sc in same st, sc in next st, ch 4, sk 4 sts, sc in each st around; join with sl st in first sc.
  [N - 4 sc, 1 ch-4 sp]

# Hand - to the knuckles
Rnd 1: Ch 1, sc in same st, sc in next st, sc in next 4 ch, sc in each st around; join with sl st in first sc.
  [N sc]
{hand}

# Top edging
Rnd 1: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [N sc]
Rnd 2: Ch 1, sc in same st, *ch 2, sk next st, sc in next st; rep from * to last st, ch 2, sk last st;
  join with sl st in first sc. [N/2 sc, N/2 ch-2 sps]
Fasten off.

# Bottom edging - in the foundation
Join yarn with sc in any foundation ch, sc in each foundation ch around; join with sl st in first sc. [N sc]
Rnd 2: Ch 1, sc in same st, *ch 2, sk next st, sc in next st; rep from * to last st, ch 2, sk last st;
  join with sl st in first sc. [N/2 sc, N/2 ch-2 sps]
Fasten off.

# Thumb - around the gap
Rnd 1: Join yarn with sc in first skipped st, sc in next 3 skipped sts, sc in side of next sc,
  sc in underside of next 4 ch, sc in side of next sc; join with sl st in first sc. [10 sc]
Rnds 2 to 5: Ch 1, sc in same st, sc in each sc around; join with sl st in first sc. [10 sc]
Fasten off.
"""
PAIR_ROUNDS = 12  # those that stand in it as it is; without the foundation's
SIZES = {"small": 24, "medium": 28, "large": 32, "extra": 36, "low": 12}

BEGINNINGS = {
    "sc": ("Ch 1, sc in same st", "first sc"),
    "hdc": ("Ch 2 (counts as hdc)", "top of beg ch"),
    "dc": ("Ch 3 (counts as dc)", "top of beg ch"),
    "tr": ("Ch 4 (counts as tr)", "top of beg ch"),
}


def numbered(rounds: list[str], factor: int = 1) -> str:
    """A pattern of these rounds, at four sizes and twenty custom counts, `factor` times as many chains."""
    sizes = {name: count * factor for name, count in {**SIZES, "high": 104}.items()}
    return HEAD.format(**sizes).replace("multiple of 4", f"multiple of {4 * factor}") + _lines(rounds) + "\n"


def pair(rounds: list[str], factor: int = 1) -> str:
    """A glove or mitt with these rounds in its cuff and hand, at four sizes and all counts from 12 to 120 (28
    of them), `factor` times as many chains.
    """
    sizes = {name: count * factor for name, count in {**SIZES, "high": 120}.items()}
    half = len(rounds) // 2
    return PAIR.format(**sizes, multiple=4 * factor, cuff=_lines(rounds[:half]), hand=_lines(rounds[half:]))


def _lines(rounds: list[str]) -> str:
    return "\n".join(f"Rnd {at}: {text}" for at, text in enumerate(rounds, 2))


def alike(many: int) -> list[str]:
    """Rounds of few kinds."""
    return [ALIKE[at % len(ALIKE)] for at in range(many)]


def unlike(many: int) -> list[str]:
    """Rounds of which no two are the same: nothing that was worked serves again."""
    names = list(BEGINNINGS)
    rounds: list[str] = []
    for at in range(many):
        one, other = names[at % 4], names[at // 4 % 4]
        beginning, first = BEGINNINGS[one]
        some = at // 16 + 2
        middle = (
            f"{other} in next {some} sts, {one} in each st around",
            f"{other} in next st, *{one} in next st, {other} in next st; rep from * around",
            f"*sk next st, {other} in next st, {one} in skipped st; rep from * to last st, {one} in last st",
        )[at % 3]
        rounds.append(f"{beginning}, {middle}; join with sl st in {first}. [N sts]")
    return rounds


def took_s(what: Callable[[], object]) -> float:
    """How long it takes, in seconds; the collector of garbage waits: it would walk all of the process."""
    gc.collect()
    gc.disable()
    try:
        begin = time.process_time()
        what()
        return time.process_time() - begin
    finally:
        gc.enable()


def fastest_s(what: Callable[[], object]) -> float:
    """The least time that it takes, in seconds."""
    return min(took_s(what) for _ in range(REPEATS))


def proved(text: str) -> Proof:
    """The proof of a text that stands up; measuring a faulty one would say nothing."""
    proof = prove(text)
    assert proof.proved, [finding.message for finding in proof.findings if finding.is_error]
    return proof


def stitches_made(proof: Proof) -> int:
    """How many stitches and chains the pattern has, at all the counts that were tried together."""
    pieces = (work(proof.pattern, Numbers(count)) for count in proof.counts_tried if isinstance(count, int))
    return sum(len(each.path) for piece in pieces for section in piece.sections for each in section.rounds)


def allocated(many: int) -> list[Node]:
    """As many stitches, and nothing else."""
    return [Node("stitch", "dc", 1, (at,), "top", "") for at in range(many)]


def against_allocation(text: str) -> tuple[float, float]:
    """A proof's time as a multiple of its stitches' allocation; and its time in seconds."""
    many = stitches_made(proved(text))
    proof_s = fastest_s(lambda: prove(text))
    return proof_s / fastest_s(lambda: allocated(many)), proof_s


def memory_ratio(text: str) -> float:
    """What a proof takes at most while it is made, and keeps in its cache, as a multiple of what its stitches
    take.
    """
    many = stitches_made(proved(text))
    return _most_bytes(lambda: prove(text, cache=Cache())) / _most_bytes(lambda: allocated(many))


def _most_bytes(what: Callable[[], object]) -> int:
    gc.collect()
    tracemalloc.start()
    try:
        before = tracemalloc.get_traced_memory()[0]
        what()
        return tracemalloc.get_traced_memory()[1] - before
    finally:
        tracemalloc.stop()


def again_s(text: str) -> float:
    """Checking again after one changed word that says the same, with what was worked before kept; seconds."""
    at = len(text) * 2 // 3
    ways = ("all around", "around to end of rnd", "to end", "to end of rnd", "around the rnd")
    return _again_s(text, [text[:at] + text[at:].replace("around", way, 1) for way in ways])


def other_stitch_s(text: str) -> float:
    """Checking again after one stitch was changed to another, in the middle of the text; seconds."""
    at = len(text) // 2
    names = ("sc", "hdc", "tr", "dtr")
    return _again_s(
        text, [text[:at] + text[at:].replace("dc in each st", f"{one} in each st", 1) for one in names]
    )


def _again_s(text: str, changed: list[str]) -> float:
    cache = Cache()
    prove(text, cache=cache)
    assert len({text, *changed}) == len(changed) + 1
    return min(took_s(partial(prove, one, cache=cache)) for one in changed)


def ratios() -> dict[str, float]:
    """All ratios of one series, by name; prints the times beside them."""
    sixty = 60 - PAIR_ROUNDS
    found: dict[str, float] = {}
    times: list[str] = []
    for name, text in (
        ("60-round pair", pair(alike(sixty))),
        ("60-round pair, no two alike", pair(unlike(sixty))),
        ("wristers", WRISTERS),
        ("30 rounds of 5 kinds", numbered(alike(29))),
        ("30 kinds of rounds", numbered(unlike(29))),
    ):
        ratio, proof_s = against_allocation(text)
        found[f"proof / allocating its stitches, {name}"] = ratio
        changed_s = again_s(text)
        found[f"one word changed / whole proof, {name}"] = changed_s / proof_s
        found[f"one word changed, ms, {name}"] = changed_s * 1000
        if "dc in each st" in text[len(text) // 2 :]:
            found[f"one stitch changed, ms, {name}"] = other_stitch_s(text) * 1000
        found[f"memory of the proof / of its stitches, {name}"] = memory_ratio(text)
        times.append(f"{name}: proof {proof_s * 1000:.0f} ms, one word changed {changed_s * 1000:.0f} ms")
    for name, written, kinds in (("of 5 kinds", alike, numbered), ("no two alike", unlike, numbered),
                                 ("pair", unlike, pair)):  # fmt: skip
        found |= growth(name, written, kinds)
    print("  " + "\n  ".join(times))
    return found


def growth(
    name: str, written: Callable[[int], list[str]], text: Callable[[list[str], int], str]
) -> dict[str, float]:
    """How the time grows: with twice the rounds, and with four times the chains."""
    once_s = fastest_s(lambda: prove(text(written(29), 1)))
    return {
        f"twice the rounds / once, {name}": fastest_s(lambda: prove(text(written(58), 1))) / once_s,
        f"four times the chains / once, {name}": fastest_s(lambda: prove(text(written(29), 4))) / once_s,
    }
