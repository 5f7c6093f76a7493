"""Words for the engine's tables: every stitch, every spelling that is folded to one, every finding.

A test holds these to the tables: what is added there and has no words here fails it.
"""

from __future__ import annotations

from dataclasses import dataclass

from server.craft.text.language.entries import Entry, tube
from server.craft.text.vocabulary import BY_US, Rung


@dataclass(frozen=True, slots=True)
class Word:
    """A word that several spellings are read as: how it is shown, and what it means."""

    shown: str
    means: str


STITCHES = {
    "sl st": "Yarn over and through everything in one go. As a join or to travel it leaves no place.",
    "sc": "A loop is pulled up, and both loops are closed together.",
    "hdc": "Yarn over first; then all three loops are closed together. It has a third loop behind.",
    "dc": "Yarn over first; the loops are closed in two steps.",
    "tr": "Yarn over twice first; closed in three steps.",
    "dtr": "Yarn over three times first; closed in four steps.",
    "trtr": "Yarn over four times first; closed in five steps.",
}
"""By US name."""

CLOSED = {
    "cluster": "Several legs, each worked short of its last step, closed together.",
    "puff": "Several long loops pulled up in one place and closed together.",
    "popcorn": "Several stitches in one place, the first and the last drawn together.",
    "bobble": "Several legs in one place, each short of its last step, closed together.",
    "picot": "Chains closed on themselves. Nothing stands on it.",
}
"""What several spellings of `CLOSED_SPELLINGS` are read as."""

WORDS = {
    "ch": Word("ch", "chain"),
    "sk": Word("sk", "skip: pass over without working it"),
    "st": Word("st", "stitch"),
    "place": Word("place", "any stitch or chain that can be worked into"),
    "sp": Word("sp", "space below a run of chains"),
    "rep": Word("rep", "repeat"),
    "beg": Word("beg", "beginning"),
    "rnd": Word("rnd", "round; in rows, row"),
    "next": Word("next", "the first such place ahead"),
    "rem": Word("rem", "remaining"),
    "cont": Word("cont", "continue"),
    "tog": Word("tog", "together, closed to one stitch"),
    "skipped": Word("skipped", "passed over before, and not worked"),
    "each": Word("each", "every one of them"),
    "in": Word("in", "into"),
    "join": Word("join", "join"),
    "tch": Word("turning ch", "the chain that a row began with"),
    "center": Word("center", "the middle one"),
    "prev": Word("previous", "of the round below"),
    "magicring": Word("magic ring", "an adjustable ring to begin from"),
    "blo": Word("BLO", "back loop only"),
    "flo": Word("FLO", "front loop only"),
    "thirdloop": Word("3rd loop", "the loop of an hdc behind the other two"),
    "inc": Word("inc", "increase: two in one place"),
    "dec": Word("dec", "decrease: two places in one"),
    "invdec": Word("invisible dec", "a decrease through front loops; counted as any decrease"),
    "dont": Word("do not", "do not"),
    "fasten off": Word("fasten off", "cut the yarn and pull it through"),
    "between": Word("between", "in the gap between two stitches or groups, not into either"),
    "once": Word("once", "1 time"),
    "twice": Word("twice", "2 times"),
    "one": Word("one", "1"),
    "the": Word("the", "says nothing more"),
    "a": Word("a", "says nothing more; before `times`, 1"),
    **{f"{number}w": Word(str(number), "the number") for number in range(2, 13)},
}
"""What several spellings of `PHRASES` are read as."""

