"""One piece worked for a maker is the piece that was proved; a kept proof is the proof."""

import inspect
import sys
from collections.abc import Mapping

import pytest

from server.craft.fabric import Cache, Caches, Numbers, Proof, prove, work
from server.craft.fabric.report import as_dict
from server.craft.text import read
from server.craft.text.vocabulary import name_in
from tests.craft.text.docstrings import docstring_patterns

PATTERNS = docstring_patterns()
PROVED = {name: text for name, text in PATTERNS.items() if prove(text).proved}


def rows_of(proof: Proof, key: str) -> list[tuple[str, str, Mapping[str, int]]]:
    """The table of one size or count: section, label, counts."""
    return [(row.section, row.label, row.counts[key]) for row in proof.rows if key in row.counts]


def test_there_are_proved_patterns() -> None:
    assert len(PROVED) > 40


@pytest.mark.parametrize("text", PROVED.values(), ids=PROVED)
def test_a_piece_worked_is_the_piece_proved(text: str) -> None:
    pattern = read(text).pattern
    terms = pattern.header.terms
    proof = prove(text)
    for name, foundation in proof.sizes.items():
        key = str(foundation if foundation is not None else name)
        fabric = work(pattern, Numbers(foundation, name))
        worked = [
            (section.title, each.label, {name_in(name, terms): count for name, count in each.counts.items()})
            for section in fabric.sections
            for each in section.rounds
        ]
        assert worked == rows_of(proof, key)
        assert fabric.stitches == proof.stitches[key]


@pytest.mark.parametrize("text", PROVED.values(), ids=PROVED)
def test_every_custom_count_works_as_it_was_proved(text: str) -> None:
    pattern = read(text).pattern
    customs = [count for count in prove(text).counts_tried if isinstance(count, int)]
    proof = prove(text, customs)
    for foundation in customs:
        assert work(pattern, Numbers(foundation)).stitches == proof.stitches[str(foundation)]


def test_a_count_that_is_not_allowed_is_refused() -> None:
    """
    Title: Plover Cuff
    Foundation: 24, multiple of 6

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    """
    pattern = read(test_a_count_that_is_not_allowed_is_refused.__doc__ or "").pattern
    with pytest.raises(ValueError, match="25 chains"):
        work(pattern, Numbers(25))


def test_own_numbers_of_rounds_are_worked() -> None:
    """
    Title: Whimbrel Cuff
    Foundation: 24, multiple of 6

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnds 2 to 4, or to the wrist: Ch 1, sc in same st, sc in each sc around;
      join with sl st in first sc. [24 sc]
    """
    pattern = read(test_own_numbers_of_rounds_are_worked.__doc__ or "").pattern
    for own in (1, 3, 7):
        (cuff,) = work(pattern, Numbers(30, fits=(("0.2", own),))).sections
        assert [each.spot for each in cuff.rounds if each.spot.startswith("0.2.")] == [
            f"0.2.{turn}" for turn in range(1, own + 1)
        ]
    (cuff,) = work(pattern, Numbers(30)).sections
    assert len(cuff.rounds) == 5


# --- a kept proof -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", PATTERNS.values(), ids=PATTERNS)
def test_a_kept_proof_is_the_proof(text: str) -> None:
    cache = Cache()
    fresh = as_dict(prove(text))
    assert as_dict(prove(text, cache=cache)) == fresh
    assert as_dict(prove(text, cache=cache)) == fresh


@pytest.mark.parametrize("text", PATTERNS.values(), ids=PATTERNS)
def test_one_keeping_serves_a_text_as_it_is_typed(text: str) -> None:
    cache = Cache()
    prove(text, cache=cache)
    for typed in as_typed(text):
        assert as_dict(prove(typed, cache=cache)) == as_dict(prove(typed)), typed


def as_typed(text: str) -> list[str]:
    """The text with a title made longer, a word spoilt, a round left out, a number changed."""
    lines = text.split("\n")
    half = len(lines) // 2
    return [
        text.replace("Title: ", "Title: Old and ", 1),
        "\n".join([*lines[:half], *lines[half + 1 :]]),
        text.replace("around", "arround", 1),
        text.replace(" dc", " sc", 1),
        text.replace("24", "25", 1),
        "\n" + text.replace("join with sl st", "join with  sl st"),
    ]


def test_one_keeping_serves_several_texts() -> None:
    cache = Cache()
    for text in PATTERNS.values():
        prove(text, cache=cache)
    for name, text in list(PATTERNS.items())[::5]:
        assert as_dict(prove(text, cache=cache)) == as_dict(prove(text)), name


def test_a_keeping_is_bounded() -> None:
    """What was kept is let go of once it is too much; the proofs stay the same."""
    cache = Cache(most_nodes=500)
    for text in list(PATTERNS.values())[:30]:
        before = cache.nodes
        proof = prove(text, cache=cache)
        assert as_dict(proof) == as_dict(prove(text))
        if before > 500:
            alone = Cache()
            prove(text, cache=alone)
            assert cache.nodes == alone.nodes
    assert cache.nodes > 0


def test_each_text_has_a_cache_of_its_own() -> None:
    caches = Caches()
    first, second = caches.of("one"), caches.of("two")
    assert first is not second
    assert caches.of("one") is first


