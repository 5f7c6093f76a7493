"""What parts take, each and together. All patterns and amounts here are inventions."""

from __future__ import annotations

from server.craft.measure.stated_yarn import read_yarn
from server.services.series.materials import PartNeeds, SetNeeds, needs_of, together

HEADER = """\
Title: Quay Band
Terms: UK
Sizes: small (medium, large)
Foundation: 20 (24, 28), multiple of 4
Yarn: 3 light, 40 (50, 61) m, 50 g = 125 m
Hook: 4 mm
Gauge: 16 sts = 10 cm
"""


def part(title: str, yarn: str, sizes: tuple[str, ...] = ("small", "medium", "large")) -> PartNeeds:
    return PartNeeds(title, sizes, read_yarn(yarn), ())


def sums(needs: SetNeeds | None) -> list[tuple[str, int, int | None]]:
    assert needs is not None
    return [(one.size, one.metres, one.balls) for one in needs.totals]


def test_a_part_says_what_its_header_says() -> None:
    needs = needs_of("Band", HEADER)
    assert needs.sizes == ("small", "medium", "large")
    assert needs.facts == (
        ("Sizes", "small (medium, large)"), ("Yarn", "3 light, 40 (50, 61) m, 50 g = 125 m"),
        ("Hook", "4 mm"), ("Tension", "16 sts = 10 cm"),
    )  # fmt: skip


def test_a_set_in_one_yarn_is_one_cake() -> None:
    mitts = part("Mitts", "3 light, 66 (75, 86) m, 50 g = 125 m")
    hat = part("Hat", "3 light, 90 (100, 110) m, 50 g = 125 m")
    needs = together((mitts, hat))
    # 66 + 90, 75 + 100, 86 + 110; of 125 m each
    assert sums(needs) == [("small", 156, 2), ("medium", 175, 2), ("large", 196, 2)]
    assert needs is not None
    # 196 / 125 x 50 = 78.4 g
    assert needs.cake.startswith("All take the same yarn: one cake of 196 m, about 79 g, does for the set")


def test_one_amount_counts_for_every_size() -> None:
    needs = together((part("Mitts", "dk, 66 (75, 86) m"), part("Cowl", "dk, 120 m", ())))
    assert sums(needs) == [("small", 186, None), ("medium", 195, None), ("large", 206, None)]
    assert needs is not None
    assert (
        needs.cake == "All take yarn of the same weight: one cake of 206 m does for the set at its largest."
    )


def test_sizes_of_other_names_give_the_least_and_the_most() -> None:
    needs = together((part("Mitts", "dk, 66 (75, 86) m"), part("Hat", "dk, 90 (100) m", ("child", "adult"))))
    assert sums(needs) == [("the smallest of each", 156, None), ("the largest of each", 186, None)]


def test_other_weights_are_no_one_cake() -> None:
    needs = together((part("Mitts", "dk, 60 m"), part("Hat", "worsted, 100 m"), part("Toy", "scraps")))
    assert needs is not None
    assert "no one cake" in needs.cake
    assert needs.left_out == ("Toy",)


def test_one_part_alone_is_no_set() -> None:
    assert together((part("Mitts", "dk, 60 m"), part("Toy", "scraps"))) is None


def test_grams_count_by_the_put_up() -> None:
    # 40 g of 50 g = 125 m are 100 m
    needs = together(
        (part("Mitts", "3 light, 40 g, 50 g = 125 m"), part("Hat", "3 light, 90 m, 50 g = 125 m"))
    )
    assert sums(needs) == [("every size", 190, 2)]


def test_a_weight_that_is_not_said_leaves_the_cake_open() -> None:
    needs = together((part("Mitts", "dk, 60 m"), part("Hat", "100 m of something soft")))
    assert needs is not None
    assert needs.cake.endswith("whether one cake does for the set is open.")
