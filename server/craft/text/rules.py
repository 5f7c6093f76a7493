"""Rules of the reader and the prover: one stable code each, its kind, severity and message."""

from __future__ import annotations

from dataclasses import dataclass

from server.craft.text.findings import CountKey, Finding, Kind, Severity
from server.craft.text.source import Source
from server.craft.text.tree import Span


@dataclass(frozen=True, slots=True)
class Rule:
    """What can be found: `message` is formatted with the values given at the place."""

    code: str
    kind: Kind
    severity: Severity
    message: str

    def at(
        self,
        source: Source,
        span: Span,
        *,
        mend: str | None = None,
        stated: str | None = None,
        worked: str | None = None,
        foundations: tuple[CountKey, ...] = (),
        **values: object,
    ) -> Finding:
        """The finding of this rule at those words."""
        span = source.trimmed(span)
        line, column = source.line_column(span.start)
        words = source.slice(span)
        message = self.message.format(words=words, stated=stated, worked=worked, **values)
        return Finding(
            self.severity,
            self.code,
            self.kind,
            line,
            column,
            words,
            message,
            foundations,
            stated,
            worked,
            mend,
        )


# --- header -------------------------------------------------------------------------------------------------
NO_TITLE = Rule(
    "no-title", "header", "error", "The pattern has no title. Begin with a line such as `Title: Slate Mitts`."
)
NO_FOUNDATION = Rule(
    "no-foundation", "header", "error",
    "The header does not say what to chain. Add a line such as `Foundation: 24 (28, 32), multiple of 4`, "
    "or `Foundation: none` for a piece that starts from a ring.",
)  # fmt: skip
UNKNOWN_KEY = Rule(
    "unknown-key", "header", "error", "“{words}” is not a header that is read. The nearest is “{near}”."
)
TWICE = Rule("header-twice", "header", "error", "“{key}” stands twice in the header. Keep one of the two.")
UNREAD_VALUE = Rule(
    "unread-value", "header", "error", "“{words}” does not read as {key}. Expected: {expected}."
)
SIZES_DIFFER = Rule(
    "sizes-differ", "header", "error",
    "{key} has {has} where the pattern has {sizes}. Give one number for each size, smallest first.",
)  # fmt: skip
NOT_A_MULTIPLE = Rule(
    "not-a-multiple", "header", "error", "{number} chains are not {multiple}. Nearest that are: {nearest}."
)
PLUS_DIFFERS = Rule(
    "not-a-multiple", "header", "error", "The sizes’ {numbers} chains are each a {right}, not a {words}."
)
CUSTOM_EMPTY = Rule(
    "custom-empty", "header", "error", "No allowed count lies in “{words}”. Expected: {expected}."
)
CUSTOM_NEEDS_MULTIPLE = Rule(
    "custom-needs-multiple", "header", "error",
    "A range of custom counts needs a multiple: say in Foundation which counts are allowed, such as `, "
    "multiple of 4`.",
)  # fmt: skip
SPECIAL_UNREAD = Rule(
    "special-unread", "header", "error",
    "“{words}” does not read as a special stitch. Expected a name, `=` and what is worked, "
    "such as `Fan = (2 dc, ch 1, 2 dc) in one place`.",
)  # fmt: skip
TOO_MANY_SPECIALS = Rule(
    "too-many-specials", "header", "error",
    "A pattern may have {most} special stitches. “{words}” and those after it are not read.",
)  # fmt: skip
OTHER_TERMS = Rule(
    "other-terms", "syntax", "error",
    "“{words}” is a name of the {other} terms, and this pattern is in {terms} terms, where that stitch is "
    "“{mend_name}”.",
)  # fmt: skip

