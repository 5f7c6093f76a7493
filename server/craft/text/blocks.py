"""Parts a text into its header's lines, the blocks of its body, and the prose before the first round."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

from server.craft.text.header import HeaderReader, header_key
from server.craft.text.labels import starts_with_label
from server.craft.text.source import Source
from server.craft.text.tree import Note, Span

NOTE = re.compile(r"^\s*notes?\s*[:.–—-]", re.IGNORECASE)
ENDING = re.compile(r"^\s*(?:fasten|finish|tie)\s+off\b", re.IGNORECASE)
YARN = re.compile(
    r"^\s*(?:re-?)?(?:join|attach)\s+(?:the\s+|new\s+|your\s+)*(?:yarn|colou?r|mc|cc)\b", re.IGNORECASE
)
SECTION = re.compile(r"^\s*#+\s*(?P<title>.*?)\s*#*\s*$")
FOUNDATION_CHAIN = re.compile(r"^\s*(?:ch|chain|fsc)\s+(?:\d|N\b)", re.IGNORECASE)
PLAIN_HEADING = re.compile(r"^[\s*_]*[^\W\d][^\d.;,=\[\]]{1,40}[\s:*_]*$")
STARTS_INSTRUCTION = re.compile(
    r"^\s*(?:[*\[({]|\d+\s*(?:sc|dc|hdc|tr|htr|ch)\b"
    r"|(?:with|using|working|work|join|rejoin|attach|ch|chain|sc|dc|hdc|htr|tr|dtr|sl\s?st|slip|ss|sk"
    r"|skip|miss|rep|repeat|turn|make|magic|fsc|in|insert|2\s)\b)",
    re.IGNORECASE,
)
AGAIN = re.compile(
    r"^\W*(?:(?:and\s+)?(?:repeat|rep)\s+(?:(?:the\s+)?(?:last|previous|prev|this|these|above)\s+(?:\w+\s+)?)?"
    r"(?:rounds?|rnds?|rds?|rows?|r)\b(?!\s+from)"
    r"|(?:(?:continue|cont\.?|keep)\s+(?:to\s+|on\s+)?)?(?:work(?:ing)?\s+)(?:even|straight)\b"
    r"|work\s+\d+\s+(?:more\s+)?(?:rounds?|rnds?|rds?|rows?)\b)",
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
SIZES_BEFORE = re.compile(r"^\W*[^\d:;.\n]{1,40}?\s*[):\].–—,-]+\s*", re.IGNORECASE)
SAYS_SIZES = re.compile(r"\bonly\b|\bsizes?\b|^\W*for\b", re.IGNORECASE)


@dataclass(slots=True)
class Block:
    """A line with what goes on from it below."""

    kind: str  # "section", "round", "ending", "yarn", "note", "loose"
    span: Span


def split(source: Source) -> tuple[HeaderReader, list[Block], list[Note]]:
    """Header lines, the blocks of the body, and the prose before the first round."""
    header = HeaderReader(source)
    blocks: list[Block] = []
    prose: list[Note] = []
    in_body = fresh = False
    headings = _plain_headings(source)
    for line in source.lines():
        text = source.slice(line)
        if not text.strip():
            fresh = True
            continue
        kind = "section" if line.start in headings else _kind(text)
        if not in_body and header.takes_foundation(text):
            header.add(line)
            continue
        in_body = in_body or kind in ("section", "round") or FOUNDATION_CHAIN.match(text) is not None
        if not in_body:
            if not header.add(line):
                prose.append(Note(" ".join(text.split()), line))
            continue
        if kind == "loose" and not fresh and blocks and blocks[-1].kind != "section":
            blocks[-1].span = blocks[-1].span.to(line)
        else:
            blocks.append(Block(kind, line))
        fresh = False
    return header, blocks, prose


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
            and (starts_with_label(source.slice(after)) or FOUNDATION_CHAIN.match(source.slice(after)))
            and _kind(text) == "loose"
            and header_key(text) is None
            and not STARTS_INSTRUCTION.match(text)
        ):
            found.add(line.start)
    return found


def _kind(text: str) -> str:
    if SECTION.match(text):
        return "section"
    if NOTE.match(text):
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
