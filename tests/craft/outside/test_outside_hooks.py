"""Hook sizes: millimetres to the US name, each with its source."""

import pytest

from server.craft.measure.hooks import us_name

LETTERS = "omgheart.com 2010-11-17 (https://omgheart.com/2010/11/17/knit-and-crochet-terms)"
CHART = "matifs.com (https://matifs.com/crochet-hooks-size-chart)"


@pytest.mark.parametrize(
    ("hook_mm", "us", "source"),
    [
        (2.25, "B-1", LETTERS),
        (2.75, "C-2", LETTERS),
        (3.25, "D-3", LETTERS),
        (3.5, "E-4", LETTERS),
        (3.75, "F-5", LETTERS),
        (4.0, "G-6", CHART),
        (4.5, "7", CHART),
        (5.0, "H-8", CHART),
        (5.5, "I-9", CHART),
        (6.0, "J-10", CHART),
        (6.5, "K-10 1/2", CHART),
    ],
)
def test_millimetres_to_the_us_name(hook_mm: float, us: str, source: str) -> None:
    name = us_name(hook_mm)
    assert name is not None, source
    assert name.replace("½", " 1/2") == us, source


# Source: sysclp.wordpress.com 2018-09-04 (https://sysclp.wordpress.com/2018/09/04/1072/): only tables of
# older labels name these sizes, and by the names that 2.25 and 2.75 mm have above
@pytest.mark.parametrize("hook_mm", [2.0, 2.5])
def test_sizes_without_a_us_name(hook_mm: float) -> None:
    assert us_name(hook_mm) is None
