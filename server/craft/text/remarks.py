"""Words within a round that tell a maker something and work nothing: markers, colours, which side faces."""

from __future__ import annotations

from collections.abc import Sequence

from server.craft.text.betweens import other_side
from server.craft.text.cursor import END, Cursor
from server.craft.text.lexer import Token
from server.craft.text.tree import Instruction, Repeat, Work

REMARKS = (
    ("with", "rs", "facing"), ("rs", "facing"), ("with", "ws", "facing"), ("ws", "facing"),
    ("being", "careful", "not", "in", "twist"), ("taking", "care", "not", "in", "twist"),
    ("careful", "not", "to", "twist"), ("be", "careful", "not", "to", "twist"),
    ("make", "sure", "not", "to", "twist"), ("take", "care", "not", "to", "twist"),
    ("being", "careful", "not", "to", "twist"),
    ("taking", "care", "not", "to", "twist"), ("without", "twisting"),
    ("in", "form", "a", "ring"), ("to", "form", "a", "ring"), ("to", "form", "ring"),
    *(
        (*lead, "thumb", *hole)
        for lead in (("for", "the"), ("for",), ("at", "the"), ("at",), ("at", "corner", "of", "the"))
        for hole in (("opening",), ("hole",), ("gap",), ())
        if hole or lead[0] == "for"
    ),
    ("in", "continuous", "rnd"), ("in", "a", "continuous", "spiral"), ("in", "a", "spiral"),
    ("in", "the", "rnd"),
    ("as", "established"), ("as", "before"), ("in", "pattern"), ("in", "patt"), ("in", "pat"),
)  # fmt: skip
REMARK_BEGINS = frozenset(remark[0] for remark in REMARKS)

UNTWISTED = (
    "making", "make", "be", "being", "taking", "take", "ensuring", "ensure", "check", "checking", "careful",
    "carefully", "without", "dont", "avoid", "avoiding", "try", "trying", "so", "but", "watch",
)  # fmt: skip
TWISTS = ("twist", "twists", "twisted", "twisting")

MARKING = ("place", "put", "move", "moving", "insert", "add", "use", "using", "slip", "remove", "replace")
MARKERS = ("marker", "markers", "pm", "sm", "mm")
COLOURS = (
    "color", "colour", "colors", "colours", "yarn", "yarns", "mc", "cc", "hook", "shade", "ca", "cb",
)  # fmt: skip
WITH = ("with", "using", "use")
CHANGING = ("change", "changing", "switch", "switching")
ASIDE = ("drop", "dropping", "carry", "carrying", "cut", "break")
"""What is done with a yarn of another colour: the words go to the end of the clause."""


def pass_remarks(cursor: Cursor) -> bool:
    """Passes all remarks that stand here; whether there were any."""
    start = cursor.at
    while cursor.peek().kind == "word" and (
        _phrase(cursor)
        or pass_bumps(cursor)
        or _untwisted(cursor)
        or _marker(cursor)
        or _other_side(cursor)
        or _colour(cursor)
    ):
        pass
    return cursor.at > start


def _phrase(cursor: Cursor) -> bool:
    return cursor.peek().value in REMARK_BEGINS and any(cursor.words(*remark) for remark in REMARKS)


def _untwisted(cursor: Cursor) -> bool:
    """`making sure the chain isn't twisted`, `check that your stitches are not twisted`."""
    if not cursor.is_word(*UNTWISTED):
        return False
    end = cursor.clause_end(cursor.at)
    if not any(token.value in TWISTS for token in cursor.tokens[cursor.at : end]):
        return False
    cursor.at = end
    return True


def _to_clause_end(cursor: Cursor) -> bool:
    end = cursor.clause_end(cursor.at)
    while cursor.at < end and not cursor.is_punct(":"):
        cursor.take()
    return True


def _other_side(cursor: Cursor) -> bool:
    """`working along the other side of the foundation ch,`: the section says so too."""
    back = cursor.at
    cursor.skip_words(("now", "working", "work"))
    if cursor.at > back and other_side(cursor):
        return True
    cursor.at = back
    return False


def pass_bumps(cursor: Cursor) -> bool:
    """Passes `working in the back bumps of the ch`: which strand of the chains is worked into."""
    if not cursor.is_word("working", "work", "in", "through", "back", "bottom", "rear"):
        return False
    back = cursor.at
    cursor.skip_words(("working", "work", "in", "through", "the"))
    if cursor.word("back", "bottom", "rear") and cursor.word("bump", "bumps", "hump", "humps", "ridge"):
        if cursor.word("of"):
            cursor.skip_words(("the", "your", "foundation", "beg", "each"))
            if cursor.is_word("ch") and (cursor.peek(1).kind == "punct" or cursor.peek(1) is END):
                cursor.take()
        cursor.word("only")
        return True
    cursor.at = back
    return False


