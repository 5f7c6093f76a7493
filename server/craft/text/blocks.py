"""Parts a text into its header's lines, the blocks of its body, and the prose before the first round."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

from server.craft.text.headed import headed
from server.craft.text.header import HeaderReader, header_key
from server.craft.text.labels import starts_with_label
from server.craft.text.source import Source
from server.craft.text.tree import Note, Span

NOTE = re.compile(r"^\s*notes?\s*[:.–—-]", re.IGNORECASE)
ENDING = re.compile(
    r"^\s*(?:(?:fasten|finish|tie)\s+off\b"
    r"|(?:cut|break)\s+(?:(?:the|your|off)\s+)*yarn\b(?!.*\b(?:join|ch|chain|sc|dc|hdc|htr|tr)\b)"
    r"|(?:then\s+)?(?:sl\.?\s?st|slip\s?st(?:itch)?|ss)\b"
    r"(?:\s+(?:in|into|to)\s+(?:the\s+)?next\s+(?:\d\s+)?(?:sts?|stitch(?:es)?|[hs]?dc|sc|htr))?[,.;]?\s*(?:(?:and|then)\s+)*"
    r"(?:fasten|finish|tie)\s+off\b)",
    re.IGNORECASE,
)
"""What ends a piece of work; a slip stitch in the next stitch is part of that, one in the first is a join."""
YARN = re.compile(
    r"^\s*(?:re-?)?(?:join|attach)\s+(?:the\s+|new\s+|your\s+)*(?:yarn|colou?r|mc|cc)\b", re.IGNORECASE
)
SECTION = re.compile(r"^\s*#+\s*(?P<title>.*?)\s*#*\s*$")
CHAIN_LEAD = re.compile(
    r"^[^\w(\[{#]*(?:(?:with|using|in)\s+(?:[^,:;().\n]|\.\d){1,40}[,:]\s+)?"
    r"(?:(?:to\s+)?(?:begin|start|commence|starting|beginning)\s*[,:]?\s+(?:(?:with|by|making|make)\s+)*"
    r"|(?:make|work)\s+)(?:a\s+)?(?=(?:ch|chain)\s+(?:\d|N\b)|\d+\s*(?:[(\[][\d,\s]+[)\]]\s*)?ch\b"
    r"|\d+\s*(?:sc|dc|hdc|htr|tr)\s+in(?:to)?\s+(?:a\s+|the\s+)?(?:magic|adjustable|mr\b))",
    re.IGNORECASE,
)
"""`To begin: ch 30`, `Commence with 36 ch`, `Start: 6 sc into a magic ring`: the words before that."""
FOUNDATION_CHAIN = re.compile(
    r"^[^\w(\[{#]*(?:(?:with|using|in)\s+(?:[^\d,.:;()]{1,40}[,:]?|(?:[^,:;().\n]|\.\d){1,40}[,:])\s+)?"
    r"(?:(?:to begin|begin|start)[,:]?\s+)?"
    r"(?:(?:ch|chain|fsc|fdc|fhdc)\s+(?:\d|N\b)|\d+\s*ch\b"
    r"|\d+\s*(?:sc|dc|hdc|htr|tr)\s+in(?:to)?\s+(?:a\s+|the\s+)?(?:magic|adjustable|mr|ring)\b)",
    re.IGNORECASE,
)
STANDING = re.compile(
    r"^\W*(?:the\s+|all\s+|any\s+|each\s+|every\s+|your\s+)?"
    r"(?:(?:beg(?:inning|\.)?|starting|turning|initial|first)[\s-]+)?"
    r"(?:(?:ch|chain)s?\.?[\s-]*\d*|\d+\s?ch)\b(?:\s*(?:,|/|&|and|or)\s*(?:ch(?:ain)?)?[\s-]*\d+)*"
    r"[^.,;()\[\]*]*\b(?:count(?:s|ed)?)\b(?!.*\b(?:in|into)\s+(?:the\s+)?(?:each|next|same|ring|\d)\s+"
    r"(?!r(?:ou)?n?ds?\b|rows?\b))",
    re.IGNORECASE,
)
"""A line that says what beginning chains count as, and works nothing."""
STEP = re.compile(
    r"^\s*(?P<number>\d{1,3})(?:\s*(?:[-–]|to)\s*(?P<last>\d{1,3}))?\s*[.)]\s+\S", re.IGNORECASE
)
"""A step of a numbered list: where no line has a label, its number is the round's."""
PLAIN_HEADING = re.compile(r"^[^\w(\[{#]*[^\W\d][^\d.;,=\[\]()]{1,40}(?:\s*\([^()]{1,40}\))?[^\w)\]}]*$")
STARTS_INSTRUCTION = re.compile(
    r"^\s*(?:[*\[({]|\d+\s*(?:sc|dc|hdc|tr|htr|ch)\b"
    r"|(?:with|using|working|work|join|rejoin|attach|ch|chain|sc|dc|hdc|htr|tr|dtr|sl\s?st|slip|ss|sk"
    r"|skip|miss|rep|repeat|turn|change|changing|switch|place|move|drop|cut|make|magic|fsc|in|insert|2\s)\b)",
    re.IGNORECASE,
)
SEAMING = (
    r"(?:(?:now|then|next|using[^,]{1,30},|with[^,]{1,30},)\s*)?"
    r"(?:(?:sl\.?\s?st|slip\s?st(?:itch)?|ss|sc|single crochet|dc|sew|seam|whip\s?stitch|mattress stitch"
    r"|stitch|crochet|bring|match|line up)\s+(?:up\s+|across\s+|along\s+)?"
    r"|join\s+(?=[^.!,;]*\b(?:short|side|long|rows?)\b))"
    r"(?:the\s+|both\s+|two\s+|your\s+)*"
    r"(?:(?:first and last|short|long|side|foundation|cast[- ]on|beginning|starting|first|last|final)\s+)*"
    r"(?:ends?|edges?|sides?|seam|rows?)\b(?=[^.!]*\b(?:together|to\s+(?:the\s+)?(?:(?:\w+)\s+){0,3}"
    r"(?:rows?|edge|end|chain|ch)\b|to\s+(?:form|make)\s+a\s+(?:tube|loop|ring|circle|cuff|band)))"
)
"""How the ends of a band are made into a tube: nothing that counts is worked."""
FINISHING = re.compile(
    r"^\W*(?:(?:tips?|hints?|psst|ps|p\.s\.?)\b\s*[:!–—-]|copyright\b|©|\(c\)\s|please\b|enjoy\b|happy\b|thank"
    r"|that[’']?s (?:it|all)|and that[’']?s|you(?:[’']?re| are) (?:all )?done|all done|congrat|have fun"
    r"|if you\b|this (?:pattern|is)\b"
    r"|(?:do not|don[’']?t) (?:sell|copy|share|forget|worry)"
    r"|weav(?:e|ing)\b|sew\b|seam\b|blocks?\b|blocking\b|wash\b|steam\b|trim\b"
    r"|(?:make|work|crochet)\s+(?:(?:a|the|your|another|one)\s+)*(?:second|2nd|other|matching|more)\b(?!\s+\d)"
    r"|make\s+(?:two|2|another|one more)\b|rep(?:eat)?\s+for\s+(?:the\s+)?(?:second|2nd|other|left|right)\b"
    r"|finish\s*[:–-](?=.*\b(?:cut|fasten|weave|hide|tails?)\b)"
    r"|finishing\b|to finish\b|turn\s+(?:the\s+\w+\s+|it\s+|your\s+\w+\s+)?(?:right side|inside)\b"
    r"|try (?:it|them|on)\b|photos?\b|pictures?\b|tag me\b|follow\b|fold\b|whip ?stitch\b|stitch the\b|pin\b"
    r"|(?:using|with)\s+(?:a|the|your)?\s*(?:yarn |tapestry |darning )?needle\b|lay\b|press\b"
    r"|leave a (?:long )?tail"
    rf"|{SEAMING}"
    r"|difficulty\b|skill level\b|finished (?:size|measure)|\$\s*\d|£\s*\d|€\s*\d|https?:|www\.)",
    re.IGNORECASE,
)
"""What is done when nothing more is worked, and what a post says around its pattern."""
NO_HEADING = re.compile(
    r"\b(?:rings?|chains?|yarn|hook|markers?|gauge|tension|sizes?|fits?|stitch(?:es)?|sts?|rounds?|rows?|start|begin"
    r"|needle|skeins?|terms)\b",
    re.IGNORECASE,
)
"""Words that a section's title has not, where titles are marked by nothing."""
AGAIN = re.compile(
    r"^\W*(?:(?:and\s+)?(?:repeat|rep)\s+(?:(?:the\s+)?(?:last|previous|prev|this|these|above)\s+(?:\w+\s+)?)?"
    r"(?:(?:rounds?|rnds?|rds?|rows?|r)\b(?!\s+from)|r(?=\d))"
    r"|(?:(?:continue|cont\.?|keep)\s+(?:to\s+|on\s+)?)?(?:work(?:ing)?\s+)(?:even|straight)\b"
    r"|work\s+\d+\s+(?:more\s+)?(?:rounds?|rnds?|rds?|rows?)\b"
    r"|\d+\s+(?:more\s+)?(?:rounds?|rnds?|rds?|rows?)\s+(?:even|straight)\b)",
    re.IGNORECASE,
)
"""A line that says to go on with rounds that stand before it."""
SIZES = re.compile(
    r"^\W*(?:(?:for\s+)?(?:the\s+)?[^\d.;()\[\]]{0,40}\bonly|all\s+(?:the\s+)?sizes|both\s+sizes"
    r"|for\s+(?:the\s+)?(?:size|sizes)\b[^\d.;()\[\]]{1,40}"
    r"|for\s+(?:the\s+)?(?:xs|s|m|l|xl|xxl|small|medium|large|adults?|child(?:ren)?|bab(?:y|ies)|toddlers?|teens?"
    r"|wom[ae]n|m[ae]n)(?:\s+size)?)\W*$",
    re.IGNORECASE,
)
"""A line that says for which sizes the rounds below it are."""
ALL_SIZES = re.compile(r"^\W*(?:for\s+)?(?:all|both)\s+(?:the\s+)?sizes\s*(?:[:–—]|-\s)\s*", re.IGNORECASE)
"""`All sizes:` before what is worked says nothing new."""
SIZES_BEFORE = re.compile(r"^\W*[^\d:;.\n]{1,40}?\s*[):\].–—,-]+\s*", re.IGNORECASE)
SAYS_SIZES = re.compile(r"\bonly\b|\bsizes?\b|^\W*for\b", re.IGNORECASE)


