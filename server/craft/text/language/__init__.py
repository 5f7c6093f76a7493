"""The pattern language as hosts read it: chapters of entries, each with a sample that is worked and proved.

Values only. The page lays them out beside the engine's own tables, and a test holds them to those.
"""

from __future__ import annotations

from server.craft.text.language import words as words
from server.craft.text.language.doing import CHAINS, ENDS, REPEATS, STITCHES
from server.craft.text.language.entries import Chapter as Chapter
from server.craft.text.language.entries import Entry as Entry
from server.craft.text.language.head import HEAD, SPECIAL
from server.craft.text.language.lines import COUNTS, LINES, NUMBERS
from server.craft.text.language.placing import PLACES
from server.craft.text.language.posts import POSTED
from server.craft.text.language.spelling import SPELLINGS
from server.craft.text.language.words import stitch_entries
from server.craft.text.language.working import WORKING


def chapters() -> tuple[Chapter, ...]:
    """All of it, in the order of a pattern."""
    return (
        Chapter(
            "header",
            "At the top",
            "Lines of `Key: value` up to the first section. Only the title and the foundation have "
            "to be there.",
            HEAD,
        ),
        Chapter(
            "special",
            "Special stitches",
            "Groups and stitches with a name of their own. These need no line; a line of yours makes "
            "others, or changes one.",
            SPECIAL,
        ),
        Chapter("lines", "Sections and rounds", "One line for each round, under sections.", LINES),
        Chapter(
            "numbers",
            "Numbers",
            "A number may be the same for all, one for each size, or a line in N.",
            NUMBERS,
        ),
        Chapter(
            "counts", "Counts", "What a round has, at its end. It is checked at every size and count.", COUNTS
        ),
        Chapter(
            "stitches",
            "Stitches by name",
            "Names in US and UK terms, one step apart; the height is that of the beginning chain "
            "that reaches the stitch’s top.",
            stitch_entries(),
        ),
        Chapter("chains", "Chains", "And what a beginning chain counts as.", CHAINS),
        Chapter("worked", "What is worked", "Stitches, where they go, and what is passed over.", STITCHES),
        Chapter("places", "Places", "Name them as you would aloud.", PLACES),
        Chapter("repeats", "Repeats", "The text between the mark and `rep`, or in a bracket.", REPEATS),
        Chapter("ends", "Beginnings and ends", "Joins, turns, new yarn, rings.", ENDS),
        Chapter(
            "working",
            "How it is worked",
            "The fabric is made stitch by stitch, and never counted by formula. What is proved is "
            "what the hook would meet.",
            WORKING,
        ),
        Chapter(
            "spellings",
            "Other spellings",
            "What patterns write in many ways is read in all of these.",
            SPELLINGS,
        ),
        Chapter(
            "posts",
            "As it was posted",
            "A pattern may be pasted whole, with all that stands around it.",
            POSTED,
        ),
    )


def entry(key: str) -> Entry | None:
    """The entry at an address of the page."""
    return next((one for chapter in chapters() for one in chapter.entries if one.key == key), None)
