"""Hook sizes against the published tables, each row with its source."""

from __future__ import annotations

import pytest

from server.craft.measure.hooks import HOOKS_MM, hook_text, table, us_name, us_steel_name

OMGHEART = "terms reference post, omgheart.com 2010-11-17"
MATIFS = "crochet hook size chart, matifs.com"
SYSCLP = "hook and yarn size conversion, sysclp.wordpress.com 2018-09-04"

PUBLISHED = [  # (mm, US name, where it was read)
    (2.25, "B-1", OMGHEART),
    (2.75, "C-2", OMGHEART),
    (3.25, "D-3", OMGHEART),
    (3.5, "E-4", OMGHEART),
    (3.75, "F-5", OMGHEART),
    (4.0, "G-6", MATIFS),
    (4.5, "7", OMGHEART),
    (5.0, "H-8", OMGHEART),
    (5.5, "I-9", SYSCLP),
    (6.0, "J-10", SYSCLP),
    (6.5, "K-10½", SYSCLP),
    (8.0, "L-11", MATIFS),
    (9.0, "M/N-13", MATIFS),
    (10.0, "N/P-15", MATIFS),
    (15.0, "P/Q", OMGHEART),
    (16.0, "Q", OMGHEART),
    (19.0, "S", OMGHEART),
]
NAMELESS = [
    (2.0, SYSCLP),
    (2.5, SYSCLP),
    (3.0, "from memory, no copy read"),
    (7.0, "from memory, no copy read"),
]
STEEL = [  # all at omgheart.com 2010-11-17; 00 and 14 also at homequestionsanswered.com
    (3.5, "00"), (3.25, "0"), (2.75, "1"), (2.5, "2"), (2.1, "3"), (2.0, "4"), (1.9, "5"), (1.8, "6"),
    (1.65, "7"), (1.5, "8"), (1.4, "9"), (1.3, "10"), (1.1, "11"), (1.0, "12"), (0.85, "13"), (0.75, "14"),
]  # fmt: skip


@pytest.mark.parametrize(("hook_mm", "us", "source"), PUBLISHED)
def test_yarn_hooks_have_their_published_names(hook_mm: float, us: str, source: str) -> None:
    assert us_name(hook_mm) == us, source


@pytest.mark.parametrize(("hook_mm", "source"), NAMELESS)
def test_sizes_without_a_name_have_none(hook_mm: float, source: str) -> None:
    assert us_name(hook_mm) is None, source


@pytest.mark.parametrize(("hook_mm", "number"), STEEL)
def test_steel_hooks_have_their_published_numbers(hook_mm: float, number: str) -> None:
    assert us_steel_name(hook_mm) == number


def test_steel_numbers_run_the_other_way() -> None:
    """The higher the number of a steel hook, the thinner it is (omgheart.com 2010-11-17)."""
    by_number = {int(hook.us): hook.hook_mm for hook in table() if hook.kind == "steel" and hook.us != "00"}
    sizes = [by_number[number] for number in sorted(by_number)]
    assert sizes == sorted(sizes, reverse=True)


def test_mm_is_the_key_and_a_size_has_one_name() -> None:
    """mm -> US is a function; a UK number is not one size: 12 has been 2.5 and 2.75 mm (sysclp; matifs)."""
    for kind in ("yarn", "steel"):
        sizes = [hook.hook_mm for hook in table() if hook.kind == kind]
        assert len(sizes) == len(set(sizes))
    assert {hook.hook_mm for hook in table() if hook.kind == "yarn" and hook.uk_old == "12"} == {2.5, 2.75}


def test_every_row_names_a_source() -> None:
    assert len(table()) == 38
    assert all(hook.source for hook in table())
    assert {hook.hook_mm for hook in table() if hook.confidence == "memory"} == {3.0, 7.0}


def test_the_sizes_offered_rise() -> None:
    assert list(HOOKS_MM) == sorted(set(HOOKS_MM))
    assert HOOKS_MM[0] == 2.0
    assert HOOKS_MM[-1] == 19.0


def test_a_size_between_has_no_name() -> None:
    assert us_name(5.25) is None
    assert us_name(5.001) == "H-8"


def test_as_it_is_said() -> None:
    assert hook_text(5.0) == "5 mm (US H-8)"
    assert hook_text(6.5) == "6.5 mm (US K-10½)"
    assert hook_text(3.0) == "3 mm"
