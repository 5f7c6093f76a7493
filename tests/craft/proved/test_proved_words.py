"""Words and abbreviations that real patterns use: rings, joins, loops, increases, decreases, full words."""

import pytest

from tests.craft.expect import Check, alike, counts, crown, proved, spiral, tube

PLAIN = "Ch 1, sc in same st, sc in each st around; join with sl st in first sc."


RING_2 = "Rnd 2: Ch 1, 2 sc in each sc around; join with sl st in first sc. [12 sc]"


@pytest.mark.parametrize(
    "start",
    [
        "Ch 1, 6 sc in ring",
        "Ch 1, 6 sc in magic ring",
        "Ch 1, 6 sc in magic circle",
        "Ch 1, 6 sc in adjustable ring",
        "Ch 1, 6 sc in MR",
        "MR, ch 1, 6 sc in ring",
        "Magic ring, ch 1, 6 sc in ring",
        "Ch 4, join to form a ring, ch 1, 6 sc in ring",
        "Ch 4, join with sl st in first ch to form a ring, ch 1, 6 sc in ring",
    ],
)
def test_a_ring(check: Check, start: str) -> None:
    report = check(crown(f"Rnd 1: {start}; join with sl st in first sc. [6 sc]", RING_2))
    proved(report)
    assert counts(report, "child", "Crown", "Rnd 1")["sc"] == 6
    assert counts(report, "child", "Crown", "Rnd 2")["sc"] == 12


def test_a_ring_of_chains_on_a_line_of_its_own(check: Check) -> None:
    text = crown(
        "Foundation rnd: Ch 4, join to form a ring.",
        "Rnd 1: Ch 1, 6 sc in ring; join with sl st in first sc. [6 sc]",
        RING_2,
    )
    report = check(text)
    proved(report)
    assert counts(report, "adult", "Crown", "Rnd 1")["sc"] == 6
    assert counts(report, "adult", "Crown", "Rnd 2")["sc"] == 12


@pytest.mark.parametrize(
    "join",
    [
        "join",
        "join to first sc",
        "join in first sc",
        "sl st to join",
        "sl st in first sc to join",
        "join with ss",
        "join with ss in first sc",
        "join with slst in first sc",
        "join with sl. st. in first sc",
        "join with slip stitch in first sc",
        "slip stitch in first sc",
        "join with a slip stitch to the first sc",
    ],
)
def test_joins(check: Check, join: str) -> None:
    def text(join: str) -> str:
        return tube(
            f"Rnd 2: Ch 1, sc in same st, sc in each st around; {join}. [N sc]",
            "Rnd 3: Ch 1, 2 sc in same st, sc in each st around; join with sl st in first sc. [N + 1 sc]",
        )

    report = alike(check, text(join), text("join with sl st in first sc"))
    # the join's slip stitch is no stitch
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 24, "sts": 24}.items()
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 25


@pytest.mark.parametrize(
    "join",
    [
        "slip stitch in top of ch-3",
        "sl st in top of ch-3",
        "join with sl st in top of ch-3",
        "join with sl st in 3rd ch of beg ch-3",
        "join to top of beg ch",
        "join with sl st in top of beginning chain",
        "join",
    ],
)
def test_joins_in_a_beginning_chain(check: Check, join: str) -> None:
    def text(join: str) -> str:
        return tube(
            f"Rnd 2: Ch 3 (counts as dc), dc in each st around; {join}. [N dc]",
            "Rnd 3: Ch 1, 2 sc in same st, sc in each st around; join with sl st in first sc. [N + 1 sc]",
        )

    report = alike(check, text(join), text("join with sl st in top of beg ch"))
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"dc": 24, "sts": 24}.items()
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 25


@pytest.mark.parametrize(
    "words",
    [
        "sc tbl in each st around",
        "sc in each st around tbl",
        "sc tfl in each st around",
        "sc blo in each st around",
        "sc BLO in each st around",
        "sc in blo of each st around",
        "sc in each st around in BLO",
        "sc in the back loop only of each st around",
        "sc in back loop only of each st around",
        "sc in each st around in the back loop only",
    ],
)
def test_loops(check: Check, words: str) -> None:
    def text(words: str) -> str:
        return tube(f"Rnd 2: Ch 1, {words}; join with sl st in first sc. [N sc]", f"Rnd 3: {PLAIN}")

    report = alike(check, text(words), text("sc in each st around"))
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 24


@pytest.mark.parametrize(
    "words", ["hdc in the 3rd loop of each hdc around", "hdc in 3rd loop of each st around"]
)
def test_the_third_loop(check: Check, words: str) -> None:
    report = check(spiral("Rnd 2: Hdc in each st around. [N hdc]", f"Rnd 3: {words}. [N hdc]"))
    proved(report)
    assert counts(report, 24, "Cuff", "Rnd 3")["hdc"] == 24


@pytest.mark.parametrize("two", ["2 sc in next st", "inc", "inc in next st", "sc inc", "increase"])
def test_two_in_one(check: Check, two: str) -> None:
    def text(two: str) -> str:
        return spiral(f"Rnd 2: *Sc in next 3 sc, {two}; rep from * around. [5N/4 sc]")

    report = alike(check, text(two), text("2 sc in next st"))
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 30