def _marker(cursor: Cursor) -> bool:
    """`place marker`, `move the marker up each rnd`, `PM in first st`, `mark last st`."""
    if cursor.is_word("pm", "mark", "marking") or (
        cursor.is_word(*MARKERS) and (cursor.peek(1).kind == "punct" or cursor.peek(1).value == "")
    ):
        return _to_clause_end(cursor)
    if cursor.is_word(*MARKING) and any(cursor.is_word(*MARKERS, ahead=ahead) for ahead in range(1, 5)):
        return _to_clause_end(cursor)
    return False


def _colour(cursor: Cursor) -> bool:
    """`with CC`, `using color A`, `change to MC in last st`, `with smaller hook`, `in grey:`."""
    if cursor.is_word(*CHANGING) and cursor.is_word("to", "in", "color", "colour", "yarn", "hook", ahead=1):
        return _to_clause_end(cursor)
    if cursor.is_word("dont") and cursor.peek(1).value not in ("join", "turn", "or", "rnd", ""):
        return cursor.peek(1).kind == "word" and _to_clause_end(cursor)
    if cursor.is_word(*ASIDE) and cursor.peek(1).kind == "word":
        return _to_clause_end(cursor)
    if not cursor.is_word(*WITH, "in"):
        return False
    ahead = 1
    while ahead < 5 and cursor.peek(ahead).kind in ("word", "num", "punct"):
        token = cursor.peek(ahead)
        if token.kind == "word" and token.value in COLOURS:
            cursor.at += ahead + 1
            _name(cursor)
            return True
        if token.kind == "punct" and (token.value in ",:" and ahead > 1):
            if cursor.is_word("in") or not all(cursor.peek(at).kind == "word" for at in range(1, ahead)):
                return False
            cursor.at += ahead
            return True
        if token.kind == "punct" and not (token.value in "./-" and token.glued):
            return False
        if token.kind == "word" and token.value in NO_COLOUR:
            return False
        ahead += 1
    return False


NO_COLOUR = (
    "st", "sp", "ch", "same", "next", "each", "first", "last", "ring", "magicring", "join", "sk", "rnd",
    "blo", "flo", "thirdloop", "beg", "foundation", "any", "side", "skipped", "work", "rep", "one",
)  # fmt: skip
"""Words that make of `in …` a place."""

INSTRUCTIONS = (*NO_COLOUR, "turn", "and", "inc", "dec", "invdec", "fasten off", "in", "make", "dont")


def _name(cursor: Cursor) -> None:
    """The name behind `color`: a letter, a number, a word."""
    token = cursor.peek()
    if token.kind in ("num", "N") or (token.kind == "word" and token.value not in INSTRUCTIONS):
        cursor.take()


TELLING = (
    "the",
    "this",
    "these",
    "that",
    "it",
    "you",
    "your",
    "so",
    "i",
    "we",
    "if",
    "which",
    "note",
    "remember",
)
"""Words that a bracket begins with which works nothing: `(the center of the shell)`."""


def tells_only(inside: Sequence[Token]) -> bool:
    """Whether a bracket only says something again: `(the center of the shell)`, `(1 in each row end)`."""
    if not inside:
        return False
    if inside[0].kind == "word" and inside[0].value in TELLING:
        return not any(token.value in ("only", "size", "sizes", "sk", "rep", "ch") for token in inside)
    behind = 1 if inside[0].value in ("one", "1", "2", "about", "approximately") else 0
    return (
        bool(behind)
        and len(inside) > 2
        and inside[1].value in ("in", "per", "for")
        and not any(token.value in ("sk", "ch", "rep") for token in inside)
    )


def last_again(cursor: Cursor, items: Sequence[Instruction]) -> bool:
    """Passes `, working the last sc in the top of the turning ch` behind a repeat that works it."""
    if not items or not isinstance(items[-1], Repeat | Work):
        return False
    if isinstance(items[-1], Work) and (items[-1].place is None or items[-1].place.which != "each"):
        return False
    ahead = 0
    while cursor.is_word(
        "working", "placing", "making", "work", "place", "make", "with", "ending", "the", ahead=ahead
    ):
        ahead += 1
    if (
        not ahead
        or not cursor.is_word("last", "final", ahead=ahead)
        or cursor.peek(ahead + 1).kind != "stitch"
    ):
        return False
    if not cursor.is_word("in", ahead=ahead + 2):
        return False
    return _to_clause_end(cursor)