def test_caches_are_bounded_together_and_the_one_in_use_stays() -> None:
    text = next(iter(PATTERNS.values()))
    kept = Cache()
    prove(text, cache=kept)
    caches = Caches(most_nodes=2 * kept.nodes)
    for key in "abc":
        prove(text, cache=caches.of(key))
    assert "a" in caches  # there was room before the third one was filled
    prove(text, cache=caches.of("b"))
    assert [key for key in "abc" if key in caches] == ["b", "c"]
    alone = Caches(most_nodes=1)
    prove(text, cache=alone.of("large"))
    assert alone.of("large").nodes == kept.nodes
    few = Caches(most=2)
    for key in "abcab":
        few.of(key)
    assert [key for key in "abc" if key in few] == ["a", "b"]


def test_a_round_in_the_same_words_is_worked_once() -> None:
    """
    Title: Knot Cuff
    Foundation: 24
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
    Rnd 2: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [24 sc]
    Rnd 3: Ch 1, sc in same st, sc in each st around; join with sl st in first sc. [24 sc]
    """
    text = inspect.cleandoc(test_a_round_in_the_same_words_is_worked_once.__doc__ or "")
    cache = Cache()
    assert prove(text, cache=cache).proved
    # 24 chains and a slip stitch; twice a beginning chain, 24 sc and a slip stitch
    assert cache.nodes == 25 + 2 * 26
    prove("A note before all.\n" + text.replace("Knot", "Dunlin"), cache=cache)
    assert cache.nodes == 25 + 2 * 26
    prove(text.replace("Rnd 3: Ch 1, sc in same st", "Rnd 3: Ch 1, sc in same place"), cache=cache)
    assert cache.nodes == 25 + 3 * 26


def test_a_fault_kept_moves_with_its_words() -> None:
    """
    Title: Sanderling Cuff
    Foundation: 24
    Custom: none

    # Cuff
    Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first dc. [25 sc]
    """
    text = inspect.cleandoc(test_a_fault_kept_moves_with_its_words.__doc__ or "")
    cache = Cache()
    first = prove(text, cache=cache).findings
    assert first
    moved = prove(
        text.replace("# Cuff", "# Cuff of the left hand\nNote: work loosely.\n"), cache=cache
    ).findings
    assert [(one.line, one.words) for one in moved] == [(one.line + 2, one.words) for one in first]
    elsewhere = prove(text.replace("Rnd 1: ", "Rnd  1 :  "), cache=cache).findings
    assert [(one.column, one.words) for one in elsewhere] == [(one.column + 3, one.words) for one in first]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("Foundation: 24 (30, 36)", "Foundation: 24 (30, 42)"),
        ("Terms: US", "Terms: UK"),
        ("Worked: joined rounds", "Worked: spiral"),
        ("V-st = (dc, ch 1, dc)", "V-st = (dc, ch 2, dc)"),
        ("multiple of 6", "multiple of 3"),
        ("Sizes: small (medium, large)", "Sizes: tiny (small, medium)"),
    ],
)
def test_one_keeping_tells_headers_apart(old: str, new: str) -> None:
    """
    Title: Curlew Cuff
    Terms: US
    Sizes: small (medium, large)
    Foundation: 24 (30, 36), multiple of 6
    Worked: joined rounds
    Special stitch: V-st = (dc, ch 1, dc) in one place

    # Cuff
    Foundation rnd: Ch 24 (30, 36); join with sl st in first ch to form a ring. [24 (30, 36) ch]
    Rnd 1: Ch 3 (counts as dc), dc in next 3 (5, 7) ch, dc in each ch around;
      join with sl st in top of beg ch.
    Rnd 2: Ch 4 (counts as dc, ch 1), dc in same st, *sk 2 sts, V-st in next st; rep from * around, omitting
      last V-st; join with sl st in first dc. [8 (10, 12) V-sts]
    """
    text = inspect.cleandoc(test_one_keeping_tells_headers_apart.__doc__ or "")
    assert old in text
    cache = Cache()
    prove(text, cache=cache)
    changed = text.replace(old, new)
    assert as_dict(prove(changed, cache=cache)) == as_dict(prove(changed))
    assert as_dict(prove(text, cache=cache)) == as_dict(prove(text))


def test_a_proof_makes_no_more_than_a_garment_has(monkeypatch: pytest.MonkeyPatch) -> None:
    """
    Title: Godwit Cowl
    Foundation: 200, multiple of 4
    Custom: 100 to 400

    # Body
    Foundation rnd: Ch 200; join with sl st in first ch to form a ring. [200 ch]
    Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [200 sc]
    Rnd 2: Ch 1, sc in same st, hdc in each st around; join with sl st in first sc. [200 sts]
    """
    text = inspect.cleandoc(test_a_proof_makes_no_more_than_a_garment_has.__doc__ or "")
    assert prove(text).proved
    monkeypatch.setattr(sys.modules["server.craft.fabric.prove"], "MAX_NODES_IN_PROOF", 10_000)
    proof = prove(text)
    (found,) = proof.findings
    assert (found.code, found.severity) == ("too-large", "error")
    assert "10,000 stitches" in found.message
    # the same whatever was worked before
    cache = Cache()
    for _ in range(5):
        assert prove(text, cache=cache).findings == (found,)
    assert not prove(text.replace("Custom: 100 to 400", "Custom: 180 to 220"), cache=cache).findings