FINDINGS = {
    "no-title": "The pattern has no title.",
    "no-foundation": "The header does not say what to chain.",
    "unknown-key": "A word before a colon is near a header line, and is none.",
    "header-twice": "A header line stands twice.",
    "unread-value": "What stands behind a header line’s colon does not read as one.",
    "sizes-differ": "A header line has more or fewer numbers than the pattern has sizes.",
    "not-a-multiple": "A size’s foundation is not of the multiple that the header gives.",
    "custom-empty": "No allowed count lies in the range of custom counts.",
    "custom-needs-multiple": "Custom counts are asked for, and no multiple says which.",
    "bare-foundation": "The foundation count stands as a plain number where custom counts need N.",
    "gauge-and-fit": "The gauge and the size that it is to fit do not come to the same.",
    "not-rising": "A size list does not go from small to large.",
    "special-unread": "A special stitch’s line does not say what is worked.",
    "other-terms": "A stitch’s name belongs to the other terms.",
    "unread": "Words that do not read, with what was expected there.",
    "unclosed": "A bracket is opened and not closed.",
    "stray": "A bracket closes nothing.",
    "no-star": "A repeat goes back to a mark that is not there.",
    "star-never-repeated": "A mark begins a repeat that never comes.",
    "repeat-unsaid": "A bracket does not say how often.",
    "repeat-more": "A number of times may be meant in all or besides the first.",
    "list-length": "A list has more or fewer numbers than the pattern has sizes.",
    "no-such-round": "A round to repeat does not stand before this one.",
    "no-such-section": "A section to repeat from does not stand before this one.",
    "rounds-backward": "The last round’s number is lower than the first’s.",
    "round-again": "A round’s label stands in its section a second time.",
    "empty-round": "A round has a label and nothing to work.",
    "fit-unsaid": "Rounds go on until something is reached, and no number says how many that was.",
    "unread-line": "A line reads neither as a round nor as a note.",
    "lone-stitch": "A round says one stitch and neither where it goes nor a count.",
    "between-pairs": "Two stitches between two, and no count says whether in every gap or pair by pair.",
    "evenly-unsaid": "Stitches are to go evenly around an edge, and no number says how many.",
    "read-as-note": "A line is taken as words for the maker.",
    "no-rounds": "There is nothing to work at all.",
    "no-n": "N is used in a piece that starts from a ring.",
    "count-unread": "A bracket at a round’s end does not read as its count.",
    "not-whole": "A number in N is not whole at some count.",
    "count-wrong": "A stated count is not what the round has.",
    "less-than-nothing": "A number comes to less than nothing at some count.",
    "off-line": "A size list has no number of its own for custom counts.",
    "foundation-differs": "The foundation’s list is not the header’s.",
    "bare-chain": "It is not clear what a beginning chain counts as.",
    "no-place": "A place is named that is not there.",
    "no-center": "A group is worked into that has no one center.",
    "passed": "A stitch is passed on the way, and no skip says so.",
    "other-length": "A space of another length is passed on the way.",
    "not-last": "Last stitches are named that are worked already.",
    "no-gap": "A section is called a gap and makes none.",
    "gap-missing": "A section works around a gap that no section made.",
    "gap-part": "A part of a gap’s edge has no stitch.",
    "no-foundation-edge": "There is no foundation chain to work into.",
    "no-row-ends": "The ends of rows are worked into, and no row stands yet.",
    "nothing-below": "There is nothing to work into yet.",
    "left-over": "Places of the round below are left unworked.",
    "left-on-side": "Chains are left before an oval goes on along the other side.",
    "next-at-head": "A round begins behind the place joined into, and so does not come out.",
    "left-over-row": "Places of the row below are left unworked at its end.",
    "not-closing": "A repeat does not come out even.",
    "never-there": "A repeat never comes to where it is to stop.",
    "too-much": "A round goes on past its beginning.",
    "too-large": "The piece would have more stitches than can be worked here.",
    "too-many-specials": "There are more special stitches than one pattern may have.",
    "too-many-sections": "The piece would have more sections than can be worked here.",
    "join-nowhere": "A join names a place that the round has not.",
    "join-elsewhere": "A join names another place than the first.",
    "join-unsaid": "A round does not say how it ends, where the others join.",
}
"""By code: when it is said."""


def stitch_entry(rung: Rung) -> Entry:
    """The entry of a stitch of the ladder, with a sample made from its height."""
    us, height = rung.us, rung.height_ch
    if height < 2:
        begin, end = "Ch 1", f"first {us}" if height else "first sl st"
        text = f"Rnd 2: {begin}, {us} in same st, {us} in each st around; join with sl st in {end}. [N {us}]"
    else:
        begin = f"Ch {height} (counts as {us})"
        text = f"Rnd 2: {begin}, {us} in each st around; join with sl st in top of beg ch. [N {us}]"
    return Entry(f"Stitch {us}", (us,), STITCHES.get(us, ""), tube(text))


def stitch_entries() -> tuple[Entry, ...]:
    """An entry for each stitch of the ladder, shortest first."""
    return tuple(stitch_entry(rung) for rung in BY_US.values())
