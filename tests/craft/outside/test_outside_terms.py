"""The ladder of US and UK names, each rung with its source."""

import pytest

from tests.craft.expect import Check, counts, proved, proved_clean

CHART = "US/UK chart, http://funcrochetdesigns.com/crochet/tuesday-crochet-tip-crochet-terms-by-country/"
VOCABULARIES = (
    "turning chain table in both vocabularies, http://www.crochetforall.com/category/crochet-techniques"
)
GLOSSARY = (
    "glossary, https://trantor.is/content/rINLxlqbfRSKxBh1/Glossary.html; UK by the same one-step shift"
)
SHIFT = "one-step shift (memory)"
TOGETHER = (
    "https://www.reference.com/hobbies-games/stitch-abbreviations-mean-crochet-patterns-6b81a1fd541e9d23; "
    "UK by the shift"
)

# US name, UK name, turning chain in chains, source
LADDER = [
    ("sc", "dc", 1, CHART),
    ("hdc", "htr", 2, CHART),
    ("dc", "tr", 3, CHART),
    ("tr", "dtr", 4, CHART),
    ("dtr", "ttr", 5, VOCABULARIES),
]


def text(terms: str, stitch: str, height: int) -> str:
    """Two rounds of one stitch, the beginning chain bare: a name read one rung too high or too low changes
    what it counts as."""
    start = f"{stitch} in same st, " if height == 1 else ""
    top = f"first {stitch}" if height == 1 else "top of beg ch"
    return (
        f"Title: Rung\nTerms: {terms}\nFoundation: 24, multiple of 4\n\n# Cuff\n"
        "Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]\n"
        f"Rnd 1: Ch {height}, {start}{stitch} in each ch around; join with sl st in {top}. [N {stitch}]\n"
        f"Rnd 2: Ch {height}, {start}2 {stitch} in next st, {stitch} in each st around; "
        f"join with sl st in {top}. [N + 1 {stitch}]\n"
    )


@pytest.mark.parametrize(("us", "uk", "height", "source"), LADDER)
def test_the_rungs(check: Check, us: str, uk: str, height: int, source: str) -> None:
    american, british = check(text("US", us, height)), check(text("UK", uk, height))
    proved_clean(american)
    proved_clean(british)
    assert counts(american, 24, "Cuff", "Rnd 2")[us] == counts(british, 24, "Cuff", "Rnd 2")[uk] == 25, source


# US name, UK name, the stitch of each, source
TWO_TOGETHER = [
    ("sc2tog", "dc2tog", "sc", "dc", GLOSSARY),
    ("hdc2tog", "htr2tog", "hdc", "htr", SHIFT),
    ("dc2tog", "tr2tog", "dc", "tr", TOGETHER),
]


def decreasing(terms: str, two: str, stitch: str) -> str:
    """A spiral whose second round works every third and fourth st together."""
    return (
        f"Title: Rung\nTerms: {terms}\nFoundation: 24, multiple of 4\nWorked: spiral\n\n# Cuff\n"
        "Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]\n"
        f"Rnd 1: {stitch} in each ch around. [N {stitch}]\n"
        f"Rnd 2: *{stitch} in next 2 sts, {two}; rep from * around. [3N/4 {stitch}]\n"
    )


@pytest.mark.parametrize(("us", "uk", "us_stitch", "uk_stitch", "source"), TWO_TOGETHER)
def test_decreases(check: Check, us: str, uk: str, us_stitch: str, uk_stitch: str, source: str) -> None:
    american, british = check(decreasing("US", us, us_stitch)), check(decreasing("UK", uk, uk_stitch))
    proved_clean(american)
    proved_clean(british)
    # a decrease uses two and makes one: 24 sts become 18
    assert counts(american, 24, "Cuff", "Rnd 2").items() >= {us: 6, us_stitch: 18}.items(), source
    assert counts(british, 24, "Cuff", "Rnd 2").items() >= {uk: 6, uk_stitch: 18}.items(), source


# Source: GLOSSARY: sc3tog uses three and makes one
def test_three_together(check: Check) -> None:
    report = check(
        "Title: Rung\nTerms: US\nFoundation: 24, multiple of 4\nWorked: spiral\n\n# Cuff\n"
        "Foundation rnd: Ch N; join with sl st in first ch to form a ring.\n"
        "Rnd 1: Sc in each ch around. [N sc]\n"
        "Rnd 2: *Sc in next sc, sc3tog; rep from * around. [N/2 sc]\n"
    )
    proved_clean(report)
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc3tog": 6, "sc": 12}.items()


# Source: CHART: sc and hdc are names of the US ladder alone, htr of the UK ladder alone
@pytest.mark.parametrize(("terms", "stitch", "height"), [("UK", "sc", 1), ("UK", "hdc", 2), ("US", "htr", 2)])
def test_a_name_of_the_other_ladder_is_an_error(check: Check, terms: str, stitch: str, height: int) -> None:
    report = check(text(terms, stitch, height))
    assert report["proved"] is False
    assert any(stitch in found["words"] for found in report["findings"] if found["severity"] == "error")


# Source: hyphen, "ch 5" makes five chains and "ch-5" names a loop that is there:
# https://www.reference.com/hobbies-games/stitch-abbreviations-mean-crochet-patterns-6b81a1fd541e9d23
def test_ch_5_makes_and_ch_dash_5_names(check: Check) -> None:
    report = check(
        "Title: Hyphen\nFoundation: 24, multiple of 4\n\n# Cuff\n"
        "Foundation rnd: Ch N; join with sl st in first ch to form a ring.\n"
        "Rnd 1: Ch 1, sc in same ch, ch 5, sk 3 ch, *sc in next ch, ch 5, sk 3 ch; rep from * around; "
        "join with sl st in first sc.\n"
        "Rnd 2: Ch 1, sc in same st, *5 sc in next ch-5 sp; rep from * around; join with sl st in first sc.\n"
    )
    proved(report)
    assert counts(report, 24, "Cuff", "Rnd 1").items() >= {"sc": 6, "ch-5 sp": 6}.items()
    # one in the first sc, five in each of six loops
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 31


# Source: sizes, the smallest first and the rest in rising order: http://yarntoday.co.uk/sizes/size-chart-for-babiestoddlers/
def test_sizes_rise_from_the_first_number(check: Check) -> None:
    report = check(
        "Title: Rising\nSizes: newborn (infant, child)\nFoundation: 36 (40, 44)\n\n# Cuff\n"
        "Foundation rnd: Ch 36 (40, 44); join with sl st in first ch to form a ring. [36 (40, 44) ch]\n"
    )
    proved_clean(report)
    assert report["sizes"] == {"newborn": 36, "infant": 40, "child": 44}


# Source: multiple of 5 + 1 allows 11 and 101, never twice 5 + 1:
# https://www.stitchwhisperdesigns.com/2021/03/multiples.html and marygildersleeve.com
def test_a_plus_is_added_once(check: Check) -> None:
    report = check(
        "Title: Five and One\nFoundation: 56, multiple of 5 + 1\nCustom: 10 to 102\n\n# Cuff\n"
        "Foundation rnd: Ch N; join with sl st in first ch to form a ring. [N ch]\n"
    )
    proved_clean(report)
    assert report["counts_tried"] == list(range(11, 102, 5))
    assert {11, 56, 101} <= set(report["counts_tried"])
    assert 12 not in report["counts_tried"]
