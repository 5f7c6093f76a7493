"""Reads section titles, and what a section is for."""

from __future__ import annotations

import re
from dataclasses import replace

from server.craft.text.betweens import OTHER_SIDE
from server.craft.text.blocks import SECTION, Block
from server.craft.text.source import Source
from server.craft.text.tree import Section, SectionKind

ROW_ENDS = re.compile(
    r"\brow[- ]ends?\b|\bends?\s+of\s+(?:the\s+|each\s+)?rows?\b|\bsides?\s+of\s+(?:the\s+|each\s+)?rows?\b"
    r"|\b(?:along|on|in|into|across)\s+(?:the\s+|one\s+)?side\s+edges?\b",
    re.IGNORECASE,
)
"""Words that speak of the ends of rows."""
EDGE_OF_ROWS = re.compile(
    r"\b(?:around|round|along|across|down|up|on|in|into|over)\s+"
    r"(?:(?:the|one|your|entire|whole|long|top|upper|bottom|lower|raw|open|other|side)\s+)*"
    r"(?:edges?|sides?)\b(?!\s+of\s+(?:the\s+)?(?:(?:foundation|beginning|starting)\b|ch))"
    r"|\b(?:around|round|along|across)\s+the\s+(?:top|bottom)(?=\s*[,.;(])",
    re.IGNORECASE,
)
"""Words that speak of the same where rows stand below: `around the top edge`, `along the side`."""
DASH = re.compile(r"\s+[-–—]+\s+|\s*[—]\s*|:\s+")


def section_title(block: Block, source: Source) -> Section:
    text = source.slice(block.span)
    match = SECTION.match(text)
    words = match["title"] if match else text.strip(" *_:")
    parts = DASH.split(words, maxsplit=1)
    title, purpose = parts[0].strip(" .:"), parts[1].strip(" .") if len(parts) > 1 else ""
    return Section(title, purpose, section_kind(title, purpose), (), source.trimmed(block.span))


def by_its_text(section: Section, text: str, *, on_rows: bool = False) -> Section:
    """The section as what it is for, where its title does not say so and its first round does.

    on_rows   whether rows were worked flat before it, so that an edge may be that of their ends
    """
    if section.kind != "body":
        return section
    ends = "along the row ends"
    for said, purpose in ((OTHER_SIDE, "in the foundation"), (ROW_ENDS, ends), (EDGE_OF_ROWS, ends)):
        if (said is not EDGE_OF_ROWS or on_rows) and said.search(text):
            both = f"{section.purpose}, {purpose}" if section.purpose else purpose
            title = section.title or "Edge"
            return replace(section, kind=section_kind(title, both), title=title, purpose=both)
    return section


def section_kind(title: str, purpose: str) -> SectionKind:
    """What a section is for, from its words."""
    words = f"{title} {purpose}".lower()
    if re.search(r"\b(around|round|in|into|along|on)\b[^.]*\bgap\b", words):
        return "gap edge"
    if re.search(r"\b(in|into|along|on)\b\s+(the\s+)?(free side of (the )?)?foundation\b", words):
        return "foundation edge"
    if OTHER_SIDE.search(words):
        return "foundation edge"
    if ROW_ENDS.search(words):
        return "row ends"
    return "gap" if re.search(r"\bgaps?\b", words) else "body"
