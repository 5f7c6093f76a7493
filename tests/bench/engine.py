"""The proof against merely making as many stitches; how it grows; and checking again after one changed word.

One proof reads a text, works it at every size and custom count, and joins what it found. Its floor is to
allocate that fabric's stitches and nothing else: every size and count once, as it is written.
"""

from __future__ import annotations

import gc
import time
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

BEGINNINGS = {
    "sc": ("Ch 1, sc in same st", "first sc"),
    "hdc": ("Ch 2 (counts as hdc)", "top of beg ch"),
    "dc": ("Ch 3 (counts as dc)", "top of beg ch"),
    "tr": ("Ch 4 (counts as tr)", "top of beg ch"),
}


def numbered(rounds: list[str], factor: int = 1) -> str:
    """A pattern of these rounds, at four sizes and twenty custom counts, `factor` times as many chains."""
    sizes = {
        name: count * factor
        for name, count in (
            ("small", 24),
            ("medium", 28),
            ("large", 32),
            ("extra", 36),
            ("low", 12),
            ("high", 104),
        )
    }
    lines = [f"Rnd {at}: {text}" for at, text in enumerate(rounds, 2)]
    return (
        HEAD.format(**sizes).replace("multiple of 4", f"multiple of {4 * factor}") + "\n".join(lines) + "\n"
    )


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


def again_s(text: str) -> float:
    """Checking again after one changed word, with what was worked before at hand; seconds."""
    at = len(text) * 2 // 3
    words = [
        text[:at] + text[at:].replace("around", way, 1)
        for way in ("all around", "around to end of rnd", "to end", "to end of rnd", "around the rnd")
    ]
    cache = Cache()
    prove(text, cache=cache)
    return min(took_s(partial(prove, changed, cache=cache)) for changed in words)


def ratios() -> dict[str, float]:
    """All ratios of one series, by name; prints the times beside them."""
    thirty, different = numbered(alike(29)), numbered(unlike(29))
    found: dict[str, float] = {}
    times: list[str] = []
    for name, text in (
        ("wristers", WRISTERS),
        ("30 rounds of 5 kinds", thirty),
        ("30 kinds of rounds", different),
    ):
        ratio, proof_s = against_allocation(text)
        found[f"proof / allocating its stitches, {name}"] = ratio
        changed_s = again_s(text)
        found[f"one word changed / whole proof, {name}"] = changed_s / proof_s
        times.append(f"{name}: proof {proof_s * 1000:.0f} ms, one word changed {changed_s * 1000:.0f} ms")
    once_s = fastest_s(lambda: prove(different))
    found["twice the rounds / once, no two alike"] = fastest_s(lambda: prove(numbered(unlike(58)))) / once_s
    found["four times the chains / once, no two alike"] = (
        fastest_s(lambda: prove(numbered(unlike(29), factor=4))) / once_s
    )
    print("  " + "; ".join(times))
    return found