# --- syntax -------------------------------------------------------------------------------------------------
UNREAD = Rule("unread", "syntax", "error", "“{words}” does not read here. Expected {expected}.{near}")
UNCLOSED = Rule(
    "unclosed", "syntax", "error", "“{words}” is opened and never closed. Expected “{expected}” after it."
)
STRAY = Rule("stray", "syntax", "error", "“{words}” closes nothing. Take it out, or open it before.")
NO_STAR = Rule(
    "no-star",
    "syntax",
    "error",
    "“{words}” has no {mark} before it in this round: put {mark} where the repeat begins.",
)
NO_REPEAT = Rule(
    "star-never-repeated", "syntax", "error",
    "The text after “{words}” is never repeated. Expected `; rep from * around` or the like after it.",
)  # fmt: skip
REPEAT_UNSAID = Rule(
    "repeat-unsaid",
    "syntax",
    "error",
    "“{words}” does not say how often. Expected `around` or `4 times more` after it.",
)
REPEAT_MORE = Rule(
    "repeat-more", "syntax", "warning",
    "“{words}” is read as {more} more after the first. “{mend_words}” says so without doubt.",
)  # fmt: skip
LIST_LENGTH = Rule(
    "list-length",
    "syntax",
    "error",
    "“{words}” has {has} where the pattern has {sizes}. Give one number for each size{such}.",
)
NO_SUCH_ROUND = Rule(
    "no-such-round", "syntax", "error", "“{words}” names a round that does not stand before it.{near}"
)
NO_SUCH_SECTION = Rule(
    "no-such-section", "syntax", "error", "There is no section “{name}” before this.{near}"
)
ROUND_AGAIN = Rule(
    "round-again",
    "syntax",
    "error",
    "{label} stands twice in this section. Number the rounds in order, so that `rep rnd` names one.",
)
ROUNDS_BACKWARD = Rule("rounds-backward", "syntax", "error", "“{words}” ends before it begins.")
EMPTY_ROUND = Rule(
    "empty-round",
    "syntax",
    "error",
    "Nothing is worked in “{words}”. Expected what to do, such as `sc in each st around`.",
)
LONE_STITCH = Rule(
    "lone-stitch", "syntax", "warning",
    "“{words}” alone is read as one in each stitch {around}. `{mend_words}` says so without doubt.",
)  # fmt: skip
BETWEEN_PAIRS = Rule(
    "between-pairs", "syntax", "warning",
    "“{words}” is read as between the two of a pair, and then between those of the pair after it. "
    "`{mend_words}`, or the round's count, says so without doubt.",
)  # fmt: skip
EVENLY_UNSAID = Rule(
    "evenly-unsaid", "count", "warning",
    "“{words}” does not say how many; one in each of the {many} places around is taken. “{mend_words}” "
    "says so, or your own number.",
)  # fmt: skip
FIT_UNSAID = Rule(
    "fit-unsaid", "syntax", "warning",
    "“{words}” does not say how many rounds that was when you made it; {many} as written. "
    "“{mend_words}”, with your own number, says it.",
)  # fmt: skip
UNREAD_LINE = Rule(
    "unread-line", "syntax", "error",
    "“{words}” does not read as a round. Begin it with `Rnd 1:` or the like, or with `Note:` if it is words"
    " for the maker.",
)  # fmt: skip
READ_AS_NOTE = Rule(
    "read-as-note",
    "syntax",
    "warning",
    "“{words}” is read as words for the maker. `Note:` before it says so without doubt.",
)
NO_ROUNDS = Rule(
    "no-rounds",
    "syntax",
    "error",
    "There is no round to work. Begin a section with `# Cuff` and its first round with `Rnd 1:`.",
)
NO_N = Rule(
    "no-n",
    "syntax",
    "error",
    "“{words}” needs N, and a piece that starts from a ring has no N. Give one number for each size.",
)
COUNT_UNREAD = Rule(
    "count-unread",
    "syntax",
    "error",
    "“{words}” does not read as a count. Expected a number and a stitch, such as `[24 sc]`.{near}",
)

# --- counts -------------------------------------------------------------------------------------------------
NOT_WHOLE = Rule("not-whole", "count", "error", "“{words}” is not a whole number at {counts}.")
COUNT_WRONG = Rule(
    "count-wrong",
    "count",
    "error",
    "The count says {stated}; the round as written has {worked}{where}{instead}.",
)
NEGATIVE = Rule("less-than-nothing", "count", "error", "“{words}” comes to less than nothing at {counts}.")
OFF_LINE = Rule(
    "off-line", "count", "warning",
    "At custom counts “{words}” has no number of its own; the nearest smaller size's is taken. Give a "
    "formula in N, such as N/4.",
)  # fmt: skip
BARE_CHAIN = Rule(
    "bare-chain", "count", "warning",
    "It is not clear what “{words}” counts as before a {first}; it is not counted. Say `{mend_words}` or "
    "`(does not count as a st)`.",
)  # fmt: skip

