"""Reads section titles, and what a section is for."""

from __future__ import annotations

import re

from server.craft.text.blocks import SECTION, Block
from server.craft.text.source import Source
from server.craft.text.tree import Section, SectionKind

DASH = re.compile(r"\s+[-–—]+\s+|\s*[—]\s*|:\s+")


def section_title(block: Block, source: Source) -> Section:
    text = source.slice(block.span)
    match = SECTION.match(text)
    words = match["title"] if match else text.strip(" *_:")
    parts = DASH.split(words, maxsplit=1)
    title, purpose = parts[0].strip(" .:"), parts[1].strip(" .") if len(parts) > 1 else ""
    return Section(title, purpose, section_kind(title, purpose), (), source.trimmed(block.span))


def section_kind(title: str, purpose: str) -> SectionKind:
    """What a section is for, from its words."""
    words = f"{title} {purpose}".lower()
    if re.search(r"\b(around|round|in|into|along|on)\b[^.]*\bgap\b", words):
        return "gap edge"
    if re.search(r"\b(in|into|along|on)\b\s+(the\s+)?(free side of (the )?)?foundation\b", words):
        return "foundation edge"
    return "gap" if re.search(r"\bgaps?\b", words) else "body"