@pytest.mark.parametrize(
    "two",
    [
        "sc2tog",
        "dec",
        "sc dec",
        "2sctog",
        "sc2tog over next 2 sts",
        "invisible decrease",
        "sc 2 tog",
        "decrease",
        "single crochet 2 together",
    ],
)
def test_two_together(check: Check, two: str) -> None:
    def text(two: str) -> str:
        return spiral(
            f"Rnd 2: *Sc in next 2 sc, {two}; rep from * around. [3N/4 sc]",
            "Rnd 3: Sc in each sc around. [3N/4 sc]",
        )

    report = alike(check, text(two), text("sc2tog"))
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"sc": 18, "sc2tog": 6}.items()
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 18


@pytest.mark.parametrize("fsc", ["Fsc 28", "fsc 28", "28 fsc", "Foundation single crochet 28", "FSC 28"])
def test_foundation_single_crochet(check: Check, fsc: str) -> None:
    text = (
        "Title: No Chain\nFoundation: 28\n\n# Cuff\n"
        f"Foundation rnd: {fsc}; join with sl st in first sc to form a ring.\n"
        "Rnd 1: Ch 1, sc in same st, sc in each sc around; join with sl st in first sc. [28 sc]\n"
        "Fasten off.\n\n"
        "# Bottom edging - in the foundation\n"
        "Join yarn with sc in any foundation ch, sc in each foundation ch around; "
        "join with sl st in first sc. [28 sc]\n"
    )
    report = check(text)
    proved(report)
    # chain and first round in one: 28 sc to work on, and 28 chains under them
    assert counts(report, 28, "Cuff", "Rnd 1")["sc"] == 28
    assert counts(report, 28, "Bottom edging", "")["sc"] == 28


MESH = (
    "Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; rep from * around; "
    "join with sl st in 3rd ch of beg ch-4."
)


@pytest.mark.parametrize(
    "words",
    [
        MESH.replace("sk ", "skip "),
        MESH.replace("sk ", "miss "),
        MESH.replace("sk next st", "sk 1 st"),
        MESH.replace("rep from", "repeat from"),
        MESH.replace("sl st", "ss"),
        MESH.replace("sl st", "slst"),
        MESH.replace("sl st", "sl. st."),
        MESH.replace("beg ch-4", "beginning ch-4"),
        MESH.replace("next st", "foll st"),
        MESH.replace("next st", "following st"),
        MESH.upper(),
        MESH.replace(";", ","),
        MESH.replace("; join", ". Join"),
        MESH.replace("next st", "the next st"),
        "Chain 4 (counts as double crochet, chain 1), skip next stitch, *double crochet in next stitch, "
        "chain 1, skip next stitch; "
        "repeat from * around; join with slip stitch in 3rd chain of beginning chain-4.",
    ],
)
def test_words_and_abbreviations(check: Check, words: str) -> None:
    def text(words: str) -> str:
        return tube(
            f"Rnd 2: {words} [N/2 dc, N/2 ch-1 sps]",
            "Rnd 3: Ch 1, sc in same st, sc in each st and ch-1 sp around; "
            "join with sl st in first sc. [N sc]",
        )

    report = alike(check, text(words), text(MESH))
    assert counts(report, 24, "Cuff", "Rnd 2").items() >= {"dc": 12, "ch-1 sp": 12, "sts": 12}.items()
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


@pytest.mark.parametrize(
    "words",
    [
        "2 sc in each ch-1 space around",
        "2 sc in each chain-1 space around",
        "2 single crochet in each ch-1 sp around",
        "*2 sc in next ch-1 space; rep from * around",
        "*2 sc in following ch-1 sp; rep from * around",
    ],
)
def test_spaces(check: Check, words: str) -> None:
    def text(words: str) -> str:
        return tube(
            f"Rnd 2: {MESH}",
            f"Rnd 3: Sl st in next ch-1 sp, ch 1, 2 sc in same sp, {words}; "
            f"join with sl st in first sc. [N sc]",
        )

    report = alike(check, text(words), text("2 sc in each ch-1 sp around"))
    assert counts(report, 24, "Cuff", "Rnd 3")["sc"] == 24


@pytest.mark.parametrize(
    "words", ["sc in rem sts", "sc in each rem st", "sc in remaining sts", "sc in each remaining st around"]
)
def test_the_remaining_stitches(check: Check, words: str) -> None:
    def text(words: str) -> str:
        return tube(f"Rnd 2: Ch 1, 2 sc in same st, {words}; join with sl st in first sc. [N + 1 sc]")

    report = alike(check, text(words), text("sc in each st around"))
    assert counts(report, 24, "Cuff", "Rnd 2")["sc"] == 25


@pytest.mark.parametrize(
    ("full", "short", "height"),
    [
        ("half double crochet", "hdc", 2),
        ("double crochet", "dc", 3),
        ("treble crochet", "tr", 4),
        ("double treble crochet", "dtr", 5),
    ],
)
def test_stitches_in_full_words(check: Check, full: str, short: str, height: int) -> None:
    def text(name: str) -> str:
        return tube(
            f"Rnd 2: Ch {height} (counts as {name}), {name} in each st around; "
            f"join with sl st in top of beg ch. [N {name}]"
        )

    report = alike(check, text(full), text(short))
    assert counts(report, 24, "Cuff", "Rnd 2")[short] == 24