BARE_FOUNDATION = Rule(
    "bare-foundation",
    "count",
    "warning",
    "“{words}” is the foundation's count, and stays {words} at every custom count. "
    "Where it is to go with the foundation, write N.",
)
NOT_RISING = Rule(
    "not-rising",
    "header",
    "warning",
    "{key} does not rise from size to size: “{words}”. Give the sizes smallest first.",
)
GAUGE_AND_FIT = Rule(
    "gauge-and-fit",
    "header",
    "warning",
    "By this gauge {what}: more than {tolerance} apart. Is the gauge, the foundation or the fit another?",
)

# --- places -------------------------------------------------------------------------------------------------
NO_PLACE = Rule("no-place", "place", "error", "There is no {place} here{where}.{near}")
NO_CENTER = Rule(
    "no-center", "place", "error",
    "{group} has no one center to work into. Name the stitch or space: `in 2nd dc of next {group}`.",
)  # fmt: skip
PASSED = Rule("passed", "place", "warning", "{passed} passed without “sk” on the way to “{words}”{where}.")
OTHER_LENGTH = Rule(
    "other-length",
    "place",
    "warning",
    "“{words}” passes over a {passed}{where}. Write `sk next {passed}` if that is meant.",
)
NOT_LAST = Rule(
    "not-last", "place", "error", "“{words}” are not left any more{where}: what they name is worked already."
)
NO_GAP = Rule(
    "no-gap",
    "place",
    "error",
    "This section is called a gap, and no `ch 5, sk …` makes one. Expected chains followed by what they "
    "pass over.",
)
GAP_MISSING = Rule(
    "gap-missing",
    "place",
    "error",
    "This section works around a gap, and no section before it makes one. Call that section a gap, such as "
    "`# Thumb gap`.",
)
GAP_PART = Rule(
    "gap-part",
    "place",
    "error",
    "Around the gap nothing is worked in {part}{where}. Every edge of the gap needs a stitch.",
)
NO_FOUNDATION_EDGE = Rule(
    "no-foundation-edge", "place", "error", "There is no foundation chain to work into."
)
NO_ROW_ENDS = Rule("no-row-ends", "place", "error", "There are no rows yet whose ends could be worked into.")
NO_YARN = Rule(
    "nothing-below",
    "place",
    "error",
    "There is nothing to work into yet. Begin with a foundation round or a ring.",
)
LEFT_OVER = Rule(
    "left-over", "closing", "error", "{left} left unworked between the last stitch and the beginning{where}."
)
LEFT_ON_SIDE = Rule(
    "left-on-side", "closing", "error",
    "{left} left unworked before the round goes on along the other side{where}.",
)  # fmt: skip
LEFT_OVER_ROW = Rule(
    "left-over-row", "closing", "warning", "{left} left unworked at the end of the row{where}."
)
NOT_CLOSING = Rule(
    "not-closing", "closing", "error", "The repeat does not come out even{where}: {how}.{nearest}"
)
NEVER_THERE = Rule(
    "never-there", "closing", "error", "The repeat never comes to “{words}”{where}: {how}.{nearest}"
)
TOO_MUCH = Rule(
    "too-much",
    "closing",
    "error",
    "“{words}” goes on past the beginning of the round{where}: {how}.{nearest}",
)
NEXT_AT_HEAD = Rule(
    "next-at-head", "closing", "error",
    "“{words}” at the beginning of a round is the place after the one joined into, and so the round does not "
    "come out as written{where}. `{mend_words}` begins in the place joined into.",
)  # fmt: skip
FOUNDATION_DIFFERS = Rule(
    "foundation-differs", "count", "error",
    "The header's foundation is {foundation}, and {chained} are chained here. Make them agree.",
)  # fmt: skip
TOO_LARGE = Rule(
    "too-large", "count", "error", "“{words}” would make more than {limit} stitches. Take smaller numbers."
)
TOO_MANY_SECTIONS = Rule(
    "too-many-sections", "count", "error",
    "“{words}” is one section more than one piece may have. Make a part of its own for each piece.",
)  # fmt: skip

JOIN_UNSAID = Rule(
    "join-unsaid", "join", "warning",
    "This round does not say how it ends, and the others join. Say `{mend_words}`, or `do not join`.",
)  # fmt: skip

# --- joins --------------------------------------------------------------------------------------------------
JOIN_NOWHERE = Rule(
    "join-nowhere", "join", "error", "The round has no {place} to join into; it began with {began}."
)
JOIN_ELSEWHERE = Rule(
    "join-elsewhere",
    "join",
    "warning",
    "“{words}” is not the first place of the round; it began with {began}.",
)