@dataclass(slots=True)
class Block:
    """A line with what goes on from it below."""

    kind: str  # "section", "round", "first" (a round 1 without label), "ending", "yarn", "note", "loose"
    span: Span


def split(source: Source) -> tuple[HeaderReader, list[Block], list[Note]]:
    """Header lines, the blocks of the body, and the prose before the first round."""
    header = HeaderReader(source)
    blocks: list[Block] = []
    prose: list[Note] = []
    in_body = fresh = False
    headings, steps = _plain_headings(source), _steps(source)
    for line in source.lines():
        text = source.slice(line)
        if not text.strip():
            fresh = True
            continue
        kind = "section" if line.start in headings else "step" if line.start in steps else _kind(text)
        if not in_body and header.takes_foundation(text):
            header.add(line)
            continue
        in_body = in_body or kind in ("section", "round", "step") or (kind != "note" and begins_chain(text))
        if not in_body:
            if not header.add(line):
                prose.append(Note(" ".join(text.split()), line))
            continue
        if kind == "loose" and (said := _all_sizes(text)):
            blocks.append(Block("again", Span(line.start + said, line.end)))
            fresh = False
            continue
        if kind == "loose" and blocks and (parts := headed(text)):
            blocks.extend(_headed(line, parts))
            fresh = False
            continue
        if kind == "loose" and not fresh and blocks and blocks[-1].kind != "section":
            blocks[-1].span = blocks[-1].span.to(line)
        else:
            blocks.append(Block(kind, line))
        fresh = False
    return header, blocks, prose


def _headed(line: Span, parts: tuple[int, int, int, int]) -> list[Block]:
    """The blocks of `Thumb: Join yarn … Work 6 rnds even.`: a section, its first round, rounds like it."""
    title, ends, begins, even = (line.start + at for at in parts)
    made = [Block("section", Span(title, ends)), Block("first", Span(begins, even))]
    return [*made, Block("again", Span(even, line.end))] if even < line.end else made


def _steps(source: Source) -> set[int]:
    """Where the steps of a numbered list begin, in a text without labels: three and more, from 1 on."""
    lines = source.lines()
    words = [source.slice(line) for line in lines]
    if any(starts_with_label(text) and header_key(text) is None for text in words):
        return set()
    found: list[int] = []
    due = 1
    for line in lines:
        match = STEP.match(source.slice(line))
        if match and int(match["number"]) == due:
            found.append(line.start)
            due = max(due, int(match["last"] or due)) + 1
    return set(found) if len(found) >= 3 else set()


def _plain_headings(source: Source) -> set[int]:
    """Where headings stand in a text that marks none with `#`: short lines, each right above a round."""
    lines = [line for line in source.lines() if source.slice(line).strip()]
    if any(SECTION.match(source.slice(line)) for line in lines):
        return set()
    found: set[int] = set()
    for line, after in pairwise(lines):
        text = source.slice(line)
        if (
            PLAIN_HEADING.match(text)
            and (_begins(source.slice(after)))
            and _kind(text) == "loose"
            and header_key(text) is None
            and not STARTS_INSTRUCTION.match(text)
            and not NO_HEADING.search(text)
        ):
            found.add(line.start)
    return found


def begins_chain(text: str) -> bool:
    """Whether a line without a label makes the chain that everything begins with."""
    return FOUNDATION_CHAIN.match(text) is not None or CHAIN_LEAD.match(text) is not None


def _begins(text: str) -> bool:
    """Whether a line begins something to work: a round, the chain, new yarn."""
    return (
        starts_with_label(text) or begins_chain(text) or YARN.match(text) is not None or _all_sizes(text) > 0
    )


def _all_sizes(text: str) -> int:
    """Length of `All sizes:` before something to work; 0 where it is not that."""
    match = ALL_SIZES.match(text)
    return match.end() if match and STARTS_INSTRUCTION.match(text[match.end() :]) else 0


def _kind(text: str) -> str:
    if SECTION.match(text):
        return "section"
    if NOTE.match(text) or FINISHING.match(text) or STANDING.match(text):
        return "note"
    if ENDING.match(text):
        return "ending"
    if YARN.match(text):
        return "yarn"
    if starts_with_label(text) or sizes_before_label(text):
        return "round"
    if SIZES.match(text):
        return "sizes"
    return "again" if AGAIN.match(text) and "*" not in text else "loose"


def sizes_before_label(text: str) -> int:
    """Length of words such as `Large only:` before a round's label; 0 where there are none."""
    match = SIZES_BEFORE.match(text)
    if match and SAYS_SIZES.search(match[0]) and starts_with_label(text[match.end() :]):
        return match.end()
    return 0
